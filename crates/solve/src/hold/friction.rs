//! Slip of a joint in its plane: sliding, turning, and both at once about the worst centre of rotation.

use super::{Joint, Mode, ModeMargin, PegKind};
use lodewright_geometry::{Edge, add, cross2, distance, norm, scale, sub};
use tiny_sort::stable::sort_by;

/// Friction of the pulls: each pull with the least mean radius of its own contact pressure.
pub(super) struct Clamp<'a> {
    joint: &'a Joint<'a>,
    pub(super) spread_mm: Vec<f64>,
    pull_n: f64,
    pub(super) centroid_mm: [f64; 2],
}

/// Slip modes that the joint's peg leaves possible.
pub(super) fn slips(joint: &Joint<'_>, edges: &[Edge], pull_n: f64) -> Vec<ModeMargin> {
    let clamp = Clamp::new(joint, edges, pull_n);
    match joint.peg.kind {
        PegKind::Two | PegKind::Keyed => Vec::new(),
        PegKind::Round => vec![clamp.about(Mode::Turn, joint.peg.at_mm)],
        PegKind::None => {
            let turn = clamp.about(Mode::Turn, clamp.centroid_mm);
            vec![clamp.slide(), turn, clamp.worst_centre()]
        }
    }
}

impl<'a> Clamp<'a> {
    pub(super) fn new(joint: &'a Joint<'a>, edges: &[Edge], pull_n: f64) -> Self {
        let half_disc = |p| {
            edges
                .iter()
                .map(|e| e.inside_mm(p))
                .fold(f64::INFINITY, f64::min)
                .max(0.0)
                / 2.0
        };
        let spread_mm = joint
            .pulls
            .iter()
            .map(|pull| half_disc(pull.at_mm))
            .collect();
        let mean = |axis: usize| {
            joint
                .pulls
                .iter()
                .map(|p| p.force_n * p.at_mm[axis])
                .sum::<f64>()
                / pull_n
        };
        Self {
            joint,
            spread_mm,
            pull_n,
            centroid_mm: [mean(0), mean(1)],
        }
    }

    fn centre_mm(&self) -> [f64; 2] {
        let [x, y, _] = self.joint.load.centre_mm;
        [x, y]
    }

    /// Mean distance of the contact pressure from a centre of rotation, mm (a lower bound, see the module above).
    fn mean_radius_mm(&self, about_mm: [f64; 2]) -> f64 {
        let pairs = self.joint.pulls.iter().zip(&self.spread_mm);
        let moment: f64 = pairs
            .map(|(p, &spread)| p.force_n * distance(p.at_mm, about_mm).max(spread))
            .sum();
        moment.max(0.0) / self.pull_n
    }

    fn slide(&self) -> ModeMargin {
        let mu = self.joint.friction;
        let norm = (1.0 + mu * mu).sqrt();
        let margin_g = mu * self.pull_n / (self.joint.load.weight_n * norm);
        ModeMargin {
            mode: Mode::Slide,
            margin_g,
            direction: [1.0 / norm, 0.0, mu / norm],
        }
    }

    /// Slip about a centre. The worst load lies across the lever, tilted off the plane by as much as lifting saves grip.
    fn about(&self, mode: Mode, about_mm: [f64; 2]) -> ModeMargin {
        let arm = sub(self.centre_mm(), about_mm);
        let lever = norm(arm);
        let grip = self.joint.friction * self.mean_radius_mm(about_mm);
        let norm = (lever * lever + grip * grip).sqrt();
        let load = self.joint.load.weight_n * norm;
        // Neither lever nor grip: the load passes the centre, so only pulling straight off moves the part.
        if norm == 0.0 {
            return ModeMargin {
                mode,
                margin_g: self.pull_n / self.joint.load.weight_n,
                direction: [0.0, 0.0, 1.0],
            };
        }
        let direction = [-arm[1] / norm, arm[0] / norm, grip / norm];
        ModeMargin {
            mode,
            margin_g: grip * self.pull_n / load,
            direction,
        }
    }

    /// Grip radius over lever: the smaller, the sooner the part slips about this centre. One at infinity (pure slide).
    fn ratio(&self, about_mm: [f64; 2]) -> f64 {
        let lever = distance(self.centre_mm(), about_mm);
        if lever == 0.0 {
            f64::INFINITY
        } else {
            self.mean_radius_mm(about_mm) / lever
        }
    }

