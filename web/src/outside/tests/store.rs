//! Storage that works: what was kept is there, in order, and once.

use super::script;
use crate::outside::ids::random_id;
use crate::outside::store::{EntryRow, HeadRow, Store, StoreError};
use wasm_bindgen_test::wasm_bindgen_test;

/// A database of its own for each test.
pub(super) async fn fresh() -> (Store, String) {
    let name = format!("evenfeed-test-{}", random_id().unwrap());
    (Store::open_named(&name).await.unwrap(), name)
}

pub(super) fn entry(job: &str, seq: u32) -> EntryRow {
    EntryRow {
        job: job.to_owned(),
        seq,
        at_ms: 1_772_700_000_000 + i64::from(seq),
        body: format!("{{\"turn\":{seq}}}"),
    }
}

pub(super) fn head(job: &str, body: &str) -> HeadRow {
    HeadRow {
        job: job.to_owned(),
        body: body.to_owned(),
    }
}

#[wasm_bindgen_test]
async fn what_was_appended_is_there_after_opening_again() {
    let (store, name) = fresh().await;
    store
        .append(
            &[entry("bakery", 0), entry("bakery", 1)],
            &head("bakery", "one"),
        )
        .await
        .unwrap();
    store
        .append(&[entry("bakery", 2)], &head("bakery", "two"))
        .await
        .unwrap();
    drop(store);

    let again = Store::open_named(&name).await.unwrap();
    let kept = again.entries("bakery").await.unwrap();
    assert_eq!(
        kept,
        [entry("bakery", 0), entry("bakery", 1), entry("bakery", 2)]
    );
    assert_eq!(again.heads().await.unwrap(), [head("bakery", "two")]);
}

#[wasm_bindgen_test]
async fn entries_come_in_their_order_and_only_those_of_the_job() {
    let (store, _) = fresh().await;
    // As text, 10 comes before 2 and "a" begins "ab": neither may show.
    let ends = [
        entry("a", 10),
        entry("a", 2),
        entry("a", 0),
        entry("a", u32::MAX),
    ];
    store.append(&ends, &head("a", "")).await.unwrap();
    store
        .append(&[entry("ab", 1)], &head("ab", ""))
        .await
        .unwrap();
    let places: Vec<u32> = store
        .entries("a")
        .await
        .unwrap()
        .iter()
        .map(|entry| entry.seq)
        .collect();
    assert_eq!(places, [0, 2, 10, u32::MAX]);
    assert_eq!(store.entries("nobody").await.unwrap(), []);
}

#[wasm_bindgen_test]
async fn the_same_entries_twice_are_kept_once() {
    let (store, _) = fresh().await;
    for _ in 0..2 {
        store
            .append(&[entry("loft", 0)], &head("loft", "now"))
            .await
            .unwrap();
    }
    assert_eq!(store.entries("loft").await.unwrap(), [entry("loft", 0)]);
}

/// A write that was kept though its end was not heard, tried again together with the next entry.
#[wasm_bindgen_test]
async fn entries_behind_some_that_are_kept_are_added() {
    let (store, _) = fresh().await;
    store
        .append(&[entry("loft", 0)], &head("loft", "first"))
        .await
        .unwrap();
    store
        .append(
            &[entry("loft", 0), entry("loft", 1)],
            &head("loft", "second"),
        )
        .await
        .unwrap();
    assert_eq!(
        store.entries("loft").await.unwrap(),
        [entry("loft", 0), entry("loft", 1)]
    );
    assert_eq!(store.heads().await.unwrap(), [head("loft", "second")]);
}

#[wasm_bindgen_test]
async fn another_entry_in_a_taken_place_is_refused_and_its_head_with_it() {
    let (store, _) = fresh().await;
    store
        .append(&[entry("loft", 0)], &head("loft", "first"))
        .await
        .unwrap();
    let other = EntryRow {
        body: "from another window".to_owned(),
        ..entry("loft", 0)
    };
    let refused = store
        .append(&[entry("loft", 1), other], &head("loft", "second"))
        .await;
    assert_eq!(refused, Err(StoreError::Clash));
    assert_eq!(store.entries("loft").await.unwrap(), [entry("loft", 0)]);
    assert_eq!(store.heads().await.unwrap(), [head("loft", "first")]);
}

#[wasm_bindgen_test]
async fn a_removed_job_can_be_put_back_whole() {
    let (store, _) = fresh().await;
    let log = [entry("quay", 0), entry("quay", 1)];
    store.append(&log, &head("quay", "kept")).await.unwrap();
    store
        .append(&[entry("museum", 0)], &head("museum", "other"))
        .await
        .unwrap();

    store.remove("quay").await.unwrap();
    assert_eq!(store.entries("quay").await.unwrap(), []);
    assert_eq!(store.heads().await.unwrap(), [head("museum", "other")]);
    assert_eq!(store.entries("museum").await.unwrap(), [entry("museum", 0)]);

    for _ in 0..2 {
        store.restore(&log, &[head("quay", "kept")]).await.unwrap();
    }
    assert_eq!(store.entries("quay").await.unwrap(), log);
    assert_eq!(
        store.heads().await.unwrap(),
        [head("museum", "other"), head("quay", "kept")]
    );
}

#[wasm_bindgen_test]
async fn putting_back_writes_over_nothing() {
    let (store, _) = fresh().await;
    store
        .append(&[entry("quay", 0)], &head("quay", "newer"))
        .await
        .unwrap();
    let refused = store
        .restore(&[entry("quay", 0)], &[head("quay", "older")])
        .await;
    assert_eq!(refused, Err(StoreError::Clash));
    // The head alone is protected too, not only through the entries that come with it.
    let refused = store.restore(&[], &[head("quay", "older")]).await;
    assert_eq!(refused, Err(StoreError::Clash));
    assert_eq!(store.heads().await.unwrap(), [head("quay", "newer")]);
}

#[wasm_bindgen_test]
async fn a_setting_is_kept_replaced_and_absent_at_first() {
    let (store, name) = fresh().await;
    assert_eq!(store.setting("units").await.unwrap(), None);
    store.keep_setting("units", "psig").await.unwrap();
    store.keep_setting("units", "kPa").await.unwrap();
    drop(store);
    let again = Store::open_named(&name).await.unwrap();
    assert_eq!(
        again.setting("units").await.unwrap().as_deref(),
        Some("kPa")
    );
}

/// Asks the browser itself: an option it does not know would be passed over in silence.
#[wasm_bindgen_test]
async fn every_write_asks_for_strict_durability_and_the_browser_takes_it() {
    script(
        "window.seenDurability = [];
         window.plainTransaction = IDBDatabase.prototype.transaction;
         IDBDatabase.prototype.transaction = function (...given) {
             const made = window.plainTransaction.apply(this, given);
             if (made.mode === 'readwrite') window.seenDurability.push(made.durability);
             return made;
         }",
    );
    let (store, _) = fresh().await;
    store
        .append(&[entry("hall", 0)], &head("hall", ""))
        .await
        .unwrap();
    store.remove("hall").await.unwrap();
    store
        .restore(&[entry("hall", 0)], &[head("hall", "")])
        .await
        .unwrap();
    store.keep_setting("units", "psig").await.unwrap();
    script("IDBDatabase.prototype.transaction = window.plainTransaction");
    let seen = script("window.seenDurability.join(' ')");
    assert_eq!(
        seen.as_string().as_deref(),
        Some("strict strict strict strict")
    );
}
