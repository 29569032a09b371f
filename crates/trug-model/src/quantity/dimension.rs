//! What kind of thing a quantity counts.

use std::fmt;

use smol_str::SmolStr;

/// The kinds of thing that are counted, each in one base unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Base {
    /// In kg.
    Mass,
    /// In L.
    Volume,
    /// In mm.
    Length,
    /// In MJ.
    Energy,
    /// In eq.
    Charge,
    /// In days.
    Time,
    /// In units of one currency.
    Money,
    /// In units of one activity.
    Activity,
}

const BASES: usize = 8;

/// Units of activity. None ever converts into another, or into mass without a named substance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Activity {
    /// International units.
    Iu,
    /// Enzyme units.
    U,
    /// Phytase units.
    Ftu,
    /// Colony-forming units.
    Cfu,
}

impl Activity {
    /// The unit's sign.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Activity::Iu => "IU",
            Activity::U => "U",
            Activity::Ftu => "FTU",
            Activity::Cfu => "CFU",
        }
    }
}

/// A product of powers of base kinds: mass per mass is a share, and has none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dimension {
    powers: [i8; BASES],
    currency: Option<SmolStr>,
    activity: Option<Activity>,
}

impl Dimension {
    /// Mass per mass, or a plain number.
    pub const SHARE: Dimension = Dimension {
        powers: [0; BASES],
        currency: None,
        activity: None,
    };

    /// One base kind.
    #[must_use]
    pub const fn of(base: Base) -> Dimension {
        let mut powers = [0; BASES];
        powers[base as usize] = 1;
        Dimension {
            powers,
            currency: None,
            activity: None,
        }
    }

    /// One base kind per another.
    #[must_use]
    pub const fn per(base: Base, per: Base) -> Dimension {
        let mut powers = [0; BASES];
        powers[base as usize] += 1;
        powers[per as usize] -= 1;
        Dimension {
            powers,
            currency: None,
            activity: None,
        }
    }

    /// Units of one activity.
    #[must_use]
    pub const fn activity(activity: Activity) -> Dimension {
        let mut dimension = Dimension::of(Base::Activity);
        dimension.activity = Some(activity);
        dimension
    }

    /// Units of one activity per mass.
    #[must_use]
    pub const fn activity_per_mass(activity: Activity) -> Dimension {
        let mut dimension = Dimension::per(Base::Activity, Base::Mass);
        dimension.activity = Some(activity);
        dimension
    }

    /// Money of one currency.
    #[must_use]
    pub fn money(currency: &str) -> Dimension {
        let mut dimension = Dimension::of(Base::Money);
        dimension.currency = Some(SmolStr::new(currency));
        dimension
    }

    /// The currency, where money is counted.
    #[must_use]
    pub fn currency(&self) -> Option<&str> {
        self.currency.as_deref()
    }

    /// Whether it is mass per mass, or a plain number.
    #[must_use]
    pub fn is_share(&self) -> bool {
        self.powers == [0; BASES]
    }

    /// Whether units of an activity are counted, per anything.
    #[must_use]
    pub fn is_activity(&self) -> bool {
        self.powers[Base::Activity as usize] != 0
    }

    /// Whether it counts just this.
    #[must_use]
    pub fn is(&self, base: Base) -> bool {
        self.powers == Dimension::of(base).powers
    }

    /// Whether it counts one per the other.
    #[must_use]
    pub fn is_per(&self, base: Base, per: Base) -> bool {
        self.powers == Dimension::per(base, per).powers
    }

    /// Multiplied; none where two currencies or two activities meet.
    #[must_use]
    pub fn times(&self, other: &Dimension) -> Option<Dimension> {
        self.combine(other, 1)
    }

    /// Divided; none where two currencies or two activities meet.
    #[must_use]
    pub fn over(&self, other: &Dimension) -> Option<Dimension> {
        self.combine(other, -1)
    }

    fn combine(&self, other: &Dimension, sign: i8) -> Option<Dimension> {
        let mut powers = self.powers;
        for (power, more) in powers.iter_mut().zip(other.powers) {
            *power = power.checked_add(more.checked_mul(sign)?)?;
        }
        let currency = agree(&self.currency, &other.currency)?;
        let activity = agree(&self.activity, &other.activity)?;
        Some(Dimension {
            currency: (powers[Base::Money as usize] != 0)
                .then_some(currency)
                .flatten(),
            activity: (powers[Base::Activity as usize] != 0)
                .then_some(activity)
                .flatten(),
            powers,
        })
    }
}

/// The one of both that is there; none where they differ.
fn agree<T: Clone + PartialEq>(a: &Option<T>, b: &Option<T>) -> Option<Option<T>> {
    match (a, b) {
        (Some(a), Some(b)) if a != b => None,
        (Some(a), _) => Some(Some(a.clone())),
        (None, b) => Some(b.clone()),
    }
}

/// In words: `a share`, `energy per mass`, `money per mass`.
impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_share() {
            return f.write_str("a share");
        }
        if let (true, Some(currency)) = (self.is(Base::Money), &self.currency) {
            return write!(f, "money, in {currency}");
        }
        let names = [
            "mass", "volume", "length", "energy", "charge", "time", "money", "activity",
        ];
        let join = |wanted: i8| {
            let mut words = Vec::new();
            for (power, name) in self.powers.iter().zip(names) {
                for _ in 0..(power * wanted).max(0) {
                    words.push(match (name, self.activity, &self.currency) {
                        ("activity", Some(activity), _) => activity.sign().to_owned(),
                        ("money", _, Some(currency)) => currency.to_string(),
                        _ => name.to_owned(),
                    });
                }
            }
            words.join(" times ")
        };
        match (join(1), join(-1)) {
            (above, below) if below.is_empty() => f.write_str(&above),
            (above, below) if above.is_empty() => write!(f, "one per {below}"),
            (above, below) => write!(f, "{above} per {below}"),
        }
    }
}
