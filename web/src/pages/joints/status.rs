//! How a joint stands, as a word with a shape of its own; colour only repeats it.

use lodewright_planner::JointAnswer;
use lodewright_planner::joints::{Held, HoldCase, ModeWord};
use lodewright_planner::kit::Plan;
use yew::prelude::*;

use super::names::times;

/// How a joint stands, the most urgent first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Status {
    /// Two magnets push each other off.
    Repels,
    /// Nothing is fitted that could hold it.
    NothingPulls,
    /// The outlines do not overlap.
    NoContact,
    /// Holds less than the target.
    Under(f64),
    /// A friction pin holds it, by this margin.
    Pin(f64),
    /// Holds by this margin.
    Holds(f64),
    /// Lies there.
    Loose,
    /// May be glued.
    Glued,
}

/// The case with the smallest margin.
pub fn worst(joint: &JointAnswer) -> Option<&HoldCase> {
    joint
        .account
        .holds
        .iter()
        .min_by(|a, b| a.margin_g.total_cmp(&b.margin_g))
}

/// How a joint stands.
pub fn status(plan: &Plan, joint: &JointAnswer) -> Status {
    let account = &joint.account;
    match account.held {
        Held::Glued => return Status::Glued,
        Held::Loose => return Status::Loose,
        Held::Magnets | Held::Friction => {}
    }
    if account
        .pairs
        .iter()
        .any(|p| p.weak_n < 0.0 || p.strong_n < 0.0)
    {
        return Status::Repels;
    }
    let Some(hold) = worst(joint) else {
        return Status::NothingPulls;
    };
    match hold.mode {
        ModeWord::NoPull => Status::NothingPulls,
        ModeWord::NoContact => Status::NoContact,
        _ if hold.margin_g < plan.settings.hold_target_g => Status::Under(hold.margin_g),
        _ if account.held == Held::Friction => Status::Pin(hold.margin_g),
        _ => Status::Holds(hold.margin_g),
    }
}

/// What else is wrong with a joint, in a few words each.
pub fn cautions(plan: &Plan, joint: &JointAnswer) -> Vec<&'static str> {
    let account = &joint.account;
    let snaps = account.let_go.is_some_and(|l| !l.lets_go);
    let tears = account.pairs.iter().any(|p| !p.bond_ok);
    let hard = account.hand_n > plan.settings.hand_limit_n;
    let all = [
        (snaps, "may snap first"),
        (tears, "glue may tear"),
        (hard, "hard to pull off"),
    ];
    all.into_iter()
        .filter(|(is, _)| *is)
        .map(|(_, word)| word)
        .collect()
}

impl Status {
    /// The word, with its number.
    pub fn words(self) -> String {
        match self {
            Self::Repels => "repels".to_owned(),
            Self::NothingPulls => "nothing pulls".to_owned(),
            Self::NoContact => "no contact".to_owned(),
            Self::Under(m) => format!("under target: {}\u{a0}\u{d7}\u{a0}weight", times(m)),
            Self::Pin(m) => format!("friction pin, holds {}\u{a0}\u{d7}\u{a0}weight", times(m)),
            Self::Holds(m) => format!("holds {}\u{a0}\u{d7}\u{a0}weight", times(m)),
            Self::Loose => "lies loose".to_owned(),
            Self::Glued => "glue for good".to_owned(),
        }
    }

    /// Whether the builder should look at it.
    pub fn is_trouble(self) -> bool {
        matches!(
            self,
            Self::Repels | Self::NothingPulls | Self::NoContact | Self::Under(_)
        )
    }

    /// Smaller is more urgent.
    pub fn urgency(self) -> u8 {
        match self {
            Self::Repels => 0,
            Self::NothingPulls => 1,
            Self::NoContact => 2,
            Self::Under(_) => 3,
            Self::Holds(_) | Self::Pin(_) => 4,
            Self::Loose => 5,
            Self::Glued => 6,
        }
    }

    fn class(self) -> &'static str {
        match self {
            Self::Holds(_) | Self::Pin(_) => "is-good",
            Self::Loose | Self::Glued => "is-plain",
            _ => "is-bad",
        }
    }

    /// The shape: no two words share one.
    fn path(self) -> &'static str {
        match self {
            Self::Repels => "M11 12H3m3-3-3 3 3 3M13 12h8m-3-3 3 3-3 3",
            Self::NothingPulls => "M6 6a8.5 8.5 0 1 0 .01 0M6 18 18 6",
            Self::NoContact => "M4 5h16v4H4zM4 15h16v4H4z",
            Self::Under(_) => "M12 4 21 20H3zM12 10v5M12 17.5h.01",
            Self::Pin(_) => "M7 4h10M12 4v16M9 20h6",
            Self::Holds(_) => "M12 3a9 9 0 1 0 .01 0M8 12l3 3 5-6",
            Self::Loose => "M4 19h16M7 15h10V7H7z",
            Self::Glued => "M4 8h16v8H4zM12 8v8M9 10v4M15 10v4",
        }
    }
}

/// Shape and word.
pub fn status_mark(status: Status) -> Html {
    html! {
        <span class={classes!("joint-status", status.class())}>
            <svg class="joint-status-shape" viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d={status.path()} /></svg>
            <span>{ status.words() }</span>
        </span>
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::pages::joints::samples;

    const ALL: [Status; 8] = [
        Status::Repels,
        Status::NothingPulls,
        Status::NoContact,
        Status::Under(1.0),
        Status::Pin(4.0),
        Status::Holds(4.0),
        Status::Loose,
        Status::Glued,
    ];

    #[test]
    fn no_two_statuses_look_or_read_the_same() {
        let shapes: BTreeSet<_> = ALL.iter().map(|s| s.path()).collect();
        let words: BTreeSet<_> = ALL.iter().map(|s| s.words()).collect();
        assert_eq!((shapes.len(), words.len()), (ALL.len(), ALL.len()));
    }

    #[test]
    fn a_joint_is_in_trouble_exactly_where_a_variant_misses_the_target_or_a_pair_repels() {
        for plan in samples::plans() {
            let answers = lodewright_planner::derive(&plan).unwrap();
            for joint in &answers.joints {
                let account = &joint.account;
                let missed = account.holds.iter().any(|h| !h.reaches_target)
                    || account.pairs.iter().any(|p| p.weak_n < 0.0)
                    || (account.holds.is_empty() && account.held == Held::Magnets);
                assert_eq!(status(&plan, joint).is_trouble(), missed, "{}", joint.words);
            }
        }
    }

    #[test]
    fn a_higher_target_turns_holding_into_trouble() {
        let mut plan = samples::demo();
        let before = lodewright_planner::derive(&plan).unwrap();
        let held = before
            .joints
            .iter()
            .position(|j| matches!(status(&plan, j), Status::Holds(_)));
        plan.settings.hold_target_g = 1000.0;
        let after = lodewright_planner::derive(&plan).unwrap();
        let joint = &after.joints[held.unwrap()];
        assert!(
            matches!(status(&plan, joint), Status::Under(_)),
            "{}",
            joint.words
        );
    }
}
