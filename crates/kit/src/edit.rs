//! Edits: everything that a builder can do to a plan, as data, so that they can be undone, recorded and replayed.

use std::fmt;
use tiny_sort::stable::sort_by_key;

use serde::{Deserialize, Serialize};

use crate::{
    Backdrop, Cell, Finish, KitBox, Mark, Material, OwnWork, Part, PartId, Plan, QuoteTerms, Rates,
    Seat, Settings, Severity, Socket, SocketId, Stock, Stowing, Variant, VariantId, grid, slug,
};

/// One edit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Edit {
    /// A new title for the plan.
    SetTitle(String),
    /// New free words.
    SetNote(String),
    /// The box.
    SetKit(KitBox),
    /// A further part with the usual beginning.
    AddPart(String),
    /// The part of the same id becomes this one.
    PutPart(Box<Part>),
    /// The part goes, and its seats with it. Refused for the base and for a part that carries sockets.
    DropPart(PartId),
    /// A further socket on this part, with the usual beginning.
    AddSocket {
        /// Its label.
        name: String,
        /// Its host.
        host: PartId,
    },
    /// The socket of the same id becomes this one.
    PutSocket(Box<Socket>),
    /// The socket goes, and its row with it.
    DropSocket(SocketId),
    /// A further variant, with nothing in it.
    AddVariant(String),
    /// A further variant, like this one.
    CopyVariant(VariantId),
    /// Another label for a variant.
    RenameVariant(VariantId, String),
    /// The variant goes.
    DropVariant(VariantId),
    /// What one variant allows in one socket.
    PutCell(VariantId, Cell),
    /// The same as words: part names with `/` between choices, `-` for nothing; unknown parts are added.
    WriteCell {
        /// The variant.
        variant: VariantId,
        /// The socket.
        socket: SocketId,
        /// The words.
        text: String,
    },
    /// A whole grid from a spreadsheet: see [`crate::read_grid`].
    PasteGrid(String),
    /// Magnets, steel, bits.
    PutStock(Box<Stock>),
    /// Materials.
    PutMaterials(Vec<Material>),
    /// Coats and films.
    PutFinish(Finish),
    /// Targets and tolerances.
    PutSettings(Box<Settings>),
    /// Minutes and money.
    PutRates(Box<Rates>),
    /// The picture behind the drawing; none takes it away.
    PutBackdrop(Option<Box<Backdrop>>),
    /// A step of the work is done, or is not.
    MarkStep {
        /// Its key.
        step: String,
        /// Whether it is done.
        done: bool,
        /// When, s since 1970-01-01 UTC, where a clock is at hand.
        #[serde(default)]
        at_s: Option<u64>,
        /// How long it took, min, where that was timed.
        #[serde(default)]
        took_min: Option<f64>,
    },
    /// A part joins as it is, id and all; refused where the id is taken.
    JoinPart(Box<Part>),
    /// A socket joins as it is, id and all; refused where the id is taken.
    JoinSocket(Box<Socket>),
    /// A variant joins as it is, id, cells and all; refused where the id is taken.
    JoinVariant(Box<Variant>),
    /// Another part becomes the base.
    SetBase(PartId),
    /// Lists in another order: what is named first comes first, what is not named keeps its order behind.
    Arrange {
        /// Order of the parts.
        parts: Vec<PartId>,
        /// Order of the sockets.
        sockets: Vec<SocketId>,
        /// Order of the variants.
        variants: Vec<VariantId>,
    },
    /// The builder's own hand in the order of work.
    PutOwnWork(Box<OwnWork>),
    /// Terms of a quote.
    PutQuote(Box<QuoteTerms>),
    /// Room for loose parts.
    PutStowing(Box<Stowing>),
    /// Several edits as one: all or none.
    Together(Vec<Edit>),
}

/// Why an edit was not made, in one or two sentences for the builder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The sentences.
    pub said: String,
}

