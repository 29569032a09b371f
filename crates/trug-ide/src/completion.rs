//! What can be written at an offset: complete, in a good order, and with the whole word under the cursor replaced.
//!
//! The line under the cursor usually cannot be read yet, so the place is made out from its tokens; what there is to
//! choose from comes from the farm as it was read.

mod amounts;
mod expect;
mod names;
mod paths;
mod place;
mod resolve;
mod snippets;
mod units;

use trug_findings::{FileId, Span};
use trug_model::{Farm, View};

use crate::lines::on_character;
use crate::parts::written;
use expect::{Expect, expected};
use place::{Place, place_at};

pub use resolve::resolve;

/// More than this many are never offered at once.
const MOST: usize = 1000;

/// What can be written at an offset.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Completion {
    /// What can be chosen, the likeliest first.
    pub candidates: Vec<Candidate>,
    /// There were more: ask again when more of the word is written.
    pub is_incomplete: bool,
}

/// One thing that can be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// What is shown.
    pub label: String,
    /// What kind of thing it is.
    pub kind: CandidateKind,
    /// What is shown beside it: a label and a price, a form.
    pub detail: String,
    /// What it replaces: all of the word under the cursor.
    pub span: Span,
    /// What is written; with `$1`, `${2:…}` and the like where it is a snippet.
    pub insert: String,
    /// It holds places to be filled in.
    pub is_snippet: bool,
    /// Sorts as it should be offered.
    pub sort: String,
    /// What is matched with what was typed: the name and the label.
    pub filter: String,
    /// The key of what [`resolve`] says about it.
    pub about: Option<String>,
}

/// What kind of thing is offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the thing of that name")]
pub enum CandidateKind {
    ItemWord,
    LineWord,
    Word,
    Ingredient,
    Ration,
    Nutrient,
    Animal,
    Targets,
    Lot,
    Method,
    Vessel,
    Scale,
    Group,
    Record,
    Measure,
    Unit,
    Amount,
    Code,
    Text,
    Book,
    Day,
    Snippet,
}

/// What can be written at `offset`; nothing inside comments and free texts.
#[must_use]
pub fn completion(farm: &Farm, file: FileId, offset: usize) -> Completion {
    let Some(source) = written(farm, file) else {
        return Completion::default();
    };
    let text = source.text();
    let offset = on_character(text, offset);
    let Some(place) = place_at(text, farm.tree(file), offset) else {
        return Completion::default();
    };
    let view = farm.open(file);
    let mut offers = Offers {
        view: &view,
        file,
        text,
        place: &place,
        candidates: Vec::new(),
    };
    for (group, expect) in expected(&place).iter().enumerate() {
        offers.add(group * 10, expect);
    }
    offers.finish()
}

/// The candidates for one place.
struct Offers<'a> {
    view: &'a View<'a>,
    file: FileId,
    text: &'a str,
    place: &'a Place<'a>,
    candidates: Vec<Candidate>,
}

/// A candidate before it has its place and its rank.
struct Offer {
    label: String,
    kind: CandidateKind,
    detail: String,
    insert: String,
    is_snippet: bool,
    filter: String,
    about: Option<String>,
}

impl Offer {
    fn new(label: impl Into<String>, kind: CandidateKind) -> Offer {
        let label = label.into();
        Offer {
            insert: label.clone(),
            filter: label.clone(),
            label,
            kind,
            detail: String::new(),
            is_snippet: false,
            about: None,
        }
    }

    fn detail(mut self, detail: impl Into<String>) -> Offer {
        self.detail = detail.into();
        self
    }

    fn snippet(mut self, snippet: impl Into<String>) -> Offer {
        self.insert = snippet.into();
        self.is_snippet = true;
        self
    }

    fn about(mut self, kind: &str, name: &str) -> Offer {
        self.about = Some(format!("{kind}:{name}"));
        self
    }
}

