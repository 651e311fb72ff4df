//! A harbour tug with four variants (invented), entered as a newcomer would: a pasted grid, then sizes, places and insides. At every
//! step only holes that can be drilled are offered, and what is missing is said.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop on a broken setup"
)]

use lodewright_planner::joints::{Filling, HoleIx, Misfit, Reason, misfit};
use lodewright_planner::kit::{
    Drawn, Edit, Facing, Inside, Ix, MagnetIx, Mass, Part, Patch, Plan, Section, Socket,
    ThinSection,
};
use lodewright_planner::{Analysis, JointAnswer, misfit_words};

const GRID: &str = "\tHarbour\tFire fighting\tSalvage\tMuseum
Wheelhouse\tTall house\tTall house\tLow house\tTall house
Mast foot\tAerial\tAerial\tAerial\t-
Fore deck\tWinch\tWater gun\tWinch\tBell stand
Aft deck\tTow hook\tSpacer\tSpacer\tTow hook
On the spacer\t-\tSecond gun\tSalvage pump\t-
Name rail\tName board\tName board\t-\tOld name board
Keel\tStand\tStand\tStand\tStand
";

fn pasted() -> Plan {
    let mut plan = Plan::empty("Harbour tug (invented)")
        .edited(&Edit::PasteGrid(GRID.to_owned()))
        .unwrap();
    let host = |plan: &Plan, name: &str| {
        let part = plan.parts.iter().find(|p| p.name == name);
        part.unwrap().id.clone()
    };
    let (house, spacer) = (host(&plan, "Tall house"), host(&plan, "Spacer"));
    socket(&mut plan, "Mast foot").host = house;
    socket(&mut plan, "On the spacer").host = spacer;
    // The low house has no mast foot.
    let salvage = &mut plan.variants[2];
    salvage.cells.retain(|c| c.socket.as_str() != "mast-foot");
    plan
}

fn socket<'a>(plan: &'a mut Plan, name: &str) -> &'a mut Socket {
    plan.sockets.iter_mut().find(|s| s.name == name).unwrap()
}

fn part<'a>(plan: &'a mut Plan, name: &str) -> &'a mut Part {
    plan.parts.iter_mut().find(|p| p.name == name).unwrap()
}

fn analysis(plan: &Plan) -> Analysis {
    Analysis::of(plan.clone()).unwrap_or_else(|p| panic!("{p:?}"))
}

/// Sizes, insides, masses.
fn sized(plan: &mut Plan) {
    let hull = &mut plan.parts[0];
    hull.size_mm = [172.0, 54.0, 38.0];
    hull.inside = Inside::Shell { wall_mm: 2.4 };
    hull.mass = Mass::Weighed { mass_g: 96.0 };
    for (name, size_mm, mass_g) in [
        ("Tall house", [44.0, 34.0, 32.0], 21.0),
        ("Low house", [44.0, 34.0, 18.0], 14.0),
        ("Winch", [22.0, 18.0, 12.0], 8.0),
        ("Water gun", [18.0, 14.0, 16.0], 5.0),
        ("Bell stand", [14.0, 14.0, 20.0], 4.0),
        ("Tow hook", [20.0, 16.0, 10.0], 6.0),
        ("Second gun", [18.0, 14.0, 16.0], 5.0),
        ("Salvage pump", [24.0, 18.0, 14.0], 9.0),
        ("Stand", [90.0, 40.0, 12.0], 40.0),
    ] {
        let part = part(plan, name);
        part.size_mm = size_mm;
        part.inside = Inside::Solid;
        part.mass = Mass::Weighed { mass_g };
    }
    let spacer = part(plan, "Spacer");
    spacer.size_mm = [26.0, 20.0, 1.6];
    spacer.inside = Inside::Solid;
    for name in ["Name board", "Old name board"] {
        let board = part(plan, name);
        board.size_mm = [36.0, 1.2, 9.0];
        board.inside = Inside::Solid;
    }
    let aerial = part(plan, "Aerial");
    aerial.size_mm = [0.8, 0.8, 46.0];
    aerial.drawn = Drawn::Barrel;
    aerial.inside = Inside::Solid;
    aerial.thin = Some(ThinSection {
        length_mm: 40.0,
        section: Section::Round { diameter_mm: 0.8 },
        reach_mm: 42.0,
        notch_factor: 1.5,
    });
}

