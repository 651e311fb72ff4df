//! Changing one model into another: what comes off, outermost first, and what goes on, innermost first.

use crate::{Board, JointIx, Model};
use tiny_sort::stable::sort_by_key;

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
pub fn changes(board: &Board, from: &Model, to: &Model) -> Vec<SwapStep> {
    let differs =
        |joint: &JointIx, other: &Model| other.joints[board.joints[*joint].socket] != Some(*joint);
    let mut off: Vec<JointIx> = from.made().filter(|j| differs(j, to)).collect();
    let mut on: Vec<JointIx> = to.made().filter(|j| differs(j, from)).collect();
    sort_by_key(&mut off, |j| std::cmp::Reverse(depth(board, from, *j)));
    sort_by_key(&mut on, |j| depth(board, to, *j));
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

/// How many joints lie between a joint and the base.
fn depth(board: &Board, model: &Model, joint: JointIx) -> usize {
    let mut host = board.host(board.joints[joint].socket);
    let mut n = 0;
    while let Some(j) = model.joint_of_part(board, host) {
        host = board.host(board.joints[j].socket);
        n += 1;
        if n > model.joints.values().len() {
            break;
        }
    }
    n
}
