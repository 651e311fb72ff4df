//! Parts against parts in the report.

use lodewright_kit::{PartIx, VariantIx};
use serde::Serialize;

use super::names::Names;

/// Two parts that do not go together where they sit.
#[derive(Clone, Debug, Serialize)]
pub struct ClashReport {
    /// Ids of the two parts; of a part that cannot be put on first that one, then what is in its way.
    pub parts: [String; 2],
    /// How deep they run into each other, mm; null where one cannot be put on.
    pub deep_mm: Option<f64>,
    /// Ids of the variants in which that may be.
    pub variants: Vec<String>,
    /// The same as a sentence.
    pub said: String,
}

impl Names<'_> {
    pub(super) fn clashes(&self) -> Vec<ClashReport> {
        let found = self.analysis.clashes();
        let clash = |parts: [PartIx; 2], deep_mm, variants: &[VariantIx], said| ClashReport {
            parts: parts.map(|p| self.part(p)),
            deep_mm,
            variants: variants.iter().map(|v| self.variant(*v)).collect(),
            said,
        };
        let barred = found.barred.iter().map(|b| {
            let said = self.analysis.barred_words(b);
            clash([b.part, b.behind], None, &b.variants, said)
        });
        let overlaps = found.overlaps.iter().map(|c| {
            let said = self.analysis.clash_words(c);
            clash(c.parts, Some(c.deep_mm), &c.variants, said)
        });
        barred.chain(overlaps).collect()
    }
}
