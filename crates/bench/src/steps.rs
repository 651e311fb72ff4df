//! The steps of the work and what must come before what.

use std::collections::BTreeMap;

use lodewright_joints::{Filling, Context};
use lodewright_kit::Attach;
use serde::Serialize;

/// What a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Mark and drill one hole.
    Drill,
    /// Put one variant together without glue.
    DryFit,
    /// Find and mark the pole of one magnet.
    PoleCheck,
    /// Cut a peg off.
    CutPeg,
    /// Glue one magnet or piece of steel.
    GluePiece,
    /// Glue two parts for good.
    GlueJoint,
    /// Mask a mating face.
    Mask,
    /// Paint one part or group.
    Paint,
    /// Put one variant together, finished.
    FinalFit,
    /// A step that the builder wrote.
    Own,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WorkStep {
    /// A key that stays the same while the plan's ids stay.
    pub key: String,
    /// What it is.
    pub kind: StepKind,
    /// What the builder calls it, where it is their own or one go of a split step.
    pub name: Option<String>,
    /// The hole it works on.
    pub hole: Option<usize>,
    /// The part it works on.
    pub part: Option<usize>,
    /// The joint it makes, or prepares.
    pub joint: Option<usize>,
    /// The variant it puts together.
    pub variant: Option<usize>,
    /// Hands-on time, min.
    pub hands_min: f64,
    /// Wait after it, min.
    pub wait_min: f64,
    /// Steps that come before, by index; `true` where their wait must be over.
    pub after: Vec<(usize, bool)>,
    /// Whether it cannot be undone.
    pub no_return: bool,
}

/// Builds the steps.
pub(crate) fn steps(
    context: &Context,
    fillings: &[Filling],
    bit_mm: &BTreeMap<usize, f64>,
) -> Vec<WorkStep> {
    if context.board.joints.is_empty() {
        return Vec::new();
    }
    let mut b = Builder {
        context,
        fillings,
        steps: Vec::new(),
    };
    let drills = b.drills(bit_mm);
    let fits = b.dry_fits(&drills);
    let pegs = b.cut_pegs(&fits);
    let pieces = b.pieces(&drills, &fits);
    let joints = b.glue_joints(&fits, &pieces);
    let masks = b.masks(&joints);
    let paints = b.paints(&pegs, &pieces, &joints, &masks);
    b.final_fits(&pieces, &paints);
    b.steps
}

struct Builder<'s, 'b, 'a> {
    context: &'s Context,
    fillings: &'s [Filling],
    steps: Vec<WorkStep>,
}

