//! Ways out of contradicting poles: every one is carried out and worked through again.

use lodewright_assembly::{Joint, JointIx};
use lodewright_joints::{
    Context, Filling, HoleIx, JointReport, Owner, Remedy, RemedyKind, Repairs, SPLIT_WALL_MM,
    price, repairs,
};
use lodewright_kit::{Edit, Fit, Ix, Mass, Plan, Pole, SocketIx};
use proptest::prelude::*;

use crate::support::{self, Settled, joint_of, make_wall, plug_site, site, socket_hole};

fn plan(grid: &str) -> Plan {
    support::plan(grid, 4.0, |_| {})
}

/// Two sockets on the two faces of one wall, sharing one hole.
fn wall(grid: &str) -> Plan {
    support::wall(grid, 4.0, |_| {})
}

/// The wall with a part that is used on both faces.
fn both_faces() -> Plan {
    wall("\tA\tB\nLeft face\tLocker\tHose\nRight face\tReel\tLocker\n")
}

fn carried_out(plan: &Plan, edits: &[Edit]) -> Plan {
    let make = |plan: Plan, edit: &Edit| plan.edited(edit).unwrap();
    edits.iter().fold(plan.clone(), make)
}

fn found(plan: &Plan, most: usize) -> (Settled, Repairs) {
    let all = Settled::of(plan);
    let found = repairs(
        &all.context,
        &all.sizes.fillings,
        &all.poles.contradictions,
        most,
    );
    (all, found)
}

/// The joints that a remedy touches, as they are afterwards.
fn touched(context: &Context, remedy: &Remedy) -> Vec<Joint> {
    let mut joints = Vec::new();
    for j in context.board.all_joints() {
        let mut joint = context.board.joints[j];
        let (mut touches, mut gone) = (false, false);
        for step in &remedy.steps {
            match step.kind {
                RemedyKind::Keeper { hole, .. }
                | RemedyKind::LeaveEmpty { hole }
                | RemedyKind::Split { hole, .. }
                | RemedyKind::FreePole { hole } => {
                    let mates = context.mates[j].iter();
                    touches |= mates
                        .into_iter()
                        .any(|m| m.holes(&context.holes).contains(&hole));
                }
                RemedyKind::Turn {
                    joint: turned,
                    pose,
                } if turned == j => {
                    (touches, joint.pose) = (true, pose);
                }
                RemedyKind::GiveUp { joint } if joint == j => gone = true,
                RemedyKind::Turn { .. } | RemedyKind::GiveUp { .. } => {}
            }
        }
        if touches && !gone {
            joints.push(joint);
        }
    }
    joints
}

/// The reports of the touched joints that something holds, once a remedy is carried out.
fn reports(plan: &Plan, all: &Settled, remedy: &Remedy) -> Vec<JointReport> {
    let after = Settled::of(&carried_out(plan, &remedy.edits));
    let joints = touched(&all.context, remedy).into_iter();
    let there = joints.filter_map(|j| after.context.board.find(&j));
    let held = there.filter(|j| after.context.is_magnetic(*j));
    let reports = held.map(|j| after.reports[j].clone());
    reports.filter(|r| !r.holds.is_empty()).collect()
}

/// Carries every remedy out: no contradiction is left, no joint repels, the weakest holds what was said, and all is good just
/// where nothing speaks against a joint that was touched.
fn check(plan: &Plan, all: &Settled, found: &Repairs) {
    assert_eq!(found.clashes, all.poles.contradictions);
    for remedy in &found.remedies {
        assert!(!remedy.edits.is_empty() && remedy.weight >= found.lower_bound);
        let after = Settled::of(&carried_out(plan, &remedy.edits));
        assert!(after.poles.contradictions.is_empty(), "{:?}", remedy.steps);
        assert!(after.pairs().all(|p| p.weak_n >= 0.0), "{:?}", remedy.steps);
        let reports = reports(plan, all, remedy);
        let good = reports.iter().all(|r| !r.is_in_trouble());
        assert_eq!(remedy.all_good, good, "{:?}", remedy.steps);
        let margins = reports.iter().map(|r| r.worst().unwrap().margin_x_weight);
        let least = margins.reduce(f64::min);
        assert_eq!(remedy.weakest.map(|w| w.0), least, "{:?}", remedy.steps);
        if let Some((margin, joint)) = remedy.weakest {
            let joint = after.context.board.find(&joint).unwrap();
            let worst = after.reports[joint].worst().unwrap();
            assert_eq!(worst.margin_x_weight, margin);
        }
        assert_eq!(remedy.weight, weight(remedy), "{remedy:?}");
        no_step_is_idle(plan, remedy);
    }
    let ordered = |w: &[Remedy]| w[0].weight <= w[1].weight;
    assert!(found.remedies.windows(2).all(ordered));
    assert!(found.proven <= found.remedies.len());
}

