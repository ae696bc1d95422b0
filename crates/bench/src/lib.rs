//! What is timed, here and in a browser: each piece of work that a person waits for.
//!
//! Where to start: [`WORK`]. `cargo bench` times it natively, `cargo xtask bench` here and in a
//! browser. Nothing depends on this crate.

mod work;

pub use work::{WORK, Work};
