//! Which faces meet in a joint.

use lodewright_assembly::{Board, Joint};
use lodewright_geometry::distance;
use tiny_sort::stable::{sort_by, sort_by_key};

use crate::holes::Holes;

/// Two faces that meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mate {
    /// Index of the socket's face.
    pub socket_face: usize,
    /// Index of the plug's face.
    pub plug_face: usize,
    /// Whether the plug shows the back of its hole, since it is turned over.
    pub from_behind: bool,
    /// Where the socket's face lies in the socket's axes, mm.
    pub at_mm: [f64; 2],
    /// How far the centres lie apart in the mating plane, mm.
    pub offset_mm: f64,
}

/// The faces that meet in a joint: of all pairs within the plan's tolerance, closest first, each face at most once.
pub fn mates(board: &Board<'_>, holes: &Holes, joint: usize) -> Vec<Mate> {
    mates_as(board, holes, board.joints[joint])
}

/// The same for a joint that no variant need ask for.
pub(crate) fn mates_as(board: &Board<'_>, holes: &Holes, j: Joint) -> Vec<Mate> {
    let tolerance_mm = board.plan.settings.facing_tolerance_mm;
    let faces = || holes.faces.iter().enumerate();
    let mut pairs: Vec<Mate> = Vec::new();
    for (socket_face, a) in faces().filter(|(_, f)| f.on_socket && f.owner == j.socket) {
        for (plug_face, b) in
            faces().filter(|(_, f)| !f.on_socket && f.owner == j.part && f.plug == j.plug)
        {
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
        if chosen
            .iter()
            .all(|c| c.socket_face != pair.socket_face && c.plug_face != pair.plug_face)
        {
            chosen.push(pair);
        }
    }
    sort_by_key(&mut chosen, |m| m.socket_face);
    chosen
}
