//! The verdict on a joint as sentences.

use lodewright_planner::joints::{HoldCase, LetGoCase, Reason, as_grams};
use lodewright_planner::kit::Plan;
use lodewright_planner::{JointAnswer, attitude_words, misfit_words, would_give_way_words};

use super::names::{grams, newtons, times};
use super::status::{Status, status};
use crate::format::number;

/// The sentence that comes first.
pub fn verdict(plan: &Plan, joint: &JointAnswer) -> String {
    let what = &joint.words;
    match status(joint) {
        Status::Glued => format!(
            "{what} may be glued for good: the two parts are always used together, in this position."
        ),
        Status::Loose => format!("{what} lies loose: nothing holds it, and nothing is meant to."),
        Status::Unused => format!(
            "{what} is in no model that can be built: the grid asks for a part of it in two places."
        ),
        Status::Pin(_) | Status::Holds(_) => held(plan, joint),
        Status::Against(reason) => against(plan, joint, &reason),
    }
}

fn against(plan: &Plan, joint: &JointAnswer, reason: &Reason) -> String {
    let what = &joint.words;
    let but = match reason {
        Reason::Repels { .. } => {
            return format!(
                "{what} repels: two magnets that meet show the same pole. The page Magnets tells why, with ways out."
            );
        }
        Reason::NothingPulls => return format!("{what} is not held: nothing pulls it on."),
        Reason::NoContact => {
            return format!("{what} has no contact: the outlines of the two faces do not overlap.");
        }
        Reason::CannotTell => {
            return format!(
                "{what} cannot be worked out: a number is beyond what the formulas take. Look through its sizes and masses."
            );
        }
        Reason::TooWeak { .. } => "That is not enough.".to_owned(),
        Reason::ShakenOff { attitude, shake_g } => format!(
            "But {} it bears only {} g of shaking, and {} g is asked for.",
            attitude_words(*attitude),
            number((shake_g.max(0.0) * 10.0).floor() / 10.0),
            number(plan.settings.shake_g)
        ),
        Reason::HardToPull { hand_n } => format!(
            "But it takes {} to pull off, more than the {} that you called comfortable.",
            newtons(*hand_n),
            newtons(plan.settings.hand_limit_n)
        ),
        Reason::GlueOverloaded { .. } => {
            "But a magnet pulls harder than its glue may bear.".to_owned()
        }
        Reason::SnapsFirst { .. } => "But its thin part may snap before it comes off.".to_owned(),
        Reason::NoRoom { misfit, .. } => {
            let [what, help] = misfit_words(*misfit);
            return format!("{what} {help}");
        }
        Reason::NotPlaced { socket } => {
            return format!(
                "What {what} bears is not known before {} has its place.",
                plan.sockets[*socket].name
            );
        }
    };
    format!("{} {but}", held(plan, joint))
}

/// What it holds in the worst case.
fn held(plan: &Plan, joint: &JointAnswer) -> String {
    let (what, Some(hold)) = (&joint.words, joint.report.worst()) else {
        return format!("{} carries nothing.", joint.words);
    };
    format!(
        "{what} holds {} times {} in the worst direction; it would {} first. Target {}.",
        times(hold.margin_x_weight),
        carried(hold),
        would_give_way_words(hold.gives_way),
        number(plan.settings.hold_target_g)
    )
}

fn carried(hold: &HoldCase) -> String {
    if hold.lifted {
        format!(
            "the weight of the model that hangs by it ({})",
            grams(hold.mass_g)
        )
    } else {
        "its weight".to_owned()
    }
}

/// The variant in which it is worst, where there are several.
pub fn worst_variant(plan: &Plan, joint: &JointAnswer) -> Option<String> {
    if joint.report.holds.len() < 2 {
        return None;
    }
    let name = &plan.variants[joint.report.worst()?.variant].name;
    Some(format!(
        "The worst of its {} variants is {name}.",
        joint.report.holds.len()
    ))
}

/// Taking the part off by hand.
pub fn hand(plan: &Plan, joint: &JointAnswer) -> String {
    let (pull_n, limit_n) = (joint.report.hand_n, plan.settings.hand_limit_n);
    let hard = |r: &Reason| matches!(r, Reason::HardToPull { .. });
    let end = if joint.report.reasons.iter().any(hard) {
        "more than is comfortable: expect to tilt it off over one edge, or fit smaller magnets"
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
    use lodewright_planner::Analysis;

    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn every_verdict_names_the_joint_and_ends() {
        for plan in samples::plans() {
            let answers = Analysis::of(plan.clone()).unwrap();
            for joint in answers.joints().values() {
                let said = verdict(&plan, joint);
                assert!(said.starts_with(&joint.words), "{said}");
                assert!(said.ends_with('.') && !said.contains("  "), "{said}");
            }
        }
    }

    #[test]
    fn a_margin_comes_with_direction_and_target() {
        let plan = samples::demo();
        let answers = Analysis::of(plan.clone()).unwrap();
        let held: Vec<_> = answers
            .joints()
            .values()
            .iter()
            .filter(|j| matches!(status(j), Status::Holds(_)))
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
