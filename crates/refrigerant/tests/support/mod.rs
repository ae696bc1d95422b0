//! Reads the tables of published values in `tests/data`.

use std::collections::HashMap;
use std::path::Path;

use refrigerant::Refrigerant;

/// One row of a table: column name to text.
pub struct Row(HashMap<String, String>);

impl Row {
    /// The text of a column; the tables are ours, so that a missing column stops the test.
    pub fn text(&self, column: &str) -> &str {
        self.0
            .get(column)
            .unwrap_or_else(|| panic!("no column {column}"))
    }

    /// The number of a column.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|_| panic!("{column}: {text} is not a number"))
    }

    /// The refrigerant of a row; `None` for those this project has no table for.
    pub fn refrigerant(&self) -> Option<Refrigerant> {
        Refrigerant::from_name(self.text("refrigerant"))
    }
}

/// Every row of `tests/data/NAME.csv`. Lines that begin with `#` are the source; a cell may stand
/// in double quotes and then hold commas.
pub fn rows(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/data")
        .join(name);
    let text = std::fs::read_to_string(path.with_extension("csv"));
    let text = text.unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut lines = text
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(cells);
    let header = lines.next().unwrap_or_default();
    let rows: Vec<Row> = lines
        .map(|line| Row(header.iter().cloned().zip(line).collect()))
        .collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

fn cells(line: &str) -> Vec<String> {
    let mut found = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => found.push(String::new()),
            other => found.last_mut().expect("one cell at least").push(other),
        }
    }
    found
}
