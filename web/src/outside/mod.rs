//! The browser, and nothing else: one file for each wish to the outside.
//!
//! Where to start: [`store`] keeps jobs, [`offline`] looks after the service worker, [`listen`] holds
//! event handlers. Nothing here knows about refrigerants, stages or screens, and nothing here trusts
//! that a browser offers what its documentation says: a missing part is a value, never an exception.

pub mod chime;
pub mod clock;
pub mod file;
pub mod ids;
mod js;
pub mod listen;
pub mod offline;
pub mod panic;
pub mod persist;
pub mod pick;
pub mod route;
pub mod store;
pub mod visible;
pub mod wake;
pub mod worker;

#[cfg(test)]
#[cfg(target_arch = "wasm32")]
mod tests;
