//! Jobs that outlast the page: entries, heads and settings in the browser's database.
//!
//! Every write is one transaction that ends on disk or changes nothing. A connection that a phone cut
//! while the page was out of view is opened anew, once, without troubling anyone.

mod connection;
mod error;
mod row;

pub use error::StoreError;
pub use row::{EntryRow, HeadRow};

use connection::Connection;
use js_sys::Array;
use row::{Row, SettingRow};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use web_sys::IdbKeyRange;

/// Name of the database.
const DATABASE: &str = "evenfeed";

/// The stored jobs of this device. Clones share one connection.
#[derive(Clone)]
pub struct Store(Rc<Shared>);

struct Shared {
    name: String,
    connection: RefCell<Option<Rc<Connection>>>,
}

/// Whether a head that is already kept may be written over.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Heads {
    Replace,
    Keep,
}

impl Store {
    /// Opens the stored jobs.
    ///
    /// # Errors
    /// [`StoreError`]; within 3 s, also when the browser never answers. The page must then work on
    /// without storage and say so.
    pub async fn open() -> Result<Store, StoreError> {
        Store::open_named(DATABASE).await
    }

    pub(super) async fn open_named(name: &str) -> Result<Store, StoreError> {
        let store = Store(Rc::new(Shared {
            name: name.to_owned(),
            connection: RefCell::new(None),
        }));
        store.connection().await?;
        Ok(store)
    }

    /// Adds entries to the log of a job and renews its head, in one transaction. Only when this ends
    /// well may the page say that they are saved.
    ///
    /// Adding the same entries again changes nothing and is no error.
    ///
    /// # Errors
    /// [`StoreError::Clash`] when another window wrote other entries in the same places; any other
    /// [`StoreError`] of a write. Nothing is kept then.
    pub async fn append(&self, entries: &[EntryRow], head: &HeadRow) -> Result<(), StoreError> {
        self.add(entries, std::slice::from_ref(head), Heads::Replace)
            .await
    }

    /// Puts whole jobs back, after a removal or from a backup, in one transaction. Writes over nothing.
    ///
    /// # Errors
    /// [`StoreError::Clash`] when one of the jobs is there already and differs; any other
    /// [`StoreError`] of a write. Nothing is kept then.
    pub async fn restore(&self, entries: &[EntryRow], heads: &[HeadRow]) -> Result<(), StoreError> {
        self.add(entries, heads, Heads::Keep).await
    }

    /// The heads of all jobs, in the order of their identifiers.
    ///
    /// # Errors
    /// Any [`StoreError`] of a read.
    pub async fn heads(&self) -> Result<Vec<HeadRow>, StoreError> {
        self.run(async |connection: &Connection| {
            let answer = connection
                .read(HeadRow::STORE, |store| store.get_all())
                .await?;
            HeadRow::all_from_js(&answer)
        })
        .await
    }

    /// The log of a job in its order; empty for a job that is not there.
    ///
    /// # Errors
    /// Any [`StoreError`] of a read.
    pub async fn entries(&self, job: &str) -> Result<Vec<EntryRow>, StoreError> {
        self.run(async |connection: &Connection| {
            let range = all_of(job).map_err(|error| StoreError::from_browser(&error))?;
            let ask = |store: &web_sys::IdbObjectStore| store.get_all_with_key(&range);
            EntryRow::all_from_js(&connection.read(EntryRow::STORE, ask).await?)
        })
        .await
    }

    /// Removes a job, entries and head, in one transaction. For an undo, read both first.
    ///
    /// # Errors
    /// Any [`StoreError`] of a write.
    pub async fn remove(&self, job: &str) -> Result<(), StoreError> {
        self.run(async |connection: &Connection| {
            connection
                .write(&[EntryRow::STORE, HeadRow::STORE], |transaction| {
                    transaction
                        .object_store(EntryRow::STORE)?
                        .delete(&all_of(job)?)?;
                    transaction
                        .object_store(HeadRow::STORE)?
                        .delete(&JsValue::from_str(job))?;
                    Ok(())
                })
                .await
        })
        .await
    }

    /// What was kept under a name; `None` when nothing was.
    ///
    /// # Errors
    /// Any [`StoreError`] of a read.
    pub async fn setting(&self, name: &str) -> Result<Option<String>, StoreError> {
        self.run(async |connection: &Connection| {
            let key = JsValue::from_str(name);
            let answer = connection
                .read(SettingRow::STORE, |store| store.get(&key))
                .await?;
            if answer.is_undefined() {
                return Ok(None);
            }
            let row = SettingRow::from_js(&answer).ok_or(StoreError::Damaged(SettingRow::STORE))?;
            Ok(Some(row.body))
        })
        .await
    }

