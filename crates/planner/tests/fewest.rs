//! The proposal of the fewest magnets on the demo: it does what it promises, and one fewer fails.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop on a broken setup"
)]

use lodewright_planner::kit::Plan;
use lodewright_planner::{derive, planfile, propose, study};

fn demo() -> Plan {
    let file = include_bytes!("../../../examples/demo.lodewright.json");
    planfile::read(file).unwrap().plan
}

#[test]
fn zz_show() {
    let plan = demo();
    let answers = derive(&plan).unwrap();
    let t = std::time::Instant::now();
    let p = propose(&plan, &answers, &mut |_, _| true).unwrap();
    println!(
        "{:?} magnets {:?} cents {:?} proven {} checked {} unmet {:?}",
        t.elapsed(),
        p.magnets,
        p.cents,
        p.proven,
        p.checked,
        p.unmet
    );
    for f in &p.families {
        println!(
            "  {:?} least {} proven {} joints {:?} reason {:?} {}",
            f.magnets, f.least, f.proven, f.joints, f.reason, f.smallest
        );
    }
    for c in &p.changes {
        println!("   {} : {} -> {}", c.place, c.from, c.to);
    }
    let _ = study(&plan, &answers, 0);
}
