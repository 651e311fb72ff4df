//! The sample plans: they load without a word and are stored just as they would be saved. `UPDATE_EXAMPLES=1` makes the
//! minimal one anew and tidies the demo after a change by hand.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "tests may stop at a fault"
)]
#![allow(clippy::disallowed_methods, reason = "tests read files")]

mod support;

use std::collections::{BTreeMap, BTreeSet};

use lodewright_kit::{Attach, Cell, Edit, Fit, Part, Plan, Seat, Socket};
use lodewright_planfile::{EXTENSION, read, write};
use petgraph::algo::is_bipartite_undirected;
use petgraph::graph::UnGraph;

/// The sample of this name, after a look at its file; `fresh` is what the file must hold, where that is known.
fn sample(name: &str, fresh: Option<&Plan>) -> Plan {
    let path = support::examples().join(format!("{name}{EXTENSION}"));
    let update = std::env::var_os("UPDATE_EXAMPLES").is_some();
    if let (true, Some(fresh)) = (update, fresh) {
        std::fs::write(&path, write(fresh).unwrap()).unwrap();
    }
    let bytes = std::fs::read(&path).unwrap();
    let loaded = read(&bytes).unwrap_or_else(|e| panic!("{name}: {e}"));
    assert!(loaded.notes.is_empty(), "{name}: {:#?}", loaded.notes);
    let text = write(&loaded.plan).unwrap();
    if update {
        std::fs::write(&path, &text).unwrap();
    } else {
        assert_eq!(String::from_utf8(bytes).unwrap(), text, "{name}");
    }
    loaded.plan
}

/// Sockets down, variants across, as a spreadsheet copies it.
const MINIMAL: &str = "\tGoods\tMail\tWorks\n\
    Bed\tCrate load\tMail compartment\t-\n\
    Nose\tBuffer beam\tBuffer beam\tSweeper\n\
    Tail\tTail lamp\t-\tTail lamp\n";

#[test]
fn the_minimal_plan_is_what_one_pasted_grid_gives() {
    let edits = [
        Edit::SetNote(
            "Invented data: one grid as typed, everything else as the planner assumes it."
                .to_owned(),
        ),
        Edit::PasteGrid(MINIMAL.to_owned()),
    ];
    let from_grid = edits
        .iter()
        .fold(Plan::empty("Three-way flat railcar"), |plan, edit| {
            plan.edited(edit).unwrap()
        });
    let plan = sample("minimal", Some(&from_grid));
    assert_eq!(plan, from_grid);
    assert_eq!(
        (plan.sockets.len(), plan.variants.len(), plan.parts.len()),
        (3, 3, 6)
    );
}

fn demo() -> Plan {
    sample("demo", None)
}

#[test]
fn the_demo_says_that_it_is_invented_and_is_of_a_size_to_be_shown() {
    let plan = demo();
    assert!(plan.note.starts_with("Invented demonstration data"));
    assert_eq!(
        (plan.parts.len(), plan.sockets.len(), plan.variants.len()),
        (19, 14, 5)
    );
}

/// Seats of the whole plan with their sockets.
fn seats(plan: &Plan) -> impl Iterator<Item = (&Socket, &Seat)> {
    plan.variants.iter().flat_map(|v| &v.cells).flat_map(|c| {
        let socket = plan.socket(&c.socket).unwrap();
        c.seats.iter().map(move |s| (socket, s))
    })
}

fn sockets_of(plan: &Plan, part: &str) -> BTreeSet<String> {
    seats(plan)
        .filter(|(_, s)| s.part.as_str() == part)
        .map(|(socket, _)| socket.id.to_string())
        .collect()
}

fn parts_in(plan: &Plan, socket: &str) -> BTreeSet<String> {
    seats(plan)
        .filter(|(s, _)| s.id.as_str() == socket)
        .map(|(_, seat)| seat.part.to_string())
        .collect()
}