impl Refusal {
    pub(crate) fn new(said: impl Into<String>) -> Self {
        Self { said: said.into() }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said)
    }
}

impl std::error::Error for Refusal {}

impl Plan {
    /// The plan after an edit.
    ///
    /// # Errors
    /// A [`Refusal`] where the edit names what is not there, or would leave a plan that a file could not hold.
    pub fn edited(&self, edit: &Edit) -> Result<Self, Refusal> {
        let mut plan = self.clone();
        plan.make(edit)?;
        match plan
            .problems()
            .into_iter()
            .find(|p| p.severity == Severity::Refused)
        {
            Some(problem) => Err(Refusal::new(problem.to_string())),
            None => Ok(plan),
        }
    }

    /// A cell as words: see [`Edit::WriteCell`].
    pub fn cell_text(&self, variant: &VariantId, socket: &SocketId) -> String {
        let cell = self.variant(variant).and_then(|v| v.cell(socket));
        cell.map(|c| grid::cell_text(self, c)).unwrap_or_default()
    }

    fn make(&mut self, edit: &Edit) -> Result<(), Refusal> {
        match edit {
            Edit::SetTitle(title) => self.title = label(title)?,
            Edit::SetNote(note) => self.note.clone_from(note),
            Edit::SetKit(kit) => self.kit = kit.clone(),
            Edit::AddPart(name) => self.add_part(name)?,
            Edit::PutPart(part) => {
                *found(self.parts.iter_mut().find(|p| p.id == part.id))? = (**part).clone()
            }
            Edit::DropPart(id) => self.drop_part(id)?,
            Edit::AddSocket { name, host } => self.add_socket(name, host)?,
            Edit::PutSocket(s) => {
                *found(self.sockets.iter_mut().find(|old| old.id == s.id))? = (**s).clone()
            }
            Edit::DropSocket(id) => self.drop_socket(id),
            Edit::AddVariant(name) => {
                self.add_variant(name, Vec::new())?;
            }
            Edit::CopyVariant(id) => {
                let old = found(self.variant(id))?.clone();
                self.add_variant(&format!("{} 2", old.name), old.cells)?;
            }
            Edit::RenameVariant(id, name) => {
                let name = label(name)?;
                found(self.variants.iter_mut().find(|v| v.id == *id))?.name = name;
            }
            Edit::DropVariant(id) => self.variants.retain(|v| v.id != *id),
            Edit::PutCell(variant, cell) => self.put_cell(variant, cell.clone())?,
            Edit::WriteCell {
                variant,
                socket,
                text,
            } => self.write(variant, socket, text)?,
            Edit::PasteGrid(text) => self.paste(text)?,
            Edit::PutStock(stock) => self.stock = (**stock).clone(),
            Edit::PutMaterials(materials) => self.materials.clone_from(materials),
            Edit::PutFinish(finish) => self.finish = finish.clone(),
            Edit::PutSettings(settings) => self.settings = (**settings).clone(),
            Edit::PutRates(rates) => self.rates = (**rates).clone(),
            Edit::PutBackdrop(backdrop) => self.backdrop = backdrop.as_deref().cloned(),
            Edit::MarkStep {
                step,
                done,
                at_s,
                took_min,
            } => {
                self.progress.done.retain(|s| s != step);
                self.progress.marks.retain(|m| m.step != *step);
                if *done {
                    self.progress.done.push(step.clone());
                    if at_s.is_some() || took_min.is_some() {
                        self.progress.marks.push(Mark {
                            step: step.clone(),
                            at_s: *at_s,
                            took_min: *took_min,
                        });
                    }
                }
            }
            Edit::JoinPart(part) => join(&mut self.parts, part, |p| p.id.as_str())?,
            Edit::JoinSocket(socket) => join(&mut self.sockets, socket, |s| s.id.as_str())?,
            Edit::JoinVariant(variant) => join(&mut self.variants, variant, |v| v.id.as_str())?,
            Edit::SetBase(part) => self.base = part.clone(),
            Edit::Arrange {
                parts,
                sockets,
                variants,
            } => {
                arrange(&mut self.parts, parts, |p| &p.id);
                arrange(&mut self.sockets, sockets, |s| &s.id);
                arrange(&mut self.variants, variants, |v| &v.id);
            }
            Edit::PutOwnWork(work) => self.own_work = (**work).clone(),
            Edit::PutQuote(quote) => self.quote = (**quote).clone(),
            Edit::PutStowing(stowing) => self.stowing = (**stowing).clone(),
            Edit::Together(edits) => edits.iter().try_for_each(|edit| self.make(edit))?,
        }
        Ok(())
    }

