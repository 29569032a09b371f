//! Least cost on whatever rations a text has: what is chosen sums up, keeps every bound exactly, and can be written.

use trug_balance::{Balance, Balanced, Outcome, Watch, balance_found};
use trug_findings::Finding;
use trug_model::choice::{ChoiceEnd, Rule};
use trug_model::prices::Prices;
use trug_model::ration::Ration;
use trug_model::{Concerns, Farm, Q, View};
use trug_report::balance::{BalancedRation, balance_document, balance_html, balance_text};
use trug_report::json::to_json;

use super::farms::{Text, farm, texts};
use crate::answer::TODAY;
use crate::fixes::edited;

/// Rations of one farm that are balanced.
const MOST_RATIONS: usize = 2;
/// Lines of one ration: a fuzzer has no time for large ones.
const MOST_LINES: usize = 10;
/// Steps of one answer, in machine numbers, and patterns of `or none`.
const BUDGET: (u64, u64) = (20_000, 200);
/// Columns of a terminal.
const WIDTH: usize = 80;

/// Balances the rations of a farm.
pub fn balance(bytes: &[u8]) {
    let texts = texts(bytes);
    let farm = farm(&texts);
    let found = trug_record::check(&farm);
    let concerns = Concerns::of(&farm);
    let mut left = MOST_RATIONS;
    for &file in farm.asked() {
        let view = farm.open(file);
        for named in farm.rations(file) {
            let lines = view
                .made_out(&named.name)
                .map_or(0, |ration| ration.lines.len());
            if left == 0 || MOST_LINES < lines {
                continue;
            }
            left -= 1;
            let concerning = concerns.concerning(&named, None, &found);
            let of = Asked {
                texts: &texts,
                farm: &farm,
                view: &view,
                name: &named.name,
            };
            of.balanced(&concerning);
        }
    }
}

struct Asked<'a> {
    texts: &'a [Text],
    farm: &'a Farm,
    view: &'a View<'a>,
    name: &'a str,
}

impl Asked<'_> {
    fn balanced(&self, concerning: &[Finding]) {
        let watch = Watch::new(BUDGET.0, BUDGET.1, &|| false);
        let settled = balance_found(self.view, self.name, concerning, &Prices::default(), &watch);
        let Ok(settled) = settled else { return };
        if let Outcome::Balanced(balanced) = &settled.balance.outcome {
            keeps_its_bounds(balanced, &settled.ration);
            self.nothing_is_missed(&settled.found, concerning);
            self.can_be_written(balanced);
        }
        self.drawn(settled.balance);
    }

    /// Judged as if it had been written so, the ration misses nothing that was to be kept.
    fn nothing_is_missed(&self, found: &[Finding], before: &[Finding]) {
        let missed = [
            "sum/short",
            "sum/over",
            "limit/under",
            "limit/over",
            "dose/under",
            "dose/over",
            "target/under",
            "target/over",
            "law/under",
            "law/over",
            "harm/ceiling",
            "harm/animal",
        ];
        // What is never for the animal stays so whatever is chosen.
        let is_known = |finding: &Finding| {
            before.iter().any(|known| {
                known.code == finding.code
                    && known.place == finding.place
                    && known.message == finding.message
            })
        };
        let is_missed = |finding: &&Finding| {
            finding.is_open() && missed.contains(&finding.code.name) && !is_known(finding)
        };
        let missed = found.iter().find(is_missed);
        assert!(missed.is_none(), "balanced, {} says {missed:?}", self.name);
    }

    /// The amounts stand in the text afterwards, and sum up there.
    fn can_be_written(&self, balanced: &Balanced) {
        let mut after = self.texts.to_vec();
        for (path, text) in &mut after {
            let is_here = |place: trug_findings::Place| {
                let source = self.farm.sources().get(place.file.index());
                source.is_some_and(|source| source.name() == path)
            };
            let edits: Vec<_> = balanced
                .edits
                .iter()
                .filter(|edit| is_here(edit.place))
                .cloned()
                .collect();
            *text = edited(text, &edits);
        }
        let written = farm(&after);
        let Some(file) = written.file(self.farm.sources()[self.view.file().index()].name()) else {
            return;
        };
        let view = written.open(file);
        let ration = view.made_out(self.name);
        let Some(ration) = ration.filter(|ration| ration.is_sound) else {
            panic!(
                "with its amounts written, {} cannot be made out: {after:?}",
                self.name
            );
        };
        let inside = ration.lines.iter().filter(|line| !line.on_top);
        let sum: Q = inside.map(|line| &line.low).sum();
        assert_eq!(
            sum,
            Q::ONE,
            "with its amounts written, {} does not sum up: {after:?}",
            self.name
        );
    }

    fn drawn(&self, balance: Balance) {
        let page = BalancedRation {
            balance,
            sources: self.farm.sources(),
            today: Some(TODAY.to_owned()),
            day: None,
            label: None,
        };
        let document = to_json(&balance_document(&page));
        assert!(
            serde_json::from_str::<serde_json::Value>(&document).is_ok(),
            "{document}"
        );
        assert!(!balance_text(&page, WIDTH).is_empty());
        assert!(balance_html(std::slice::from_ref(&page)).contains("</html>"));
    }
}

/// The shares are the whole, none is below nothing, and the cost is not below what was proved.
fn keeps_its_bounds(balanced: &Balanced, ration: &Ration) {
    let inside = balanced.amounts.iter().filter(|amount| !amount.on_top);
    let sum: Q = inside.map(|amount| &amount.share).sum();
    assert_eq!(sum, Q::ONE, "{:?}", balanced.amounts);
    for amount in &balanced.amounts {
        assert!(!amount.share.is_negative(), "{amount:?}");
    }
    assert!(
        balanced.cost_bound <= balanced.cost_per_kg,
        "cheaper than what was proved"
    );
    for bound in &balanced.bounds {
        assert!(!bound.shadow_price.is_negative(), "{bound:?}");
        let Some(value) = &bound.value else { continue };
        let keeps = match bound.end {
            ChoiceEnd::AtLeast => bound.bound <= *value,
            ChoiceEnd::AtMost => *value <= bound.bound,
        };
        let is_left_out = bound.rule == Rule::Range
            && value.is_zero()
            && ration
                .lines
                .iter()
                .any(|line| line.or_none && line.name == bound.what);
        assert!(keeps || !bound.complete || is_left_out, "{bound:?}");
    }
}
