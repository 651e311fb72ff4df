//! Cubic interpolation on a grid that is dense near zero and sparse far out.

use crate::error::FieldError;

/// Grid over 0..=max, even in `ln(1 + x / knee)`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Axis {
    knee: f64,
    max: f64,
    per_log: f64,
    cells: u32,
}

impl Axis {
    /// `cells` cells of at least three; even spacing below the knee, constant ratio above it.
    pub(crate) fn new(knee: f64, max: f64, cells: u32) -> Self {
        let cells = cells.max(3);
        Self {
            knee,
            max,
            per_log: f64::from(cells) / libm::log1p(max / knee),
            cells,
        }
    }

    fn node(&self, i: u32) -> f64 {
        self.knee * libm::expm1(f64::from(i) / self.per_log)
    }

    /// First of the four nodes around `x`, and where `x` lies from it in cells; `None` outside.
    fn locate(&self, x: f64) -> Option<(usize, f64)> {
        if !(x >= 0.0 && x <= self.max) {
            return None;
        }
        let at = libm::log1p(x / self.knee) * self.per_log;
        let first = (at - 1.0).clamp(0.0, f64::from(self.cells - 3)) as usize;
        Some((first, at - first as f64))
    }
}

/// Weights of four even nodes for a point `t` cells from the first.
fn weights(t: f64) -> [f64; 4] {
    let (a, b, c) = (t - 1.0, t - 2.0, t - 3.0);
    [
        -a * b * c / 6.0,
        t * b * c / 2.0,
        -t * a * c / 2.0,
        t * a * b / 6.0,
    ]
}

/// A function of one variable.
#[derive(Debug, Clone)]
pub(crate) struct Curve {
    axis: Axis,
    values: Vec<f64>,
}

impl Curve {
    pub(crate) fn build(
        axis: Axis,
        f: impl Fn(f64) -> Result<f64, FieldError>,
    ) -> Result<Self, FieldError> {
        let values = (0..=axis.cells)
            .map(|i| f(axis.node(i)))
            .collect::<Result<_, _>>()?;
        Ok(Self { axis, values })
    }

    pub(crate) fn at(&self, x: f64) -> Option<f64> {
        let (first, t) = self.axis.locate(x)?;
        let four = self.values.get(first..first + 4)?;
        Some(four.iter().zip(weights(t)).map(|(v, w)| v * w).sum())
    }
}

/// A function of two variables.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    along: Axis,
    rows: Vec<Curve>,
}

impl Sheet {
    pub(crate) fn build(
        along: Axis,
        across: Axis,
        f: impl Fn(f64, f64) -> Result<f64, FieldError>,
    ) -> Result<Self, FieldError> {
        let row = |i: u32| Curve::build(across, |y| f(along.node(i), y));
        Ok(Self {
            along,
            rows: (0..=along.cells).map(row).collect::<Result<_, _>>()?,
        })
    }

    pub(crate) fn at(&self, x: f64, y: f64) -> Option<f64> {
        let (first, t) = self.along.locate(x)?;
        let four = self.rows.get(first..first + 4)?;
        let mut sum = 0.0;
        for (row, w) in four.iter().zip(weights(t)) {
            sum += w * row.at(y)?;
        }
        Some(sum)
    }
}
