//! A joint by itself: all that its margins depend on, owned, so that a change can be tried many times a second.

use std::rc::Rc;

use lodewright_assembly::{Board, JointIx};
use lodewright_body::LEAST_WALL_MM;
use lodewright_geometry::distance;
use lodewright_kit::{CheckedPlan, PartIx, SocketIx, VariantIx, Vec3};
use lodewright_solve::hold::{self, DroopedPulls, HoldAccount, HoldError, Joint, Load, Peg, Pull};

use crate::bits::hole_mm;
use crate::context::G_M_S2;
use crate::hole_runs::unplace;
use crate::holes::{Hole, HoleIx, Holes};
use crate::pull::{End, Filling, PairSide, filling_mass_g, filling_size, gap_at};
use crate::pull_memory::PullMemory;
use crate::room::{Misfit, misfit};

/// One piece of a mating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelPiece {
    /// Its hole.
    pub hole: HoleIx,
    /// Its centre in the socket's axes, mm.
    pub at_mm: [f64; 2],
    /// What is in the hole.
    pub filling: Filling,
    /// Whether a lower piece stands farther back: it is set flush at the other end of a hole that goes right through.
    pub flush_behind: bool,
    /// Why its hole cannot take it, with the allowances for glue and fit.
    pub misfit: Option<Misfit>,
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
    pub variants: Rc<[VariantIx]>,
    /// Whether the model hangs by the joint, lifted by a part beyond it.
    pub lifted: bool,
    /// Whether a mass in it is guessed.
    pub guessed: bool,
    /// Mass at the upper end of what the entries allow, magnets and all, g.
    pub mass_g: f64,
    /// The same as estimated, g.
    pub likely_g: f64,
    /// Centre of mass in the mating frame, mm.
    pub centre_mm: Vec3,
    /// The base's front, left and up as directions in the mating frame.
    pub base_axes: [Vec3; 3],
    /// A socket whose place it depends on and that nobody has placed: what it does to the joint is then not known.
    pub unplaced: Option<SocketIx>,
}

impl ModelLoad {
    /// The load with so much more on it.
    pub(crate) fn heavier(&self, by_g: f64) -> Self {
        Self {
            mass_g: self.mass_g + by_g,
            likely_g: self.likely_g + by_g,
            variants: Rc::clone(&self.variants),
            ..*self
        }
    }

    /// Its weight, N. Nothing weighs nothing.
    pub fn weight_n(&self) -> f64 {
        self.mass_g.max(0.001) / 1000.0 * G_M_S2
    }
}

/// The joint.
#[derive(Clone, Debug)]
pub struct JointModel {
    pub(crate) board: Rc<Board>,
    pub(crate) holes: Rc<Holes>,
    pub(crate) plan: CheckedPlan,
    pub(crate) pulls: Rc<PullMemory>,
    /// Which joint.
    pub joint: JointIx,
    /// Its part.
    pub part: PartIx,
    /// Polygon of contact in the socket's axes, mm.
    pub contact_mm: Rc<[[f64; 2]]>,
    /// Its peg.
    pub peg: Peg,
    /// Pull of a friction pin, N, where one holds it.
    pub pin_n: Option<f64>,
    /// Its matings with a piece on both sides.
    pub pairs: Vec<ModelPair>,
    /// Its loads, each once.
    pub loads: Vec<ModelLoad>,
}

impl JointModel {
    /// The pulls at one end of all tolerances, N; negative where a pair repels.
    pub fn pulls(&self, end: End) -> Vec<Pull> {
        if let Some(force_n) = self.pin_n {
            return vec![Pull {
                at_mm: self.peg.at_mm,
                force_n,
            }];
        }
        let pull = |pair: &ModelPair| Pull {
            at_mm: pair.socket.at_mm,
            force_n: self.pair_n(pair, end, 0.0),
        };
        self.pairs.iter().map(pull).collect()
    }

    /// Signed pull of a pair at one end of the tolerances, its gap wider by `extra_mm`, N; negative where it repels.
    pub fn pair_n(&self, pair: &ModelPair, end: End, extra_mm: f64) -> f64 {
        let gap_mm = gap_at(&self.plan, pair.gap_mm, end) + extra_mm;
        let fillings = [pair.socket.filling, pair.plug.filling];
        let size_n = self
            .pulls
            .attraction_n(&self.plan, fillings, gap_mm, pair.offset_mm(), end);
        if pair.attracts { size_n } else { -size_n }
    }

    /// What the joint holds under one of its loads with these pulls.
    ///
    /// # Errors
    /// [`HoldError`] where a number is beyond what the statics take.
    pub(crate) fn hold(&self, load: &ModelLoad, weak: &[Pull]) -> Result<HoldAccount, HoldError> {
        self.under(load, weak, hold::hold_account)
    }

