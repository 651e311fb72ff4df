//! What the grid shows, taken from the plan: compared by content, so that an edit renders the rows it touches.

use lodewright_planner::kit::{Plan, Socket, SocketId, VariantId};
use yew::AttrValue;

/// A socket's row.
#[derive(Clone, Debug, PartialEq)]
pub struct RowView {
    /// The socket.
    pub socket: SocketId,
    /// Its name.
    pub name: AttrValue,
    /// Its cells, variant by variant.
    pub cells: Vec<CellView>,
}

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub struct CellView {
    /// The variant.
    pub variant: VariantId,
    /// What sits there, in words; empty where nothing does.
    pub text: AttrValue,
    /// Whether the owner has a choice here.
    pub free: bool,
}

/// All rows of a plan.
pub fn rows(plan: &Plan) -> Vec<RowView> {
    plan.sockets.iter().map(|s| row(plan, s)).collect()
}

fn row(plan: &Plan, socket: &Socket) -> RowView {
    let cell = |v: &lodewright_planner::kit::Variant| CellView {
        variant: v.id.clone(),
        text: AttrValue::from(plan.cell_text(&v.id, &socket.id)),
        free: v.cell(&socket.id).is_some_and(|c| c.is_free()),
    };
    RowView {
        socket: socket.id.clone(),
        name: AttrValue::from(socket.name.clone()),
        cells: plan.variants.iter().map(cell).collect(),
    }
}
