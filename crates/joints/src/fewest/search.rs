//! The choice problem while it is being asked: light first, so that what is proven stands, then again where the weight of what was
//! chosen is too much.

use lodewright_assembly::JointIx;
use lodewright_choice::{
    Answer, Cost, Demand, FamilyAnswer, Limits, Problem, Site, alternatives, check_family, solve,
    why_not_less,
};
use lodewright_kit::{Fit, Plan, Table};

use super::allowed_pairs::rows;
use super::groups::{Choice, Group, groups};
use super::spacing::{Why, apart};
use super::{Fewest, FewestFamily, Filled, MOST_OTHERS, Price};
use crate::context::Context;
use crate::holes::HoleIx;
use crate::pull::{Filling, Fillings, filling_mass_g};

/// What a demand of the choice problem is about.
#[derive(Clone)]
pub(super) enum Asked {
    Joint(JointIx),
    Apart(Why, Vec<[HoleIx; 2]>),
}

/// So often are joints asked again that turn out too weak for the weight of what was chosen elsewhere.
const MOST_ROUNDS: usize = 8;

/// The choice problem while it is being asked.
pub(super) struct Search<'s> {
    pub(super) context: &'s Context,
    /// The same with a friction pin in every socket where one may stand in.
    pinned: Option<&'s Context>,
    pub(super) groups: Vec<Group>,
    now: &'s Fillings,
    pub(super) price: Price<'s>,
    pub(super) problem: Problem,
    /// By demand: what it is about.
    pub(super) asked: Vec<Asked>,
    /// Joints of families that nothing keeps apart.
    crowded: Vec<JointIx>,
    /// By family: the first cost that the first, lightest question proves.
    least: Vec<Option<u32>>,
    /// Demands of joints that stay too weak for the weight of what was chosen: nothing is proven of their families.
    too_weak: Vec<usize>,
    stopped: bool,
}

impl<'s> Search<'s> {
    pub(super) fn new(
        context: &'s Context,
        pinned: Option<&'s Context>,
        now: &'s Fillings,
        price: Price<'s>,
    ) -> Self {
        Self {
            context,
            pinned,
            groups: groups(context, now),
            now,
            price,
            problem: Problem::default(),
            asked: Vec::new(),
            crowded: Vec::new(),
            least: Vec::new(),
            too_weak: Vec::new(),
            stopped: false,
        }
    }
}