    /// Asks something of the joint as the statics take it, with its pulls at the weak end.
    pub(crate) fn under<T>(
        &self,
        load: &ModelLoad,
        weak: &[Pull],
        ask: impl FnOnce(&Joint<'_>) -> T,
    ) -> T {
        let drooped = |i: usize, extra_mm: f64| match self.pairs.get(i) {
            Some(pair) => self.pair_n(pair, End::Weak, extra_mm),
            None => weak.get(i).map_or(0.0, |p| p.force_n),
        };
        ask(&Joint {
            patch_mm: &self.contact_mm,
            pulls: weak,
            friction: self.plan.settings.friction,
            peg: self.peg,
            load: Load {
                weight_n: load.weight_n(),
                centre_mm: load.centre_mm,
            },
            drooped: DroopedPulls::AtExtraGap(&drooped),
        })
    }

    /// Puts a piece elsewhere in the mating plane, mm in the socket's axes; its hole is held against the body there.
    pub fn move_piece(&mut self, pair: usize, side: PairSide, to_mm: [f64; 2]) {
        let Some(moved) = self.pairs.get(pair) else {
            return;
        };
        let piece = *moved.side(side);
        let misfit = if self.holes.holes[piece.hole].through {
            piece.misfit
        } else {
            self.misfit_at(pair, side, to_mm)
        };
        if let Some(pair) = self.pairs.get_mut(pair) {
            let piece = pair.side_mut(side);
            (piece.at_mm, piece.misfit) = (to_mm, misfit);
        }
    }

    /// A hole as it is or would be at a place of the mating plane, mm in the socket's axes; one that goes right through stays.
    pub(crate) fn hole_at(&self, hole: HoleIx, side: PairSide, at_mm: [f64; 2]) -> Hole {
        if self.holes.holes[hole].through {
            return self.holes.holes[hole].clone();
        }
        let in_face = match side {
            PairSide::Socket => at_mm,
            PairSide::Plug => unplace(self.board.joints[self.joint].pose, at_mm),
        };
        self.holes.moved(&self.board, hole, in_face)
    }

    /// Why the hole of a piece cannot be at another place of its face, beside the other pieces of the joint.
    fn misfit_at(&self, pair: usize, side: PairSide, to_mm: [f64; 2]) -> Option<Misfit> {
        let piece = *self.pairs.get(pair)?.side(side);
        let hole = self.hole_at(piece.hole, side, to_mm);
        let wide_mm =
            |filling| filling_size(&self.plan, filling).map(|(d, _)| hole_mm(&self.plan, d));
        let others = self.pairs.iter().enumerate().filter(|(n, _)| *n != pair);
        let near = others.map(|(_, other)| other.side(side)).find_map(|other| {
            let both_mm = wide_mm(piece.filling)? + wide_mm(other.filling)?;
            let left_mm = (distance(to_mm, other.at_mm) - both_mm / 2.0).max(0.0);
            (left_mm < LEAST_WALL_MM - 1e-6).then_some(Misfit::NearHole {
                hole: other.hole,
                left_mm,
            })
        });
        misfit(&self.plan, &hole, piece.filling).or(near)
    }

    /// Puts something else in a hole, which takes it or says why not; the carried mass and, in a hole that goes right through, the gap
    /// change with it.
    pub fn fill(&mut self, pair: usize, side: PairSide, filling: Filling, misfit: Option<Misfit>) {
        let plan = self.plan.clone();
        let Some(pair) = self.pairs.get_mut(pair) else {
            return;
        };
        let piece = pair.side_mut(side);
        let old = std::mem::replace(&mut piece.filling, filling);
        piece.misfit = misfit;
        if piece.flush_behind {
            let height_mm = |f| filling_size(&plan, f).map_or(0.0, |(_, h)| h);
            pair.gap_mm = (pair.gap_mm + height_mm(old) - height_mm(filling)).max(0.0);
        }
        if side == PairSide::Plug {
            let more_g = filling_mass_g(&plan, filling) - filling_mass_g(&plan, old);
            for load in self.loads.iter_mut().filter(|l| !l.lifted) {
                *load = load.heavier(more_g);
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

    /// Both pieces, the host's first.
    pub fn pieces(&self) -> [&ModelPiece; 2] {
        [&self.socket, &self.plug]
    }

    /// How far the two axes lie apart in the mating plane, mm.
    pub fn offset_mm(&self) -> f64 {
        distance(self.socket.at_mm, self.plug.at_mm)
    }
}
