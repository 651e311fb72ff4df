//! Small plans with every kind of entry, and changes to their entries drawn from bytes: so the analysis sees plans that are
//! legal and odd, where flipped bits of a file would nearly always be refused.

use std::sync::LazyLock;

use lodewright_planner::kit::{Edit, Inside, KeptApart, Plan, Severity};
use lodewright_planner::planfile;
use serde_json::{Number, Value};

const DEMO: &str = include_str!("../../../examples/demo.lodewright.json");

/// Plans to begin from: sockets of the demo that stay, and its first variant that stays, with the one after it.
const KEPT: [(&[&str], usize); 6] = [
    (&["nose"], 0),
    (&["cab-front", "cab-rear", "roof"], 0),
    (&["spine", "web-left", "web-right"], 1),
    (&["cab-front", "aerial", "lamp", "controls"], 3),
    (&["deck", "jib"], 2),
    (&["track", "ballast", "nose"], 3),
];

static BASES: LazyLock<Vec<Value>> = LazyLock::new(|| {
    let mut plans = vec![SMALL.clone()];
    if let Ok(loaded) = planfile::read(DEMO.as_bytes()) {
        plans.extend(
            KEPT.iter()
                .map(|(kept, from)| cut_down(&loaded.plan, kept, *from)),
        );
    }
    plans.push(said(SMALL.clone()));
    plans
        .iter()
        .filter_map(|plan| serde_json::to_value(plan).ok())
        .collect()
});

/// A plan as one small pasted grid gives it.
pub static SMALL: LazyLock<Plan> = LazyLock::new(|| {
    let plan = Plan::empty("Small");
    let grid = "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tFrame\tFrame 180° / -\n";
    plan.edited(&Edit::PasteGrid(grid.to_owned()))
        .unwrap_or(plan)
});

/// The plan with what may be left unsaid: insides, places, what was measured, what is kept apart.
fn said(mut plan: Plan) -> Plan {
    plan.settings.flat_cutter = true;
    plan.settings.overlap_tolerance_mm = 0.25;
    for part in &mut plan.parts {
        part.inside = Inside::Shell { wall_mm: 1.5 };
    }
    for (socket, at_mm) in plan
        .sockets
        .iter_mut()
        .zip([[10.0, 0.0, 15.0], [-20.0, 5.0, 15.0]])
    {
        socket.at_mm = Some(at_mm);
        socket.kept_apart = Some(KeptApart::Painted);
        for site in &mut socket.sites {
            site.measured_mm = Some(2.0);
        }
    }
    plan
}

/// The plan with two variants and these sockets alone.
fn cut_down(plan: &Plan, kept: &[&str], from: usize) -> Plan {
    let mut plan = plan.clone();
    plan.variants = plan.variants.into_iter().skip(from).take(2).collect();
    let dropped: Vec<Edit> = plan
        .sockets
        .iter()
        .filter(|s| !kept.contains(&s.id.as_str()))
        .map(|s| Edit::DropSocket(s.id.clone()))
        .collect();
    let mut plan = plan.edited(&Edit::Together(dropped)).unwrap_or(plan);
    let used = |id: &str| {
        let seated = plan.variants.iter().flat_map(|v| &v.cells);
        let mut seated = seated.flat_map(|c| &c.seats);
        seated.any(|s| s.part.as_str() == id) || plan.sockets.iter().any(|s| s.host.as_str() == id)
    };
    let idle: Vec<Edit> = plan
        .parts
        .iter()
        .filter(|p| p.id != plan.base && !used(p.id.as_str()))
        .map(|p| Edit::DropPart(p.id.clone()))
        .collect();
    plan = plan.edited(&Edit::Together(idle)).unwrap_or(plan);
    plan
}

/// Numbers at which code breaks more often than at others.
const NUMBERS: [f64; 32] = [
    0.0, -0.0, 1.0, -1.0, 0.1, 0.5, 2.0, 3.0, 4.0, 5.0, 10.0, 45.0, 90.0, 180.0, 270.0, 360.0,
    -90.0, -180.0, -360.0, 0.05, 1e-3, 1e-9, 1e-300, 5e-324, 25.0, 60.0, 100.0, 1_000.0, 4_999.0,
    5_000.0, -5_000.0, 99_999.0,
];

