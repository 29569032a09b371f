//! A table is its document, row by row and cell by cell: every number, whatever its figures, and no row more.

use serde_json::Value;

use crate::farm::{Farm, ran};
use crate::threads::folder;

#[test]
fn every_cell_of_a_plans_table_is_of_its_document() {
    let farm = folder();
    for asked in ["river", "small", "many"] {
        let documents = printed(&farm, &["plan", asked, "--as", "jsonl"]);
        let documents = serde_json::Deserializer::from_str(&documents).into_iter::<Value>();
        let expected: Vec<Row> = documents
            .flat_map(|document| plan_rows(&document.unwrap()))
            .collect();
        hold(&printed(&farm, &["plan", asked, "--as", "csv"]), &expected);
        assert!(12 < expected.len(), "{asked}: {} rows", expected.len());
    }
}

#[test]
fn every_cell_of_a_shopping_table_is_of_its_document() {
    let farm = folder();
    for days in ["30", "365"] {
        let words = ["buy", "river", "--days", days, "--as"];
        let document = printed(&farm, &[&words[..], &["json"]].concat());
        let expected = buy_rows(&serde_json::from_str(&document).unwrap());
        hold(&printed(&farm, &[&words[..], &["csv"]].concat()), &expected);
        assert!(12 < expected.len(), "{} rows", expected.len());
    }
}

/// Cells by their column; a column that is not here is empty.
type Row = Vec<(&'static str, String)>;

fn printed(farm: &Farm, words: &[&str]) -> String {
    let ran = ran(&mut farm.command(words));
    assert!(ran.code < 2 && !ran.out.is_empty(), "{words:?}: {ran:#?}");
    ran.out
}

/// Holds a table to what is expected of it, each row in its place.
fn hold(table: &str, expected: &[Row]) {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.unwrap()).collect();
    for (at, (row, expected)) in rows.iter().zip(expected).enumerate() {
        for (column, cell) in columns.iter().zip(row) {
            let due = expected.iter().find(|(name, _)| *name == column);
            let due = due.map_or("", |(_, due)| due.as_str());
            assert_eq!(cell, due, "{column} of row {at}: {row:?}\n{expected:?}");
        }
        for (name, _) in expected {
            assert!(
                columns.iter().any(|column| column == *name),
                "{name} is no column"
            );
        }
    }
    assert_eq!(rows.len(), expected.len(), "rows");
}

/// What a field says, as a cell; nothing where there is no such field.
fn said(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(words) => words.clone(),
        // Without the `.0` that only says that it need not have been whole.
        Value::Number(number) => number.to_string().trim_end_matches(".0").to_owned(),
        other => other.to_string(),
    }
}

fn all(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

fn plan_rows(document: &Value) -> Vec<Row> {
    let mut rows = Vec::new();
    for batch in all(&document["batches"]) {
        let head = |kind: &str| -> Row {
            vec![
                ("kind", kind.to_owned()),
                ("ration", said(&document["ration"])),
                ("draft", said(&document["draft"])),
                ("batch", said(&batch["number"])),
                ("times", said(&batch["times"])),
            ]
        };
        for weighing in all(&batch["weighings"]) {
            let mut row = head("weighing");
            let mut steps = all(&batch["steps"]);
            let step = steps.find(|step| step["id"] == weighing["step"]).unwrap();
            let loads: Vec<String> = all(&weighing["loads_g"]).map(said).collect();
            row.extend([
                ("step_kind", said(&step["kind"])),
                ("loads_g", loads.join("; ")),
            ]);
            for field in [
                "id",
                "step",
                "ingredient",
                "class",
                "lot",
                "mass_g",
                "scale",
                "error_g",
                "from_g",
                "to_g",
            ] {
                row.push((field, said(&weighing[field])));
            }
            rows.push(row);
        }
        for step in all(&batch["steps"]) {
            let mut row = head("step");
            let inputs = all(&step["inputs"]).map(|input| {
                let of = if input["weighing"].is_null() {
                    "step"
                } else {
                    "weighing"
                };
                format!("{} {}", said(&input[of]), said(&input["mass_g"]))
            });
            row.extend([
                ("step", said(&step["id"])),
                ("step_kind", said(&step["kind"])),
                ("inputs", inputs.collect::<Vec<_>>().join("; ")),
            ]);
            for field in ["id", "output_g", "ratio", "vessel", "turns", "portions"] {
                row.push((field, said(&step[field])));
            }
            rows.push(row);
        }
    }
    rows
}

fn buy_rows(document: &Value) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut add =
        |kind: &str, cells: Row| rows.push([vec![("kind", kind.to_owned())], cells].concat());
    let fields = |value: &Value, columns: &[(&'static str, &str)]| -> Row {
        let cells = columns.iter();
        cells
            .map(|(column, field)| (*column, said(&value[*field])))
            .collect()
    };
    for one in all(&document["not_counted"]) {
        add(
            "not-counted",
            fields(
                one,
                &[("group", "group"), ("ration", "ration"), ("why", "why")],
            ),
        );
    }
    for one in all(&document["ingredients"]) {
        let mut row = fields(
            one,
            &[
                ("ingredient", "ingredient"),
                ("label", "label"),
                ("needed_g", "needed_g"),
                ("coming_g", "coming_g"),
                ("left_g", "left_g"),
                ("lasts_until", "lasts_until"),
            ],
        );
        if one["stock_known"] == true {
            row.push(("on_hand_g", said(&one["on_hand_g"])));
        }
        let buy = &one["buy"];
        if !buy.is_null() {
            row.extend(fields(
                buy,
                &[
                    ("day", "by"),
                    ("bought_g", "bought_g"),
                    ("short_g", "short_g"),
                    ("sacks", "sacks"),
                    ("sack_g", "sack_g"),
                ],
            ));
            row.push(("price_per_kg", said(&buy["price_per_kg"]["amount"])));
            row.extend(fields(
                &buy["cost"],
                &[("cost", "amount"), ("currency", "currency")],
            ));
            let lots: Vec<String> = all(&buy["instead_of"])
                .map(|lot| said(&lot["lot"]))
                .collect();
            row.push(("lot", lots.join("; ")));
        }
        add(if buy.is_null() { "enough" } else { "buy" }, row);
    }
    for total in all(&document["cost"]) {
        add(
            "total",
            fields(total, &[("cost", "amount"), ("currency", "currency")]),
        );
    }
    for one in all(&document["expiring"]) {
        let columns = [
            ("day", "best_before"),
            ("ingredient", "of"),
            ("lot", "lot"),
            ("left_g", "left_g"),
        ];
        add("expires", fields(one, &columns));
    }
    for one in all(&document["lots_left_out"]) {
        add(
            "lot-not-counted",
            fields(one, &[("ingredient", "of"), ("lot", "lot"), ("why", "why")]),
        );
    }
    for group in all(&document["groups"]) {
        add(
            "eats",
            fields(
                group,
                &[
                    ("group", "group"),
                    ("ration", "ration"),
                    ("needed_g", "eaten_g"),
                ],
            ),
        );
    }
    rows
}
