//! Models: one legal way to fill every socket.

use lodewright_kit::{Ix, PartIx, SocketIx, Table, VariantIx};

use crate::{Board, JointIx, model_count::ModelCount};
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

impl Board {
    /// The number of distinct legal models of all variants together; `None` where there are too many to count exactly.
    pub fn model_count(&self) -> Option<u128> {
        let variants: Vec<_> = VariantIx::all(&self.plan.variants).collect();
        ModelCount::new(self).count(&variants)
    }

    /// The number of legal models of one variant.
    pub fn model_count_of(&self, variant: VariantIx) -> Option<u128> {
        ModelCount::new(self).count(&[variant])
    }
}

/// The first legal model of a variant: every free option at its first choice where that is possible.
pub fn first_model(board: &Board, variant: VariantIx) -> Option<Model> {
    models(board, variant, 1).0.into_iter().next()
}

/// Up to `most` legal models of a variant, and whether these are all.
pub fn models(board: &Board, variant: VariantIx, most: usize) -> (Vec<Model>, bool) {
    walk(board, variant, most, &|_, choices| choices.to_vec())
}

/// A legal model of a variant that keeps the joints of another model where its free options allow.
pub fn nearest_model(board: &Board, variant: VariantIx, like: &Model) -> Option<Model> {
    let order = |socket: SocketIx, choices: &[Option<JointIx>]| {
        let mut list = choices.to_vec();
        sort_by_key(&mut list, |c| *c != like.joints[socket]);
        list
    };
    walk(board, variant, 1, &order).0.into_iter().next()
}

type Order<'o> = dyn Fn(SocketIx, &[Option<JointIx>]) -> Vec<Option<JointIx>> + 'o;

/// Decisions tried before a walk is given up: enough for every real kit, and an end for hostile ones.
const MOST_DECISIONS: usize = 200_000;

fn walk(board: &Board, variant: VariantIx, most: usize, order: &Order<'_>) -> (Vec<Model>, bool) {
    if variant.get() >= board.plan.variants.len() || most == 0 {
        return (Vec::new(), false);
    }
    let mut found = Vec::new();
    let mut used = Table::of(&board.plan.parts, |_, _| false);
    used[board.base()] = true;
    let start = Partial {
        model: Table::of(&board.plan.sockets, |_, _| None),
        used,
        live: board.carried(board.base()).to_vec(),
    };
    // A stack of its own instead of recursion: plans may hold hundreds of sockets.
    let mut stack = vec![start];
    let mut decisions = 0;
    while let Some(mut now) = stack.pop() {
        decisions += 1;
        if found.len() >= most || decisions > MOST_DECISIONS {
            return (found, false);
        }
        if now.live.is_empty() {
            found.push(Model { joints: now.model });
            continue;
        }
        let socket = now.live.remove(0);
        for choice in order(socket, board.choices(variant, socket))
            .into_iter()
            .rev()
        {
            stack.extend(now.with(board, socket, choice));
        }
    }
    (found, true)
}

#[derive(Clone)]
struct Partial {
    model: Table<SocketIx, Option<JointIx>>,
    used: Table<PartIx, bool>,
    live: Vec<SocketIx>,
}

impl Partial {
    fn with(&self, board: &Board, socket: SocketIx, choice: Option<JointIx>) -> Option<Self> {
        let mut next = self.clone();
        next.model[socket] = choice;
        if let Some(joint) = choice {
            let part = board.joints[joint].part;
            if next.used[part] {
                return None;
            }
            next.used[part] = true;
            next.live.extend(board.carried(part));
            next.live.sort_unstable();
        }
        Some(next)
    }
}