impl Offers<'_> {
    fn add(&mut self, group: usize, expect: &Expect) {
        match expect {
            Expect::Items => self.items(group),
            Expect::Lines => self.lines(group),
            Expect::Names(namespace) => self.names(group, *namespace),
            Expect::OfBooks(namespace) => self.of_books(group, *namespace),
            Expect::Feeds => self.feeds(group, |_| true),
            Expect::Ingredients => self.feeds(group, |is_ration| !is_ration),
            Expect::Rations => self.feeds(group, |is_ration| is_ration),
            Expect::NutrientLines => self.nutrient_lines(group),
            Expect::Actives(of) => self.actives(group, of),
            Expect::Units(fit) => self.units(group, fit),
            Expect::Range(fit) => self.range(group, fit),
            Expect::Amount(of) => self.amounts(group, of),
            Expect::Words(words) => self.words(group, words),
            Expect::Codes => self.codes(group),
            Expect::Lots(of) => self.lots(group, of),
            Expect::Paths => self.paths(group),
            Expect::Books => self.books(group),
            Expect::Quoted => {
                let offer = Offer::new("\"…\"", CandidateKind::Snippet).detail("a text in quotes");
                self.push(
                    group,
                    Offer {
                        filter: "\"".to_owned(),
                        ..offer.snippet("\"$1\"")
                    },
                );
            }
            Expect::Day => {
                if let Some(today) = self.view.farm().settings().today {
                    let offer = Offer::new(today.to_string(), CandidateKind::Day);
                    self.push(group, offer.detail("today"));
                }
            }
        }
    }

    fn push(&mut self, group: usize, offer: Offer) {
        let is_new = |known: &Candidate| known.label != offer.label || known.insert != offer.insert;
        if !self.candidates.iter().rev().take(64).all(is_new) {
            return;
        }
        let rank = self.candidates.len();
        let gap = if self.place.touches_number && self.place.word.start == self.place.word.end {
            " "
        } else {
            ""
        };
        self.candidates.push(Candidate {
            label: offer.label,
            kind: offer.kind,
            detail: offer.detail,
            span: self.place.quoted.unwrap_or(self.place.word),
            insert: format!("{gap}{}", offer.insert),
            is_snippet: offer.is_snippet,
            sort: format!("{group:03}{rank:05}"),
            filter: offer.filter,
            about: offer.about,
        });
    }

    fn finish(mut self) -> Completion {
        let is_incomplete = self.candidates.len() > MOST;
        if is_incomplete {
            let written = self
                .place
                .quoted
                .unwrap_or(self.place.word)
                .of(self.text)
                .to_lowercase();
            // Those that hold what was typed, in its order, come before the others.
            self.candidates
                .sort_by_key(|candidate| !holds_letters(&candidate.filter, &written));
            self.candidates.truncate(MOST);
        }
        self.candidates.sort_by(|a, b| a.sort.cmp(&b.sort));
        Completion {
            candidates: self.candidates,
            is_incomplete,
        }
    }

    fn words(&mut self, group: usize, words: &[&str]) {
        for word in words {
            let first = word.split(' ').next().unwrap_or(word);
            let mut offer = Offer::new(*word, CandidateKind::Word);
            if crate::cards::clause(first).is_some() {
                offer = offer.about("word", first);
            }
            self.push(group, offer);
        }
    }

    fn codes(&mut self, group: usize) {
        for code in trug_report::catalogue::codes() {
            if code.may_be_accepted() {
                let offer = Offer::new(code.name, CandidateKind::Code).detail(code.severity.word());
                self.push(group, offer.about("code", code.name));
            }
        }
    }

    fn books(&mut self, group: usize) {
        let library = self.view.farm().settings().library;
        for book in library.names() {
            for year in library.years(book) {
                let offer = Offer::new(format!("{book} {year}"), CandidateKind::Book);
                self.push(group, offer.detail("bundled book"));
            }
        }
    }
}

/// Whether the letters, in lower case, stand in the text in their order, perhaps with others between.
fn holds_letters(text: &str, letters: &str) -> bool {
    let mut text = text.chars().flat_map(char::to_lowercase);
    letters
        .chars()
        .all(|letter| text.any(|other| other == letter))
}
