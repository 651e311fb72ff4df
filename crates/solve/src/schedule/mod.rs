//! Work order for one pair of hands: steps with hands-on time and a wait after it, precedence, batches with set-up.
//!
//! One machine with delayed precedence constraints and sequence-dependent set-up; the goal is the least time until the
//! last step is done and cured. The order is found by list scheduling with several priority rules, improved by moving
//! single steps, and for small orders searched to the end by branch and bound. The lower bound is Jackson's preemptive
//! one-machine schedule with heads and tails (Carlier 1982, from memory). All limits are counts: no clock.

mod bound;
mod list;
mod search;

use core::fmt;

/// Largest number of steps taken.
pub const MOST_STEPS: usize = 2_000;
/// Largest duration taken, minutes.
pub const LONGEST_MIN: u32 = 1_000_000;
/// Most links from steps to earlier ones.
pub const MOST_LINKS: usize = 100_000;

/// That a step comes after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct After {
    /// Index of the earlier step.
    pub step: usize,
    /// Whether its wait must be over too (the glue cured), or only the hands-on work.
    pub cured: bool,
}

/// One step of work. Durations are whole minutes (or any whole unit, the same throughout).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Step {
    /// Hands-on time, minutes.
    pub hands_min: u32,
    /// Time that passes by itself afterwards (cure, drying), minutes; other work goes on.
    pub wait_min: u32,
    /// Steps of the same batch (bit, glue) share a set-up when they follow one another; none needs no set-up.
    pub batch: Option<u32>,
    /// Hands-on time to set up when the step before is not of the same batch, minutes; set-up may be done while waiting.
    pub setup_min: u32,
    /// Steps that come before.
    pub after: Vec<After>,
}

/// A work order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// Indices of the steps in the order of work.
    pub order: Vec<usize>,
    /// When the hands-on work of each step begins, minutes, by step index; its set-up, if any, is done before.
    pub starts_min: Vec<u64>,
    /// When each step is done and its wait over, minutes, by step index.
    pub cured_min: Vec<u64>,
    /// When everything is done and cured, minutes.
    pub total_min: u64,
    /// No order can be shorter than this, minutes.
    pub lower_bound_min: u64,
    /// Whether no shorter order exists: the bound is met, or the search went through all orders.
    pub optimal: bool,
}

impl Schedule {
    /// How far the order may be from the best, as a share of the lower bound; zero when it is known to be best.
    #[must_use]
    pub fn gap(&self) -> f64 {
        if self.optimal || self.lower_bound_min == 0 {
            return 0.0;
        }
        (self.total_min - self.lower_bound_min) as f64 / self.lower_bound_min as f64
    }
}

/// Steps that cannot be scheduled.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ScheduleError {
    /// More steps or links than are taken.
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// The number given.
        given: usize,
        /// The largest number taken.
        most: usize,
    },
    /// A duration is beyond [`LONGEST_MIN`].
    TooLong {
        /// The step.
        step: usize,
        /// The duration given, minutes.
        given_min: u32,
    },
    /// A step comes after a step that is not there.
    NoSuchStep {
        /// The step.
        step: usize,
        /// The step it names.
        named: usize,
    },
    /// Steps wait for one another in a circle: each after the one before it in the list, the first after the last.
    Cycle {
        /// The circle.
        steps: Vec<usize>,
    },
}

impl fmt::Display for ScheduleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooMany { what, given, most } => {
                write!(
                    f,
                    "{given} {what} given; at most {most} are taken: split the job"
                )
            }
            Self::TooLong { step, given_min } => {
                write!(
                    f,
                    "step {step} lasts {given_min} min; at most {LONGEST_MIN} are taken: correct it"
                )
            }
            Self::NoSuchStep { step, named } => {
                write!(
                    f,
                    "step {step} comes after step {named}, which is not there: correct the number"
                )
            }
            Self::Cycle { steps } => {
                write!(
                    f,
                    "steps {steps:?} wait for one another in a circle; none can be first: remove one link"
                )
            }
        }
    }
}

impl core::error::Error for ScheduleError {}

