//! Parts against parts in words.

use lodewright_assembly::{Barred, Clash};
use lodewright_kit::{Ix, VariantIx};

use crate::Analysis;

impl Analysis {
    /// How two parts run into each other, as a sentence.
    pub fn clash_words(&self, clash: &Clash) -> String {
        let [a, b] = clash.parts.map(|p| &self.plan().parts[p].name);
        format!(
            "{a} and {b} run into each other by {:.1} mm{}.",
            clash.deep_mm,
            self.in_variants(&clash.variants)
        )
    }

    /// That a part cannot be put on, as a sentence.
    pub fn barred_words(&self, barred: &Barred) -> String {
        let [part, behind] = [barred.part, barred.behind].map(|p| &self.plan().parts[p].name);
        format!(
            "{part} cannot be put on{}: {behind} is in its way.",
            self.in_variants(&barred.variants)
        )
    }

    /// Everything that runs into each other or cannot be put on, as sentences, the worst first.
    pub fn all_clash_words(&self) -> Vec<String> {
        let found = self.clashes();
        let barred = found.barred.iter().map(|b| self.barred_words(b));
        let overlaps = found.overlaps.iter().map(|c| self.clash_words(c));
        let unfinished = (!found.is_whole).then(|| {
            "There are too many parts in too many places to look at every pair.".to_owned()
        });
        barred.chain(overlaps).chain(unfinished).collect()
    }

    /// ` in Winter`, ` in Winter and 2 more variants`, or nothing where it is in all of them.
    fn in_variants(&self, variants: &[VariantIx]) -> String {
        let Some(first) = variants.first() else {
            return String::new();
        };
        let name = &self.plan().variants[first.get()].name;
        match variants.len() {
            n if n == self.plan().variants.len() => String::new(),
            1 => format!(" in {name}"),
            2 => format!(" in {name} and one more variant"),
            n => format!(" in {name} and {} more variants", n - 1),
        }
    }
}
