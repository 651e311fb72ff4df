//! The names that the report gives to what the answers know by index.

use lodewright_assembly::Joint;
use lodewright_joints::Filling;
use lodewright_kit::Plan;

use crate::answers::Answers;

/// Turns indices into names.
pub(super) struct Names<'p> {
    pub plan: &'p Plan,
    pub answers: &'p Answers,
}

impl Names<'_> {
    pub(super) fn part(&self, part: usize) -> String {
        self.plan.parts[part].id.to_string()
    }

    pub(super) fn variant(&self, variant: usize) -> String {
        self.plan.variants[variant].id.to_string()
    }

    pub(super) fn hole(&self, hole: usize) -> String {
        let h = &self.answers.holes.holes[hole];
        format!("{}:{}", self.part(h.part), h.label)
    }

    pub(super) fn parts(&self, parts: &[usize]) -> Vec<String> {
        parts.iter().map(|p| self.part(*p)).collect()
    }

    pub(super) fn holes(&self, holes: &[usize]) -> Vec<String> {
        holes.iter().map(|h| self.hole(*h)).collect()
    }

    pub(super) fn joint(&self, j: Joint) -> String {
        let part = &self.plan.parts[j.part];
        let turn = if j.pose.turn_deg == 0.0 {
            String::new()
        } else {
            format!("@{}", j.pose.turn_deg)
        };
        let over = if j.pose.over { "+over" } else { "" };
        format!(
            "{}/{}/{}{turn}{over}",
            self.plan.sockets[j.socket].id, part.id, part.plugs[j.plug].id
        )
    }

    pub(super) fn stock(&self, filling: Filling) -> Option<(String, &'static str)> {
        match filling {
            Filling::Empty => None,
            Filling::Magnet(i) => Some((self.plan.stock.magnets[i].id.to_string(), "magnet")),
            Filling::Steel(i) => Some((self.plan.stock.steel[i].id.to_string(), "steel")),
        }
    }
}
