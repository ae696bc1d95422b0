//! The page's background: a worker that answers one text by another, away from the screens.
//!
//! It is loaded at the first question, never before, and is no part of what a screen needs: where it
//! cannot be had, or stops, the answer is [`Reply::NotAvailable`] and the page goes on without. One
//! question is out at a time and one waits: a newer one takes the place of the one that waits, whose
//! teller is dropped unheard.

use super::js;
use super::listen::Listening;
use js_sys::{Array, Function, Promise, Reflect};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::spawn_local;
use web_sys::EventTarget;

/// The mark in the page that names the worker of this very build; the site's maker writes it.
const MARK: &str = "meta[name=evenfeed-background]";
/// Where it stands in a site that was not sealed.
const UNSEALED: &str = "background/start.js";
/// How long one answer may take, loading included, ms. A slow phone needs seconds; what takes longer
/// has stopped.
const LIMIT_MS: i32 = 30_000;

/// What came of a question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reply {
    /// The answer.
    Said(String),
    /// No worker here, or it stopped at this question.
    NotAvailable,
}

type Tell = Box<dyn FnOnce(Reply)>;

/// The background of this page. Copies are handles to the same one.
#[derive(Clone)]
pub struct Background(Rc<Line>);

struct Line {
    address: String,
    hand: RefCell<Option<Hand>>,
    waits: RefCell<Option<(String, Tell)>>,
    busy: Cell<bool>,
}

impl Default for Background {
    fn default() -> Background {
        Background::new()
    }
}

impl Background {
    /// The background whose worker the page names. Nothing is loaded yet.
    pub fn new() -> Background {
        let named = js::window()
            .and_then(|window| window.document())
            .and_then(|document| document.query_selector(MARK).ok().flatten())
            .and_then(|mark| mark.get_attribute("content"));
        Background::at(named.as_deref().unwrap_or(UNSEALED))
    }

    /// The background whose worker stands at that address.
    pub fn at(address: &str) -> Background {
        Background(Rc::new(Line {
            address: address.to_owned(),
            hand: RefCell::new(None),
            waits: RefCell::new(None),
            busy: Cell::new(false),
        }))
    }

    /// Asks, and tells the answer later. Of several that wait only the newest is asked; the others
    /// are never told.
    pub fn ask(&self, question: String, tell: impl FnOnce(Reply) + 'static) {
        self.0.waits.replace(Some((question, Box::new(tell))));
        if self.0.busy.replace(true) {
            return;
        }
        let background = self.clone();
        spawn_local(async move {
            // Not held over an answer: a teller may ask again.
            while let Some((question, tell)) = background.next() {
                let reply = background.put(&question).await;
                tell(reply);
            }
            background.0.busy.set(false);
        });
    }

    fn next(&self) -> Option<(String, Tell)> {
        self.0.waits.take()
    }

    /// One question to the worker and its answer; a worker that fails is let go.
    async fn put(&self, question: &str) -> Reply {
        let hand = self.0.hand.take().or_else(|| Hand::start(&self.0.address));
        let Some(hand) = hand else {
            return Reply::NotAvailable;
        };
        match hand.ask(question).await {
            Some(said) => {
                self.0.hand.replace(Some(hand));
                Reply::Said(said)
            }
            None => Reply::NotAvailable,
        }
    }
}

/// A worker that runs. It ends when this is dropped.
struct Hand {
    worker: EventTarget,
    /// Takes the next message or failure.
    heard: Rc<RefCell<Option<Function>>>,
    _listening: Listening,
}

impl Hand {
    /// `None` where the browser has no workers, or does not let this one begin.
    fn start(address: &str) -> Option<Hand> {
        // Looked up at the time, as in `chime`.
        let maker: Function = js::field(js::window()?.as_ref(), "Worker")?
            .dyn_into()
            .ok()?;
        let made = Reflect::construct(&maker, &Array::of1(&JsValue::from_str(address))).ok()?;
        let worker: EventTarget = made.dyn_into().ok()?;
        let heard = Rc::new(RefCell::new(None::<Function>));
        let taker = heard.clone();
        let places = ["message", "messageerror", "error"].map(|kind| (worker.clone(), kind));
        let listening = Listening::at(places, move |event| {
            // A failure of the worker is told here and nowhere else.
            event.prevent_default();
            if let Some(take) = taker.take() {
                let data = js::field(&event, "data").unwrap_or(JsValue::NULL);
                let _ = take.call1(&JsValue::UNDEFINED, &data);
            }
        });
        Some(Hand {
            worker,
            heard,
            _listening: listening,
        })
    }

    /// `None` when the worker failed, said no text, or took too long.
    async fn ask(&self, question: &str) -> Option<String> {
        let answer = Promise::new(&mut |resolve, _| {
            self.heard.replace(Some(resolve));
        });
        js::call(&self.worker, "postMessage", &[JsValue::from_str(question)])?.ok()?;
        js::within(&answer, LIMIT_MS).await.ok()??.as_string()
    }
}

impl Drop for Hand {
    fn drop(&mut self) {
        // One that is gone already has nothing to end.
        let _ = js::call(&self.worker, "terminate", &[]);
    }
}
