//! Where holes and sockets are for a hand with a ruler: on which face of their part, and how far from two of its edges.

use lodewright_geometry::scale;
use lodewright_joints::HoleIx;
use lodewright_kit::{Facing, Part, SocketIx, Vec3};
use serde::Serialize;

use crate::Analysis;

/// A place on a face of a part's outer box.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FacePlace {
    /// The face.
    pub face: Facing,
    /// The two nearest edges of it that meet at a corner, each by the side that it borders on, and how far they are, mm; negative
    /// beyond the edge.
    pub from: [(Facing, f64); 2],
}

impl FacePlace {
    /// A place in the axes of a part, on the face that looks along a direction.
    fn of(part: &Part, at_mm: Vec3, out: Vec3) -> Self {
        let face = Facing::nearest(out);
        let edge = |pair: [Facing; 2]| {
            let apart = pair.map(|side| {
                let normal = side.normal();
                let along: f64 = (0..3)
                    .map(|k| normal[k] * (at_mm[k] - part.box_middle_mm[k]))
                    .sum();
                (side, side.half_extent_mm(part.size_mm) - along)
            });
            let [a, b] = apart;
            if b.1 < a.1 { b } else { a }
        };
        let pairs = [
            [Facing::Front, Facing::Back],
            [Facing::Left, Facing::Right],
            [Facing::Up, Facing::Down],
        ];
        let mut across = pairs.into_iter().filter(|pair| !pair.contains(&face));
        let mut next = || edge(across.next().unwrap_or(pairs[0]));
        Self {
            face,
            from: [next(), next()],
        }
    }

    /// The place in the part's axes, mm.
    pub fn at_mm(&self, part: &Part) -> Vec3 {
        let normal = self.face.normal();
        let half_mm = self.face.half_extent_mm(part.size_mm);
        let mut at: Vec3 = std::array::from_fn(|k| part.box_middle_mm[k] + normal[k] * half_mm);
        for (side, mm) in self.from {
            let inward = scale(side.normal(), side.half_extent_mm(part.size_mm) - mm);
            (0..3).for_each(|k| at[k] += inward[k]);
        }
        at
    }
}

impl Analysis {
    /// Where the first or the far mouth of a hole is; `None` as long as its socket is not placed, and where nothing says which
    /// side of its part it is on.
    pub fn hole_place(&self, hole: HoleIx, far: bool) -> Option<FacePlace> {
        let hole = &self.holes().holes[hole];
        let run = hole.run.filter(|run| run.adrift.is_none())?;
        let part = self.board().part(hole.part);
        let out = scale(run.inward, if far { 1.0 } else { -1.0 });
        let deep_mm = if far { hole.max_depth_mm } else { 0.0 };
        Some(FacePlace::of(part, run.at_depth_mm(deep_mm), out))
    }

    /// Where the middle of a socket is on its host; `None` as long as it is not placed.
    pub fn socket_place(&self, socket: SocketIx) -> Option<FacePlace> {
        let board = self.board();
        let host = board.part(board.host(socket));
        let socket = board.socket(socket);
        Some(FacePlace::of(host, socket.at_mm?, socket.facing.normal()))
    }
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{Edit, Ix, Plan};
    use proptest::prelude::*;

    use super::*;

    /// A base of 80 by 40 by 30 mm about (1, 2, 3) with one socket and a hole 3 mm along its first axis and 2 mm along its second.
    fn analysis(facing: Facing, at_mm: Vec3, spin_deg: f64) -> Analysis {
        let grid = Edit::PasteGrid("\tA\tB\nNose\tPlough\tHook\n".to_owned());
        let mut plan = Plan::empty("t").edited(&grid).unwrap();
        plan.parts[0].box_middle_mm = [1.0, 2.0, 3.0];
        let socket = &mut plan.sockets[0];
        (socket.facing, socket.at_mm, socket.spin_deg) = (facing, Some(at_mm), spin_deg);
        socket.sites[0].at_mm = [3.0, 2.0];
        Analysis::of(plan).unwrap()
    }

