//! What there is to say about the thing under an offset.

use trug_findings::{FileId, Span};
use trug_model::{Farm, Namespace, View};
use trug_syntax::tree::{Item, ItemBody, RationStatement, UnitText};
use trug_syntax::words;

use crate::cards;
use crate::lines::{Shape, line_at, on_character, tokens};
use crate::markdown::{DEFERS, paragraphs};
use crate::parts::{self, LineRef, Part, holds};

/// An answer in Markdown, and what it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hover {
    /// The thing under the offset.
    pub span: Span,
    /// What there is to say.
    pub markdown: String,
}

/// What there is to say about the thing at `offset`; none where it is a blank, a comment, or nothing is known.
#[must_use]
pub fn hover(farm: &Farm, file: FileId, offset: usize) -> Option<Hover> {
    let text = farm.sources().get(file.index())?.text();
    let offset = on_character(text, offset);
    let line = line_at(text, offset);
    let content = Span::new(line.content.start, line.content.end);
    if farm.is_table(file) || !holds(content, offset) || content.start == content.end {
        return None;
    }
    let view = farm.open(file);
    let item = parts::item_at(&farm.tree(file).items, offset);
    let asked = Asked {
        view: &view,
        file,
        offset,
    };
    let of_part = item.and_then(|item| asked.part(item));
    of_part.or_else(|| asked.word(text, content, item))
}

struct Asked<'a> {
    view: &'a View<'a>,
    file: FileId,
    offset: usize,
}

impl Asked<'_> {
    /// The part of a header or line that was read.
    fn part(&self, item: &Item) -> Option<Hover> {
        let (line, parts) = if holds(item.header, self.offset) {
            (None, parts::header(&item.body))
        } else {
            let lines = parts::lines(&item.body);
            let line = lines
                .into_iter()
                .find(|line| holds(line.span(), self.offset))?;
            (Some(line), line.parts())
        };
        // Of two that touch, the one that starts here.
        let under = parts
            .iter()
            .rev()
            .find(|part| holds(part.span(), self.offset))?;
        let markdown = self.about(item, line, under)?;
        let span = match under {
            Part::Accept(accept) => accept.code.span,
            part => part.span(),
        };
        Some(Hover { span, markdown })
    }

    fn about(&self, item: &Item, line: Option<LineRef<'_>>, part: &Part<'_>) -> Option<String> {
        let view = self.view;
        match part {
            Part::Name(Namespace::Nutrient, _) => {
                self.in_target(item, line).or_else(|| self.named(part))
            }
            Part::Declares(..) | Part::Name(..) => self.named(part),
            Part::Bound(bound) => {
                let told = self
                    .in_target(item, line)
                    .or_else(|| self.in_ration(item, line));
                let units = || {
                    let told = cards::bound(view, self.file, bound, feed_of(item, line))?;
                    let defers = if can_hurt(line) {
                        DEFERS.to_owned()
                    } else {
                        String::new()
                    };
                    Some(paragraphs([told, defers]))
                };
                told.or_else(units)
            }
            Part::Quantity(quantity) => self.in_ration(item, line).or_else(|| {
                let is_content =
                    matches!(parts_head(line), Some(Part::Name(Namespace::Nutrient, _)));
                let feed = feed_of(item, line);
                let told = cards::quantity(view, self.file, quantity, feed, is_content)?;
                let defers = if can_hurt(line) {
                    DEFERS.to_owned()
                } else {
                    String::new()
                };
                Some(paragraphs([told, defers]))
            }),
            Part::Number(_) => self.in_ration(item, line),
            Part::Path(_) | Part::Book(_) => match &item.body {
                ItemBody::Use(used) => cards::used_text(view, used),
                _ => None,
            },
            Part::Accept(accept) if holds(accept.code.span, self.offset) => {
                cards::code(&accept.code.text)
            }
            Part::Accept(accept) if self.offset < accept.code.span.start as usize => {
                cards::clause("accept")
            }
            Part::Unit(unit) => unit_alone(unit),
            _ => None,
        }
    }

    fn named(&self, part: &Part<'_>) -> Option<String> {
        match part {
            Part::Declares(namespace, name) | Part::Name(namespace, name) => {
                cards::named(self.view, *namespace, &name.text)
            }
            _ => None,
        }
    }

    /// The target a line of targets sets.
    fn in_target(&self, item: &Item, line: Option<LineRef<'_>>) -> Option<String> {
        let (ItemBody::Targets(targets), Some(LineRef::Target(line))) = (&item.body, line) else {
            return None;
        };
        let target = line.target.as_ref()?;
        Some(cards::target(
            self.view,
            self.file,
            &targets.name.text,
            target,
        ))
    }

    /// The amount a line of a ration gives.
    fn in_ration(&self, item: &Item, line: Option<LineRef<'_>>) -> Option<String> {
        let (ItemBody::Ration(ration), Some(LineRef::Ration(line))) = (&item.body, line) else {
            return None;
        };
        match &line.statement {
            RationStatement::Amount(amount) if holds(amount.span, self.offset) => {
                cards::amount(self.view, &ration.name.text, amount)
            }
            _ => None,
        }
    }

    /// A word of the language, or `rest`, which is an amount too.
    fn word(&self, text: &str, content: Span, item: Option<&Item>) -> Option<Hover> {
        let tokens = tokens(text, content.range());
        let rank = tokens
            .iter()
            .rposition(|token| holds(token.span, self.offset))?;
        let token = tokens
            .get(rank)
            .filter(|token| token.shape == Shape::Word)?;
        let word = token.span.of(text);
        let line = item.and_then(|item| {
            let lines = parts::lines(&item.body).into_iter();
            lines
                .into_iter()
                .find(|line| holds(line.span(), self.offset))
        });
        let markdown = match (word, item) {
            ("rest" | "giving", Some(item)) => {
                self.in_ration(item, line).or_else(|| cards::clause(word))
            }
            _ => self.of_language(text, content, item, rank, word),
        }?;
        Some(Hover {
            span: token.span,
            markdown,
        })
    }

    fn of_language(
        &self,
        text: &str,
        content: Span,
        item: Option<&Item>,
        rank: usize,
        word: &str,
    ) -> Option<String> {
        let is_header = item.is_none_or(|item| item.header == content);
        if is_header {
            let opens = words::item_word(word).filter(|_| rank == 0);
            return opens.map_or_else(|| cards::clause(word), |word| Some(cards::item_word(word)));
        }
        let keyword = item.map(|item| item.keyword.of(text))?;
        let opens = words::item_word(keyword)?;
        let first = content.of(text).split_whitespace().next().unwrap_or("");
        let line = opens
            .line_word(first)
            .filter(|line| rank < line.word.split(' ').count());
        match line {
            Some(line) => Some(cards::line_word(opens, line)),
            None => cards::clause(word),
        }
    }
}

