//! Cargo's further commands, at pinned versions: compiled from crates.io once and kept in cargo's target folder.

use crate::{command, workspace};
use anyhow::Result;
use std::path::PathBuf;

/// The program of this name at this version.
pub fn program(name: &str, version: &str) -> Result<PathBuf> {
    let home = workspace::target()?.join("tools").join(name);
    let program = home.join("bin").join(name);
    if !program.is_file() {
        println!("Compiling {name} {version} from crates.io; this takes two or three minutes.");
    }
    // Does nothing where this very version is there.
    let mut install = command::cargo();
    install.args(["install", "--quiet", "--locked", name, "--version", version]);
    command::run(install.arg("--root").arg(&home))?;
    Ok(program)
}
