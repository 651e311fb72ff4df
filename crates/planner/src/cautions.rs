//! Cautions for the bench, each with the kinds of step that it belongs to.

use lodewright_bench::StepKind;
use lodewright_joints::{Filling, magnet_facts};
use lodewright_kit::{Ix, MagnetIx};

use crate::Analysis;

/// One caution.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What it is about, in a word or two.
    pub about: &'static str,
    /// The sentences.
    pub said: String,
    /// The kinds of step before which it is worth reading.
    pub before: &'static [StepKind],
}

/// What stands above all of them.
pub const FIRST_OF_ALL: &str =
    "Local rules and the makers' data sheets come first; these lines only remind.";

/// From this diameter on, two magnets that jump together are worth safety glasses, mm (common practice, no source).
const LARGER_MM: f64 = 8.0;

impl Analysis {
    /// The cautions for the plan's work.
    pub fn cautions(&self) -> Vec<Caution> {
        let of = |about, before, said: &str| Caution {
            about,
            said: said.to_owned(),
            before,
        };
        vec![
            of(
                "Drills and blades",
                &[StepKind::Drill, StepKind::CutPeg],
                "Turn small bits by hand, in a pin vice. Never hold the part behind the drill: lay it on scrap. Cut away from your fingers.",
            ),
            of(
                "Dust",
                &[StepKind::Drill, StepKind::CutPeg],
                "Sand wet and wear a mask (P2, N95 or better) and glasses; wipe the dust up wet.",
            ),
            Caution {
                about: "Magnets",
                said: magnets(self),
                before: &[StepKind::PoleCheck, StepKind::GluePiece],
            },
            of(
                "Glue",
                &[StepKind::GluePiece, StepKind::GlueJoint],
                "Fumes of glue and solvent want an open window or an extractor, and no flame near. Wear glasses with instant glue.",
            ),
            of(
                "UV resin",
                &[StepKind::GluePiece],
                "Gloves against uncured resin, glasses against the lamp. Light does not pass through a magnet: resin behind one stays wet.",
            ),
            of(
                "Paint",
                &[StepKind::Paint],
                "Spray with an extractor or outdoors, with a mask that is made for the vapours of the paint in use.",
            ),
        ]
    }
}

fn magnets(analysis: &Analysis) -> String {
    let plan = analysis.plan();
    let mut said = "Magnets jump, pinch and splinter: keep apart what is not glued.".to_owned();
    let used = |i: MagnetIx| analysis.fillings().values().contains(&Filling::Magnet(i));
    let sizes = || MagnetIx::each(&plan.stock.magnets).filter(|(i, _)| used(*i));
    if sizes().any(|(_, m)| m.diameter_mm >= LARGER_MM) {
        said.push_str(" Some here are large enough to throw splinters: wear glasses.");
    } else {
        said.push_str(" Wear glasses with larger ones.");
    }
    said.push_str(" Keep them from children, since swallowed magnets injure gravely, and 15 cm from pacemakers.");
    let facts = magnet_facts(plan);
    let over = sizes()
        .filter(|(i, _)| facts.get(i.get()).is_some_and(|f| f.over_toy_limit))
        .count();
    if over > 0 {
        let sizes = if over == 1 {
            "One size here is".to_owned()
        } else {
            format!("{over} sizes here are")
        };
        said.push_str(&format!(
            " {sizes} above the flux index of 50 kG²mm² that toy rules allow for loose magnets."
        ));
    }
    said
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{Edit, Plan};

    use super::*;

    fn said(plan: &Plan) -> String {
        magnets(&Analysis::of(plan.clone()).unwrap())
    }

    #[test]
    fn larger_magnets_ask_for_glasses_only_where_they_are_used() {
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid("\tA\tB\nNose\tPlough\tHook".to_owned()))
            .unwrap();
        assert!(said(&plan).contains("with larger ones"));
        let mut big = plan.clone();
        big.stock.magnets.retain(|m| m.diameter_mm == 5.0);
        big.stock.magnets[0].diameter_mm = 10.0;
        for socket in &mut big.sockets {
            socket.sites[0].max_diameter_mm = 12.0;
        }
        assert!(
            said(&big).contains("splinters: wear glasses"),
            "{}",
            said(&big)
        );
        assert!(said(&big).contains("flux index"), "{}", said(&big));
    }

    #[test]
    fn every_kind_of_step_that_cuts_glues_or_sprays_has_one() {
        let all = Analysis::of(Plan::empty("t")).unwrap().cautions();
        for kind in [
            StepKind::Drill,
            StepKind::CutPeg,
            StepKind::PoleCheck,
            StepKind::GluePiece,
            StepKind::GlueJoint,
            StepKind::Paint,
        ] {
            assert!(all.iter().any(|c| c.before.contains(&kind)), "{kind:?}");
        }
    }
}
