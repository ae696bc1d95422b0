//! The part of the address after `#`: which screen is open.

use super::js;
use super::listen::Listening;

/// The present route, without its `#`; empty when there is none.
pub fn current() -> String {
    js::window()
        .and_then(|window| window.location().hash().ok())
        .map(|hash| hash.trim_start_matches('#').to_owned())
        .unwrap_or_default()
}

/// Goes to a route; the Back button of the browser leads back. False where the browser refused.
///
/// The caller hears of it through [`on_change`], as for a tap on Back, unless the route is the same.
pub fn go(route: &str) -> bool {
    js::window().is_some_and(|window| window.location().set_hash(route).is_ok())
}

/// Tells each new route, without its `#`, when the address changes.
pub fn on_change(mut tell: impl FnMut(String) + 'static) -> Listening {
    let places = js::window().map(|window| (window.into(), "hashchange"));
    Listening::at(places, move |_| tell(current()))
}
