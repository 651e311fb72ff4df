//! Where things are: the workspace root, cargo's target folder, the members, the tracked files.

use crate::command;
use anyhow::{Context, Result};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The compilation target of the app.
pub const WASM: &str = "wasm32-unknown-unknown";

/// The folder of the workspace: where cargo runs this from, so that a target folder shared by two checkouts does not lead to
/// the wrong one; else where it was compiled.
pub fn root() -> PathBuf {
    let package = std::env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    package.ancestors().nth(2).unwrap_or(&package).to_path_buf()
}

/// A package of this workspace.
#[derive(Debug, Clone)]
pub struct Member {
    /// Its name.
    pub name: String,
    /// Its folder, relative to the root.
    pub folder: PathBuf,
}

impl Member {
    /// Whether it belongs to the core: everything in crates/ but this tool.
    pub fn is_core(&self) -> bool {
        self.folder.starts_with("crates") && self.name != "xtask"
    }
}

/// The packages of this workspace.
pub fn members() -> Result<Vec<Member>> {
    let metadata = metadata()?;
    let packages = metadata["packages"]
        .as_array()
        .context("cargo metadata listed no packages")?;
    packages.iter().map(member).collect()
}

fn member(package: &serde_json::Value) -> Result<Member> {
    let name = package["name"]
        .as_str()
        .context("a package has no name")?
        .to_owned();
    let manifest = Path::new(
        package["manifest_path"]
            .as_str()
            .context("a package has no manifest")?,
    );
    let folder = manifest.parent().unwrap_or(manifest);
    let folder = folder.strip_prefix(root()).unwrap_or(folder).to_path_buf();
    Ok(Member { name, folder })
}

/// Cargo's target folder, which the environment may have moved.
pub fn target() -> Result<PathBuf> {
    let metadata = metadata()?;
    Ok(metadata["target_directory"]
        .as_str()
        .context("cargo metadata named no target folder")?
        .into())
}

fn metadata() -> Result<serde_json::Value> {
    let text =
        command::text(command::cargo().args(["metadata", "--no-deps", "--format-version", "1"]))?;
    Ok(serde_json::from_str(&text)?)
}

/// The files that git tracks and that exist, relative to the root.
pub fn tracked_files() -> Result<Vec<PathBuf>> {
    let list = command::text(
        Command::new("git")
            .current_dir(root())
            .args(["ls-files", "-z"]),
    )?;
    let files = list
        .split('\0')
        .filter(|name| !name.is_empty())
        .map(PathBuf::from);
    Ok(files.filter(|file| root().join(file).is_file()).collect())
}