/// The price by the list of prices: each step's, and a step that leaves a joint short once on top.
fn weight(remedy: &Remedy) -> u64 {
    let kind = |k: &RemedyKind| match k {
        RemedyKind::Keeper { .. } => price::KEEPER,
        RemedyKind::LeaveEmpty { .. } => price::LEAVE_EMPTY,
        RemedyKind::Split { .. } => price::SPLIT,
        RemedyKind::FreePole { .. } => price::FREE_POLE,
        RemedyKind::Turn { .. } => price::TURN,
        RemedyKind::GiveUp { .. } => price::GIVE_UP,
    };
    let steps = remedy.steps.iter();
    let plain: u64 = steps
        .map(|s| kind(&s.kind) + if s.glued { price::GLUED } else { 0 })
        .sum();
    let short = remedy.steps.iter().map(|s| {
        let rest = s.weight - kind(&s.kind) - if s.glued { price::GLUED } else { 0 };
        assert!(rest == 0 || rest == price::SHORT, "{s:?}");
        rest
    });
    let short: u64 = short.sum();
    match (short, remedy.all_good) {
        (0, false) => plain + price::SHORT,
        _ => plain + short,
    }
}

/// The edits of fewer steps leave a contradiction. Looked at where each step is one edit.
fn no_step_is_idle(plan: &Plan, remedy: &Remedy) {
    let one_edit =
        |k: &RemedyKind| matches!(k, RemedyKind::Keeper { .. } | RemedyKind::LeaveEmpty { .. });
    let apart =
        remedy.edits.len() == remedy.steps.len() && remedy.steps.iter().all(|s| one_edit(&s.kind));
    if !apart || remedy.steps.len() < 2 {
        return;
    }
    for i in 0..remedy.edits.len() {
        let mut fewer = remedy.edits.clone();
        fewer.remove(i);
        let after = Settled::of(&carried_out(plan, &fewer));
        assert!(!after.poles.contradictions.is_empty(), "{:?}", remedy.steps);
    }
}

#[test]
fn a_plan_without_contradiction_needs_nothing() {
    let (_, found) = found(&plan("\tA\tB\nNose\tPlough\tHook\n"), 5);
    assert_eq!(found, Repairs::default());
}

/// The cheapest way out that leaves every joint well comes first, then the cheaper steps that leave one short.
#[test]
fn ways_out_of_a_part_on_both_faces() {
    let mut plan = both_faces();
    plan.settings.flat_cutter = true;
    let (all, found) = found(&plan, 6);
    check(&plan, &all, &found);
    assert_eq!(found.clashes.len(), 1);
    let [wall, locker] = [
        socket_hole(&all.context, "left-face", "a"),
        support::plug_hole(&all.context, "locker", "1"),
    ];
    let steps = |i: usize| match found.remedies[i].steps[..] {
        [step] => step.kind,
        _ => panic!("{:?}", found.remedies[i]),
    };
    // Two holes in the wall of 3 mm: (3 - 0.5) / 2 mm deep. Steel on either side is cheaper, but holds too little.
    let (hole, depth_mm) = (wall, 1.25);
    assert_eq!(steps(0), RemedyKind::Split { hole, depth_mm });
    for (i, at) in [(1, locker), (2, wall)] {
        assert!(matches!(steps(i), RemedyKind::Keeper { hole, .. } if hole == at));
    }
    let short = price::KEEPER + price::SHORT;
    let weights: Vec<u64> = found.remedies[..3].iter().map(|r| r.weight).collect();
    assert_eq!(weights, [price::SPLIT, short, short]);
    assert!(found.proven >= 3 && !found.impossible);
    assert_eq!(found.lower_bound, price::SPLIT);
    let good: Vec<bool> = found.remedies[..3].iter().map(|r| r.all_good).collect();
    assert_eq!(good, [true, false, false]);
    // Of equal price the stronger one comes first.
    let margin = |r: &Remedy| r.weakest.map_or(f64::INFINITY, |w| w.0);
    for pair in found.remedies.windows(2) {
        assert!(pair[0].weight < pair[1].weight || margin(&pair[0]) >= margin(&pair[1]));
    }
    // Doing without one of the two seats is the dearest.
    let seats = ["left-face", "right-face"].map(|s| joint_of(&all.context, "locker", s));
    for seat in seats {
        let given_up = found
            .remedies
            .iter()
            .find(|r| matches!(r.steps[..], [s] if s.kind == RemedyKind::GiveUp { joint: seat }));
        assert_eq!(given_up.map(|r| r.weight), Some(price::GIVE_UP));
    }
    // Asked for one, the cheapest is given and the rest held back.
    let (_, one) = self::found(&plan, 1);
    assert_eq!(one.remedies, found.remedies[..1]);
    assert_eq!(one.proven, 1);
}

