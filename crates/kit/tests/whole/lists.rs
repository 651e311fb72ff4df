//! Every list and label of a plan is taken up to its length and refused beyond it, with the place named.

use crate::full::{full, go, refused, refused_at};
use lodewright_kit::*;

fn plug(plan: &mut Plan) -> &mut Plug {
    &mut plan.parts[1].plugs[0]
}

type List = (&'static str, usize, fn(&mut Plan, usize));

/// The list gets as many entries as asked for, each with an id of its own.
fn grow<T: Clone>(list: &mut Vec<T>, n: usize, own: impl Fn(&mut T, usize)) {
    let first = list[0].clone();
    for at in list.len()..n {
        let mut entry = first.clone();
        own(&mut entry, at);
        list.push(entry);
    }
}

const LISTS: &[List] = &[
    ("parts", limits::PARTS, |p, n| {
        let lamp = p.parts[2].clone();
        p.parts.extend((p.parts.len()..n).map(|i| Part {
            id: PartId::new(format!("p{i}")),
            ..lamp.clone()
        }));
    }),
    ("sockets", limits::SOCKETS, |p, n| {
        grow(&mut p.sockets, n, |s, i| {
            s.id = SocketId::new(format!("s{i}"))
        });
    }),
    ("variants", limits::VARIANTS, |p, n| {
        grow(&mut p.variants, n, |v, i| {
            v.id = VariantId::new(format!("v{i}"))
        });
    }),
    ("parts[plough].plugs", limits::PLUGS, |p, n| {
        grow(&mut p.parts[1].plugs, n, |g, i| {
            g.id = PlugId::new(format!("g{i}"))
        });
    }),
    ("sockets[nose].sites", limits::SITES, |p, n| {
        grow(&mut p.sockets[0].sites, n, |s, i| {
            s.id = SiteId::new(format!("s{i}"))
        });
    }),
    ("plugs[main].sites", limits::SITES, |p, n| {
        let sites = plug(p).sites.as_mut().unwrap();
        grow(sites, n, |s, i| s.id = SiteId::new(format!("s{i}")));
    }),
    ("cells[nose]", limits::SEATS, |p, n| {
        grow(&mut p.variants[0].cells[0].seats, n, |_, _| ())
    }),
    ("points_mm", limits::POINTS, |p, n| {
        match &mut p.parts[1].drawn {
            Drawn::Outline { points_mm, .. } => grow(points_mm, n, |_, _| ()),
            other => panic!("{other:?}"),
        }
    }),
    (
        "plugs[main].patch",
        limits::POINTS,
        |p, n| match &mut plug(p).patch {
            Some(Patch::Points(points)) => grow(points, n, |_, _| ()),
            other => panic!("{other:?}"),
        },
    ),
    ("stock.magnets", limits::STOCK, |p, n| {
        grow(&mut p.stock.magnets, n, |m, i| {
            m.id = StockId::new(format!("m{i}"))
        });
    }),
    ("stock.steel", limits::STOCK, |p, n| {
        grow(&mut p.stock.steel, n, |m, i| {
            m.id = StockId::new(format!("m{i}"))
        });
    }),
    ("stock.bits_mm", limits::LIST, |p, n| {
        grow(&mut p.stock.bits_mm, n, |_, _| ())
    }),
    ("magnets[disc-2x1].packs", limits::PACKS, |p, n| {
        grow(&mut p.stock.magnets[0].packs, n, |_, _| ());
    }),
    ("materials", limits::LIST, |p, n| {
        grow(&mut p.materials, n, |m, i| {
            m.id = MaterialId::new(format!("m{i}"))
        });
    }),
    ("progress.done", limits::DONE, |p, n| {
        grow(&mut p.progress.done, n, |_, _| ())
    }),
    ("progress.marks", limits::DONE, |p, n| {
        grow(&mut p.progress.marks, n, |_, _| ())
    }),
    ("own_work.steps", limits::OWN_STEPS, |p, n| {
        grow(&mut p.own_work.steps, n, |s, i| s.key = format!("own:x{i}"));
    }),
    ("own_work.splits", limits::OWN_STEPS, |p, n| {
        grow(&mut p.own_work.splits, n, |s, i| s.step = format!("x{i}"));
    }),
    ("own_work.pins", limits::OWN_STEPS, |p, n| {
        grow(&mut p.own_work.pins, n, |_, _| ())
    }),
    ("splits[paint:lamp].goes", limits::GOES, |p, n| {
        p.own_work.splits[0].goes = vec![go("g"); n];
    }),
    ("quote.extras", limits::LIST, |p, n| {
        grow(&mut p.quote.extras, n, |_, _| ())
    }),
    ("stowing.spaces", limits::SPACES, |p, n| {
        grow(&mut p.stowing.spaces, n, |_, _| ())
    }),
    ("stowing.upright", limits::PARTS, |p, n| {
        grow(&mut p.stowing.upright, n, |_, _| ())
    }),
];

#[test]
fn every_list_is_taken_up_to_its_length_and_refused_beyond_it() {
    for (place, most, fill) in LISTS {
        let with = |n: usize| {
            let mut plan = full();
            fill(&mut plan, n);
            plan
        };
        assert_eq!(refused(&with(*most)), [""; 0], "{place}");
        refused_at(&with(most + 1), place);
    }
}

#[test]
fn of_too_many_entries_the_references_are_not_followed() {
    let mut plan = full();
    plan.base = "nowhere".into();
    assert!(refused(&plan).contains(&"base".to_owned()));
    grow(&mut plan.stock.bits_mm, limits::LIST + 1, |_, _| ());
    assert_eq!(refused(&plan), ["stock.bits_mm"]);
}

type Label = (&'static str, usize, fn(&mut Plan) -> &mut String);

const LABELS: &[Label] = &[
    ("title", limits::LABEL, |p| &mut p.title),
    ("note", limits::NOTE, |p| &mut p.note),
    ("kit.name", limits::LABEL, |p| &mut p.kit.name),
    ("parts[lamp].name", limits::LABEL, |p| &mut p.parts[2].name),
    ("parts[lamp].sprue_number", limits::LABEL, |p| {
        &mut p.parts[2].sprue_number
    }),
    ("sockets[nose].name", limits::LABEL, |p| {
        &mut p.sockets[0].name
    }),
    ("variants[winter].name", limits::LABEL, |p| {
        &mut p.variants[0].name
    }),
    ("materials[styrene].name", limits::LABEL, |p| {
        &mut p.materials[0].name
    }),
    ("magnets[disc-2x1].grade", limits::LABEL, |p| {
        &mut p.stock.magnets[0].grade
    }),
    ("settings.currency", 12, |p| &mut p.settings.currency),
    ("progress.done", limits::KEY, |p| &mut p.progress.done[0]),
    ("progress.marks.step", limits::KEY, |p| {
        &mut p.progress.marks[0].step
    }),
    ("own_work.steps[own:1].name", limits::LABEL, |p| {
        &mut p.own_work.steps[0].name
    }),
    ("splits[paint:lamp].name", limits::LABEL, |p| {
        &mut p.own_work.splits[0].goes[0].name
    }),
    ("own_work.pins.step", limits::KEY, |p| {
        &mut p.own_work.pins[0].step
    }),
    ("own_work.pins.after", limits::KEY, |p| {
        &mut p.own_work.pins[0].after
    }),
    ("quote.extras.name", limits::LABEL, |p| {
        &mut p.quote.extras[0].name
    }),
    ("quote.note", limits::NOTE, |p| &mut p.quote.note),
];

#[test]
fn every_label_is_taken_up_to_its_length_and_without_control_characters() {
    for (place, most, entry) in LABELS {
        let with = |text: String| {
            let mut plan = full();
            *entry(&mut plan) = text;
            plan
        };
        // Characters are counted, not bytes, and lines may be broken.
        let long = format!("\n{}", "ß".repeat(most - 1));
        assert_eq!(refused(&with(long.clone())), [""; 0], "{place}");
        refused_at(&with(format!("{long}ß")), place);
        refused_at(&with("a\u{7}b".to_owned()), place);
    }
}
