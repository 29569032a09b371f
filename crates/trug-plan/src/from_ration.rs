//! From a checked ration to an order: how much is wanted, of what, and what there is to mix it with.

mod lots;

use std::collections::BTreeMap;

use trug_findings::{Place, Span};
use trug_model::ration::{Line, Ration};
use trug_model::view::{self, Ingredient as Feed};
use trug_model::{GroupOrder, LineWindow, LineWindowKind, Q, View};

use crate::amounts::inclusion;
use crate::batches;
use crate::order::Line as OrderLine;
use crate::order::{
    AccuracyClass, AmountForm, Apart, Carry, Ingredient, Method, MixesIn, Order, Particle, Scale,
    Vessel, Window, WindowKind,
};
use crate::phases;

pub(crate) use lots::is_past;

/// What is asked of a plan beside the ration.
#[derive(Clone, Debug, Default)]
pub struct Request {
    /// The 100 % of the order, in kg; the ration's own batch where none is asked.
    pub batch: Option<Q>,
    /// The animals it is for.
    pub group: Option<String>,
    /// For how many days; as long as the group's mix may be made for, or as the feed keeps, where none is asked.
    pub days: Option<Q>,
}

/// Why there is nothing to plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// The ration could not be made out, or its amounts are open: its findings say why.
    NotKnown,
    /// Neither the ration nor the request says how much.
    HowMuch,
    /// There is no group of that name.
    NoGroup,
    /// The group does not eat this ration.
    NotEaten,
    /// Neither group nor ration says how much an animal eats.
    NoIntake,
    /// Nobody says for how many days.
    NoDays,
    /// It is more than is ever mixed: so many kg, and the most that is planned.
    TooMuch(Q, Q),
    /// An ingredient of it would weigh less than any scale shows: which, and the least that is planned, in grams.
    TooLittle(String, Q),
    /// An ingredient of it is within the 100 % and on top as well: a plan weighs each as one.
    Both(String),
}

/// A million tonnes: more than a floor could take in all the batches there are numbers for.
fn most_kg() -> Q {
    Q::int(1_000_000_000)
}

/// A millionth of a gram: the documents give masses to a millionth of that.
fn least_g() -> Q {
    Q::ratio(1, 1_000_000)
}

/// Why an order is for no hands, or for no sheet.
pub(crate) fn out_of_reach(order: &Order) -> Option<Refusal> {
    let kg = order.mass_g.over(&Q::int(1000))?;
    let mut tops = order.ingredients.iter().filter(|one| one.on_top);
    let is_within = |top: &&Ingredient| {
        let mut all = order.ingredients.iter();
        all.any(|one| !one.on_top && one.name == top.name)
    };
    if let Some(both) = tops.find(is_within) {
        return Some(Refusal::Both(both.name.clone()));
    }
    if most_kg() < kg || batches::are_countless(order) {
        return Some(Refusal::TooMuch(kg, most_kg()));
    }
    let mass_g = |one: &Ingredient| inclusion(one) * &order.mass_g;
    let mut light = order.ingredients.iter();
    let light = light.find(|one| {
        let mass_g = mass_g(one);
        mass_g.is_positive() && mass_g < least_g()
    });
    light.map(|one| Refusal::TooLittle(one.name.clone(), least_g()))
}

/// How much is wanted, and for whom.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// The 100 %, in kg.
    pub(crate) batch: Q,
    pub(crate) days: Option<Q>,
    /// For how many days it was asked, where a group eats it for fewer.
    pub(crate) asked_days: Option<Q>,
    pub(crate) group: Option<GroupOrder>,
}