impl Builder<'_, '_, '_> {
    fn push(
        &mut self,
        key: String,
        kind: StepKind,
        hands_min: f64,
        wait_min: f64,
    ) -> &mut WorkStep {
        let index = self.steps.len();
        self.steps.push(WorkStep {
            key,
            kind,
            name: None,
            hole: None,
            part: None,
            joint: None,
            variant: None,
            hands_min,
            wait_min,
            after: Vec::new(),
            no_return: false,
        });
        &mut self.steps[index]
    }

    fn last(&self) -> usize {
        self.steps.len().saturating_sub(1)
    }

    fn hole_key(&self, hole: usize) -> String {
        let h = &self.context.holes.holes[hole];
        format!("{}:{}", self.context.board.part(h.part).id, h.label)
    }

    fn joint_key(&self, joint: usize) -> String {
        let board = self.context.board;
        let j = board.joints[joint];
        let over = if j.pose.over { ":over" } else { "" };
        let (socket, part) = (&board.socket(j.socket).id, &board.part(j.part).id);
        format!(
            "{socket}:{part}:{}:{}{over}",
            board.plug(joint).id,
            j.pose.turn_deg
        )
    }

    fn filled(&self) -> Vec<usize> {
        (0..self.fillings.len())
            .filter(|h| self.fillings[*h] != Filling::Empty)
            .collect()
    }

    /// One step a hole; by hole.
    fn drills(&mut self, bit_mm: &BTreeMap<usize, f64>) -> BTreeMap<usize, usize> {
        let rates = &self.context.board.plan.rates;
        let mut out = BTreeMap::new();
        for hole in self.filled() {
            if bit_mm.contains_key(&hole) {
                let key = format!("drill:{}", self.hole_key(hole));
                let part = self.context.holes.holes[hole].part;
                let step = self.push(key, StepKind::Drill, rates.hole_min, 0.0);
                (step.hole, step.part) = (Some(hole), Some(part));
                out.insert(hole, self.last());
            }
        }
        out
    }

    /// One a variant, after all drilling: holes that miss each other show here.
    fn dry_fits(&mut self, drills: &BTreeMap<usize, usize>) -> Vec<usize> {
        self.fits(
            StepKind::DryFit,
            "dry-fit",
            &drills.values().map(|s| (*s, false)).collect::<Vec<_>>(),
        )
    }

    fn fits(&mut self, kind: StepKind, word: &str, after: &[(usize, bool)]) -> Vec<usize> {
        let plan = self.context.board.plan;
        let mut out = Vec::new();
        for (v, variant) in plan.variants.iter().enumerate() {
            let step = self.push(
                format!("{word}:{}", variant.id),
                kind,
                plan.rates.dry_fit_min,
                0.0,
            );
            step.variant = Some(v);
            step.after = after.to_vec();
            out.push(self.last());
        }
        out
    }

    /// Pegs that are not kept, once a plug.
    fn cut_pegs(&mut self, fits: &[usize]) -> Vec<usize> {
        let board = self.context.board;
        let mut out = Vec::new();
        for (p, part) in board.plan.parts.iter().enumerate() {
            for plug in part.plugs.iter().filter(|plug| !plug.keeps_peg) {
                let key = format!("cut-peg:{}:{}", part.id, plug.id);
                let step = self.push(key, StepKind::CutPeg, board.plan.rates.cut_peg_min, 0.0);
                (step.part, step.no_return) = (Some(p), true);
                step.after = fits.iter().map(|s| (*s, false)).collect();
                out.push(self.last());
            }
        }
        out
    }

    /// Pole check and gluing of every piece; by hole the gluing step.
    fn pieces(
        &mut self,
        drills: &BTreeMap<usize, usize>,
        fits: &[usize],
    ) -> BTreeMap<usize, usize> {
        let rates = &self.context.board.plan.rates;
        let mut out = BTreeMap::new();
        for hole in self.filled() {
            let part = self.context.holes.holes[hole].part;
            let key = self.hole_key(hole);
            let mut after: Vec<(usize, bool)> =
                drills.get(&hole).map(|s| (*s, false)).into_iter().collect();
            after.extend(fits.iter().map(|s| (*s, false)));
            if matches!(self.fillings[hole], Filling::Magnet(_)) {
                let check = self.push(
                    format!("pole:{key}"),
                    StepKind::PoleCheck,
                    rates.pole_check_min,
                    0.0,
                );
                (check.hole, check.part) = (Some(hole), Some(part));
                after.push((self.last(), false));
            }
            let glue = self.push(
                format!("glue:{key}"),
                StepKind::GluePiece,
                rates.glue_magnet_min,
                rates.magnet_cure_min,
            );
            (glue.hole, glue.part, glue.no_return) = (Some(hole), Some(part), true);
            glue.after = after;
            out.insert(hole, self.last());
        }
        out
    }

    /// Joints that are glued for good. Anything fitted in one of the parts is in and cured before: its hole may lie
    /// inside what the joint closes.
    fn glue_joints(
        &mut self,
        fits: &[usize],
        pieces: &BTreeMap<usize, usize>,
    ) -> BTreeMap<usize, usize> {
        let board = self.context.board;
        let rates = &board.plan.rates;
        let mut out = BTreeMap::new();
        for joint in (0..board.joints.len()).filter(|j| self.context.glue.separable[*j].is_none()) {
            let j = board.joints[joint];
            let sides = [j.part, board.host(j.socket)];
            let mut after: Vec<(usize, bool)> = fits.iter().map(|s| (*s, false)).collect();
            let inside = pieces
                .iter()
                .filter(|(h, _)| sides.contains(&self.context.holes.holes[**h].part));
            after.extend(inside.map(|(_, s)| (*s, true)));
            let key = format!("join:{}", self.joint_key(joint));
            let step = self.push(
                key,
                StepKind::GlueJoint,
                rates.glue_joint_min,
                rates.joint_cure_min,
            );
            (step.joint, step.part, step.no_return, step.after) =
                (Some(joint), Some(j.part), true, after);
            out.insert(joint, self.last());
        }
        out
    }

    /// Mating faces that stay free of paint, once a socket and once a plug.
    fn masks(&mut self, joints: &BTreeMap<usize, usize>) -> Vec<(usize, usize)> {
        let board = self.context.board;
        let mut out: Vec<(usize, usize)> = Vec::new();
        if !board.plan.finish.mask_mating_faces {
            return out;
        }
        let glued: Vec<_> = joints.values().map(|s| (*s, true)).collect();
        let mut seen = Vec::new();
        for (joint, j) in board.joints.iter().enumerate() {
            if self.context.glue.separable[joint].is_none()
                || self.context.attach(joint) == Attach::Loose
            {
                continue;
            }
            let socket = format!("mask:socket:{}", board.socket(j.socket).id);
            let plug = format!(
                "mask:plug:{}:{}",
                board.part(j.part).id,
                board.plug(joint).id
            );
            for (key, part) in [(socket, board.host(j.socket)), (plug, j.part)] {
                if seen.contains(&key) {
                    continue;
                }
                seen.push(key.clone());
                let step = self.push(key, StepKind::Mask, board.plan.rates.mask_min, 0.0);
                (step.part, step.joint, step.after) = (Some(part), Some(joint), glued.clone());
                out.push((part, self.last()));
            }
        }
        out
    }

    /// One a part or glued group, after everything done to it.
    fn paints(
        &mut self,
        pegs: &[usize],
        pieces: &BTreeMap<usize, usize>,
        joints: &BTreeMap<usize, usize>,
        masks: &[(usize, usize)],
    ) -> Vec<usize> {
        let board = self.context.board;
        let rates = &board.plan.rates;
        let grouped = |p: &usize| self.context.glue.groups.iter().any(|g| g.contains(p));
        let used = |p: &usize| !self.context.glue.idle.contains(p);
        let lone = (0..board.counts().0)
            .filter(|p| used(p) && !grouped(p))
            .map(|p| vec![p]);
        let groups: Vec<Vec<usize>> = self.context.glue.groups.iter().cloned().chain(lone).collect();
        let mut out = Vec::new();
        for group in groups {
            let on_it = |part: Option<usize>| part.is_some_and(|p| group.contains(&p));
            let mut after: Vec<(usize, bool)> = pegs
                .iter()
                .filter(|s| on_it(self.steps[**s].part))
                .map(|s| (*s, false))
                .collect();
            after.extend(
                pieces
                    .values()
                    .chain(joints.values())
                    .filter(|s| on_it(self.steps[**s].part))
                    .map(|s| (*s, true)),
            );
            after.extend(
                masks
                    .iter()
                    .filter(|(p, _)| group.contains(p))
                    .map(|(_, s)| (*s, false)),
            );
            let Some(first) = group.first().copied() else {
                continue;
            };
            let key = format!("paint:{}", board.part(first).id);
            let hands_min = rates.paint_part_min * group.len() as f64;
            let step = self.push(key, StepKind::Paint, hands_min, rates.paint_dry_min);
            (step.part, step.after) = (Some(first), after);
            out.push(self.last());
        }
        out
    }

    fn final_fits(&mut self, pieces: &BTreeMap<usize, usize>, paints: &[usize]) {
        let after: Vec<_> = pieces.values().chain(paints).map(|s| (*s, true)).collect();
        self.fits(StepKind::FinalFit, "final-fit", &after);
    }
}
