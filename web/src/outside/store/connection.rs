//! One open connection to the database, and one transaction on it.

use super::StoreError;
use super::row::{EntryRow, HeadRow, Row, SettingRow};
use crate::outside::js;
use crate::outside::listen::Listening;
use js_sys::{Array, Object, Promise, Reflect};
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{
    Event, IdbDatabase, IdbFactory, IdbObjectStore, IdbObjectStoreParameters, IdbOpenDbRequest,
    IdbRequest, IdbTransaction,
};

/// Version of the layout below. Raise it with each change and say in [`lay_out`] how to get there.
const VERSION: u32 = 1;
/// Longest wait for the storage to open, ms. After it the page works without.
const OPEN_LIMIT_MS: i32 = 3_000;
/// Longest wait for one read or write, ms: many times what a slow phone needs.
const WORK_LIMIT_MS: i32 = 10_000;

/// An open database. Closes when dropped, and at once when another window wants a newer version.
pub(super) struct Connection {
    database: IdbDatabase,
    gone: Rc<Cell<bool>>,
    _end: Listening,
}

impl Connection {
    /// Opens the database and lays it out if it is new.
    pub(super) async fn open(name: &str) -> Result<Connection, StoreError> {
        let factory: IdbFactory = js::window()
            .and_then(|window| window.indexed_db().ok().flatten())
            .ok_or(StoreError::NotOffered)?;
        let request = factory
            .open_with_u32(name, VERSION)
            .map_err(|error| StoreError::from_opening(&error))?;

        let blocked = Rc::new(Cell::new(false));
        let seen = blocked.clone();
        let place = (request.clone().into(), "blocked");
        let on_blocked = Listening::at([place], move |_| seen.set(true));
        let asked = request.clone();
        let upgrade = Closure::once_into_js(move || {
            if let Err(error) = lay_out(&asked) {
                web_sys::console::error_1(&error);
                // Without its stores the database must not come to be.
                if let Some(transaction) = asked.transaction() {
                    let _ = transaction.abort();
                }
            }
        });
        request.set_onupgradeneeded(Some(upgrade.unchecked_ref()));

        let answer = js::within(&settled(&request), OPEN_LIMIT_MS).await;
        drop(on_blocked);
        match answer {
            Ok(Some(_)) => {
                let database = request
                    .result()
                    .map_err(|error| StoreError::from_opening(&error))?;
                let database = database
                    .dyn_into()
                    .map_err(|_| StoreError::OpenFailed("no database".into()))?;
                Ok(Connection::new(database))
            }
            Ok(None) => {
                close_when_it_comes(&request);
                Err(if blocked.get() {
                    StoreError::Blocked
                } else {
                    StoreError::NoAnswer
                })
            }
            Err(_) => Err(StoreError::from_opening(&fault_of(&request))),
        }
    }

    fn new(database: IdbDatabase) -> Connection {
        let gone = Rc::new(Cell::new(false));
        let mark = gone.clone();
        let closing = database.clone();
        let places = ["versionchange", "close"].map(|kind| (database.clone().into(), kind));
        let end = Listening::at(places, move |_: Event| {
            mark.set(true);
            closing.close();
        });
        Connection {
            database,
            gone,
            _end: end,
        }
    }

    /// Whether this connection was closed from outside.
    pub(super) fn is_gone(&self) -> bool {
        self.gone.get()
    }

    /// Writes in one transaction: all of it or nothing. Ends when the browser says it is on disk.
    ///
    /// `fill` places every request at once; nothing may be awaited inside a transaction. Dropping the
    /// future before its end takes the write back.
    pub(super) async fn write(
        &self,
        stores: &[&str],
        fill: impl FnOnce(&IdbTransaction) -> Result<(), JsValue>,
    ) -> Result<(), StoreError> {
        let transaction = self.begin(stores, "readwrite")?;
        let mut pending = Pending {
            transaction,
            over: false,
        };
        fill(&pending.transaction).map_err(|error| StoreError::from_browser(&error))?;
        let end = js::within(&ended(&pending.transaction), WORK_LIMIT_MS).await;
        match end {
            Ok(Some(_)) => {
                pending.over = true;
                Ok(())
            }
            Ok(None) => Err(StoreError::NoAnswer),
            Err(_) => {
                pending.over = true;
                Err(match pending.transaction.error() {
                    Some(error) => StoreError::from_browser(&error),
                    None => StoreError::GaveUp("AbortError".to_owned()),
                })
            }
        }
    }

