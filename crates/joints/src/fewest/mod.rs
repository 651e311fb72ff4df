//! The fewest magnets with which every joint does all that is asked of it, with a proof.
//!
//! Holes of one kind in one face (of a socket or of a mounting face) take magnets of one size: one bit, one pack, nothing to
//! mix up; where that leaves very many ways, all holes of the face do. Under that custom (ours, and common practice, no
//! source) the choice is exact: each face's holes together are one site of a choice problem, each joint one demand, each pair
//! of magnets that could come too near another, and the solver gives the optimum or an honest bound. Where nothing keeps
//! magnets apart, a family is asked again without that.

mod allowed_pairs;
mod groups;
mod search;
mod sizes;
mod spacing;

use std::rc::Rc;

use lodewright_assembly::{Board, JointIx};
use lodewright_kit::{Attach, CheckedPlan, Edit, Fit, Plan, Pole, SocketIx};

use crate::context::Context;
use crate::holes::HoleIx;
use crate::plan_draft::Draft;
use crate::pull::{Filling, Fillings};
use groups::is_idle;
use search::Search;

/// Other choices are counted no further than this.
pub const MOST_OTHERS: usize = 99;

/// What goes in some holes, and which sockets have a friction pin instead.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Filled {
    /// Holes with what goes in.
    pub fillings: Vec<(HoleIx, Filling)>,
    /// Sockets where a pin stands in for magnets.
    pub pins: Vec<SocketIx>,
}

/// A family of joints that hang together through shared holes.
#[derive(Clone, Debug, PartialEq)]
pub struct FewestFamily {
    /// Its joints.
    pub joints: Vec<JointIx>,
    /// Magnets that it takes; `None` where no choice does all that is asked.
    pub magnets: Option<u32>,
    /// No choice takes fewer.
    pub least: u32,
    /// Whether that is proven.
    pub proven: bool,
    /// Joints that together force that number (or that together cannot be met).
    pub reason: Vec<JointIx>,
    /// Pairs of holes whose pieces must keep apart, where that is part of the reason.
    pub reason_apart: Vec<[HoleIx; 2]>,
    /// Whether nothing smaller forces it.
    pub smallest: bool,
    /// Whether no choice keeps its magnets apart, so that it was asked without that.
    pub crowded: bool,
    /// Other choices with as many magnets, counted up to [`MOST_OTHERS`]; the one taken costs least beside the rest.
    pub others: usize,
    /// The choice taken; `None` where there is none.
    pub taken: Option<Filled>,
}

/// The choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Fewest {
    /// What goes in each hole; as it was in families that no choice satisfies.
    pub fillings: Fillings,
    /// Sockets where a friction pin stands in for magnets.
    pub pins: Vec<SocketIx>,
    /// Whether every family is proven.
    pub proven: bool,
    /// Whether the solver's proof was read and found sound by code of its own.
    pub checked: bool,
    /// The families that have a joint.
    pub families: Vec<FewestFamily>,
}

/// Finds the fewest. `now` is what the plan comes to at present. Among choices of as many magnets, sizes are given up as long as
/// that lowers `price`, which tells what a filling of all holes costs. `watch` hears how many joints and families are done of how
/// many; where it answers `false`, the rest comes back unproven.
pub fn fewest(
    context: &Context,
    now: &Fillings,
    price: Price<'_>,
    watch: &mut dyn FnMut(usize, usize) -> bool,
) -> Fewest {
    let plan = with_pins(context.plan()).and_then(|p| CheckedPlan::of(p).ok());
    let pinned = plan.map(|p| context.like(Rc::new(Board::of(p)), Rc::clone(&context.glue)));
    let can_ask = |j: &JointIx| !context.mates[*j].is_empty() && is_known(context, *j);
    let joints: Vec<JointIx> = context.magnetic().filter(can_ask).collect();
    let count = 2 * joints.len();
    let mut search = Search::new(context, pinned.as_ref(), now, price);
    search.ask(&joints, &mut |done| watch(done, count));
    let mut go_on =
        |done: usize, of: usize| watch(joints.len() + joints.len() * done / of.max(1), count);
    // The problem is built here and sound; a refusal would leave the plan as it is.
    search.answer(&mut go_on).map_or_else(
        || unchanged(context, now),
        |answer| search.found(&answer, &mut go_on),
    )
}

/// Whether it is known of any load of a joint where it hangs. Of a joint without one nothing can be asked, and what is in its holes
/// stays.
fn is_known(context: &Context, joint: JointIx) -> bool {
    let mut loads = context.loads.cases.iter().filter(|c| c.joint == joint);
    loads.any(|c| c.unplaced.is_none())
}

/// What a filling of all holes costs: money, then trouble.
pub type Price<'p> = &'p dyn Fn(&Fillings) -> (u64, usize);

/// The plan with a friction pin in every socket where one may stand in; `None` where there is no such socket.
fn with_pins(plan: &Plan) -> Option<Plan> {
    let mut pinned = plan.clone();
    let mut any = false;
    for socket in &mut pinned.sockets {
        if let (Some(pull_n), Attach::Magnets) = (socket.may_pin_n, socket.attach) {
            socket.attach = Attach::Friction(pull_n);
            any = true;
        }
    }
    any.then_some(pinned)
}

fn unchanged(context: &Context, now: &Fillings) -> Fewest {
    Fewest {
        fillings: now.clone(),
        pins: Vec::new(),
        proven: false,
        checked: false,
        families: vec![FewestFamily {
            joints: context.board.all_joints().collect(),
            magnets: None,
            least: 0,
            proven: false,
            reason: Vec::new(),
            reason_apart: Vec::new(),
            smallest: false,
            crowded: false,
            others: 0,
            taken: None,
        }],
    }
}

/// The edit that writes a choice down in the plan: every hole that the planner chose for gets what was found; `None` where that
/// changes nothing. `now` is what the plan comes to at present.
pub fn fixed(context: &Context, now: &Fillings, then: &Filled) -> Option<Edit> {
    let differs = |(hole, filling): &(HoleIx, Filling)| now[*hole] != *filling;
    if then.pins.is_empty() && !then.fillings.iter().any(differs) {
        return None;
    }
    let stock = &context.plan().stock;
    let mut draft = Draft::new(context);
    for (hole, filling) in &then.fillings {
        // Where a pin stands in, the sites stay as they are: they wait for the day when magnets are wanted after all.
        if is_idle(context, *hole, &then.pins) || context.holes.holes[*hole].fit != Fit::Auto {
            continue;
        }
        let fit = match *filling {
            Filling::Empty => Fit::Empty,
            Filling::Magnet(i) => Fit::Magnet(stock.magnets[i].id.clone()),
            Filling::Steel(i) => Fit::Steel(stock.steel[i].id.clone()),
        };
        draft.fit(*hole, &fit)?;
    }
    for socket in &then.pins {
        let socket = &mut draft.plan.sockets[*socket];
        socket.attach = Attach::Friction(socket.may_pin_n?);
    }
    let mut edits = draft.edits();
    match edits.len() {
        0 => None,
        1 => edits.pop(),
        _ => Some(Edit::Together(edits)),
    }
}

/// Which pole an option fixes at a hole.
type Sign = Option<Pole>;
