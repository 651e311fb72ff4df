//! The whole analysis as one document, by ids instead of indices; the same plan gives the same bytes on every machine.

use std::fmt;

use lodewright_assembly::Joint;
use lodewright_joints::{Filling, GapPart, Held, HoldCase, LetGoCase, ModeWord, PairAccount};
use lodewright_kit::{Plan, Pole, Problem};
use lodewright_planfile::ReadError;
use serde::Serialize;

use crate::answers::{Answers, DeriveError, JointAnswer, derive};
use crate::cost::{VariantCost, variant_costs};
use crate::swaps::{Swap, swap};

/// No report can be made.
#[derive(Debug)]
pub enum ReportError {
    /// The file cannot be read.
    Read(ReadError),
    /// The plan has no answers.
    Derive(DeriveError),
    /// The report cannot be written as JSON.
    Write(serde_json::Error),
}

impl fmt::Display for ReportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(e) => e.fmt(f),
            Self::Derive(e) => e.fmt(f),
            Self::Write(e) => write!(f, "The report cannot be written: {e}."),
        }
    }
}

impl std::error::Error for ReportError {}

/// The analysis of a plan file as indented JSON with a newline at its end.
///
/// # Errors
/// [`ReportError`] where the file cannot be read or has no answers.
pub fn report_json(file: &[u8]) -> Result<String, ReportError> {
    let plan = lodewright_planfile::read(file)
        .map_err(ReportError::Read)?
        .plan;
    let report = report(&plan).map_err(ReportError::Derive)?;
    let mut text = serde_json::to_string_pretty(&report).map_err(ReportError::Write)?;
    text.push('\n');
    Ok(text)
}

/// The analysis of a plan.
///
/// # Errors
/// [`DeriveError`] for a plan that a file could not hold.
pub fn report(plan: &Plan) -> Result<Report, DeriveError> {
    let answers = derive(plan)?;
    Ok(Names {
        plan,
        answers: &answers,
    }
    .report())
}

/// Every answer to a plan.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    /// Always `lodewright-report`.
    pub format: &'static str,
    /// Version of this layout.
    pub version: u32,
    /// Title of the plan.
    pub title: String,
    /// What does not fit together.
    pub problems: Vec<Problem>,
    /// Distinct legal models of all variants together; null where there are too many to count.
    pub legal_models: Option<u128>,
    /// By variant.
    pub variants: Vec<VariantReport>,
    /// What may be glued.
    pub glue: GlueReport,
    /// Every joint.
    pub joints: Vec<JointReport>,
    /// Every magnet and piece of steel.
    pub pieces: Vec<PieceReport>,
    /// Sets of matings that cannot all attract.
    pub contradictions: Vec<ContradictionReport>,
    /// Holes that want a magnet that no stock size fits.
    pub nothing_fits: Vec<String>,
    /// What to buy.
    pub buy: BuyReport,
    /// Holes to drill, by bit.
    pub drill: Vec<DrillReport>,
    /// The work.
    pub work: WorkReport,
    /// Changes from every variant to every other.
    pub swaps: Vec<SwapReport>,
}

/// One variant.
#[derive(Clone, Debug, Serialize)]
pub struct VariantReport {
    /// Its id.
    pub variant: String,
    /// Its legal models.
    pub legal_models: Option<u128>,
    /// Whether its free options were too many to look at each for the margins.
    pub sampled: bool,
    /// Its weakest joint, as in `joints[].joint`.
    pub weakest_joint: Option<String>,
    /// Margin of that joint, multiples of the weight.
    pub weakest_margin_g: Option<f64>,
    /// What exists only because of the variant.
    pub only_for_it: Option<VariantCost>,
}

/// Glue or separate.
#[derive(Clone, Debug, Serialize)]
pub struct GlueReport {
    /// Parts that become one piece.
    pub groups: Vec<Vec<String>>,
    /// Joints that may be glued for good.
    pub glued_joints: Vec<String>,
    /// Joints that must come apart.
    pub separable_joints: Vec<String>,
    /// Parts that no variant uses.
    pub idle_parts: Vec<String>,
}

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

/// A magnet or a piece of steel.
#[derive(Clone, Debug, Serialize)]
pub struct PieceReport {
    /// The hole it is in: `part:plug-or-socket/site`.
    pub hole: String,
    /// Id of the part.
    pub part: String,
    /// Id of the stock size.
    pub stock: String,
    /// `magnet` or `steel`.
    pub kind: &'static str,
    /// The pole out at its first face; null for steel.
    pub pole_out: Option<Pole>,
    /// Whether it shows the other pole at a second face.
    pub through: bool,
}

