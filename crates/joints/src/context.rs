//! Everything that the questions about joints share, worked out once for a plan: holes, matings, loads, joints before anything
//! is in them, and a memory for pulls.

use std::rc::Rc;

use lodewright_assembly::{Board, GlueAnswer, Joint, JointIx};
use lodewright_kit::{Attach, CheckedPlan, Ix, Pole, Table};

use crate::crowding::Crowding;
use crate::holes::{HoleIx, Holes};
use crate::load::{Loads, loads};
use crate::mating::{Mate, mates};
use crate::pull::Fillings;
use crate::pull_memory::PullMemory;
use crate::room::Misfit;
use crate::statics::{BareJoint, JointModel, contact_mm};

/// Standard gravity, m/s².
pub const G_M_S2: f64 = 9.80665;

/// A plan with its holes, matings and loads worked out.
#[derive(Debug)]
pub struct Context {
    /// The plan, laid out.
    pub board: Rc<Board>,
    /// What may be glued.
    pub glue: Rc<GlueAnswer>,
    /// Holes and faces.
    pub holes: Rc<Holes>,
    /// The faces that meet in each joint.
    pub mates: Table<JointIx, Vec<Mate>>,
    /// Loads on joints.
    pub loads: Loads,
    /// The polygon in which the two sides of a joint touch, mm, in the socket's axes.
    pub contact_mm: Table<JointIx, Rc<[[f64; 2]]>>,
    pub(crate) crowding: Crowding,
    pulls: Rc<PullMemory>,
    bare: Table<JointIx, Option<BareJoint>>,
}

impl Context {
    /// Works them out.
    ///
    /// ```
    /// use std::rc::Rc;
    ///
    /// use lodewright_assembly::{Board, glue_answer};
    /// use lodewright_joints::Context;
    /// use lodewright_kit::{CheckedPlan, Edit, Plan};
    ///
    /// // Two parts that change places in one socket: a hole in the host and one in each of them.
    /// let grid = "\tWorks\tParade\nNose\tPlough\tHook\n".to_owned();
    /// let plan = Plan::empty("Tug").edited(&Edit::PasteGrid(grid))?;
    /// let board = Rc::new(Board::of(CheckedPlan::of(plan).map_err(|p| p[0].to_string())?));
    /// let glue = Rc::new(glue_answer(&board));
    /// let context = Context::of(board, glue);
    /// assert_eq!(context.holes.holes.len(), 3);
    /// assert_eq!(context.magnetic().count(), 2);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(board: Rc<Board>, glue: Rc<GlueAnswer>) -> Self {
        Self::sharing(board, glue, Rc::default())
    }

    /// The same for a plan with the stock and settings of this one, so that it shares the memory for pulls.
    pub(crate) fn like(&self, board: Rc<Board>, glue: Rc<GlueAnswer>) -> Self {
        Self::sharing(board, glue, Rc::clone(&self.pulls))
    }

    fn sharing(board: Rc<Board>, glue: Rc<GlueAnswer>, pulls: Rc<PullMemory>) -> Self {
        let holes = Holes::of(&board);
        let mates = Table::<JointIx, _>::of(&board.joints, |j, _| mates(&board, &holes, j));
        let loads = loads(&board);
        let contact_mm = Table::of(&board.joints, |j, _| contact_mm(&board, j).into());
        let crowding = Crowding::of(&board.plan, &holes);
        let mut context = Self {
            board,
            glue,
            holes: Rc::new(holes),
            mates,
            loads,
            contact_mm,
            crowding,
            pulls,
            bare: Table::default(),
        };
        let bare = |j, _: &Joint| BareJoint::of(&context, j);
        context.bare = Table::of(&context.board.joints, bare);
        context
    }

    /// The plan.
    pub fn plan(&self) -> &CheckedPlan {
        &self.board.plan
    }

    /// Another hole of its part that a hole with its piece comes too near.
    pub fn crowding(&self, fillings: &Fillings, hole: HoleIx) -> Option<Misfit> {
        self.crowding
            .misfit(self.plan(), &self.holes, fillings, hole)
    }

    /// The memory for pulls.
    pub fn pulls(&self) -> &Rc<PullMemory> {
        &self.pulls
    }

    /// Whether a joint must come apart and is held by what is in its sites.
    pub fn is_magnetic(&self, joint: JointIx) -> bool {
        self.glue.separable[joint].is_some() && self.attach(joint) == Attach::Magnets
    }

    /// The joints that must come apart and are held by what is in their sites.
    pub fn magnetic(&self) -> impl Iterator<Item = JointIx> + '_ {
        JointIx::all(&self.board.joints).filter(|j| self.is_magnetic(*j))
    }

    /// How a joint is held.
    pub fn attach(&self, joint: JointIx) -> Attach {
        self.board.socket(self.board.joints[joint].socket).attach
    }

    /// Whether a joint's matings use a hole.
    pub fn uses(&self, joint: JointIx, hole: HoleIx) -> bool {
        let mates = self.mates[joint].iter();
        mates
            .into_iter()
            .any(|m| m.holes(&self.holes).contains(&hole))
    }

    /// Whether a hole's piece is glued in already.
    pub fn is_glued(&self, hole: HoleIx) -> bool {
        let done = &self.plan().progress.done;
        done.contains(&self.holes.glue_key(self.plan(), hole))
    }

    /// A joint that something holds, before anything is in its sites; `None` for one that may be glued or lies loose.
    pub(crate) fn bare(&self, joint: JointIx) -> Option<&BareJoint> {
        self.bare[joint].as_ref()
    }

    /// A joint with what is fitted; `None` for one that nothing holds or that may be glued. Without poles all its magnets attract.
    pub fn model(
        &self,
        joint: JointIx,
        fillings: &Fillings,
        poles: Option<&Table<HoleIx, Option<Pole>>>,
    ) -> Option<JointModel> {
        Some(self.bare(joint)?.filled(self, fillings, poles))
    }
}
