//! The size optimiser for wasm: fetched from npm, or taken from the search path in that version alone, and skipped where neither can be had.

use crate::{command, npm};
use anyhow::{Context, Result};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The npm package, pinned so that two machines make the same bytes.
const PACKAGE: &str = "binaryen";

/// Shrinks the file in place where the optimiser can be had; returns whether it was.
pub fn shrink(wasm: &Path) -> Result<bool> {
    let tool = match locate() {
        Ok(tool) => tool,
        Err(reason) => {
            println!("wasm-opt is skipped ({reason:#}): the app works the same but is larger.");
            return Ok(false);
        }
    };
    println!("Shrinking with {}.", tool.display());
    let shrunk = wasm.with_extension("wasm.small");
    command::run(
        Command::new(tool)
            .args(["-Oz", "--low-memory-unused"])
            .arg(wasm)
            .arg("-o")
            .arg(&shrunk),
    )?;
    std::fs::rename(shrunk, wasm)?;
    Ok(true)
}

fn locate() -> Result<PathBuf> {
    let pinned = npm::version(PACKAGE)?;
    if let Some(tool) = command::find("wasm-opt").filter(|tool| is_of(tool, &pinned)) {
        return Ok(tool);
    }
    command::find("node").context("node is not installed")?;
    let tool = npm::package(PACKAGE)?.join("bin/wasm-opt");
    anyhow::ensure!(tool.is_file(), "{PACKAGE} {pinned} brought no wasm-opt");
    Ok(tool)
}

/// The package counts its releases as the tool does, with more behind a point.
fn is_of(tool: &Path, pinned: &str) -> bool {
    let wanted = pinned.split('.').next().and_then(|n| n.parse().ok());
    command::text(Command::new(tool).arg("--version"))
        .is_ok_and(|text| wanted.is_some() && version(&text) == wanted)
}

/// The number in "wasm-opt version 132 (...)".
fn version(text: &str) -> Option<u32> {
    text.split_whitespace().find_map(|word| word.parse().ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_version_is_the_number_in_the_sentence() {
        assert_eq!(version("wasm-opt version 132 (version_132)"), Some(132));
        assert_eq!(version("wasm-opt version 108"), Some(108));
        assert_eq!(version("no number here"), None);
    }
}
