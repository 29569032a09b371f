//! The user's settings, `trug.*`, from `initializationOptions` and the client's configuration.

use std::collections::BTreeMap;

use jiff::civil::Date;
use serde_json::Value;
use trug_findings::Severity;

/// What the user wants; each setting stays as it is unless it is said.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Settings {
    /// Inlay hints that are switched on or off, by their names.
    pub(crate) hints: BTreeMap<String, bool>,
    /// The farm's root, instead of the one found.
    pub(crate) root: Option<String>,
    /// The day, instead of the clock's.
    pub(crate) today: Option<Date>,
    /// Findings that weigh less are not shown.
    pub(crate) severity: Option<Severity>,
    /// What to do stands in the message itself, for clients that show nothing else.
    pub(crate) help_in_message: bool,
}

impl Settings {
    /// These settings with those that are said in their place, and what of it could not be followed. What is not said
    /// stays as it is; null puts one back to what it is unless it is said.
    pub(crate) fn with(&self, said: &Value) -> (Settings, Vec<String>) {
        let said = said.get("trug").unwrap_or(said);
        let mut settings = self.clone();
        let mut wrong = Vec::new();
        let Some(fields) = said.as_object() else {
            if !said.is_null() {
                wrong.push("the settings trug are no table".to_owned());
            }
            return (settings, wrong);
        };
        for (name, value) in fields {
            let is_read = match name.as_str() {
                "hints" => settings.read_hints(value),
                "root" => settings.read_root(value),
                "today" => settings.read_today(value),
                "severity" => settings.read_severity(value),
                "helpInMessage" => settings.read_help_in_message(value),
                // A client keeps settings of its own under the same name.
                _ => true,
            };
            if !is_read {
                wrong.push(format!("the setting trug.{name} cannot be {value}"));
            }
        }
        (settings, wrong)
    }

    /// Whether a finding of this weight is shown.
    pub(crate) fn shows(&self, severity: Severity) -> bool {
        self.severity.is_none_or(|least| least <= severity)
    }

    /// One word for all hints, or one for each.
    fn read_hints(&mut self, said: &Value) -> bool {
        match said {
            Value::Null => self.hints.clear(),
            Value::Bool(is_on) => self.hints = BTreeMap::from([(ALL_HINTS.to_owned(), *is_on)]),
            Value::Object(fields) => {
                let is_read = |value: &Value| value.is_null() || value.is_boolean();
                if !fields.values().all(is_read) {
                    return false;
                }
                for (name, value) in fields {
                    match value.as_bool() {
                        Some(is_on) => drop(self.hints.insert(name.clone(), is_on)),
                        None => drop(self.hints.remove(name)),
                    }
                }
            }
            _ => return false,
        }
        true
    }

    fn read_root(&mut self, said: &Value) -> bool {
        match said {
            Value::Null => self.root = None,
            Value::String(root) => self.root = (!root.is_empty()).then(|| root.clone()),
            _ => return false,
        }
        true
    }

    fn read_today(&mut self, said: &Value) -> bool {
        let today = match said {
            Value::Null => None,
            Value::String(day) if day.is_empty() => None,
            Value::String(day) => match day.parse() {
                Ok(day) => Some(day),
                Err(_) => return false,
            },
            _ => return false,
        };
        self.today = today;
        true
    }

    fn read_severity(&mut self, said: &Value) -> bool {
        let all = [Severity::Note, Severity::Warning, Severity::Error];
        let named = |severity: &Severity| said.as_str() == Some(severity.word());
        let severity = all.into_iter().find(named);
        let is_read = severity.is_some() || said.is_null();
        if is_read {
            self.severity = severity;
        }
        is_read
    }

    fn read_help_in_message(&mut self, said: &Value) -> bool {
        let is_on = said.as_bool();
        let is_read = is_on.is_some() || said.is_null();
        if is_read {
            self.help_in_message = is_on.unwrap_or(false);
        }
        is_read
    }

    /// Whether a hint is on, as it is unless it is switched off.
    pub(crate) fn has_hint(&self, name: &str) -> bool {
        let said = self.hints.get(name).or_else(|| self.hints.get(ALL_HINTS));
        said.copied().unwrap_or(true)
    }
}

/// The word for every hint there is.
const ALL_HINTS: &str = "all";

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use serde_json::json;

    use super::*;

    /// Every setting as it is not unless it is said.
    fn every() -> Value {
        json!({
            "hints": { "sum": false, "cost": false }, "root": "farm", "today": "2026-11-25", "severity": "warning",
            "helpInMessage": true,
        })
    }

    fn said(value: Value) -> Settings {
        let (settings, wrong) = Settings::default().with(&value);
        assert_eq!(wrong, Vec::<String>::new());
        settings
    }

    #[test]
    fn what_is_said_is_read() {
        let settings = said(json!({ "trug": {
            "hints": { "sum": false }, "root": "farm", "today": "2026-11-25", "severity": "warning", "trace": 1,
        } }));
        assert!(!settings.has_hint("sum"));
        assert!(settings.has_hint("cost"));
        assert_eq!(settings.root.as_deref(), Some("farm"));
        assert!(!settings.shows(Severity::Note));
        assert!(settings.shows(Severity::Warning));
    }

    #[test]
    fn what_is_not_said_stays_as_it_is() {
        let before = said(every());
        for (some, of) in [
            (json!({}), json!({})),
            (
                json!({ "hints": { "sum": true } }),
                json!({ "hints": { "cost": false, "sum": true } }),
            ),
            (json!({ "root": "" }), json!({ "root": null })),
            (
                json!({ "severity": "error" }),
                json!({ "severity": "error" }),
            ),
        ] {
            let mut whole = every();
            for (name, value) in of.as_object().unwrap() {
                whole[name] = value.clone();
            }
            assert_eq!(before.with(&some), (said(whole), Vec::new()), "{some}");
        }
    }

    #[test]
    fn null_puts_one_back() {
        let before = said(every());
        let (settings, wrong) = before.with(&json!({ "hints": { "sum": null }, "today": null }));
        assert_eq!(wrong, Vec::<String>::new());
        assert!(settings.has_hint("sum") && !settings.has_hint("cost"));
        assert_eq!(
            (settings.today, settings.root.as_deref()),
            (None, Some("farm"))
        );
        let none = json!({ "hints": null, "root": null, "today": null, "severity": null, "helpInMessage": null });
        assert_eq!(before.with(&none), (Settings::default(), Vec::new()));
    }

    #[test]
    fn what_cannot_be_followed_is_said_and_passed_over() {
        let before = said(
            json!({ "hints": false, "root": "farm", "today": "2026-11-25", "severity": "error" }),
        );
        let wrong = json!({ "today": "tomorrow", "severity": 3, "hints": { "sum": true, "cost": 1 }, "root": {} });
        let (settings, complaints) = before.with(&wrong);
        assert_eq!(settings, before);
        assert_eq!(complaints.len(), 4, "{complaints:?}");
        assert_eq!(before.with(&Value::Null), (before.clone(), Vec::new()));
        assert_eq!(before.with(&json!(5)).1.len(), 1);
    }
}
