//! A good round trip: nearest neighbour from every start, then reversals and segment moves while they shorten it.

use super::Table;
use tiny_sort::stable::sort_by_key;

/// Starts that are improved, the shortest ones first; fewer for many nodes, as each costs more.
const STARTS: usize = 24;
const STARTS_TIMES_NODES_SQUARED: usize = 150_000;
/// Longest segment that is moved.
const SEGMENT: usize = 3;
/// Improvements made on one trip at most.
const MOST_MOVES: usize = 20_000;

/// A change of the order: reverse a stretch, or take a stretch out and put it (perhaps reversed) elsewhere.
#[derive(Clone, Copy)]
enum Change {
    Reverse {
        first: usize,
        last: usize,
    },
    Move {
        first: usize,
        last: usize,
        after: usize,
        reversed: bool,
    },
}

pub(super) fn good(table: &Table<'_>) -> Vec<usize> {
    let mut starts: Vec<_> = (0..table.len())
        .map(|start| nearest(table, start))
        .collect();
    sort_by_key(&mut starts, |order| table.length(order));
    let improved = starts
        .into_iter()
        .take(starts_improved(table.len()))
        .map(|order| improve(table, order));
    let mut best = improved
        .min_by_key(|order| table.length(order))
        .unwrap_or_default();
    let zero = best.iter().position(|&node| node == 0).unwrap_or(0);
    best.rotate_left(zero);
    best
}

fn starts_improved(nodes: usize) -> usize {
    STARTS.min(STARTS_TIMES_NODES_SQUARED / nodes.pow(2).max(1))
}

fn nearest(table: &Table<'_>, start: usize) -> Vec<usize> {
    let mut left: Vec<usize> = (0..table.len()).filter(|&i| i != start).collect();
    let mut order = vec![start];
    let mut at = start;
    while let Some((place, &next)) = left
        .iter()
        .enumerate()
        .min_by_key(|&(_, &i)| (table.get(at, i), i))
    {
        left.swap_remove(place);
        order.push(next);
        at = next;
    }
    order
}

fn improve(table: &Table<'_>, mut order: Vec<usize>) -> Vec<usize> {
    for _ in 0..MOST_MOVES {
        match Trip::new(table, &order).best_change() {
            Some((gain, change)) if gain > 0 => order = apply(&order, change),
            _ => break,
        }
    }
    order
}

fn apply(order: &[usize], change: Change) -> Vec<usize> {
    match change {
        Change::Reverse { first, last } => {
            let mut order = order.to_vec();
            order[first..=last].reverse();
            order
        }
        Change::Move {
            first,
            last,
            after,
            reversed,
        } => {
            let mut segment = order[first..=last].to_vec();
            if reversed {
                segment.reverse();
            }
            let outside = (0..order.len()).filter(|i| !(first..=last).contains(i));
            let mut moved = Vec::with_capacity(order.len());
            for i in outside {
                moved.push(order[i]);
                if i == after {
                    moved.append(&mut segment);
                }
            }
            moved
        }
    }
}

/// An order with running lengths forwards and backwards, so that a change of any stretch costs the same to weigh, also
/// where distances differ by direction.
struct Trip<'a> {
    table: &'a Table<'a>,
    order: &'a [usize],
    forth: Vec<i64>,
    back: Vec<i64>,
}

impl<'a> Trip<'a> {
    fn new(table: &'a Table<'a>, order: &'a [usize]) -> Self {
        let (mut forth, mut back) = (vec![0], vec![0]);
        let (mut f, mut b) = (0, 0);
        for pair in order.windows(2) {
            f += table.get(pair[0], pair[1]) as i64;
            b += table.get(pair[1], pair[0]) as i64;
            forth.push(f);
            back.push(b);
        }
        Self {
            table,
            order,
            forth,
            back,
        }
    }

    fn link(&self, from: usize, to: usize) -> i64 {
        self.table.get(self.order[from], self.order[to]) as i64
    }

    /// What turning a stretch round saves inside it.
    fn turned(&self, first: usize, last: usize) -> i64 {
        (self.forth[last] - self.forth[first]) - (self.back[last] - self.back[first])
    }

    fn best_change(&self) -> Option<(i64, Change)> {
        let n = self.order.len();
        let reversals = (1..n).flat_map(|first| (first + 1..n).map(move |last| (first, last)));
        let reversals = reversals
            .map(|(first, last)| (self.reversal(first, last), Change::Reverse { first, last }));
        let segments =
            (1..n).flat_map(|first| (first..n.min(first + SEGMENT)).map(move |last| (first, last)));
        let moves = segments.flat_map(|(first, last)| {
            let places = (0..n).filter(move |&after| after + 1 < first || after > last);
            places.flat_map(move |after| {
                [false, true].map(|reversed| Change::Move {
                    first,
                    last,
                    after,
                    reversed,
                })
            })
        });
        let moves = moves.map(|change| (self.moving(change), change));
        reversals
            .chain(moves)
            .reduce(|best, other| if other.0 > best.0 { other } else { best })
    }

    fn reversal(&self, first: usize, last: usize) -> i64 {
        let (before, next) = (first - 1, (last + 1) % self.order.len());
        let now = self.link(before, first) + self.link(last, next);
        now - self.link(before, last) - self.link(first, next) + self.turned(first, last)
    }

    fn moving(&self, change: Change) -> i64 {
        let Change::Move {
            first,
            last,
            after,
            reversed,
        } = change
        else {
            return 0;
        };
        let n = self.order.len();
        let (before, next, then) = (first - 1, (last + 1) % n, (after + 1) % n);
        let (head, end, turned) = if reversed {
            (last, first, self.turned(first, last))
        } else {
            (first, last, 0)
        };
        let out = self.link(before, first) + self.link(last, next) - self.link(before, next);
        let put = self.link(after, head) + self.link(end, then) - self.link(after, then);
        out - put + turned
    }
}
