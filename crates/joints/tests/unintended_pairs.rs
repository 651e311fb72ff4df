//! Magnets that are not meant to meet, against the field crate and by hand.

use lodewright_field::{Magnet, Pose, force};
use lodewright_joints::{
    End, Filling, Fillings, Meeting, UnintendedPair, disc, poles, unintended_pairs,
};
use lodewright_kit::{Facing, Fit, Ix, MagnetIx, Plan};

use crate::support::{
    Settled, all, context, fewest_of, fit_magnet, mast, one_joint, only, plug_site, site, top,
};

/// Two magnets of 5 by 2 mm in one face, their centres so far apart, and nothing else.
fn side_by_side(apart_mm: f64, change: impl FnOnce(&mut Plan)) -> Plan {
    one_joint(|plan| {
        let fit = fit_magnet(plan, 4);
        let socket = top(plan);
        socket.sites = vec![site("a", [0.0; 2]), site("b", [apart_mm, 0.0])];
        socket.sites.iter_mut().for_each(|s| s.fit = fit.clone());
        mast(plan).plugs[0].sites = Some(Vec::new());
        change(plan);
    })
}

fn found(plan: &Plan) -> Vec<UnintendedPair> {
    let all = Settled::of(plan);
    unintended_pairs(&all.context, &all.sizes.fillings, &all.poles.poles)
}

/// Force between two parallel discs of the stock, the second so far from the first, N.
fn force_n(plan: &Plan, at_mm: [f64; 3]) -> f64 {
    let stock = &plan.stock.magnets[MagnetIx::new(4)];
    let magnet = Magnet::from(disc(plan, stock, End::Strong).unwrap());
    let pose = Pose::shifted(at_mm).unwrap();
    let f = force(&magnet, &magnet, &pose).unwrap().force_n;
    f.iter().map(|x| x * x).sum::<f64>().sqrt()
}

#[test]
fn two_in_one_face_push_or_draw_as_their_poles_say() {
    let plan = side_by_side(7.0, |_| {});
    let [only] = found(&plan).try_into().unwrap();
    assert_eq!((only.meeting, only.joint), (Meeting::SideBySide, None));
    assert!((only.force_n / force_n(&plan, [7.0, 0.0, 0.0]) - 1.0).abs() < 1e-9);
    assert!((only.apart_mm - 7.0).abs() < 1e-12 && !only.overlap);
    // Both show N: side by side like poles push.
    assert_eq!(only.attract, Some(false));
    assert!(only.holes[0] < only.holes[1]);
    let other = side_by_side(7.0, |plan| {
        top(plan).sites[1].pole = Some(lodewright_kit::Pole::S);
    });
    assert_eq!(found(&other)[0].attract, Some(true));
}

/// The spacing called enough is enough, and a tenth of a millimetre less is not.
#[test]
fn what_is_called_enough_is_enough_to_a_tenth() {
    let plan = side_by_side(7.0, |_| {});
    let limit_n = plan.settings.stranger_limit_n;
    let enough_mm = found(&plan)[0].enough_mm.unwrap();
    assert!(force_n(&plan, [enough_mm, 0.0, 0.0]) <= limit_n);
    assert!(force_n(&plan, [enough_mm - 0.15, 0.0, 0.0]) > limit_n);
    assert_eq!((enough_mm * 10.0).round() / 10.0, enough_mm);
    // So far apart they are no longer found; a little nearer they are.
    assert_eq!(found(&side_by_side(enough_mm, |_| {})), []);
    assert_eq!(found(&side_by_side(enough_mm - 0.2, |_| {})).len(), 1);
    // At just the force between them the limit finds them, and not a hair above it.
    let exact = found(&plan)[0].force_n;
    let at = |limit_n| {
        let plan = side_by_side(7.0, |plan| plan.settings.stranger_limit_n = limit_n);
        found(&plan).len()
    };
    assert_eq!((at(exact), at(exact.next_up())), (1, 0));
}

#[test]
fn bodies_that_share_space_are_always_found() {
    let plan = side_by_side(3.0, |plan| plan.settings.stranger_limit_n = 1000.0);
    let [only] = found(&plan).try_into().unwrap();
    assert!(only.overlap && only.force_n.is_infinite() && only.attract.is_none());
    assert!(only.enough_mm.unwrap() >= 5.0);
}

/// By hand: magnets on two opposite faces of a wall 12 mm thick, 2 mm high and set flush, lie with their centres 10 mm apart on one
/// axis, both showing N outwards: they push.
#[test]
fn two_on_opposite_faces_meet_through_the_part() {
    let plan = side_by_side(7.0, |plan| {
        plan.settings.stranger_limit_n = 0.01;
        plan.parts[0].size_mm = [40.0, 40.0, 12.0];
        let fit = fit_magnet(plan, 4);
        top(plan).sites.truncate(1);
        let mut far = plan.sockets[0].clone();
        far.id = "below".into();
        far.facing = Facing::Down;
        far.sites[0].fit = fit;
        plan.sockets.push(far);
    });
    let [only] = found(&plan).try_into().unwrap();
    assert_eq!(only.meeting, Meeting::ThroughThePart);
    assert!((only.apart_mm - 10.0).abs() < 1e-9);
    assert!((only.force_n / force_n(&plan, [0.0, 0.0, 10.0]) - 1.0).abs() < 1e-9);
    assert_eq!(only.attract, Some(false));
}

