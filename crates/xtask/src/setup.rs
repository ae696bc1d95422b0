//! Brings the tools that are missing; what is there already is left alone.
//!
//! The ordinary route comes first (rustup, installed programs). Debian's own
//! compiler is the way out where rustup cannot fetch the Wasm target.
//! Nothing is trusted because a step began: each check looks at the finished thing.

use std::env;
use std::ffi::OsString;
use std::fs;
use std::path::PathBuf;
use std::process::Command;

use crate::debian;
use crate::fault::Fault;
use crate::pins;
use crate::place;
use crate::run::{output, run};

/// How much is to be set up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// What building the site takes.
    Site,
    /// That, and what the tests take: the browser, its driver, Python.
    Tests,
}

/// A machine that is ready: where the tools are and how to call them.
#[derive(Debug)]
pub struct Tools {
    /// The root of the workspace.
    pub workspace: PathBuf,
    /// The browser; set when the scope was `Tests`.
    pub browser: PathBuf,
    /// The browser's driver; set when the scope was `Tests`.
    pub driver: PathBuf,
    wasm: Vec<(&'static str, OsString)>,
}

impl Tools {
    /// A command for the host, in the workspace.
    pub fn native(&self, program: &str) -> Command {
        child(&self.workspace, program)
    }

    /// A command whose Cargo builds for the browser.
    pub fn wasm(&self, program: &str) -> Command {
        let mut command = self.native(program);
        command.envs(self.wasm.iter().map(|(name, value)| (name, value)));
        command
    }
}

/// Sets up whatever is missing within `scope`.
///
/// - `debian`: take Debian's compiler for the browser even where rustup's serves.
///
/// # Errors
/// `Install` holds the sentence to show when neither route works; other faults
/// name the step whose command failed.
pub fn prepare(scope: Scope, debian: bool) -> Result<Tools, Fault> {
    let workspace = place::workspace();
    let mut tools = Tools {
        wasm: vec![
            ("CARGO_TARGET_DIR", place::web_target(&workspace).into()),
            ("CARGO_ENCODED_RUSTFLAGS", flags(&workspace)),
        ],
        workspace,
        browser: PathBuf::new(),
        driver: PathBuf::new(),
    };
    if compiler(&tools, debian)? == Compiler::Debian {
        tools
            .wasm
            .push(("RUSTUP_TOOLCHAIN", debian::TOOLCHAIN.into()));
        tools.wasm.push((
            "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER",
            pins::DEBIAN_LINKER.into(),
        ));
    }
    node(&tools)?;
    packages(&tools)?;
    let bindgen = pins::wasm_bindgen(&tools.workspace)?;
    // Not `--locked`: a registry mirror may lag behind the tool's own lock file.
    cargo_tool(&tools, "wasm-bindgen", "wasm-bindgen-cli", &bindgen, &[])?;
    let trunk = ["--locked", "--no-default-features", "--features", "rustls"];
    cargo_tool(&tools, "trunk", "trunk", pins::TRUNK, &trunk)?;
    // Later steps work without the network, so all sources come now.
    say("crates", "the sources that Cargo.lock names");
    run(
        "crates",
        tools.native("cargo").args(["fetch", "--locked", "--quiet"]),
    )?;
    if scope == Scope::Tests {
        (tools.browser, tools.driver) = browser(&tools)?;
        python(&tools)?;
    }
    Ok(tools)
}

/// Which compiler builds for the browser.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Compiler {
    /// The one that builds everything else.
    Own,
    /// Debian's, with a standard library built here.
    Debian,
}

