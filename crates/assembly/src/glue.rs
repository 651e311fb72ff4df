//! Glue or separate: a joint may be glued exactly if, in every legal model in which either of its parts occurs, both
//! occur in this joint, and nobody wants it to come apart all the same.

use std::collections::{BTreeSet, VecDeque};

use lodewright_kit::{Ix, KeptApart, PartIx, SocketIx, Table, VariantIx};

use crate::situation::{Rules, Situation, entries_of, sockets};
use crate::{Board, Joint, JointIx, search::Matching, search::Search, search::Steps};

/// Steps for the whole answer: about a second at the worst.
const MOST_STEPS: u64 = 2_000_000;

/// What may be glued.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GlueAnswer {
    /// `None` where a joint may be glued, else why it must stay separable.
    pub separable: Table<JointIx, Option<Apart>>,
    /// Parts that become one piece, each group in the plan's order, groups of one part left out.
    pub groups: Vec<Vec<PartIx>>,
    /// Parts that no variant uses.
    pub idle: Vec<PartIx>,
    /// Steps taken: what the work grows with.
    pub steps: u64,
}

/// Why a joint must stay separable. Where several reasons hold, the first of these.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Apart {
    /// One of its parts occurs in a model without it.
    Lone(Lone),
    /// It could be glued, but is to come apart.
    OnPurpose(KeptApart),
    /// There was too much to search: it is kept separable to be safe.
    Unsure,
}

/// A model in which one part of a joint occurs without the joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lone {
    /// The variant.
    pub variant: VariantIx,
    /// The part.
    pub part: PartIx,
}

impl Joint {
    /// Why it is to come apart even where it could be glued: a part that must let go before it snaps never is; else as the
    /// builder marked its socket.
    pub fn kept_apart(&self, board: &Board) -> Option<KeptApart> {
        let must_let_go = board.plan.parts[self.part].thin.is_some();
        let lets_go = must_let_go.then_some(KeptApart::LetsGo);
        lets_go.or(board.plan.sockets[self.socket].kept_apart)
    }
}

/// Finds what may be glued: for each variant it asks once which choices occur in models, which tells of every joint
/// whether one of its parts occurs without it.
///
/// ```
/// use lodewright_assembly::{Apart, Board, glue_answer};
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
/// let glue = glue_answer(&board);
/// // With the crane on deck the base is there without the mast.
/// assert!(matches!(glue.separable.values()[0], Some(Apart::Lone(lone)) if lone.part == board.base()));
/// assert!(glue.groups.is_empty());
/// # Ok::<(), String>(())
/// ```
pub fn glue_answer(board: &Board) -> GlueAnswer {
    let parts = &board.plan.parts;
    let mut variants: Vec<_> = VariantIx::all(&board.plan.variants).collect();
    let mut seen = BTreeSet::new();
    variants.retain(|v| seen.insert(board.cells(*v)));
    let share = MOST_STEPS / (variants.len() as u64).max(1);
    let mut lone = Table::<JointIx, _>::of(&board.joints, |_, _| None);
    let mut unsure = lone.clone();
    let mut spent = 0;
    for variant in variants {
        let mut steps = Steps::new(share);
        let rules = Rules::of(board, &entries_of(board, variant), 0);
        let (found, whole) = occurring(&rules, &mut steps);
        spent += steps.spent;
        let occurs = |s: SocketIx, i: &usize| found[s].contains(i);
        note(board, &rules, variant, occurs, &mut lone);
        if !whole {
            note(board, &rules, variant, |_, _| true, &mut unsure);
        }
    }
    let separable = Table::of(&board.joints, |j: JointIx, joint: &Joint| {
        let on_purpose = || joint.kept_apart(board).map(Apart::OnPurpose);
        let alone = lone[j].map(Apart::Lone).or_else(on_purpose);
        alone.or_else(|| unsure[j].map(|_| Apart::Unsure))
    });
    let mut used = Table::of(parts, |part, _| part == board.base());
    for joint in &board.joints {
        used[joint.part] = true;
    }
    GlueAnswer {
        groups: groups(board, &separable),
        separable,
        idle: PartIx::all(parts).filter(|p| !used[*p]).collect(),
        steps: spent,
    }
}

