//! The watch over the service worker, against a stub of the browser's side.

use super::{pause, script};
use crate::outside::offline::{Offline, OfflineState};
use OfflineState::{Failed, Installing, NewVersionWaiting, NotSupported, ReadyOffline};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::wasm_bindgen_test;

/// A stub container as `stub`, a registration as `stub.reg`, workers made by `stub.worker(state)`.
///
/// A worker answers `STATE?` with what `stub.ready` holds and notes every other message.
const STUB: &str = "
    window.stub = Object.assign(new EventTarget(), {
        controller: null, ready: true, heard: [], updates: 0, asked: null,
        worker(state) {
            return Object.assign(new EventTarget(), {
                state,
                postMessage(message, ports) {
                    if (message === 'STATE?') ports[0].postMessage({ ready: stub.ready });
                    else stub.heard.push(message);
                },
                becomes(state) { this.state = state; this.dispatchEvent(new Event('statechange')); },
            });
        },
        register(url, options) { stub.asked = [url, options.scope, options.updateViaCache].join();
            return stub.refuses ? Promise.reject(new TypeError('404')) : Promise.resolve(stub.reg); },
        reg: Object.assign(new EventTarget(), {
            installing: null, waiting: null, active: null,
            update() { stub.updates += 1; return Promise.reject(new TypeError('no signal')); },
        }),
    });";

struct Page {
    offline: Offline,
    told: Rc<RefCell<Vec<OfflineState>>>,
    reloads: Rc<Cell<u32>>,
}

async fn page(before: &str) -> Page {
    let container: JsValue = script(&format!("{STUB}{before}; stub"));
    let told = Rc::new(RefCell::new(Vec::new()));
    let reloads = Rc::new(Cell::new(0));
    let (tell, count) = (told.clone(), reloads.clone());
    let offline = Offline::start_with(
        Some(container.unchecked_into()),
        move |state| tell.borrow_mut().push(state),
        move || count.set(count.get() + 1),
    );
    pause(30).await;
    Page {
        offline,
        told,
        reloads,
    }
}

#[wasm_bindgen_test]
async fn a_first_visit_goes_from_installing_to_ready() {
    let page = page("stub.reg.installing = stub.first = stub.worker('installing')").await;
    assert_eq!(*page.told.borrow(), [Installing]);
    assert_eq!(
        script("stub.asked").as_string().as_deref(),
        Some("./sw.js,./,none")
    );
    script(
        "stub.reg.active = stub.first; stub.reg.installing = null; stub.first.becomes('activated')",
    );
    pause(30).await;
    assert_eq!(*page.told.borrow(), [Installing, ReadyOffline]);
}

#[wasm_bindgen_test]
async fn ready_is_not_said_while_a_file_is_missing() {
    let page = page("stub.ready = false; stub.reg.active = stub.worker('activated')").await;
    assert_eq!(*page.told.borrow(), [Installing]);
    script("stub.ready = true; window.dispatchEvent(new Event('pageshow'))");
    pause(30).await;
    assert_eq!(*page.told.borrow(), [Installing, ReadyOffline]);
}

#[wasm_bindgen_test]
async fn a_first_version_that_does_not_install_is_told_as_failed() {
    let page = page("stub.reg.installing = stub.first = stub.worker('installing')").await;
    script("stub.reg.installing = null; stub.first.becomes('redundant')");
    pause(30).await;
    assert_eq!(*page.told.borrow(), [Installing, Failed]);
    let page = self::page("stub.refuses = true").await;
    assert_eq!(*page.told.borrow(), [Failed]);
}

#[wasm_bindgen_test]
async fn a_second_version_that_does_not_install_leaves_the_first_ready() {
    let page = page("stub.reg.active = stub.controller = stub.worker('activated')").await;
    script(
        "stub.reg.installing = stub.next = stub.worker('installing');
         stub.reg.dispatchEvent(new Event('updatefound'))",
    );
    pause(30).await;
    script("stub.reg.installing = null; stub.next.becomes('redundant')");
    pause(30).await;
    assert_eq!(*page.told.borrow(), [ReadyOffline]);
    assert_eq!(page.reloads.get(), 0);
}