    fn add_part(&mut self, name: &str) -> Result<(), Refusal> {
        let name = label(name)?;
        let id = PartId::new(slug(&name, self.parts.iter().map(|p| p.id.as_str())));
        self.parts.push(Part::plain(id, name));
        Ok(())
    }

    fn drop_part(&mut self, id: &PartId) -> Result<(), Refusal> {
        if *id == self.base {
            return Err(Refusal::new(
                "The base carries everything else and stays. Rename it instead.",
            ));
        }
        if let Some(socket) = self.sockets.iter().find(|s| s.host == *id) {
            return Err(Refusal::new(format!(
                "This part carries the socket '{}'. Remove the socket, or put it on another part, first.",
                socket.name
            )));
        }
        self.parts.retain(|p| p.id != *id);
        self.stowing.upright.retain(|p| p != id);
        for cell in self.variants.iter_mut().flat_map(|v| &mut v.cells) {
            cell.seats.retain(|s| s.part != *id);
        }
        self.forget_empty_cells();
        Ok(())
    }

    fn add_socket(&mut self, name: &str, host: &PartId) -> Result<(), Refusal> {
        let name = label(name)?;
        let id = SocketId::new(slug(&name, self.sockets.iter().map(|s| s.id.as_str())));
        self.sockets.push(Socket::plain(id, name, host.clone()));
        Ok(())
    }

    fn drop_socket(&mut self, id: &SocketId) {
        self.sockets.retain(|s| s.id != *id);
        for variant in &mut self.variants {
            variant.cells.retain(|c| c.socket != *id);
        }
        // The other end of a through hole stays as a hole of its own.
        for site in self.sockets.iter_mut().flat_map(|s| &mut s.sites) {
            if site.through.as_ref().is_some_and(|f| f.socket == *id) {
                site.through = None;
            }
        }
    }

    fn add_variant(&mut self, name: &str, cells: Vec<Cell>) -> Result<VariantId, Refusal> {
        let name = label(name)?;
        let id = VariantId::new(slug(&name, self.variants.iter().map(|v| v.id.as_str())));
        self.variants.push(Variant {
            id: id.clone(),
            name,
            cells,
        });
        Ok(id)
    }

    fn put_cell(&mut self, variant: &VariantId, cell: Cell) -> Result<(), Refusal> {
        let variant = found(self.variants.iter_mut().find(|v| v.id == *variant))?;
        match variant.cells.iter_mut().find(|c| c.socket == cell.socket) {
            Some(old) => *old = cell,
            None => variant.cells.push(cell),
        }
        self.forget_empty_cells();
        Ok(())
    }

    fn write(&mut self, variant: &VariantId, socket: &SocketId, text: &str) -> Result<(), Refusal> {
        let old = found(self.variant(variant))?.cell(socket).cloned();
        let cell = grid::write_cell(self, old.as_ref(), socket, text);
        self.put_cell(variant, cell)
    }

