//! What each edit leaves behind, and what it is called for undo.

use crate::full::full;
use lodewright_kit::*;

fn after(edit: Edit) -> Plan {
    full().edited(&edit).unwrap()
}

fn refusal(edit: Edit) -> String {
    full().edited(&edit).unwrap_err().to_string()
}

#[test]
fn what_is_put_stands_in_the_plan_and_nothing_else_changes() {
    let mut plan = full();
    plan.title = "another".to_owned();
    plan.note = "words".to_owned();
    plan.kit.scale = 32;
    plan.stock.magnets[0].in_hand = 7;
    plan.materials[0].density_g_cm3 = 1.1;
    plan.finish.primer_um = 30.0;
    plan.settings.friction = 0.4;
    plan.rates.hour_cents = 1;
    plan.backdrop = None;
    plan.own_work.pins.clear();
    plan.quote.valid_days = 3;
    plan.stowing.padding_mm = 2.0;
    plan.parts[1].lift_point = true;
    plan.sockets[1].peg.snug = true;
    let edits = Edit::Together(vec![
        Edit::SetTitle(" another ".to_owned()),
        Edit::SetNote(plan.note.clone()),
        Edit::SetKit(plan.kit.clone()),
        Edit::PutStock(Box::new(plan.stock.clone())),
        Edit::PutMaterials(plan.materials.clone()),
        Edit::PutFinish(plan.finish.clone()),
        Edit::PutSettings(Box::new(plan.settings.clone())),
        Edit::PutRates(Box::new(plan.rates.clone())),
        Edit::PutBackdrop(None),
        Edit::PutOwnWork(Box::new(plan.own_work.clone())),
        Edit::PutQuote(Box::new(plan.quote.clone())),
        Edit::PutStowing(Box::new(plan.stowing.clone())),
        Edit::PutPart(Box::new(plan.parts[1].clone())),
        Edit::PutSocket(Box::new(plan.sockets[1].clone())),
    ]);
    assert_eq!(after(edits), plan);
}

#[test]
fn several_edits_are_made_all_or_none() {
    let edits = Edit::Together(vec![
        Edit::AddPart("Mast".to_owned()),
        Edit::DropPart("base".into()),
    ]);
    assert!(refusal(edits).contains("base carries everything"));
}

#[test]
fn further_entries_get_an_id_from_their_label() {
    let plan = after(Edit::AddPart(" Whip Antenna ".to_owned()));
    let added = plan.parts.last().unwrap();
    assert_eq!(
        (added.id.as_str(), &*added.name),
        ("whip-antenna", "Whip Antenna")
    );
    let plan = after(Edit::AddSocket {
        name: "Nose".to_owned(),
        host: "plough".into(),
    });
    let added = plan.sockets.last().unwrap();
    assert_eq!(
        (added.id.as_str(), added.host.as_str()),
        ("nose-2", "plough")
    );
    let plan = after(Edit::AddVariant("Works".to_owned()));
    assert_eq!(plan.variants[1].id.as_str(), "works");
    assert!(plan.variants[1].cells.is_empty());
    assert!(refusal(Edit::AddVariant(" ".to_owned())).contains("name is needed"));
}

#[test]
fn a_variant_is_copied_renamed_and_dropped() {
    let plan = after(Edit::CopyVariant("winter".into()));
    assert_eq!(plan.variants[1].name, "Winter 2");
    assert_eq!(plan.variants[1].cells, plan.variants[0].cells);
    let renamed = plan.edited(&Edit::RenameVariant("winter-2".into(), " Snow ".to_owned()));
    assert_eq!(renamed.unwrap().variants[1].name, "Snow");
    let dropped = plan.edited(&Edit::DropVariant("winter".into())).unwrap();
    assert_eq!(dropped.variants, plan.variants[1..]);
    assert_eq!(
        (plan.variant_name(1), plan.variant_name(2)),
        ("Winter 2", "")
    );
    assert!(refusal(Edit::CopyVariant("none".into())).contains("no longer in the plan"));
}

