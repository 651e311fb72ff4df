//! Tests of the words of steps, holes and sizes.

use lodewright_joints::Filling;
use lodewright_kit::{Edit, Ix, KeptApart, MagnetIx, Plan, Site, SiteId, SocketId, SocketSiteRef};

use super::*;
use crate::words::minutes;

/// Two variants, a nose that changes and a horn that never does.
fn plan() -> Plan {
    let mut plan = Plan::empty("t");
    let grid = "\tWinter\tSummer\nNose\tPlough\tHook\nHorn\tHorn piece\tHorn piece";
    plan = plan.edited(&Edit::PasteGrid(grid.to_owned())).unwrap();
    plan.finish.mask_mating_faces = true;
    plan
}

fn analysis(plan: &Plan) -> Analysis {
    Analysis::of(plan.clone()).unwrap()
}

fn titles(plan: &Plan) -> Vec<String> {
    let answers = analysis(plan);
    let words = (0..).map_while(|n| answers.step_words(n));
    words.map(|w| w.title).collect()
}

#[test]
fn what_is_kept_apart_is_not_told_to_be_glued_and_says_why() {
    let glue = "Glue Horn piece to Base at Horn for good.".to_owned();
    assert!(titles(&plan()).contains(&glue));
    for (why, words) in [
        (
            KeptApart::LetsGo,
            "Kept apart: it must let go before it snaps.",
        ),
        (KeptApart::Painted, "Kept apart: it is painted by itself."),
        (KeptApart::Packed, "Kept apart: it is packed by itself."),
        (KeptApart::Wanted, "Kept apart by choice."),
    ] {
        let mut plan = plan();
        plan.sockets[1].kept_apart = Some(why);
        let titles = titles(&plan);
        assert!(!titles.contains(&glue), "{titles:#?}");
        assert!(
            titles.contains(&"Paint Horn piece.".to_owned()),
            "{titles:#?}"
        );
        let answers = analysis(&plan);
        let horn = answers.joints().values().last().unwrap();
        assert_eq!(answers.separable_words(horn).as_deref(), Some(words));
        assert!(!horn.report.pairs.is_empty());
        assert_eq!(answers.figures().separable, 3);
    }
}

#[test]
fn every_kind_of_step_names_its_part_or_variant() {
    let mut plan = plan();
    plan.parts
        .iter_mut()
        .find(|p| p.name == "Plough")
        .unwrap()
        .plugs[0]
        .keeps_peg = false;
    let titles = titles(&plan);
    for wanted in [
        "Put Winter together without glue.",
        "Put Summer together, finished.",
        "Cut the peg off Plough.",
        "Glue Horn piece to Base at Horn for good.",
        "Mask the socket Nose on Base.",
        "Mask the face of Hook that meets Nose.",
        "Paint Base and Horn piece.",
        "Paint Plough.",
    ] {
        assert!(
            titles.iter().any(|t| t == wanted),
            "{wanted} is not in {titles:#?}"
        );
    }
    assert!(
        titles
            .iter()
            .any(|t| t.starts_with("Drill Base, Nose, hole a: ")),
        "{titles:#?}"
    );
    assert!(
        titles
            .iter()
            .any(|t| t.starts_with("Drill Plough, face to Nose, hole 1: ")),
        "{titles:#?}"
    );
    assert!(
        titles.iter().all(|t| t.ends_with('.') && !t.contains("..")),
        "{titles:#?}"
    );
}

#[test]
fn short_words_say_what_differs() {
    let plan = plan();
    let answers = analysis(&plan);
    let words = (0..).map_while(|n| answers.step_words(n));
    let short: Vec<String> = words.map(|w| w.short).collect();
    for wanted in ["Winter", "Base and Horn piece"] {
        assert!(
            short.iter().any(|s| s == wanted),
            "{wanted} is not in {short:#?}"
        );
    }
    let glued = "Plough, face to Nose, hole 1, ";
    let found = short.iter().find(|s| s.starts_with(glued)).unwrap();
    assert!(found.ends_with("N42 magnet: S out"), "{found}");
    let drilled = short
        .iter()
        .find(|s| s.starts_with("Base, Nose, hole a: "))
        .unwrap();
    assert!(drilled.ends_with(" mm deep"), "{drilled}");
}

#[test]
fn facing_magnets_are_told_opposite_poles() {
    let plan = plan();
    let answers = analysis(&plan);
    let pair = answers
        .joints()
        .values()
        .iter()
        .flat_map(|j| &j.report.pairs)
        .next()
        .unwrap();
    let [a, b] = pair.holes.map(|h| pole_words(&answers.hole_words(h)));
    assert_eq!([a.as_str(), b.as_str()], ["N out", "S out"]);
}

#[test]
fn a_through_hole_names_both_faces() {
    let mut plan = plan();
    let mut far = Site::plain(SiteId::new("b"));
    far.through = Some(SocketSiteRef {
        socket: SocketId::new("nose"),
        site: SiteId::new("a"),
    });
    let horn = plan.sockets.iter_mut().find(|s| s.name == "Horn").unwrap();
    horn.sites = vec![far];
    let answers = analysis(&plan);
    let hole = HoleIx::find(&answers.holes().holes, |h| h.through).unwrap();
    assert_eq!(
        pole_words(&answers.hole_words(hole)),
        "N at Nose, hole a, S at Horn, hole a"
    );
}

#[test]
fn words_of_what_is_not_there_do_not_panic() {
    let planned = analysis(&plan());
    let empty = analysis(&Plan::empty("other"));
    let steps = planned.order().steps.len();
    assert!(steps > 0 && planned.step_words(steps - 1).is_some());
    assert!(planned.step_words(steps).is_none() && empty.step_words(0).is_none());
    let beyond = Filling::Magnet(MagnetIx::new(99));
    assert_eq!(filling_words(empty.plan(), beyond), "nothing");
}

#[test]
fn lengths_and_times_read_well() {
    assert_eq!(mm(5.1), "5.1");
    assert_eq!(mm(0.1 + 0.2), "0.3");
    assert_eq!(mm(-0.001), "0");
    assert_eq!(list_mm(&[1.0, 2.5, 4.0]), "1, 2.5 and 4");
    assert_eq!(minutes(1.5), "1.5 min");
    assert_eq!(minutes(90.0), "1 h 30 min");
    assert_eq!(minutes(1440.0), "24 h");
}