/// A remedy after which some joint does not do all that is asked is not called good, and costs more: with each limit at just what
/// its joints come to, and a hair beyond.
#[test]
fn a_remedy_that_leaves_a_joint_in_trouble_is_not_good() {
    let mut base = both_faces();
    // One size each, so that the choice is the same whatever is asked.
    base.stock.magnets.drain(..4);
    base.stock.magnets.truncate(1);
    base.stock.steel.truncate(1);
    let settings = &mut base.settings;
    (settings.hold_target_g, settings.shake_g) = (1.0, 0.0);
    (settings.hand_limit_n, settings.glue_strength_mpa) = (1000.0, 1000.0);
    let keeper = |plan: &Plan| {
        let (all, found) = found(plan, 20);
        check(plan, &all, &found);
        let locker = support::plug_hole(&all.context, "locker", "1");
        let is_it = |r: &&Remedy| matches!(r.steps[..], [s] if matches!(s.kind, RemedyKind::Keeper { hole, .. } if hole == locker));
        let remedy = found.remedies.iter().find(is_it).unwrap().clone();
        let reports = reports(plan, &all, &remedy);
        (remedy, reports)
    };
    let (remedy, reports) = keeper(&base);
    assert!(remedy.all_good && remedy.weight == price::KEEPER);
    assert!(reports.len() == 2, "{reports:?}");
    let least = reports.iter().map(|r| r.worst().unwrap().margin_x_weight);
    let hand = reports.iter().map(|r| r.hand_n).fold(0.0, f64::max);
    let bonds = reports.iter().flat_map(|r| &r.pairs).map(|p| p.bond_mpa);
    let glue = bonds.fold(0.0, f64::max) * base.settings.bond_safety;
    let least = least.fold(f64::INFINITY, f64::min);
    type Set = fn(&mut Plan, f64);
    let limits: [(f64, f64, Set); 3] = [
        (hand, hand.next_down(), |p, x| p.settings.hand_limit_n = x),
        (glue, glue.next_down(), |p, x| {
            p.settings.glue_strength_mpa = x
        }),
        (least, least.next_up(), |p, x| p.settings.hold_target_g = x),
    ];
    for (passes, fails, set) in limits {
        let mut plan = base.clone();
        set(&mut plan, passes);
        let (remedy, _) = keeper(&plan);
        assert!(remedy.all_good && remedy.weight == price::KEEPER);
        set(&mut plan, fails);
        let (remedy, _) = keeper(&plan);
        assert!(!remedy.all_good);
        assert_eq!(remedy.weight, price::KEEPER + price::SHORT);
    }
}

