//! Everything that the questions about joints share: holes, matings, loads, and a memory for pulls.

use std::cell::RefCell;
use std::collections::BTreeMap;

use lodewright_assembly::{Board, GlueAnswer};
use lodewright_geometry::{convex_hull, convex_intersection};
use lodewright_kit::{Attach, Patch, PegKind, Pole};
use lodewright_solve::hold::{self, DroopedPulls, HoldAccount, HoldError, Load, Peg, Pull};

use crate::holes::Holes;
use crate::load::{LoadCase, Loads, loads};
use crate::mating::{Mate, mates};
use crate::poles::attract;
use crate::pull::{End, Filling, filling_mass_g, gap_at, gap_stack, pull_n};

/// Standard gravity, m/s².
pub const G_M_S2: f64 = 9.80665;

type PullKey = (Filling, Filling, [u64; 2], End);

/// A plan with its holes, matings and loads worked out.
pub struct Scene<'b, 'a> {
    /// The plan by index.
    pub board: &'b Board<'a>,
    /// What may be glued.
    pub glue: &'b GlueAnswer,
    /// Holes and faces.
    pub holes: Holes,
    /// By joint: the faces that meet.
    pub mates: Vec<Vec<Mate>>,
    /// Loads on joints.
    pub loads: Loads,
    /// By joint: the polygon in which the two sides touch, mm, in the socket's axes.
    pub contact_mm: Vec<Vec<[f64; 2]>>,
    pulls: RefCell<BTreeMap<PullKey, f64>>,
}

impl<'b, 'a> Scene<'b, 'a> {
    /// Works them out.
    pub fn of(board: &'b Board<'a>, glue: &'b GlueAnswer) -> Self {
        let holes = Holes::of(board);
        let joints = 0..board.joints.len();
        Self {
            board,
            glue,
            mates: joints.clone().map(|j| mates(board, &holes, j)).collect(),
            contact_mm: joints.map(|j| contact_mm(board, j)).collect(),
            loads: loads(board),
            holes,
            pulls: RefCell::default(),
        }
    }

    /// Takes over the pulls that another scene remembers. For a plan with the same stock and settings only: a pull depends
    /// on nothing else.
    pub(crate) fn with_pulls_of(self, other: &Scene<'_, '_>) -> Self {
        self.pulls.borrow_mut().clone_from(&other.pulls.borrow());
        self
    }

    /// Whether a joint must come apart and is held by what is in its sites.
    pub fn is_magnetic(&self, joint: usize) -> bool {
        self.glue.separable[joint].is_some() && self.attach(joint) == Attach::Magnets
    }

    /// How a joint is held.
    pub fn attach(&self, joint: usize) -> Attach {
        self.board.socket(self.board.joints[joint].socket).attach
    }

    /// Attraction of two fillings across a gap with their axes so far apart, N, remembered; zero where the field formulas refuse.
    pub fn attraction_n(
        &self,
        a: Filling,
        b: Filling,
        gap_mm: f64,
        offset_mm: f64,
        end: End,
    ) -> f64 {
        let key = (
            a.min(b),
            a.max(b),
            [gap_mm.to_bits(), offset_mm.to_bits()],
            end,
        );
        if let Some(known) = self.pulls.borrow().get(&key) {
            return *known;
        }
        let value = pull_n(self.board.plan, a, b, gap_mm, offset_mm, end).unwrap_or(0.0);
        self.pulls.borrow_mut().insert(key, value);
        value
    }

    /// Signed pull of one mating at an extra gap, N: negative where the poles shown repel. Poles not given count as
    /// attracting.
    pub fn mate_pull_n(
        &self,
        mate: &Mate,
        fillings: &[Filling],
        poles: Option<&[Option<Pole>]>,
        end: End,
        extra_mm: f64,
    ) -> f64 {
        let [a, b] = [mate.socket_face, mate.plug_face].map(|f| fillings[self.holes.faces[f].hole]);
        let gap_mm = gap_at(
            self.board.plan,
            gap_stack(self.board.plan, &self.holes, mate, fillings).gap_mm,
            end,
        );
        let size = self.attraction_n(a, b, gap_mm + extra_mm, mate.offset_mm, end);
        let both = matches!((a, b), (Filling::Magnet(_), Filling::Magnet(_)));
        match poles {
            Some(poles) if both && !attract(&self.holes, mate, poles) => -size,
            _ => size,
        }
    }

