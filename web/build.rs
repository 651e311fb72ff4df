//! Has the linker keep what the cutting into files needs to know (`cargo xtask`, `cut.rs`).

#[allow(
    clippy::disallowed_methods,
    reason = "cargo speaks through the environment"
)]
fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    if std::env::var_os("CARGO_FEATURE_CUT").is_some() {
        println!("cargo::rustc-link-arg-bins=--emit-relocs");
    }
}
