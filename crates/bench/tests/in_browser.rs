//! Times the same work in a browser; `cargo xtask bench` runs it and reads what it prints.
#![cfg(target_arch = "wasm32")]

use evenfeed_bench::WORK;
use js_sys::Promise;
use wasm_bindgen_futures::JsFuture;
use wasm_bindgen_test::{console_log, wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::Window;

wasm_bindgen_test_configure!(run_in_browser);

/// So long a batch takes at least, ms: the browser's clock goes by tenths of a millisecond.
const BATCH_MS: f64 = 200.0;
/// So many batches; the middle one counts.
const BATCHES: usize = 5;

/// The page rests so long before each piece, ms: only then the driver's wish to slow it gets in.
const REST_MS: i32 = 200;

#[wasm_bindgen_test]
async fn times() {
    for work in WORK {
        rest().await;
        let mut piece = (work.ready)();
        let mut calls = 1_u32;
        while batch(&mut piece, calls) < BATCH_MS {
            calls *= 2;
        }
        let mut each: Vec<f64> = (0..BATCHES)
            .map(|_| batch(&mut piece, calls) / f64::from(calls))
            .collect();
        each.sort_by(f64::total_cmp);
        let (middle, spread) = (each[BATCHES / 2], each[BATCHES - 1] - each[0]);
        assert!(middle > 0.0, "{} took no time", work.name);
        // As Cargo's own benches report, so that one reader serves both.
        console_log!(
            "test {} ... bench: {:.0} ns/iter (+/- {:.0})",
            work.name,
            middle * 1e6,
            spread * 1e6
        );
    }
}

fn window() -> Window {
    web_sys::window().expect("it runs in a page")
}

async fn rest() {
    let rested = Promise::new(&mut |done, _| {
        let set = window().set_timeout_with_callback_and_timeout_and_arguments_0(&done, REST_MS);
        set.expect("a page has timers");
    });
    JsFuture::from(rested).await.expect("a timer ends");
}

/// Milliseconds that so many calls take.
fn batch(piece: &mut dyn FnMut(), calls: u32) -> f64 {
    let clock = window().performance().expect("a page has a clock");
    let now = || clock.now();
    let start = now();
    (0..calls).for_each(|_| piece());
    now() - start
}
