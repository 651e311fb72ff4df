//! The analysis of one plan: every question to it is a method, worked out when it is first asked and remembered.

use std::cell::OnceCell;
use std::rc::Rc;

use lodewright_assembly::{
    Apart, BigUint, Board, Clashes, GlueAnswer, Joint, JointIx, ModelCounts, clashes, glue_answer,
};
use lodewright_bench::{BuyList, DrillLine, WorkOrder, buy_list, drill_list, work_order};
use lodewright_joints::{
    Context, Contradiction, Fillings, HoleIx, Holes, InitialSizes, JointReport, Poles,
    initial_sizes, joint_reports, poles,
};
use lodewright_kit::{
    CheckedPlan, Edit, Ix, Plan, Pole, Problem, Refusal, Severity, SocketIx, Table, VariantIx,
};

use crate::words::joint_words;

/// One state of a plan with what has been asked of it so far. A clone is the same analysis and shares what it remembers; an
/// edit makes another.
///
/// ```
/// use lodewright_kit::{Edit, Plan};
/// use lodewright_planner::Analysis;
///
/// let empty = Analysis::of(Plan::empty("Tug")).unwrap();
/// let grid = "\tHarbour\tSea\nBow\tFender\tAnchor\n";
/// let tug = empty.edited(&Edit::PasteGrid(grid.to_owned())).unwrap();
/// assert_eq!(tug.models(), Some(&2_u8.into()));
/// assert_eq!(tug.magnets(), 3); // one in the bow, one in each part that goes there
/// assert!(tug.joints().values().iter().all(|j| j.report.reasons.is_empty()));
/// ```
#[derive(Clone, Debug)]
pub struct Analysis {
    plan: CheckedPlan,
    found: Rc<Found>,
}

/// What has been found, of the plan as it was before the latest ticks of the work.
#[derive(Debug)]
struct Found {
    board: Rc<Board>,
    glue: OnceCell<Rc<GlueAnswer>>,
    context: OnceCell<Context>,
    sizes: OnceCell<InitialSizes>,
    poles: OnceCell<Poles>,
    joints: OnceCell<Table<JointIx, JointAnswer>>,
    models: OnceCell<ModelCounts>,
    problems: OnceCell<Vec<Problem>>,
    drills: OnceCell<Vec<DrillLine>>,
    buy: OnceCell<BuyList>,
    order: OnceCell<WorkOrder>,
    clashes: OnceCell<Clashes>,
}

/// One joint with its answers.
#[derive(Clone, Debug, PartialEq)]
pub struct JointAnswer {
    /// Its place in the list of joints.
    pub at: JointIx,
    /// Which joint.
    pub joint: Joint,
    /// Part, socket and pose as words.
    pub words: String,
    /// Why it must come apart; `None` where it may be glued.
    pub separable: Option<Apart>,
    /// Forces, margins and what speaks against it.
    pub report: JointReport,
    /// The polygon of contact in the socket's axes, mm.
    pub contact_mm: Rc<[[f64; 2]]>,
}

/// The weakest joint of a variant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weakest {
    /// The joint.
    pub joint: JointIx,
    /// Its margin, multiples of the weight.
    pub margin_x_weight: f64,
    /// Whether that reaches the target.
    pub reaches_target: bool,
}

impl Analysis {
    /// Checks a plan, to ask questions of it.
    ///
    /// # Errors
    /// Everything for which a file with this plan would be refused.
    pub fn of(plan: Plan) -> Result<Self, Vec<Problem>> {
        CheckedPlan::of(plan).map(Self::from)
    }

    /// The analysis of the plan after an edit.
    ///
    /// # Errors
    /// A [`Refusal`] where the edit names what is not there, or would leave a plan that a file could not hold.
    pub fn edited(&self, edit: &Edit) -> Result<Self, Refusal> {
        self.plan.edited(edit).map(Self::from)
    }

    /// The same answers for a plan that differs in nothing but ticks of the work, so that the list does not move under the
    /// finger; `None` where more is different.
    pub fn with_ticks_of(&self, plan: &CheckedPlan) -> Option<Self> {
        let mut ticked = (*self.plan).clone();
        ticked.progress = plan.progress.clone();
        (ticked == **plan).then(|| Self {
            plan: plan.clone(),
            found: Rc::clone(&self.found),
        })
    }

    /// The plan.
    pub fn plan(&self) -> &CheckedPlan {
        &self.plan
    }

    /// The plan laid out.
    pub fn board(&self) -> &Board {
        &self.found.board
    }

    /// What may be glued, which parts become one piece, which nobody uses.
    pub fn glue(&self) -> &GlueAnswer {
        self.shared_glue()
    }

    fn shared_glue(&self) -> &Rc<GlueAnswer> {
        let found = &self.found;
        found
            .glue
            .get_or_init(|| Rc::new(glue_answer(&found.board)))
    }

    pub(crate) fn context(&self) -> &Context {
        let new = || Context::of(Rc::clone(&self.found.board), Rc::clone(self.shared_glue()));
        self.found.context.get_or_init(new)
    }

    /// The same, with all ticks of the work in it.
    pub(crate) fn up_to_date(&self) -> Self {
        if self.found.board.plan.progress == self.plan.progress {
            self.clone()
        } else {
            Self::from(self.plan.clone())
        }
    }

    /// Holes and the faces that they show.
    pub fn holes(&self) -> &Holes {
        &self.context().holes
    }

    fn sizes(&self) -> &InitialSizes {
        let new = || initial_sizes(self.context());
        self.found.sizes.get_or_init(new)
    }

    /// What goes in each hole.
    pub fn fillings(&self) -> &Fillings {
        &self.sizes().fillings
    }

