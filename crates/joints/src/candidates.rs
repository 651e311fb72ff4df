//! Single steps that take a contradiction of poles away: which there are, what each changes, whether it still holds.

use lodewright_kit::{Fit, Pose};
use lodewright_solve::parity::{Repair, solve_parity};
use tiny_sort::stable::sort_by;

use crate::Filling;
use crate::choose::choose;
use crate::links::{Asks, Links, hole_of};
use crate::mating::mates_as;
use crate::poles::name;
use crate::pull::takes;
use crate::repair::{
    RemedyKind, RemedyStep, margins, price, settled, steel_fit, steel_words, uses,
};
use crate::scene::Scene;
use crate::sites::Draft;
use crate::tries::tries;

/// Wall left between the two blind holes that take the place of a through hole, mm. Common practice, no source.
pub const SPLIT_WALL_MM: f64 = 0.5;

/// What is known of a candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Standing {
    /// Not worked through: priced as if all went well.
    Unknown,
    /// Its joints reach their targets.
    Fine,
    /// A joint misses its target.
    Short,
    /// It is of no use.
    Dead,
}

/// One step that could be taken.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub kind: RemedyKind,
    pub standing: Standing,
    glued: bool,
    removes: Vec<usize>,
    unpins: Vec<usize>,
    adds: Vec<usize>,
}

/// The candidates in families of magnets that contradict themselves, and the pairs that do not go together. Poses that
/// would bring new matings add these to the links.
pub(crate) fn candidates(
    scene: &mut Scene<'_, '_>,
    fillings: &[Filling],
    links: &mut Links,
) -> (Vec<Candidate>, Vec<[usize; 2]>) {
    let nodes = 2 * scene.holes.holes.len();
    let Ok(solution) = solve_parity(nodes, &links.constraints, &links.pins) else {
        return (Vec::new(), Vec::new());
    };
    let bad = |node: usize| !solution.components[solution.component_of[node]].consistent;
    let holes: Vec<usize> = (0..scene.holes.holes.len())
        .filter(|h| matches!(fillings[*h], Filling::Magnet(_)) && bad(2 * h))
        .collect();
    let mut list: Vec<Candidate> = Vec::new();
    for &hole in &holes {
        of_hole(scene, links, hole, &mut list);
        list.extend(left_empty(scene, fillings, links, hole));
    }
    for joint in 0..scene.board.joints.len() {
        if holes.iter().any(|h| uses(scene, joint, *h)) {
            of_joint(scene, fillings, links, joint, &mut list);
        }
    }
    // A mating that only comes with a new pose goes again with either of its holes.
    for (i, asks) in links.asks.iter().enumerate() {
        let Asks::Candidate(_) = asks else { continue };
        let c = links.constraints[i];
        for candidate in &mut list {
            if let RemedyKind::Keeper { hole, .. } | RemedyKind::LeaveEmpty { hole } =
                candidate.kind
                && [hole_of(c.a), hole_of(c.b)].contains(&hole)
            {
                candidate.removes.push(i);
            }
        }
    }
    let conflicts = conflicts(scene, &list);
    (list, conflicts)
}

fn of_hole(scene: &Scene<'_, '_>, links: &Links, hole: usize, list: &mut Vec<Candidate>) {
    let plan = scene.board.plan;
    let glued = plan.progress.done.contains(&glue_key(scene, hole));
    let (removes, unpins) = links.of_holes(&[hole]);
    let of = |kind, removes: &[usize], unpins: &[usize]| Candidate {
        kind,
        standing: Standing::Unknown,
        glued,
        removes: removes.to_vec(),
        unpins: unpins.to_vec(),
        adds: Vec::new(),
    };
    if let Some(steel) = steels(scene, hole).first() {
        let steel = *steel;
        list.push(of(RemedyKind::Keeper { hole, steel }, &removes, &unpins));
    }
    if !unpins.is_empty() {
        list.push(of(RemedyKind::FreePole { hole }, &[], &unpins));
    }
    if let Some(depth_mm) = split_depth_mm(scene, hole) {
        let tie: Vec<usize> = (0..links.asks.len())
            .filter(|i| links.asks[*i] == Asks::Magnet(hole))
            .collect();
        list.push(of(RemedyKind::Split { hole, depth_mm }, &tie, &[]));
    }
}

/// The key of the step that glues a hole's piece.
fn glue_key(scene: &Scene<'_, '_>, hole: usize) -> String {
    let h = &scene.holes.holes[hole];
    format!("glue:{}:{}", scene.board.part(h.part).id, h.label)
}

