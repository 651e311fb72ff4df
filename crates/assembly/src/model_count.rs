//! Counts legal models exactly, over any set of variants and under a condition, without listing them.
//!
//! Sockets are decided one at a time, the live one of lowest index first. What can still follow depends only on the
//! live undecided sockets, on which of the parts that fit several sockets are used, and on the variants that still
//! agree with all decisions; equal situations are counted once.

use std::collections::BTreeMap;

use lodewright_kit::{PartIx, SocketIx, Table, VariantIx};

use crate::{Board, JointIx};

/// Situations remembered before the count is given up.
const MOST_SITUATIONS: usize = 100_000;
/// Nested decisions; a plan has at most this many sockets.
const MOST_DEPTH: usize = lodewright_kit::limits::SOCKETS + 1;

/// A count over some variants.
pub(crate) struct ModelCount<'b> {
    board: &'b Board,
    /// This joint must not be made.
    pub without: Option<JointIx>,
    /// This part must be there.
    pub with: Option<PartIx>,
    /// Parts that some choice puts in more than one socket.
    roaming: Table<PartIx, bool>,
    seen: BTreeMap<Situation, u128>,
    too_many: bool,
}

#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Situation {
    live: Vec<SocketIx>,
    used: Vec<PartIx>,
    variants: Vec<VariantIx>,
    with_met: bool,
}

impl<'b> ModelCount<'b> {
    pub(crate) fn new(board: &'b Board) -> Self {
        let mut sockets = Table::<PartIx, Vec<SocketIx>>::of(&board.plan.parts, |_, _| Vec::new());
        for j in &board.joints {
            if !sockets[j.part].contains(&j.socket) {
                sockets[j.part].push(j.socket);
            }
        }
        let roaming = sockets.values().iter().map(|s| s.len() > 1).collect();
        Self {
            board,
            without: None,
            with: None,
            roaming,
            seen: BTreeMap::new(),
            too_many: false,
        }
    }

    /// How many distinct legal models the variants have together; `None` where there are too many situations to tell.
    pub(crate) fn count(&mut self, variants: &[VariantIx]) -> Option<u128> {
        self.seen.clear();
        self.too_many = false;
        let base = self.board.base();
        let start = Situation {
            live: self.board.carried(base).to_vec(),
            used: Vec::new(),
            variants: variants.to_vec(),
            with_met: self.with.is_none_or(|p| p == base),
        };
        let n = if variants.is_empty() {
            0
        } else {
            self.follow(start, 0)
        };
        (!self.too_many).then_some(n)
    }

    fn follow(&mut self, mut now: Situation, depth: usize) -> u128 {
        let Some(socket) = now.live.first().copied() else {
            return u128::from(now.with_met);
        };
        if let Some(n) = self.seen.get(&now) {
            return *n;
        }
        if self.seen.len() >= MOST_SITUATIONS || depth > MOST_DEPTH {
            self.too_many = true;
            return 0;
        }
        let key = now.clone();
        now.live.remove(0);
        let mut total = 0u128;
        for (choice, variants) in self.agreeing(socket, &now.variants) {
            if let Some(next) = self.after(&now, choice, variants) {
                total = total.saturating_add(self.follow(next, depth + 1));
            }
        }
        self.seen.insert(key, total);
        total
    }

    /// Each choice of a socket with the variants that allow it.
    fn agreeing(
        &self,
        socket: SocketIx,
        variants: &[VariantIx],
    ) -> Vec<(Option<JointIx>, Vec<VariantIx>)> {
        let mut out: Vec<(Option<JointIx>, Vec<VariantIx>)> = Vec::new();
        for v in variants {
            for choice in self.board.choices(*v, socket) {
                match out.iter_mut().find(|(c, _)| c == choice) {
                    Some((_, list)) => list.push(*v),
                    None => out.push((*choice, vec![*v])),
                }
            }
        }
        out
    }

    fn after(
        &self,
        now: &Situation,
        choice: Option<JointIx>,
        variants: Vec<VariantIx>,
    ) -> Option<Situation> {
        let mut next = Situation {
            variants,
            ..now.clone()
        };
        let Some(joint) = choice else {
            return Some(next);
        };
        let part = self.board.joints[joint].part;
        if self.without == Some(joint) || now.used.contains(&part) {
            return None;
        }
        next.with_met |= self.with == Some(part);
        if self.roaming[part] {
            next.used.push(part);
            next.used.sort_unstable();
        }
        next.live.extend(self.board.carried(part));
        next.live.sort_unstable();
        Some(next)
    }
}
