//! A real browser, driven over WebDriver: as much of the protocol as these tests speak.

use std::io::{BufRead as _, BufReader, Read as _};
use std::process::{Child, ChildStdout, Command, Stdio};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use tempfile::TempDir;
use ureq::Agent;

/// A browser with one window, and its driver. Both end with it.
pub(crate) struct Browser {
    agent: Agent,
    driver: Child,
    session: String,
    // A driver that nobody listens to may end.
    _says: BufReader<ChildStdout>,
    _profile: TempDir,
}

/// A sheet of paper, in centimetres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Paper {
    pub(crate) name: &'static str,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

pub(crate) const PAPERS: [Paper; 2] = [
    Paper {
        name: "A4",
        width: 21.0,
        height: 29.7,
    },
    Paper {
        name: "Letter",
        width: 21.59,
        height: 27.94,
    },
];

const CALM: [&str; 8] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
];

impl Browser {
    /// A window of a screen.
    pub(crate) fn wide() -> Self {
        Self::start(json!({}))
    }

    /// A small phone.
    pub(crate) fn phone() -> Self {
        let metrics = json!({"width": 360, "height": 740, "pixelRatio": 2.0, "touch": true});
        Self::start(json!({"mobileEmulation": {"deviceMetrics": metrics}}))
    }

    fn start(mut options: Value) -> Self {
        let (driver, says, port) = driver();
        let profile = tempfile::tempdir().unwrap();
        let profile_path = profile.path().display();
        let mut arguments: Vec<String> = CALM.map(str::to_owned).to_vec();
        arguments.push("--window-size=1200,1600".to_owned());
        arguments.push(format!("--user-data-dir={profile_path}"));
        options["args"] = json!(arguments);
        let config = Agent::config_builder().http_status_as_error(false).build();
        let mut browser = Self {
            agent: Agent::new_with_config(config),
            driver,
            session: format!("http://127.0.0.1:{port}"),
            _says: says,
            _profile: profile,
        };
        let wanted = json!({
            "goog:chromeOptions": options,
            "goog:loggingPrefs": {"browser": "ALL"},
            "unhandledPromptBehavior": "ignore",
        });
        let session = browser.post(
            "/session",
            &json!({"capabilities": {"alwaysMatch": wanted}}),
        );
        let id = session["sessionId"]
            .as_str()
            .unwrap_or_else(|| panic!("{session}"));
        browser.session.push_str(&format!("/session/{id}"));
        browser
    }

    /// What the driver answers; an error is a value with `error`.
    fn post(&self, path: &str, body: &Value) -> Value {
        let url = format!("{}{path}", self.session);
        let mut answer = self.agent.post(url).send_json(body).unwrap();
        let mut answer: Value = answer.body_mut().read_json().unwrap();
        answer["value"].take()
    }

    pub(crate) fn open(&self, file: &std::path::Path) {
        let url = format!("file://{}", file.display());
        assert_eq!(self.post("/url", &json!({"url": url})), Value::Null);
    }

    pub(crate) fn reload(&self) {
        assert_eq!(self.post("/refresh", &json!({})), Value::Null);
    }

    /// What a script returns.
    pub(crate) fn run(&self, script: &str) -> Value {
        let answer = self.post("/execute/sync", &json!({"script": script, "args": []}));
        assert_eq!(answer["error"], Value::Null, "{answer}");
        answer
    }

    /// The elements a selector finds, by the ids the driver gives them.
    fn find(&self, selector: &str) -> Vec<String> {
        let body = json!({"using": "css selector", "value": selector});
        let found = self.post("/elements", &body);
        let ids = found.as_array().unwrap().iter();
        ids.filter_map(|it| it.as_object()?.values().next()?.as_str())
            .map(str::to_owned)
            .collect()
    }

    /// Clicks what is there to be clicked: fails where something else lies over it.
    pub(crate) fn click(&self, selector: &str) {
        let found = self.find(selector);
        let id = found.first().unwrap_or_else(|| panic!("no {selector}"));
        // A person moves it out from under the line that says what is left.
        self.run(&format!(
            "document.querySelector({selector:?}).scrollIntoView({{ block: 'center' }})"
        ));
        let answer = self.post(&format!("/element/{id}/click"), &json!({}));
        assert_eq!(answer, Value::Null, "{selector}");
    }

