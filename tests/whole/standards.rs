//! What others have written down for everyone, held to what they make of it: codes of money, a distribution, tables.

use iso_currency::{Currency, IntoEnumIterator};
use proptest::prelude::*;
use statrs::distribution::{ChiSquared, ContinuousCDF as _};
use trug_evenness::chi_square::{probability_below, quantile};
use trug_model::Q;
use trug_plan::Request;
use trug_report::words::money;
use trug_tests::answer;

/// ISO 4217 by the crate `iso_currency`: every code people pay with, and no fund, metal, test or withdrawn code.
#[test]
fn money_is_that_of_iso_4217() {
    for currency in Currency::iter() {
        let code = currency.code();
        let is_paid_with = !currency.is_fund() && !currency.is_special();
        let is_current = currency.is_superseded().is_none();
        let is_known = trug_model::quantity::is_currency(code);
        // Two that were replaced while this list was young stay, so that last year's prices can still be read.
        let stays = matches!(code, "BGN" | "VES");
        assert_eq!(is_known, is_paid_with && (is_current || stays), "{code}");
    }
}

/// ISO 4217, minor units, by the same crate.
#[test]
fn money_is_printed_with_the_digits_its_coins_have() {
    for currency in Currency::iter() {
        let code = currency.code();
        if trug_model::quantity::is_currency(code) {
            let shown = money(&Q::int(1234), code);
            let digits = shown.split_once('.').map_or(0, |(_, rest)| {
                rest.chars().take_while(char::is_ascii_digit).count()
            });
            assert_eq!(currency.exponent(), u16::try_from(digits).ok(), "{shown}");
        }
    }
}

/// The chi-square distribution of the crate `statrs`, over the degrees of freedom and the limits that samples ask for.
#[test]
fn chi_square_is_that_of_a_general_library() {
    for freedom in (1..=60).chain([99, 199, 217, 499, 4_999]).map(f64::from) {
        let other = ChiSquared::new(freedom).unwrap();
        for probability in [0.005, 0.025, 0.05, 0.1, 0.5, 0.9, 0.95, 0.975, 0.995] {
            let found = quantile(probability, freedom).unwrap();
            let off = (other.cdf(found) - probability).abs();
            assert!(off < 1e-10, "{probability} of {freedom}: off by {off}");
        }
        for part in [0.1, 0.5, 1.0, 1.5, 3.0] {
            let value = freedom * part;
            let off = (probability_below(value, freedom) - other.cdf(value)).abs();
            assert!(off < 1e-10, "below {value} of {freedom}: off by {off}");
        }
    }
}

/// The cautions of a table's ingredients, in the order of their names, as a plan repeats them.
fn cautions(table: &str, count: usize) -> Vec<String> {
    let mut text =
        "use \"store.csv\"\nanimal duck\nration mash\n  for            duck\n".to_owned();
    for rank in 0..count {
        text.push_str(&format!("  meal-{rank}         10 kg\n"));
    }
    let texts = [("yard.trug", text.as_str()), ("store.csv", table)];
    let plan = answer::plan_in(&texts, "yard.trug", "mash", &Request::default());
    let document = plan.document.expect("it is planned");
    let of = |rank: usize| {
        let name = format!("meal-{rank}");
        let said = document["cautions"].as_array()?.iter();
        let mut said = said.filter(|caution| caution["ingredient"] == name.as_str());
        Some(said.next()?["text"].as_str()?.to_owned())
    };
    (0..count).filter_map(of).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// RFC 4180 as the crate `csv` writes it: quotes, commas, semicolons and blanks inside cells come back.
    #[test]
    fn tables_are_read_as_another_program_writes_them(
        cells in prop::collection::vec("[!-~äßක][ -~äßක]{0,10}[!-~äßක]", 1..6),
        are_lines_ended_by_two in any::<bool>(),
    ) {
        let mut writer = csv::WriterBuilder::new();
        if are_lines_ended_by_two {
            writer.terminator(csv::Terminator::CRLF);
        }
        let mut writer = writer.from_writer(Vec::new());
        writer.write_record(["ingredient", "caution", "price LKR/kg"]).unwrap();
        for (rank, cell) in cells.iter().enumerate() {
            writer.write_record([&format!("meal-{rank}"), cell.as_str(), "92"]).unwrap();
        }
        let table = String::from_utf8(writer.into_inner().unwrap()).unwrap();
        prop_assert_eq!(cautions(&table, cells.len()), cells, "{}", table);
    }
}
