//! What may differ between two plans.

use std::fmt;

use lodewright_kit::{PartId, SocketId, VariantId};

/// An entry of a plan, or what a plan has once.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "as the fields of the plan are called")]
pub enum PlanEntry {
    Title,
    Note,
    Kit,
    Stock,
    Materials,
    Finish,
    Settings,
    Rates,
    OwnWork,
    Quote,
    Stowing,
    Backdrop,
    Progress,
    Base,
    /// The order of the lists.
    Order,
    Part(PartId),
    Socket(SocketId),
    /// A variant without its cells, where both plans have it.
    Variant(VariantId),
    Cell(VariantId, SocketId),
}

/// A mark that stays the same while the plans do: `part/hook`, `cell/works/nose`.
impl fmt::Display for PlanEntry {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Part(id) => write!(f, "part/{id}"),
            Self::Socket(id) => write!(f, "socket/{id}"),
            Self::Variant(id) => write!(f, "variant/{id}"),
            Self::Cell(variant, socket) => write!(f, "cell/{variant}/{socket}"),
            once => f.write_str(&format!("{once:?}").to_lowercase()),
        }
    }
}
