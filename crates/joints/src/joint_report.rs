//! The account of every joint: what it pulls, what it holds in each variant and why, whether it lets go, what its glue
//! and the hand must bear.

use lodewright_kit::{Attach, Plan, Pole, Section, Settings, ThinSection, Vec3};
use lodewright_solve::hold::{self, HoldAccount, LetGo, LetGoAccount, Mode, Peg, Pull};
use serde::Serialize;
use tiny_sort::stable::sort_by_key;

use crate::pull::{End, Filling, GapStack, filling_size, gap_stack};
use crate::context::{G_M_S2, Context};

/// One joint.
#[derive(Clone, Debug, PartialEq)]
pub struct JointReport {
    /// Index of the joint.
    pub joint: usize,
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
    /// Whether that is within what the plan calls comfortable.
    pub hand_ok: bool,
}

/// How a joint is held.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
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
    /// Index of the hole on the socket's side.
    pub socket_hole: usize,
    /// Index of the hole on the plug's side.
    pub plug_hole: usize,
    /// The pole shown on the socket's side.
    pub socket_pole: Option<Pole>,
    /// The pole shown on the plug's side.
    pub plug_pole: Option<Pole>,
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
    /// Whether that is within what the glue may bear.
    pub bond_ok: bool,
}

/// What a joint holds in one variant, all tolerances at their weak end and free options at their worst.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldCase {
    /// Index of the variant.
    pub variant: usize,
    /// Load at which the joint opens or slips, in multiples of what it carries, in the worst direction.
    pub margin_g: f64,
    /// Whether that reaches the target.
    pub reaches_target: bool,
    /// What happens then.
    pub mode: ModeWord,
    /// The same as words.
    pub mode_said: String,
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
    /// Margin up to which it stays fully shut.
    pub stays_shut_g: f64,
}

/// How a joint gives way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ModeWord {
    /// Opens about an edge of the contact patch.
    Tip,
    /// Slides.
    Slide,
    /// Turns in its plane.
    Turn,
    /// Slides and turns.
    SlideTurn,
    /// Is pulled straight off.
    Pull,
    /// The faces do not touch.
    NoContact,
    /// Nothing pulls.
    NoPull,
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

