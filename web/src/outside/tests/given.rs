//! Files out and in.

use super::script;
use crate::outside::file::{FileError, Form, Given, Parcel, print};
use crate::outside::pick::{PickError, text_file};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

/// Puts a share sheet in place that takes files whose name fits `takes`, or none at all.
fn share_sheet(standalone: bool, takes: Option<&str>, answer: &str) {
    script(&format!(
        "window.shared = [];
         Object.defineProperty(navigator, 'standalone', {{ value: {standalone}, configurable: true }});"
    ));
    script(&match takes {
        Some(form) => format!(
            "navigator.canShare = (data) => {form}.test(data.files[0].name);
             navigator.share = async (data) => {{ window.shared.push(data.files[0].name); {answer} }}"
        ),
        None => "navigator.canShare = navigator.share = undefined".to_owned(),
    });
}

/// Counts downloads instead of starting them, and keeps the last one.
fn catch_downloads() {
    script(
        "window.downloads = [];
         window.plainClick ??= HTMLAnchorElement.prototype.click;
         HTMLAnchorElement.prototype.click = function () {
             window.downloads.push(this.download); window.lastHref = this.href; }",
    );
}

fn as_before() {
    script(
        "delete navigator.standalone; delete navigator.canShare; delete navigator.share;
         if (window.plainClick) HTMLAnchorElement.prototype.click = window.plainClick",
    );
}

fn list(name: &str) -> String {
    script(&format!("window.{name}.join()"))
        .as_string()
        .unwrap()
}

#[wasm_bindgen_test]
async fn a_download_holds_the_text_under_its_name() {
    share_sheet(false, None, "");
    catch_downloads();
    let parcel = Parcel::pack("Gull & Crumb", Form::Csv, "time,°F\n").unwrap();
    assert_eq!(parcel.give().await, Ok(Given::Downloaded));
    as_before();
    assert_eq!(list("downloads"), "Gull---Crumb.csv");
    let read = script(
        "fetch(window.lastHref).then(async (it) => it.headers.get('content-type') + '|' + await it.text())",
    );
    let read = crate::outside::js::settle(read).await.unwrap();
    assert_eq!(
        read.as_string().as_deref(),
        Some("text/csv;charset=utf-8|time,°F\n")
    );
}

#[wasm_bindgen_test]
async fn a_home_screen_page_shares_and_never_downloads() {
    catch_downloads();
    share_sheet(true, Some("/./"), "");
    let parcel = Parcel::pack("record", Form::Csv, "").unwrap();
    assert_eq!(parcel.give().await, Ok(Given::Shared));
    share_sheet(true, None, "");
    assert!(!parcel.can_be_shared());
    let stuck = parcel.give().await;
    as_before();
    assert_eq!(stuck, Err(FileError::NoWayOut));
    assert_eq!(list("downloads"), "");
}

#[wasm_bindgen_test]
async fn json_is_shared_as_text_where_json_is_not_taken() {
    share_sheet(false, Some("/[.](csv|txt)$/"), "");
    let parcel = Parcel::pack("record", Form::Json, "{}").unwrap();
    assert!(parcel.can_be_shared());
    assert_eq!(parcel.share().await, Ok(Given::Shared));
    as_before();
    assert_eq!(list("shared"), "record.json.txt");
}

#[wasm_bindgen_test]
async fn a_share_sheet_that_is_closed_is_no_fault_and_a_refusal_is_one() {
    let parcel = Parcel::pack("record", Form::Text, "x").unwrap();
    share_sheet(
        false,
        Some("/./"),
        "throw new DOMException('', 'AbortError')",
    );
    assert_eq!(parcel.share().await, Ok(Given::CalledOff));
    share_sheet(
        false,
        Some("/./"),
        "throw new DOMException('', 'NotAllowedError')",
    );
    let refused = parcel.share().await;
    as_before();
    assert_eq!(
        refused,
        Err(FileError::Refused("NotAllowedError".to_owned()))
    );
}

#[wasm_bindgen_test]
fn printing_is_asked_once_and_may_be_refused() {
    script(
        "window.prints = 0; window.plainPrint = window.print; window.print = () => { window.prints += 1 }",
    );
    let printed = print();
    script("window.print = () => { throw new DOMException('', 'NotSupportedError') }");
    let refused = print();
    script("window.print = window.plainPrint");
    assert_eq!(printed, Ok(()));
    assert_eq!(script("window.prints"), 1);
    assert_eq!(
        refused,
        Err(FileError::Refused("NotSupportedError".to_owned()))
    );
}

/// Picks, in place of a person, a file with these bytes; `null` for none.
async fn pick(bytes: &str, cap: u64) -> Result<Option<String>, PickError> {
    script(&format!(
        "window.plainOpenSheet = HTMLInputElement.prototype.click;
         HTMLInputElement.prototype.click = function () {{
             const bytes = {bytes}, chosen = new DataTransfer();
             if (bytes) chosen.items.add(new File([new Uint8Array(bytes)], 'x.json'));
             this.files = chosen.files;
             this.dispatchEvent(new Event(bytes ? 'change' : 'cancel'));
         }}"
    ));
    let picked = text_file(".json", cap).await;
    let _: JsValue = script("HTMLInputElement.prototype.click = window.plainOpenSheet");
    picked
}

#[wasm_bindgen_test]
async fn a_picked_file_is_read_only_when_it_is_small_enough_text() {
    // "µ" in UTF-8, then the same letter in an older code.
    assert_eq!(pick("[0xc2, 0xb5]", 2).await, Ok(Some("µ".to_owned())));
    assert_eq!(pick("[0xb5]", 2).await, Err(PickError::NotText));
    assert_eq!(
        pick("[1, 2, 3]", 2).await,
        Err(PickError::TooLarge { size: 3, cap: 2 })
    );
    assert_eq!(pick("null", 2).await, Ok(None));
}
