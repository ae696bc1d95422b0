//! Every stack of whole cases in `tests/cases`: one line a call, as a shop would run it, with what
//! it must come to under `expect`. Readings are rounded as tools show them.

use serde_json::{Value, json};
use std::path::Path;

mod support;

#[test]
fn every_case_comes_to_what_it_expects() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/cases");
    let mut cases = 0;
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("readable").path();
        if path.extension().is_none_or(|ending| ending != "jsonl") {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("readable");
        let ran = support::run(&["evaluate"], text.as_bytes());
        assert_eq!(ran.status, Some(0), "{}: {}", path.display(), ran.stdout);
        let given = text
            .lines()
            .map(|line| serde_json::from_str::<Value>(line).expect("JSON"));
        for (given, told) in given.zip(&ran.lines) {
            let case = &given["case"];
            let expect = &given["expect"];
            assert_eq!(
                told["findings"][0]["cause"], expect["cause"],
                "{case}: {told}"
            );
            assert_eq!(
                told["charge_advice"], expect["charge_advice"],
                "{case}: {told}"
            );
            assert_eq!(told["ignored_fields"], json!(["case", "expect"]), "{case}");
            assert_eq!(told["doubts"], json!([]), "{case}");
            cases += 1;
        }
    }
    assert!(cases >= 5, "{cases} cases");
}
