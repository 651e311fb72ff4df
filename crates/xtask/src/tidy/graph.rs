//! Which package may use which: the core stays free of the web, fields and kits stay apart, the app sees the facade alone.

use crate::command;
use crate::workspace::{Member, WASM};
use anyhow::Result;
use std::collections::{BTreeMap, BTreeSet};

const GEOMETRY: &str = "lodewright-geometry";
const FIELD: &str = "lodewright-field";
const KIT: &str = "lodewright-kit";
const SOLVE: &str = "lodewright-solve";
const CHOICE: &str = "lodewright-choice";
const WEB: &str = "lodewright-web";
const FACADE: &str = "lodewright-planner";

/// For each package, the names of those it uses.
type Uses = BTreeMap<String, BTreeSet<String>>;

/// Checks the workspace as it is compiled for the browser, tests and build scripts left out.
pub fn check(members: &[Member]) -> Result<Vec<String>> {
    let core: BTreeSet<String> = members
        .iter()
        .filter(|member| member.is_core())
        .map(|member| member.name.clone())
        .collect();
    let mut reached = Uses::new();
    for name in &core {
        reached.insert(name.clone(), names_below(name, None)?);
    }
    let mut breaches = web_in_core(&reached);
    breaches.extend(layering(&reached));
    breaches.extend(beside_the_facade(&names_below(WEB, Some(1))?));
    Ok(breaches)
}

fn names_below(package: &str, depth: Option<u32>) -> Result<BTreeSet<String>> {
    let mut names: BTreeSet<String> = dependencies(package, depth)?
        .into_iter()
        .map(|(name, _)| name)
        .collect();
    names.remove(package);
    Ok(names)
}

/// Name and version of the package and of all it uses, directly or (without a depth) in the end.
pub fn dependencies(package: &str, depth: Option<u32>) -> Result<BTreeSet<(String, String)>> {
    let mut tree = command::cargo();
    tree.args([
        "tree",
        "--quiet",
        "--package",
        package,
        "--target",
        WASM,
        "--edges",
        "normal,no-proc-macro",
        "--prefix",
        "none",
    ]);
    if let Some(depth) = depth {
        tree.args(["--depth", &depth.to_string()]);
    }
    Ok(parse_tree(&command::text(&mut tree)?))
}

fn parse_tree(text: &str) -> BTreeSet<(String, String)> {
    let pair = |line: &str| {
        let mut words = line.split_whitespace();
        Some((
            words.next()?.to_owned(),
            words.next()?.trim_start_matches('v').to_owned(),
        ))
    };
    text.lines().filter_map(pair).collect()
}

fn is_web_crate(name: &str) -> bool {
    name.starts_with("gloo")
        || name.starts_with("yew")
        || ["web-sys", "js-sys", "wasm-bindgen"].contains(&name)
}

fn web_in_core(reached: &Uses) -> Vec<String> {
    let breach = |(name, used): (&String, &BTreeSet<String>)| {
        let web: Vec<&str> = used
            .iter()
            .map(String::as_str)
            .filter(|used| is_web_crate(used))
            .collect();
        (!web.is_empty()).then(|| {
            format!(
                "{name} is core and must not reach the web crates {}",
                web.join(", ")
            )
        })
    };
    reached.iter().filter_map(breach).collect()
}

fn layering(reached: &Uses) -> Vec<String> {
    let apart = [
        (GEOMETRY, FIELD),
        (GEOMETRY, KIT),
        (GEOMETRY, SOLVE),
        (FIELD, KIT),
        (KIT, FIELD),
        (SOLVE, FIELD),
        (SOLVE, KIT),
        (CHOICE, FIELD),
        (CHOICE, KIT),
        (CHOICE, SOLVE),
    ];
    let meets =
        |(from, to): &(&str, &str)| reached.get(*from).is_some_and(|used| used.contains(*to));
    apart
        .iter()
        .filter(|pair| meets(pair))
        .map(|(from, to)| format!("{from} must not reach {to}"))
        .collect()
}

fn beside_the_facade(direct: &BTreeSet<String>) -> Vec<String> {
    let ours = direct
        .iter()
        .filter(|name| name.starts_with("lodewright-") && *name != FACADE);
    ours.map(|name| format!("{WEB} must use {FACADE} alone, not {name}"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn uses(pairs: &[(&str, &[&str])]) -> Uses {
        pairs
            .iter()
            .map(|(name, used)| {
                (
                    (*name).to_owned(),
                    used.iter().map(|name| (*name).to_owned()).collect(),
                )
            })
            .collect()
    }

    #[test]
    fn a_core_crate_on_the_web_is_a_breach() {
        for web in ["yew", "gloo-utils", "web-sys", "js-sys", "wasm-bindgen"] {
            assert_eq!(
                web_in_core(&uses(&[("lodewright-kit", &["serde", web])])).len(),
                1,
                "{web}"
            );
        }
        assert!(web_in_core(&uses(&[("lodewright-kit", &["serde", "libm"])])).is_empty());
    }

    #[test]
    fn every_forbidden_meeting_is_a_breach() {
        for (from, to) in [
            (GEOMETRY, KIT),
            (FIELD, KIT),
            (KIT, FIELD),
            (SOLVE, FIELD),
            (SOLVE, KIT),
        ] {
            assert_eq!(
                layering(&uses(&[(from, &[to])])),
                [format!("{from} must not reach {to}")]
            );
        }
        assert!(layering(&uses(&[("lodewright-joints", &[FIELD, KIT, SOLVE])])).is_empty());
    }

    #[test]
    fn the_app_reaching_past_the_facade_is_a_breach() {
        let direct = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        assert_eq!(beside_the_facade(&direct(&[FACADE, KIT, "yew"])).len(), 1);
        assert!(beside_the_facade(&direct(&[FACADE, "yew"])).is_empty());
    }

    #[test]
    fn a_tree_line_gives_name_and_version() {
        let text =
            "lodewright-web v0.1.0 (/somewhere/web)\ngloo v0.11.0\ngloo-utils v0.2.0 (*)\n\n";
        let expected = [
            ("gloo", "0.11.0"),
            ("gloo-utils", "0.2.0"),
            ("lodewright-web", "0.1.0"),
        ];
        assert_eq!(
            parse_tree(text),
            expected
                .map(|(name, version)| (name.to_owned(), version.to_owned()))
                .into()
        );
    }

    #[test]
    fn the_real_app_is_seen_to_use_the_facade_and_the_web() {
        let direct = names_below(WEB, Some(1)).unwrap();
        assert!(
            direct.contains(FACADE) && direct.contains("yew"),
            "{direct:?}"
        );
    }
}
