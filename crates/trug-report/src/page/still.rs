//! A page without a script: what stands around its content.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::policy::policy;
use super::text::Text;

/// The language of the words these pages have of their own.
const LANGUAGE: &str = "en";

/// A whole file: one that needs nothing from elsewhere, and may do nothing but look as `style` says.
pub(crate) fn still_page(title: &str, style: &'static str, content: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang=(LANGUAGE) {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy(style, None));
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                title { (Text(title)) }
                style { (PreEscaped(style)) }
            }
            body { main { (content) } }
        }
    };
    let mut page = page.into_string();
    page.push('\n');
    page
}
