//! The browser's side, tried in a real browser; what it does not offer is stubbed in JavaScript.

mod aids;
mod given;
mod offline;
mod store;
mod store_faults;
mod worker;

use js_sys::Promise;
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test_configure;

wasm_bindgen_test_configure!(run_in_browser);

/// Runs JavaScript that puts a stub in place; the last expression is given back.
fn script(text: &str) -> JsValue {
    js_sys::eval(text).unwrap_or_else(|error| panic!("{text}: {error:?}"))
}

/// Lets the browser do what it has to do before going on.
async fn pause(ms: i32) {
    let never = Promise::new(&mut |_, _| {});
    let _ = super::js::within(&never, ms).await;
}
