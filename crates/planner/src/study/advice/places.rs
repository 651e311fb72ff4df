//! Where else a pair could sit, and where a further one, as advice.

use lodewright_geometry::{add, distance, inside_mm, sub};
use lodewright_joints::{
    Filling, GOOD_WALL_MM, JointModel, ModelPair, PairSide, filling_size, hole_mm,
};
use lodewright_kit::Plan;

use super::super::change::{move_pair, with_pair};
use super::changes::Changes;
use crate::words::mm;

impl Changes<'_> {
    /// To the far edge of the contact in each of eight directions, as far as a good wall allows.
    pub(super) fn outward(&mut self, pair: &ModelPair) {
        let from = pair.socket.at_mm;
        let mut best: Option<(f64, [f64; 2])> = None;
        for step in 0..8 {
            let angle = f64::from(step) * std::f64::consts::FRAC_PI_4;
            let Some(at) = self.farthest(pair, angle) else {
                continue;
            };
            let margin = self.margin_with_pair_at(pair, at);
            if best.is_none_or(|(most, _)| margin > most) {
                best = Some((margin, at));
            }
        }
        let Some((_, at)) = best else { return };
        let far = distance(at, from);
        self.add(
            format!(
                "Move the pair at {}, {} outward by {} mm, to {}, {}.",
                mm(from[0]),
                mm(from[1]),
                mm(far),
                mm(at[0]),
                mm(at[1])
            ),
            move_pair(self.plan, self.joint, pair, at),
        );
    }

    /// The farthest place for a pair in a direction, radians, clear of the edge and of the other holes by a good wall.
    fn farthest(&self, pair: &ModelPair, angle: f64) -> Option<[f64; 2]> {
        let model = &self.now.model;
        let radius_mm = wide_mm(self.plan, pair.socket.filling).map_or(0.0, |d| d / 2.0);
        let clear = |at: [f64; 2]| {
            let others = model
                .pairs
                .iter()
                .filter(|p| p.socket.hole != pair.socket.hole);
            others
                .map(|p| p.socket.at_mm)
                .all(|p| distance(p, at) >= 2.0 * radius_mm + GOOD_WALL_MM)
        };
        let (sin, cos) = libm::sincos(angle);
        let [x, y] = pair.socket.at_mm;
        (1..80)
            .map(|half_mm| f64::from(half_mm) * 0.5)
            .map(|far| [x + cos * far, y + sin * far])
            .take_while(|at| has_wall(model, *at, radius_mm))
            .filter(|at| clear(*at))
            .last()
    }

    fn margin_with_pair_at(&self, pair: &ModelPair, at: [f64; 2]) -> f64 {
        let mut trial = self.now.model.clone();
        let index = trial.pairs.iter().position(|p| p == pair).unwrap_or(0);
        let there = add(pair.plug.at_mm, sub(at, pair.socket.at_mm));
        trial.move_piece(index, PairSide::Socket, at);
        trial.move_piece(index, PairSide::Plug, there);
        trial.judge().margin_x_weight().unwrap_or(0.0)
    }

    pub(super) fn second_pair(&mut self) {
        let model = &self.now.model;
        let place = place_for_pair(self.plan, model, 0);
        let Some((like, at)) = model.pairs.first().zip(place) else {
            return;
        };
        self.add(
            format!("Add a second pair at {}, {}.", mm(at[0]), mm(at[1])),
            with_pair(self.plan, self.joint, model, like, at),
        );
    }
}

/// Diameter of the hole for a piece, mm.
fn wide_mm(plan: &Plan, filling: Filling) -> Option<f64> {
    filling_size(plan, filling).map(|(d, _)| hole_mm(plan, d))
}

/// Whether a good wall is left between a hole and the edge of the contact.
fn has_wall(model: &JointModel, at: [f64; 2], radius_mm: f64) -> bool {
    inside_mm(&model.contact_mm, at) >= radius_mm + GOOD_WALL_MM - 1e-9
}

/// The place in the mating plane at which a further pair like this one would give the joint the greatest margin, mm in the
/// socket's axes: opposite it or on a coarse raster, clear of all holes and of the edge by a good wall. `None` where there is
/// no room.
pub fn place_for_pair(plan: &Plan, model: &JointModel, like: usize) -> Option<[f64; 2]> {
    let like = *model.pairs.get(like)?;
    let widest_mm = [like.socket.filling, like.plug.filling]
        .into_iter()
        .filter_map(|f| wide_mm(plan, f))
        .fold(0.0, f64::max);
    let allowed = |at: [f64; 2]| {
        has_wall(model, at, widest_mm / 2.0)
            && model.pairs.iter().all(|p| {
                let apart_mm = distance(p.socket.at_mm, at);
                let its_mm = wide_mm(plan, p.socket.filling).unwrap_or(widest_mm);
                apart_mm >= (widest_mm + its_mm) / 2.0 + GOOD_WALL_MM
            })
    };
    let [x, y] = like.socket.at_mm;
    let mut places: Vec<[f64; 2]> = vec![[-x, -y], [-x, y], [x, -y]];
    let reach = |axis: usize| {
        let along = model.contact_mm.iter().map(|p| p[axis].abs());
        along.fold(0.0, f64::max)
    };
    for i in -6..=6 {
        for j in -6..=6 {
            places.push([reach(0) * f64::from(i) / 6.0, reach(1) * f64::from(j) / 6.0]);
        }
    }
    let margin_at = |at: [f64; 2]| {
        let mut trial = model.clone();
        let mut pair = like;
        pair.plug.at_mm = add(pair.plug.at_mm, sub(at, pair.socket.at_mm));
        pair.socket.at_mm = at;
        trial.pairs.push(pair);
        trial.judge().margin_x_weight().unwrap_or(0.0)
    };
    let best = places
        .into_iter()
        .filter(|at| allowed(*at))
        .map(|at| (margin_at(at), at))
        .reduce(|a, b| if b.0 > a.0 + 1e-9 { b } else { a });
    best.map(|(_, at)| at.map(|v| (v * 100.0).round() / 100.0 + 0.0))
}