fn groups(board: &Board, separable: &Table<JointIx, Option<Apart>>) -> Vec<Vec<PartIx>> {
    let parts = &board.plan.parts;
    let mut group = Table::<PartIx, _>::of(parts, |part, _| part);
    for (j, _) in separable.iter().filter(|(_, why)| why.is_none()) {
        let joint = board.joints[j];
        let (a, b) = (group[board.host(joint.socket)], group[joint.part]);
        for part in PartIx::all(parts) {
            if group[part] == a.max(b) {
                group[part] = a.min(b);
            }
        }
    }
    let mut members = Table::<PartIx, _>::of(parts, |_, _| Vec::new());
    for part in PartIx::all(parts) {
        members[group[part]].push(part);
    }
    let lists = members.values().iter();
    lists.filter(|m| m.len() > 1).cloned().collect()
}

/// Notes the joints whose host or part occurs without them if these choices of the rules occur.
fn note(
    board: &Board,
    rules: &Rules<'_>,
    variant: VariantIx,
    occurs: impl Fn(SocketIx, &usize) -> bool,
    lone: &mut Table<JointIx, Option<Lone>>,
) {
    let mut made_in = Table::<SocketIx, Vec<_>>::of(&board.plan.sockets, |_, _| Vec::new());
    let mut made_of = Table::<PartIx, Vec<_>>::of(&board.plan.parts, |_, _| Vec::new());
    for (socket, choices) in rules.choices.iter() {
        let list = choices
            .iter()
            .enumerate()
            .filter(|(i, _)| occurs(socket, i));
        for joint in list.flat_map(|(_, c)| &c.joints) {
            made_in[socket].push(*joint);
            if let Some(joint) = *joint {
                made_of[board.joints[joint].part].push(joint);
            }
        }
    }
    for (j, joint) in JointIx::each(&board.joints) {
        let part = if made_in[joint.socket].iter().any(|other| *other != Some(j)) {
            Some(board.host(joint.socket))
        } else {
            let elsewhere = made_of[joint.part].iter().any(|other| *other != j);
            elsewhere.then_some(joint.part)
        };
        lone[j] = lone[j].or(part.map(|part| Lone { variant, part }));
    }
}

/// The choices, by index, that occur in models of a variant, and whether these are all.
fn occurring(rules: &Rules<'_>, steps: &mut Steps) -> (Table<SocketIx, BTreeSet<usize>>, bool) {
    let mut found: Table<SocketIx, BTreeSet<usize>> = rules
        .choices
        .values()
        .iter()
        .map(|_| BTreeSet::new())
        .collect();
    let whole = follow(rules, &mut found, steps) == Some(true);
    // Roaming parts that may stand for each other occur in the same sockets.
    for (socket, choices) in rules.choices.iter() {
        let of = |i: usize| rules.stands_for(&choices[i]);
        let known: BTreeSet<_> = found[socket].iter().filter_map(|i| of(*i)).collect();
        let more = (0..choices.len()).filter(|i| of(*i).is_some_and(|n| known.contains(&n)));
        found[socket].extend(more);
    }
    (found, whole)
}

/// Follows every situation that has models; `Some(true)` where all could be.
fn follow(
    rules: &Rules<'_>,
    found: &mut Table<SocketIx, BTreeSet<usize>>,
    steps: &mut Steps,
) -> Option<bool> {
    let Some(start) = rules.start() else {
        return Some(true);
    };
    let mut search = Search::any(rules);
    if !search.is_possible(start.clone(), steps)? {
        return Some(true);
    }
    let mut whole = true;
    let mut seen = BTreeSet::new();
    let mut queue = VecDeque::from([start]);
    while let Some(now) = queue.pop_front() {
        steps.spend(1 + now.live.count_ones(..))?;
        if !seen.insert(now.clone()) {
            continue;
        }
        if rules.is_shallow(&now) {
            queue.extend(matched(rules, &now, found, steps)?);
            continue;
        }
        let parts = rules.split(&now);
        if parts.len() > 1 {
            queue.extend(parts);
            continue;
        }
        let (socket, branches) = rules.branches(&now)?;
        for (list, next) in branches {
            let Some(next) = next else { continue };
            match search.is_possible(next.clone(), steps) {
                Some(false) => {}
                None => whole = false,
                Some(true) => {
                    // What shows choices that were not seen before goes first, for the steps may run out.
                    let before = found[socket].len();
                    found[socket].extend(list);
                    if found[socket].len() > before {
                        queue.push_front(next);
                    } else {
                        queue.push_back(next);
                    }
                }
            }
        }
    }
    Some(whole)
}

