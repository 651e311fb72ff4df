//! Round trips against published optima of TSPLIB (G. Reinelt, ORSA J. Computing 3, 1991) and exhaustive search.

use super::*;
use proptest::prelude::*;

/// gr17, lower triangle with diagonal; optimum 2085 (TSPLIB; the numbers as in the PyPI package tsplib95).
const GR17: [u32; 153] = [
    0, 633, 0, 257, 390, 0, 91, 661, 228, 0, 412, 227, 169, 383, 0, 150, 488, 112, 120, 267, 0, 80,
    572, 196, 77, 351, 63, 0, 134, 530, 154, 105, 309, 34, 29, 0, 259, 555, 372, 175, 338, 264,
    232, 249, 0, 505, 289, 262, 476, 196, 360, 444, 402, 495, 0, 353, 282, 110, 324, 61, 208, 292,
    250, 352, 154, 0, 324, 638, 437, 240, 421, 329, 297, 314, 95, 578, 435, 0, 70, 567, 191, 27,
    346, 83, 47, 68, 189, 439, 287, 254, 0, 211, 466, 74, 182, 243, 105, 150, 108, 326, 336, 184,
    391, 145, 0, 268, 420, 53, 239, 199, 123, 207, 165, 383, 240, 140, 448, 202, 57, 0, 246, 745,
    472, 237, 528, 364, 332, 349, 202, 685, 542, 157, 289, 426, 483, 0, 121, 518, 142, 84, 297, 35,
    29, 36, 236, 390, 238, 301, 55, 96, 153, 336, 0,
];

/// burma14, geographic coordinates in degrees and minutes; optimum 3323 (TSPLIB).
const BURMA14: [[f64; 2]; 14] = [
    [16.47, 96.10],
    [16.47, 94.44],
    [20.09, 92.54],
    [22.39, 93.37],
    [25.23, 97.24],
    [22.00, 96.05],
    [20.47, 97.02],
    [17.20, 96.29],
    [16.30, 97.38],
    [14.05, 98.12],
    [16.53, 97.38],
    [21.52, 95.59],
    [19.41, 97.13],
    [20.09, 94.55],
];

/// berlin52, plane coordinates; optimum 7542 (TSPLIB).
const BERLIN52: [[u32; 2]; 52] = [
    [565, 575],
    [25, 185],
    [345, 750],
    [945, 685],
    [845, 655],
    [880, 660],
    [25, 230],
    [525, 1000],
    [580, 1175],
    [650, 1130],
    [1605, 620],
    [1220, 580],
    [1465, 200],
    [1530, 5],
    [845, 680],
    [725, 370],
    [145, 665],
    [415, 635],
    [510, 875],
    [560, 365],
    [300, 465],
    [520, 585],
    [480, 415],
    [835, 625],
    [975, 580],
    [1215, 245],
    [1320, 315],
    [1250, 400],
    [660, 180],
    [410, 250],
    [420, 555],
    [575, 665],
    [1150, 1160],
    [700, 580],
    [685, 595],
    [685, 610],
    [770, 610],
    [795, 645],
    [720, 635],
    [760, 650],
    [475, 960],
    [95, 260],
    [875, 920],
    [700, 500],
    [555, 815],
    [830, 485],
    [1170, 65],
    [830, 610],
    [605, 625],
    [595, 360],
    [1340, 725],
    [1740, 245],
];