/// Matings that cannot all attract.
#[derive(Clone, Debug, Serialize)]
pub struct ContradictionReport {
    /// The holes in order.
    pub holes: Vec<String>,
    /// The joints in order.
    pub joints: Vec<String>,
    /// The story.
    pub story: Vec<String>,
}

/// What to buy.
#[derive(Clone, Debug, Serialize)]
pub struct BuyReport {
    /// By size.
    pub lines: Vec<BuyLineReport>,
    /// Price of all, hundredths of the currency.
    pub cost_cents: u64,
}

/// One size to buy.
#[derive(Clone, Debug, Serialize)]
pub struct BuyLineReport {
    /// Id of the size.
    pub stock: String,
    /// Pieces used.
    pub used: u32,
    /// Spares on top.
    pub spares: u32,
    /// Pieces in hand.
    pub in_hand: u32,
    /// Packs.
    pub packs: Vec<lodewright_bench::Bought>,
    /// Price, hundredths of the currency.
    pub cost_cents: u64,
    /// Whether pieces are missing that no pack is known for.
    pub no_pack_known: bool,
}

/// One hole to drill.
#[derive(Clone, Debug, Serialize)]
pub struct DrillReport {
    /// The hole.
    pub hole: String,
    /// The numbers.
    #[serde(flatten)]
    pub line: lodewright_bench::DrillLine,
}

/// The work.
#[derive(Clone, Debug, Serialize)]
pub struct WorkReport {
    /// Keys of the steps in order.
    pub steps: Vec<StepReport>,
    /// Hands-on time, min.
    pub hands_min: f64,
    /// From the first step to the last cure, min.
    pub total_min: f64,
    /// No order takes less, min.
    pub lower_bound_min: f64,
    /// Whether the order is known to be the shortest.
    pub shortest: bool,
}

/// One step.
#[derive(Clone, Debug, Serialize)]
pub struct StepReport {
    /// Its key.
    pub step: String,
    /// What it is.
    pub kind: lodewright_bench::StepKind,
    /// When it begins, min.
    pub starts_min: f64,
    /// Hands-on, min.
    pub hands_min: f64,
    /// Wait after it, min.
    pub wait_min: f64,
    /// Keys of the steps before it.
    pub after: Vec<String>,
    /// Whether it cannot be undone.
    pub no_return: bool,
}

/// A change of variant.
#[derive(Clone, Debug, Serialize)]
pub struct SwapReport {
    /// Id of the variant now.
    pub from: String,
    /// Id of the variant then.
    pub to: String,
    /// What to do.
    #[serde(flatten)]
    pub swap: Swap,
}

/// Turns indices into names.
struct Names<'p> {
    plan: &'p Plan,
    answers: &'p Answers,
}

