//! The random numbers of one draw, kept by source so that one source can be exchanged.

use crate::pull::Filling;
use crate::scatter::Source;
use crate::statics::JointModel;
use tiny_sort::stable::sort;

/// What is drawn for a joint.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    pairs: usize,
    /// Each lot of magnets or steel once.
    lots: Vec<Filling>,
}

impl Layout {
    pub(super) fn of(model: &JointModel) -> Self {
        let mut lots: Vec<Filling> = model
            .pairs
            .iter()
            .flat_map(|pair| [pair.socket.filling, pair.plug.filling])
            .collect();
        sort(&mut lots);
        lots.dedup();
        Self {
            pairs: model.pairs.len(),
            lots,
        }
    }
}

/// Standard normal numbers of one pair.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct PairInputs {
    /// Host's x and y, part's x and y.
    pub position: [f64; 4],
    /// Host's, part's.
    pub depth: [f64; 2],
    /// Host's about x and y, part's about x and y.
    pub tilt: [f64; 4],
}

/// One draw.
#[derive(Clone, Debug)]
pub(super) struct Inputs {
    pairs: Vec<PairInputs>,
    coats: f64,
    lots: Vec<(Filling, f64)>,
    mass: f64,
}

impl Inputs {
    pub(super) fn new(layout: &Layout) -> Self {
        Self {
            pairs: vec![PairInputs::default(); layout.pairs],
            coats: 0.0,
            lots: layout.lots.iter().map(|lot| (*lot, 0.5)).collect(),
            mass: 0.5,
        }
    }

    /// Draws all anew.
    pub(super) fn draw(&mut self, random: &mut oorandom::Rand64) {
        let mut normal = Normal {
            random,
            spare: None,
        };
        for pair in &mut self.pairs {
            pair.position = std::array::from_fn(|_| normal.next());
            pair.depth = std::array::from_fn(|_| normal.next());
            pair.tilt = std::array::from_fn(|_| normal.next());
        }
        self.coats = normal.next();
        for (_, share) in &mut self.lots {
            *share = random.rand_float();
        }
        self.mass = random.rand_float();
    }

    /// This draw with one source taken from another.
    pub(super) fn with(&self, other: &Self, source: Source) -> Self {
        let mut mixed = self.clone();
        let pairs = mixed.pairs.iter_mut().zip(&other.pairs);
        match source {
            Source::Position => pairs.for_each(|(to, from)| to.position = from.position),
            Source::Depth => pairs.for_each(|(to, from)| to.depth = from.depth),
            Source::Tilt => pairs.for_each(|(to, from)| to.tilt = from.tilt),
            Source::Coats => mixed.coats = other.coats,
            Source::Strength => mixed.lots.clone_from(&other.lots),
            Source::Mass => mixed.mass = other.mass,
        }
        mixed
    }

    pub(super) fn pair(&self, index: usize) -> PairInputs {
        self.pairs.get(index).copied().unwrap_or_default()
    }

    /// Standard normal.
    pub(super) fn coats(&self) -> f64 {
        self.coats
    }

    /// Where a lot lies in its grade's range, 0 to 1.
    pub(super) fn strength(&self, lot: Filling) -> f64 {
        let found = self.lots.iter().find(|(l, _)| *l == lot);
        found.map_or(0.5, |(_, share)| *share)
    }

    /// Where the mass lies in its range, 0 to 1.
    pub(super) fn mass(&self) -> f64 {
        self.mass
    }
}

/// Standard normal numbers in pairs (Box and Muller 1958).
struct Normal<'r> {
    random: &'r mut oorandom::Rand64,
    spare: Option<f64>,
}

impl Normal<'_> {
    fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        // One less an even number from 0 to below 1 is never 0.
        let radius = (-2.0 * libm::log(1.0 - self.random.rand_float())).sqrt();
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * self.random.rand_float());
        self.spare = Some(radius * sin);
        radius * cos
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean 0, variance 1, 68.27 and 95.45 in 100 within one and two standard deviations (any table of the normal
    /// distribution, from memory).
    #[test]
    fn the_normal_numbers_are_normal() {
        let mut random = oorandom::Rand64::new(7);
        let mut normal = Normal {
            random: &mut random,
            spare: None,
        };
        let drawn: Vec<f64> = (0..200_000).map(|_| normal.next()).collect();
        let n = drawn.len() as f64;
        let mean = drawn.iter().sum::<f64>() / n;
        let variance = drawn.iter().map(|x| x * x).sum::<f64>() / n;
        let within = |k: f64| drawn.iter().filter(|x| x.abs() < k).count() as f64 / n;
        assert!(
            mean.abs() < 0.01 && (variance - 1.0).abs() < 0.02,
            "{mean} {variance}"
        );
        assert!((within(1.0) - 0.6827).abs() < 0.005 && (within(2.0) - 0.9545).abs() < 0.003);
    }
}
