//! The service worker of one build: the list of its files with their hashes, and the build's name made of them.

use crate::sizes;
use anyhow::{Context, Result, ensure};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::path::Path;

/// The worker, which is not in its own list.
const WORKER: &str = "sw.js";

/// Fills the constants of `sw.js` in the folder in.
pub fn list_files(folder: &Path) -> Result<()> {
    let path = folder.join(WORKER);
    let template = std::fs::read_to_string(&path).context("reading sw.js")?;
    let mut files = BTreeMap::new();
    for file in sizes::files_under(folder)? {
        // As in an address, whatever this system puts between folders.
        let name: Vec<_> = file.iter().map(|part| part.to_string_lossy()).collect();
        let name = name.join("/");
        if name != WORKER {
            let bytes = std::fs::read(folder.join(&file))?;
            files.insert(name, integrity(&bytes));
        }
    }
    std::fs::write(&path, filled(&template, &files)?)?;
    Ok(())
}

/// The hash as browsers check it (W3C Subresource Integrity).
fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(bytes)))
}

fn filled(template: &str, files: &BTreeMap<String, String>) -> Result<String> {
    let list = serde_json::to_string(files)?;
    // The worker's own text counts: a change of it alone is a new build too.
    let build = integrity(format!("{template}{list}").as_bytes());
    let (name, constant) = ("const BUILD = 'BUILD';", "const FILES = {};");
    ensure!(
        template.contains(name) && template.contains(constant),
        "web/static/sw.js must have the lines `{name}` and `{constant}`"
    );
    Ok(template
        .replace(name, &format!("const BUILD = '{build}';"))
        .replace(constant, &format!("const FILES = {list};")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hashes_are_as_browsers_take_them() {
        // The example of the W3C recommendation "Subresource Integrity", section 1.2, is SHA-384; this is the SHA-256 of the
        // empty text, e3b0c442... in FIPS 180-4 test vectors, in base64.
        assert_eq!(
            integrity(b""),
            "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU="
        );
    }

    #[test]
    fn every_file_but_the_worker_is_listed_and_any_change_makes_another_build() {
        let folder = tempfile::tempdir().unwrap();
        let template = "const BUILD = 'BUILD';\nconst FILES = {};\n";
        let build = |content: &str| {
            std::fs::create_dir_all(folder.path().join("a")).unwrap();
            std::fs::write(folder.path().join("a/b.js"), content).unwrap();
            std::fs::write(folder.path().join(WORKER), template).unwrap();
            list_files(folder.path()).unwrap();
            std::fs::read_to_string(folder.path().join(WORKER)).unwrap()
        };
        let (one, two) = (build("1"), build("2"));
        assert!(one.contains("{\"a/b.js\":\"sha256-") && !one.contains("sw.js"));
        assert_ne!(one.lines().next(), two.lines().next());
        assert_eq!(one, build("1"));
    }
}
