//! What each column of a spreadsheet is about, from its heading.

use std::collections::BTreeSet;

use super::Maker;
use super::asked::{ask, asked_unit, is_called};
use super::fits::{Fits, Wants};
use crate::book::kind;
use crate::cells::amount;
use crate::items::label;
use crate::layout::{Column, LONGEST_HEADING};
use crate::names::Names;
use crate::remarks::{Refusal, Remark, short};
use crate::units::{Parts, Unit, parts};
use crate::words::{Means, meaning, plain};

/// What the columns are about.
#[derive(Debug, Default)]
pub(super) struct Roles {
    /// One for each column; none where it cannot be used.
    pub(super) roles: Vec<Option<Role>>,
    /// The words above the amounts of each ration.
    pub(super) rations: Vec<String>,
}

/// What a column is about.
#[derive(Debug)]
pub(super) enum Role {
    /// What people call the ingredient.
    Label,
    /// Crystal, powder, meal …
    Form,
    /// A number with its unit.
    Number {
        /// The word that opens the line.
        word: String,
        /// The unit, where the heading has it.
        unit: Option<Unit>,
        /// What a share is a share of.
        basis: &'static str,
        /// Which units are wanted.
        fits: Fits,
        /// The ration that it is an amount of.
        ration: Option<usize>,
    },
}

impl Roles {
    /// Finds out what each column is about, and says how it was read.
    pub(super) fn of(maker: &mut Maker<'_>) -> Result<Roles, Refusal> {
        for wish in &maker.wishes.rations {
            let mut headings = maker
                .layout
                .columns
                .iter()
                .filter_map(|column| column.heading);
            if !headings.any(|cell| is_called(&cell.text, wish)) {
                return Err(Refusal::new(
                    format!("no heading of this table is {}", short(wish)),
                    "name the heading above the amounts, as it is written",
                ));
            }
        }
        let mut roles = Roles::default();
        let mut names = Names::default();
        let mut seen = BTreeSet::new();
        let layout = maker.layout;
        for column in &layout.columns {
            let role = roles.role(column, maker, &mut names)?;
            let role = role.filter(|role| is_first(role, &mut seen, column, maker));
            roles.roles.push(role);
        }
        Ok(roles)
    }

    fn role(
        &mut self,
        column: &Column<'_>,
        maker: &mut Maker<'_>,
        names: &mut Names,
    ) -> Result<Option<Role>, Refusal> {
        let Some(heading) = column.heading else {
            maker.remarks.extend(column.cells.first().map(|(_, cell)| {
                let says = format!("{} stands under no heading", short(&cell.text));
                Remark::lost(cell.span, says, "write a heading with its unit above it")
            }));
            return Ok(None);
        };
        let text = heading.text.trim();
        if LONGEST_HEADING < text.len() {
            let says = format!("{} is too long for a heading", short(text));
            maker.remarks.push(Remark::lost(
                heading.span,
                says,
                "write a word and its unit",
            ));
            return Ok(None);
        }
        let mut parts = parts(text);
        asked_unit(&mut parts, text, column, maker)?;
        let is_wanted = maker
            .wishes
            .rations
            .iter()
            .any(|wish| is_called(text, wish));
        let is_amount = parts.words.is_empty() && parts.unit.as_ref().is_some_and(is_of_amounts);
        let means = match meaning(&parts.words) {
            _ if is_wanted || is_amount => Some(Means::Amount),
            means => means,
        };
        let role = match means {
            Some(Means::Label) => Some(Role::Label),
            Some(Means::Line("form")) => Some(Role::Form),
            Some(Means::Amount) => self.amounts(parts, column, is_wanted, maker),
            Some(Means::Line(word)) => number(word, Fits::of_line(word), parts, column, maker),
            Some(Means::Nutrient(name)) => nutrient(name, parts, column, maker),
            Some(Means::Name | Means::Unit) => {
                let says = format!("{} is not read: the names stand elsewhere", short(text));
                maker.remarks.push(Remark::left_out(heading.span, says, ""));
                None
            }
            None => unknown(parts, column, maker, names),
        };
        Ok(role)
    }

    /// The amounts of a ration: under the headings asked for, else under the first.
    fn amounts(
        &mut self,
        parts: Parts,
        column: &Column<'_>,
        is_wanted: bool,
        maker: &mut Maker<'_>,
    ) -> Option<Role> {
        let heading = column.heading?;
        let text = heading.text.trim();
        let is_first = maker.wishes.rations.is_empty() && self.rations.is_empty();
        if !is_wanted && !is_first {
            let says = format!("{} is left out: other amounts are read", short(text));
            let help = format!("name them to read these: --ration \"{}\"", short(text));
            maker
                .remarks
                .push(Remark::left_out(heading.span, says, help));
            return None;
        }
        let words = parts.words.clone();
        let fits = Fits::new(Wants::Amount, "kg");
        let Role::Number {
            word,
            unit,
            basis,
            fits,
            ..
        } = number("amount", fits, parts, column, maker)?
        else {
            return None;
        };
        self.rations.push(words);
        let ration = Some(self.rations.len() - 1);
        Some(Role::Number {
            word,
            unit,
            basis,
            fits,
            ration,
        })
    }
}

