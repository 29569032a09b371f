//! A plan as a table.

use trug_report::plan::plan_csv;

use crate::made_by_hand::{PLANS, about, json, plan, sources};

fn rows(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(text.as_bytes());
    let rows = reader
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect());
    rows.collect()
}

#[test]
fn a_row_for_every_weighing_and_every_step() {
    let sources = sources();
    for (name, _) in PLANS {
        let written = json(name);
        let plan = plan(&written);
        let text = plan_csv(&plan, &about(&written, &sources));
        let rows = rows(&text);
        let batch = &plan.batches[0];
        assert_eq!(
            rows.len(),
            1 + batch.weighings.len() + batch.steps.len(),
            "{name}"
        );
        assert_eq!(
            text.matches("\r\n").count(),
            text.matches('\n').count(),
            "{name}"
        );
        assert!(rows.iter().all(|row| row.len() == 23), "{name}");
    }
    let written = json("river-layer");
    let text = plan_csv(&plan(&written), &about(&written, &sources));
    insta::assert_snapshot!("river-layer-csv", text.replace("\r\n", "\n"));
}

/// Cells with commas, quotes and line ends (RFC 4180, 2.6 and 2.7) come back as they were.
#[test]
fn cells_are_quoted_and_never_a_formula() {
    let sources = sources();
    let written = json("heap");
    let mut plan = plan(&written);
    let lots = [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        "\tx",
        "\rx",
        "a, \"b\"\r\nc",
        "'x",
    ];
    for lot in lots {
        plan.batches[0].weighings[0].lot = Some(lot.to_owned());
        let rows = rows(&plan_csv(&plan, &about(&written, &sources)));
        let column = rows[0].iter().position(|name| name == "lot").unwrap();
        let cell = &rows[1][column];
        assert!(
            !cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']),
            "{lot:?}"
        );
        assert_eq!(
            cell.trim_start_matches('\''),
            lot.trim_start_matches('\''),
            "{lot:?}"
        );
    }
}
