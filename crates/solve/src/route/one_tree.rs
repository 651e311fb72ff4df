//! One-tree bound with node prices (Held & Karp 1970), for symmetric tables, in whole numbers.

use super::Table;

/// Prices are in this part of the distance unit, so that rounding loses little and the bound stays exact.
const PARTS: i64 = 64;
const ROUNDS: usize = 400;

/// Largest bound found: a spanning tree of all nodes but 0, plus the two cheapest links of 0, under node prices that
/// cancel out in any round trip (each node has two links). For at least three nodes.
pub(super) fn bound(table: &Table<'_>) -> u64 {
    let n = table.len();
    let mut price = vec![0_i64; n];
    let mut best = 0;
    let mut step = 0;
    for _ in 0..ROUNDS {
        let (total, links) = one_tree(table, &price);
        let value = total - 2 * price.iter().sum::<i64>();
        best = best.max(value);
        if step == 0 {
            step = total / (2 * n as i64) + 1;
        }
        price
            .iter_mut()
            .zip(&links)
            .for_each(|(p, &l)| *p += step * (l - 2));
        step = (step * 63 / 64).max(1);
    }
    // Lengths are whole, so a part above a whole number rounds up.
    best.unsigned_abs().div_ceil(PARTS.unsigned_abs())
}

/// Total and number of links of each node of the least one-tree (Prim's method for the tree).
fn one_tree(table: &Table<'_>, price: &[i64]) -> (i64, Vec<i64>) {
    let n = price.len();
    let cost = |i: usize, j: usize| table.get(i, j) as i64 * PARTS + price[i] + price[j];
    let mut links = vec![0_i64; n];
    let mut total = 0;
    let mut nearest: Vec<(i64, usize)> = (0..n)
        .map(|j| (if j > 1 { cost(1, j) } else { 0 }, 1))
        .collect();
    let mut left: Vec<usize> = (2..n).collect();
    while let Some((place, &node)) = left
        .iter()
        .enumerate()
        .min_by_key(|&(_, &j)| (nearest[j], j))
    {
        left.swap_remove(place);
        let (length, to) = nearest[node];
        total += length;
        links[node] += 1;
        links[to] += 1;
        for &j in &left {
            nearest[j] = nearest[j].min((cost(node, j), node));
        }
    }
    let mut ends: Vec<_> = (1..n).map(|j| (cost(0, j), j)).collect();
    ends.sort_unstable();
    for &(length, j) in ends.iter().take(2) {
        total += length;
        links[j] += 1;
        links[0] += 1;
    }
    (total, links)
}