    /// The pulls of a joint in the mating plane.
    pub fn pulls(
        &self,
        joint: usize,
        fillings: &[Filling],
        poles: Option<&[Option<Pole>]>,
        end: End,
    ) -> Vec<Pull> {
        if let Attach::Friction(force_n) = self.attach(joint) {
            return vec![Pull {
                at_mm: self.board.socket(self.board.joints[joint].socket).peg.at_mm,
                force_n,
            }];
        }
        self.mates[joint]
            .iter()
            .map(|m| Pull {
                at_mm: m.at_mm,
                force_n: self.mate_pull_n(m, fillings, poles, end, 0.0),
            })
            .filter(|p| p.force_n != 0.0)
            .collect()
    }

    /// The hold account of a joint under a load, everything at its weak end.
    ///
    /// # Errors
    /// [`HoldError`] where a number is beyond what the statics take.
    pub fn hold(
        &self,
        case: &LoadCase,
        fillings: &[Filling],
        poles: Option<&[Option<Pole>]>,
    ) -> Result<HoldAccount, HoldError> {
        let plan = self.board.plan;
        let pulls = self.pulls(case.joint, fillings, poles, End::Weak);
        let mates: Vec<_> = self.mates[case.joint]
            .iter()
            .filter(|m| self.mate_pull_n(m, fillings, poles, End::Weak, 0.0) != 0.0)
            .collect();
        let drooped = |i: usize, extra_mm: f64| match mates.get(i) {
            Some(mate) => self.mate_pull_n(mate, fillings, poles, End::Weak, extra_mm),
            None => pulls.get(i).map_or(0.0, |p| p.force_n),
        };
        hold::hold_account(&hold::Joint {
            patch_mm: &self.contact_mm[case.joint],
            pulls: &pulls,
            friction: plan.settings.friction,
            peg: self.peg(case.joint),
            load: Load {
                weight_n: self.mass_g(case, fillings).max(0.001) * G_M_S2 / 1000.0,
                centre_mm: case.centre_mm,
            },
            drooped: DroopedPulls::AtExtraGap(&drooped),
        })
    }

    /// Mass of a load with the magnets and steel in it, g.
    pub fn mass_g(&self, case: &LoadCase, fillings: &[Filling]) -> f64 {
        let in_it =
            |(h, _): &(usize, &crate::Hole)| case.parts.contains(&self.holes.holes[*h].part);
        let pieces = self.holes.holes.iter().enumerate().filter(in_it);
        case.mass_g
            + pieces
                .map(|(h, _)| filling_mass_g(self.board.plan, fillings[h]))
                .sum::<f64>()
    }

    /// The peg of a joint as the statics take it.
    pub fn peg(&self, joint: usize) -> Peg {
        let fit = &self.board.socket(self.board.joints[joint].socket).peg;
        let kind = match fit.kind {
            _ if !self.board.plug(joint).keeps_peg => hold::PegKind::None,
            PegKind::None => hold::PegKind::None,
            PegKind::Round => hold::PegKind::Round,
            PegKind::Two => hold::PegKind::Two,
            PegKind::Keyed => hold::PegKind::Keyed,
        };
        Peg {
            kind,
            at_mm: fit.at_mm,
            length_mm: fit.length_mm,
            clearance_mm: fit.clearance_mm.min(fit.length_mm),
            snug: fit.snug,
        }
    }
}

/// Where the two sides touch: the socket's outline cut with the plug's, as it lies in this pose.
fn contact_mm(board: &Board<'_>, joint: usize) -> Vec<[f64; 2]> {
    let j = board.joints[joint];
    let hull = |patch: &Patch| convex_hull(&patch.outline_mm()).unwrap_or_default();
    let socket = hull(&board.socket(j.socket).patch);
    let Some(patch) = &board.plug(joint).patch else {
        return socket;
    };
    let placed: Vec<_> = patch
        .outline_mm()
        .into_iter()
        .map(|p| j.pose.place(p))
        .collect();
    let plug = convex_hull(&placed).unwrap_or_default();
    convex_intersection(&socket, &plug).unwrap_or_default()
}
