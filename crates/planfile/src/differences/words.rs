//! Differences in words: which entry, and what is otherwise.

use lodewright_kit::{Part, Plan, SocketId, Variant, VariantId};

use super::fields::fields;
use super::{Change, Entry, lists};

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
    pub fn title(&self, entry: &Entry) -> String {
        match entry {
            Entry::Title => "Title".to_owned(),
            Entry::Note => "Note".to_owned(),
            Entry::Kit => "Kit".to_owned(),
            Entry::Stock => "Stock".to_owned(),
            Entry::Materials => "Materials".to_owned(),
            Entry::Finish => "Coats".to_owned(),
            Entry::Settings => "Targets".to_owned(),
            Entry::Rates => "Rates".to_owned(),
            Entry::OwnWork => "Own order".to_owned(),
            Entry::Quote => "Quote".to_owned(),
            Entry::Stowing => "Spaces".to_owned(),
            Entry::Backdrop => "Picture to trace".to_owned(),
            Entry::Progress => "Done marks".to_owned(),
            Entry::Base => "The base".to_owned(),
            Entry::Order => "Order".to_owned(),
            Entry::Part(id) => format!("Part '{}'", self.name(|p| Some(&p.part(id)?.name))),
            Entry::Socket(id) => format!("Socket '{}'", self.name(|p| Some(&p.socket(id)?.name))),
            Entry::Variant(id) => {
                format!("Variant '{}'", self.name(|p| Some(&p.variant(id)?.name)))
            }
            Entry::Cell(variant, socket) => format!(
                "Cell '{}' in '{}'",
                self.name(|p| Some(&p.socket(socket)?.name)),
                self.name(|p| Some(&p.variant(variant)?.name))
            ),
        }
    }

    /// What is otherwise.
    pub fn message(&self, entry: &Entry, change: Change) -> String {
        let (ours, theirs) = (self.ours, self.theirs);
        match entry {
            Entry::Title => from_to(&ours.title, theirs.title.trim()),
            Entry::Note => from_to(&ours.note, &theirs.note),
            Entry::Kit => fields(&ours.kit, &theirs.kit),
            Entry::Stock => fields(&ours.stock, &theirs.stock),
            Entry::Materials => fields(&ours.materials, &theirs.materials),
            Entry::Finish => fields(&ours.finish, &theirs.finish),
            Entry::Settings => fields(&ours.settings, &theirs.settings),
            Entry::Rates => fields(&ours.rates, &theirs.rates),
            Entry::OwnWork => fields(&ours.own_work, &theirs.own_work),
            Entry::Quote => fields(&ours.quote, &theirs.quote),
            Entry::Stowing => fields(&ours.stowing, &theirs.stowing),
            Entry::Backdrop => {
                let is = |plan: &Plan| plan.backdrop.as_ref().map_or("none", |_| "a picture");
                from_to(is(ours), is(theirs))
            }
            Entry::Progress => format!(
                "{} steps done here, {} there",
                ours.progress.done.len(),
                theirs.progress.done.len()
            ),
            Entry::Base => from_to(base(ours), base(theirs)),
            Entry::Order => {
                let lists = ["parts", "sockets", "variants"].into_iter();
                let moved = lists.zip(lists::moved(ours, theirs));
                let moved: Vec<&str> = moved.filter(|(_, is)| *is).map(|(list, _)| list).collect();
                format!("{} stand in another order", moved.join(" and "))
            }
            Entry::Cell(variant, socket) => self.cell(variant, socket),
            _ if change == Change::Gone => "not in the other plan".to_owned(),
            Entry::Part(id) => match (ours.part(id), theirs.part(id)) {
                (
                    None,
                    Some(Part {
                        size_mm: [x, y, z], ..
                    }),
                ) => format!("{x} × {y} × {z} mm"),
                (old, new) => fields(&old, &new),
            },
            Entry::Socket(id) => match (ours.socket(id), theirs.socket(id)) {
                (None, Some(new)) => {
                    let host = theirs.part(&new.host).map_or("", |p| &p.name);
                    format!("on '{}'", short(host))
                }
                (old, new) => fields(&old, &new),
            },
            Entry::Variant(id) => match (ours.variant(id), theirs.variant(id)) {
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