/// How much of a ration a request wants.
pub(crate) fn wanted(
    view: &View<'_>,
    ration: &Ration,
    request: &Request,
) -> Result<Wanted, Refusal> {
    let Some(name) = &request.group else {
        let batch = request.batch.clone().or_else(|| ration.batch.clone());
        let batch = batch.ok_or(Refusal::HowMuch)?;
        return Ok(Wanted {
            batch,
            days: None,
            asked_days: None,
            group: None,
        });
    };
    if !view.knows_group(name) {
        return Err(Refusal::NoGroup);
    }
    let group = view.order_of(name, ration).ok_or(Refusal::NotEaten)?;
    let intake = group.intake.clone().ok_or(Refusal::NoIntake)?;
    let days = request
        .days
        .clone()
        .or_else(|| match (&group.mix_for, &ration.keeps) {
            (Some(mix_for), Some(keeps)) => Some(mix_for.clone().min(keeps.clone())),
            (one, other) => one.clone().or_else(|| other.clone()),
        });
    let asked = days.ok_or(Refusal::NoDays)?;
    // Feed for one age is never planned past it.
    let today = view.farm().settings().today;
    let days = phases::left(&group, today, &asked).unwrap_or_else(|| asked.clone());
    // Animals eat finished feed; the batch counts the 100 % of it.
    let eaten = &group.head * intake * &days;
    let batch = match &request.batch {
        Some(batch) => batch.clone(),
        None => eaten / (Q::ONE + ration.tops()),
    };
    Ok(Wanted {
        batch,
        days: Some(days),
        asked_days: Some(asked),
        group: Some(group),
    })
}

/// The order for so many kg of a ration whose amounts are known.
pub(crate) fn order(view: &View<'_>, ration: &Ration, wanted: &Wanted) -> Order {
    let vessels = vessels(view);
    let mut windows: BTreeMap<usize, Vec<LineWindow>> = BTreeMap::new();
    for window in view.windows(ration) {
        windows.entry(window.line).or_default().push(window);
    }
    let merged = merged(ration);
    let mut ranks_of: BTreeMap<&str, usize> = BTreeMap::new();
    for (rank, lines) in merged.iter().enumerate() {
        if let Some(line) = lines.first() {
            let name = ration.lines[*line].name.as_str();
            ranks_of.entry(name).or_insert(rank);
        }
    }
    let intake = wanted.group.as_ref().and_then(|group| group.intake.clone());
    let intake = intake.or_else(|| ration.intake.clone());
    let deliveries = Deliveries {
        all: view.all_lots(),
        today: view.farm().settings().today,
    };
    Order {
        ration: ration.name.to_string(),
        place: ration.place,
        after: end_of_item(view, ration),
        mass_g: grams(&wanted.batch),
        ingredients: merged
            .iter()
            .map(|ranks| ingredient(ration, ranks, &ranks_of, &windows, &deliveries))
            .collect(),
        method: method(&view.method_of(ration), &vessels),
        scales: view.all_scales().iter().map(scale).collect(),
        vessels,
        portion_g: intake.as_ref().map(grams),
    }
}

pub(crate) fn grams(kg: &Q) -> Q {
    kg * Q::int(1000)
}

/// Lines of one ingredient are weighed as one: their ranks, in the order of the ration.
pub(crate) fn merged(ration: &Ration) -> Vec<Vec<usize>> {
    let mut merged: Vec<Vec<usize>> = Vec::new();
    let mut known: BTreeMap<(&str, bool), usize> = BTreeMap::new();
    for (rank, line) in ration.lines.iter().enumerate() {
        let at = known.entry((line.name.as_str(), line.on_top));
        let at = *at.or_insert(merged.len());
        match merged.get_mut(at) {
            Some(ranks) => ranks.push(rank),
            None => merged.push(vec![rank]),
        }
    }
    merged
}

fn end_of_item(view: &View<'_>, ration: &Ration) -> Option<Place> {
    let named = view.farm().ration_named_at(ration.place)?;
    Some(Place::new(ration.file, Span::at(named.item.end as usize)))
}

/// The lots that can be seen, and the day on which they are used.
struct Deliveries {
    all: Vec<view::Lot>,
    today: Option<jiff::civil::Date>,
}