impl Search<'_> {
    /// Asks every joint as if nothing the planner chooses weighed anything but its own pieces, so that what is proven of it
    /// stands whatever is chosen elsewhere.
    pub(super) fn ask(&mut self, joints: &[JointIx], watch: &mut dyn FnMut(usize) -> bool) {
        let plan = self.context.plan();
        self.problem.sites = self.groups.iter().map(|g| site(plan, g)).collect();
        let light = Table::<HoleIx, _>::of(&self.context.holes.holes, |h, hole| match hole.fit {
            Fit::Auto => Filling::Empty,
            _ => self.now[h],
        });
        for (done, joint) in joints.iter().enumerate() {
            let demand = rows(self.context, self.pinned, *joint, &self.groups, &light);
            self.problem.demands.push(demand);
            self.asked.push(Asked::Joint(*joint));
            if !watch(done) {
                break;
            }
        }
        self.stopped = self.problem.demands.len() < joints.len();
        for pair in apart(self.context, &self.groups) {
            self.problem.demands.push(pair.demand);
            self.asked.push(Asked::Apart(pair.why, pair.holes));
        }
    }

    /// Solves it; where nothing keeps the magnets of a family apart, without that; then again for joints that turn out too weak
    /// for what was chosen elsewhere, until all that have a choice do what is asked.
    pub(super) fn answer(&mut self, go_on: &mut dyn FnMut(usize, usize) -> bool) -> Option<Answer> {
        let mut answer = solve(&self.problem, Limits::default(), go_on).ok()?;
        self.crowded = crowded(&mut self.problem, &mut self.asked, &answer);
        if !self.crowded.is_empty() {
            answer = solve(&self.problem, Limits::default(), go_on).ok()?;
        }
        self.least = least_of(&answer);
        let light = self.problem.clone();
        let mut heavy = self.fillings(&answer, &answer.choice);
        let mut problem = std::mem::take(&mut self.problem);
        let mut last = problem.clone();
        for _ in 0..MOST_ROUNDS {
            let weak = self.weak(&answer, &answer.choice);
            if weak.is_empty() {
                break;
            }
            let chosen = self.fillings(&answer, &answer.choice);
            self.tighten(&mut problem, &weak, &mut heavy, &chosen);
            let next = solve(&problem, Limits::default(), go_on).ok()?;
            let has_choice = |a: &Answer| a.families.iter().filter(|f| f.cost.is_some()).count();
            // That nothing does with the heaviest rest does not show that nothing does at all.
            if has_choice(&next) < has_choice(&answer) {
                break;
            }
            answer = next;
            last = problem.clone();
        }
        self.problem = last;
        self.too_weak = self.weak(&answer, &answer.choice);
        if answer
            .families
            .iter()
            .map(cost)
            .ne(self.least.iter().copied())
        {
            self.raise_least(light, go_on);
        }
        Some(answer)
    }

    /// Proves more of what is needed: whatever is chosen, a hole holds at least the lightest that its joints allow. `light` is the
    /// first question, with nothing in the holes beside a joint.
    fn raise_least(&mut self, mut light: Problem, go_on: &mut dyn FnMut(usize, usize) -> bool) {
        let now = self.lightest(&light);
        for (demand, asked) in light.demands.iter_mut().zip(&self.asked) {
            if let Asked::Joint(joint) = *asked {
                *demand = rows(self.context, self.pinned, joint, &self.groups, &now);
            }
        }
        if let Ok(answer) = solve(&light, Limits::default(), go_on) {
            self.least = least_of(&answer);
        }
    }

    /// Every hole with the lightest piece of the options that all its demands allow.
    fn lightest(&self, problem: &Problem) -> Fillings {
        let plan = self.context.plan();
        let mass_g = |f: &Filling| filling_mass_g(plan, *f);
        let mut all = self.now.clone();
        for (site, group) in self.groups.iter().enumerate() {
            let allows = |option: usize, demand: &Demand| {
                let at = demand.sites.iter().position(|s| *s == site);
                at.is_none_or(|at| demand.rows.iter().any(|row| usize::from(row[at]) == option))
            };
            let options = group.options.iter().enumerate();
            let allowed: Vec<&Choice> = options
                .filter(|(o, _)| problem.demands.iter().all(|d| allows(*o, d)))
                .map(|(_, choice)| choice)
                .collect();
            for (place, hole) in group.holes.iter().enumerate() {
                let pieces = allowed.iter().map(|choice| choice.fillings[place]);
                if let Some(least) = pieces.min_by(|a, b| mass_g(a).total_cmp(&mass_g(b))) {
                    all[*hole] = least;
                }
            }
        }
        all
    }

    /// Asks these joints again with every hole as heavy as it was in any choice so far, this one among them.
    pub(super) fn tighten(
        &self,
        problem: &mut Problem,
        weak: &[usize],
        heavy: &mut Fillings,
        chosen: &Fillings,
    ) {
        let plan = self.context.plan();
        for (hole, filling) in chosen.iter() {
            if filling_mass_g(plan, *filling) > filling_mass_g(plan, heavy[hole]) {
                heavy[hole] = *filling;
            }
        }
        for demand in weak {
            if let Asked::Joint(joint) = self.asked[*demand] {
                problem.demands[*demand] =
                    rows(self.context, self.pinned, joint, &self.groups, heavy);
            }
        }
    }

    /// Every hole as chosen; as it was in families without a choice.
    pub(super) fn fillings(&self, answer: &Answer, choice: &[u16]) -> Fillings {
        let mut all = self.now.clone();
        for family in answer.families.iter().filter(|f| f.cost.is_some()) {
            for (hole, filling) in self.filled(family, choice).fillings {
                all[hole] = filling;
            }
        }
        all
    }

    /// What the options of a family come to.
    fn filled(&self, family: &FamilyAnswer, choice: &[u16]) -> Filled {
        let mine: Vec<u16> = family.sites.iter().map(|s| choice[*s]).collect();
        filled(&self.groups, &family.sites, &mine)
    }

    /// Demands of joints that do not do all that is asked once everything chosen weighs what it weighs, in families with a choice.
    pub(super) fn weak(&self, answer: &Answer, choice: &[u16]) -> Vec<usize> {
        let fillings = self.fillings(answer, choice);
        let solved = answer.families.iter().filter(|f| f.cost.is_some());
        let mut weak = Vec::new();
        for family in solved {
            let pins = self.filled(family, choice).pins;
            for demand in &family.demands {
                let Asked::Joint(joint) = self.asked[*demand] else {
                    continue;
                };
                let has_pin = pins.contains(&self.context.board.joints[joint].socket);
                let context = self.pinned.filter(|_| has_pin).unwrap_or(self.context);
                let model = context.model(joint, &fillings, None);
                if !model.is_none_or(|m| m.is_good_so_far()) {
                    weak.push(*demand);
                }
            }
        }
        weak
    }

    pub(super) fn found(
        &self,
        answer: &Answer,
        go_on: &mut dyn FnMut(usize, usize) -> bool,
    ) -> Fewest {
        let choice = self.given_up(answer, go_on);
        let mut found = Fewest {
            fillings: self.fillings(answer, &choice),
            pins: Vec::new(),
            proven: true,
            checked: true,
            families: Vec::new(),
        };
        for (i, family) in answer.families.iter().enumerate() {
            // A family without a choice keeps what is there: nothing is claimed for it.
            found.checked &= family.cost.is_none()
                || check_family(&self.problem, answer, i)
                    .is_ok_and(|c| !family.proven || c.least == family.cost);
            if joints_of(&family.demands, &self.asked).is_empty() {
                continue;
            }
            let least = self.least.get(i).copied().flatten();
            let family = self.family(family, least, &choice);
            found.pins.extend(family.taken.iter().flat_map(|t| &t.pins));
            found.proven &= family.proven;
            found.families.push(family);
        }
        found
    }

    fn family(&self, family: &FamilyAnswer, least: Option<u32>, choice: &[u16]) -> FewestFamily {
        let joints = joints_of(&family.demands, &self.asked);
        let reason = why_not_less(&self.problem, family, Limits::default())
            .ok()
            .flatten();
        let (reason, smallest) = reason.map_or((Vec::new(), false), |r| (r.demands, r.smallest));
        let equal = alternatives(&self.problem, family, MOST_OTHERS + 1, Limits::default());
        FewestFamily {
            crowded: joints.iter().any(|j| self.crowded.contains(j)),
            joints,
            magnets: family.cost.map(|c| c.0),
            least: least.unwrap_or(0),
            // A later round proves its answer only for the weights it took: the first one has to agree.
            proven: family.proven
                && !self.stopped
                && cost(family) == least
                && !family.demands.iter().any(|d| self.too_weak.contains(d)),
            smallest,
            reason: joints_of(&reason, &self.asked),
            reason_apart: pairs_of(&reason, &self.asked),
            others: equal.map_or(0, |list| list.len().saturating_sub(1)),
            taken: family.cost.map(|_| self.filled(family, choice)),
        }
    }
}

