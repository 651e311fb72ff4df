//! The facade on whole plans: answers hang together, reports repeat, and no plan that can be edited into being makes the
//! core fail.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot build its plan has failed"
)]

use lodewright_planner::Analysis;
use lodewright_planner::kit::{
    Cell, Edit, Facing, Fit, Ix, Mass, Part, Patch, PegKind, Plan, Pose, Seat, SiteId, StockId,
    ThinSection, VariantIx,
};
use proptest::prelude::*;

fn plan(grid: &str) -> Plan {
    Plan::empty("test")
        .edited(&Edit::PasteGrid(grid.to_owned()))
        .unwrap()
}

fn analysis(plan: &Plan) -> Analysis {
    Analysis::of(plan.clone()).unwrap()
}

const RAILCAR: &str = "\tWinter\tWorks\tHoliday\nNose\tPlough\tHook\tBuffer beam\nRoof\tFrame\tFrame 180°\tFrame\n\
                       Bed\tTank\tTank\tTank\nTool\tShovel / Lamp / -\tShovel / Lamp / -\tShovel / Lamp / -\n";

#[test]
fn the_grid_alone_gives_every_answer() {
    let answers = analysis(&plan(RAILCAR));
    assert_eq!(
        answers.models(),
        Some(&9_u8.into()),
        "three variants, each with three choices of tool"
    );
    assert_eq!(
        answers.glue().groups.len(),
        1,
        "the tank may be glued to the base"
    );
    assert!(answers.contradictions().is_empty());
    assert!(answers.poles().values().iter().flatten().count() > 0);
    let weakest: Vec<_> = VariantIx::all(&answers.plan().variants)
        .map(|v| answers.weakest(v))
        .collect();
    assert!(
        weakest.iter().all(|w| w.unwrap().margin_x_weight >= 3.0),
        "{weakest:?}"
    );
    assert!(answers.buy().cost_cents > 0);
    assert_eq!(
        answers
            .order()
            .steps
            .iter()
            .filter(|s| s.key.starts_with("dry-fit"))
            .count(),
        3
    );
}

#[test]
fn the_work_order_keeps_what_must_come_before() {
    let answers = analysis(&plan(RAILCAR));
    let order = answers.order();
    for (i, step) in order.steps.iter().enumerate() {
        for (before, cured) in &step.after {
            let end = order.starts_min[*before]
                + order.steps[*before].hands_min
                + if *cured {
                    order.steps[*before].wait_min
                } else {
                    0.0
                };
            assert!(
                *before < i && end <= order.starts_min[i] + 1e-9,
                "{} before {}",
                order.steps[*before].key,
                step.key
            );
        }
    }
    let first_no_return = order.steps.iter().position(|s| s.no_return).unwrap();
    let last_fit = order
        .steps
        .iter()
        .rposition(|s| s.key.starts_with("dry-fit"))
        .unwrap();
    assert!(
        last_fit < first_no_return,
        "every variant is tried before anything is glued"
    );
    assert!(order.lower_bound_min <= order.total_min && order.hands_min <= order.total_min);
}

#[test]
fn a_variant_costs_what_it_alone_needs() {
    let answers = analysis(&plan(RAILCAR));
    let costs = answers.variant_costs();
    let costs = costs.values();
    // Hook and its joint; the roof would not have to turn; the holes that only they need.
    assert!(costs[1].joints >= 2 && costs[1].magnets >= 1, "{costs:?}");
    let sum_of_all = answers.fillings().values().len();
    assert!(costs.iter().all(|c| c.magnets < sum_of_all));
}

#[test]
fn a_swap_says_what_to_do_and_leaves_the_rest() {
    let answers = analysis(&plan(RAILCAR));
    let swap = |from, to| answers.swap(VariantIx::new(from), VariantIx::new(to));
    let s = swap(0, 1).unwrap();
    let said: Vec<_> = s.moves.iter().map(|m| m.said.as_str()).collect();
    assert_eq!(
        said,
        [
            "Take Frame off Roof and keep it at hand.",
            "Take Plough off Nose and put it away.",
            "Put Hook on Nose.",
            "Put Frame on Roof, turned 180°.",
        ]
    );
    assert_eq!(s.stays, 2, "tank and shovel");
    assert!(swap(0, 0).unwrap().moves.is_empty());
    assert!(swap(0, 9).is_none());
}

#[test]
fn an_empty_plan_has_empty_answers() {
    let answers = analysis(&Plan::empty("new"));
    assert!(
        answers.joints().values().is_empty()
            && answers.order().steps.is_empty()
            && answers.buy().lines.is_empty()
    );
    let report = serde_json::to_value(answers.report()).unwrap();
    assert_eq!(report["joints"], serde_json::json!([]));
}

/// Numbers as a builder, or a hostile file within the limits, may enter them.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -20.0..60.0f64,
        1 => Just(0.0),
        1 => Just(0.1),
        1 => Just(5000.0),
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
        1 => Just(-1e300),
        1 => Just(1e-300),
    ]
}

