//! Poles in words: contradictions as stories, ways out of them, parts put in the wrong way.

use lodewright_joints::{
    Contradiction, Filling, PoleStep, Remedy, RemedyKind, RemedyStep, SPLIT_WALL_MM, Stays,
    WrongPlacement, filling_size,
};

use super::joints::{joint_words, pose_words};
use super::numbers::all_of;
use crate::Analysis;

/// A contradiction in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ContradictionWords {
    /// What cannot be, in one sentence.
    pub headline: String,
    /// How it follows, step by step.
    pub story: Vec<String>,
}

/// A wrong placement in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrongPlacementWords {
    /// What goes where, in which poses.
    pub what: String,
    /// Where it does not repel in the end: why, and what would make it.
    pub why: Option<&'static str>,
}

impl Analysis {
    /// A contradiction in words.
    pub fn contradiction_words(&self, clash: &Contradiction) -> ContradictionWords {
        ContradictionWords {
            headline: self.headline(clash),
            story: self.story(clash),
        }
    }

    fn headline(&self, clash: &Contradiction) -> String {
        let mut joints: Vec<String> = Vec::new();
        for joint in clash.joints.iter().flatten() {
            let words = self.joint_words(*joint);
            if !joints.contains(&words) {
                joints.push(words);
            }
        }
        let wish = if clash.joints.iter().any(Option::is_none) {
            " with the poles that the plan fixes"
        } else {
            ""
        };
        let magnet = clash.holes.first().map(|h| self.magnet_words(*h));
        format!(
            "For {}{wish}, {} would have to show both N and S.",
            all_of(&joints),
            magnet.unwrap_or_default()
        )
    }

    fn story(&self, clash: &Contradiction) -> Vec<String> {
        let last = clash
            .steps
            .iter()
            .rposition(|s| matches!(s, PoleStep::Then(..)));
        let told = clash.steps.iter().enumerate().map(|(i, step)| match step {
            PoleStep::Say(hole) => format!("Say {} shows N.", self.magnet_words(*hole)),
            PoleStep::Then(joint, hole, pole) => {
                let must = if Some(i) == last && i + 1 == clash.steps.len() {
                    "would have to show"
                } else {
                    "must show"
                };
                format!(
                    "For {}, {} {must} {}.",
                    self.joint_words(*joint),
                    self.magnet_words(*hole),
                    pole.letter()
                )
            }
            PoleStep::Fixed => "The plan fixes the pole of this magnet.".to_owned(),
        });
        let end = "That is the pole it cannot have. Fit steel in place of one of these magnets, or give one of the joints a site of its own.";
        told.chain([end.to_owned()]).collect()
    }

    /// A step of a remedy as a sentence.
    pub fn remedy_step_words(&self, step: &RemedyStep) -> String {
        let magnet = |hole| self.magnet_words(hole);
        let joint = |joint| self.joint_words(joint);
        let mut words = match step.kind {
            RemedyKind::Keeper { hole, steel } => {
                let size = filling_size(self.plan(), Filling::Steel(steel));
                let (d, h) = size.unwrap_or_default();
                format!(
                    "Fit a steel disc of {d} × {h} mm in place of {}: steel has no poles and is drawn by either.",
                    magnet(hole)
                )
            }
            RemedyKind::LeaveEmpty { hole } => format!(
                "Leave out {}: the other magnets of its joints are enough.",
                magnet(hole)
            ),
            RemedyKind::Split { hole, depth_mm } => format!(
                "Drill the hole of {} from both sides, {depth_mm:.1} mm deep each, with {SPLIT_WALL_MM} mm left between, and glue a magnet into each, one after the other has set: they may push each other out.",
                magnet(hole)
            ),
            RemedyKind::FreePole { hole } => {
                format!("Leave the pole of {} to the planner.", magnet(hole))
            }
            RemedyKind::Turn { joint: at, pose } => {
                format!("Put {} {} instead.", joint(at), pose_words(pose))
            }
            RemedyKind::GiveUp { joint: at } => format!("Do without {}.", joint(at)),
        };
        if step.glued {
            words.push_str(" It is glued already and would have to come out.");
        }
        words
    }

    /// What a remedy changes, and what comes of it, as sentences.
    pub fn remedy_words(&self, remedy: &Remedy) -> Vec<String> {
        let steps = remedy.steps.iter().map(|s| self.remedy_step_words(s));
        let weakest = remedy.weakest.map(|(margin_x_weight, joint)| {
            let short = if remedy.all_good {
                ""
            } else {
                ", and something asked of these joints is then not met"
            };
            format!(
                "The weakest joint that this touches, {}, then holds {margin_x_weight:.1} times what it carries{short}.",
                joint_words(self.plan(), &joint)
            )
        });
        steps.chain(weakest).collect()
    }

    /// A wrong placement in words.
    pub fn wrong_placement_words(&self, wrong: &WrongPlacement) -> WrongPlacementWords {
        let (plan, joint) = (self.plan(), wrong.joint);
        let (part, socket) = (&plan.parts[joint.part], &plan.sockets[joint.socket]);
        let plug = if part.plugs.len() > 1 {
            format!(" by its mounting face '{}'", part.plugs[joint.plug].id)
        } else {
            String::new()
        };
        let poses: Vec<String> = wrong.poses.iter().map(|p| pose_words(*p)).collect();
        let poses = match poses.split_last() {
            Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
            _ => poses.concat(),
        };
        WrongPlacementWords {
            what: format!("{} on {}{plug}, {poses}", part.name, socket.name),
            why: wrong.why.map(stays_words),
        }
    }
}

fn stays_words(why: Stays) -> &'static str {
    match why {
        Stays::OthersCountMore => {
            "Other poles would make it repel, but then at least as many other wrong placements would not."
        }
        Stays::NothingFelt => {
            "Nothing is felt: pulls and pushes are small or cancel out. A keyed peg would stop it."
        }
        Stays::Steel => {
            "Steel is drawn by either pole. A magnet instead of the steel, or a keyed peg, would stop it."
        }
        Stays::OneMagnet => {
            "One magnet in the middle shows the same pole whichever way round. A second pair off centre, or a keyed peg, would stop it."
        }
        Stays::SameMagnets => {
            "The same magnets meet whichever way round, or ones whose poles other joints tie together. A further pair off centre, or a keyed peg, would stop it."
        }
        Stays::FixedPoles => {
            "Poles that the plan fixes make it attract. Leaving one of them to the planner, or a keyed peg, would stop it."
        }
        Stays::TiedPoles => {
            "Parts that fit both places tie their poles together. A pair off centre at another place on each, or a keyed peg, would stop it."
        }
    }
}
