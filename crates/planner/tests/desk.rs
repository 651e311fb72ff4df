//! Lists for the desk and for the client, on the demo: they agree with one another and with a plain recount.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop on a broken setup"
)]

use lodewright_planner::bench::{StepKind, go_key};
use lodewright_planner::kit::{
    Edit, Extra, Go, Ix, OwnStep, OwnWork, Pin, Plan, QuoteTerms, Split, StowSpace, Stowing,
    VariantIx,
};
use lodewright_planner::{Analysis, planfile};

fn demo() -> Plan {
    let file = include_bytes!("../../../examples/demo.lodewright.json");
    planfile::read(file).unwrap().plan
}

fn analysis(plan: &Plan) -> Analysis {
    Analysis::of(plan.clone()).unwrap()
}

#[test]
fn the_round_is_no_longer_than_any_order_of_nearest_swaps() {
    let plan = demo();
    let analysis = analysis(&plan);
    let trip = analysis.round_trip().unwrap();
    let n = plan.variants.len();
    assert_eq!((trip.legs.len(), trip.left_out.len()), (n, 0));
    assert!(trip.is_shortest(), "five variants are searched to the end");
    assert_eq!(
        trip.handlings,
        trip.legs.iter().map(|l| l.moves.len()).sum::<usize>()
    );
    // A ring: each leg begins where the one before it ends, and every variant is met once.
    let mut met: Vec<usize> = trip.legs.iter().map(|l| l.from.get()).collect();
    for (leg, next) in trip.legs.iter().zip(trip.legs.iter().cycle().skip(1)) {
        assert_eq!(leg.to, next.from);
    }
    met.sort_unstable();
    assert_eq!(met, (0..n).collect::<Vec<_>>());
    // The way round the list, by the swaps that the swap page gives, is one of the orders.
    let listed: usize = (0..n)
        .map(|v| {
            let [from, to] = [v, (v + 1) % n].map(VariantIx::new);
            analysis.swap(from, to).unwrap().moves.len()
        })
        .sum();
    assert!(trip.handlings <= listed, "{} > {listed}", trip.handlings);
    println!(
        "round {}, in the order of the list {listed}",
        trip.handlings
    );
}

#[test]
fn loose_parts_lie_in_the_box_or_are_named() {
    let mut plan = demo();
    let refusal = analysis(&plan).stow_loose(VariantIx::new(0)).unwrap_err();
    assert!(refusal.said.contains("hollow"));
    plan.stowing = Stowing {
        spaces: vec![StowSpace {
            name: "Tray".to_owned(),
            inside_mm: [260.0, 180.0, 60.0],
            count: 2,
        }],
        ..Stowing::default()
    };
    let with_tray = analysis(&plan);
    for v in VariantIx::all(&plan.variants) {
        let found = with_tray.stow_loose(v).unwrap();
        let lying: Vec<_> = found
            .spaces
            .iter()
            .flat_map(|s| s.layers.iter().flatten())
            .collect();
        assert_eq!(
            lying.len() + found.left.len() + found.too_large.len(),
            found.loose
        );
        assert!(found.loose > 3);
        for space in &found.spaces {
            assert!(space.filled <= 1.0);
            for p in space.layers.iter().flatten() {
                for k in 0..3 {
                    assert!(
                        p.at_mm[k] >= 0.99
                            && p.at_mm[k] + p.size_mm[k] <= space.inside_mm[k] - 0.99
                    );
                }
                let mut own = plan.parts[p.part].size_mm;
                let mut size = p.size_mm;
                own.sort_by(f64::total_cmp);
                size.sort_by(f64::total_cmp);
                assert!(
                    (0..3).all(|k| (own[k] - size[k]).abs() < 0.011),
                    "{own:?} {size:?}"
                );
            }
        }
    }
    plan.stowing.spaces[0].inside_mm = [3.0; 3];
    let found = analysis(&plan).stow_loose(VariantIx::new(0)).unwrap();
    assert_eq!(found.too_large.len(), found.loose);
}

#[test]
fn a_quote_adds_up_and_what_is_charged_was_counted() {
    let mut plan = demo();
    plan.kit.price_cents = 6_000;
    plan.rates.hour_cents = 3_000;
    plan.quote = QuoteTerms {
        extras: vec![Extra {
            name: "Postage".to_owned(),
            cents: 950,
        }],
        margin_percent: 10.0,
        tax_percent: 20.0,
        ..QuoteTerms::default()
    };
    let answers = analysis(&plan);
    let q = answers.quote();
    assert_eq!(q.work_cents, q.work.iter().map(|l| l.cents).sum::<u64>());
    assert_eq!(q.cost_cents, q.costs.iter().map(|l| l.cents).sum::<u64>());
    assert_eq!(q.cost_cents, 6_000 + 950 + answers.buy().cost_cents);
    // By hand: every minute of the work order at 50 cents, then a tenth and a fifth on top, each rounded.
    let work = answers.order().hands_min * 50.0;
    assert!((q.work_cents as f64 - work).abs() <= q.work.len() as f64 * 0.5 + 0.5);
    assert!((q.work_min - answers.order().hands_min).abs() < 1e-6);
    let base = q.work_cents + q.cost_cents;
    assert_eq!(q.margin_cents, (base as f64 * 0.1).round() as u64);
    assert_eq!(
        q.total_cents,
        base + q.margin_cents + ((base + q.margin_cents) as f64 * 0.2).round() as u64
    );
    assert_eq!(q.saving.kits_cents, 6_000 * plan.variants.len() as u64);
    assert_eq!(
        q.saving.saved_cents(),
        6_000 * (plan.variants.len() as i64 - 1) - answers.buy().cost_cents as i64
    );
    plan.quote.with_kit = false;
    assert_eq!(analysis(&plan).quote().cost_cents, q.cost_cents - 6_000);
}

