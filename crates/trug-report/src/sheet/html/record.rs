//! What was done, as a record to copy: shown where scripts run.

use maud::{Markup, html};

use super::{Place, Text};
use crate::sheet::Record;

/// The day, the buttons and the text to copy.
pub(super) fn section(place: &Place<'_>, record: &Record) -> Markup {
    let words = &record.words;
    html! {
        section.record aria-label=(Text(&words.text)) hidden {
            p.made {
                label for=(place.id("made")) { (Text(&words.made)) }
                input type="date" id=(place.id("made")) value=(Text(&record.day)) autocomplete="off";
            }
            p.buttons {
                button.copy type="button" { (Text(&words.copy)) }
                button.print type="button" { (Text(&words.print)) }
                button.clear type="button" { (Text(&words.clear)) }
            }
            p.copied role="status" {}
            textarea.text readonly rows="12" spellcheck="false" wrap="off" dir="ltr" aria-label=(Text(&words.text)) hidden {}
        }
    }
}
