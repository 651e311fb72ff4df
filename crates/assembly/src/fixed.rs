//! Whether one variant has a model of a given kind, where each of its parts has one socket only: its sockets then decide
//! independently of each other, and no model need be followed to its end.

use lodewright_kit::{Ix, PartIx, SocketIx, Table, VariantIx};

use crate::{Board, JointIx};

/// A variant in which no part has a choice of sockets.
pub(crate) struct FixedPlaces<'b> {
    board: &'b Board,
    variant: VariantIx,
    /// A part's socket, where models come to it.
    place: Table<PartIx, Option<SocketIx>>,
    /// Whether a socket, and all that then stands in it, can be decided.
    open: Table<SocketIx, bool>,
}

impl<'b> FixedPlaces<'b> {
    /// Looks the variant over; none where a part has a choice of sockets.
    pub(crate) fn of(board: &'b Board, variant: VariantIx) -> Option<Self> {
        let sockets = &board.plan.sockets;
        let mut place = Table::<PartIx, _>::of(&board.plan.parts, |_, _| None);
        for socket in SocketIx::all(sockets) {
            for joint in board.choices(variant, socket).iter().flatten() {
                let part = board.joints[*joint].part;
                let place = &mut place[part];
                if part == board.base() || place.is_some_and(|known| known != socket) {
                    return None;
                }
                *place = Some(socket);
            }
        }
        // Hosts first, so that going back each socket finds those that its parts carry decided.
        let mut order = board.carried(board.base()).to_vec();
        let mut reached = Table::<SocketIx, _>::of(sockets, |_, _| false);
        for socket in &order {
            reached[*socket] = true;
        }
        let mut next = 0;
        while let Some(socket) = order.get(next).copied() {
            next += 1;
            for joint in board.choices(variant, socket).iter().flatten() {
                for above in board.carried(board.joints[*joint].part) {
                    if !std::mem::replace(&mut reached[*above], true) {
                        order.push(*above);
                    }
                }
            }
        }
        let place = place
            .values()
            .iter()
            .map(|at: &Option<SocketIx>| at.filter(|s| reached[*s]));
        let place = place.collect();
        let mut out = Self {
            board,
            variant,
            place,
            open: Table::of(sockets, |_, _| true),
        };
        for socket in order.into_iter().rev() {
            out.open[socket] = out.can_decide(socket, None, &[]);
        }
        Some(out)
    }

    /// Whether there is a legal model with this part and without this joint.
    pub(crate) fn has_model(&self, with: PartIx, without: JointIx) -> bool {
        let board = self.board;
        let base = board.base();
        if !board.carried(base).iter().all(|s| self.open[*s]) {
            return false;
        }
        // What the joint's absence closes: its socket, and then perhaps the one below, and so on towards the base.
        let mut closed = Vec::new();
        let mut below = self.place[board.joints[without].part];
        while let Some(socket) = below {
            if !self.open[socket] || self.can_decide(socket, Some(without), &closed) {
                break;
            }
            let host = board.host(socket);
            if host == base {
                return false;
            }
            closed.push(socket);
            below = self.place[host];
        }
        let mut part = with;
        // A part stands on parts that stand: each of them in a joint that is allowed, with all its sockets decided.
        while part != base {
            let Some(place) = self.place[part] else {
                return false;
            };
            let mut choices = self.board.choices(self.variant, place).iter().flatten();
            if !choices.any(|j| *j != without && board.joints[*j].part == part)
                || !self.all_open(part, &closed)
            {
                return false;
            }
            part = board.host(place);
        }
        true
    }

    fn can_decide(&self, socket: SocketIx, without: Option<JointIx>, closed: &[SocketIx]) -> bool {
        let choices = self.board.choices(self.variant, socket);
        choices.iter().any(|choice| match choice {
            None => true,
            Some(joint) => {
                Some(*joint) != without && self.all_open(self.board.joints[*joint].part, closed)
            }
        })
    }

    fn all_open(&self, part: PartIx, closed: &[SocketIx]) -> bool {
        let mut carried = self.board.carried(part).iter();
        carried.all(|s| self.open[*s] && !closed.contains(s))
    }
}