fn changes() -> impl Strategy<Value = Vec<(u8, usize, usize, f64, f64, f64)>> {
    prop::collection::vec(
        (0u8..16, 0usize..8, 0usize..8, number(), number(), number()),
        1..14,
    )
}

/// One change of a plan, by numbers; `None` where it does not apply.
fn change(plan: &Plan, c: &(u8, usize, usize, f64, f64, f64)) -> Option<Edit> {
    let (kind, i, j, x, y, z) = c;
    let part = || plan.parts.get(i % plan.parts.len()).cloned();
    let socket = || plan.sockets.get(i % plan.sockets.len().max(1)).cloned();
    let put_part = |f: &dyn Fn(&mut Part)| {
        let mut p = part()?;
        f(&mut p);
        Some(Edit::PutPart(Box::new(p)))
    };
    let put_socket = |f: &dyn Fn(&mut lodewright_planner::kit::Socket)| {
        let mut s = socket()?;
        f(&mut s);
        Some(Edit::PutSocket(Box::new(s)))
    };
    match kind {
        0 => put_part(&|p| p.size_mm = [*x, *y, *z]),
        1 => put_part(&|p| p.mass = Mass::Weighed { mass_g: *x }),
        2 => put_part(&|p| p.centre_mm = Some([*x, *y, *z])),
        3 => put_part(&|p| p.lift_point = !p.lift_point),
        4 => put_part(&|p| {
            let section = lodewright_planner::kit::Section::Round { diameter_mm: *x };
            p.thin = Some(ThinSection {
                length_mm: *y,
                section,
                reach_mm: *z,
                notch_factor: 1.5,
            });
        }),
        5 => put_socket(&|s| s.at_mm = Some([*x, *y, *z])),
        6 => put_socket(&|s| {
            s.patch = Patch::Rectangle {
                width_mm: *x,
                height_mm: *y,
            }
        }),
        7 => put_socket(&|s| s.patch = Patch::Points(vec![[*x, *y], [*y, *z], [*z, *x]])),
        8 => put_socket(&|s| {
            s.peg.kind = [PegKind::None, PegKind::Round, PegKind::Two, PegKind::Keyed][j % 4];
            s.peg.snug = *i > 3;
            s.peg.length_mm = *x;
            s.peg.clearance_mm = *y;
        }),
        9 => put_socket(&|s| s.facing = Facing::ALL[j % 6]),
        10 => put_socket(&|s| {
            s.sites[0].at_mm = [*x, *y];
            s.sites[0].wall_mm = *z;
            s.sites[0].fit =
                [Fit::Auto, Fit::Empty, Fit::Steel(StockId::new("steel-5x1"))][j % 3].clone();
        }),
        11 => put_socket(&|s| s.host = plan.parts[j % plan.parts.len()].id.clone()),
        12 => {
            let seat = |p: usize, turn_deg| Seat {
                pose: Pose {
                    turn_deg,
                    over: *i > 4,
                },
                ..Seat::straight(plan.parts[p % plan.parts.len()].id.clone())
            };
            let cell = Cell {
                socket: socket()?.id,
                seats: vec![seat(*j, *x), seat(j + 1, *y)],
                may_be_empty: *i % 2 == 0,
            };
            Some(Edit::PutCell(
                plan.variants.get(j % plan.variants.len())?.id.clone(),
                cell,
            ))
        }
        13 => put_socket(&|s| {
            s.sites.push(lodewright_planner::kit::Site {
                at_mm: [*x, *y],
                ..lodewright_planner::kit::Site::plain(SiteId::new("b"))
            })
        }),
        14 => {
            let mut settings = plan.settings.clone();
            (
                settings.hold_target_g,
                settings.friction,
                settings.gap_tolerance_mm,
            ) = (*x, *y, *z);
            Some(Edit::PutSettings(Box::new(settings)))
        }
        _ => {
            let mut stock = plan.stock.clone();
            stock.magnets[0].diameter_mm = *x;
            stock.magnets[0].height_mm = *y;
            stock.magnets[1].grade = format!("N{z}");
            Some(Edit::PutStock(Box::new(stock)))
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_plan_makes_the_core_fail(changes in changes()) {
        let mut now = plan(RAILCAR);
        for c in &changes {
            if let Some(Ok(next)) = change(&now, c).map(|e| now.edited(&e)) {
                now = next;
            }
        }
        let answers = analysis(&now);
        for hold in answers.joints().values().iter().flat_map(|j| &j.report.holds) {
            prop_assert!(!hold.margin_x_weight.is_nan() && hold.mass_g.is_finite());
        }
        let text = serde_json::to_string(&answers.report()).unwrap();
        prop_assert_eq!(text, serde_json::to_string(&analysis(&now).report()).unwrap());
        let file = lodewright_planner::planfile::write(&now).unwrap();
        prop_assert_eq!(lodewright_planner::planfile::read(file.as_bytes()).unwrap().plan, now);
    }
}
