//! Where a hand could put a part by mistake: which plug goes on which socket in which pose, meant or not.

use lodewright_assembly::{Board, Joint};
use lodewright_geometry::{convex_hull, convex_intersection, distance, polygon_area_mm2};
use lodewright_kit::{PartIx, Patch, PegKind, PlugIx, Pose, SocketIx};

use tiny_sort::stable::sort_by;

use crate::hole_runs::unplace;

/// A placement is one that a hand could try if at least this share of the smaller outline touches. Common practice, no
/// source.
pub const TOUCHING_SHARE: f64 = 0.75;
/// A peg finds its hole if it comes this near, mm. Common practice, no source.
pub const PEG_FINDS_MM: f64 = 0.5;

/// Quarter turns.
const TURNS_DEG: [f64; 4] = [0.0, 90.0, 180.0, 270.0];

/// The poses in which a hand could put a plug on a socket, whether a variant asks for them or not; none for a plug that
/// no variant uses, as nobody knows then what it looks like.
///
/// The rule: quarter turns of a pose in which a variant uses the plug; turned over too where its thickness is known. At
/// least [`TOUCHING_SHARE`] of the smaller outline touches. A peg that is kept must find a hole of its own kind: a round
/// one at its place, in any turn; two pegs in their own sockets or in ones like them (same outline, same pegs), straight
/// or turned by 180 degrees; a key there too, but straight only. A peg that points away, the part being turned over,
/// keeps nothing from meeting; a socket's spare hole does not either.
pub fn possible_placements(
    board: &Board,
    part: PartIx,
    plug: PlugIx,
    socket: SocketIx,
) -> Vec<Pose> {
    let homes: Vec<Joint> = board
        .joints
        .iter()
        .filter(|j| (j.part, j.plug) == (part, plug))
        .copied()
        .collect();
    let (Some(first), true) = (homes.first(), board.host(socket) != part) else {
        return Vec::new();
    };
    let outline_mm = outline_mm(board, *first);
    let may_turn_over = board.part(part).plugs[plug].thickness_mm.is_some();
    let mut poses: Vec<Pose> = Vec::new();
    for home in &homes {
        for turn in TURNS_DEG {
            for over in [home.pose.over, !home.pose.over] {
                let turn_deg = (home.pose.turn_deg + turn).rem_euclid(360.0);
                let pose = Pose { turn_deg, over };
                let known = poses.contains(&pose);
                if !known
                    && (may_turn_over || over == home.pose.over)
                    && peg_lets(board, &homes, socket, pose)
                    && touches(board, &outline_mm, socket, pose)
                {
                    poses.push(pose);
                }
            }
        }
    }
    sort_by(&mut poses, |a, b| {
        (a.over, a.turn_deg)
            .partial_cmp(&(b.over, b.turn_deg))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    poses
}

/// A plug's outline in its own axes: its own, or that of the first socket that it is meant for.
fn outline_mm(board: &Board, home: Joint) -> Vec<[f64; 2]> {
    match &board.part(home.part).plugs[home.plug].patch {
        Some(patch) => patch.outline_mm(),
        None => {
            let patch: &Patch = &board.socket(home.socket).patch;
            let back = |p| unplace(home.pose, p);
            patch.outline_mm().into_iter().map(back).collect()
        }
    }
}

fn touches(board: &Board, outline_mm: &[[f64; 2]], socket: SocketIx, pose: Pose) -> bool {
    let placed: Vec<_> = outline_mm.iter().map(|p| pose.place(*p)).collect();
    let a = convex_hull(&placed).unwrap_or_default();
    let b = convex_hull(&board.socket(socket).patch.outline_mm()).unwrap_or_default();
    let both = convex_intersection(&a, &b).unwrap_or_default();
    let smaller = polygon_area_mm2(&a).min(polygon_area_mm2(&b));
    smaller > 0.0 && polygon_area_mm2(&both) >= TOUCHING_SHARE * smaller
}

fn peg_lets(board: &Board, homes: &[Joint], socket: SocketIx, pose: Pose) -> bool {
    let pegged = |j: &&Joint| board.socket(j.socket).peg.kind != PegKind::None;
    let Some(home) = homes.iter().find(pegged) else {
        return true;
    };
    if !board.part(home.part).plugs[home.plug].keeps_peg || pose.over != home.pose.over {
        return true;
    }
    let (own, here) = (board.socket(home.socket), board.socket(socket));
    if own.peg.kind != here.peg.kind {
        return false;
    }
    let finds = || {
        let at_mm = pose.place(unplace(home.pose, own.peg.at_mm));
        distance(at_mm, here.peg.at_mm) <= PEG_FINDS_MM
    };
    // The turn against any pose in which a variant has it in this socket or one like it.
    let turned = |deg: f64| {
        homes.iter().any(|h| {
            let like = board.socket(h.socket);
            let alike = h.socket == socket || (like.patch == here.patch && like.peg == here.peg);
            let by = (pose.turn_deg - h.pose.turn_deg).rem_euclid(360.0);
            alike && pose.over == h.pose.over && by.rem_euclid(deg) < 1e-9
        })
    };
    match here.peg.kind {
        PegKind::None => true,
        PegKind::Round => finds(),
        PegKind::Two => turned(180.0),
        PegKind::Keyed => turned(360.0),
    }
}