    /// Shake in g that makes it slip about a centre under gravity along `down`; see [`shaken`](super::shaken).
    pub(super) fn shake_about(&self, about_mm: [f64; 2], down: [f64; 3]) -> f64 {
        let arm = sub(self.centre_mm(), about_mm);
        let grip = self.joint.friction * self.mean_radius_mm(about_mm);
        let lever = norm(arm);
        let norm = (lever * lever + grip * grip).sqrt();
        let held = grip * self.pull_n / self.joint.load.weight_n;
        let by_gravity = cross2(arm, [down[0], down[1]]).abs() + grip * down[2];
        if norm == 0.0 {
            // The load passes the centre: only pulling straight off moves the part.
            return self.pull_n / self.joint.load.weight_n - down[2];
        }
        (held - by_gravity) / norm
    }

    /// The same for sliding without turning.
    pub(super) fn shake_sliding(&self, down: [f64; 3]) -> f64 {
        let mu = self.joint.friction;
        let held = mu * self.pull_n / self.joint.load.weight_n;
        (held - norm([down[0], down[1]]) - mu * down[2]) / (1.0 + mu * mu).sqrt()
    }

    /// Least margin over centres of rotation (the instantaneous-centre method). A centre at infinity is the slide itself.
    fn worst_centre(&self) -> ModeMargin {
        let (place, ratio) = self.worst_place();
        if ratio < 1.0 {
            return self.about(Mode::SlideTurn, place);
        }
        ModeMargin {
            mode: Mode::SlideTurn,
            ..self.slide()
        }
    }

    /// The centre of rotation with the least grip radius over lever, and that ratio.
    pub(super) fn worst_place(&self) -> ([f64; 2], f64) {
        if let ([pull], [spread_mm]) = (self.joint.pulls, self.spread_mm.as_slice()) {
            return self.worst_place_of_one(pull.at_mm, *spread_mm);
        }
        self.search(|centre_mm| self.ratio(centre_mm))
    }

    /// The same for a single pull, without a search: of all centres at a distance r from the pull the one behind it, seen
    /// from the centre of mass at a distance d, has the longest lever, d + r; max(r, spread) / (d + r) is least at the spread.
    fn worst_place_of_one(&self, at_mm: [f64; 2], spread_mm: f64) -> ([f64; 2], f64) {
        let away = sub(at_mm, self.centre_mm());
        let out_mm = norm(away);
        if out_mm == 0.0 {
            return (at_mm, 1.0);
        }
        let place = add(at_mm, scale(away, spread_mm / out_mm));
        (place, spread_mm / (out_mm + spread_mm))
    }

    /// The centre of rotation at which `value` is least, and that value: a search from the best places of a polar grid
    /// about the pulls' centroid, then halving steps.
    pub(super) fn search(&self, value: impl Fn([f64; 2]) -> f64) -> ([f64; 2], f64) {
        let pulls = self
            .joint
            .pulls
            .iter()
            .map(|p| distance(p.at_mm, self.centroid_mm));
        let widest_mm = pulls
            .fold(distance(self.centre_mm(), self.centroid_mm), f64::max)
            .max(1e-3);
        let mut starts: Vec<([f64; 2], f64)> = Vec::with_capacity(241);
        starts.push((self.centroid_mm, value(self.centroid_mm)));
        for ring in RINGS {
            let radius = widest_mm * ring;
            for (cos, sin) in SPOKES
                .iter()
                .flat_map(|&(c, s)| [(c, s), (-s, c), (-c, -s), (s, -c)])
            {
                let place = add(self.centroid_mm, scale([cos, sin], radius));
                starts.push((place, value(place)));
            }
        }
        for (pull, &spread) in self.joint.pulls.iter().zip(&self.spread_mm) {
            // The ratio has a kink where a centre leaves a pull's spread; the far side of that circle is the worst centre
            // of a single pull, and no valley leads a search straight to it.
            let away = sub(pull.at_mm, self.centre_mm());
            let out = norm(away);
            let far = |k: f64| add(pull.at_mm, scale(away, k));
            for k in if out > 0.0 {
                [0.0, spread / out]
            } else {
                [0.0, 0.0]
            } {
                starts.push((far(k), value(far(k))));
            }
        }
        sort_by(&mut starts, |a, b| a.1.total_cmp(&b.1));
        let descents = starts
            .iter()
            .take(4)
            .map(|&start| descend(&value, start, widest_mm / 8.0));
        let none = (self.centroid_mm, f64::INFINITY);
        descents.fold(none, |a, b| if b.1 < a.1 { b } else { a })
    }
}

