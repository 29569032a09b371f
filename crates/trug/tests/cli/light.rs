//! The tool stays small and starts at once: a hook calls it for every change, a pipeline carries it along.
//!
//! Bounds of regressions with much slack, on whatever machine this runs; what it takes is measured by `cargo bench -p trug`.

use std::fs;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::farm::{Farm, TRUG};

/// Without optimisation and with what a debugger reads it is several times as large.
const MOST_BYTES: u64 = if cfg!(debug_assertions) {
    250_000_000
} else {
    40_000_000
};
/// Some ten times what it takes on two cores, as other tests run beside this one.
const LONGEST: Duration = Duration::from_millis(400);

/// The middle of some runs, so that one held up by the machine does not count.
fn usual_time(arguments: &[&str]) -> Duration {
    let mut times: Vec<Duration> = (0..15)
        .map(|_| {
            let start = Instant::now();
            let mut command = Command::new(TRUG);
            command.args(arguments).stdout(Stdio::null());
            assert!(command.status().unwrap().success(), "{arguments:?}");
            start.elapsed()
        })
        .collect();
    times.sort();
    times[times.len() / 2]
}

#[test]
fn the_binary_is_small_enough_to_carry() {
    let bytes = fs::metadata(TRUG).unwrap().len();
    assert!(bytes <= MOST_BYTES, "{bytes} bytes");
}

#[test]
fn it_starts_and_checks_a_small_text_at_once() {
    let farm = Farm::new(&[("hens.trug", "use book poultry 2026\n")]);
    let text = farm.path("hens.trug");
    for arguments in [&["--version"][..], &["check", text.to_str().unwrap()]] {
        let usual = usual_time(arguments);
        assert!(usual <= LONGEST, "{arguments:?} takes {usual:?}");
    }
}