/// A wall in front of a magnet sets it back by as much.
#[test]
fn a_wall_sets_a_magnet_back() {
    let plan = side_by_side(7.0, |plan| top(plan).sites[1].wall_mm = 1.5);
    let [only] = found(&plan).try_into().unwrap();
    let expected = force_n(&plan, [7.0, 0.0, -1.5]);
    assert!((only.force_n / expected - 1.0).abs() < 1e-9);
    assert!((only.apart_mm - libm::hypot(7.0, 1.5)).abs() < 1e-12);
}

/// By hand: a part's magnet 7 mm beside the host's, both flush with the faces that meet, is 7 mm aside and 2 mm up. A pair that is
/// meant to meet is none.
#[test]
fn a_seated_part_and_its_host() {
    let seated = |aside_mm: f64| {
        one_joint(|plan| {
            plan.settings.stranger_limit_n = 0.01;
            let fit = fit_magnet(plan, 4);
            top(plan).sites[0].fit = fit.clone();
            let mut own = plug_site("a", [aside_mm, 0.0]);
            own.fit = fit;
            mast(plan).plugs[0].sites = Some(vec![own]);
        })
    };
    assert_eq!(found(&seated(0.0)), []);
    let plan = seated(7.0);
    let [only] = found(&plan).try_into().unwrap();
    assert_eq!(only.meeting, Meeting::PartAndHost);
    assert_eq!(only.joint.map(Ix::get), Some(0));
    let expected = force_n(&plan, [7.0, 0.0, 2.0]);
    assert!(
        (only.force_n / expected - 1.0).abs() < 1e-9,
        "{} {expected}",
        only.force_n
    );
    // In two variants alike it is one pair all the same.
    let twice = plan
        .edited(&lodewright_kit::Edit::AddVariant("Third".to_owned()))
        .unwrap();
    assert_eq!(found(&twice).len(), 1);
}

/// The strongest come first, and those too far apart to matter are not looked at.
#[test]
fn strongest_first() {
    let plan = side_by_side(7.0, |plan| {
        plan.settings.stranger_limit_n = 0.001;
        let mut third = site("c", [15.5, 0.0]);
        third.fit = fit_magnet(plan, 4);
        let mut far = site("d", [200.0, 0.0]);
        far.fit = fit_magnet(plan, 4);
        top(plan).sites.extend([third, far]);
    });
    let list = found(&plan);
    assert_eq!(list.len(), 3);
    assert!(list.windows(2).all(|w| w[0].force_n > w[1].force_n));
    assert!((list[2].apart_mm - 15.5).abs() < 1e-12);
}

/// The same rule keeps magnets apart in a choice: two pairs are needed, and stay as long as the limit is above the force between
/// any two that are not meant to meet.
#[test]
fn a_choice_keeps_apart_what_would_be_found() {
    let kit = |limit_n: f64| {
        let plan = side_by_side(7.0, |plan| {
            plan.settings.stranger_limit_n = limit_n;
            (plan.settings.hold_target_g, plan.settings.shake_g) = (1.0, 0.0);
            plan.stock.magnets = vec![plan.stock.magnets[4].clone()];
            plan.stock.steel.clear();
            top(plan).sites.iter_mut().for_each(|s| s.fit = Fit::Auto);
            top(plan).sites[0].at_mm = [-3.5, 0.0];
            top(plan).sites[1].at_mm = [3.5, 0.0];
            top(plan).peg.kind = lodewright_kit::PegKind::Keyed;
            mast(plan).plugs[0].sites = None;
        });
        context(&plan)
    };
    // What one pair holds is too little by far, what two hold is enough.
    let heavy = |limit_n: f64| {
        let mut plan = (**kit(limit_n).plan()).clone();
        let one: Fillings = [Some(0), None, Some(0), None]
            .into_iter()
            .map(|m| m.map_or(Filling::Empty, |i| Filling::Magnet(MagnetIx::new(i))))
            .collect();
        let context = kit(limit_n);
        let verdict = context.model(only(), &one, None).unwrap().judge();
        plan.settings.hold_target_g = 1.2 * verdict.margin_x_weight().unwrap();
        crate::support::context(&plan)
    };
    let full = all(&heavy(0.001), Filling::Magnet(MagnetIx::new(0)));
    let strongest_n = {
        let context = heavy(0.001);
        let poles = poles(&context.holes, &context.mates, &full).poles;
        unintended_pairs(&context, &full, &poles)[0].force_n
    };
    for (limit_n, crowded) in [(strongest_n, true), (strongest_n.next_up(), false)] {
        let found = fewest_of(&heavy(limit_n));
        let [family] = found.families.as_slice() else {
            panic!("{found:?}")
        };
        assert_eq!((family.magnets, family.crowded), (Some(4), crowded));
        assert!(found.proven && found.checked);
        assert_eq!(found.fillings, full);
    }
}