#[test]
fn the_demo_holds_every_kind_of_joint() {
    let plan = demo();
    assert_eq!(parts_in(&plan, "nose").len(), 3);
    assert_eq!(sockets_of(&plan, "cab").len(), 2);
    assert_eq!(sockets_of(&plan, "track-worker").len(), 2);
    assert_eq!(sockets_of(&plan, "tool-locker").len(), 2);
    let turned =
        |id: &str, deg| seats(&plan).any(|(_, s)| s.part.as_str() == id && s.pose.turn_deg == deg);
    assert!(turned("roof-frame", 0.0) && turned("roof-frame", 180.0));
    assert!(turned("crane-jib", 0.0) && turned("crane-jib", 90.0));
    let of = |test: fn(&Part) -> bool| {
        let found = plan.parts.iter().filter(|p| test(p));
        found.map(|p| p.id.as_str()).collect::<Vec<_>>()
    };
    assert_eq!(of(|p| p.lift_point), ["crane-jib"]);
    assert_eq!(of(|p| p.thin.is_some()), ["lamp-bracket", "whip-antenna"]);
    let free_everywhere = plan.sockets.iter().filter(|s| {
        plan.variants
            .iter()
            .all(|v| v.cell(&s.id).is_some_and(Cell::is_free))
    });
    assert_eq!(
        free_everywhere.map(|s| s.id.as_str()).collect::<Vec<_>>(),
        ["aerial", "lamp"]
    );
    let the_same_everywhere = plan.sockets.iter().filter(|s| {
        let first = plan.variants[0].cell(&s.id);
        first.is_some_and(|c| !c.is_free()) && plan.variants.iter().all(|v| v.cell(&s.id) == first)
    });
    assert_eq!(
        the_same_everywhere
            .map(|s| s.id.as_str())
            .collect::<Vec<_>>(),
        ["spine"]
    );
    let sites = || plan.sockets.iter().flat_map(|s| &s.sites);
    assert!(sites().any(|s| matches!(s.fit, Fit::Steel(_))));
    assert_eq!(sites().filter(|s| s.through.is_some()).count(), 1);
    assert!(plan.sockets.iter().any(|s| s.attach == Attach::Loose));
    assert!(plan.sockets.iter().any(|s| s.sites.len() == 4));
}

/// Whether poles can be given to all sites so that facing ones differ, leaving one plug's sites out: with unlike poles on
/// facing sites and on the two ends of a hole that is the question whether a graph has two colours (petgraph answers).
fn poles_fit(plan: &Plan, without: &str) -> bool {
    let mut numbers = BTreeMap::new();
    let mut graph = UnGraph::<(), ()>::new_undirected();
    let mut node = |graph: &mut UnGraph<(), ()>, name: String| {
        *numbers.entry(name).or_insert_with(|| graph.add_node(()))
    };
    for (socket, seat) in seats(plan).filter(|(_, s)| s.part.as_str() != without) {
        let plug = seat.plug_in(plan.part(&seat.part).unwrap()).unwrap();
        let own = plug.sites.iter().flatten().map(|s| (&s.id, s.at_mm));
        let of_socket = socket.sites.iter().map(|s| (&s.id, s.at_mm));
        let sites: Vec<_> = match plug.sites {
            Some(_) => own.collect(),
            None => of_socket.clone().collect(),
        };
        for (id, at_mm) in sites {
            let [x, y] = seat.pose.place(at_mm);
            for (other, [u, v]) in of_socket.clone() {
                if (x - u).powi(2) + (y - v).powi(2) < plan.settings.facing_tolerance_mm.powi(2) {
                    let a = node(&mut graph, format!("{}.{id}", seat.part));
                    let b = node(&mut graph, format!("[{}].{other}", socket.id));
                    graph.update_edge(a, b, ());
                }
            }
        }
    }
    for socket in &plan.sockets {
        for (site, far) in socket
            .sites
            .iter()
            .filter_map(|s| Some((s, s.through.as_ref()?)))
        {
            let a = node(&mut graph, format!("[{}].{}", socket.id, site.id));
            let b = node(&mut graph, format!("[{}].{}", far.socket, far.site));
            graph.update_edge(a, b, ());
        }
    }
    assert!(graph.edge_count() > 30);
    graph
        .node_indices()
        .all(|n| is_bipartite_undirected(&graph, n))
}

#[test]
fn the_demo_has_one_contradiction_of_poles_and_it_is_the_tool_lockers() {
    let plan = demo();
    assert!(!poles_fit(&plan, "nothing"));
    assert!(poles_fit(&plan, "tool-locker"));
}
