//! Judges one item of a text.

use trug_findings::Finding;
use trug_syntax::tree::{self, AnimalStatement, Item, ItemBody, Name, Strength};

use super::{doings, once};
use crate::Q;
use crate::farm::Namespace;
use crate::findings::{harm, law, store, unit};
use crate::judge;
use crate::phases::ages;
use crate::quantity::{Basis, Range, is_currency};
use crate::view::{AnimalBound, View, Wants};

/// Says what is wrong with an item of the view's own text. Whether all there is to judge was judged.
pub(super) fn judge(view: &View<'_>, item: &Item, findings: &mut Vec<Finding>) -> bool {
    let file = view.scope.own();
    if let (Some(namespace), Some(name)) = (Namespace::of(&item.body), item.body.name()) {
        view.judge_chain(namespace, name, findings);
    }
    once::judge(view, item, findings);
    match &item.body {
        ItemBody::Use(_) | ItemBody::Unread(_) => {}
        ItemBody::Unit(written) => local_measure(view, written, findings),
        ItemBody::Rate(written) => rate(view, written, findings),
        ItemBody::Animal(written) => {
            let mut own = Vec::new();
            view.judge_animal(&written.name.text, &mut own);
            keep_own(view, own, findings);
            loosened(view, written, findings);
        }
        ItemBody::Nutrient(written) => {
            let mut own = Vec::new();
            view.judge_nutrient(&written.name.text, &mut own);
            keep_own(view, own, findings);
        }
        ItemBody::Ingredient(written) => {
            let mut own = Vec::new();
            view.judge_ingredient(&written.name.text, &mut own);
            keep_own(view, own, findings);
        }
        ItemBody::Lot(written) => lot(view, written, findings),
        ItemBody::Targets(written) => targets(view, written, findings),
        ItemBody::Ration(written) => return ration(view, &written.name, findings),
        ItemBody::Scale(written) => {
            view.scale(written, file, findings);
        }
        ItemBody::Vessel(written) => {
            view.vessel(written, file, findings);
        }
        ItemBody::Method(written) => {
            let mut own = Vec::new();
            view.method(&written.name.text, &mut own);
            keep_own(view, own, findings);
        }
        ItemBody::Group(written) => doings::group(view, item, written, findings),
        ItemBody::Record(written) => doings::record(view, written, findings),
    }
    true
}

/// What a book says wrong of itself is not this text's to say.
fn keep_own(view: &View<'_>, made: Vec<Finding>, findings: &mut Vec<Finding>) {
    let own = view.scope.own();
    findings.extend(made.into_iter().filter(|finding| finding.place.file == own));
}

fn ration(view: &View<'_>, name: &Name, findings: &mut Vec<Finding>) -> bool {
    let Some(ration) = view.judge_ration(&name.text, findings) else {
        return false;
    };
    judge::judge(view, &ration, findings);
    ration.is_sound && ration.adds_up
}

fn local_measure(view: &View<'_>, written: &tree::Unit, findings: &mut Vec<Finding>) {
    let file = view.scope.own();
    if let Some(of) = &written.of {
        view.knows(Namespace::Feed, of, view.place(of.span), findings);
    }
    let of = written.of.as_ref().map_or("", |of| of.text.as_str());
    let measure =
        view.reader_of(file, of)
            .quantity(&written.equals, &Wants::MASS_OR_VOLUME, findings);
    if measure.is_some_and(|measure| !measure.value.is_positive()) {
        findings.push(unit::no_measure(
            view.place(written.equals.span),
            &written.name.text,
        ));
    }
}

fn rate(view: &View<'_>, written: &tree::UnitRate, findings: &mut Vec<Finding>) {
    let reader = view.reader(view.scope.own());
    let from = reader.quantity(&written.from, &Wants::MONEY, findings);
    let to = reader.quantity(&written.to, &Wants::MONEY, findings);
    if let (Some(from), Some(to)) = (from, to) {
        let is_same = from.dimension == to.dimension;
        let is_money = is_currency(from.dimension.currency().unwrap_or_default());
        if is_same || !is_money || !from.value.is_positive() || !to.value.is_positive() {
            findings.push(unit::no_rate(
                view.place(written.from.span.to(written.to.span)),
            ));
        }
    }
}

