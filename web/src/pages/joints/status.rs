//! How a joint stands, as a word with a shape of its own; colour only repeats it.

use lodewright_planner::joints::{Held, Reason};
use lodewright_planner::{JointAnswer, reason_words};
use yew::prelude::*;

use super::names::times;

/// How a joint stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Status {
    /// This speaks against it, the most urgent of all that does.
    Against(Reason),
    /// A friction pin holds it, by this margin.
    Pin(f64),
    /// Holds by this margin.
    Holds(f64),
    /// No variant that can be built has it.
    Unused,
    /// Lies there.
    Loose,
    /// May be glued.
    Glued,
}

/// How a joint stands.
pub fn status(joint: &JointAnswer) -> Status {
    let report = &joint.report;
    if let Some(reason) = report.reasons.first() {
        return Status::Against(*reason);
    }
    match (report.held, report.worst()) {
        (Held::Glued, _) => Status::Glued,
        (Held::Loose, _) => Status::Loose,
        (_, None) => Status::Unused,
        (Held::Friction, Some(hold)) => Status::Pin(hold.margin_x_weight),
        (Held::Magnets, Some(hold)) => Status::Holds(hold.margin_x_weight),
    }
}

/// What else speaks against a joint, in a few words each.
pub fn cautions(joint: &JointAnswer) -> Vec<&'static str> {
    let reasons = joint.report.reasons.iter();
    reasons.skip(1).map(reason_words).collect()
}

impl Status {
    /// The word, with its number.
    pub fn words(self) -> String {
        match self {
            Self::Against(Reason::TooWeak { margin_x_weight }) => {
                format!(
                    "under target: {}\u{a0}\u{d7}\u{a0}weight",
                    times(margin_x_weight)
                )
            }
            Self::Against(reason) => reason_words(&reason).to_owned(),
            Self::Pin(m) => format!("friction pin, holds {}\u{a0}\u{d7}\u{a0}weight", times(m)),
            Self::Holds(m) => format!("holds {}\u{a0}\u{d7}\u{a0}weight", times(m)),
            Self::Unused => "in no model that can be built".to_owned(),
            Self::Loose => "lies loose".to_owned(),
            Self::Glued => "glue for good".to_owned(),
        }
    }

    /// Smaller is more urgent.
    pub fn urgency(self) -> u8 {
        match self {
            Self::Against(reason) => reason.urgency(),
            Self::Holds(_) | Self::Pin(_) => 100,
            Self::Unused => 101,
            Self::Loose => 102,
            Self::Glued => 103,
        }
    }

    /// The margin, where there is one.
    pub fn margin_x_weight(self) -> f64 {
        match self {
            Self::Against(Reason::TooWeak { margin_x_weight: m })
            | Self::Pin(m)
            | Self::Holds(m) => m,
            _ => 0.0,
        }
    }

    fn class(self) -> &'static str {
        match self {
            Self::Against(_) => "is-bad",
            Self::Holds(_) | Self::Pin(_) => "is-good",
            Self::Unused | Self::Loose | Self::Glued => "is-plain",
        }
    }

    /// The shape: no two words share one.
    fn path(self) -> &'static str {
        match self {
            Self::Against(reason) => against_path(reason),
            Self::Pin(_) => "M7 4h10M12 4v16M9 20h6",
            Self::Holds(_) => "M12 3a9 9 0 1 0 .01 0M8 12l3 3 5-6",
            Self::Unused => "M5 5h14v14H5zM9 12h6",
            Self::Loose => "M4 19h16M7 15h10V7H7z",
            Self::Glued => "M4 8h16v8H4zM12 8v8M9 10v4M15 10v4",
        }
    }
}