    /// Keeps a body under a name, in place of what was there.
    ///
    /// # Errors
    /// Any [`StoreError`] of a write.
    pub async fn keep_setting(&self, name: &str, body: &str) -> Result<(), StoreError> {
        let row = SettingRow {
            name: name.to_owned(),
            body: body.to_owned(),
        };
        self.run(async |connection: &Connection| {
            connection
                .write(&[SettingRow::STORE], |transaction| {
                    transaction
                        .object_store(SettingRow::STORE)?
                        .put(&row.to_js()?)?;
                    Ok(())
                })
                .await
        })
        .await
    }

    async fn add(
        &self,
        entries: &[EntryRow],
        heads: &[HeadRow],
        over: Heads,
    ) -> Result<(), StoreError> {
        // A write whose end was not heard may have been kept: then the next try meets its own
        // entries, and newer ones behind them.
        match self.put(entries, heads, over).await {
            Err(StoreError::Clash) => {
                let left = self.left_of(entries, heads, over).await?;
                if left.is_empty() {
                    return Ok(());
                }
                self.put(&left, heads, over).await
            }
            other => other,
        }
    }

    async fn put(
        &self,
        entries: &[EntryRow],
        heads: &[HeadRow],
        over: Heads,
    ) -> Result<(), StoreError> {
        self.run(async |connection: &Connection| {
            connection
                .write(&[EntryRow::STORE, HeadRow::STORE], |transaction| {
                    // Entries first: what comes of a half-kept write is then a log without its
                    // head, never a head that promises entries.
                    let log = transaction.object_store(EntryRow::STORE)?;
                    for entry in entries {
                        log.add(&entry.to_js()?)?;
                    }
                    let list = transaction.object_store(HeadRow::STORE)?;
                    for head in heads {
                        let record = head.to_js()?;
                        match over {
                            Heads::Replace => list.put(&record)?,
                            Heads::Keep => list.add(&record)?,
                        };
                    }
                    Ok(())
                })
                .await
        })
        .await
    }

    /// The entries that are not kept yet; [`StoreError::Clash`] where something else is. A head that
    /// may be replaced is not compared: a later one may be there by now.
    async fn left_of(
        &self,
        entries: &[EntryRow],
        heads: &[HeadRow],
        over: Heads,
    ) -> Result<Vec<EntryRow>, StoreError> {
        if over == Heads::Keep {
            let kept = self.heads().await?;
            if !heads.iter().all(|head| kept.contains(head)) {
                return Err(StoreError::Clash);
            }
        }
        // A log is short and a clash is rare: read each log once, in whole.
        let mut jobs: Vec<&str> = entries.iter().map(|entry| entry.job.as_str()).collect();
        jobs.sort_unstable();
        jobs.dedup();
        let mut left = Vec::new();
        for job in jobs {
            let kept = self.entries(job).await?;
            for entry in entries.iter().filter(|entry| entry.job == job) {
                match kept.iter().find(|kept| kept.seq == entry.seq) {
                    Some(same) if same == entry => {}
                    Some(_) => return Err(StoreError::Clash),
                    None => left.push(entry.clone()),
                }
            }
        }
        Ok(left)
    }

    /// Does the work; when the connection turns out to be lost, opens it anew and does it once more.
    async fn run<T>(
        &self,
        work: impl AsyncFn(&Connection) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let mut result = work(&*self.connection().await?).await;
        if matches!(result, Err(StoreError::ConnectionLost)) {
            self.let_go();
            result = work(&*self.connection().await?).await;
        }
        if matches!(
            result,
            Err(StoreError::ConnectionLost | StoreError::NoAnswer)
        ) {
            self.let_go();
        }
        result
    }

    async fn connection(&self) -> Result<Rc<Connection>, StoreError> {
        let held = self.0.connection.borrow().clone();
        if let Some(connection) = held.filter(|connection| !connection.is_gone()) {
            return Ok(connection);
        }
        self.let_go();
        let connection = Rc::new(Connection::open(&self.0.name).await?);
        *self.0.connection.borrow_mut() = Some(connection.clone());
        Ok(connection)
    }

    fn let_go(&self) {
        self.0.connection.borrow_mut().take();
    }
}

/// The keys of all entries of a job.
fn all_of(job: &str) -> Result<JsValue, JsValue> {
    let key = |seq: u32| Array::of2(&JsValue::from_str(job), &JsValue::from(seq));
    IdbKeyRange::bound(&key(0), &key(u32::MAX)).map(JsValue::from)
}
