//! The models of a variant as a tree of choices that decide without each other, so that the heaviest or lightest of them
//! is found choice by choice, however many there are.

use std::collections::BTreeMap;

use fixedbitset::FixedBitSet;
use lodewright_kit::{Frame, Ix, SocketIx, Table, VariantIx, index_type};

use crate::situation::{Rules, Situation, entries_of, sockets};
use crate::{Board, JointIx, search::Search, search::Steps};

/// Steps for each alternative, to find out which belong to models.
const STEPS_EACH: u64 = 20;

index_type! {
    /// A choice of the tree.
    pub ChoiceIx of FreeChoice;
}

/// One alternative of a choice.
pub type Taken = (ChoiceIx, usize);

/// What may be in one socket, on a host that an alternative brought. A socket has several such choices where its host
/// comes in several poses, and where roaming parts leave it different ones.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FreeChoice {
    /// The socket.
    pub socket: SocketIx,
    /// The alternative that brings the socket's host; `None` for the base.
    pub host: Option<Taken>,
    /// What is made, and the choices that come with it.
    pub alternatives: Vec<(Option<JointIx>, Vec<ChoiceIx>)>,
}

/// All legal models of a variant: begin with [`FreeChoices::always`], take any alternative of each choice, go on with the
/// choices that come with it. No combination is illegal and none is missing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FreeChoices {
    /// The choices, each after its host's.
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

/// Sockets to be decided, each with what brought its host, and the roaming parts that are used.
type Open = (BTreeMap<SocketIx, Option<Taken>>, FixedBitSet);

/// A tree in the making.
struct Builder<'r, 'b> {
    rules: &'r Rules<'b>,
    tree: FreeChoices,
    /// What was met already: it is decided once, however many alternatives lead to it.
    known: BTreeMap<Open, ChoiceIx>,
    open: Vec<(ChoiceIx, Open)>,
}

impl Builder<'_, '_> {
    /// The choices, of those that decide apart, that begin what is to be decided.
    fn choices(&mut self, (sockets, used): &Open) -> Option<Vec<ChoiceIx>> {
        let live = self.rules.live(sockets.keys().copied());
        let now = Situation {
            live,
            used: used.clone(),
            leave: 0,
        };
        let mut out = Vec::new();
        for part in self.rules.split(&now) {
            let used = &now.used & &self.rules.beyond(&part.live);
            let now = Situation { used, ..part };
            let socket = self.rules.least_bound(&now)?;
            let here = |(s, _): &(&SocketIx, _)| now.live.contains(s.get());
            let hosts = sockets.iter().filter(here).map(|(s, h)| (*s, *h)).collect();
            let open = (hosts, now.used.clone());
            let next = ChoiceIx::new(self.tree.choices.len());
            let at = *self.known.entry(open.clone()).or_insert(next);
            if at == next {
                self.tree.choices.push(FreeChoice {
                    socket,
                    host: sockets.get(&socket).copied().flatten(),
                    alternatives: Vec::new(),
                });
                self.open.push((at, open));
            }
            out.push(at);
        }
        Some(out)
    }
}