/// Every socket where it belongs.
fn placed(plan: &mut Plan) {
    for (name, facing, at_mm) in [
        ("Wheelhouse", Facing::Up, [10.0, 0.0, 19.0]),
        ("Mast foot", Facing::Up, [-14.0, 0.0, 16.0]),
        ("Fore deck", Facing::Up, [58.0, 0.0, 19.0]),
        ("Aft deck", Facing::Up, [-52.0, 0.0, 19.0]),
        ("On the spacer", Facing::Up, [0.0, 0.0, 0.8]),
        ("Name rail", Facing::Left, [20.0, 27.0, 10.0]),
        ("Keel", Facing::Down, [0.0, 0.0, -19.0]),
    ] {
        let socket = socket(plan, name);
        (socket.facing, socket.at_mm) = (facing, Some(at_mm));
        socket.patch = Patch::Rectangle {
            width_mm: 14.0,
            height_mm: 12.0,
        };
    }
}

fn joint<'a>(answers: &'a Analysis, words: &str) -> &'a JointAnswer {
    let all = answers.joints().values();
    all.iter()
        .find(|j| j.words == words)
        .unwrap_or_else(|| panic!("{words}"))
}

/// Why holes of a part cannot be, with a magnet of the stock in each of them.
fn misfits(plan: &Plan, stock: &str, name: &str) -> Vec<Misfit> {
    let answers = analysis(plan);
    let magnet = MagnetIx::find(&plan.stock.magnets, |m| m.id.as_str() == stock).unwrap();
    let holes = answers.holes().holes.iter();
    holes
        .filter(|h| plan.parts[h.part].name == name)
        .filter_map(|h| misfit(plan, h, Filling::Magnet(magnet)))
        .collect()
}

#[test]
fn a_pasted_grid_says_at_once_what_needs_no_place_and_nothing_else() {
    let plan = pasted();
    let answers = analysis(&plan);
    assert_eq!(answers.unplaced().len(), 7);
    // The stand is always there, all else changes.
    let glued: Vec<_> = answers
        .joints()
        .values()
        .iter()
        .filter(|j| j.separable.is_none())
        .collect();
    assert_eq!(
        glued.len(),
        1,
        "{:?}",
        glued.iter().map(|j| &j.words).collect::<Vec<_>>()
    );
    assert_eq!(glued[0].words, "Stand in Keel");
    // Poles and sizes are there; no magnets clash where nobody has said how they lie.
    assert!(answers.nothing_fits().is_empty() && answers.contradictions().is_empty());
    assert!(answers.unintended_pairs().is_empty());
    assert!(answers.drills().iter().all(|d| d.misfit.is_none()));
    // What hangs on a socket without a place is not known; what sits by itself is.
    let spacer = &joint(&answers, "Spacer in Aft deck").report;
    assert!(
        matches!(spacer.reasons[..], [Reason::NotPlaced { .. }]),
        "{:?}",
        spacer.reasons
    );
    assert!(
        joint(&answers, "Winch in Fore deck")
            .report
            .worst()
            .is_some()
    );
}

