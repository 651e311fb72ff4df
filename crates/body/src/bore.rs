//! What a bore finds: where material begins and ends under a disc, and how near the sides are.

use lodewright_geometry::{Vec3, lerp, outline};

use crate::prism::inside_outline_mm;
use crate::{Body, Prism};

/// So far a bent face may fall off under the rim of a hole, mm: it is dressed flat there (common practice, no source).
pub(crate) const DRESSED_MM: f64 = 0.5;
/// Least wall that is left anywhere beside or behind a hole, mm: common practice, no source.
pub const LEAST_WALL_MM: f64 = 0.5;
/// Length of a twist drill's point over its diameter: half over the tangent of half the 118 degrees that it is ground to.
pub const DRILL_POINT: f64 = 0.300_430_309_513_78;
/// Beside a corner of an outline, to either side of it, mm.
const HAIR_MM: f64 = 1e-9;

/// What a bore finds from its mouth on. Depths count from the mouth, inward.
#[derive(Clone, Debug, PartialEq)]
pub struct Bore {
    way: Option<Way>,
    wall_mm: Option<f64>,
}

/// How it runs through the prism that it starts in.
#[derive(Clone, Debug, PartialEq)]
enum Way {
    /// Along the prism's axis.
    Along {
        /// From the axis to the nearest side.
        side_mm: f64,
        /// Where the prism begins and ends.
        ends_mm: [f64; 2],
    },
    /// Across it: a strip through the outline.
    Across {
        /// From the axis to the nearer end of the prism.
        end_mm: f64,
        /// The outline, across the bore and along it.
        corners: Vec<[f64; 2]>,
    },
}

impl Bore {
    pub(crate) fn of(body: &Body, mouth_mm: Vec3, axis: usize, way: f64) -> Self {
        let ways = body
            .prisms()
            .iter()
            .map(|p| Way::of(p, mouth_mm, axis, way));
        // Of several prisms the one whose material is met first.
        let met = ways.filter_map(|w| Some((w.material_mm(0.0)?, w)));
        let first = met
            .filter(|([_, to], _)| *to > HAIR_MM)
            .reduce(|a, b| if b.0[0] < a.0[0] { b } else { a });
        Self {
            way: first.map(|(_, way)| way),
            wall_mm: body.wall_mm(),
        }
    }

    /// Where the outer solid begins and ends under a disc of this radius, all of it; `None` where the disc runs over an edge,
    /// or the face falls away under it.
    pub fn outer_mm(&self, radius_mm: f64) -> Option<[f64; 2]> {
        let found = self.way.as_ref()?.material_mm(radius_mm)?;
        (found[0] <= DRESSED_MM).then_some(found)
    }

    /// Where material ends under a disc of this radius: at the hollow of a shell or at the far side; `None` where there is no
    /// material to begin with.
    pub fn floor_mm(&self, radius_mm: f64) -> Option<f64> {
        let [from, to] = self.outer_mm(radius_mm)?;
        let Some(wall) = self.wall_mm else {
            return Some(to);
        };
        // The hollow comes nearest where the face stands out farthest.
        let [begins, ends] = self.way.as_ref()?.spans_mm(radius_mm)?.reach();
        if begins < -wall - HAIR_MM {
            // A mouth deeper than the wall lies in the hollow, or on the inner face of the wall on the other side.
            return Some(to).filter(|_| ends <= wall + HAIR_MM);
        }
        let is_hollow = ends - begins > 2.0 * wall;
        let floor = if is_hollow { begins + wall } else { to };
        Some(floor).filter(|floor| *floor > from.max(0.0))
    }

    /// From the bore's axis to the nearest side that the body has at any depth down to this, mm.
    pub fn beside_mm(&self, depth_mm: f64) -> f64 {
        match &self.way {
            None => f64::NEG_INFINITY,
            Some(Way::Along { side_mm, .. }) => *side_mm,
            Some(way @ Way::Across { end_mm, corners }) => {
                // The faces where it begins and ends are no sides.
                let [begins, ends] = way.material_mm(0.0).unwrap_or([0.0, depth_mm]);
                let middle = (begins + ends) / 2.0;
                let from = (begins + DRESSED_MM).min(depth_mm).min(middle);
                let to = depth_mm.min((ends - DRESSED_MM).max(middle));
                let near = outline(corners).filter_map(|(a, b)| nearest_between(a, b, [from, to]));
                near.fold(*end_mm, f64::min)
            }
        }
    }
}

impl Way {
    fn of(prism: &Prism, mouth_mm: Vec3, axis: usize, way: f64) -> Self {
        let [low, high] = prism.ends_mm();
        let at = mouth_mm[prism.axis()];
        if prism.axis() == axis {
            let ends = [(low - at) * way, (high - at) * way];
            return Self::Along {
                side_mm: inside_outline_mm(prism.outline_mm(), prism.flat_mm(mouth_mm)),
                ends_mm: [ends[0].min(ends[1]), ends[0].max(ends[1])],
            };
        }
        // Which of the outline's two coordinates runs along the bore.
        let along = usize::from((prism.axis() + 1) % 3 != axis);
        let mouth = prism.flat_mm(mouth_mm);
        let seen = |p: &[f64; 2]| {
            [
                p[1 - along] - mouth[1 - along],
                (p[along] - mouth[along]) * way,
            ]
        };
        Self::Across {
            end_mm: (at - low).min(high - at),
            corners: prism.outline_mm().iter().map(seen).collect(),
        }
    }

    /// Where material begins at the latest and ends at the earliest under a disc of this radius.
    fn material_mm(&self, radius_mm: f64) -> Option<[f64; 2]> {
        let spans = self.spans_mm(radius_mm)?;
        (spans.from[1] < spans.to[0]).then_some([spans.from[1], spans.to[0]])
    }

