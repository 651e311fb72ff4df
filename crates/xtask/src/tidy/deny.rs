//! What the workspace is built of, held to `.cargo/deny.toml` by cargo-deny.

use crate::{cargo_tool, command};
use anyhow::{Context, Result};
use std::path::PathBuf;
use std::process::Command;

/// Pinned, so that two machines find the same.
const VERSION: &str = "0.20.2";

/// The program, compiled where it is not there yet.
pub fn tool() -> Result<PathBuf> {
    cargo_tool::program("cargo-deny", VERSION)
}

/// Licences, sources and who may use whom, in every package; then what is in the app twice.
pub fn check() -> Result<()> {
    let tool = tool()?;
    let run = |scope: &[&str], checks: &[&str], allowed: &[&str]| {
        let mut deny = Command::new(&tool);
        deny.current_dir(crate::workspace::root());
        deny.args(["--log-level", "warn"]).args(scope);
        deny.arg("check").args(checks).args(["-D", "warnings"]);
        allowed.iter().for_each(|lint| {
            deny.args(["-A", lint]);
        });
        command::run(&mut deny).context("what .cargo/deny.toml asks for does not hold")
    };
    run(
        &["--workspace"],
        &["bans", "licenses", "sources"],
        &["duplicate", "unmatched-skip", "unnecessary-skip"],
    )?;
    run(
        &["--manifest-path", "web/Cargo.toml"],
        &["bans"],
        &["unused-wrapper"],
    )
}
