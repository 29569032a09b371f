//! Which findings concern a ration: those of its own item and of everything its amounts, bounds and weighings rest on.
//!
//! A broken line elsewhere does not stop the work; one that could change a number of this ration does. What is not
//! certain to be elsewhere counts as here.

use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use trug_findings::{FileId, Finding, Severity, Span};
use trug_syntax::tree::{Item, ItemBody};
use unicode_normalization::UnicodeNormalization;

use crate::findings::amount;
use crate::view::LONGEST;
use crate::{Farm, RationName};

/// An item by its text and its rank in it.
type ItemAt = (FileId, usize);

/// Steps from a ration beyond which nothing is looked at. Rations in rations, kinds of animals, sums of nutrients and measures are
/// each followed over [`LONGEST`] names, and none of these chains leads into itself: what is farther off has a finding of its own.
const FARTHEST: usize = 6 * LONGEST;

/// The items of a farm by the names they declare.
pub struct Concerns<'farm> {
    farm: &'farm Farm,
    by_name: BTreeMap<&'farm str, Vec<ItemAt>>,
    /// What every ration rests on, whether it names it or not.
    common: Vec<ItemAt>,
    /// The names that items were found to hold: many rations rest on the same.
    held: RefCell<BTreeMap<ItemAt, Rc<[Cow<'farm, str>]>>>,
}

impl<'farm> Concerns<'farm> {
    /// The items of every text that was read.
    #[must_use]
    pub fn of(farm: &'farm Farm) -> Concerns<'farm> {
        let all: Vec<FileId> = farm.files().collect();
        Concerns::among(farm, &all)
    }

    /// The items of these texts only: of all that one text sees, say.
    #[must_use]
    pub fn among(farm: &'farm Farm, files: &[FileId]) -> Concerns<'farm> {
        let mut items = Concerns {
            farm,
            by_name: BTreeMap::new(),
            common: Vec::new(),
            held: RefCell::default(),
        };
        for &file in files {
            if farm.is_book(file) {
                items.shelve(file);
                continue;
            }
            for (rank, item) in farm.tree(file).items.iter().enumerate() {
                if let Some(name) = item.body.name() {
                    items
                        .by_name
                        .entry(name.text.as_str())
                        .or_default()
                        .push((file, rank));
                }
                if is_common(&item.body) {
                    items.common.push((file, rank));
                }
            }
        }
        items
    }

    /// The items of a book by their names: nothing is wrong in it, so it is not read for this.
    fn shelve(&mut self, file: FileId) {
        for declared in self.farm.entry(file).names.all() {
            let at = (file, declared.rank as usize);
            let of_name = self.by_name.entry(declared.name.as_str());
            of_name.or_default().push(at);
        }
    }

    /// Those of `findings` that concern a ration, and the group it is mixed for.
    #[must_use]
    pub fn concerning(
        &self,
        ration: &RationName,
        group: Option<&str>,
        findings: &[Finding],
    ) -> Vec<Finding> {
        let reached = self.reached(ration, group);
        let concerns = |finding: &&Finding| {
            let start = finding.place.span.start;
            let items = &self.farm.tree(finding.place.file).items;
            // Items stand one after the other, so the last that starts before is the only one that can hold it.
            let after = items.partition_point(|item| item.whole.start <= start);
            let rank = after
                .checked_sub(1)
                .filter(|rank| start <= items[*rank].whole.end);
            rank.is_none_or(|rank| reached.contains(&(finding.place.file, rank)))
        };
        findings.iter().filter(concerns).cloned().collect()
    }

    /// Every item that the ration's item names, and every one that those name.
    fn reached(&self, ration: &RationName, group: Option<&str>) -> BTreeSet<ItemAt> {
        let mut reached: BTreeSet<ItemAt> = self.common.iter().copied().collect();
        let mut waiting: Vec<ItemAt> = self.common.clone();
        waiting.extend(self.at(ration.place.file, ration.item));
        waiting.extend(
            group
                .and_then(|group| self.by_name.get(group))
                .into_iter()
                .flatten(),
        );
        reached.extend(&waiting);
        // A table may name one ingredient in ten thousand rows: each name is followed once.
        let mut followed: BTreeSet<Cow<'farm, str>> = BTreeSet::new();
        for _ in 0..FARTHEST {
            let mut next = Vec::new();
            for item in waiting {
                for name in self.held(item).iter() {
                    if followed.insert(name.clone()) {
                        let items = self.by_name.get(name.as_ref()).into_iter().flatten();
                        next.extend(items.copied().filter(|item| reached.insert(*item)));
                    }
                }
            }
            if next.is_empty() {
                break;
            }
            waiting = next;
        }
        reached
    }

    /// The declared names among the words of an item. A table's row may go by the label.
    ///
    /// A book knows no name of the farm: where it speaks of a layer, it means no ration of that name.
    fn held(&self, item: ItemAt) -> Rc<[Cow<'farm, str>]> {
        if let Some(held) = self.held.borrow().get(&item) {
            return Rc::clone(held);
        }
        let label = self.label(item).map(composed);
        let words = label.into_iter().chain(self.words(item));
        let is_in_book = self.farm.is_book(item.0);
        let is_declared = |word: &Cow<'farm, str>| {
            let of_name = self.by_name.get(word.as_ref());
            let mut of_name = of_name.into_iter().flatten();
            of_name.any(|(file, _)| !is_in_book || self.farm.is_book(*file))
        };
        let names: BTreeSet<Cow<'farm, str>> = words.filter(is_declared).collect();
        let held: Rc<[Cow<'farm, str>]> = names.into_iter().collect();
        self.held.borrow_mut().insert(item, Rc::clone(&held));
        held
    }

    fn item(&self, (file, rank): ItemAt) -> Option<&'farm Item> {
        self.farm.entry(file).tree.get(u32::try_from(rank).ok()?)
    }

    fn label(&self, (file, rank): ItemAt) -> Option<&'farm str> {
        match &self.item((file, rank))?.body {
            ItemBody::Ingredient(ingredient) => {
                let label = ingredient.label.as_ref()?;
                Some(label.text.trim())
            }
            _ => None,
        }
    }

