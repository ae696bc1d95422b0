//! The line to the plant: questions go to a worker of its own, one after the other, none dropped.
//!
//! It is another worker than the one that fits systems to readings, so that neither waits for the
//! other.

use crate::outside::worker::{Background, Reply};
use serde_json::Value;
use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::rc::Rc;

/// What came of a question.
pub(super) enum Heard {
    /// An answer: its kind, and what it holds.
    Said(String, Value),
    /// Why it was not answered, in words.
    Refused(String),
    /// There is no worker here, or it stopped.
    NotAvailable,
}

type Tell = Box<dyn FnOnce(Heard)>;

/// The line. Copies are handles to the same one.
#[derive(Clone)]
pub(super) struct Line(Rc<Inner>);

struct Inner {
    worker: Background,
    waits: RefCell<VecDeque<(String, Tell)>>,
    out: Cell<bool>,
}

impl Line {
    pub(super) fn new() -> Self {
        Self(Rc::new(Inner {
            worker: Background::new(),
            waits: RefCell::new(VecDeque::new()),
            out: Cell::new(false),
        }))
    }

    /// Asks, and tells the answer later; in the order in which it was asked.
    pub(super) fn ask(&self, question: &Value, tell: Tell) {
        let text = question.to_string();
        self.0.waits.borrow_mut().push_back((text, tell));
        if !self.0.out.replace(true) {
            self.next();
        }
    }

    /// Whether nothing is asked now.
    pub(super) fn is_idle(&self) -> bool {
        !self.0.out.get()
    }

    fn next(&self) {
        // Not held over the question: its teller may ask again.
        let next = self.0.waits.borrow_mut().pop_front();
        let Some((text, tell)) = next else {
            self.0.out.set(false);
            return;
        };
        let line = self.clone();
        self.0.worker.ask(text, move |reply| {
            tell(heard(reply));
            line.next();
        });
    }
}

fn heard(reply: Reply) -> Heard {
    let Reply::Said(text) = reply else {
        return Heard::NotAvailable;
    };
    let said: Option<Value> = serde_json::from_str(&text).ok();
    let said = said.and_then(|said| match said {
        Value::Object(said) => said.into_iter().next(),
        _ => None,
    });
    match said {
        Some((kind, why)) if kind == "error" => {
            Heard::Refused(why["says"].as_str().unwrap_or_default().to_owned())
        }
        Some((kind, held)) => Heard::Said(kind, held),
        None => Heard::Refused("The plant said something that cannot be read. Reload.".to_owned()),
    }
}
