//! Whether placed bodies run into each other, where they stand and on a way.

use lodewright_geometry::{Frame, Vec3, scale};

use crate::Body;
use crate::convex::{Convex, boxes_meet};

/// A body where it stands, in its convex pieces.
#[derive(Clone, Debug)]
pub struct Standing {
    body: Body,
    at: Frame,
    pieces: Vec<Convex>,
    bounds: Option<[Vec3; 2]>,
}

/// A point may miss the hollow by so much and still be in it, mm.
const HAIR_MM: f64 = 1e-6;

impl Standing {
    /// A body with its axes placed so.
    pub fn new(body: &Body, at: Frame) -> Self {
        let prisms = body.prisms().iter();
        Self::of(body, at, prisms.flat_map(|p| Convex::of(p, &at)).collect())
    }

    fn of(body: &Body, at: Frame, pieces: Vec<Convex>) -> Self {
        let around = |[low, high]: [Vec3; 2], b: [Vec3; 2]| {
            [
                std::array::from_fn(|k| low[k].min(b[0][k])),
                std::array::from_fn(|k| high[k].max(b[1][k])),
            ]
        };
        Self {
            body: body.clone(),
            at,
            bounds: pieces.iter().map(Convex::bounds).reduce(around),
            pieces,
        }
    }

    /// All that it passes over on its way so far along a direction (a unit vector).
    pub fn swept(&self, direction: Vec3, far_mm: f64) -> Self {
        let way = scale(direction, far_mm);
        let pieces = self.pieces.iter().map(|p| p.swept(way)).collect();
        Self::of(&self.body, self.at, pieces)
    }

    /// How much there is to look at: the corners of all its convex pieces.
    pub fn corners(&self) -> usize {
        self.pieces.iter().map(|p| p.points().len()).sum()
    }

    /// The corners of the box along the axes that it fills; `None` for a body without volume.
    pub fn bounds_mm(&self) -> Option<[Vec3; 2]> {
        self.bounds
    }

    /// How deep two bodies run into each other, mm: the least translation that parts the two convex pieces that do so most; 0 where
    /// they are apart or touch. What lies wholly in the hollow of a shell does not run into it.
    pub fn overlap_mm(&self, other: &Self) -> f64 {
        match (self.bounds, other.bounds) {
            (Some(a), Some(b)) if boxes_meet(a, b) => {}
            _ => return 0.0,
        }
        let mut most: f64 = 0.0;
        for a in &self.pieces {
            for b in &other.pieces {
                let deep = a.overlap_mm(b);
                if deep > most && !self.hides(b) && !other.hides(a) {
                    most = deep;
                }
            }
        }
        most
    }

    /// Whether it lies wholly in the hollow of another.
    pub fn is_in_hollow_of(&self, other: &Self) -> bool {
        self.pieces.iter().all(|p| other.hides(p))
    }

    /// Whether a convex piece lies wholly in the hollow.
    fn hides(&self, piece: &Convex) -> bool {
        self.body.wall_mm().is_some_and(|wall| {
            let deep = |p: &Vec3| self.body.depth_mm(self.at.to_inner(*p));
            piece.points().iter().all(|p| deep(p) >= wall - HAIR_MM)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Prism;

    fn at(origin_mm: Vec3) -> Frame {
        Frame {
            origin_mm,
            ..Frame::WORLD
        }
    }

    fn block(half: Vec3) -> Prism {
        Prism::block(half.map(|h| -h), half)
    }

    #[test]
    fn blocks_known_by_hand() {
        let body = Body::solid(vec![block([5.0, 4.0, 3.0])]);
        let here = Standing::new(&body, Frame::WORLD);
        let deep = |p| here.overlap_mm(&Standing::new(&body, at(p)));
        assert_eq!(deep([9.0, 0.0, 0.0]), 1.0);
        assert_eq!(deep([9.0, 7.5, 0.0]), 0.5);
        // Touching is not running into each other.
        assert_eq!((deep([10.0, 0.0, 0.0]), deep([20.0, 0.0, 0.0])), (0.0, 0.0));
        // On its corner a cube of 6 mm reaches 3 root 3 towards the other.
        let turned = Frame {
            origin_mm: [5.0 + 18.0_f64.sqrt() - 1.0, 0.0, 0.0],
            ..Frame::WORLD.turned(45.0)
        };
        let cube = Body::solid(vec![block([3.0; 3])]);
        assert!((here.overlap_mm(&Standing::new(&cube, turned)) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_hollow_of_a_shell_is_free() {
        let shell = Body::shell(vec![block([10.0; 3])], 1.5);
        let room = Standing::new(&shell, Frame::WORLD);
        let small = Body::solid(vec![block([2.0; 3])]);
        let deep = |p| {
            let inside = Standing::new(&small, at(p));
            let both = [room.overlap_mm(&inside), inside.overlap_mm(&room)];
            assert_eq!(both[0], both[1]);
            both[0]
        };
        assert_eq!((deep([0.0; 3]), deep([6.5, 0.0, 0.0])), (0.0, 0.0));
        let hidden = |p| Standing::new(&small, at(p)).is_in_hollow_of(&room);
        assert!(hidden([6.5, 0.0, 0.0]) && !hidden([6.6, 0.0, 0.0]) && !hidden([30.0, 0.0, 0.0]));
        // Into the wall, right through it, and at it from outside.
        assert!(deep([6.6, 0.0, 0.0]) > 1.0);
        assert!((deep([11.0, 0.0, 0.0]) - 1.0).abs() < 1e-9);
        assert_eq!(deep([12.0, 0.0, 0.0]), 0.0);
    }

    #[test]
    fn a_concave_outline_leaves_its_hollow_free() {
        let l = vec![
            [0.0, 0.0],
            [20.0, 0.0],
            [20.0, 5.0],
            [5.0, 5.0],
            [5.0, 20.0],
            [0.0, 20.0],
        ];
        let angle = Body::solid(vec![Prism::pulled(2, l, [0.0, 10.0])]);
        let angle = Standing::new(&angle, Frame::WORLD);
        let peg = Body::solid(vec![block([2.0; 3])]);
        let deep = |p| angle.overlap_mm(&Standing::new(&peg, at(p)));
        assert_eq!(deep([12.0, 12.0, 5.0]), 0.0);
        assert!((deep([12.0, 6.0, 5.0]) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_way_is_barred_by_what_is_in_it() {
        let body = Body::solid(vec![block([3.0, 3.0, 1.0])]);
        let here = Standing::new(&body, Frame::WORLD);
        let way = here.swept([0.0, 0.0, 1.0], 100.0);
        let other = |p| way.overlap_mm(&Standing::new(&body, at(p)));
        assert!(other([0.0, 4.0, 30.0]) > 1.9);
        // Beside the way, under the start, and touching where it stands.
        assert_eq!(other([6.0, 0.0, 30.0]), 0.0);
        assert_eq!(other([0.0, 0.0, -2.0]), 0.0);
        let slanted = here.swept([0.6, 0.0, 0.8], 100.0);
        assert!(slanted.overlap_mm(&Standing::new(&body, at([30.0, 0.0, 40.0]))) > 1.0);
        assert_eq!(
            slanted.overlap_mm(&Standing::new(&body, at([0.0, 0.0, 40.0]))),
            0.0
        );
    }
}