fn against_path(reason: Reason) -> &'static str {
    match reason {
        Reason::Repels { .. } => "M11 12H3m3-3-3 3 3 3M13 12h8m-3-3 3 3-3 3",
        Reason::NothingPulls => "M6 6a8.5 8.5 0 1 0 .01 0M6 18 18 6",
        Reason::NoContact => "M4 5h16v4H4zM4 15h16v4H4z",
        Reason::TooWeak { .. } => "M12 4 21 20H3zM12 10v5M12 17.5h.01",
        Reason::ShakenOff { .. } => "M4 8l3 4-3 4M20 8l-3 4 3 4M10 6h4v12h-4z",
        Reason::HardToPull { .. } => "M12 20V5M7 10l5-5 5 5M5 20h14",
        Reason::GlueOverloaded { .. } => "M4 16h16v4H4zM4 4h16v4H4zM12 8v3M8 16v-2M16 16v-3",
        Reason::SnapsFirst { .. } => "M12 21v-8l3-2-6-2 3-2V3",
        Reason::NoRoom { .. } => "M5 20V8h14v12M8 8V3h8v5M8 13h8",
        Reason::NotPlaced { .. } => "M12 21l-6-8a7 7 0 1 1 12 0zM12 9h.01",
        Reason::CannotTell => "M9 9a3 3 0 1 1 4 3c-1 .6-1 1.4-1 2.5M12 18h.01",
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

    use lodewright_planner::Analysis;
    use lodewright_planner::joints::{Attitude, HoleIx, Misfit};
    use lodewright_planner::kit::{Ix, SocketIx};

    use super::*;
    use crate::pages::joints::samples;

    fn all() -> Vec<Status> {
        let hole = HoleIx::new(0);
        let against = [
            Reason::Repels {
                holes: [hole, hole],
            },
            Reason::NothingPulls,
            Reason::NoContact,
            Reason::TooWeak {
                margin_x_weight: 1.0,
            },
            Reason::ShakenOff {
                attitude: Attitude::UpsideDown,
                shake_g: 0.5,
            },
            Reason::HardToPull { hand_n: 20.0 },
            Reason::GlueOverloaded {
                hole,
                bond_mpa: 9.0,
            },
            Reason::SnapsFirst {
                opens_n: None,
                snaps_n: 1.0,
            },
            Reason::NoRoom {
                hole,
                misfit: Misfit::NoMaterial,
            },
            Reason::NotPlaced {
                socket: SocketIx::new(0),
            },
            Reason::CannotTell,
        ];
        let plain = [
            Status::Pin(4.0),
            Status::Holds(4.0),
            Status::Unused,
            Status::Loose,
            Status::Glued,
        ];
        against
            .map(Status::Against)
            .into_iter()
            .chain(plain)
            .collect()
    }

    #[test]
    fn no_two_statuses_look_or_read_the_same() {
        let all = all();
        let shapes: BTreeSet<_> = all.iter().map(|s| s.path()).collect();
        let words: BTreeSet<_> = all.iter().map(|s| s.words()).collect();
        assert_eq!((shapes.len(), words.len()), (all.len(), all.len()));
    }

    #[test]
    fn only_a_joint_with_nothing_against_it_gets_the_green_mark() {
        for plan in samples::plans() {
            for joint in Analysis::of(plan).unwrap().joints().values() {
                let bad = status(joint).class() == "is-bad";
                assert_eq!(bad, !joint.report.reasons.is_empty(), "{}", joint.words);
            }
        }
    }

    #[test]
    fn a_higher_target_turns_holding_into_trouble() {
        let mut plan = samples::demo();
        let before = Analysis::of(plan.clone()).unwrap();
        let mut joints = before.joints().values().iter();
        let held = joints
            .find(|j| matches!(status(j), Status::Holds(_)))
            .unwrap();
        plan.settings.hold_target_g = 1000.0;
        let after = Analysis::of(plan).unwrap();
        let joint = &after.joints()[held.at];
        assert!(
            matches!(status(joint), Status::Against(Reason::TooWeak { .. })),
            "{}",
            joint.words
        );
    }
}
