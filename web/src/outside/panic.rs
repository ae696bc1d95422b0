//! What is left to do when the program itself has failed.

use super::js;
use wasm_bindgen::JsValue;
use web_sys::console;

/// The element of the page that tells a person about a failure; hidden until then.
const CRASH_CARD: &str = "crash";

/// From now on a failure of the program is logged and uncovers the element with the id `crash`.
///
/// The page should hold that element from the start, hidden, with `role="alert"`, a sentence and a
/// button that reloads: after a panic this program cannot draw anything more.
pub fn install() {
    std::panic::set_hook(Box::new(|failure| {
        console::error_1(&JsValue::from_str(&failure.to_string()));
        uncover_card();
    }));
}

/// Shows the card, where the page has one.
pub(super) fn uncover_card() {
    let card = js::window()
        .and_then(|window| window.document())
        .and_then(|document| document.get_element_by_id(CRASH_CARD));
    if let Some(card) = card {
        // Nothing is left to try if even this is refused.
        let _ = card.remove_attribute("hidden");
    }
}
