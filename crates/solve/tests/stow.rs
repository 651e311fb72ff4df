//! Stowing against a plain check of room, and against boxes cut from a full one.

#![allow(clippy::unwrap_used, reason = "a test may stop on a broken setup")]

use lodewright_solve::stow::{Item, MOST_ITEMS, StowError, Stowed, layers, stow};
use oorandom::Rand32;
use proptest::prelude::*;

fn any_way(size: [u32; 3]) -> Item {
    Item {
        size,
        upright: false,
    }
}

/// Said anew in words: every box is one of the items in one of its turns, once, inside its space, and apart from the others.
fn check(items: &[Item], spaces: &[[u32; 3]], found: &Stowed) {
    let mut seen = vec![0; items.len()];
    for (n, p) in found.placed.iter().enumerate() {
        seen[p.item] += 1;
        let item = items[p.item];
        let mut a = p.size;
        let mut b = item.size;
        a.sort_unstable();
        b.sort_unstable();
        assert_eq!(a, b);
        assert!(!item.upright || p.size[2] == item.size[2]);
        let inside = |k: usize| p.at[k] + p.size[k] <= spaces[p.space][k];
        assert!((0..3).all(inside), "{p:?} leaves its space");
        for q in &found.placed[..n] {
            let apart = |k: usize| p.at[k] + p.size[k] <= q.at[k] || q.at[k] + q.size[k] <= p.at[k];
            assert!(
                p.space != q.space || (0..3).any(apart),
                "{p:?} overlaps {q:?}"
            );
        }
    }
    found
        .too_large
        .iter()
        .chain(&found.left)
        .for_each(|i| seen[*i] += 1);
    assert!(
        seen.iter().all(|n| *n == 1),
        "every box is told of once: {seen:?}"
    );
    assert!(found.volume <= found.volume_bound);
}

#[test]
fn eight_cubes_fill_a_cube() {
    let items = vec![any_way([5, 5, 5]); 8];
    let found = stow(&items, &[[10, 10, 10]], 1).unwrap();
    check(&items, &[[10, 10, 10]], &found);
    assert_eq!((found.placed.len(), found.volume), (8, 1000));
    let drawn = layers(&found.placed, 0);
    assert_eq!(drawn.iter().map(Vec::len).collect::<Vec<_>>(), [4, 4]);
}

#[test]
fn a_stick_is_laid_down_unless_it_must_stand() {
    let tall = Item {
        size: [2, 2, 9],
        upright: true,
    };
    let found = stow(&[tall], &[[10, 10, 3]], 1).unwrap();
    assert_eq!(
        (found.too_large.as_slice(), found.placed.len()),
        (&[0][..], 0)
    );
    let lying = Item {
        upright: false,
        ..tall
    };
    assert_eq!(stow(&[lying], &[[10, 10, 3]], 1).unwrap().placed.len(), 1);
}

#[test]
fn the_second_space_takes_what_the_first_cannot() {
    let items = vec![any_way([6, 6, 6]); 3];
    let spaces = [[6, 6, 6], [6, 12, 6]];
    let found = stow(&items, &spaces, 1).unwrap();
    check(&items, &spaces, &found);
    assert_eq!(found.placed.len(), 3);
    let found = stow(&items, &spaces[..1], 1).unwrap();
    assert_eq!((found.left.len(), found.too_large.len()), (2, 0));
}

#[test]
fn nothing_and_too_much_are_answered() {
    assert_eq!(stow(&[], &[], 1).unwrap().placed, []);
    assert_eq!(stow(&[any_way([1, 1, 1])], &[], 1).unwrap().too_large, [0]);
    let many = vec![any_way([1, 1, 1]); MOST_ITEMS + 1];
    assert!(matches!(
        stow(&many, &[], 1),
        Err(StowError::TooMany { given: 401, .. })
    ));
    let none = [any_way([3, 0, 1])];
    let said = stow(&none, &[], 1).unwrap_err().to_string();
    assert!(said.contains("edge of 0"), "{said}");
}

