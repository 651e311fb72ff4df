//! What stands on the drawing: parts as outlines, sockets as marks, and where a finger is caught. No web types.

use lodewright_planner::Analysis;
use lodewright_planner::geometry::{Frame, Vec3, add, dot, scale};
use lodewright_planner::kit::{
    Facing, Ix, PartId, PartIx, Plan, Pose, Socket, SocketId, SocketIx, VariantId, VariantIx,
};
use tiny_sort::stable::{sort_by, sort_by_key};

use super::look::{Look, bounds, hull, within};

/// A part as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Its id.
    pub id: PartId,
    /// Its index in the plan.
    pub part: PartIx,
    /// The socket that it sits in, by index, and its pose; none for the base.
    pub seat: Option<(SocketIx, Pose)>,
    /// Its axes in the base's.
    pub frame: Frame,
    /// Its pieces as outlines, mm to the right and up.
    pub outlines: Vec<Vec<[f64; 2]>>,
    /// Least and greatest place of its box.
    pub low: [f64; 2],
    /// See `low`.
    pub high: [f64; 2],
    /// The middle of its box in the base's axes.
    pub middle: Vec3,
}

/// How a socket's face lies to the eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// It looks at the eye.
    Towards,
    /// It is seen from its edge.
    Edge,
    /// It looks away.
    Away,
}

/// A socket where it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Its id.
    pub id: SocketId,
    /// Its place in the plan's list.
    pub socket: SocketIx,
    /// The body that carries it, by its place in the scene.
    pub host: usize,
    /// Its axes in the base's.
    pub frame: Frame,
    /// Where its middle is.
    pub at: [f64; 2],
    /// What touches there, as an outline.
    pub patch: Vec<[f64; 2]>,
    /// How it lies to the eye.
    pub seen: Seen,
}

/// Everything on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// From where it is looked at.
    pub look: Look,
    /// The parts, the farthest from the eye first.
    pub bodies: Vec<Body>,
    /// The sockets of those parts.
    pub marks: Vec<Mark>,
}

impl Scene {
    /// A variant as it stands, or the base alone.
    pub fn of(plan: &Plan, variant: Option<&VariantId>, look: Look) -> Self {
        let at = variant.and_then(|id| VariantIx::find(&plan.variants, |v| v.id == *id));
        let placed = Analysis::of(plan.clone()).map(|a| a.placement(at));
        let mut bodies: Vec<Body> = placed
            .unwrap_or_default()
            .into_iter()
            .filter_map(|s| {
                let part = &plan.parts[s.part];
                let flat = |p: &Vec3| look.flat(s.frame.to_outer(*p));
                let outlines = part.body().silhouettes(|p| look.flat(s.frame.to_outer(p)));
                let half = scale(part.size_mm, 0.5);
                let corners = (0..8).map(|n: usize| {
                    let corner: Vec3 = std::array::from_fn(|k| {
                        part.box_middle_mm[k] + if n >> k & 1 == 0 { -half[k] } else { half[k] }
                    });
                    flat(&corner)
                });
                let (low, high) = bounds(corners)?;
                Some(Body {
                    id: part.id.clone(),
                    part: s.part,
                    seat: s.seat,
                    frame: s.frame,
                    outlines,
                    low,
                    high,
                    middle: s.frame.to_outer(part.box_middle_mm),
                })
            })
            .collect();
        sort_by(&mut bodies, |a, b| {
            look.near(a.middle).total_cmp(&look.near(b.middle))
        });
        let marks = marks(plan, &bodies, &look);
        Self {
            look,
            bodies,
            marks,
        }
    }

    /// The mark of a socket.
    pub fn mark(&self, id: &SocketId) -> Option<&Mark> {
        self.marks.iter().find(|m| m.id == *id)
    }

    /// The body of a part.
    pub fn body(&self, id: &PartId) -> Option<&Body> {
        self.bodies.iter().find(|b| b.id == *id)
    }

    /// The corners of everything, for fitting it into sight.
    pub fn corners(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.bodies.iter().flat_map(|b| [b.low, b.high])
    }

    /// The nearest body under a place and the face of it that a tap there means: the one that looks at the eye, or, near the
    /// body's edge, the one that is seen from its edge. `reach` is how far outside an edge still counts, mm.
    pub fn face_at(&self, at: [f64; 2], reach: f64) -> Option<(&Body, Facing)> {
        let inside = |b: &&Body| b.outlines.iter().any(|o| within(o, at));
        let close =
            |b: &&Body| (0..2).all(|k| (b.low[k] - reach..=b.high[k] + reach).contains(&at[k]));
        let body = self
            .bodies
            .iter()
            .rev()
            .find(inside)
            .or_else(|| self.bodies.iter().rev().find(close))?;
        let sides = self.look.sides();
        let gaps = [
            body.high[0] - at[0],
            body.high[1] - at[1],
            at[0] - body.low[0],
            at[1] - body.low[1],
        ];
        let nearest = (0..4).fold(0, |n, k| if gaps[k] < gaps[n] { k } else { n });
        // Inside, only a narrow strip stands for the edge: the face itself is what is mostly meant.
        let side = if gaps[nearest] <= reach * 0.4 {
            sides[nearest]
        } else {
            self.look.from
        };
        let inner = body.frame.inverse().direction_to_outer(side.normal());
        Some((body, Facing::nearest(inner)))
    }

