//! What can go wrong with stored jobs, and what a person can do about it.

use crate::outside::js;
use wasm_bindgen::JsValue;

/// Why something was not read or not kept. After any of these the stored jobs are as they were.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StoreError {
    /// The browser offers no storage here: a private window, or a rule set on the device.
    NotOffered,
    /// The storage did not open; the name the browser gave the fault.
    OpenFailed(String),
    /// The storage was asked and did not answer in time.
    NoAnswer,
    /// Another window holds the storage at an older version and does not let go.
    Blocked,
    /// The stored jobs come from a newer version of this page.
    FromNewerVersion,
    /// There is no room.
    Full,
    /// The connection was lost, and lost again after opening anew.
    ConnectionLost,
    /// Something else is already kept in the same place, written by another window.
    Clash,
    /// A stored record does not have the form it was written in; the store it is in.
    Damaged(&'static str),
    /// The browser gave up a read or a write; the name it gave the fault.
    GaveUp(String),
}

impl From<StoreError> for String {
    /// What is said of it.
    fn from(error: StoreError) -> String {
        error.says()
    }
}

impl StoreError {
    /// What happened and what to do, in one to three sentences.
    pub fn says(&self) -> String {
        match self {
            StoreError::NotOffered => "This browser keeps nothing here: a private window, or a rule \
                 set on this device. Your entries last only while this page is open. Open Evenfeed \
                 in an ordinary window, or export the record before you leave."
                .to_owned(),
            StoreError::OpenFailed(name) => format!(
                "The storage of this device did not open ({name}). Nothing is being saved. Close \
                 other Evenfeed windows and reload; if this stays, export the record."
            ),
            StoreError::NoAnswer => "The storage of this device does not answer. The last entry is \
                 not saved. Try again; if this stays, export the record and reload."
                .to_owned(),
            StoreError::Blocked => "Another Evenfeed window holds the saved jobs in an older form. \
                 Close that window, then try again. Nothing is lost."
                .to_owned(),
            StoreError::FromNewerVersion => "The saved jobs come from a newer Evenfeed than this \
                 page. Reload with a signal to update. Nothing was changed."
                .to_owned(),
            StoreError::Full => "The storage of this device is full. The last entry is not saved. \
                 Export the record, free some space, then try again."
                .to_owned(),
            StoreError::ConnectionLost => "The device cut this page off from its storage, twice. \
                 The last entry is not saved. Try again; if this stays, export the record and reload."
                .to_owned(),
            StoreError::Clash => "This job was changed in another window, so the last entry is not \
                 saved here. Note it, reload, and enter it again."
                .to_owned(),
            StoreError::Damaged(store) => format!(
                "A saved record cannot be read (in {store}). It was left as it is. Export what is \
                 shown before you go on."
            ),
            StoreError::GaveUp(name) => format!(
                "The browser gave up saving or reading ({name}). The last entry is not saved. Try \
                 again; if this stays, export the record and reload."
            ),
        }
    }

    /// Reads what the browser threw at a read or a write.
    ///
    /// # Source
    /// Names: Indexed Database API 3.0, section "Exceptions". The lost connection of iOS comes as an
    /// `UnknownError` known only by its message, or as an `InvalidStateError` (seen in bug reports;
    /// no standard).
    pub(super) fn from_browser(error: &JsValue) -> StoreError {
        let name = js::error_name(error);
        let message = js::text(error, "message")
            .unwrap_or_default()
            .to_ascii_lowercase();
        match name.as_str() {
            "QuotaExceededError" => StoreError::Full,
            "VersionError" => StoreError::FromNewerVersion,
            "ConstraintError" => StoreError::Clash,
            "InvalidStateError" => StoreError::ConnectionLost,
            _ if message.contains("connection") && message.contains("lost") => {
                StoreError::ConnectionLost
            }
            _ => StoreError::GaveUp(name),
        }
    }

    /// Reads what the browser threw at opening.
    pub(super) fn from_opening(error: &JsValue) -> StoreError {
        match StoreError::from_browser(error) {
            known @ (StoreError::FromNewerVersion | StoreError::Full) => known,
            _ => match js::error_name(error) {
                name if name == "SecurityError" => StoreError::NotOffered,
                name => StoreError::OpenFailed(name),
            },
        }
    }
}
