//! Habits that a search can hold: nothing left for later, no test switched off, no number field of
//! the browser's, no markup made of text.

use std::fs;
use std::path::{Path, PathBuf};

/// Built from halves, so that this file does not hold what it looks for.
const UNWANTED: [&str; 5] = [
    concat!("TO", "DO"),
    concat!("FIX", "ME"),
    concat!("to", "do!("),
    concat!("unimpl", "emented!("),
    concat!("#[ign", "ore"),
];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("readable") {
        let path = entry.expect("readable").path();
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if path.is_dir() {
            if !matches!(name.as_str(), "target" | "node_modules" | "dist" | "out") {
                sources(&path, found);
            }
        } else if matches!(
            path.extension().and_then(|e| e.to_str()),
            Some("rs" | "mjs" | "js" | "css" | "py" | "html")
        ) {
            found.push(path);
        }
    }
}

#[test]
fn nothing_is_left_for_later_and_no_test_is_off() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut found = Vec::new();
    for folder in ["crates", "web", "tests"] {
        sources(&root.join(folder), &mut found);
    }
    assert!(found.len() > 50, "only {} sources found", found.len());
    for path in found {
        let text = fs::read_to_string(&path).expect("UTF-8");
        for (number, line) in text.lines().enumerate() {
            for unwanted in UNWANTED {
                assert!(
                    !line.contains(unwanted),
                    "{}:{} holds {unwanted}",
                    path.display(),
                    number + 1
                );
            }
        }
    }
}

/// A browser's number field reads "1,5" as 15; markup made of text runs what a person typed.
#[test]
fn the_page_has_no_number_field_and_makes_no_markup_of_text() {
    let mut found = Vec::new();
    sources(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("../web"),
        &mut found,
    );
    assert!(found.len() > 20, "only {} sources found", found.len());
    for path in found {
        let text = fs::read_to_string(&path).expect("UTF-8");
        for unwanted in [
            "type=\"number\"",
            "inner_html",
            "innerHTML",
            "document.write",
        ] {
            assert!(
                !text.contains(unwanted),
                "{} holds {unwanted}",
                path.display()
            );
        }
    }
}