/// A stronger steel is taken where the smallest leaves the joint short.
#[test]
fn a_keeper_is_as_large_as_it_has_to_be() {
    let keepers = |mass_g: f64| {
        let mut plan = both_faces();
        make_wall(&mut plan, 4.0);
        for part in &mut plan.parts {
            part.mass = Mass::Weighed { mass_g };
        }
        for socket in &mut plan.sockets {
            (
                socket.sites[0].max_diameter_mm,
                socket.sites[0].max_depth_mm,
            ) = (9.0, 4.0);
        }
        let (all, found) = found(&plan, 8);
        check(&plan, &all, &found);
        let of = |r: &Remedy| match r.steps[..] {
            [s] => match s.kind {
                RemedyKind::Keeper { steel, .. } => {
                    Some((plan.stock.steel[steel].diameter_mm, r.all_good))
                }
                _ => None,
            },
            _ => None,
        };
        found.remedies.iter().find_map(of).unwrap()
    };
    assert_eq!(keepers(1.0), (5.0, true));
    let larger = [3.0, 4.0, 5.0, 6.0, 7.0].map(keepers);
    assert!(
        larger.iter().any(|(d, good)| *good && *d > 5.0),
        "{larger:?}"
    );
    // The heaviest is too much for any of them.
    assert!(!keepers(400.0).1);
}

/// A thick wall can take two magnets, a thin one cannot.
#[test]
fn a_through_hole_is_split_where_the_wall_is_thick_enough() {
    let mut plan = both_faces();
    // Nothing else is to be had.
    plan.stock.steel.clear();
    let split = |plan: &Plan| {
        let (all, found) = found(plan, 5);
        check(plan, &all, &found);
        let step = found
            .remedies
            .first()
            .and_then(|r| r.steps.first().copied());
        step.and_then(|s| match s.kind {
            RemedyKind::Split { depth_mm, .. } => Some((depth_mm, s.weight)),
            _ => None,
        })
    };
    // Two blind holes of (depth - 0.5) / 2 mm; the thinnest magnet has 1 mm and wants 0.1 mm for glue. Where the bottoms are not
    // finished flat, both drills' points lie between them: of 2.1 mm the narrowest, 0.6309 mm long.
    for (flat, depth_mm, possible) in [
        (true, 2.6, false),
        (true, 2.7, true),
        (true, 4.0, true),
        (false, 3.96, false),
        (false, 3.97, true),
    ] {
        plan.settings.flat_cutter = flat;
        make_wall(&mut plan, depth_mm);
        let found = split(&plan);
        let expected = possible.then_some(((depth_mm - SPLIT_WALL_MM) / 2.0, price::SPLIT));
        assert_eq!(found, expected, "{depth_mm}");
    }
    // As wide as the narrowest magnet with its allowance, and no wider.
    for (wide_mm, possible) in [(2.1, true), (2.05, false)] {
        for s in &mut plan.sockets {
            s.sites[0].max_diameter_mm = wide_mm;
        }
        assert_eq!(split(&plan).is_some(), possible, "{wide_mm}");
    }
}

#[test]
fn a_wish_is_given_up_before_anything_is_built_differently_but_not_once_it_is_glued() {
    let mut plan = plan("\tA\tB\nNose\tPlough\tHook\n");
    plan.sockets[0].sites[0].pole = Some(Pole::N);
    let plough = plan.parts.iter_mut().find(|p| p.name == "Plough").unwrap();
    let mut site = plug_site("a", [0.0; 2]);
    site.pole = Some(Pole::N);
    plough.plugs[0].sites = Some(vec![site]);
    let (all, found) = found(&plan, 5);
    assert_eq!(all.poles.contradictions.len(), 1);
    check(&plan, &all, &found);
    let first = &found.remedies[0];
    assert!(matches!(first.steps[0].kind, RemedyKind::FreePole { .. }));
    assert_eq!((first.weight, found.proven > 0), (price::FREE_POLE, true));
    // Both magnets are glued: steel is no cheaper then, as a glued one has to come out for it as well.
    plan.progress.done = vec!["glue:base:nose/a".into(), "glue:plough:main/a".into()];
    let (all, found) = self::found(&plan, 5);
    check(&plan, &all, &found);
    let least = price::GIVE_UP.min(price::FREE_POLE + price::GLUED);
    assert_eq!(found.remedies[0].weight, least);
    let mut steps = found.remedies.iter().flat_map(|r| &r.steps);
    assert!(steps.any(|s| s.glued));
}

