//! Spreadsheets as people save them, and what is made of each: the cases in `cases/`, and hostile ones.
//!
//! A case is the file, then `---->` and the result, then `----?` and what is said about it. What is asked for stands on
//! its first line. `TRUG_UPDATE=1` rewrites what is expected.

#![expect(clippy::unwrap_used, reason = "a test says what it expects")]

use std::fmt::Write;
use std::fs;
use std::path::PathBuf;

use trug_convert::{Converted, Weight, Wishes, to_table, to_text};
use trug_findings::Source;
use trug_model::{Farm, InMemory, Settings};

/// What is made of a file, and what is said.
fn made(header: &str, file: &str) -> String {
    let mut words = header.split('|').map(str::trim);
    let name = words.next().unwrap_or_default();
    let mut wishes = Wishes {
        name: name.to_owned(),
        ..Wishes::default()
    };
    let mut to_csv = false;
    for word in words {
        match word.split_once(' ') {
            Some(("unit", unit)) => {
                let (heading, unit) = unit.split_once('=').unwrap();
                wishes.units.push((heading.to_owned(), unit.to_owned()));
            }
            Some(("ration", ration)) => wishes.rations.push(ration.to_owned()),
            Some(("for", animal)) => wishes.animal = Some(animal.to_owned()),
            None if word == "csv" => to_csv = true,
            _ => panic!("{word}"),
        }
    }
    let result = if to_csv {
        to_table(file, wishes.rations.first().map(String::as_str))
    } else {
        to_text(file, &wishes)
    };
    let Converted { text, remarks } = match result {
        Ok(converted) => converted,
        Err(refusal) => return format!("----!\n{}\n  help: {}\n", refusal.says, refusal.help),
    };
    let source = Source::new("file", file);
    let mut told = format!("---->\n{}----?\n", text.replace("\r\n", "\n"));
    for remark in remarks {
        let at = source.position(remark.span.start as usize);
        let sign = match remark.weight {
            Weight::Read => "",
            Weight::LeftOut => "- ",
            Weight::Lost => "! ",
        };
        writeln!(told, "{}:{} {sign}{}", at.line, at.column, remark.says).unwrap();
        if !remark.help.is_empty() {
            writeln!(told, "  help: {}", remark.help).unwrap();
        }
    }
    if !to_csv {
        for finding in checked(&text) {
            writeln!(told, "check: {finding}").unwrap();
        }
    }
    told
}

/// What the language says of a text.
fn checked(text: &str) -> Vec<String> {
    let name = "result.trug";
    let texts = InMemory::new([(name, text)]);
    let farm = Farm::read(&[name.to_owned()], &texts, Settings::default());
    let findings = farm.check().into_iter();
    findings
        .map(|finding| format!("{} {}", finding.code.name, finding.message))
        .collect()
}

#[test]
fn the_cases_are_converted_as_they_say() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    let mut wrong = String::new();
    let mut count = 0;
    for path in paths {
        let text = fs::read_to_string(&path).unwrap();
        let mut updated = String::new();
        for case in text.split("--- ").filter(|case| !case.is_empty()) {
            let (header, rest) = case.split_once('\n').unwrap();
            let end = rest
                .find("\n---->")
                .or_else(|| rest.find("\n----!"))
                .map_or(rest.len(), |at| at + 1);
            let (file, expected) = rest.split_at(end);
            let got = made(header, file);
            count += 1;
            if got != expected {
                write!(
                    wrong,
                    "{}: {header}\n{got}\nexpected\n{expected}\n",
                    path.display()
                )
                .unwrap();
            }
            write!(updated, "--- {header}\n{file}{got}").unwrap();
        }
        if std::env::var_os("TRUG_UPDATE").is_some() {
            fs::write(&path, updated).unwrap();
        }
    }
    assert!(10 < count, "the cases were not found");
    assert!(
        wrong.is_empty() || std::env::var_os("TRUG_UPDATE").is_some(),
        "{wrong}"
    );
}

/// A table with so many rows, each of another ingredient.
fn unlike(head: &str, count: usize, cells: &str) -> String {
    let rows = (0..count).map(|rank| format!("f{rank}{cells}"));
    format!("{head}{}", rows.collect::<String>())
}

/// Whatever a file holds, it is converted or refused: never more is made than it says, and never without an end.
#[test]
fn hostile_tables_end() {
    let rows = |row: &str, count: usize| format!("Ingredient,CP %,kg\n{}", row.repeat(count));
    let texts = [
        rows("maize,8,1\n", 50_000),
        unlike("Ingredient,CP %,kg\n", 1000, ",8,1\n"),
        unlike("Ingredient,CP %\n", 50_000, ",8\n"),
        rows(&format!("\"{}\",8,1\n", "long ".repeat(1_000_000)), 1),
        rows(&format!("maize,{},1\n", "9".repeat(5_000_000)), 1),
        rows("\"maize,8,1\n", 20_001),
        rows("=cmd|x,=1+1,@SUM(A1)\n", 1000),
        ",".repeat(2_000_000),
        format!("Ingredient,CP %\n{}", "\n,".repeat(1_000_000)),
        format!("Ingredient,{}\nmaize\n", "CP %,".repeat(100_000)),
        format!("{}\n{}", ",".repeat(1_000_000), "\n".repeat(1_000_000)),
        "\"".repeat(100_001),
        "Ingredient,CP %\n\u{0}maize\u{7},8\n\u{202e}x,9\n".to_owned(),
        "\u{feff}".to_owned(),
        String::new(),
        "(".repeat(200_000),
        "Ingredient;/////;a/b/c;%%%%\nmaize;1;2;3\n".to_owned(),
    ];
    for text in texts {
        if let Ok(converted) = to_text(&text, &Wishes::default()) {
            let said = checked(&converted.text);
            assert!(
                !said.iter().any(|said| said.starts_with("syntax/")),
                "{said:?}"
            );
        }
    }
}

/// Nothing that a text holds is written so that a spreadsheet takes it for a formula.
#[test]
fn no_cell_begins_a_formula() {
    let text = "ingredient maize \"=HYPERLINK(A1)\"\n  label si \"-x\"\n  caution \"@x\"\n  charge-balance -150 meq/kg\n";
    let table = to_table(text, None).unwrap().text;
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(table.as_bytes());
    for record in reader.records() {
        for cell in &record.unwrap() {
            assert!(!cell.starts_with(['=', '+', '@']), "{cell}");
            assert!(!cell.starts_with('-') || cell == "-150", "{cell}");
        }
    }
    let again = to_text(&table, &Wishes::default()).unwrap().text;
    assert!(
        again.contains("ingredient maize \"=HYPERLINK(A1)\""),
        "{again}"
    );
    assert!(again.contains("label si       \"-x\""), "{again}");
}
