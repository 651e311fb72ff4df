//! Where holes run in their parts, and what is around them there: the body and the pegs.

use lodewright_assembly::{Board, Joint};
use lodewright_geometry::{add, dot, scale};
use lodewright_kit::{Frame, PartIx, PlugIx, Pose, SocketIx, Vec3};

use crate::room::Room;

/// What a site belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// A socket of the host.
    Socket(SocketIx),
    /// A mounting face of a part.
    Plug(PartIx, PlugIx),
}

impl Owner {
    /// The two faces that meet in a joint: the socket's and the plug's.
    pub fn of_joint(joint: &Joint) -> [Self; 2] {
        [
            Self::Socket(joint.socket),
            Self::Plug(joint.part, joint.plug),
        ]
    }

    /// Whether it is the host's side.
    pub fn is_socket(self) -> bool {
        matches!(self, Self::Socket(_))
    }
}

/// Where a hole runs, in the axes of its part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// The middle of its first mouth, mm.
    pub mouth_mm: Vec3,
    /// From the mouth into the part, a unit vector.
    pub inward: Vec3,
    /// The socket that it is on, as long as that is not placed: it lies somewhere on its face, and only what is on the same socket
    /// can be compared with it.
    pub adrift: Option<SocketIx>,
}

impl Run {
    /// A point so far behind the mouth.
    pub fn at_depth_mm(&self, depth_mm: f64) -> Vec3 {
        add(self.mouth_mm, scale(self.inward, depth_mm))
    }

    /// Whether it is known how two holes of one part lie to each other.
    pub fn is_comparable(&self, other: &Self) -> bool {
        self.adrift == other.adrift
    }
}

/// The pegs of a joint, or their holes, in one of its two faces: centres in the axes of that face and radius, mm. A peg that is cut
/// off leaves the hole in the host.
pub(crate) fn pegs_on(board: &Board, joint: &Joint, owner: Owner) -> Vec<([f64; 2], f64)> {
    let peg = &board.socket(joint.socket).peg;
    let is_cut = !board.part(joint.part).plugs[joint.plug].keeps_peg;
    if is_cut && !owner.is_socket() {
        return Vec::new();
    }
    let in_face = |at_mm: [f64; 2]| match owner {
        Owner::Socket(_) => at_mm,
        Owner::Plug(..) => unplace(joint.pose, at_mm),
    };
    let centres = peg.centres_mm().into_iter();
    let all = centres.map(|at_mm| (in_face(at_mm), peg.diameter_mm / 2.0));
    all.collect()
}

/// What the body of a part lets a hole be that runs so.
pub(crate) fn room(
    board: &Board,
    part: PartIx,
    run: Option<Run>,
    measured_mm: Option<f64>,
) -> Room {
    let body = board.body(part);
    match run {
        Some(run) if run.adrift.is_none() => Room::at(body, run.mouth_mm, run.inward, measured_mm),
        _ => {
            let [x, y, z] = board.part(part).size_mm;
            let thick_mm = run.map_or(x.max(y).max(z), |run| {
                dot(run.inward.map(f64::abs), [x, y, z])
            });
            Room::somewhere(body, thick_mm, measured_mm)
        }
    }
}

/// The axes of a face in its part's, z into the part, and the socket it is, if nobody has placed that.
pub(crate) struct FaceAxes {
    frame: Frame,
    inward: f64,
    adrift: Option<SocketIx>,
}

pub(crate) fn face_of_owner(board: &Board, owner: Owner) -> Option<FaceAxes> {
    Some(match owner {
        Owner::Socket(s) => {
            let socket = board.socket(s);
            FaceAxes {
                frame: socket.frame(board.part(board.host(s))),
                inward: -1.0,
                adrift: (!socket.is_placed()).then_some(s),
            }
        }
        Owner::Plug(part, plug) => {
            // Where the plug's own side is not said it adapts to the socket it meets: the first one stands for all.
            let mut joints = board.joints.iter();
            let meets = joints.find(|j| j.part == part && j.plug == plug)?;
            let part = board.part(part);
            FaceAxes {
                frame: part.plug_frame(&part.plugs[plug], board.socket(meets.socket).facing),
                inward: 1.0,
                adrift: None,
            }
        }
    })
}

pub(crate) fn run(face: &FaceAxes, [x, y]: [f64; 2]) -> Run {
    Run {
        mouth_mm: face.frame.to_outer([x, y, 0.0]),
        inward: scale(face.frame.axes[2], face.inward),
        adrift: face.adrift,
    }
}

/// Where a point of the socket lies in the axes of a plug in this pose.
pub(crate) fn unplace(pose: Pose, at_mm: [f64; 2]) -> [f64; 2] {
    let back = Pose {
        turn_deg: -pose.turn_deg,
        over: false,
    };
    let [x, y] = back.place(at_mm);
    [x, if pose.over { -y } else { y }]
}
