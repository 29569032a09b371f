//! A flat table for a spreadsheet (RFC 4180): rows by the names of their columns.

use trug_model::Q;

/// The cells of one row.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    columns: &'static [&'static str],
    cells: Vec<String>,
}

impl Row {
    /// An empty row under these columns.
    pub(crate) fn of(columns: &'static [&'static str]) -> Row {
        Row {
            columns,
            cells: vec![String::new(); columns.len()],
        }
    }

    /// Numbers and words of our own.
    pub(crate) fn put(&mut self, column: &str, cell: &str) {
        let slots = self.columns.iter().zip(&mut self.cells);
        for (_, slot) in slots.filter(|(name, _)| **name == column) {
            cell.clone_into(slot);
        }
    }

    /// A mass in grams.
    pub(crate) fn grams(&mut self, column: &str, grams: &Q) {
        self.put(column, &grams.to_string());
    }

    /// What others wrote: what would start a formula stands behind an apostrophe.
    pub(crate) fn text(&mut self, column: &str, cell: &str) {
        if cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
            self.put(column, &format!("'{cell}"));
        } else {
            self.put(column, cell);
        }
    }
}

/// The rows under their columns, with quotes where they need them and the line ends of the standard.
pub(crate) fn written(columns: &[&str], rows: &[Row]) -> String {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    // Every row has as many cells as the head, and memory does not refuse to be written to.
    let _ = writer.write_record(columns);
    for row in rows {
        let _ = writer.write_record(&row.cells);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_start_no_formula() {
        let mut row = Row::of(&["a", "b"]);
        row.text("a", "=1+1");
        row.put("b", "say \"no\", twice");
        assert_eq!(
            written(&["a", "b"], &[row]),
            "a,b\r\n'=1+1,\"say \"\"no\"\", twice\"\r\n"
        );
    }
}
