//! A plan as `plan/1`.

use trug_findings::Finding;
use trug_model::Q;
use trug_plan::order::{self, AccuracyClass, MixesIn};
use trug_plan::plan::{self, Class, InputSource, Kind, Plan, StepKind};

use super::{Bounded, Caution, DoseInterval, PlanAbout};
use crate::findings::{file_name, findings_document, start_of};
use crate::json::finding::FindingJson;
use crate::json::number::{Decimal, statistic};
use crate::json::plan::{
    AccuracyClassJson, AmountJson, ApartJson, BatchJson, CautionJson, ClassJson, DoseIntervalJson,
    FORMAT, GivenJson, IngredientJson, InputJson, LotJson, MethodJson, OrderJson, PlanDocument,
    ScaleJson, StepJson, StepKindJson, VesselJson, WeighingJson,
};
use crate::sheet::hazard_words;
use crate::speech::Speech;

/// Decimals of a printed ratio.
const RATIO_DECIMALS: usize = 3;

/// The document of a plan.
#[must_use]
pub fn plan_document(plan: &Plan, about: &PlanAbout<'_>) -> PlanDocument {
    let (open, accepted): (Vec<Finding>, Vec<Finding>) = about
        .all_findings(plan)
        .into_iter()
        .partition(Finding::is_open);
    PlanDocument {
        format: FORMAT,
        ration: plan.order.ration.clone(),
        file: about.file.clone(),
        today: about.today.clone(),
        draft: about.is_draft(plan),
        order: OrderJson {
            group: about.group.clone(),
            days: about.days,
            from: about.fed.as_ref().map(|fed| fed.from.to_string()),
            to: about.fed.as_ref().map(|fed| fed.to.to_string()),
            age_days: about.fed.as_ref().map(|fed| fed.age),
        },
        ordered_g: Decimal::from(&plan.ordered_g),
        weighed_g: Decimal::from(&plan.weighed_g),
        given: given(plan, about),
        batches: plan
            .batches
            .iter()
            .map(|batch| batch_json(plan, batch))
            .collect(),
        cautions: about
            .cautions
            .iter()
            .map(|it| caution_json(it, plan, about))
            .collect(),
        accepted: in_order(&accepted, about),
        findings: in_order(&open, about),
        doses: about.doses.iter().map(dose_json).collect(),
    }
}

fn in_order(findings: &[Finding], about: &PlanAbout<'_>) -> Vec<FindingJson> {
    findings_document(findings, about.sources, None).findings
}

fn percent(fraction: &Q) -> Decimal {
    Decimal::from(&(fraction * &Q::int(100)))
}

fn given(plan: &Plan, about: &PlanAbout<'_>) -> GivenJson {
    let order = &plan.order;
    let kinds = order.ingredients.iter().zip(&plan.kinds);
    GivenJson {
        method: method(&order.method),
        scales: order.scales.iter().map(scale).collect(),
        vessels: order.vessels.iter().map(vessel).collect(),
        ingredients: kinds
            .map(|(ingredient, kind)| ingredient_json(plan, about, ingredient, *kind))
            .collect(),
    }
}

fn method(method: &order::Method) -> MethodJson {
    let floor = match &method.mixes_in {
        MixesIn::Floor(floor) => floor.as_ref(),
        MixesIn::Vessel(_) => None,
    };
    MethodJson {
        name: method.name.clone(),
        small_percent: percent(&method.small),
        preblend_percent: percent(&method.preblend),
        dilutes: Decimal::from(&method.dilutes),
        weigh_percent: percent(&method.weigh),
        even_percent: method.even.as_ref().map(percent),
        floor_g: floor.map(Decimal::from),
        lift_g: method.lift_g.as_ref().map(Decimal::from),
    }
}

fn scale(scale: &order::Scale) -> ScaleJson {
    ScaleJson {
        name: scale.name.clone(),
        capacity_g: Decimal::from(&scale.capacity_g),
        division_g: Decimal::from(&scale.division_g),
        minimum_g: Decimal::from(&scale.minimum_g),
        accuracy_class: scale.class.map(|class| match class {
            AccuracyClass::I => AccuracyClassJson::One,
            AccuracyClass::II => AccuracyClassJson::Two,
            AccuracyClass::III => AccuracyClassJson::Three,
            AccuracyClass::IIII => AccuracyClassJson::Four,
        }),
    }
}

fn vessel(vessel: &order::Vessel) -> VesselJson {
    VesselJson {
        name: vessel.name.clone(),
        count: vessel.count,
        litres: Decimal::from(&vessel.litres),
    }
}

fn class_json(class: Class) -> ClassJson {
    match class {
        Class::Small => ClassJson::Small,
        Class::Bulk => ClassJson::Bulk,
        Class::Liquid => ClassJson::Liquid,
    }
}

fn ingredient_json(
    plan: &Plan,
    about: &PlanAbout<'_>,
    ingredient: &order::Ingredient,
    kind: Kind,
) -> IngredientJson {
    let share = &ingredient.share * &Q::int(100);
    // Apart from itself nothing can be.
    let apart = ingredient
        .apart
        .iter()
        .map(|apart| ApartJson {
            from: ingredient_name(plan, apart.from),
            times: Decimal::from(&apart.times),
        })
        .filter(|apart| apart.from != ingredient.name);
    IngredientJson {
        name: ingredient.name.clone(),
        label: about
            .labels
            .get(&ingredient.name)
            .and_then(|labels| labels.plain.clone()),
        share_percent: Decimal::from(&share),
        exact: (!share.decimals_end()).then(|| share.exact()),
        on_top: ingredient.on_top,
        class: class_json(kind.class),
        carrier: kind.may_carry,
        g_per_litre: ingredient.g_per_litre.as_ref().map(Decimal::from),
        apart: apart.collect(),
        lots: lots_json(ingredient),
    }
}

