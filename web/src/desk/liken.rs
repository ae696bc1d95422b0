//! What the background says of a system that reads like the open one: asked when a screen wants it and
//! the reading is another one, never by the second.

use super::Desk;
use crate::outside::worker::Reply;
use diagnosis::Field;
use leptos::prelude::*;
use likeness::{Answer, Lacking, Question};
use std::sync::Arc;

/// How a system like this one stands.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Likened {
    /// Nothing was read yet, or the job is not named.
    NotRead,
    /// These readings are missing.
    Lacking(Vec<Field>),
    /// The background is at it.
    Working,
    /// Its answer.
    Said(Arc<Answer>),
    /// Nothing can be likened; why.
    Failed(String),
    /// There is no background here.
    NotAvailable,
}

impl Desk {
    /// Keeps [`Desk::likened`] in step with the reading for as long as the screen stands that calls
    /// this.
    ///
    /// - `wanted`: whether it is looked at.
    /// - `ounces`: a step of charge that is thought of.
    /// - `will_it_fit`: whether the whole range of weather is asked for.
    pub(crate) fn likens(
        self,
        wanted: impl Fn() -> bool + Send + Sync + 'static,
        ounces: impl Fn() -> Option<f64> + Send + Sync + 'static,
        will_it_fit: bool,
    ) {
        let question = Memo::new(move |_| {
            if !wanted() {
                return None;
            }
            let ounces = ounces();
            let now_ms = self.now_ms.get_untracked();
            let told = self.job.with(|job| job.as_ref()?.told(now_ms));
            Some(told.map(|told| {
                told.map(|told| Question {
                    told,
                    ounces,
                    will_it_fit,
                })
            }))
        });
        Effect::new(move |_| match question.get() {
            None => {}
            Some(None) => self.likens_nothing(Likened::NotRead),
            Some(Some(Err(Lacking(fields)))) => self.likens_nothing(Likened::Lacking(fields)),
            Some(Some(Ok(question))) => self.asks(question),
        });
    }

    fn likens_nothing(self, why: Likened) {
        self.asked.set_value(None);
        self.likened.set(why);
    }

    fn asks(self, mut question: Question) {
        let before = self.asked.get_value();
        if let Some(before) = before.filter(|before| before.told == question.told) {
            // More may be asked of the same reading, never less.
            question.ounces = question.ounces.or(before.ounces);
            question.will_it_fit |= before.will_it_fit;
            let stands = matches!(
                self.likened.get_untracked(),
                Likened::Said(_) | Likened::Working | Likened::Failed(_)
            );
            if stands && question == before {
                return;
            }
        }
        let Ok(text) = serde_json::to_string(&question) else {
            return self.likens_nothing(Likened::NotAvailable);
        };
        self.asked.set_value(Some(question.clone()));
        self.likened.set(Likened::Working);
        self.tools().background.ask(text, move |reply| {
            // A reading that came since is asked about by itself.
            if self.asked.get_value().as_ref() != Some(&question) {
                return;
            }
            self.likened.set(match reply {
                Reply::NotAvailable => Likened::NotAvailable,
                Reply::Said(said) => match likeness::read(&said) {
                    Ok(answer) => Likened::Said(Arc::new(answer)),
                    Err(failure) => Likened::Failed(failure.says),
                },
            });
        });
    }
}
