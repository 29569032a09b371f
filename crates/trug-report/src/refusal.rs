//! Why there is no sheet and no analysis, as a short page in their place.

use maud::{DOCTYPE, PreEscaped, html};
use trug_findings::{Finding, Source};

use crate::findings::lines;
use crate::page::policy::policy;
use crate::page::text::Text;

const STYLE: &str =
    "body{font:1rem/1.5 sans-serif;margin:2rem;max-width:50rem}pre{white-space:pre-wrap}";

/// A page that says why, and what was found. It has no script, and every text in it is escaped.
#[must_use]
pub fn refusal_html(why: &str, findings: &[Finding], sources: &[Source]) -> String {
    let open: Vec<Finding> = findings
        .iter()
        .filter(|finding| finding.is_open())
        .cloned()
        .collect();
    let found = lines(&open, sources);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy(STYLE, None));
                title { (Text(why)) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { (Text(why)) }
                @if !found.is_empty() { pre { (Text(&found)) } }
            }
        }
    };
    page.into_string() + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_the_farm_is_taken_for_markup() {
        let page = refusal_html("<script>alert(1)</script> is not known", &[], &[]);
        assert!(!page.contains("<script"), "{page}");
        assert!(page.contains("&lt;script"), "{page}");
    }
}
