//! The judge: what is asked of a joint, and every reason against it. Nothing else compares a number with a target.

use lodewright_kit::Settings;
use lodewright_solve::hold::{
    HoldAccount, HoldError, LetGoAccount, Mode, PegKind, Pull, bond_stress_mpa, shaken,
};
use tiny_sort::stable::sort_by_key;

use super::model::{JointModel, ModelLoad, ModelPair, ModelPiece};
use super::reason::Reason;
use crate::holes::HoleIx;
use crate::pull::{End, filling_size};
use crate::study::Attitude;

/// What the joint holds under one of its loads.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadHold {
    /// The load, by its place in the model.
    pub load: usize,
    /// Margin, mode and direction.
    pub account: HoldAccount,
    /// Whether that is as much as is asked.
    pub is_enough: bool,
}

/// What a joint comes to, and what speaks against it.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// Everything against it, the most urgent first; empty where it does all that is asked.
    pub reasons: Vec<Reason>,
    /// By load, where the statics can tell.
    pub holds: Vec<LoadHold>,
    /// All pulls at the weak end, N.
    pub weak_n: f64,
    /// Pull that the hand must overcome, strong end, N.
    pub hand_n: f64,
    /// Whether it lets go before the part snaps, where that is asked.
    pub let_go: Option<LetGoAccount>,
    /// Greatest stress on a glue bond at the strong end, MPa.
    pub bond_mpa: f64,
}

impl Verdict {
    /// Whether nothing speaks against the joint.
    pub fn is_good(&self) -> bool {
        self.reasons.is_empty()
    }

    /// The same as far as it can be told before every socket is placed.
    pub fn is_good_so_far(&self) -> bool {
        let unknown = |r: &Reason| matches!(r, Reason::NotPlaced { .. });
        self.reasons.iter().all(unknown)
    }

    /// The load with the least margin.
    pub fn worst(&self) -> Option<&LoadHold> {
        let holds = self.holds.iter();
        holds.reduce(|a, b| if b.margin() < a.margin() { b } else { a })
    }

    /// Smallest margin over all loads, multiples of what is carried; `None` where nothing loads it.
    pub fn margin_x_weight(&self) -> Option<f64> {
        self.worst().map(LoadHold::margin)
    }

    /// Whether it holds as much as is asked under every load.
    pub fn holds_enough(&self) -> bool {
        !self.reasons.iter().any(Reason::is_of_holding)
    }

    /// Whether the hand finds it comfortable.
    pub fn is_comfortable(&self) -> bool {
        !self.has(|r| matches!(r, Reason::HardToPull { .. }))
    }

    /// Whether the glue of its pieces bears the pull.
    pub fn glue_bears(&self) -> bool {
        !self.has(|r| matches!(r, Reason::GlueOverloaded { .. }))
    }

    /// Whether it lets go in time, or need not.
    pub fn lets_go(&self) -> bool {
        !self.has(|r| matches!(r, Reason::SnapsFirst { .. }))
    }

    /// Whether some reason is of a kind.
    pub fn has(&self, is: impl Fn(&Reason) -> bool) -> bool {
        self.reasons.iter().any(is)
    }
}

impl LoadHold {
    /// Margin, multiples of what is carried.
    pub fn margin(&self) -> f64 {
        self.account.margin_g
    }
}

