//! `workspace/executeCommand`: pages for a preview beside the text.

use serde_json::Value;
use tower_lsp::jsonrpc::{Error, Result};
use trug_findings::FileId;
use trug_ide::{preview, texts};
use trug_model::Farm;

use crate::lsp::{ExecuteCommandParams, Url};
use crate::snapshot::{Cancel, Snapshot};

/// The commands there are.
pub(crate) const COMMANDS: [&str; 5] = [PLAN, ANALYSE, BALANCE, WHY, USED];
const PLAN: &str = "trug.plan";
const ANALYSE: &str = "trug.analyse";
const BALANCE: &str = "trug.balance";
/// Where a ration is used: for clients that do not show the places of the lens themselves.
const USED: &str = "trug.used";
const WHY: &str = "trug.why";

/// The text whose page a command shows.
pub(crate) fn shown(params: &ExecuteCommandParams) -> Option<Url> {
    let is_shown = [PLAN, ANALYSE, BALANCE].contains(&params.command.as_str());
    let uri = params.arguments.first()?.as_str()?;
    Url::parse(uri).ok().filter(|_| is_shown)
}

/// `trug.plan`, `trug.analyse` and `trug.balance` take `[uri, ration]` and give HTML; `trug.why` takes `[code]` and gives Markdown.
pub(crate) fn execute(
    snapshot: &Snapshot,
    params: ExecuteCommandParams,
    cancel: &Cancel<'_>,
) -> Result<Option<Value>> {
    let argument = |rank: usize| params.arguments.get(rank).and_then(Value::as_str);
    if params.command == WHY {
        let code = argument(0)
            .ok_or_else(|| Error::invalid_params("trug.why takes the code of a finding"))?;
        let page = texts::page(code)
            .ok_or_else(|| Error::invalid_params(format!("there is no finding {code}")))?;
        return Ok(Some(Value::from(page)));
    }
    let is_cancelled = || !cancel.is_wanted();
    let balance = |farm: &Farm, file, ration: Option<&str>| {
        preview::balance(farm, file, ration, &is_cancelled)
    };
    let draw: &dyn Fn(&Farm, FileId, Option<&str>) -> String = match params.command.as_str() {
        PLAN => &preview::plan,
        ANALYSE => &preview::analysis,
        BALANCE => &balance,
        USED => return Ok(params.arguments.get(2).cloned()),
        other => {
            return Err(Error::invalid_params(format!(
                "there is no command {other}"
            )));
        }
    };
    let text = shown(&params).and_then(|uri| snapshot.text(&uri));
    let text = text.ok_or_else(|| {
        Error::invalid_params(format!("{} takes the address of a text", params.command))
    })?;
    Ok(Some(Value::from(draw(text.farm(), text.file, argument(1)))))
}
