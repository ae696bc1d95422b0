//! Storage that fails: nothing half kept, the right name for the fault, and one quiet second try.

use super::store::{entry, fresh, head};
use super::{pause, script};
use crate::outside::store::{Store, StoreError};
use std::future::Future;
use std::pin::pin;
use std::task::{Context, Poll, Waker};
use wasm_bindgen_test::wasm_bindgen_test;

/// Makes the next transactions throw an error of this name and message, then works as before.
fn fail_transactions(times: u32, name: &str, message: &str) {
    script(&format!(
        "{{ let left = {times};
            const plain = window.plainTx ??= IDBDatabase.prototype.transaction;
            IDBDatabase.prototype.transaction = function (...given) {{
                if (left-- > 0) throw new DOMException('{message}', '{name}');
                return plain.apply(this, given);
            }} }}"
    ));
}

fn heal() {
    script("IDBDatabase.prototype.transaction = window.plainTx");
}

#[wasm_bindgen_test]
async fn a_write_dropped_before_its_end_changes_nothing() {
    let (store, _) = fresh().await;
    store
        .append(&[entry("hall", 0)], &head("hall", "before"))
        .await
        .unwrap();
    {
        let (log, after) = ([entry("hall", 1)], head("hall", "after"));
        let mut write = pin!(store.append(&log, &after));
        let mut context = Context::from_waker(Waker::noop());
        // The first step places every request; the browser has not acted on them yet.
        assert_eq!(write.as_mut().poll(&mut context), Poll::Pending);
    }
    pause(50).await;
    assert_eq!(store.entries("hall").await.unwrap(), [entry("hall", 0)]);
    assert_eq!(store.heads().await.unwrap(), [head("hall", "before")]);
}

#[wasm_bindgen_test]
async fn a_write_the_browser_gives_up_changes_nothing() {
    let (store, _) = fresh().await;
    script(
        "{ const plain = window.plainPut ??= IDBObjectStore.prototype.put;
           IDBObjectStore.prototype.put = function (...given) {
               const request = plain.apply(this, given);
               request.addEventListener('success', () => this.transaction.abort());
               return request;
           } }",
    );
    let given_up = store.append(&[entry("hall", 0)], &head("hall", "")).await;
    script("IDBObjectStore.prototype.put = window.plainPut");
    assert_eq!(given_up, Err(StoreError::GaveUp("AbortError".to_owned())));
    assert_eq!(store.entries("hall").await.unwrap(), []);
    assert_eq!(store.heads().await.unwrap(), []);
}

/// The old connection never works again, so only a new one can have kept the write.
#[wasm_bindgen_test]
async fn a_lost_connection_is_opened_anew_and_the_write_kept() {
    for (name, message) in [
        ("InvalidStateError", "The database connection is closing."),
        (
            "UnknownError",
            "Connection to Indexed Database server lost. Refresh the page.",
        ),
    ] {
        let (store, _) = fresh().await;
        script(&format!(
            "{{ let old = null;
                const plain = window.plainTx ??= IDBDatabase.prototype.transaction;
                IDBDatabase.prototype.transaction = function (...given) {{
                    old ??= this;
                    if (this === old) throw new DOMException('{message}', '{name}');
                    return plain.apply(this, given);
                }} }}"
        ));
        let kept = store.append(&[entry("loft", 0)], &head("loft", "")).await;
        heal();
        assert_eq!(kept, Ok(()), "{name}");
        assert_eq!(
            store.entries("loft").await.unwrap(),
            [entry("loft", 0)],
            "{name}"
        );
    }
}

#[wasm_bindgen_test]
async fn a_connection_lost_twice_is_told_and_the_next_write_works() {
    let (store, _) = fresh().await;
    fail_transactions(2, "InvalidStateError", "closing");
    let lost = store.append(&[entry("loft", 0)], &head("loft", "")).await;
    assert_eq!(lost, Err(StoreError::ConnectionLost));
    // The stub has used up its failures by now.
    let kept = store.append(&[entry("loft", 0)], &head("loft", "")).await;
    heal();
    assert_eq!(kept, Ok(()));
}

#[wasm_bindgen_test]
async fn another_fault_is_not_tried_again() {
    let (store, _) = fresh().await;
    fail_transactions(1, "DataError", "no");
    let told = store.append(&[entry("loft", 0)], &head("loft", "")).await;
    heal();
    assert_eq!(told, Err(StoreError::GaveUp("DataError".to_owned())));
    assert_eq!(store.entries("loft").await.unwrap(), []);
}

#[wasm_bindgen_test]
async fn a_full_device_is_told_by_its_name_and_earlier_entries_stay() {
    let (store, _) = fresh().await;
    store
        .append(&[entry("loft", 0)], &head("loft", ""))
        .await
        .unwrap();
    fail_transactions(1, "QuotaExceededError", "full");
    let told = store.append(&[entry("loft", 1)], &head("loft", "")).await;
    heal();
    assert_eq!(told, Err(StoreError::Full));
    assert!(told.unwrap_err().says().contains("not saved"));
    assert_eq!(store.entries("loft").await.unwrap(), [entry("loft", 0)]);
}

