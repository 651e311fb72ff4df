//! Cost tables over a few sites: the working matter of elimination.

use crate::problem::Cost;

/// A sum of costs; `None` stands for 'not allowed'.
pub(crate) type Entry = Option<Cost>;

/// Costs of every combination of some sites, the last site running fastest.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    /// The sites, rising.
    pub sites: Vec<usize>,
    /// How many options each has.
    pub sizes: Vec<usize>,
    pub entries: Vec<Entry>,
}

impl Table {
    pub(crate) fn filled(sites: Vec<usize>, sizes: Vec<usize>, with: Entry) -> Self {
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
    pub(crate) fn at(&self, choice: &[u16]) -> Entry {
        let mut index = 0;
        for (site, size) in self.sites.iter().zip(&self.sizes) {
            index = index * size + usize::from(choice[*site]);
        }
        self.entries[index]
    }
}

/// Number of entries of a table over these sites, or `None` beyond `most`.
pub(crate) fn entries_of(sizes: impl Iterator<Item = usize>, most: usize) -> Option<usize> {
    sizes.into_iter().try_fold(1_usize, |product, size| {
        product.checked_mul(size).filter(|p| *p <= most)
    })
}
