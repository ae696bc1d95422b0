//! A number with its unit, its sign key where it may be below zero, and what is wrong with it.

use super::rest::Rest;
use leptos::prelude::*;

/// A number as text. Never a browser number field: those read "1,5" as 15.
#[component]
pub(crate) fn NumberField(
    /// Its name.
    #[prop(into)]
    label: String,
    /// An id, unique on the screen.
    #[prop(into)]
    id: String,
    /// The unit beside it.
    #[prop(into)]
    unit: Signal<String>,
    /// The text to show, in the unit shown.
    #[prop(into)]
    value: Signal<String>,
    /// Told of each letter.
    #[prop(into)]
    on_type: Callback<String>,
    /// Told when typing rests or the field is left.
    #[prop(into)]
    on_keep: Callback<()>,
    /// What is wrong, if anything; the entry stays as it is.
    #[prop(into)]
    fault: Signal<Option<String>>,
    /// What is odd, if anything; the entry is used.
    #[prop(optional, into)]
    doubt: Signal<Option<String>>,
    /// Whether a sign key is offered.
    #[prop(into)]
    below_zero: Signal<bool>,
    /// Where and how to measure it, or where to find it.
    #[prop(into)]
    hint: String,
) -> impl IntoView {
    let rest = Rest::new(move || on_keep.run(()));
    let typed = move |text: String| {
        on_type.run(text);
        rest.letter();
    };
    let turn_sign = move |_| {
        let text = value.get_untracked();
        let turned = match text.trim().strip_prefix(['-', '\u{2212}']) {
            Some(rest) => rest.to_owned(),
            None => format!("-{}", text.trim()),
        };
        typed(turned);
    };
    let (hint_id, fault_id) = (format!("{id}-hint"), format!("{id}-fault"));
    let described = format!("{hint_id} {fault_id}");
    let sign_label = format!("Change sign of {}", label.to_ascii_lowercase());
    let sign_label = StoredValue::new(sign_label);
    view! {
        <div class="field number">
            <label for=id.clone()>
                {label} " " <span class="unit-in-name">"(" {move || unit.get()} ")"</span>
            </label>
            <div class="number-row">
                <Show when=move || below_zero.get()>
                    <button
                        type="button"
                        class="sign"
                        aria-label=move || sign_label.get_value()
                        on:click=turn_sign
                    >
                        "±"
                    </button>
                </Show>
                <input
                    type="text"
                    inputmode="decimal"
                    autocomplete="off"
                    enterkeyhint="next"
                    id=id
                    aria-describedby=described
                    aria-invalid=move || fault.get().is_some().then_some("true")
                    prop:value=move || value.get()
                    on:input=move |event| typed(event_target_value(&event))
                    on:change=move |_| rest.over()
                />
                <span class="unit" aria-hidden="true">
                    {move || unit.get()}
                </span>
            </div>
            <p class="fault" id=fault_id>
                {move || {
                    fault
                        .get()
                        .map(|says| format!("Not usable: {says}"))
                        .or_else(|| doubt.get().map(|says| format!("Sure? {says}")))
                }}
            </p>
            <p class="hint" id=hint_id>
                {hint}
            </p>
        </div>
    }
}
