//! Running other programs, with errors that name the program and its arguments.

use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The cargo that started this program, at the workspace root.
pub fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(crate::workspace::root());
    command
}

/// Runs to the end with the output shown; a non-zero exit is an error.
pub fn run(command: &mut Command) -> Result<()> {
    let status = command
        .status()
        .with_context(|| format!("could not start `{}`", shown(command)))?;
    if !status.success() {
        bail!("`{}` ended with {status}", shown(command));
    }
    Ok(())
}

/// What the program printed on its standard output, byte for byte; a non-zero exit is an error that shows what it complained of.
pub fn output(command: &mut Command) -> Result<Vec<u8>> {
    let output = command
        .output()
        .with_context(|| format!("could not start `{}`", shown(command)))?;
    if !output.status.success() {
        let complaint = String::from_utf8_lossy(&output.stderr);
        bail!(
            "`{}` ended with {}: {}",
            shown(command),
            output.status,
            complaint.trim()
        );
    }
    Ok(output.stdout)
}

/// As [`output`], as text.
pub fn text(command: &mut Command) -> Result<String> {
    Ok(String::from_utf8(output(command)?)?)
}

/// Where the program is on the search path.
pub fn find(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|folder| folder.join(program))
        .find(|file| is_program(file))
}

fn is_program(file: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    file.metadata()
        .is_ok_and(|data| data.is_file() && data.permissions().mode() & 0o111 != 0)
}

fn shown(command: &Command) -> String {
    let arguments = command
        .get_args()
        .map(|argument| argument.to_string_lossy().into_owned());
    std::iter::once(command.get_program().to_string_lossy().into_owned())
        .chain(arguments)
        .collect::<Vec<_>>()
        .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failure_names_the_command() {
        let error = run(Command::new("false").arg("--quietly"))
            .unwrap_err()
            .to_string();
        assert!(error.contains("false --quietly"), "{error}");
    }

    #[test]
    fn programs_are_found_and_missing_ones_are_not() {
        assert!(find("cargo").is_some());
        assert!(find("no-such-program-anywhere").is_none());
    }
}
