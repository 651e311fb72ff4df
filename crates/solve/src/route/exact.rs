//! Held & Karp's dynamic programme: the shortest way from node 0 through a set of nodes to its last one.

use super::Table;

/// Shortest round trip, from node 0; for at least two nodes and few enough for a table of subsets.
pub(super) fn shortest(table: &Table<'_>) -> Vec<usize> {
    // Node i + 1 is bit i; node 0 is where the trip starts and ends.
    let others = table.len() - 1;
    let sets = 1_usize << others;
    let mut way = vec![u64::MAX; sets * others];
    (0..others).for_each(|i| way[(1 << i) * others + i] = table.get(0, i + 1));
    for set in 1..sets {
        for last in (0..others).filter(|&i| set >> i & 1 == 1) {
            let so_far = way[set * others + last];
            for next in (0..others).filter(|&i| set >> i & 1 == 0) {
                let to = &mut way[(set | 1 << next) * others + next];
                *to = (*to).min(so_far + table.get(last + 1, next + 1));
            }
        }
    }
    walk_back(table, &way, others)
}

/// Reads the trip from its end: of equally short ways the one through the lowest node.
fn walk_back(table: &Table<'_>, way: &[u64], others: usize) -> Vec<usize> {
    let mut set = (1_usize << others) - 1;
    let mut order = Vec::with_capacity(others + 1);
    let mut to = 0;
    while set != 0 {
        let members = (0..others).filter(|&i| set >> i & 1 == 1);
        let Some(last) = members.min_by_key(|&i| way[set * others + i] + table.get(i + 1, to))
        else {
            break;
        };
        order.push(last + 1);
        to = last + 1;
        set &= !(1 << last);
    }
    order.push(0);
    order.reverse();
    order
}
