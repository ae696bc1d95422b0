//! A tree from the plant's worker, made into elements: `[tag, {attributes}, child, ...]`.
//!
//! What a tree says stands with the worker (`practice::sheet`), whose words these are; text becomes
//! text and nothing else.

use crate::desk::{Desk, desk};
use leptos::html;
use leptos::prelude::*;
use serde_json::{Map, Value};
use std::collections::BTreeSet;
use wasm_bindgen::JsCast;
use web_sys::{Document, Element, HtmlElement, HtmlInputElement, HtmlSelectElement};

const SVG: &str = "http://www.w3.org/2000/svg";

/// The place of the sheets of the bench: what can be picked, the plant, the debrief.
#[component]
pub(crate) fn Sheet(
    /// The case of the address; none where one is to be picked.
    case: Option<String>,
) -> impl IntoView {
    let desk = desk();
    let bench = desk.bench;
    let place = NodeRef::<html::Div>::new();
    Effect::new(move |_| {
        if let Some(place) = place.get() {
            bench.sheet.with(|sheet| renew(&place, sheet));
            bench.live.with_untracked(|live| tick(&place, live));
        }
    });
    Effect::new(move |_| {
        if let Some(place) = place.get() {
            bench.live.with(|live| tick(&place, live));
        }
    });
    Effect::new(move |_| {
        // Told again in other units.
        desk.units.track();
        bench.arrives(desk, case.clone());
    });
    let asked = move |target: Option<web_sys::EventTarget>, by_change: bool| {
        let target = target.and_then(|target| target.dyn_into::<Element>().ok());
        let asking = target.and_then(|it| it.closest("[data-ask]").ok().flatten());
        let asking = asking.filter(|it| it.has_type::<HtmlInputElement>() == by_change);
        let ask = asking.and_then(|it| it.get_attribute("data-ask"));
        let ask = ask.and_then(|ask| serde_json::from_str::<Value>(&ask).ok());
        if let (Some(ask), Some(place)) = (ask, place.get_untracked()) {
            taps(desk, ask, &fields(&place));
        }
    };
    view! {
        <div
            node_ref=place
            on:click=move |event| asked(event.target(), false)
            on:change=move |event| asked(event.target(), true)
        ></div>
    }
}

/// What was tapped, with what the fields hold.
fn taps(desk: Desk, ask: Value, fields: &Map<String, Value>) {
    // A word alone, or a word with what belongs to it.
    let (kind, with) = match ask {
        Value::String(kind) => (kind, Value::Null),
        Value::Object(ask) => match ask.into_iter().next() {
            Some(ask) => ask,
            None => return,
        },
        _ => return,
    };
    desk.bench.asked(desk, &kind, with, fields);
}

/// What the fields of a sheet hold: text by name; for ticked ones a list.
fn fields(place: &Element) -> Map<String, Value> {
    let mut fields = Map::new();
    for_each(place, "[name]", |field| {
        let name = field.get_attribute("name").unwrap_or_default();
        if let Some(list) = field.dyn_ref::<HtmlSelectElement>() {
            fields.insert(name, list.value().into());
        } else if let Some(input) = field.dyn_ref::<HtmlInputElement>() {
            match (input.type_().as_str(), input.checked()) {
                ("checkbox", ticked) => {
                    let list = fields.entry(name).or_insert(Value::Array(Vec::new()));
                    if let (true, Value::Array(list)) = (ticked, list) {
                        list.push(input.value().into());
                    }
                }
                ("radio", false) => {}
                _ => {
                    fields.insert(name, input.value().into());
                }
            }
        }
    });
    fields
}

fn for_each(place: &Element, which: &str, mut on: impl FnMut(&Element)) {
    let Ok(found) = place.query_selector_all(which) else {
        return;
    };
    for index in 0..found.length() {
        if let Some(element) = found
            .get(index)
            .and_then(|it| it.dyn_into::<Element>().ok())
        {
            on(&element);
        }
    }
}

/// Shows another sheet; what was folded open stays open, and the focus stays where it was.
fn renew(place: &Element, sheet: &Value) {
    let Some(document) = place.owner_document() else {
        return;
    };
    let mut folds: Vec<(String, bool)> = Vec::new();
    for_each(place, "[data-fold]", |fold| {
        let key = fold.get_attribute("data-fold").unwrap_or_default();
        folds.push((key, fold.has_attribute("open")));
    });
    let focused = document
        .active_element()
        .filter(|it| place.contains(Some(it)));
    let focused = focused.and_then(|it| {
        it.get_attribute("id")
            .or_else(|| it.get_attribute("data-ask"))
    });
    place.set_text_content(None);
    put(&document, place, sheet, false);
    let open: BTreeSet<&str> = folds
        .iter()
        .filter(|it| it.1)
        .map(|it| it.0.as_str())
        .collect();
    let known: BTreeSet<&str> = folds.iter().map(|it| it.0.as_str()).collect();
    for_each(place, "[data-fold]", |fold| {
        let key = fold.get_attribute("data-fold").unwrap_or_default();
        // Elements take these names as they are; nothing is left to do where one is refused.
        let _ = match (known.contains(key.as_str()), open.contains(key.as_str())) {
            (true, true) => fold.set_attribute("open", ""),
            (true, false) => fold.remove_attribute("open"),
            (false, _) => Ok(()),
        };
    });
    if let Some(focused) = focused {
        for_each(place, "[id], [data-ask]", |it| {
            let same = [it.get_attribute("id"), it.get_attribute("data-ask")];
            if same.iter().flatten().any(|one| *one == focused)
                && let Some(it) = it.dyn_ref::<HtmlElement>()
            {
                let _ = it.focus();
            }
        });
    }
}

fn put(document: &Document, parent: &Element, tree: &Value, drawing: bool) {
    if let Some(text) = tree.as_str() {
        let _ = parent.append_child(&document.create_text_node(text));
        return;
    }
    let Some(tag) = tree[0].as_str() else { return };
    let drawing = drawing || tag == "svg";
    let made = if drawing {
        document.create_element_ns(Some(SVG), tag)
    } else {
        document.create_element(tag)
    };
    let Ok(element) = made else { return };
    for (name, value) in tree[1].as_object().into_iter().flatten() {
        let _ = element.set_attribute(name, value.as_str().unwrap_or_default());
    }
    for child in tree.as_array().into_iter().flatten().skip(2) {
        put(document, &element, child, drawing);
    }
    let _ = parent.append_child(&element);
}

/// Renews what changes with every second, and nothing else.
fn tick(place: &Element, live: &Value) {
    for_each(place, "[data-live]", |element| {
        let key = element.get_attribute("data-live").unwrap_or_default();
        if let Some(text) = live[key].as_str()
            && element.text_content().as_deref() != Some(text)
        {
            element.set_text_content(Some(text));
        }
    });
    if let Some(pace) = live["pace"].as_str() {
        for_each(place, "[name=pace]", |input| {
            if let Some(input) = input.dyn_ref::<HtmlInputElement>() {
                input.set_checked(input.value() == pace);
            }
        });
    }
}