fn compiler(tools: &Tools, debian: bool) -> Result<Compiler, Fault> {
    const STEP: &str = "Wasm compiler";
    let own = || {
        let sysroot = output(tools.native("rustc").args(["--print", "sysroot"]))?;
        let library = PathBuf::from(sysroot)
            .join("lib/rustlib")
            .join(pins::WASM_TARGET)
            .join("lib");
        library.is_dir().then_some(Compiler::Own)
    };
    if !debian {
        if own().is_some() {
            say(STEP, "ready");
            return Ok(Compiler::Own);
        }
        if !debian::ready() {
            say(STEP, "asking rustup for the target");
            let mut rustup = tools.native("rustup");
            rustup
                .args(["target", "add", pins::WASM_TARGET])
                .env("RUSTUP_MAX_RETRIES", "1");
            if run(STEP, &mut rustup).is_ok() && own().is_some() {
                return Ok(Compiler::Own);
            }
        }
    }
    debian::prepare(tools, STEP)?;
    Ok(Compiler::Debian)
}

fn node(tools: &Tools) -> Result<(), Fault> {
    const STEP: &str = "Node.js";
    let major = || {
        let version = output(tools.native("node").arg("--version"))?;
        output(
            tools
                .native("npm")
                .arg("--version")
                .env("npm_config_update_notifier", "false"),
        )?;
        version
            .trim_start_matches('v')
            .split('.')
            .next()?
            .parse::<u32>()
            .ok()
    };
    // npm takes a third of a second to say its version; with the packages in
    // place nobody needs to ask it.
    if packages_ready(tools) {
        say(STEP, "ready");
        return Ok(());
    }
    if major().is_none() && debian::has_apt() {
        say(STEP, "installing Debian's");
        debian::install(tools, STEP, pins::DEBIAN_NODE)?;
    }
    match major() {
        Some(major) if major >= pins::NODE_MAJOR => {
            say(STEP, "ready");
            Ok(())
        }
        _ => Err(Fault::Install {
            step: STEP,
            sentence: format!("install Node.js {} or newer with npm", pins::NODE_MAJOR),
        }),
    }
}

/// The stamp is the lock file itself, written when npm has finished.
fn stamp(tools: &Tools) -> (PathBuf, PathBuf) {
    let tests = tools.workspace.join("tests");
    (
        tests.join("package-lock.json"),
        tests.join("node_modules/.installed-lock.json"),
    )
}

fn packages_ready(tools: &Tools) -> bool {
    let (lock, stamp) = stamp(tools);
    matches!((fs::read(lock), fs::read(stamp)), (Ok(lock), Ok(stamp)) if lock == stamp)
}

fn packages(tools: &Tools) -> Result<(), Fault> {
    const STEP: &str = "npm packages";
    if packages_ready(tools) {
        say(STEP, "ready");
        return Ok(());
    }
    say(STEP, "installing those of tests/package-lock.json");
    let mut npm = tools.native("npm");
    // `npm ci` begins by removing the folder, and the stamp with it.
    run(
        STEP,
        npm.arg("ci").current_dir(tools.workspace.join("tests")),
    )?;
    let (lock, stamp) = stamp(tools);
    fs::copy(&lock, &stamp).map_err(Fault::file(&stamp))?;
    Ok(())
}