/// br17, asymmetric, rows in full; optimum 39 (TSPLIB). The diagonal is ignored.
const BR17: [[u32; 17]; 17] = [
    [9999, 3, 5, 48, 48, 8, 8, 5, 5, 3, 3, 0, 3, 5, 8, 8, 5],
    [3, 9999, 3, 48, 48, 8, 8, 5, 5, 0, 0, 3, 0, 3, 8, 8, 5],
    [
        5, 3, 9999, 72, 72, 48, 48, 24, 24, 3, 3, 5, 3, 0, 48, 48, 24,
    ],
    [
        48, 48, 74, 9999, 0, 6, 6, 12, 12, 48, 48, 48, 48, 74, 6, 6, 12,
    ],
    [
        48, 48, 74, 0, 9999, 6, 6, 12, 12, 48, 48, 48, 48, 74, 6, 6, 12,
    ],
    [8, 8, 50, 6, 6, 9999, 0, 8, 8, 8, 8, 8, 8, 50, 0, 0, 8],
    [8, 8, 50, 6, 6, 0, 9999, 8, 8, 8, 8, 8, 8, 50, 0, 0, 8],
    [5, 5, 26, 12, 12, 8, 8, 9999, 0, 5, 5, 5, 5, 26, 8, 8, 0],
    [5, 5, 26, 12, 12, 8, 8, 0, 9999, 5, 5, 5, 5, 26, 8, 8, 0],
    [3, 0, 3, 48, 48, 8, 8, 5, 5, 9999, 0, 3, 0, 3, 8, 8, 5],
    [3, 0, 3, 48, 48, 8, 8, 5, 5, 0, 9999, 3, 0, 3, 8, 8, 5],
    [0, 3, 5, 48, 48, 8, 8, 5, 5, 3, 3, 9999, 3, 5, 8, 8, 5],
    [3, 0, 3, 48, 48, 8, 8, 5, 5, 0, 0, 3, 9999, 3, 8, 8, 5],
    [
        5, 3, 0, 72, 72, 48, 48, 24, 24, 3, 3, 5, 3, 9999, 48, 48, 24,
    ],
    [8, 8, 50, 6, 6, 0, 0, 8, 8, 8, 8, 8, 8, 50, 9999, 0, 8],
    [8, 8, 50, 6, 6, 0, 0, 8, 8, 8, 8, 8, 8, 50, 0, 9999, 8],
    [5, 5, 26, 12, 12, 8, 8, 0, 0, 5, 5, 5, 5, 26, 8, 8, 9999],
];

fn gr17() -> Vec<Vec<u32>> {
    let at = |i: usize, j: usize| GR17[i.max(j) * (i.max(j) + 1) / 2 + i.min(j)];
    (0..17)
        .map(|i| (0..17).map(|j| at(i, j)).collect())
        .collect()
}

/// TSPLIB's GEO distance, with its own pi and earth radius.
#[allow(
    clippy::approx_constant,
    reason = "the published distances use this value of pi"
)]
fn burma14() -> Vec<Vec<u32>> {
    let radians = |x: f64| {
        let degrees = x.trunc();
        3.141592 * (degrees + 5.0 * (x - degrees) / 3.0) / 180.0
    };
    let distance = |a: [f64; 2], b: [f64; 2]| {
        let q1 = libm::cos(radians(a[1]) - radians(b[1]));
        let q2 = libm::cos(radians(a[0]) - radians(b[0]));
        let q3 = libm::cos(radians(a[0]) + radians(b[0]));
        (6378.388 * libm::acos(0.5 * ((1.0 + q1) * q2 - (1.0 - q1) * q3)) + 1.0) as u32
    };
    BURMA14
        .iter()
        .map(|&a| BURMA14.iter().map(|&b| distance(a, b)).collect())
        .collect()
}

fn berlin52() -> Vec<Vec<u32>> {
    let distance = |a: [u32; 2], b: [u32; 2]| {
        let square =
            |i: usize| (f64::from(a[i]) - f64::from(b[i])) * (f64::from(a[i]) - f64::from(b[i]));
        ((square(0) + square(1)).sqrt() + 0.5) as u32
    };
    BERLIN52
        .iter()
        .map(|&a| BERLIN52.iter().map(|&b| distance(a, b)).collect())
        .collect()
}

fn visits_all(trip: &RoundTrip, distances: &[Vec<u32>]) {
    let mut sorted = trip.order.clone();
    sorted.sort_unstable();
    assert!(sorted.into_iter().eq(0..distances.len()));
    assert_eq!(trip.order.first().copied().unwrap_or(0), 0);
    let next = trip.order.iter().cycle().skip(1);
    let length: u64 = trip
        .order
        .iter()
        .zip(next)
        .map(|(&a, &b)| u64::from(distances[a][b]))
        .sum();
    assert_eq!(trip.length, if distances.len() < 2 { 0 } else { length });
    assert!(trip.lower_bound <= trip.length);
}

#[test]
fn two_nodes_are_bounded_by_their_own_way() {
    let distances = vec![vec![0, 63], vec![63, 0]];
    let trip = bounded_round_trip(&Table(&distances));
    assert_eq!((trip.length, trip.lower_bound), (126, 126));
}

