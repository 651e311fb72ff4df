//! A first choice of magnets: the smallest stock sizes with which every joint reaches its target. Plain: it grows sizes
//! joint by joint and leaves no site empty; it does not look for the fewest magnets.

use lodewright_assembly::JointIx;
use lodewright_kit::{Fit, Ix, MagnetIx, SteelIx, Table};
use tiny_sort::stable::sort_by;

use crate::context::Context;
use crate::holes::HoleIx;
use crate::pull::{End, Filling, Fillings, disc};
use crate::room::takes;

/// Rounds of growing; each makes at least one hole's magnet larger.
const MOST_ROUNDS: usize = 100_000;

/// What goes in every hole.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InitialSizes {
    /// What goes in each hole.
    pub fillings: Fillings,
    /// Holes that ask for a magnet that no stock size fits.
    pub nothing_fits: Vec<HoleIx>,
}

/// Chooses.
///
/// ```
/// # use lodewright_joints::Context;
/// # use std::rc::Rc;
/// # use lodewright_assembly::{Board, glue_answer};
/// # use lodewright_kit::{Edit, Plan};
/// # let grid = "\tWorks\tParade\nNose\tPlough\tHook\n".to_owned();
/// # let plan = Plan::empty("Tug").edited(&Edit::PasteGrid(grid))?;
/// # let board = Rc::new(Board::of(lodewright_kit::CheckedPlan::of(plan).map_err(|p| p[0].to_string())?));
/// # let glue = Rc::new(glue_answer(&board));
/// # let context = Context::of(board, glue);
/// use lodewright_joints::{Filling, initial_sizes};
///
/// let sizes = initial_sizes(&context);
/// assert!(sizes.nothing_fits.is_empty());
/// assert!(sizes.fillings.values().iter().all(|f| matches!(f, Filling::Magnet(_))));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn initial_sizes(context: &Context) -> InitialSizes {
    sizes_with(context, None)
}

/// The same as if the builder wanted this in a hole.
pub(crate) fn sizes_with(context: &Context, instead: Option<(HoleIx, &Fit)>) -> InitialSizes {
    let mut grow = Grow::start(context, instead);
    for joint in context.magnetic() {
        for _ in 0..MOST_ROUNDS {
            let model = context.model(joint, &grow.fillings, None);
            if model.is_none_or(|m| m.holds_enough()) || !grow.larger(context, joint) {
                break;
            }
        }
    }
    InitialSizes {
        fillings: grow.fillings,
        nothing_fits: grow.nothing_fits,
    }
}

struct Grow {
    fillings: Fillings,
    nothing_fits: Vec<HoleIx>,
    /// What a hole can still grow through, smallest first; empty where the builder has chosen.
    ladders: Table<HoleIx, Vec<MagnetIx>>,
    /// Where on its ladder a hole is.
    rung: Table<HoleIx, usize>,
    /// All stock magnets, weakest first.
    by_strength: Vec<MagnetIx>,
}

impl Grow {
    fn start(context: &Context, instead: Option<(HoleIx, &Fit)>) -> Self {
        let holes = &context.holes.holes;
        let mut grow = Self {
            fillings: Table::of(holes, |_, _| Filling::Empty),
            nothing_fits: Vec::new(),
            ladders: Table::of(holes, |_, _| Vec::new()),
            rung: Table::of(holes, |_, _| 0),
            by_strength: by_strength(context),
        };
        for hole in HoleIx::all(holes) {
            let fit = instead.filter(|(at, _)| *at == hole).map(|(_, fit)| fit);
            grow.place(context, hole, fit.unwrap_or(&holes[hole].fit));
        }
        grow.empty_what_faces_nothing(context);
        grow
    }

