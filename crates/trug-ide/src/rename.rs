//! Another name for an item, everywhere it is named.
//!
//! A farm must check the same afterwards: what cannot be renamed without changing what some name means is refused, in
//! a sentence.

mod taken;

use std::collections::BTreeSet;

use trug_findings::{Edit, FileId, Place};
use trug_model::{Farm, ItemRef, Namespace, quantity};
use trug_syntax::{composed, is_name, is_reserved};

use crate::names::{Meaning, Named, Role, meaning_at, names_of};
use crate::occurrences::{Occurrence, occurrences, readers};

/// Why something cannot be renamed, in one sentence without a full stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The sentence.
    pub says: String,
}

impl Refusal {
    fn new(says: impl Into<String>) -> Refusal {
        Refusal { says: says.into() }
    }
}

/// The name at an offset, if it can be renamed.
///
/// # Errors
/// Says why it cannot.
pub fn prepare_rename(farm: &Farm, file: FileId, offset: usize) -> Result<Named, Refusal> {
    renamable(farm, file, offset).map(|meaning| meaning.named)
}

/// The edits that give the item named at an offset another name: over all texts that see it, and in the first column of
/// tables. None overlaps another; they are in the order of texts and places.
///
/// # Errors
/// Says why it cannot be called so.
pub fn rename(
    farm: &Farm,
    file: FileId,
    offset: usize,
    new_name: &str,
) -> Result<Vec<Edit>, Refusal> {
    let meaning = renamable(farm, file, offset)?;
    let old = &meaning.named.text;
    let new = composed(new_name.trim());
    if new == *old {
        return Ok(Vec::new());
    }
    if !is_name(&new) {
        return Err(Refusal::new(format!(
            "`{new}` is no name: write letters, digits and hyphens, a letter first"
        )));
    }
    if is_reserved(&new) {
        return Err(Refusal::new(format!(
            "`{new}` is a word of the language and cannot be a name"
        )));
    }
    if meaning.named.namespace == Namespace::Unit && quantity::word(&new).is_some() {
        return Err(Refusal::new(format!("{new} is a unit already")));
    }
    let whole = Whole::of(farm, &meaning)?;
    taken::judge(farm, &whole, &new)?;
    let edits = whole.edits(&new);
    reads_the_same(farm, &edits, (old, &new))?;
    Ok(edits)
}

fn renamable(farm: &Farm, file: FileId, offset: usize) -> Result<Meaning, Refusal> {
    let Some(meaning) = meaning_at(farm, file, offset) else {
        return Err(Refusal::new(
            "no name stands here: put the cursor on the name of an item",
        ));
    };
    let Meaning { named, items } = &meaning;
    let Some(item) = items.first() else {
        let noun = named.namespace.noun();
        let text = &named.text;
        return Err(Refusal::new(format!("no {noun} is called {text} here")));
    };
    if let Some(book) = items.iter().find(|item| farm.is_book(item.file)) {
        return Err(of_book(farm, &named.text, *book));
    }
    let declared = farm.item_at(*item).and_then(|item| item.body.name());
    match declared {
        Some(name) if name.text != named.text => Err(Refusal::new(format!(
            "{} is a label here: rename {} where it is declared",
            named.text, name.text
        ))),
        _ => Ok(meaning),
    }
}

fn of_book(farm: &Farm, name: &str, item: ItemRef) -> Refusal {
    let book = farm.sources().get(item.file.index());
    let book = book.map_or("", |source| source.name());
    let book = book.strip_prefix("book:").unwrap_or(book);
    Refusal::new(format!(
        "{name} belongs to the book {book}, which is not the farm's to change"
    ))
}

/// All that must be renamed together.
pub(super) struct Whole {
    /// What is renamed.
    pub(super) items: BTreeSet<ItemRef>,
    /// Where it is named.
    pub(super) named: Vec<Occurrence>,
    /// The texts that see it.
    pub(super) readers: Vec<FileId>,
}

