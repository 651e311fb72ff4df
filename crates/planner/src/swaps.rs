//! How to change one variant into another, in words.

use lodewright_assembly::{Board, JointIx, SwapStep, changes, first_model, nearest_model};
use lodewright_kit::VariantIx;
use serde::Serialize;

use crate::Analysis;

/// A change of variant.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Swap {
    /// What to do, in order.
    pub moves: Vec<SwapMove>,
    /// Parts that stay as they are.
    pub stays: usize,
    /// Parts that stand in each other's way whatever the order, so that the moves cannot be made as they are.
    pub stuck: Vec<String>,
}

/// One thing to do with the hands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SwapMove {
    /// Whether a part comes off (and not goes on).
    pub off: bool,
    /// Id of the part.
    pub part: String,
    /// Id of the socket.
    pub socket: String,
    /// The sentence.
    pub said: String,
}

impl Analysis {
    /// The fewest moves from one variant to another: free choices of `from` at their first part, those of `to` left as they
    /// are, socket by socket, where that is allowed (where they compete for a part, another choice may need fewer). `None`
    /// where a variant has no legal model.
    pub fn swap(&self, from: VariantIx, to: VariantIx) -> Option<Swap> {
        let board = self.board();
        let a = first_model(board, from)?;
        let b = nearest_model(board, to, &a)?;
        let change = changes(board, &self.clashes().bars, &a, &b);
        let name = |j: &JointIx| board.part(board.joints[*j].part).name.clone();
        Some(Swap {
            stuck: change.stuck.iter().map(name).collect(),
            moves: change
                .steps
                .iter()
                .map(|step| sentence(board, *step))
                .collect(),
            stays: b.made().filter(|j| a.made().any(|k| k == *j)).count(),
        })
    }
}

pub(crate) fn sentence(board: &Board, step: SwapStep) -> SwapMove {
    let (off, joint) = match step {
        SwapStep::Off { joint, .. } => (true, joint),
        SwapStep::On { joint } => (false, joint),
    };
    let j = board.joints[joint];
    let (part, socket) = (board.part(j.part), board.socket(j.socket));
    let turn = match j.pose.turn_deg {
        0.0 => String::new(),
        t => format!(", turned {t}°"),
    };
    let over = if j.pose.over { ", turned over" } else { "" };
    let said = match step {
        SwapStep::Off {
            joint,
            again: Some(again),
        } if joint == again => {
            format!("Take {} off {}: it is in the way.", part.name, socket.name)
        }
        SwapStep::Off { again: Some(_), .. } => {
            format!(
                "Take {} off {} and keep it at hand.",
                part.name, socket.name
            )
        }
        SwapStep::Off { .. } => format!("Take {} off {} and put it away.", part.name, socket.name),
        SwapStep::On { .. } => format!("Put {} on {}{turn}{over}.", part.name, socket.name),
    };
    SwapMove {
        off,
        part: part.id.to_string(),
        socket: socket.id.to_string(),
        said,
    }
}
