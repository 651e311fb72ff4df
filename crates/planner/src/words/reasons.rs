//! What speaks against a joint, in a few words each.

use lodewright_joints::Reason;

/// A reason in a few words.
pub fn reason_words(reason: &Reason) -> &'static str {
    match reason {
        Reason::Repels { .. } => "repels",
        Reason::NothingPulls => "nothing pulls",
        Reason::NoContact => "no contact",
        Reason::TooWeak { .. } => "under target",
        Reason::ShakenOff { .. } => "shakes loose",
        Reason::HardToPull { .. } => "hard to pull off",
        Reason::GlueOverloaded { .. } => "glue may tear",
        Reason::SnapsFirst { .. } => "may snap first",
        Reason::NoRoom { .. } => "hole cannot be",
        Reason::NotPlaced { .. } => "not placed yet",
        Reason::CannotTell => "cannot be worked out",
    }
}
