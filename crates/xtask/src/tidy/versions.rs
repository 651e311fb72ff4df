//! No package twice in what people download, but for pairs that others force on us, each with its reason.

use super::graph::dependencies;
use anyhow::Result;
use std::collections::{BTreeMap, BTreeSet};

/// Packages that may stand in the app in two versions, and why.
const ALLOWED: &[(&str, &str)] = &[(
    "thiserror",
    "yew 0.23 itself asks for 2, and the gloo 0.11 that yew is built on asks for 1",
)];

/// Checks what is compiled into the app.
pub fn check() -> Result<Vec<String>> {
    Ok(breaches(&dependencies("lodewright-web", None)?, ALLOWED))
}

fn breaches(packages: &BTreeSet<(String, String)>, allowed: &[(&str, &str)]) -> Vec<String> {
    let doubled = doubled(packages);
    let reason = |name: &str| allowed.iter().find(|(allowed, _)| *allowed == name);
    let unexpected = doubled.iter().filter(|(name, _)| reason(name).is_none());
    let unexpected = unexpected.map(|(name, versions)| {
        format!(
            "{name} is in the app in versions {}",
            versions.join(" and ")
        )
    });
    let stale = allowed
        .iter()
        .filter(|(name, _)| !doubled.contains_key(name));
    let stale = stale.map(|(name, _)| {
        format!("{name} is no longer doubled: take it off the list of allowed pairs")
    });
    unexpected.chain(stale).collect()
}

fn doubled(packages: &BTreeSet<(String, String)>) -> BTreeMap<&str, Vec<&str>> {
    let mut versions: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (name, version) in packages {
        versions.entry(name).or_default().push(version);
    }
    versions.retain(|_, versions| versions.len() > 1);
    versions
}

#[cfg(test)]
mod tests {
    use super::*;

    fn packages(pairs: &[(&str, &str)]) -> BTreeSet<(String, String)> {
        pairs
            .iter()
            .map(|(name, version)| ((*name).to_owned(), (*version).to_owned()))
            .collect()
    }

    #[test]
    fn a_doubled_package_is_a_breach_unless_allowed() {
        let both = packages(&[("thing", "1.0.0"), ("thing", "2.0.0"), ("other", "1.0.0")]);
        assert_eq!(
            breaches(&both, &[]),
            ["thing is in the app in versions 1.0.0 and 2.0.0"]
        );
        assert!(breaches(&both, &[("thing", "another package asks for the old one")]).is_empty());
    }

    #[test]
    fn an_allowance_that_nothing_needs_is_a_breach() {
        let single = packages(&[("thing", "2.0.0")]);
        assert_eq!(breaches(&single, &[("thing", "no longer true")]).len(), 1);
    }
}
