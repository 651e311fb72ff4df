//! What the other commands need from outside cargo: the compiler's wasm target, a Chromium and its driver, accessibility rules, cargo-deny.

use crate::workspace::WASM;
use crate::{command, npm, tidy};
use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The browser and the program that drives it.
#[derive(Debug, Clone)]
pub struct Browser {
    /// Chromium itself.
    pub chromium: PathBuf,
    /// Its WebDriver server.
    pub chromedriver: PathBuf,
}

/// Fetches everything, so that later commands need no network.
pub fn everything() -> Result<()> {
    wasm_target()?;
    let browser = browser()?;
    println!(
        "Ready: {WASM}, {}, {}, {}, {}.",
        browser.chromium.display(),
        browser.chromedriver.display(),
        axe()?.display(),
        tidy::deny::tool()?.display()
    );
    Ok(())
}

/// Adds the compiler's wasm target where it is missing.
pub fn wasm_target() -> Result<()> {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let folder =
        command::text(Command::new(rustc).args(["--print", "target-libdir", "--target", WASM]))?;
    if has_std(Path::new(folder.trim())) {
        return Ok(());
    }
    if command::find("rustup").is_none() {
        bail!(
            "the compiler has no {WASM} target: install rustup, or your distribution's package of that target, and run this again"
        );
    }
    println!("Adding the compiler's {WASM} target (rustup target add).");
    command::run(Command::new("rustup").args(["target", "add", WASM]))
}

fn has_std(folder: &Path) -> bool {
    let Ok(files) = folder.read_dir() else {
        return false;
    };
    files
        .flatten()
        .any(|file| file.file_name().to_string_lossy().starts_with("libstd"))
}

/// Finds Chromium and its driver, installing them where this user may.
pub fn browser() -> Result<Browser> {
    if let Some(browser) = installed() {
        return Ok(browser);
    }
    if !is_root() || command::find("apt-get").is_none() {
        bail!(
            "the browser tests need Chromium and its driver: as root, `apt-get install chromium chromium-driver` (or set CHROMIUM and CHROMEDRIVER to their paths), and run this again"
        );
    }
    println!("Installing Chromium and its driver with apt-get; this takes a minute or two.");
    apt_get(&["update"])?;
    apt_get(&[
        "install",
        "-y",
        "--no-install-recommends",
        "chromium",
        "chromium-driver",
    ])?;
    match installed() {
        Some(browser) => Ok(browser),
        None => bail!(
            "apt-get put neither chromium nor chromedriver on the search path: set CHROMIUM and CHROMEDRIVER to their paths, and run this again"
        ),
    }
}

/// Accessibility rules for the browser tests: axe-core's script, from npm.
pub fn axe() -> Result<PathBuf> {
    if command::find("npm").is_none() && is_root() && command::find("apt-get").is_some() {
        println!("Installing npm with apt-get, to fetch the accessibility rules.");
        apt_get(&["update"])?;
        apt_get(&["install", "-y", "--no-install-recommends", "npm"])?;
    }
    let package = npm::package("axe-core").context(
        "the browser tests check accessibility with axe-core: install npm, and run this again",
    )?;
    Ok(package.join("axe.min.js"))
}

fn installed() -> Option<Browser> {
    let chromium = named("CHROMIUM").or_else(|| {
        ["chromium", "chromium-browser", "google-chrome"]
            .into_iter()
            .find_map(command::find)
    })?;
    let chromedriver = named("CHROMEDRIVER").or_else(|| command::find("chromedriver"))?;
    Some(Browser {
        chromium,
        chromedriver,
    })
}

fn named(variable: &str) -> Option<PathBuf> {
    std::env::var_os(variable)
        .map(PathBuf::from)
        .filter(|file| file.is_file())
}

fn is_root() -> bool {
    command::text(Command::new("id").arg("-u")).is_ok_and(|id| id.trim() == "0")
}

fn apt_get(arguments: &[&str]) -> Result<()> {
    command::run(
        Command::new("apt-get")
            .args(["-q"])
            .args(arguments)
            .env("DEBIAN_FRONTEND", "noninteractive"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_target_counts_only_with_its_standard_library() {
        let folder = tempfile::tempdir().unwrap();
        assert!(!has_std(&folder.path().join("missing")));
        assert!(!has_std(folder.path()));
        std::fs::write(folder.path().join("libstd-0123.rlib"), "").unwrap();
        assert!(has_std(folder.path()));
    }
}
