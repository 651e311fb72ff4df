//! The rules that the compiler does not check. Each group of rules is one file, and each rule has a failing example as its test.

mod graph;
mod headers;
mod paths;
mod purity;
mod versions;

use crate::workspace;
use anyhow::{Result, bail};

/// Checks every rule; an error lists all breaches.
pub fn run() -> Result<()> {
    let breaches = breaches()?;
    if breaches.is_empty() {
        println!("Tidy: every rule holds.");
        return Ok(());
    }
    bail!(
        "tidy found {} breach(es):\n  {}",
        breaches.len(),
        breaches.join("\n  ")
    );
}

fn breaches() -> Result<Vec<String>> {
    let members = workspace::members()?;
    let files = workspace::tracked_files()?;
    let mut breaches = graph::check(&members)?;
    breaches.extend(versions::check()?);
    breaches.extend(purity::check(&members)?);
    breaches.extend(headers::check(&files)?);
    breaches.extend(paths::check(&files)?);
    Ok(breaches)
}

#[cfg(test)]
mod tests {
    #[test]
    fn this_workspace_is_tidy() {
        let breaches = super::breaches().unwrap();
        assert!(breaches.is_empty(), "{}", breaches.join("\n"));
    }
}