fn ingredient(
    ration: &Ration,
    ranks: &[usize],
    ranks_of: &BTreeMap<&str, usize>,
    windows: &BTreeMap<usize, Vec<LineWindow>>,
    deliveries: &Deliveries,
) -> Ingredient {
    let lines: Vec<&Line> = ranks.iter().map(|&rank| &ration.lines[rank]).collect();
    let line = lines[0];
    let feed = line.ingredient();
    let share: Q = lines.iter().map(|line| &line.low).sum();
    let (lots, named) = lots::lots(&deliveries.all, &lines, &share, deliveries.today);
    Ingredient {
        name: line.name.to_string(),
        place: line.place,
        on_top: line.on_top,
        is_liquid: feed.is_some_and(|feed| feed.is_liquid()),
        carry: lines
            .iter()
            .find_map(|line| line.carry)
            .map(|carry| match carry {
                view::Carry::Small => Carry::Small,
                view::Carry::Bulk => Carry::Bulk,
                view::Carry::NotCarrier => Carry::NotCarrier,
            }),
        g_per_litre: line.bulk_density().map(|density| grams(&density)),
        lots,
        named,
        apart: feed.map(|feed| apart(feed, ranks_of)).unwrap_or_default(),
        windows: of_lines(ration, ranks, windows),
        gives_active: lines.iter().any(|line| line.gives_active),
        particle: feed.and_then(|feed| particle(feed)),
        line: (!line.is_inherited && ranks.len() == 1).then_some(OrderLine {
            name: line.named,
            form: if line.is_rest {
                AmountForm::Rest
            } else if line.is_share {
                AmountForm::Share
            } else {
                AmountForm::Other
            },
        }),
        share,
    }
}

fn apart(feed: &Feed, ranks_of: &BTreeMap<&str, usize>) -> Vec<Apart> {
    let apart = |apart: &view::ApartFrom| {
        Some(Apart {
            from: *ranks_of.get(apart.other.as_str())?,
            times: apart.times.clone(),
            place: apart.place,
        })
    };
    feed.apart.iter().filter_map(apart).collect()
}

fn particle(feed: &Feed) -> Option<Particle> {
    Some(Particle {
        millimetres: feed.particle_size.as_ref()?.to_f64(),
        g_per_millilitre: feed.particle_density.as_ref()?.to_f64(),
    })
}

/// The windows of merged lines: each leaves the others' inclusion out, so it is added back.
fn of_lines(
    ration: &Ration,
    ranks: &[usize],
    windows: &BTreeMap<usize, Vec<LineWindow>>,
) -> Vec<Window> {
    let mut own = Vec::new();
    let others = ranks.iter().skip(1);
    let others: Q = others.map(|&rank| &ration.lines[rank].low).sum();
    let first = ranks.first().and_then(|first| windows.get(first));
    for window in first.into_iter().flatten() {
        let whole = |end: &Option<Q>| end.as_ref().map(|end| end + &others);
        own.push(Window {
            kind: match window.kind {
                LineWindowKind::Dose => WindowKind::Dose,
                LineWindowKind::Ceiling => WindowKind::Ceiling,
                LineWindowKind::Law => WindowKind::Law,
                LineWindowKind::Harm => WindowKind::Harm,
            },
            low: whole(&window.low),
            high: whole(&window.high),
            what: window.what.clone(),
            place: window.place,
        });
    }
    own
}

fn method(method: &view::Method, vessels: &[Vessel]) -> Method {
    let in_vessel = |name: &str| vessels.iter().position(|vessel| vessel.name == name);
    Method {
        name: method.name.to_string(),
        place: method.place,
        small: method.small.clone(),
        preblend: method.preblend.clone(),
        dilutes: method.step.clone(),
        weigh: method.weigh.clone(),
        even: method.even.clone(),
        mixes_in: match &method.mixes_in {
            view::MixesIn::Floor(most) => MixesIn::Floor(most.as_ref().map(grams)),
            view::MixesIn::Vessel(name) => {
                in_vessel(name).map_or(MixesIn::Floor(None), MixesIn::Vessel)
            }
        },
        lift_g: method.lift.as_ref().map(grams),
        turns: method.turns,
        portions: method.portions,
    }
}

fn scale(scale: &view::Scale) -> Scale {
    Scale {
        name: scale.name.to_string(),
        capacity_g: grams(&scale.capacity),
        division_g: grams(&scale.division),
        minimum_g: grams(&scale.minimum),
        class: scale.class.map(|class| match class {
            view::ScaleClass::I => AccuracyClass::I,
            view::ScaleClass::II => AccuracyClass::II,
            view::ScaleClass::III => AccuracyClass::III,
            view::ScaleClass::IIII => AccuracyClass::IIII,
        }),
    }
}

fn vessels(view: &View<'_>) -> Vec<Vessel> {
    let vessel = |vessel: &view::Vessel| Vessel {
        name: vessel.name.to_string(),
        count: vessel.count,
        litres: vessel.litres.clone(),
    };
    view.all_vessels().iter().map(vessel).collect()
}
