//! Every number and count is taken up to its limit and refused beyond it, by name; shares and areas against hand figures.

#![allow(clippy::unwrap_used, reason = "a test may stop on a broken setup")]

use lodewright_geometry::{
    LARGEST_MM, convex_hull, convex_intersection, inside_mm, polygon_area_mm2,
};
use lodewright_solve::hold::{
    DroopedPulls, HoldError, Joint, LARGEST_N, LetGo, Load, Peg, PegKind, Pull, Section,
    bond_stress_mpa, hold_account, let_go_account, snap_force_n, tip_force_n,
};
use lodewright_solve::packs::{MOST_PACK_SIZES, Pack, PackError, cheapest_packs};
use lodewright_solve::parity::{
    Constraint, LARGEST_NODES, ParityError, Pin, choose_signs, solve_parity,
};
use lodewright_solve::route::{LONGEST, MOST_NODES, RoundTrip, RouteError, round_trip};
use lodewright_solve::schedule::{
    After, LONGEST_MIN, MOST_LINKS, MOST_STEPS, Schedule, ScheduleError, Step, schedule,
};

const SQUARE: [[f64; 2]; 4] = [[-5.0, -5.0], [5.0, -5.0], [5.0, 5.0], [-5.0, 5.0]];

/// What a joint is made of, to be changed.
struct Case {
    pull: Pull,
    friction: f64,
    peg: Peg,
    load: Load,
}

fn account(change: impl Fn(&mut Case)) -> Option<&'static str> {
    let mut case = Case {
        pull: Pull {
            at_mm: [0.0; 2],
            force_n: 2.0,
        },
        friction: 0.3,
        peg: Peg {
            kind: PegKind::Round,
            at_mm: [0.0; 2],
            length_mm: 4.0,
            clearance_mm: 0.1,
            snug: true,
        },
        load: Load {
            weight_n: 0.1,
            centre_mm: [0.0, 0.0, 5.0],
        },
    };
    change(&mut case);
    refused(hold_account(&Joint {
        patch_mm: &SQUARE,
        pulls: &[case.pull],
        friction: case.friction,
        peg: case.peg,
        load: case.load,
        drooped: DroopedPulls::Unknown,
    }))
}

/// What the refused number is called; none where the numbers were taken.
fn refused<T>(answer: Result<T, HoldError>) -> Option<&'static str> {
    match answer {
        Err(HoldError::Value { what, .. }) => Some(what),
        _ => None,
    }
}

fn within(what: &str, low: f64, high: f64, answer: impl Fn(f64) -> Option<&'static str>) {
    for taken in [low, high] {
        assert_eq!(answer(taken), None, "{what} {taken}");
    }
    for beyond in [low.next_down(), high.next_up(), f64::NAN] {
        assert_eq!(answer(beyond), Some(what), "{beyond}");
    }
}

