//! A joint before anything is in its sites: what every filling of it shares, worked out once.

use std::rc::Rc;

use lodewright_assembly::{Board, JointIx};
use lodewright_geometry::{Frame, convex_hull, convex_intersection, scale};
use lodewright_kit::{Attach, Ix, Patch, PegKind, Pole, Table};
use lodewright_solve::hold::{self, Peg};

use super::model::{JointModel, ModelLoad, ModelPair, ModelPiece};
use crate::context::Context;
use crate::holes::HoleIx;
use crate::load::LoadCase;
use crate::mating::Mate;
use crate::poles::attract;
use crate::pull::Fillings;
use crate::pull::{Filling, GapStack, filling_mass_g, gap_stack};
use crate::room::misfit;

/// The joint without its pieces.
#[derive(Debug)]
pub(crate) struct BareJoint {
    joint: JointIx,
    contact_mm: Rc<[[f64; 2]]>,
    peg: Peg,
    pin_n: Option<f64>,
    /// Each load without what is in the holes of the parts carried, and these holes.
    loads: Vec<(ModelLoad, Vec<HoleIx>)>,
}

impl BareJoint {
    /// `None` for a joint that nothing holds or that may be glued.
    pub(crate) fn of(context: &Context, joint: JointIx) -> Option<Self> {
        context.glue.separable[joint]?;
        let pin_n = match context.attach(joint) {
            Attach::Magnets => None,
            Attach::Friction(force_n) => Some(force_n),
            Attach::Loose => return None,
        };
        let cases = context.loads.cases.iter().filter(|c| c.joint == joint);
        Some(Self {
            joint,
            contact_mm: Rc::clone(&context.contact_mm[joint]),
            peg: peg(&context.board, joint),
            pin_n,
            loads: cases.map(|case| load(context, case)).collect(),
        })
    }

    /// The joint with what is fitted; without poles all magnets attract.
    pub(crate) fn filled(
        &self,
        context: &Context,
        fillings: &Fillings,
        poles: Option<&Table<HoleIx, Option<Pole>>>,
    ) -> JointModel {
        let plan = context.plan();
        let mates = match self.pin_n {
            Some(_) => &[],
            None => context.mates[self.joint].as_slice(),
        };
        let heavier = |(load, holes): &(ModelLoad, Vec<HoleIx>)| {
            let pieces = holes.iter().map(|h| filling_mass_g(plan, fillings[*h]));
            load.heavier(pieces.sum())
        };
        JointModel {
            board: Rc::clone(&context.board),
            holes: Rc::clone(&context.holes),
            plan: plan.clone(),
            pulls: Rc::clone(context.pulls()),
            joint: self.joint,
            part: context.board.joints[self.joint].part,
            contact_mm: Rc::clone(&self.contact_mm),
            peg: self.peg,
            pin_n: self.pin_n,
            pairs: mates
                .iter()
                .filter_map(|mate| pair(context, self.joint, mate, fillings, poles))
                .collect(),
            loads: self.loads.iter().map(heavier).collect(),
        }
    }
}

fn load(context: &Context, case: &LoadCase) -> (ModelLoad, Vec<HoleIx>) {
    let load = ModelLoad {
        variants: case.variants.as_slice().into(),
        lifted: case.lifted,
        guessed: case.guessed,
        mass_g: case.mass_g,
        likely_g: case.likely_g,
        centre_mm: case.centre_mm,
        base_axes: case.base_axes,
        unplaced: case.unplaced,
    };
    let holes = HoleIx::each(&context.holes.holes).filter(|(_, h)| case.parts.contains(&h.part));
    (load, holes.map(|(h, _)| h).collect())
}

fn pair(
    context: &Context,
    joint: JointIx,
    mate: &Mate,
    fillings: &Fillings,
    poles: Option<&Table<HoleIx, Option<Pole>>>,
) -> Option<ModelPair> {
    let (plan, holes) = (context.plan(), &context.holes);
    let [a, b] = [mate.socket_face, mate.plug_face].map(|f| &holes.faces[f]);
    let filled = [fillings[a.hole], fillings[b.hole]];
    if filled.contains(&Filling::Empty) {
        return None;
    }
    let GapStack { layers, gap_mm } = gap_stack(plan, holes, mate, fillings);
    let coats = layers.iter().filter(|l| !l.layer.is_wall());
    let both = filled.iter().all(|f| matches!(f, Filling::Magnet(_)));
    let piece = |hole: HoleIx, at_mm, flush_behind| ModelPiece {
        hole,
        at_mm,
        filling: fillings[hole],
        flush_behind,
        misfit: misfit(plan, &holes.holes[hole], fillings[hole])
            .or_else(|| context.crowding(fillings, hole)),
    };
    Some(ModelPair {
        socket: piece(a.hole, mate.at_mm, a.far),
        plug: piece(
            b.hole,
            context.board.joints[joint].pose.place(b.at_mm),
            b.far || mate.from_behind,
        ),
        gap_mm,
        coats_mm: coats.map(|l| l.thickness_mm).sum(),
        attracts: !both || poles.is_none_or(|poles| attract(holes, mate, poles)),
    })
}

/// Where the two sides touch: the socket's outline cut with the plug's, as it lies in this pose, within the faces of both parts.
/// As long as the socket is not placed, all of it counts as on its host.
pub(crate) fn contact_mm(board: &Board, joint: JointIx) -> Vec<[f64; 2]> {
    let j = board.joints[joint];
    let hull = |patch: &Patch| convex_hull(&patch.outline_mm()).unwrap_or_default();
    let socket = board.socket(j.socket);
    let host = board.host(j.socket);
    let seat = socket.frame(board.part(host));
    let mut outlines = vec![
        board
            .body(j.part)
            .touching_mm(&part_side(board, joint, &seat)),
    ];
    if socket.is_placed() {
        outlines.push(board.body(host).touching_mm(&seat));
    }
    if let Some(patch) = &board.plug(joint).patch {
        let placed = patch.outline_mm().into_iter().map(|p| j.pose.place(p));
        outlines.push(placed.collect());
    }
    let within = |left: Vec<[f64; 2]>, other: Vec<[f64; 2]>| {
        convex_intersection(&left, &other).unwrap_or_default()
    };
    outlines.into_iter().fold(hull(&socket.patch), within)
}

/// The plane of the contact in the axes of the part that sits there, z out of that part; x and y run as the socket's.
fn part_side(board: &Board, joint: JointIx, seat: &Frame) -> Frame {
    let plane = seat.within(&board.part_on_host(joint).inverse());
    let [x, y, z] = plane.axes;
    Frame {
        axes: [x, y, scale(z, -1.0)],
        ..plane
    }
}

/// The peg of a joint as the statics take it.
fn peg(board: &Board, joint: JointIx) -> Peg {
    let fit = &board.socket(board.joints[joint].socket).peg;
    let kind = match fit.kind {
        _ if !board.plug(joint).keeps_peg => hold::PegKind::None,
        PegKind::None => hold::PegKind::None,
        PegKind::Round => hold::PegKind::Round,
        PegKind::Two => hold::PegKind::Two,
        PegKind::Keyed => hold::PegKind::Keyed,
    };
    Peg {
        kind,
        at_mm: fit.at_mm,
        length_mm: fit.length_mm,
        clearance_mm: fit.clearance_mm.min(fit.length_mm),
        snug: fit.snug,
    }
}