/// Steps with their links turned round and their order checked.
pub(crate) struct Job<'a> {
    pub steps: &'a [Step],
    /// For each step the steps after it, with the delay from the end of its hands-on work.
    pub next: Vec<Vec<(usize, u64)>>,
    /// A step's tail: least time from the end of its hands-on work until everything after it is cured.
    pub tail: Vec<u64>,
    /// A step's head: earliest time its hands-on work could begin if hands were many.
    pub head: Vec<u64>,
}

/// State of the one pair of hands.
#[derive(Clone)]
pub(crate) struct Bench {
    /// When the hands are free.
    pub free: u64,
    /// Batch of the last step.
    pub batch: Option<u32>,
    /// When everything done so far is cured.
    pub done: u64,
    /// For each step, when the steps done before it allow it to begin.
    pub ready: Vec<u64>,
}

impl<'a> Job<'a> {
    fn new(steps: &'a [Step]) -> Result<Self, ScheduleError> {
        check(steps)?;
        let mut next = vec![Vec::new(); steps.len()];
        for (i, step) in steps.iter().enumerate() {
            for after in &step.after {
                let delay = if after.cured {
                    steps[after.step].wait_min
                } else {
                    0
                };
                next[after.step].push((i, u64::from(delay)));
            }
        }
        let order = topological(steps, &next)?;
        let (head, tail) = bound::heads_and_tails(steps, &next, &order);
        Ok(Self {
            steps,
            next,
            tail,
            head,
        })
    }

    pub fn len(&self) -> usize {
        self.steps.len()
    }

    pub fn hands(&self, step: usize) -> u64 {
        u64::from(self.steps[step].hands_min)
    }

    pub fn bench(&self) -> Bench {
        Bench {
            free: 0,
            batch: None,
            done: 0,
            ready: vec![0; self.len()],
        }
    }

    /// Number of links into each step.
    pub fn waits_for(&self) -> Vec<usize> {
        self.steps.iter().map(|step| step.after.len()).collect()
    }

    /// Set-up needed to go on with a step, minutes.
    pub fn setup(&self, batch: Option<u32>, step: usize) -> u64 {
        let step = &self.steps[step];
        if step.batch.is_none() || step.batch == batch {
            0
        } else {
            u64::from(step.setup_min)
        }
    }

    /// When a step would begin if it came next.
    pub fn start(&self, bench: &Bench, step: usize) -> u64 {
        (bench.free + self.setup(bench.batch, step)).max(bench.ready[step])
    }

    /// Does a step; returns when it began.
    pub fn take(&self, bench: &mut Bench, step: usize) -> u64 {
        let start = self.start(bench, step);
        bench.free = start + self.hands(step);
        bench.batch = self.steps[step].batch;
        bench.done = bench
            .done
            .max(bench.free + u64::from(self.steps[step].wait_min));
        for &(next, delay) in &self.next[step] {
            bench.ready[next] = bench.ready[next].max(bench.free + delay);
        }
        start
    }

    /// Total time of an order that respects precedence.
    pub fn total(&self, order: &[usize]) -> u64 {
        let mut bench = self.bench();
        order.iter().for_each(|&step| {
            self.take(&mut bench, step);
        });
        bench.done
    }

    /// Total time when these steps follow on what the bench has behind it, if it is below `limit`; given up as soon as it
    /// cannot be.
    pub fn total_below(&self, bench: &mut Bench, steps: &[usize], limit: u64) -> Option<u64> {
        let mut left: u64 = steps.iter().map(|&step| self.hands(step)).sum();
        for &step in steps {
            self.take(bench, step);
            left -= self.hands(step);
            if bench.free + self.tail[step].max(left) >= limit {
                return None;
            }
        }
        Some(bench.done).filter(|done| *done < limit)
    }
}

impl Bench {
    /// Becomes a copy without new memory.
    pub fn copy(&mut self, other: &Self) {
        (self.free, self.batch, self.done) = (other.free, other.batch, other.done);
        self.ready.copy_from_slice(&other.ready);
    }
}

