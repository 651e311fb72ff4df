//! How sure a joint is with a hand-held drill: a seeded Monte Carlo over drill wander, depth, leaning magnets, coats, the
//! strength of the lot and the weight of the part.

mod inputs;
mod pull_table;

use std::fmt;
use std::rc::Rc;

use lodewright_field::FieldError;
use lodewright_kit::Plan;
use lodewright_solve::hold::{HoldError, Pull, QuickMargin};
use serde::Serialize;
use tiny_sort::stable::sort_by;

use crate::context::G_M_S2;
use crate::pull::{End, Filling};
use crate::statics::{JointModel, ModelLoad, ModelPair};
use inputs::{Inputs, Layout};
use pull_table::PullTable;

/// Fewest and most draws taken.
pub const DRAWS: std::ops::RangeInclusive<usize> = 100..=1_000_000;

/// A source of scatter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Source {
    /// Where the holes were drilled.
    Position,
    /// How deep each magnet sits.
    Depth,
    /// How far each magnet leans.
    Tilt,
    /// How thick coats and films are, the same all over the joint.
    Coats,
    /// How strong each lot of magnets is within its grade.
    Strength,
    /// How heavy the carried parts are.
    Mass,
}

impl Source {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Position,
        Self::Depth,
        Self::Tilt,
        Self::Coats,
        Self::Strength,
        Self::Mass,
    ];
}

/// What the draws came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ScatterAnswer {
    /// How many draws.
    pub draws: usize,
    /// The seed that gives the same draws again.
    pub seed: u64,
    /// Share of the draws that reach the hold target.
    pub meets: f64,
    /// Standard error of that share (binomial).
    pub meets_se: f64,
    /// Margin that 95 in 100 draws exceed, multiples of the weight.
    pub fifth_percentile_x_weight: f64,
    /// Median margin.
    pub median_x_weight: f64,
    /// Margin with everything at its weak end.
    pub worst_case_x_weight: f64,
    /// Standard deviation of the margin.
    pub sd_x_weight: f64,
    /// Each source's share of the variance by itself (first-order Sobol index), 0 to 1.
    pub shares: Vec<(Source, f64)>,
    /// Standard error of such a share.
    pub share_se: f64,
}

/// A joint that cannot be drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum ScatterError {
    /// The number of draws is out of range.
    Draws {
        /// The number given.
        given: usize,
    },
    /// The joint has no such load, or nothing in it pulls.
    NothingToDraw,
    /// The field formulas refuse a size.
    Field(FieldError),
    /// The statics refuse a number.
    Hold(HoldError),
}

impl fmt::Display for ScatterError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Draws { given } => write!(
                f,
                "{given} draws asked for; it must be from {} to {}: choose a number between",
                DRAWS.start(),
                DRAWS.end()
            ),
            Self::NothingToDraw => f.write_str(
                "nothing pulls or loads this joint: fit magnets and put a part in its socket first",
            ),
            Self::Field(e) => write!(f, "{e}"),
            Self::Hold(e) => write!(f, "{e}"),
        }
    }
}

impl std::error::Error for ScatterError {}

impl From<FieldError> for ScatterError {
    fn from(e: FieldError) -> Self {
        Self::Field(e)
    }
}

impl From<HoldError> for ScatterError {
    fn from(e: HoldError) -> Self {
        Self::Hold(e)
    }
}

/// Draws the margin of one load of a joint.
///
/// Each draw: holes wander in both directions on both sides and magnets sit deeper or shallower and lean, each by normal
/// scatter of the plan's standard deviations; coats are thicker or thinner all over by one normal factor; each lot of
/// magnets is somewhere in its grade's range and the parts within the spread of their mass, evenly; the model is at its
/// warmest. A gap is never less than nothing, and a magnet leans no more than its gap lets it. Steel feels neither offset
/// nor lean. The shares are first-order Sobol indices by the pick-freeze estimator (Sobol 1993; Janon et al. 2014) on a
/// quarter as many pairs of draws.
///
/// # Errors
/// [`ScatterError`]: see there.
pub fn scatter(
    model: &JointModel,
    load: usize,
    draws: usize,
    seed: u64,
) -> Result<ScatterAnswer, ScatterError> {
    if !DRAWS.contains(&draws) {
        return Err(ScatterError::Draws { given: draws });
    }
    let load = model.loads.get(load).ok_or(ScatterError::NothingToDraw)?;
    let drawn = Drawn::of(model, load)?;
    let mut random = oorandom::Rand64::new(u128::from(seed));
    let mut inputs = Inputs::new(&drawn.layout);
    let mut margins: Vec<f64> = Vec::with_capacity(draws);
    for _ in 0..draws {
        inputs.draw(&mut random);
        margins.push(drawn.margin_g(&inputs));
    }
    let count = draws as f64;
    let meets = margins.iter().filter(|m| model.reaches(**m)).count() as f64 / count;
    let (_, sd_x_weight) = mean_and_sd(&margins);
    sort_by(&mut margins, f64::total_cmp);
    let at = |share: f64| margins[((count * share) as usize).min(draws - 1)];
    let pairs = (draws / 4).max(25);
    Ok(ScatterAnswer {
        draws,
        seed,
        meets,
        meets_se: (meets * (1.0 - meets) / count).sqrt(),
        fifth_percentile_x_weight: at(0.05),
        median_x_weight: at(0.5),
        worst_case_x_weight: drawn.worst_case_x_weight,
        sd_x_weight,
        shares: drawn.shares(pairs, &mut random),
        share_se: 1.0 / (pairs as f64).sqrt(),
    })
}