    /// Types as a person does.
    pub(crate) fn write(&self, selector: &str, text: &str) {
        let found = self.find(selector);
        let id = found.first().unwrap_or_else(|| panic!("no {selector}"));
        let answer = self.post(&format!("/element/{id}/value"), &json!({"text": text}));
        assert_eq!(answer, Value::Null, "{selector}");
    }

    /// Whether the page asks or tells something in a box of its own.
    pub(crate) fn has_prompt(&self) -> bool {
        let url = format!("{}/alert/text", self.session);
        let mut answer = self.agent.get(url).call().unwrap();
        let answer: Value = answer.body_mut().read_json().unwrap();
        answer["value"].is_string()
    }

    pub(crate) fn accept_prompt(&self) {
        assert_eq!(self.post("/alert/accept", &json!({})), Value::Null);
    }

    /// What the browser had to complain of since it was last asked.
    pub(crate) fn complaints(&self) -> Vec<String> {
        let log = self.post("/se/log", &json!({"type": "browser"}));
        let entries = log.as_array().unwrap_or_else(|| panic!("{log}")).iter();
        entries.map(|it| it["message"].to_string()).collect()
    }

    /// A request to the browser's own tools, beside the standard.
    pub(crate) fn tool(&self, command: &str, parameters: &Value) {
        let body = json!({"cmd": command, "params": parameters});
        let answer = self.post("/goog/cdp/execute", &body);
        assert_eq!(answer["error"], Value::Null, "{answer}");
    }

    /// What comes out of the printer, as a PDF.
    pub(crate) fn print(&self, paper: Paper) -> Vec<u8> {
        let page = json!({"width": paper.width, "height": paper.height});
        let wanted = json!({"page": page, "shrinkToFit": false});
        // A browser that is short of memory or time says now and then that printing failed, or hands out a blank sheet, and
        // prints the next time.
        let mut answer = self.post("/print", &wanted);
        for _ in 1..TRIES {
            if written(&answer).is_some() {
                break;
            }
            answer = self.post("/print", &wanted);
        }
        written(&answer).unwrap_or_else(|| panic!("{answer}"))
    }

    /// How many pages the print has.
    pub(crate) fn pages(&self, paper: Paper) -> usize {
        let print = self.print(paper);
        let print = String::from_utf8_lossy(&print);
        let is_page = |after: &&str| !after.starts_with(|next: char| next.is_alphanumeric());
        print.split("/Type /Page").skip(1).filter(is_page).count()
    }
}

/// A print with letters on it.
fn written(answer: &Value) -> Option<Vec<u8>> {
    let print = STANDARD.decode(answer.as_str()?).ok()?;
    let has_letters = String::from_utf8_lossy(&print).contains("/Font");
    has_letters.then_some(print)
}

/// How often a driver is started, or asked to print: the port it finds free may be taken by another before it listens.
const TRIES: usize = 5;

/// A driver that listens, what it says, and the port it took.
fn driver() -> (Child, BufReader<ChildStdout>, u16) {
    let started = (0..TRIES).find_map(|_| {
        let mut driver = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver is needed for these tests");
        let mut says = BufReader::new(driver.stdout.take().unwrap());
        if let Some(port) = port_of(&mut says) {
            return Some((driver, says, port));
        }
        let _ = driver.kill();
        let _ = driver.wait();
        None
    });
    started.expect("the driver says its port")
}

fn port_of(says: &mut BufReader<ChildStdout>) -> Option<u16> {
    let mut lines = says.by_ref().lines().map_while(Result::ok);
    lines.find_map(|line| {
        let (_, port) = line.split_once("successfully on port ")?;
        port.trim_end_matches('.').parse().ok()
    })
}

impl Drop for Browser {
    fn drop(&mut self) {
        // Nothing is left to be done where the driver is gone already.
        let _ = self.agent.delete(&self.session).call();
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}