impl Whole {
    /// What is named at one place may be tied to more: a row of a table that two farms share, each with its own item of
    /// that name. Then all of them are renamed, or none.
    fn of(farm: &Farm, meaning: &Meaning) -> Result<Whole, Refusal> {
        let name = &meaning.named.text;
        let is_called_so = |item: &&ItemRef| {
            let declared = farm.item_at(**item).and_then(|item| item.body.name());
            declared.is_some_and(|declared| declared.text == *name)
        };
        let mut items: BTreeSet<ItemRef> = BTreeSet::new();
        let mut next: BTreeSet<ItemRef> =
            meaning.items.iter().filter(is_called_so).copied().collect();
        let mut named = Vec::new();
        while items != next {
            items = next.clone();
            named = occurrences(farm, name, &items);
            let all = named.iter().flat_map(|occurrence| &occurrence.items);
            next.extend(all.filter(is_called_so));
        }
        if let Some(book) = items.iter().find(|item| farm.is_book(item.file)) {
            return Err(of_book(farm, name, *book));
        }
        // To another farm the same row may be of an ingredient that has this name for a label.
        let rows = named.iter().filter(|it| farm.is_table(it.file));
        let mut rows = rows.filter(|it| it.named.role == Role::Declares);
        let other = rows.find_map(|row| row.items.first().filter(|item| !is_called_so(item)));
        if let Some(other) = other {
            let other = farm.item_at(*other).and_then(|item| item.body.name());
            let other = other.map_or("another", |name| &name.text);
            return Err(Refusal::new(format!(
                "a row of a table is called {name}, and to another text it is of {other}"
            )));
        }
        Ok(Whole {
            readers: readers(farm, &items),
            items,
            named,
        })
    }

    fn edits(&self, new: &str) -> Vec<Edit> {
        let places: BTreeSet<Place> = self.named.iter().map(Occurrence::place).collect();
        let edit = |place| Edit {
            place,
            text: new.to_owned(),
        };
        places.into_iter().map(edit).collect()
    }
}

/// Where a name means one thing in one place and another in the next, it is not the text's to say: so each text is read
/// again as it would be, and must say the same in other words.
fn reads_the_same(farm: &Farm, edits: &[Edit], (old, new): (&str, &str)) -> Result<(), Refusal> {
    for edits in edits.chunk_by(|one, next| one.place.file == next.place.file) {
        let Some(file) = edits.first().map(|edit| edit.place.file) else {
            continue;
        };
        let Some(source) = farm.sources().get(file.index()) else {
            continue;
        };
        if farm.is_table(file) {
            continue;
        }
        let before = farm.tree(file);
        let after = trug_syntax::parse(file, &edited(source.text(), edits));
        let are = names_of(before);
        let will_be = names_of(&after);
        let differs = |(is, will_be): (&Named, &Named)| {
            let is_edited = edits.iter().any(|edit| edit.place.span == is.span);
            let wanted = if is_edited { new } else { &is.text };
            let is_same = (is.namespace, is.role) == (will_be.namespace, will_be.role);
            !is_same || will_be.text != wanted
        };
        let odd = are.iter().zip(&will_be).find(|pair| differs(*pair));
        let is_whole = are.len() == will_be.len() && before.items.len() == after.items.len();
        if odd.is_some() || !is_whole || before.findings.len() != after.findings.len() {
            let at = odd.map_or(0, |(is, _)| is.span.start as usize);
            let line = source.position(at).line;
            let name = source.name();
            return Err(Refusal::new(format!(
                "with {new} for {old}, {name} would read otherwise at line {line}"
            )));
        }
    }
    Ok(())
}

/// A text after edits that are in order and do not overlap.
pub(crate) fn edited(text: &str, edits: &[Edit]) -> String {
    let mut edited = String::with_capacity(text.len());
    let mut done = 0;
    for edit in edits {
        let range = edit.place.span.range();
        edited.push_str(text.get(done..range.start).unwrap_or(""));
        edited.push_str(&edit.text);
        done = range.end;
    }
    edited.push_str(text.get(done..).unwrap_or(""));
    edited
}
