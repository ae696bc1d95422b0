//! Asking JavaScript for things that may not be there.

use js_sys::{Array, Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Navigator, Window};

/// The window, or `None` outside a page.
pub(super) fn window() -> Option<Window> {
    web_sys::window()
}

/// The navigator, or `None` outside a page.
pub(super) fn navigator() -> Option<Navigator> {
    window().map(|window| window.navigator())
}

/// A property that is there: `None` for one that is missing, undefined or null, or that throws.
pub(super) fn field(target: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(target, &JsValue::from_str(name))
        .ok()
        .filter(|value| !value.is_undefined() && !value.is_null())
}

/// The text in a property, or `None` where it holds no text.
pub(super) fn text(target: &JsValue, name: &str) -> Option<String> {
    field(target, name)?.as_string()
}

/// Calls a method that may be missing.
///
/// `None`: there is no such method. Otherwise what it gave back or threw.
pub(super) fn call(
    target: &JsValue,
    name: &str,
    with: &[JsValue],
) -> Option<Result<JsValue, JsValue>> {
    let method: Function = field(target, name)?.dyn_into().ok()?;
    let arguments: Array = with.iter().collect();
    Some(Reflect::apply(&method, target, &arguments))
}

/// Waits for a value that may be a promise.
pub(super) async fn settle(value: JsValue) -> Result<JsValue, JsValue> {
    JsFuture::from(Promise::resolve(&value)).await
}

/// Waits for a promise, but not for ever: `None` when `limit_ms` passed first.
///
/// The promise goes on by itself; a refusal that comes too late is swallowed here, because nobody is
/// left to tell.
pub(super) async fn within(work: &Promise, limit_ms: i32) -> Result<Option<JsValue>, JsValue> {
    // Two legs: on a phone that slept the timer is overdue at once, before the answer that lay in
    // line behind it is heard.
    match leg(work, limit_ms - LAST_LEG_MS).await? {
        None => leg(work, LAST_LEG_MS).await,
        answer => Ok(answer),
    }
}

/// The second leg of a wait, ms.
const LAST_LEG_MS: i32 = 400;

async fn leg(work: &Promise, limit_ms: i32) -> Result<Option<JsValue>, JsValue> {
    let late: JsValue = Array::new().into();
    let mut timer = None;
    let alarm = Promise::new(&mut |resolve, _reject| {
        timer = window().and_then(|window| {
            window
                .set_timeout_with_callback_and_timeout_and_arguments_1(&resolve, limit_ms, &late)
                .ok()
        });
    });
    let first = JsFuture::from(Promise::race(&Array::of2(work, &alarm))).await;
    if let (Some(timer), Some(window)) = (timer, window()) {
        window.clear_timeout_with_handle(timer);
    }
    first.map(|value| (value != late).then_some(value))
}

/// The name of what was thrown, such as `QuotaExceededError`; `unnamed` where it has none.
pub(super) fn error_name(error: &JsValue) -> String {
    text(error, "name").unwrap_or_else(|| "unnamed".to_owned())
}