/// A farm may tighten what a book bounds; where it loosens, the book's bound still holds.
fn loosened(view: &View<'_>, written: &tree::Animal, findings: &mut Vec<Finding>) {
    let own = view.scope.own();
    let has_bounds = written
        .lines
        .iter()
        .any(|line| matches!(line.statement, AnimalStatement::Bound { .. }));
    if view.farm.is_book(own) || !has_bounds {
        return;
    }
    let Some(animal) = view.animal(&written.name.text) else {
        return;
    };
    let kinds = view.kinds_of(&written.name.text);
    for bound in animal.bounds.iter().filter(|bound| bound.place.file == own) {
        // The book's bounds for the animal and for the kinds it is one of: all of them hold.
        let of_book = kinds
            .iter()
            .flat_map(|kind| &kind.bounds)
            .filter(|other| other.is_book && other.strength == bound.strength);
        let Some(book) = of_book.into_iter().find(|book| is_looser(bound, book)) else {
            continue;
        };
        let what = &bound.of.words;
        let (mut farm, mut bound_of_book) = (bound.range.words(), book.range.words());
        if bound.range.basis != book.range.basis {
            farm.push_str(&basis_words(&bound.range));
            bound_of_book.push_str(&basis_words(&book.range));
        }
        let code = match bound.strength {
            Strength::Law => &law::LOOSENED,
            Strength::Harm => &harm::LOOSENED,
        };
        findings.push(law::loosened(
            code,
            bound.place,
            what,
            &farm,
            &bound_of_book,
            book.place,
        ));
    }
}

fn basis_words(range: &Range) -> String {
    let basis = range.basis.as_ref();
    basis.map_or_else(String::new, |basis| format!(" {}", basis.words()))
}

/// Whether a bound allows what a book's bound on the same thing does not.
fn is_looser(bound: &AnimalBound, book: &AnimalBound) -> bool {
    let is_same = bound.of.words == book.of.words && bound.range.dimension == book.range.dimension;
    if !is_same {
        return false;
    }
    let (own, book) = (comparable(&bound.range), comparable(&book.range));
    let is_over = matches!((&own.high, &book.high), (Some(own), Some(book)) if own > book);
    let is_under = matches!((&own.low, &book.low), (Some(own), Some(book)) if own < book);
    is_over || is_under
}

/// A bound brought to 88 % dry matter, where it does not count as fed.
fn comparable(range: &Range) -> Range {
    let usual = Q::ratio(88, 100);
    let factor = match &range.basis {
        None | Some(Basis::AsFed) => Q::ONE,
        Some(Basis::OfDryMatter) => usual,
        Some(Basis::AtDryMatter(fraction)) => usual.over(fraction).unwrap_or(Q::ONE),
    };
    Range {
        low: range.low.as_ref().map(|low| low * &factor),
        high: range.high.as_ref().map(|high| high * &factor),
        ..range.clone()
    }
}

fn lot(view: &View<'_>, written: &tree::Lot, findings: &mut Vec<Finding>) {
    if !view.knows(
        Namespace::Feed,
        &written.of,
        view.place(written.of.span),
        findings,
    ) {
        return;
    }
    if let Some(ingredient) = view.ingredient(&written.of.text) {
        view.ingredient_of_lot(&ingredient, &written.name.text, findings);
    }
    for line in &written.lines {
        let mass = match &line.statement {
            tree::LotStatement::OnHand(mass) => Some(mass),
            tree::LotStatement::Received { mass, .. } => mass.as_ref(),
            _ => None,
        };
        if let Some(mass) = mass {
            let reader = view.reader_of(view.scope.own(), &written.of.text);
            reader.quantity(mass, &Wants::MASS, findings);
        }
    }
    findings.extend(left_over(view, written));
}

/// What is left of a delivery that is past its best before. Where a line of this text takes from it, that line says so.
fn left_over(view: &View<'_>, written: &tree::Lot) -> Option<Finding> {
    let lot = view.lot(&written.name.text)?;
    let (today, left) = (view.farm.settings().today?, lot.on_hand.as_ref()?);
    let day = lot.best_before.filter(|_| lot.is_past(today))?;
    left.is_positive()
        .then(|| store::left_over((&lot.name, lot.place), left, day, today))
}

fn targets(view: &View<'_>, written: &tree::Targets, findings: &mut Vec<Finding>) {
    let file = view.scope.own();
    if let Some(animal) = &written.for_animal {
        view.knows(Namespace::Animal, animal, view.place(animal.span), findings);
    }
    if let Some(phase) = &written.phase {
        ages(phase, file, findings);
    }
    for line in &written.lines {
        let Some(target) = &line.target else { continue };
        if let Some(quotient) = view.quotient(&target.of, file, findings) {
            view.bound_of(&quotient, &target.bound, file, findings);
        }
    }
}
