//! Cost tables over a few sites: the working matter of elimination. Both numbers of a cost are one here, the first weighing
//! more than all the second ones together.

use crate::problem::{Cost, Problem};

/// A cost that stands for 'not allowed'; sums of a few still fit.
pub(crate) const NEVER: i64 = i64::MAX / 4;

/// Sums of costs stay under this, so that the search can count in fractions of them.
const LARGEST: i64 = 1 << 50;

/// How costs of a family become one number and back.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Weight {
    /// What one of the first number weighs.
    pub first: i64,
    /// More than any choice costs.
    pub most: i64,
}

impl Weight {
    /// `None` where the sums could grow too large.
    pub(crate) fn of(problem: &Problem, sites: &[usize]) -> Option<Self> {
        let most = |number: &dyn Fn(&Cost) -> u32| {
            let each = sites
                .iter()
                .filter_map(|s| problem.sites[*s].costs.iter().map(number).max());
            each.fold(0_i64, |sum, c| sum.saturating_add(i64::from(c)))
        };
        let first = most(&|c| c.1) + 1;
        let most = most(&|c| c.0).checked_mul(first)?.checked_add(first)?;
        (most < LARGEST).then_some(Self { first, most })
    }

    pub(crate) fn one(self, cost: Cost) -> i64 {
        i64::from(cost.0) * self.first + i64::from(cost.1)
    }

    pub(crate) fn two(self, cost: i64) -> Cost {
        let number = |n: i64| u32::try_from(n).unwrap_or(u32::MAX);
        Cost(number(cost / self.first), number(cost % self.first))
    }
}

/// Costs of every combination of some sites, the last site running fastest.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    /// The sites, rising.
    pub sites: Vec<usize>,
    /// How many options each has.
    pub sizes: Vec<usize>,
    pub entries: Vec<i64>,
}

impl Table {
    pub(crate) fn filled(sites: Vec<usize>, sizes: Vec<usize>, with: i64) -> Self {
        let count = sizes.iter().product();
        Self {
            sites,
            sizes,
            entries: vec![with; count],
        }
    }

    /// How far one step of each of `order`'s sites moves in this table; 0 for a site that it does not have.
    pub(crate) fn strides(&self, order: &[usize]) -> Vec<usize> {
        order
            .iter()
            .map(|site| {
                let at = self.sites.iter().position(|s| s == site);
                at.map_or(0, |i| self.sizes[i + 1..].iter().product())
            })
            .collect()
    }

    /// The entry at these options, given by site.
    pub(crate) fn at(&self, choice: &[u16]) -> i64 {
        let mut index = 0;
        for (site, size) in self.sites.iter().zip(&self.sizes) {
            index = index * size + usize::from(choice[*site]);
        }
        self.entries[index]
    }
}

impl Table {
    /// Disallows one option of a site.
    pub(crate) fn close(&mut self, site: usize, option: usize) {
        if let Some(place) = self.sites.iter().position(|s| *s == site) {
            let (stride, size) = (self.strides(&[site])[0], self.sizes[place]);
            for (i, entry) in self.entries.iter_mut().enumerate() {
                if i / stride % size == option {
                    *entry = NEVER;
                }
            }
        }
    }

    /// Whether all that is open is allowed and costs nothing.
    pub(crate) fn is_idle(&self, is_open: &[Vec<bool>]) -> bool {
        let strides = self.strides(&self.sites);
        self.entries.iter().enumerate().all(|(i, entry)| {
            let mut places = self.sites.iter().zip(&strides).zip(&self.sizes);
            *entry == 0
                || (*entry >= NEVER
                    && places.any(|((site, stride), size)| !is_open[*site][i / stride % size]))
        })
    }

    /// The most that a site's option `b` costs more than `a`, whatever the others are; [`NEVER`] where it is not allowed
    /// though `a` is. The other way round below zero.
    pub(crate) fn more(&self, site: usize, a: usize, b: usize) -> i64 {
        let stride = self.strides(&[site])[0];
        let place = self.sites.iter().position(|s| *s == site).unwrap_or(0);
        let block = stride * self.sizes[place];
        let mut most = -NEVER;
        for base in (0..self.entries.len()).step_by(block) {
            for i in base..base + stride {
                let (x, y) = (self.entries[i + a * stride], self.entries[i + b * stride]);
                if x >= NEVER {
                    continue;
                }
                if y >= NEVER {
                    return NEVER;
                }
                most = most.max(y - x);
            }
        }
        most
    }
}

/// The sum of tables with a site minimised out.
pub(crate) fn minimised(part: &[&Table], site: usize, size_of: &dyn Fn(usize) -> usize) -> Table {
    let mut scope: Vec<usize> = part.iter().flat_map(|t| t.sites.iter().copied()).collect();
    scope.sort_unstable();
    scope.dedup();
    scope.retain(|s| *s != site);
    let sizes: Vec<usize> = scope.iter().map(|s| size_of(*s)).collect();
    let mut out = Table::filled(scope.clone(), sizes.clone(), NEVER);
    let order: Vec<usize> = scope.iter().copied().chain([site]).collect();
    let strides: Vec<Vec<usize>> = part.iter().map(|t| t.strides(&order)).collect();
    let options = size_of(site);
    let mut digits = vec![0_usize; scope.len()];
    let mut bases = vec![0_usize; part.len()];
    let mut sums = vec![0_i64; options];
    for entry in &mut out.entries {
        sums.fill(0);
        for ((table, base), stride) in part.iter().zip(&bases).zip(&strides) {
            let step = stride[scope.len()];
            for (option, sum) in sums.iter_mut().enumerate() {
                *sum = (*sum + table.entries[base + option * step]).min(NEVER);
            }
        }
        *entry = sums.iter().copied().min().unwrap_or(NEVER);
        // The next combination, the last site running fastest.
        for i in (0..digits.len()).rev() {
            digits[i] += 1;
            for (base, stride) in bases.iter_mut().zip(&strides) {
                *base += stride[i];
            }
            if digits[i] < sizes[i] {
                break;
            }
            for (base, stride) in bases.iter_mut().zip(&strides) {
                *base -= stride[i] * sizes[i];
            }
            digits[i] = 0;
        }
    }
    out
}