impl JointModel {
    /// Everything that is asked of the joint.
    ///
    /// ```
    /// # use std::rc::Rc;
    /// # use lodewright_assembly::{Board, glue_answer};
    /// # use lodewright_kit::{CheckedPlan, Edit, Plan};
    /// # use lodewright_joints::{Context, initial_sizes};
    /// # let grid = "\tWorks\tParade\nNose\tPlough\tHook\n".to_owned();
    /// # let plan = Plan::empty("Tug").edited(&Edit::PasteGrid(grid))?;
    /// # let board = Rc::new(Board::of(CheckedPlan::of(plan).map_err(|p| p[0].to_string())?));
    /// # let glue = Rc::new(glue_answer(&board));
    /// # let context = Context::of(board, glue);
    /// # let fillings = initial_sizes(&context).fillings;
    /// # let joint = context.magnetic().next().ok_or("no joint")?;
    /// use lodewright_joints::Reason;
    ///
    /// let mut model = context.model(joint, &fillings, None).ok_or("may be glued")?;
    /// assert!(model.judge().is_good());
    /// // Without its magnets nothing pulls.
    /// model.pairs.clear();
    /// assert_eq!(model.judge().reasons, [Reason::NothingPulls]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn judge(&self) -> Verdict {
        let weak = self.pulls(End::Weak);
        let strong = self.pulls(End::Strong);
        let known = self.known_loads();
        let accounts: Vec<_> = known.map(|(n, l)| (n, self.hold(l, &weak))).collect();
        let brief = accounts
            .iter()
            .map(|(_, a)| a.as_ref().map(Brief::of).map_err(|_| ()));
        let mut reasons: Vec<Reason> = self.against(&weak, &strong, brief).collect();
        let unplaced = self.loads.iter().filter_map(|l| l.unplaced);
        reasons.extend(unplaced.map(|socket| Reason::NotPlaced { socket }));
        keep_the_worst(&mut reasons);
        let told = accounts.into_iter();
        Verdict {
            reasons,
            holds: told
                .filter_map(|(load, account)| {
                    let account = account.ok()?;
                    let is_enough = hold_reason(&self.plan.settings, Brief::of(&account)).is_none();
                    Some(LoadHold {
                        load,
                        account,
                        is_enough,
                    })
                })
                .collect(),
            weak_n: sum_n(&weak),
            hand_n: sum_n(&strong),
            let_go: self.let_go(&strong).and_then(Result::ok),
            bond_mpa: self
                .bonds_mpa(&strong)
                .fold(0.0, |most, (_, mpa)| f64::max(most, mpa)),
        }
    }

    /// The loads of which it is known where they hang.
    fn known_loads(&self) -> impl Iterator<Item = (usize, &ModelLoad)> {
        let all = self.loads.iter().enumerate();
        all.filter(|(_, load)| load.unplaced.is_none())
    }

    /// Whether nothing speaks against the joint as far as it can be told: the same answer as [`judge`](Self::judge) gives, without
    /// the account of it and no further than to the first reason.
    pub fn is_good_so_far(&self) -> bool {
        let weak = self.pulls(End::Weak);
        let strong = self.pulls(End::Strong);
        if self.cannot_hold(sum_n(&weak)) {
            return false;
        }
        let brief = self.known_loads().map(|(_, l)| match self.hold(l, &weak) {
            Ok(account) => Ok(Brief::of(&account)),
            Err(_) => Err(()),
        });
        self.against(&weak, &strong, brief).next().is_none()
    }

    /// Whether it holds as much as is asked, whatever else speaks against it.
    pub(crate) fn holds_enough(&self) -> bool {
        let weak = self.pulls(End::Weak);
        let settings = &self.plan.settings;
        let holds = |load: &ModelLoad| {
            let account = self.hold(load, &weak);
            account.is_ok_and(|a| hold_reason(settings, Brief::of(&a)).is_none())
        };
        !self.cannot_hold(sum_n(&weak))
            && self.known_loads().all(|(_, load)| holds(load))
            && self.shaken_off(&weak).is_none()
    }

    /// Every reason against the joint, found as they are asked for, those first that are quick to find.
    fn against<'a>(
        &'a self,
        weak: &'a [Pull],
        strong: &'a [Pull],
        holds: impl Iterator<Item = Result<Brief, ()>> + 'a,
    ) -> impl Iterator<Item = Reason> + 'a {
        let settings = &self.plan.settings;
        let hand_n = sum_n(strong);
        let ends = self.pairs.iter().zip(weak.iter().zip(strong));
        let repels = ends
            .filter(|(_, (weak, strong))| weak.force_n < 0.0 || strong.force_n < 0.0)
            .map(|(pair, _)| Reason::Repels {
                holes: pair.pieces().map(|p| p.hole),
            });
        let no_room = self.pairs.iter().flat_map(ModelPair::pieces);
        let no_room = no_room.filter_map(|p| {
            let (hole, misfit) = (p.hole, p.misfit?);
            Some(Reason::NoRoom { hole, misfit })
        });
        let hard = (hand_n > settings.hand_limit_n).then_some(Reason::HardToPull { hand_n });
        let bonds = self.bonds_mpa(strong);
        let glue = bonds
            .filter(|(_, mpa)| mpa * settings.bond_safety > settings.glue_strength_mpa)
            .map(|(hole, bond_mpa)| Reason::GlueOverloaded { hole, bond_mpa });
        let snaps = std::iter::once_with(|| self.snaps(strong)).flatten();
        let holds = holds.filter_map(|hold| match hold {
            Ok(brief) => hold_reason(settings, brief),
            Err(()) => Some(Reason::CannotTell),
        });
        repels
            .chain(no_room)
            .chain(hard)
            .chain(glue)
            .chain(snaps)
            .chain(holds)
            .chain(std::iter::once_with(|| self.shaken_off(weak)).flatten())
    }

    fn snaps(&self, strong: &[Pull]) -> Option<Reason> {
        match self.let_go(strong)? {
            Ok(case) if case.lets_go => None,
            Ok(case) => Some(Reason::SnapsFirst {
                opens_n: case.opens.map(|o| o.hardest_n),
                snaps_n: case.snaps_n,
            }),
            Err(_) => Some(Reason::CannotTell),
        }
    }

    /// The attitude in which it bears the least shaking, where that is too little. What holds the target in the worst direction
    /// bears, in any attitude, at least as much shaking as the target is above the weight itself; then there is nothing to ask.
    fn shaken_off(&self, weak: &[Pull]) -> Option<Reason> {
        let settings = &self.plan.settings;
        if settings.hold_target_g >= 1.0 + settings.shake_g {
            return None;
        }
        let cases = Attitude::ALL
            .into_iter()
            .filter_map(|a| Some((a, self.least_shake_g(a, weak)?.0)));
        let (attitude, shake_g) = cases.reduce(|a, b| if b.1 < a.1 { b } else { a })?;
        (!self.withstands(shake_g)).then_some(Reason::ShakenOff { attitude, shake_g })
    }

    /// Shaking that the joint bears on top of gravity in an attitude of the model, g, and the load that bears least. Loads of a
    /// model that hangs by the joint are left out: who lifts it chooses the attitude.
    pub(crate) fn least_shake_g(
        &self,
        attitude: Attitude,
        weak: &[Pull],
    ) -> Option<(f64, &ModelLoad)> {
        let known = self.known_loads().map(|(_, load)| load);
        let cases = known.filter(|load| !load.lifted).filter_map(|load| {
            let down = attitude.down(load.base_axes);
            let found: Result<_, HoldError> = self.under(load, weak, |joint| shaken(joint, down));
            Some((found.ok()?.shake_g, load))
        });
        cases.reduce(|a, b| if b.0 < a.0 { b } else { a })
    }

    /// Mean stress on the more heavily loaded glue bond of a pair at the strong end, MPa.
    pub fn bond_mpa(&self, pair: &ModelPair) -> f64 {
        let pull_n = self.pair_n(pair, End::Strong, 0.0);
        let stress = pair.pieces().map(|p| self.stress_mpa(p, pull_n));
        stress.into_iter().fold(0.0, f64::max)
    }

    fn stress_mpa(&self, piece: &ModelPiece, pull_n: f64) -> f64 {
        let (d, h) = filling_size(&self.plan, piece.filling).unwrap_or((1.0, 1.0));
        bond_stress_mpa(pull_n.abs(), d, h).unwrap_or(0.0)
    }

    /// Mean stress on the glue of each piece, with its hole, MPa.
    fn bonds_mpa<'a>(&'a self, strong: &'a [Pull]) -> impl Iterator<Item = (HoleIx, f64)> + 'a {
        let pairs = self.pairs.iter().zip(strong);
        pairs.flat_map(|(pair, pull)| {
            pair.pieces()
                .map(|p| (p.hole, self.stress_mpa(p, pull.force_n)))
        })
    }

    /// Whether a margin is as much as is asked.
    pub(crate) fn reaches(&self, margin_x_weight: f64) -> bool {
        reaches(&self.plan.settings, margin_x_weight)
    }

    /// Whether so much shaking on top of gravity is as much as is asked.
    pub(crate) fn withstands(&self, shake_g: f64) -> bool {
        shake_g >= self.plan.settings.shake_g
    }

    /// A quick bound: all pulls together do not reach the target straight off or, without a peg, in sliding.
    fn cannot_hold(&self, weak_n: f64) -> bool {
        let settings = &self.plan.settings;
        let heaviest_n = self
            .known_loads()
            .map(|(_, load)| load.weight_n())
            .fold(0.0, f64::max);
        let mu = settings.friction;
        let grip_n = match self.peg.kind {
            PegKind::None => mu * weak_n / (1.0 + mu * mu).sqrt(),
            _ => weak_n,
        };
        // A hair under still counts: the sums here and there round differently.
        grip_n < settings.hold_target_g * heaviest_n * (1.0 - 1e-9)
    }
}

