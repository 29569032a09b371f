//! A book used without its year follows the newest edition; with it, the values of today stay.

use trug_findings::{Edit, Place, Span};
use trug_syntax::tree::{ItemBody, UseSource};

use super::{Action, Asked};

impl Asked<'_> {
    pub(super) fn hold_edition(&self, actions: &mut Vec<Action>) {
        let Some(ItemBody::Use(used)) = self.item.map(|item| &item.body) else {
            return;
        };
        let UseSource::Book(book) = &used.source else {
            return;
        };
        let years = self.view.farm().settings().library.years(&book.name.text);
        let Some(newest) = years.first().filter(|_| book.edition.is_none()) else {
            return;
        };
        let end = Span::at(book.name.span.end as usize);
        let edit = Edit {
            place: Place::new(self.file, end),
            text: format!(" {newest}"),
        };
        let title = format!("hold {} to its edition of {newest}", book.name.text);
        actions.push(self.rewrite(title, vec![edit]));
    }
}
