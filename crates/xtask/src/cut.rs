//! Cuts the compiled app at its marked functions (web/src/cuts.rs), so that a page is not kept waiting for what it does not use.

use anyhow::{Context, Result, anyhow, ensure};
use sha2::{Digest, Sha256};
use std::path::{Path, PathBuf};

/// The script that fetches the pieces; the app's own script asks for it.
const FETCHER: &str = "pieces.js";

/// What the tool writes for fetching a piece (around its address) and for making it, and what is wanted instead.
const CHANGES: [[&str; 2]; 3] = [
    ["fetch(new URL(\"./", "piece((\"./"],
    [".wasm\", import.meta.url))", ".wasm\"))"],
    [
        "WebAssembly.instantiateStreaming(src, imports)",
        "WebAssembly.instantiate(await src, imports)",
    ],
];
/// A piece is compiled while other things load, and of any answer: some file servers do not know the type.
const PIECE: &str = "\
const pieces = {};
export const piece = (address) => {
    pieces[address] ??= compiled(address).catch((error) => { delete pieces[address]; throw error; });
    return pieces[address];
};
async function compiled(address) {
    const answer = await fetch(new URL(address, import.meta.url));
    if (!answer.ok) throw new Error(`${answer.url}: ${answer.status}`);
    return answer.headers.get('content-type') === 'application/wasm'
        ? WebAssembly.compileStreaming(answer)
        : WebAssembly.compile(await answer.arrayBuffer());
}
";

/// What came of it.
pub struct Cut {
    /// What is left when the pieces are off; still to be bound.
    pub first: PathBuf,
    /// The pieces, in the folder.
    pub pieces: Vec<PathBuf>,
}

/// Writes the pieces and the script that fetches them into the folder, for an app script of this name, and the rest into `scratch`.
pub fn cut(wasm: &Path, folder: &Path, app: &str, scratch: &Path) -> Result<Cut> {
    let whole = std::fs::read(wasm).with_context(|| format!("reading {}", wasm.display()))?;
    let (first, app) = (scratch.join("first.wasm"), format!("./{app}.js"));
    let link = format!("./{FETCHER}");
    let mut options = wasm_split_cli_support::Options::new(&whole);
    options.output_dir = folder;
    options.main_out_path = &first;
    options.link_name = &link;
    options.main_module = &app;
    let cut = wasm_split_cli_support::transform(options)
        .map_err(|error| anyhow!("cutting {}: {error:#}", wasm.display()))?;
    // Pieces of two builds do not fit together: named by the build, one of another is not found instead of taken.
    let build: String = Sha256::digest(&whole)[..4]
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect();
    let mut script =
        std::fs::read_to_string(folder.join(FETCHER)).context("reading the fetching script")?;
    let pages = cut
        .prefetch_map
        .get("pages")
        .context("no function is marked for the pieces of `pages`")?;
    script = compiling_early(&script)?;
    script.push_str(&early(pages));
    let mut pieces = Vec::new();
    for piece in &cut.split_modules {
        pieces.push(rename(piece, &build, &mut script)?);
    }
    std::fs::write(folder.join(FETCHER), script)?;
    Ok(Cut { first, pieces })
}

/// The tool's script with [`PIECE`] in it.
fn compiling_early(script: &str) -> Result<String> {
    let mut script = script.to_owned();
    for [old, new] in CHANGES {
        ensure!(
            script.contains(old),
            "the tool writes another script than before, without {old}: look at {FETCHER}"
        );
        script = script.replace(old, new);
    }
    Ok(script + PIECE)
}

/// What the shell's script reads: the pieces that every page of a plan needs.
fn early(stems: &[String]) -> String {
    let files: Vec<_> = stems
        .iter()
        .map(|stem| format!("\"./{stem}.wasm\""))
        .collect();
    format!("export const PAGES = [{}];\n", files.join(", "))
}

/// Puts the build's name into the piece's, on the disk and in the script.
fn rename(piece: &Path, build: &str, script: &mut String) -> Result<PathBuf> {
    let stem = piece.file_stem().unwrap_or_default().to_string_lossy();
    let name = format!("{stem}-{build}.wasm");
    let old = format!("\"./{stem}.wasm\"");
    ensure!(
        script.contains(&old),
        "{FETCHER} does not fetch {stem}.wasm"
    );
    *script = script.replace(&old, &format!("\"./{name}\""));
    let to = piece.with_file_name(name);
    std::fs::rename(piece, &to)?;
    Ok(to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_are_compiled_by_our_own_function() {
        let written = "const src = fetch(new URL(\"./a.wasm\", import.meta.url));\nreturn async (imports) => (WebAssembly.instantiateStreaming(src, imports));\n";
        let script = compiling_early(written).unwrap();
        assert!(script.starts_with("const src = piece((\"./a.wasm\"));\nreturn async (imports) => (WebAssembly.instantiate(await src, imports));\n"));
        assert!(compiling_early("return something();").is_err());
    }

    #[test]
    fn a_piece_gets_the_build_s_name_wherever_it_is_fetched() {
        let folder = tempfile::tempdir().unwrap();
        let piece = folder.path().join("split_a.wasm");
        std::fs::write(&piece, "wasm").unwrap();
        let mut script = format!(
            "fetch(\"./split_a.wasm\");\n{}",
            early(&["split_a".to_owned()])
        );
        let renamed = rename(&piece, "0f", &mut script).unwrap();
        assert_eq!(
            script,
            "fetch(\"./split_a-0f.wasm\");\nexport const PAGES = [\"./split_a-0f.wasm\"];\n"
        );
        assert!(renamed.ends_with("split_a-0f.wasm") && renamed.is_file() && !piece.exists());
        assert!(rename(&renamed, "0f", &mut String::new()).is_err());
    }
}