/// Headings that are a unit alone: amounts are weighed in these.
fn is_of_amounts(unit: &Unit) -> bool {
    matches!(
        unit.text.as_str(),
        "kg" | "g" | "t" | "lb" | "oz" | "%" | "parts"
    )
}

/// A column of numbers for lines that open with this word.
fn number(
    word: &str,
    fits: Fits,
    parts: Parts,
    column: &Column<'_>,
    maker: &mut Maker<'_>,
) -> Option<Role> {
    let heading = column.heading?;
    let text = short(&heading.text);
    match &parts.unit {
        Some(unit) if !fits.fit(unit) => {
            let says = format!("{text}: {} is no unit of {word}", unit.text);
            let help = format!("write it in {}, or leave it out", fits.example);
            maker.remarks.push(Remark::lost(heading.span, says, help));
            return None;
        }
        None if !has_units(column, maker.grid.has_decimal_comma) => {
            let says = format!("{text} has no unit, so this column is not used");
            maker.remarks.push(Remark::lost(
                heading.span,
                says,
                ask(&heading.text, fits.example),
            ));
            return None;
        }
        _ => {}
    }
    if plain(&parts.words) != plain(word) && word != "amount" {
        maker.remarks.push(Remark::read(
            heading.span,
            format!("{text} is read as {word}"),
        ));
    }
    Some(Role::Number {
        word: word.to_owned(),
        unit: parts.unit,
        basis: parts.basis,
        fits,
        ration: None,
    })
}

/// Whether the cells of a column have units of their own.
fn has_units(column: &Column<'_>, has_decimal_comma: bool) -> bool {
    let mut cells = column.cells.iter().take(ROWS_LOOKED_AT);
    cells.any(|(_, cell)| {
        cell.text.len() <= LONGEST_HEADING
            && amount(&cell.text, has_decimal_comma).is_ok_and(|amount| amount.unit.is_some())
    })
}

/// Cells whose own units are looked at before a heading counts as one without.
const ROWS_LOOKED_AT: usize = 50;

fn nutrient(name: &str, parts: Parts, column: &Column<'_>, maker: &mut Maker<'_>) -> Option<Role> {
    let counted = maker.book.nutrient(name)?.clone();
    let fits = Fits::new(Wants::Content(counted.dimension), counted.unit);
    let before = maker.remarks.len();
    let is_own_word = plain(&parts.words) == plain(&counted.label);
    let role = number(name, fits, parts, column, maker)?;
    maker.items.uses_book = true;
    if is_own_word {
        maker.remarks.truncate(before);
    }
    for remark in maker.remarks.iter_mut().skip(before) {
        remark.says = format!("{} ({})", remark.says, counted.label);
    }
    Some(role)
}

/// A heading that no word of the trade is: a nutrient of its own, if it is counted as one.
fn unknown(
    parts: Parts,
    column: &Column<'_>,
    maker: &mut Maker<'_>,
    names: &mut Names,
) -> Option<Role> {
    let heading = column.heading?;
    let called = label(&parts.words);
    let text = short(&heading.text);
    let Some(unit) = parts.unit.clone() else {
        let says = format!("{text} is no heading that is known here, and has no unit");
        let help = format!("if it is a nutrient, say its unit: --unit \"{text}=%\"");
        maker.remarks.push(Remark::lost(heading.span, says, help));
        return None;
    };
    let kind = unit
        .dimension
        .as_ref()
        .and_then(|dimension| Some((kind(dimension)?, dimension.clone())));
    let Some((kind, dimension)) = kind.filter(|_| called.chars().any(char::is_alphabetic)) else {
        let says = format!(
            "{text} is no heading that is known here; {} counts no nutrient",
            unit.text
        );
        maker.remarks.push(Remark::lost(
            heading.span,
            says,
            "name it as the reference does, or leave it out",
        ));
        return None;
    };
    let name = names.name(&called);
    if maker.book.nutrient(&name).is_some() {
        return nutrient(&name, parts, column, maker);
    }
    let says = format!("{text} becomes a nutrient of its own: {name}");
    let help = format!("if it holds the amounts of a ration, say so: --ration \"{text}\"");
    maker.remarks.push(Remark {
        help,
        ..Remark::read(heading.span, says)
    });
    let fits = Fits::new(Wants::Content(dimension), "%");
    let called = if called == name {
        String::new()
    } else {
        called
    };
    maker.items.nutrients.insert(name.clone(), (called, kind));
    Some(Role::Number {
        word: name,
        unit: Some(unit),
        basis: parts.basis,
        fits,
        ration: None,
    })
}

/// A line is given once: a second column of it is left out, and said.
fn is_first(
    role: &Role,
    seen: &mut BTreeSet<String>,
    column: &Column<'_>,
    maker: &mut Maker<'_>,
) -> bool {
    let key = match role {
        Role::Label => "label",
        Role::Form => "form",
        Role::Number {
            ration: Some(_), ..
        } => return true,
        Role::Number { word, .. } => word,
    };
    let is_first = seen.insert(key.to_owned());
    if let (false, Some(heading)) = (is_first, column.heading) {
        let says = format!(
            "{} says {key} a second time, so it is left out",
            short(&heading.text)
        );
        maker.remarks.push(Remark::lost(
            heading.span,
            says,
            "keep the column that is right",
        ));
    }
    is_first
}