/// The choices of a shallow situation; what is to be decided on the parts is left.
fn matched(
    rules: &Rules<'_>,
    now: &Situation,
    found: &mut Table<SocketIx, BTreeSet<usize>>,
    steps: &mut Steps,
) -> Option<Vec<Situation>> {
    let mut upon = Vec::new();
    let Some(matching) = Matching::of(rules, now, steps)? else {
        return Some(upon);
    };
    for socket in sockets(&now.live) {
        for (i, choice) in rules.choices[socket].iter().enumerate() {
            steps.spend(1)?;
            let number = rules.number_of(choice);
            let there = number.is_some_and(|n| now.used.contains(n));
            if !there && matching.allows(socket, number, steps)? {
                found[socket].insert(i);
                upon.extend(choice.part.and_then(|p| rules.upon(p)));
            }
        }
    }
    Some(upon)
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{CheckedPlan, Edit, Plan, Section, ThinSection};

    use super::*;

    /// The glue answer of an aerial that is on the cab in the only variant; the cab is on the base.
    fn aerial(change: impl FnOnce(&mut Plan)) -> GlueAnswer {
        let grid = "\tOn duty\nRear\tCab\nRoof on Cab\tAerial\n";
        let mut plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(grid.to_owned()))
            .unwrap();
        plan.sockets[1].host = plan.parts[1].id.clone();
        change(&mut plan);
        glue_answer(&Board::of(CheckedPlan::of(plan).unwrap()))
    }

    fn names(answer: &GlueAnswer) -> Vec<Vec<usize>> {
        let groups = answer.groups.iter();
        groups
            .map(|g| g.iter().map(|p| p.get()).collect())
            .collect()
    }

    #[test]
    fn an_aerial_that_must_come_off_before_it_snaps_is_never_glued() {
        assert_eq!(names(&aerial(|_| ())), [[0, 1, 2]]);
        let lets_go = Some(Apart::OnPurpose(KeptApart::LetsGo));
        for answer in [
            aerial(|p| p.sockets[1].kept_apart = Some(KeptApart::LetsGo)),
            aerial(|p| p.parts[2].thin = Some(rod())),
            // What breaks counts before what is merely wanted.
            aerial(|p| {
                p.parts[2].thin = Some(rod());
                p.sockets[1].kept_apart = Some(KeptApart::Painted);
            }),
        ] {
            assert_eq!(answer.separable.values(), [None, lets_go]);
            // The cab is glued on all the same.
            assert_eq!(names(&answer), [[0, 1]]);
        }
    }

    #[test]
    fn each_mark_is_the_reason_unless_a_part_occurs_alone() {
        for why in [KeptApart::Painted, KeptApart::Packed, KeptApart::Wanted] {
            let answer = aerial(|p| p.sockets[0].kept_apart = Some(why));
            let apart = Some(Apart::OnPurpose(why));
            assert_eq!(answer.separable.values(), [apart, None]);
            assert_eq!(names(&answer), [[1, 2]]);
            let answer = aerial(|p| {
                p.sockets[1].kept_apart = Some(why);
                p.variants[0].cells[1].may_be_empty = true;
            });
            assert!(matches!(answer.separable.values()[1], Some(Apart::Lone(_))));
        }
    }

    fn rod() -> ThinSection {
        ThinSection {
            length_mm: 30.0,
            section: Section::Round { diameter_mm: 1.0 },
            reach_mm: 33.0,
            notch_factor: 1.5,
        }
    }
}
