//! Working without a signal: the service worker, and the change to a new version.
//!
//! The worker keeps every file of one build. It never takes over by itself: a new build waits until
//! [`Offline::apply_update`] is called. Words of the two, never to change because an old page must
//! still be understood by a new worker: `STATE?`, answered through the port that came with it by an
//! object whose `ready` is true when every file is kept; and `SKIP`, take over now.

use super::js;
use super::listen::Listening;
use super::visible::{self, Sight};
use js_sys::{Array, Promise};
use std::cell::{Cell, RefCell};
use std::rc::{Rc, Weak};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::spawn_local;
use web_sys::{
    EventTarget, MessageChannel, RegistrationOptions, ServiceWorker, ServiceWorkerContainer,
    ServiceWorkerRegistration, ServiceWorkerUpdateViaCache,
};

/// The worker's file, beside the page.
const WORKER: &str = "./sw.js";
/// What the worker looks after: the folder of the page.
const SCOPE: &str = "./";
/// How long the worker may take to say whether it is ready, ms.
const ANSWER_LIMIT_MS: i32 = 3_000;

/// Whether this page would open without a signal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfflineState {
    /// This browser or this address has no service worker: a signal is needed each time.
    NotSupported,
    /// Files are still being fetched, or the worker does not say that it has them all.
    Installing,
    /// Every file is kept.
    ReadyOffline,
    /// As before, and a newer version is kept too and waits for [`Offline::apply_update`].
    NewVersionWaiting,
    /// The worker could not be set up. It is tried again at the next visit.
    Failed,
}

/// The watch over the service worker. Keep it as long as the page.
#[must_use = "the watch ends when this is dropped"]
pub struct Offline(Rc<Watch>);

struct Watch {
    container: Option<ServiceWorkerContainer>,
    registration: RefCell<Option<ServiceWorkerRegistration>>,
    /// The last state told, and how many looks were begun: only the latest may tell.
    told: Cell<Option<OfflineState>>,
    looks: Cell<u32>,
    failed: Cell<bool>,
    /// A worker was in charge of this page before; the next one to take charge makes the page old.
    had_controller: Cell<bool>,
    page_is_old: Cell<bool>,
    reload_wanted: Cell<bool>,
    tell: Box<dyn Fn(OfflineState)>,
    reload: Box<dyn Fn()>,
    listening: RefCell<Vec<Listening>>,
    workers: RefCell<Vec<Listening>>,
}

impl Offline {
    /// Sets up the worker and tells each state as it comes, the first one soon.
    pub fn start(tell: impl Fn(OfflineState) + 'static) -> Offline {
        let container = js::navigator()
            .filter(|_| served_over_http())
            .and_then(|navigator| js::field(&navigator, "serviceWorker"))
            .map(JsCast::unchecked_into);
        Offline::start_with(container, tell, reload_page)
    }

    pub(super) fn start_with(
        container: Option<ServiceWorkerContainer>,
        tell: impl Fn(OfflineState) + 'static,
        reload: impl Fn() + 'static,
    ) -> Offline {
        let watch = Rc::new(Watch {
            had_controller: Cell::new(
                container
                    .as_ref()
                    .is_some_and(|container| container.controller().is_some()),
            ),
            container,
            registration: RefCell::new(None),
            told: Cell::new(None),
            looks: Cell::new(0),
            failed: Cell::new(false),
            page_is_old: Cell::new(false),
            reload_wanted: Cell::new(false),
            tell: Box::new(tell),
            reload: Box::new(reload),
            listening: RefCell::new(Vec::new()),
            workers: RefCell::new(Vec::new()),
        });
        watch.begin();
        Offline(watch)
    }

    /// Changes to the waiting version: the page reloads once, when the new worker has taken over.
    ///
    /// Save everything first. Call it from a tap, never while a wait is running.
    pub fn apply_update(&self) {
        let watch = &self.0;
        watch.reload_wanted.set(true);
        let registration = watch.registration.borrow().clone();
        match registration.and_then(|registration| registration.waiting()) {
            Some(waiting) => {
                // A page that was loaded past the worker hears of no change of worker; the worker's
                // own state then tells the end.
                watch.watch_worker(&waiting);
                if waiting.post_message(&JsValue::from_str("SKIP")).is_err() {
                    watch.reload_wanted.set(false);
                }
            }
            // Another window has let the new worker in already.
            None => watch.reload_once(),
        }
    }
}

impl Watch {
    fn begin(self: &Rc<Watch>) {
        let Some(container) = self.container.clone() else {
            return self.say(OfflineState::NotSupported);
        };
        let at = |target: &JsValue, kind| [(target.clone().unchecked_into::<EventTarget>(), kind)];
        let watch = Rc::downgrade(self);
        let change = Listening::at(at(&container, "controllerchange"), move |_| {
            if let Some(watch) = watch.upgrade() {
                watch.controller_changed();
            }
        });
        let watch = Rc::downgrade(self);
        let sight = visible::on_change(move |sight| {
            if let (Sight::Seen, Some(watch)) = (sight, watch.upgrade()) {
                spawn_local(async move { watch.look_for_update().await });
            }
        });
        self.listening.borrow_mut().extend([change, sight]);

        let options = RegistrationOptions::new();
        options.set_scope(SCOPE);
        options.set_update_via_cache(ServiceWorkerUpdateViaCache::None);
        let asked = container.register_with_options(WORKER, &options);
        let watch = self.clone();
        spawn_local(async move {
            match js::settle(asked.into()).await {
                Ok(registration) => watch.registered(registration.unchecked_into()).await,
                Err(_) => {
                    watch.failed.set(true);
                    watch.look().await;
                }
            }
        });
    }

