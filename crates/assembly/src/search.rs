//! Numbers of models by situations: each is worked out once, from those that follow it, within a budget of steps. This
//! is model counting with component caching (Bacchus, Dalmao and Pitassi 2003, 'Algorithms and complexity results for
//! #SAT and Bayesian inference', from memory): few situations where few roaming parts hold the sockets together.

use std::collections::BTreeMap;

use fixedbitset::FixedBitSet;
use lodewright_kit::SocketIx;
use num_bigint::BigUint;

use crate::situation::{Rules, Situation, sockets};

/// Steps spent and left: a socket looked at, a choice tried, a swap of parts looked for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Steps {
    pub spent: u64,
    pub most: u64,
}

impl Steps {
    pub fn new(most: u64) -> Self {
        Self { spent: 0, most }
    }

    /// Spends some; `None` when they are used up.
    pub fn spend(&mut self, n: usize) -> Option<()> {
        self.spent = self.spent.saturating_add(n as u64);
        (self.spent <= self.most).then_some(())
    }
}

/// What is known of the situations of some rules.
pub(crate) struct Search<'r, 'b> {
    pub rules: &'r Rules<'b>,
    /// Whether it is enough to know that there are models, and not how many.
    any: bool,
    known: BTreeMap<Situation, BigUint>,
}

struct Frame {
    now: Situation,
    sum: BigUint,
    /// Each the number so far and the situations that it is still to be multiplied by.
    terms: Vec<(BigUint, Vec<Situation>)>,
}

impl<'r, 'b> Search<'r, 'b> {
    pub fn count(rules: &'r Rules<'b>) -> Self {
        let known = BTreeMap::new();
        Self {
            rules,
            any: false,
            known,
        }
    }

    pub fn any(rules: &'r Rules<'b>) -> Self {
        Self {
            any: true,
            ..Self::count(rules)
        }
    }

    /// The number of models from the start on.
    pub fn all(&mut self, steps: &mut Steps) -> Option<BigUint> {
        self.rules
            .start()
            .map_or(Some(BigUint::ZERO), |s| self.value(s, steps))
    }

    /// Whether any model follows.
    pub fn is_possible(&mut self, now: Situation, steps: &mut Steps) -> Option<bool> {
        Some(self.value(now, steps)? != BigUint::ZERO)
    }

    /// The number of ways to go on; `None` where that takes too many steps.
    fn value(&mut self, now: Situation, steps: &mut Steps) -> Option<BigUint> {
        if let Some(known) = self.known.get(&now) {
            return Some(known.clone());
        }
        // A stack of its own instead of recursion: plans may nest hundreds of hosts.
        let mut frames = vec![self.frame(now, steps)?];
        while let Some(frame) = frames.last_mut() {
            let enough = self.any && frame.sum != BigUint::ZERO;
            let Some((product, parts)) = frame.terms.last_mut().filter(|_| !enough) else {
                let done = frames.pop()?;
                if frames.is_empty() {
                    self.known.insert(done.now, done.sum.clone());
                    return Some(done.sum);
                }
                self.known.insert(done.now, done.sum);
                continue;
            };
            match parts.last().filter(|_| *product != BigUint::ZERO) {
                None => {
                    frame.sum += &*product;
                    frame.terms.pop();
                }
                Some(part) => match self.known.get(part) {
                    Some(ways) => {
                        *product *= ways;
                        parts.pop();
                    }
                    None => {
                        let next = part.clone();
                        frames.push(self.frame(next, steps)?);
                    }
                },
            }
        }
        None
    }

    fn frame(&self, now: Situation, steps: &mut Steps) -> Option<Frame> {
        steps.spend(1 + now.live.count_ones(..))?;
        let mut frame = Frame {
            sum: BigUint::ZERO,
            terms: Vec::new(),
            now,
        };
        let now = &frame.now;
        if now.live.is_clear() || self.any && self.rules.is_shallow(now) {
            frame.sum = BigUint::from(u8::from(Matching::of(self.rules, now, steps)?.is_some()));
            return Some(frame);
        }
        let parts = self.rules.split(now);
        if parts.len() > 1 {
            frame.terms.push((BigUint::from(1u8), parts));
            return Some(frame);
        }
        let (socket, branches) = self.rules.branches(now)?;
        let choices = &self.rules.choices[socket];
        steps.spend(branches.len())?;
        for (list, next) in branches.into_iter().rev() {
            let ways: usize = list.iter().map(|i| choices[*i].joints.len()).sum();
            frame
                .terms
                .extend(next.map(|next| (BigUint::from(ways), vec![next])));
        }
        Some(frame)
    }
}

/// A roaming part for each socket of a shallow situation that cannot be filled otherwise.
pub(crate) struct Matching<'r, 'b> {
    rules: &'r Rules<'b>,
    used: &'r FixedBitSet,
    part_in: BTreeMap<SocketIx, usize>,
    socket_of: Vec<Option<SocketIx>>,
}

impl<'r, 'b> Matching<'r, 'b> {
    /// Finds one by augmenting paths; `Some(None)` where there is none, `None` when the steps are used up.
    pub fn of(rules: &'r Rules<'b>, now: &'r Situation, steps: &mut Steps) -> Option<Option<Self>> {
        let mut out = Self {
            rules,
            used: &now.used,
            part_in: BTreeMap::new(),
            socket_of: vec![None; rules.roaming()],
        };
        for socket in sockets(&now.live) {
            if rules.parts_for(socket, out.used).any(|n| n.is_none()) {
                continue;
            }
            let Some(path) = out.path(socket, None, steps)? else {
                return Some(None);
            };
            for (socket, part) in path {
                out.part_in.insert(socket, part);
                out.socket_of[part] = Some(socket);
            }
        }
        Some(Some(out))
    }

    /// Whether another matching puts a part into a socket, or lets it do without.
    pub fn allows(&self, socket: SocketIx, part: Option<usize>, steps: &mut Steps) -> Option<bool> {
        let Some(part) = part else { return Some(true) };
        let displaced = self.socket_of[part].filter(|s| *s != socket);
        Some(match displaced {
            None => true,
            Some(displaced) => self.path(displaced, Some((socket, part)), steps)?.is_some(),
        })
    }

    /// What to change so that a socket gets a part too, with one socket and one part set aside for each other.
    fn path(
        &self,
        from: SocketIx,
        aside: Option<(SocketIx, usize)>,
        steps: &mut Steps,
    ) -> Option<Option<Vec<(SocketIx, usize)>>> {
        let mut seen = FixedBitSet::with_capacity(self.socket_of.len());
        seen.extend(aside.map(|a| a.1));
        let free = aside.and_then(|(socket, _)| self.part_in.get(&socket).copied());
        // Sockets reached, each with the entry it was reached from and the part it would have to give up.
        let mut queue = vec![(from, None::<(usize, usize)>)];
        let mut at = 0;
        while let Some((socket, _)) = queue.get(at).copied() {
            steps.spend(1)?;
            for part in self.rules.parts_for(socket, self.used).flatten() {
                if seen.put(part) {
                    continue;
                }
                match self.socket_of[part].filter(|_| free != Some(part)) {
                    Some(owner) => queue.push((owner, Some((at, part)))),
                    None => {
                        let (mut path, mut via) = (vec![(socket, part)], queue[at].1);
                        while let Some((before, part)) = via {
                            path.push((queue[before].0, part));
                            via = queue[before].1;
                        }
                        return Some(Some(path));
                    }
                }
            }
            at += 1;
        }
        Some(None)
    }
}
