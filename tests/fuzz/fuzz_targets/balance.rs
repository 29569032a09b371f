//! Least cost in any farm: the target stands in `tests/src/hostile`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| trug_tests::hostile::balance(bytes));
