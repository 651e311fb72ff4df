//! Models: one legal way to fill every socket.

use std::collections::BTreeSet;

use lodewright_kit::{Ix, PartIx, SocketIx, Table, VariantIx};

use crate::situation::{Rules, entries_of};
use crate::{Board, JointIx, search::Search, search::Steps};
use tiny_sort::stable::sort_by_key;

/// For every socket the joint that is made there; `None` where it is empty or its host is not there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Model {
    /// What is made in each socket.
    pub joints: Table<SocketIx, Option<JointIx>>,
}

impl Model {
    /// The joints that are made, in order of their sockets.
    pub fn made(&self) -> impl Iterator<Item = JointIx> + '_ {
        self.joints.values().iter().flatten().copied()
    }

    /// The joint by which a part sits; `None` for the base and for a part that is not there.
    pub fn joint_of_part(&self, board: &Board, part: PartIx) -> Option<JointIx> {
        self.made().find(|j| board.joints[*j].part == part)
    }

    /// Whether a part is there.
    pub fn has(&self, board: &Board, part: PartIx) -> bool {
        part == board.base() || self.joint_of_part(board, part).is_some()
    }

    /// The part and everything that hangs on it, the part first.
    pub fn outboard(&self, board: &Board, part: PartIx) -> Vec<PartIx> {
        let mut out = vec![part];
        let mut next = 0;
        while let Some(p) = out.get(next).copied() {
            next += 1;
            for socket in board.carried(p) {
                if let Some(j) = self.joints[*socket] {
                    let child = board.joints[j].part;
                    if !out.contains(&child) {
                        out.push(child);
                    }
                }
            }
        }
        out
    }
}

/// The first legal model of a variant: every free option at its first choice where that is possible.
pub fn first_model(board: &Board, variant: VariantIx) -> Option<Model> {
    let rules = Rules::of(board, &entries_of(board, variant), 0);
    Walk::of(board, variant, &rules, &|_, _| false).next()
}

/// Up to `most` legal models of a variant, and whether these are all.
///
/// ```
/// use lodewright_assembly::{Board, models};
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
/// let (first, all) = models(&board, VariantIx::new(0), 1);
/// assert_eq!((first.len(), all), (1, false));
/// assert_eq!(models(&board, VariantIx::new(0), 2).1, true);
/// # Ok::<(), String>(())
/// ```
pub fn models(board: &Board, variant: VariantIx, most: usize) -> (Vec<Model>, bool) {
    let rules = Rules::of(board, &entries_of(board, variant), 0);
    let mut walk = Walk::of(board, variant, &rules, &|_, _| false);
    let found: Vec<_> = walk.by_ref().take(most).collect();
    let all = walk.next().is_none() && !walk.gave_up;
    (found, all)
}

/// A legal model of a variant that keeps the joints of another model where its free options allow.
pub fn nearest_model(board: &Board, variant: VariantIx, like: &Model) -> Option<Model> {
    let rules = Rules::of(board, &entries_of(board, variant), 0);
    let keeps = |socket: SocketIx, choice: Option<JointIx>| choice == like.joints[socket];
    Walk::of(board, variant, &rules, &keeps).next()
}

/// Decisions tried before a walk is given up: enough for every real kit, and an end for hostile ones.
const MOST_DECISIONS: usize = 200_000;
/// Steps to find out which decisions lead to no model.
const MOST_STEPS: u64 = 400_000;

/// Goes through the models of a variant: the live socket of lowest index takes its choices in order, the liked ones first;
/// those after which no model can follow are passed over.
struct Walk<'w> {
    board: &'w Board,
    variant: VariantIx,
    likes: &'w dyn Fn(SocketIx, Option<JointIx>) -> bool,
    search: Search<'w, 'w>,
    steps: Steps,
    decisions: usize,
    gave_up: bool,
    made: Table<SocketIx, Option<JointIx>>,
    used: Table<PartIx, bool>,
    live: BTreeSet<SocketIx>,
    /// The sockets decided, each with the choices that are left for it. No recursion: plans may hold hundreds.
    decided: Vec<(SocketIx, Vec<Option<JointIx>>)>,
    started: bool,
}

impl<'w> Walk<'w> {
    fn of(
        board: &'w Board,
        variant: VariantIx,
        rules: &'w Rules<'w>,
        likes: &'w dyn Fn(SocketIx, Option<JointIx>) -> bool,
    ) -> Self {
        Self {
            board,
            variant,
            likes,
            search: Search::any(rules),
            steps: Steps::new(MOST_STEPS),
            decisions: 0,
            gave_up: false,
            made: Table::of(&board.plan.sockets, |_, _| None),
            used: Table::of(&board.plan.parts, |part, _| part == board.base()),
            live: board.carried(board.base()).iter().copied().collect(),
            decided: Vec::new(),
            started: false,
        }
    }

    /// Opens the next socket; whether there is one.
    fn open(&mut self) -> bool {
        let Some(socket) = self.live.pop_first() else {
            return false;
        };
        let mut left = self.board.choices(self.variant, socket).to_vec();
        let rule = &self.search.rules.choices[socket];
        left.retain(|c| rule.iter().any(|r| r.joints.contains(c)));
        sort_by_key(&mut left, |c| !(self.likes)(socket, *c));
        left.reverse();
        self.decided.push((socket, left));
        true
    }

    /// Gives the socket opened last its next choice, or closes it; whether a model may follow.
    fn advance(&mut self) -> bool {
        let Some((socket, left)) = self.decided.last_mut() else {
            return false;
        };
        let socket = *socket;
        if let Some(joint) = self.made[socket].take() {
            let part = self.board.joints[joint].part;
            self.used[part] = false;
            for above in self.board.carried(part) {
                self.live.remove(above);
            }
        }
        let (board, used) = (self.board, &self.used);
        let there = |c: &Option<JointIx>| c.is_some_and(|j| used[board.joints[j].part]);
        while left.pop_if(|c| there(c)).is_some() {}
        let Some(choice) = left.pop() else {
            self.decided.pop();
            self.live.insert(socket);
            return false;
        };
        if let Some(joint) = choice {
            let part = self.board.joints[joint].part;
            self.made[socket] = choice;
            self.used[part] = true;
            self.live.extend(self.board.carried(part));
        }
        // What bears on nothing else takes nothing away from the rest.
        self.search.rules.is_plain(socket, choice) || self.can_go_on()
    }

    fn can_go_on(&mut self) -> bool {
        let Some(now) = self.search.rules.bound(&self.live, &self.used) else {
            return false;
        };
        self.search.is_possible(now, &mut self.steps) != Some(false)
    }
}

impl Iterator for Walk<'_> {
    type Item = Model;

    fn next(&mut self) -> Option<Model> {
        let mut goes_on = !std::mem::replace(&mut self.started, true)
            && self.variant.get() < self.board.plan.variants.len()
            && self.search.rules.start().is_some()
            && self.can_go_on();
        loop {
            if goes_on && !self.open() {
                let joints = self.made.clone();
                return Some(Model { joints });
            }
            if self.decided.is_empty() {
                return None;
            }
            self.decisions += 1;
            if self.decisions > MOST_DECISIONS {
                self.gave_up = true;
                return None;
            }
            goes_on = self.advance();
        }
    }
}
