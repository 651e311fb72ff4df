//! A joint by itself: all that its margins depend on, owned, so that a change can be tried many times a second.

use lodewright_field::FieldError;
use lodewright_kit::{Attach, Plan, Pole, Vec3};
use lodewright_solve::hold::{
    self, DroopedPulls, HoldAccount, HoldError, Joint, LetGoAccount, Load, Peg, Pull,
};

use crate::account::{let_go_of, thin_of};
use crate::poles::attract;
use crate::pull::{End, Filling, filling_mass_g, filling_size, gap_at, gap_stack, pull_n};
use crate::scene::{G_M_S2, Scene};

/// A side of a mating.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PairSide {
    /// The host's.
    Socket,
    /// The part's.
    Plug,
}

/// One piece of a mating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelPiece {
    /// Index of its hole in the plan's holes.
    pub hole: usize,
    /// Its centre in the socket's axes, mm.
    pub at_mm: [f64; 2],
    /// What is in the hole.
    pub filling: Filling,
    /// Whether a lower piece stands farther back: it is set flush at the other end of a hole that goes right through.
    pub flush_behind: bool,
}

/// Two pieces that face each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelPair {
    /// On the host.
    pub socket: ModelPiece,
    /// On the part.
    pub plug: ModelPiece,
    /// Gap between them as planned, mm.
    pub gap_mm: f64,
    /// How much of the gap is coats and films, mm.
    pub coats_mm: f64,
    /// Whether the poles shown attract; true where one of the two is steel.
    pub attracts: bool,
}

/// A load on the joint.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelLoad {
    /// The variants in which it occurs.
    pub variants: Vec<usize>,
    /// Whether the model hangs by the joint, lifted by a part beyond it.
    pub lifted: bool,
    /// Mass at the upper end of what the entries allow, magnets and all, g.
    pub mass_g: f64,
    /// The same as estimated, g.
    pub likely_g: f64,
    /// Centre of mass in the mating frame, mm.
    pub centre_mm: Vec3,
    /// The base's front, left and up as directions in the mating frame.
    pub base_axes: [Vec3; 3],
}

/// The joint.
#[derive(Clone, Debug, PartialEq)]
pub struct JointModel {
    /// Index of the joint.
    pub joint: usize,
    /// Polygon of contact in the socket's axes, mm.
    pub contact_mm: Vec<[f64; 2]>,
    /// Its peg.
    pub peg: Peg,
    /// Pull of a friction pin, N, where one holds it.
    pub pin_n: Option<f64>,
    /// Its matings.
    pub pairs: Vec<ModelPair>,
    /// Its loads, each once.
    pub loads: Vec<ModelLoad>,
    /// Index of the part.
    pub part: usize,
}

/// What the joint comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelAccount {
    /// Smallest margin over all loads, multiples of what is carried; `None` where nothing loads it.
    pub margin_g: Option<f64>,
    /// Index of the load that gives it.
    pub load: usize,
    /// The account of that load.
    pub hold: Option<HoldAccount>,
    /// Whether it reaches the plan's target.
    pub reaches_target: bool,
    /// Pull at the weak end, N.
    pub weak_n: f64,
    /// Pull that the hand must overcome, strong end, N.
    pub hand_n: f64,
    /// Whether that is comfortable.
    pub hand_ok: bool,
    /// Whether it lets go before the part snaps, where that is asked.
    pub let_go: Option<LetGoAccount>,
    /// Greatest stress on a glue bond at the strong end, MPa.
    pub bond_mpa: f64,
    /// Whether the glue bears it.
    pub bond_ok: bool,
}

impl ModelAccount {
    /// Whether all that is asked of the joint is met.
    pub fn is_good(&self) -> bool {
        self.reaches_target
            && self.hand_ok
            && self.bond_ok
            && self.let_go.is_none_or(|case| case.lets_go)
    }
}

