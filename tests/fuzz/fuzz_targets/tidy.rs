//! Layout and fixes keep what a text says: the target stands in `tests/src/hostile`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| trug_tests::hostile::tidy(bytes));
