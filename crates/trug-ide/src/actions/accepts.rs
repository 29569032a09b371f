//! A finding accepted with a reason, for the families that may be.

use trug_findings::{Finding, Span};
use trug_syntax::words::item_word;

use super::{Action, ActionKind, Asked};
use crate::lines::line_at;
use crate::parts::{self, holds, item_at};

/// What stands where the reason is to be written.
const REASON: &str = "say why";

impl Asked<'_> {
    pub(super) fn accept(&self, actions: &mut Vec<Action>) {
        for (rank, finding) in self.touched() {
            if finding.code.may_be_accepted() {
                actions.extend(self.accepted(rank, finding));
            }
        }
    }

    fn accepted(&self, rank: usize, finding: &Finding) -> Option<Action> {
        let at = finding.place.span.start as usize;
        let item = item_at(&self.view.farm().tree(self.file).items, at)?;
        item_word(item.keyword.of(self.text))?.line_word("accept")?;
        let line = parts::lines(&item.body)
            .into_iter()
            .find(|line| holds(line.span(), at));
        let code = finding.code.name;
        // A header accepts nothing, and a line one finding only: then it is a line of its own.
        let at_end = line.filter(|line| line.accept().is_none() && !holds(item.header, at));
        let edit = match at_end {
            Some(line) => {
                let content = line_at(self.text, line.span().start as usize).content;
                self.edit(
                    Span::at(content.end),
                    format!(" accept {code} \"{REASON}\""),
                )
            }
            None => {
                let last = line_at(self.text, item.whole.end as usize).whole.end;
                let end = self.line_end();
                self.edit(
                    Span::at(last),
                    format!("{end}  accept         {code} \"{REASON}\""),
                )
            }
        };
        let filled = edit.text.rfind(REASON)?;
        Some(Action {
            title: format!("accept {code} here, with a reason"),
            kind: ActionKind::Mend,
            edits: vec![edit],
            mends: vec![rank],
            is_sure: false,
            to_fill: Some(filled..filled + REASON.len()),
        })
    }
}
