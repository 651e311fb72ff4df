//! Older files made new: one rung a version, each lifting a file by one.

use serde_json::{Map, Value, json};

/// Turns a file of one version into one of the next. What it needs is there or is put there; an entry that is not of its
/// kind is left, and refused with its place once the file is read.
type Rung = fn(&mut Value);

/// The rung at place `i` lifts version `i + 1`.
const LADDER: [Rung; 1] = [bodies];

/// The file as of today's version.
pub(crate) fn lifted(file: Value, version: u64) -> Value {
    climb(file, version, &LADDER)
}

/// In version 1 a part's mass said what shape it has and how thick its wall is: its body says that now.
fn bodies(file: &mut Value) {
    let parts = file.get_mut("plan").and_then(|p| p.get_mut("parts"));
    for part in parts.and_then(Value::as_array_mut).into_iter().flatten() {
        if let Some(part) = part.as_object_mut() {
            body(part);
        }
    }
}

fn body(part: &mut Map<String, Value>) {
    match part.get("mass") {
        Some(mass) if mass == "guessed" => {}
        Some(mass) => {
            let Some((is_barrel, wall_mm)) = shaped(mass) else {
                return;
            };
            // What was drawn otherwise is the better likeness.
            let is_boxy = |drawn: &Value| drawn == "box" || drawn == "plate";
            if is_barrel && part.get("drawn").is_none_or(is_boxy) {
                part.insert("drawn".to_owned(), json!("barrel"));
            }
            // A part drawn by hand got a wall of 1.2 mm that nobody had said.
            if wall_mm.as_ref().and_then(Value::as_f64) != Some(1.2) {
                let shell = |wall_mm| json!({"shell": {"wall_mm": wall_mm}});
                let inside = wall_mm.map_or(json!("solid"), shell);
                part.insert("inside".to_owned(), inside);
            }
        }
        None => return,
    }
    part.insert("mass".to_owned(), json!("body"));
}

/// Of a mass by shape, whether that is a barrel, and the wall, if it has one.
fn shaped(mass: &Value) -> Option<(bool, Option<Value>)> {
    let kinds = mass.as_object().filter(|kinds| kinds.len() == 1)?;
    let mut fields = kinds.get("shaped")?.as_object()?.clone();
    let is_barrel = match fields.remove("shape")?.as_str()? {
        "barrel" => true,
        "box" => false,
        _ => return None,
    };
    let wall_mm = fields.remove("wall_mm").filter(|wall| !wall.is_null());
    fields.is_empty().then_some((is_barrel, wall_mm))
}

