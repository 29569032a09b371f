//! Scales, vessels, methods, groups, records and measures on a card: their numbers in words.

use trug_findings::Place;
use trug_model::view::{Method, MixesIn};
use trug_model::{Namespace, Q, View};
use trug_report::words::{mass, percent};
use trug_syntax::tree::{Group, GroupStatement, ItemBody, Record, ScaleClass};

use super::{text_at, went};
use crate::fed;
use crate::markdown::{heading, paragraphs, plain, points, typed};
use crate::parts;

pub(super) fn yard(view: &View<'_>, namespace: Namespace, name: &str) -> Option<String> {
    match namespace {
        Namespace::Scale => scale(view, name),
        Namespace::Vessel => vessel(view, name),
        Namespace::Method => Some(method(
            &view.method_called(name)?,
            label(view, namespace, name),
        )),
        Namespace::Group => match &view.declaration(namespace, name)?.1.body {
            ItemBody::Group(written) => {
                let card = group(view, written);
                let went = points(&went::of_group(view, name));
                Some(paragraphs([card, went]))
            }
            _ => None,
        },
        Namespace::Record => {
            let (file, item) = view.declaration(namespace, name)?;
            match &item.body {
                ItemBody::Record(written) => Some(record(view, file, written)),
                _ => None,
            }
        }
        Namespace::Unit => unit(view, name),
        _ => None,
    }
}

fn label(view: &View<'_>, namespace: Namespace, name: &str) -> Option<String> {
    let items = view.written(namespace, name);
    let mut labels = items.iter().rev().filter_map(|(_, item)| {
        let parts = parts::header(&item.body).into_iter();
        parts
            .filter_map(|part| match part {
                parts::Part::Text(text) => Some(text.text.clone()),
                _ => None,
            })
            .next()
    });
    labels.next()
}

fn grams(kilograms: &Q) -> Q {
    kilograms * &Q::int(1000)
}

fn scale(view: &View<'_>, name: &str) -> Option<String> {
    let scales = view.all_scales();
    let scale = scales.iter().find(|scale| scale.name == name)?;
    let class = scale.class.map(|class| match class {
        ScaleClass::I => "I",
        ScaleClass::II => "II",
        ScaleClass::III => "III",
        ScaleClass::IIII => "IIII",
    });
    let mut told = vec![
        format!("weighs up to {}", mass(&grams(&scale.capacity))),
        format!("shows steps of {}", mass(&grams(&scale.division))),
        format!("weighs nothing below {}", mass(&grams(&scale.minimum))),
    ];
    told.extend(class.map(|class| format!("accuracy class {class} (OIML R 76)")));
    Some(paragraphs([
        heading(scale.label.as_deref(), name, "scale"),
        points(&told),
    ]))
}

fn vessel(view: &View<'_>, name: &str) -> Option<String> {
    let vessels = view.all_vessels();
    let vessel = vessels.iter().find(|vessel| vessel.name == name)?;
    let each = match vessel.count {
        1 => format!("one, which holds {} L to the brim", vessel.litres),
        count => format!(
            "{count}, each of which holds {} L to the brim",
            vessel.litres
        ),
    };
    Some(paragraphs([
        heading(vessel.label.as_deref(), name, "vessel"),
        each,
    ]))
}

fn method(method: &Method, label: Option<String>) -> String {
    let mut told = vec![
        format!("an ingredient below {} is small", percent(&method.small)),
        format!(
            "the pre-blend is {} of the batch",
            percent(&method.preblend)
        ),
        format!("no step dilutes beyond 1 in {}", method.step),
        format!(
            "each ingredient is weighed within {}",
            percent(&method.weigh)
        ),
    ];
    let even = method.even.as_ref();
    told.extend(
        even.map(|even| format!("even within {}, as coefficient of variation", percent(even))),
    );
    told.push(match &method.mixes_in {
        MixesIn::Floor(None) => "mixed on the floor".to_owned(),
        MixesIn::Floor(Some(most)) => format!("mixed on the floor, {} at most", mass(&grams(most))),
        MixesIn::Vessel(vessel) => format!("mixed in {}", typed(vessel)),
    });
    let lift = method.lift.as_ref();
    told.extend(lift.map(|lift| format!("one person lifts {}", mass(&grams(lift)))));
    told.extend(
        method
            .turns
            .map(|turns| format!("the heap is turned {turns} times")),
    );
    told.extend(
        method
            .portions
            .map(|portions| format!("the pre-blend is spread in {portions} portions")),
    );
    paragraphs([
        heading(label.as_deref(), &method.name, "method"),
        points(&told),
    ])
}

fn group(view: &View<'_>, group: &Group) -> String {
    let label = group.label.as_ref().map(|label| label.text.as_str());
    let mut told = Vec::new();
    for line in &group.lines {
        match &line.statement {
            Some(GroupStatement::Animals { count, animal }) => {
                told.push(format!("{} {}", count.digits, typed(&animal.text)));
            }
            Some(GroupStatement::Eats { ration, .. }) => {
                told.extend(eats(view, group, &ration.text))
            }
            _ => {}
        }
    }
    told.extend(fed::points(view, &group.name.text));
    told.extend(fed::age(view, &group.name.text));
    paragraphs([heading(label, &group.name.text, "group"), points(&told)])
}

/// What a group eats of a ration a day, and how much that is for so many days.
fn eats(view: &View<'_>, group: &Group, ration: &str) -> Option<String> {
    let made = view.made_out(ration)?;
    let order = view.order_of(&group.name.text, &made)?;
    let Some(intake) = &order.intake else {
        return Some(format!("eats {}, how much is not said", typed(ration)));
    };
    let daily = intake * &order.head;
    let mut says = format!(
        "eats {} of {} a day each: {} a day in all",
        mass(&grams(intake)),
        typed(ration),
        mass(&grams(&daily))
    );
    if let Some(days) = &order.mix_for {
        let mix = mass(&grams(&(&daily * days)));
        says.push_str(&format!(", {mix} for the {days} days one mixing lasts"));
    }
    Some(says)
}

fn record(view: &View<'_>, file: trug_findings::FileId, record: &Record) -> String {
    let head = heading(
        None,
        &record.name.text,
        &format!("record of {}", typed(&record.of.text)),
    );
    let at = |span| plain(&text_at(view.farm(), Place::new(file, span)));
    let told: Vec<String> = record
        .lines
        .iter()
        .take(30)
        .map(|line| at(line.span))
        .collect();
    let made = view.record_called(&record.name.text);
    let became = made.map(|made| plain(&went::became(view, &made)));
    paragraphs([head, points(&told), became.unwrap_or_default()])
}

fn unit(view: &View<'_>, name: &str) -> Option<String> {
    let mut told = Vec::new();
    for &file in view.sees() {
        for item in &view.farm().tree(file).items {
            if let ItemBody::Unit(unit) = &item.body
                && unit.name.text == name
            {
                let holds = text_at(view.farm(), Place::new(file, unit.equals.span));
                let of = unit
                    .of
                    .as_ref()
                    .map_or_else(|| "anything".to_owned(), |of| typed(&of.text));
                told.push(format!("one of {of} is {}", plain(&holds)));
            }
        }
    }
    let head = heading(None, name, "measure of the yard");
    (!told.is_empty()).then(|| paragraphs([head, points(&told)]))
}
