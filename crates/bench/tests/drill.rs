//! No line of a drill list asks for a hole that is not there: random plans of random bodies, and rays through their material.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot build its plan has failed"
)]

use std::cell::Cell;
use std::rc::Rc;

use lodewright_assembly::{Board, glue_answer};
use lodewright_bench::{DrillFrom, DrillLine, drill_list};
use lodewright_joints::{Context, Filling, Fillings, Hole, LEAST_WALL_MM, Misfit};
use lodewright_kit::{
    CheckedPlan, Drawn, Edit, Facing, Inside, Ix, MagnetIx, Plan, PlugSiteRef, Site, SiteId,
    SocketSiteRef, Table, Vec3,
};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

/// Rays are looked at so finely, mm.
const STEP_MM: f64 = 0.04;
/// So far a face may fall away under a hole: it is dressed flat there.
const DRESSED_MM: f64 = 0.5;

/// A plan worked out, with a magnet from the stock in every hole, and its drill list.
fn listed(plan: &Plan, magnets: &[usize]) -> Option<(Context, Vec<DrillLine>)> {
    let board = Rc::new(Board::of(CheckedPlan::of(plan.clone()).ok()?));
    let glue = Rc::new(glue_answer(&board));
    let context = Context::of(board, glue);
    let count = context.plan().stock.magnets.len();
    let mut next = magnets.iter().cycle();
    let fillings: Fillings = Table::of(&context.holes.holes, |_, _| {
        Filling::Magnet(MagnetIx::new(next.next().unwrap_or(&0) % count))
    });
    let lines = drill_list(&context, &fillings);
    Some((context, lines))
}

/// Rays of a hole: where they begin beside its axis, over its radius.
fn rays() -> impl Iterator<Item = (f64, f64)> {
    let around = |share: f64| {
        (0..16).map(move |i| {
            let (s, c) = libm::sincos(f64::from(i) * std::f64::consts::PI / 8.0);
            (share * c, share * s)
        })
    };
    around(0.999).chain(around(0.5)).chain([(0.0, 0.0)])
}

/// Whether along a ray, from a hole's mouth, so far beside its axis, all between two depths is what it should be.
fn is_all(
    hole: &Hole,
    beside_mm: (f64, f64),
    [from, to]: [f64; 2],
    is: &dyn Fn(Vec3) -> bool,
) -> bool {
    let run = hole.run.unwrap();
    let along = (0..3).find(|k| run.inward[*k].abs() > 0.5).unwrap();
    let mut start = run.mouth_mm;
    start[(along + 1) % 3] += beside_mm.0;
    start[(along + 2) % 3] += beside_mm.1;
    let mut depth = from + STEP_MM / 2.0;
    while depth < to - STEP_MM / 2.0 {
        let mut p = start;
        p[along] += run.inward[along] * depth;
        if !is(p) {
            return false;
        }
        depth += STEP_MM;
    }
    true
}

/// Whether all material that a line takes away, and the wall that must be left, is there.
fn is_there(context: &Context, line: &DrillLine, measured: bool) -> bool {
    let hole = &context.holes.holes[line.hole];
    let body = context.board.body(line.part);
    let radius_mm = line.bit_mm / 2.0;
    let point_mm = match line.from {
        DrillFrom::Through => 0.0,
        _ if line.finish_flat => 0.0,
        _ => line.point_mm,
    };
    // What was measured is believed as far as the outer size.
    let material = |p: Vec3| match measured {
        true => body.depth_mm(p) > 0.0,
        false => body.is_material(p),
    };
    let outer = |p: Vec3| body.depth_mm(p) > 0.0;
    rays().all(|(u, v)| {
        let beside_mm = (u * radius_mm, v * radius_mm);
        // A cone is as deep as the way to its rim.
        let point_mm = point_mm * (1.0 - (u * u + v * v).sqrt());
        let all = |ends, is: &dyn Fn(Vec3) -> bool| is_all(hole, beside_mm, ends, is);
        match line.from {
            DrillFrom::MatingFace => {
                let bottom_mm = line.depth_mm + point_mm + LEAST_WALL_MM;
                all([DRESSED_MM, bottom_mm], &material)
            }
            DrillFrom::Through => all([DRESSED_MM, line.depth_mm - DRESSED_MM], &material),
            DrillFrom::Inside => {
                let [front_mm, bottom_mm] = [0.0, line.depth_mm].map(|mm| line.wall_left_mm + mm);
                point_mm <= front_mm + 1e-9
                    && all([DRESSED_MM, front_mm], &material)
                    && all([DRESSED_MM, bottom_mm], &outer)
            }
        }
    })
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let l_shape = vec![
        [0.0, 0.0],
        [10.0, 0.0],
        [10.0, 4.0],
        [5.0, 6.0],
        [5.0, 10.0],
        [0.0, 9.0],
    ];
    let outline = prop::sample::select(vec![Facing::Up, Facing::Left, Facing::Front]).prop_map(
        move |seen_from| Drawn::Outline {
            seen_from,
            points_mm: l_shape.clone(),
        },
    );
    prop_oneof![
        3 => Just(Drawn::Box),
        1 => Just(Drawn::Plate),
        2 => Just(Drawn::Barrel),
        1 => Just(Drawn::Frame),
        1 => Just(Drawn::Figure),
        2 => outline,
    ]
}

