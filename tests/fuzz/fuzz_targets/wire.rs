//! Anything said to a server: the target stands in `tests/src/hostile`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| trug_tests::hostile::wire(bytes));
