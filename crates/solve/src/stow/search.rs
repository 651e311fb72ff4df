//! Many ways of stowing: sorted orders first, then random changes of the best one.

use core::cmp::Reverse;
use tiny_sort::stable::sort_by_key;

use oorandom::Rand32;

use super::place::{RULES, Rule, Way, place};
use super::{Item, Placed, volume};

/// Work allowed, counted in boxes tried in empty spaces.
const MOST_WORK: u64 = 6_000_000;

/// More volume is better, then fewer spaces, then lower piles.
type Score = (u64, Reverse<usize>, Reverse<u64>);

fn score(placed: &[Placed]) -> Score {
    let mut used: Vec<usize> = placed.iter().map(|p| p.space).collect();
    used.sort_unstable();
    used.dedup();
    let tops = placed.iter().map(|p| u64::from(p.end()[2])).sum();
    (
        placed.iter().map(|p| volume(p.size)).sum(),
        Reverse(used.len()),
        Reverse(tops),
    )
}

/// The best way found for the items named.
pub(super) fn best(
    items: &[Item],
    spaces: &[[u32; 3]],
    fitting: &[usize],
    seed: u64,
) -> Vec<Placed> {
    if fitting.is_empty() {
        return Vec::new();
    }
    let turns: Vec<Vec<[u32; 3]>> = items.iter().map(Item::turns).collect();
    let mut work = 0;
    let mut try_way = |order: &[usize], rule: Rule| {
        let Way { placed, work: took } = place(items, &turns, spaces, order, rule);
        work += took;
        (placed, work < MOST_WORK)
    };
    let mut found: Option<(Score, Vec<Placed>, Vec<usize>, Rule)> = None;
    for order in orders(items, fitting) {
        for rule in RULES {
            let (placed, _) = try_way(&order, rule);
            let now = score(&placed);
            if found.as_ref().is_none_or(|(old, ..)| now > *old) {
                found = Some((now, placed, order.clone(), rule));
            }
        }
    }
    let Some((mut top, mut best, mut order, mut rule)) = found else {
        return Vec::new();
    };
    let mut random = Rand32::new(seed);
    let count = fitting.len() as u32;
    let mut more = work < MOST_WORK;
    let mut try_way = |order: &[usize], rule: Rule| {
        let Way { placed, work: took } = place(items, &turns, spaces, order, rule);
        work += took;
        (placed, work < MOST_WORK)
    };
    // Everything in is as good as it gets.
    while more && best.len() < fitting.len() {
        let mut next = order.clone();
        for _ in 0..=random.rand_range(0..3) {
            let (from, to) = (random.rand_range(0..count), random.rand_range(0..count));
            if random.rand_range(0..2) == 0 {
                next.swap(from as usize, to as usize);
            } else {
                let item = next.remove(from as usize);
                next.insert(to as usize, item);
            }
        }
        let with = match random.rand_range(0..8) {
            0 => RULES[random.rand_range(0..3) as usize],
            _ => rule,
        };
        let (placed, left) = try_way(&next, with);
        more = left;
        let now = score(&placed);
        // Equal ones are taken too: they lead away from where the search is stuck.
        if now.0 >= top.0 {
            (order, rule) = (next, with);
            if now > top {
                (top, best) = (now, placed);
            }
        }
    }
    best
}

/// Orders worth a try: by volume, longest edge, largest face, height.
fn orders(items: &[Item], fitting: &[usize]) -> Vec<Vec<usize>> {
    let sorted = |key: &dyn Fn(&Item) -> u64| {
        let mut list = fitting.to_vec();
        sort_by_key(&mut list, |i| (Reverse(key(&items[*i])), *i));
        list
    };
    let edges = |i: &Item| {
        let mut e = i.size.map(u64::from);
        e.sort_unstable();
        e
    };
    vec![
        sorted(&Item::volume),
        sorted(&|i| edges(i)[2]),
        sorted(&|i| edges(i)[2] * edges(i)[1]),
        sorted(&|i| u64::from(i.size[2])),
    ]
}
