//! The project's own tasks: `cargo xtask --help` lists them.
//!
//! Where to start: `COMMANDS` below, then the module each row names. `setup`
//! makes a machine ready and gives `Tools`, through which everything else runs.

// A task may look at the clock; only the cores may not.
#![allow(clippy::disallowed_methods)]

mod bench;
mod debian;
mod fault;
mod generate;
mod host;
mod pins;
mod place;
mod run;
mod seal;
mod setup;
mod site;
mod sizes;
mod suite;

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

use fault::Fault;
use setup::{Scope, prepare};

/// One command: its name, what may follow it, its help, and what it does.
type Command = (
    &'static str,
    &'static str,
    &'static str,
    fn(Options) -> Result<(), Fault>,
);

/// Every command. A new one is a row here and a module of its own.
const COMMANDS: &[Command] = &[
    (
        "setup",
        "[--debian]",
        "bring every tool that is missing",
        |options| prepare(Scope::Tests, options.debian).map(drop),
    ),
    (
        "build",
        "[--debian]",
        "set up, then build the site into dist/",
        |options| site::build(&prepare(Scope::Site, options.debian)?),
    ),
    (
        "serve",
        "[--debian] [--port N]",
        "set up, build, then serve dist/ on loopback",
        serve,
    ),
    (
        "test",
        "[--debian]",
        "set up, then run every check",
        |options| suite::test(options.debian),
    ),
    (
        "bench",
        "[--debian]",
        "set up, then time the core here and in a browser",
        |options| bench::bench(options.debian),
    ),
    (
        "generate",
        "[--check]",
        "make the refrigerant tables, or check the committed ones",
        |options| generate::generate(options.check),
    ),
    (
        "host",
        "[FOLDER] [--port N]",
        "serve a folder (dist/) on loopback; any free port unless one is named",
        |options| host::host(&options.folder(), options.port.unwrap_or(0)),
    ),
    (
        "seal",
        "[FOLDER]",
        "close a site that Trunk built (dist/): policy, build number, offline list",
        |options| sizes::report(&seal::seal(&place::workspace(), &options.folder())?),
    ),
];

/// The port of `serve`: always the same, because a browser keeps jobs by address.
const SERVE_PORT: u16 = 7317;

/// What may follow a command.
#[derive(Debug, Default)]
struct Options {
    check: bool,
    debian: bool,
    port: Option<u16>,
    folder: Option<OsString>,
}

impl Options {
    /// Reads the rest of the line; what the command does not take is a fault.
    fn read(mut line: lexopt::Parser, takes: &str) -> Result<Self, Fault> {
        use lexopt::prelude::*;
        let mut options = Self::default();
        while let Some(argument) = line.next()? {
            match argument {
                Long("check") if takes.contains("--check") => options.check = true,
                Long("debian") if takes.contains("--debian") => options.debian = true,
                Long("port") if takes.contains("--port") => {
                    options.port = Some(line.value()?.parse()?)
                }
                Value(folder) if takes.contains("FOLDER") && options.folder.is_none() => {
                    options.folder = Some(folder)
                }
                other => return Err(other.unexpected().into()),
            }
        }
        Ok(options)
    }

    fn folder(&self) -> PathBuf {
        self.folder
            .as_ref()
            .map_or_else(|| place::workspace().join("dist"), PathBuf::from)
    }
}

fn serve(options: Options) -> Result<(), Fault> {
    let tools = prepare(Scope::Site, options.debian)?;
    site::build(&tools)?;
    let dist = tools.workspace.join("dist");
    host::host(&dist, options.port.unwrap_or(SERVE_PORT))
}

fn main() -> ExitCode {
    match dispatch(lexopt::Parser::from_env()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("xtask: {fault}");
            ExitCode::FAILURE
        }
    }
}

fn dispatch(mut line: lexopt::Parser) -> Result<(), Fault> {
    use lexopt::prelude::*;
    let unknown = match line.next()? {
        None | Some(Long("help") | Short('h')) => {
            help();
            return Ok(());
        }
        Some(Value(name)) => match COMMANDS.iter().find(|(known, ..)| name == *known) {
            Some((_, takes, _, command)) => return command(Options::read(line, takes)?),
            None => Value(name),
        },
        Some(other) => other,
    };
    Err(unknown.unexpected().into())
}

fn help() {
    println!("cargo xtask COMMAND\n");
    for (name, takes, help, _) in COMMANDS {
        println!("  {name:<8} {takes:<21} {help}");
    }
    println!(
        "\n  --debian  build for the browser with Debian's compiler even where rustup has the target.\n\
         \n  CHROMIUM and CHROMEDRIVER may name the browser and its driver."
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(words: &[&str]) -> Result<Options, Fault> {
        Options::read(
            lexopt::Parser::from_args(words),
            "[FOLDER] [--debian] [--port N]",
        )
    }

    #[test]
    fn options_are_read_in_any_order() {
        let options = read(&["--port", "8123", "site", "--debian"]).unwrap();
        assert_eq!((options.port, options.debian), (Some(8123), true));
        assert_eq!(options.folder(), PathBuf::from("site"));
    }

    #[test]
    fn what_is_not_understood_is_a_fault_and_not_ignored() {
        for words in [
            &["--prot", "1"][..],
            &["--port", "70000"],
            &["--port"],
            &["a", "b"],
            &["--check"],
        ] {
            assert!(matches!(read(words), Err(Fault::Usage(_))), "{words:?}");
        }
        let command = dispatch(lexopt::Parser::from_args(["tset"]));
        assert!(matches!(command, Err(Fault::Usage(_))));
    }
}
