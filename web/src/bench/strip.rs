//! On every screen of a practice job: that it is one, the plant's clock, and the way to the plant.
//! And what is said where there is no plant.

use crate::desk::desk;
use crate::route::Route;
use leptos::prelude::*;

/// The strip; nothing for any other job.
#[component]
pub(crate) fn Strip() -> impl IntoView {
    let desk = desk();
    let bench = desk.bench;
    move || {
        let route = desk.route.get();
        let at_bench = matches!(route, Route::Pick | Route::Plant(_));
        if at_bench && bench.gone.get() {
            return view! {
                <div class="banner alert" role="alert">
                    <p>
                        "The simulated plant runs in the background of this page, and here there is none, or it has stopped. Everything else works; the attempt is kept."
                    </p>
                    <button type="button" on:click=move |_| bench.try_again(desk)>
                        "Try again"
                    </button>
                </div>
            }
            .into_any();
        }
        if !matches!(route, Route::Job(..)) || !bench.has_open(desk) {
            return ().into_any();
        }
        view! {
            <div class="banner">
                <p>
                    "Practice, simulated: "
                    {move || {
                        bench.live.with(|live| live["clock"].as_str().unwrap_or_default().to_owned())
                    }}
                </p>
                <button type="button" on:click=move |_| desk.go(&Route::Plant(bench.address()))>
                    "To the plant"
                </button>
            </div>
        }
        .into_any()
    }
}
