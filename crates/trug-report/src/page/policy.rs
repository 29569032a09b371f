//! What a page may do: run its own script, use its own style, and nothing else.

use std::fmt::Write as _;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

/// The page's policy, which names its style and its script, where it has one, by their hashes.
pub(crate) fn policy(style: &str, script: Option<&str>) -> String {
    let source = |text: &str| format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text)));
    let script = script.map_or_else(|| "'none'".to_owned(), source);
    let style = source(style);
    format!(
        "default-src 'none'; script-src {script}; style-src {style}; base-uri 'none'; form-action 'none'"
    )
}

/// The hash of a text in hexadecimal digits.
pub(crate) fn hex(text: &str) -> String {
    let mut hex = String::new();
    for byte in Sha256::digest(text) {
        // Writing to a string cannot fail.
        let _ = write!(hex, "{byte:02x}");
    }
    hex
}
