//! Whole items and whole lines with places to fill in. No number is ever filled in beforehand.

use std::collections::BTreeSet;

use trug_model::Namespace;
use trug_syntax::tree::ItemBody;
use trug_syntax::words::{ITEMS, ItemWord, LineWord, is_reserved};

use super::units::currencies;
use super::{CandidateKind, Offer, Offers};
use crate::lines::{Shape, tokens};
use crate::parts::{self, Part};

/// Whole items. `CUR` is the money the texts count in.
const WHOLE: &[(&str, &str)] = &[
    ("use", "use \"$1\""),
    ("unit", "unit $1 = $2 kg"),
    ("rate", "rate 1 $1 = $2 $3"),
    ("animal", "animal $1 is $2 \"$3\"\n  gives          $4"),
    (
        "nutrient",
        "nutrient $1 \"$2\" in ${3|share,energy,charge,IU,U,FTU,CFU|}",
    ),
    (
        "ingredient",
        "ingredient $1 \"$2\"\n  dry-matter     $3 %\n  protein        $4 %\n  price          $5 CUR/kg\n  $0",
    ),
    (
        "lot",
        "lot $1 of $2 \"$3\"\n  received       $4\n  on hand        $5 kg\n  $0",
    ),
    (
        "targets",
        "targets $1 for $2\n  protein        $3 .. $4 %\n  $0",
    ),
    (
        "ration",
        "ration $1 \"$2\"\n  for            $3\n  meets          $4\n  batch          $5 kg\n  $6             rest\n  $0",
    ),
    ("scale", "scale $1 \"$2\" $3 kg by $4 g"),
    ("vessel", "vessel $1 \"$2\" $3 of $4 L"),
    ("method", "method $1 \"$2\"\n  floor          $3 kg\n  $0"),
    (
        "group",
        "group $1 \"$2\"\n  $3 $4\n  eats           $5 $6 g/day from $7\n  mix for        at most $8 days",
    ),
    (
        "record",
        "record $1 of $2\n  made           $3\n  batch          $4 kg\n  weighed        $5 $6 kg\n  $0",
    ),
];

/// Lines that share their first word with one of the table.
const FURTHER: &[(&str, &str, &str)] = &[
    ("ingredient", "at least", "at least 5 %"),
    (
        "ingredient",
        "never for",
        "never for horse \"Poisons horses.\"",
    ),
    ("ration", "for mixing", "for mixing"),
];

/// Words of a line that are typed as they are, besides the reserved ones.
const LITERAL: &[&str] = &[
    "else",
    "below",
    "least",
    "most",
    "times",
    "fed",
    "before",
    "hand",
    "dry-matter",
    "day",
    "top",
    "none",
];

/// From the start of a key to its value.
const KEY_WIDTH: usize = 15;

impl Offers<'_> {
    /// Words that open items: alone, and with all that belongs to them.
    pub(super) fn items(&mut self, group: usize) {
        let money = currencies(self.view).into_iter().next().unwrap_or_default();
        for item in ITEMS {
            let offer = Offer::new(item.word, CandidateKind::ItemWord);
            let offer = offer.detail(item.wants).about("item", item.word);
            self.push(group, offer);
        }
        if self.place.has_more {
            return;
        }
        for (word, whole) in WHOLE {
            let offer = Offer::new(format!("{word} …"), CandidateKind::Snippet)
                .detail("with its lines")
                .snippet(whole.replace("CUR", &money))
                .about("item", word);
            self.push(
                group + 1,
                Offer {
                    filter: (*word).to_owned(),
                    ..offer
                },
            );
        }
        let use_book = self.view.farm().settings().library.newest_use("poultry");
        self.push(
            group + 1,
            Offer::new(use_book, CandidateKind::Snippet).detail("bundled book"),
        );
    }

    /// Words that open lines of the item, those that are not there yet first.
    pub(super) fn lines(&mut self, group: usize) {
        let Some(item) = self.place.item else { return };
        let used = self.first_words();
        let money = currencies(self.view).into_iter().next().unwrap_or_default();
        let own = item
            .lines
            .iter()
            .map(|line| (line.word, line.example, line));
        let further = FURTHER.iter().filter(|(of, ..)| *of == item.word);
        let further = further.filter_map(|(_, word, example)| {
            let line = item.line_word(word.split(' ').next()?)?;
            Some((*word, *example, line))
        });
        for (word, example, line) in own.chain(further) {
            let is_used = usize::from(used.contains(line.first()));
            self.line(group + is_used, item, line, (word, example), &money);
        }
    }

    fn line(
        &mut self,
        group: usize,
        item: &ItemWord,
        line: &LineWord,
        (word, example): (&str, &str),
        money: &str,
    ) {
        let offer = Offer::new(word, CandidateKind::LineWord).detail(line.wants);
        let offer = offer.about("line", &format!("{}:{}", item.word, line.first()));
        let offer = if self.place.has_more {
            offer
        } else {
            offer.snippet(line_snippet(word, example).replace("LKR", money))
        };
        self.push(group, offer);
    }

    /// The first words of the lines the item has.
    fn first_words(&self) -> BTreeSet<String> {
        let Some(item) = self.own_item() else {
            return BTreeSet::new();
        };
        let lines = parts::lines(&item.body).into_iter();
        let other = lines.filter(|line| !parts::touches(line.span(), self.place.word));
        other
            .filter_map(|line| line.span().of(self.text).split_whitespace().next())
            .map(str::to_owned)
            .collect()
    }

    /// Nutrients as lines of the item: those that targets ask for and the item does not name come first.
    pub(super) fn nutrient_lines(&mut self, group: usize) {
        let used = self.named_in_item(Namespace::Nutrient);
        let wanted = self.wanted();
        let word = self.place.item.map_or("", |item| item.word);
        for known in self.view.names(Namespace::Nutrient) {
            if self.is_far_too_many() {
                return;
            }
            let Some(counted) = self.view.counted(&known.name) else {
                continue;
            };
            let name = known.name.as_str();
            let unit = counted.units.first().copied().unwrap_or("%");
            let label = counted.label.unwrap_or_default();
            let mut offer = Offer::new(name, CandidateKind::Nutrient).detail(label.clone());
            offer.filter = format!("{name} {label}").trim_end().to_owned();
            offer = offer.about("nutrient", name);
            if !self.place.has_more {
                let value = match word {
                    "targets" => format!("$1 .. $2 {unit}"),
                    "animal" => format!("at most $1 {unit} ${{2|law,harm|}} \"$3\""),
                    _ => format!("$1 {unit}"),
                };
                offer = offer.snippet(format!("{}{value}", in_column(name)));
            }
            let rank = match (used.contains(name), wanted.contains(name)) {
                (false, true) => 0,
                (false, false) => 1,
                (true, _) => 2,
            };
            self.push(group + rank, offer);
        }
    }

    /// The nutrients that the targets in sight bound.
    fn wanted(&self) -> BTreeSet<String> {
        let mut wanted = BTreeSet::new();
        for &file in self.view.sees() {
            for item in &self.view.farm().tree(file).items {
                if !matches!(item.body, ItemBody::Targets(_)) {
                    continue;
                }
                for line in parts::lines(&item.body) {
                    for part in line.parts() {
                        if let Part::Name(Namespace::Nutrient, name) = part {
                            wanted.insert(name.text.to_string());
                        }
                    }
                }
            }
        }
        wanted
    }
}