    /// Lines that catch a finger, across and up: edges and middles of parts, and the sockets but those that move.
    pub fn lines(&self, moving: &[SocketId]) -> [Vec<f64>; 2] {
        std::array::from_fn(|k| {
            let parts = self
                .bodies
                .iter()
                .flat_map(|b| [b.low[k], (b.low[k] + b.high[k]) / 2.0, b.high[k]]);
            let sockets = self.marks.iter().filter(|m| !moving.contains(&m.id));
            parts.chain(sockets.map(|m| m.at[k])).collect()
        })
    }
}

fn marks(plan: &Plan, bodies: &[Body], look: &Look) -> Vec<Mark> {
    let of = |(n, socket): (SocketIx, &Socket)| {
        let host = bodies.iter().position(|b| b.id == socket.host)?;
        let body = bodies.get(host)?;
        if !socket.is_placed() {
            return None;
        }
        let frame = socket.frame(&plan.parts[body.part]).within(&body.frame);
        let towards = look.near(frame.axes[2]);
        let patch = socket
            .patch
            .outline_mm()
            .into_iter()
            .map(|[x, y]| look.flat(frame.to_outer([x, y, 0.0])));
        Some(Mark {
            id: socket.id.clone(),
            socket: n,
            host,
            frame,
            at: look.flat(frame.origin_mm),
            patch: hull(&patch.collect::<Vec<_>>()),
            seen: if towards > 0.3 {
                Seen::Towards
            } else if towards < -0.3 {
                Seen::Away
            } else {
                Seen::Edge
            },
        })
    };
    let mut all: Vec<Mark> = SocketIx::each(&plan.sockets).filter_map(of).collect();
    // Those that look at the eye lie above those behind: a finger means what it sees.
    sort_by_key(&mut all, |m| match m.seen {
        Seen::Away => 0,
        Seen::Edge => 1,
        Seen::Towards => 2,
    });
    all
}

impl Mark {
    /// What a move over the drawing is for this socket, which stays on its face: in the base's axes.
    pub fn slide(&self, look: &Look, by: [f64; 2]) -> Vec3 {
        let d = look.solid(by, 0.0);
        let n = self.frame.axes[2];
        add(d, scale(n, -dot(d, n)))
    }
}

/// The step that places are taken to, mm.
pub const STEP_MM: f64 = 0.5;
/// The finer step, by keys, mm.
pub const FINE_MM: f64 = 0.1;

/// A place with the lines that caught it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Caught {
    /// The place.
    pub at: [f64; 2],
    /// The line across and the line up that it lies on.
    pub lines: [Option<f64>; 2],
}

/// The place that a finger means: a line within reach catches it, else the step.
pub fn snapped(at: [f64; 2], lines: &[Vec<f64>; 2], reach: f64) -> Caught {
    let caught: [Option<f64>; 2] = std::array::from_fn(|k| {
        lines[k]
            .iter()
            .copied()
            .filter(|l| (l - at[k]).abs() <= reach)
            .min_by(|a, b| (a - at[k]).abs().total_cmp(&(b - at[k]).abs()))
    });
    Caught {
        at: std::array::from_fn(|k| caught[k].unwrap_or((at[k] / STEP_MM).round() * STEP_MM) + 0.0),
        lines: caught,
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::Edit;

    use super::*;

    fn plan() -> Plan {
        let grid = Edit::PasteGrid("\tA\tB\nRoof\tRack\t-\n".to_owned());
        let mut plan = Plan::empty("t").edited(&grid).unwrap();
        plan.sockets[0].at_mm = Some([0.0, 0.0, 15.0]);
        plan
    }

    #[test]
    fn what_is_not_placed_is_not_drawn() {
        let mut plan = plan();
        plan.sockets[0].at_mm = None;
        let scene = Scene::of(&plan, Some(&"a".into()), Look::from(Facing::Left));
        assert!(scene.marks.is_empty() && scene.bodies.len() == 1);
    }

    #[test]
    fn a_variant_stands_on_its_base() {
        let look = Look::from(Facing::Left);
        let scene = Scene::of(&plan(), Some(&"a".into()), look);
        let rack = scene.body(&"rack".into()).unwrap();
        assert_eq!((rack.low, rack.high), ([-10.0, 15.0], [10.0, 35.0]));
        assert_eq!(scene.marks[0].seen, Seen::Edge);
        assert_eq!(scene.marks[0].at, [0.0, 15.0]);
        assert_eq!(Scene::of(&plan(), None, look).bodies.len(), 1);
    }

    #[test]
    fn a_tap_means_the_face_before_the_eye_or_the_edge_beside_it() {
        let scene = Scene::of(&plan(), None, Look::from(Facing::Left));
        let face = |at| scene.face_at(at, 3.0).map(|(_, f)| f);
        assert_eq!(face([0.0, 0.0]), Some(Facing::Left));
        assert_eq!(face([5.0, 16.0]), Some(Facing::Up));
        // From the left the front is at the left hand.
        assert_eq!(face([-41.0, 0.0]), Some(Facing::Front));
        assert_eq!(face([0.0, 30.0]), None);
    }

    #[test]
    fn lines_catch_and_the_rest_steps() {
        let lines = [vec![0.0, 10.0], vec![]];
        assert_eq!(snapped([9.4, 1.3], &lines, 1.0).at, [10.0, 1.5]);
        assert_eq!(snapped([7.26, 1.3], &lines, 1.0).lines, [None, None]);
    }

    #[test]
    fn a_socket_slides_on_its_face_only() {
        let scene = Scene::of(&plan(), None, Look::from(Facing::Left));
        let d = scene.marks[0].slide(&scene.look, [2.0, 5.0]);
        assert_eq!(d, [-2.0, 0.0, 0.0]);
    }
}
