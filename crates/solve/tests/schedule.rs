//! Work orders against exhaustive search and closed cases.

#![allow(clippy::unwrap_used, reason = "a test may stop on a broken setup")]

use lodewright_solve::schedule::{After, Schedule, ScheduleError, Step, schedule};
use proptest::prelude::*;

fn step(hands_min: u32, wait_min: u32, after: &[(usize, bool)]) -> Step {
    let after = after
        .iter()
        .map(|&(step, cured)| After { step, cured })
        .collect();
    Step {
        hands_min,
        wait_min,
        after,
        ..Step::default()
    }
}

fn batch(hands_min: u32, key: u32, setup_min: u32, after: &[(usize, bool)]) -> Step {
    Step {
        batch: Some(key),
        setup_min,
        ..step(hands_min, 0, after)
    }
}

/// Timing of an order worked out anew from the rules in words; none if it breaks precedence.
fn timed(steps: &[Step], order: &[usize]) -> Option<u64> {
    let (mut clock, mut total, mut last) = (0_u64, 0_u64, None);
    let mut ends = vec![None; steps.len()];
    for &i in order {
        let s = &steps[i];
        let setup = if s.batch.is_some() && s.batch != last {
            s.setup_min
        } else {
            0
        };
        let mut begin = clock + u64::from(setup);
        for a in &s.after {
            let end: u64 = ends[a.step]?;
            begin = begin.max(
                end + if a.cured {
                    u64::from(steps[a.step].wait_min)
                } else {
                    0
                },
            );
        }
        clock = begin + u64::from(s.hands_min);
        ends[i] = Some(clock);
        last = s.batch;
        total = total.max(clock + u64::from(s.wait_min));
    }
    Some(total)
}

fn permutations(n: usize) -> Vec<Vec<usize>> {
    let mut all = vec![vec![]];
    for i in 0..n {
        all = all
            .into_iter()
            .flat_map(|p: Vec<usize>| {
                (0..=p.len()).map(move |at| {
                    let mut q = p.clone();
                    q.insert(at, i);
                    q
                })
            })
            .collect();
    }
    all
}

fn check(steps: &[Step], found: &Schedule) {
    assert_eq!(timed(steps, &found.order), Some(found.total_min));
    assert!(found.lower_bound_min <= found.total_min);
    let mut sorted = found.order.clone();
    sorted.sort_unstable();
    assert!(sorted.into_iter().eq(0..steps.len()));
    for (i, s) in steps.iter().enumerate() {
        for a in &s.after {
            let end = found.starts_min[a.step] + u64::from(steps[a.step].hands_min);
            assert!(
                found.starts_min[i]
                    >= if a.cured {
                        found.cured_min[a.step]
                    } else {
                        end
                    }
            );
        }
    }
    for pair in found.order.windows(2) {
        assert!(
            found.starts_min[pair[1]]
                >= found.starts_min[pair[0]] + u64::from(steps[pair[0]].hands_min)
        );
    }
}

#[test]
fn work_goes_on_while_glue_cures() {
    // Glue (5, cures 60), sand it once cured (10), and 40 of other work: 5 + 60 + 10 with the work inside the wait.
    let steps = [
        step(40, 0, &[]),
        step(10, 0, &[(2, true)]),
        step(5, 60, &[]),
    ];
    let found = schedule(&steps).unwrap();
    assert_eq!(
        (found.order.as_slice(), found.total_min, found.optimal),
        (&[2, 0, 1][..], 75, true)
    );
    assert_eq!(found.starts_min, [5, 65, 0]);
    // Only the hands-on work must be over: nothing waits, except the cure at the very end.
    let steps = [
        step(40, 0, &[]),
        step(10, 0, &[(2, false)]),
        step(5, 60, &[]),
    ];
    assert_eq!(schedule(&steps).unwrap().total_min, 65);
}

#[test]
fn batches_share_a_set_up() {
    let steps = [
        batch(2, 1, 5, &[]),
        batch(2, 2, 5, &[]),
        batch(2, 1, 5, &[]),
        batch(2, 2, 5, &[]),
    ];
    let found = schedule(&steps).unwrap();
    assert_eq!((found.total_min, found.optimal), (18, true));
}

#[test]
fn nothing_to_do() {
    let found = schedule(&[]).unwrap();
    assert_eq!(
        (found.total_min, found.optimal, found.gap()),
        (0, true, 0.0)
    );
}

