//! Writes the cheapest amounts into a ration with open ones.

use trug_balance::Outcome;
use trug_syntax::tree::ItemBody;

use super::{Action, Asked, in_order};
use crate::balance::{balanced, in_words};

impl Asked<'_> {
    /// The cheapest amounts, from anywhere in the ration. The label and what can harm bound them, as every bound does.
    pub(super) fn balance(&self, actions: &mut Vec<Action>) {
        let Some(ItemBody::Ration(ration)) = self.item.map(|item| &item.body) else {
            return;
        };
        let made = self.view.made_out(&ration.name.text);
        let Some(balance) = made.and_then(|made| balanced(self.view, &made)) else {
            return;
        };
        let Outcome::Balanced(chosen) = &balance.outcome else {
            return;
        };
        if chosen.edits.is_empty() {
            return;
        }
        let title = format!("write the amounts of {}", in_words(&balance));
        actions.push(self.rewrite(title, in_order(&chosen.edits)));
    }
}