/// A joint ready to be drawn.
struct Drawn<'a> {
    model: &'a JointModel,
    load: &'a ModelLoad,
    layout: Layout,
    tables: Vec<Rc<PullTable>>,
    margin: QuickMargin,
    worst_case_x_weight: f64,
}

impl<'a> Drawn<'a> {
    fn of(model: &'a JointModel, load: &'a ModelLoad) -> Result<Self, ScatterError> {
        let weak = model.pulls(End::Weak);
        if weak.iter().map(|p| p.force_n).sum::<f64>() <= 0.0 {
            return Err(ScatterError::NothingToDraw);
        }
        let margin = model.under(load, &weak, QuickMargin::new)?;
        Ok(Self {
            model,
            load,
            layout: Layout::of(model),
            tables: tables(&model.plan, model)?,
            worst_case_x_weight: margin.margin_g(&weak, load.weight_n()),
            margin,
        })
    }

    fn margin_g(&self, inputs: &Inputs) -> f64 {
        let scatter = &self.model.plan.settings.scatter;
        let mut pulls: Vec<Pull> = Vec::with_capacity(self.tables.len().max(1));
        if let Some(force_n) = self.model.pin_n {
            pulls.push(Pull {
                at_mm: self.model.peg.at_mm,
                force_n,
            });
        }
        for (i, (pair, table)) in self.model.pairs.iter().zip(&self.tables).enumerate() {
            let at = inputs.pair(i);
            let wander = |k: usize| scatter.position_sd_mm * at.position[k];
            let here = [
                pair.socket.at_mm[0] + wander(0),
                pair.socket.at_mm[1] + wander(1),
            ];
            let there = [
                pair.plug.at_mm[0] + wander(2),
                pair.plug.at_mm[1] + wander(3),
            ];
            let gap_mm = pair.gap_mm
                + scatter.depth_sd_mm * (at.depth[0] + at.depth[1])
                + pair.coats_mm * scatter.coats_sd_share * inputs.coats();
            let lean = [
                scatter.tilt_sd_deg * (at.tilt[0] - at.tilt[2]),
                scatter.tilt_sd_deg * (at.tilt[1] - at.tilt[3]),
            ];
            let offset = [there[0] - here[0], there[1] - here[1]];
            let strength = [
                inputs.strength(pair.socket.filling),
                inputs.strength(pair.plug.filling),
            ];
            let force_n = table.pull_n(gap_mm.max(0.0), offset, lean, strength);
            pulls.push(Pull {
                at_mm: here,
                force_n: if pair.attracts { force_n } else { -force_n },
            });
        }
        // Evenly from as much under the estimate as the upper end is over it.
        let mass_g = self.load.likely_g
            + (self.load.mass_g - self.load.likely_g) * (2.0 * inputs.mass() - 1.0);
        self.margin.margin_g(&pulls, mass_g / 1000.0 * G_M_S2)
    }

    /// First-order Sobol indices: how much two draws that share one source alone vary together.
    fn shares(&self, pairs: usize, random: &mut oorandom::Rand64) -> Vec<(Source, f64)> {
        let (mut a, mut b) = (Inputs::new(&self.layout), Inputs::new(&self.layout));
        let mut first = Vec::with_capacity(pairs);
        let mut frozen = vec![Vec::with_capacity(pairs); Source::ALL.len()];
        for _ in 0..pairs {
            a.draw(random);
            b.draw(random);
            first.push(self.margin_g(&a));
            for (source, list) in Source::ALL.iter().zip(&mut frozen) {
                list.push(self.margin_g(&b.with(&a, *source)));
            }
        }
        let n = pairs as f64;
        let of = |list: &[f64]| {
            // The estimator of Janon et al.: both samples share one mean and one variance.
            let both = || first.iter().zip(list);
            let mean = both().map(|(x, y)| (x + y) / 2.0).sum::<f64>() / n;
            let square = both().map(|(x, y)| (x * x + y * y) / 2.0).sum::<f64>() / n;
            let product = both().map(|(x, y)| x * y).sum::<f64>() / n;
            let variance = square - mean * mean;
            if variance > 1e-18 * square {
                ((product - mean * mean) / variance).clamp(0.0, 1.0)
            } else {
                0.0
            }
        };
        Source::ALL
            .into_iter()
            .zip(frozen.iter().map(|list| of(list)))
            .collect()
    }
}

/// By pair; pairs of the same two sizes share one, since making it costs as much as thousands of draws.
fn tables(plan: &Plan, model: &JointModel) -> Result<Vec<Rc<PullTable>>, FieldError> {
    let mut made: Vec<([Filling; 2], Rc<PullTable>)> = Vec::new();
    let mut table = |pair: &ModelPair| {
        let sizes = [pair.socket.filling, pair.plug.filling];
        if let Some((_, known)) = made.iter().find(|(s, _)| *s == sizes) {
            return Ok(Rc::clone(known));
        }
        let fresh = Rc::new(PullTable::of(plan, pair)?);
        made.push((sizes, Rc::clone(&fresh)));
        Ok(fresh)
    };
    model.pairs.iter().map(&mut table).collect()
}

fn mean_and_sd(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (n - 1.0).max(1.0);
    (mean, variance.sqrt())
}
