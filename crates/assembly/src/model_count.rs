//! Counts legal models exactly, of each variant and of all together, without listing them.

use std::collections::BTreeMap;

use lodewright_kit::{Ix, SocketIx, Table, VariantIx};
use num_bigint::BigUint;

use crate::situation::{Entries, Rules, Variants, allowed_by, entries, entries_of, only};
use crate::{Board, search::Search, search::Steps};

/// Steps for all variants together, as many for what they leave, and for the sets of them: about a second at the worst.
const MOST_STEPS: u64 = 1_000_000;

/// How many legal models there are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ModelCounts {
    /// Of each variant; `None` where its roaming parts leave too much to count.
    pub of: Table<VariantIx, Option<BigUint>>,
    /// Distinct ones of all variants together; `None` where there is too much to count.
    pub all: Option<BigUint>,
    /// Steps taken: what the work grows with.
    pub steps: u64,
}

impl Board {
    /// Counts the legal models, which may be far more than could be listed. One budget of steps bounds the whole call, so
    /// that it takes a second at most; what it cannot count exactly it does not count.
    pub fn model_counts(&self) -> ModelCounts {
        let mut distinct: BTreeMap<_, _> = VariantIx::all(&self.plan.variants)
            .map(|v| (self.cells(v), (v, None)))
            .collect();
        let share = MOST_STEPS / (distinct.len() as u64).max(1);
        let mut spent = 0;
        for (v, n) in distinct.values_mut() {
            let mut steps = Steps::new(share);
            *n = Search::count(&Rules::of(self, &entries_of(self, *v), 0)).all(&mut steps);
            spent += steps.spent;
        }
        let of = Table::of(&self.plan.variants, |v, _| {
            distinct.get(&self.cells(v)).and_then(|(_, n)| n.clone())
        });
        let entries = entries(self);
        let all = match maximal(self, &entries, &of).as_slice() {
            [] => Some(BigUint::ZERO),
            [one] => of[*one].clone(),
            some => {
                let mut steps = Steps::new(MOST_STEPS);
                let all = by_clauses(self, &entries, some, &mut steps).or_else(|| {
                    steps.most = steps.spent + MOST_STEPS;
                    by_inclusion(self, &entries, some, &mut steps)
                });
                spent += steps.spent;
                all
            }
        };
        ModelCounts {
            of,
            all,
            steps: spent,
        }
    }
}

/// The variants that have models, without those that allow nothing that another does not.
fn maximal(
    board: &Board,
    entries: &Entries,
    of: &Table<VariantIx, Option<BigUint>>,
) -> Vec<VariantIx> {
    let variants = VariantIx::all(&board.plan.variants);
    let mut more_than = Table::of(&board.plan.variants, |_, _| 0 as Variants);
    for (_, mask) in entries.values().iter().flatten() {
        for v in variants.clone().filter(|v| mask & only(*v) != 0) {
            more_than[v] |= !mask;
        }
    }
    let within = |v: VariantIx, w: VariantIx| more_than[v] & only(w) == 0;
    let all = variants.clone();
    let some = variants.clone().filter(|v| of[*v] != Some(BigUint::ZERO));
    some.filter(|v| {
        !all.clone()
            .any(|w| w != *v && within(*v, w) && (w < *v || !within(w, *v)))
    })
    .collect()
}

/// What the variants allow cell by cell, less the models that every variant is left by.
fn by_clauses(
    board: &Board,
    entries: &Entries,
    some: &[VariantIx],
    steps: &mut Steps,
) -> Option<BigUint> {
    let clauses = some.iter().fold(0, |all, v| all | only(*v));
    let kept = |list: &Vec<_>| {
        list.iter()
            .filter(|(_, v)| v & clauses != 0)
            .copied()
            .collect()
    };
    let entries: Entries = entries.values().iter().map(kept).collect();
    // Taken together, the variants' parts may roam too much: that shows early.
    let mut few = Steps::new(steps.most / 4);
    let all = Search::count(&Rules::of(board, &entries, 0)).all(&mut few);
    steps.spent += few.spent;
    let all = all?;
    let none = Search::count(&Rules::of(board, &entries, clauses)).all(steps)?;
    Some(all - none)
}

/// Inclusion and exclusion over the sets of variants that have models in common.
fn by_inclusion(
    board: &Board,
    entries: &Entries,
    some: &[VariantIx],
    steps: &mut Steps,
) -> Option<BigUint> {
    let rules = Rules::of(board, entries, 0);
    // Where nothing bears on anything else, the choices left in each socket multiply.
    let plain = rules
        .choices
        .values()
        .iter()
        .flatten()
        .all(|c| c.part.is_none());
    let mut signed = [BigUint::ZERO, BigUint::ZERO];
    let mut sets = vec![(entries.clone(), 0)];
    while let Some((shared, next)) = sets.last_mut() {
        let Some(variant) = some.get(*next).copied() else {
            sets.pop();
            continue;
        };
        *next += 1;
        let (bit, next) = (only(variant), *next);
        let base = board.carried(board.base());
        let closed = |s: &SocketIx| {
            let list = &shared[*s];
            let none = !list.iter().any(|e| e.1 & bit != 0);
            (list.len(), none)
        };
        let mut looked_at = 0;
        let dead = base.iter().any(|s| {
            let (n, none) = closed(s);
            looked_at += n;
            none
        });
        steps.spend(1 + looked_at / 64)?;
        if dead {
            continue;
        }
        let shared = allowed_by(shared, bit);
        let n = if plain {
            base.iter()
                .map(|s| BigUint::from(shared[*s].len()))
                .product()
        } else {
            Search::count(&Rules::of(board, &shared, 0)).all(steps)?
        };
        if n != BigUint::ZERO {
            signed[sets.len() % 2] += n;
            sets.push((shared, next));
        }
    }
    let [less, more] = signed;
    Some(more - less)
}
