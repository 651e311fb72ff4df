//! Small legal plans for the tests, with every kind of entry and with numbers of any bits.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]
#![allow(dead_code, reason = "each test file uses its own part of this")]

use lodewright_kit::{
    Attach, Backdrop, Cell, Drawn, Extra, Facing, Fit, Go, Inside, KeptApart, KitBox, Mark, Mass,
    OwnStep, Part, Patch, PegKind, Pin, Plan, Plug, PlugSiteRef, Pole, Pose, Seat, Section, Site,
    SiteId, Socket, SocketSiteRef, Split, StowSpace, ThinSection, Variant,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;
use serde_json::Value;

/// So many cases, and no file of past failures: a failing case belongs into a test of its own.
pub fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::with_cases(cases)
    }
}

/// Any text that a label may hold.
pub fn label() -> impl Strategy<Value = String> {
    "[^\\p{Cc}]{0,12}"
}

fn mm() -> impl Strategy<Value = f64> {
    -5_000.0..5_000.0
}

fn mm3() -> impl Strategy<Value = [f64; 3]> {
    [mm(), mm(), mm()]
}

fn size() -> impl Strategy<Value = f64> {
    0.1..5_000.0
}

fn fit() -> impl Strategy<Value = Fit> {
    prop_oneof![
        Just(Fit::Auto),
        Just(Fit::Empty),
        Just(Fit::Magnet("disc-3x2".into())),
        Just(Fit::Steel("steel-6x1".into())),
    ]
}

fn site<Far: Clone + std::fmt::Debug>(id: &'static str) -> impl Strategy<Value = Site<Far>> {
    let pole = option::of(prop_oneof![Just(Pole::N), Just(Pole::S)]);
    (
        [mm(), mm()],
        0.1..100.0,
        (0.1..100.0, option::of(size())),
        0.0..50.0,
        fit(),
        pole,
    )
        .prop_map(
            move |(at_mm, max_diameter_mm, (max_depth_mm, measured_mm), wall_mm, fit, pole)| Site {
                at_mm,
                max_diameter_mm,
                max_depth_mm,
                measured_mm,
                wall_mm,
                fit,
                pole,
                ..Site::plain(SiteId::new(id))
            },
        )
}

fn patch() -> impl Strategy<Value = Patch> {
    prop_oneof![
        (size(), size()).prop_map(|(width_mm, height_mm)| Patch::Rectangle {
            width_mm,
            height_mm
        }),
        size().prop_map(|diameter_mm| Patch::Disc { diameter_mm }),
        vec([mm(), mm()], 0..6).prop_map(Patch::Points),
    ]
}

fn mass() -> impl Strategy<Value = Mass> {
    prop_oneof![
        Just(Mass::Body),
        (0.0..1e5).prop_map(|mass_g| Mass::Weighed { mass_g }),
        (0.0..1e5).prop_map(|volume_cm3| Mass::Volume { volume_cm3 }),
    ]
}

fn inside() -> impl Strategy<Value = Inside> {
    prop_oneof![
        Just(Inside::Unsaid),
        Just(Inside::Solid),
        (0.05..5_000.0).prop_map(|wall_mm| Inside::Shell { wall_mm }),
    ]
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let outline = (select(Facing::ALL.to_vec()), vec([mm(), mm()], 3..6));
    prop_oneof![
        Just(Drawn::Box),
        Just(Drawn::Plate),
        Just(Drawn::Barrel),
        Just(Drawn::Frame),
        Just(Drawn::Figure),
        outline.prop_map(|(seen_from, points_mm)| Drawn::Outline {
            seen_from,
            points_mm
        }),
    ]
}

fn kept_apart() -> impl Strategy<Value = Option<KeptApart>> {
    option::of(select(vec![
        KeptApart::LetsGo,
        KeptApart::Painted,
        KeptApart::Packed,
        KeptApart::Wanted,
    ]))
}

fn thin() -> impl Strategy<Value = ThinSection> {
    let section = prop_oneof![
        (0.05..9.0).prop_map(|diameter_mm| Section::Round { diameter_mm }),
        (0.05..9.0, 0.05..9.0).prop_map(|(width_mm, height_mm)| Section::Rectangle {
            width_mm,
            height_mm
        }),
    ];
    (0.05..99.0, section, 0.05..99.0, 1.0..10.0).prop_map(
        |(length_mm, section, reach_mm, notch_factor)| ThinSection {
            length_mm,
            section,
            reach_mm,
            notch_factor,
        },
    )
}