#[test]
fn thin_parts_are_not_drilled_through() {
    let mut plan = pasted();
    sized(&mut plan);
    placed(&mut plan);
    // 2 mm of magnet, 0.1 mm of glue, the point of a 3.1 mm bit and half a millimetre behind it, in 1.6 mm of spacer.
    let needs_mm = 2.0 + 0.1 + 3.1 * 0.300_430_309_513_78 + 0.5;
    for misfit in misfits(&plan, "disc-3x2", "Spacer") {
        match misfit {
            Misfit::TooDeep { short_mm } => assert!((short_mm - (needs_mm - 1.6)).abs() < 1e-9),
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(misfits(&plan, "disc-3x2", "Spacer").len(), 2);
    // A rod of 0.8 mm takes no magnet at all.
    let aerial = misfits(&plan, "disc-2x1", "Aerial");
    assert!(
        matches!(aerial[..], [Misfit::NearSide { left_mm }] if left_mm < 0.0),
        "{aerial:?}"
    );
    // The drill's point comes through a board of 1.2 mm even with the thinnest magnet.
    let board = misfits(&plan, "disc-2x1", "Name board");
    assert!(matches!(board[..], [Misfit::TooDeep { .. }]), "{board:?}");
    let [what, help] = misfit_words(board[0]);
    assert!(what.contains("more plastic than there is") && help.contains("flat-bottomed"));
    // The hull is a shell: 2.4 mm are too little for 2 mm of magnet, and enough for less.
    assert!(!misfits(&plan, "disc-3x2", "Base").is_empty());
    // Nothing of all that is offered: what is chosen can be drilled, the rest is said not to fit.
    let answers = analysis(&plan);
    assert!(answers.drills().iter().all(|d| d.misfit.is_none()));
    assert!(!answers.nothing_fits().is_empty());
}

#[test]
fn with_bosses_and_flat_cutters_the_tug_can_be_drilled() {
    let mut plan = pasted();
    sized(&mut plan);
    placed(&mut plan);
    plan.settings.flat_cutter = true;
    for socket in &mut plan.sockets {
        for site in &mut socket.sites {
            site.measured_mm = Some(4.5);
        }
    }
    // Two holes do not go in one place of a thin spacer, from above and from below.
    let before = analysis(&plan);
    let spacer = |h: &HoleIx| plan.parts[before.holes().holes[*h].part].name == "Spacer";
    assert!(before.nothing_fits().iter().any(spacer));
    socket(&mut plan, "Aft deck").sites[0].at_mm = [-4.5, 0.0];
    socket(&mut plan, "On the spacer").sites[0].at_mm = [4.5, 0.0];
    // Thicker boards, and a foot under the aerial.
    for name in ["Name board", "Old name board"] {
        part(&mut plan, name).size_mm[1] = 2.0;
    }
    let aerial = part(&mut plan, "Aerial");
    aerial.size_mm = [5.0, 5.0, 46.0];
    let answers = analysis(&plan);
    assert!(answers.unplaced().is_empty());
    assert!(
        answers.nothing_fits().is_empty(),
        "{:?}",
        answers.nothing_fits()
    );
    assert!(answers.drills().len() > 10);
    assert!(answers.drills().iter().all(|d| d.misfit.is_none()));
    // The aerial must let go, so it is never told to be glued, though every variant with a tall house has one.
    let aerial = joint(&answers, "Aerial in Mast foot");
    assert!(aerial.separable.is_some());
    // Measured is believed, but a part is no thicker than it is.
    let spacer = part(&mut plan, "Spacer").id.clone();
    let deep = answers
        .drills()
        .iter()
        .filter(|d| plan.parts[d.part].id == spacer);
    assert!(deep.into_iter().all(|d| d.depth_mm + 0.5 <= 1.6 + 1e-9));
}

#[test]
fn a_bore_right_through_a_thick_hull_holds_nothing() {
    let mut plan = pasted();
    sized(&mut plan);
    placed(&mut plan);
    plan.parts[0].inside = Inside::Solid;
    // The name rail on the other side shares one hole with this one, through 54 mm of hull.
    let near = socket(&mut plan, "Name rail").clone();
    let mut far = Socket::plain(
        "other-rail".into(),
        "Other rail".to_owned(),
        near.host.clone(),
    );
    far.facing = Facing::Right;
    far.at_mm = Some([20.0, -27.0, 10.0]);
    far.sites[0].through = Some(lodewright_planner::kit::SocketSiteRef {
        socket: near.id.clone(),
        site: near.sites[0].id.clone(),
    });
    let mut board = part(&mut plan, "Name board").clone();
    board.id = "starboard-board".into();
    board.name = "Starboard board".to_owned();
    let seat = lodewright_planner::kit::Seat::straight(board.id.clone());
    plan.parts.push(board);
    plan.variants[0].cells.push(lodewright_planner::kit::Cell {
        socket: far.id.clone(),
        seats: vec![seat],
        may_be_empty: false,
    });
    plan.sockets.push(far);
    for name in ["Name board", "Starboard board"] {
        part(&mut plan, name).size_mm[1] = 4.0;
    }
    let answers = analysis(&plan);
    let far = &joint(&answers, "Starboard board in Other rail").report;
    assert!(far.is_in_trouble(), "{far:?}");
    let gap_mm = far.pairs[0].gap.gap_mm;
    assert!(gap_mm > 50.0, "{gap_mm}");
    let bored = answers.drills().iter().filter(|d| d.depth_mm > 50.0);
    assert_eq!(bored.count(), 1);
}
