//! Models: one legal way to fill every socket.

use crate::{Board, census::Census};
use tiny_sort::stable::sort_by_key;

/// For every socket the joint that is made there; `None` where it is empty or its host is not there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Model {
    /// By socket index.
    pub joints: Vec<Option<usize>>,
}

impl Model {
    /// The joint by which a part sits, with its index; `None` for the base and for a part that is not there.
    pub fn joint_of_part(&self, board: &Board, part: usize) -> Option<usize> {
        self.joints
            .iter()
            .flatten()
            .copied()
            .find(|j| board.joints[*j].part == part)
    }

    /// Whether a part is there.
    pub fn has(&self, board: &Board, part: usize) -> bool {
        part == board.base() || self.joint_of_part(board, part).is_some()
    }

    /// The part and everything that hangs on it, the part first.
    pub fn outboard(&self, board: &Board, part: usize) -> Vec<usize> {
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
        let variants: Vec<_> = (0..self.counts().2).collect();
        Census::new(self).count(&variants)
    }

    /// The number of legal models of one variant.
    pub fn model_count_of(&self, variant: usize) -> Option<u128> {
        Census::new(self).count(&[variant])
    }
}

/// The first legal model of a variant: every free option at its first choice where that is possible.
pub fn first_model(board: &Board, variant: usize) -> Option<Model> {
    models(board, variant, 1).0.into_iter().next()
}

/// Up to `most` legal models of a variant, and whether these are all.
pub fn models(board: &Board, variant: usize, most: usize) -> (Vec<Model>, bool) {
    walk(board, variant, most, &|_, choices| choices.to_vec())
}

/// A legal model of a variant that keeps the joints of another model where its free options allow.
pub fn nearest_model(board: &Board, variant: usize, like: &Model) -> Option<Model> {
    let order = |socket: usize, choices: &[Option<usize>]| {
        let mut list = choices.to_vec();
        sort_by_key(&mut list, |c| *c != like.joints[socket]);
        list
    };
    walk(board, variant, 1, &order).0.into_iter().next()
}

type Order<'o> = dyn Fn(usize, &[Option<usize>]) -> Vec<Option<usize>> + 'o;

/// Decisions tried before a walk is given up: enough for every real kit, and an end for hostile ones.
const MOST_DECISIONS: usize = 200_000;

fn walk(board: &Board, variant: usize, most: usize, order: &Order<'_>) -> (Vec<Model>, bool) {
    let (parts, sockets, variants) = board.counts();
    if variant >= variants || most == 0 {
        return (Vec::new(), false);
    }
    let mut found = Vec::new();
    let mut used = vec![false; parts];
    used[board.base()] = true;
    let start = Partial {
        model: vec![None; sockets],
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
    model: Vec<Option<usize>>,
    used: Vec<bool>,
    live: Vec<usize>,
}

impl Partial {
    fn with(&self, board: &Board, socket: usize, choice: Option<usize>) -> Option<Self> {
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
