//! How many handlings every change takes, and what stays. No web types.

use lodewright_planner::kit::{Ix, Plan, VariantIx};
use lodewright_planner::{Analysis, Swap};

/// By variant now, then by variant wanted: the handlings; `None` where one of the two has no legal model.
pub fn counts(analysis: &Analysis) -> Vec<Vec<Option<usize>>> {
    let all = || VariantIx::all(&analysis.plan().variants);
    let one = |from, to| analysis.swap(from, to).map(|s| s.moves.len());
    all()
        .map(|from| all().map(|to| one(from, to)).collect())
        .collect()
}

/// Sockets that are used in both variants and that nobody touches, by name.
pub fn staying(plan: &Plan, from: VariantIx, to: VariantIx, swap: &Swap) -> Vec<String> {
    let used = |v: VariantIx, socket| {
        let cell = plan.variants[v].cell(socket);
        cell.is_some_and(|c| !c.seats.is_empty())
    };
    plan.sockets
        .iter()
        .filter(|s| used(from, &s.id) && used(to, &s.id))
        .filter(|s| swap.moves.iter().all(|m| m.socket != s.id.as_str()))
        .map(|s| s.name.clone())
        .collect()
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::Edit;

    use super::*;

    fn plan() -> Plan {
        let grid = "\tWinter\tSummer\tBare\nNose\tPlough\tHook\t-\nHorn\tHorn piece\tHorn piece\tHorn piece".to_owned();
        Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap()
    }

    #[test]
    fn every_change_is_counted_both_ways() {
        let table = counts(&Analysis::of(plan()).unwrap());
        assert_eq!(table[0], [Some(0), Some(2), Some(1)]);
        assert_eq!(table[2], [Some(1), Some(1), Some(0)]);
        for (from, row) in table.iter().enumerate() {
            for (to, n) in row.iter().enumerate() {
                assert_eq!(*n, table[to][from]);
            }
        }
    }

    #[test]
    fn what_stays_is_named() {
        let plan = plan();
        let [from, to] = [0, 1].map(VariantIx::new);
        let change = Analysis::of(plan.clone()).unwrap().swap(from, to).unwrap();
        assert_eq!(staying(&plan, from, to, &change), ["Horn"]);
        assert_eq!(change.stays, 1);
    }
}
