//! Packages from npm, at pinned versions, kept in cargo's target folder.

use crate::{command, workspace};
use anyhow::{Context, Result};
use std::path::PathBuf;
use std::process::Command;

/// The folder of one package at one version, fetched where it is not there yet.
pub fn package(name: &str, version: &str) -> Result<PathBuf> {
    let home = workspace::target()?.join("tools").join(name);
    let package = home.join("node_modules").join(name);
    let stamp = home.join("version");
    let installed = std::fs::read_to_string(&stamp).unwrap_or_default();
    if package.is_dir() && installed == version {
        return Ok(package);
    }
    let npm = command::find("npm").context("npm is not installed")?;
    println!("Fetching {name} {version} from npm.");
    std::fs::create_dir_all(&home)?;
    command::output(
        Command::new(npm)
            .arg("install")
            .arg("--prefix")
            .arg(&home)
            .args(["--no-audit", "--no-fund"])
            .arg(format!("{name}@{version}")),
    )?;
    std::fs::write(stamp, version)?;
    Ok(package)
}