#[wasm_bindgen_test]
async fn an_older_page_lets_go_when_a_newer_one_comes_and_then_writes_nothing() {
    let (old, name) = fresh().await;
    // Resolves only if the old connection closes by itself; `blocked` would say so.
    let raised = script(&format!(
        "new Promise((resolve, reject) => {{
             const request = indexedDB.open('{name}', 99);
             request.onblocked = () => resolve('blocked');
             request.onerror = () => reject(request.error);
             request.onsuccess = () => {{ request.result.close(); resolve('raised'); }};
         }})"
    ));
    let raised = crate::outside::js::settle(raised).await.unwrap();
    assert_eq!(raised.as_string().as_deref(), Some("raised"));
    let told = old.append(&[entry("loft", 0)], &head("loft", "")).await;
    assert_eq!(told, Err(StoreError::FromNewerVersion));
    assert_eq!(
        Store::open_named(&name).await.err(),
        Some(StoreError::FromNewerVersion)
    );
}

#[wasm_bindgen_test]
async fn a_window_that_does_not_let_go_is_told_as_blocked() {
    let name = "evenfeed-test-held";
    // An older version of the database, held open by a page that does not listen.
    let held = script(&format!(
        "new Promise((resolve) => {{
             const plain = window.plainOpen = IDBFactory.prototype.open;
             const request = indexedDB.open('{name}', 1);
             request.onsuccess = () => resolve(window.heldOpen = request.result);
             IDBFactory.prototype.open = function (name) {{ return plain.call(this, name, 2); }};
         }})"
    ));
    crate::outside::js::settle(held).await.unwrap();
    let told = Store::open_named(name).await.err();
    script("IDBFactory.prototype.open = window.plainOpen; window.heldOpen.close()");
    assert_eq!(told, Some(StoreError::Blocked));
}

/// Puts a function in place of opening, tries to open, and takes it away again.
async fn opening_with(stub: &str) -> Option<StoreError> {
    script(&format!(
        "window.plainOpen = IDBFactory.prototype.open; IDBFactory.prototype.open = {stub}"
    ));
    let told = Store::open_named("evenfeed-test-stub").await.err();
    script("IDBFactory.prototype.open = window.plainOpen");
    told
}

#[wasm_bindgen_test]
async fn storage_that_does_not_open_is_told_apart() {
    let throws = "() => { throw new DOMException('no', 'SecurityError') }";
    assert_eq!(opening_with(throws).await, Some(StoreError::NotOffered));
    let fails = "() => { throw new DOMException('no', 'UnknownError') }";
    assert_eq!(
        opening_with(fails).await,
        Some(StoreError::OpenFailed("UnknownError".to_owned()))
    );
    let started = js_sys::Date::now();
    assert_eq!(
        opening_with("() => new EventTarget()").await,
        Some(StoreError::NoAnswer)
    );
    let waited = js_sys::Date::now() - started;
    assert!((2_900.0..4_000.0).contains(&waited), "waited {waited} ms");
}

#[wasm_bindgen_test]
async fn a_browser_without_storage_is_told() {
    script(
        "window.plainFactory = Object.getOwnPropertyDescriptor(window, 'indexedDB')
             ?? Object.getOwnPropertyDescriptor(Window.prototype, 'indexedDB');
         Object.defineProperty(window, 'indexedDB', { value: undefined, configurable: true })",
    );
    let told = Store::open().await.err();
    script("Object.defineProperty(window, 'indexedDB', window.plainFactory)");
    assert_eq!(told, Some(StoreError::NotOffered));
}

#[wasm_bindgen_test]
async fn a_record_of_another_form_is_told_and_left() {
    let (store, name) = fresh().await;
    let write = |record: &str| {
        let script = script(&format!(
            "new Promise((resolve) => {{
                 const request = indexedDB.open('{name}');
                 request.onsuccess = () => {{
                     const tx = request.result.transaction('entries', 'readwrite');
                     tx.objectStore('entries').put({record});
                     tx.oncomplete = () => {{ request.result.close(); resolve(); }};
                 }};
             }})"
        ));
        crate::outside::js::settle(script)
    };
    for record in [
        "{ job: 'loft', seq: 0, at: 1.5, body: '' }",
        "{ job: 'loft', seq: 0, at: NaN, body: '' }",
        "{ job: 'loft', seq: 0, at: 1 }",
        "{ job: 'loft', seq: 0, at: 1, body: 7 }",
    ] {
        write(record).await.unwrap();
        let told = store.entries("loft").await;
        assert_eq!(told, Err(StoreError::Damaged("entries")), "{record}");
    }
    write("{ job: 'loft', seq: 0, at: 1, body: 'whole' }")
        .await
        .unwrap();
    assert_eq!(store.entries("loft").await.unwrap().len(), 1);
}
