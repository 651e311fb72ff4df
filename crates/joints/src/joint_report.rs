//! The report of every joint: what it pulls, what it holds in each variant and why, whether it lets go, and all that speaks
//! against it.

use lodewright_assembly::JointIx;
use lodewright_kit::{Attach, Ix, Pole, Table, VariantIx, Vec3};
use serde::Serialize;
use tiny_sort::stable::sort_by_key;

use crate::context::{Context, G_M_S2};
use crate::holes::HoleIx;
use crate::mating::Mate;
use crate::pull::{End, Filling, Fillings, GapStack, gap_stack};
use crate::statics::{GivesWay, JointModel, LoadHold, Reason, Verdict};

/// One joint.
#[derive(Clone, Debug, PartialEq)]
pub struct JointReport {
    /// Which joint.
    pub joint: JointIx,
    /// How it is held.
    pub held: Held,
    /// The matings with their gaps and pulls.
    pub pairs: Vec<PairReport>,
    /// By variant that uses the joint: the worst case. Empty for a glued or loose joint.
    pub holds: Vec<HoldCase>,
    /// Whether it lets go before the part snaps, where that is asked.
    pub let_go: Option<LetGoCase>,
    /// Pull that the hand must overcome, strong end, straight off, N.
    pub hand_n: f64,
    /// Everything that speaks against it, the most urgent first.
    pub reasons: Vec<Reason>,
}

impl JointReport {
    /// Whether the builder should look at it: something speaks against it.
    pub fn is_in_trouble(&self) -> bool {
        !self.reasons.is_empty()
    }

    /// The case with the smallest margin.
    pub fn worst(&self) -> Option<&HoldCase> {
        let holds = self.holds.iter();
        holds.reduce(|a, b| {
            if b.margin_x_weight < a.margin_x_weight {
                b
            } else {
                a
            }
        })
    }

    /// Whether a piece's glue is loaded beyond what it may bear.
    pub fn overloads_glue_of(&self, pair: &PairReport) -> bool {
        self.reasons.iter().any(|r| match r {
            Reason::GlueOverloaded { hole, .. } => pair.holes.contains(hole),
            _ => false,
        })
    }
}

/// How a joint is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Held {
    /// It may be glued for good.
    Glued,
    /// By magnets or steel.
    Magnets,
    /// By a friction pin.
    Friction,
    /// By nothing.
    Loose,
}

/// Two faces that meet, with what is in them.
#[derive(Clone, Debug, PartialEq)]
pub struct PairReport {
    /// The holes, the host's first.
    pub holes: [HoleIx; 2],
    /// The poles shown there.
    pub poles: [Option<Pole>; 2],
    /// Where it lies in the socket's axes, mm.
    pub at_mm: [f64; 2],
    /// What lies between.
    pub gap: GapStack,
    /// Pull at the weak end, N; negative where it repels.
    pub weak_n: f64,
    /// Pull at the strong end, N; negative where it repels.
    pub strong_n: f64,
    /// Stress on the more heavily loaded glue bond at the strong end, MPa.
    pub bond_mpa: f64,
}

/// What a joint holds in one variant, all tolerances at their weak end and free options at their worst.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldCase {
    /// The variant.
    pub variant: VariantIx,
    /// Load at which the joint opens or slips, in multiples of what it carries, in the worst direction.
    pub margin_x_weight: f64,
    /// Whether that reaches the target.
    pub reaches_target: bool,
    /// What happens then.
    pub gives_way: GivesWay,
    /// Direction of that load in the mating frame.
    pub direction: Vec3,
    /// Mass carried, g, at the upper end of its spread.
    pub mass_g: f64,
    /// Its centre in the mating frame, mm.
    pub centre_mm: Vec3,
    /// Whether the model hangs by the joint, lifted by a part beyond it.
    pub lifted: bool,
    /// Whether a mass is guessed.
    pub guessed: bool,
    /// How far a part in a snug peg droops, degrees.
    pub droop_deg: Option<f64>,
    /// Margin up to which it stays fully closed.
    pub stays_closed_x_weight: f64,
}

/// Whether a joint lets go before the part snaps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LetGoCase {
    /// Force at the reach that opens the joint in the direction that opens it last, N; `None` where a snug peg keeps it
    /// from opening.
    pub opens_n: Option<f64>,
    /// Force there that snaps the part, N.
    pub snaps_n: f64,
    /// Whether it opens with the safety asked for.
    pub lets_go: bool,
}

