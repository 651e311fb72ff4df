//! The joints in the report: the pairs of pieces that meet in each and what it holds.

use lodewright_joints::{GapPart, GivesWay, Held, HoldCase, PairReport as Pair, Reason};
use lodewright_kit::Pole;
use serde::Serialize;

use super::names::Names;
use crate::JointAnswer;
use crate::words::{gives_way_words, reason_words};

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
    /// What speaks against it.
    pub reasons: Vec<ReasonReport>,
}

/// What speaks against a joint.
#[derive(Clone, Debug, Serialize)]
pub struct ReasonReport {
    /// The fact.
    #[serde(flatten)]
    pub fact: Reason,
    /// The same in a few words.
    pub said: &'static str,
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
}

/// What a joint holds in a variant.
#[derive(Clone, Debug, Serialize)]
pub struct HoldReport {
    /// Id of the variant.
    pub variant: String,
    /// Load, in multiples of what it carries, at which it gives way in the worst direction.
    pub margin_x_weight: f64,
    /// Whether that reaches the plan's target.
    pub reaches_target: bool,
    /// How it gives way.
    pub gives_way: GivesWay,
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
    pub stays_closed_x_weight: f64,
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
        let all = self.analysis.joints().values().iter();
        all.map(|j| self.joint_report(j)).collect()
    }

    fn joint_report(&self, answer: &JointAnswer) -> JointReport {
        let j = answer.joint;
        let (part, report) = (&self.plan.parts[j.part], &answer.report);
        JointReport {
            joint: self.joint(j),
            socket: self.plan.sockets[j.socket].id.to_string(),
            part: part.id.to_string(),
            plug: part.plugs[j.plug].id.to_string(),
            turn_deg: j.pose.turn_deg,
            over: j.pose.over,
            held: report.held,
            separable_since: self.analysis.separable_words(answer),
            pairs: report.pairs.iter().map(|p| self.pair(p)).collect(),
            holds: report.holds.iter().map(|h| self.hold(h)).collect(),
            let_go: report.let_go.map(|c| LetGoReport {
                opens_n: c.opens_n,
                snaps_n: c.snaps_n,
                lets_go: c.lets_go,
            }),
            hand_n: report.hand_n,
            reasons: report
                .reasons
                .iter()
                .map(|fact| ReasonReport {
                    fact: *fact,
                    said: reason_words(fact),
                })
                .collect(),
        }
    }

    fn pair(&self, p: &Pair) -> PairReport {
        PairReport {
            socket_hole: self.hole(p.holes[0]),
            plug_hole: self.hole(p.holes[1]),
            socket_pole_out: p.poles[0],
            plug_pole_out: p.poles[1],
            at_mm: p.at_mm,
            gap_mm: p.gap.gap_mm,
            gap_parts: p.gap.layers.clone(),
            weak_n: p.weak_n,
            strong_n: p.strong_n,
            bond_mpa: p.bond_mpa,
        }
    }

    fn hold(&self, h: &HoldCase) -> HoldReport {
        HoldReport {
            variant: self.variant(h.variant),
            margin_x_weight: h.margin_x_weight,
            reaches_target: h.reaches_target,
            gives_way: h.gives_way,
            said: gives_way_words(h.gives_way),
            direction: h.direction,
            mass_g: h.mass_g,
            centre_mm: h.centre_mm,
            lifted: h.lifted,
            guessed: h.guessed,
            droop_deg: h.droop_deg,
            stays_closed_x_weight: h.stays_closed_x_weight,
        }
    }
}
