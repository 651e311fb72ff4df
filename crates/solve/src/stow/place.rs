//! One way of stowing: boxes in a given order, each where a rule likes it best.

use super::{Item, Placed};
use tiny_sort::stable::sort_by_key;

/// How a box chooses among the empty spaces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Rule {
    /// As low as it can lie, then to the back, then to the left.
    Lowest,
    /// Where it leaves the least beside it.
    Snuggest,
    /// As far as it can be from the corner that fills last.
    Farthest,
}

pub(super) const RULES: [Rule; 3] = [Rule::Lowest, Rule::Snuggest, Rule::Farthest];

/// Empty spaces kept of one space; the smallest are forgotten beyond that.
const MOST_EMPTY: usize = 160;

/// A box of air, as large as it can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Empty {
    at: [u32; 3],
    end: [u32; 3],
}

impl Empty {
    fn edge(&self, k: usize) -> u32 {
        self.end[k] - self.at[k]
    }

    fn holds(&self, size: &[u32; 3]) -> bool {
        (0..3).all(|k| size[k] <= self.edge(k))
    }

    fn within(&self, other: &Self) -> bool {
        (0..3).all(|k| other.at[k] <= self.at[k] && self.end[k] <= other.end[k])
    }

    fn volume(&self) -> u64 {
        super::volume(core::array::from_fn(|k| self.edge(k)))
    }
}

/// What it came to, and the work that it took.
pub(super) struct Way {
    pub placed: Vec<Placed>,
    pub work: u64,
}

/// Puts boxes in one after another; one that finds no room is left out.
pub(super) fn place(
    items: &[Item],
    turns: &[Vec<[u32; 3]>],
    spaces: &[[u32; 3]],
    order: &[usize],
    rule: Rule,
) -> Way {
    let mut empty: Vec<Vec<Empty>> = spaces
        .iter()
        .map(|s| {
            vec![Empty {
                at: [0; 3],
                end: *s,
            }]
        })
        .collect();
    // Air thinner than the thinnest box that may still come is of no use.
    let thin = |i: &usize| items[*i].size.into_iter().min().unwrap_or(1);
    let mut thinnest = vec![u32::MAX; order.len() + 1];
    for (n, i) in order.iter().enumerate().rev() {
        thinnest[n] = thinnest[n + 1].min(thin(i));
    }
    let (mut placed, mut work) = (Vec::with_capacity(order.len()), 0);
    for (n, item) in order.iter().enumerate() {
        let mut best: Option<([u64; 4], Placed)> = None;
        for (space, list) in empty.iter().enumerate() {
            for air in list {
                for size in &turns[*item] {
                    work += 1;
                    if air.holds(size) {
                        let key = key(rule, space, air, size, &spaces[space]);
                        if best.as_ref().is_none_or(|(b, _)| key < *b) {
                            let (item, at) = (*item, air.at);
                            best = Some((
                                key,
                                Placed {
                                    item,
                                    space,
                                    at,
                                    size: *size,
                                },
                            ));
                        }
                    }
                }
            }
            // A box goes on to the next space only when this one has no room.
            if best.is_some() {
                break;
            }
        }
        if let Some((_, p)) = best {
            work += cut(&mut empty[p.space], &p, thinnest[n + 1]);
            placed.push(p);
        }
    }
    Way { placed, work }
}

/// Smaller is better.
fn key(rule: Rule, space: usize, air: &Empty, size: &[u32; 3], whole: &[u32; 3]) -> [u64; 4] {
    let at = air.at.map(u64::from);
    let space = space as u64;
    match rule {
        Rule::Lowest => [
            space,
            at[2] * 4 + u64::from(size[2]),
            at[1] + u64::from(size[1]) / 2,
            at[0],
        ],
        Rule::Snuggest => {
            let mut rest: [u64; 3] = core::array::from_fn(|k| u64::from(air.edge(k) - size[k]));
            rest.sort_unstable();
            [space, rest[0] + rest[1], rest[2], at[2]]
        }
        Rule::Farthest => {
            let away: u64 = (0..3)
                .map(|k| {
                    let gap = u64::from(whole[k]) - at[k] - u64::from(size[k]);
                    gap * gap
                })
                .sum();
            [space, u64::MAX - away, at[2], at[1]]
        }
    }
}

/// Takes a box out of the air; returns the work.
fn cut(list: &mut Vec<Empty>, p: &Placed, thinnest: u32) -> u64 {
    let end = p.end();
    let (hit, mut rest): (Vec<Empty>, Vec<Empty>) = list
        .iter()
        .partition(|air| (0..3).all(|k| air.at[k] < end[k] && p.at[k] < air.end[k]));
    let mut work = list.len() as u64;
    let mut fresh: Vec<Empty> = Vec::with_capacity(hit.len() * 3);
    for air in hit {
        for (k, end) in end.iter().enumerate() {
            let (mut low, mut high) = (air, air);
            low.end[k] = p.at[k].max(air.at[k]);
            high.at[k] = air.end[k].min(*end);
            fresh.extend(
                [low, high]
                    .into_iter()
                    .filter(|e| (0..3).all(|k| e.end[k] > e.at[k] && e.edge(k) >= thinnest)),
            );
        }
    }
    // The largest first: what lies within another comes after it.
    sort_by_key(&mut fresh, |e| (core::cmp::Reverse(e.volume()), e.at));
    for e in fresh {
        work += rest.len() as u64;
        if !rest.iter().any(|old| e.within(old)) {
            rest.push(e);
        }
    }
    if rest.len() > MOST_EMPTY {
        sort_by_key(&mut rest, |e| (core::cmp::Reverse(e.volume()), e.at));
        rest.truncate(MOST_EMPTY);
    }
    *list = rest;
    work
}
