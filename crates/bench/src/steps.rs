//! The steps of the work and what must come before what.

use std::collections::BTreeMap;

use lodewright_assembly::JointIx;
use lodewright_joints::{Context, Filling, Fillings, HoleIx};
use lodewright_kit::{Attach, Ix, PartIx, VariantIx};

use crate::step::{Task, WorkStep};

/// Builds the steps.
pub(crate) fn steps(
    context: &Context,
    fillings: &Fillings,
    bit_mm: &BTreeMap<HoleIx, f64>,
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

struct Builder<'s> {
    context: &'s Context,
    fillings: &'s Fillings,
    steps: Vec<WorkStep>,
}

impl Builder<'_> {
    fn push(&mut self, key: String, task: Task, hands_min: f64, wait_min: f64) -> &mut WorkStep {
        let index = self.steps.len();
        self.steps.push(WorkStep {
            key,
            task,
            own: None,
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

    /// The part that a step works on, or that it adds to another.
    fn part_of(&self, step: usize) -> Option<PartIx> {
        let board = &self.context.board;
        match self.steps[step].task {
            Task::Drill(hole) | Task::PoleCheck(hole) | Task::GluePiece(hole) => {
                Some(self.context.holes.holes[hole].part)
            }
            Task::GlueJoint(joint) | Task::MaskPlug(joint) => Some(board.joints[joint].part),
            Task::MaskSocket(socket) => Some(board.host(socket)),
            Task::CutPeg(part) | Task::Paint(part) => Some(part),
            Task::DryFit(_) | Task::FinalFit(_) | Task::Own => None,
        }
    }

    fn joint_key(&self, joint: JointIx) -> String {
        let board = &self.context.board;
        let j = board.joints[joint];
        let over = if j.pose.over { ":over" } else { "" };
        let (socket, part) = (&board.socket(j.socket).id, &board.part(j.part).id);
        format!(
            "{socket}:{part}:{}:{}{over}",
            board.plug(joint).id,
            j.pose.turn_deg
        )
    }

    fn filled(&self) -> Vec<HoleIx> {
        let filled = self.fillings.iter().filter(|(_, f)| **f != Filling::Empty);
        filled.map(|(hole, _)| hole).collect()
    }

    /// One step a hole; by hole.
    fn drills(&mut self, bit_mm: &BTreeMap<HoleIx, f64>) -> BTreeMap<HoleIx, usize> {
        let plan = self.context.plan();
        let mut out = BTreeMap::new();
        for hole in self.filled() {
            if bit_mm.contains_key(&hole) {
                let key = format!("drill:{}", self.context.holes.key(plan, hole));
                self.push(key, Task::Drill(hole), plan.rates.hole_min, 0.0);
                out.insert(hole, self.last());
            }
        }
        out
    }

    /// One a variant, after all drilling: holes that miss each other show here.
    fn dry_fits(&mut self, drills: &BTreeMap<HoleIx, usize>) -> Vec<usize> {
        let after: Vec<_> = drills.values().map(|s| (*s, false)).collect();
        self.fits(Task::DryFit, "dry-fit", &after)
    }

    fn fits(
        &mut self,
        task: fn(VariantIx) -> Task,
        word: &str,
        after: &[(usize, bool)],
    ) -> Vec<usize> {
        let plan = self.context.plan();
        let mut out = Vec::new();
        for (v, variant) in VariantIx::each(&plan.variants) {
            let key = format!("{word}:{}", variant.id);
            let step = self.push(key, task(v), plan.rates.dry_fit_min, 0.0);
            step.after = after.to_vec();
            out.push(self.last());
        }
        out
    }

    /// Pegs that are not kept, once a plug.
    fn cut_pegs(&mut self, fits: &[usize]) -> Vec<usize> {
        let plan = self.context.plan();
        let mut out = Vec::new();
        for (p, part) in PartIx::each(&plan.parts) {
            for plug in part.plugs.iter().filter(|plug| !plug.keeps_peg) {
                let key = format!("cut-peg:{}:{}", part.id, plug.id);
                let step = self.push(key, Task::CutPeg(p), plan.rates.cut_peg_min, 0.0);
                step.no_return = true;
                step.after = fits.iter().map(|s| (*s, false)).collect();
                out.push(self.last());
            }
        }
        out
    }

    /// Pole check and gluing of every piece; by hole the gluing step.
    fn pieces(
        &mut self,
        drills: &BTreeMap<HoleIx, usize>,
        fits: &[usize],
    ) -> BTreeMap<HoleIx, usize> {
        let plan = self.context.plan();
        let rates = &plan.rates;
        let mut out = BTreeMap::new();
        for hole in self.filled() {
            let key = self.context.holes.key(plan, hole);
            let mut after: Vec<(usize, bool)> =
                drills.get(&hole).map(|s| (*s, false)).into_iter().collect();
            after.extend(fits.iter().map(|s| (*s, false)));
            if matches!(self.fillings[hole], Filling::Magnet(_)) {
                let key = format!("pole:{key}");
                self.push(key, Task::PoleCheck(hole), rates.pole_check_min, 0.0);
                after.push((self.last(), false));
            }
            let glue = self.push(
                self.context.holes.glue_key(plan, hole),
                Task::GluePiece(hole),
                rates.glue_magnet_min,
                rates.magnet_cure_min,
            );
            glue.no_return = true;
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
        pieces: &BTreeMap<HoleIx, usize>,
    ) -> BTreeMap<JointIx, usize> {
        let board = &self.context.board;
        let rates = &board.plan.rates;
        let mut out = BTreeMap::new();
        for (joint, j) in JointIx::each(&board.joints) {
            if self.context.glue.separable[joint].is_some() {
                continue;
            }
            let sides = [j.part, board.host(j.socket)];
            let mut after: Vec<(usize, bool)> = fits.iter().map(|s| (*s, false)).collect();
            let inside = pieces
                .iter()
                .filter(|(h, _)| sides.contains(&self.context.holes.holes[**h].part));
            after.extend(inside.map(|(_, s)| (*s, true)));
            let key = format!("join:{}", self.joint_key(joint));
            let step = self.push(
                key,
                Task::GlueJoint(joint),
                rates.glue_joint_min,
                rates.joint_cure_min,
            );
            (step.no_return, step.after) = (true, after);
            out.insert(joint, self.last());
        }
        out
    }

    /// Mating faces that stay free of paint, once a socket and once a plug.
    fn masks(&mut self, joints: &BTreeMap<JointIx, usize>) -> Vec<usize> {
        let board = &self.context.board;
        let mut out = Vec::new();
        if !board.plan.finish.mask_mating_faces {
            return out;
        }
        let glued: Vec<_> = joints.values().map(|s| (*s, true)).collect();
        let mut seen = Vec::new();
        for (joint, j) in JointIx::each(&board.joints) {
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
            for (key, task) in [
                (socket, Task::MaskSocket(j.socket)),
                (plug, Task::MaskPlug(joint)),
            ] {
                if seen.contains(&key) {
                    continue;
                }
                seen.push(key.clone());
                let step = self.push(key, task, board.plan.rates.mask_min, 0.0);
                step.after = glued.clone();
                out.push(self.last());
            }
        }
        out
    }

    /// One a part or glued group, after everything done to it.
    fn paints(
        &mut self,
        pegs: &[usize],
        pieces: &BTreeMap<HoleIx, usize>,
        joints: &BTreeMap<JointIx, usize>,
        masks: &[usize],
    ) -> Vec<usize> {
        let board = &self.context.board;
        let rates = &board.plan.rates;
        let grouped = |p: &PartIx| self.context.glue.groups.iter().any(|g| g.contains(p));
        let used = |p: &PartIx| !self.context.glue.idle.contains(p);
        let lone = PartIx::all(&board.plan.parts)
            .filter(|p| used(p) && !grouped(p))
            .map(|p| vec![p]);
        let groups: Vec<Vec<PartIx>> = self
            .context
            .glue
            .groups
            .iter()
            .cloned()
            .chain(lone)
            .collect();
        let mut out = Vec::new();
        for group in groups {
            let on_it = |s: &&usize| self.part_of(**s).is_some_and(|p| group.contains(&p));
            let pegs = pegs.iter().filter(on_it).map(|s| (*s, false));
            let glued = pieces.values().chain(joints.values());
            let glued = glued.filter(on_it).map(|s| (*s, true));
            let masks = masks.iter().filter(on_it).map(|s| (*s, false));
            let after = pegs.chain(glued).chain(masks).collect();
            let Some(first) = group.first().copied() else {
                continue;
            };
            let key = format!("paint:{}", board.part(first).id);
            let hands_min = rates.paint_part_min * group.len() as f64;
            let step = self.push(key, Task::Paint(first), hands_min, rates.paint_dry_min);
            step.after = after;
            out.push(self.last());
        }
        out
    }

    fn final_fits(&mut self, pieces: &BTreeMap<HoleIx, usize>, paints: &[usize]) {
        let after: Vec<_> = pieces.values().chain(paints).map(|s| (*s, true)).collect();
        self.fits(Task::FinalFit, "final-fit", &after);
    }
}
