//! The core computes and nothing else: no clock, file, thread, environment or printing outside tests.

use crate::sizes::files_under;
use crate::workspace::{Member, root};
use anyhow::{Context, Result};
use proc_macro2::{Delimiter, Group, TokenStream, TokenTree};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

const MODULES: [&str; 6] = ["time", "fs", "thread", "env", "process", "net"];
const MACROS: [&str; 5] = ["print", "println", "eprint", "eprintln", "dbg"];

/// Checks the sources of every core package.
pub fn check(members: &[Member]) -> Result<Vec<String>> {
    let mut breaches = Vec::new();
    for member in members.iter().filter(|member| member.is_core()) {
        breaches.extend(check_folder(&member.folder.join("src"))?);
    }
    Ok(breaches)
}

fn check_folder(folder: &Path) -> Result<Vec<String>> {
    let files = files_under(&root().join(folder))?;
    let sources = files
        .into_iter()
        .filter(|file| file.extension().is_some_and(|end| end == "rs"));
    let mut findings = Vec::new();
    let mut test_only = BTreeSet::new();
    for file in sources {
        let source = std::fs::read_to_string(root().join(folder).join(&file))?;
        let scan =
            scan(&source).with_context(|| format!("reading {}", folder.join(&file).display()))?;
        test_only.extend(
            scan.test_modules
                .iter()
                .map(|name| module_path(&file, name)),
        );
        findings.push((file, scan.breaches));
    }
    let shipped = findings
        .into_iter()
        .filter(|(file, _)| !test_only.iter().any(|module| belongs_to(file, module)));
    let shown = |file: PathBuf, (line, what): (usize, String)| {
        format!(
            "{}:{line} uses {what}, which the core must not",
            folder.join(file).display()
        )
    };
    Ok(shipped
        .flat_map(|(file, list)| {
            list.into_iter()
                .map(move |breach| shown(file.clone(), breach))
        })
        .collect())
}

/// Path, without its ending, of a module declared in the file.
fn module_path(file: &Path, module: &str) -> PathBuf {
    let stem = file
        .file_stem()
        .and_then(|stem| stem.to_str())
        .unwrap_or_default();
    match stem {
        "lib" | "main" | "mod" => file.with_file_name(module),
        _ => file.with_extension("").join(module),
    }
}

fn belongs_to(file: &Path, module: &Path) -> bool {
    file.with_extension("").starts_with(module)
}

/// What one source file shows.
#[derive(Default)]
struct Scan {
    /// Line and name of each forbidden use outside tests.
    breaches: Vec<(usize, String)>,
    /// Modules in files of their own that exist in tests only.
    test_modules: Vec<String>,
}

fn scan(source: &str) -> Result<Scan> {
    let tokens: TokenStream = source
        .parse()
        .map_err(|error| anyhow::anyhow!("not Rust: {error}"))?;
    let mut scan = Scan::default();
    scan.walk(tokens);
    Ok(scan)
}

impl Scan {
    fn walk(&mut self, tokens: TokenStream) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut rest = tokens.as_slice();
        while let [first, after @ ..] = rest {
            rest = match (first, after) {
                (TokenTree::Punct(mark), [TokenTree::Group(attribute), item @ ..])
                    if mark.as_char() == '#' && is_test(attribute) =>
                {
                    self.skip_item(item)
                }
                _ => {
                    self.look(first, after);
                    after
                }
            };
        }
    }

    /// Leaves out the item that a test attribute stands before; it ends at its braces or its semicolon.
    fn skip_item<'a>(&mut self, item: &'a [TokenTree]) -> &'a [TokenTree] {
        let ends = |token: &TokenTree| match token {
            TokenTree::Group(group) => group.delimiter() == Delimiter::Brace,
            TokenTree::Punct(mark) => mark.as_char() == ';',
            _ => false,
        };
        let end = item.iter().position(ends).unwrap_or(item.len());
        let (skipped, rest) = item.split_at(end);
        let declared = matches!(rest, [TokenTree::Punct(_), ..]);
        if let (true, [.., TokenTree::Ident(keyword), TokenTree::Ident(name)]) = (declared, skipped)
            && keyword == "mod"
        {
            self.test_modules.push(name.to_string());
        }
        rest.split_first().map_or(rest, |(_, rest)| rest)
    }

    fn look(&mut self, first: &TokenTree, after: &[TokenTree]) {
        match (first, after) {
            (TokenTree::Group(group), _) => self.walk(group.stream()),
            (TokenTree::Ident(name), [TokenTree::Punct(mark), ..])
                if mark.as_char() == '!' && MACROS.iter().any(|banned| name == banned) =>
            {
                self.breach(name.span().start().line, format!("{name}!"));
            }
            (TokenTree::Ident(name), [TokenTree::Punct(a), TokenTree::Punct(b), used, ..])
                if name == "std" && a.as_char() == ':' && b.as_char() == ':' =>
            {
                self.used_from_std(used);
            }
            _ => {}
        }
    }

    fn used_from_std(&mut self, used: &TokenTree) {
        match used {
            TokenTree::Ident(module) if MODULES.iter().any(|banned| module == banned) => {
                self.breach(module.span().start().line, format!("std::{module}"));
            }
            TokenTree::Group(group) => {
                let tokens: Vec<TokenTree> = group.stream().into_iter().collect();
                let of_list = tokens.split(
                    |token| matches!(token, TokenTree::Punct(mark) if mark.as_char() == ','),
                );
                of_list
                    .filter_map(<[TokenTree]>::first)
                    .for_each(|first| self.used_from_std(first));
            }
            _ => {}
        }
    }

    fn breach(&mut self, line: usize, what: String) {
        self.breaches.push((line, what));
    }
}

