//! Which faces meet in a joint.

use lodewright_assembly::{Board, Joint, JointIx};
use lodewright_geometry::distance;
use tiny_sort::stable::{sort_by, sort_by_key};

use crate::hole_runs::Owner;
use crate::holes::{FaceIx, HoleIx, Holes};

/// Two faces that meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mate {
    /// The socket's face.
    pub socket_face: FaceIx,
    /// The plug's face.
    pub plug_face: FaceIx,
    /// Whether the plug shows the back of its hole, since it is turned over.
    pub from_behind: bool,
    /// Where the socket's face lies in the socket's axes, mm.
    pub at_mm: [f64; 2],
    /// How far the centres lie apart in the mating plane, mm.
    pub offset_mm: f64,
}

impl Mate {
    /// The two holes, the host's first.
    pub fn holes(&self, holes: &Holes) -> [HoleIx; 2] {
        [self.socket_face, self.plug_face].map(|f| holes.faces[f].hole)
    }

    /// Whether the plug's face shows the second end of its hole.
    pub fn shows_back(&self, holes: &Holes) -> bool {
        holes.faces[self.plug_face].far ^ self.from_behind
    }
}

/// The faces that meet in a joint: of all pairs within the plan's tolerance, closest first, each face at most once.
pub fn mates(board: &Board, holes: &Holes, joint: JointIx) -> Vec<Mate> {
    mates_as(board, holes, board.joints[joint])
}

/// The same for a joint that no variant need ask for.
pub(crate) fn mates_as(board: &Board, holes: &Holes, j: Joint) -> Vec<Mate> {
    let tolerance_mm = board.plan.settings.facing_tolerance_mm;
    let [socket, plug] = Owner::of_joint(&j);
    let mut pairs: Vec<Mate> = Vec::new();
    for (socket_face, a) in holes.faces_on(socket) {
        for (plug_face, b) in holes.faces_on(plug) {
            let offset_mm = distance(a.at_mm, j.pose.place(b.at_mm));
            if offset_mm <= tolerance_mm {
                pairs.push(Mate {
                    socket_face,
                    plug_face,
                    from_behind: j.pose.over,
                    at_mm: a.at_mm,
                    offset_mm,
                });
            }
        }
    }
    sort_by(&mut pairs, |a, b| a.offset_mm.total_cmp(&b.offset_mm));
    let mut chosen: Vec<Mate> = Vec::new();
    for pair in pairs {
        let is_free = |c: &Mate| c.socket_face != pair.socket_face && c.plug_face != pair.plug_face;
        if chosen.iter().all(is_free) {
            chosen.push(pair);
        }
    }
    sort_by_key(&mut chosen, |m| m.socket_face);
    chosen
}
