//! How many handlings every change takes, and what stays. No web types.

use lodewright_planner::kit::Plan;
use lodewright_planner::{Swap, swap};

/// By variant now, then by variant wanted: the handlings; `None` where one of the two has no legal model.
pub fn counts(plan: &Plan) -> Vec<Vec<Option<usize>>> {
    let n = plan.variants.len();
    let one = |from, to| swap(plan, from, to).map(|s| s.moves.len());
    (0..n)
        .map(|from| (0..n).map(|to| one(from, to)).collect())
        .collect()
}

/// Sockets that are used in both variants and that nobody touches, by name.
pub fn staying(plan: &Plan, from: usize, to: usize, swap: &Swap) -> Vec<String> {
    let used = |v: usize, socket| {
        let cell = plan.variants.get(v).and_then(|v| v.cell(socket));
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
        let table = counts(&plan());
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
        let change = swap(&plan, 0, 1).unwrap();
        assert_eq!(staying(&plan, 0, 1, &change), ["Horn"]);
        assert_eq!(change.stays, 1);
    }
}
