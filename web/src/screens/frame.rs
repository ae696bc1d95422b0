//! The frame around every screen: name, saved or not, the steps, what is said at the foot.

use super::{about, finding, home, job, kept, look_first, proof, reading, stem};
use crate::bench::{FindingFor, Sheet, Strip};
use crate::desk::{Desk, Notice, desk};
use crate::keeper::Saving;
use crate::outside::offline::OfflineState;
use crate::parts::Unkept;
use crate::prefs;
use crate::route::Route;
use ::job::Screen;
use leptos::prelude::*;

/// The whole page.
#[component]
pub(crate) fn App() -> impl IntoView {
    prefs::show_theme(prefs::theme());
    let unkept = Unkept::new();
    provide_context(unkept);
    let desk = Desk::set_up(unkept);
    provide_context(desk);
    let in_job = Memo::new(move |_| {
        matches!(desk.route.get(), Route::Job(..)) && desk.job.with(Option::is_some)
    });
    // The plant of the open job is one more place of that job.
    let at_plant = Memo::new(move |_| {
        matches!(desk.route.get(), Route::Plant(_)) && desk.bench.has_open(desk)
    });
    let with_steps = move || in_job.get() || at_plant.get();
    view! {
        <a class="skip" href="#main" on:click=skip_to_main>
            "To the content"
        </a>
        <header class="top" class:in-job=with_steps>
            <button type="button" class="home" on:click=move |_| desk.go(&Route::Home)>
                <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
                    <path d="M4 6h16M4 11h16M4 16h16M4 21h16" />
                </svg>
                <span>"Evenfeed"</span>
            </button>
            <p class="where">{move || where_am_i(desk, with_steps())}</p>
            <SavedChip />
        </header>
        <Show when=with_steps>
            <Steps />
        </Show>
        <Strip />
        <Banners />
        <main id="main" tabindex="-1">
            {move || screen(&desk.route.get(), in_job.get())}
        </main>
        <Foot />
    }
}

fn skip_to_main(event: leptos::ev::MouseEvent) {
    // The address belongs to the screens, so the jump is made by hand.
    event.prevent_default();
    if let Some(main) = document().get_element_by_id("main") {
        use wasm_bindgen::JsCast;
        if let Some(main) = main.dyn_ref::<web_sys::HtmlElement>() {
            let _ = main.focus();
        }
    }
}

fn where_am_i(desk: Desk, in_job: bool) -> String {
    if !in_job {
        return String::new();
    }
    desk.job.with(|job| {
        job.as_ref().map_or(String::new(), |job| {
            if job.demo {
                format!("DEMO {}", job.title())
            } else {
                job.title()
            }
        })
    })
}

fn screen(route: &Route, in_job: bool) -> AnyView {
    match route {
        Route::Home => view! { <home::Home /> }.into_any(),
        Route::Kept => view! { <kept::Kept /> }.into_any(),
        Route::About => view! { <about::About /> }.into_any(),
        Route::Pick => view! { <Sheet case=None /> }.into_any(),
        Route::Plant(address) => view! { <Sheet case=Some(address.clone()) /> }.into_any(),
        Route::Job(..) if !in_job => view! { <p class="quiet">"Opening the job…"</p> }.into_any(),
        Route::Job(_, screen) => match screen {
            Screen::Job => view! { <job::JobScreen /> }.into_any(),
            Screen::LookFirst => view! { <look_first::LookFirst /> }.into_any(),
            Screen::Reading => view! { <reading::ReadingScreen /> }.into_any(),
            Screen::Finding => view! {
                <FindingFor>
                    <finding::FindingScreen />
                </FindingFor>
            }
            .into_any(),
            Screen::Stem => view! { <stem::StemScreen /> }.into_any(),
            Screen::Proof => view! { <proof::ProofScreen /> }.into_any(),
        },
    }
}

#[component]
fn Steps() -> impl IntoView {
    let desk = desk();
    let steps: Vec<_> = Screen::ALL
        .into_iter()
        .map(|screen| {
            let here = move || matches!(desk.route.get(), Route::Job(_, at) if at == screen);
            view! {
                <li>
                    <button
                        type="button"
                        aria-current=move || here().then_some("step")
                        on:click=move |_| desk.go_to(screen)
                    >
                        {screen.says()}
                    </button>
                </li>
            }
        })
        .collect();
    view! {
        <nav class="steps" aria-label="Steps of this job">
            <ol>{steps}</ol>
        </nav>
    }
}

#[component]
fn SavedChip() -> impl IntoView {
    let desk = desk();
    let unkept: Unkept = expect_context();
    view! {
        <p class="saved" role="status">
            {move || match desk.saving.get() {
                Saving::Idle | Saving::Saved if unkept.any() => "Saving…",
                Saving::Idle => "",
                Saving::UnderWay => "Saving…",
                Saving::Saved => "Saved",
                Saving::NotSaved(_) => "Not saved",
            }}
        </p>
    }
}

#[component]
fn Banners() -> impl IntoView {
    let desk = desk();
    let not_saved = move || match desk.saving.get() {
        Saving::NotSaved(says) => Some(says),
        _ => None,
    };
    let newer = move || desk.offline.get() == Some(OfflineState::NewVersionWaiting);
    view! {
        {move || {
            not_saved()
                .map(|says| {
                    view! {
                        <div class="banner alert" role="alert">
                            <p>{says}</p>
                            <button type="button" on:click=move |_| desk.save_again()>
                                "Save again"
                            </button>
                        </div>
                    }
                })
        }}
        <Show when=newer>
            <div class="banner">
                <Show
                    when=move || !desk.is_waiting()
                    fallback=|| view! { <p>"A new version is ready: after this wait."</p> }
                >
                    <p>"A new version is ready."</p>
                    <button type="button" on:click=move |_| desk.update_app()>
                        "Change to it"
                    </button>
                </Show>
            </div>
        </Show>
    }
}

#[component]
fn Foot() -> impl IntoView {
    let desk = desk();
    let undo = move |notice: &Notice| {
        notice.undo.clone().map(|removed| {
            view! {
                <button type="button" on:click=move |_| desk.bring_back(removed.clone())>
                    "Bring it back"
                </button>
            }
        })
    };
    view! {
        <div class="foot" role="status" aria-live="polite">
            {move || {
                desk.notice
                    .get()
                    .map(|notice| {
                        view! {
                            <div class="notice">
                                <p>{notice.says.clone()}</p>
                                {undo(&notice)}
                                <button
                                    type="button"
                                    on:click=move |_| desk.notice.set(None)
                                >
                                    "Close"
                                </button>
                            </div>
                        }
                    })
            }}
        </div>
    }
}
