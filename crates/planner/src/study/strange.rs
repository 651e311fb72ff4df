//! Magnets that are not meant to meet, in words.

use lodewright_joints::{Meeting, UnintendedPair};

use crate::Analysis;
use crate::words::mm;

/// A pair of magnets that feel each other though nobody wants it.
#[derive(Clone, Debug, PartialEq)]
pub struct UnintendedPairWords {
    /// The pair.
    pub pair: UnintendedPair,
    /// What happens, in a sentence or two.
    pub said: String,
    /// What would help.
    pub remedy: String,
}

impl Analysis {
    /// Every such pair above the plan's limit, strongest first.
    pub fn unintended_pairs(&self) -> Vec<UnintendedPairWords> {
        let (context, fillings) = (self.context(), self.fillings());
        let found = lodewright_joints::unintended_pairs(context, fillings, self.poles());
        found
            .into_iter()
            .map(|pair| self.unintended_words(pair))
            .collect()
    }

    fn unintended_words(&self, pair: UnintendedPair) -> UnintendedPairWords {
        let [a, b] = pair.holes.map(|hole| self.hole_words(hole).said());
        let said = if pair.overlap {
            format!("{a} and {b}: the magnets would share space.")
        } else {
            let how = match pair.attract {
                Some(true) => "attract each other",
                Some(false) => "repel each other",
                None => "feel each other",
            };
            let when = match pair.meeting {
                Meeting::SideBySide => ", side by side",
                Meeting::ThroughThePart => ", through the part",
                Meeting::PartAndHost => "",
            };
            let joint = pair
                .joint
                .map(|j| format!(" while {} is on", self.joint_words(j)))
                .unwrap_or_default();
            format!(
                "{a} and {b} {how}{when}{joint} with {:.2} N at {} mm.",
                pair.force_n,
                mm(pair.apart_mm)
            )
        };
        let glue = match pair.meeting {
            Meeting::PartAndHost => "",
            _ => " Or glue one, let it cure fully, and only then set the other.",
        };
        let remedy = match pair.enough_mm {
            Some(enough_mm) if enough_mm > pair.apart_mm => format!(
                "With their centres {} mm apart it is under {} N.{glue}",
                mm(enough_mm),
                mm(self.plan().settings.stranger_limit_n)
            ),
            _ => format!("Move one of them to another face, or choose smaller ones.{glue}"),
        };
        UnintendedPairWords { pair, said, remedy }
    }
}
