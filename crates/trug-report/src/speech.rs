//! What is said in the language of who reads: the project's own phrases, numbers and days.
//!
//! Phrases are Fluent files in `phrases/`. Where a language has none, English is taken; labels come from the text.

mod languages;
mod numbers;

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

pub use languages::PHRASES;
use languages::phrases_of;

/// The language of the project, and of what no other has.
pub const ENGLISH: &str = "en";

/// Says phrases in a language.
pub struct Speech {
    language: LanguageIdentifier,
    phrases: &'static str,
    bundle: FluentBundle<FluentResource>,
    decimal_mark: &'static str,
}

/// What a phrase is about.
#[derive(Clone, Copy, Debug)]
pub enum Part<'a> {
    /// Words that are said as they are.
    Words(&'a str),
    /// A number of things, which decides the form of the phrase.
    Count(usize),
}

impl Speech {
    /// Speech in the language of a BCP 47 tag; none where the tag is not one.
    #[must_use]
    pub fn of(tag: &str) -> Option<Speech> {
        let language: LanguageIdentifier = tag.parse().ok()?;
        let (phrases, text) = phrases_of(&language);
        // What is wrong with a phrase costs that phrase alone; a test holds that nothing is.
        let resource =
            FluentResource::try_new(text.to_owned()).unwrap_or_else(|(resource, _)| resource);
        let locale = phrases.parse().unwrap_or_default();
        let mut bundle = FluentBundle::new_concurrent(vec![locale]);
        // Isolation marks would be copied with the numbers of a sheet, and terminals show them as boxes.
        bundle.set_use_isolating(false);
        bundle.add_resource_overriding(resource);
        let decimal_mark = numbers::decimal_mark(&language, phrases);
        Some(Speech {
            language,
            phrases,
            bundle,
            decimal_mark,
        })
    }

    /// English, which is always there.
    #[must_use]
    pub fn english() -> &'static Speech {
        static SPEECH: LazyLock<Speech> = LazyLock::new(|| {
            Speech::of(ENGLISH).unwrap_or_else(|| Speech {
                language: LanguageIdentifier::default(),
                phrases: ENGLISH,
                bundle: FluentBundle::new_concurrent(Vec::new()),
                decimal_mark: ".",
            })
        });
        &SPEECH
    }

    /// The language asked for, as a BCP 47 tag.
    #[must_use]
    pub fn language(&self) -> String {
        self.language.to_string()
    }

    /// The language the phrases are in: the one asked for, or English where it has none.
    #[must_use]
    pub fn phrases(&self) -> &'static str {
        self.phrases
    }

    /// Whether the project has phrases in the language asked for.
    #[must_use]
    pub fn has_phrases(&self) -> bool {
        self.language.language.as_str() == self.phrases
    }

    /// The label in this language, of labels by their language tags: the same tag, else the same language.
    #[must_use]
    pub fn label<'a>(&self, labels: &'a BTreeMap<String, String>) -> Option<&'a String> {
        let mut same_language = None;
        for (tag, label) in labels {
            let Ok(tag) = tag.parse::<LanguageIdentifier>() else {
                continue;
            };
            if tag == self.language {
                return Some(label);
            }
            if tag.language == self.language.language && same_language.is_none() {
                same_language = Some(label);
            }
        }
        same_language
    }

    /// A phrase that is about nothing.
    #[must_use]
    pub fn say(&self, phrase: &str) -> String {
        self.say_of(phrase, &[])
    }

    /// A phrase about these parts.
    #[must_use]
    pub fn say_of(&self, phrase: &str, parts: &[(&str, Part<'_>)]) -> String {
        let arguments: FluentArgs<'_> = parts
            .iter()
            .map(|(name, part)| {
                let value = match part {
                    Part::Words(words) => FluentValue::String(Cow::Borrowed(words)),
                    Part::Count(count) => FluentValue::from(*count),
                };
                (*name, value)
            })
            .collect();
        let pattern = self.bundle.get_message(phrase).and_then(|it| it.value());
        let Some(pattern) = pattern else {
            return phrase.to_owned();
        };
        let mut errors = Vec::new();
        let said = self
            .bundle
            .format_pattern(pattern, Some(&arguments), &mut errors);
        said.into_owned()
    }

    /// A phrase about one thing.
    #[must_use]
    pub fn say_one(&self, phrase: &str, name: &str, words: &str) -> String {
        self.say_of(phrase, &[(name, Part::Words(words))])
    }

    /// A phrase about a number of things.
    #[must_use]
    pub fn say_count(&self, phrase: &str, count: usize) -> String {
        self.say_of(phrase, &[("count", Part::Count(count))])
    }

    /// `a, b and c`.
    #[must_use]
    pub fn list(&self, words: &[String]) -> String {
        let [first, others @ ..] = words else {
            return String::new();
        };
        let mut most = first.clone();
        for (rank, next) in others.iter().enumerate() {
            let (phrase, name) = if rank + 1 == others.len() {
                ("list-last", "last")
            } else {
                ("list-next", "next")
            };
            most = self.say_of(
                phrase,
                &[("most", Part::Words(&most)), (name, Part::Words(next))],
            );
        }
        most
    }
}