    fn place(&mut self, context: &Context, hole: HoleIx, fit: &Fit) {
        let plan = context.plan();
        let h = &context.holes.holes[hole];
        match fit {
            Fit::Empty => {}
            Fit::Magnet(id) => {
                let index = MagnetIx::find(&plan.stock.magnets, |m| m.id == *id);
                self.fillings[hole] = index.map_or(Filling::Empty, Filling::Magnet);
            }
            Fit::Steel(id) => {
                let index = SteelIx::find(&plan.stock.steel, |m| m.id == *id);
                self.fillings[hole] = index.map_or(Filling::Empty, Filling::Steel);
            }
            Fit::Auto if partners(context, hole).next().is_some() => {
                let fits = |i: &MagnetIx| takes(plan, h, Filling::Magnet(*i));
                self.ladders[hole] = self.by_strength.iter().copied().filter(fits).collect();
                let smallest = self.ladders[hole].first().copied();
                if !smallest.is_some_and(|m| self.fill(context, hole, m)) {
                    self.ladders[hole].clear();
                    self.nothing_fits.push(hole);
                }
            }
            Fit::Auto => {}
        }
    }

    /// Puts a magnet in a hole, unless the hole then comes too near another one.
    fn fill(&mut self, context: &Context, hole: HoleIx, magnet: MagnetIx) -> bool {
        let old = std::mem::replace(&mut self.fillings[hole], Filling::Magnet(magnet));
        let goes = context.crowding(&self.fillings, hole).is_none();
        if !goes {
            self.fillings[hole] = old;
        }
        goes
    }

    /// A magnet opposite an empty hole holds nothing.
    fn empty_what_faces_nothing(&mut self, context: &Context) {
        let full = self.fillings.clone();
        for hole in HoleIx::all(&context.holes.holes) {
            let meets = partners(context, hole).any(|other| full[other] != Filling::Empty);
            if !self.ladders[hole].is_empty() && !meets {
                self.fillings[hole] = Filling::Empty;
                self.ladders[hole].clear();
            }
        }
    }

    /// Makes the smallest magnets of a joint that can still grow one size larger.
    fn larger(&mut self, context: &Context, joint: JointIx) -> bool {
        let holes: Vec<HoleIx> = context.mates[joint]
            .iter()
            .flat_map(|m| m.holes(&context.holes))
            .filter(|h| self.rung[*h] + 1 < self.ladders[*h].len())
            .collect();
        // Ladders are parts of one order, whose places tell who is behind.
        let place = |s: &Self, h: HoleIx| {
            let size = s.ladders[h][s.rung[h]];
            s.by_strength.iter().position(|i| *i == size)
        };
        let Some(least) = holes.iter().map(|h| place(self, *h)).min() else {
            return false;
        };
        for h in holes {
            if place(self, h) == least {
                self.rung[h] += 1;
                let larger = self.ladders[h][self.rung[h]];
                if !self.fill(context, h, larger) {
                    self.rung[h] -= 1;
                    self.ladders[h].truncate(self.rung[h] + 1);
                }
            }
        }
        true
    }
}

/// Stock magnets, weakest first by dipole moment, then in the order of the stock.
fn by_strength(context: &Context) -> Vec<MagnetIx> {
    let plan = context.plan();
    let moment = |i: MagnetIx| {
        disc(plan, &plan.stock.magnets[i], End::Weak).map_or(0.0, |d| d.moment_a_m2())
    };
    let mut order: Vec<MagnetIx> = MagnetIx::all(&plan.stock.magnets).collect();
    sort_by(&mut order, |a, b| {
        moment(*a).total_cmp(&moment(*b)).then(a.cmp(b))
    });
    order
}

/// The holes that a hole meets in joints held by magnets.
fn partners<'s>(context: &'s Context, hole: HoleIx) -> impl Iterator<Item = HoleIx> + 's {
    let mates = context.magnetic().flat_map(|j| &context.mates[j]);
    mates.filter_map(move |mate| match mate.holes(&context.holes) {
        [a, b] if hole == a => Some(b),
        [a, b] if hole == b => Some(a),
        _ => None,
    })
}