impl JointModel {
    /// The joint with what is fitted; `None` for one that nothing holds or that may be glued.
    pub fn of(
        scene: &Scene<'_, '_>,
        joint: usize,
        fillings: &[Filling],
        poles: &[Option<Pole>],
    ) -> Option<Self> {
        scene.glue.separable.get(joint).copied().flatten()?;
        let pin_n = match scene.attach(joint) {
            Attach::Magnets => None,
            Attach::Friction(force_n) => Some(force_n),
            Attach::Loose => return None,
        };
        let cases = scene.loads.cases.iter().filter(|c| c.joint == joint);
        Some(Self {
            joint,
            contact_mm: scene.contact_mm[joint].clone(),
            peg: scene.peg(joint),
            pin_n,
            pairs: match pin_n {
                Some(_) => Vec::new(),
                None => pairs(scene, joint, fillings, poles),
            },
            loads: cases
                .map(|case| {
                    let mass_g = scene.mass_g(case, fillings);
                    ModelLoad {
                        variants: case.variants.clone(),
                        lifted: case.lifted,
                        mass_g,
                        likely_g: case.likely_g + mass_g - case.mass_g,
                        centre_mm: case.centre_mm,
                        base_axes: case.base_axes,
                    }
                })
                .collect(),
            part: scene.board.joints[joint].part,
        })
    }

    /// The pulls at one end of all tolerances, every gap wider by `extra_mm`.
    pub fn pulls(&self, plan: &Plan, end: End, extra_mm: f64) -> Vec<Pull> {
        if let Some(force_n) = self.pin_n {
            return vec![Pull {
                at_mm: self.peg.at_mm,
                force_n,
            }];
        }
        let pull = |pair: &ModelPair| Pull {
            at_mm: pair.socket.at_mm,
            force_n: pair.pull_n(plan, end, extra_mm).unwrap_or(0.0),
        };
        self.pairs.iter().map(pull).collect()
    }

    /// What the joint holds under one of its loads with these pulls; `drooped` gives a pull at a wider gap.
    ///
    /// # Errors
    /// [`HoldError`] where a number is beyond what the statics take.
    pub fn hold(
        &self,
        plan: &Plan,
        load: &ModelLoad,
        pulls: &[Pull],
        drooped: DroopedPulls<'_>,
    ) -> Result<HoldAccount, HoldError> {
        hold::hold_account(&self.statics(plan, load, pulls, drooped))
    }

    /// The joint as the statics take it.
    pub(crate) fn statics<'a>(
        &'a self,
        plan: &Plan,
        load: &ModelLoad,
        pulls: &'a [Pull],
        drooped: DroopedPulls<'a>,
    ) -> Joint<'a> {
        Joint {
            patch_mm: &self.contact_mm,
            pulls,
            friction: plan.settings.friction,
            peg: self.peg,
            load: Load {
                weight_n: load.mass_g / 1000.0 * G_M_S2,
                centre_mm: load.centre_mm,
            },
            drooped,
        }
    }

    /// Everything that is asked of the joint.
    pub fn account(&self, plan: &Plan) -> ModelAccount {
        let weak = self.pulls(plan, End::Weak, 0.0);
        let strong = self.pulls(plan, End::Strong, 0.0);
        let drooped = |i: usize, extra_mm: f64| self.drooped_n(plan, &weak, i, extra_mm);
        let holds = self.loads.iter().enumerate().filter_map(|(i, load)| {
            let account = self.hold(plan, load, &weak, DroopedPulls::AtExtraGap(&drooped));
            Some((i, account.ok()?))
        });
        let worst = holds.reduce(|a, b| if b.1.margin_g < a.1.margin_g { b } else { a });
        let hand_n: f64 = strong.iter().map(|p| p.force_n).sum();
        let bond_mpa = self.bond_mpa(plan, &strong);
        let settings = &plan.settings;
        let margin_g = worst.as_ref().map(|(_, account)| account.margin_g);
        ModelAccount {
            reaches_target: margin_g.is_none_or(|m| m >= settings.hold_target_g),
            margin_g,
            load: worst.as_ref().map_or(0, |(i, _)| *i),
            hold: worst.map(|(_, account)| account),
            weak_n: weak.iter().map(|p| p.force_n).sum(),
            hand_n,
            hand_ok: hand_n <= settings.hand_limit_n,
            let_go: thin_of(plan, self.part)
                .and_then(|thin| let_go_of(&thin, &self.contact_mm, &strong, self.peg, settings)),
            bond_mpa,
            bond_ok: bond_mpa * settings.bond_safety <= settings.glue_strength_mpa,
        }
    }

    fn drooped_n(&self, plan: &Plan, pulls: &[Pull], index: usize, extra_mm: f64) -> f64 {
        match self.pairs.get(index) {
            Some(pair) => pair.pull_n(plan, End::Weak, extra_mm).unwrap_or(0.0),
            None => pulls.get(index).map_or(0.0, |p| p.force_n),
        }
    }

    fn bond_mpa(&self, plan: &Plan, strong: &[Pull]) -> f64 {
        let pairs = self.pairs.iter().zip(strong);
        pairs
            .flat_map(|(pair, pull)| {
                [pair.socket, pair.plug].map(|piece| {
                    let (d, h) = filling_size(plan, piece.filling).unwrap_or((1.0, 1.0));
                    hold::bond_stress_mpa(pull.force_n.abs(), d, h).unwrap_or(0.0)
                })
            })
            .fold(0.0, f64::max)
    }

    /// Puts a piece elsewhere in the mating plane, mm in the socket's axes.
    pub fn move_piece(&mut self, pair: usize, side: PairSide, to_mm: [f64; 2]) {
        if let Some(pair) = self.pairs.get_mut(pair) {
            pair.side_mut(side).at_mm = to_mm;
        }
    }

    /// Puts something else in a hole; the carried mass and, in a hole that goes right through, the gap change with it.
    pub fn fill(&mut self, plan: &Plan, pair: usize, side: PairSide, filling: Filling) {
        let Some(pair) = self.pairs.get_mut(pair) else {
            return;
        };
        let old = pair.side_mut(side).filling;
        pair.side_mut(side).filling = filling;
        if pair.side_mut(side).flush_behind {
            let height_mm = |f| filling_size(plan, f).map_or(0.0, |(_, h)| h);
            pair.gap_mm = (pair.gap_mm + height_mm(old) - height_mm(filling)).max(0.0);
        }
        if side == PairSide::Plug {
            let more_g = filling_mass_g(plan, filling) - filling_mass_g(plan, old);
            for load in self.loads.iter_mut().filter(|l| !l.lifted) {
                load.mass_g += more_g;
                load.likely_g += more_g;
            }
        }
    }
}

