//! Coming back to the page, and leaving it.

use super::js;
use super::listen::Listening;
use web_sys::VisibilityState;

/// Whether a person can see the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sight {
    /// The page is in view: read the clock again, nothing ran meanwhile.
    Seen,
    /// The page is out of view. On a phone this may be the last that is heard: save now.
    Hidden,
}

/// The present answer; a page that cannot say counts as seen.
pub fn now() -> Sight {
    let hidden = js::window()
        .and_then(|window| window.document())
        .is_some_and(|document| document.visibility_state() == VisibilityState::Hidden);
    if hidden { Sight::Hidden } else { Sight::Seen }
}

/// Tells when the page comes into view or goes out of it.
///
/// The same answer can come more than once, since a return to the page may fire up to three events
/// and no phone fires them all.
pub fn on_change(mut tell: impl FnMut(Sight) + 'static) -> Listening {
    let window = js::window();
    let document = window.as_ref().and_then(|window| window.document());
    let places = document
        .map(|document| (document.into(), "visibilitychange"))
        .into_iter()
        .chain(window.into_iter().flat_map(|window| {
            ["pageshow", "focus", "pagehide"].map(|kind| (window.clone().into(), kind))
        }));
    Listening::at(places, move |event| {
        tell(if event.type_() == "pagehide" {
            Sight::Hidden
        } else {
            now()
        });
    })
}
