//! What is still to be decided when some sockets are filled, and how it falls apart into sockets that decide without
//! each other.
//!
//! A model is a tree of parts on the base. Two sockets that are both to be filled bear on each other only through a
//! *roaming* part, one that may sit in several sockets and is there but once, and through the variants that still have
//! to be left (see [`Rules::start`]). What shares neither is decided apart: numbers multiply.

use std::collections::BTreeSet;
use std::ops::Range;

use fixedbitset::FixedBitSet;
use lodewright_kit::{Ix, PartIx, SocketIx, Table, VariantIx};

use crate::{Board, JointIx};

/// Variants as a set of bits; a plan holds at most 100.
pub(crate) type Variants = u128;
const _: () = assert!(lodewright_kit::limits::VARIANTS <= Variants::BITS as usize);

/// A set of one variant.
pub(crate) fn only(variant: VariantIx) -> Variants {
    1 << variant.get()
}

/// What each socket may hold, and the variants that allow it.
pub(crate) type Entries = Table<SocketIx, Vec<(Option<JointIx>, Variants)>>;

/// What the variants of a board allow.
pub(crate) fn entries(board: &Board) -> Entries {
    Table::of(&board.plan.sockets, |socket, _| {
        let mut all: Vec<_> = VariantIx::all(&board.plan.variants)
            .flat_map(|v| board.choices(v, socket).iter().map(move |c| (*c, only(v))))
            .collect();
        all.sort_unstable();
        all.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            kept.1 |= if same { next.1 } else { 0 };
            same
        });
        all
    })
}

/// What one variant allows.
pub(crate) fn entries_of(board: &Board, variant: VariantIx) -> Entries {
    let read = |choice: &Option<JointIx>| (*choice, only(variant));
    Table::of(&board.plan.sockets, |socket, _| {
        board.choices(variant, socket).iter().map(read).collect()
    })
}

/// What all variants of a set allow.
pub(crate) fn allowed_by(entries: &Entries, all_of: Variants) -> Entries {
    let list = entries.values().iter();
    list.map(|l| {
        l.iter()
            .filter(|e| e.1 & all_of == all_of)
            .copied()
            .collect()
    })
    .collect()
}

/// Choices of a socket after which the same follows.
pub(crate) struct Choice {
    /// The part, where it matters later: it roams or carries sockets.
    pub part: Option<PartIx>,
    /// The variants to be left that allow it.
    pub agree: Variants,
    /// What is made, each.
    pub joints: Vec<Option<JointIx>>,
}

/// The choices of all sockets that can be reached, without those that lead to a socket that nothing can fill.
pub(crate) struct Rules<'b> {
    board: &'b Board,
    pub choices: Table<SocketIx, Vec<Choice>>,
    clauses: Variants,
    /// Parts that fit several sockets; those that may stand for each other are neighbours.
    roaming: Vec<PartIx>,
    number: Table<PartIx, Option<usize>>,
    /// The first of the roaming parts that may stand for this one.
    first_alike: Vec<usize>,
    alike: Vec<Range<usize>>,
    /// Roaming parts that may come to sit in a socket or beyond it.
    reach: Table<SocketIx, FixedBitSet>,
    /// Variants that a choice in a socket or beyond it may leave.
    touch: Table<SocketIx, Variants>,
    /// Whether no part that may sit in a socket has a roaming part beyond it.
    shallow: Table<SocketIx, bool>,
    buildable: bool,
}

/// What is to be decided next and what of the past bears on it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Situation {
    /// Sockets to be decided whose hosts are there.
    pub live: FixedBitSet,
    /// Roaming parts that are used and could be wanted again.
    pub used: FixedBitSet,
    /// Variants that must not allow the model, and do up to now.
    pub leave: Variants,
}

/// Choices of a socket, by index, and what follows them.
pub(crate) type Branch = (Vec<usize>, Option<Situation>);

type Raw = Table<SocketIx, Vec<(Option<PartIx>, Variants, Option<JointIx>)>>;

