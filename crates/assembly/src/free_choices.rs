//! The models of a variant as a tree of choices that decide without each other, so that the heaviest or lightest of them
//! is found choice by choice, however many there are.

use std::collections::BTreeMap;

use fixedbitset::FixedBitSet;
use lodewright_kit::{Frame, Ix, SocketIx, Table, VariantIx, index_type};

use crate::situation::{Rules, Situation, entries_of};
use crate::{Board, JointIx, search::Search, search::Steps};

/// Alternatives of all choices together before the tree is given up.
const MOST_ALTERNATIVES: usize = 50_000;
/// Steps to find out which alternatives belong to models.
const MOST_STEPS: u64 = 400_000;

index_type! {
    /// A choice of the tree.
    pub ChoiceIx of FreeChoice;
}

/// One alternative of a choice.
pub type Taken = (ChoiceIx, usize);

/// What may be in one socket while certain alternatives of other choices are taken. A socket has several where it, or
/// what it competes with for a roaming part, comes with several alternatives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FreeChoice {
    /// The socket.
    pub socket: SocketIx,
    /// The alternative with which this choice comes; `None` where it always does.
    pub with: Option<Taken>,
    /// The alternative that brings the socket's host; `None` for the base.
    pub host: Option<Taken>,
    /// What is made, and the choices that come with it.
    pub alternatives: Vec<(Option<JointIx>, Vec<ChoiceIx>)>,
}

/// All legal models of a variant: begin with [`FreeChoices::always`], take any alternative of each choice, go on with the
/// choices that come with it. No combination is illegal and none is missing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FreeChoices {
    /// The choices, each after the one that it comes with.
    pub choices: Vec<FreeChoice>,
    /// Those that come with every model.
    pub always: Vec<ChoiceIx>,
}

/// The side of a joint that is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The joint's part and what hangs on it.
    Outboard,
    /// Everything else but the base.
    Inboard,
}

/// How values of parts become values of all their combinations.
pub trait Combine {
    /// Such as the points that are the extreme ones of all combinations.
    type Value: Clone;
    /// The value of nothing.
    fn nothing(&mut self) -> Self::Value;
    /// The value of the part that an alternative brings.
    fn part(&mut self, taken: Taken, joint: JointIx) -> Self::Value;
    /// Both, where each may be anything of its own: a (Minkowski) sum.
    fn both(&mut self, a: Self::Value, b: Self::Value) -> Self::Value;
    /// The one or the other: a union.
    fn either(&mut self, a: Self::Value, b: Self::Value) -> Self::Value;
}

impl FreeChoices {
    /// The tree of a variant; `None` where there is no legal model, or where roaming parts tie too much together.
    pub fn of(board: &Board, variant: VariantIx) -> Option<Self> {
        let rules = Rules::of(board, &entries_of(board, variant), 0);
        let mut search = Search::any(&rules);
        let mut steps = Steps::new(MOST_STEPS);
        let mut out = Self {
            choices: Vec::new(),
            always: Vec::new(),
        };
        let mut alternatives = 0;
        let start = rules.start()?;
        if !search.is_possible(start.clone(), &mut steps)? {
            return None;
        }
        let mut open: Vec<(Option<Taken>, Situation)> = vec![(None, start)];
        while let Some((with, now)) = open.pop() {
            for live in rules.split(&now).into_iter().map(|part| part.live) {
                let now = Situation {
                    live,
                    ..now.clone()
                };
                let socket = rules.least_bound(&now)?;
                let at = ChoiceIx::new(out.choices.len());
                match with {
                    Some((choice, i)) => out.choices[choice].alternatives[i].1.push(at),
                    None => out.always.push(at),
                }
                out.choices.push(FreeChoice {
                    socket,
                    with,
                    host: out.brought_by(board, with, socket),
                    alternatives: Vec::new(),
                });
                for choice in &rules.choices[socket] {
                    let Some(next) = rules.after(&now, socket, choice) else {
                        continue;
                    };
                    let settled = rules.settle(next.live.clone(), next.used.clone(), 0)?;
                    if !search.is_possible(settled, &mut steps)? {
                        continue;
                    }
                    for joint in &choice.joints {
                        alternatives += 1;
                        if alternatives > MOST_ALTERNATIVES {
                            return None;
                        }
                        let list = &mut out.choices[at].alternatives;
                        list.push((*joint, Vec::new()));
                        open.push((Some((at, list.len() - 1)), next.clone()));
                    }
                }
            }
        }
        Some(out)
    }

