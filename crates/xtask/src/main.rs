//! `cargo xtask`: builds the app, serves it, runs every check. Each command fetches what it needs and says so.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a terminal")]

mod bench;
mod bundle;
mod cargo_tool;
mod chrome;
mod command;
mod cut;
mod fuzz;
mod icons;
mod mutants;
mod npm;
mod offline;
mod server;
mod setup;
mod sizes;
mod stages;
mod tidy;
mod wasm_opt;
mod workspace;

use anyhow::Result;
use clap::{Parser, Subcommand, ValueEnum};
use std::ffi::OsString;
use std::process::ExitCode;

/// The command line.
#[derive(Parser)]
#[command(name = "cargo xtask", about = "Builds, serves and checks the app")]
struct Cli {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Leave the app in dist/, a folder any file server can host under any path
    Build {
        /// How hard the compiler works on size
        #[arg(long, value_enum, default_value_t = Profile::Web)]
        profile: Profile,
    },
    /// Build the app and serve it on this machine; press Enter for a rebuild
    Serve {
        /// Port on 127.0.0.1
        #[arg(long, default_value_t = 8080)]
        port: u16,
        /// How hard the compiler works on size
        #[arg(long, value_enum, default_value_t = Profile::Quick)]
        profile: Profile,
    },
    /// Run every check in order, or one of them
    Test {
        /// Run this stage alone
        #[arg(long, value_enum)]
        only: Option<stages::Stage>,
    },
    /// Check the rules that neither compiler nor clippy does: layering, licences, duplicates, opening comments, machine paths
    Tidy,
    /// Look long for what breaks: the fuzzers, then the browser killed in the middle of edits
    Soak {
        /// Executions of each fuzz target; the whole analysis gets a thousandth of them
        #[arg(long, default_value_t = 10_000_000)]
        runs: u64,
    },
    /// Put small faults into the code, one at a time, and list those that no test sees
    Mutants(mutants::Asked),
    /// Measure forces per second (on this machine, as wasm, in magpylib where Python can have it) and the app in Chromium
    Bench {
        /// Measure this alone
        #[arg(long, value_enum)]
        only: Option<bench::Part>,
    },
    /// Fetch what the other commands need: the wasm target, a browser and its driver
    Setup,
    /// Run one compiled wasm test file in headless Chromium (cargo calls this)
    #[command(hide = true)]
    WasmRunner {
        /// The wasm file, then the test harness's own arguments
        #[arg(trailing_var_arg = true, allow_hyphen_values = true)]
        arguments: Vec<OsString>,
    },
}

/// How the app is compiled.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Profile {
    /// Short builds, larger files
    Quick,
    /// The release: small files, long builds
    Web,
}

impl Profile {
    /// The cargo profile and folder of the same name.
    fn name(self) -> &'static str {
        match self {
            Profile::Quick => "quick",
            Profile::Web => "web",
        }
    }
}

fn main() -> ExitCode {
    match run(Cli::parse().task) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("cargo xtask: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn run(task: Task) -> Result<()> {
    match task {
        Task::Build { profile } => bundle::build_to_dist(profile),
        Task::Serve { port, profile } => server::build_and_serve(port, profile),
        Task::Test { only } => stages::run(only),
        Task::Tidy => tidy::run(),
        Task::Soak { runs } => fuzz::soak(runs),
        Task::Mutants(asked) => mutants::run(&asked),
        Task::Bench { only } => bench::run(only),
        Task::Setup => setup::everything(),
        Task::WasmRunner { arguments } => chrome::run_wasm_tests(arguments),
    }
}
