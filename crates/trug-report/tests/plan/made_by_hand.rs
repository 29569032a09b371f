//! The plans made by hand, read back into the domain's own types.

use serde_json::Value;
use trug_findings::{Acceptance, Code, FileId, Finding, Place, Severity, Source, Span};
use trug_model::Q;
use trug_plan::Hazard;
use trug_plan::order::{
    AccuracyClass, Apart, Carry, Ingredient, Method, MixesIn, Order, Scale, Vessel,
};
use trug_plan::plan::{
    Amount, Batch, Class, Input, InputSource, Kind, Plan, Step, StepKind, Weighing,
};
use trug_report::plan::{Caution, Labels, PlanAbout};
use trug_report::sheet::{Copies, booklet, booklet_text};
use trug_report::speech::Speech;

/// Name and text of each.
pub(crate) const PLANS: [(&str, &str); 7] = [
    (
        "river-layer",
        include_str!("../../../trug-plan/tests/plans/river-layer.json"),
    ),
    (
        "liquids",
        include_str!("../../../trug-plan/tests/plans/liquids.json"),
    ),
    (
        "apart",
        include_str!("../../../trug-plan/tests/plans/apart.json"),
    ),
    (
        "tops",
        include_str!("../../../trug-plan/tests/plans/tops.json"),
    ),
    (
        "heap",
        include_str!("../../../trug-plan/tests/plans/heap.json"),
    ),
    (
        "pre-blend-is-the-batch",
        include_str!("../../../trug-plan/tests/plans/pre-blend-is-the-batch.json"),
    ),
    (
        "coarse",
        include_str!("../../../trug-plan/tests/plans/coarse.json"),
    ),
];

/// The document as it stands in the file.
pub(crate) fn json(name: &str) -> Value {
    let found = PLANS.iter().find(|(its, _)| *its == name).unwrap();
    serde_json::from_str(found.1).unwrap()
}

/// Codes of the findings in these plans.
static CODES: [Code; 3] = [
    Code::warning("dose/over", "# dose/over\n"),
    Code::note("vessel/volume", "# vessel/volume\n"),
    Code::warning("weigh/coarse", "# weigh/coarse\n"),
];

/// Texts with as many lines as the findings and cautions name.
pub(crate) fn sources() -> Vec<Source> {
    let text = "ration of ducks\n".repeat(20);
    vec![
        Source::new("rations/river.trug", text.clone()),
        Source::new("store/premix.trug", text),
    ]
}

fn place(file: &str, line: usize, columns: (usize, usize)) -> Place {
    let sources = sources();
    let rank = sources
        .iter()
        .position(|source| source.name() == file)
        .unwrap();
    let start = sources[rank].line_start(line - 1);
    let span = Span::new(start + columns.0 - 1, start + columns.1 - 1);
    Place::new(FileId(u32::try_from(rank).unwrap()), span)
}

fn q(value: &Value) -> Q {
    Q::fraction(value.as_str().unwrap()).unwrap()
}

fn text(value: &Value) -> String {
    value.as_str().unwrap().to_owned()
}

fn number(value: &Value) -> u32 {
    u32::try_from(value.as_u64().unwrap()).unwrap()
}

fn maybe<T>(value: &Value, read: impl Fn(&Value) -> T) -> Option<T> {
    (!value.is_null()).then(|| read(value))
}

fn list<T>(value: &Value, read: impl FnMut(&Value) -> T) -> Vec<T> {
    value.as_array().unwrap().iter().map(read).collect()
}

/// The plan that a document was printed from.
pub(crate) fn plan(document: &Value) -> Plan {
    let given = &document["given"];
    let names: Vec<String> = list(&given["ingredients"], |it| text(&it["name"]));
    let rank = |name: &Value| names.iter().position(|it| *it == text(name)).unwrap();
    let scales: Vec<Scale> = list(&given["scales"], scale);
    let scale_rank = |name: &Value| scales.iter().position(|it| it.name == text(name)).unwrap();
    let batches = list(&document["batches"], |batch| Batch {
        number: number(&batch["number"]),
        times: number(&batch["times"]),
        total_g: q(&batch["total_g"]),
        amounts: list(&batch["amounts"], |it| Amount {
            ingredient: rank(&it["ingredient"]),
            ordered_g: q(&it["ordered_g"]),
            weighed_g: q(&it["weighed_g"]),
        }),
        weighings: list(&batch["weighings"], |it| Weighing {
            lot: maybe(&it["lot"], text),
            id: text(&it["id"]),
            ingredient: rank(&it["ingredient"]),
            step: text(&it["step"]),
            mass_g: q(&it["mass_g"]),
            scale: maybe(&it["scale"], scale_rank),
            loads_g: list(&it["loads_g"], q),
            error_g: q(&it["error_g"]),
            from_g: q(&it["from_g"]),
            to_g: q(&it["to_g"]),
        }),
        steps: list(&batch["steps"], step),
        least: batch["least"].as_bool().unwrap(),
    });
    let ingredients = list(&given["ingredients"], |it| ingredient(it, &rank));
    Plan {
        order: Order {
            ration: text(&document["ration"]),
            place: Place::default(),
            mass_g: Q::ZERO,
            ingredients,
            method: method(&given["method"]),
            scales: scales.clone(),
            vessels: list(&given["vessels"], |it| Vessel {
                name: text(&it["name"]),
                count: number(&it["count"]),
                litres: q(&it["litres"]),
            }),
            portion_g: None,
            after: None,
        },
        kinds: list(&given["ingredients"], |it| Kind {
            class: match it["class"].as_str().unwrap() {
                "small" => Class::Small,
                "bulk" => Class::Bulk,
                _ => Class::Liquid,
            },
            may_carry: it["carrier"].as_bool().unwrap(),
        }),
        ordered_g: q(&document["ordered_g"]),
        weighed_g: q(&document["weighed_g"]),
        batches,
        findings: list(&document["findings"], finding),
    }
}

