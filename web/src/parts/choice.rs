//! One of a few: big buttons that are radio buttons underneath; or a list when there are many.

use leptos::prelude::*;

/// A few choices side by side.
#[component]
pub(crate) fn Choice<T: Copy + PartialEq + Send + Sync + 'static>(
    /// What is chosen.
    legend: &'static str,
    /// A name for the group, unique on the screen.
    name: &'static str,
    /// Every choice with its words.
    all: Vec<(T, &'static str)>,
    /// The present choice.
    #[prop(into)]
    value: Signal<Option<T>>,
    /// Told of a new choice.
    #[prop(into)]
    on_pick: Callback<T>,
    /// A line under the legend.
    #[prop(optional, into)]
    hint: Option<String>,
) -> impl IntoView {
    let buttons: Vec<_> = all
        .into_iter()
        .enumerate()
        .map(|(index, (choice, words))| {
            let id = format!("{name}-{index}");
            view! {
                <input
                    type="radio"
                    id=id.clone()
                    name=name
                    prop:checked=move || value.get() == Some(choice)
                    on:change=move |_| on_pick.run(choice)
                />
                <label for=id>{words}</label>
            }
        })
        .collect();
    view! {
        <fieldset class="choice">
            <legend>{legend}</legend>
            {hint.map(|hint| view! { <p class="hint">{hint}</p> })}
            <div class="choice-row">{buttons}</div>
        </fieldset>
    }
}

/// One of many, from a list.
#[component]
pub(crate) fn Pick<T: Copy + PartialEq + Send + Sync + 'static>(
    /// What is chosen.
    label: &'static str,
    /// An id, unique on the screen.
    id: &'static str,
    /// Every choice with its words.
    all: Vec<(T, String)>,
    /// The present choice.
    #[prop(into)]
    value: Signal<Option<T>>,
    /// Told of a new choice.
    #[prop(into)]
    on_pick: Callback<T>,
) -> impl IntoView {
    let values: Vec<T> = all.iter().map(|(choice, _)| *choice).collect();
    let options: Vec<_> = all
        .into_iter()
        .enumerate()
        .map(|(index, (choice, words))| {
            view! {
                <option value=index.to_string() prop:selected=move || value.get() == Some(choice)>
                    {words}
                </option>
            }
        })
        .collect();
    let picked = move |event| {
        let index: Option<usize> = event_target_value(&event).parse().ok();
        if let Some(&choice) = index.and_then(|index| values.get(index)) {
            on_pick.run(choice);
        }
    };
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <select id=id on:change=picked>
                <option value="" disabled=true prop:selected=move || value.get().is_none()>
                    "Choose"
                </option>
                {options}
            </select>
        </div>
    }
}
