//! Every answer to a plan, by index into the plan's lists.

use std::fmt;

use lodewright_assembly::{Board, Joint, Lone, glue_answer};
use lodewright_bench::{BuyList, DrillLine, WorkOrder, buy_list, drill_list, work_order};
use lodewright_joints::{
    Contradiction, Filling, Holes, JointAccount, Scene, accounts, choose, poles,
};
use lodewright_kit::{Plan, Pole, Problem, Severity};

/// What a plan comes to. Indices point into the lists of the plan that it was derived from.
#[derive(Clone, Debug, PartialEq)]
pub struct Answers {
    /// What does not fit together in the plan.
    pub problems: Vec<Problem>,
    /// How many distinct legal models there are; `None` where there are too many to count.
    pub models: Option<u128>,
    /// The same by variant.
    pub models_of: Vec<Option<u128>>,
    /// Every joint that a variant asks for.
    pub joints: Vec<JointAnswer>,
    /// Parts that become one piece.
    pub groups: Vec<Vec<usize>>,
    /// Parts that no variant uses.
    pub idle: Vec<usize>,
    /// Holes and the faces that they show.
    pub holes: Holes,
    /// By hole: what goes in.
    pub fillings: Vec<Filling>,
    /// By hole: the pole at its first face.
    pub poles: Vec<Option<Pole>>,
    /// Sets of matings that cannot all attract.
    pub contradictions: Vec<Contradiction>,
    /// Holes that want a magnet that no stock size fits.
    pub nothing_fits: Vec<usize>,
    /// By variant: its weakest joint.
    pub weakest: Vec<Option<Weakest>>,
    /// Variants whose free options were too many to look at each.
    pub sampled: Vec<usize>,
    /// Holes to drill.
    pub drills: Vec<DrillLine>,
    /// What to buy.
    pub buy: BuyList,
    /// The work.
    pub order: WorkOrder,
}

/// One joint with its answers.
#[derive(Clone, Debug, PartialEq)]
pub struct JointAnswer {
    /// Which.
    pub joint: Joint,
    /// Part, socket and pose as words.
    pub words: String,
    /// Why it must come apart, as a sentence; `None` where it may be glued.
    pub separable_since: Option<String>,
    /// Forces and margins.
    pub account: JointAccount,
    /// The polygon of contact in the socket's axes, mm.
    pub contact_mm: Vec<[f64; 2]>,
}

/// The weakest joint of a variant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weakest {
    /// Index of the joint.
    pub joint: usize,
    /// Its margin, multiples of the weight.
    pub margin_g: f64,
}

/// A plan that has no answers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeriveError {
    /// What is wrong, where, and what to do.
    pub said: String,
}

impl fmt::Display for DeriveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said)
    }
}

impl std::error::Error for DeriveError {}

/// Works everything out.
///
/// # Errors
/// [`DeriveError`] for a plan that a file could not hold: see [`Plan::problems`].
pub fn derive(plan: &Plan) -> Result<Answers, DeriveError> {
    let board = Board::of(plan).map_err(|e| DeriveError { said: e.said })?;
    let glue = glue_answer(&board);
    let scene = Scene::of(&board, &glue);
    let choice = choose(&scene);
    let poles = poles(&board, &scene.holes, &scene.mates, &choice.fillings);
    let accounts = accounts(&scene, &choice.fillings, &poles.poles);
    let drills = drill_list(&scene, &choice.fillings);
    let variants = 0..plan.variants.len();
    let models_of: Vec<_> = variants.clone().map(|v| board.model_count_of(v)).collect();
    Ok(Answers {
        problems: problems(plan, &models_of),
        models: board.model_count(),
        models_of,
        weakest: variants.map(|v| weakest(&accounts, v)).collect(),
        joints: accounts
            .into_iter()
            .map(|account| JointAnswer {
                joint: board.joints[account.joint],
                words: board.words(account.joint),
                separable_since: glue.separable[account.joint]
                    .map(|lone| since(&board, account.joint, lone)),
                contact_mm: scene.contact_mm[account.joint].clone(),
                account,
            })
            .collect(),
        buy: buy_list(&scene, &choice.fillings),
        order: work_order(&scene, &choice.fillings, &drills),
        sampled: scene.loads.sampled.clone(),
        holes: scene.holes.clone(),
        drills,
        groups: glue.groups.clone(),
        idle: glue.idle.clone(),
        fillings: choice.fillings,
        nothing_fits: choice.nothing_fits,
        poles: poles.poles,
        contradictions: poles.contradictions,
    })
}

/// What does not fit together, a variant that cannot be put together at all among it.
fn problems(plan: &Plan, models_of: &[Option<u128>]) -> Vec<Problem> {
    let mut found: Vec<Problem> = plan
        .problems()
        .into_iter()
        .filter(|p| p.severity == Severity::Wrong)
        .collect();
    let impossible = plan
        .variants
        .iter()
        .zip(models_of)
        .filter(|(_, n)| **n == Some(0));
    found.extend(impossible.map(|(variant, _)| Problem {
        severity: Severity::Wrong,
        place: format!("variants[{}]", variant.id),
        message: format!(
            "{} cannot be put together: some part would have to be in two places.",
            variant.name
        ),
        remedy: "Empty one of the cells, or let one of them stay empty.".to_owned(),
    }));
    found
}

fn weakest(accounts: &[JointAccount], variant: usize) -> Option<Weakest> {
    let holds = accounts
        .iter()
        .flat_map(|a| a.holds.iter().map(|h| (a.joint, h)));
    holds
        .filter(|(_, h)| h.variant == variant)
        .map(|(joint, h)| Weakest {
            joint,
            margin_g: h.margin_g,
        })
        .min_by(|a, b| a.margin_g.total_cmp(&b.margin_g))
}

fn since(board: &Board<'_>, joint: usize, lone: Lone) -> String {
    let j = board.joints[joint];
    let name = &board.part(lone.part).name;
    let Some(variant) = lone.variant else {
        return "There are too many free options to be sure, so it is kept separable.".to_owned();
    };
    let variant = &board.plan.variants[variant].name;
    let (other, where_) = match lone.part == j.part {
        true => (board.host(j.socket), "under it"),
        false => (j.part, "on it"),
    };
    format!(
        "In {variant}, {name} can be there without {} {where_} this way.",
        board.part(other).name
    )
}