    fn brought_by(
        &self,
        board: &Board,
        mut with: Option<Taken>,
        socket: SocketIx,
    ) -> Option<Taken> {
        while let Some((choice, i)) = with {
            let (joint, _) = &self.choices[choice].alternatives[i];
            if joint.is_some_and(|j| board.joints[j].part == board.host(socket)) {
                break;
            }
            with = self.choices[choice].with;
        }
        with
    }

    /// The alternatives in which a joint is made.
    pub fn makes(&self, joint: JointIx) -> impl Iterator<Item = Taken> + '_ {
        ChoiceIx::each(&self.choices).flat_map(move |(at, choice)| {
            let made = choice.alternatives.iter().enumerate();
            made.filter(move |(_, a)| a.0 == Some(joint))
                .map(move |(i, _)| (at, i))
        })
    }

    /// Axes of the part that each alternative brings, as seen from the base.
    pub fn frames(&self, board: &Board) -> Table<ChoiceIx, Vec<Frame>> {
        let mut frames = Table::of(&self.choices, |_, _| Vec::new());
        for (at, choice) in ChoiceIx::each(&self.choices) {
            let host = choice
                .host
                .map_or(Frame::WORLD, |(c, i): Taken| frames[c][i]);
            let place = |j| board.part_on_host(j).within(&host);
            let list = choice.alternatives.iter();
            frames[at] = list.map(|(joint, _)| joint.map_or(host, place)).collect();
        }
        frames
    }

    /// The value of all that can be on one side of a joint when it is made by `taken`.
    pub fn fold<C: Combine>(&self, taken: Taken, side: Side, combine: &mut C) -> C::Value {
        // What is taken for certain: the joint and what it comes with.
        let mut sure = BTreeMap::new();
        let mut with = Some(taken);
        while let Some((choice, i)) = with {
            sure.insert(choice, i);
            with = self.choices[choice].with;
        }
        let mut order = match side {
            Side::Outboard => vec![taken.0],
            Side::Inboard => self.always.clone(),
        };
        let mut outboard = BTreeMap::new();
        let mut next = 0;
        while let Some(at) = order.get(next).copied() {
            next += 1;
            let choice = &self.choices[at];
            let beyond = choice.host.and_then(|h| outboard.get(&h.0)) == Some(&true);
            outboard.insert(at, beyond || at == taken.0);
            for (i, (_, come)) in choice.alternatives.iter().enumerate() {
                if sure.get(&at).is_none_or(|only| *only == i) {
                    order.extend(come);
                }
            }
        }
        let mut values = BTreeMap::<ChoiceIx, C::Value>::new();
        for at in order.iter().rev() {
            let counts = outboard.get(at) == Some(&(side == Side::Outboard));
            let mut all = None;
            for (i, (joint, come)) in self.choices[*at].alternatives.iter().enumerate() {
                if sure.get(at).is_some_and(|only| *only != i) {
                    continue;
                }
                let mut value = match joint.filter(|_| counts) {
                    Some(joint) => combine.part((*at, i), joint),
                    None => combine.nothing(),
                };
                for child in come.iter().filter_map(|c| values.remove(c)) {
                    value = combine.both(value, child);
                }
                all = Some(match all {
                    Some(other) => combine.either(other, value),
                    None => value,
                });
            }
            values.extend(all.map(|value| (*at, value)));
        }
        let mut total = combine.nothing();
        for value in values.into_values() {
            total = combine.both(total, value);
        }
        total
    }
}

impl Rules<'_> {
    /// What is to be decided when a socket has a choice, by the very parts that are used; `None` where its part is.
    fn after(
        &self,
        now: &Situation,
        socket: SocketIx,
        choice: &crate::situation::Choice,
    ) -> Option<Situation> {
        let number = self.number_of(choice);
        if number.is_some_and(|n| now.used.contains(n)) {
            return None;
        }
        let mut next = now.clone();
        next.used.extend(number);
        next.live.remove(socket.get());
        let upon: Option<FixedBitSet> = choice.part.and_then(|p| Some(self.upon(p)?.live));
        if let Some(upon) = upon {
            next.live.union_with(&upon);
        }
        Some(next)
    }
}
