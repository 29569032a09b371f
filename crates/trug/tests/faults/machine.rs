//! Ways to make a machine fail, and to say where one does not let us.

use std::ffi::OsStr;
use std::io::Write;
use std::os::unix::fs::MetadataExt;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::farm::{Farm, Ran, TODAY, TRUG, ran};

/// Says past the harness, which keeps what is printed to itself, that a test could not be done here.
pub(crate) fn passed_over(what: &str) {
    let _ = writeln!(std::io::stderr(), "\npassed over: {what}");
}

/// Whether the tests are run by the system's keeper, whom no mode of a file stops.
pub(crate) fn is_root() -> bool {
    Path::new("/proc/self").metadata().unwrap().uid() == 0
}

/// A script run in the farm, with the tool as `$TRUG`.
pub(crate) fn script(farm: &Farm, script: &str) -> Ran {
    ran(&mut shell(farm, "sh", &["-c", script]))
}

/// A script as `script`, in a name space where it may mount what it likes; none where the machine allows none.
pub(crate) fn mounting(farm: &Farm, words: &str) -> Option<Ran> {
    let may = Command::new("unshare")
        .args(["-rm", "mount", "-t", "tmpfs", "none", "/mnt"])
        .stderr(Stdio::null())
        .status();
    if may.is_ok_and(|status| status.success()) {
        return Some(ran(&mut shell(
            farm,
            "unshare",
            &["-rm", "sh", "-ec", words],
        )));
    }
    passed_over("no name spaces for mounts can be had here");
    None
}

/// The tool, run so that modes of files and folders are obeyed: the system's keeper gives up all powers first.
pub(crate) fn obeying<S: AsRef<OsStr>>(farm: &Farm, args: &[S]) -> Ran {
    if !is_root() {
        return farm.run(args);
    }
    let mut command = shell(farm, "setpriv", &["--bounding-set", "-all", TRUG]);
    ran(command.args(args))
}

fn shell(farm: &Farm, program: &str, words: &[&str]) -> Command {
    let mut command = Command::new(program);
    command
        .args(words)
        .current_dir(farm.path(""))
        .env("TRUG", TRUG)
        .env("TRUG_TODAY", TODAY)
        .stdin(Stdio::null());
    command
}

/// Runs what must not hang: after ten seconds it is killed, and the test fails.
pub(crate) fn in_time(command: &mut Command) -> Ran {
    let start = Instant::now();
    let mut child = command
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    while child.try_wait().unwrap().is_none() {
        if Duration::from_secs(10) < start.elapsed() {
            child.kill().unwrap();
            child.wait().unwrap();
            panic!("it goes on and on: {command:?}");
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    // It ends, so it can be run for what it says.
    ran(command.stdout(Stdio::piped()).stderr(Stdio::piped()))
}

/// What a killed run left beside the files it wrote.
pub(crate) fn left_over(farm: &Farm, folder: &str) -> Vec<String> {
    let mut names = farm.names(folder);
    names.retain(|name| name.starts_with(".trug-") && name.ends_with(".part"));
    names
}