/// Whether the attribute is `[test]` or a `[cfg(...)]` that asks for tests.
fn is_test(attribute: &Group) -> bool {
    let text: String = attribute.stream().to_string().split_whitespace().collect();
    text == "test" || text == "cfg(test)" || text.starts_with("cfg(all(test,")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(source: &str) -> Vec<String> {
        scan(source)
            .unwrap()
            .breaches
            .into_iter()
            .map(|(line, what)| format!("{line} {what}"))
            .collect()
    }

    #[test]
    fn every_forbidden_module_is_found_however_it_is_named() {
        for module in MODULES {
            assert_eq!(
                found(&format!("\nuse std::{module}::thing;")),
                [format!("2 std::{module}")]
            );
            assert_eq!(
                found(&format!(
                    "fn f() {{ let x = g(format!(\"{{}}\", std::{module}::now())); }}"
                ))
                .len(),
                1
            );
            assert_eq!(
                found(&format!(
                    "use std::{{collections::BTreeMap, {module}::thing}};"
                ))
                .len(),
                1
            );
        }
    }

    #[test]
    fn every_printing_macro_is_found() {
        for name in MACROS {
            assert_eq!(
                found(&format!("fn f() {{ if true {{ {name}!(\"x\") }} }}")),
                [format!("1 {name}!")]
            );
        }
    }

    #[test]
    fn tests_comments_and_texts_may_name_them() {
        assert!(
            found("#[cfg(test)]\nmod tests { use std::fs; fn f() { println!(\"x\"); } }")
                .is_empty()
        );
        assert!(found("#[test]\nfn f() -> [u8; 2] { dbg!(1); }").is_empty());
        assert!(found("// std::fs\nconst A: &str = \"std::time println!\";").is_empty());
        assert!(found("use std::collections::BTreeMap; fn time() {}").is_empty());
    }

    #[test]
    fn code_after_a_test_item_is_still_read() {
        assert_eq!(
            found("#[cfg(test)] mod tests { }\nfn f() { println!() }"),
            ["2 println!"]
        );
        assert_eq!(
            found("#[cfg(test)] mod tests;\nuse std::fs;"),
            ["2 std::fs"]
        );
        assert_eq!(found("#[cfg(not(test))] use std::fs;"), ["1 std::fs"]);
    }

    #[test]
    fn test_modules_in_files_of_their_own_are_known() {
        assert_eq!(
            scan("#[cfg(test)]\nmod checks;").unwrap().test_modules,
            ["checks"]
        );
        assert_eq!(
            module_path(Path::new("lib.rs"), "checks"),
            Path::new("checks")
        );
        assert_eq!(
            module_path(Path::new("a/b.rs"), "checks"),
            Path::new("a/b/checks")
        );
        assert!(belongs_to(
            Path::new("a/b/checks.rs"),
            Path::new("a/b/checks")
        ));
        assert!(belongs_to(
            Path::new("a/b/checks/more.rs"),
            Path::new("a/b/checks")
        ));
        assert!(!belongs_to(
            Path::new("a/b/checker.rs"),
            Path::new("a/b/checks")
        ));
    }
}
