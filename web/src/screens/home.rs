//! The doors.

use crate::desk::desk;
use crate::outside::clock;
use crate::outside::offline::OfflineState;
use crate::route::Route;
use leptos::prelude::*;

/// The first screen.
#[component]
pub(super) fn Home() -> impl IntoView {
    let desk = desk();
    let newest = move || {
        desk.heads
            .get()
            .and_then(|heads| heads.into_iter().find(|head| !head.finished))
    };
    let count = move || desk.heads.get().map_or(0, |heads| heads.len());
    view! {
        <section class="doors">
            <h1>"Set the valve. Prove it."</h1>
            {move || {
                newest()
                    .map(|head| {
                        let id = head.id.clone();
                        view! {
                            <button
                                type="button"
                                class="door"
                                on:click=move |_| desk.open(id.clone())
                            >
                                <strong>"Go on"</strong>
                                <span>
                                    {format!(
                                        "{}, {}",
                                        head.title,
                                        clock::local_time(head.touched_ms),
                                    )}
                                </span>
                            </button>
                        }
                    })
            }}
            <button type="button" class="door" on:click=move |_| desk.go(&Route::Kept)>
                <strong>"Kept jobs"</strong>
                <span>{move || format!("{} on this device", count())}</span>
            </button>
            <button type="button" class="door" on:click=move |_| desk.begin_demo()>
                <strong>"Demo job"</strong>
                <span>"Invented: quay chandlery, Saltgrass Landing, R-22, stem turned by somebody"</span>
            </button>
            <button type="button" class="door" on:click=move |_| desk.go(&Route::Pick)>
                <strong>"Practice bench"</strong>
                <span>"A simulated plant with something hidden in it; invented, nothing can be hurt"</span>
            </button>
            <button type="button" class="door" on:click=move |_| desk.go(&Route::About)>
                <strong>"Units, theme, about"</strong>
                <span>"°F or °C, psi, kPa or bar; sun or dusk"</span>
            </button>
            <p class="offline" role="status">
                {move || offline_words(desk.offline.get())}
            </p>
            <p class="caution">
                "Gauges are licensed work in many places. The data plate, the maker's instructions, local code and licensed practice rule over any figure here; this tool advises and certifies nothing."
            </p>
            <div class="act">
                <button type="button" class="primary" on:click=move |_| desk.begin()>
                    "On the job: new job"
                </button>
            </div>
        </section>
    }
}

fn offline_words(state: Option<OfflineState>) -> &'static str {
    match state {
        None => "",
        Some(OfflineState::ReadyOffline | OfflineState::NewVersionWaiting) => "Ready offline",
        Some(OfflineState::Installing) => "Getting ready for offline use…",
        Some(OfflineState::NotSupported) => {
            "This browser or address cannot work offline: a signal is needed to open it."
        }
        Some(OfflineState::Failed) => "Not ready offline yet: open it once more with a signal.",
    }
}