    /// Where material begins and ends along all lines under a disc of this radius.
    fn spans_mm(&self, radius_mm: f64) -> Option<Spans> {
        match self {
            Self::Along { side_mm, ends_mm } => {
                let [from, to] = ends_mm.map(|mm| [mm; 2]);
                (*side_mm > 0.0 && *side_mm >= radius_mm - HAIR_MM).then_some(Spans { from, to })
            }
            Self::Across { end_mm, corners } => {
                if *end_mm <= 0.0 || *end_mm < radius_mm - HAIR_MM {
                    return None;
                }
                let across = corners.iter().map(|p| p[0]);
                let within = across.filter(|u| u.abs() < radius_mm);
                let rim = radius_mm - 2.0 * HAIR_MM;
                let mut all = Spans::NONE;
                for u in within
                    .flat_map(|u| [u - HAIR_MM, u + HAIR_MM])
                    .chain([-rim, 0.0, rim])
                {
                    all.add(first_span(corners, u)?);
                }
                Some(all)
            }
        }
    }
}

/// Where material begins and ends along several lines: the least and the most of each.
struct Spans {
    from: [f64; 2],
    to: [f64; 2],
}

impl Spans {
    const NONE: Self = Self {
        from: [f64::INFINITY, f64::NEG_INFINITY],
        to: [f64::INFINITY, f64::NEG_INFINITY],
    };

    fn add(&mut self, [from, to]: [f64; 2]) {
        self.from = [self.from[0].min(from), self.from[1].max(from)];
        self.to = [self.to[0].min(to), self.to[1].max(to)];
    }

    /// From the first beginning to the last end.
    fn reach(&self) -> [f64; 2] {
        [self.from[0], self.to[1]]
    }
}

/// The first stretch of material along a line at `u` that does not end before the mouth.
fn first_span(corners: &[[f64; 2]], u: f64) -> Option<[f64; 2]> {
    let mut met: Vec<f64> = outline(corners)
        .filter(|(a, b)| (a[0] > u) != (b[0] > u))
        .map(|(a, b)| lerp(a, b, (u - a[0]) / (b[0] - a[0]))[1])
        .collect();
    tiny_sort::stable::sort_by(&mut met, f64::total_cmp);
    let spans = met.chunks_exact(2).map(|s| [s[0], s[1]]);
    spans.filter(|[_, to]| *to > HAIR_MM).reduce(|a, _| a)
}

/// The least distance from the bore's axis of what a side has between two depths.
fn nearest_between(a: [f64; 2], b: [f64; 2], [from, to]: [f64; 2]) -> Option<f64> {
    let (low, high) = if a[1] <= b[1] { (a, b) } else { (b, a) };
    if high[1] < from || low[1] > to {
        return None;
    }
    let rise = high[1] - low[1];
    let at = |depth: f64| {
        if rise > 0.0 {
            lerp(low, high, ((depth - low[1]) / rise).clamp(0.0, 1.0))[0]
        } else {
            low[0]
        }
    };
    let ends = if rise > 0.0 {
        [at(from), at(to)]
    } else {
        [low[0], high[0]]
    };
    Some(if ends[0] * ends[1] <= 0.0 {
        0.0
    } else {
        ends[0].abs().min(ends[1].abs())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Across its prism a block's far face is no side, however deep the bore; what stands beside it is.
    #[test]
    fn the_faces_of_a_bore_are_no_sides() {
        let block = Body::solid(vec![Prism::block([-4.0, 0.0, -9.0], [6.0, 3.0, 9.0])]);
        let bore = block.bore([0.0; 3], 1, 1.0);
        for depth_mm in [1.0, 2.9, 3.0, 5.0] {
            assert_eq!(bore.beside_mm(depth_mm), 4.0, "{depth_mm}");
        }
        // A plate thinner than twice what is dressed off.
        let plate = Body::solid(vec![Prism::block([-4.0, 0.0, -9.0], [6.0, 0.6, 9.0])]);
        assert_eq!(plate.bore([0.0; 3], 1, 1.0).beside_mm(0.6), 4.0);
        // A wedge that grows narrower inwards: 4 mm at the face, 1 mm at a depth of 3 mm.
        let ring = vec![[-4.0, 0.0], [4.0, 0.0], [0.0, 4.0]];
        let wedge = Body::solid(vec![Prism::pulled(2, ring, [-9.0, 9.0])]);
        assert_eq!(wedge.bore([0.0; 3], 1, 1.0).beside_mm(3.0), 1.0);
    }

    /// A face that falls away to one side by a tenth of the way: under a disc the hollow is nearest where the face stands out.
    #[test]
    fn the_hollow_comes_nearest_where_the_face_stands_out() {
        let ring = vec![[-9.0, -0.9], [9.0, 0.9], [9.0, 20.0], [-9.0, 20.0]];
        let leaning = Body::shell(vec![Prism::pulled(2, ring, [-9.0, 9.0])], 2.0);
        let floor = |radius_mm: f64| leaning.bore([0.0; 3], 1, 1.0).floor_mm(radius_mm).unwrap();
        assert!((floor(0.0) - 2.0).abs() < 1e-6 && (floor(3.0) - 1.7).abs() < 1e-6);
        let block = Body::shell(vec![Prism::block([-9.0; 3], [9.0; 3])], 2.0);
        let at = |depth_mm: f64| {
            block
                .bore([0.0, 0.0, -9.0 + depth_mm], 2, 1.0)
                .floor_mm(1.0)
        };
        assert_eq!((at(0.0), at(1.5), at(2.5)), (Some(2.0), Some(0.5), None));
    }
}