fn climb(mut file: Value, version: u64, ladder: &[Rung]) -> Value {
    let from = usize::try_from(version).unwrap_or(usize::MAX);
    for (i, rung) in ladder.iter().enumerate().skip(from.saturating_sub(1)) {
        rung(&mut file);
        if let Some(fields) = file.as_object_mut() {
            fields.insert("version".to_owned(), Value::from(i + 2));
        }
    }
    file
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::VERSION;
    use crate::file::envelope;
    use serde_json::json;

    #[test]
    fn there_is_a_rung_for_every_older_version() {
        assert_eq!(LADDER.len(), usize::try_from(VERSION).unwrap() - 1);
    }

    /// The part of a file of version 1 that has these entries, in version 2.
    fn lifted_part(entries: Value) -> Value {
        let mut file = made_up(1, "title");
        let part = file["plan"]["parts"][0].as_object_mut().unwrap();
        part.extend(entries.as_object().unwrap().clone());
        lifted(file, 1)["plan"]["parts"][0].take()
    }

    #[test]
    fn a_shape_for_the_mass_becomes_the_body() {
        let shell = |wall_mm: f64| json!({"shell": {"wall_mm": wall_mm}});
        let by = |shape: &str, wall: Value| json!({"shaped": {"shape": shape, "wall_mm": wall}});
        // The mass, the shape that was drawn; the shape that is, the inside.
        let (no, outline) = (
            Value::Null,
            json!({"outline": {"seen_from": "up", "points_mm": []}}),
        );
        for (mass, drawn, then_drawn, inside) in [
            (by("barrel", json!(0.8)), &no, &json!("barrel"), shell(0.8)),
            (by("barrel", json!(1.2)), &no, &json!("barrel"), no.clone()),
            (
                by("barrel", no.clone()),
                &json!("plate"),
                &json!("barrel"),
                json!("solid"),
            ),
            (by("barrel", json!(2)), &outline, &outline, shell(2.0)),
            (
                by("box", json!(1.2)),
                &json!("frame"),
                &json!("frame"),
                no.clone(),
            ),
            (
                by("box", json!(1.0)),
                &json!("barrel"),
                &json!("barrel"),
                shell(1.0),
            ),
            (
                json!({"shaped": {"shape": "box"}}),
                &no,
                &no,
                json!("solid"),
            ),
            (
                json!("guessed"),
                &json!("frame"),
                &json!("frame"),
                no.clone(),
            ),
        ] {
            let mut entries = json!({ "mass": mass });
            if !drawn.is_null() {
                entries["drawn"] = drawn.clone();
            }
            let part = lifted_part(entries);
            assert_eq!(part["mass"], "body", "{mass}");
            assert_eq!(part["drawn"], *then_drawn, "{mass}");
            match (
                part["inside"].pointer("/shell/wall_mm"),
                inside.pointer("/shell/wall_mm"),
            ) {
                (Some(a), Some(b)) => assert_eq!(a.as_f64(), b.as_f64()),
                _ => assert_eq!(part["inside"], inside, "{mass}"),
            }
        }
    }

    #[test]
    fn other_masses_and_none_at_all_stay() {
        for mass in [
            json!({"weighed": {"mass_g": 2.5}}),
            json!({"volume": {"volume_cm3": 1.5}}),
        ] {
            let part = lifted_part(json!({ "mass": mass }));
            assert_eq!((&part["mass"], &part["inside"]), (&mass, &Value::Null));
        }
        assert_eq!(lifted_part(json!({})).get("mass"), None);
    }

    #[test]
    fn what_version_1_did_not_know_is_refused_with_its_place() {
        for (mass, message) in [
            (json!({"shaped": {"shape": "cone"}}), "plan.parts[0].mass"),
            (
                json!({"shaped": {"shape": "box", "colour": 3}}),
                "plan.parts[0].mass",
            ),
            (json!({"shaped": {"wall_mm": 1.0}}), "plan.parts[0].mass"),
            (
                json!({"shaped": {"shape": "box"}, "weighed": {"mass_g": 1.0}}),
                "plan.parts[0].mass",
            ),
            (
                json!({"shaped": {"shape": "box", "wall_mm": "thick"}}),
                "wall_mm",
            ),
        ] {
            let mut file = made_up(1, "title");
            file["plan"]["parts"][0]["mass"] = mass.clone();
            let error = envelope::parse_lifted(&lifted(file, 1)).unwrap_err();
            assert!(error.to_string().contains(message), "{mass} {error}");
        }
        for mut file in [
            json!({}),
            json!({"plan": {"parts": 3}}),
            json!({"plan": {"parts": [3]}}),
        ] {
            bodies(&mut file);
        }
    }

    /// Made up: a plan whose title was called `name`, then `heading`, before it got its name of today.
    const MADE_UP: [Rung; 2] = [
        |file| rename(file, "name", "heading"),
        |file| rename(file, "heading", "title"),
    ];

    fn rename(file: &mut Value, old: &str, new: &str) {
        if let Some(plan) = file.get_mut("plan").and_then(Value::as_object_mut)
            && let Some(value) = plan.remove(old)
        {
            plan.insert(new.to_owned(), value);
        }
    }

    fn made_up(version: u64, title: &str) -> Value {
        json!({"format": "lodewright-plan", "version": version, "plan": {
            title: "Old", "kit": {}, "base": "b", "sockets": [], "variants": [],
            "parts": [{"id": "b", "name": "Base", "material": "styrene", "size_mm": [1.0, 2.0, 3.0]}],
        }})
    }

    #[test]
    fn a_file_climbs_from_its_own_version() {
        for (version, title) in [(1, "name"), (2, "heading"), (3, "title")] {
            let lifted = climb(made_up(version, title), version, &MADE_UP);
            assert_eq!(lifted["version"], 3);
            assert_eq!(envelope::parse_lifted(&lifted).unwrap().title, "Old");
        }
        // What a rung does not find is refused in the words for today's files.
        let lifted = climb(made_up(2, "name"), 2, &MADE_UP);
        let message = envelope::parse_lifted(&lifted).unwrap_err().to_string();
        assert!(message.contains("`name` is not known"), "{message}");
    }
}