fn check(steps: &[Step]) -> Result<(), ScheduleError> {
    let links = steps.iter().map(|step| step.after.len()).sum();
    for (what, given, most) in [
        ("steps", steps.len(), MOST_STEPS),
        ("links", links, MOST_LINKS),
    ] {
        if given > most {
            return Err(ScheduleError::TooMany { what, given, most });
        }
    }
    for (i, step) in steps.iter().enumerate() {
        let longest = step.hands_min.max(step.wait_min).max(step.setup_min);
        if longest > LONGEST_MIN {
            return Err(ScheduleError::TooLong {
                step: i,
                given_min: longest,
            });
        }
        if let Some(after) = step.after.iter().find(|after| after.step >= steps.len()) {
            return Err(ScheduleError::NoSuchStep {
                step: i,
                named: after.step,
            });
        }
    }
    Ok(())
}

/// Steps in an order that respects precedence (Kahn 1962), or a circle.
fn topological(steps: &[Step], next: &[Vec<(usize, u64)>]) -> Result<Vec<usize>, ScheduleError> {
    let mut waits: Vec<usize> = steps.iter().map(|step| step.after.len()).collect();
    let mut order: Vec<usize> = (0..steps.len()).filter(|&i| waits[i] == 0).collect();
    let mut done = 0;
    while let Some(&step) = order.get(done) {
        done += 1;
        for &(later, _) in &next[step] {
            waits[later] -= 1;
            if waits[later] == 0 {
                order.push(later);
            }
        }
    }
    match waits.iter().position(|&w| w > 0) {
        None => Ok(order),
        Some(stuck) => Err(ScheduleError::Cycle {
            steps: circle(steps, &waits, stuck),
        }),
    }
}

/// Walks back from a stuck step through stuck steps until one comes again; every stuck step has a stuck one before it.
fn circle(steps: &[Step], waits: &[usize], stuck: usize) -> Vec<usize> {
    let mut seen_at = vec![None; steps.len()];
    let mut walk = Vec::new();
    let mut step = stuck;
    while seen_at[step].is_none() {
        seen_at[step] = Some(walk.len());
        walk.push(step);
        step = steps[step]
            .after
            .iter()
            .map(|a| a.step)
            .find(|&before| waits[before] > 0)
            .unwrap_or(step);
    }
    let mut circle = walk.split_off(seen_at[step].unwrap_or(0));
    circle.reverse();
    let lowest = circle
        .iter()
        .enumerate()
        .min_by_key(|&(_, &step)| step)
        .map_or(0, |(i, _)| i);
    circle.rotate_left(lowest);
    circle
}

/// Finds a short work order for one pair of hands and says how far from the best it may be.
///
/// Deterministic. `optimal` is set only when the total meets the lower bound or branch and bound went through all
/// orders; otherwise the gap is what is not known.
///
/// # Errors
/// [`ScheduleError`], with the circle when steps wait for one another.
///
/// # Examples
/// Glue first: the joint is sanded while another cures, not after it.
///
/// ```
/// use lodewright_solve::schedule::{schedule, After, Step};
///
/// let glue = Step { hands_min: 5, wait_min: 60, ..Step::default() };
/// let sand = Step { hands_min: 20, ..Step::default() };
/// let cured = After { step: 0, cured: true };
/// let paint = Step { hands_min: 10, after: vec![cured], ..Step::default() };
/// let work = schedule(&[glue, sand, paint])?;
/// assert_eq!(work.order, [0, 1, 2]);
/// assert_eq!((work.total_min, work.optimal), (75, true));
/// # Ok::<(), lodewright_solve::schedule::ScheduleError>(())
/// ```
pub fn schedule(steps: &[Step]) -> Result<Schedule, ScheduleError> {
    let job = Job::new(steps)?;
    let mut lower_bound_min = bound::lower_bound(&job);
    let mut order = list::best_list(&job, lower_bound_min);
    let mut optimal = job.total(&order) == lower_bound_min;
    if !optimal {
        let (found, complete) = search::branch_and_bound(&job, order, lower_bound_min);
        order = found;
        optimal = complete || job.total(&order) == lower_bound_min;
    }
    let mut bench = job.bench();
    let (mut starts_min, mut cured_min) = (vec![0; steps.len()], vec![0; steps.len()]);
    for &step in &order {
        starts_min[step] = job.take(&mut bench, step);
        cured_min[step] = bench.free + u64::from(steps[step].wait_min);
    }
    if optimal {
        lower_bound_min = bench.done;
    }
    Ok(Schedule {
        order,
        starts_min,
        cured_min,
        total_min: bench.done,
        lower_bound_min,
        optimal,
    })
}
