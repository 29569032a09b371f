//! Every section of `suite/` as a test of its own.
//!
//! `TRUG_UPDATE=1` rewrites what is expected, of all sections or of those the filter names:
//! `TRUG_UPDATE=1 cargo test -p trug-tests --test suite -- harm/`.

use std::process::ExitCode;

use libtest_mimic::{Arguments, Failed, Trial};
use trug_tests::marked::{Section, Suite};
use trug_tests::{repository, run};

fn main() -> ExitCode {
    let arguments = Arguments::from_args();
    let mut trials = Vec::new();
    for path in repository::files("tests/suite", ".txt") {
        let is_updated = std::env::var_os("TRUG_UPDATE").is_some();
        match Suite::read(&repository::read(&path)).and_then(|suite| {
            if is_updated {
                update(&path, suite, &arguments)
            } else {
                Ok(suite)
            }
        }) {
            Ok(suite) => trials.extend(trials_of(&path, suite)),
            Err(why) => trials.push(Trial::test(path, move || Err(Failed::from(why)))),
        }
    }
    if trials.is_empty() {
        trials.push(Trial::test("suite", || Err(Failed::from("no sections"))));
    }
    libtest_mimic::run(&arguments, trials).exit_code()
}

fn name_of(path: &str, section: &Section) -> String {
    let family = path.trim_start_matches("tests/suite/");
    let family = family.trim_end_matches(".txt");
    format!("{family}/{}", section.name)
}

fn trials_of(path: &str, suite: Suite) -> Vec<Trial> {
    let mut trials = Vec::new();
    for section in suite.sections {
        let name = name_of(path, &section);
        let verdict = move || run::verdict(&section).map_err(Failed::from);
        trials.push(Trial::test(name, verdict).with_kind("text"));
    }
    trials
}

fn update(path: &str, mut suite: Suite, arguments: &Arguments) -> Result<Suite, String> {
    for section in &mut suite.sections {
        let name = name_of(path, section);
        let is_meant = |filter: &String| name.contains(filter.as_str());
        if arguments.filter.as_ref().is_none_or(is_meant) {
            *section = run::updated(section)?;
        }
    }
    let written = std::fs::write(repository::root().join(path), suite.write());
    written.map_err(|error| error.to_string())?;
    Ok(suite)
}