    /// Holes that want a magnet that no stock size fits.
    pub fn nothing_fits(&self) -> &[HoleIx] {
        &self.sizes().nothing_fits
    }

    fn all_poles(&self) -> &Poles {
        let context = self.context();
        let new = || poles(&context.holes, &context.mates, self.fillings());
        self.found.poles.get_or_init(new)
    }

    /// The pole at each hole's first face.
    pub fn poles(&self) -> &Table<HoleIx, Option<Pole>> {
        &self.all_poles().poles
    }

    /// Sets of matings that cannot all attract.
    pub fn contradictions(&self) -> &[Contradiction] {
        &self.all_poles().contradictions
    }

    /// Parts that run into each other or stand in each other's way, as far as their sockets are placed.
    pub fn clashes(&self) -> &Clashes {
        let found = &self.found.clashes;
        found.get_or_init(|| clashes(self.board()))
    }

    /// The sockets that nobody has placed, in order: what depends on their places is not known.
    pub fn unplaced(&self) -> Vec<SocketIx> {
        let all = SocketIx::each(&self.plan().sockets);
        all.filter(|(_, s)| !s.is_placed())
            .map(|(ix, _)| ix)
            .collect()
    }

    /// Every joint that a variant asks for.
    pub fn joints(&self) -> &Table<JointIx, JointAnswer> {
        self.found.joints.get_or_init(|| {
            let (context, board) = (self.context(), self.board());
            let reports = joint_reports(context, self.fillings(), self.poles());
            let answer = |at, joint: &Joint| JointAnswer {
                at,
                joint: *joint,
                words: joint_words(&self.plan, joint),
                separable: context.glue.separable[at],
                report: reports[at].clone(),
                contact_mm: Rc::clone(&context.contact_mm[at]),
            };
            Table::of(&board.joints, answer)
        })
    }

    /// The joints in which something is not as it should be.
    pub fn in_trouble(&self) -> impl Iterator<Item = &JointAnswer> {
        let all = self.joints().values().iter();
        all.filter(|j| j.report.is_in_trouble())
    }

    /// How many distinct legal models there are; `None` where there are too many to count.
    pub fn models(&self) -> Option<&BigUint> {
        self.counted().all.as_ref()
    }

    /// The same of one variant.
    pub fn models_of(&self, variant: VariantIx) -> Option<&BigUint> {
        self.counted().of[variant].as_ref()
    }

    fn counted(&self) -> &ModelCounts {
        let new = || self.board().model_counts();
        self.found.models.get_or_init(new)
    }

    /// Variants whose free options were too many to look at each.
    pub fn sampled(&self) -> &[VariantIx] {
        &self.context().loads.sampled
    }

    /// What does not fit together, a variant that cannot be put together at all among it.
    pub fn problems(&self) -> &[Problem] {
        self.found.problems.get_or_init(|| {
            let none = |v: &VariantIx| self.models_of(*v).is_some_and(|n| *n == BigUint::ZERO);
            let impossible = VariantIx::all(&self.plan.variants).filter(none);
            let impossible = impossible.map(|v| &self.plan.variants[v]);
            let found = impossible.map(|variant| Problem {
                severity: Severity::Wrong,
                place: format!("variants[{}]", variant.id),
                message: format!(
                    "{} cannot be put together: some part would have to be in two places.",
                    variant.name
                ),
                remedy: "Empty one of the cells, or let one of them stay empty.".to_owned(),
            });
            self.plan.problems().iter().cloned().chain(found).collect()
        })
    }

    /// The joint of a variant with the least margin.
    pub fn weakest(&self, variant: VariantIx) -> Option<Weakest> {
        let least = |a: Weakest, b: Weakest| {
            if b.margin_x_weight < a.margin_x_weight {
                b
            } else {
                a
            }
        };
        let cases = self.joints().iter().flat_map(|(joint, answer)| {
            let mine = answer.report.holds.iter().filter(|h| h.variant == variant);
            mine.map(move |hold| Weakest {
                joint,
                margin_x_weight: hold.margin_x_weight,
                reaches_target: hold.reaches_target,
            })
        });
        cases.reduce(least)
    }

    /// The joint with the least margin in any variant.
    pub fn weakest_of_all(&self) -> Option<Weakest> {
        let all = VariantIx::all(&self.plan.variants).filter_map(|v| self.weakest(v));
        all.min_by(|a: &Weakest, b| a.margin_x_weight.total_cmp(&b.margin_x_weight))
    }

    /// Holes to drill.
    pub fn drills(&self) -> &[DrillLine] {
        let new = || drill_list(self.context(), self.fillings());
        self.found.drills.get_or_init(new)
    }

    /// What to buy.
    pub fn buy(&self) -> &BuyList {
        let new = || buy_list(self.context(), self.fillings());
        self.found.buy.get_or_init(new)
    }

    /// The work.
    pub fn order(&self) -> &WorkOrder {
        let new = || work_order(self.context(), self.fillings(), self.drills());
        self.found.order.get_or_init(new)
    }
}

impl From<CheckedPlan> for Analysis {
    fn from(plan: CheckedPlan) -> Self {
        Self {
            found: Rc::new(Found {
                board: Rc::new(Board::of(plan.clone())),
                glue: OnceCell::new(),
                context: OnceCell::new(),
                sizes: OnceCell::new(),
                poles: OnceCell::new(),
                joints: OnceCell::new(),
                models: OnceCell::new(),
                problems: OnceCell::new(),
                drills: OnceCell::new(),
                buy: OnceCell::new(),
                order: OnceCell::new(),
                clashes: OnceCell::new(),
            }),
            plan,
        }
    }
}

/// Two are the same where they remember together: no answer of one can differ from the other's.
impl PartialEq for Analysis {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.found, &other.found) && self.plan == other.plan
    }
}
