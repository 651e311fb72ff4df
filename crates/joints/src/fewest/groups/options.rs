//! Every way to fill the holes of one group.

use lodewright_kit::{Fit, Ix, MagnetIx, Pole, SocketIx, SteelIx, Table};
use tiny_sort::stable::sort;

use super::super::Sign;
use super::pins::{is_idle, pin_sets};
use super::uniform_size::sizes;
use crate::context::Context;
use crate::holes::HoleIx;
use crate::pull::{Filling, Fillings};
use crate::room::takes;

/// Faces with more holes than this are filled alike throughout, so that their options stay few.
const MOST_FREE: usize = 5;
/// A face with more options than this when holes of different kinds may take different sizes has one size throughout: each pair
/// of options of two faces is tried.
const MOST_OPTIONS: usize = 600;

/// One way to fill the holes of a group.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Choice {
    pub fillings: Vec<Filling>,
    /// The pole at the first face, for magnets whose poles could contradict each other.
    pub signs: Vec<Sign>,
    /// Sockets where a friction pin stands in for magnets.
    pub pins: Vec<SocketIx>,
}

/// What a hole holds, before the sizes of magnets are settled.
#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Fixed(Filling),
    Magnet,
    Steel,
}

/// What a hole may hold where the planner chooses.
const FREE: [State; 3] = [State::Fixed(Filling::Empty), State::Magnet, State::Steel];

/// What the options of a group are made from.
pub(super) struct Asked<'s> {
    pub context: &'s Context,
    /// The holes of the group.
    pub holes: &'s [HoleIx],
    /// Whether a joint held by magnets uses a hole.
    pub wanted: &'s Table<HoleIx, bool>,
    /// Whether a joint that cannot be asked uses a hole.
    pub kept: &'s Table<HoleIx, bool>,
    /// Whether poles could contradict at a hole.
    pub signed: &'s Table<HoleIx, bool>,
    /// What a hole comes to at present.
    pub now: &'s Fillings,
}

impl Asked<'_> {
    pub fn options(&self) -> Vec<Choice> {
        let mut all = Vec::new();
        for pins in pin_sets(self.context, self.holes) {
            for fillings in self.filled(&pins) {
                all.extend(self.with_signs(&fillings, &pins));
            }
        }
        sort(&mut all);
        all.dedup();
        // A solver wants at least one option: what is there now.
        if all.is_empty() {
            all.push(Choice {
                fillings: self.holes.iter().map(|h| self.now[*h]).collect(),
                signs: vec![None; self.holes.len()],
                pins: Vec::new(),
            });
        }
        all
    }

    /// Every filling of the holes with pins in these sockets.
    fn filled(&self, pins: &[SocketIx]) -> Vec<Vec<Filling>> {
        let patterns = self.patterns(pins);
        let sizes = |pattern: &[State], may_differ: bool| {
            let full = self.holes.iter().zip(pattern);
            let taking: Vec<HoleIx> = full
                .filter(|(_, s)| **s == State::Magnet)
                .map(|(h, _)| *h)
                .collect();
            sizes(self.context, self.holes, &taking, may_differ)
        };
        let mixed: usize = patterns.iter().map(|p| sizes(p, true).len()).sum();
        let mut all = Vec::new();
        for pattern in &patterns {
            for way in sizes(pattern, mixed <= MOST_OPTIONS) {
                let holes = self.holes.iter().zip(pattern).zip(&way);
                let filled: Option<Vec<Filling>> = holes
                    .map(|((h, state), size)| self.filling(*h, *state, *size))
                    .collect();
                all.extend(filled);
            }
        }
        all
    }

    /// The states of the holes in every way.
    fn patterns(&self, pins: &[SocketIx]) -> Vec<Vec<State>> {
        let fit_is_free = |h: HoleIx| self.context.holes.holes[h].fit == Fit::Auto && !self.kept[h];
        let states = |h: &HoleIx| {
            if !fit_is_free(*h) {
                vec![State::Fixed(self.now[*h])]
            } else if !self.wanted[*h] || is_idle(self.context, *h, pins) {
                vec![State::Fixed(Filling::Empty)]
            } else {
                FREE.to_vec()
            }
        };
        let states: Vec<Vec<State>> = self.holes.iter().map(states).collect();
        let free = states.iter().filter(|s| s.len() > 1).count();
        if free <= MOST_FREE {
            return every_way(&states);
        }
        let alike = |i: usize| states.iter().map(|s| s[i % s.len()]).collect();
        (0..FREE.len()).map(alike).collect()
    }

    /// What a state comes to at a hole; `None` where it does not fit.
    fn filling(&self, hole: HoleIx, state: State, size: MagnetIx) -> Option<Filling> {
        let plan = self.context.plan();
        let hole = &self.context.holes.holes[hole];
        match state {
            State::Fixed(filling) => Some(filling),
            State::Magnet => Some(Filling::Magnet(size)).filter(|f| takes(plan, hole, *f)),
            State::Steel => {
                let steel = SteelIx::each(&plan.stock.steel);
                // The widest carries the most flux.
                steel
                    .filter(|(i, _)| takes(plan, hole, Filling::Steel(*i)))
                    .max_by(|(i, a), (j, b)| a.diameter_mm.total_cmp(&b.diameter_mm).then(j.cmp(i)))
                    .map(|(i, _)| Filling::Steel(i))
            }
        }
    }

    /// Every pole of every magnet whose poles could contradict.
    fn with_signs(&self, fillings: &[Filling], pins: &[SocketIx]) -> Vec<Choice> {
        let signs = |(hole, filling): (&HoleIx, &Filling)| {
            if !self.signed[*hole] || !matches!(filling, Filling::Magnet(_)) {
                return vec![None];
            }
            match self.context.holes.holes[*hole].pinned {
                Some(pole) => vec![Some(pole)],
                None => vec![Some(Pole::N), Some(Pole::S)],
            }
        };
        let signs: Vec<Vec<Sign>> = self.holes.iter().zip(fillings).map(signs).collect();
        let all = every_way(&signs).into_iter();
        all.map(|signs| Choice {
            fillings: fillings.to_vec(),
            signs,
            pins: pins.to_vec(),
        })
        .collect()
    }
}

/// One of each list, in every way.
pub(super) fn every_way<T: Clone>(lists: &[Vec<T>]) -> Vec<Vec<T>> {
    let mut ways = vec![Vec::new()];
    for list in lists {
        let longer = |way: Vec<T>| {
            let with = move |one: &T| {
                let mut way = way.clone();
                way.push(one.clone());
                way
            };
            list.iter().map(with)
        };
        ways = ways.into_iter().flat_map(longer).collect();
    }
    ways
}