    async fn registered(self: &Rc<Watch>, registration: ServiceWorkerRegistration) {
        let watch = Rc::downgrade(self);
        let found: EventTarget = registration.clone().unchecked_into();
        let listening = Listening::at([(found, "updatefound")], move |_| {
            if let Some(watch) = watch.upgrade() {
                watch.watch_newest();
            }
        });
        self.listening.borrow_mut().push(listening);
        *self.registration.borrow_mut() = Some(registration);
        self.watch_newest();
        self.look().await;
        self.look_for_update().await;
    }

    /// Asks the server for a newer worker. Without a signal that fails, and nothing is lost.
    async fn look_for_update(self: &Rc<Watch>) {
        let registration = self.registration.borrow().clone();
        if let Some(Ok(asked)) = registration.map(|registration| registration.update()) {
            let _ = js::settle(asked.into()).await;
            self.look().await;
        }
    }

    /// Follows the worker that is on its way in, up to its end.
    fn watch_newest(self: &Rc<Watch>) {
        let registration = self.registration.borrow().clone();
        let newest = registration.and_then(|registration| {
            registration
                .installing()
                .or(registration.waiting())
                .or(registration.active())
        });
        if let Some(worker) = newest {
            // Older ones have nothing more to tell.
            self.workers.borrow_mut().clear();
            self.watch_worker(&worker);
        }
        self.look_soon();
    }

    fn watch_worker(self: &Rc<Watch>, worker: &ServiceWorker) {
        let watch: Weak<Watch> = Rc::downgrade(self);
        let target: EventTarget = worker.clone().unchecked_into();
        let watched = worker.clone();
        let listening = Listening::at([(target, "statechange")], move |_| {
            let Some(watch) = watch.upgrade() else { return };
            let activated = js::text(&watched, "state").as_deref() == Some("activated");
            if activated && watch.reload_wanted.get() {
                return watch.reload_once();
            }
            watch.look_soon();
        });
        self.workers.borrow_mut().push(listening);
    }

    fn controller_changed(self: &Rc<Watch>) {
        if self.reload_wanted.get() {
            return self.reload_once();
        }
        // The first worker to take charge of a page is of the same build; a second one is not.
        if self.had_controller.replace(true) {
            self.page_is_old.set(true);
        }
        self.look_soon();
    }

    fn reload_once(&self) {
        if self.reload_wanted.take() {
            (self.reload)();
        }
    }

    fn look_soon(self: &Rc<Watch>) {
        let watch = self.clone();
        spawn_local(async move { watch.look().await });
    }

    /// Finds the state and tells it, unless a later look was begun meanwhile.
    async fn look(&self) {
        let turn = self.looks.get().wrapping_add(1);
        self.looks.set(turn);
        let state = self.state().await;
        if self.looks.get() == turn {
            self.say(state);
        }
    }

    async fn state(&self) -> OfflineState {
        if self.failed.get() {
            return OfflineState::Failed;
        }
        if self.page_is_old.get() {
            return OfflineState::NewVersionWaiting;
        }
        let Some(registration) = self.registration.borrow().clone() else {
            return OfflineState::Installing;
        };
        let (coming, waiting) = (registration.installing(), registration.waiting());
        match registration.active() {
            None if coming.is_none() && waiting.is_none() => OfflineState::Failed,
            None => OfflineState::Installing,
            Some(_) if waiting.is_some() => OfflineState::NewVersionWaiting,
            Some(active) if is_ready(&active).await => OfflineState::ReadyOffline,
            Some(_) => OfflineState::Installing,
        }
    }

    fn say(&self, state: OfflineState) {
        if self.told.replace(Some(state)) != Some(state) {
            (self.tell)(state);
        }
    }
}

/// Asks a worker whether every file is kept; silence is no.
async fn is_ready(worker: &ServiceWorker) -> bool {
    let Ok(channel) = MessageChannel::new() else {
        return false;
    };
    let ours = channel.port1();
    let answer = Promise::new(&mut |resolve, _reject| ours.set_onmessage(Some(&resolve)));
    let theirs = Array::of1(&channel.port2());
    let asked = worker.post_message_with_transferable(&JsValue::from_str("STATE?"), &theirs);
    let said = match asked {
        Ok(()) => js::within(&answer, ANSWER_LIMIT_MS).await,
        Err(_) => return false,
    };
    ours.close();
    let Ok(Some(event)) = said else {
        return false;
    };
    js::field(&event, "data")
        .and_then(|data| js::field(&data, "ready"))
        .is_some_and(|ready| ready == JsValue::TRUE)
}

fn served_over_http() -> bool {
    js::window()
        .and_then(|window| window.location().protocol().ok())
        .is_some_and(|protocol| protocol == "https:" || protocol == "http:")
}

fn reload_page() {
    if let Some(window) = js::window() {
        // A page that may not reload stays as it is, and still works.
        let _ = window.location().reload();
    }
}
