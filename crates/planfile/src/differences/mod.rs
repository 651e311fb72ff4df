//! What another plan has otherwise: a list to take or leave, entry by entry, each with the edit that takes it.
//!
//! Entries are told apart by their ids, so a renamed part is a changed part. The list is in an order in which it can be
//! taken as a whole: taking all of it gives the other plan, but for the order of a variant's cells, cells without seats and
//! blanks around names, none of which mean anything.

mod needs;
mod words;

use lodewright_kit::{Cell, Edit, Part, Plan, Socket, SocketId, Variant};

pub use needs::with_needed;

/// What happens to an entry when a difference is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// The other plan has it, this one does not.
    Added,
    /// This plan has it, the other one does not.
    Gone,
    /// Both have it, differently.
    Changed,
}

/// One difference.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// A name that stays the same while the plans do: `part/hook`, `cell/works/nose`.
    pub key: String,
    /// What happens when it is taken.
    pub change: Change,
    /// Which entry, in words: `Part 'Hook'`.
    pub entry: String,
    /// What is otherwise, in words.
    pub said: String,
    /// The edit of this plan that takes it.
    pub edit: Edit,
}

/// What `theirs` has otherwise than `ours`.
pub fn differences(ours: &Plan, theirs: &Plan) -> Vec<Difference> {
    let mut list = List {
        ours,
        theirs,
        found: Vec::new(),
    };
    list.whole();
    list.parts();
    list.sockets();
    if ours.base != theirs.base {
        let name = |plan: &Plan| plan.part(&plan.base).map_or("", |p| &p.name).to_owned();
        list.changed(
            "base".to_owned(),
            "The base".to_owned(),
            words::from_to(&name(ours), &name(theirs)),
            Edit::SetBase(theirs.base.clone()),
        );
    }
    list.variants();
    list.gone();
    list.order();
    list.found
}

/// One edit that takes these differences, given by their places in the list; what they need is not added: see
/// [`with_needed`].
pub fn taking(list: &[Difference], chosen: &[usize]) -> Edit {
    let taken = list
        .iter()
        .enumerate()
        .filter(|(i, _)| chosen.contains(i))
        .map(|(_, d)| d.edit.clone());
    Edit::Together(taken.collect())
}

struct List<'a> {
    ours: &'a Plan,
    theirs: &'a Plan,
    found: Vec<Difference>,
}

