//! What a first visit costs in bytes, and the most it may cost.

use crate::fault::Fault;
use crate::seal::Sealed;

/// The most the Wasm may weigh after gzip, bytes.
const WASM_LIMIT: usize = 500 * 1024;
/// The most the whole site may weigh after gzip, bytes.
const TOTAL_LIMIT: usize = 730 * 1024;

/// Prints the size of every file and of the whole.
///
/// The total counts every file, also those that a first visit fetches only for
/// keeping; so it is an upper bound for the first load.
///
/// # Errors
/// `TooLarge` when the Wasm or the whole is over its budget.
pub fn report(sealed: &Sealed) -> Result<(), Fault> {
    println!("   build {}", sealed.build);
    println!("   {:>9} {:>9}  file", "bytes", "gzip");
    for file in &sealed.files {
        println!("   {:>9} {:>9}  {}", file.raw, file.gzip, file.url);
    }
    let sum = |of_wasm_only: bool| -> usize {
        let counted = |url: &str| !of_wasm_only || url.ends_with(".wasm");
        sealed
            .files
            .iter()
            .filter(|file| counted(&file.url))
            .map(|file| file.gzip)
            .sum()
    };
    within("the Wasm", sum(true), WASM_LIMIT)?;
    within("the whole site", sum(false), TOTAL_LIMIT)
}

fn within(what: &'static str, bytes: usize, limit: usize) -> Result<(), Fault> {
    println!("   {what}: {bytes} bytes after gzip, budget {limit}");
    if bytes > limit {
        Err(Fault::TooLarge { what, bytes, limit })
    } else {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seal::File;

    fn check(wasm: usize, rest: usize) -> Result<(), Fault> {
        let file = |url: &str, gzip| File {
            url: url.to_owned(),
            digest: String::new(),
            raw: gzip,
            gzip,
        };
        let files = vec![file("app_bg.wasm", wasm), file("index.html", rest)];
        report(&Sealed {
            build: "0".to_owned(),
            files,
        })
    }

    #[test]
    fn a_byte_over_either_budget_stops_the_build() {
        assert!(check(WASM_LIMIT, TOTAL_LIMIT - WASM_LIMIT).is_ok());
        assert!(matches!(
            check(WASM_LIMIT + 1, 0),
            Err(Fault::TooLarge {
                what: "the Wasm",
                ..
            })
        ));
        let over = check(WASM_LIMIT, TOTAL_LIMIT - WASM_LIMIT + 1);
        assert!(matches!(
            over,
            Err(Fault::TooLarge {
                what: "the whole site",
                ..
            })
        ));
    }
}
