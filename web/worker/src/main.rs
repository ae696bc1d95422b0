//! The page's background: fits a system to a reading, away from fingers and screens.
//!
//! Where to start: `start.js` beside this crate loads it in a worker of the page and hands each
//! question to [`answer`]. Text in and text out: what the questions are is the affair of crate
//! `likeness`. The page's side is `web/src/outside/worker.rs`.

use wasm_bindgen::prelude::wasm_bindgen;

/// Answers one question of the page.
///
/// # Example
/// From JavaScript, once the Wasm is loaded: `wasm_bindgen.answer(question)`.
#[wasm_bindgen]
pub fn answer(question: &str) -> String {
    likeness::answer(question)
}

fn main() {}
