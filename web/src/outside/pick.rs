//! Taking a text file from the person.

use super::js;
use js_sys::{Promise, Uint8Array};
use wasm_bindgen::JsCast;
use web_sys::HtmlInputElement;

/// Why a picked file was not read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PickError {
    /// The browser opened no file or could not read it; the name it gave the fault.
    Refused(String),
    /// The file is larger than this page reads: both sizes, in bytes.
    TooLarge {
        /// Size of the file.
        size: u64,
        /// Largest size that is read.
        cap: u64,
    },
    /// The file is not text in UTF-8.
    NotText,
}

impl PickError {
    /// What happened and what to do, in one or two sentences.
    pub fn says(&self) -> String {
        match self {
            PickError::Refused(name) => {
                format!("The browser could not read the file ({name}). Pick it again.")
            }
            PickError::TooLarge { size, cap } => format!(
                "The file has {size} bytes; at most {cap} are read. Is it an Evenfeed export?"
            ),
            PickError::NotText => {
                "The file is not plain text (UTF-8). Is it an Evenfeed export?".to_owned()
            }
        }
    }
}

/// Lets the person pick one file and reads it. Call it inside a tap.
///
/// - `accept`: endings or media types to offer, such as `.json,.txt`.
/// - `cap`: largest size read, bytes; checked before reading.
///
/// `None` when the person picks nothing. Some older browsers never tell that; then this never ends.
///
/// # Errors
/// One [`PickError`] for each thing that can be wrong with the file.
pub async fn text_file(accept: &str, cap: u64) -> Result<Option<String>, PickError> {
    let refused = |error| PickError::Refused(js::error_name(&error));
    let input: HtmlInputElement = js::window()
        .and_then(|window| window.document())
        .and_then(|document| document.create_element("input").ok())
        .and_then(|input| input.dyn_into().ok())
        .ok_or_else(|| PickError::Refused("no page".to_owned()))?;
    input.set_type("file");
    input.set_accept(accept);
    let chosen = Promise::new(&mut |resolve, _reject| {
        for event in ["change", "cancel"] {
            // An event that cannot be listened for leaves the other.
            let _ = input.add_event_listener_with_callback(event, &resolve);
        }
    });
    input.click();
    js::settle(chosen.into()).await.map_err(refused)?;
    let Some(file) = input.files().and_then(|files| files.get(0)) else {
        return Ok(None);
    };
    let size = file.size() as u64;
    if size > cap {
        return Err(PickError::TooLarge { size, cap });
    }
    let bytes = js::settle(file.array_buffer().into())
        .await
        .map_err(refused)?;
    // Strict, where the browser's own reading as text would put marks for what it cannot read.
    String::from_utf8(Uint8Array::new(&bytes).to_vec())
        .map(Some)
        .map_err(|_| PickError::NotText)
}
