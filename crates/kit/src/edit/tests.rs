//! Edits made, refused, and what they leave.

use crate::{Edit, Part, PartId, Plan};

#[test]
fn entries_join_once_and_take_their_places() {
    let plan = grid();
    let part = Box::new(Part::plain(PartId::new("lamp"), "Lamp".to_owned()));
    let joined = plan.edited(&Edit::JoinPart(part.clone())).unwrap();
    assert_eq!(joined.parts.last(), Some(&*part));
    assert!(joined.edited(&Edit::JoinPart(part)).is_err());
    let order = Edit::Arrange {
        parts: vec!["lamp".into(), "nowhere".into(), "lamp".into()],
        sockets: Vec::new(),
        variants: Vec::new(),
    };
    let arranged = joined.edited(&order).unwrap();
    assert_eq!(arranged.parts[0].id.as_str(), "lamp");
    assert_eq!(arranged.parts[1..], plan.parts[..]);
    assert!(joined.edited(&Edit::SetBase("lamp".into())).is_ok());
    assert!(joined.edited(&Edit::SetBase("nowhere".into())).is_err());
}

fn after(edits: &[Edit]) -> Plan {
    edits
        .iter()
        .fold(Plan::empty("t"), |plan, edit| plan.edited(edit).unwrap())
}

fn grid() -> Plan {
    after(&[Edit::PasteGrid(
        "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tFrame\tFrame 180° / -\n".to_owned(),
    )])
}

#[test]
fn a_pasted_grid_makes_parts_sockets_and_variants() {
    let plan = grid();
    assert_eq!(plan.parts.len(), 4);
    assert_eq!(plan.sockets.len(), 2);
    assert_eq!(plan.variants.len(), 2);
    assert_eq!(
        plan.cell_text(&plan.variants[1].id, &plan.sockets[1].id),
        "Frame 180° / -"
    );
    assert!(plan.problems().is_empty(), "{:?}", plan.problems());
}

#[test]
fn dropping_a_part_empties_its_cells() {
    let plan = grid().edited(&Edit::DropPart("plough".into())).unwrap();
    assert!(plan.variants[0].cell(&"nose".into()).is_none());
}

#[test]
fn the_base_and_a_carrying_part_stay() {
    let plan = grid();
    assert!(plan.edited(&Edit::DropPart("base".into())).is_err());
    let more = plan
        .edited(&Edit::AddSocket {
            name: "Lamp".into(),
            host: "frame".into(),
        })
        .unwrap();
    let refusal = more.edited(&Edit::DropPart("frame".into())).unwrap_err();
    assert!(refusal.to_string().contains("Lamp"), "{refusal}");
}

#[test]
fn an_edit_that_no_file_could_hold_is_refused() {
    let plan = grid();
    let mut part = plan.parts[1].clone();
    part.size_mm = [f64::NAN, 1.0, 1.0];
    let refusal = plan.edited(&Edit::PutPart(Box::new(part))).unwrap_err();
    let told = "is NaN but must be a number from 0.1 to 5000. Correct the number.";
    let place = "parts[plough].size_mm";
    assert_eq!(refusal.to_string(), format!("{place}: {told}"));
    // Beside the field the path is left out.
    assert_eq!(refusal.beside_the_field(), format!("This {told}"));
    let refusal = plan.edited(&Edit::AddPart("  ".to_owned())).unwrap_err();
    assert_eq!(refusal.beside_the_field(), "A name is needed. Type one.");
    assert!(
        plan.edited(&Edit::RenameVariant("none".into(), "x".to_owned()))
            .is_err()
    );
}

#[test]
fn a_part_on_itself_is_refused() {
    let plan = grid()
        .edited(&Edit::AddSocket {
            name: "Lamp".into(),
            host: "frame".into(),
        })
        .unwrap();
    let edit = Edit::WriteCell {
        variant: "winter".into(),
        socket: "lamp".into(),
        text: "Frame".into(),
    };
    assert!(plan.edited(&edit).is_err());
}

#[test]
fn what_stands_in_two_places_is_reported() {
    let plan = grid();
    let edit = Edit::WriteCell {
        variant: "winter".into(),
        socket: "nose".into(),
        text: "Frame".into(),
    };
    let plan = plan.edited(&edit).unwrap();
    assert_eq!(plan.problems().len(), 1);
    assert!(
        plan.problems()[0].message.contains("already sits"),
        "{:?}",
        plan.problems()
    );
}
