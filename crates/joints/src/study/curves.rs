//! How the margin of a joint changes with the place and the size of one pair.

use lodewright_geometry::inside_mm;
use lodewright_kit::{Ix, MagnetIx};

use crate::pull::{Filling, PairSide};
use crate::room::misfit;
use crate::statics::{JointModel, Verdict};

/// The margin with a pair at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacePoint {
    /// Place along the axis, mm.
    pub at_mm: f64,
    /// Margin there, multiples of the weight.
    pub margin_x_weight: f64,
    /// Whether all that is asked of the joint is met there.
    pub good: bool,
}

/// The margin along one axis of the mating plane through a pair's present place.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceCurve {
    /// 0 for the first in-plane axis, 1 for the second.
    pub axis: usize,
    /// Where the pair is now, mm.
    pub now_mm: f64,
    /// Evenly spread places whose centre lies within the contact.
    pub points: Vec<PlacePoint>,
}

/// The margin with a pair of another size.
#[derive(Clone, Debug, PartialEq)]
pub struct SizePoint {
    /// The stock magnet.
    pub magnet: MagnetIx,
    /// Margin with it on both sides that hold a magnet now, multiples of the weight.
    pub margin_x_weight: f64,
    /// Pull at the weak end of the whole joint, N.
    pub weak_n: f64,
    /// Whether both holes take it.
    pub fits: bool,
    /// What the joint then comes to.
    pub verdict: Verdict,
    /// Whether it is what is there now.
    pub is_now: bool,
}

impl JointModel {
    /// Moves a pair, both pieces together, along one axis; `points` places from one edge of the contact to the other.
    pub fn place_curve(&self, pair: usize, axis: usize, points: usize) -> Option<PlaceCurve> {
        let now = *self.pairs.get(pair)?;
        let axis = axis.min(1);
        let along = self.contact_mm.iter().map(|p| p[axis]);
        let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| {
            (l.min(v), h.max(v))
        });
        let steps = points.max(2) - 1;
        let mut trial = self.clone();
        let mut at = |at_mm: f64| {
            let shift_mm = at_mm - now.socket.at_mm[axis];
            let moved = |mut p: [f64; 2]| {
                p[axis] += shift_mm;
                p
            };
            let to_mm = moved(now.socket.at_mm);
            // A hair outside still counts: the ends of the range lie on the edge.
            if inside_mm(&self.contact_mm, to_mm) < -1e-9 {
                return None;
            }
            trial.move_piece(pair, PairSide::Socket, to_mm);
            trial.move_piece(pair, PairSide::Plug, moved(now.plug.at_mm));
            let verdict = trial.judge();
            Some(PlacePoint {
                at_mm,
                margin_x_weight: verdict.margin_x_weight()?,
                good: verdict.is_good(),
            })
        };
        let places = (0..=steps).map(|i| low + (high - low) * i as f64 / steps as f64);
        Some(PlaceCurve {
            axis,
            now_mm: now.socket.at_mm[axis],
            points: places.filter_map(&mut at).collect(),
        })
    }

    /// Every magnet of the stock in both holes of a pair (steel stays steel), in the order of the stock.
    pub fn size_curve(&self, pair: usize) -> Vec<SizePoint> {
        let Some(now) = self.pairs.get(pair) else {
            return Vec::new();
        };
        let sides = [PairSide::Socket, PairSide::Plug].into_iter();
        let sides: Vec<_> = sides
            .map(|side| (side, *now.side(side)))
            .filter(|(_, piece)| matches!(piece.filling, Filling::Magnet(_)))
            .collect();
        let with = |magnet: MagnetIx| {
            let mut trial = self.clone();
            let mut all_fit = true;
            for (side, piece) in &sides {
                let filling = Filling::Magnet(magnet);
                let misfit = misfit(&self.plan, &self.holes.holes[piece.hole], filling);
                trial.fill(pair, *side, filling, misfit);
                all_fit &= misfit.is_none();
            }
            let verdict = trial.judge();
            Some(SizePoint {
                magnet,
                margin_x_weight: verdict.margin_x_weight()?,
                weak_n: verdict.weak_n,
                fits: all_fit,
                verdict,
                is_now: sides
                    .iter()
                    .all(|(_, piece)| piece.filling == Filling::Magnet(magnet)),
            })
        };
        MagnetIx::all(&self.plan.stock.magnets)
            .filter_map(with)
            .collect()
    }
}
