//! The joints in the report: the pairs of pieces that meet in each and what it holds.

use lodewright_joints::{GapPart, Held, HoldCase, ModeWord, PairReport};
use lodewright_kit::Pole;
use serde::Serialize;

use super::names::Names;
use crate::answers::JointAnswer;

/// One joint.
#[derive(Clone, Debug, Serialize)]
pub struct JointReport {
    /// Its word: `socket/part/plug`, with `@degrees` and `+over` where it is turned or turned over.
    pub joint: String,
    /// Id of the socket.
    pub socket: String,
    /// Id of the part.
    pub part: String,
    /// Id of the plug.
    pub plug: String,
    /// Turn, degrees.
    pub turn_deg: f64,
    /// Whether it is turned over.
    pub over: bool,
    /// How it is held.
    pub held: Held,
    /// Why it must come apart; null where it may be glued.
    pub separable_since: Option<String>,
    /// Magnets and steel that meet in it.
    pub pairs: Vec<PairReport>,
    /// What it holds, by variant.
    pub holds: Vec<HoldReport>,
    /// Whether it lets go before the part snaps, where that is asked.
    pub let_go: Option<LetGoReport>,
    /// Pull that the hand must overcome, N.
    pub hand_n: f64,
    /// Whether that is within what the plan calls comfortable.
    pub hand_ok: bool,
}

/// Two pieces that meet.
#[derive(Clone, Debug, Serialize)]
pub struct PairReport {
    /// The hole on the socket's side.
    pub socket_hole: String,
    /// The hole on the plug's side.
    pub plug_hole: String,
    /// The pole out on the socket's side.
    pub socket_pole_out: Option<Pole>,
    /// The pole out on the plug's side.
    pub plug_pole_out: Option<Pole>,
    /// Where it lies, mm.
    pub at_mm: [f64; 2],
    /// Everything between, mm.
    pub gap_mm: f64,
    /// The same by layer.
    pub gap_parts: Vec<GapPart>,
    /// Pull at the weak end of all tolerances, N; negative repels.
    pub weak_n: f64,
    /// Pull at the strong end, N; negative repels.
    pub strong_n: f64,
    /// Stress on the glue at the strong end, MPa.
    pub bond_mpa: f64,
    /// Whether the glue bears that with the safety asked for.
    pub bond_ok: bool,
}

/// What a joint holds in a variant.
#[derive(Clone, Debug, Serialize)]
pub struct HoldReport {
    /// Id of the variant.
    pub variant: String,
    /// Load, in multiples of what it carries, at which it gives way in the worst direction.
    pub margin_g: f64,
    /// Whether that reaches the plan's target.
    pub reaches_target: bool,
    /// How it gives way.
    pub mode: ModeWord,
    /// The same in words.
    pub said: String,
    /// Direction of that load: x, y in the mating plane, z away from the host.
    pub direction: [f64; 3],
    /// Mass carried, g.
    pub mass_g: f64,
    /// Its centre, same axes, mm.
    pub centre_mm: [f64; 3],
    /// Whether the model hangs by this joint.
    pub lifted: bool,
    /// Whether a mass is guessed.
    pub guessed: bool,
    /// Droop in a snug peg, degrees.
    pub droop_deg: Option<f64>,
    /// Margin up to which it stays fully shut.
    pub stays_shut_g: f64,
}

/// Letting go.
#[derive(Clone, Debug, Serialize)]
pub struct LetGoReport {
    /// Force that opens the joint, N; null where a snug peg keeps it shut.
    pub opens_n: Option<f64>,
    /// Force that snaps the part, N.
    pub snaps_n: f64,
    /// Whether it opens in time.
    pub lets_go: bool,
}

impl Names<'_> {
    pub(super) fn joints(&self) -> Vec<JointReport> {
        let all = self.answers.joints.iter();
        all.map(|j| self.joint_report(j)).collect()
    }

    fn joint_report(&self, answer: &JointAnswer) -> JointReport {
        let j = answer.joint;
        let part = &self.plan.parts[j.part];
        JointReport {
            joint: self.joint(j),
            socket: self.plan.sockets[j.socket].id.to_string(),
            part: part.id.to_string(),
            plug: part.plugs[j.plug].id.to_string(),
            turn_deg: j.pose.turn_deg,
            over: j.pose.over,
            held: answer.account.held,
            separable_since: answer.separable_since.clone(),
            pairs: answer.account.pairs.iter().map(|p| self.pair(p)).collect(),
            holds: answer.account.holds.iter().map(|h| self.hold(h)).collect(),
            let_go: answer.account.let_go.map(|c| LetGoReport {
                opens_n: c.opens_n,
                snaps_n: c.snaps_n,
                lets_go: c.lets_go,
            }),
            hand_n: answer.account.hand_n,
            hand_ok: answer.account.hand_ok,
        }
    }

    fn pair(&self, p: &PairReport) -> PairReport {
        PairReport {
            socket_hole: self.hole(p.socket_hole),
            plug_hole: self.hole(p.plug_hole),
            socket_pole_out: p.socket_pole,
            plug_pole_out: p.plug_pole,
            at_mm: p.at_mm,
            gap_mm: p.gap.gap_mm,
            gap_parts: p.gap.parts.clone(),
            weak_n: p.weak_n,
            strong_n: p.strong_n,
            bond_mpa: p.bond_mpa,
            bond_ok: p.bond_ok,
        }
    }

    fn hold(&self, h: &HoldCase) -> HoldReport {
        HoldReport {
            variant: self.variant(h.variant),
            margin_g: h.margin_g,
            reaches_target: h.reaches_target,
            mode: h.mode,
            said: h.mode_said.clone(),
            direction: h.direction,
            mass_g: h.mass_g,
            centre_mm: h.centre_mm,
            lifted: h.lifted,
            guessed: h.guessed,
            droop_deg: h.droop_deg,
            stays_shut_g: h.stays_shut_g,
        }
    }
}
