//! Every source file opens with a comment that says what it is for.

use crate::workspace::root;
use anyhow::Result;
use std::path::{Path, PathBuf};

/// Shorter than this, a comment says nothing.
const LEAST_LETTERS: usize = 12;

/// Checks the tracked source files.
pub fn check(files: &[PathBuf]) -> Result<Vec<String>> {
    let mut breaches = Vec::new();
    for file in files {
        // Not every tracked file is text.
        let text = String::from_utf8_lossy(&std::fs::read(root().join(file))?).into_owned();
        breaches.extend(breach(file, &text));
    }
    Ok(breaches)
}

fn breach(file: &Path, text: &str) -> Option<String> {
    let marks = comment_marks(file, text)?;
    let opening = opening_line(text);
    let says = marks
        .iter()
        .find_map(|mark| opening.strip_prefix(mark))
        .is_some_and(says_something);
    let described = file.ends_with("Cargo.toml")
        && text.lines().any(|line| {
            line.strip_prefix("description =")
                .is_some_and(says_something)
        });
    (!says && !described).then(|| {
        format!(
            "{} must open with a comment that says what it is for",
            file.display()
        )
    })
}

/// How a comment starts in this kind of file; none for files that need no opening comment.
fn comment_marks(file: &Path, text: &str) -> Option<&'static [&'static str]> {
    match file.extension().and_then(|end| end.to_str()) {
        Some("rs") => Some(&["//!"]),
        Some("toml" | "sh" | "yml" | "yaml") => Some(&["#"]),
        Some("py") => Some(&["#", "\"\"\""]),
        Some("css") => Some(&["/*"]),
        Some("js" | "mjs") => Some(&["//", "/*"]),
        Some("html" | "svg") => Some(&["<!--"]),
        None if text.starts_with("#!") => Some(&["#"]),
        _ => None,
    }
}

/// The first line that is not one the format itself wants first.
fn opening_line(text: &str) -> &str {
    let wanted_first = |line: &str| {
        line.is_empty() || line.starts_with("#!/") || line.to_lowercase().starts_with("<!doctype")
    };
    text.lines()
        .map(str::trim)
        .find(|line| !wanted_first(line))
        .unwrap_or_default()
}

fn says_something(comment: &str) -> bool {
    comment
        .chars()
        .filter(|letter| letter.is_alphabetic())
        .count()
        >= LEAST_LETTERS
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fails(name: &str, text: &str) -> bool {
        breach(Path::new(name), text).is_some()
    }

    #[test]
    fn a_file_without_its_comment_is_a_breach_in_every_format() {
        let says = "what this file is for";
        let formats = [
            ("a.rs", "//! ", "fn f() {}"),
            ("a.toml", "# ", "x = 1"),
            ("a.css", "/* ", "a {}"),
            ("a.js", "// ", "f()"),
            ("a.html", "<!doctype html>\n<!-- ", "<p>"),
            ("a.sh", "#!/usr/bin/env bash\n# ", "ls"),
            ("run", "#!/usr/bin/env bash\n# ", "ls"),
            ("a.py", "# ", "f()"),
            ("a.yml", "# ", "x: 1"),
        ];
        for (name, mark, code) in formats {
            assert!(
                !fails(name, &format!("{mark}{says}\n{code}")),
                "{name} with a comment"
            );
            assert!(
                fails(name, &format!("{mark}\n{code}")),
                "{name} with an empty comment"
            );
            assert!(
                fails(
                    name,
                    &format!(
                        "{}\n{code}",
                        mark.lines()
                            .next()
                            .unwrap()
                            .trim_end_matches(['/', '!', '#', '*', '<', '-', ' '])
                    )
                ),
                "{name} without"
            );
        }
    }

    #[test]
    fn a_comment_further_down_is_too_late() {
        assert!(fails("a.rs", "use std::fmt;\n//! what this file is for"));
    }

    #[test]
    fn a_manifest_may_say_it_in_its_description() {
        assert!(!fails(
            "crates/a/Cargo.toml",
            "[package]\ndescription = \"What this package is for\""
        ));
        assert!(fails("crates/a/Cargo.toml", "[package]\nname = \"a\""));
        assert!(fails(
            "other.toml",
            "description = \"What this file is for\""
        ));
    }

    #[test]
    fn data_needs_no_comment() {
        assert!(!fails("plan.json", "{}"));
        assert!(!fails("LICENSE", "Permission is granted"));
    }
}