/// A key with the blanks up to the column of values.
fn in_column(key: &str) -> String {
    let gap = KEY_WIDTH
        .checked_sub(key.chars().count())
        .filter(|gap| *gap > 0)
        .unwrap_or(2);
    format!("{key}{}", " ".repeat(gap))
}

/// A line with places for its names, numbers and texts, made from how it is typed.
fn line_snippet(word: &str, example: &str) -> String {
    let tokens = tokens(example, 0..example.len());
    let mut snippet = in_column(word);
    let mut place = 0;
    let mut before = Shape::Word;
    let mut is_first = true;
    let skipped = word.split(' ').count();
    for (rank, token) in tokens.iter().enumerate().skip(skipped) {
        let written = token.span.of(example);
        let next = tokens.get(rank + 1).map(|token| token.span.of(example));
        // `1 in 20`: the one is always one.
        let is_literal = match token.shape {
            Shape::Word => {
                before == Shape::Number || is_reserved(written) || LITERAL.contains(&written)
            }
            Shape::Number => written == "1" && next == Some("in"),
            Shape::Date | Shape::Text => false,
            Shape::Sign | Shape::Comment => true,
        };
        if !is_first {
            snippet.push(' ');
        }
        is_first = false;
        before = token.shape;
        if is_literal {
            snippet.push_str(written);
            continue;
        }
        place += 1;
        match token.shape {
            Shape::Text => snippet.push_str(&format!("\"${place}\"")),
            _ => snippet.push_str(&format!("${place}")),
        }
    }
    snippet.trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_have_places_and_no_numbers() {
        let of = |item: &str, first: &str| {
            let item = trug_syntax::words::item_word(item);
            let line = item.and_then(|item| item.line_word(first));
            line.map(|line| line_snippet(line.word, line.example))
                .unwrap_or_default()
        };
        assert_eq!(of("ration", "batch"), "batch          $1 kg");
        assert_eq!(of("ration", "mix"), "mix by         $1");
        assert_eq!(of("ration", "limit"), "limit          $1 + $2 at most $3 %");
        assert_eq!(
            of("ingredient", "price"),
            "price          $1 LKR/kg as of $2"
        );
        assert_eq!(of("ingredient", "dose"), "dose           $1 .. $2 g/kg");
        assert_eq!(of("ingredient", "apart"), "apart from     $1 until 1 in $2");
        assert_eq!(of("ingredient", "nothing"), "nothing else");
        assert_eq!(of("ingredient", "caution"), "caution        \"$1\"");
        assert_eq!(of("method", "step"), "step           at most 1 in $1");
        assert_eq!(of("group", "placed"), "placed on      $1 at day $2");
        assert_eq!(of("group", "mix"), "mix for        at most $1 days");
        assert_eq!(
            of("record", "sampled"),
            "sampled        $1 $2 $3 $4 % assay $5 %"
        );
        for item in ITEMS {
            assert!(
                WHOLE.iter().any(|(word, _)| *word == item.word),
                "{}",
                item.word
            );
            for line in item.lines {
                let snippet = line_snippet(line.word, line.example);
                let numbers = tokens(
                    &snippet.replace("1 in", "").replace('$', "x"),
                    0..snippet.len(),
                );
                assert!(
                    numbers.iter().all(|token| token.shape != Shape::Number),
                    "{snippet}"
                );
            }
        }
    }
}