#[test]
fn a_part_goes_with_its_seats_and_its_place_in_the_lists() {
    let plan = after(Edit::DropPart("lamp".into()));
    assert_eq!(plan.parts, full().parts[..2]);
    assert!(plan.stowing.upright.is_empty());
    let left: Vec<&str> = plan.variants[0]
        .cells
        .iter()
        .map(|c| c.socket.as_str())
        .collect();
    assert_eq!(left, ["nose"]);
    assert!(refusal(Edit::DropPart("plough".into())).contains("'Roof'"));
}

#[test]
fn a_socket_goes_with_its_row_and_leaves_the_far_end_of_its_hole() {
    let mut plan = full();
    let mut behind = Socket::plain("behind".into(), "Behind".to_owned(), "base".into());
    behind.sites[0].through = Some(SocketSiteRef {
        socket: "nose".into(),
        site: "a".into(),
    });
    plan.sockets.push(behind);
    let other = plan.edited(&Edit::DropSocket("roof".into())).unwrap();
    assert!(other.sockets[1].sites[0].through.is_some());
    assert_eq!(other.variants[0].cells.len(), 1);
    let alone = plan.edited(&Edit::DropSocket("nose".into())).unwrap();
    assert_eq!(alone.sockets[1].sites[0].through, None);
    let rows: Vec<&str> = alone.variants[0]
        .cells
        .iter()
        .map(|c| c.socket.as_str())
        .collect();
    assert_eq!(rows, ["roof"]);
}

#[test]
fn a_cell_takes_the_place_of_the_one_before_and_an_empty_one_goes() {
    let put = |cell: Cell| after(Edit::PutCell("winter".into(), cell));
    let lamp = Cell {
        socket: "nose".into(),
        seats: vec![Seat::straight("lamp".into())],
        may_be_empty: true,
    };
    let plan = put(lamp.clone());
    assert_eq!(plan.variants[0].cell(&"nose".into()), Some(&lamp));
    assert_eq!(plan.variants[0].cells.len(), 2);
    let plan = put(Cell {
        seats: Vec::new(),
        ..lamp
    });
    assert_eq!(plan.variants[0].cell(&"nose".into()), None);
}

#[test]
fn a_typed_cell_keeps_plug_and_turning_over_of_a_part_that_was_there() {
    let mut plan = full();
    let seat = &mut plan.variants[0].cells[0].seats[0];
    (seat.plug, seat.pose.over) = (Some("main".into()), true);
    let write = |text: &str| Edit::WriteCell {
        variant: "winter".into(),
        socket: "nose".into(),
        text: text.to_owned(),
    };
    let written = plan
        .edited(&write("plough 90° / Hook / hook / nothing"))
        .unwrap();
    let cell = written.variants[0].cell(&"nose".into()).unwrap();
    assert_eq!(cell.seats.len(), 2);
    assert_eq!(cell.seats[0].plug, Some("main".into()));
    assert_eq!(
        cell.seats[0].pose,
        Pose {
            turn_deg: 90.0,
            over: true
        }
    );
    assert!(cell.seats[1].pose.is_straight() && cell.may_be_empty);
    let text = |plan: &Plan| plan.cell_text(&"winter".into(), &"nose".into());
    assert_eq!(text(&written), "Plough 90° / Hook / -");
    // What is no turn stays a name; nothing at all empties the cell.
    let odd = plan.edited(&write("Hook 400°")).unwrap();
    assert_eq!(text(&odd), "Hook 400°");
    assert_eq!(text(&plan.edited(&write(" °")).unwrap()), "°");
    assert_eq!(text(&plan.edited(&write("-")).unwrap()), "");
    let one = plan.edited(&write("Hook /")).unwrap();
    assert!(!one.variants[0].cell(&"nose".into()).unwrap().may_be_empty);
}

#[test]
fn a_pasted_grid_fills_what_is_there_and_adds_the_rest() {
    let plan = after(Edit::PasteGrid(
        "\tWinter\tWorks\nNose\tHook\t-\nTail\t\tLamp\n".to_owned(),
    ));
    let names: Vec<&str> = plan.variants.iter().map(|v| &*v.name).collect();
    assert_eq!(names, ["Winter", "Works"]);
    let sockets: Vec<&str> = plan.sockets.iter().map(|s| &*s.name).collect();
    assert_eq!(sockets, ["Nose", "Roof", "Tail"]);
    assert_eq!(plan.sockets[2].host.as_str(), "base");
    let text = |v: &str, s: &str| plan.cell_text(&v.into(), &s.into());
    assert_eq!(
        (&*text("winter", "nose"), &*text("works", "tail")),
        ("Hook", "Lamp")
    );
    assert_eq!(&*text("works", "nose"), "");
}