    fn at(&self, file: FileId, whole: Span) -> Option<ItemAt> {
        let rank = self
            .farm
            .tree(file)
            .items
            .iter()
            .position(|item| item.whole == whole)?;
        Some((file, rank))
    }

    /// All words of an item that could be names, as names are compared. A word in a label or a comment counts too:
    /// better one item too many than one too few.
    fn words(&self, (file, rank): ItemAt) -> impl Iterator<Item = Cow<'farm, str>> {
        let text = self
            .farm
            .sources()
            .get(file.index())
            .map_or("", |source| source.text());
        let item = self.item((file, rank));
        let whole = item.map_or("", |item| item.whole.of(text));
        let parts = |letter: char| {
            letter.is_whitespace() || (letter.is_ascii_punctuation() && letter != '-')
        };
        whole
            .split(parts)
            .filter(|word| !word.is_empty())
            .map(composed)
    }
}

/// In Unicode's composed form, as names are kept.
#[must_use]
pub fn composed(word: &str) -> Cow<'_, str> {
    if word.is_ascii() {
        Cow::Borrowed(word)
    } else {
        Cow::Owned(word.nfc().collect())
    }
}

/// A finding as it weighs for whoever mixes: an open amount, a note until then, is an error.
#[must_use]
pub fn to_be_weighed(finding: Finding) -> Finding {
    if finding.code == &amount::OPEN {
        finding.weighing(Severity::Error)
    } else {
        finding
    }
}

/// Whether a finding stands open and weighs as an error.
#[must_use]
pub fn refuses(finding: &Finding) -> bool {
    finding.is_open() && finding.severity == Severity::Error
}

/// Every scale and vessel may be chosen; a `use` or an unreadable header may hide anything.
fn is_common(body: &ItemBody) -> bool {
    matches!(
        body,
        ItemBody::Use(_)
            | ItemBody::Rate(_)
            | ItemBody::Scale(_)
            | ItemBody::Vessel(_)
            | ItemBody::Unread(_)
    )
}
