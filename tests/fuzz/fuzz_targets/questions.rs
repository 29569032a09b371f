//! What an editor may ask at any place: the target stands in `tests/src/hostile`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| trug_tests::hostile::questions(bytes));

libfuzzer_sys::fuzz_mutator!(|bytes: &mut [u8], size: usize, most: usize, seed: u32| {
    trug_fuzz::mutate(bytes, size, most, seed, trug_tests::hostile::change_text)
});