/// Leaving a hole empty, where its joints reach their targets without it. Magnets that then face nothing go as well.
fn left_empty(
    scene: &mut Scene<'_, '_>,
    fillings: &[Filling],
    links: &Links,
    hole: usize,
) -> Option<Candidate> {
    let filled = |f: usize| fillings[scene.holes.faces[f].hole] != Filling::Empty;
    let pairs = |joint: usize| {
        let mates = scene.mates[joint].iter();
        mates
            .filter(|m| filled(m.socket_face) && filled(m.plug_face))
            .count()
    };
    let mut joints =
        (0..scene.mates.len()).filter(|j| scene.is_magnetic(*j) && uses(scene, *j, hole));
    if joints.any(|j| pairs(j) < 2) {
        return None;
    }
    let target_g = scene.board.plan.settings.hold_target_g;
    let (after, margins) = with_fit(scene, hole, Fit::Empty);
    if margins.iter().any(|(_, m)| *m < target_g) {
        return None;
    }
    let magnet = |f: &Filling| matches!(f, Filling::Magnet(_));
    let gone: Vec<usize> = (0..fillings.len())
        .filter(|h| magnet(&fillings[*h]) && !magnet(&after[*h]))
        .collect();
    let (removes, unpins) = links.of_holes(&gone);
    Some(Candidate {
        kind: RemedyKind::LeaveEmpty { hole },
        standing: Standing::Fine,
        glued: scene
            .board
            .plan
            .progress
            .done
            .contains(&glue_key(scene, hole)),
        removes,
        unpins,
        adds: Vec::new(),
    })
}

/// Steel of the stock that fits a hole with its allowances, smallest first.
fn steels(scene: &Scene<'_, '_>, hole: usize) -> Vec<usize> {
    let plan = scene.board.plan;
    let stock = &plan.stock.steel;
    let hole = &scene.holes.holes[hole];
    let mut fit: Vec<usize> = (0..stock.len())
        .filter(|i| takes(plan, hole, Filling::Steel(*i)))
        .collect();
    let size = |i: usize| (stock[i].diameter_mm, stock[i].thickness_mm);
    sort_by(&mut fit, |a, b| {
        let ((da, ta), (db, tb)) = (size(*a), size(*b));
        da.total_cmp(&db).then(ta.total_cmp(&tb))
    });
    fit
}

/// Depth of each of two blind holes in place of a through hole, where some magnet of the stock fits them.
fn split_depth_mm(scene: &Scene<'_, '_>, hole: usize) -> Option<f64> {
    let plan = scene.board.plan;
    let h = &scene.holes.holes[hole];
    let depth_mm = (h.max_depth_mm - SPLIT_WALL_MM) / 2.0;
    let fits = plan.stock.magnets.iter().any(|m| {
        m.diameter_mm + plan.settings.hole_allowance_mm <= h.max_diameter_mm
            && m.height_mm + plan.settings.glue_allowance_mm <= depth_mm
    });
    (h.through && fits).then_some(depth_mm)
}

fn of_joint(
    scene: &Scene<'_, '_>,
    fillings: &[Filling],
    links: &mut Links,
    joint: usize,
    list: &mut Vec<Candidate>,
) {
    let board = scene.board;
    let j = board.joints[joint];
    let removes: Vec<usize> = (0..links.asks.len())
        .filter(|i| links.asks[*i] == Asks::Joint(joint))
        .collect();
    if removes.is_empty() {
        return;
    }
    let mut of = |kind, adds| {
        list.push(Candidate {
            kind,
            standing: Standing::Unknown,
            glued: false,
            removes: removes.clone(),
            unpins: Vec::new(),
            adds,
        });
    };
    // What a part carries would go with it.
    if board.carried(j.part).is_empty() {
        of(RemedyKind::GiveUp { joint }, Vec::new());
    }
    // A plug without sites of its own has its holes opposite the socket's whichever way it sits.
    if board.plug(joint).sites.is_none() {
        return;
    }
    let mut poses = tries(board, j.part, j.plug, j.socket);
    // Of poses that bring the same matings the one nearest to the planned one is enough.
    let change = |p: &Pose| {
        let by = (p.turn_deg - j.pose.turn_deg).rem_euclid(360.0);
        by.min(360.0 - by) + if p.over == j.pose.over { 0.0 } else { 1.0 }
    };
    sort_by(&mut poses, |a, b| change(a).total_cmp(&change(b)));
    let mut brought: Vec<Vec<[usize; 2]>> = Vec::new();
    for pose in poses.into_iter().filter(|p| *p != j.pose) {
        let turned = lodewright_assembly::Joint { pose, ..j };
        let adds: Vec<usize> = mates_as(board, &scene.holes, turned)
            .iter()
            .filter_map(|m| links.meet(&scene.holes, m, fillings, Asks::Candidate(joint)))
            .collect();
        let ends = |i: &usize| [links.constraints[*i].a, links.constraints[*i].b];
        let brings: Vec<_> = adds.iter().map(ends).collect();
        // Constraints that no candidate brings would always hold, so that those of a pose left out are taken back.
        if brought.contains(&brings) || brings.is_empty() {
            links.take_back(adds.len());
            continue;
        }
        brought.push(brings);
        of(RemedyKind::Turn { joint, pose }, adds);
    }
}