    /// Asks one question of one object store.
    pub(super) async fn read(
        &self,
        store: &str,
        ask: impl FnOnce(&IdbObjectStore) -> Result<IdbRequest, JsValue>,
    ) -> Result<JsValue, StoreError> {
        let transaction = self.begin(&[store], "readonly")?;
        let request = transaction
            .object_store(store)
            .and_then(|store| ask(&store))
            .map_err(|error| StoreError::from_browser(&error))?;
        match js::within(&settled(&request), WORK_LIMIT_MS).await {
            Ok(Some(_)) => request
                .result()
                .map_err(|error| StoreError::from_browser(&error)),
            Ok(None) => Err(StoreError::NoAnswer),
            Err(_) => Err(StoreError::from_browser(&fault_of(&request))),
        }
    }

    /// Opens a transaction; what is written is on disk, not only handed to the system, when it ends.
    ///
    /// # Source
    /// `durability`: Indexed Database API 3.0, `IDBTransactionOptions`. The bindings have no stable
    /// form of it, so the method is called by name.
    fn begin(&self, stores: &[&str], mode: &str) -> Result<IdbTransaction, StoreError> {
        let names: Array = stores.iter().map(|name| JsValue::from_str(name)).collect();
        let options = Object::new();
        if mode == "readwrite" {
            let durability = JsValue::from_str("durability");
            Reflect::set(&options, &durability, &JsValue::from_str("strict"))
                .map_err(|error| StoreError::from_browser(&error))?;
        }
        let arguments = [names.into(), JsValue::from_str(mode), options.into()];
        js::call(&self.database, "transaction", &arguments)
            .ok_or(StoreError::NotOffered)?
            .map(|transaction| transaction.unchecked_into())
            .map_err(|error| StoreError::from_browser(&error))
    }
}

impl Drop for Connection {
    fn drop(&mut self) {
        // The browser first ends the transactions that are under way.
        self.database.close();
    }
}

/// A write that is taken back unless it is over.
struct Pending {
    transaction: IdbTransaction,
    over: bool,
}

impl Drop for Pending {
    fn drop(&mut self) {
        if !self.over {
            // Refused only when the transaction ended by itself; then there is nothing to take back.
            let _ = self.transaction.abort();
        }
    }
}

/// Makes the object stores of a new database.
fn lay_out(request: &IdbOpenDbRequest) -> Result<(), JsValue> {
    let database: IdbDatabase = request.result()?.dyn_into()?;
    let text = JsValue::from_str;
    let pair: JsValue = Array::of2(&text("job"), &text("seq")).into();
    let layout = [
        (EntryRow::STORE, pair),
        (HeadRow::STORE, text("job")),
        (SettingRow::STORE, text("name")),
    ];
    for (store, key) in layout {
        let options = IdbObjectStoreParameters::new();
        options.set_key_path(&key);
        database.create_object_store_with_optional_parameters(store, &options)?;
    }
    Ok(())
}

/// Gives an opening that nobody waits for any more no chance to hold up other windows.
fn close_when_it_comes(request: &IdbOpenDbRequest) {
    let late = request.clone();
    let close = Closure::once_into_js(move || {
        if let Some(database) = late
            .result()
            .ok()
            .and_then(|it| it.dyn_into::<IdbDatabase>().ok())
        {
            database.close();
        }
    });
    request.set_onsuccess(Some(close.unchecked_ref()));
}

/// Settles when the request does. The handlers are the promise's own: none of ours is left behind.
fn settled(request: &IdbRequest) -> Promise {
    Promise::new(&mut |resolve, reject| {
        request.set_onsuccess(Some(&resolve));
        request.set_onerror(Some(&reject));
    })
}

/// Settles when the transaction is on disk, or was taken back.
fn ended(transaction: &IdbTransaction) -> Promise {
    Promise::new(&mut |resolve, reject| {
        transaction.set_oncomplete(Some(&resolve));
        transaction.set_onabort(Some(&reject));
    })
}

fn fault_of(request: &IdbRequest) -> JsValue {
    match request.error() {
        Ok(Some(error)) => error.into(),
        Ok(None) => JsValue::UNDEFINED,
        Err(error) => error,
    }
}
