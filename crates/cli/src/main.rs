//! Lines in, lines out: the same core as the page, without a page.

mod evaluate;
mod help;
mod input;
mod output;
mod scenario;
mod simulate;

use std::io::{self, BufWriter, Write};
use std::process::ExitCode;

/// Exit status when at least one line was bad, or the command was not understood.
const BAD: u8 = 2;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let command = arguments.next();
    let rest: Vec<String> = arguments.collect();
    if rest.iter().any(|word| word == "--help" || word == "-h") {
        return print(help::HELP);
    }
    match (command.as_deref(), rest.as_slice()) {
        (Some("evaluate"), []) => ended(evaluate()),
        (Some("simulate"), []) => ended(simulate()),
        (Some("--help" | "-h" | "help"), _) => print(help::HELP),
        (Some("--version"), []) => print(concat!("evenfeed-cli ", env!("CARGO_PKG_VERSION"), "\n")),
        _ => {
            eprint!("{}", help::HELP);
            ExitCode::from(BAD)
        }
    }
}

/// True when every line was good.
fn evaluate() -> io::Result<bool> {
    let mut out = BufWriter::new(io::stdout().lock());
    let bad = evaluate::stream(io::stdin().lock(), &mut out)?;
    out.flush()?;
    Ok(bad == 0)
}

/// True when the scenario came to its end.
fn simulate() -> io::Result<bool> {
    let mut out = BufWriter::new(io::stdout().lock());
    let good = simulate::stream(io::stdin().lock(), &mut out)?;
    out.flush()?;
    Ok(good)
}

fn ended(result: io::Result<bool>) -> ExitCode {
    match result {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::from(BAD),
        // Whoever reads us has heard enough.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("evenfeed-cli: {error}");
            ExitCode::FAILURE
        }
    }
}

fn print(text: &str) -> ExitCode {
    match io::stdout().write_all(text.as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => ExitCode::FAILURE,
    }
}