/// Steps that would leave a pair of faces without any pull, and two kinds of step on one joint.
fn conflicts(scene: &Scene<'_, '_>, list: &[Candidate]) -> Vec<[usize; 2]> {
    let weak = |c: &Candidate| match c.kind {
        RemedyKind::Keeper { hole, .. } | RemedyKind::LeaveEmpty { hole } => Some(hole),
        _ => None,
    };
    let moved = |c: &Candidate| match c.kind {
        RemedyKind::Turn { joint, .. } | RemedyKind::GiveUp { joint } => Some(joint),
        _ => None,
    };
    let meet = |a: usize, b: usize| {
        scene.mates.iter().flatten().any(|m| {
            let holes = [m.socket_face, m.plug_face].map(|f| scene.holes.faces[f].hole);
            holes == [a, b] || holes == [b, a]
        })
    };
    let mut out = Vec::new();
    for (i, a) in list.iter().enumerate() {
        for (k, b) in list.iter().enumerate().skip(i + 1) {
            let facing = matches!((weak(a), weak(b)), (Some(x), Some(y)) if meet(x, y));
            let same = matches!((moved(a), moved(b)), (Some(x), Some(y)) if x == y);
            if facing || same {
                out.push([i, k]);
            }
        }
    }
    out
}

impl Candidate {
    fn weight(&self) -> u64 {
        let kind = match self.kind {
            RemedyKind::Keeper { .. } => price::KEEPER,
            RemedyKind::LeaveEmpty { .. } => price::LEAVE_EMPTY,
            RemedyKind::Split { .. } => price::SPLIT,
            RemedyKind::FreePole { .. } => price::FREE_POLE,
            RemedyKind::Turn { .. } => price::TURN,
            RemedyKind::GiveUp { .. } => price::GIVE_UP,
        };
        let short = if self.standing == Standing::Short {
            price::SHORT
        } else {
            0
        };
        kind + short + if self.glued { price::GLUED } else { 0 }
    }

    /// The step as the parity system sees it; one of no use takes nothing away.
    pub(crate) fn repair(&self) -> Repair {
        if self.standing == Standing::Dead {
            return Repair {
                weight: self.weight(),
                ..Repair::default()
            };
        }
        Repair {
            removes: self.removes.clone(),
            unpins: self.unpins.clone(),
            adds: self.adds.clone(),
            weight: self.weight(),
        }
    }

    /// Finds out whether the joints that it touches still reach their targets, all magnets taken as attracting.
    pub(crate) fn work_through(&mut self, scene: &mut Scene<'_, '_>) {
        let target_g = scene.board.plan.settings.hold_target_g;
        let least = |margins: Vec<(String, f64)>| {
            let all = margins.into_iter().map(|(_, m)| m);
            all.min_by(f64::total_cmp).unwrap_or(f64::INFINITY)
        };
        let standing = |margin_g: f64| match margin_g {
            m if m >= target_g => Standing::Fine,
            m if m > 0.0 => Standing::Short,
            _ => Standing::Dead,
        };
        self.standing = match self.kind.clone() {
            RemedyKind::Keeper { hole, .. } => {
                let mut best = (Standing::Dead, f64::NEG_INFINITY);
                for steel in steels(scene, hole) {
                    let Some(fit) = steel_fit(scene.board.plan, steel) else {
                        continue;
                    };
                    let margin_g = least(with_fit(scene, hole, fit).1);
                    if best.0 != Standing::Fine && margin_g > best.1 {
                        best = (standing(margin_g), margin_g);
                        self.kind = RemedyKind::Keeper { hole, steel };
                    }
                }
                best.0
            }
            RemedyKind::LeaveEmpty { .. }
            | RemedyKind::FreePole { .. }
            | RemedyKind::GiveUp { .. } => Standing::Fine,
            RemedyKind::Split { .. } | RemedyKind::Turn { .. } => {
                self.alone(scene).map_or(Standing::Dead, standing)
            }
        };
    }

