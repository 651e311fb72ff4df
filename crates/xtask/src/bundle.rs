//! From sources to a folder of static files: compile, bind, shrink, copy. Every address inside is relative.

use crate::workspace::WASM;
use crate::{Profile, command, cut, icons, offline, setup, sizes, wasm_opt, workspace};
use anyhow::{Context, Result};
use std::path::{Path, PathBuf};
use wasm_bindgen_cli_support::Bindgen;

const PACKAGE: &str = "lodewright-web";
/// Name of the app's script and, with `_bg`, of its wasm; boot.js imports it.
const APP: &str = "app";

/// Builds into dist/ and prints the sizes.
pub fn build_to_dist(profile: Profile) -> Result<()> {
    let dist = workspace::root().join("dist");
    build(profile, &dist)?;
    sizes::print(&dist)?;
    println!(
        "The app is in {}: copy that folder to any file server, under any path.",
        dist.display()
    );
    Ok(())
}

/// Builds into the folder, which keeps its old content until the new one is whole.
pub fn build(profile: Profile, folder: &Path) -> Result<()> {
    setup::wasm_target()?;
    let wasm = compile(profile)?;
    let fresh = folder.with_extension("new");
    clear(&fresh)?;
    std::fs::create_dir_all(&fresh)?;
    let scratch = tempfile::tempdir()?;
    let cut = cut::cut(&wasm, &fresh, APP, scratch.path())?;
    bind(profile, &cut.first, &fresh)?;
    if profile == Profile::Web {
        wasm_opt::shrink(&fresh.join(format!("{APP}_bg.wasm")))?;
        for piece in &cut.pieces {
            wasm_opt::shrink(piece)?;
        }
    }
    copy_page(&workspace::root().join("web"), &fresh)?;
    icons::draw(&fresh)?;
    offline::list_files(&fresh)?;
    clear(folder)?;
    Ok(std::fs::rename(fresh, folder)?)
}

/// Puts a gzipped copy beside each file, for a server that sends those.
pub fn add_gzipped_copies(folder: &Path) -> Result<()> {
    for file in sizes::files_under(folder)? {
        let path = folder.join(file);
        let zipped = sizes::gzip(&std::fs::read(&path)?)?;
        let mut name = path.into_os_string();
        name.push(".gz");
        std::fs::write(name, zipped)?;
    }
    Ok(())
}

fn compile(profile: Profile) -> Result<PathBuf> {
    println!(
        "Compiling the app for the browser (profile {}).",
        profile.name()
    );
    let mut build = command::cargo();
    build.args([
        "build",
        "--locked",
        "--quiet",
        "--package",
        PACKAGE,
        "--bin",
        PACKAGE,
        "--features",
        "cut",
        "--target",
        WASM,
        "--profile",
        profile.name(),
    ]);
    command::run(build.arg("--config").arg(remapped_paths()?))?;
    Ok(workspace::target()?
        .join(WASM)
        .join(profile.name())
        .join(format!("{PACKAGE}.wasm")))
}

/// The setting for cargo that keeps this machine's folders, which panic messages would carry, out of what people download.
/// Tests take it too, so that both share what is compiled.
pub fn remapped_paths() -> Result<String> {
    let home = std::env::var_os("HOME")
        .map(PathBuf::from)
        .unwrap_or_default();
    let cargo_home =
        std::env::var_os("CARGO_HOME").map_or_else(|| home.join(".cargo"), PathBuf::from);
    let flag = |from: &Path, to: &str| format!("--remap-path-prefix={}={to}", from.display());
    let flags =
        serde_json::to_string(&[flag(&cargo_home, "cargo"), flag(&workspace::root(), ".")])?;
    Ok(format!("target.{WASM}.rustflags={flags}"))
}

fn bind(profile: Profile, wasm: &Path, folder: &Path) -> Result<()> {
    println!("Writing the app's script and wasm.");
    let mut bindgen = Bindgen::new();
    bindgen
        .web(true)?
        .input_path(wasm)
        .out_name(APP)
        // The table of functions is among them, through which the pieces are joined.
        .keep_lld_exports(true)
        .typescript(false);
    if profile == Profile::Web {
        bindgen
            .remove_name_section(true)
            .remove_producers_section(true);
    }
    bindgen
        .generate(folder)
        .with_context(|| format!("binding {}", wasm.display()))
}

fn copy_page(web: &Path, folder: &Path) -> Result<()> {
    std::fs::copy(web.join("index.html"), folder.join("index.html"))
        .context("copying web/index.html")?;
    for file in sizes::files_under(&web.join("static"))? {
        let to = folder.join(&file);
        if let Some(parent) = to.parent() {
            std::fs::create_dir_all(parent)?;
        }
        std::fs::copy(web.join("static").join(&file), to)
            .with_context(|| format!("copying {}", file.display()))?;
    }
    Ok(std::fs::write(
        folder.join("style.css"),
        joined_styles(&web.join("style"))?,
    )?)
}

/// All style sheets as one, in order of name, so that the page asks for one file.
fn joined_styles(folder: &Path) -> Result<String> {
    if !folder.is_dir() {
        return Ok(String::new());
    }
    let mut joined = String::new();
    for file in sizes::files_under(folder)?
        .into_iter()
        .filter(|file| file.extension().is_some_and(|end| end == "css"))
    {
        joined.push_str(&std::fs::read_to_string(folder.join(file))?);
        joined.push('\n');
    }
    Ok(joined)
}

fn clear(folder: &Path) -> Result<()> {
    if folder.exists() {
        std::fs::remove_dir_all(folder)
            .with_context(|| format!("emptying {}", folder.display()))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn styles_join_in_order_of_name_and_other_files_stay_out() {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in [("20-b.css", "b{}"), ("10-a.css", "a{}"), ("notes.txt", "x")] {
            std::fs::write(folder.path().join(name), text).unwrap();
        }
        assert_eq!(joined_styles(folder.path()).unwrap(), "a{}\nb{}\n");
        assert_eq!(joined_styles(&folder.path().join("missing")).unwrap(), "");
    }

    #[test]
    fn a_page_is_copied_with_all_its_static_files() {
        let web = tempfile::tempdir().unwrap();
        std::fs::create_dir_all(web.path().join("static/icons")).unwrap();
        std::fs::write(web.path().join("index.html"), "page").unwrap();
        std::fs::write(web.path().join("static/icons/a.svg"), "icon").unwrap();
        let out = tempfile::tempdir().unwrap();
        copy_page(web.path(), out.path()).unwrap();
        let names = sizes::files_under(out.path()).unwrap();
        assert_eq!(
            names,
            ["icons/a.svg", "index.html", "style.css"].map(PathBuf::from)
        );
    }

    #[test]
    fn no_script_of_the_shell_names_another_host() {
        let folder = workspace::root().join("web/static");
        for file in sizes::files_under(&folder).unwrap() {
            // A picture names its own language by an address that nobody visits.
            if file.extension().is_some_and(|end| end == "svg") {
                continue;
            }
            let text = std::fs::read_to_string(folder.join(&file)).unwrap();
            for banned in ["://", "'//", "\"//", "eval(", "Function("] {
                assert!(!text.contains(banned), "{}: {banned}", file.display());
            }
        }
    }

    #[test]
    fn nothing_on_the_page_has_an_absolute_address_or_inline_code() {
        let page = std::fs::read_to_string(workspace::root().join("web/index.html")).unwrap();
        for banned in [
            "href=\"/",
            "src=\"/",
            "://",
            "<style",
            " style=",
            " onclick=",
            "<script>",
        ] {
            assert!(!page.contains(banned), "web/index.html contains {banned}");
        }
    }
}
