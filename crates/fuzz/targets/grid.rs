//! The fuzzer of `grid`; see the library.
#![no_main]
#![allow(missing_docs, reason = "the macro makes the entry point")]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| lodewright_fuzz::grid(bytes));
