//! Magnets that are not meant to meet: side by side or across a wall in one part, where they jump together while the glue
//! is wet, and between a seated part and the rest of its host.

mod placed;

pub(crate) use placed::{Placed, placed};

use std::collections::BTreeSet;

use lodewright_assembly::JointIx;
use lodewright_geometry::{dot, norm, sub};
use lodewright_kit::{Ix, PartIx, Pole, Table};
use serde::Serialize;
use tiny_sort::stable::sort_by;

use crate::context::Context;
use crate::holes::HoleIx;
use crate::pull::{Filling, Fillings};
use placed::{pair_force, reach_mm};

/// Farthest that a spacing is looked for, mm.
const FARTHEST_MM: f64 = 100.0;

/// How two magnets come near each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Meeting {
    /// In one face of one part.
    SideBySide,
    /// In one part, through plastic between faces that look different ways.
    ThroughThePart,
    /// One in a part that sits in its socket, the other in the host beside it.
    PartAndHost,
}

/// Two magnets that feel each other though nobody wants it.
#[derive(Clone, Debug, PartialEq)]
pub struct UnintendedPair {
    /// The two holes, the lower first.
    pub holes: [HoleIx; 2],
    /// How they meet.
    pub meeting: Meeting,
    /// The joint that brings them together, for [`Meeting::PartAndHost`].
    pub joint: Option<JointIx>,
    /// Force between them at the strong end, N.
    pub force_n: f64,
    /// Whether they draw together with the poles as planned; `None` where a pole is open.
    pub attract: Option<bool>,
    /// Distance of their centres, mm.
    pub apart_mm: f64,
    /// Distance along the same line at which the force is below the plan's limit, mm.
    pub enough_mm: Option<f64>,
    /// Whether their bodies would share space.
    pub overlap: bool,
}

/// Every pair whose force passes the plan's limit (or whose bodies overlap), strongest first.
pub fn unintended_pairs(
    context: &Context,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Vec<UnintendedPair> {
    let mut found: Vec<UnintendedPair> = Vec::new();
    let own = Table::of(&context.plan().parts, |p, _| in_part(context, p, fillings));
    for list in own.values() {
        for (i, a) in list.iter().enumerate() {
            for b in &list[i + 1..] {
                let meeting = if dot(a.face_normal, b.face_normal) > 0.999 {
                    Meeting::SideBySide
                } else {
                    Meeting::ThroughThePart
                };
                found.extend(unintended(context, a, b, meeting, None, poles));
            }
        }
    }
    for joint in context.board.all_joints() {
        seated(context, joint, &own, poles, &mut found);
    }
    sort_by(&mut found, |a, b| {
        b.force_n
            .total_cmp(&a.force_n)
            .then(a.holes.cmp(&b.holes))
            .then(a.meeting.cmp(&b.meeting))
    });
    // A part that sits in several sockets of one kind meets the same one each time: the strongest stands for all.
    let mut seen = BTreeSet::new();
    found.retain(|s| seen.insert((s.holes, s.meeting)));
    found
}

/// The part of a joint against its host, but for the pairs that are meant to meet.
fn seated(
    context: &Context,
    joint: JointIx,
    own: &Table<PartIx, Vec<Placed>>,
    poles: &Table<HoleIx, Option<Pole>>,
    found: &mut Vec<UnintendedPair>,
) {
    let j = context.board.joints[joint];
    let on_host = context.board.part_on_host(joint);
    let meant = meant(context, joint);
    for guest in &own[j.part] {
        let Some(guest) = guest.on_host(context, joint, &on_host) else {
            continue;
        };
        for host in &own[context.board.host(j.socket)] {
            if !meant.contains(&[host.hole, guest.hole]) {
                let pair = unintended(
                    context,
                    host,
                    &guest,
                    Meeting::PartAndHost,
                    Some(joint),
                    poles,
                );
                found.extend(pair);
            }
        }
    }
}

/// The pairs of holes that are meant to meet in a joint, the host's first.
pub(crate) fn meant(context: &Context, joint: JointIx) -> Vec<[HoleIx; 2]> {
    let mates = context.mates[joint].iter();
    mates.map(|m| m.holes(&context.holes)).collect()
}

/// The magnets of a part, in its axes.
fn in_part(context: &Context, part: PartIx, fillings: &Fillings) -> Vec<Placed> {
    let holes = HoleIx::each(&context.holes.holes);
    let mine = holes.filter(|(_, h)| h.part == part);
    mine.filter_map(|(hole, _)| match fillings[hole] {
        Filling::Magnet(magnet) => placed(context, hole, magnet),
        _ => None,
    })
    .collect()
}

fn unintended(
    context: &Context,
    a: &Placed,
    b: &Placed,
    meeting: Meeting,
    joint: Option<JointIx>,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Option<UnintendedPair> {
    let limit_n = context.board.plan.settings.stranger_limit_n;
    let between = sub(b.centre_mm, a.centre_mm);
    let apart_mm = norm(between);
    if !a.is_comparable(b) || apart_mm > reach_mm(a, b) {
        return None;
    }
    let sign = |hole: HoleIx| poles[hole].map(|p| if p == Pole::N { 1.0 } else { -1.0 });
    let both = sign(a.hole).zip(sign(b.hole)).map(|(x, y)| x * y);
    let at = |mm: f64| pair_force(a, b, between, mm);
    let (force_n, attract, overlap) = match at(apart_mm) {
        Some(pull_n) => (
            norm(pull_n),
            both.map(|s| dot(pull_n, between) * s < 0.0),
            false,
        ),
        None => (f64::INFINITY, None, true),
    };
    if force_n < limit_n {
        return None;
    }
    Some(UnintendedPair {
        holes: [a.hole.min(b.hole), a.hole.max(b.hole)],
        meeting,
        joint,
        force_n,
        attract,
        apart_mm,
        enough_mm: enough_mm(apart_mm, limit_n, |mm| at(mm).map(norm)),
        overlap,
    })
}

/// Least distance beyond `from_mm` at which the force stays under the limit, to a tenth of a millimetre; `None` where
/// there is none within reach.
fn enough_mm(from_mm: f64, limit_n: f64, force_n: impl Fn(f64) -> Option<f64>) -> Option<f64> {
    let is_enough = |mm: f64| force_n(mm).is_some_and(|n| n <= limit_n);
    let (mut low, mut high) = (from_mm, from_mm.max(1.0));
    while !is_enough(high) {
        low = high;
        high *= 1.3;
        if high > FARTHEST_MM {
            return None;
        }
    }
    while high - low > 0.05 {
        let mid = (low + high) / 2.0;
        if is_enough(mid) {
            high = mid;
        } else {
            low = mid;
        }
    }
    Some((high * 10.0).ceil() / 10.0)
}
