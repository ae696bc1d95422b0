//! A line of words, kept a moment after typing rests.

use super::rest::Rest;
use leptos::prelude::*;

/// A line of words.
#[component]
pub(crate) fn TextField(
    /// Its name.
    #[prop(into)]
    label: String,
    /// An id, unique on the screen.
    #[prop(into)]
    id: String,
    /// What is kept.
    #[prop(into)]
    value: Signal<String>,
    /// Told when typing rests or the field is left.
    #[prop(into)]
    on_keep: Callback<String>,
    /// An example.
    #[prop(optional, into)]
    hint: String,
) -> impl IntoView {
    let text = RwSignal::new(value.get_untracked());
    // What is kept may change by itself: cleared by a tap, or of another job.
    Effect::new(move |_| text.set(value.get()));
    let rest = Rest::new(move || {
        if let Some(text) = text.try_get_untracked()
            && value.try_get_untracked().is_some_and(|kept| kept != text)
        {
            on_keep.run(text);
        }
    });
    let typed = move |event| {
        text.set(event_target_value(&event));
        rest.letter();
    };
    let hint_id = format!("{id}-hint");
    let has_hint = !hint.is_empty();
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <input
                type="text"
                id=id
                autocomplete="off"
                aria-describedby=has_hint.then(|| hint_id.clone())
                prop:value=move || text.get()
                on:input=typed
                on:change=move |_| rest.over()
            />
            {has_hint.then(|| view! { <p class="hint" id=hint_id>{hint}</p> })}
        </div>
    }
}