#[test]
fn published_optima() {
    let br17: Vec<Vec<u32>> = BR17.iter().map(|row| row.to_vec()).collect();
    for (name, distances, optimum) in [
        ("burma14", burma14(), 3323),
        ("gr17", gr17(), 2085),
        ("br17", br17, 39),
    ] {
        let trip = round_trip(&distances).unwrap();
        visits_all(&trip, &distances);
        assert_eq!((trip.length, trip.optimal), (optimum, true), "{name}");
    }
}

#[test]
fn the_way_of_many_nodes_on_published_instances() {
    for (name, distances, optimum, within) in [
        ("burma14", burma14(), 3323, 0.01),
        ("gr17", gr17(), 2085, 0.01),
        ("berlin52", berlin52(), 7542, 0.03),
    ] {
        let trip = bounded_round_trip(&check(&distances).unwrap());
        visits_all(&trip, &distances);
        println!(
            "{name}: {} of {optimum}, bound {}",
            trip.length, trip.lower_bound
        );
        assert!(
            trip.lower_bound <= optimum && trip.length >= optimum,
            "{name}: {trip:?}"
        );
        assert!(
            trip.length as f64 <= optimum as f64 * (1.0 + within),
            "{name}: {}",
            trip.length
        );
        assert!(
            trip.lower_bound as f64 >= optimum as f64 * 0.98,
            "{name}: {}",
            trip.lower_bound
        );
        assert_eq!(trip.optimal, trip.lower_bound == trip.length);
    }
}

#[test]
fn few_nodes_and_bad_tables() {
    assert!(round_trip(&[]).unwrap().order.is_empty());
    assert_eq!(round_trip(&[vec![7]]).unwrap().length, 0);
    assert_eq!(round_trip(&[vec![0, 3], vec![4, 0]]).unwrap().length, 7);
    assert_eq!(
        round_trip(&[vec![0, 1], vec![0]]),
        Err(RouteError::NotSquare {
            row: 1,
            given: 1,
            needed: 2
        })
    );
    assert!(
        round_trip(&[vec![0, u32::MAX], vec![0, 0]])
            .unwrap_err()
            .to_string()
            .contains("from 0 to 1")
    );
    assert!(round_trip(&vec![vec![]; 201]).is_err());
    // Nothing overflows at the limits.
    let far = vec![vec![LONGEST; 40]; 40];
    assert_eq!(round_trip(&far).unwrap().length, 40 * u64::from(LONGEST));
    assert_eq!(round_trip(&vec![vec![u32::MAX; 1]; 1]).unwrap().length, 0);
}

fn table(most: usize) -> impl Strategy<Value = Vec<Vec<u32>>> {
    (1..=most).prop_flat_map(|n| prop::collection::vec(prop::collection::vec(0..100_u32, n), n))
}

fn brute(distances: &[Vec<u32>], at: usize, left: &mut Vec<usize>) -> u64 {
    if left.is_empty() {
        return u64::from(distances[at][0]);
    }
    let mut least = u64::MAX;
    for i in 0..left.len() {
        let next = left.swap_remove(i);
        least = least.min(u64::from(distances[at][next]) + brute(distances, next, left));
        left.push(next);
        let last = left.len() - 1;
        left.swap(i, last);
    }
    least
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn agrees_with_exhaustive_search(distances in table(7)) {
        let trip = round_trip(&distances).unwrap();
        visits_all(&trip, &distances);
        if distances.len() > 1 {
            prop_assert_eq!(trip.length, brute(&distances, 0, &mut (1..distances.len()).collect()));
            let checked = check(&distances).unwrap();
            prop_assert!(assignment::bound(&checked) <= trip.length);
            let bounded = bounded_round_trip(&checked);
            visits_all(&bounded, &distances);
            prop_assert!(bounded.length >= trip.length && bounded.lower_bound <= trip.length);
        }
    }

    #[test]
    fn symmetric_bounds_are_bounds(distances in table(8)) {
        let n = distances.len();
        let even: Vec<Vec<u32>> = (0..n).map(|i| (0..n).map(|j| distances[i.min(j)][i.max(j)]).collect()).collect();
        prop_assume!(n > 2);
        prop_assert!(one_tree::bound(&check(&even).unwrap()) <= round_trip(&even).unwrap().length);
    }
}
