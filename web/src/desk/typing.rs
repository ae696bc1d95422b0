//! Letters on their way into the job: shown at once, kept a moment later.

use super::Desk;
use diagnosis::Field;
use job::{Event, Typed};
use leptos::prelude::*;

impl Desk {
    /// A letter was typed into the present reading: shown at once, kept in a moment.
    pub(crate) fn types(&self, field: Field, typed: Typed) {
        self.typing.update(|draft| {
            if typed.is_blank() {
                draft.typed.remove(&field);
            } else {
                draft.typed.insert(field, typed);
            }
        });
    }

    /// Keeps what was typed into one field.
    pub(crate) fn keeps(&self, field: Field) {
        let typed = self
            .typing
            .with_untracked(|draft| draft.typed.get(&field).cloned());
        let kept = self.job.with_untracked(|job| {
            job.as_ref()
                .and_then(|job| job.draft.typed.get(&field).cloned())
        });
        if typed != kept {
            let typed = typed.unwrap_or_else(|| Typed::new("", self.units.get_untracked()));
            self.happens(Event::Entered { field, typed });
        }
    }

    /// Keeps what was typed into every field.
    pub(crate) fn keeps_all(&self) {
        for &field in Field::ALL {
            self.keeps(field);
        }
    }
}
