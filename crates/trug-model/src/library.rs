//! The bundled books, edition by edition: texts of the language itself, which never change once they are out.

use std::sync::LazyLock;

use trug_syntax::tree::UsedBook;

/// What stands before the name of a book where texts are named.
pub(crate) const PREFIX: &str = "book:";

/// All books of one year.
#[derive(Clone, Copy, Debug)]
pub struct Edition {
    /// The year, as a `use` names it.
    pub year: u16,
    /// The name and the text of each book, in the order of a list for people.
    pub books: &'static [(&'static str, &'static str)],
}

/// The editions there are, the newest first.
#[derive(Clone, Debug)]
pub struct Library {
    editions: Vec<Edition>,
}

static EDITION_2026: Edition = Edition {
    year: 2026,
    // Those of species, what goes beside them, then the parts that these are made of.
    books: &[
        ("poultry", include_str!("book/poultry.trug")),
        ("pigs", include_str!("book/pigs.trug")),
        ("rabbits", include_str!("book/rabbits.trug")),
        ("sheep-and-goats", include_str!("book/sheep-and-goats.trug")),
        ("cattle", include_str!("book/cattle.trug")),
        ("fish", include_str!("book/fish.trug")),
        ("additives", include_str!("book/additives.trug")),
        ("law-eu", include_str!("book/law-eu.trug")),
        ("law-us", include_str!("book/law-us.trug")),
        ("feeds", include_str!("book/feeds.trug")),
        ("grains", include_str!("book/grains.trug")),
        ("protein-feeds", include_str!("book/protein-feeds.trug")),
        ("minerals", include_str!("book/minerals.trug")),
        ("nutrients", include_str!("book/nutrients.trug")),
        ("animals", include_str!("book/animals.trug")),
        ("methods", include_str!("book/methods.trug")),
    ],
};

static BUNDLED: LazyLock<Library> = LazyLock::new(|| Library::of([EDITION_2026]));

impl Library {
    /// The books that come with the program.
    #[must_use]
    pub fn bundled() -> &'static Library {
        &BUNDLED
    }

    /// A library of these editions.
    #[must_use]
    pub fn of(editions: impl IntoIterator<Item = Edition>) -> Library {
        let mut editions: Vec<Edition> = editions.into_iter().collect();
        editions.sort_by_key(|edition| std::cmp::Reverse(edition.year));
        Library { editions }
    }

    /// Its editions, the newest first.
    #[must_use]
    pub fn editions(&self) -> &[Edition] {
        &self.editions
    }

    /// The names of the newest books.
    #[must_use]
    pub fn names(&self) -> Vec<&'static str> {
        let newest = self.editions.first().map_or(&[][..], |it| it.books);
        newest.iter().map(|(name, _)| *name).collect()
    }

    /// The years a book is there for, the newest first.
    #[must_use]
    pub fn years(&self, book: &str) -> Vec<u16> {
        let has = |edition: &&Edition| edition.text(book).is_some();
        self.editions.iter().filter(has).map(|it| it.year).collect()
    }

    /// The name under which a farm knows a book: of that year, else of the newest. None where there is no such book.
    ///
    /// The newest is `book:poultry`, an older one `book:poultry-2026`.
    #[must_use]
    pub fn file_name(&self, book: &str, year: Option<u16>) -> Option<String> {
        let newest = self.editions.first()?;
        let year = year.unwrap_or(newest.year);
        let edition = self.editions.iter().find(|it| it.year == year)?;
        edition.text(book)?;
        Some(match year == newest.year {
            true => format!("{PREFIX}{book}"),
            false => format!("{PREFIX}{book}-{year}"),
        })
    }

    /// The name under which a farm knows the book that a text uses. A book of a book is of the same edition.
    #[must_use]
    pub fn target(&self, from: &str, book: &UsedBook) -> Option<String> {
        let year = match &book.edition {
            Some(year) => Some(year.digits.parse().ok()?),
            None => self.year(from),
        };
        self.file_name(&book.name.text, year)
    }

    /// The text of a book, by the name under which a farm knows it.
    #[must_use]
    pub fn text(&self, file_name: &str) -> Option<&'static str> {
        let (book, edition) = self.find(file_name)?;
        edition.text(book)
    }

    /// How a text uses a book that a farm knows under a name: `book poultry`, `book poultry 2026`.
    #[must_use]
    pub fn used_as(&self, file_name: &str) -> Option<String> {
        let (book, edition) = self.find(file_name)?;
        let newest = self.editions.first()?.year;
        Some(match edition.year == newest {
            true => format!("book {book}"),
            false => format!("book {book} {}", edition.year),
        })
    }

    /// The line that uses a book in its newest edition, whose values stay when another comes.
    #[must_use]
    pub fn newest_use(&self, book: &str) -> String {
        let years = self.years(book);
        let year = years
            .first()
            .map_or_else(String::new, |year| format!(" {year}"));
        format!("use book {book}{year}")
    }

    /// The name of a book without its year, by the name under which a farm knows it.
    #[must_use]
    pub fn book<'name>(&self, file_name: &'name str) -> Option<&'name str> {
        self.find(file_name).map(|(book, _)| book)
    }

    /// The year of a book, by the name under which a farm knows it.
    #[must_use]
    pub fn year(&self, file_name: &str) -> Option<u16> {
        self.find(file_name).map(|(_, edition)| edition.year)
    }

    /// A book without its year, and its edition.
    fn find<'name>(&self, file_name: &'name str) -> Option<(&'name str, &Edition)> {
        let book = file_name.strip_prefix(PREFIX)?;
        let newest = self.editions.first()?;
        if newest.text(book).is_some() {
            return Some((book, newest));
        }
        let (book, year) = book.rsplit_once('-')?;
        let year: u16 = year.parse().ok()?;
        let edition = self.editions.iter().find(|it| it.year == year)?;
        edition.text(book).map(|_| (book, edition))
    }
}

impl Edition {
    /// The text of a book.
    #[must_use]
    pub fn text(&self, book: &str) -> Option<&'static str> {
        let (_, text) = self.books.iter().find(|(name, _)| *name == book)?;
        Some(text)
    }
}
