//! The generated tables of `crates/refrigerant` and `crates/belief`: made, or compared with the
//! committed ones.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::fault::Fault;
use crate::{place, run};

const STEP: &str = "generate";
/// Our generators and what they need, below the workspace.
const SCRIPTS: &[&str] = &[
    "crates/refrigerant/generate/saturation.py",
    "crates/refrigerant/generate/properties.py",
];
const REQUIREMENTS: &str = "crates/refrigerant/generate/requirements.txt";

/// Makes the tables; with `check` changes nothing and fails when the committed tables are not what
/// the generator makes, or when the Rust is further from the reference than is allowed.
///
/// The Python packages it needs, pinned in `requirements.txt`, go into a folder of their own below
/// the target folder.
///
/// # Errors
/// `Install` without Python 3; `Start`, `Exit` or `File` from the steps.
pub fn generate(check: bool) -> Result<(), Fault> {
    let workspace = place::workspace();
    let packages = place::target(&workspace).join("generate");
    install(&workspace, &packages)?;
    let mode = if check { "check" } else { "write" };
    for script in SCRIPTS {
        let mut python = Command::new(packages.join("bin/python"));
        python.arg(workspace.join(script)).arg(mode);
        run::run(STEP, python.env("PYTHONDONTWRITEBYTECODE", "1"))?;
    }
    library(&workspace, mode)
}

/// The library of `crates/belief`, which the model of the plant makes: by an example of that crate,
/// since only there the two may meet, and after the tables that the model stands on.
fn library(workspace: &Path, mode: &str) -> Result<(), Fault> {
    let mut cargo = Command::new("cargo");
    cargo.current_dir(workspace).env("RUSTUP_AUTO_INSTALL", "0");
    cargo.args(["run", "--quiet", "--locked", "--package", "belief"]);
    run::run(STEP, cargo.args(["--example", "library", "--", mode]))
}

/// A Python folder that holds exactly the pinned packages. Its stamp is written last, so that an
/// install that broke off is never trusted.
fn install(workspace: &Path, packages: &Path) -> Result<(), Fault> {
    let wanted = workspace.join(REQUIREMENTS);
    let text = fs::read_to_string(&wanted).map_err(Fault::file(&wanted))?;
    let stamp = packages.join("installed.txt");
    if fs::read_to_string(&stamp).is_ok_and(|installed| installed == text) {
        return Ok(());
    }
    folder(workspace, packages)?;
    let mut pip = Command::new(packages.join("bin/python"));
    pip.args([
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--requirement",
    ]);
    run::run(STEP, pip.arg(&wanted))?;
    fs::write(&stamp, text).map_err(Fault::file(&stamp))
}

/// A fresh Python folder without packages.
fn folder(workspace: &Path, packages: &Path) -> Result<(), Fault> {
    let missing = || Fault::Install {
        step: STEP,
        sentence: "install Python 3.11 or later with its venv module, then run it again \
                   (Debian: apt-get install python3-venv)"
            .to_owned(),
    };
    let python = place::program(workspace, &["python3", "python"]).ok_or_else(missing)?;
    let mut venv = Command::new(python);
    run::run(STEP, venv.args(["-m", "venv", "--clear"]).arg(packages)).map_err(|_| missing())
}
