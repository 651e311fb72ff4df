//! A memory for pulls: the same two pieces at the same gap come up again and again, and each pull is an integral.

use std::cell::RefCell;
use std::collections::BTreeMap;

use lodewright_kit::Plan;

use crate::pull::{End, Filling, pull_n};

type Key = (Filling, Filling, [u64; 2], End);

/// So many pulls are remembered; a finger that drags a magnet asks for ever new ones.
const MOST: usize = 50_000;

/// Pulls that were worked out before. A pull depends on the stock and the settings alone, so that plans that share both may share
/// one memory.
#[derive(Debug, Default)]
pub struct PullMemory {
    known: RefCell<BTreeMap<Key, f64>>,
}

impl PullMemory {
    /// Attraction of two fillings across a gap with their axes so far apart, N; zero where the field formulas refuse.
    pub fn attraction_n(
        &self,
        plan: &Plan,
        [a, b]: [Filling; 2],
        gap_mm: f64,
        offset_mm: f64,
        end: End,
    ) -> f64 {
        let place = [gap_mm.to_bits(), offset_mm.to_bits()];
        let key = (a.min(b), a.max(b), place, end);
        if let Some(known) = self.known.borrow().get(&key) {
            return *known;
        }
        let value = pull_n(plan, a, b, gap_mm, offset_mm, end).unwrap_or(0.0);
        let mut known = self.known.borrow_mut();
        if known.len() >= MOST {
            known.clear();
        }
        known.insert(key, value);
        value
    }
}
