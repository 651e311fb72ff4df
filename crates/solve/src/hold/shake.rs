//! A joint held in one attitude and shaken: how much shaking on top of gravity opens or slips it.

use super::friction::Clamp;
use super::joint::{HoldError, Joint, PegKind, check_joint, is_snug, within};
use super::{Mode, clamp_moment_nmm, drooped_pull_n};
use lodewright_geometry::{Edge, convex_hull, dot, edges, norm};

/// What a joint stands in one attitude.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shaken {
    /// Acceleration of shaking, in g, in the worst direction and on top of gravity, at which the joint opens or slips;
    /// negative where it does not even bear its weight at rest.
    pub shake_g: f64,
    /// The mode that comes first.
    pub mode: Mode,
}

/// Largest shake in g that a joint bears on top of gravity, which pulls along `down` (a unit vector in the mating frame, or
/// zero for no gravity), in whatever direction it is shaken.
///
/// Each mode gives way when a linear function of the load passes a bound, so the worst shake lies along that function's
/// gradient. Tipping about an edge with lever vector m: s = (M_e / W - g.m) / |m|. Sliding: s = (mu F / W - |g_t| - mu g_z) /
/// sqrt(1 + mu^2). Turning about a centre with lever l and friction radius r: s = (mu r F / W - |g_t x l| - mu r g_z) /
/// sqrt(l^2 + (mu r)^2). With no gravity these are the margins of [`hold_account`](super::hold_account). A snug peg bears
/// tipping; the part then comes off at the drooped gap.
///
/// # Errors
/// [`HoldError`] as [`hold_account`](super::hold_account), and for a direction that is longer than a unit vector.
pub fn shaken(joint: &Joint<'_>, down: [f64; 3]) -> Result<Shaken, HoldError> {
    check_joint(joint)?;
    for x in down {
        within("direction of gravity", x, -1.000_001, 1.000_001)?;
    }
    let edges = edges(&convex_hull(joint.patch_mm)?);
    let pull_n: f64 = joint.pulls.iter().map(|pull| pull.force_n).sum();
    let nothing = |mode| {
        Ok(Shaken {
            shake_g: -1.0,
            mode,
        })
    };
    if pull_n <= 0.0 {
        return nothing(Mode::NoPull);
    }
    if edges.is_empty() {
        return nothing(Mode::NoPatch);
    }
    let weight_n = joint.load.weight_n;
    let off = |mode, force_n: f64| Shaken {
        shake_g: force_n / weight_n - down[2],
        mode,
    };
    let mut modes = slips(joint, &edges, pull_n, down);
    let slope = is_snug(&joint.peg).then(|| joint.peg.clearance_mm / joint.peg.length_mm);
    let drooped = slope
        .map(|slope| drooped_pull_n(joint, &edges, slope))
        .transpose()?
        .flatten();
    match drooped {
        Some(force_n) => modes.push(off(Mode::DroopedPull, force_n.min(pull_n))),
        None => {
            modes.push(off(Mode::StraightPull, pull_n));
            let tips = edges.iter().enumerate();
            modes.extend(tips.map(|(i, edge)| tip(joint, i, edge, down)));
        }
    }
    let first = modes
        .iter()
        .copied()
        .reduce(|a, b| if b.shake_g < a.shake_g { b } else { a });
    Ok(first.unwrap_or(off(Mode::StraightPull, pull_n)))
}

fn tip(joint: &Joint<'_>, index: usize, edge: &Edge, down: [f64; 3]) -> Shaken {
    let [x, y, z] = joint.load.centre_mm;
    let lever = [
        -z * edge.inward[0],
        -z * edge.inward[1],
        edge.inside_mm([x, y]),
    ];
    let length = norm(lever);
    let held = clamp_moment_nmm(joint.pulls, edge) / joint.load.weight_n;
    let by_gravity = dot(lever, down);
    Shaken {
        shake_g: if length > 0.0 {
            (held - by_gravity) / length
        } else {
            f64::INFINITY
        },
        mode: Mode::Tip {
            edge: index,
            from_mm: edge.from_mm,
            to_mm: edge.to_mm,
        },
    }
}

fn slips(joint: &Joint<'_>, edges: &[Edge], pull_n: f64, down: [f64; 3]) -> Vec<Shaken> {
    let clamp = Clamp::new(joint, edges, pull_n);
    let about = |mode, centre_mm| Shaken {
        shake_g: clamp.shake_about(centre_mm, down),
        mode,
    };
    match joint.peg.kind {
        PegKind::Two | PegKind::Keyed => Vec::new(),
        PegKind::Round => vec![about(Mode::Turn, joint.peg.at_mm)],
        PegKind::None => {
            let (_, shake_g) = clamp.search(|centre_mm| clamp.shake_about(centre_mm, down));
            let slide = Shaken {
                shake_g: clamp.shake_sliding(down),
                mode: Mode::Slide,
            };
            let turn = about(Mode::Turn, clamp.centroid_mm);
            vec![
                slide,
                turn,
                Shaken {
                    shake_g,
                    mode: Mode::SlideTurn,
                },
            ]
        }
    }
}