fn cost(family: &FamilyAnswer) -> Option<u32> {
    family.cost.map(|c| c.0)
}

fn least_of(answer: &Answer) -> Vec<Option<u32>> {
    answer
        .families
        .iter()
        .map(|f| f.least.map(|c| c.0))
        .collect()
}

/// Takes the demand to keep magnets apart by their force out of every family that has no choice with it. Gives the joints of those families.
fn crowded(problem: &mut Problem, asked: &mut Vec<Asked>, answer: &Answer) -> Vec<JointIx> {
    let is_apart = |d: &usize| matches!(asked[*d], Asked::Apart(Why::Force, _));
    let has_none = |f: &&FamilyAnswer| f.cost.is_none() && f.demands.iter().any(is_apart);
    let families: Vec<&FamilyAnswer> = answer.families.iter().filter(has_none).collect();
    let joints = families
        .iter()
        .flat_map(|f| joints_of(&f.demands, asked))
        .collect();
    let dropped: Vec<usize> = families
        .iter()
        .flat_map(|f| f.demands.iter().copied().filter(is_apart))
        .collect();
    let is_kept = |d: usize| !dropped.contains(&d);
    let mut places = 0..;
    problem
        .demands
        .retain(|_| places.next().is_some_and(is_kept));
    let mut places = 0..;
    asked.retain(|_| places.next().is_some_and(is_kept));
    joints
}

pub(super) fn joints_of(demands: &[usize], asked: &[Asked]) -> Vec<JointIx> {
    let joint = |d: &usize| match asked.get(*d)? {
        Asked::Joint(joint) => Some(*joint),
        Asked::Apart(..) => None,
    };
    demands.iter().filter_map(joint).collect()
}

fn pairs_of(demands: &[usize], asked: &[Asked]) -> Vec<[HoleIx; 2]> {
    let pairs = |d: &usize| match asked.get(*d) {
        Some(Asked::Apart(_, pairs)) => pairs.clone(),
        _ => Vec::new(),
    };
    demands.iter().flat_map(pairs).collect()
}

/// What these options of these groups come to.
fn filled(groups: &[Group], sites: &[usize], choice: &[u16]) -> Filled {
    let mut all = Filled::default();
    for (group, option) in sites.iter().map(|s| &groups[*s]).zip(choice) {
        let option: &Choice = &group.options[usize::from(*option)];
        let holes = group.holes.iter().copied();
        all.fillings
            .extend(holes.zip(option.fillings.iter().copied()));
        all.pins.extend(&option.pins);
    }
    all
}

fn site(plan: &Plan, group: &Group) -> Site {
    let cost = |fillings: &[Filling]| {
        fillings.iter().fold(Cost::default(), |sum, f| match *f {
            Filling::Empty => sum,
            Filling::Magnet(i) => sum.plus(Cost(1, unit_cents(&plan.stock.magnets[i].packs))),
            Filling::Steel(i) => sum.plus(Cost(0, unit_cents(&plan.stock.steel[i].packs))),
        })
    };
    Site {
        costs: group.options.iter().map(|o| cost(&o.fillings)).collect(),
    }
}

/// Cheapest price of one piece out of a pack, rounded up; a piece that is not sold counts as 50.
fn unit_cents(packs: &[lodewright_kit::Pack]) -> u32 {
    let each = packs.iter().map(|p| p.price_cents.div_ceil(p.count.max(1)));
    each.min().unwrap_or(50)
}
