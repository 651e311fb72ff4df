//! The magnets and pieces of steel in the report, and where their poles contradict each other.

use lodewright_assembly::JointIx;
use lodewright_kit::Pole;
use serde::Serialize;

use super::names::Names;

/// A magnet or a piece of steel.
#[derive(Clone, Debug, Serialize)]
pub struct PieceReport {
    /// The hole it is in: `part:plug-or-socket/site`.
    pub hole: String,
    /// Id of the part.
    pub part: String,
    /// Id of the stock size.
    pub stock: String,
    /// `magnet` or `steel`.
    pub kind: &'static str,
    /// The pole out at its first face; null for steel.
    pub pole_out: Option<Pole>,
    /// Whether it shows the other pole at a second face.
    pub through: bool,
}

/// Matings that cannot all attract.
#[derive(Clone, Debug, Serialize)]
pub struct ContradictionReport {
    /// The holes in order.
    pub holes: Vec<String>,
    /// The joints in order.
    pub joints: Vec<String>,
    /// The story.
    pub story: Vec<String>,
}

impl Names<'_> {
    pub(super) fn pieces(&self) -> Vec<PieceReport> {
        let a = self.analysis;
        a.fillings()
            .iter()
            .filter_map(|(h, filling)| {
                let (stock, kind) = self.stock(*filling)?;
                let hole = &a.holes().holes[h];
                Some(PieceReport {
                    hole: self.hole(h),
                    part: self.part(hole.part),
                    stock,
                    kind,
                    pole_out: a.poles()[h],
                    through: hole.through,
                })
            })
            .collect()
    }

    pub(super) fn contradictions(&self) -> Vec<ContradictionReport> {
        let joint = |j: &JointIx| self.joint(self.analysis.board().joints[*j]);
        let all = self.analysis.contradictions().iter();
        all.map(|c| ContradictionReport {
            holes: self.holes(&c.holes),
            joints: c.joints.iter().flatten().map(joint).collect(),
            story: self.analysis.contradiction_words(c).story,
        })
        .collect()
    }
}
