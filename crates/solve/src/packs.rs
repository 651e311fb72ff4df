//! Packs that cover a need at least cost: the unbounded covering knapsack, by dynamic programming on whole pieces.

use core::fmt;

/// Largest need taken, pieces.
pub const LARGEST_NEED: u32 = 100_000;
/// Largest number of pack sizes taken.
pub const MOST_PACK_SIZES: usize = 64;
/// Largest price of a pack taken, cents.
pub const LARGEST_PRICE_CENTS: u64 = 1_000_000_000_000;

/// A pack that can be bought any number of times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pack {
    /// Pieces in it; at least one.
    pub count: u32,
    /// Its price, cents (or any smallest unit of money).
    pub price_cents: u64,
}

/// What to buy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Purchase {
    /// How many of each pack, in the order given.
    pub packs: Vec<u32>,
    /// Total price, cents.
    pub total_cents: u64,
    /// Pieces beyond the need.
    pub surplus: u32,
}

/// An order that cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PackError {
    /// The need is beyond [`LARGEST_NEED`].
    NeedTooLarge {
        /// Pieces asked for.
        given: u32,
    },
    /// Something is needed and there is no pack.
    NoPacks,
    /// More pack sizes than [`MOST_PACK_SIZES`].
    TooManyPackSizes {
        /// Pack sizes given.
        given: usize,
    },
    /// A pack has no pieces.
    EmptyPack {
        /// Its index.
        pack: usize,
    },
    /// A price is beyond [`LARGEST_PRICE_CENTS`].
    PriceTooLarge {
        /// Index of the pack.
        pack: usize,
        /// Its price, cents.
        given: u64,
    },
}

impl fmt::Display for PackError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NeedTooLarge { given } => {
                write!(
                    f,
                    "{given} pieces are needed; at most {LARGEST_NEED} are taken: split the order"
                )
            }
            Self::NoPacks => write!(
                f,
                "no pack is given; at least one is needed to cover the need: add one"
            ),
            Self::TooManyPackSizes { given } => {
                write!(
                    f,
                    "{given} pack sizes given; at most {MOST_PACK_SIZES} are taken: leave out the dear ones"
                )
            }
            Self::EmptyPack { pack } => write!(
                f,
                "pack {pack} holds 0 pieces; it must hold at least 1: correct it"
            ),
            Self::PriceTooLarge { pack, given } => {
                write!(
                    f,
                    "pack {pack} costs {given} cents; at most {LARGEST_PRICE_CENTS} are taken: correct it"
                )
            }
        }
    }
}

impl core::error::Error for PackError {}

/// The cheapest way to hold exactly so many pieces: price, then number of packs, and the pack bought last.
type Best = Option<(u64, u32, usize)>;

/// Least-cost packs that cover a need (spares included, pieces in hand already taken off, both by the caller).
///
/// Exact. Of purchases at equal cost the one with least surplus is taken, then the one with fewest packs. Time and
/// memory grow with the need times the number of pack sizes.
///
/// # Errors
/// [`PackError`], for a need beyond [`LARGEST_NEED`], no packs, and packs that are empty or priced beyond bounds.
///
/// # Examples
/// Of 35 pieces, a pack of 50 for 10.00 is cheaper than four packs of 10 for 3.00 each.
///
/// ```
/// use lodewright_solve::packs::{cheapest_packs, Pack};
///
/// let ten = Pack { count: 10, price_cents: 300 };
/// let fifty = Pack { count: 50, price_cents: 1000 };
/// let bought = cheapest_packs(&[ten, fifty], 35)?;
/// assert_eq!((bought.packs, bought.total_cents, bought.surplus), (vec![0, 1], 1000, 15));
/// # Ok::<(), lodewright_solve::packs::PackError>(())
/// ```
pub fn cheapest_packs(packs: &[Pack], need: u32) -> Result<Purchase, PackError> {
    check(packs, need)?;
    if need == 0 {
        return Ok(Purchase {
            packs: vec![0; packs.len()],
            total_cents: 0,
            surplus: 0,
        });
    }
    let exact = exact_counts(packs, need);
    // A pack that covers the need by itself is best bought alone: any company adds price, surplus and packs.
    let alone = packs
        .iter()
        .enumerate()
        .filter(|(_, pack)| pack.count >= need);
    let alone = alone
        .map(|(i, pack)| (pack.price_cents, pack.count, 1, i))
        .min();
    let mixed = (need..).zip(exact.iter().skip(need as usize));
    let mixed = mixed
        .filter_map(|(pieces, best)| {
            best.map(|(price, packs, _)| (price, pieces, packs, usize::MAX))
        })
        .min();
    let (total_cents, pieces, _, single) = alone
        .into_iter()
        .chain(mixed)
        .min()
        .ok_or(PackError::NoPacks)?;
    let mut counts = vec![0; packs.len()];
    let mut left = pieces as usize;
    if let Some(count) = counts.get_mut(single) {
        *count = 1;
        left = 0;
    }
    while let Some(&Some((_, _, last))) = exact.get(left).filter(|_| left > 0) {
        counts[last] += 1;
        left -= packs[last].count as usize;
    }
    Ok(Purchase {
        packs: counts,
        total_cents,
        surplus: pieces - need,
    })
}

fn check(packs: &[Pack], need: u32) -> Result<(), PackError> {
    if need > LARGEST_NEED {
        return Err(PackError::NeedTooLarge { given: need });
    }
    if packs.is_empty() && need > 0 {
        return Err(PackError::NoPacks);
    }
    if packs.len() > MOST_PACK_SIZES {
        return Err(PackError::TooManyPackSizes { given: packs.len() });
    }
    for (pack, p) in packs.iter().enumerate() {
        if p.count == 0 {
            return Err(PackError::EmptyPack { pack });
        }
        if p.price_cents > LARGEST_PRICE_CENTS {
            return Err(PackError::PriceTooLarge {
                pack,
                given: p.price_cents,
            });
        }
    }
    Ok(())
}