    fn paste(&mut self, text: &str) -> Result<(), Refusal> {
        let grid = crate::read_grid(text)?;
        let mut variants = Vec::new();
        for name in &grid.variants {
            let known = self
                .variants
                .iter()
                .find(|v| v.name == *name)
                .map(|v| v.id.clone());
            variants.push(match known {
                Some(id) => id,
                None => self.add_variant(name, Vec::new())?,
            });
        }
        let base = self.base.clone();
        for (name, texts) in &grid.rows {
            if self.sockets.iter().all(|s| s.name != *name) {
                self.add_socket(name, &base)?;
            }
            let socket = found(self.sockets.iter().find(|s| s.name == *name))?
                .id
                .clone();
            for (variant, text) in variants.iter().zip(texts) {
                self.write(variant, &socket, text)?;
            }
        }
        Ok(())
    }

    fn forget_empty_cells(&mut self) {
        for variant in &mut self.variants {
            variant.cells.retain(|c| !c.seats.is_empty());
        }
    }
}

impl Edit {
    /// What the edit does, in a few words, for undo and redo.
    pub fn label(&self) -> &'static str {
        match self {
            Self::SetTitle(_) => "rename the plan",
            Self::SetNote(_) => "change the note",
            Self::SetKit(_) => "change the kit",
            Self::AddPart(_) => "add a part",
            Self::PutPart(_) => "change a part",
            Self::DropPart(_) => "remove a part",
            Self::AddSocket { .. } => "add a socket",
            Self::PutSocket(_) => "change a socket",
            Self::DropSocket(_) => "remove a socket",
            Self::AddVariant(_) => "add a variant",
            Self::CopyVariant(_) => "copy a variant",
            Self::RenameVariant(..) => "rename a variant",
            Self::DropVariant(_) => "remove a variant",
            Self::PutCell(..) | Self::WriteCell { .. } => "fill a cell",
            Self::PasteGrid(_) => "paste a grid",
            Self::PutStock(_) => "change the stock",
            Self::PutMaterials(_) => "change the materials",
            Self::PutFinish(_) => "change the coats",
            Self::PutSettings(_) => "change the targets",
            Self::PutRates(_) => "change the rates",
            Self::PutBackdrop(_) => "change the picture",
            Self::MarkStep { .. } => "mark a step",
            Self::JoinPart(_) => "add a part",
            Self::JoinSocket(_) => "add a socket",
            Self::JoinVariant(_) => "add a variant",
            Self::SetBase(_) => "choose another base",
            Self::Arrange { .. } => "change the order",
            Self::PutOwnWork(_) => "change the order of work",
            Self::PutQuote(_) => "change the quote",
            Self::PutStowing(_) => "change the spaces",
            Self::Together(edits) => match edits.as_slice() {
                [] => "change nothing",
                [one] => one.label(),
                _ => "make several changes",
            },
        }
    }
}

fn label(text: &str) -> Result<String, Refusal> {
    match text.trim() {
        "" => Err(Refusal::new("A name is needed. Type one.")),
        name => Ok(name.to_owned()),
    }
}

fn join<T: Clone>(list: &mut Vec<T>, entry: &T, id: impl Fn(&T) -> &str) -> Result<(), Refusal> {
    if list.iter().any(|old| id(old) == id(entry)) {
        return Err(Refusal::new(format!(
            "'{}' is in the plan already. Compare the plans again.",
            id(entry)
        )));
    }
    list.push(entry.clone());
    Ok(())
}

fn arrange<T, I: Ord>(list: &mut [T], order: &[I], id: impl Fn(&T) -> &I) {
    let mut places = std::collections::BTreeMap::new();
    for (place, named) in order.iter().enumerate() {
        places.entry(named).or_insert(place);
    }
    sort_by_key(list, |entry| {
        places.get(id(entry)).copied().unwrap_or(usize::MAX)
    });
}

fn found<T>(entry: Option<T>) -> Result<T, Refusal> {
    entry.ok_or_else(|| Refusal::new("This entry is no longer in the plan. Open the page again."))
}