    /// Least margin of the joints that this step alone touches. Where the poles of other steps are still to be settled a
    /// joint may repel meanwhile; that counts as fine until the whole set is worked through.
    fn alone(&self, scene: &Scene<'_, '_>) -> Option<f64> {
        let mut draft = Draft::new(scene.board, &scene.holes);
        self.carry_out(scene, &mut draft)?;
        let joints: Vec<_> = match self.kind {
            RemedyKind::Turn { joint, pose } => vec![lodewright_assembly::Joint {
                pose,
                ..scene.board.joints[joint]
            }],
            RemedyKind::Split { hole, .. } => (0..scene.board.joints.len())
                .filter(|j| uses(scene, *j, hole))
                .map(|j| scene.board.joints[j])
                .collect(),
            _ => Vec::new(),
        };
        let after = settled(&draft.plan, scene, &joints)?;
        let least = after.margins.into_iter().map(|(_, m)| m);
        let least = least.min_by(f64::total_cmp).unwrap_or(f64::INFINITY);
        Some(if after.contradicts && least <= 0.0 {
            f64::INFINITY
        } else {
            least
        })
    }

    pub(crate) fn carry_out(&self, scene: &Scene<'_, '_>, draft: &mut Draft<'_>) -> Option<()> {
        match self.kind {
            RemedyKind::Keeper { hole, steel } => {
                draft.fit(hole, &steel_fit(scene.board.plan, steel)?)
            }
            RemedyKind::LeaveEmpty { hole } => draft.fit(hole, &Fit::Empty),
            RemedyKind::Split { hole, depth_mm } => draft.split(hole, depth_mm),
            RemedyKind::FreePole { hole } => draft.pole(hole, None),
            RemedyKind::Turn { joint, pose } => {
                draft.seat(scene.board.joints[joint], Some(pose));
                Some(())
            }
            RemedyKind::GiveUp { joint } => {
                draft.seat(scene.board.joints[joint], None);
                Some(())
            }
        }
    }

    pub(crate) fn step(&self, scene: &Scene<'_, '_>) -> Option<RemedyStep> {
        let magnet = |hole: usize| name(scene.board, &scene.holes, hole);
        let words = |joint: usize| scene.board.words(joint);
        let mut said = match self.kind {
            RemedyKind::Keeper { hole, steel } => format!(
                "Fit {} in place of {}: steel has no poles and is drawn by either.",
                steel_words(scene.board.plan, steel),
                magnet(hole)
            ),
            RemedyKind::LeaveEmpty { hole } => format!(
                "Leave out {}: the other magnets of its joints are enough.",
                magnet(hole)
            ),
            RemedyKind::Split { hole, depth_mm } => format!(
                "Drill the hole of {} from both sides, {depth_mm:.1} mm deep each, with {SPLIT_WALL_MM} mm left \
                 between, and glue a magnet into each, one after the other has set: they may push each other out.",
                magnet(hole)
            ),
            RemedyKind::FreePole { hole } => {
                format!("Leave the pole of {} to the planner.", magnet(hole))
            }
            RemedyKind::Turn { joint, pose } => {
                format!("Put {} {} instead.", words(joint), pose_words(pose))
            }
            RemedyKind::GiveUp { joint } => format!("Do without {}.", words(joint)),
        };
        if self.glued {
            said.push_str(" It is glued already and would have to come out.");
        }
        Some(RemedyStep {
            kind: self.kind.clone(),
            weight: self.weight(),
            glued: self.glued,
            said,
        })
    }
}

/// A pose in words.
pub(crate) fn pose_words(pose: Pose) -> String {
    let turn = if pose.turn_deg == 0.0 {
        "straight".to_owned()
    } else {
        format!("turned {}°", pose.turn_deg)
    };
    let over = if pose.over { ", turned over" } else { "" };
    format!("{turn}{over}")
}

/// Fillings chosen anew if this went into a hole, and the margins of the joints that use it.
fn with_fit(
    scene: &mut Scene<'_, '_>,
    hole: usize,
    fit: Fit,
) -> (Vec<Filling>, Vec<(String, f64)>) {
    let before = std::mem::replace(&mut scene.holes.holes[hole].fit, fit);
    let choice = choose(scene);
    let joints: Vec<_> = (0..scene.board.joints.len())
        .filter(|j| uses(scene, *j, hole))
        .map(|j| scene.board.joints[j])
        .collect();
    let out = margins(scene, &choice.fillings, None, &joints);
    scene.holes.holes[hole].fit = before;
    (choice.fillings, out)
}
