//! Event handlers that stop when they are dropped.

use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Event, EventTarget};

/// One handler, listening in one or more places until it is dropped.
///
/// Keep it as long as the events matter; [`Listening::for_good`] keeps it as long as the page.
#[must_use = "the handler stops listening when this is dropped"]
pub struct Listening {
    places: Vec<(EventTarget, &'static str)>,
    run: Closure<dyn FnMut(Event)>,
}

impl Listening {
    /// Listens at each target for the event named beside it. A place that refuses is left out.
    pub(super) fn at(
        places: impl IntoIterator<Item = (EventTarget, &'static str)>,
        run: impl FnMut(Event) + 'static,
    ) -> Listening {
        let run = Closure::<dyn FnMut(Event)>::own_aborting(run);
        let places = places
            .into_iter()
            .filter(|(target, kind)| {
                target
                    .add_event_listener_with_callback(kind, run.as_ref().unchecked_ref())
                    .is_ok()
            })
            .collect();
        Listening { places, run }
    }

    /// Listens for as long as the page lives. For handlers set once, at the start.
    pub fn for_good(self) {
        std::mem::forget(self);
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        for (target, kind) in &self.places {
            // A target that will not let go has nothing more to tell.
            let _ =
                target.remove_event_listener_with_callback(kind, self.run.as_ref().unchecked_ref());
        }
    }
}
