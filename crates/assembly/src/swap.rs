//! Changing one model into another: what comes off, outermost first, and what goes on, innermost first; what stands in the way of
//! another part comes off before it and goes on after it.

use crate::{Bars, Board, JointIx, Model};

/// One thing to do with the hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SwapStep {
    /// Take the part of this joint off; what hangs on it and stays on it comes along.
    Off {
        /// The joint it leaves.
        joint: JointIx,
        /// The joint it will go to later, where it stays on the model: the same one where it was only in the way.
        again: Option<JointIx>,
    },
    /// Put the part of this joint on.
    On {
        /// The joint to make.
        joint: JointIx,
    },
}

/// A change of one model into another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What to do, in order.
    pub steps: Vec<SwapStep>,
    /// Joints whose parts stand in each other's way, so that no order of these steps works.
    pub stuck: Vec<JointIx>,
}

/// The fewest handlings that change `from` into `to`: every part whose joint changes is taken off once and put on once, and so
/// is what stays but stands in the way of one of them; none else is touched. No plan can do with less, since a joint that is not
/// in `to` has to be opened, one that is not in `from` to be made, and nothing moves through what stands in its way.
///
/// ```
/// use lodewright_assembly::{Bars, Board, SwapStep, changes, models};
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
/// let change = changes(&board, &Bars::default(), &both[0], &both[1]);
/// assert!(matches!(change.steps[..], [SwapStep::Off { again: None, .. }, SwapStep::On { .. }]));
/// # Ok::<(), String>(())
/// ```
pub fn changes(board: &Board, bars: &Bars, from: &Model, to: &Model) -> Change {
    let differs =
        |joint: &JointIx, other: &Model| other.joints[board.joints[*joint].socket] != Some(*joint);
    let before = Sides::of(board, bars, from);
    let after = Sides::of(board, bars, to);
    let mut off: Vec<JointIx> = before.order.clone();
    off.retain(|j| differs(j, to));
    let mut on: Vec<JointIx> = after.order.clone();
    on.retain(|j| differs(j, from));
    // What stays but is in the way of something moved is moved as well, which may in turn be barred.
    loop {
        let mut more = before.in_the_way_of(&off);
        more.extend(after.in_the_way_of(&on));
        more.retain(|j| !differs(j, from) && !differs(j, to) && !off.contains(j));
        if more.is_empty() {
            break;
        }
        for joint in more {
            if !off.contains(&joint) {
                off.push(joint);
                on.push(joint);
            }
        }
    }
    // Off as on, the other way round.
    let (mut off, mut stuck) = before.sorted(&off);
    off.reverse();
    let (on, more) = after.sorted(&on);
    stuck.extend(more);
    let again = |joint: JointIx| {
        let part = board.joints[joint].part;
        on.iter().copied().find(|j| board.joints[*j].part == part)
    };
    let off = off.into_iter().map(|joint| SwapStep::Off {
        joint,
        again: again(joint),
    });
    Change {
        steps: off
            .chain(on.iter().map(|joint| SwapStep::On { joint: *joint }))
            .collect(),
        stuck,
    }
}

/// A model with what stands in the way of what.
struct Sides {
    /// Its joints, hosts before what hangs on them.
    order: Vec<JointIx>,
    /// A joint, and one whose part stands in its way.
    bars: Vec<[JointIx; 2]>,
    /// The joint that a joint's host sits by.
    under: Vec<(JointIx, JointIx)>,
}

impl Sides {
    fn of(board: &Board, bars: &Bars, model: &Model) -> Self {
        let order = by_depth(board, model);
        let host = |j: &JointIx| {
            let host = board.host(board.joints[*j].socket);
            let below = order.iter().find(|o| board.joints[**o].part == host)?;
            Some((*j, *below))
        };
        Self {
            bars: bars.in_model(board, model),
            under: order.iter().filter_map(host).collect(),
            order,
        }
    }

    /// Whether a joint is one of a list, or hangs on one.
    fn goes_along(&self, joint: JointIx, list: &[JointIx]) -> bool {
        let mut at = Some(joint);
        while let Some(here) = at {
            if list.contains(&here) {
                return true;
            }
            at = self.under.iter().find(|(j, _)| *j == here).map(|(_, b)| *b);
        }
        false
    }

    /// Joints that stay though they stand in the way of a moved one, and do not go along with another that is moved.
    fn in_the_way_of(&self, moved: &[JointIx]) -> Vec<JointIx> {
        let bars = self.bars.iter();
        bars.filter(|[a, b]| moved.contains(a) && !self.goes_along(*b, moved))
            .map(|[_, b]| *b)
            .collect()
    }

    /// The order in which they can be put on: hosts first, and what is barred before what stands in its way; those that bar each
    /// other come as they hang, and are told.
    fn sorted(&self, list: &[JointIx]) -> (Vec<JointIx>, Vec<JointIx>) {
        let mut left: Vec<JointIx> = self.order.clone();
        left.retain(|j| list.contains(j));
        let (mut sorted, mut stuck) = (Vec::new(), Vec::new());
        while !left.is_empty() {
            let waits = |j: &JointIx| {
                let others = left.iter().filter(|o| *o != j);
                others.into_iter().any(|o| {
                    // What it hangs on goes on first, and what it would stand in the way of.
                    self.goes_along(*j, &[*o])
                        || self.bars.iter().any(|[a, b]| {
                            self.goes_along(*a, &[*o])
                                && self.goes_along(*b, &[*j])
                                && !self.goes_along(*a, &[*j])
                        })
                })
            };
            let at = left.iter().position(|j| !waits(j)).unwrap_or_else(|| {
                stuck.push(left[0]);
                0
            });
            sorted.push(left.remove(at));
        }
        (sorted, stuck)
    }
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
