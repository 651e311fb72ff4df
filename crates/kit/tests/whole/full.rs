//! A plan with one of everything that an entry can be, and nothing wrong with it.

use lodewright_kit::*;

/// The plan: base, plough and lamp; nose on the base with the plough, roof on the plough with the lamp.
pub fn full() -> Plan {
    let mut plan = Plan::empty("t")
        .edited(&Edit::PasteGrid(
            "\tWinter\nNose\tPlough\nRoof\tLamp\n".to_owned(),
        ))
        .unwrap();
    plan.sockets[1].host = "plough".into();
    parts(&mut plan);
    sockets(&mut plan);
    plan.stock.bits_mm = vec![3.0];
    plan.backdrop = Some(Backdrop {
        picture: Picture::from("data:image/jpeg;base64,/9j/4AAQSkZJRg==".to_owned()),
        seen_from: Facing::Left,
        middle_mm: [0.0; 2],
        width_mm: 100.0,
        height_mm: 50.0,
        stays_here: false,
    });
    plan.stowing.spaces = vec![StowSpace {
        name: "tray".to_owned(),
        inside_mm: [50.0; 3],
        count: 1,
    }];
    plan.stowing.upright = vec!["lamp".into()];
    plan.quote.extras = vec![Extra {
        name: "post".to_owned(),
        cents: 500,
    }];
    plan.own_work = OwnWork {
        steps: vec![OwnStep {
            key: "own:1".to_owned(),
            name: "sand".to_owned(),
            hands_min: 5.0,
            wait_min: 0.0,
        }],
        splits: vec![Split {
            step: "paint:lamp".to_owned(),
            goes: vec![go("first")],
        }],
        pins: vec![Pin {
            step: "a".to_owned(),
            after: "b".to_owned(),
        }],
    };
    plan.progress = Progress {
        done: vec!["a".to_owned()],
        marks: vec![Mark {
            step: "a".to_owned(),
            at_s: None,
            took_min: Some(1.0),
        }],
    };
    plan
}

pub fn go(name: &str) -> Go {
    Go {
        name: name.to_owned(),
        hands_min: 5.0,
        wait_min: 0.0,
    }
}

fn parts(plan: &mut Plan) {
    let thin = |section| {
        Some(ThinSection {
            length_mm: 10.0,
            section,
            reach_mm: 12.0,
            notch_factor: 1.5,
        })
    };
    plan.parts[0].mass = Mass::Weighed { mass_g: 40.0 };
    plan.parts[0].centre_mm = Some([0.0; 3]);
    let plough = &mut plan.parts[1];
    plough.mass = Mass::Volume { volume_cm3: 2.0 };
    plough.thin = thin(Section::Round { diameter_mm: 1.0 });
    plough.drawn = Drawn::Outline {
        seen_from: Facing::Left,
        points_mm: vec![[0.0, 0.0], [9.0, 0.0], [9.0, 9.0]],
    };
    let plug = &mut plough.plugs[0];
    plug.at_mm = Some([0.0; 3]);
    plug.thickness_mm = Some(2.0);
    plug.patch = Some(Patch::Points(vec![[0.0, 0.0], [9.0, 0.0], [9.0, 9.0]]));
    plug.sites = Some(vec![Site::plain("p".into())]);
    let lamp = &mut plan.parts[2];
    lamp.inside = Inside::Shell { wall_mm: 1.0 };
    lamp.thin = thin(Section::Rectangle {
        width_mm: 2.0,
        height_mm: 1.0,
    });
}

fn sockets(plan: &mut Plan) {
    let nose = &mut plan.sockets[0];
    nose.at_mm = Some([0.0; 3]);
    nose.attach = Attach::Friction(2.0);
    nose.may_pin_n = Some(2.0);
    nose.kept_apart = Some(KeptApart::Painted);
    nose.sites[0].measured_mm = Some(2.0);
    plan.sockets[1].patch = Patch::Disc { diameter_mm: 8.0 };
}

/// Where the plan would be refused.
pub fn refused(plan: &Plan) -> Vec<String> {
    let all = plan.problems().into_iter();
    all.filter(|p| p.severity == Severity::Refused)
        .map(|p| p.place)
        .collect()
}

/// One place is refused, and it is this one.
pub fn refused_at(plan: &Plan, place: &str) {
    let found = refused(plan);
    assert!(
        found.len() == 1 && found[0].ends_with(place),
        "{place}: {found:?}"
    );
}