impl<'b> Rules<'b> {
    /// Reads the choices; `clauses` are variants that each model has to leave.
    pub fn of(board: &'b Board, entries: &Entries, clauses: Variants) -> Self {
        let part = |c: Option<JointIx>| c.map(|j| board.joints[j].part);
        let read = |l: &Vec<(_, _)>| l.iter().map(|(c, v)| (part(*c), v & clauses, *c)).collect();
        let mut raw: Raw = entries.values().iter().map(read).collect();
        let open = open(board, &raw, &reached(board, &raw));
        for socket in SocketIx::all(&board.plan.sockets) {
            raw[socket].retain(|(part, ..)| {
                part.is_none_or(|p| board.carried(p).iter().all(|s| open[*s]))
            });
        }
        let order = reached(board, &raw);
        let mut rules = Self {
            board,
            choices: Table::of(&board.plan.sockets, |_, _| Vec::new()),
            clauses,
            roaming: Vec::new(),
            number: Table::of(&board.plan.parts, |_, _| None),
            first_alike: Vec::new(),
            alike: Vec::new(),
            reach: Table::of(&board.plan.sockets, |_, _| FixedBitSet::new()),
            touch: Table::of(&board.plan.sockets, |_, _| 0),
            shallow: Table::of(&board.plan.sockets, |_, _| true),
            buildable: board.carried(board.base()).iter().all(|s| open[*s]),
        };
        rules.find_roaming(&raw, &order);
        rules.group(&mut raw, &order);
        rules.look_beyond(&order);
        rules
    }

    fn find_roaming(&mut self, raw: &Raw, order: &[SocketIx]) {
        let mut seats =
            Table::<PartIx, Vec<(SocketIx, Variants)>>::of(&self.board.plan.parts, |_, _| {
                Vec::new()
            });
        for socket in order {
            for (part, agree, _) in &raw[*socket] {
                if let Some(part) = part {
                    seats[*part].push((*socket, *agree));
                }
            }
        }
        let roams = |s: &Vec<(SocketIx, Variants)>| s.iter().any(|(socket, _)| *socket != s[0].0);
        let mut sorted: Vec<_> = PartIx::all(&self.board.plan.parts)
            .filter(|p| roams(&seats[*p]))
            .collect();
        for part in &sorted {
            seats[*part].sort_unstable();
        }
        sorted.sort_unstable_by(|a, b| seats[*a].cmp(&seats[*b]).then(a.cmp(b)));
        let bare = |p: PartIx| self.board.carried(p).is_empty();
        let mut first = 0;
        for (n, part) in sorted.iter().enumerate() {
            let same = |p: PartIx| bare(p) && bare(*part) && seats[p] == seats[*part];
            if !same(sorted[first]) {
                first = n;
            }
            self.first_alike.push(first);
            self.number[*part] = Some(n);
        }
        for (n, first) in self.first_alike.iter().enumerate() {
            match self.alike.last_mut().filter(|a| a.start == *first) {
                Some(range) => range.end = n + 1,
                None => self.alike.push(*first..n + 1),
            }
        }
        self.alike.retain(|range| range.len() > 1);
        self.roaming = sorted;
    }

    fn group(&mut self, raw: &mut Raw, order: &[SocketIx]) {
        for socket in order {
            let list = &mut raw[*socket];
            for (part, ..) in list.iter_mut() {
                *part = part
                    .filter(|p| self.number[*p].is_some() || !self.board.carried(*p).is_empty());
            }
            list.sort_unstable();
            for (part, agree, joint) in list.drain(..) {
                match self.choices[*socket].last_mut() {
                    Some(c) if (c.part, c.agree) == (part, agree) => c.joints.push(joint),
                    _ => self.choices[*socket].push(Choice {
                        part,
                        agree,
                        joints: vec![joint],
                    }),
                }
            }
        }
    }

    /// Goes from the outermost sockets to the base until nothing new is seen: once, unless roaming parts carry sockets.
    fn look_beyond(&mut self, order: &[SocketIx]) {
        for reach in order {
            self.reach[*reach].grow(self.roaming.len());
        }
        let mut changed = true;
        while std::mem::take(&mut changed) {
            for socket in order.iter().rev() {
                let (mut reach, mut touch) = (self.reach[*socket].clone(), self.touch[*socket]);
                for choice in &self.choices[*socket] {
                    touch |= self.clauses & !choice.agree;
                    let Some(part) = choice.part else { continue };
                    reach.extend(self.number[part]);
                    for above in self.board.carried(part) {
                        reach.union_with(&self.reach[*above]);
                        touch |= self.touch[*above];
                    }
                }
                changed |= reach != self.reach[*socket] || touch != self.touch[*socket];
                self.reach[*socket] = reach;
                self.touch[*socket] = touch;
            }
        }
        for socket in order {
            let mut parts = self.choices[*socket].iter().filter_map(|c| c.part);
            let plain = |p| {
                self.board
                    .carried(p)
                    .iter()
                    .all(|s| self.reach[*s].is_clear())
            };
            self.shallow[*socket] = parts.all(plain);
        }
    }