#[wasm_bindgen_test]
async fn a_new_version_waits_for_the_person_and_then_reloads_once() {
    let page = page("stub.reg.active = stub.controller = stub.worker('activated')").await;
    script(
        "stub.reg.installing = stub.next = stub.worker('installing');
         stub.reg.dispatchEvent(new Event('updatefound'))",
    );
    pause(30).await;
    script(
        "stub.reg.installing = null; stub.reg.waiting = stub.next; stub.next.becomes('installed')",
    );
    pause(30).await;
    assert_eq!(*page.told.borrow(), [ReadyOffline, NewVersionWaiting]);
    assert_eq!(script("stub.heard.length"), 0);
    assert_eq!(page.reloads.get(), 0);

    page.offline.apply_update();
    assert_eq!(
        script("stub.heard.join()").as_string().as_deref(),
        Some("SKIP")
    );
    pause(30).await;
    assert_eq!(
        page.reloads.get(),
        0,
        "before the new worker has taken over"
    );
    script(
        "stub.reg.waiting = null; stub.reg.active = stub.controller = stub.next;
         stub.dispatchEvent(new Event('controllerchange'));
         stub.next.becomes('activated'); stub.dispatchEvent(new Event('controllerchange'))",
    );
    pause(30).await;
    assert_eq!(page.reloads.get(), 1);
}

#[wasm_bindgen_test]
async fn a_page_loaded_past_the_worker_still_reloads_on_update() {
    let page = page(
        "stub.reg.active = stub.worker('activated'); stub.reg.waiting = stub.worker('installed')",
    )
    .await;
    assert_eq!(*page.told.borrow(), [NewVersionWaiting]);
    page.offline.apply_update();
    script("stub.reg.waiting.becomes('activated')");
    assert_eq!(page.reloads.get(), 1);
}

#[wasm_bindgen_test]
async fn an_update_from_another_window_does_not_reload_this_one() {
    let page = page("stub.reg.active = stub.controller = stub.worker('activated')").await;
    script("stub.dispatchEvent(new Event('controllerchange'))");
    pause(30).await;
    assert_eq!(*page.told.borrow(), [ReadyOffline, NewVersionWaiting]);
    assert_eq!(page.reloads.get(), 0);
    page.offline.apply_update();
    assert_eq!(page.reloads.get(), 1);
}

#[wasm_bindgen_test]
async fn the_first_worker_to_take_charge_is_no_new_version() {
    let page = page("stub.reg.active = stub.worker('activated')").await;
    script("stub.controller = stub.reg.active; stub.dispatchEvent(new Event('controllerchange'))");
    pause(30).await;
    assert_eq!(*page.told.borrow(), [ReadyOffline]);
}

#[wasm_bindgen_test]
async fn a_newer_version_is_looked_for_at_the_start_and_on_each_return() {
    let page = page("stub.reg.active = stub.worker('activated')").await;
    assert_eq!(script("stub.updates"), 1);
    script("document.dispatchEvent(new Event('visibilitychange'))");
    pause(30).await;
    assert_eq!(script("stub.updates"), 2);
    drop(page.offline);
    script("document.dispatchEvent(new Event('visibilitychange'))");
    pause(30).await;
    assert_eq!(script("stub.updates"), 2, "after the watch ended");
}

#[wasm_bindgen_test]
fn a_browser_without_workers_is_told_at_once() {
    let told = Rc::new(RefCell::new(Vec::new()));
    let tell = told.clone();
    let _watch = Offline::start_with(None, move |state| tell.borrow_mut().push(state), || ());
    assert_eq!(*told.borrow(), [NotSupported]);
}