#[test]
fn the_numbers_of_a_joint_have_limits() {
    type Entry = (&'static str, f64, f64, fn(&mut Case, f64));
    let entries: [Entry; 8] = [
        (
            "position of a pull (mm)",
            -LARGEST_MM,
            LARGEST_MM,
            |c, v| {
                c.pull.at_mm[1] = v;
            },
        ),
        ("pull (N)", -LARGEST_N, LARGEST_N, |c, v| c.pull.force_n = v),
        ("friction coefficient", 0.0, 10.0, |c, v| c.friction = v),
        ("weight (N)", 1e-9, LARGEST_N, |c, v| c.load.weight_n = v),
        ("centre of mass (mm)", -LARGEST_MM, LARGEST_MM, |c, v| {
            c.load.centre_mm[2] = v;
        }),
        (
            "position of the peg (mm)",
            -LARGEST_MM,
            LARGEST_MM,
            |c, v| {
                c.peg.at_mm[0] = v;
            },
        ),
        ("length of the snug peg (mm)", 1e-3, LARGEST_MM, |c, v| {
            (c.peg.length_mm, c.peg.clearance_mm) = (v, 0.0);
        }),
        ("clearance of the snug peg (mm)", 0.0, 4.0, |c, v| {
            c.peg.clearance_mm = v;
        }),
    ];
    for (what, low, high, set) in entries {
        within(what, low, high, |value| account(|case| set(case, value)));
    }
}

#[test]
fn numbers_of_a_peg_that_is_not_used_are_passed_over() {
    let unused = |kind, snug| {
        account(|case| {
            case.peg = Peg {
                kind,
                at_mm: [f64::NAN; 2],
                length_mm: f64::NAN,
                clearance_mm: f64::NAN,
                snug,
            };
        })
    };
    assert_eq!(unused(PegKind::None, true), None);
    assert_eq!(unused(PegKind::Keyed, false), None);
    assert_eq!(
        unused(PegKind::Keyed, true),
        Some("length of the snug peg (mm)")
    );
    assert_eq!(
        unused(PegKind::Round, false),
        Some("position of the peg (mm)")
    );
}

const PULLS: [Pull; 1] = [Pull {
    at_mm: [0.0; 2],
    force_n: 2.0,
}];

#[test]
fn the_numbers_of_a_thin_part_have_limits() {
    let round = |diameter_mm| Section::Round { diameter_mm };
    let rod = round(1.0);
    within("height of the force (mm)", 1e-3, LARGEST_MM, |v| {
        refused(tip_force_n(&SQUARE, &PULLS, v))
    });
    within("size of the section (mm)", 1e-6, 1e6, |v| {
        refused(round(v).modulus_mm3())
    });
    for side in 0..2 {
        within("size of the section (mm)", 1e-6, 1e6, |v| {
            let mut size = [1.0; 2];
            size[side] = v;
            let [across_mm, along_mm] = size;
            let section = Section::Rectangle {
                across_mm,
                along_mm,
            };
            refused(section.modulus_mm3())
        });
    }
    within("length of the cantilever (mm)", 1e-3, LARGEST_MM, |v| {
        refused(snap_force_n(rod, v, 30.0, 1.5))
    });
    within("strength (MPa)", 0.0, 1e6, |v| {
        refused(snap_force_n(rod, 9.0, v, 1.5))
    });
    within("stress concentration factor", 1.0, 100.0, |v| {
        refused(snap_force_n(rod, 9.0, 30.0, v))
    });
    within("pull (N)", 0.0, LARGEST_N, |v| {
        refused(bond_stress_mpa(v, 5.0, 2.0))
    });
    within("diameter of the magnet (mm)", 1e-6, 1e6, |v| {
        refused(bond_stress_mpa(2.0, v, 2.0))
    });
    within("depth of the hole (mm)", 0.0, 1e6, |v| {
        refused(bond_stress_mpa(2.0, 5.0, v))
    });
    within("safety factor", 1.0, 100.0, |safety_factor| {
        refused(let_go_account(&LetGo {
            patch_mm: &SQUARE,
            pulls: &PULLS,
            peg: Peg::default(),
            height_mm: 20.0,
            section: rod,
            length_mm: 9.0,
            strength_mpa: 30.0,
            stress_concentration: 1.5,
            safety_factor,
        }))
    });
}

#[test]
fn a_job_has_limits() {
    assert_eq!(
        schedule(&vec![Step::default(); MOST_STEPS])
            .unwrap()
            .total_min,
        0
    );
    let too_many = |what, given, most| Err(ScheduleError::TooMany { what, given, most });
    let more = vec![Step::default(); MOST_STEPS + 1];
    assert_eq!(
        schedule(&more),
        too_many("steps", MOST_STEPS + 1, MOST_STEPS)
    );
    let linked = |links: usize| {
        let first = After {
            step: 0,
            cured: false,
        };
        let last = Step {
            after: vec![first; links],
            ..Step::default()
        };
        schedule(&[Step::default(), last])
    };
    assert_eq!(linked(MOST_LINKS).unwrap().order, [0, 1]);
    assert_eq!(
        linked(MOST_LINKS + 1),
        too_many("links", MOST_LINKS + 1, MOST_LINKS)
    );
    let set: [fn(&mut Step, u32); 3] = [
        |s, v| s.hands_min = v,
        |s, v| s.wait_min = v,
        |s, v| (s.setup_min, s.batch) = (v, Some(1)),
    ];
    for set in set {
        let lasting = |minutes| {
            let mut step = Step::default();
            set(&mut step, minutes);
            schedule(&[step])
        };
        assert_eq!(
            lasting(LONGEST_MIN).unwrap().total_min,
            u64::from(LONGEST_MIN)
        );
        let given_min = LONGEST_MIN + 1;
        assert_eq!(
            lasting(given_min),
            Err(ScheduleError::TooLong { step: 0, given_min })
        );
    }
}

#[test]
fn a_table_of_distances_has_limits() {
    let table = |n: usize| round_trip(&vec![vec![0; n]; n]);
    assert_eq!(table(MOST_NODES).unwrap().order.len(), MOST_NODES);
    let given = MOST_NODES + 1;
    assert_eq!(table(given), Err(RouteError::TooManyNodes { given }));
    assert_eq!(
        round_trip(&[vec![0, LONGEST], vec![1, 0]]).unwrap().length,
        1_000_000_001
    );
    let far = [vec![0, 1], vec![LONGEST + 1, 0]];
    let (from, to, given) = (1, 0, LONGEST + 1);
    assert_eq!(
        round_trip(&far),
        Err(RouteError::TooFar { from, to, given })
    );
}

#[test]
fn orders_and_parity_systems_have_limits() {
    let one = Pack {
        count: 1,
        price_cents: 1,
    };
    assert_eq!(
        cheapest_packs(&[one; MOST_PACK_SIZES], 3)
            .unwrap()
            .total_cents,
        3
    );
    let given = MOST_PACK_SIZES + 1;
    assert_eq!(
        cheapest_packs(&[one; 65], 3),
        Err(PackError::TooManyPackSizes { given })
    );
    assert_eq!(
        solve_parity(LARGEST_NODES, &[], &[])
            .unwrap()
            .components
            .len(),
        LARGEST_NODES
    );
    let given = LARGEST_NODES + 1;
    assert_eq!(
        solve_parity(given, &[], &[]),
        Err(ParityError::TooManyNodes { given })
    );
    let last = Constraint {
        a: 0,
        b: 1,
        differ: true,
    };
    let (node, nodes) = (2, 2);
    let missing = Err(ParityError::NoSuchNode { node, nodes });
    assert_eq!(
        solve_parity(2, &[last], &[]).unwrap().values,
        [Some(true), Some(false)]
    );
    assert_eq!(
        solve_parity(2, &[Constraint { b: 2, ..last }], &[]),
        missing
    );
    assert_eq!(
        solve_parity(2, &[Constraint { a: 2, ..last }], &[]),
        missing
    );
    let pin = Pin { node, value: true };
    assert_eq!(solve_parity(2, &[last], &[pin]), missing);
    let solved = solve_parity(2, &[last], &[]).unwrap();
    assert_eq!(
        choose_signs(&solved, &[pin]),
        Err(ParityError::NoSuchNode { node, nodes })
    );
}

#[test]
fn what_is_not_known_is_a_share_of_the_bound() {
    let work = |optimal, total_min, lower_bound_min| Schedule {
        order: Vec::new(),
        starts_min: Vec::new(),
        cured_min: Vec::new(),
        total_min,
        lower_bound_min,
        optimal,
    };
    assert_eq!(work(false, 12, 8).gap(), 0.5);
    assert_eq!(work(true, 12, 8).gap(), 0.0);
    assert_eq!(work(false, 12, 0).gap(), 0.0);
    let trip = |optimal, length, lower_bound| RoundTrip {
        order: Vec::new(),
        length,
        lower_bound,
        optimal,
    };
    assert_eq!(trip(false, 12, 8).gap(), 0.5);
    assert_eq!(trip(true, 12, 8).gap(), 0.0);
    assert_eq!(trip(false, 12, 0).gap(), f64::INFINITY);
}

#[test]
fn hulls_and_areas_by_hand() {
    let corner = [LARGEST_MM, -LARGEST_MM];
    assert_eq!(convex_hull(&[corner]).unwrap(), [corner]);
    for bad in [LARGEST_MM.next_up(), -LARGEST_MM.next_up(), f64::NAN] {
        let error = convex_hull(&[[0.0; 2], [0.0, bad]]).unwrap_err();
        assert_eq!(error.index, 1);
    }
    // Points on an edge and equal places are left out, -0 and 0 are one place.
    let points = [
        [5.0, 5.0],
        [0.0, -5.0],
        [-5.0, 5.0],
        [5.0, -5.0],
        [-5.0, -5.0],
        [0.0, 0.0],
    ];
    assert_eq!(convex_hull(&points).unwrap(), SQUARE);
    assert_eq!(convex_hull(&[[0.0, 0.0], [-0.0, 0.0]]).unwrap().len(), 1);
    assert_eq!(polygon_area_mm2(&SQUARE), 100.0);
    let clockwise: Vec<[f64; 2]> = SQUARE.into_iter().rev().collect();
    assert_eq!(polygon_area_mm2(&clockwise), -100.0);
    assert_eq!(polygon_area_mm2(&[]), 0.0);
    assert_eq!(inside_mm(&SQUARE, [3.0, 1.0]), 2.0);
    assert_eq!(inside_mm(&SQUARE, [8.0, 0.0]), -3.0);
    assert_eq!(inside_mm(&SQUARE[..2], [0.0, 0.0]), f64::NEG_INFINITY);
    let moved = |by: f64| SQUARE.map(|p| [p[0] + by, p[1] + by]);
    let common = convex_intersection(&SQUARE, &moved(4.0)).unwrap();
    assert_eq!(common, [[-1.0, -1.0], [5.0, -1.0], [5.0, 5.0], [-1.0, 5.0]]);
    assert_eq!(convex_intersection(&SQUARE, &SQUARE).unwrap(), SQUARE);
    // A corner that lies on the other's edge, a touch, and none at all.
    let diamond = [[0.0, -5.0], [5.0, 0.0], [0.0, 5.0], [-5.0, 0.0]];
    let area = |a: &[[f64; 2]]| polygon_area_mm2(&convex_intersection(&SQUARE, a).unwrap());
    assert_eq!(area(&diamond), 50.0);
    assert_eq!((area(&moved(10.0)), area(&moved(11.0))), (0.0, 0.0));
}
