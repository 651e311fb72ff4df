//! Changing one model into another: what comes off, outermost first, and what goes on, innermost first.

use crate::{Board, JointIx, Model};

/// One thing to do with the hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SwapStep {
    /// Take the part of this joint off; what hangs on it and stays on it comes along.
    Off {
        /// The joint it leaves.
        joint: JointIx,
        /// The joint it will go to later, where it stays on the model.
        again: Option<JointIx>,
    },
    /// Put the part of this joint on.
    On {
        /// The joint to make.
        joint: JointIx,
    },
}

/// The fewest handlings that change `from` into `to`: every part whose joint changes is taken off once and put on once,
/// none else is touched. No plan can do with less, since a joint that is not in `to` has to be opened and one that is
/// not in `from` to be made.
///
/// ```
/// use lodewright_assembly::{Board, SwapStep, changes, models};
/// # use lodewright_kit::{Cell, CheckedPlan, Ix, Part, PartId, Plan, Seat, Socket, SocketId, Variant, VariantId, VariantIx};
/// # let mut plan = Plan::empty("Tug");
/// # for name in ["mast", "crane"] {
/// #     plan.parts.push(Part::plain(PartId::new(name), name.to_uppercase()));
/// # }
/// # plan.sockets.push(Socket::plain(SocketId::new("deck"), "Deck".into(), plan.base.clone()));
/// # let seats = ["mast", "crane"].map(|p| Seat::straight(PartId::new(p)));
/// # let cell = Cell { socket: SocketId::new("deck"), seats: seats.to_vec(), may_be_empty: false };
/// # plan.variants.push(Variant { id: VariantId::new("v"), name: "At sea".into(), cells: vec![cell] });
/// # let board = Board::of(CheckedPlan::of(plan).map_err(|p| p[0].to_string())?);
/// let both = models(&board, VariantIx::new(0), 2).0;
/// let steps = changes(&board, &both[0], &both[1]);
/// assert!(matches!(steps[..], [SwapStep::Off { again: None, .. }, SwapStep::On { .. }]));
/// # Ok::<(), String>(())
/// ```
pub fn changes(board: &Board, from: &Model, to: &Model) -> Vec<SwapStep> {
    let differs =
        |joint: &JointIx, other: &Model| other.joints[board.joints[*joint].socket] != Some(*joint);
    let mut off = by_depth(board, from);
    off.retain(|j| differs(j, to));
    off.reverse();
    let mut on = by_depth(board, to);
    on.retain(|j| differs(j, from));
    let off = off.into_iter().map(|joint| {
        let part = board.joints[joint].part;
        SwapStep::Off {
            joint,
            again: on.iter().copied().find(|j| board.joints[*j].part == part),
        }
    });
    off.chain(on.iter().map(|joint| SwapStep::On { joint: *joint }))
        .collect()
}

/// The joints of a model, hosts before what hangs on them.
fn by_depth(board: &Board, model: &Model) -> Vec<JointIx> {
    let above = |part| board.carried(part).iter().filter_map(|s| model.joints[*s]);
    let mut list: Vec<JointIx> = above(board.base()).collect();
    let mut next = 0;
    while let Some(joint) = list.get(next).copied() {
        next += 1;
        list.extend(above(board.joints[joint].part));
    }
    list
}