    fn near(found: FacePlace, face: Facing, from: [(Facing, f64); 2]) {
        assert_eq!(found.face, face);
        for (found, known) in found.from.iter().zip(from) {
            assert!(
                found.0 == known.0 && (found.1 - known.1).abs() < 1e-9,
                "{found:?} {known:?}"
            );
        }
    }

    #[test]
    fn holes_known_by_hand_on_all_six_faces() {
        use Facing::{Back, Down, Front, Left, Right, Up};
        let first = |facing, at_mm, spin| {
            analysis(facing, at_mm, spin)
                .hole_place(HoleIx::new(0), false)
                .unwrap()
        };
        // On level faces the first axis runs to the front, seen from outside.
        near(
            first(Up, [21.0, 12.0, 18.0], 0.0),
            Up,
            [(Front, 17.0), (Left, 8.0)],
        );
        near(
            first(Down, [21.0, 12.0, -12.0], 0.0),
            Down,
            [(Front, 17.0), (Left, 12.0)],
        );
        // On upright ones the second axis runs up.
        near(
            first(Front, [41.0, 2.0, 8.0], 0.0),
            Front,
            [(Left, 17.0), (Up, 8.0)],
        );
        near(
            first(Back, [-39.0, 12.0, 8.0], 0.0),
            Back,
            [(Left, 13.0), (Up, 8.0)],
        );
        near(
            first(Left, [21.0, 22.0, -2.0], 0.0),
            Left,
            [(Front, 23.0), (Down, 12.0)],
        );
        near(
            first(Right, [21.0, -18.0, -2.0], 0.0),
            Right,
            [(Front, 17.0), (Down, 12.0)],
        );
        // Turned by a quarter the first axis runs where the second did.
        near(
            first(Up, [21.0, 12.0, 18.0], 90.0),
            Up,
            [(Front, 22.0), (Left, 7.0)],
        );
        let found = analysis(Up, [21.0, 12.0, 18.0], 0.0);
        near(
            found.socket_place(SocketIx::new(0)).unwrap(),
            Up,
            [(Front, 20.0), (Left, 10.0)],
        );
    }

    #[test]
    fn what_is_not_placed_has_no_place_and_a_mounting_face_has_its_own() {
        let grid = Edit::PasteGrid("\tA\tB\nNose\tPlough\tHook\n".to_owned());
        let found = Analysis::of(Plan::empty("t").edited(&grid).unwrap()).unwrap();
        let host = HoleIx::new(0);
        assert_eq!(
            (
                found.hole_place(host, false),
                found.socket_place(SocketIx::new(0))
            ),
            (None, None)
        );
        // The plough's hole, in the middle of its underside of 20 by 20 mm.
        let own = found.hole_place(HoleIx::new(1), false).unwrap();
        near(
            own,
            Facing::Down,
            [(Facing::Front, 10.0), (Facing::Left, 10.0)],
        );
    }

    proptest! {
        #[test]
        fn face_and_edges_give_the_mouth_back(
            side in 0usize..6,
            [x, y, z] in [-39.0..41.0f64, -18.0..22.0, -12.0..18.0],
            spin in prop_oneof![Just(0.0), Just(90.0), 0.0..360.0f64],
        ) {
            let facing = Facing::ALL[side];
            let mut at = [x, y, z];
            let normal = facing.normal();
            for k in 0..3 {
                if normal[k] != 0.0 {
                    at[k] = [1.0, 2.0, 3.0][k] + normal[k] * [40.0, 20.0, 15.0][k];
                }
            }
            let found = analysis(facing, at, spin);
            let place = found.hole_place(HoleIx::new(0), false).unwrap();
            let mouth = found.holes().holes[HoleIx::new(0)].run.unwrap().mouth_mm;
            let back = place.at_mm(&found.plan().parts[0]);
            prop_assert!((0..3).all(|k| (back[k] - mouth[k]).abs() < 1e-9), "{:?} {:?}", back, mouth);
            let [(_, a), (_, b)] = place.from;
            prop_assert!(a <= 40.0 + 1e-9 && b <= 40.0 + 1e-9);
        }
    }
}
