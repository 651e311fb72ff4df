//! Cargo's further commands, at pinned versions: compiled from crates.io once and kept in cargo's target folder.

use crate::{command, workspace};
use anyhow::Result;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The program of this name at this version: the one on the search path where it is the same, else our own.
pub fn program(name: &str, version: &str) -> Result<PathBuf> {
    let home = workspace::target()?.join("tools").join(name);
    let ours = home.join("bin").join(name);
    let known = command::find(name).into_iter().chain([ours.clone()]);
    if let Some(found) = known.into_iter().find(|file| is_version(file, version)) {
        return Ok(found);
    }
    println!("Compiling {name} {version} from crates.io; this takes two or three minutes.");
    let mut install = command::cargo();
    install.args(["install", "--quiet", "--locked", "--force", name]);
    install.args(["--version", version, "--root"]).arg(&home);
    command::run(&mut install)?;
    Ok(ours)
}

fn is_version(file: &Path, version: &str) -> bool {
    command::text(Command::new(file).arg("--version"))
        .is_ok_and(|text| text.split_whitespace().nth(1) == Some(version))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_counts_only_at_its_version() {
        let cargo = command::find("cargo").unwrap();
        assert!(!is_version(&cargo, "0.0.1"));
        assert!(!is_version(Path::new("no-such-program"), "0.0.1"));
        let text = command::text(Command::new(&cargo).arg("--version")).unwrap();
        let version = text.split_whitespace().nth(1).unwrap();
        assert!(is_version(&cargo, version));
    }
}
