//! The whole analysis as one document, by ids instead of indices; the same plan gives the same bytes on every machine.

mod clashes;
mod desk;
mod joints;
mod names;
mod pieces;
mod variants;

use std::fmt;

use lodewright_kit::Problem;
use lodewright_planfile::ReadError;
use serde::Serialize;

use crate::Analysis;
use names::Names;

pub use clashes::ClashReport;
pub use desk::{BuyLineReport, BuyReport, DrillReport, StepReport, WorkReport};
pub use joints::{HoldReport, JointReport, LetGoReport, PairReport, ReasonReport};
pub use pieces::{ContradictionReport, PieceReport};
pub use variants::{GlueReport, SwapReport, VariantReport};

/// No report can be made.
#[derive(Debug)]
pub enum ReportError {
    /// The file cannot be read.
    Read(ReadError),
    /// The plan has no answers.
    Refused(Vec<Problem>),
    /// The report cannot be written as JSON.
    Write(serde_json::Error),
}

impl fmt::Display for ReportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(e) => e.fmt(f),
            Self::Refused(all) => all.iter().try_for_each(|p| writeln!(f, "{p}")),
            Self::Write(e) => write!(f, "The report cannot be written: {e}."),
        }
    }
}

impl std::error::Error for ReportError {}

/// The analysis of a plan file as indented JSON with a newline at its end.
///
/// # Errors
/// [`ReportError`] where the file cannot be read or has no answers.
pub fn report_json(file: &[u8]) -> Result<String, ReportError> {
    let plan = lodewright_planfile::read(file)
        .map_err(ReportError::Read)?
        .plan;
    let analysis = Analysis::of(plan).map_err(ReportError::Refused)?;
    let mut text = serde_json::to_string_pretty(&analysis.report()).map_err(ReportError::Write)?;
    text.push('\n');
    Ok(text)
}

impl Analysis {
    /// Every answer to the plan.
    pub fn report(&self) -> Report {
        Report::of(&Names {
            plan: self.plan(),
            analysis: self,
        })
    }
}

/// Every answer to a plan.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    /// Always `lodewright-report`.
    pub format: &'static str,
    /// Version of this layout.
    pub version: u32,
    /// Title of the plan.
    pub title: String,
    /// What does not fit together.
    pub problems: Vec<Problem>,
    /// Distinct legal models of all variants together; null where there are too many to count.
    pub legal_models: Option<String>,
    /// By variant.
    pub variants: Vec<VariantReport>,
    /// What may be glued.
    pub glue: GlueReport,
    /// Every joint.
    pub joints: Vec<JointReport>,
    /// Every magnet and piece of steel.
    pub pieces: Vec<PieceReport>,
    /// Sets of matings that cannot all attract.
    pub contradictions: Vec<ContradictionReport>,
    /// Ids of the sockets that nobody has placed: what depends on their places is not known.
    pub unplaced: Vec<String>,
    /// Holes that want a magnet that no stock size fits.
    pub nothing_fits: Vec<String>,
    /// What to buy.
    pub buy: BuyReport,
    /// Holes to drill, by bit.
    pub drill: Vec<DrillReport>,
    /// The work.
    pub work: WorkReport,
    /// Parts that run into each other, and parts that cannot be put on.
    pub clashes: Vec<ClashReport>,
    /// Changes from every variant to every other.
    pub swaps: Vec<SwapReport>,
}

impl Report {
    fn of(names: &Names<'_>) -> Self {
        let analysis = names.analysis;
        Self {
            format: "lodewright-report",
            version: 1,
            title: names.plan.title.clone(),
            problems: analysis.problems().to_vec(),
            legal_models: analysis.models().map(ToString::to_string),
            variants: names.variants(),
            glue: names.glue(),
            joints: names.joints(),
            pieces: names.pieces(),
            contradictions: names.contradictions(),
            unplaced: analysis
                .unplaced()
                .into_iter()
                .map(|s| names.plan.sockets[s].id.to_string())
                .collect(),
            nothing_fits: names.holes(analysis.nothing_fits()),
            buy: names.buy(),
            drill: names.drill(),
            work: names.work(),
            clashes: names.clashes(),
            swaps: names.swaps(),
        }
    }
}
