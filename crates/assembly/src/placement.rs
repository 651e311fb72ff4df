//! How a model stands: every part's axes, as seen from the base.

use lodewright_kit::{Frame, PartIx, SocketIx, Table};

use crate::{Board, Model};

/// Where the parts of a model are.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// A part's axes in the base's; `None` where the part is not there.
    pub parts: Table<PartIx, Option<Frame>>,
}

impl Placement {
    /// Axes of a socket in the base's, z out of the host; `None` where the host is not there.
    pub fn socket(&self, board: &Board, socket: SocketIx) -> Option<Frame> {
        let host = board.host(socket);
        Some(
            board
                .socket(socket)
                .frame(board.part(host))
                .within(&self.parts[host]?),
        )
    }
}

/// Stands a model up.
pub fn placement(board: &Board, model: &Model) -> Placement {
    let mut parts = Table::of(&board.plan.parts, |_, _| None);
    parts[board.base()] = Some(Frame::WORLD);
    let mut ready = vec![board.base()];
    while let Some(host) = ready.pop() {
        let Some(frame) = parts[host] else { continue };
        for socket in board.carried(host) {
            let Some(joint) = model.joints[*socket] else {
                continue;
            };
            let child = board.joints[joint].part;
            if parts[child].is_none() {
                parts[child] = Some(board.part_on_host(joint).within(&frame));
                ready.push(child);
            }
        }
    }
    Placement { parts }
}
