//! `trug buy`: what the groups need from the store, what to buy of it by when, and what runs out or expires.

use trug_findings::{FileId, Finding};
use trug_report::buy::{ShoppingList, buy_csv, buy_document, buy_html, buy_text};
use trug_report::{findings, json};
use trug_store::{Buying, Judged, buying};
use trug_syntax::tree::{Item, ItemBody};

use crate::args::{self, BuyForm};
use crate::ending::{Ending, Failure, print, say, shown, to_stderr};
use crate::load::{Loaded, load};
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_whole};

/// Prints the shopping list.
pub(crate) fn buy(typed: &args::Buy, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    let loaded = load(&typed.paths, setting)?;
    let farm = &loaded.farm;
    let found = farm.check();
    let texts: Vec<FileId> = farm.files().collect();
    let days = u32::from(typed.days);
    let buying = buying(farm, &texts, Judged::Found(&found), setting.today, days);
    if !has_groups(&loaded, &texts) && buying.uncounted.is_empty() {
        return Err(no_groups(typed));
    }
    tell_errors(&buying, &loaded, setting);
    let ending = loaded.ending.max(Ending::wanting(!buying.is_whole()));
    let list = ShoppingList {
        buying: &buying,
        sources: farm.sources(),
    };
    let result = match typed.form {
        BuyForm::Text => buy_text(&list, setting.style(Stream::Out).width),
        BuyForm::Json => json::to_json(&buy_document(&list)),
        BuyForm::Csv => buy_csv(&list),
        BuyForm::Html => buy_html(&list),
    };
    match &typed.out {
        Some(path) => write_whole(path, result.as_bytes())?,
        None => print(result.as_bytes())?,
    }
    Ok(ending)
}

fn has_groups(loaded: &Loaded, texts: &[FileId]) -> bool {
    let is_group = |item: &Item| matches!(item.body, ItemBody::Group(_));
    let has_one = |text: &FileId| loaded.farm.tree(*text).items.iter().any(is_group);
    texts.iter().any(has_one)
}

/// The errors for which something is not counted, each once, and what is not counted.
fn tell_errors(buying: &Buying, loaded: &Loaded, setting: &Setting) {
    let mut errors: Vec<Finding> = Vec::new();
    let uncounted = || buying.uncounted.iter().filter(|one| !one.is_later);
    for error in uncounted().flat_map(|one| &one.errors) {
        if !errors.contains(error) {
            errors.push(error.clone());
        }
    }
    if !errors.is_empty() {
        let style = setting.style(Stream::Error);
        to_stderr(&findings::human(&errors, loaded.farm.sources(), &style));
    }
    for one in uncounted() {
        if let (Some(group), Some(ration)) = (&one.group, &one.ration) {
            say(&format!("what {group} eats of {ration} is not on the list"));
        }
    }
}

fn no_groups(typed: &args::Buy) -> Failure {
    let paths: Vec<String> = typed.paths.iter().map(|path| shown(path)).collect();
    Failure::new(format!("there is no group in {}", paths.join(", "))).help(
        "name a text that has one, or write one: `group pond-house`, and below it `320 duck` and `eats RATION 165 g/day`",
    )
}