/// Accounts for every joint.
pub fn accounts(
    context: &Context,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> Vec<JointReport> {
    (0..context.board.joints.len())
        .map(|joint| account(context, joint, fillings, poles))
        .collect()
}

fn account(
    context: &Context,
    joint: usize,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> JointReport {
    let held = match context.attach(joint) {
        _ if context.glue.separable[joint].is_none() => Held::Glued,
        Attach::Magnets => Held::Magnets,
        Attach::Friction(_) => Held::Friction,
        Attach::Loose => Held::Loose,
    };
    let mut out = JointReport {
        joint,
        held,
        pairs: Vec::new(),
        holds: Vec::new(),
        let_go: None,
        hand_n: 0.0,
        hand_ok: true,
    };
    if matches!(held, Held::Glued | Held::Loose) {
        return out;
    }
    if held == Held::Magnets {
        out.pairs = pairs(context, joint, fillings, poles);
    }
    out.hand_n = context
        .pulls(joint, fillings, Some(poles), End::Strong)
        .iter()
        .map(|p| p.force_n)
        .sum();
    out.hand_ok = out.hand_n <= context.board.plan.settings.hand_limit_n;
    out.holds = holds(context, joint, fillings, poles);
    out.let_go = let_go(context, joint, fillings, poles);
    out
}

fn pairs(
    context: &Context,
    joint: usize,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> Vec<PairReport> {
    let settings = &context.board.plan.settings;
    let mates = context.mates[joint].iter();
    let made = mates.map(|mate| {
        let [a, b] = [mate.socket_face, mate.plug_face].map(|f| &context.holes.faces[f]);
        let pull = |end| context.mate_pull_n(mate, fillings, Some(poles), end, 0.0);
        let strong_n = pull(End::Strong);
        let stress = |hole: usize| {
            let (d, h) = filling_size(context.board.plan, fillings[hole]).unwrap_or((1.0, 1.0));
            hold::bond_stress_mpa(strong_n.abs(), d, h).unwrap_or(0.0)
        };
        let bond_mpa = stress(a.hole).max(stress(b.hole));
        let flip = |p: Option<Pole>, turn: bool| p.map(|p| if turn { p.other() } else { p });
        PairReport {
            socket_hole: a.hole,
            plug_hole: b.hole,
            socket_pole: flip(poles[a.hole], a.far),
            plug_pole: flip(poles[b.hole], b.far ^ mate.from_behind),
            at_mm: mate.at_mm,
            gap: gap_stack(context.board.plan, &context.holes, mate, fillings),
            weak_n: pull(End::Weak),
            strong_n,
            bond_mpa,
            bond_ok: bond_mpa * settings.bond_safety <= settings.glue_strength_mpa,
        }
    });
    made.filter(|p| {
        fillings[p.socket_hole] != Filling::Empty || fillings[p.plug_hole] != Filling::Empty
    })
    .collect()
}

fn holds(
    context: &Context,
    joint: usize,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> Vec<HoldCase> {
    let mut worst: Vec<HoldCase> = Vec::new();
    for case in context.loads.cases.iter().filter(|c| c.joint == joint) {
        let Ok(account) = context.hold(case, fillings, Some(poles)) else {
            continue;
        };
        for variant in &case.variants {
            let mode = mode_word(&account);
            let new = HoldCase {
                variant: *variant,
                margin_g: account.margin_g,
                reaches_target: account.margin_g >= context.board.plan.settings.hold_target_g,
                mode,
                mode_said: said(context, joint, &account),
                direction: account.direction,
                mass_g: context.mass_g(case, fillings),
                centre_mm: case.centre_mm,
                lifted: case.lifted,
                guessed: case.guessed,
                droop_deg: account.droop_deg,
                stays_shut_g: account.stays_shut_g,
            };
            match worst.iter_mut().find(|h| h.variant == *variant) {
                Some(old) if old.margin_g <= new.margin_g => {}
                Some(old) => *old = new,
                None => worst.push(new),
            }
        }
    }
    sort_by_key(&mut worst, |h| h.variant);
    worst
}

fn mode_word(account: &HoldAccount) -> ModeWord {
    match account.mode {
        Mode::Tip { .. } => ModeWord::Tip,
        Mode::Slide => ModeWord::Slide,
        Mode::Turn => ModeWord::Turn,
        Mode::SlideTurn => ModeWord::SlideTurn,
        Mode::StraightPull | Mode::DroopedPull => ModeWord::Pull,
        Mode::NoPatch => ModeWord::NoContact,
        Mode::NoPull => ModeWord::NoPull,
    }
}

fn said(context: &Context, joint: usize, account: &HoldAccount) -> String {
    match account.mode {
        Mode::Tip { from_mm, to_mm, .. } => {
            let (x, y) = (to_mm[0] - from_mm[0], to_mm[1] - from_mm[1]);
            let j = context.board.joints[joint];
            let host = context.board.part(context.board.host(j.socket));
            // The hull runs counter-clockwise, so outwards is to the right of the edge.
            let side = context.board.socket(j.socket).side_of_host(host, [y, -x]);
            format!("tips over its edge towards the {}", side.way())
        }
        Mode::Slide => "slides sideways".to_owned(),
        Mode::Turn => "turns in its plane".to_owned(),
        Mode::SlideTurn => "slides and turns".to_owned(),
        Mode::StraightPull => "is pulled straight off".to_owned(),
        Mode::DroopedPull => "droops, then is pulled straight off".to_owned(),
        Mode::NoPatch => "has no contact: the outlines do not overlap".to_owned(),
        Mode::NoPull => "is not held: nothing pulls it on".to_owned(),
    }
}

fn let_go(
    context: &Context,
    joint: usize,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> Option<LetGoCase> {
    let plan = context.board.plan;
    let account = let_go_of(
        &thin_of(plan, context.board.joints[joint].part)?,
        &context.contact_mm[joint],
        &context.pulls(joint, fillings, Some(poles), End::Strong),
        context.peg(joint),
        &plan.settings,
    )?;
    Some(LetGoCase {
        opens_n: account.opens.map(|o| o.hardest_n),
        snaps_n: account.snaps_n,
        lets_go: account.lets_go,
    })
}

/// The thin section of a part and what its material bears.
pub(crate) struct Thin<'a> {
    pub section: &'a ThinSection,
    pub strength_mpa: f64,
}

/// The thin section of a part that must come off before it snaps, if there is one.
pub(crate) fn thin_of(plan: &Plan, part: usize) -> Option<Thin<'_>> {
    let part = plan.parts.get(part)?;
    Some(Thin {
        section: part.thin.as_ref()?,
        strength_mpa: plan.material(&part.material)?.strength_mpa,
    })
}

/// Whether a joint with these pulls lets go before the part snaps; `None` where a number is beyond what the statics take.
pub(crate) fn let_go_of(
    thin: &Thin<'_>,
    contact_mm: &[[f64; 2]],
    pulls: &[Pull],
    peg: Peg,
    settings: &Settings,
) -> Option<LetGoAccount> {
    let section = match thin.section.section {
        Section::Round { diameter_mm } => hold::Section::Round { diameter_mm },
        Section::Rectangle {
            width_mm,
            height_mm,
        } => hold::Section::Rectangle {
            across_mm: width_mm,
            along_mm: height_mm,
        },
    };
    hold::let_go_account(&LetGo {
        patch_mm: contact_mm,
        pulls,
        peg,
        height_mm: thin.section.reach_mm,
        section,
        length_mm: thin.section.length_mm,
        strength_mpa: thin.strength_mpa,
        stress_concentration: thin.section.notch_factor,
        safety_factor: settings.snap_safety,
    })
    .ok()
}

/// A force in N as the mass that weighs as much, g.
pub fn as_grams(force_n: f64) -> f64 {
    force_n / G_M_S2 * 1000.0
}