fn inside() -> impl Strategy<Value = Inside> {
    prop_oneof![
        Just(Inside::Unsaid),
        Just(Inside::Solid),
        (0.5..4.0_f64).prop_map(|wall_mm| Inside::Shell { wall_mm }),
    ]
}

/// Where a site is, how much was measured there, the wall in front.
type Spot = ((f64, f64), Option<f64>, f64);

fn spot() -> impl Strategy<Value = Spot> {
    (
        (-5.0..5.0_f64, -5.0..5.0_f64),
        prop::option::weighted(0.2, 0.3..9.0_f64),
        prop_oneof![2 => Just(0.0), 1 => 0.3..2.5_f64],
    )
}

fn place<Far>(site: &mut Site<Far>, ((x, y), measured_mm, wall_mm): Spot) {
    (site.at_mm, site.measured_mm, site.wall_mm) = ([x, y], measured_mm, wall_mm);
    (site.max_depth_mm, site.max_diameter_mm) = (9.0, 9.0);
}

prop_compose! {
    /// Two parts on two sockets of a base, one of the sockets perhaps the far end of a hole that goes right through.
    fn plans()(
        shapes in prop::collection::vec((drawn(), inside(), prop::array::uniform3(prop_oneof![1 => 0.8..8.0_f64, 3 => 6.0..40.0_f64])), 3),
        faces in prop::collection::vec((prop::sample::select(Facing::ALL.to_vec()), -0.3..0.3_f64, -0.3..0.3_f64), 2),
        spots in prop::collection::vec(spot(), 6),
        through in prop::sample::select(vec![false, false, true]),
        (flat, bits) in (any::<bool>(), prop::sample::select(vec![vec![], vec![1.3, 2.3, 3.3, 5.3]])),
    ) -> Plan {
        let grid = "\tA\tB\nNose\tPlough\t-\nTail\t-\tLamp\n".to_owned();
        let mut plan = Plan::empty("test").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.settings.flat_cutter = flat;
        plan.stock.bits_mm = bits;
        for (part, (drawn, inside, size_mm)) in plan.parts.iter_mut().zip(shapes) {
            (part.drawn, part.inside, part.size_mm) = (drawn, inside, size_mm);
        }
        let size_mm = plan.parts.first().unwrap().size_mm;
        for (socket, (facing, u, v)) in plan.sockets.iter_mut().zip(&faces) {
            socket.facing = *facing;
            let along = (0..3).find(|k| facing.normal()[*k] != 0.0).unwrap();
            let mut at_mm = facing.normal().map(|n| n * facing.half_extent_mm(size_mm));
            at_mm[(along + 1) % 3] = u * size_mm[(along + 1) % 3];
            at_mm[(along + 2) % 3] = v * size_mm[(along + 2) % 3];
            socket.at_mm = Some(at_mm);
        }
        for (i, socket) in plan.sockets.iter_mut().enumerate() {
            socket.sites = ["a", "b"].map(|id| Site::<SocketSiteRef>::plain(SiteId::new(id))).to_vec();
            place(&mut socket.sites[0], spots[i]);
            place(&mut socket.sites[1], spots[i + 2]);
        }
        if through {
            // Opposite the first socket, where its first site comes out.
            let (first, facing) = (plan.sockets[0].clone(), faces[0].0.opposite());
            let mut at_mm = first.at_mm.unwrap();
            let along = (0..3).find(|k| facing.normal()[*k] != 0.0).unwrap();
            at_mm[along] = -at_mm[along];
            let mouth = first.facing.frame(first.at_mm.unwrap(), 0.0).to_outer([
                first.sites[0].at_mm[0], first.sites[0].at_mm[1], 0.0,
            ]);
            let far = &mut plan.sockets[1];
            (far.facing, far.at_mm) = (facing, Some(at_mm));
            let [x, y, _] = facing.frame(at_mm, 0.0).to_inner(mouth);
            far.sites[0].at_mm = [x, y];
            far.sites[0].through = Some(SocketSiteRef { socket: first.id, site: SiteId::new("a") });
        }
        for (part, spot) in plan.parts.iter_mut().skip(1).zip(&spots[4..]) {
            let mut own = Site::<PlugSiteRef>::plain(SiteId::new("a"));
            place(&mut own, *spot);
            part.plugs[0].sites = Some(vec![own]);
        }
        plan
    }
}

