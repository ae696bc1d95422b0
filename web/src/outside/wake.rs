//! Keeping the screen on during a wait, where the phone allows it.

use super::js;
use super::listen::Listening;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};

/// Whether the screen is being kept on: what the phone did, not what was asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WakeState {
    /// The screen stays on while this page is in view.
    On,
    /// The screen may go dark: not asked for, or let go when the page went out of view.
    Off,
    /// Asked for and refused: low battery, page out of view, or the phone wants a tap first.
    Refused,
    /// This browser has no such thing.
    NotAvailable,
}

/// The wish to keep the screen on. Clones share one wish.
#[derive(Clone)]
pub struct WakeLock(Rc<Shared>);

struct Shared {
    wanted: Cell<bool>,
    state: Cell<WakeState>,
    held: RefCell<Option<Held>>,
    tell: Box<dyn Fn(WakeState)>,
}

struct Held {
    sentinel: JsValue,
    _release: Listening,
}

impl WakeLock {
    /// No wish yet; `tell` hears each change of state, whoever caused it.
    pub fn new(tell: impl Fn(WakeState) + 'static) -> WakeLock {
        let state = match lock_maker() {
            Some(_) => WakeState::Off,
            None => WakeState::NotAvailable,
        };
        WakeLock(Rc::new(Shared {
            wanted: Cell::new(false),
            state: Cell::new(state),
            held: RefCell::new(None),
            tell: Box::new(tell),
        }))
    }

    /// What the phone is doing now.
    pub fn state(&self) -> WakeState {
        self.0.state.get()
    }

    /// Asks to keep the screen on. Ask again on each return to the page: the phone lets go when the
    /// page is hidden, and some phones want the question inside a tap.
    pub async fn request(&self) -> WakeState {
        if self.state() == WakeState::On {
            return WakeState::On;
        }
        let Some(maker) = lock_maker() else {
            return self.become_state(WakeState::NotAvailable);
        };
        self.0.wanted.set(true);
        let answer = match js::call(&maker, "request", &[JsValue::from_str("screen")]) {
            Some(Ok(promise)) => js::settle(promise).await,
            Some(Err(error)) => Err(error),
            None => return self.become_state(WakeState::NotAvailable),
        };
        match answer {
            Ok(sentinel) if self.0.wanted.get() => {
                self.hold(sentinel);
                self.become_state(WakeState::On)
            }
            Ok(sentinel) => {
                // Let go while the phone was still thinking about it.
                let_go(&sentinel).await;
                self.become_state(WakeState::Off)
            }
            Err(_) => self.become_state(WakeState::Refused),
        }
    }

    /// Lets the screen go dark again.
    pub async fn release(&self) -> WakeState {
        self.0.wanted.set(false);
        let held = self.0.held.borrow_mut().take();
        if let Some(held) = held {
            let_go(&held.sentinel).await;
        }
        match self.state() {
            WakeState::NotAvailable => WakeState::NotAvailable,
            _ => self.become_state(WakeState::Off),
        }
    }

    fn hold(&self, sentinel: JsValue) {
        let shared = Rc::downgrade(&self.0);
        let place = (sentinel.clone().unchecked_into(), "release");
        let release = Listening::at([place], move |_| {
            if let Some(shared) = shared.upgrade() {
                WakeLock(shared).become_state(WakeState::Off);
            }
        });
        *self.0.held.borrow_mut() = Some(Held {
            sentinel,
            _release: release,
        });
    }

    fn become_state(&self, state: WakeState) -> WakeState {
        if self.0.state.replace(state) != state {
            (self.0.tell)(state);
        }
        state
    }
}

fn lock_maker() -> Option<JsValue> {
    js::field(js::navigator()?.as_ref(), "wakeLock")
}

async fn let_go(sentinel: &JsValue) {
    if let Some(Ok(promise)) = js::call(sentinel, "release", &[]) {
        // Refusing to let go is the same as having let go already.
        let _ = js::settle(promise).await;
    }
}