fn plug() -> impl Strategy<Value = Plug> {
    (
        option::of(select(Facing::ALL.to_vec())),
        option::of(mm3()),
        -360.0..360.0,
        option::of(patch()),
        any::<bool>(),
        option::of(size()),
        option::of(site::<PlugSiteRef>("a")),
    )
        .prop_map(
            |(facing, at_mm, spin_deg, patch, keeps_peg, thickness_mm, site)| Plug {
                facing,
                at_mm,
                spin_deg,
                patch,
                keeps_peg,
                thickness_mm,
                sites: site.map(|s| vec![s]),
                ..Plug::plain("main".into())
            },
        )
}

fn part() -> impl Strategy<Value = Part> {
    (
        label(),
        label(),
        [size(), size(), size()],
        (mm3(), option::of(mm3())),
        (mass(), inside(), drawn()),
        (plug(), any::<bool>()),
        any::<bool>(),
        option::of(thin()),
    )
        .prop_map(
            |(
                name,
                sprue_number,
                size_mm,
                (box_middle_mm, centre_mm),
                (mass, inside, drawn),
                (plug, far_plug),
                lift_point,
                thin,
            )| {
                let mut plugs = vec![plug];
                if far_plug {
                    let mut far = Plug::plain("far".into());
                    far.sites = Some(vec![Site {
                        through: plugs[0].sites.as_ref().map(|_| PlugSiteRef {
                            plug: "main".into(),
                            site: "a".into(),
                        }),
                        ..Site::plain("b".into())
                    }]);
                    plugs.push(far);
                }
                Part {
                    sprue_number,
                    size_mm,
                    box_middle_mm,
                    centre_mm,
                    mass,
                    inside,
                    drawn,
                    plugs,
                    lift_point,
                    thin,
                    ..Part::plain("later".into(), name)
                }
            },
        )
}

fn socket() -> impl Strategy<Value = Socket> {
    let peg = prop_oneof![
        Just(PegKind::None),
        Just(PegKind::Round),
        Just(PegKind::Two),
        Just(PegKind::Keyed)
    ];
    let attach = prop_oneof![
        Just(Attach::Magnets),
        (0.0..1e3).prop_map(Attach::Friction),
        Just(Attach::Loose)
    ];
    (
        label(),
        select(Facing::ALL.to_vec()),
        option::of(mm3()),
        -360.0..360.0,
        patch(),
        (peg, any::<bool>(), 0.1..99.0, 0.2..50.0),
        (attach, option::of(0.0..1e3), kept_apart()),
        option::of(site::<SocketSiteRef>("a")),
    )
        .prop_map(|(name, facing, at_mm, spin_deg, patch, peg, held, site)| {
            let mut socket = Socket::plain("later".into(), name, "base".into());
            socket.facing = facing;
            socket.at_mm = at_mm;
            socket.spin_deg = spin_deg;
            socket.patch = patch;
            let to = &mut socket.peg;
            (to.kind, to.snug, to.length_mm, to.diameter_mm) = peg;
            (socket.attach, socket.may_pin_n, socket.kept_apart) = held;
            socket.sites = site.into_iter().collect();
            socket
        })
}

/// Which part sits where: (variant, socket, part, turn, over, may be empty).
type Seating = (usize, usize, usize, f64, bool, bool);

fn seatings() -> impl Strategy<Value = Vec<Seating>> {
    let turn = prop_oneof![Just(0.0), -360.0..360.0];
    vec(
        (
            0..9_usize,
            0..9_usize,
            0..9_usize,
            turn,
            any::<bool>(),
            any::<bool>(),
        ),
        0..8,
    )
}

/// Legal plans: read without refusal.
pub fn plans() -> impl Strategy<Value = Plan> {
    (
        (label(), label(), any::<u32>()),
        vec(part(), 1..4),
        vec(socket(), 1..4),
        vec(label(), 1..4),
        seatings(),
    )
        .prop_map(
            |((title, note, scale), parts, sockets, variants, seatings)| {
                // A title of nothing that shows would be refused.
                let mut plan = Plan::empty(format!("{title}."));
                plan.note = note;
                plan.kit = KitBox {
                    name: plan.note.clone(),
                    scale,
                    price_cents: scale / 43,
                };
                for (i, part) in parts.into_iter().enumerate() {
                    let id = format!("p{i}").as_str().into();
                    plan.parts.push(Part { id, ..part });
                }
                for (i, socket) in sockets.into_iter().enumerate() {
                    let id = format!("s{i}").as_str().into();
                    plan.sockets.push(Socket { id, ..socket });
                }
                for (i, name) in variants.into_iter().enumerate() {
                    plan.variants.push(Variant {
                        id: format!("v{i}").as_str().into(),
                        name,
                        cells: Vec::new(),
                    });
                }
                for seating in seatings {
                    seat(&mut plan, seating);
                }
                at_the_desk(&mut plan, scale);
                plan
            },
        )
}

