//! The fewest magnets with which every joint does all that is asked of it, with a proof.
//!
//! All holes of one face (of a socket or of a mounting face) take magnets of one size: one bit, one pack, nothing to mix up.
//! Under that custom (ours, and common practice, no source) the choice is exact: each face's holes together are one site of
//! a choice problem, each joint one demand, and the solver gives the optimum or an honest bound.

mod groups;
mod rows;

use lodewright_choice::{
    Cost, Limits, Problem, Site, alternatives, check_family, solve, why_not_less,
};
use lodewright_kit::{Edit, Fit, Plan, Pole};

use crate::pull::Filling;
use crate::scene::Scene;
use crate::sites::Draft;
use groups::{Group, groups};
use rows::rows;

/// Other choices are counted no further than this.
pub const MOST_OTHERS: usize = 99;

/// A family of joints that hang together through shared holes.
#[derive(Clone, Debug, PartialEq)]
pub struct FewestFamily {
    /// Its joints.
    pub joints: Vec<usize>,
    /// Magnets that it takes; `None` where no choice does all that is asked.
    pub magnets: Option<u32>,
    /// No choice takes fewer.
    pub least: u32,
    /// Whether that is proven.
    pub proven: bool,
    /// Joints that together force that number (or that together cannot be met).
    pub reason: Vec<usize>,
    /// Whether no smaller set of joints does.
    pub smallest: bool,
    /// Other choices with as many magnets, counted up to [`MOST_OTHERS`]; the one taken costs least.
    pub others: usize,
    /// The edit that fixes the choice of this family alone; `None` where it changes nothing.
    pub edit: Option<Edit>,
}

/// The choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Fewest {
    /// By hole: what goes in; as it was in families that no choice satisfies.
    pub fillings: Vec<Filling>,
    /// Magnets in all.
    pub magnets: usize,
    /// Whether every family is proven.
    pub proven: bool,
    /// Whether the solver's proof was read and found sound by code of its own.
    pub checked: bool,
    /// The families that have a joint.
    pub families: Vec<FewestFamily>,
    /// The edit that fixes the choice in the plan; `None` where it changes nothing.
    pub edit: Option<Edit>,
}

/// Finds the fewest. `now` is what the plan comes to at present. `watch` hears how many joints and families are done of how
/// many; where it answers `false`, the rest comes back unproven.
pub fn fewest(
    scene: &Scene<'_, '_>,
    now: &[Filling],
    watch: &mut dyn FnMut(usize, usize) -> bool,
) -> Fewest {
    let groups = groups(scene, now);
    let joints: Vec<usize> = (0..scene.mates.len())
        .filter(|j| scene.is_magnetic(*j) && !scene.mates[*j].is_empty())
        .collect();
    let count = 2 * joints.len();
    let mut problem = Problem {
        sites: groups.iter().map(|g| site(scene.board.plan, g)).collect(),
        demands: Vec::new(),
    };
    for (done, joint) in joints.iter().enumerate() {
        problem.demands.push(rows(scene, *joint, &groups, now));
        if !watch(done, count) {
            break;
        }
    }
    let stopped = problem.demands.len() < joints.len();
    let mut fillings = now.to_vec();
    let solved = solve(&problem, Limits::default(), &mut |done, of| {
        watch(joints.len() + joints.len() * done / of.max(1), count)
    });
    let Ok(answer) = solved else {
        // The problem is built here and sound; a refusal would leave the plan as it is.
        return unchanged(scene, now);
    };
    let mut families = Vec::new();
    for family in &answer.families {
        if family.demands.is_empty() {
            continue;
        }
        let reason = why_not_less(&problem, family, Limits::default())
            .ok()
            .flatten();
        let mut alone = now.to_vec();
        if family.cost.is_some() {
            for s in &family.sites {
                let group = &groups[*s];
                let option = &group.options[usize::from(answer.choice[*s])];
                for (hole, filling) in group.holes.iter().zip(&option.fillings) {
                    fillings[*hole] = *filling;
                    alone[*hole] = *filling;
                }
            }
        }
        let mine: Vec<&Group> = family.sites.iter().map(|s| &groups[*s]).collect();
        families.push(FewestFamily {
            edit: fixed(scene, &mine, now, &alone),
            joints: family.demands.iter().map(|d| joints[*d]).collect(),
            others: alternatives(&problem, family, MOST_OTHERS + 1, Limits::default())
                .map_or(0, |list| list.len().saturating_sub(1)),
            magnets: family.cost.map(|c| c.0),
            least: family.least.map_or(0, |c| c.0),
            proven: family.proven && !stopped,
            smallest: reason.as_ref().is_some_and(|r| r.smallest),
            reason: reason
                .map(|r| r.demands.iter().map(|d| joints[*d]).collect())
                .unwrap_or_default(),
        });
    }
    // Holes that no demand names stay empty unless the builder has filled them.
    for family in answer.families.iter().filter(|f| f.demands.is_empty()) {
        for s in &family.sites {
            let option = &groups[*s].options[usize::from(answer.choice[*s])];
            for (hole, filling) in groups[*s].holes.iter().zip(&option.fillings) {
                fillings[*hole] = *filling;
            }
        }
    }
    Fewest {
        magnets: magnets(&fillings),
        proven: families.iter().all(|f| f.proven),
        checked: answer.families.iter().enumerate().all(|(i, f)| {
            // A family without a choice keeps what is there: nothing is claimed for it.
            f.cost.is_none()
                || check_family(&problem, &answer, i).is_ok_and(|c| !f.proven || c.least == f.cost)
        }),
        edit: fixed(scene, &groups.iter().collect::<Vec<_>>(), now, &fillings),
        families,
        fillings,
    }
}

