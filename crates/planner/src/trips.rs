//! A round through all variants with few handlings, and what each change of it asks for.

use lodewright_assembly::{Bars, Board, Model, changes, first_model, models, nearest_model};
use lodewright_kit::{Ix, VariantIx};
use lodewright_solve::route;

use crate::Analysis;
use crate::swaps::{SwapMove, sentence};

/// A round through all variants.
#[derive(Clone, Debug, PartialEq)]
pub struct Trip {
    /// The changes in order; the last one leads back to the first variant.
    pub legs: Vec<Leg>,
    /// Handlings of all changes together.
    pub handlings: usize,
    /// No order of the variants, each built the way it is here, takes less.
    pub lower_bound: u64,
    /// Variants without a legal model: they are left out.
    pub left_out: Vec<VariantIx>,
}

impl Trip {
    /// Whether no order of the variants, each built the way it is here, takes fewer handlings.
    pub fn is_shortest(&self) -> bool {
        self.handlings as u64 == self.lower_bound
    }
}

/// One change.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// The variant it is.
    pub from: VariantIx,
    /// The variant it becomes.
    pub to: VariantIx,
    /// What to do, in order.
    pub moves: Vec<SwapMove>,
}

/// A variant as it is built.
type Built = (VariantIx, Model);

/// Models of one variant that are tried: free options beyond that stay as they are.
const MOST_MODELS: usize = 24;
/// How often free options and order are improved in turn.
const MOST_ROUNDS: usize = 6;

impl Analysis {
    /// A round through all variants with few moves; `None` with fewer than two variants that can be built.
    pub fn round_trip(&self) -> Option<Trip> {
        round_trip(self.board(), &self.clashes().bars)
    }
}

/// The round with the fewest handlings: the order is exact up to [`route::EXACT_NODES`] variants for the models chosen, and
/// bounded beyond; free options are chosen in turn with it, as long as that helps. `None` with fewer than two variants that
/// can be built.
fn round_trip(board: &Board, bars: &Bars) -> Option<Trip> {
    let (mut kept, mut left_out): (Vec<Built>, Vec<VariantIx>) = (Vec::new(), Vec::new());
    for v in VariantIx::all(&board.plan.variants) {
        let model = match kept.first() {
            Some((_, like)) => nearest_model(board, v, like),
            None => first_model(board, v),
        };
        match model {
            Some(model) => kept.push((v, model)),
            None => left_out.push(v),
        }
    }
    if kept.len() < 2 {
        return None;
    }
    let mut best = ordered(board, bars, &kept)?;
    for _ in 0..MOST_ROUNDS {
        improve(board, bars, &mut kept, &best.order);
        let next = ordered(board, bars, &kept)?;
        if next.length >= best.length {
            break;
        }
        best = next;
    }
    let round = best.order.iter().zip(best.order.iter().cycle().skip(1));
    let legs: Vec<Leg> = round
        .map(|(a, b)| Leg {
            from: kept[*a].0,
            to: kept[*b].0,
            moves: changes(board, bars, &kept[*a].1, &kept[*b].1)
                .steps
                .into_iter()
                .map(|step| sentence(board, step))
                .collect(),
        })
        .collect();
    Some(Trip {
        handlings: legs.iter().map(|l| l.moves.len()).sum(),
        lower_bound: best.lower_bound,
        legs,
        left_out,
    })
}

fn ordered(board: &Board, bars: &Bars, kept: &[Built]) -> Option<route::RoundTrip> {
    let table: Vec<Vec<u32>> = kept
        .iter()
        .map(|(_, a)| {
            kept.iter()
                .map(|(_, b)| changes(board, bars, a, b).steps.len() as u32)
                .collect()
        })
        .collect();
    route::round_trip(&table).ok()
}

/// Each variant takes the model of its own that is nearest to both its neighbours of the round.
fn improve(board: &Board, bars: &Bars, kept: &mut [Built], order: &[usize]) {
    let n = order.len();
    for at in 0..n {
        let (before, here, after) = (order[(at + n - 1) % n], order[at], order[(at + 1) % n]);
        let handlings = |a: &Model, b: &Model| changes(board, bars, a, b).steps.len();
        let cost = |m: &Model| handlings(&kept[before].1, m) + handlings(m, &kept[after].1);
        let variant = kept[here].0;
        let near = [before, after].map(|o| nearest_model(board, variant, &kept[o].1));
        let all = models(board, variant, MOST_MODELS).0;
        let best = near
            .into_iter()
            .flatten()
            .chain(all)
            .min_by_key(cost)
            .filter(|m| cost(m) < cost(&kept[here].1));
        if let Some(model) = best {
            kept[here].1 = model;
        }
    }
}