/// A wish at the far end of a hole is given up there.
#[test]
fn a_wish_at_a_far_end_is_given_up_there() {
    let mut plan = wall("\tA\tB\nLeft face\tLadder\tHose\nRight face\tLocker\tReel\n");
    plan.sockets[1].sites[0].pole = Some(Pole::N);
    let mut own = plug_site("a", [0.0; 2]);
    own.pole = Some(Pole::N);
    let locker = plan.parts.iter_mut().find(|p| p.name == "Locker").unwrap();
    locker.plugs[0].sites = Some(vec![own]);
    let (all, found) = found(&plan, 6);
    assert_eq!(all.poles.contradictions.len(), 1);
    check(&plan, &all, &found);
    let first = &found.remedies[0];
    assert_eq!(first.weight, price::FREE_POLE);
    let freed: Vec<HoleIx> = found
        .remedies
        .iter()
        .flat_map(|r| &r.steps)
        .filter_map(|s| match s.kind {
            RemedyKind::FreePole { hole } => Some(hole),
            _ => None,
        })
        .collect();
    assert_eq!(freed.len(), 2);
    let far = found
        .remedies
        .iter()
        .find(|r| {
            matches!(r.steps[0].kind, RemedyKind::FreePole { hole } if all.context.holes.holes[hole].owner.is_socket())
        })
        .unwrap();
    let after = carried_out(&plan, &far.edits);
    assert_eq!(after.sockets[1].sites[0].pole, None);
}

/// A board used either way up: its own magnet or its partner becomes steel, or it is always put the same way.
#[test]
fn a_board_used_either_way_up() {
    let mut plan = plan("\tA\tB\tC\nTop\tBoard\tBoard\t-\n");
    let plug = &mut plan.parts[1].plugs[0];
    plug.thickness_mm = Some(3.0);
    plug.sites = Some(vec![plug_site("a", [0.0; 2])]);
    plan.variants[1].cells[0].seats[0].pose.over = true;
    plan.parts[1].mass = Mass::Weighed { mass_g: 1.0 };
    let (all, found) = found(&plan, 8);
    assert_eq!(all.poles.contradictions.len(), 1);
    check(&plan, &all, &found);
    let kinds: Vec<_> = found.remedies.iter().map(|r| r.steps[0].kind).collect();
    let has = |is: fn(&RemedyKind) -> bool| kinds.iter().any(is);
    assert!(has(|k| matches!(k, RemedyKind::Keeper { .. })), "{kinds:?}");
    assert!(has(|k| matches!(k, RemedyKind::Turn { .. })), "{kinds:?}");
    let turned = found
        .remedies
        .iter()
        .find(|r| matches!(r.steps[0].kind, RemedyKind::Turn { .. }))
        .unwrap();
    assert_eq!(turned.weight, price::TURN);
    // The seat is put the other way, and two seats that have become the same are one.
    let after = carried_out(&plan, &turned.edits);
    let over = |p: &Plan| [0, 1].map(|v| p.variants[v].cells[0].seats[0].pose.over);
    assert_eq!(over(&plan), [false, true]);
    assert_eq!(over(&after)[0], over(&after)[1]);
}

/// Two pairs, one of which is wrong, where the other is enough: the wrong one may stay empty, at less than steel costs. Where both
/// are needed it may not.
#[test]
fn a_pair_too_many_may_stay_empty() {
    let two = |mass_g: f64| {
        let mut plan = plan("\tA\tB\nNose\tPlough\tHook\n");
        let socket = &mut plan.sockets[0];
        socket.sites = vec![site("a", [-4.0, 0.0]), site("b", [4.0, 0.0])];
        socket.sites[0].pole = Some(Pole::N);
        let part = &mut plan.parts[1];
        part.mass = Mass::Weighed { mass_g };
        let mut own = plug_site("a", [-4.0, 0.0]);
        own.pole = Some(Pole::N);
        part.plugs[0].sites = Some(vec![own, plug_site("b", [4.0, 0.0])]);
        plan.stock.magnets.retain(|m| m.diameter_mm == 5.0);
        let (all, found) = found(&plan, 12);
        assert_eq!(all.poles.contradictions.len(), 1);
        check(&plan, &all, &found);
        let empty = |r: &&Remedy| matches!(r.steps[..], [s] if matches!(s.kind, RemedyKind::LeaveEmpty { .. }));
        found.remedies.iter().find(empty).map(|r| r.weight)
    };
    assert_eq!(two(1.0), Some(price::LEAVE_EMPTY));
    assert_eq!(two(100.0), None);
}

