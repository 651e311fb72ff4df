//! The rules that neither the compiler nor clippy checks. Each group of rules is one file, and each rule of our own has a failing
//! example as its test. That the core touches no file, clock or thread is clippy's to check: `clippy.toml`.

pub mod deny;
mod graph;
mod headers;
mod paths;

use crate::workspace;
use anyhow::{Result, bail};

/// Checks every rule; an error lists all breaches.
pub fn run() -> Result<()> {
    deny::check()?;
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
