//! Makes the library of crate `belief` from the model of the plant, or checks the committed one.
//!
//! `cargo run -p belief --example library -- write|check`; `cargo xtask generate` calls it.

use std::fmt::Write as _;
use std::path::Path;
use std::process::ExitCode;
use std::{env, fs};

use belief::stored::encode;
use diagnosis::Metering;
use refrigerant::Refrigerant;

mod fit;
mod step;
#[path = "../../tests/support/units.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod units;

/// Calls drawn for the sound plant; faults get half as many again, pairs twice as many.
const CALLS: usize = 900;
/// The seed of the library. The tests draw with others.
const SEED: u64 = 0x5EED_0001;
/// The devices, and the names of their tables. A fixed valve is one without a stem: it shares.
const DEVICES: [(&str, Metering); 3] = [
    ("TXV", Metering::AdjustableTxv),
    ("EEV", Metering::Electronic),
    ("ORIFICE", Metering::FixedOrifice),
];
const REMEDY: &str = "run `cargo xtask generate` and look at the difference";

fn main() -> ExitCode {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/table.rs");
    let said = match env::args().nth(1).as_deref() {
        Some("write") => made().and_then(|text| fs::write(&path, text).map_err(|e| e.to_string())),
        Some("check") => check(&path),
        _ => Err("say `write` or `check`".to_owned()),
    };
    match said {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            eprintln!("{}: {sentence}", path.display());
            ExitCode::FAILURE
        }
    }
}

/// The whole of it is made again and compared.
fn check(path: &Path) -> Result<(), String> {
    let committed = fs::read_to_string(path).map_err(|error| error.to_string())?;
    if committed == made()? {
        println!("the library is what the model of the plant makes");
        Ok(())
    } else {
        Err(format!("not what the model of the plant makes: {REMEDY}"))
    }
}

fn made() -> Result<String, String> {
    let mut text = String::from(
        "//! The library of crate `belief`, by `cargo xtask generate`: do not edit.\n\
         //!\n\
         //! Made from crate `cycle` by `examples/library`; `stored` says what each number is.\n",
    );
    let tables: Vec<Result<Vec<i8>, String>> = std::thread::scope(|scope| {
        let threads: Vec<_> = DEVICES
            .iter()
            .map(|&(name, metering)| scope.spawn(move || table(name, metering)))
            .collect();
        threads
            .into_iter()
            .map(|thread| {
                thread
                    .join()
                    .unwrap_or_else(|_| Err("a thread died".to_owned()))
            })
            .collect()
    });
    for ((name, metering), numbers) in DEVICES.iter().zip(tables) {
        let numbers = numbers?;
        println!("{name}: {} bytes", numbers.len());
        let _ = write!(
            text,
            "\n/// Metering device: {}.\n#[rustfmt::skip]\npub(crate) static {name}: [i8; {}] = [\n",
            metering.says(),
            numbers.len()
        );
        for row in numbers.chunks(24) {
            let row: Vec<String> = row.iter().map(i8::to_string).collect();
            let _ = writeln!(text, "    {},", row.join(", "));
        }
        text.push_str("];\n");
    }
    Ok(text)
}

fn table(name: &str, metering: Metering) -> Result<Vec<i8>, String> {
    let model = fit::model(&Refrigerant::ALL, metering, CALLS, SEED);
    encode(metering, &model)
        .map_err(|(what, value)| format!("{name}: {what} {value} does not fit its byte"))
}