impl List<'_> {
    fn add(&mut self, change: Change, key: String, entry: String, said: String, edit: Edit) {
        self.found.push(Difference {
            key,
            change,
            entry,
            said,
            edit,
        });
    }

    fn changed(&mut self, key: String, entry: String, said: String, edit: Edit) {
        self.add(Change::Changed, key, entry, said, edit);
    }

    /// What a plan has once.
    fn whole(&mut self) {
        let (ours, theirs) = (self.ours, self.theirs);
        // Named one by one, so that a field that joins a plan is not forgotten here.
        let Plan {
            title: _,
            note: _,
            kit: _,
            base: _,
            parts: _,
            sockets: _,
            variants: _,
            stock: _,
            materials: _,
            finish: _,
            settings: _,
            rates: _,
            own_work: _,
            quote: _,
            stowing: _,
            backdrop: _,
            progress: _,
        } = ours;
        if let Some(title) = renamed(&ours.title, &theirs.title) {
            self.changed(
                "title".to_owned(),
                "Title".to_owned(),
                words::from_to(&ours.title, title),
                Edit::SetTitle(title.to_owned()),
            );
        }
        if ours.note != theirs.note {
            self.changed(
                "note".to_owned(),
                "Note".to_owned(),
                words::from_to(&ours.note, &theirs.note),
                Edit::SetNote(theirs.note.clone()),
            );
        }
        let stock = || Edit::PutStock(Box::new(theirs.stock.clone()));
        let settings = || Edit::PutSettings(Box::new(theirs.settings.clone()));
        let rates = || Edit::PutRates(Box::new(theirs.rates.clone()));
        let rows = [
            (ours.kit != theirs.kit).then(|| {
                let said = words::fields(&ours.kit, &theirs.kit);
                ("kit", "Kit", said, Edit::SetKit(theirs.kit.clone()))
            }),
            (ours.stock != theirs.stock).then(|| {
                let said = words::fields(&ours.stock, &theirs.stock);
                ("stock", "Stock", said, stock())
            }),
            (ours.materials != theirs.materials).then(|| {
                let said = words::fields(&ours.materials, &theirs.materials);
                let edit = Edit::PutMaterials(theirs.materials.clone());
                ("materials", "Materials", said, edit)
            }),
            (ours.finish != theirs.finish).then(|| {
                let said = words::fields(&ours.finish, &theirs.finish);
                let edit = Edit::PutFinish(theirs.finish.clone());
                ("finish", "Coats", said, edit)
            }),
            (ours.settings != theirs.settings).then(|| {
                let said = words::fields(&ours.settings, &theirs.settings);
                ("settings", "Targets", said, settings())
            }),
            (ours.rates != theirs.rates).then(|| {
                let said = words::fields(&ours.rates, &theirs.rates);
                ("rates", "Rates", said, rates())
            }),
            (ours.own_work != theirs.own_work).then(|| {
                let said = words::fields(&ours.own_work, &theirs.own_work);
                let edit = Edit::PutOwnWork(Box::new(theirs.own_work.clone()));
                ("own_work", "Own order", said, edit)
            }),
            (ours.quote != theirs.quote).then(|| {
                let said = words::fields(&ours.quote, &theirs.quote);
                let edit = Edit::PutQuote(Box::new(theirs.quote.clone()));
                ("quote", "Quote", said, edit)
            }),
            (ours.stowing != theirs.stowing).then(|| {
                let said = words::fields(&ours.stowing, &theirs.stowing);
                let edit = Edit::PutStowing(Box::new(theirs.stowing.clone()));
                ("stowing", "Spaces", said, edit)
            }),
            (ours.backdrop != theirs.backdrop).then(|| {
                let is = |there: bool| if there { "a picture" } else { "none" };
                let said =
                    words::from_to(is(ours.backdrop.is_some()), is(theirs.backdrop.is_some()));
                let edit = Edit::PutBackdrop(theirs.backdrop.clone().map(Box::new));
                ("backdrop", "Picture to trace", said, edit)
            }),
            (ours.progress != theirs.progress).then(|| {
                let said = format!(
                    "{} steps done here, {} there",
                    ours.progress.done.len(),
                    theirs.progress.done.len()
                );
                ("progress", "Done marks", said, marks(ours, theirs))
            }),
        ];
        for (key, entry, said, edit) in rows.into_iter().flatten() {
            self.changed(key.to_owned(), entry.to_owned(), said, edit);
        }
    }

    fn parts(&mut self) {
        for part in &self.theirs.parts {
            let (key, entry) = part_named(part);
            match self.ours.part(&part.id) {
                None => {
                    let said = words::size(part.size_mm);
                    let edit = Edit::JoinPart(Box::new(part.clone()));
                    self.add(Change::Added, key, entry, said, edit);
                }
                Some(old) if old != part => {
                    let said = words::fields(old, part);
                    let edit = Edit::PutPart(Box::new(part.clone()));
                    self.changed(key, part_named(old).1, said, edit);
                }
                Some(_) => {}
            }
        }
    }

    fn sockets(&mut self) {
        for socket in &self.theirs.sockets {
            let (key, entry) = socket_named(socket);
            match self.ours.socket(&socket.id) {
                None => {
                    let host = self.theirs.part(&socket.host).map_or("", |p| &p.name);
                    let said = format!("on '{}'", words::short(host));
                    let edit = Edit::JoinSocket(Box::new(socket.clone()));
                    self.add(Change::Added, key, entry, said, edit);
                }
                Some(old) if old != socket => {
                    let said = words::fields(old, socket);
                    let edit = Edit::PutSocket(Box::new(socket.clone()));
                    self.changed(key, socket_named(old).1, said, edit);
                }
                Some(_) => {}
            }
        }
    }

    fn variants(&mut self) {
        for variant in &self.theirs.variants {
            let (key, entry) = variant_named(variant);
            let Some(old) = self.ours.variant(&variant.id) else {
                let filled = variant.cells.iter().filter(|c| !c.seats.is_empty());
                let said = match filled.count() {
                    1 => "1 cell".to_owned(),
                    n => format!("{n} cells"),
                };
                let edit = Edit::JoinVariant(Box::new(variant.clone()));
                self.add(Change::Added, key, entry, said, edit);
                continue;
            };
            if let Some(name) = renamed(&old.name, &variant.name) {
                let edit = Edit::RenameVariant(variant.id.clone(), name.to_owned());
                let said = words::from_to(&old.name, name);
                self.changed(key, variant_named(old).1, said, edit);
            }
            self.cells(old, variant);
        }
    }

    fn cells(&mut self, old: &Variant, new: &Variant) {
        let mut sockets: Vec<&SocketId> = Vec::new();
        for cell in old.cells.iter().chain(&new.cells) {
            if !sockets.contains(&&cell.socket) {
                sockets.push(&cell.socket);
            }
        }
        for socket in sockets {
            let (was, is) = (filled(old, socket), filled(new, socket));
            if was == is {
                continue;
            }
            // The cell of a socket that goes, goes with it.
            let Some(row) = self.theirs.socket(socket) else {
                continue;
            };
            let cell = is.cloned().unwrap_or_else(|| Cell {
                socket: socket.clone(),
                seats: Vec::new(),
                may_be_empty: false,
            });
            let (before, after) = (
                self.ours.cell_text(&old.id, socket),
                self.theirs.cell_text(&new.id, socket),
            );
            let said = if before == after {
                "the same parts, sitting otherwise".to_owned()
            } else {
                words::from_to(&before, &after)
            };
            let change = match (was, is) {
                (None, _) => Change::Added,
                (_, None) => Change::Gone,
                _ => Change::Changed,
            };
            self.add(
                change,
                format!("cell/{}/{socket}", new.id),
                format!(
                    "Cell '{}' in '{}'",
                    words::short(&row.name),
                    words::short(&old.name)
                ),
                said,
                Edit::PutCell(new.id.clone(), cell),
            );
        }
    }

    /// Variants first, then sockets, then parts: a part that carries a socket cannot go before it.
    fn gone(&mut self) {
        let (ours, theirs) = (self.ours, self.theirs);
        let not_there = || "not in the other plan".to_owned();
        for v in &ours.variants {
            if theirs.variant(&v.id).is_none() {
                let (key, entry) = variant_named(v);
                let edit = Edit::DropVariant(v.id.clone());
                self.add(Change::Gone, key, entry, not_there(), edit);
            }
        }
        for s in &ours.sockets {
            if theirs.socket(&s.id).is_none() {
                let (key, entry) = socket_named(s);
                let edit = Edit::DropSocket(s.id.clone());
                self.add(Change::Gone, key, entry, not_there(), edit);
            }
        }
        for p in &ours.parts {
            if theirs.part(&p.id).is_none() {
                let (key, entry) = part_named(p);
                let edit = Edit::DropPart(p.id.clone());
                self.add(Change::Gone, key, entry, not_there(), edit);
            }
        }
    }

    /// The order of the lists, where entries that stay would stand otherwise.
    fn order(&mut self) {
        let (ours, theirs) = (self.ours, self.theirs);
        let parts = order(&ours.parts, &theirs.parts, |p| p.id.as_str());
        let sockets = order(&ours.sockets, &theirs.sockets, |s| s.id.as_str());
        let variants = order(&ours.variants, &theirs.variants, |v| v.id.as_str());
        let lists = [
            ("parts", parts),
            ("sockets", sockets),
            ("variants", variants),
        ];
        let moved: Vec<&str> = lists.iter().filter(|l| l.1).map(|l| l.0).collect();
        if !moved.is_empty() {
            let edit = Edit::Arrange {
                parts: theirs.parts.iter().map(|p| p.id.clone()).collect(),
                sockets: theirs.sockets.iter().map(|s| s.id.clone()).collect(),
                variants: theirs.variants.iter().map(|v| v.id.clone()).collect(),
            };
            let said = format!("{} stand in another order", moved.join(" and "));
            self.changed("order".to_owned(), "Order".to_owned(), said, edit);
        }
    }
}

