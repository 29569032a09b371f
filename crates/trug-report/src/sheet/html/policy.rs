//! What the page may do: run its own script, use its own style, and nothing else.

use std::fmt::Write as _;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

/// The page's policy, which names style and script by their hashes.
pub(super) fn policy(style: &str, script: &str) -> String {
    let script = STANDARD.encode(Sha256::digest(script));
    let style = STANDARD.encode(Sha256::digest(style));
    format!(
        "default-src 'none'; script-src 'sha256-{script}'; style-src 'sha256-{style}'; base-uri 'none'; form-action 'none'"
    )
}

/// The hash of a text in hexadecimal digits.
pub(super) fn hex(text: &str) -> String {
    let mut hex = String::new();
    for byte in Sha256::digest(text) {
        // Writing to a string cannot fail.
        let _ = write!(hex, "{byte:02x}");
    }
    hex
}
