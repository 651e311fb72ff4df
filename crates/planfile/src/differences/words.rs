//! Differences in words: which entry, and what is otherwise.

use lodewright_kit::{Part, Plan, SocketId, Variant, VariantId};

use super::fields::fields;
use super::{Change, PlanEntry, lists};

/// Characters of a text that a line repeats.
const SHOWN: usize = 60;

/// The two plans that are compared.
#[derive(Clone, Copy)]
pub(super) struct Words<'a> {
    pub ours: &'a Plan,
    pub theirs: &'a Plan,
}

impl<'a> Words<'a> {
    /// Which entry: `Part 'Hook'`, by the name that it has here, if it is here.
    pub fn title(&self, entry: &PlanEntry) -> String {
        match entry {
            PlanEntry::Title => "Title".to_owned(),
            PlanEntry::Note => "Note".to_owned(),
            PlanEntry::Kit => "Kit".to_owned(),
            PlanEntry::Stock => "Stock".to_owned(),
            PlanEntry::Materials => "Materials".to_owned(),
            PlanEntry::Finish => "Coats".to_owned(),
            PlanEntry::Settings => "Targets".to_owned(),
            PlanEntry::Rates => "Rates".to_owned(),
            PlanEntry::OwnWork => "Own order".to_owned(),
            PlanEntry::Quote => "Quote".to_owned(),
            PlanEntry::Stowing => "Spaces".to_owned(),
            PlanEntry::Backdrop => "Picture to trace".to_owned(),
            PlanEntry::Progress => "Done marks".to_owned(),
            PlanEntry::Base => "The base".to_owned(),
            PlanEntry::Order => "Order".to_owned(),
            PlanEntry::Part(id) => format!("Part '{}'", self.name(|p| Some(&p.part(id)?.name))),
            PlanEntry::Socket(id) => {
                format!("Socket '{}'", self.name(|p| Some(&p.socket(id)?.name)))
            }
            PlanEntry::Variant(id) => {
                format!("Variant '{}'", self.name(|p| Some(&p.variant(id)?.name)))
            }
            PlanEntry::Cell(variant, socket) => format!(
                "Cell '{}' in '{}'",
                self.name(|p| Some(&p.socket(socket)?.name)),
                self.name(|p| Some(&p.variant(variant)?.name))
            ),
        }
    }

    /// What is otherwise.
    pub fn message(&self, entry: &PlanEntry, change: Change) -> String {
        let (ours, theirs) = (self.ours, self.theirs);
        match entry {
            PlanEntry::Title => from_to(&ours.title, theirs.title.trim()),
            PlanEntry::Note => from_to(&ours.note, &theirs.note),
            PlanEntry::Kit => fields(&ours.kit, &theirs.kit),
            PlanEntry::Stock => fields(&ours.stock, &theirs.stock),
            PlanEntry::Materials => fields(&ours.materials, &theirs.materials),
            PlanEntry::Finish => fields(&ours.finish, &theirs.finish),
            PlanEntry::Settings => fields(&ours.settings, &theirs.settings),
            PlanEntry::Rates => fields(&ours.rates, &theirs.rates),
            PlanEntry::OwnWork => fields(&ours.own_work, &theirs.own_work),
            PlanEntry::Quote => fields(&ours.quote, &theirs.quote),
            PlanEntry::Stowing => fields(&ours.stowing, &theirs.stowing),
            PlanEntry::Backdrop => {
                let is = |plan: &Plan| plan.backdrop.as_ref().map_or("none", |_| "a picture");
                from_to(is(ours), is(theirs))
            }
            PlanEntry::Progress => format!(
                "{} steps done here, {} there",
                ours.progress.done.len(),
                theirs.progress.done.len()
            ),
            PlanEntry::Base => from_to(base(ours), base(theirs)),
            PlanEntry::Order => {
                let lists = ["parts", "sockets", "variants"].into_iter();
                let moved = lists.zip(lists::moved(ours, theirs));
                let moved: Vec<&str> = moved.filter(|(_, is)| *is).map(|(list, _)| list).collect();
                format!("{} stand in another order", moved.join(" and "))
            }
            PlanEntry::Cell(variant, socket) => self.cell(variant, socket),
            _ if change == Change::Gone => "not in the other plan".to_owned(),
            PlanEntry::Part(id) => match (ours.part(id), theirs.part(id)) {
                (
                    None,
                    Some(Part {
                        size_mm: [x, y, z], ..
                    }),
                ) => format!("{x} × {y} × {z} mm"),
                (old, new) => fields(&old, &new),
            },
            PlanEntry::Socket(id) => match (ours.socket(id), theirs.socket(id)) {
                (None, Some(new)) => {
                    let host = theirs.part(&new.host).map_or("", |p| &p.name);
                    format!("on '{}'", short(host))
                }
                (old, new) => fields(&old, &new),
            },
            PlanEntry::Variant(id) => match (ours.variant(id), theirs.variant(id)) {
                (Some(old), Some(new)) => from_to(&old.name, new.name.trim()),
                (_, new) => cells(new),
            },
        }
    }

    /// A name here, or where there is none, there.
    fn name(&self, of: impl Fn(&'a Plan) -> Option<&'a String>) -> String {
        let name = of(self.ours).or_else(|| of(self.theirs));
        name.map(|name| short(name)).unwrap_or_default()
    }

    fn cell(&self, variant: &VariantId, socket: &SocketId) -> String {
        let text = |plan: &Plan| plan.cell_text(variant, socket);
        let (before, after) = (text(self.ours), text(self.theirs));
        if before == after {
            "the same parts, sitting otherwise".to_owned()
        } else {
            from_to(&before, &after)
        }
    }
}

fn base(plan: &Plan) -> &str {
    plan.part(&plan.base).map_or("", |p| &p.name)
}

fn cells(variant: Option<&Variant>) -> String {
    let filled = |v: &Variant| v.cells.iter().filter(|c| !c.seats.is_empty()).count();
    match variant.map_or(0, filled) {
        1 => "1 cell".to_owned(),
        n => format!("{n} cells"),
    }
}

/// `old → new`, with `nothing` for an empty text.
pub(super) fn from_to(old: &str, new: &str) -> String {
    let shown = |text: &str| match text {
        "" => "nothing".to_owned(),
        text => short(text),
    };
    format!("{} → {}", shown(old), shown(new))
}

/// A text cut to what a line can show.
fn short(text: &str) -> String {
    let clean = |c: char| if c.is_control() { ' ' } else { c };
    let mut chars = text.chars().map(clean);
    let mut out: String = chars.by_ref().take(SHOWN).collect();
    if chars.next().is_some() {
        out.push('…');
    }
    out
}
