//! Cells of tables that others open in a spreadsheet.

/// A cell that a spreadsheet takes for text: what would start a formula stands behind an apostrophe.
pub(crate) fn text_cell(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// Rows with quotes where they need them, and line ends as RFC 4180 has them.
pub(crate) fn written<const COLUMNS: usize>(rows: &[[String; COLUMNS]]) -> String {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    for row in rows {
        // Every row has as many cells as the head, and memory does not refuse to be written to.
        let _ = writer.write_record(row);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}
