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

/// The packages whose tests run in a browser.
const IN_BROWSER: &[&str] = &["evenfeed-web"];

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

/// Sets up what is missing, then runs every step; stops at the first that fails.
///
/// # Errors
/// The fault of the step that failed.
pub fn test(debian: bool) -> Result<(), Fault> {
    let mut rows = Vec::new();
    let outcome = steps(debian, &mut rows);
    println!("\n   seconds  tests  step");
    for (name, seconds, count) in &rows {
        let tests = count.map_or(String::new(), |count| count.passed.to_string());
        println!("   {seconds:>7.1}  {tests:>5}  {name}");
    }
    let seconds: f64 = rows.iter().map(|(_, seconds, _)| seconds).sum();
    let counts = rows.iter().filter_map(|(_, _, count)| *count);
    let (passed, failed) = counts.fold((0, 0), |(p, f), c| (p + c.passed, f + c.failed));
    println!("   {seconds:>7.1}  {passed:>5}  all steps run");
    if outcome.is_ok() {
        println!("\n{passed} passed, {failed} failed");
    }
    outcome
}

type Row = (&'static str, f64, Option<Count>);

fn steps(debian: bool, rows: &mut Vec<Row>) -> Result<(), Fault> {
    let mut timed = |name: &'static str, work: &mut dyn FnMut() -> Outcome| {
        let start = Instant::now();
        let outcome = work();
        let count = outcome.as_ref().ok().copied().flatten();
        let label = if outcome.is_ok() { name } else { "FAILED here" };
        rows.push((label, start.elapsed().as_secs_f64(), count));
        outcome
    };
    let mut tools = None;
    timed("set-up", &mut || {
        tools = Some(prepare(Scope::Tests, debian)?);
        Ok(None)
    })?;
    let Some(tools) = tools else { return Ok(()) };
    for (name, step) in STEPS {
        say(name, "running");
        timed(name, &mut || step(&tools))?;
    }
    Ok(())
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
    cargo.args(IN_BROWSER.iter().flat_map(|package| ["--package", package]));
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
        cargo.args(["test", "--workspace", "--locked"]),
    )
    .map(Some)
}

fn browser_tests(tools: &Tools) -> Outcome {
    let settings = place::web_target(&tools.workspace).join("webdriver.json");
    let text = webdriver(&tools.browser);
    fs::write(&settings, text).map_err(Fault::file(&settings))?;
    let mut cargo = tools.wasm("cargo");
    cargo.args(["test", "--locked", "--target", pins::WASM_TARGET]);
    cargo.args(IN_BROWSER.iter().flat_map(|package| ["--package", package]));
    cargo.env("CHROMEDRIVER", &tools.driver);
    cargo.env("WASM_BINDGEN_TEST_WEBDRIVER_JSON", &settings);
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
    fn the_driver_is_told_where_the_browser_is() {
        let text = webdriver(Path::new("/opt/a \"b\"/chrome"));
        assert!(text.contains(r#""binary": "/opt/a \"b\"/chrome", "args": ["--headless", "#));
    }
}
