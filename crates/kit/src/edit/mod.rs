//! Edits: everything that a builder can do to a plan, as data, so that they can be undone, recorded and replayed.

mod cells;
mod entries;
mod lists;
mod make;
mod refusal;
#[cfg(test)]
mod tests;

pub use refusal::Refusal;

use serde::{Deserialize, Serialize};

use crate::{
    Backdrop, Cell, Finish, KitBox, Material, OwnWork, Part, PartId, QuoteTerms, Rates, Settings,
    Socket, SocketId, Stock, Stowing, Variant, VariantId,
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