/// Installs a program with Cargo unless the wanted version answers.
///
/// Cargo moves the program into place only when it is whole, so a broken
/// build leaves nothing behind.
fn cargo_tool(
    tools: &Tools,
    program: &'static str,
    package: &str,
    version: &str,
    options: &[&str],
) -> Result<(), Fault> {
    let found = output(tools.native(program).arg("--version"));
    let found = found
        .as_deref()
        .and_then(|line| line.split_whitespace().nth(1));
    if found == Some(version) {
        say(program, "ready");
        return Ok(());
    }
    match found {
        Some(other) => say(program, &format!("replacing {other} by {version}")),
        None => say(program, &format!("building {version}, some minutes")),
    }
    let mut cargo = tools.native("cargo");
    cargo
        .args([
            "install",
            package,
            "--version",
            &format!("={version}"),
            "--force",
        ])
        .args(options);
    // These tools run for seconds: a quick build is worth more than a quick program.
    cargo.envs([
        ("CARGO_PROFILE_RELEASE_LTO", "off"),
        ("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "16"),
        ("CARGO_PROFILE_RELEASE_OPT_LEVEL", "1"),
        ("CARGO_PROFILE_RELEASE_DEBUG", "0"),
    ]);
    cargo.env(
        "CARGO_TARGET_DIR",
        place::target(&tools.workspace).join("tools"),
    );
    run(program, &mut cargo)
}

fn browser(tools: &Tools) -> Result<(PathBuf, PathBuf), Fault> {
    const STEP: &str = "browser";
    const NAMES: &[&str] = &["chromium", "chromium-browser", "google-chrome", "chrome"];
    let find = || {
        let browser = env::var_os("CHROMIUM").map(PathBuf::from);
        let browser = browser.or_else(|| place::program(&tools.workspace, NAMES))?;
        let driver = env::var_os("CHROMEDRIVER").map(PathBuf::from);
        let driver = driver.or_else(|| place::program(&tools.workspace, &["chromedriver"]))?;
        Some((browser, driver))
    };
    if find().is_none() && debian::has_apt() {
        say(STEP, "installing Debian's");
        debian::install(tools, STEP, pins::DEBIAN_BROWSER)?;
    }
    let sentence = || Fault::Install {
        step: STEP,
        sentence: "install Chromium and the ChromeDriver of the same version, \
                   or name them in CHROMIUM and CHROMEDRIVER"
            .to_owned(),
    };
    let (browser, driver) = find().ok_or_else(sentence)?;
    let major = |program: &PathBuf| {
        let line = output(Command::new(program).arg("--version"))?;
        let mut words = line
            .split_whitespace()
            .filter_map(|word| word.split_once('.'));
        words.find_map(|(major, _)| major.parse::<u32>().ok())
    };
    if major(&browser).is_none() || major(&browser) != major(&driver) {
        return Err(sentence());
    }
    say(STEP, "ready");
    Ok((browser, driver))
}

/// Python checks the generated tables; what it installs for that is `generate`'s own affair.
fn python(tools: &Tools) -> Result<(), Fault> {
    const STEP: &str = "Python";
    let has_venv = || {
        output(
            tools
                .native("python3")
                .args(["-c", "import ensurepip, venv"]),
        )
    };
    if has_venv().is_none() && debian::has_apt() {
        say(STEP, "installing Debian's");
        debian::install(tools, STEP, pins::DEBIAN_PYTHON)?;
    }
    if has_venv().is_none() {
        let sentence = "install Python 3.11 or newer with its venv module".to_owned();
        return Err(Fault::Install {
            step: STEP,
            sentence,
        });
    }
    say(STEP, "ready");
    Ok(())
}

/// Compiler flags for the Wasm. The paths keep this machine's folders out of it, so that two
/// checkouts build the same bytes. `erase_components` is the page library's own switch: each view
/// is kept as one type, which takes a tenth off the Wasm.
fn flags(workspace: &std::path::Path) -> OsString {
    let mut flags = OsString::from("--cfg=erase_components\u{1f}--remap-path-prefix=");
    flags.push(place::cargo_home());
    flags.push("=cargo\u{1f}--remap-path-prefix=");
    flags.push(workspace);
    flags.push("=evenfeed");
    flags
}

/// A command free of what Cargo told this program about itself.
fn child(workspace: &std::path::Path, program: &str) -> Command {
    let mut command = Command::new(program);
    command
        .current_dir(workspace)
        .env("PATH", place::search_path(workspace));
    command.env("RUSTUP_AUTO_INSTALL", "0");
    for (name, _) in env::vars_os() {
        let text = name.to_string_lossy();
        if text == "RUSTC" || text == "CARGO" || text.starts_with("CARGO_PKG_") {
            command.env_remove(&name);
        }
    }
    command
}

/// One line to the person: the step and what becomes of it.
pub fn say(step: &str, what: &str) {
    println!("== {step}: {what}");
}
