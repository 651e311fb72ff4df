//! A first choice of magnets: the smallest stock sizes with which every joint reaches its target. Plain: it grows sizes
//! joint by joint and leaves no site empty; it does not look for the fewest magnets.

use lodewright_kit::Fit;
use tiny_sort::stable::sort_by;

use crate::pull::{End, Filling, disc, fits};
use crate::context::Context;

/// Rounds of growing; each makes at least one hole's magnet larger.
const MOST_ROUNDS: usize = 100_000;

/// What goes in every hole.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InitialSizes {
    /// By hole.
    pub fillings: Vec<Filling>,
    /// Holes that ask for a magnet that no stock size fits.
    pub nothing_fits: Vec<usize>,
}

/// Chooses.
pub fn initial_sizes(context: &Context) -> InitialSizes {
    let mut grow = Grow::start(context);
    let target_g = context.board.plan.settings.hold_target_g;
    for joint in (0..context.board.joints.len()).filter(|j| context.is_magnetic(*j)) {
        for _ in 0..MOST_ROUNDS {
            let holds = context
                .loads
                .cases
                .iter()
                .filter(|c| c.joint == joint)
                .all(|case| {
                    context
                        .hold(case, &grow.fillings, None)
                        .is_ok_and(|account| account.margin_g >= target_g)
                });
            if holds || !grow.larger(context, joint) {
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
    fillings: Vec<Filling>,
    nothing_fits: Vec<usize>,
    /// By hole: what it can still grow through, smallest first; empty where the builder has chosen.
    ladders: Vec<Vec<usize>>,
    /// By hole: where on its ladder it is.
    rung: Vec<usize>,
}

impl Grow {
    fn start(context: &Context) -> Self {
        let n = context.holes.holes.len();
        let mut grow = Self {
            fillings: vec![Filling::Empty; n],
            nothing_fits: Vec::new(),
            ladders: vec![Vec::new(); n],
            rung: vec![0; n],
        };
        let by_strength = by_strength(context);
        for hole in 0..n {
            grow.place(context, hole, &by_strength);
        }
        grow.empty_what_faces_nothing(context);
        grow
    }

    fn place(&mut self, context: &Context, hole: usize, by_strength: &[usize]) {
        let plan = context.board.plan;
        let h = &context.holes.holes[hole];
        match &h.fit {
            Fit::Empty => {}
            Fit::Magnet(id) => {
                let index = plan.stock.magnets.iter().position(|m| m.id == *id);
                self.fillings[hole] = index.map_or(Filling::Empty, Filling::Magnet);
            }
            Fit::Steel(id) => {
                let index = plan.stock.steel.iter().position(|m| m.id == *id);
                self.fillings[hole] = index.map_or(Filling::Empty, Filling::Steel);
            }
            Fit::Auto if is_wanted(context, hole) => {
                let fits = |i: &usize| fits(plan, h, *i);
                self.ladders[hole] = by_strength.iter().copied().filter(fits).collect();
                match self.ladders[hole].first() {
                    Some(smallest) => self.fillings[hole] = Filling::Magnet(*smallest),
                    None => self.nothing_fits.push(hole),
                }
            }
            Fit::Auto => {}
        }
    }

    /// A magnet opposite an empty hole holds nothing.
    fn empty_what_faces_nothing(&mut self, context: &Context) {
        let full = self.fillings.clone();
        for hole in 0..full.len() {
            let meets = partners(context, hole).any(|other| full[other] != Filling::Empty);
            if !self.ladders[hole].is_empty() && !meets {
                self.fillings[hole] = Filling::Empty;
                self.ladders[hole].clear();
            }
        }
    }

    /// Makes the smallest magnets of a joint that can still grow one size larger.
    fn larger(&mut self, context: &Context, joint: usize) -> bool {
        let holes: Vec<usize> = context.mates[joint]
            .iter()
            .flat_map(|m| [m.socket_face, m.plug_face])
            .map(|f| context.holes.faces[f].hole)
            .filter(|h| self.rung[*h] + 1 < self.ladders[*h].len())
            .collect();
        let level = |s: &Self, h: usize| s.ladders[h][s.rung[h]];
        // Ladders are parts of one order, so the stock index tells who is behind only through that order's position.
        let order = by_strength(context);
        let place = |s: &Self, h: usize| order.iter().position(|i| *i == level(s, h));
        let Some(least) = holes.iter().map(|h| place(self, *h)).min() else {
            return false;
        };
        for h in holes {
            if place(self, h) == least {
                self.rung[h] += 1;
                self.fillings[h] = Filling::Magnet(self.ladders[h][self.rung[h]]);
            }
        }
        true
    }
}

/// Stock magnets, weakest first by dipole moment, then by index.
fn by_strength(context: &Context) -> Vec<usize> {
    let plan = context.board.plan;
    let moment =
        |i: usize| disc(plan, &plan.stock.magnets[i], End::Weak).map_or(0.0, |d| d.moment_a_m2());
    let mut order: Vec<usize> = (0..plan.stock.magnets.len()).collect();
    sort_by(&mut order, |a, b| {
        moment(*a).total_cmp(&moment(*b)).then(a.cmp(b))
    });
    order
}

fn is_wanted(context: &Context, hole: usize) -> bool {
    partners(context, hole).next().is_some()
}

/// The holes that a hole meets in joints held by magnets.
fn partners<'s>(context: &'s Context, hole: usize) -> impl Iterator<Item = usize> + 's {
    let magnetic = (0..context.mates.len()).filter(|j| context.is_magnetic(*j));
    magnetic
        .flat_map(|j| &context.mates[j])
        .filter_map(move |mate| {
            let [a, b] = [mate.socket_face, mate.plug_face].map(|f| context.holes.faces[f].hole);
            match hole {
                h if h == a => Some(b),
                h if h == b => Some(a),
                _ => None,
            }
        })
}
