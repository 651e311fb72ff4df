//! Boxes stowed in boxes: what goes where, in which turn, and what does not fit.
//!
//! Boxes are put one after another into the empty spaces that are left, each kept as large as it can be (Lai & Chan 1997),
//! under several orders and rules; then the order is changed at random, by a seed, as long as that helps and work is left.
//! Nothing overlaps and nothing leaves its space: lengths are whole numbers, so that is exact. Whether *more* would fit is
//! known only where everything fits; else the share of the volume says how far it may be from that.

use tiny_sort::stable::sort_by_key;
mod place;
mod search;

use core::fmt;

/// Most boxes taken.
pub const MOST_ITEMS: usize = 400;
/// Most spaces taken.
pub const MOST_SPACES: usize = 40;
/// Longest edge taken.
pub const LONGEST: u32 = 1_000_000;

/// A box to stow; edges along x, y, z in any whole unit, the same throughout.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Item {
    /// Its edges.
    pub size: [u32; 3],
    /// Whether it must stay upright: it may then only turn about z.
    pub upright: bool,
}

impl Item {
    /// Its volume.
    #[must_use]
    pub fn volume(&self) -> u64 {
        volume(self.size)
    }

    /// The edges in every turn that differs: at most six, two for an upright box.
    #[must_use]
    pub fn turns(&self) -> Vec<[u32; 3]> {
        let [x, y, z] = self.size;
        let all = [
            [x, y, z],
            [y, x, z],
            [x, z, y],
            [z, x, y],
            [y, z, x],
            [z, y, x],
        ];
        let mut list: Vec<[u32; 3]> = Vec::with_capacity(6);
        for turn in &all[..if self.upright { 2 } else { 6 }] {
            if !list.contains(turn) {
                list.push(*turn);
            }
        }
        list
    }
}

/// A box that lies somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Placed {
    /// Index of the item.
    pub item: usize,
    /// Index of the space.
    pub space: usize,
    /// Its corner nearest to the space's origin.
    pub at: [u32; 3],
    /// Its edges as it lies.
    pub size: [u32; 3],
}

impl Placed {
    /// The corner farthest from the origin.
    #[must_use]
    pub fn end(&self) -> [u32; 3] {
        core::array::from_fn(|k| self.at[k] + self.size[k])
    }

    /// Whether two boxes share some room.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        let (a, b) = (self.end(), other.end());
        self.space == other.space && (0..3).all(|k| self.at[k] < b[k] && other.at[k] < a[k])
    }
}

/// What was stowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stowed {
    /// Where everything lies, in an order in which it can be put in.
    pub placed: Vec<Placed>,
    /// Items that fit in no space even when it is empty.
    pub too_large: Vec<usize>,
    /// Items for which no room was found beside the others.
    pub left: Vec<usize>,
    /// Volume of what lies.
    pub volume: u64,
    /// No way of stowing gets more volume in.
    pub volume_bound: u64,
}

/// Boxes that cannot be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StowError {
    /// More than is taken.
    TooMany {
        /// Of what.
        what: &'static str,
        /// The number given.
        given: usize,
        /// The largest number taken.
        most: usize,
    },
    /// An edge is zero or beyond [`LONGEST`].
    Edge {
        /// Of what.
        what: &'static str,
        /// Its index.
        index: usize,
        /// The edge given.
        given: u32,
    },
}

impl fmt::Display for StowError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooMany { what, given, most } => {
                write!(
                    f,
                    "{given} {what} given; at most {most} are taken: leave some out"
                )
            }
            Self::Edge { what, index, given } => {
                write!(
                    f,
                    "{what} {index} has an edge of {given}; it must be 1 to {LONGEST}: correct it"
                )
            }
        }
    }
}

impl core::error::Error for StowError {}

/// Stows boxes in spaces; `seed` decides the random part, so the same call gives the same answer.
///
/// # Errors
/// [`StowError`] for too many boxes or spaces, or an edge out of range.
pub fn stow(items: &[Item], spaces: &[[u32; 3]], seed: u64) -> Result<Stowed, StowError> {
    check(items, spaces)?;
    let fits = |item: &Item, space: &[u32; 3]| {
        let within = |turn: &[u32; 3]| (0..3).all(|k| turn[k] <= space[k]);
        item.turns().iter().any(within)
    };
    let (fitting, too_large): (Vec<usize>, Vec<usize>) =
        (0..items.len()).partition(|i| spaces.iter().any(|s| fits(&items[*i], s)));
    let placed = search::best(items, spaces, &fitting, seed);
    let lies = |item: &usize| placed.iter().any(|p| p.item == *item);
    let room: u64 = spaces.iter().map(|s| volume(*s)).sum();
    let wanted: u64 = fitting.iter().map(|i| items[*i].volume()).sum();
    Ok(Stowed {
        volume: placed.iter().map(|p| volume(p.size)).sum(),
        volume_bound: wanted.min(room),
        left: fitting.into_iter().filter(|i| !lies(i)).collect(),
        too_large,
        placed,
    })
}

/// Boxes of one space in layers, lowest first: no two of a layer lie above one another, so each can be drawn from above.
#[must_use]
pub fn layers(placed: &[Placed], space: usize) -> Vec<Vec<Placed>> {
    let mut here: Vec<Placed> = placed
        .iter()
        .filter(|p| p.space == space)
        .copied()
        .collect();
    sort_by_key(&mut here, |p| (p.at[2], p.at[1], p.at[0]));
    let mut list: Vec<Vec<Placed>> = Vec::new();
    let mut lowest_top = 0;
    for p in here {
        match list.last_mut() {
            Some(layer) if p.at[2] < lowest_top => {
                lowest_top = lowest_top.min(p.end()[2]);
                layer.push(p);
            }
            _ => {
                lowest_top = p.end()[2];
                list.push(vec![p]);
            }
        }
    }
    list
}

fn volume(size: [u32; 3]) -> u64 {
    size.iter().map(|e| u64::from(*e)).product()
}

fn check(items: &[Item], spaces: &[[u32; 3]]) -> Result<(), StowError> {
    for (what, given, most) in [
        ("boxes", items.len(), MOST_ITEMS),
        ("spaces", spaces.len(), MOST_SPACES),
    ] {
        if given > most {
            return Err(StowError::TooMany { what, given, most });
        }
    }
    let sizes = items.iter().map(|i| ("box", i.size));
    let sizes = sizes
        .enumerate()
        .chain(spaces.iter().map(|s| ("space", *s)).enumerate());
    for (index, (what, size)) in sizes {
        if let Some(given) = size.into_iter().find(|e| *e == 0 || *e > LONGEST) {
            return Err(StowError::Edge { what, index, given });
        }
    }
    Ok(())
}