impl Seat {
    /// The plug's id: the one named, or the part's first.
    pub fn plug_in<'a>(&self, part: &'a Part) -> Option<&'a crate::Plug> {
        match &self.plug {
            Some(id) => part.plug(id),
            None => part.plugs.first(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entries_join_once_and_take_their_places() {
        let plan = grid();
        let part = Box::new(Part::plain(PartId::new("lamp"), "Lamp".to_owned()));
        let joined = plan.edited(&Edit::JoinPart(part.clone())).unwrap();
        assert_eq!(joined.parts.last(), Some(&*part));
        assert!(joined.edited(&Edit::JoinPart(part)).is_err());
        let order = Edit::Arrange {
            parts: vec!["lamp".into(), "nowhere".into(), "lamp".into()],
            sockets: Vec::new(),
            variants: Vec::new(),
        };
        let arranged = joined.edited(&order).unwrap();
        assert_eq!(arranged.parts[0].id.as_str(), "lamp");
        assert_eq!(arranged.parts[1..], plan.parts[..]);
        assert!(joined.edited(&Edit::SetBase("lamp".into())).is_ok());
        assert!(joined.edited(&Edit::SetBase("nowhere".into())).is_err());
    }

    fn after(edits: &[Edit]) -> Plan {
        edits
            .iter()
            .fold(Plan::empty("t"), |plan, edit| plan.edited(edit).unwrap())
    }

    fn grid() -> Plan {
        after(&[Edit::PasteGrid(
            "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tFrame\tFrame 180° / -\n".to_owned(),
        )])
    }

    #[test]
    fn a_pasted_grid_makes_parts_sockets_and_variants() {
        let plan = grid();
        assert_eq!(plan.parts.len(), 4);
        assert_eq!(plan.sockets.len(), 2);
        assert_eq!(plan.variants.len(), 2);
        assert_eq!(
            plan.cell_text(&plan.variants[1].id, &plan.sockets[1].id),
            "Frame 180° / -"
        );
        assert!(plan.problems().is_empty(), "{:?}", plan.problems());
    }

    #[test]
    fn dropping_a_part_empties_its_cells() {
        let plan = grid().edited(&Edit::DropPart("plough".into())).unwrap();
        assert!(plan.variants[0].cell(&"nose".into()).is_none());
    }

    #[test]
    fn the_base_and_a_carrying_part_stay() {
        let plan = grid();
        assert!(plan.edited(&Edit::DropPart("base".into())).is_err());
        let more = plan
            .edited(&Edit::AddSocket {
                name: "Lamp".into(),
                host: "frame".into(),
            })
            .unwrap();
        let refusal = more.edited(&Edit::DropPart("frame".into())).unwrap_err();
        assert!(refusal.said.contains("Lamp"), "{refusal}");
    }

    #[test]
    fn an_edit_that_no_file_could_hold_is_refused() {
        let plan = grid();
        let mut part = plan.parts[1].clone();
        part.size_mm = [f64::NAN, 1.0, 1.0];
        assert!(
            plan.edited(&Edit::PutPart(Box::new(part)))
                .unwrap_err()
                .said
                .contains("size_mm")
        );
        assert!(plan.edited(&Edit::AddPart("  ".to_owned())).is_err());
        assert!(
            plan.edited(&Edit::RenameVariant("none".into(), "x".to_owned()))
                .is_err()
        );
    }

    #[test]
    fn a_part_on_itself_is_refused() {
        let plan = grid()
            .edited(&Edit::AddSocket {
                name: "Lamp".into(),
                host: "frame".into(),
            })
            .unwrap();
        let edit = Edit::WriteCell {
            variant: "winter".into(),
            socket: "lamp".into(),
            text: "Frame".into(),
        };
        assert!(plan.edited(&edit).is_err());
    }

    #[test]
    fn what_stands_in_two_places_is_reported() {
        let plan = grid();
        let edit = Edit::WriteCell {
            variant: "winter".into(),
            socket: "nose".into(),
            text: "Frame".into(),
        };
        let plan = plan.edited(&edit).unwrap();
        assert_eq!(plan.problems().len(), 1);
        assert!(
            plan.problems()[0].said.contains("already sits"),
            "{:?}",
            plan.problems()
        );
    }
}
