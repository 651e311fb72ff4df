//! The cheapest among choices of as few magnets.
//!
//! The search itself goes by the price of a piece; what is bought comes in packs, so that one odd size can cost a whole pack.
//! Sizes are given up one by one, rarest first, and then each family takes the cheapest of its equal choices beside the rest. That
//! is no proof of the least price, and none is claimed.

use std::collections::BTreeMap;

use lodewright_choice::{Answer, Cost, Demand, Limits, Problem, alternatives, solve};
use lodewright_kit::Fit;

use super::MOST_OTHERS;
use super::groups::{Choice, Group};
use super::search::{Search, joints_of};
use crate::context::Context;
use crate::pull::{Filling, Fillings};

/// So often is a choice without some sizes asked for again that turns out too weak.
const MOST_TRIES: usize = 3;

impl Search<'_> {
    /// The choice after every size is given up without which there are as few magnets and a lower price.
    pub(super) fn given_up(
        &self,
        answer: &Answer,
        watch: &mut dyn FnMut(usize, usize) -> bool,
    ) -> Vec<u16> {
        let mut best = answer.choice.clone();
        let chosen = self.fillings(answer, &best);
        let mut cost = (self.price)(&chosen);
        let mut without: Vec<Filling> = Vec::new();
        let sizes = rarest_first(self.context, &chosen);
        let count = sizes.len();
        for (done, size) in sizes.into_iter().enumerate() {
            if !watch(done, count) {
                break;
            }
            without.push(size);
            let mut go_on = |_: usize, _: usize| watch(done, count);
            let better = self
                .as_few_without(answer, &without, &mut go_on)
                .and_then(|choice| self.if_better(answer, choice, cost));
            match better {
                Some(found) => (best, cost) = found,
                None => {
                    without.pop();
                }
            }
        }
        self.cheapest_equals(answer, best, cost)
    }

    /// A choice of as few magnets without these sizes; where a joint turns out too weak for the weight of the rest, it is asked
    /// again.
    fn as_few_without(
        &self,
        answer: &Answer,
        without: &[Filling],
        watch: &mut dyn FnMut(usize, usize) -> bool,
    ) -> Option<Vec<u16>> {
        let mut asked = forbidding(self.context, &self.problem, &self.groups, without);
        let mut heavy = self.fillings(answer, &answer.choice);
        for _ in 0..MOST_TRIES {
            let other = solve(&asked, Limits::default(), watch).ok()?;
            if !is_as_few(answer, &other) {
                return None;
            }
            let weak = self.weak(answer, &other.choice);
            if weak.is_empty() {
                return Some(other.choice);
            }
            let chosen = self.fillings(answer, &other.choice);
            self.tighten(&mut asked, &weak, &mut heavy, &chosen);
        }
        None
    }

    /// A choice with its price where that is lower and every joint does what is asked.
    fn if_better(
        &self,
        answer: &Answer,
        choice: Vec<u16>,
        cost: (u64, usize),
    ) -> Option<(Vec<u16>, (u64, usize))> {
        let then = (self.price)(&self.fillings(answer, &choice));
        (then < cost && self.weak(answer, &choice).is_empty()).then_some((choice, then))
    }

    /// Family by family, the cheapest of the equal choices beside the rest, until none is cheaper.
    fn cheapest_equals(
        &self,
        answer: &Answer,
        mut best: Vec<u16>,
        mut cost: (u64, usize),
    ) -> Vec<u16> {
        let most = MOST_OTHERS + 1;
        let equals: Vec<_> = answer
            .families
            .iter()
            .filter(|f| !joints_of(&f.demands, &self.asked).is_empty())
            .map(|f| {
                (
                    f,
                    alternatives(&self.problem, f, most, Limits::default()).unwrap_or_default(),
                )
            })
            .collect();
        // Each round makes the price smaller or is the last; so many bound the work.
        for _ in 0..equals.len() {
            let before = cost;
            for (family, choices) in &equals {
                for (_, options) in choices {
                    let mut other = best.clone();
                    for (site, option) in family.sites.iter().zip(options) {
                        other[*site] = *option;
                    }
                    if let Some(found) = self.if_better(answer, other, cost) {
                        (best, cost) = found;
                    }
                }
            }
            if cost == before {
                break;
            }
        }
        best
    }
}

/// Sizes that the planner chose, the least used first.
fn rarest_first(context: &Context, fillings: &Fillings) -> Vec<Filling> {
    let mut used: BTreeMap<Filling, usize> = BTreeMap::new();
    for (hole, filling) in context.holes.holes.iter().zip(fillings.values()) {
        if hole.fit == Fit::Auto && *filling != Filling::Empty {
            *used.entry(*filling).or_default() += 1;
        }
    }
    let mut sizes: Vec<(usize, Filling)> = used.into_iter().map(|(f, n)| (n, f)).collect();
    sizes.sort_unstable();
    sizes.into_iter().map(|(_, f)| f).collect()
}

/// The problem without options that put one of these sizes where the planner chooses.
fn forbidding(
    context: &Context,
    problem: &Problem,
    groups: &[Group],
    without: &[Filling],
) -> Problem {
    let is_allowed =
        |group: &Group, option: &Choice| {
            group.holes.iter().zip(&option.fillings).all(|(hole, f)| {
                context.holes.holes[*hole].fit != Fit::Auto || !without.contains(f)
            })
        };
    let mut asked = problem.clone();
    for (site, group) in groups.iter().enumerate() {
        let options = group.options.iter().enumerate();
        let rows: Vec<Vec<u16>> = options
            .filter(|(_, o)| is_allowed(group, o))
            .filter_map(|(i, _)| Some(vec![u16::try_from(i).ok()?]))
            .collect();
        if rows.len() < group.options.len() {
            asked.demands.push(Demand {
                sites: vec![site],
                rows,
            });
        }
    }
    asked
}

/// Whether every family that had a choice has one of as few magnets.
fn is_as_few(answer: &Answer, other: &Answer) -> bool {
    let magnets = |a: &Answer| -> Vec<Option<u32>> {
        let first = |c: Option<Cost>| c.map(|c| c.0);
        a.families.iter().map(|f| first(f.cost)).collect()
    };
    magnets(answer) == magnets(other)
}