#[test]
fn own_steps_splits_and_pins_are_in_the_order() {
    let plan = demo();
    let answers = analysis(&plan);
    let before = answers.order();
    let paint = before
        .steps
        .iter()
        .find(|s| s.kind() == StepKind::Paint)
        .unwrap()
        .clone();
    let drill = before.steps[0].key.clone();
    let go = |name: &str, wait_min| Go {
        name: name.to_owned(),
        hands_min: 5.0,
        wait_min,
    };
    let own = OwnWork {
        steps: vec![OwnStep {
            key: "own:weather".to_owned(),
            name: "Weather the chassis".to_owned(),
            hands_min: 30.0,
            wait_min: 0.0,
        }],
        splits: vec![Split {
            step: paint.key.clone(),
            goes: vec![go("Primer", 60.0), go("Colour", 240.0)],
        }],
        pins: vec![
            Pin {
                step: "own:weather".to_owned(),
                after: paint.key.clone(),
            },
            // The first hole after the paint that comes after all holes: a circle.
            Pin {
                step: drill,
                after: paint.key.clone(),
            },
            Pin {
                step: "own:weather".to_owned(),
                after: "nothing".to_owned(),
            },
        ],
    };
    let plan = plan.edited(&Edit::PutOwnWork(Box::new(own))).unwrap();
    let answers = analysis(&plan);
    let order = answers.order();
    assert_eq!(order.steps.len(), before.steps.len() + 2);
    assert_eq!(order.broken_pins, [1, 2]);
    let at = |key: &str| order.steps.iter().position(|s| s.key == key).unwrap();
    let (primer, colour, weather) = (
        at(&go_key(&paint.key, 0)),
        at(&go_key(&paint.key, 1)),
        at("own:weather"),
    );
    assert!(primer < colour && colour < weather);
    let ends = |i: usize| order.starts_min[i] + order.steps[i].hands_min + order.steps[i].wait_min;
    assert!(order.starts_min[colour] >= ends(primer) - 1e-9);
    assert!(order.starts_min[weather] >= ends(colour) - 1e-9);
}

#[test]
fn a_change_in_mid_work_keeps_what_is_done_in_front() {
    let mut plan = demo();
    let answers = analysis(&plan);
    let first = answers.order();
    let done: Vec<String> = first.steps[..40].iter().map(|s| s.key.clone()).collect();
    plan.progress.done.clone_from(&done);
    // A further variant asks for a further fit; nothing that is done goes away.
    let copied = plan.variants[0].id.clone();
    let plan = plan.edited(&Edit::CopyVariant(copied)).unwrap();
    let answers = analysis(&plan);
    let order = answers.order();
    let front: Vec<String> = order.steps[..40].iter().map(|s| s.key.clone()).collect();
    assert_eq!((front, order.done_before), (done, 40));
    assert!(order.total_min < first.total_min);
    assert!(order.lower_bound_min <= order.total_min);
    for (i, step) in order.steps.iter().enumerate().skip(40) {
        assert!(step.after.iter().all(|(before, _)| *before < i));
    }
}

#[test]
fn every_variant_has_a_card_and_every_loose_part_a_line() {
    let plan = demo();
    let set = analysis(&plan).hand_over();
    assert_eq!(set.cards.len(), plan.variants.len());
    for card in &set.cards {
        assert!(!card.seats.is_empty());
        for seat in &card.seats {
            let line = set.inventory.iter().find(|l| l.part == seat.part);
            assert!(line.is_some(), "{} is not in the inventory", seat.part);
            let variant = &plan.variants[card.variant].name;
            assert!(line.unwrap().used_in.contains(variant));
        }
    }
    assert!(set.care.iter().any(|c| c.contains("children")));
    let pieces: usize = set.inventory.iter().map(|l| l.pieces).sum();
    assert!(pieces > 10);
}

#[test]
fn lists_for_a_spreadsheet_have_a_row_for_each_line_and_run_nothing() {
    let mut plan = demo();
    plan.parts[1].name = "=HYPERLINK(\"x\")".to_owned();
    let answers = analysis(&plan);
    let work = answers.work_csv();
    let mut reader = csv::Reader::from_reader(work.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), answers.order().steps.len());
    let cells = rows.iter().flatten();
    assert!(cells.clone().any(|c| c.contains("HYPERLINK")));
    for cell in cells {
        assert!(
            !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
            "{cell}"
        );
    }
    let shop = answers.shopping_csv();
    assert_eq!(shop.matches("\r\n").count(), 1 + answers.shopping().len());
}

#[test]
fn a_thin_part_that_may_snap_is_not_said_to_come_off() {
    let mut plan = demo();
    let said = |plan: &Plan| {
        let answers = analysis(plan);
        let thin: Vec<bool> = answers
            .joints()
            .values()
            .iter()
            .filter_map(|j| j.report.let_go.map(|l| l.lets_go))
            .collect();
        let cards = answers.hand_over().cards;
        let weak: Vec<String> = cards.into_iter().flat_map(|c| c.weak).collect();
        (thin, weak)
    };
    let (thin, weak) = said(&plan);
    assert!(!thin.is_empty() && thin.iter().all(|lets_go| *lets_go));
    assert!(weak.iter().any(|w| w.contains("comes off before it snaps")));
    // A factor that nothing reaches.
    plan.settings.snap_safety = 100.0;
    let (thin, weak) = said(&plan);
    assert!(thin.iter().any(|lets_go| !lets_go));
    assert!(
        weak.iter()
            .any(|w| w.contains("may snap before it comes off"))
    );
}
