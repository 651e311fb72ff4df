//! The core never reaches the browser. Which of our packages may use which stands in `.cargo/deny.toml`; this is not said
//! there, since a ban names those that may use a package directly, and of `wasm-bindgen` those are a score of others' packages.

use crate::command;
use crate::workspace::{Member, WASM};
use anyhow::Result;

/// Whatever speaks to a browser uses this package.
const BROWSER: &str = "wasm-bindgen";

/// Checks the core as it is compiled for the browser, tests and build scripts left out.
pub fn check(members: &[Member]) -> Result<Vec<String>> {
    let core = members.iter().filter(|member| member.is_core());
    let core: Vec<&str> = core.map(|member| member.name.as_str()).collect();
    let breach =
        || format!("the core reaches {BROWSER}: `cargo tree -i {BROWSER}` shows by which way");
    Ok(reach_browser(&core)?.then(breach).into_iter().collect())
}

fn reach_browser(packages: &[&str]) -> Result<bool> {
    let mut tree = command::cargo();
    tree.args(["tree", "--quiet", "--target", WASM, "--prefix", "none"]);
    tree.args(["--edges", "normal,no-proc-macro"]);
    for package in packages {
        tree.args(["--package", package]);
    }
    let text = command::text(&mut tree)?;
    let mut used = text
        .lines()
        .filter_map(|line| line.split_whitespace().next());
    Ok(used.any(|name| name == BROWSER))
}

#[cfg(test)]
mod tests {
    use super::reach_browser;

    #[test]
    fn one_package_that_reaches_the_browser_is_found_among_others() {
        assert!(reach_browser(&["lodewright-kit", "lodewright-web"]).unwrap());
        assert!(!reach_browser(&["lodewright-kit"]).unwrap());
    }
}
