//! Joints in words: why they must come apart, how they give way, what lies between their faces.

use lodewright_assembly::{Apart, Joint, JointIx, Lone};
use lodewright_joints::{Attitude, GapLayer, GivesWay, PairSide};
use lodewright_kit::{KeptApart, PartIx, Plan, Pose};

use crate::{Analysis, JointAnswer};

/// A joint, asked for or not: part, socket and pose.
pub(crate) fn joint_words(plan: &Plan, joint: &Joint) -> String {
    let (part, socket) = (&plan.parts[joint.part], &plan.sockets[joint.socket]);
    let plug = match part.plugs.len() {
        ..=1 => String::new(),
        _ => format!(" by its mounting face '{}'", part.plugs[joint.plug].id),
    };
    let turn = match joint.pose.turn_deg {
        0.0 => String::new(),
        turn_deg => format!(" turned {turn_deg}°"),
    };
    let over = if joint.pose.over { " turned over" } else { "" };
    format!("{} in {}{plug}{turn}{over}", part.name, socket.name)
}

/// A pose in words.
pub(crate) fn pose_words(pose: Pose) -> String {
    let turn = if pose.turn_deg == 0.0 {
        "straight".to_owned()
    } else {
        format!("turned {}°", pose.turn_deg)
    };
    let over = if pose.over { ", turned over" } else { "" };
    format!("{turn}{over}")
}

impl Analysis {
    /// A joint in words: part, socket and pose.
    pub fn joint_words(&self, joint: JointIx) -> String {
        joint_words(self.plan(), &self.board().joints[joint])
    }

    /// The same for a joint that no variant need ask for.
    pub fn words_of(&self, joint: &Joint) -> String {
        joint_words(self.plan(), joint)
    }

    /// Why a joint must come apart, as a sentence; `None` where it may be glued.
    pub fn separable_words(&self, joint: &JointAnswer) -> Option<String> {
        Some(match joint.separable? {
            Apart::Lone(lone) => self.since(lone, &joint.joint),
            Apart::OnPurpose(why) => kept_apart_words(why).to_owned(),
            Apart::Unsure => {
                "There are too many free choices to be sure, so it is kept separable.".to_owned()
            }
        })
    }

    fn since(&self, lone: Lone, joint: &Joint) -> String {
        let (board, plan) = (self.board(), self.plan());
        let name = |part: PartIx| &plan.parts[part].name;
        let (other, where_) = match lone.part == joint.part {
            true => (board.host(joint.socket), "under it"),
            false => (joint.part, "on it"),
        };
        format!(
            "In {}, {} can be there without {} {where_} this way.",
            plan.variants[lone.variant].name,
            name(lone.part),
            name(other)
        )
    }
}

/// Why a joint that could be glued is to come apart, as a sentence.
pub fn kept_apart_words(why: KeptApart) -> &'static str {
    match why {
        KeptApart::LetsGo => "Kept apart: it must let go before it snaps.",
        KeptApart::Painted => "Kept apart: it is painted by itself.",
        KeptApart::Packed => "Kept apart: it is packed by itself.",
        KeptApart::Wanted => "Kept apart by choice.",
    }
}

/// How a joint gives way: `slides sideways`.
pub fn gives_way_words(gives_way: GivesWay) -> String {
    match gives_way {
        GivesWay::Tip(side) => format!("tips over its edge towards the {}", side.way()),
        GivesWay::Slide => "slides sideways".to_owned(),
        GivesWay::Turn => "turns in its plane".to_owned(),
        GivesWay::SlideTurn => "slides and turns".to_owned(),
        GivesWay::Pull => "is pulled straight off".to_owned(),
        GivesWay::DroopThenPull => "droops, then is pulled straight off".to_owned(),
        GivesWay::NoContact => "has no contact: the outlines do not overlap".to_owned(),
        GivesWay::NoPull => "is not held: nothing pulls it on".to_owned(),
    }
}

/// The same as what it would do: `slide sideways`.
pub fn would_give_way_words(gives_way: GivesWay) -> String {
    match gives_way {
        GivesWay::Tip(side) => format!("tip over its edge towards the {}", side.way()),
        GivesWay::Slide => "slide sideways".to_owned(),
        GivesWay::Turn => "turn in its plane".to_owned(),
        GivesWay::SlideTurn => "slide and turn".to_owned(),
        GivesWay::Pull => "be pulled straight off".to_owned(),
        GivesWay::DroopThenPull => "droop, then be pulled straight off".to_owned(),
        GivesWay::NoContact | GivesWay::NoPull => "come off".to_owned(),
    }
}

/// A layer between two pieces.
pub fn gap_words(layer: GapLayer) -> String {
    let side = |side| match side {
        PairSide::Socket => "host",
        PairSide::Plug => "part",
    };
    match layer {
        GapLayer::Wall(s) => format!("wall or recess, {}", side(s)),
        GapLayer::GlueFilm(s) => format!("glue film, {}", side(s)),
        GapLayer::Paint(s) => format!("paint, {}", side(s)),
        GapLayer::Fit => "fit".to_owned(),
    }
}

/// An attitude of the model.
pub fn attitude_words(attitude: Attitude) -> &'static str {
    match attitude {
        Attitude::Upright => "upright",
        Attitude::UpsideDown => "upside down",
        Attitude::OnLeft => "on its left side",
        Attitude::OnRight => "on its right side",
        Attitude::NoseDown => "nose down",
        Attitude::NoseUp => "nose up",
    }
}
