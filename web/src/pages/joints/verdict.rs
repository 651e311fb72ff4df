//! The verdict on a joint as sentences.

use lodewright_planner::JointAnswer;
use lodewright_planner::joints::{HoldCase, LetGoCase, ModeWord, as_grams};
use lodewright_planner::kit::Plan;

use super::names::{grams, newtons, times};
use super::status::{Status, status, worst};
use crate::format::number;

/// The sentence that comes first.
pub fn verdict(plan: &Plan, joint: &JointAnswer) -> String {
    let what = &joint.words;
    match status(plan, joint) {
        Status::Glued => {
            format!(
                "{what} may be glued for good: wherever either of the two parts is used, both are, just so."
            )
        }
        Status::Loose => format!("{what} lies loose: nothing holds it, and nothing is meant to."),
        Status::Repels => format!(
            "{what} repels: two magnets that meet show the same pole. The page Magnets tells why, with ways out."
        ),
        Status::NothingPulls => format!("{what} is not held: nothing pulls it on."),
        Status::NoContact => {
            format!("{what} has no contact: the outlines of the two faces do not overlap.")
        }
        Status::Under(_) | Status::Pin(_) | Status::Holds(_) => {
            worst(joint).map_or_else(String::new, |hold| held(plan, what, hold))
        }
    }
}

fn held(plan: &Plan, what: &str, hold: &HoldCase) -> String {
    let weight = if hold.lifted {
        format!(
            "the weight of the model that hangs by it ({})",
            grams(hold.mass_g)
        )
    } else {
        "its weight".to_owned()
    };
    let target = number(plan.settings.hold_target_g);
    let short = if hold.reaches_target {
        ""
    } else {
        " That is not enough."
    };
    format!(
        "{what} holds {} times {weight} in the worst direction; it would {} first. Target {target}.{short}",
        times(hold.margin_g),
        would(hold),
    )
}

/// `slides sideways` as what it would do.
fn would(hold: &HoldCase) -> String {
    let said = hold.mode_said.as_str();
    match hold.mode {
        ModeWord::Slide => "slide sideways".to_owned(),
        ModeWord::Turn => "turn in its plane".to_owned(),
        ModeWord::SlideTurn => "slide and turn".to_owned(),
        ModeWord::Pull if said.starts_with("droops") => {
            "droop, then be pulled straight off".to_owned()
        }
        ModeWord::Pull => "be pulled straight off".to_owned(),
        ModeWord::Tip => said.replacen("tips", "tip", 1),
        ModeWord::NoContact | ModeWord::NoPull => "come off".to_owned(),
    }
}

/// The variant in which it is worst, where there are several.
pub fn worst_variant(plan: &Plan, joint: &JointAnswer) -> Option<String> {
    let counts = matches!(
        status(plan, joint),
        Status::Under(_) | Status::Pin(_) | Status::Holds(_)
    );
    if !counts || joint.account.holds.len() < 2 {
        return None;
    }
    let name = &plan.variants.get(worst(joint)?.variant)?.name;
    Some(format!(
        "The worst of its {} variants is {name}.",
        joint.account.holds.len()
    ))
}

/// Taking the part off by hand.
pub fn hand(plan: &Plan, joint: &JointAnswer) -> String {
    let (pull_n, limit_n) = (joint.account.hand_n, plan.settings.hand_limit_n);
    let end = if pull_n > limit_n {
        "more than is comfortable: expect to rock it off over an edge, or fit smaller magnets"
    } else {
        "within reach of two fingers"
    };
    format!(
        "Pulled straight off at the strong end of all tolerances it takes {} (as {} hanging from it), against a limit of {}: {end}.",
        newtons(pull_n),
        grams(as_grams(pull_n)),
        newtons(limit_n)
    )
}

/// Whether it lets go before the part snaps.
pub fn let_go(plan: &Plan, case: &LetGoCase) -> String {
    let safety = number(plan.settings.snap_safety);
    let snaps = newtons(case.snaps_n);
    match case.opens_n {
        None => format!(
            "The snug peg keeps this joint from tipping open, so a knock of {snaps} at the tip snaps the thin part first. Loosen the peg's hole, or cut the peg off."
        ),
        Some(opens_n) if case.lets_go => format!(
            "It lets go in time: {} at the tip opens the joint, {snaps} would snap the thin part, {} times as much (asked for: {safety}).",
            newtons(opens_n),
            times(case.snaps_n / opens_n.max(1e-9))
        ),
        Some(opens_n) => format!(
            "It may snap first: the joint opens only at {} at the tip, the thin part snaps at {snaps}, and {safety} times the opening force is asked for. Fit a smaller magnet, or steel on one side.",
            newtons(opens_n)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn every_verdict_names_the_joint_and_ends() {
        for plan in samples::plans() {
            let answers = lodewright_planner::derive(&plan).unwrap();
            for joint in &answers.joints {
                let said = verdict(&plan, joint);
                assert!(said.starts_with(&joint.words), "{said}");
                assert!(said.ends_with('.') && !said.contains("  "), "{said}");
            }
        }
    }

    #[test]
    fn a_margin_comes_with_direction_and_target() {
        let plan = samples::demo();
        let answers = lodewright_planner::derive(&plan).unwrap();
        let held: Vec<_> = answers
            .joints
            .iter()
            .filter(|j| matches!(status(&plan, j), Status::Holds(_) | Status::Under(_)))
            .map(|j| verdict(&plan, j))
            .collect();
        assert!(!held.is_empty());
        for said in held {
            for word in [" times ", "in the worst direction", " would ", "Target 3."] {
                assert!(said.contains(word), "{said}");
            }
            assert!(
                !said.contains("would tips") && !said.contains("would is"),
                "{said}"
            );
        }
    }

    #[test]
    fn letting_go_is_told_either_way() {
        let plan = samples::demo();
        let case = |opens_n, lets_go| {
            let_go(
                &plan,
                &LetGoCase {
                    opens_n,
                    snaps_n: 2.0,
                    lets_go,
                },
            )
        };
        assert!(case(Some(0.5), true).starts_with("It lets go in time"));
        assert!(case(Some(0.5), true).contains("4.0 times"));
        assert!(case(Some(1.9), false).starts_with("It may snap first"));
        assert!(case(None, false).contains("peg"));
    }
}
