//! A trace as `trace/0`.

use jiff::civil::Date;
use trug_findings::{Place, Source};
use trug_model::Q;
use trug_record::trace::{Gap, LotTraced, RecordTraced, Running, Trace};

use super::words::{DECIDES, gap, gap_record, gap_word, searched};
use crate::findings::{file_name, start_of};
use crate::json::number::Decimal;
use crate::json::trace::{
    AnimalsJson, FORMAT, FedJson, GapJson, GroupJson, HoldsJson, LotJson, PlaceJson, RecordJson,
    StartJson, TraceDocument, WithdrawalJson,
};

/// The document of a trace.
#[must_use]
pub fn trace_document(trace: &Trace, sources: &[Source]) -> TraceDocument {
    let start = &trace.start;
    let places = start.places.iter();
    TraceDocument {
        format: FORMAT,
        today: trace.today.to_string(),
        start: StartJson {
            kind: start.kind.word(),
            name: start.name.to_string(),
            places: places.map(|it| place(*it, sources)).collect(),
        },
        lots: trace.lots.iter().map(|it| lot(it, sources)).collect(),
        records: trace.records.iter().map(|it| record(it, sources)).collect(),
        groups: trace
            .groups
            .iter()
            .map(|group| GroupJson {
                name: group.name.to_string(),
                label: group.label.clone(),
                animals: animals(&group.animals),
                records: group.records.iter().map(ToString::to_string).collect(),
            })
            .collect(),
        withdrawals: trace.running.iter().map(withdrawal).collect(),
        gaps: trace.gaps.iter().map(gap_json).collect(),
        texts: trace.texts,
        all_records: trace.all_records,
        cautions: vec![searched(trace), DECIDES.to_owned()],
    }
}

fn place(place: Place, sources: &[Source]) -> PlaceJson {
    PlaceJson {
        file: file_name(place, sources).to_owned(),
        line: start_of(place, sources).line,
    }
}

fn grams(kg: &Q) -> Decimal {
    Decimal::from(&(kg * &Q::int(1000)))
}

fn day(day: Date) -> String {
    day.to_string()
}

fn animals<T: ToString>(animals: &[(Q, T)]) -> Vec<AnimalsJson> {
    let kinds = animals.iter().map(|(head, animal)| AnimalsJson {
        head: Decimal::from(head),
        animal: animal.to_string(),
    });
    kinds.collect()
}

fn lot(traced: &LotTraced, sources: &[Source]) -> LotJson {
    let declared = traced.lot.as_ref();
    LotJson {
        name: traced.name.to_string(),
        ingredient: traced.of.to_string(),
        label: declared.and_then(|lot| lot.label.clone()),
        place: declared.map(|lot| place(lot.place, sources)),
        received: declared.and_then(|lot| lot.received).map(day),
        best_before: declared.and_then(|lot| lot.best_before).map(day),
        came_g: declared.and_then(|lot| lot.came.as_ref()).map(grams),
        weighed_g: grams(&traced.weighed),
        on_hand_g: declared.and_then(|lot| lot.on_hand.as_ref()).map(grams),
        missing_g: traced.missing.as_ref().map(grams),
    }
}

fn record(traced: &RecordTraced, sources: &[Source]) -> RecordJson {
    let holds = traced.holds.iter().map(|held| HoldsJson {
        kind: if held.is_mix { "record" } else { "lot" },
        name: held.name.to_string(),
        of: held.of.to_string(),
        mass_g: held.kg.as_ref().map(grams),
        certain: held.is_certain,
        may_be_more: held.may_be_more,
        through: held.through.iter().map(ToString::to_string).collect(),
    });
    let fed = traced.fed.iter().map(|fed| FedJson {
        group: fed.group.to_string(),
        from: fed.from.map(day),
        to: fed.to.map(day),
        animals: animals(&fed.animals),
        at_most_each_g: fed.each.as_ref().map(grams),
    });
    RecordJson {
        name: traced.name.to_string(),
        place: place(traced.place, sources),
        ration: traced.of.to_string(),
        made: traced.made.map(day),
        by: traced.by.clone(),
        batch_g: traced.batch.as_ref().map(grams),
        is_start: traced.is_start,
        certain: traced.is_certain,
        holds: holds.collect(),
        fed: fed.collect(),
    }
}

fn withdrawal(running: &Running) -> WithdrawalJson {
    WithdrawalJson {
        group: running.group.to_string(),
        product: running.product.to_string(),
        ingredient: running.ingredient.to_string(),
        days: Decimal::from(&running.days),
        record: running.record.to_string(),
        last_fed: running.last_fed.map(day),
        until: running.until.map(day),
        weighed: running.is_weighed,
    }
}

fn gap_json(one: &Gap) -> GapJson {
    GapJson {
        kind: gap_word(one),
        record: gap_record(one).map(str::to_owned),
        says: gap(one),
    }
}
