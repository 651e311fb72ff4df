//! Signs of a cluster that hangs together loosely: each in turn is decided for every way that its neighbours may be (bucket
//! elimination: Dechter 1999; Bertelè and Brioschi 1972), which is exact.

use std::collections::BTreeSet;

use super::cluster::Cluster;
use super::local::LocalSum;

/// Entries of all tables together at the most.
const MOST_ENTRIES: usize = 2_000_000;

/// Low sums, the high total negated, votes: the greatest is sought.
type Worth = [i64; 3];

/// What signs are worth, by their bits, the first sign's lowest.
struct Table {
    signs: Vec<usize>,
    worth: Vec<Worth>,
}

impl Table {
    /// The entry for bits of the signs in `of`.
    fn at(&self, of: &[usize], bits: usize) -> Worth {
        let mut index = 0;
        for (i, sign) in self.signs.iter().enumerate() {
            let place = of.binary_search(sign).unwrap_or(0);
            index |= (bits >> place & 1) << i;
        }
        self.worth[index]
    }
}

fn sum(a: Worth, b: Worth) -> Worth {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

impl Cluster {
    /// The best signs, where few enough ways have to be looked at.
    pub(super) fn eliminated(&self) -> Option<Vec<bool>> {
        let n = self.votes.len();
        let order = self.loose_order()?;
        let mut tables: Vec<Option<Table>> =
            self.sums.iter().map(|s| Some(self.table(s))).collect();
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); n];
        for (t, table) in tables.iter().enumerate() {
            let signs = table.iter().flat_map(|table| &table.signs);
            signs.for_each(|s| at[*s].push(t));
        }
        // By sign: the neighbours on which it depends, and whether it is true by their bits.
        let mut rules: Vec<(usize, Vec<usize>, Vec<bool>)> = Vec::with_capacity(n);
        for sign in order {
            let mine: Vec<Table> = std::mem::take(&mut at[sign])
                .into_iter()
                .filter_map(|t| tables[t].take())
                .collect();
            let mut around: Vec<usize> = mine.iter().flat_map(|t| t.signs.clone()).collect();
            around.push(sign);
            around.sort_unstable();
            around.dedup();
            let place = around.binary_search(&sign).unwrap_or(0);
            let rest: Vec<usize> = around.iter().copied().filter(|s| *s != sign).collect();
            let (mut worth, mut is_true) = (Vec::new(), Vec::new());
            for bits in 0..1_usize << rest.len() {
                let (low, high) = (bits & ((1 << place) - 1), bits >> place << (place + 1));
                let [no, yes] = [0, 1].map(|value| {
                    let vote = if value == 1 {
                        self.votes[sign]
                    } else {
                        -self.votes[sign]
                    };
                    let all = mine
                        .iter()
                        .map(|t| t.at(&around, low | high | value << place));
                    all.fold([0, 0, vote], sum)
                });
                // Where both are worth the same, as voted.
                is_true.push(yes > no || (yes == no && self.votes[sign] >= 0));
                worth.push(yes.max(no));
            }
            rest.iter().for_each(|s| at[*s].push(tables.len()));
            rules.push((sign, rest.clone(), is_true));
            tables.push(Some(Table { signs: rest, worth }));
        }
        let mut signs = vec![false; n];
        for (sign, rest, is_true) in rules.iter().rev() {
            let bits = rest.iter().enumerate();
            let index = bits.fold(0, |index, (i, s)| index | usize::from(signs[*s]) << i);
            signs[*sign] = is_true[index];
        }
        Some(signs)
    }

    fn table(&self, of: &LocalSum) -> Table {
        let mut signs: Vec<usize> = of
            .terms
            .iter()
            .flat_map(|t| [Some(t.a), t.b])
            .flatten()
            .collect();
        signs.sort_unstable();
        signs.dedup();
        let mut all = vec![false; self.votes.len()];
        let worth = (0..1_usize << signs.len())
            .map(|bits| {
                for (i, s) in signs.iter().enumerate() {
                    all[*s] = bits >> i & 1 == 1;
                }
                let value = of.value(&all);
                let low = i64::try_from(of.low(value, self.threshold)).unwrap_or(i64::MAX);
                [low, -of.high(value, self.threshold), 0]
            })
            .collect();
        Table { signs, worth }
    }

    /// The signs, next the one with fewest neighbours; `None` where the tables would be too large.
    fn loose_order(&self) -> Option<Vec<usize>> {
        let mut beside: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); self.votes.len()];
        for sum in &self.sums {
            let signs: Vec<usize> = sum
                .terms
                .iter()
                .flat_map(|t| [Some(t.a), t.b])
                .flatten()
                .collect();
            for a in &signs {
                beside[*a].extend(signs.iter().filter(|b| *b != a));
            }
        }
        let mut queue: BTreeSet<(usize, usize)> = beside
            .iter()
            .enumerate()
            .map(|(s, b)| (b.len(), s))
            .collect();
        let (mut order, mut entries) = (Vec::new(), 0_usize);
        while let Some((width, sign)) = queue.pop_first() {
            entries += 1_usize.checked_shl(u32::try_from(width + 1).ok()?)?;
            if width >= 40 || entries > MOST_ENTRIES {
                return None;
            }
            order.push(sign);
            let around = std::mem::take(&mut beside[sign]);
            for a in &around {
                queue.remove(&(beside[*a].len(), *a));
                beside[*a].extend(around.iter().filter(|b| *b != a));
                beside[*a].remove(&sign);
                queue.insert((beside[*a].len(), *a));
            }
        }
        Some(order)
    }
}