fn unchanged(scene: &Scene<'_, '_>, now: &[Filling]) -> Fewest {
    let joints = 0..scene.mates.len();
    Fewest {
        fillings: now.to_vec(),
        magnets: magnets(now),
        proven: false,
        checked: false,
        families: vec![FewestFamily {
            joints: joints.collect(),
            magnets: None,
            least: 0,
            proven: false,
            reason: Vec::new(),
            smallest: false,
            others: 0,
            edit: None,
        }],
        edit: None,
    }
}

fn magnets(fillings: &[Filling]) -> usize {
    let is_magnet = |f: &&Filling| matches!(f, Filling::Magnet(_));
    fillings.iter().filter(is_magnet).count()
}

fn site(plan: &Plan, group: &Group) -> Site {
    let cost = |fillings: &[Filling]| {
        fillings.iter().fold(Cost::default(), |sum, f| match *f {
            Filling::Empty => sum,
            Filling::Magnet(i) => sum.plus(Cost(
                1,
                unit_cents(plan.stock.magnets.get(i).map(|m| m.packs.as_slice())),
            )),
            Filling::Steel(i) => sum.plus(Cost(
                0,
                unit_cents(plan.stock.steel.get(i).map(|s| s.packs.as_slice())),
            )),
        })
    };
    Site {
        costs: group.options.iter().map(|o| cost(&o.fillings)).collect(),
    }
}

/// Cheapest price of one piece out of a pack, rounded up; a piece that is not sold counts as 50.
fn unit_cents(packs: Option<&[lodewright_kit::Pack]>) -> u32 {
    let each = packs
        .unwrap_or_default()
        .iter()
        .map(|p| p.price_cents.div_ceil(p.count.max(1)));
    each.min().unwrap_or(50)
}

/// The edit that writes the choice down: every hole that the planner chose for gets what was found.
fn fixed(
    scene: &Scene<'_, '_>,
    groups: &[&Group],
    now: &[Filling],
    then: &[Filling],
) -> Option<Edit> {
    if now == then {
        return None;
    }
    let stock = &scene.board.plan.stock;
    let mut draft = Draft::new(scene.board, &scene.holes);
    for hole in groups.iter().flat_map(|g| &g.holes) {
        if scene.holes.holes[*hole].fit != Fit::Auto {
            continue;
        }
        let fit = match then[*hole] {
            Filling::Empty => Fit::Empty,
            Filling::Magnet(i) => Fit::Magnet(stock.magnets.get(i)?.id.clone()),
            Filling::Steel(i) => Fit::Steel(stock.steel.get(i)?.id.clone()),
        };
        draft.fit(*hole, &fit)?;
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