    /// Everything is to be decided, and each clause to be left by some choice; `None` where no model can be.
    pub fn start(&self) -> Option<Situation> {
        let base = self.board.carried(self.board.base());
        let none = FixedBitSet::with_capacity(self.roaming.len());
        self.settle(self.live(base.iter().copied()), none, self.clauses)
            .filter(|_| self.buildable)
    }

    /// A set of sockets.
    pub fn live(&self, sockets: impl Iterator<Item = SocketIx>) -> FixedBitSet {
        let mut live = FixedBitSet::with_capacity(self.board.plan.sockets.len());
        live.extend(sockets.map(Ix::get));
        live
    }

    /// The sockets of `live` that roaming parts bear on, and which of these are used; of the others each model has some
    /// filling, whatever happens elsewhere.
    pub fn bound(
        &self,
        live: &BTreeSet<SocketIx>,
        used: &Table<PartIx, bool>,
    ) -> Option<Situation> {
        let bound = live.iter().copied().filter(|s| !self.reach[*s].is_clear());
        let mut gone = FixedBitSet::with_capacity(self.roaming.len());
        gone.extend((0..self.roaming.len()).filter(|n| used[self.roaming[*n]]));
        self.settle(self.live(bound), gone, 0)
    }

    /// Roaming parts that may come to sit in some sockets or beyond them.
    pub fn beyond(&self, live: &FixedBitSet) -> FixedBitSet {
        let mut reach = FixedBitSet::with_capacity(self.roaming.len());
        sockets(live).for_each(|s| reach.union_with(&self.reach[s]));
        reach
    }

    /// Forgets what cannot matter any more, and takes roaming parts that may stand for each other in their order; `None`
    /// where a variant can no longer be left.
    pub fn settle(
        &self,
        live: FixedBitSet,
        mut used: FixedBitSet,
        leave: Variants,
    ) -> Option<Situation> {
        used.intersect_with(&self.beyond(&live));
        let touch = sockets(&live).fold(0, |all, s| all | self.touch[s]);
        for range in &self.alike {
            let n = used.count_ones(range.clone());
            used.set_range(range.clone(), false);
            used.set_range(range.start..range.start + n, true);
        }
        (leave & !touch == 0).then_some(Situation { live, used, leave })
    }

    /// The situations that it consists of.
    pub fn split(&self, now: &Situation) -> Vec<Situation> {
        let mut groups: Vec<(FixedBitSet, FixedBitSet, Variants)> = Vec::new();
        let mut apart = Vec::new();
        for socket in sockets(&now.live) {
            let mut live = self.live(std::iter::once(socket));
            let mut reach = self.reach[socket].clone();
            reach.difference_with(&now.used);
            let mut leave = self.touch[socket] & now.leave;
            if leave == 0 && reach.is_clear() {
                apart.push((live, reach, leave));
                continue;
            }
            groups.retain(|(sockets, parts, variants)| {
                let meet = variants & leave != 0 || !parts.is_disjoint(&reach);
                if meet {
                    live.union_with(sockets);
                    reach.union_with(parts);
                    leave |= variants;
                }
                !meet
            });
            groups.push((live, reach, leave));
        }
        apart.append(&mut groups);
        let settle = |(live, _, leave)| self.settle(live, now.used.clone(), leave);
        apart.into_iter().filter_map(settle).collect()
    }

    /// One socket of a situation, and what may follow its choices (by index): the same situation once, `None` where a
    /// variant can no longer be left.
    pub fn branches(&self, now: &Situation) -> Option<(SocketIx, Vec<Branch>)> {
        let socket = self.least_bound(now)?;
        let mut follows = Vec::new();
        for (i, choice) in self.choices[socket].iter().enumerate() {
            let mut part = choice.part;
            if let Some(n) = part.and_then(|p| self.number[p]) {
                if now.used.contains(n) {
                    continue;
                }
                // Those that may stand for each other are used in their order.
                let first = self.first_alike[n];
                part = Some(self.roaming[first + now.used.count_ones(first..n)]);
            }
            follows.push((part, now.leave & choice.agree, i));
        }
        follows.sort_unstable();
        let same = |a: &(_, _, _), b: &(_, _, _)| (a.0, a.1) == (b.0, b.1);
        let groups = follows.chunk_by(same).map(|group| {
            let (part, leave, _) = group[0];
            let mut live = now.live.clone();
            live.remove(socket.get());
            let mut used = now.used.clone();
            if let Some(part) = part {
                live.extend(self.board.carried(part).iter().map(|s| s.get()));
                used.extend(self.number[part]);
            }
            let next = self.settle(live, used, leave);
            (group.iter().map(|g| g.2).collect(), next)
        });
        Some((socket, groups.collect()))
    }