impl Names<'_> {
    fn report(&self) -> Report {
        let a = self.answers;
        let separable = |is: bool| {
            let list = a
                .joints
                .iter()
                .filter(move |j| j.separable_since.is_some() == is);
            list.map(|j| self.joint(j.joint)).collect()
        };
        Report {
            format: "lodewright-report",
            version: 1,
            title: self.plan.title.clone(),
            problems: a.problems.clone(),
            legal_models: a.models,
            variants: self.variants(),
            glue: GlueReport {
                groups: a
                    .groups
                    .iter()
                    .map(|g| g.iter().map(|p| self.part(*p)).collect())
                    .collect(),
                glued_joints: separable(false),
                separable_joints: separable(true),
                idle_parts: a.idle.iter().map(|p| self.part(*p)).collect(),
            },
            joints: a.joints.iter().map(|j| self.joint_report(j)).collect(),
            pieces: self.pieces(),
            contradictions: a
                .contradictions
                .iter()
                .map(|c| self.contradiction(c))
                .collect(),
            nothing_fits: a.nothing_fits.iter().map(|h| self.hole(*h)).collect(),
            buy: self.buy(),
            drill: a
                .drills
                .iter()
                .map(|d| DrillReport {
                    hole: self.hole(d.hole),
                    line: d.clone(),
                })
                .collect(),
            work: self.work(),
            swaps: self.swaps(),
        }
    }

    fn part(&self, part: usize) -> String {
        self.plan.parts[part].id.to_string()
    }

    fn variant(&self, variant: usize) -> String {
        self.plan.variants[variant].id.to_string()
    }

    fn hole(&self, hole: usize) -> String {
        let h = &self.answers.holes.holes[hole];
        format!("{}:{}", self.part(h.part), h.label)
    }

    fn joint(&self, j: Joint) -> String {
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

    fn stock(&self, filling: Filling) -> Option<(String, &'static str)> {
        match filling {
            Filling::Empty => None,
            Filling::Magnet(i) => Some((self.plan.stock.magnets[i].id.to_string(), "magnet")),
            Filling::Steel(i) => Some((self.plan.stock.steel[i].id.to_string(), "steel")),
        }
    }

    fn variants(&self) -> Vec<VariantReport> {
        let costs = variant_costs(self.plan);
        (0..self.plan.variants.len())
            .map(|v| {
                let weakest = self.answers.weakest[v];
                VariantReport {
                    variant: self.variant(v),
                    legal_models: self.answers.models_of[v],
                    sampled: self.answers.sampled.contains(&v),
                    weakest_joint: weakest.map(|w| self.joint(self.answers.joints[w.joint].joint)),
                    weakest_margin_g: weakest.map(|w| w.margin_g),
                    only_for_it: costs.get(v).copied(),
                }
            })
            .collect()
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
            let_go: answer.account.let_go.map(
                |LetGoCase {
                     opens_n,
                     snaps_n,
                     lets_go,
                 }| LetGoReport {
                    opens_n,
                    snaps_n,
                    lets_go,
                },
            ),
            hand_n: answer.account.hand_n,
            hand_ok: answer.account.hand_ok,
        }
    }

    fn pair(&self, p: &PairAccount) -> PairReport {
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

    fn pieces(&self) -> Vec<PieceReport> {
        let a = self.answers;
        let filled = a.fillings.iter().enumerate();
        filled
            .filter_map(|(h, filling)| {
                let (stock, kind) = self.stock(*filling)?;
                let hole = &a.holes.holes[h];
                Some(PieceReport {
                    hole: self.hole(h),
                    part: self.part(hole.part),
                    stock,
                    kind,
                    pole_out: a.poles[h],
                    through: hole.through,
                })
            })
            .collect()
    }

    fn contradiction(&self, c: &lodewright_joints::Contradiction) -> ContradictionReport {
        ContradictionReport {
            holes: c.holes.iter().map(|h| self.hole(*h)).collect(),
            joints: c
                .joints
                .iter()
                .flatten()
                .map(|j| self.joint(self.answers.joints[*j].joint))
                .collect(),
            story: c.story.clone(),
        }
    }

    fn buy(&self) -> BuyReport {
        let lines = self.answers.buy.lines.iter().map(|l| BuyLineReport {
            stock: self.stock(l.filling).map(|(id, _)| id).unwrap_or_default(),
            used: l.used,
            spares: l.spares,
            in_hand: l.in_hand,
            packs: l.bought.clone(),
            cost_cents: l.cost_cents,
            no_pack_known: l.no_pack_known,
        });
        BuyReport {
            lines: lines.collect(),
            cost_cents: self.answers.buy.cost_cents,
        }
    }

    fn work(&self) -> WorkReport {
        let order = &self.answers.order;
        let steps = order
            .steps
            .iter()
            .zip(&order.starts_min)
            .map(|(s, starts_min)| StepReport {
                step: s.key.clone(),
                kind: s.kind,
                starts_min: *starts_min,
                hands_min: s.hands_min,
                wait_min: s.wait_min,
                after: s
                    .after
                    .iter()
                    .map(|(before, _)| order.steps[*before].key.clone())
                    .collect(),
                no_return: s.no_return,
            });
        WorkReport {
            steps: steps.collect(),
            hands_min: order.hands_min,
            total_min: order.total_min,
            lower_bound_min: order.lower_bound_min,
            shortest: order.shortest,
        }
    }

    fn swaps(&self) -> Vec<SwapReport> {
        let n = self.plan.variants.len();
        let pairs = (0..n)
            .flat_map(|from| (0..n).map(move |to| (from, to)))
            .filter(|(from, to)| from != to);
        pairs
            .filter_map(|(from, to)| {
                Some(SwapReport {
                    from: self.variant(from),
                    to: self.variant(to),
                    swap: swap(self.plan, from, to)?,
                })
            })
            .collect()
    }
}
