//! Parts against parts: bodies that run into each other where they sit, and parts that stand in the way of others.
//!
//! Models are not gone through one by one: what counts is where a part may sit, by the joints from the base to it, and which two
//! such seats some model has together.

mod bars;
mod seats;

use lodewright_kit::{Ix, PartIx, VariantIx};
use tiny_sort::stable::sort_by;

use crate::situation::{Rules, entries_of};
use crate::{Board, JointIx, search::Search, search::Steps};

pub use bars::Bars;
use seats::{Seat, seats};

/// Pairs of corners of seats whose boxes meet that are looked at, about a tenth of a second: every real kit has far fewer.
const MOST_CORNERS: usize = 10_000_000;
/// Steps to find out whether some model has both seats of a pair.
const MOST_STEPS: u64 = 20_000;

/// Where a part sits: by the joints from the base on; none for the base itself.
pub type Chain = Vec<JointIx>;

/// Two parts that run into each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    /// The parts.
    pub parts: [PartIx; 2],
    /// How each sits.
    pub by: [Chain; 2],
    /// How deep, mm.
    pub deep_mm: f64,
    /// The variants in which that may be.
    pub variants: Vec<VariantIx>,
}

/// A part that cannot be put on, since what it needs under it stands in its way.
#[derive(Clone, Debug, PartialEq)]
pub struct Barred {
    /// The part.
    pub part: PartIx,
    /// How it sits.
    pub by: Chain,
    /// The part in its way.
    pub behind: PartIx,
    /// The variants in which that may be.
    pub variants: Vec<VariantIx>,
}

/// What stands against each other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Clashes {
    /// Parts that run into each other, the deepest first.
    pub overlaps: Vec<Clash>,
    /// Parts that cannot be put on at all.
    pub barred: Vec<Barred>,
    /// What has to be off while another part comes off or goes on.
    pub bars: Bars,
    /// Whether all was looked at; absurdly large plans are not.
    pub is_whole: bool,
}

/// Looks for them. What hangs on a socket that nobody has placed is left out.
pub fn clashes(board: &Board) -> Clashes {
    let (seats, mut is_whole) = seats(board);
    let mut found = Clashes::default();
    let mut looked_at: usize = 0;
    let mut may_look = |a: &Seat, b: &Seat| {
        let both = a.standing.corners().saturating_mul(b.standing.corners());
        looked_at = looked_at.saturating_add(both);
        looked_at <= MOST_CORNERS
    };
    for (i, a) in seats.iter().enumerate() {
        for b in &seats[i + 1..] {
            if !a.boxes_meet(b) || !a.goes_with(b, board) {
                continue;
            }
            if !may_look(a, b) {
                is_whole = false;
                break;
            }
            found.overlaps.extend(overlap(board, a, b));
        }
    }
    // What sits in the hollow of a part goes in by openings that nobody has drawn: its way is not known.
    let hidden = |a: &Seat| {
        let hosts = seats.iter().filter(|b| b.carries(a));
        hosts
            .into_iter()
            .any(|b| a.standing.is_in_hollow_of(&b.standing))
    };
    for a in seats.iter().filter(|s| !s.chain.is_empty() && !hidden(s)) {
        let way = a.way();
        for b in &seats {
            let apart = a.chain == b.chain || a.carries(b) || a.is_host(b, board);
            if apart || !way.boxes_meet(b) || !a.goes_with(b, board) {
                continue;
            }
            if !may_look(&way, b) {
                is_whole = false;
                break;
            }
            bar(board, a, &way, b, &mut found);
        }
    }
    sort_by(&mut found.overlaps, |a, b| b.deep_mm.total_cmp(&a.deep_mm));
    found.is_whole = is_whole;
    found
}

/// How deep two seats run into each other beyond what is meant, and where.
fn overlap(board: &Board, a: &Seat, b: &Seat) -> Option<Clash> {
    let deep_mm = a.standing.overlap_mm(&b.standing);
    let meant_mm = match (a.is_host(b, board), b.is_host(a, board)) {
        (true, _) => recess_mm(board, a),
        (_, true) => recess_mm(board, b),
        _ => 0.0,
    };
    if deep_mm <= meant_mm + board.plan.settings.overlap_tolerance_mm {
        return None;
    }
    let variants = together(board, a, b);
    (!variants.is_empty()).then(|| Clash {
        parts: [a.part, b.part],
        by: [a.chain.clone(), b.chain.clone()],
        deep_mm,
        variants,
    })
}

/// Notes what stands in the way of a part on its way.
fn bar(board: &Board, a: &Seat, way: &Seat, b: &Seat, found: &mut Clashes) {
    let tolerance_mm = board.plan.settings.overlap_tolerance_mm;
    let on_the_way = way.standing.overlap_mm(&b.standing) > tolerance_mm;
    // Those that run into each other are told as such.
    if !on_the_way || a.standing.overlap_mm(&b.standing) > tolerance_mm {
        return;
    }
    let variants = together(board, a, b);
    if variants.is_empty() {
        return;
    }
    if b.carries(a) {
        // A hollow part may have openings that nobody has drawn.
        if board.body(b.part).wall_mm().is_some() {
            return;
        }
        found.barred.push(Barred {
            part: a.part,
            by: a.chain.clone(),
            behind: b.part,
            variants,
        });
    } else {
        found.bars.note(a.chain.clone(), b.chain.clone());
    }
}

/// How far the seat's socket lies below the outer surface of its host, mm: what sits in a recess is meant to.
fn recess_mm(board: &Board, guest: &Seat) -> f64 {
    let Some(joint) = guest.chain.last() else {
        return 0.0;
    };
    let socket = board.socket(board.joints[*joint].socket);
    let host = board.host(board.joints[*joint].socket);
    let frame = socket.frame(board.part(host));
    let out = frame.axes[2];
    let axis = (0..3).find(|k| out[*k].abs() > 0.5).unwrap_or(2);
    let outward = board.body(host).bore(frame.origin_mm, axis, out[axis]);
    let found = outward.outer_mm(0.0).filter(|[from, _]| *from < 0.0);
    found.map_or(0.0, |[_, to]| to)
}

/// The variants that have a model with both seats; those of which it cannot be found out count.
fn together(board: &Board, a: &Seat, b: &Seat) -> Vec<VariantIx> {
    let both = a.variants & b.variants;
    let all = VariantIx::all(&board.plan.variants).filter(|v| both >> v.get() & 1 == 1);
    let has_both = |v: &VariantIx| {
        let mut entries = entries_of(board, *v);
        for joint in a.chain.iter().chain(&b.chain) {
            let socket = board.joints[*joint].socket;
            entries[socket].retain(|(choice, _)| *choice == Some(*joint));
        }
        let rules = Rules::of(board, &entries, 0);
        rules.start().is_some_and(|start| {
            let possible = Search::any(&rules).is_possible(start, &mut Steps::new(MOST_STEPS));
            possible != Some(false)
        })
    };
    all.filter(has_both).collect()
}