/// Whether taking and leaving out entries one by one would end in another order than theirs.
fn order<T>(ours: &[T], theirs: &[T], id: impl Fn(&T) -> &str) -> bool {
    let there: Vec<&str> = theirs.iter().map(&id).collect();
    let here: Vec<&str> = ours.iter().map(&id).collect();
    let stay = here.iter().filter(|i| there.contains(i));
    let join = there.iter().filter(|i| !here.contains(i));
    !stay.chain(join).eq(there.iter())
}

/// The other name, where it is one that a plan's page could give.
fn renamed<'a>(old: &str, new: &'a str) -> Option<&'a str> {
    let new = new.trim();
    (!new.is_empty() && new != old.trim()).then_some(new)
}

fn filled<'a>(variant: &'a Variant, socket: &SocketId) -> Option<&'a Cell> {
    variant.cell(socket).filter(|c| !c.seats.is_empty())
}

fn marks(ours: &Plan, theirs: &Plan) -> Edit {
    let off = ours.progress.done.iter().map(|step| Edit::MarkStep {
        step: step.clone(),
        done: false,
        at_s: None,
        took_min: None,
    });
    let on = theirs.progress.done.iter().map(|step| {
        let clock = theirs.progress.marks.iter().find(|m| m.step == *step);
        Edit::MarkStep {
            step: step.clone(),
            done: true,
            at_s: clock.and_then(|m| m.at_s),
            took_min: clock.and_then(|m| m.took_min),
        }
    });
    Edit::Together(off.chain(on).collect())
}

fn part_named(part: &Part) -> (String, String) {
    named("part", "Part", part.id.as_str(), &part.name)
}

fn socket_named(socket: &Socket) -> (String, String) {
    named("socket", "Socket", socket.id.as_str(), &socket.name)
}

fn variant_named(variant: &Variant) -> (String, String) {
    named("variant", "Variant", variant.id.as_str(), &variant.name)
}

fn named(word: &str, title: &str, id: &str, name: &str) -> (String, String) {
    (
        format!("{word}/{id}"),
        format!("{title} '{}'", words::short(name)),
    )
}
