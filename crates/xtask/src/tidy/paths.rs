//! No path of one machine and no address of a package registry in a tracked file: both stop being true elsewhere.

use crate::workspace::root;
use anyhow::Result;
use std::path::{Path, PathBuf};

// In two pieces each, so that this file does not contain what it forbids.
const FOLDERS: [&str; 3] = [
    concat!("/wo", "rk/"),
    concat!("/ro", "ot/"),
    concat!("/tmp/bash", "_jobs"),
];
const REGISTRIES: [&str; 8] = [
    concat!("index.crates", ".io"),
    concat!("static.crates", ".io"),
    concat!("registry.npm", "js.org"),
    concat!("files.python", "hosted.org"),
    concat!("pypi.org/", "simple"),
    concat!("deb.debian", ".org"),
    concat!("proxy.golang", ".org"),
    concat!("sparse", "+http"),
];

/// Checks the tracked files.
pub fn check(files: &[PathBuf]) -> Result<Vec<String>> {
    let mut breaches = Vec::new();
    for file in files {
        let text = String::from_utf8_lossy(&std::fs::read(root().join(file))?).into_owned();
        breaches.extend(breaches_in(file, &text));
    }
    Ok(breaches)
}

fn breaches_in(file: &Path, text: &str) -> Vec<String> {
    let on_line = |(number, line): (usize, &str)| {
        let folder = FOLDERS.iter().find(|folder| starts_a_path(line, folder));
        let found = folder.or_else(|| REGISTRIES.iter().find(|host| line.contains(**host)))?;
        Some(format!(
            "{}:{} holds {found}, which is true on one machine only",
            file.display(),
            number + 1
        ))
    };
    text.lines().enumerate().filter_map(on_line).collect()
}

/// Whether the folder stands there as the start of a path, not as the middle of another.
fn starts_a_path(line: &str, folder: &str) -> bool {
    let inside = |before: &str| {
        before.ends_with(|last: char| last.is_alphanumeric() || "._-~".contains(last))
    };
    line.match_indices(folder)
        .any(|(at, _)| !line.get(..at).is_some_and(inside))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_folder_and_host_is_found_with_its_line() {
        for banned in FOLDERS.into_iter().chain(REGISTRIES) {
            let found = breaches_in(Path::new("a.md"), &format!("first\nsee \"{banned}x\""));
            assert_eq!(found.len(), 1, "{banned}");
            assert!(found[0].starts_with("a.md:2 "), "{found:?}");
        }
    }

    #[test]
    fn a_folder_inside_another_path_is_no_machine_path() {
        let inside = format!(
            "crates/planner{}order and site.example{}list",
            FOLDERS[0], FOLDERS[0]
        );
        assert!(breaches_in(Path::new("a.md"), &inside).is_empty());
    }
}