fn lots_json(ingredient: &order::Ingredient) -> Vec<LotJson> {
    let lots = ingredient.lots.iter().enumerate();
    lots.map(|(rank, lot)| {
        let named = ingredient.named.iter().find(|named| named.lot == rank);
        LotJson {
            name: lot.name.clone(),
            best_before: lot.best_before.map(|day| day.to_string()),
            on_hand_g: lot.on_hand_g.as_ref().map(Decimal::from),
            named_percent: named.map(|named| percent(&named.part)),
            open: lot.is_open,
        }
    })
    .collect()
}

/// A rank that stands for nothing gives no name, which the verifier refuses.
fn ingredient_name(plan: &Plan, rank: usize) -> String {
    let ingredient = plan.order.ingredients.get(rank);
    ingredient.map_or_else(String::new, |ingredient| ingredient.name.clone())
}

fn batch_json(plan: &Plan, batch: &plan::Batch) -> BatchJson {
    let amounts = batch.amounts.iter().map(|amount| AmountJson {
        ingredient: ingredient_name(plan, amount.ingredient),
        ordered_g: Decimal::from(&amount.ordered_g),
        weighed_g: Decimal::from(&amount.weighed_g),
    });
    BatchJson {
        number: batch.number,
        times: batch.times,
        total_g: Decimal::from(&batch.total_g),
        amounts: amounts.collect(),
        weighings: batch
            .weighings
            .iter()
            .map(|it| weighing_json(plan, it))
            .collect(),
        steps: batch.steps.iter().map(step_json).collect(),
        least: batch.least,
    }
}

fn weighing_json(plan: &Plan, weighing: &plan::Weighing) -> WeighingJson {
    let kind = plan.kinds.get(weighing.ingredient);
    let scale = weighing.scale.and_then(|rank| plan.order.scales.get(rank));
    WeighingJson {
        id: weighing.id.clone(),
        ingredient: ingredient_name(plan, weighing.ingredient),
        lot: weighing.lot.clone(),
        class: kind.map_or(ClassJson::Bulk, |kind| class_json(kind.class)),
        step: weighing.step.clone(),
        mass_g: Decimal::from(&weighing.mass_g),
        scale: scale.map(|scale| scale.name.clone()),
        loads_g: weighing.loads_g.iter().map(Decimal::from).collect(),
        error_g: Decimal::from(&weighing.error_g),
        from_g: Decimal::from(&weighing.from_g),
        to_g: Decimal::from(&weighing.to_g),
    }
}

fn step_json(step: &plan::Step) -> StepJson {
    StepJson {
        id: step.id.clone(),
        kind: match step.kind {
            StepKind::Together => StepKindJson::Together,
            StepKind::Dilute => StepKindJson::Dilute,
            StepKind::PreBlend => StepKindJson::Preblend,
            StepKind::Liquid => StepKindJson::Liquid,
            StepKind::Heap => StepKindJson::Heap,
            StepKind::Final => StepKindJson::Final,
        },
        inputs: step.inputs.iter().map(input_json).collect(),
        output_g: Decimal::from(&step.output_g),
        ratio: step.ratio.as_ref().and_then(ratio_json),
        vessel: step.vessel.clone(),
        litres: step.litres.as_ref().map(Decimal::from),
        turns: step.turns,
        portions: step.portions,
    }
}

/// A number of three decimals is written as it is, so that what is read back is the same number.
fn ratio_json(ratio: &Q) -> Option<f64> {
    ratio
        .rounded(RATIO_DECIMALS)
        .parse()
        .ok()
        .and_then(statistic)
}

fn input_json(input: &plan::Input) -> InputJson {
    let mass_g = Decimal::from(&input.mass_g);
    match &input.source {
        InputSource::Weighing(id) => InputJson::Weighing {
            weighing: id.clone(),
            mass_g,
        },
        InputSource::Step(id) => InputJson::Step {
            step: id.clone(),
            mass_g,
        },
    }
}

fn caution_json(caution: &Caution, plan: &Plan, about: &PlanAbout<'_>) -> CautionJson {
    CautionJson {
        text: hazard_words(caution, &plan.order.ration, Speech::english()),
        ingredient: caution.ingredient.clone(),
        file: file_name(caution.place, about.sources).to_owned(),
        line: start_of(caution.place, about.sources).line,
    }
}

/// What programs read: it does not depend on the language of the sheet.
fn bounded_words(what: &Bounded) -> String {
    match what {
        Bounded::Dose { active: None } => "dose".to_owned(),
        Bounded::Dose { active: Some(of) } => format!("dose of {of}"),
        Bounded::Target(what) => what.clone(),
        Bounded::Law(what) => format!("{what} by law"),
        Bounded::Harm(what) => format!("{what}, harm beyond it"),
    }
}

fn dose_json(dose: &DoseInterval) -> DoseIntervalJson {
    let low = |interval: Option<(f64, f64)>| interval.and_then(|(low, _)| statistic(low));
    let high = |interval: Option<(f64, f64)>| interval.and_then(|(_, high)| statistic(high));
    DoseIntervalJson {
        ingredient: dose.ingredient.clone(),
        what: bounded_words(&dose.what),
        value: Decimal::from(&dose.value),
        unit: dose.unit.clone(),
        min: dose.min.as_ref().map(Decimal::from),
        max: dose.max.as_ref().map(Decimal::from),
        batch_low: low(dose.interval.batch),
        batch_high: high(dose.interval.batch),
        portion_low: low(dose.interval.portion),
        portion_high: high(dose.interval.portion),
    }
}
