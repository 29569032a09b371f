//! What the bundled book declares, and how nutrients of one's own are counted.

use std::collections::BTreeMap;

use trug_model::quantity::{Activity, Base, Dimension};
use trug_model::{Farm, InMemory, Library, Namespace, Settings};

/// The book's nutrients and animals.
#[derive(Clone, Debug)]
pub(crate) struct Book {
    nutrients: BTreeMap<String, Counted>,
    animals: Vec<String>,
}

/// How a nutrient is counted.
#[derive(Clone, Debug)]
pub(crate) struct Counted {
    /// What people call it.
    pub(crate) label: String,
    /// What a content of it is.
    pub(crate) dimension: Dimension,
    /// A unit that fits.
    pub(crate) unit: &'static str,
}

/// The line that uses the book.
pub(crate) fn use_line() -> String {
    Library::bundled().newest_use("poultry")
}

impl Book {
    pub(crate) fn read() -> Book {
        let name = "book.trug";
        let text = use_line();
        let texts = InMemory::new([(name, text.as_str())]);
        let farm = Farm::read(&[name.to_owned()], &texts, Settings::default());
        let mut book = Book {
            nutrients: BTreeMap::new(),
            animals: Vec::new(),
        };
        let Some(file) = farm.file(name) else {
            return book;
        };
        let view = farm.open(file);
        for known in view.names(Namespace::Nutrient) {
            if let Some(counted) = view.counted(&known.name) {
                let counted = Counted {
                    label: counted.label.unwrap_or_default(),
                    dimension: counted.dimension,
                    unit: counted.units.first().copied().unwrap_or("%"),
                };
                book.nutrients.insert(known.name.to_string(), counted);
            }
        }
        let animals = view.names(Namespace::Animal).into_iter();
        book.animals = animals.map(|known| known.name.to_string()).collect();
        book
    }

    /// The book's nutrient of that name.
    pub(crate) fn nutrient(&self, name: &str) -> Option<&Counted> {
        self.nutrients.get(name)
    }

    /// Whether the book has an animal of that name.
    pub(crate) fn has_animal(&self, name: &str) -> bool {
        self.animals.iter().any(|animal| animal == name)
    }
}

/// How a nutrient whose contents are of this dimension is declared; none where no nutrient is counted so.
pub(crate) fn kind(dimension: &Dimension) -> Option<&'static str> {
    if dimension.is_share() {
        return Some("share");
    }
    if dimension.is_per(Base::Energy, Base::Mass) {
        return Some("energy");
    }
    if dimension.is_per(Base::Charge, Base::Mass) {
        return Some("charge");
    }
    let activities = [Activity::Iu, Activity::U, Activity::Ftu, Activity::Cfu];
    let counted = |activity: &Activity| *dimension == Dimension::activity_per_mass(*activity);
    activities.into_iter().find(counted).map(Activity::sign)
}
