//! `trug why`: the page of a finding.

use trug_report::catalogue;

use crate::args::Why;
use crate::ending::{Ending, Failure, print};
use crate::near::nearest;
use crate::setting::Setting;
use crate::terminal::Stream;

/// Prints the page of a code, or the list of all.
pub(crate) fn why(typed: &Why, setting: &Setting) -> Result<Ending, Failure> {
    let page = match &typed.code {
        None => catalogue::why_list(),
        Some(code) => {
            let width = setting.style(Stream::Out).width;
            catalogue::why(code, width).ok_or_else(|| unknown(code))?
        }
    };
    print(page.as_bytes())?;
    Ok(Ending::Clean)
}

fn unknown(code: &str) -> Failure {
    let codes = catalogue::codes().into_iter().map(|code| code.name);
    let near = nearest(code, codes);
    let help = match near.as_slice() {
        [] => "see `trug why --list`".to_owned(),
        near => format!("try {}, or see `trug why --list`", near.join(", ")),
    };
    Failure::new(format!("there is no finding {}", code.escape_debug())).help(help)
}