/// Reports on every joint.
///
/// ```
/// # use lodewright_joints::Context;
/// # use std::rc::Rc;
/// # use lodewright_assembly::{Board, glue_answer};
/// # use lodewright_kit::{Edit, Plan};
/// # let grid = "\tWorks\tParade\nNose\tPlough\tHook\n".to_owned();
/// # let plan = Plan::empty("Tug").edited(&Edit::PasteGrid(grid))?;
/// # let board = Rc::new(Board::of(lodewright_kit::CheckedPlan::of(plan).map_err(|p| p[0].to_string())?));
/// # let glue = Rc::new(glue_answer(&board));
/// # let context = Context::of(board, glue);
/// use lodewright_joints::{initial_sizes, joint_reports, poles};
///
/// let fillings = initial_sizes(&context).fillings;
/// let poles = poles(&context.holes, &context.mates, &fillings).poles;
/// for report in joint_reports(&context, &fillings, &poles).values() {
///     assert!(!report.is_in_trouble(), "{:?}", report.reasons);
///     assert!(report.holds.iter().all(|case| case.margin_x_weight >= 3.0));
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn joint_reports(
    context: &Context,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Table<JointIx, JointReport> {
    let report = |joint| report(context, joint, fillings, poles);
    JointIx::all(&context.board.joints).map(report).collect()
}

fn report(
    context: &Context,
    joint: JointIx,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
) -> JointReport {
    let held = match context.attach(joint) {
        _ if context.glue.separable[joint].is_none() => Held::Glued,
        Attach::Magnets => Held::Magnets,
        Attach::Friction(_) => Held::Friction,
        Attach::Loose => Held::Loose,
    };
    let Some(model) = context.model(joint, fillings, Some(poles)) else {
        return JointReport {
            joint,
            held,
            pairs: Vec::new(),
            holds: Vec::new(),
            let_go: None,
            hand_n: 0.0,
            reasons: Vec::new(),
        };
    };
    let verdict = model.judge();
    let mates = context.mates[joint]
        .iter()
        .filter(|_| model.pin_n.is_none());
    JointReport {
        joint,
        held,
        pairs: mates
            .filter_map(|mate| pair(context, &model, mate, fillings, poles))
            .collect(),
        holds: holds(context, &model, &verdict),
        let_go: verdict.let_go.as_ref().map(|account| LetGoCase {
            opens_n: account.opens.map(|o| o.hardest_n),
            snaps_n: account.snaps_n,
            lets_go: account.lets_go,
        }),
        hand_n: verdict.hand_n,
        reasons: verdict.reasons,
    }
}

/// Two faces that meet with a piece in at least one of them.
fn pair(
    context: &Context,
    model: &JointModel,
    mate: &Mate,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Option<PairReport> {
    let holes = mate.holes(&context.holes);
    if holes.iter().all(|h| fillings[*h] == Filling::Empty) {
        return None;
    }
    let far = [
        context.holes.faces[mate.socket_face].far,
        mate.shows_back(&context.holes),
    ];
    let shown = |i: usize| poles[holes[i]].map(|p| if far[i] { p.other() } else { p });
    let made = model
        .pairs
        .iter()
        .find(|p| p.pieces().map(|p| p.hole) == holes);
    let pull = |end| made.map_or(0.0, |pair| model.pair_n(pair, end, 0.0));
    Some(PairReport {
        holes,
        poles: [shown(0), shown(1)],
        at_mm: mate.at_mm,
        gap: gap_stack(context.plan(), &context.holes, mate, fillings),
        weak_n: pull(End::Weak),
        strong_n: pull(End::Strong),
        bond_mpa: made.map_or(0.0, |pair| model.bond_mpa(pair)),
    })
}

fn holds(context: &Context, model: &JointModel, verdict: &Verdict) -> Vec<HoldCase> {
    let mut worst: Vec<(VariantIx, &LoadHold)> = Vec::new();
    for hold in &verdict.holds {
        for variant in model.loads[hold.load].variants.iter() {
            match worst.iter_mut().find(|(v, _)| v == variant) {
                Some((_, old)) if old.margin() <= hold.margin() => {}
                Some((_, old)) => *old = hold,
                None => worst.push((*variant, hold)),
            }
        }
    }
    sort_by_key(&mut worst, |(v, _)| *v);
    let case = |(variant, hold): (VariantIx, &LoadHold)| {
        let (load, account) = (&model.loads[hold.load], &hold.account);
        HoldCase {
            variant,
            margin_x_weight: account.margin_g,
            reaches_target: hold.is_enough,
            gives_way: GivesWay::of(&context.board, model.joint, &account.mode),
            direction: account.direction,
            mass_g: load.mass_g,
            centre_mm: load.centre_mm,
            lifted: load.lifted,
            guessed: load.guessed,
            droop_deg: account.droop_deg,
            stays_closed_x_weight: account.stays_shut_g,
        }
    };
    worst.into_iter().map(case).collect()
}

/// A force in N as the mass that weighs as much, g.
pub fn as_grams(force_n: f64) -> f64 {
    force_n / G_M_S2 * 1000.0
}