/// The first part of a line.
fn parts_head(line: Option<LineRef<'_>>) -> Option<Part<'_>> {
    line?.parts().into_iter().next()
}

/// The ingredient a quantity is of: that of the item, or of a ration's line.
fn feed_of<'t>(item: &'t Item, line: Option<LineRef<'t>>) -> Option<&'t str> {
    if let Some(LineRef::Ration(line)) = line {
        return match &line.statement {
            RationStatement::Amount(amount) => Some(&amount.name.text),
            _ => None,
        };
    }
    match &item.body {
        ItemBody::Ingredient(ingredient) => Some(&ingredient.name.text),
        ItemBody::Lot(lot) => Some(&lot.of.text),
        ItemBody::Unit(unit) => unit.of.as_ref().map(|of| of.text.as_str()),
        _ => None,
    }
}

/// Whether the numbers of a line are such as can hurt.
fn can_hurt(line: Option<LineRef<'_>>) -> bool {
    use trug_syntax::tree::{AnimalStatement, IngredientStatement as Says};
    match line {
        Some(LineRef::Animal(line)) => matches!(line.statement, AnimalStatement::Bound { .. }),
        Some(LineRef::Ingredient(line)) => matches!(
            line.statement,
            Says::Dose { .. } | Says::Ceiling { .. } | Says::Withdrawal { .. }
        ),
        _ => false,
    }
}

fn unit_alone(unit: &UnitText) -> Option<String> {
    let (_, dimension) = crate::units::unit(&trug_report::words::printable(&unit.unit.text))?;
    Some(format!(
        "**{}** counts {dimension}",
        crate::markdown::plain(&unit.unit.text)
    ))
}