/// Whether something was measured at a line's site.
fn is_measured(context: &Context, line: &DrillLine) -> bool {
    let plan = context.plan();
    let hole = &context.holes.holes[line.hole];
    let key = context.holes.key(plan, line.hole);
    assert!(key.ends_with(hole.site.as_str()));
    let sockets = plan
        .sockets
        .iter()
        .filter(|s| s.host == plan.parts[hole.part].id);
    let on_socket = |s: &lodewright_kit::Socket| {
        let mine = key.contains(&format!(":{}/", s.id));
        let site = s.sites.iter().find(|site| site.id == hole.site);
        mine && site.is_some_and(|s| s.measured_mm.is_some())
    };
    let plugs = plan.parts[hole.part].plugs.iter();
    let on_plug = plugs
        .flat_map(|p| p.sites.iter().flatten())
        .any(|s| s.measured_mm.is_some());
    match hole.owner.is_socket() {
        true => sockets.into_iter().any(on_socket),
        false => on_plug,
    }
}

#[test]
fn no_line_drills_where_there_is_nothing() {
    let (good, through, walled, shells) = (Cell::new(0), Cell::new(0), Cell::new(0), Cell::new(0));
    let all = Cell::new(0);
    let mut runner = TestRunner::new(Config {
        failure_persistence: None,
        ..Config::with_cases(2000)
    });
    let magnets = prop::collection::vec(0..16_usize, 6);
    let found = runner.run(&(plans(), magnets), |(plan, magnets)| {
        let Some((context, lines)) = listed(&plan, &magnets) else {
            return Err(TestCaseError::reject("refused"));
        };
        for line in &lines {
            all.set(all.get() + 1);
            if line.misfit.is_some() {
                continue;
            }
            let there = is_there(&context, line, is_measured(&context, line));
            prop_assert!(there, "{line:?} {:?}", context.holes.holes[line.hole]);
            let count = |c: &Cell<u32>, is: bool| c.set(c.get() + u32::from(is));
            count(&good, true);
            count(&through, line.from == DrillFrom::Through);
            count(&walled, line.from == DrillFrom::Inside);
            count(&shells, context.board.body(line.part).wall_mm().is_some());
        }
        Ok(())
    });
    found.unwrap();
    // Enough of every kind was looked at.
    let counts = [&good, &through, &walled, &shells].map(Cell::get);
    println!("{counts:?} of {}", all.get());
    assert!(
        counts[0] > 1000 && counts[1..].iter().all(|n| *n >= 20),
        "{counts:?} of {}",
        all.get()
    );
}

/// The list itself says what stands against a hole, of its body as of its neighbour.
#[test]
fn a_line_says_why_not() {
    let grid = "\tA\tB\nNose\tPlough\t-\n".to_owned();
    let mut plan = Plan::empty("test").edited(&Edit::PasteGrid(grid)).unwrap();
    let listed = |plan: &Plan| listed(plan, &[4]).unwrap().1;
    assert!(listed(&plan).iter().all(|l| l.misfit.is_none()));
    // A spacer of 1.5 mm.
    let mut thin = plan.clone();
    thin.parts.iter_mut().last().unwrap().size_mm[2] = 1.5;
    let told: Vec<_> = listed(&thin).iter().filter_map(|l| l.misfit).collect();
    assert!(matches!(told[..], [Misfit::TooDeep { .. }]), "{told:?}");
    // Two sites on one spot.
    let mut second = plan.sockets[0].sites[0].clone();
    second.id = SiteId::new("b");
    plan.sockets[0].sites.push(second);
    let told: Vec<_> = listed(&plan).iter().filter_map(|l| l.misfit).collect();
    let near = |m: &Misfit| matches!(m, Misfit::NearHole { left_mm, .. } if *left_mm == 0.0);
    assert!(told.len() == 2 && told.iter().all(near), "{told:?}");
}
