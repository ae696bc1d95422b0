//! Giving a record out of the page: download, share sheet, printer.

use super::js;
use js_sys::{Array, Object, Reflect};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{File, FilePropertyBag, HtmlAnchorElement, Url};

/// How long a downloaded file stays reachable before its memory is given back, ms: slow phones fetch
/// it late.
const KEEP_MS: i32 = 60_000;
/// Longest file name made here, in letters, ending excluded.
const NAME_LENGTH: usize = 80;

/// The form of a file given out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Comma separated values.
    Csv,
    /// JSON.
    Json,
    /// Plain text.
    Text,
}

impl Form {
    /// Ending of the file name, and media type.
    fn facts(self) -> (&'static str, &'static str) {
        match self {
            Form::Csv => ("csv", "text/csv;charset=utf-8"),
            Form::Json => ("json", "application/json"),
            Form::Text => ("txt", "text/plain;charset=utf-8"),
        }
    }
}

/// How a file left the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Given {
    /// Handed to the browser's downloads; whether the person kept it is not known.
    Downloaded,
    /// Taken by what the person chose on the share sheet.
    Shared,
    /// The person closed the share sheet.
    CalledOff,
}

/// Why a file did not leave the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FileError {
    /// The browser refused; the name it gave the fault.
    Refused(String),
    /// A page on the home screen of this phone cannot download, and this browser shares no such file.
    NoWayOut,
}

impl FileError {
    /// What happened and what to do, in one or two sentences.
    pub fn says(&self) -> String {
        match self {
            FileError::Refused(name) => format!(
                "The browser did not take the file ({name}). Try again, or copy the record as text."
            ),
            FileError::NoWayOut => {
                "This phone cannot pass on a file from the home screen. Copy the \
                 record as text, or open the page in the browser."
                    .to_owned()
            }
        }
    }
}

/// A file ready to go. Make it before the tap: a share sheet opens only in the tap itself.
pub struct Parcel {
    file: File,
    as_text: Option<File>,
}

impl Parcel {
    /// Packs `text` under a name; characters that some phone refuses in a name become `-`.
    ///
    /// # Errors
    /// [`FileError::Refused`] when the browser makes no such file.
    pub fn pack(name: &str, form: Form, text: &str) -> Result<Parcel, FileError> {
        let (ending, _) = form.facts();
        let name = format!("{}.{ending}", safe_name(name));
        let file = file(&name, form, text)?;
        // Share sheets take no JSON by that name, but they take text.
        let as_text = match form {
            Form::Json => Some(self::file(&format!("{name}.txt"), Form::Text, text)?),
            Form::Csv | Form::Text => None,
        };
        Ok(Parcel { file, as_text })
    }

    /// Whether a share sheet would take this file: only then show a button for it.
    pub fn can_be_shared(&self) -> bool {
        self.shareable().is_some()
    }

    /// Gives the file out by the one way that is safe here: the share sheet for a page on the home
    /// screen of an iOS phone, where a download can trap the person, and a download elsewhere.
    ///
    /// # Errors
    /// As [`Parcel::share`] and [`Parcel::download`].
    pub async fn give(&self) -> Result<Given, FileError> {
        if on_ios_home_screen() {
            self.share().await
        } else {
            self.download()
        }
    }

    /// Opens the share sheet. Call it inside a tap.
    ///
    /// # Errors
    /// [`FileError::NoWayOut`] when nothing here shares such a file; [`FileError::Refused`].
    pub async fn share(&self) -> Result<Given, FileError> {
        let (Some(data), Some(navigator)) = (self.shareable(), js::navigator()) else {
            return Err(FileError::NoWayOut);
        };
        let answer = match js::call(&navigator, "share", &[data]) {
            Some(Ok(promise)) => js::settle(promise).await,
            Some(Err(error)) => Err(error),
            None => return Err(FileError::NoWayOut),
        };
        match answer {
            Ok(_) => Ok(Given::Shared),
            Err(error) if js::error_name(&error) == "AbortError" => Ok(Given::CalledOff),
            Err(error) => Err(refused(&error)),
        }
    }

    /// Hands the file to the browser's downloads.
    ///
    /// # Errors
    /// [`FileError::Refused`].
    pub fn download(&self) -> Result<Given, FileError> {
        self.try_download().map_err(|error| refused(&error))?;
        Ok(Given::Downloaded)
    }

    fn try_download(&self) -> Result<(), JsValue> {
        let window = js::window().ok_or(JsValue::NULL)?;
        let document = window.document().ok_or(JsValue::NULL)?;
        let link: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
        let address = Url::create_object_url_with_blob(&self.file)?;
        link.set_href(&address);
        link.set_download(&self.file.name());
        link.click();
        let forget = Closure::once_into_js(move || {
            let _ = Url::revoke_object_url(&address);
        });
        window.set_timeout_with_callback_and_timeout_and_arguments_0(
            forget.unchecked_ref(),
            KEEP_MS,
        )?;
        Ok(())
    }

    /// What to hand to the share sheet: the file, or else its twin as text, whichever is taken first.
    fn shareable(&self) -> Option<JsValue> {
        let navigator = js::navigator()?;
        std::iter::once(&self.file)
            .chain(&self.as_text)
            .find_map(|file| {
                let data = Object::new();
                Reflect::set(&data, &JsValue::from_str("files"), &Array::of1(file)).ok()?;
                let data = JsValue::from(data);
                let taken = js::call(&navigator, "canShare", std::slice::from_ref(&data))?.ok()?;
                taken.is_truthy().then_some(data)
            })
    }
}

/// Opens the browser's print dialogue.
///
/// # Errors
/// [`FileError::Refused`], as on a phone whose home-screen pages do not print.
pub fn print() -> Result<(), FileError> {
    let window = js::window().ok_or_else(|| FileError::Refused("no window".to_owned()))?;
    window.print().map_err(|error| refused(&error))
}

/// Only iOS sets this, and only for a page opened from its home screen.
fn on_ios_home_screen() -> bool {
    js::navigator()
        .and_then(|navigator| js::field(&navigator, "standalone"))
        .is_some_and(|standalone| standalone.is_truthy())
}

fn file(name: &str, form: Form, text: &str) -> Result<File, FileError> {
    let (_, media_type) = form.facts();
    let options = FilePropertyBag::new();
    options.set_type(media_type);
    let parts = Array::of1(&JsValue::from_str(text));
    File::new_with_str_sequence_and_options(&parts, name, &options).map_err(|error| refused(&error))
}

fn refused(error: &JsValue) -> FileError {
    FileError::Refused(js::error_name(error))
}

fn safe_name(name: &str) -> String {
    let safe: String = name
        .chars()
        .take(NAME_LENGTH)
        .map(|letter| {
            if letter.is_ascii_alphanumeric() {
                letter
            } else {
                '-'
            }
        })
        .collect();
    if safe.is_empty() {
        "record".to_owned()
    } else {
        safe
    }
}

#[cfg(test)]
mod tests {
    use super::safe_name;

    #[test]
    fn a_file_name_holds_no_character_a_phone_refuses() {
        assert_eq!(safe_name("Gull & Crumb: 5/3"), "Gull---Crumb--5-3");
        assert_eq!(safe_name(""), "record");
        assert_eq!(safe_name(&"a".repeat(300)).len(), 80);
    }
}