fn ingredient(it: &Value, rank: &impl Fn(&Value) -> usize) -> Ingredient {
    let share = if it["exact"].is_null() {
        &it["share_percent"]
    } else {
        &it["exact"]
    };
    Ingredient {
        name: text(&it["name"]),
        place: Place::default(),
        share: q(share) / Q::int(100),
        on_top: it["on_top"].as_bool().unwrap(),
        is_liquid: it["class"] == "liquid",
        carry: None::<Carry>,
        g_per_litre: maybe(&it["g_per_litre"], q),
        lots: Vec::new(),
        named: Vec::new(),
        apart: list(&it["apart"], |pair| Apart {
            from: rank(&pair["from"]),
            times: q(&pair["times"]),
            place: Place::default(),
        }),
        windows: Vec::new(),
        gives_active: false,
        particle: None,
        line: None,
    }
}

fn method(it: &Value) -> Method {
    let share = |value: &Value| q(value) / Q::int(100);
    Method {
        name: text(&it["name"]),
        place: Place::default(),
        small: share(&it["small_percent"]),
        preblend: share(&it["preblend_percent"]),
        dilutes: q(&it["dilutes"]),
        weigh: share(&it["weigh_percent"]),
        even: maybe(&it["even_percent"], share),
        mixes_in: MixesIn::Floor(maybe(&it["floor_g"], q)),
        lift_g: maybe(&it["lift_g"], q),
        turns: None,
        portions: None,
    }
}

fn scale(it: &Value) -> Scale {
    Scale {
        name: text(&it["name"]),
        capacity_g: q(&it["capacity_g"]),
        division_g: q(&it["division_g"]),
        minimum_g: q(&it["minimum_g"]),
        class: maybe(&it["accuracy_class"], |class| {
            assert_eq!(class, "III");
            AccuracyClass::III
        }),
    }
}

fn step(it: &Value) -> Step {
    let inputs: Vec<Input> = list(&it["inputs"], |input| Input {
        source: if input["weighing"].is_null() {
            InputSource::Step(text(&input["step"]))
        } else {
            InputSource::Weighing(text(&input["weighing"]))
        },
        mass_g: q(&input["mass_g"]),
    });
    Step {
        id: text(&it["id"]),
        kind: match it["kind"].as_str().unwrap() {
            "together" => StepKind::Together,
            "dilute" => StepKind::Dilute,
            "preblend" => StepKind::PreBlend,
            "liquid" => StepKind::Liquid,
            "heap" => StepKind::Heap,
            _ => StepKind::Final,
        },
        inputs,
        output_g: q(&it["output_g"]),
        ratio: maybe(&it["ratio"], |ratio| {
            Q::decimal(&ratio.to_string()).unwrap()
        }),
        vessel: text(&it["vessel"]),
        litres: maybe(&it["litres"], q),
        turns: maybe(&it["turns"], number),
        portions: maybe(&it["portions"], number),
    }
}

fn finding(it: &Value) -> Finding {
    let code = CODES.iter().find(|code| code.name == it["code"]).unwrap();
    let at = |name: &str| usize::try_from(it[name].as_u64().unwrap()).unwrap();
    let place = place(
        it["file"].as_str().unwrap(),
        at("line"),
        (at("column"), at("end_column")),
    );
    let mut finding = code.at(place).says(text(&it["message"]));
    finding.severity = match it["severity"].as_str().unwrap() {
        "error" => Severity::Error,
        "warning" => Severity::Warning,
        _ => Severity::Note,
    };
    finding.accepted = maybe(&it["accepted"], |accepted| Acceptance {
        reason: text(&accepted["reason"]),
        place,
    });
    finding
}

/// The plan as a page of text, in English.
pub(crate) fn page_of(plan: &Plan, about: &PlanAbout<'_>, width: usize) -> String {
    let booklet = booklet(&[(plan, about)], Speech::english(), Copies::One);
    booklet_text(&booklet, width)
}

/// A label, whatever the language.
pub(crate) fn called(label: &str) -> Labels {
    Labels {
        plain: Some(label.to_owned()),
        ..Labels::default()
    }
}

/// What stands beside the plan in a document.
pub(crate) fn about<'a>(document: &Value, sources: &'a [Source]) -> PlanAbout<'a> {
    PlanAbout {
        sources,
        file: text(&document["file"]),
        today: text(&document["today"]),
        group: maybe(&document["order"]["group"], text),
        days: maybe(&document["order"]["days"], number),
        draft: document["draft"].as_bool().unwrap(),
        cautions: list(&document["cautions"], |it| Caution {
            hazard: Hazard::Written(text(&it["text"])),
            ingredient: maybe(&it["ingredient"], text),
            mixed_in: None,
            place: place(
                it["file"].as_str().unwrap(),
                usize::try_from(it["line"].as_u64().unwrap()).unwrap(),
                (1, 2),
            ),
        }),
        findings: list(&document["accepted"], finding),
        ..PlanAbout::default()
    }
}
