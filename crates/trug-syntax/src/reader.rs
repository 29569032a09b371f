//! Parts of a line, as the grammar found them, to values of the tree: names, numbers, quantities, bounds, sums.
//!
//! What the grammar cannot say stops the line here: a number of more than forty digits, a day that does not exist,
//! a range upside down, a clause written twice.

mod farm;
mod headers;
mod quantities;
mod rations;
mod store;
mod sums;

use trug_findings::{FileId, Finding, Place, Span};

use crate::findings::syntax;
use crate::grammar::{Part, Rule};
use crate::names::composed;
use crate::spelling;
use crate::tree::{Accept, Date, Name, Origin, Text};

pub(crate) use farm::{group_line, method_line, record_line};
pub(crate) use headers::header;
pub(crate) use rations::{ration_line, target_line};
pub(crate) use store::{animal_line, ingredient_line, lot_line};

/// Why a line that has the right form still cannot be read. The spans are of the text.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Mistake {
    /// The form is not that of the line: it can be read up to here, an offset in the line.
    Form(usize),
    /// More than forty digits.
    Digits(Span),
    /// No such day in the calendar.
    Day(Span),
    /// The lower end is above the upper.
    Reversed {
        /// The range.
        range: Span,
        /// As it would be the right way round.
        turned: String,
    },
    /// Written twice on the line.
    Twice(Span),
    /// Where it is from, said of a line that is no value read somewhere.
    NoOrigin(Span),
    /// A part that the line cannot do without is missing.
    Missing(&'static str),
}

/// What ends a line, whatever the line is.
#[derive(Default)]
pub(crate) struct LineEnd {
    pub(crate) origin: Option<Origin>,
    pub(crate) accept: Option<Accept>,
}

/// What a line says, or why it cannot be read.
pub(crate) type Read<T> = Result<T, Mistake>;

/// Reads the parts of one line of a text.
pub(crate) struct Reader<'f> {
    file: FileId,
    /// Where the line's content starts in the text.
    base: usize,
    /// Everyday spellings; dropped where the line cannot be read.
    notes: &'f mut Vec<Finding>,
}

impl<'f> Reader<'f> {
    pub(crate) fn new(file: FileId, base: usize, notes: &'f mut Vec<Finding>) -> Reader<'f> {
        Reader { file, base, notes }
    }

    /// Where a part stands in the text.
    fn span(&self, part: &Part<'_>) -> Span {
        let span = part.as_span();
        Span::new(self.base + span.start(), self.base + span.end())
    }

    fn note(&mut self, span: Span, written: &str, usual: &str) {
        let place = Place::new(self.file, span);
        self.notes.push(syntax::spelling(place, written, usual));
    }

    /// A name; the part is one.
    fn name(&self, part: &Part<'_>) -> Name {
        Name {
            text: composed(part.as_str()),
            span: self.span(part),
        }
    }

    /// The one name inside a part, as in `for NAME`.
    fn name_in(&self, part: Part<'_>) -> Read<Name> {
        let name = part
            .into_inner()
            .find(|inner| inner.as_rule() == Rule::name);
        name.map(|name| self.name(&name))
            .ok_or(Mistake::Missing("a name"))
    }

    /// A text in quotes.
    fn text(&mut self, part: &Part<'_>) -> Text {
        let written = part.as_str();
        let text = spelling::quoted(written);
        let span = self.span(part);
        if !written.starts_with('"') {
            let usual = spelling::in_straight_quotes(&text);
            self.note(span, written, &usual);
        }
        Text { text, span }
    }

    /// The one text inside a part, as in `caution TEXT`.
    fn text_in(&mut self, part: Part<'_>) -> Read<Text> {
        let text = part
            .into_inner()
            .find(|inner| inner.as_rule() == Rule::text);
        text.map(|text| self.text(&text))
            .ok_or(Mistake::Missing("a text in quotes"))
    }

    fn date(&self, part: &Part<'_>) -> Read<Date> {
        let span = self.span(part);
        let mut figures = part.as_str().split('-');
        let year = figures.next().and_then(|year| year.parse().ok());
        let month = figures.next().and_then(|month| month.parse().ok());
        let day = figures.next().and_then(|day| day.parse().ok());
        match (year, month, day) {
            (Some(year), Some(month), Some(day)) if is_day(year, month, day) => Ok(Date {
                year,
                month,
                day,
                span,
            }),
            _ => Err(Mistake::Day(span)),
        }
    }

    fn date_in(&self, part: Part<'_>) -> Read<Date> {
        let date = part
            .into_inner()
            .find(|inner| inner.as_rule() == Rule::date);
        date.map_or(Err(Mistake::Missing("a day")), |date| self.date(&date))
    }

    fn accept(&mut self, part: Part<'_>) -> Read<Accept> {
        let span = self.span(&part);
        let mut inner = part.into_inner();
        let code = inner.next().map(|code| self.name(&code));
        let reason = inner.next().map(|reason| self.text(&reason));
        match (code, reason) {
            (Some(code), Some(reason)) => Ok(Accept { code, reason, span }),
            _ => Err(Mistake::Missing("a code and a reason")),
        }
    }

    /// `accept` as a line of its own.
    pub(crate) fn accept_in(&mut self, part: Part<'_>) -> Read<Accept> {
        let accept = inner(part)?;
        self.accept(accept)
    }

    /// What ends a line, `at` bytes behind its start.
    pub(crate) fn line_end_at(&mut self, at: usize, part: Part<'_>) -> Read<LineEnd> {
        self.base += at;
        let end = self.line_end(part);
        self.base -= at;
        end
    }

    fn line_end(&mut self, part: Part<'_>) -> Read<LineEnd> {
        let mut end = LineEnd::default();
        for part in part.into_inner() {
            match part.as_rule() {
                Rule::origin => end.origin = Some(self.origin(part)),
                _ => end.accept = Some(self.accept(part)?),
            }
        }
        Ok(end)
    }

    /// `source "…"`, `unverified`, as a line of its own.
    pub(crate) fn origin_in(&mut self, part: Part<'_>) -> Read<Origin> {
        let origin = inner(part)?;
        Ok(self.origin(origin))
    }

    fn origin(&mut self, part: Part<'_>) -> Origin {
        let mut origin = Origin {
            of: None,
            source: None,
            unverified: None,
            span: self.span(&part),
        };
        for part in part.into_inner() {
            let span = self.span(&part);
            match part.as_rule() {
                Rule::unverified => origin.unverified = Some(span),
                _ => origin.source = self.text_in(part).ok(),
            }
        }
        origin
    }

    /// Puts a clause in its place, once.
    fn once<T>(&self, place: &mut Option<T>, span: Span, value: T) -> Read<()> {
        if place.is_some() {
            return Err(Mistake::Twice(span));
        }
        *place = Some(value);
        Ok(())
    }
}

/// The first part inside a part.
fn inner(part: Part<'_>) -> Read<Part<'_>> {
    part.into_inner().next().ok_or(Mistake::Missing("a word"))
}

/// Whether the calendar has the day: Gregorian, years 1 to 9999.
fn is_day(year: i16, month: i8, day: i8) -> bool {
    let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        4 | 6 | 9 | 11 => 30,
        2 if is_leap => 29,
        2 => 28,
        1..=12 => 31,
        _ => return false,
    };
    year >= 1 && (1..=days).contains(&day)
}
