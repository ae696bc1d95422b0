//! What a first visit costs in bytes, and the most it may cost.

use crate::fault::Fault;
use crate::seal::{BACKGROUND, File, Sealed};

/// The most that the page's Wasm may weigh after gzip, bytes.
const WASM_LIMIT: usize = 500 * 1024;
/// The most that the first load may weigh after gzip, bytes: every file but the background.
const FIRST_LOAD_LIMIT: usize = 730 * 1024;
/// What the first load should weigh one day, bytes: 3 s on a slow phone network.
const FIRST_LOAD_AIM: usize = 350 * 1024;
/// The most the whole site may weigh after gzip, bytes. The background comes after the first
/// screen, and is kept for offline use.
const TOTAL_LIMIT: usize = 880 * 1024;

/// Prints the size of every file, of the page's Wasm, of the first load and of the whole.
///
/// The first load counts every file but the background, also those that a first visit fetches only
/// for keeping; so it is an upper bound.
///
/// # Errors
/// `TooLarge` when one of the three is over its budget.
pub fn report(sealed: &Sealed) -> Result<(), Fault> {
    println!("   build {}", sealed.build);
    println!("   {:>9} {:>9}  file", "bytes", "gzip");
    for file in &sealed.files {
        println!("   {:>9} {:>9}  {}", file.raw, file.gzip, file.url);
    }
    let later = format!("{BACKGROUND}-");
    let sum = |counted: &dyn Fn(&File) -> bool| -> usize {
        let files = sealed.files.iter().filter(|file| counted(file));
        files.map(|file| file.gzip).sum()
    };
    let at_once = |file: &File| !file.url.starts_with(&later);
    let first = sum(&at_once);
    let wasm = sum(&|file| at_once(file) && file.url.ends_with(".wasm"));
    println!("   the first load should weigh {FIRST_LOAD_AIM}");
    within("the page's Wasm", wasm, WASM_LIMIT)?;
    within("the first load", first, FIRST_LOAD_LIMIT)?;
    within("the whole site", sum(&|_| true), TOTAL_LIMIT)
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

    fn check(wasm: usize, rest: usize, background: usize) -> Result<(), Fault> {
        let file = |url: &str, gzip| File {
            url: url.to_owned(),
            digest: String::new(),
            raw: gzip,
            gzip,
        };
        let files = vec![
            file("page_bg.wasm", wasm),
            file("index.html", rest),
            file("background-0/worker_bg.wasm", background),
        ];
        report(&Sealed {
            build: "0".to_owned(),
            files,
        })
    }

    fn too_large(outcome: Result<(), Fault>) -> Option<&'static str> {
        match outcome {
            Err(Fault::TooLarge { what, .. }) => Some(what),
            _ => None,
        }
    }

    #[test]
    fn a_byte_over_any_budget_stops_the_build() {
        let rest = FIRST_LOAD_LIMIT - WASM_LIMIT;
        let background = TOTAL_LIMIT - FIRST_LOAD_LIMIT;
        assert!(check(WASM_LIMIT, rest, background).is_ok());
        let over = |wasm, rest, background| too_large(check(wasm, rest, background));
        assert_eq!(over(WASM_LIMIT + 1, 0, 0), Some("the page's Wasm"));
        assert_eq!(over(WASM_LIMIT, rest + 1, 0), Some("the first load"));
        assert_eq!(
            over(WASM_LIMIT, rest, background + 1),
            Some("the whole site")
        );
    }
}
