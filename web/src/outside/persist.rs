//! Whether the browser promises not to clear what is stored.

use super::js;

/// What the browser says about clearing stored jobs on its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keeping {
    /// The browser will not clear the jobs unless a person does.
    Protected,
    /// The browser may clear the jobs when it runs short, or after a while unused.
    MayBeCleared,
    /// The browser does not say: treat as [`Keeping::MayBeCleared`].
    NotKnown,
}

/// Reads the present promise, without asking for one.
pub async fn keeping() -> Keeping {
    answer("persisted").await
}

/// Asks for the promise. Some browsers ask the person, so call it in a tap, when there is a job to keep.
pub async fn ask() -> Keeping {
    answer("persist").await
}

async fn answer(question: &str) -> Keeping {
    let called = js::navigator()
        .and_then(|navigator| js::field(&navigator, "storage"))
        .and_then(|storage| js::call(&storage, question, &[]));
    let Some(Ok(promise)) = called else {
        return Keeping::NotKnown;
    };
    match js::settle(promise).await.ok().and_then(|yes| yes.as_bool()) {
        Some(true) => Keeping::Protected,
        Some(false) => Keeping::MayBeCleared,
        None => Keeping::NotKnown,
    }
}