/// What counts of a hold account.
#[derive(Clone, Copy)]
struct Brief {
    margin_x_weight: f64,
    mode: Mode,
}

impl Brief {
    fn of(account: &HoldAccount) -> Self {
        Self {
            margin_x_weight: account.margin_g,
            mode: account.mode,
        }
    }
}

fn reaches(settings: &Settings, margin_x_weight: f64) -> bool {
    margin_x_weight >= settings.hold_target_g
}

fn hold_reason(settings: &Settings, hold: Brief) -> Option<Reason> {
    let margin_x_weight = hold.margin_x_weight;
    if reaches(settings, margin_x_weight) {
        return None;
    }
    Some(match hold.mode {
        Mode::NoPull => Reason::NothingPulls,
        Mode::NoPatch => Reason::NoContact,
        _ => Reason::TooWeak { margin_x_weight },
    })
}

fn sum_n(pulls: &[Pull]) -> f64 {
    pulls.iter().map(|p| p.force_n).sum()
}

/// Of what several loads say the worst stays, and each reason once, the most urgent first.
fn keep_the_worst(reasons: &mut Vec<Reason>) {
    let margin = |r: &Reason| match r {
        Reason::TooWeak { margin_x_weight } => Some(*margin_x_weight),
        _ => None,
    };
    let least = reasons.iter().filter_map(margin).min_by(f64::total_cmp);
    let mut kept: Vec<Reason> = Vec::with_capacity(reasons.len());
    for reason in reasons.drain(..) {
        let is_worst = margin(&reason).is_none_or(|m| Some(m) == least);
        if is_worst && !kept.contains(&reason) {
            kept.push(reason);
        }
    }
    sort_by_key(&mut kept, Reason::urgency);
    *reasons = kept;
}
