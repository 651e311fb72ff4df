//! What each joint carries in each variant: everything outboard, or the rest of the model where it is lifted by a part
//! beyond the joint.

use lodewright_assembly::{Board, JointIx, Model, Placement, models, placement};
use lodewright_geometry::{add, scale};
use lodewright_kit::{Frame, Ix, PartIx, SocketIx, VariantIx, Vec3};

/// Models looked at in one variant; beyond, the first ones stand for the rest and the answer says so.
const MOST_MODELS: usize = 256;

/// A load on a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCase {
    /// The joint.
    pub joint: JointIx,
    /// The variants in which it occurs.
    pub variants: Vec<VariantIx>,
    /// Whether the model hangs by this joint, lifted by a part beyond it.
    pub lifted: bool,
    /// The parts that are carried.
    pub parts: Vec<PartIx>,
    /// Their mass, g, at the upper end of what the entries allow.
    pub mass_g: f64,
    /// Their mass as estimated, g.
    pub likely_g: f64,
    /// The base's front, left and up as directions in the mating frame.
    pub base_axes: [Vec3; 3],
    /// Their centre of mass in the mating frame (x, y in the plane, z away from the host), mm.
    pub centre_mm: Vec3,
    /// Whether a mass in it is guessed, since it is not said what the part is inside.
    pub guessed: bool,
    /// A socket between the joint and what is carried that nobody has placed.
    pub unplaced: Option<SocketIx>,
}

/// All loads of all joints.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loads {
    /// The cases.
    pub cases: Vec<LoadCase>,
    /// Variants whose free options are too many to look at each.
    pub sampled: Vec<VariantIx>,
}

/// Collects the loads; equal ones (the same parts in the same places) once, with all their variants.
pub fn loads(board: &Board) -> Loads {
    let mut out = Loads::default();
    // What tells a case: the joint, whether lifted, and the joints by which the carried parts sit.
    let mut keys: Vec<Key> = Vec::new();
    for variant in VariantIx::all(&board.plan.variants) {
        let (models, all) = models(board, variant, MOST_MODELS);
        if !all {
            out.sampled.push(variant);
        }
        for model in &models {
            let placed = placement(board, model);
            for joint in model.made() {
                for lifted in [false, true] {
                    let Some((key, parts)) = carried(board, model, joint, lifted) else {
                        continue;
                    };
                    match keys.iter().position(|k| *k == key) {
                        Some(i) if out.cases[i].variants.contains(&variant) => {}
                        Some(i) => out.cases[i].variants.push(variant),
                        None => {
                            let Some(mut case) =
                                case(board, &placed, joint, lifted, parts, variant)
                            else {
                                continue;
                            };
                            case.unplaced = unplaced(board, &key);
                            keys.push(key);
                            out.cases.push(case);
                        }
                    }
                }
            }
        }
    }
    out
}

type Key = (JointIx, bool, Vec<JointIx>);

fn carried(
    board: &Board,
    model: &Model,
    joint: JointIx,
    lifted: bool,
) -> Option<(Key, Vec<PartIx>)> {
    let outboard = model.outboard(board, board.joints[joint].part);
    if !lifted {
        let key = outboard
            .iter()
            .filter_map(|p| model.joint_of_part(board, *p))
            .collect();
        return Some(((joint, false, key), outboard));
    }
    if !outboard.iter().any(|p| board.part(*p).lift_point) {
        return None;
    }
    let rest: Vec<_> = PartIx::all(&board.plan.parts)
        .filter(|p| model.has(board, *p) && !outboard.contains(p))
        .collect();
    let key = rest
        .iter()
        .filter_map(|p| model.joint_of_part(board, *p))
        .collect();
    Some(((joint, true, key), rest))
}

fn case(
    board: &Board,
    placed: &Placement,
    joint: JointIx,
    lifted: bool,
    parts: Vec<PartIx>,
    variant: VariantIx,
) -> Option<LoadCase> {
    let frame: Frame = placed.socket(board, board.joints[joint].socket)?;
    let (mut mass_g, mut likely_g, mut moment, mut guessed) = (0.0, 0.0, [0.0; 3], false);
    for p in &parts {
        let part = board.part(*p);
        let density = board
            .plan
            .material(&part.material)
            .map_or(1.0, |m| m.density_g_cm3);
        let estimate = part.mass_estimate(density);
        let heavy_g = estimate.mass_g * (1.0 + estimate.spread);
        let at_mm = frame.to_inner(placed.parts[*p]?.to_outer(part.centre_of_mass_mm()));
        mass_g += heavy_g;
        likely_g += estimate.mass_g;
        moment = add(moment, scale(at_mm, heavy_g));
        guessed |= estimate.guessed;
    }
    let centre_mm = if mass_g > 0.0 {
        scale(moment, 1.0 / mass_g)
    } else {
        [0.0; 3]
    };
    Some(LoadCase {
        joint,
        variants: vec![variant],
        lifted,
        parts,
        mass_g,
        likely_g,
        base_axes: Frame::WORLD
            .axes
            .map(|axis| frame.inverse().direction_to_outer(axis)),
        centre_mm,
        guessed,
        unplaced: None,
    })
}

/// The first unplaced socket by which parts of a load sit. The part on the joint itself needs no place of its socket; what is
/// inboard of a joint hangs on that as well.
fn unplaced(board: &Board, (joint, lifted, sit_by): &Key) -> Option<SocketIx> {
    let own = lifted.then_some(joint);
    let between = sit_by.iter().filter(|j| *j != joint).chain(own);
    let mut sockets = between.map(|j| board.joints[*j].socket);
    sockets.find(|s| !board.socket(*s).is_placed())
}