/// A full box cut in two again and again, so that a perfect way of stowing exists.
fn cut_up(seed: u64, pieces: usize, whole: [u32; 3]) -> Vec<Item> {
    let mut random = Rand32::new(seed);
    let mut list = vec![whole];
    while list.len() < pieces {
        // The largest piece is cut, across a random edge that is long enough.
        let (n, _) = list
            .iter()
            .enumerate()
            .max_by_key(|(n, s)| (s.iter().map(|e| u64::from(*e)).product::<u64>(), *n))
            .unwrap();
        let size = list[n];
        let k = random.rand_range(0..3) as usize;
        if size[k] < 8 {
            continue;
        }
        let at = random.rand_range(size[k] / 4..size[k] * 3 / 4);
        list[n][k] = at;
        let mut rest = size;
        rest[k] = size[k] - at;
        list.push(rest);
    }
    list.into_iter().map(any_way).collect()
}

/// Perfect instances, as the packing literature makes them: the least and the middle share of the volume that gets in.
#[test]
fn boxes_cut_from_a_full_one_go_back_nearly_all() {
    let whole = [120, 80, 60];
    for (pieces, least, middle) in [(8, 0.95, 1.00), (20, 0.84, 0.90), (60, 0.79, 0.81)] {
        let mut shares: Vec<f64> = (0..10)
            .map(|seed| {
                let items = cut_up(seed, pieces, whole);
                let found = stow(&items, &[whole], 7).unwrap();
                check(&items, &[whole], &found);
                found.volume as f64 / found.volume_bound as f64
            })
            .collect();
        shares.sort_by(f64::total_cmp);
        println!(
            "{pieces} pieces: least {:.3}, middle {:.3}, most {:.3}",
            shares[0], shares[5], shares[9]
        );
        assert!(
            shares[0] >= least && shares[5] >= middle,
            "{pieces}: {shares:?}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn nothing_overlaps_and_nothing_sticks_out(
        sizes in prop::collection::vec((prop::array::uniform3(1u32..40), any::<bool>()), 0..25),
        spaces in prop::collection::vec(prop::array::uniform3(1u32..60), 0..4),
        seed in any::<u64>(),
    ) {
        let items: Vec<Item> = sizes.iter().map(|(size, upright)| Item { size: *size, upright: *upright }).collect();
        let found = stow(&items, &spaces, seed).unwrap();
        check(&items, &spaces, &found);
        prop_assert_eq!(&found, &stow(&items, &spaces, seed).unwrap());
        for space in 0..spaces.len() {
            let drawn = layers(&found.placed, space);
            prop_assert_eq!(drawn.iter().map(Vec::len).sum::<usize>(), found.placed.iter().filter(|p| p.space == space).count());
            for layer in drawn {
                for (n, p) in layer.iter().enumerate() {
                    for q in &layer[..n] {
                        let apart = |k: usize| p.end()[k] <= q.at[k] || q.end()[k] <= p.at[k];
                        prop_assert!(apart(0) || apart(1), "{:?} above {:?}", p, q);
                    }
                }
            }
        }
    }
}

#[test]
fn boxes_overlap_where_they_share_room_and_not_where_they_touch() {
    let lies = |at: [u32; 3], space: usize| lodewright_solve::stow::Placed {
        item: 0,
        space,
        at,
        size: [2, 3, 4],
    };
    let first = lies([0; 3], 0);
    assert!(first.overlaps(&lies([1, 2, 3], 0)) && lies([1, 2, 3], 0).overlaps(&first));
    for beside in [[2, 0, 0], [0, 3, 0], [0, 0, 4]] {
        assert!(!first.overlaps(&lies(beside, 0)) && !lies(beside, 0).overlaps(&first));
    }
    assert!(!first.overlaps(&lies([0; 3], 1)));
}
