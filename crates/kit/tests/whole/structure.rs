//! Entries of a plan fit together: ids are legal and stand once, references lead somewhere, and a variant can be built.

use crate::full::{full, refused};
use lodewright_kit::*;

/// Where a plan is refused, and what was done to it.
type Spoilt = (&'static str, fn(&mut Plan));

fn with(change: impl Fn(&mut Plan)) -> Plan {
    let mut plan = full();
    change(&mut plan);
    plan
}

/// What is wrong with the plan, but could stand in a file: place and sentence.
fn wrong(plan: &Plan) -> Vec<String> {
    assert_eq!(refused(plan), [""; 0]);
    let said = |p: Problem| format!("{}: {}", p.place, p.message);
    plan.problems().into_iter().map(said).collect()
}

#[test]
fn an_id_is_1_to_40_small_letters_digits_and_dashes() {
    for (id, legal) in [
        ("a", true),
        ("z-0-9", true),
        (&*"x".repeat(40), true),
        (&*"x".repeat(41), false),
        ("", false),
        ("A", false),
        ("a b", false),
        ("ä", false),
        ("a_b", false),
    ] {
        assert_eq!(PartId::new(id).is_legal(), legal, "{id:?}");
        assert_eq!(SiteId::from(id).is_legal(), legal, "{id:?}");
        let plan = with(|p| p.materials[3].id = id.into());
        let expected = if legal {
            vec![]
        } else {
            vec![format!("materials[{id}].id")]
        };
        assert_eq!(refused(&plan), expected);
    }
}

#[test]
fn an_id_stands_once_in_its_list() {
    let doubled: [Spoilt; 9] = [
        ("parts[lamp].id", |p| p.parts.push(p.parts[2].clone())),
        ("sockets[nose].id", |p| p.sockets.push(p.sockets[0].clone())),
        ("variants[winter].id", |p| {
            p.variants.push(p.variants[0].clone())
        }),
        ("materials[resin].id", |p| {
            p.materials.push(p.materials[1].clone())
        }),
        ("stock.magnets[disc-2x1].id", |p| {
            p.stock.magnets.push(p.stock.magnets[0].clone())
        }),
        ("stock.steel[steel-5x1].id", |p| {
            p.stock.steel.push(p.stock.steel[0].clone())
        }),
        ("sockets[nose].sites[a].id", |p| {
            let sites = &mut p.sockets[0].sites;
            sites.push(sites[0].clone());
        }),
        ("parts[plough].plugs[main].id", |p| {
            let plugs = &mut p.parts[1].plugs;
            plugs.push(plugs[0].clone());
        }),
        ("own_work.steps[own:1].key", |p| {
            p.own_work.steps.push(p.own_work.steps[0].clone())
        }),
    ];
    for (place, double) in doubled {
        assert_eq!(refused(&with(double)), [place]);
    }
    let splits = with(|p| p.own_work.splits.push(p.own_work.splits[0].clone()));
    assert_eq!(refused(&splits), ["own_work.splits[paint:lamp]"]);
}

#[test]
fn a_size_in_stock_may_not_be_magnet_and_steel_at_once() {
    let plan = with(|p| p.stock.steel[0].id = p.stock.magnets[0].id.clone());
    assert_eq!(refused(&plan), ["stock.steel[disc-2x1].id"]);
}

#[test]
fn an_own_step_is_told_from_the_others_by_its_key() {
    let plan = with(|p| p.own_work.steps[0].key = "glue:1".to_owned());
    assert_eq!(refused(&plan), ["own_work.steps[glue:1].key"]);
}

#[test]
fn every_reference_leads_to_an_entry() {
    let lost: [Spoilt; 10] = [
        ("base", |p| p.base = "nowhere".into()),
        ("parts[lamp].material", |p| {
            p.parts[2].material = "gold".into()
        }),
        ("sockets[nose].host", |p| {
            p.sockets[0].host = "nowhere".into()
        }),
        ("variants[winter].cells[nowhere]", |p| {
            p.variants[0].cells[1].socket = "nowhere".into();
        }),
        ("variants[winter].cells[roof]", |p| {
            seat(p, 1).part = "nowhere".into()
        }),
        ("variants[winter].cells[roof]", |p| {
            seat(p, 1).plug = Some("other".into())
        }),
        ("stowing.upright", |p| {
            p.stowing.upright[0] = "nowhere".into()
        }),
        ("sockets[nose].sites[a].fit", |p| {
            p.sockets[0].sites[0].fit = Fit::Magnet("steel-5x1".into());
        }),
        ("sockets[nose].sites[a].fit", |p| {
            p.sockets[0].sites[0].fit = Fit::Steel("disc-2x1".into());
        }),
        ("parts[plough].plugs[main].sites[p].fit", |p| {
            plug_site(p).fit = Fit::Magnet("nowhere".into());
        }),
    ];
    for (place, lose) in lost {
        assert_eq!(refused(&with(lose)), [place]);
    }
    for fit in [
        Fit::Empty,
        Fit::Magnet("disc-2x1".into()),
        Fit::Steel("steel-5x1".into()),
    ] {
        assert_eq!(
            refused(&with(|p| p.sockets[0].sites[0].fit = fit.clone())),
            [""; 0]
        );
    }
}

fn seat(plan: &mut Plan, cell: usize) -> &mut Seat {
    &mut plan.variants[0].cells[cell].seats[0]
}

fn plug_site(plan: &mut Plan) -> &mut Site<PlugSiteRef> {
    &mut plan.parts[1].plugs[0].sites.as_mut().unwrap()[0]
}

/// The nose gets a second socket behind it, whose site is the far end of the nose's hole.
fn through(plan: &mut Plan) {
    let mut behind = Socket::plain("behind".into(), "Behind".to_owned(), "base".into());
    behind.sites[0].through = Some(SocketSiteRef {
        socket: "nose".into(),
        site: "a".into(),
    });
    plan.sockets.push(behind);
}

#[test]
fn a_through_hole_has_two_ends_on_two_faces_of_one_part() {
    assert_eq!(with(through).problems(), []);
    let far = "sockets[behind].sites[a].through";
    let bad: [fn(&mut Plan); 4] = [
        |p| p.sockets[2].sites[0].through.as_mut().unwrap().site = "none".into(),
        |p| p.sockets[2].sites[0].through.as_mut().unwrap().socket = "none".into(),
        |p| p.sockets[2].host = "lamp".into(),
        |p| {
            let more = Site {
                id: "b".into(),
                through: None,
                ..p.sockets[2].sites[0].clone()
            };
            p.sockets[2].sites.push(more);
            let to = SocketSiteRef {
                socket: "behind".into(),
                site: "b".into(),
            };
            p.sockets[2].sites[0].through = Some(to);
        },
    ];
    for spoil in bad {
        let plan = with(|p| {
            through(p);
            spoil(p);
        });
        assert_eq!(refused(&plan), [far]);
    }
    let both = with(|p| {
        through(p);
        let back = SocketSiteRef {
            socket: "behind".into(),
            site: "a".into(),
        };
        p.sockets[0].sites[0].through = Some(back);
    });
    assert_eq!(refused(&both), ["sockets[nose].sites[a].through", far]);
    let fitted = with(|p| {
        through(p);
        p.sockets[2].sites[0].fit = Fit::Empty;
    });
    assert!(wrong(&fitted)[0].starts_with(&format!("{far}: has a fit of its own")));
}

#[test]
fn a_through_hole_of_a_plug_ends_on_another_plug() {
    let hole = |p: &mut Plan, plug: &str| {
        plug_site(p).through = Some(PlugSiteRef {
            plug: plug.into(),
            site: "q".into(),
        });
    };
    let two = |p: &mut Plan| {
        let mut other = Plug::plain("other".into());
        other.sites = Some(vec![Site::plain("q".into())]);
        p.parts[1].plugs.push(other);
    };
    let place = "parts[plough].plugs[main].sites[p].through";
    assert_eq!(
        refused(&with(|p| {
            two(p);
            hole(p, "other");
        })),
        [""; 0]
    );
    assert_eq!(
        refused(&with(|p| {
            two(p);
            hole(p, "main");
        })),
        [place]
    );
    assert_eq!(refused(&with(|p| hole(p, "other"))), [place]);
    let same = with(|p| {
        let more = Site::plain("q".into());
        p.parts[1].plugs[0].sites.as_mut().unwrap().push(more);
        hole(p, "main");
    });
    assert_eq!(refused(&same), [place]);
}

#[test]
fn a_seat_is_another_part_than_the_base_and_the_host() {
    let roof = "variants[winter].cells[roof]";
    assert_eq!(
        refused(&with(|p| seat(p, 1).part = "plough".into())),
        [roof]
    );
    assert_eq!(
        refused(&with(|p| seat(p, 1).part = "base".into())),
        [roof; 2]
    );
    let cells = with(|p| {
        let again = p.variants[0].cells[1].clone();
        p.variants[0].cells.push(again);
    });
    assert_eq!(refused(&cells), [roof]);
}

#[test]
fn only_a_plug_with_two_faces_is_turned_over() {
    // The plough's plug is 2 mm thick, the lamp's has one face.
    assert_eq!(with(|p| seat(p, 0).pose.over = true).problems(), []);
    let lamp = with(|p| seat(p, 1).pose.over = true);
    assert!(
        wrong(&lamp)[0].contains("turns 'lamp' over"),
        "{:?}",
        wrong(&lamp)
    );
}

#[test]
fn a_part_is_needed_in_one_place_at_a_time() {
    let lamp_twice = |p: &mut Plan| {
        p.sockets.push(Socket::plain(
            "side".into(),
            "Side".to_owned(),
            "base".into(),
        ));
        let cell = Cell {
            socket: "side".into(),
            ..p.variants[0].cells[1].clone()
        };
        p.variants[0].cells.push(cell);
    };
    let said = wrong(&with(lamp_twice));
    assert_eq!(said.len(), 1);
    assert!(
        said[0].contains("'lamp', which already sits in 'roof'"),
        "{said:?}"
    );
    // A free option can give way.
    let free = with(|p| {
        lamp_twice(p);
        p.variants[0].cells[2].may_be_empty = true;
    });
    assert_eq!(free.problems(), []);
}

#[test]
fn a_filled_socket_whose_host_is_not_in_the_variant_is_told_of() {
    let lost = with(|p| {
        p.variants[0].cells.remove(0);
    });
    let said = wrong(&lost);
    assert_eq!(said.len(), 1);
    assert!(
        said[0].starts_with("variants[winter].cells[roof]: is filled, but"),
        "{said:?}"
    );
    // The order of the cells does not matter, and an empty one is no trouble.
    assert_eq!(with(|p| p.variants[0].cells.reverse()).problems(), []);
    let empty = with(|p| {
        p.variants[0].cells.remove(0);
        p.variants[0].cells[0].seats.clear();
    });
    assert_eq!(empty.problems(), []);
}

#[test]
fn what_is_refused_comes_first_and_no_more_is_listed_than_can_be_read() {
    let plan = with(|p| {
        p.variants[0].cells.remove(0);
        p.stowing.upright = vec!["nowhere".into(); 300];
    });
    let found = plan.problems();
    assert_eq!(found.len(), 200);
    let both = with(|p| {
        seat(p, 1).pose.over = true;
        p.stowing.upright = vec!["nowhere".into()];
    });
    let severities: Vec<Severity> = both.problems().iter().map(|p| p.severity).collect();
    assert_eq!(severities, [Severity::Refused, Severity::Wrong]);
}

#[test]
fn a_message_shows_no_control_characters_and_no_endless_digits() {
    let plan = with(|p| p.materials[3].id = "a\u{1b}b".into());
    assert_eq!(refused(&plan), ["materials[a b].id"]);
    for (value, shown) in [
        (0.0, "is 0 but"),
        (1e-6, "is 0.000001 but"),
        (-1e-7, "is -1e-7 but"),
        (1e9, "is 1e9 but"),
        (999_999_999.0, "is 999999999 but"),
        (f64::INFINITY, "is inf but"),
    ] {
        let plan = with(|p| p.parts[2].size_mm[0] = value);
        let said = plan.problems()[0].to_string();
        assert!(said.contains(shown), "{said}");
        assert!(said.ends_with("Correct the number."), "{said}");
    }
}