/// Best ways to hold exactly 0, 1, 2, ... pieces with packs smaller than the need; beyond the need by less than the
/// largest such pack, as otherwise one pack could be left out.
fn exact_counts(packs: &[Pack], need: u32) -> Vec<Best> {
    let small: Vec<_> = packs
        .iter()
        .enumerate()
        .filter(|(_, pack)| pack.count < need)
        .collect();
    let largest = small.iter().map(|(_, pack)| pack.count).max().unwrap_or(0);
    let mut exact: Vec<Best> = vec![None; (need + largest) as usize];
    exact[0] = Some((0, 0, 0));
    for pieces in 1..exact.len() {
        let with_last = |&(i, pack): &(usize, &Pack)| {
            let (price, packs, _) = exact[pieces.checked_sub(pack.count as usize)?]?;
            Some((price + pack.price_cents, packs + 1, i))
        };
        exact[pieces] = small.iter().filter_map(with_last).min();
    }
    exact
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pack(count: u32, price_cents: u64) -> Pack {
        Pack { count, price_cents }
    }

    #[test]
    fn small_orders_by_hand() {
        let packs = [pack(10, 300), pack(50, 1000), pack(100, 1800)];
        let buy = |need| cheapest_packs(&packs, need).unwrap();
        assert_eq!(
            buy(0),
            Purchase {
                packs: vec![0, 0, 0],
                total_cents: 0,
                surplus: 0
            }
        );
        assert_eq!(
            buy(20),
            Purchase {
                packs: vec![2, 0, 0],
                total_cents: 600,
                surplus: 0
            }
        );
        assert_eq!(
            buy(35),
            Purchase {
                packs: vec![0, 1, 0],
                total_cents: 1000,
                surplus: 15
            }
        );
        assert_eq!(
            buy(90),
            Purchase {
                packs: vec![0, 0, 1],
                total_cents: 1800,
                surplus: 10
            }
        );
        assert_eq!(
            buy(160),
            Purchase {
                packs: vec![1, 1, 1],
                total_cents: 3100,
                surplus: 0
            }
        );
    }

    #[test]
    fn ties_go_to_least_surplus_then_fewest_packs() {
        assert_eq!(
            cheapest_packs(&[pack(12, 400), pack(10, 400)], 9)
                .unwrap()
                .packs,
            [0, 1]
        );
        assert_eq!(
            cheapest_packs(&[pack(5, 200), pack(10, 400)], 10)
                .unwrap()
                .packs,
            [0, 1]
        );
        assert_eq!(
            cheapest_packs(&[pack(5, 200), pack(10, 400)], 20)
                .unwrap()
                .packs,
            [0, 2]
        );
    }

    #[test]
    fn bounds_are_typed_errors() {
        assert_eq!(cheapest_packs(&[], 1), Err(PackError::NoPacks));
        assert!(cheapest_packs(&[], 0).is_ok());
        assert_eq!(
            cheapest_packs(&[pack(0, 1)], 1),
            Err(PackError::EmptyPack { pack: 0 })
        );
        assert!(
            cheapest_packs(&[pack(1, 1)], LARGEST_NEED + 1)
                .unwrap_err()
                .to_string()
                .contains("100001")
        );
        assert!(cheapest_packs(&[pack(1, u64::MAX)], 1).is_err());
        assert!(cheapest_packs(&[pack(1, 1); 65], 1).is_err());
        let full = cheapest_packs(
            &[
                pack(u32::MAX, LARGEST_PRICE_CENTS),
                pack(1, LARGEST_PRICE_CENTS),
            ],
            LARGEST_NEED,
        );
        assert_eq!(full.unwrap().packs, [1, 0]);
        let many = cheapest_packs(
            &[pack(1, LARGEST_PRICE_CENTS), pack(99_999, 1)],
            LARGEST_NEED,
        )
        .unwrap();
        assert_eq!((many.packs, many.total_cents), (vec![0, 2], 2));
    }

    /// Every purchase without an idle pack, by recursion over pack sizes.
    fn brute(packs: &[Pack], need: u32) -> (u64, u32, u32) {
        let Some((first, rest)) = packs.split_first() else {
            return if need == 0 {
                (0, 0, 0)
            } else {
                (u64::MAX / 2, 0, 0)
            };
        };
        let all = need.div_ceil(first.count);
        let with = |n: u32| {
            let (cost, surplus, bought) = brute(rest, need.saturating_sub(n * first.count));
            (
                cost + u64::from(n) * first.price_cents,
                surplus + (n * first.count).saturating_sub(need),
                bought + n,
            )
        };
        (0..=all).map(with).min().unwrap()
    }

    proptest! {
        #[test]
        fn agrees_with_exhaustive_search(
            packs in prop::collection::vec((1..12_u32, 0..30_u64).prop_map(|(c, p)| pack(c, p)), 1..4),
            need in 0..40_u32,
        ) {
            let found = cheapest_packs(&packs, need).unwrap();
            let bought: u32 = found.packs.iter().sum();
            prop_assert_eq!((found.total_cents, found.surplus, bought), brute(&packs, need));
            let pieces: u32 = found.packs.iter().zip(&packs).map(|(n, p)| n * p.count).sum();
            let price: u64 = found.packs.iter().zip(&packs).map(|(&n, p)| u64::from(n) * p.price_cents).sum();
            prop_assert_eq!((pieces, price), (need + found.surplus, found.total_cents));
        }
    }
}