/// What the builder adds at the desk: own work, a quote, spaces, marks; in half of the plans.
fn at_the_desk(plan: &mut Plan, n: u32) {
    if n.is_multiple_of(2) {
        return;
    }
    let time_min = f64::from(n % 977) / 7.0;
    let name = plan.title.clone();
    plan.own_work.steps.push(OwnStep {
        key: format!("own:{n}"),
        name: name.clone(),
        hands_min: time_min,
        wait_min: 0.0,
    });
    plan.own_work.splits.push(Split {
        step: "paint:base".to_owned(),
        goes: vec![Go {
            name: name.clone(),
            hands_min: 1.0,
            wait_min: time_min,
        }],
    });
    plan.own_work.pins.push(Pin {
        step: format!("own:{n}"),
        after: "paint:base".to_owned(),
    });
    plan.settings.flat_cutter = true;
    plan.settings.overlap_tolerance_mm = time_min / 14.0;
    plan.quote.margin_percent = time_min;
    plan.quote.extras.push(Extra {
        name: name.clone(),
        cents: n / 43,
    });
    plan.stowing.spaces.push(StowSpace {
        name,
        inside_mm: [time_min + 1.0; 3],
        count: 1 + n % 3,
    });
    plan.stowing
        .upright
        .push(plan.parts[plan.parts.len() - 1].id.clone());
    plan.progress.done.push("paint:base".to_owned());
    plan.progress.marks.push(Mark {
        step: "paint:base".to_owned(),
        at_s: Some(u64::from(n)),
        took_min: Some(time_min),
    });
}

fn seat(plan: &mut Plan, (v, s, p, turn_deg, over, may_be_empty): Seating) {
    let socket = plan.sockets[s % plan.sockets.len()].id.clone();
    let part = plan.parts[1 + p % (plan.parts.len() - 1)].id.clone();
    let v = v % plan.variants.len();
    let seat = Seat {
        part,
        plug: over.then(|| "main".into()),
        pose: Pose { turn_deg, over },
    };
    let cells = &mut plan.variants[v].cells;
    match cells.iter_mut().find(|c| c.socket == socket) {
        Some(cell) => cell.seats.push(seat),
        None => cells.push(Cell {
            socket,
            seats: vec![seat],
            may_be_empty,
        }),
    }
}

/// A picture to trace over.
pub fn backdrop() -> Backdrop {
    Backdrop {
        picture: "data:image/png;base64,iVBORw0KGgoAAAA=".to_owned().into(),
        seen_from: Facing::Left,
        middle_mm: [1.0, -2.0],
        width_mm: 100.0,
        height_mm: 50.0,
        stays_here: true,
    }
}

/// A plan of two variants as text, to be spoilt.
pub fn small_text() -> String {
    let edit = lodewright_kit::Edit::PasteGrid(
        "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tFrame\tFrame 180° / -\n".to_owned(),
    );
    let plan = Plan::empty("Small").edited(&edit).unwrap();
    lodewright_planfile::write(&plan).unwrap()
}

/// JSON pointers (RFC 6901) of a value and of all within it.
pub fn places(value: &Value, at: &str) -> Vec<String> {
    let within: Vec<String> = match value {
        Value::Array(list) => {
            let entries = list.iter().enumerate();
            entries
                .flat_map(|(i, entry)| places(entry, &format!("{at}/{i}")))
                .collect()
        }
        Value::Object(fields) => {
            let fields = fields.iter();
            fields
                .flat_map(|(name, entry)| places(entry, &format!("{at}/{name}")))
                .collect()
        }
        _ => Vec::new(),
    };
    within.into_iter().chain([at.to_owned()]).collect()
}

/// The sample plans.
pub const SAMPLES: [&str; 2] = ["demo", "minimal"];

/// The folder of the sample plans.
pub fn examples() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}
