//! Differences of two plans: all taken give the other plan, none leave this one, any of them leave a legal plan.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]

mod support;

use lodewright_kit::{Edit, Fit, Inside, KeptApart, Pin, Plan};
use lodewright_planfile::{Change, PlanEntry, differences, read, taking, with_needed};
use proptest::prelude::*;

/// Without what means nothing: order of cells, cells without seats, blanks around names.
fn bare(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    plan.title = plan.title.trim().to_owned();
    for variant in &mut plan.variants {
        variant.name = variant.name.trim().to_owned();
        variant.cells.retain(|c| !c.seats.is_empty());
        variant.cells.sort_by(|a, b| a.socket.cmp(&b.socket));
    }
    plan
}

/// Names that a page could give, lists in an order drawn by lot, and done marks.
fn plans() -> impl Strategy<Value = Plan> {
    (support::plans(), any::<[u8; 3]>()).prop_map(|(mut plan, by)| {
        let named = |name: &str| match name.trim() {
            "" => "x".to_owned(),
            name => name.to_owned(),
        };
        plan.title = named(&plan.title);
        for variant in &mut plan.variants {
            variant.name = named(&variant.name);
        }
        let turn = |n: usize, by: u8| usize::from(by) % n;
        let (p, s, v) = (plan.parts.len(), plan.sockets.len(), plan.variants.len());
        plan.parts.rotate_left(turn(p, by[0]));
        plan.sockets.rotate_left(turn(s, by[1]));
        plan.variants.rotate_left(turn(v, by[2]));
        plan.progress.marks.clear();
        plan.progress.done = by.iter().map(|b| format!("step-{}", b % 4)).collect();
        plan.progress.done.dedup();
        plan.progress.done.sort();
        plan.progress.done.dedup();
        plan.progress.done.rotate_left(usize::from(by[0] % 2));
        plan
    })
}

proptest! {
    #![proptest_config(support::cases(128))]

    #[test]
    fn all_taken_give_the_other_plan(ours in plans(), theirs in plans()) {
        let list = differences(&ours, &theirs);
        let all: Vec<usize> = (0..list.len()).collect();
        let merged = ours.edited(&taking(&list, &all)).unwrap();
        prop_assert_eq!(bare(&merged), bare(&theirs));
        prop_assert_eq!(differences(&merged, &theirs), vec![]);
    }

    #[test]
    fn none_taken_leave_the_plan(ours in plans(), theirs in plans()) {
        let list = differences(&ours, &theirs);
        prop_assert_eq!(differences(&ours, &ours), vec![]);
        prop_assert_eq!(bare(&ours.edited(&taking(&list, &[])).unwrap()), bare(&ours));
    }

    #[test]
    fn any_taken_with_what_they_need_leave_a_legal_plan_or_are_refused(
        ours in plans(), theirs in plans(), lot in any::<u64>(),
    ) {
        let list = differences(&ours, &theirs);
        let chosen: Vec<usize> = (0..list.len()).filter(|i| lot >> (i % 64) & 1 == 1).collect();
        let taken = with_needed(&ours, &list, &chosen);
        prop_assert!(chosen.iter().all(|i| taken.contains(i)));
        match ours.edited(&taking(&list, &taken)) {
            // What was taken is no difference any more; an order may be one again while entries stay away.
            Ok(merged) => {
                let left = differences(&merged, &theirs);
                for i in taken.into_iter().filter(|i| list[*i].entry != PlanEntry::Order) {
                    prop_assert!(left.iter().all(|d| d != &list[i]), "{:?}", list[i]);
                }
            }
            Err(refusal) => prop_assert!(!refusal.to_string().is_empty()),
        }
    }
}

fn small() -> Plan {
    read(support::small_text().as_bytes()).unwrap().plan
}

#[test]
fn differences_are_told_in_words() {
    let ours = small();
    let theirs = [
        Edit::SetTitle("Small, by a friend".to_owned()),
        Edit::WriteCell {
            variant: "works".into(),
            socket: "nose".into(),
            text: "Hook / Lamp".to_owned(),
        },
        Edit::DropSocket("roof".into()),
        Edit::AddVariant("Summer".to_owned()),
    ]
    .iter()
    .fold(ours.clone(), |plan, edit| plan.edited(edit).unwrap());
    let mut theirs = theirs;
    theirs.parts[1].size_mm[0] += 1.5;
    theirs.settings.friction = 0.25;
    let told: Vec<String> = differences(&ours, &theirs)
        .iter()
        .map(|d| format!("{:?} {} | {}: {}", d.change, d.entry, d.title, d.message))
        .collect();
    assert_eq!(
        told,
        [
            "Changed title | Title: Small → Small, by a friend",
            "Changed settings | Targets: friction: 0.3 → 0.25",
            &format!(
                "Changed part/plough | Part 'Plough': size, mm: {} × 20 × 20 → {} × 20 × 20",
                ours.parts[1].size_mm[0], theirs.parts[1].size_mm[0]
            ),
            "Added part/lamp | Part 'Lamp': 20 × 20 × 20 mm",
            "Changed cell/works/nose | Cell 'Nose' in 'Works': Hook → Hook / Lamp",
            "Added variant/summer | Variant 'Summer': 0 cells",
            "Gone socket/roof | Socket 'Roof': not in the other plan",
        ]
    );
}

