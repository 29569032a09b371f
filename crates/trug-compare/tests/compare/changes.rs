//! What one change of a text changes.

use trug_compare::{Bounded, CauseKind, Comparison, Hindrance, RationChange, Turn};
use trug_model::Q;

use crate::farm::{Texts, between, changed, farm, of_ration, with};

fn ration<'a>(comparison: &'a Comparison, name: &str) -> &'a RationChange {
    let mut rations = comparison.rations.iter();
    rations.find(|ration| ration.name == name).unwrap()
}

fn after(to: &Texts) -> Comparison {
    between(&farm(), to)
}

fn turns(ration: &RationChange) -> Vec<(String, Turn)> {
    let name = |of: &Bounded| match of {
        Bounded::Bound { what, .. } => what.clone(),
        Bounded::Dose { ingredient, .. } => ingredient.clone(),
    };
    let changes = ration.standings.iter();
    changes
        .map(|change| (name(&change.of), change.turn()))
        .collect()
}

#[test]
fn a_farm_is_as_itself() {
    let comparison = between(&farm(), &farm());
    assert!(comparison.is_empty());
    assert_eq!((comparison.alike, comparison.texts_differ), (2, false));
}

#[test]
fn what_is_only_written_differently_has_not_changed() {
    let mut to = with(
        "store.trug",
        "protein        8 %",
        "protein 80 g/kg # as ever",
    );
    to = changed(
        to,
        "store.trug",
        "price          92 LKR/kg",
        "price 4600 LKR per 50 kg",
    );
    to = changed(
        to,
        "store.trug",
        "protein        16 .. 18 %",
        "protein 160 .. 180 g/kg",
    );
    to = changed(
        to,
        "store.trug",
        "dose           2 .. 5 g/kg",
        "dose 2 .. 5 kg/t",
    );
    to = changed(to, "rations.trug", "salt           3 g/kg", "salt 0.3 %");
    to = changed(
        to,
        "rations.trug",
        "soya-meal      24 %",
        "soya-meal 240 g/kg",
    );
    to = changed(to, "yard.trug", "5 kg by 1 g", "5000 g by 0.001 kg");
    let comparison = after(&to);
    assert!(comparison.is_empty(), "{comparison:#?}");
    assert!(comparison.texts_differ);
}

#[test]
fn an_amount_moves_nutrients_cost_and_verdict() {
    let comparison = after(&with(
        "rations.trug",
        "soya-meal      24 %",
        "soya-meal 22 %",
    ));
    assert_eq!(comparison.rations.len(), 1);
    assert_eq!(comparison.alike, 1);
    assert!(comparison.causes.is_empty());
    let layer = ration(&comparison, "layer");
    let names: Vec<&str> = layer
        .amounts
        .iter()
        .map(|one| one.ingredient.as_str())
        .collect();
    assert_eq!(names, ["broken-rice", "soya-meal"]);
    let soya = layer.amounts[1].amount.after.as_ref().unwrap();
    assert_eq!(
        (&soya.low, &soya.kg.as_ref().unwrap().0),
        (&Q::ratio(22, 100), &Q::ratio(132, 10))
    );
    assert_eq!(layer.newly_missed(), 1);
    assert_eq!(turns(layer)[0], ("protein".to_owned(), Turn::Missed));
    assert_eq!(
        layer.standings[0].at.after.as_ref().unwrap().whose,
        "duck-lay"
    );
    let cost = layer.cost.as_ref().unwrap();
    let more = &cost.after.as_ref().unwrap().per_kg - &cost.before.as_ref().unwrap().per_kg;
    assert_eq!(more, Q::ratio(92 * 2 - 230 * 2, 100));
    assert_eq!(layer.work, None);
    assert_eq!(
        layer
            .found
            .iter()
            .map(|one| one.found.code)
            .collect::<Vec<_>>(),
        ["target/under"]
    );
    // The group eats as much of it, and pays less.
    assert_eq!(comparison.groups.len(), 1);
}

#[test]
fn a_value_of_the_store_is_told_once_and_shows_in_every_ration() {
    let to = with("store.trug", "price          92 LKR/kg", "price 95 LKR/kg");
    let to = changed(to, "store.trug", "protein        8 %", "protein 7.4 %");
    let comparison = after(&to);
    let [cause] = comparison.causes.as_slice() else {
        panic!("{:#?}", comparison.causes);
    };
    assert_eq!(
        (cause.kind, cause.name.as_str()),
        (CauseKind::Ingredient, "broken-rice")
    );
    let said: Vec<String> = cause
        .changes
        .iter()
        .map(|change| {
            let (one, other) = (change.says.before.as_ref(), change.says.after.as_ref());
            format!(
                "{} {} {}",
                change.what,
                one.unwrap().apart(other),
                other.unwrap().apart(one)
            )
        })
        .collect();
    assert_eq!(said, ["price 92 LKR/kg 95 LKR/kg", "protein 8 % 7.4 %"]);
    let names: Vec<&str> = comparison
        .rations
        .iter()
        .map(|one| one.name.as_str())
        .collect();
    assert_eq!(names, ["grower", "layer"]);
    assert!(ration(&comparison, "grower").amounts.is_empty());
}