fn descend(
    value: &impl Fn([f64; 2]) -> f64,
    start: ([f64; 2], f64),
    first_step_mm: f64,
) -> ([f64; 2], f64) {
    let (mut place, mut least) = start;
    let mut step = first_step_mm;
    // Each round either lowers the value or halves the step.
    for _ in 0..80 {
        let around = COMPASS.map(|[x, y]| [place[0] + x * step, place[1] + y * step]);
        let next = around
            .map(|p| (p, value(p)))
            .into_iter()
            .reduce(|a, b| if b.1 < a.1 { b } else { a });
        match next {
            Some((p, v)) if v < least => (place, least) = (p, v),
            _ => step /= 2.0,
        }
        if step < first_step_mm * 1e-5 {
            break;
        }
    }
    (place, least)
}

const RINGS: [f64; 10] = [0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1.0, 1.5, 3.0, 8.0];
/// Cosine and sine of 0, 15, 30, 45, 60, 75 degrees; quarter turns of them make 24 directions.
const SPOKES: [(f64, f64); 6] = [
    (1.0, 0.0),
    (0.965_925_826_289_068_3, 0.258_819_045_102_520_74),
    (0.866_025_403_784_438_6, 0.5),
    (
        core::f64::consts::FRAC_1_SQRT_2,
        core::f64::consts::FRAC_1_SQRT_2,
    ),
    (0.5, 0.866_025_403_784_438_6),
    (0.258_819_045_102_520_74, 0.965_925_826_289_068_3),
];
/// Sixteen directions: with fewer a search stalls in the narrow valleys along kinks.
const COMPASS: [[f64; 2]; 16] = [
    [1.0, 0.0],
    [0.924, 0.383],
    [0.707, 0.707],
    [0.383, 0.924],
    [0.0, 1.0],
    [-0.383, 0.924],
    [-0.707, 0.707],
    [-0.924, 0.383],
    [-1.0, 0.0],
    [-0.924, -0.383],
    [-0.707, -0.707],
    [-0.383, -0.924],
    [0.0, -1.0],
    [0.383, -0.924],
    [0.707, -0.707],
    [0.924, -0.383],
];

#[cfg(test)]
mod tests {
    use super::super::{DroopedPulls, Load, Peg, Pull};
    use super::*;
    use lodewright_geometry::edges;

    #[test]
    fn the_worst_centre_for_one_pull_is_what_the_search_finds() {
        let patch = [[0.0, 0.0], [8.0, 0.0], [8.0, 5.0], [0.0, 5.0]];
        let hull = edges(&patch);
        let mut seen = 0;
        for (at, centre) in [
            ([2.0, 2.0], [4.0, 2.5]),
            ([4.0, 2.5], [4.0, 2.5]),
            ([7.5, 4.9], [-3.0, 20.0]),
            ([0.0, 3.0], [5.0, 3.0]),
            ([4.0, 2.5], [4.0, 2.51]),
        ] {
            let pulls = [Pull {
                at_mm: at,
                force_n: 0.7,
            }];
            let joint = Joint {
                patch_mm: &patch,
                pulls: &pulls,
                friction: 0.3,
                peg: Peg {
                    kind: PegKind::None,
                    at_mm: [0.0; 2],
                    length_mm: 1.0,
                    clearance_mm: 0.1,
                    snug: false,
                },
                load: Load {
                    weight_n: 0.02,
                    centre_mm: [centre[0], centre[1], 3.0],
                },
                drooped: DroopedPulls::Unknown,
            };
            let clamp = Clamp::new(&joint, &hull, 0.7);
            let (place, ratio) = clamp.worst_place();
            let (_, searched) = clamp.search(|centre_mm| clamp.ratio(centre_mm));
            // At one and above the joint slides, whatever the centre.
            let slides_or = searched.min(1.0);
            assert!(
                (ratio - slides_or).abs() < 1e-6,
                "{at:?}: {ratio} {searched}"
            );
            if ratio < 1.0 {
                assert!((clamp.ratio(place) - ratio).abs() < 1e-12, "{at:?}");
                seen += 1;
            }
        }
        assert_eq!(seen, 4);
    }
}
