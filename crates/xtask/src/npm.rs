//! Packages from npm, kept in cargo's target folder. `npm/NAME` beside this crate says which version, and in its lock file the hash of
//! everything that comes with it: what has another hash is not taken, and no script of a package is run.

use crate::{command, workspace};
use anyhow::{Context, Result};
use std::path::{Path, PathBuf};
use std::process::Command;

const MANIFEST: &str = "package.json";
const LOCK: &str = "package-lock.json";

/// The folder of one package, fetched where it is not there yet.
pub fn package(name: &str) -> Result<PathBuf> {
    let pinned = pinned(name);
    let lock = std::fs::read_to_string(pinned.join(LOCK))
        .with_context(|| format!("{name} is not pinned in {}", pinned.display()))?;
    let home = workspace::target()?.join("tools").join(name);
    let package = home.join("node_modules").join(name);
    // Written last, once all is there.
    let stamp = home.join("fetched.json");
    if package.is_dir() && std::fs::read_to_string(&stamp).is_ok_and(|old| old == lock) {
        return Ok(package);
    }
    let npm = command::find("npm").context("npm is not installed")?;
    println!("Fetching {name} from npm.");
    std::fs::create_dir_all(&home)?;
    std::fs::copy(pinned.join(MANIFEST), home.join(MANIFEST))?;
    std::fs::write(home.join(LOCK), &lock)?;
    command::output(
        Command::new(npm)
            .arg("ci")
            .arg("--prefix")
            .arg(&home)
            .args(["--ignore-scripts", "--no-audit", "--no-fund"]),
    )?;
    std::fs::write(stamp, lock)?;
    Ok(package)
}

/// The version of a package that is pinned.
pub fn version(name: &str) -> Result<String> {
    let manifest = std::fs::read_to_string(pinned(name).join(MANIFEST))?;
    let manifest: serde_json::Value = serde_json::from_str(&manifest)?;
    let version = manifest["dependencies"][name].as_str();
    Ok(version.context("a version")?.to_owned())
}

fn pinned(name: &str) -> PathBuf {
    Path::new(&workspace::root())
        .join("crates/xtask/npm")
        .join(name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    #[test]
    fn everything_that_is_fetched_is_pinned_by_hash_and_names_no_server() {
        let all = std::fs::read_dir(pinned("")).unwrap();
        for folder in all.map(|entry| entry.unwrap()) {
            let name = folder.file_name().into_string().unwrap();
            let lock = std::fs::read_to_string(folder.path().join(LOCK)).unwrap();
            let lock: Value = serde_json::from_str(&lock).unwrap();
            let packages = lock["packages"].as_object().unwrap();
            let wanted = format!("node_modules/{name}");
            assert_eq!(packages[&wanted]["version"], version(&name).unwrap());
            for (place, package) in packages.iter().filter(|(place, _)| !place.is_empty()) {
                let hash = package["integrity"].as_str().unwrap_or_default();
                assert!(hash.starts_with("sha512-"), "{name}: {place}");
                assert!(package["resolved"].is_null(), "{name}: {place}");
            }
        }
    }
}
