//! Lines in, lines out: the same core as the page, without a page.

mod bench;
mod evaluate;
mod fault;
mod help;
mod input;
mod keys;
mod lines;
mod output;
mod scenario;
mod simulate;
mod visit;

use fault::Fault;
use serde_json::Value;
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
        (Some("evaluate"), []) => ended(answered(evaluate::answer)),
        (Some("coach"), []) => {
            let mut visit = visit::Visit::default();
            ended(answered(|given| visit.answer(given)))
        }
        (Some("simulate"), []) => ended(simulate()),
        (Some("bench"), words) => match bench::Asked::read(words) {
            Some(asked) => ended(practise(&asked)),
            None => not_understood(),
        },
        (Some("--help" | "-h" | "help"), _) => print(help::HELP),
        (Some("--version"), []) => print(concat!("evenfeed-cli ", env!("CARGO_PKG_VERSION"), "\n")),
        _ => not_understood(),
    }
}

fn not_understood() -> ExitCode {
    eprint!("{}", help::HELP);
    ExitCode::from(BAD)
}

/// True when every line was good.
fn answered(answer: impl FnMut(&Value) -> Result<Value, Fault>) -> io::Result<bool> {
    let mut out = BufWriter::new(io::stdout().lock());
    let good = lines::stream(io::stdin().lock(), &mut out, answer)?;
    out.flush()?;
    Ok(good)
}

/// True when the scenario came to its end.
fn simulate() -> io::Result<bool> {
    let mut out = BufWriter::new(io::stdout().lock());
    let good = simulate::stream(io::stdin().lock(), &mut out)?;
    out.flush()?;
    Ok(good)
}

/// True when the script came to its debrief.
fn practise(asked: &bench::Asked) -> io::Result<bool> {
    let mut out = BufWriter::new(io::stdout().lock());
    let good = bench::run(asked, &mut io::stdin().lock(), &mut out)?;
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
