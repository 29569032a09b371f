//! Every section of `suite/` as a test of its own. `TRUG_UPDATE=1` rewrites what is expected.

use std::process::ExitCode;

use libtest_mimic::{Arguments, Failed, Trial};
use trug_tests::marked::Suite;
use trug_tests::{repository, run};

fn main() -> ExitCode {
    let arguments = Arguments::from_args();
    let mut trials = Vec::new();
    for path in repository::files("tests/suite", ".trug") {
        let is_updated = std::env::var_os("TRUG_UPDATE").is_some();
        match Suite::read(&repository::read(&path)).and_then(|suite| {
            if is_updated {
                update(&path, suite)
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

fn trials_of(path: &str, suite: Suite) -> Vec<Trial> {
    let family = path
        .trim_start_matches("tests/suite/")
        .trim_end_matches(".trug")
        .to_owned();
    let trial = |section: trug_tests::marked::Section| {
        let name = format!("{family}/{}", section.name);
        Trial::test(name, move || run::verdict(&section).map_err(Failed::from)).with_kind("text")
    };
    suite.sections.into_iter().map(trial).collect()
}

fn update(path: &str, mut suite: Suite) -> Result<Suite, String> {
    for section in &mut suite.sections {
        *section = run::updated(section)?;
    }
    let written = std::fs::write(repository::root().join(path), suite.write());
    written.map_err(|error| error.to_string())?;
    Ok(suite)
}
