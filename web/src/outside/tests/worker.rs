//! The background, against workers made of a line of JavaScript.

use super::script;
use crate::outside::js::within;
use crate::outside::worker::{Background, Reply};
use js_sys::Promise;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

/// A background whose worker does this with each `data`.
fn background(does: &str) -> Background {
    let address = script(&format!(
        "URL.createObjectURL(new Blob([`onmessage = ({{ data }}) => {{ {does} }}`]))"
    ));
    Background::at(&address.as_string().unwrap())
}

/// What is told first of these questions, asked in one go, and what was told before it.
async fn told(background: &Background, questions: &[&str]) -> Vec<(String, Reply)> {
    let told = Rc::new(RefCell::new(Vec::new()));
    let first = Promise::new(&mut |resolve, _| {
        for &question in questions {
            let (list, resolve, asked) = (told.clone(), resolve.clone(), question.to_owned());
            background.ask(question.to_owned(), move |reply| {
                list.borrow_mut().push((asked, reply));
                let _ = resolve.call0(&JsValue::NULL);
            });
        }
    });
    let _ = within(&first, 10_000).await;
    told.take()
}

fn said(question: &str, answer: &str) -> Vec<(String, Reply)> {
    vec![(question.to_owned(), Reply::Said(answer.to_owned()))]
}

fn not_available(question: &str) -> Vec<(String, Reply)> {
    vec![(question.to_owned(), Reply::NotAvailable)]
}

#[wasm_bindgen_test]
async fn a_question_is_answered_and_the_next_one_by_the_same_worker() {
    let counting = background("self.count = (self.count ?? 0) + 1; postMessage(data + self.count)");
    assert_eq!(told(&counting, &["a"]).await, said("a", "a1"));
    assert_eq!(told(&counting, &["b"]).await, said("b", "b2"));
}

#[wasm_bindgen_test]
async fn the_newest_question_takes_the_place_of_those_that_wait() {
    let echo = background("postMessage(data)");
    assert_eq!(told(&echo, &["a", "b", "c"]).await, said("c", "c"));
}

#[wasm_bindgen_test]
async fn a_question_that_stops_the_worker_is_not_available_and_the_next_one_is() {
    let fragile = background("if (data === \"bad\") { throw 1 } else postMessage(data)");
    assert_eq!(told(&fragile, &["bad"]).await, not_available("bad"));
    assert_eq!(told(&fragile, &["good"]).await, said("good", "good"));
    let given_up = background("postMessage(null)");
    assert_eq!(told(&given_up, &["a"]).await, not_available("a"));
}

#[wasm_bindgen_test]
async fn where_there_is_no_worker_it_is_not_available() {
    let nowhere = Background::at("nowhere/start.js");
    assert_eq!(told(&nowhere, &["a"]).await, not_available("a"));
    script("window.plainWorker = window.Worker; delete window.Worker");
    let without = told(&Background::new(), &["a"]).await;
    script("window.Worker = window.plainWorker");
    assert_eq!(without, not_available("a"));
}
