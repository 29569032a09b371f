//! What can be said about targets: what the finished feed must hold.

pub mod phase;

use smol_str::SmolStr;
use trug_findings::{Code, Finding, Place};

use super::listed;

pub static UNDER: Code = Code::warning("target/under", include_str!("pages/target-under.md"));
pub static OVER: Code = Code::warning("target/over", include_str!("pages/target-over.md"));
pub static UNDECIDED: Code = Code::note(
    "target/undecided",
    include_str!("pages/target-undecided.md"),
);
pub static UNCERTAIN: Code = Code::warning(
    "target/uncertain",
    include_str!("pages/target-uncertain.md"),
);
pub static INTAKE: Code = Code::warning("target/intake", include_str!("pages/target-intake.md"));
pub static ANIMAL: Code = Code::warning("target/animal", include_str!("pages/target-animal.md"));

pub static PHASE: Code = Code::warning("target/phase", include_str!("pages/target-phase.md"));

pub static ALL: &[&Code] = &[
    &UNDER, &OVER, &UNDECIDED, &UNCERTAIN, &INTAKE, &ANIMAL, &PHASE,
];

/// A bound that is missed, in words.
pub(crate) struct Told<'a> {
    pub(crate) ration: &'a str,
    pub(crate) what: &'a str,
    pub(crate) whose: &'a str,
    pub(crate) value: &'a str,
    pub(crate) bound: &'a str,
    /// The side that is missed: `above 5 mg/kg`.
    pub(crate) beyond: &'a str,
    /// What the value is per: `as fed`, `per day`, …
    pub(crate) basis: &'a str,
    /// The value is the best that open amounts can reach.
    pub(crate) is_best_of_open: bool,
    pub(crate) reason: Option<&'a str>,
    pub(crate) written: Place,
}

impl Told<'_> {
    /// `protein is 14.2 %`, `protein reaches 14.2 % at best`.
    pub(crate) fn value_says(&self) -> String {
        if self.is_best_of_open {
            format!("{} reaches {} at best", self.what, self.value)
        } else {
            format!("{} is {}", self.what, self.value)
        }
    }

    /// What the value is per, where that is not the feed as it is.
    pub(crate) fn basis_says(&self) -> String {
        match self.basis {
            "as fed" | "ratio" | "per day" | "" => String::new(),
            other => format!("; counted {other}"),
        }
    }

    fn finding(&self, code: &'static Code, place: Place) -> Finding {
        let basis = match self.basis {
            "as fed" | "ratio" | "per day" | "" => String::new(),
            other => format!(" {other}"),
        };
        code.at(place)
            .says(format!(
                "{}{basis}; {} wants {}",
                self.value_says(),
                self.whose,
                self.bound
            ))
            .also(self.written, format!("{} bounds it here", self.whose))
    }
}

pub(crate) fn under(place: Place, told: &Told<'_>) -> Finding {
    told.finding(&UNDER, place).help(format!(
        "add to {} what is rich in {}",
        told.ration, told.what
    ))
}

pub(crate) fn over(place: Place, told: &Told<'_>) -> Finding {
    told.finding(&OVER, place).help(format!(
        "lower what brings {} into {}",
        told.what, told.ration
    ))
}

/// One note for all targets of a ration that the data cannot decide.
pub(crate) fn undecided(
    place: Place,
    ration: &str,
    targets: &[(String, Vec<SmolStr>, Place)],
) -> Finding {
    let whats: Vec<&str> = targets.iter().map(|(what, ..)| what.as_str()).collect();
    let finding = UNDECIDED
        .at(place)
        .says(format!(
            "{ration}: the data cannot decide {}",
            listed(&whats)
        ))
        .help("give the contents of the ingredients named, from an analysis or a label");
    targets
        .iter()
        .fold(finding, |finding, (what, blame, written)| {
            finding.also(
                *written,
                format!("{what}: not known enough in {}", listed(blame)),
            )
        })
}

pub(crate) fn uncertain(
    place: Place,
    what: &str,
    bound: &str,
    probability: f64,
    wanted: &str,
) -> Finding {
    let percent = probability * 100.0;
    UNCERTAIN
        .at(place)
        .says(format!(
            "{what} keeps {bound} with a chance of {percent:.1} %; {wanted} % is asked"
        ))
        .help("leave more room to the bound, or get an analysis with less scatter")
}

pub(crate) fn intake(place: Place, ration: &str, bounds: &[(String, Place)]) -> Finding {
    let whats: Vec<&str> = bounds.iter().map(|(what, _)| what.as_str()).collect();
    let finding = INTAKE
        .at(place)
        .says(format!(
            "{ration} has no intake, so {} cannot be judged",
            listed(&whats)
        ))
        .help("write how much an animal eats of it: `intake 165 g/day`");
    bounds.iter().fold(finding, |finding, (what, written)| {
        finding.also(
            *written,
            format!("{what} is bounded by what an animal eats"),
        )
    })
}

pub(crate) fn animal(place: Place, targets: &str, wanted: (&str, Place), animal: &str) -> Finding {
    ANIMAL
        .at(place)
        .says(format!(
            "{targets} is for {}; this ration is for {animal}",
            wanted.0
        ))
        .also(wanted.1, "written here")
        .help(format!(
            "meet targets for {animal}, or for a kind it is one of"
        ))
}

/// A group is given what is made for another animal.
pub(crate) fn group_animal(
    place: Place,
    ration: &str,
    fed_to: (&str, Place),
    animal: &str,
) -> Finding {
    ANIMAL
        .at(place)
        .says(format!(
            "{ration} is for {}; this group holds {animal}",
            fed_to.0
        ))
        .also(fed_to.1, format!("{ration} is made here"))
        .help("feed each animal what is made for it; what one thrives on can poison another")
}