#[test]
fn circles_and_bad_numbers_are_named() {
    let steps = [
        step(1, 0, &[]),
        step(1, 0, &[(3, true)]),
        step(1, 0, &[(1, false), (0, false)]),
        step(1, 0, &[(2, false)]),
    ];
    assert_eq!(
        schedule(&steps),
        Err(ScheduleError::Cycle {
            steps: vec![1, 2, 3]
        })
    );
    assert_eq!(
        schedule(&[step(1, 0, &[(0, true)])]),
        Err(ScheduleError::Cycle { steps: vec![0] })
    );
    assert!(
        schedule(&[step(1, 0, &[(7, true)])])
            .unwrap_err()
            .to_string()
            .contains("step 7")
    );
    assert!(matches!(
        schedule(&[step(u32::MAX, 0, &[])]),
        Err(ScheduleError::TooLong { step: 0, .. })
    ));
    assert!(matches!(
        schedule(&vec![Step::default(); 2001]),
        Err(ScheduleError::TooMany { .. })
    ));
}

#[test]
fn a_long_job_is_within_a_few_percent() {
    // 300 steps in 60 chains of five with cures, invented; the gap is what is measured.
    let chain = |i: usize| {
        let before: &[(usize, bool)] = if i.is_multiple_of(5) {
            &[]
        } else {
            &[(i - 1, i.is_multiple_of(2))]
        };
        let wait = if i.is_multiple_of(3) { 30 } else { 0 };
        Step {
            batch: Some((i % 5) as u32),
            setup_min: 4,
            ..step(1 + (i * 7 % 11) as u32, wait, before)
        }
    };
    let steps: Vec<_> = (0..300).map(chain).collect();
    let found = schedule(&steps).unwrap();
    check(&steps, &found);
    println!(
        "300 steps: {} min, bound {}, gap {:.4}",
        found.total_min,
        found.lower_bound_min,
        found.gap()
    );
    assert!(found.gap() < 0.05, "{}", found.gap());
}

fn job(most: usize) -> impl Strategy<Value = Vec<Step>> {
    let wait = prop_oneof![Just(0), 0..30_u32];
    let one = (0..9_u32, wait, prop::option::of(0..3_u32), 0..5_u32).prop_map(
        |(hands_min, wait_min, batch, setup_min)| Step {
            hands_min,
            wait_min,
            batch,
            setup_min,
            after: vec![],
        },
    );
    prop::collection::vec((one, any::<[u8; 2]>()), 0..=most).prop_map(|list| {
        let link = |i: usize, l: u8| {
            (i > 0 && l.is_multiple_of(2)).then(|| After {
                step: usize::from(l / 4) % i,
                cured: l.is_multiple_of(4),
            })
        };
        let linked = list.into_iter().enumerate().map(|(i, (step, links))| Step {
            after: links.iter().filter_map(|&l| link(i, l)).collect(),
            ..step
        });
        linked.collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn agrees_with_all_permutations(steps in job(6)) {
        let found = schedule(&steps).unwrap();
        check(&steps, &found);
        let best = permutations(steps.len()).iter().filter_map(|p| timed(&steps, p)).min().unwrap();
        prop_assert!(found.optimal);
        prop_assert_eq!(found.total_min, best);
    }

    #[test]
    fn precedence_holds_and_bounds_are_bounds(steps in job(30)) {
        check(&steps, &schedule(&steps).unwrap());
    }
}

#[test]
fn seven_steps_against_all_permutations() {
    let steps = [
        step(4, 20, &[]),
        batch(3, 1, 2, &[(0, true)]),
        batch(5, 2, 3, &[]),
        batch(2, 1, 2, &[(2, false)]),
        step(6, 9, &[(2, true)]),
        batch(1, 2, 3, &[(4, false)]),
        step(8, 0, &[(1, false)]),
    ];
    let best = permutations(7)
        .iter()
        .filter_map(|p| timed(&steps, p))
        .min();
    let found = schedule(&steps).unwrap();
    check(&steps, &found);
    assert_eq!((Some(found.total_min), found.optimal), (best, true));
}

#[test]
fn one_machine_with_heads_and_tails() {
    // Seven jobs with head, time and tail; optimum 50 (the example of Carlier, European J. Operational Research 11,
    // 1982, from memory). All orders are tried as well, with the makespan worked out from heads and tails.
    let jobs = [
        (10, 5, 7),
        (13, 6, 26),
        (11, 7, 24),
        (20, 4, 21),
        (30, 3, 8),
        (0, 6, 17),
        (30, 2, 0),
    ];
    let makespan = |order: &Vec<usize>| {
        let (mut clock, mut total) = (0, 0);
        for &i in order {
            let (head, time, tail) = jobs[i];
            clock = head.max(clock) + time;
            total = total.max(clock + tail);
        }
        total
    };
    assert_eq!(permutations(7).iter().map(makespan).min(), Some(50));
    // A head is a step without hands-on work that must cure for so long.
    let heads = jobs.iter().map(|&(head, _, _)| step(0, head, &[]));
    let work = jobs
        .iter()
        .enumerate()
        .map(|(i, &(_, time, tail))| step(time, tail, &[(i, true)]));
    let found = schedule(&heads.chain(work).collect::<Vec<_>>()).unwrap();
    assert_eq!((found.total_min, found.optimal), (50, true));
}
