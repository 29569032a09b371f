//! A balanced ration drawn for people and for programs.

mod days;
mod html;
mod json;
mod text;
mod told;

pub use days::{BalancedDays, days_html, days_text};
pub use html::balance_html;
pub use json::balance_document;
pub use text::balance_text;

use trug_balance::Balance;
use trug_findings::Source;

/// A balanced ration with all that is told of it.
#[derive(Clone, Debug)]
pub struct BalancedRation<'a> {
    /// What came of balancing it.
    pub balance: Balance,
    /// The texts, by their number.
    pub sources: &'a [Source],
    /// The day the farm was read on.
    pub today: Option<String>,
    /// The day whose prices were paid, where they are not those of the texts.
    pub day: Option<String>,
    /// What people call the ration.
    pub label: Option<String>,
}
