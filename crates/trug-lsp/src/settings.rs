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
    /// Reads settings, and says what could not be followed.
    pub(crate) fn read(value: &Value) -> (Settings, Vec<String>) {
        let value = value.get("trug").unwrap_or(value);
        let mut settings = Settings::default();
        let mut wrong = Vec::new();
        let Some(fields) = value.as_object() else {
            if !value.is_null() {
                wrong.push("the settings trug are no table".to_owned());
            }
            return (settings, wrong);
        };
        for (name, value) in fields {
            let is_read = match name.as_str() {
                _ if value.is_null() => true,
                "hints" => settings.read_hints(value),
                "root" => value
                    .as_str()
                    .map(|root| settings.root = named(root))
                    .is_some(),
                "today" => settings.read_today(value),
                "severity" => settings.read_severity(value),
                "helpInMessage" => value
                    .as_bool()
                    .map(|is_on| settings.help_in_message = is_on)
                    .is_some(),
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
    fn read_hints(&mut self, value: &Value) -> bool {
        if let Some(is_on) = value.as_bool() {
            self.hints = BTreeMap::from([(ALL_HINTS.to_owned(), is_on)]);
            return true;
        }
        let Some(fields) = value.as_object() else {
            return false;
        };
        for (name, value) in fields {
            match value.as_bool() {
                Some(is_on) => drop(self.hints.insert(name.clone(), is_on)),
                None => return false,
            }
        }
        true
    }

    fn read_today(&mut self, value: &Value) -> bool {
        let text = value.as_str().unwrap_or("?");
        self.today = text.parse().ok();
        self.today.is_some() || text.is_empty()
    }

    fn read_severity(&mut self, value: &Value) -> bool {
        let all = [Severity::Note, Severity::Warning, Severity::Error];
        let named = |severity: &Severity| value.as_str() == Some(severity.word());
        self.severity = all.into_iter().find(named);
        self.severity.is_some()
    }

    /// Whether a hint is on, as it is unless it is switched off.
    pub(crate) fn has_hint(&self, name: &str) -> bool {
        let said = self.hints.get(name).or_else(|| self.hints.get(ALL_HINTS));
        said.copied().unwrap_or(true)
    }
}

/// The word for every hint there is.
const ALL_HINTS: &str = "all";

fn named(root: &str) -> Option<String> {
    (!root.is_empty()).then(|| root.to_owned())
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn what_is_said_is_read() {
        let said = json!({ "trug": {
            "hints": { "sum": false }, "root": "farm", "today": "2026-11-25", "severity": "warning", "trace": 1,
        } });
        let (settings, wrong) = Settings::read(&said);
        assert_eq!(wrong, Vec::<String>::new());
        assert!(!settings.has_hint("sum"));
        assert!(settings.has_hint("cost"));
        assert_eq!(settings.root.as_deref(), Some("farm"));
        assert!(!settings.shows(Severity::Note));
        assert!(settings.shows(Severity::Warning));
    }

    #[test]
    fn what_cannot_be_followed_is_said_and_passed_over() {
        let said = json!({ "today": "tomorrow", "severity": 3, "hints": [1], "root": {} });
        let (settings, wrong) = Settings::read(&said);
        assert_eq!(settings, Settings::default());
        assert_eq!(wrong.len(), 4, "{wrong:?}");
        assert_eq!(
            Settings::read(&Value::Null),
            (Settings::default(), Vec::new())
        );
        assert_eq!(Settings::read(&json!(5)).1.len(), 1);
    }
}