impl FreeChoices {
    /// The tree of a variant; `None` where there is no legal model, or where the tree would have more than `most`
    /// alternatives: it has one for each choice of each socket, and more where roaming parts tie sockets together or a
    /// host comes in several poses.
    pub fn of(board: &Board, variant: VariantIx, most: usize) -> Option<Self> {
        let rules = Rules::of(board, &entries_of(board, variant), 0);
        let mut search = Search::any(&rules);
        let mut steps = Steps::new(STEPS_EACH.saturating_mul(most as u64));
        let start = rules.start()?;
        let base = sockets(&start.live).map(|s| (s, None)).collect();
        let all = (base, start.used.clone());
        if !search.is_possible(start, &mut steps)? {
            return None;
        }
        let mut builder = Builder {
            rules: &rules,
            tree: Self::default(),
            known: BTreeMap::new(),
            open: Vec::new(),
        };
        builder.tree.always = builder.choices(&all)?;
        let mut alternatives = 0;
        while let Some((at, (hosts, used))) = builder.open.pop() {
            let socket = builder.tree.choices[at].socket;
            for choice in &rules.choices[socket] {
                let number = rules.number_of(choice);
                if number.is_some_and(|n| used.contains(n)) {
                    continue;
                }
                let (mut hosts, mut used) = (hosts.clone(), used.clone());
                hosts.remove(&socket);
                used.extend(number);
                let above = choice.part.map_or(&[][..], |p| board.carried(p));
                let live = rules.live(hosts.keys().chain(above).copied());
                let next = rules.settle(live, used.clone(), 0)?;
                if choice.part.is_some() && !search.is_possible(next, &mut steps)? {
                    continue;
                }
                for joint in &choice.joints {
                    // What is tied together has to be looked at again for each of its alternatives.
                    alternatives += 1 + hosts.len() / 32;
                    if alternatives > most {
                        return None;
                    }
                    let taken = (at, builder.tree.choices[at].alternatives.len());
                    hosts.extend(above.iter().map(|s| (*s, Some(taken))));
                    let come = builder.choices(&(hosts.clone(), used.clone()))?;
                    let list = &mut builder.tree.choices[at].alternatives;
                    list.push((*joint, come));
                }
            }
        }
        Some(builder.tree)
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

    fn hangs_on(&self, at: ChoiceIx, taken: Taken) -> bool {
        let mut host = self.choices[at].host;
        while let Some(below) = host.filter(|h| *h != taken) {
            host = self.choices[below.0].host;
        }
        host.is_some()
    }

    /// The value of all that can be on one side of a joint when it is made by `taken`. Each choice is gone through once:
    /// for [`Side::Outboard`] those beyond the joint, for [`Side::Inboard`] all.
    pub fn fold<C: Combine>(&self, taken: Taken, side: Side, combine: &mut C) -> C::Value {
        let (joint, come) = &self.choices[taken.0].alternatives[taken.1];
        let roots = match side {
            Side::Outboard => come,
            Side::Inboard => &self.always,
        };
        let mut known = BTreeMap::new();
        let mut stack = roots.clone();
        while let Some(at) = stack.last().copied() {
            let alternatives = &self.choices[at].alternatives;
            let waits = stack.len();
            if !known.contains_key(&at) {
                let come = alternatives.iter().flat_map(|a| &a.1);
                stack.extend(come.filter(|c| !known.contains_key(*c)));
            }
            if stack.len() > waits {
                continue;
            }
            stack.pop();
            let counts = self.hangs_on(at, taken) == (side == Side::Outboard);
            let either = |a: Option<C::Value>, b, combine: &mut C| match (a, b) {
                (Some(a), Some(b)) => Some(combine.either(a, b)),
                (a, b) => a.or(b),
            };
            let (mut free, mut with) = (None, None);
            for (i, (joint, come)) in alternatives.iter().enumerate() {
                let here = (at, i) == taken;
                let own = match joint.filter(|_| counts && !here) {
                    Some(joint) => combine.part((at, i), joint),
                    None => combine.nothing(),
                };
                let sum = sum(own, here, come, &known, combine);
                free = either(free, Some(sum.0), combine);
                with = either(with, sum.1, combine);
            }
            known.insert(at, (free, with));
        }
        let own = match joint.filter(|_| side == Side::Outboard) {
            Some(joint) => combine.part(taken, joint),
            None => combine.nothing(),
        };
        let (free, with) = sum(own, false, roots, &known, combine);
        with.unwrap_or(free)
    }
}

/// What a choice can be, and what it can be in models with the joint that is looked at.
type Known<V> = BTreeMap<ChoiceIx, (Option<V>, Option<V>)>;

/// A value with those of the choices that come with it: of all models, and of those with the joint that is looked at.
fn sum<C: Combine>(
    own: C::Value,
    here: bool,
    come: &[ChoiceIx],
    known: &Known<C::Value>,
    combine: &mut C,
) -> (C::Value, Option<C::Value>) {
    let mut with = here.then(|| own.clone());
    let mut free = own;
    for (any, joint) in come.iter().filter_map(|c| known.get(c)) {
        let Some(any) = any else { continue };
        with = match (with, joint) {
            (Some(with), _) => Some(combine.both(with, any.clone())),
            (None, Some(joint)) => Some(combine.both(free.clone(), joint.clone())),
            (None, None) => None,
        };
        free = combine.both(free, any.clone());
    }
    (free, with)
}