/// Kits with walls that several parts use from both sides, poles wished for, and parts used turned over.
fn random() -> impl Strategy<Value = Plan> {
    let cell = prop::collection::vec(0..5_usize, 3);
    (
        prop::collection::vec(cell, 3),
        prop::collection::vec((0..8_usize, any::<bool>()), 0..3),
        prop::collection::vec(0..4_usize, 0..3),
        any::<bool>(),
        2.0..4.0_f64,
    )
        .prop_map(|(cells, wishes, over, own_sites, depth_mm)| {
            let names = ["Ladder", "Hose", "Reel", "Lamp", "-"];
            let mut grid = "\tA\tB\tC\n".to_owned();
            for (s, row) in cells.iter().enumerate() {
                let words: Vec<&str> = row.iter().map(|c| names[*c]).collect();
                grid.push_str(&format!("Face {s}\t{}\n", words.join("\t")));
            }
            let mut plan = wall(&grid);
            make_wall(&mut plan, depth_mm);
            for s in &mut plan.sockets {
                s.sites[0].max_depth_mm = depth_mm;
                s.sites[0].at_mm = [-4.0, 0.0];
                s.sites.push(site("b", [4.0, 0.0]));
            }
            for part in plan.parts.iter_mut().skip(1) {
                part.plugs[0].thickness_mm = Some(3.0);
                if own_sites {
                    part.plugs[0].sites = Some(vec![plug_site("a", [-4.0, 0.0])]);
                }
            }
            for (i, north) in wishes {
                let (s, b) = (i % 3, i / 4);
                let pole = if north { Pole::N } else { Pole::S };
                plan.sockets[s].sites[b].pole = Some(pole);
            }
            for v in over {
                if let Some(cell) = plan.variants.get_mut(v).and_then(|v| v.cells.first_mut()) {
                    cell.seats[0].pose.over = true;
                }
            }
            plan
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn remedies_of_random_plans_come_true(plan in random()) {
        let (all, found) = found(&plan, 5);
        check(&plan, &all, &found);
        let is_clean = all.poles.contradictions.is_empty();
        prop_assert!(is_clean || !found.remedies.is_empty() || found.impossible);
    }

    /// No set of keepers on the host's side is cheaper than what was found: all of them are tried on the plan itself.
    #[test]
    fn no_cheaper_keepers_are_missed(plan in random()) {
        let (all, found) = found(&plan, 5);
        prop_assume!(!all.poles.contradictions.is_empty());
        let magnet = |s: usize, i: usize| {
            let site = &plan.sockets[s].sites[i].id;
            let owner = Owner::Socket(SocketIx::new(s));
            let holes = &all.context.holes.holes;
            let hole = HoleIx::find(holes, |h| h.owner == owner && h.site == *site);
            hole.is_some_and(|h| matches!(all.sizes.fillings[h], Filling::Magnet(_)))
        };
        let places: Vec<(usize, usize)> = [(0, 0), (0, 1), (1, 1), (2, 0), (2, 1)]
            .into_iter()
            .filter(|(s, i)| magnet(*s, *i))
            .collect();
        for set in 1..1_u32 << places.len() {
            let weight = price::KEEPER * u64::from(set.count_ones());
            if found.remedies.first().is_some_and(|r| r.weight <= weight) {
                continue;
            }
            let mut other = plan.clone();
            for (_, (s, i)) in places.iter().enumerate().filter(|(k, _)| set >> k & 1 == 1) {
                other.sockets[*s].sites[*i].fit = Fit::Steel(plan.stock.steel[0].id.clone());
            }
            let after = Settled::of(&other);
            let trouble = JointIx::all(&after.context.board.joints).any(|j| after.reports[j].is_in_trouble());
            let better = after.poles.contradictions.is_empty() && !trouble;
            prop_assert!(!better, "{set:b} of {places:?}: {:?}", found.remedies.first().map(|r| &r.steps));
        }
    }
}
