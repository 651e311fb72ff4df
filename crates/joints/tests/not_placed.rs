//! What hangs on a socket that nobody has placed is called neither good nor weak.

use lodewright_joints::{
    Context, Filling, Fillings, JointModel, Reason, initial_sizes, joint_reports, poles,
};
use lodewright_kit::{Ix, MagnetIx, Mass, Plan, SocketIx};

use crate::support::{
    all, context, count, fewest_of, joint_of, magnet, mast, one_joint, only, plan, plug_hole,
    socket_hole, top,
};

/// A lamp on a mast on the base, the lamp's socket not placed; the mast is there without it, too, where `alone`.
fn lamp_on_mast(alone: bool, lamp_g: f64) -> Plan {
    let grid = if alone {
        "\tA\tB\tC\nTop\tMast\tMast\t-\nHead\tLamp\t-\t-\n"
    } else {
        "\tA\tB\tC\nTop\tMast\tMast\t-\nHead\tLamp\tReel\t-\n"
    };
    let mut plan = plan(grid, 3.0, |plan| {
        plan.stock.magnets = vec![magnet(5.0, 2.0, 10)];
        plan.stock.steel.clear();
        plan.sockets[1].host = "mast".into();
        for part in &mut plan.parts[2..] {
            part.mass = Mass::Weighed { mass_g: lamp_g };
        }
    });
    plan.sockets[1].at_mm = None;
    plan
}

fn first() -> Filling {
    Filling::Magnet(MagnetIx::new(0))
}

fn model(context: &Context, part: &str, socket: &str) -> JointModel {
    let joint = joint_of(context, part, socket);
    context.model(joint, &all(context, first()), None).unwrap()
}

/// However heavy the lamp: nothing is said of the mast below it but that.
#[test]
fn a_joint_below_an_unplaced_socket_is_not_judged_by_it() {
    let unknown = Reason::NotPlaced {
        socket: SocketIx::new(1),
    };
    for lamp_g in [3.0, 500.0] {
        let context = context(&lamp_on_mast(true, lamp_g));
        let model = model(&context, "mast", "top");
        let verdict = model.judge();
        assert_eq!(verdict.reasons, [unknown]);
        assert!(!verdict.is_good() && verdict.is_good_so_far() && model.is_good_so_far());
        // What is known is the mast by itself: its margin is that of a kit without a lamp.
        let [hold] = &verdict.holds[..] else {
            panic!("{verdict:?}")
        };
        assert!(model.loads[hold.load].unplaced.is_none() && hold.is_enough);
        assert_eq!(model.attitudes().len(), 6);
        let fillings = all(&context, first());
        let poles = poles(&context.holes, &context.mates, &fillings).poles;
        let report = &joint_reports(&context, &fillings, &poles)[model.joint];
        // The builder should look at it all the same.
        assert!(report.reasons == [unknown] && report.is_in_trouble());
    }
    // Placed, a heavy lamp is too much.
    let mut placed = lamp_on_mast(true, 500.0);
    crate::support::place_all(&mut placed);
    let context = context(&placed);
    let verdict = model(&context, "mast", "top").judge();
    assert!(!verdict.is_good_so_far() && verdict.has(|r| matches!(r, Reason::TooWeak { .. })));
}

/// What else speaks against the joint is said all the same, and first.
#[test]
fn what_is_known_is_said_beside_it() {
    let context = context(&lamp_on_mast(true, 3.0));
    let mut model = model(&context, "mast", "top");
    model.loads.iter_mut().for_each(|l| l.mass_g *= 100.0);
    let verdict = model.judge();
    assert!(
        matches!(
            verdict.reasons[..],
            [Reason::TooWeak { .. }, Reason::NotPlaced { .. }]
        ),
        "{:?}",
        verdict.reasons
    );
    assert!(!verdict.is_good_so_far() && !model.is_good_so_far());
}

/// The part on the unplaced socket itself hangs on nothing unknown.
#[test]
fn the_joint_at_the_unplaced_socket_is_judged() {
    let context = context(&lamp_on_mast(true, 3.0));
    assert_eq!(model(&context, "lamp", "head").judge().reasons, []);
}

/// Lifted by its part the whole model hangs by an unplaced socket; standing, the part alone does.
#[test]
fn lifted_by_a_part_the_model_hangs_on_its_own_socket() {
    let loads = |lifts: bool, placed: bool| {
        let mut plan = one_joint(|plan| mast(plan).lift_point = lifts);
        if !placed {
            top(&mut plan).at_mm = None;
        }
        let context = context(&plan);
        let cases = &context.loads.cases;
        let told = cases.iter().map(|c| (c.lifted, c.unplaced.is_some()));
        let told: Vec<_> = told.collect();
        let found = context
            .model(only(), &initial_sizes(&context).fillings, None)
            .unwrap()
            .judge();
        let is_unknown = found.has(|r| matches!(r, Reason::NotPlaced { .. }));
        assert_eq!(is_unknown, told.iter().any(|t| t.1));
        told
    };
    assert_eq!(loads(false, false), [(false, false)]);
    assert_eq!(loads(true, true), [(false, false), (true, false)]);
    assert_eq!(loads(true, false), [(false, false), (true, true)]);
}

/// The exact search asks what is known: the mast by itself, and the lamp. Of a joint of which nothing is known it takes nothing
/// away.
#[test]
fn the_search_goes_on_without_it() {
    let known = context(&lamp_on_mast(true, 500.0));
    let found = fewest_of(&known);
    let lower = joint_of(&known, "mast", "top");
    assert!(found.proven && found.checked);
    assert!(
        found
            .families
            .iter()
            .any(|f| f.joints == [lower] && f.magnets == Some(2))
    );

    let unknown = context(&lamp_on_mast(false, 3.0));
    let found = fewest_of(&unknown);
    let lower = joint_of(&unknown, "mast", "top");
    assert!(found.proven && found.checked);
    assert!(found.families.iter().all(|f| !f.joints.contains(&lower)));
    let now: Fillings = initial_sizes(&unknown).fillings;
    assert_eq!(count(&now), 5);
    for hole in [
        socket_hole(&unknown, "top", "a"),
        plug_hole(&unknown, "mast", "1"),
    ] {
        assert_eq!(found.fillings[hole], now[hole]);
        assert_eq!(now[hole], first());
    }
}
