//! What the targets share: half of what is tried is changed as hands change a text, half as libFuzzer changes bytes.

/// Changes the first `size` of these bytes in place, to `most` bytes at most; how many there are then.
pub fn mutate(
    bytes: &mut [u8],
    size: usize,
    most: usize,
    seed: u32,
    change: fn(&[u8], u64) -> Vec<u8>,
) -> usize {
    if seed.is_multiple_of(2) {
        return libfuzzer_sys::fuzzer_mutate(bytes, size, most);
    }
    let changed = change(&bytes[..size], u64::from(seed));
    let size = changed.len().min(most);
    bytes[..size].copy_from_slice(&changed[..size]);
    size
}