impl ModelPair {
    /// The piece on a side.
    pub fn side(&self, side: PairSide) -> &ModelPiece {
        match side {
            PairSide::Socket => &self.socket,
            PairSide::Plug => &self.plug,
        }
    }

    fn side_mut(&mut self, side: PairSide) -> &mut ModelPiece {
        match side {
            PairSide::Socket => &mut self.socket,
            PairSide::Plug => &mut self.plug,
        }
    }

    /// How far the two axes lie apart in the mating plane, mm.
    pub fn offset_mm(&self) -> f64 {
        lodewright_geometry::distance(self.socket.at_mm, self.plug.at_mm)
    }

    /// Signed pull at one end of the tolerances, N; negative where it repels.
    ///
    /// # Errors
    /// [`FieldError`] where a size or gap is beyond the field formulas' limits.
    pub fn pull_n(&self, plan: &Plan, end: End, extra_mm: f64) -> Result<f64, FieldError> {
        let gap_mm = gap_at(plan, self.gap_mm, end) + extra_mm;
        let size_n = pull_n(
            plan,
            self.socket.filling,
            self.plug.filling,
            gap_mm,
            self.offset_mm(),
            end,
        )?;
        Ok(if self.attracts { size_n } else { -size_n })
    }
}

fn pairs(
    scene: &Scene<'_, '_>,
    joint: usize,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> Vec<ModelPair> {
    let plan = scene.board.plan;
    let pose = scene.board.joints[joint].pose;
    let made = scene.mates[joint].iter().map(|mate| {
        let [a, b] = [mate.socket_face, mate.plug_face].map(|f| &scene.holes.faces[f]);
        let stack = gap_stack(plan, &scene.holes, mate, fillings);
        let coats = stack.parts.iter().filter(|p| !p.what.starts_with("wall"));
        let both = matches!(
            (fillings[a.hole], fillings[b.hole]),
            (Filling::Magnet(_), Filling::Magnet(_))
        );
        ModelPair {
            socket: ModelPiece {
                hole: a.hole,
                at_mm: mate.at_mm,
                filling: fillings[a.hole],
                flush_behind: a.far,
            },
            plug: ModelPiece {
                hole: b.hole,
                at_mm: pose.place(b.at_mm),
                filling: fillings[b.hole],
                flush_behind: b.far || mate.from_behind,
            },
            gap_mm: stack.gap_mm,
            coats_mm: coats.map(|p| p.thickness_mm).sum(),
            attracts: !both || attract(&scene.holes, mate, poles),
        }
    });
    made.filter(|p| p.socket.filling != Filling::Empty && p.plug.filling != Filling::Empty)
        .collect()
}