#[test]
fn a_dose_over_its_label_and_over_its_ceiling_is_worst() {
    let comparison = after(&with(
        "rations.trug",
        "salt           3 g/kg\n  premix",
        "salt 10 g/kg\n  premix",
    ));
    let layer = ration(&comparison, "layer");
    assert_eq!(turns(layer)[0], ("salt".to_owned(), Turn::Missed));
    assert!(layer.new_errors() > 0);
    let now = layer.hindrances.after.as_ref().unwrap();
    assert_eq!(now.as_slice(), [Hindrance::Errors]);
    assert!(layer.work.as_ref().unwrap().after.is_none());
}

#[test]
fn laws_targets_and_yard_are_reasons_too() {
    let to = with(
        "store.trug",
        "at most 0.5 mg/kg law",
        "at most 0.3 mg/kg law",
    );
    let to = changed(to, "store.trug", "16 .. 18 %", "15 .. 18 %");
    let to = changed(to, "yard.trug", "3 of 30 L", "2 of 20 L");
    let to = changed(
        to,
        "yard.trug",
        "small          below 3 %",
        "small below 2 %",
    );
    let comparison = after(&to);
    let kinds: Vec<CauseKind> = comparison.causes.iter().map(|cause| cause.kind).collect();
    assert_eq!(
        kinds,
        [
            CauseKind::Animal,
            CauseKind::Targets,
            CauseKind::Method,
            CauseKind::Vessel
        ]
    );
    let layer = ration(&comparison, "layer");
    assert_eq!(turns(layer)[0], ("selenium".to_owned(), Turn::Missed));
}

#[test]
fn rations_come_and_go_and_are_known_in_another_text() {
    let mut to = with("rations.trug", "ration grower\n", "ration starter\n");
    let comparison = after(&to);
    let states: Vec<(&str, bool, bool)> = comparison
        .rations
        .iter()
        .map(|one| (one.name.as_str(), one.is_added(), one.is_removed()))
        .collect();
    assert_eq!(states, [("grower", false, true), ("starter", true, false)]);
    to = farm();
    to[2].0 = "feed.trug".to_owned();
    let moved = after(&to);
    assert!(moved.is_empty(), "{moved:#?}");
    assert_eq!(moved.alike, 2);
}

#[test]
fn open_amounts_stand_side_by_side() {
    let open = with(
        "rations.trug",
        "soya-meal      24 %",
        "soya-meal 20 .. 26 %",
    );
    let wider = changed(open.clone(), "rations.trug", "20 .. 26 %", "20 .. 28 %");
    let comparison = between(&open, &wider);
    let layer = ration(&comparison, "layer");
    assert_eq!(
        layer.hindrances.after.as_ref().unwrap().as_slice(),
        [Hindrance::Open]
    );
    let soya = layer
        .amounts
        .iter()
        .find(|one| one.ingredient == "soya-meal")
        .unwrap();
    let ends = |of: &Option<trug_compare::Amount>| {
        of.as_ref().map(|one| (one.low.clone(), one.high.clone()))
    };
    assert_eq!(
        ends(&soya.amount.before),
        Some((Q::ratio(20, 100), Q::ratio(26, 100)))
    );
    assert_eq!(
        ends(&soya.amount.after),
        Some((Q::ratio(20, 100), Q::ratio(28, 100)))
    );
}

#[test]
fn what_does_not_add_up_has_amounts_and_no_contents() {
    let comparison = after(&with(
        "rations.trug",
        "broken-rice    rest\n  soya-meal      24 %",
        "broken-rice 60 %\n  soya-meal 24 %",
    ));
    let layer = ration(&comparison, "layer");
    assert!(
        layer
            .hindrances
            .after
            .as_ref()
            .unwrap()
            .contains(&Hindrance::NotWhole)
    );
    assert!(layer.nutrients.is_empty() && layer.standings.is_empty() && layer.cost.is_none());
    assert_eq!(layer.amounts.len(), 1);
}

#[test]
fn a_mistake_outside_of_rations_is_told_at_the_end() {
    let comparison = after(&with(
        "store.trug",
        "animal pond-duck is duck",
        "ingredient moss\n  protein 200 %\n\nanimal pond-duck is duck",
    ));
    assert!(comparison.rations.is_empty());
    assert!(comparison.elsewhere.iter().all(|one| one.is_new));
    assert!(!comparison.elsewhere.is_empty());
}

#[test]
fn one_ration_leaves_the_others_and_their_reasons_out() {
    let to = with(
        "store.trug",
        "price          900 LKR/kg",
        "price 950 LKR/kg",
    );
    let to = changed(
        to,
        "store.trug",
        "price          92 LKR/kg",
        "price 95 LKR/kg",
    );
    let comparison = of_ration(&farm(), &to, Some("grower"));
    let names: Vec<&str> = comparison
        .causes
        .iter()
        .map(|one| one.name.as_str())
        .collect();
    assert_eq!(names, ["broken-rice"]);
    assert_eq!(comparison.rations.len(), 1);
    assert!(comparison.groups.is_empty());
}
