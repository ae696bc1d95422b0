//! The way out on Debian: its packages, and a Wasm standard library built here.
//!
//! Debian ships no such library for its current compiler, but it ships the
//! sources. The result is kept beside the compiler, with the compiler's full
//! version as its stamp: after an update it is built again.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use crate::fault::Fault;
use crate::pins;
use crate::place;
use crate::run::{output, run};
use crate::setup::{Tools, say};

/// The name under which rustup knows Debian's compiler.
pub const TOOLCHAIN: &str = "debian";

const RUSTC: &str = "/usr/bin/rustc";
const CARGO: &str = "/usr/bin/cargo";
const LIBRARY: &str = "/usr/lib/rustlib/wasm32-unknown-unknown";
const STAMP: &str = "built-for";

/// Whether Debian's compiler is here with a Wasm library made for it, and rustup knows it.
pub fn ready() -> bool {
    let version = output(Command::new(RUSTC).arg("-vV"));
    version.is_some() && version == built_for() && linked()
}

/// Whether this system installs with apt.
pub fn has_apt() -> bool {
    Path::new("/usr/bin/apt-get").is_file()
}

/// Installs Debian packages, refreshing the list once in a run.
///
/// # Errors
/// `Exit` or `Start`, naming the step.
pub fn install(tools: &Tools, step: &'static str, packages: &[&str]) -> Result<(), Fault> {
    static REFRESHED: OnceLock<()> = OnceLock::new();
    if REFRESHED.get().is_none() {
        run(step, apt(tools).args(["update", "--quiet=2"]))?;
        REFRESHED.get_or_init(|| ());
    }
    let options = ["install", "--yes", "--quiet=2", "--no-install-recommends"];
    run(step, apt(tools).args(options).args(packages))
}

/// Makes Debian's compiler ready for the browser.
///
/// # Errors
/// `Install` where there is no apt; else the fault of the command that failed.
pub fn prepare(tools: &Tools, step: &'static str) -> Result<(), Fault> {
    if ready() {
        say(step, "Debian's is ready");
        return Ok(());
    }
    if !has_apt() {
        let sentence = format!(
            "run `rustup target add {}` where rustup can reach its server",
            pins::WASM_TARGET
        );
        return Err(Fault::Install { step, sentence });
    }
    say(step, "taking Debian's");
    if output(Command::new("dpkg").arg("--status").args(pins::DEBIAN_RUST)).is_none() {
        install(tools, step, pins::DEBIAN_RUST)?;
    }
    let version = output(Command::new(RUSTC).arg("-vV"));
    if version.is_none() || version != built_for() {
        build_library(tools, step, &version.unwrap_or_default())?;
    }
    if !linked() {
        run(
            step,
            tools
                .native("rustup")
                .args(["toolchain", "link", TOOLCHAIN, "/usr"]),
        )?;
    }
    Ok(())
}

/// Builds the standard library and moves it into place in one rename.
fn build_library(tools: &Tools, step: &'static str, version: &str) -> Result<(), Fault> {
    say(step, "building its standard library, about a minute");
    let folder = place::target(&tools.workspace).join("wasm-library");
    let staged = folder.join("staged");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(Fault::file(&folder))?;
    }
    fs::create_dir_all(folder.join("src")).map_err(Fault::file(&folder))?;
    fs::create_dir_all(staged.join("lib")).map_err(Fault::file(&staged))?;
    // An empty package is enough: only what it would link against is wanted.
    // Its own [workspace] keeps it out of ours.
    let manifest = "[package]\nname = \"empty\"\nedition = \"2024\"\n\n[workspace]\n";
    write(&folder.join("Cargo.toml"), manifest)?;
    write(&folder.join("src/lib.rs"), "#![no_std]\n")?;

    let mut cargo = tools.native(CARGO);
    cargo.args([
        "build",
        "--release",
        "--quiet",
        "--target",
        pins::WASM_TARGET,
    ]);
    cargo.arg("-Zbuild-std=std,panic_abort,panic_unwind,proc_macro,test");
    // The flag for this one step: the project itself needs nothing unstable.
    cargo
        .env("RUSTC_BOOTSTRAP", "1")
        .env("RUSTC", RUSTC)
        .current_dir(&folder);
    // Without bitcode the site could not be optimised across crates.
    cargo.env(
        "CARGO_ENCODED_RUSTFLAGS",
        "-Cembed-bitcode=yes\u{1f}--remap-path-prefix=/usr/lib/rustlib/src=rust",
    );
    cargo.env("CARGO_TARGET_DIR", folder.join("target"));
    run(step, &mut cargo)?;

    let built = folder
        .join("target")
        .join(pins::WASM_TARGET)
        .join("release/deps");
    let entries = fs::read_dir(&built).map_err(Fault::file(&built))?;
    for entry in entries.filter_map(Result::ok) {
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.ends_with(".rlib") && !name.starts_with("libempty-") {
            let to = staged.join("lib").join(&name);
            fs::copy(entry.path(), &to).map_err(Fault::file(&to))?;
        }
    }
    write(&staged.join(STAMP), version)?;

    // Copied beside its place first, so that the last act is one rename.
    let partial = format!("{LIBRARY}.partial");
    run(step, as_root("rm").args(["-rf", &partial, LIBRARY]))?;
    run(step, as_root("cp").arg("-r").arg(&staged).arg(&partial))?;
    run(step, as_root("mv").args([&partial, LIBRARY]))
}

fn built_for() -> Option<String> {
    fs::read_to_string(Path::new(LIBRARY).join(STAMP)).ok()
}

fn linked() -> bool {
    let home = || env::home_dir().unwrap_or_default().join(".rustup");
    let rustup = env::var_os("RUSTUP_HOME").map_or_else(home, PathBuf::from);
    rustup
        .join("toolchains")
        .join(TOOLCHAIN)
        .join("bin/rustc")
        .is_file()
}

fn apt(tools: &Tools) -> Command {
    let mut command = as_root("env");
    command
        .arg("DEBIAN_FRONTEND=noninteractive")
        .arg("apt-get")
        .current_dir(&tools.workspace);
    command
}

/// The program itself for root, else through `sudo` without a question.
fn as_root(program: &str) -> Command {
    if output(Command::new("id").arg("-u")).as_deref() == Some("0") {
        return Command::new(program);
    }
    let mut command = Command::new("sudo");
    command.args(["-n", program]);
    command
}

fn write(path: &Path, text: &str) -> Result<(), Fault> {
    fs::write(path, text).map_err(Fault::file(path))
}
