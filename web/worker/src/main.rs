//! The page's background: a simulated plant to practise on, and a system fitted to a reading, away
//! from fingers and screens.
//!
//! Where to start: `start.js` beside this crate loads it in a worker of the page and hands each
//! question to [`answer`]. Text in and text out: what the questions are is the affair of the crates
//! `practice` and `likeness`. The page's side is `web/src/outside/worker.rs`.

use std::cell::RefCell;
use wasm_bindgen::prelude::wasm_bindgen;

thread_local! {
    /// The plant of this worker.
    static BENCH: RefCell<practice::Bench> = RefCell::default();
}

/// Answers one question of the page.
///
/// # Example
/// From JavaScript, once the Wasm is loaded: `wasm_bindgen.answer(question)`.
#[wasm_bindgen]
pub fn answer(question: &str) -> String {
    let of_bench = BENCH.with_borrow_mut(|bench| bench.answer(question));
    of_bench.unwrap_or_else(|| likeness::answer(question))
}

fn main() {}