#[test]
fn each_thing_that_a_plan_has_once_is_compared_and_put_back() {
    type Row = (PlanEntry, fn(&mut Plan));
    let changes: [Row; 15] = [
        (PlanEntry::Title, |p| p.title.push('!')),
        (PlanEntry::Note, |p| p.note.push('!')),
        (PlanEntry::Kit, |p| p.kit.scale += 1),
        (PlanEntry::Stock, |p| p.stock.bits_mm.push(9.5)),
        (PlanEntry::Materials, |p| {
            p.materials[0].density_g_cm3 += 0.5
        }),
        (PlanEntry::Finish, |p| p.finish.glue_film_um += 5.0),
        (PlanEntry::Settings, |p| p.settings.friction += 0.1),
        (PlanEntry::Rates, |p| p.rates.hour_cents += 1),
        (PlanEntry::OwnWork, |p| {
            p.own_work.pins.push(Pin {
                step: "own:1".to_owned(),
                after: "paint:base".to_owned(),
            });
        }),
        (PlanEntry::Quote, |p| p.quote.margin_percent += 1.0),
        (PlanEntry::Stowing, |p| p.stowing.padding_mm += 1.0),
        (PlanEntry::Backdrop, |p| {
            p.backdrop = Some(support::backdrop())
        }),
        (PlanEntry::Progress, |p| {
            p.progress.done.push("paint:base".to_owned())
        }),
        (PlanEntry::Base, |p| {
            p.base = p.parts[1].id.clone();
            for variant in &mut p.variants {
                variant.cells.clear();
            }
        }),
        (PlanEntry::Order, |p| p.parts.rotate_left(1)),
    ];
    for (entry, change) in changes {
        let mut ours = small();
        if entry == PlanEntry::Base {
            ours.variants.iter_mut().for_each(|v| v.cells.clear());
        }
        let mut theirs = ours.clone();
        change(&mut theirs);
        let list = differences(&ours, &theirs);
        assert_eq!(list.len(), 1, "{entry:?} {list:?}");
        assert_eq!((&list[0].entry, list[0].change), (&entry, Change::Changed));
        assert!(!list[0].title.is_empty() && !list[0].message.is_empty());
        let merged = ours.edited(&taking(&list, &[0])).unwrap();
        assert_eq!(merged, theirs, "{entry:?}");
    }
}

#[test]
fn what_a_body_and_a_joint_say_is_compared_and_put_back() {
    type Row = (fn(&mut Plan), &'static str);
    let changes: [Row; 8] = [
        (
            |p| p.parts[1].inside = Inside::Shell { wall_mm: 1.5 },
            "inside: not said → shell",
        ),
        (
            |p| p.parts[1].inside = Inside::Solid,
            "inside: not said → solid",
        ),
        (
            |p| p.sockets[0].sites[0].measured_mm = Some(2.5),
            "sites: 1 of 1 entries differ",
        ),
        (
            |p| p.sockets[0].kept_apart = Some(KeptApart::LetsGo),
            "kept apart: not said → lets-go",
        ),
        (
            |p| p.sockets[0].peg.diameter_mm = 1.5,
            "peg, diameter, mm: 2 → 1.5",
        ),
        (
            |p| p.sockets[0].at_mm = Some([1.0, 2.0, 3.0]),
            "at, mm: not said → 1 × 2 × 3",
        ),
        (
            |p| p.settings.flat_cutter = true,
            "flat cutter: not said → yes",
        ),
        (
            |p| p.settings.overlap_tolerance_mm = 0.25,
            "overlap tolerance, mm: not said → 0.25",
        ),
    ];
    for (change, message) in changes {
        let ours = small();
        let mut theirs = ours.clone();
        change(&mut theirs);
        let list = differences(&ours, &theirs);
        let told: Vec<&str> = list.iter().map(|d| d.message.as_str()).collect();
        assert_eq!(told, [message]);
        assert_eq!(ours.edited(&taking(&list, &[0])).unwrap(), theirs);
    }
}

#[test]
fn a_cell_brings_the_part_that_it_needs() {
    let ours = small();
    let theirs = ours
        .edited(&Edit::WriteCell {
            variant: "works".into(),
            socket: "nose".into(),
            text: "Lamp".to_owned(),
        })
        .unwrap();
    let list = differences(&ours, &theirs);
    let cell = list
        .iter()
        .position(|d| d.entry == PlanEntry::Cell("works".into(), "nose".into()))
        .unwrap();
    assert!(ours.edited(&taking(&list, &[cell])).is_err());
    let taken = with_needed(&ours, &list, &[cell]);
    assert_eq!(taken.len(), 2);
    assert_eq!(list[taken[0]].change, Change::Added);
    let merged = ours.edited(&taking(&list, &taken)).unwrap();
    assert_eq!(bare(&merged), bare(&theirs));
}

#[test]
fn a_part_brings_its_material_and_its_magnet() {
    let ours = small();
    let mut theirs = ours.clone();
    let mut material = theirs.materials[0].clone();
    material.id = "bronze".into();
    theirs.materials.push(material);
    theirs.parts[1].material = "bronze".into();
    let mut magnet = theirs.stock.magnets[0].clone();
    magnet.id = "disc-9x9".into();
    theirs.stock.magnets.push(magnet);
    theirs.sockets[0].sites[0].fit = Fit::Magnet("disc-9x9".into());
    let list = differences(&ours, &theirs);
    for (chosen, needed) in [
        (PlanEntry::Part("plough".into()), PlanEntry::Materials),
        (PlanEntry::Socket("nose".into()), PlanEntry::Stock),
    ] {
        let at = |entry| list.iter().position(|d| d.entry == entry).unwrap();
        let (chosen, needed) = (at(chosen), at(needed));
        assert!(ours.edited(&taking(&list, &[chosen])).is_err());
        assert_eq!(with_needed(&ours, &list, &[chosen]), [needed, chosen]);
        assert!(ours.edited(&taking(&list, &[needed, chosen])).is_ok());
    }
}