    /// The socket with the fewest parts that others want too: so that few are to be remembered.
    pub fn least_bound(&self, now: &Situation) -> Option<SocketIx> {
        if self.roaming.is_empty() {
            return sockets(&now.live).next();
        }
        let free = |socket: SocketIx| {
            let mut parts = self.reach[socket].clone();
            parts.difference_with(&now.used);
            parts
        };
        let mut once = FixedBitSet::with_capacity(self.roaming.len());
        let mut shared = once.clone();
        for socket in sockets(&now.live) {
            let parts = free(socket);
            shared.union_with(&(&parts & &once));
            once.union_with(&parts);
        }
        sockets(&now.live).min_by_key(|s| free(*s).intersection_count(&shared))
    }

    /// Whether all its sockets are filled by one part each that nothing else depends on: a matching then decides.
    pub fn is_shallow(&self, now: &Situation) -> bool {
        now.leave == 0 && sockets(&now.live).all(|s| self.shallow[s])
    }

    /// The roaming parts, by number, that may still fill a socket; `None` in their stead is something else.
    pub fn parts_for(
        &self,
        socket: SocketIx,
        used: &FixedBitSet,
    ) -> impl Iterator<Item = Option<usize>> {
        let list = self.choices[socket].iter().map(|c| self.number_of(c));
        list.filter(|n| n.is_none_or(|n| !used.contains(n)))
    }

    /// Whether a choice bears on nothing else; never where sockets decide by part.
    pub fn is_plain(&self, socket: SocketIx, choice: Option<JointIx>) -> bool {
        let mut plain = self.choices[socket].iter().filter(|c| c.part.is_none());
        plain.any(|c| c.joints.contains(&choice))
    }

    /// How many roaming parts there are.
    pub fn roaming(&self) -> usize {
        self.roaming.len()
    }

    /// What is to be decided on a part alone, with no roaming part used.
    pub fn upon(&self, part: PartIx) -> Option<Situation> {
        let none = FixedBitSet::with_capacity(self.roaming.len());
        self.settle(self.live(self.board.carried(part).iter().copied()), none, 0)
    }

    /// The number of the roaming part of a choice.
    pub fn number_of(&self, choice: &Choice) -> Option<usize> {
        choice.part.and_then(|p| self.number[p])
    }

    /// The first of the roaming parts that may stand for the one of a choice.
    pub fn stands_for(&self, choice: &Choice) -> Option<usize> {
        Some(self.first_alike[self.number_of(choice)?])
    }
}

/// The sockets of a set, in order.
pub(crate) fn sockets(live: &FixedBitSet) -> impl Iterator<Item = SocketIx> + Clone {
    live.ones().map(SocketIx::new)
}

/// Sockets that models may come to, hosts first.
fn reached(board: &Board, raw: &Raw) -> Vec<SocketIx> {
    let mut order = board.carried(board.base()).to_vec();
    let mut seen = Table::of(&board.plan.parts, |part, _| part == board.base());
    let mut next = 0;
    while let Some(socket) = order.get(next).copied() {
        next += 1;
        for part in raw[socket].iter().filter_map(|c| c.0) {
            if !std::mem::replace(&mut seen[part], true) {
                order.extend(board.carried(part));
            }
        }
    }
    order
}

/// Sockets that can be filled, were every part there as often as wanted.
fn open(board: &Board, raw: &Raw, order: &[SocketIx]) -> Table<SocketIx, bool> {
    let mut open = Table::of(&board.plan.sockets, |_, _| false);
    let mut changed = true;
    while std::mem::take(&mut changed) {
        for socket in order.iter().rev() {
            let can = |p: PartIx| board.carried(p).iter().all(|s| open[*s]);
            if !open[*socket] && raw[*socket].iter().any(|c| c.0.is_none_or(can)) {
                open[*socket] = true;
                changed = true;
            }
        }
    }
    open
}