#[test]
fn a_grid_holds_as_many_variants_and_sockets_as_a_plan() {
    let grid = |columns: usize, rows: usize| {
        let head: String = (0..columns).map(|n| format!("\tv{n}")).collect();
        let rows: String = (0..rows).map(|n| format!("s{n}\tHook\n")).collect();
        read_grid(&format!("{head}\n{rows}"))
    };
    let most = grid(limits::VARIANTS, limits::SOCKETS).unwrap();
    assert_eq!(
        (most.variants.len(), most.rows.len()),
        (limits::VARIANTS, limits::SOCKETS)
    );
    assert!(grid(limits::VARIANTS + 1, 1).is_err());
    assert!(grid(1, limits::SOCKETS + 1).is_err());
    // Empty columns at the end and rows without a name are no entries.
    let ragged = read_grid("\tA\t\t\nNose\tHook\n\tHook\n").unwrap();
    assert_eq!((ragged.variants.len(), ragged.rows.len()), (1, 1));
}

#[test]
fn a_step_is_marked_once_and_unmarked_altogether() {
    let mark = |done, at_s, took_min| Edit::MarkStep {
        step: "a".to_owned(),
        done,
        at_s,
        took_min,
    };
    let plan = after(mark(true, Some(9), None));
    assert_eq!(plan.progress.done, ["a"]);
    assert_eq!(
        (plan.progress.marks.len(), plan.progress.marks[0].at_s),
        (1, Some(9))
    );
    assert!(after(mark(true, None, None)).progress.marks.is_empty());
    assert_eq!(after(mark(true, None, Some(2.0))).progress.marks.len(), 1);
    assert_eq!(
        after(mark(false, Some(9), None)).progress,
        Progress::default()
    );
    let other = Edit::MarkStep {
        step: "b".to_owned(),
        done: false,
        at_s: None,
        took_min: None,
    };
    assert_eq!(after(other).progress, full().progress);
}

#[test]
fn whole_entries_join_where_their_id_is_new() {
    let socket = Box::new(Socket::plain(
        "side".into(),
        "Side".to_owned(),
        "base".into(),
    ));
    assert_eq!(
        after(Edit::JoinSocket(socket.clone())).sockets.last(),
        Some(&*socket)
    );
    let variant = Box::new(Variant {
        id: "works".into(),
        ..full().variants[0].clone()
    });
    assert_eq!(
        after(Edit::JoinVariant(variant.clone())).variants.last(),
        Some(&*variant)
    );
    let taken = Box::new(Socket {
        id: "nose".into(),
        ..*socket
    });
    assert!(refusal(Edit::JoinSocket(taken)).contains("'nose' is in the plan already"));
}

#[test]
fn every_list_is_arranged_by_its_own_order() {
    let plan = after(Edit::AddVariant("Works".to_owned()));
    let order = Edit::Arrange {
        parts: vec!["lamp".into(), "plough".into()],
        sockets: vec!["roof".into()],
        variants: vec!["works".into()],
    };
    let plan = plan.edited(&order).unwrap();
    let ids = |list: Vec<&str>| list.join(" ");
    assert_eq!(
        ids(plan.parts.iter().map(|p| p.id.as_str()).collect()),
        "lamp plough base"
    );
    assert_eq!(
        ids(plan.sockets.iter().map(|s| s.id.as_str()).collect()),
        "roof nose"
    );
    assert_eq!(
        ids(plan.variants.iter().map(|v| v.id.as_str()).collect()),
        "works winter"
    );
}

#[test]
fn undo_names_an_edit_by_what_it_did() {
    let one = Edit::AddPart("Mast".to_owned());
    let two = Edit::DropSocket("nose".into());
    assert_eq!(one.label(), "add a part");
    assert_eq!(Edit::Together(vec![]).label(), "change nothing");
    assert_eq!(Edit::Together(vec![two.clone()]).label(), "remove a socket");
    assert_eq!(
        Edit::Together(vec![one, two]).label(),
        "make several changes"
    );
}
