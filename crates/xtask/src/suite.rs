//! Runs every check there is, and says how long each took.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

use crate::fault::Fault;
use crate::generate;
use crate::pins;
use crate::place;
use crate::run::{Count, run, run_counted};
use crate::setup::{Scope, Tools, prepare, say};
use crate::site;

/// What a step says when it ends well: how many tests it ran, if it ran any.
type Outcome = Result<Option<Count>, Fault>;

/// A step: its name, and what it does on a machine that is ready.
type Step = (&'static str, fn(&Tools) -> Outcome);

/// The packages that run in a browser.
const FOR_BROWSER: &[&str] = &["evenfeed-web", "evenfeed-worker"];
/// The one whose tests run there.
const IN_BROWSER: &str = "evenfeed-web";

/// The steps in order: what is quick to fail stands first.
const STEPS: &[Step] = &[
    ("format", format),
    ("clippy", clippy),
    ("clippy for the browser", clippy_for_browser),
    ("native tests", native_tests),
    ("generated tables", |_| {
        generate::generate(true).map(|()| None)
    }),
    ("browser tests", browser_tests),
    ("site", |tools| site::build(tools).map(|()| None)),
    ("browser walk", walk),
];

/// Without the site there is nothing to walk through, and the last one must not stand in for it.
const NEEDED_BY_THE_NEXT: &str = "site";

/// One step as it went.
struct Row {
    name: &'static str,
    seconds: f64,
    outcome: Outcome,
}

/// Sets up what is missing, then runs every step, also after one that failed.
///
/// # Errors
/// The fault of set-up; else `Steps`, naming every step that failed.
pub fn test(debian: bool) -> Result<(), Fault> {
    let start = Instant::now();
    let tools = prepare(Scope::Tests, debian)?;
    let mut rows = vec![Row {
        name: "set-up",
        seconds: start.elapsed().as_secs_f64(),
        outcome: Ok(None),
    }];
    for (name, step) in STEPS {
        say(name, "running");
        let start = Instant::now();
        let outcome = step(&tools);
        let seconds = start.elapsed().as_secs_f64();
        let stop = outcome.is_err() && *name == NEEDED_BY_THE_NEXT;
        if let Err(fault) = &outcome {
            eprintln!("xtask: {fault}");
        }
        rows.push(Row {
            name,
            seconds,
            outcome,
        });
        if stop {
            break;
        }
    }
    close(&rows)
}

/// Prints what each step took and ran, and the sum.
fn close(rows: &[Row]) -> Result<(), Fault> {
    println!("\n   seconds  tests  step");
    let mut sum = Count::default();
    let mut failed = Vec::new();
    for row in rows {
        let (tests, remark) = match &row.outcome {
            Ok(Some(count)) => (count.passed.to_string(), ""),
            Ok(None) => (String::new(), ""),
            Err(_) => (String::new(), "  FAILED"),
        };
        println!("   {:>7.1}  {tests:>5}  {}{remark}", row.seconds, row.name);
        match &row.outcome {
            Ok(count) => sum = sum + count.unwrap_or_default(),
            Err(_) => failed.push(row.name),
        }
    }
    let seconds: f64 = rows.iter().map(|row| row.seconds).sum();
    println!("   {seconds:>7.1}  {:>5}  in all", sum.passed);
    if failed.is_empty() {
        println!("\n{} passed, {} failed", sum.passed, sum.failed);
        return Ok(());
    }
    Err(Fault::Steps { failed })
}

fn format(tools: &Tools) -> Outcome {
    run(
        "format",
        tools.native("cargo").args(["fmt", "--all", "--check"]),
    )?;
    Ok(None)
}

fn clippy(tools: &Tools) -> Outcome {
    let mut cargo = tools.native("cargo");
    cargo.args([
        "clippy",
        "--workspace",
        "--all-targets",
        "--locked",
        "--keep-going",
        "--",
        "-D",
        "warnings",
    ]);
    run("clippy", &mut cargo)?;
    Ok(None)
}

fn clippy_for_browser(tools: &Tools) -> Outcome {
    let mut cargo = tools.wasm("cargo");
    cargo.args([
        "clippy",
        "--all-targets",
        "--locked",
        "--target",
        pins::WASM_TARGET,
    ]);
    cargo.args(
        FOR_BROWSER
            .iter()
            .flat_map(|package| ["--package", package]),
    );
    run(
        "clippy for the browser",
        cargo.args(["--", "-D", "warnings"]),
    )?;
    Ok(None)
}

fn native_tests(tools: &Tools) -> Outcome {
    let mut cargo = tools.native("cargo");
    run_counted(
        "native tests",
        cargo.args(["test", "--workspace", "--locked", "--no-fail-fast"]),
    )
    .map(Some)
}

fn browser_tests(tools: &Tools) -> Outcome {
    let settings = place::web_target(&tools.workspace).join("webdriver.json");
    let text = webdriver(&tools.browser);
    fs::write(&settings, text).map_err(Fault::file(&settings))?;
    let mut cargo = tools.wasm("cargo");
    cargo.args(["test", "--locked", "--target", pins::WASM_TARGET]);
    cargo.args(["--package", IN_BROWSER]);
    cargo.env("CHROMEDRIVER", &tools.driver);
    cargo.env("WASM_BINDGEN_TEST_WEBDRIVER_JSON", &settings);
    // Its own 20 s for all tests together are nearly used up on an idle machine.
    cargo.env("WASM_BINDGEN_TEST_TIMEOUT", "120");
    run_counted("browser tests", &mut cargo).map(Some)
}

/// The driver's settings: a browser without a window that calls nobody.
fn webdriver(browser: &Path) -> String {
    let arguments = [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
    ];
    format!("{{\"goog:chromeOptions\": {{\"binary\": {browser:?}, \"args\": {arguments:?}}}}}\n")
}

/// The walk starts and stops its own server, to prove what works without one.
fn walk(tools: &Tools) -> Outcome {
    let folder = tools.workspace.join("tests/walk");
    let entries = fs::read_dir(&folder).map_err(Fault::file(&folder))?;
    let mut files: Vec<PathBuf> = entries.filter_map(Result::ok).map(|e| e.path()).collect();
    files.retain(|path| path.to_string_lossy().ends_with(".test.mjs"));
    files.sort();
    let this = env::current_exe().map_err(Fault::file(Path::new("xtask")))?;
    let mut node = tools.native("node");
    node.args(["--test", "--test-reporter=spec"]).args(files);
    node.env("EVENFEED_SITE", tools.workspace.join("dist"));
    node.env("EVENFEED_HOST", format!("{} host", this.display()));
    node.env("CHROMIUM", &tools.browser);
    run_counted("browser walk", &mut node).map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_failed_step_is_named_and_only_those() {
        let row = |name, outcome| Row {
            name,
            seconds: 0.0,
            outcome,
        };
        let passed = Count {
            passed: 2,
            failed: 0,
        };
        assert!(close(&[row("one", Ok(None)), row("two", Ok(Some(passed)))]).is_ok());
        let broken = Err(Fault::NoTests { step: "two" });
        let fault = close(&[row("one", Ok(Some(passed))), row("two", broken)]).unwrap_err();
        assert_eq!(fault.to_string(), "failed: two");
    }

    #[test]
    fn the_driver_is_told_where_the_browser_is() {
        let text = webdriver(Path::new("/opt/a \"b\"/chrome"));
        assert!(text.contains(r#""binary": "/opt/a \"b\"/chrome", "args": ["--headless", "#));
    }
}