/// A legal plan from a begun one: the first byte chooses which, each four bytes after it change one entry; `None` where
/// the outcome is one that no file could hold.
pub fn changed_plan(bytes: &[u8]) -> Option<Plan> {
    let (first, rest) = bytes.split_first()?;
    let mut value = BASES.get(usize::from(*first) % BASES.len())?.clone();
    for change in rest.chunks_exact(4).take(64) {
        let place = u16::from_le_bytes([change[0], change[1]]);
        let mut left = usize::from(place) % count(&value).max(1);
        alter(&mut value, &mut left, change[2], change[3]);
    }
    let plan: Plan = serde_json::from_value(value).ok()?;
    let refused = |p: &lodewright_planner::kit::Problem| p.severity == Severity::Refused;
    (!plan.problems().iter().any(refused)).then_some(plan)
}

/// How many values there are, lists and objects among them.
fn count(value: &Value) -> usize {
    1 + match value {
        Value::Array(list) => list.iter().map(count).sum(),
        Value::Object(fields) => fields.values().map(count).sum(),
        _ => 0,
    }
}

/// Changes the value that `left` counts down to; true once it is done.
fn alter(value: &mut Value, left: &mut usize, how: u8, what: u8) -> bool {
    if *left == 0 {
        change(value, how, what);
        return true;
    }
    *left -= 1;
    match value {
        Value::Array(list) => list.iter_mut().any(|v| alter(v, left, how, what)),
        Value::Object(fields) => fields.values_mut().any(|v| alter(v, left, how, what)),
        _ => false,
    }
}

fn change(value: &mut Value, how: u8, what: u8) {
    let at = |n: usize| usize::from(what) % n.max(1);
    match value {
        Value::Bool(b) => *b = !*b,
        Value::Number(old) => {
            let new = match how % 4 {
                0 => NUMBERS[at(NUMBERS.len())],
                1 => old.as_f64().unwrap_or(0.0) * f64::from(what) / 32.0,
                2 => old.as_f64().unwrap_or(0.0) + (f64::from(what) - 128.0) / 16.0,
                _ => -old.as_f64().unwrap_or(0.0),
            };
            let whole = old.as_u64().is_some();
            let number = if whole {
                // Counts and prices are whole and of 32 bits.
                Some(Number::from(new.clamp(0.0, 4_294_967_295.0) as u32))
            } else {
                Number::from_f64(new)
            };
            if let Some(number) = number {
                *old = number;
            }
        }
        Value::String(text) => {
            if how.is_multiple_of(2) {
                *text = WORDS[at(WORDS.len())].to_owned();
            } else {
                text.push(char::from(what % 128));
            }
        }
        Value::Array(list) => {
            let i = at(list.len());
            if let Some(entry) = list.get(i).cloned() {
                match how % 4 {
                    0 => drop(list.remove(i)),
                    1 => list.push(entry),
                    2 => list.rotate_left(i),
                    _ => list.truncate(i),
                }
            }
        }
        Value::Object(fields) => {
            let name = fields.keys().nth(at(fields.len())).cloned();
            if let Some(name) = name {
                fields.remove(&name);
            }
        }
        Value::Null => {}
    }
}

/// Words that mean something in a plan.
const WORDS: [&str; 44] = [
    "base",
    "plough",
    "hook",
    "frame",
    "nose",
    "roof",
    "winter",
    "works",
    "main",
    "a",
    "b",
    "up",
    "down",
    "front",
    "rear",
    "left",
    "right",
    "none",
    "round",
    "two",
    "keyed",
    "magnets",
    "loose",
    "friction",
    "auto",
    "empty",
    "N",
    "S",
    "N35",
    "N42",
    "N52",
    "disc-3x2",
    "disc-5x2",
    "steel-6x1",
    "styrene",
    "body",
    "unsaid",
    "solid",
    "lets-go",
    "painted",
    "box",
    "barrel",
    "",
    "resin",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn begun_plans_are_small_and_keep_what_was_named() {
        let plans: Vec<Plan> = BASES
            .iter()
            .map(|v| serde_json::from_value(v.clone()).unwrap())
            .collect();
        assert_eq!(plans.len(), KEPT.len() + 2);
        for (plan, (kept, _)) in plans[1..].iter().zip(KEPT) {
            assert_eq!(plan.sockets.len(), kept.len(), "{kept:?}");
            assert!(plan.parts.len() <= 9, "{kept:?}: {}", plan.parts.len());
            assert!(plan.variants.iter().all(|v| !v.cells.is_empty()));
            assert!(changed_plan(&[1]).is_some());
        }
        assert!(
            plans[1..]
                .iter()
                .any(|p| p.sockets.iter().any(|s| s.sites.len() == 4))
        );
    }

    #[test]
    fn bytes_change_entries() {
        let whole = changed_plan(&[0]).unwrap();
        let changed = (0..=u8::MAX)
            .filter_map(|b| changed_plan(&[0, b, 0, 0, b]))
            .filter(|plan| *plan != whole)
            .count();
        assert!(changed > 20, "{changed} of 256");
    }
}
