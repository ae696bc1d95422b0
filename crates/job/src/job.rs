//! A job, and the only way on: `apply`.

use crate::choice::Choices;
use crate::draft::Draft;
use crate::event::Event;
use crate::gate::Override;
use crate::log::{Logged, What, charge_ounces, counted, position};
use crate::look_first::{Check, Item};
use crate::measure::Measure;
use crate::name::Name;
use crate::plate::PlateField;
use crate::rules::Refused;
use crate::screen::Screen;
use crate::slip::Slip;
use crate::stem::{Stem, StemView, last_change};
use crate::typed::Typed;
use coach::{Quarters, Stop};
use std::collections::BTreeMap;

/// One visit to one circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// Its identity, for ever.
    pub id: String,
    /// When it began, milliseconds since 1970, UTC.
    pub created_ms: i64,
    /// The newest event, same clock.
    pub touched_ms: i64,
    /// Invented, to look at.
    pub demo: bool,
    /// Words about it.
    pub names: BTreeMap<Name, String>,
    /// What was chosen.
    pub choices: Choices,
    /// Numbers typed about it.
    pub plate: BTreeMap<PlateField, Typed>,
    /// Checks marked so far.
    pub checks: BTreeMap<Item, Check>,
    /// Each time the gate was opened against open checks.
    pub overrides: Vec<Override>,
    /// Words that wait for their tap.
    pub slips: BTreeMap<Slip, String>,
    /// The reading being typed.
    pub draft: Draft,
    /// How the stem was found, and when that was written down.
    pub as_found: Option<(i64, String)>,
    /// What was done, in order.
    pub log: Vec<Logged>,
    /// When it was closed.
    pub finished_ms: Option<i64>,
    /// Where the person is.
    pub screen: Screen,
    /// How many events it holds.
    pub events: u32,
}

/// A wish to the outside.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// Store this event under this number before saying "Saved".
    Save {
        /// The number of the event in its job, from 0.
        seq: u32,
    },
    /// Keep a number about the place or the tools for the next job.
    Remember {
        /// Which.
        field: PlateField,
        /// What was typed.
        typed: Typed,
    },
    /// A wait began, or its end moved: ring then, if the outside can.
    RingAt {
        /// When, milliseconds since 1970, UTC.
        at_ms: i64,
    },
    /// The wait that ran runs no more.
    Silence,
}

impl Job {
    /// A job that has just begun.
    pub fn begin(id: &str, now_ms: i64, demo: bool) -> Self {
        Self {
            id: id.to_owned(),
            created_ms: now_ms,
            touched_ms: now_ms,
            demo,
            names: BTreeMap::new(),
            choices: Choices::default(),
            plate: BTreeMap::new(),
            checks: BTreeMap::new(),
            overrides: Vec::new(),
            slips: BTreeMap::new(),
            draft: Draft::default(),
            as_found: None,
            log: Vec::new(),
            finished_ms: None,
            screen: Screen::Job,
            events: 0,
        }
    }

    /// The job after an event, and what is wished of the outside. An event that does not fit
    /// leaves the job whole.
    ///
    /// - `now_ms`: when it happened, milliseconds since 1970, UTC.
    ///
    /// # Errors
    /// [`Refused`] says why it does not fit and what to do.
    pub fn apply(&self, event: &Event, now_ms: i64) -> Result<(Self, Vec<Request>), Refused> {
        if let Some(refused) = self.refuses(event) {
            return Err(refused);
        }
        let mut job = self.clone();
        let mut requests = vec![Request::Save { seq: self.events }];
        requests.extend(job.happened(event, now_ms));
        match (self.rings_at(now_ms), job.rings_at(now_ms)) {
            (before, after) if before == after => {}
            (_, Some(at_ms)) => requests.push(Request::RingAt { at_ms }),
            (_, None) => requests.push(Request::Silence),
        }
        Ok((job, requests))
    }

    /// What an event does. What has happened has happened: a stored event is not judged again by
    /// rules that may have become stricter since.
    pub(crate) fn happened(&mut self, event: &Event, now_ms: i64) -> Option<Request> {
        self.events += 1;
        self.touched_ms = now_ms;
        match event {
            Event::Wrote { name, text } => keep_words(&mut self.names, *name, text),
            Event::ChoseRefrigerant { refrigerant } => {
                self.choices.refrigerant = Some(*refrigerant);
            }
            Event::ChoseMetering { metering } => self.choices.metering = Some(*metering),
            Event::ChosePoint { point } => {
                self.choices.point = *point;
                self.choices.target_point = *point;
            }
            Event::ChoseTargetPoint { point } => self.choices.target_point = *point,
            Event::PlacedGauge { at_service_valve } => {
                self.choices.gauge_at_service_valve = *at_service_valve;
            }
            Event::ChoseGauge { gauge } => self.choices.gauge = *gauge,
            Event::ChoseFace { face } => self.choices.face = *face,
            Event::SawPlate { plate } => self.choices.plate = *plate,
            Event::ChoseSuperheatPedigree { pedigree } => {
                self.choices.superheat_pedigree = *pedigree;
            }
            Event::ChoseSubcoolingPedigree { pedigree } => {
                self.choices.subcooling_pedigree = *pedigree;
            }
            Event::Noted { field, typed } => return self.note(*field, typed),
            Event::Checked { item, state, note } => {
                self.checks.insert(
                    *item,
                    Check {
                        state: *state,
                        note: note.clone(),
                    },
                );
            }
            Event::Overrode { reason } => {
                self.overrides.push(Override {
                    at_ms: now_ms,
                    reason: reason.clone(),
                    covers: self.open_checks().collect(),
                });
                self.slips.remove(&Slip::OverrideReason);
            }
            Event::Jotted { slip, text } => keep_words(&mut self.slips, *slip, text),
            Event::Entered { field, typed } if typed.is_blank() => {
                self.draft.typed.remove(field);
            }
            Event::Entered { field, typed } => {
                self.draft.typed.insert(*field, typed.clone());
            }
            Event::WarmedBulb { answer } => self.draft.bulb_test = *answer,
            Event::ClearedReading => self.draft = Draft::default(),
            Event::KeptReading => {
                let left = left_typed(&self.draft);
                let draft = std::mem::replace(&mut self.draft, left);
                self.log.push(Logged::new(now_ms, What::Reading(draft)));
            }
            Event::RecordedAsFound { note } => {
                self.as_found = Some((now_ms, note.clone()));
                self.slips.remove(&Slip::AsFound);
            }
            Event::Turned { quarters } => self.turn(Quarters::new(*quarters), now_ms),
            Event::MetEnd { end } => self.log.push(Logged::new(now_ms, What::End(*end))),
            Event::Weighed { typed } => {
                // A weight that was no number was refused at its time.
                if let Ok(ounces) = typed.value(Measure::Mass) {
                    self.log.push(Logged::new(now_ms, What::Charge { ounces }));
                }
                self.slips.remove(&Slip::Weight);
            }
            Event::Changed { what, note } => {
                let what = What::Change {
                    what: *what,
                    note: note.clone(),
                };
                self.log.push(Logged::new(now_ms, what));
            }
            Event::TookBack => self.take_back(),
            Event::Finished => self.finished_ms = Some(now_ms),
            Event::Reopened => self.finished_ms = None,
            Event::Went { screen } => self.screen = *screen,
        }
        None
    }

    fn note(&mut self, field: PlateField, typed: &Typed) -> Option<Request> {
        if typed.is_blank() {
            self.plate.remove(&field);
        } else {
            self.plate.insert(field, typed.clone());
        }
        field.row().remembered.then(|| Request::Remember {
            field,
            typed: typed.clone(),
        })
    }

    fn turn(&mut self, by: Quarters, now_ms: i64) {
        let stem = self.stem(now_ms);
        // Away from liquid nothing waits.
        let rescue = stem.state == Stem::Stopped(Stop::BelowMinimum) && by.get() > 0;
        let early = !rescue && stem.wait.is_some_and(|wait| !wait.is_over(now_ms));
        self.log.push(Logged::new(now_ms, What::Turn { by, early }));
    }

    fn take_back(&mut self) {
        let Some(last) = self.log.iter_mut().rev().find(|line| !line.struck) else {
            return;
        };
        last.struck = true;
        // It may be mended and kept again, unless the next one is being typed already.
        if let What::Reading(kept) = &last.what
            && (self.draft.is_empty() || self.draft == left_typed(kept))
        {
            self.draft = kept.clone();
        }
    }

    /// When the wait that runs ends, if one runs: what [`Request::RingAt`] last asked for. For a job
    /// that is opened again.
    ///
    /// - `now_ms`: milliseconds since 1970, UTC, and so is the answer.
    pub fn rings_at(&self, now_ms: i64) -> Option<i64> {
        let until_ms = last_change(self)?.saturating_add(self.wait_ms());
        (self.finished_ms.is_none() && until_ms > now_ms).then_some(until_ms)
    }

    /// The readings that count, oldest first, with their times.
    pub fn readings(&self) -> impl DoubleEndedIterator<Item = (i64, &Draft)> {
        counted(&self.log).filter_map(|line| match &line.what {
            What::Reading(draft) => Some((line.at_ms, draft)),
            _ => None,
        })
    }

    /// The reading that Finding speaks of: what is being typed once its four main values are there,
    /// else the newest one kept.
    pub fn present_reading(&self) -> Option<&Draft> {
        if self.draft.has_main_four() {
            return Some(&self.draft);
        }
        self.readings()
            .next_back()
            .map(|(_, draft)| draft)
            .or(Some(&self.draft).filter(|draft| !draft.is_empty()))
    }

    /// Words begun that wait for their tap; blank when there are none.
    pub fn slip(&self, slip: Slip) -> String {
        self.slips.get(&slip).cloned().unwrap_or_default()
    }

    /// The stem's position from as found.
    pub fn position(&self) -> Quarters {
        position(&self.log)
    }

    /// Ounces weighed in less ounces weighed out.
    pub fn charge_ounces(&self) -> f64 {
        charge_ounces(&self.log)
    }

    /// The stem's state now.
    pub fn stem(&self, now_ms: i64) -> StemView {
        StemView::of(self, now_ms)
    }

    /// What to call it in a list.
    pub fn title(&self) -> String {
        let word = |name| {
            self.names
                .get(&name)
                .map(String::as_str)
                .filter(|text| !text.is_empty())
        };
        match (word(Name::Place), word(Name::Unit)) {
            (Some(place), Some(unit)) => format!("{place}, {unit}"),
            (Some(one), None) | (None, Some(one)) => one.to_owned(),
            (None, None) => "Job without a name".to_owned(),
        }
    }
}

fn keep_words<T: Ord>(words: &mut BTreeMap<T, String>, of: T, text: &str) {
    if text.trim().is_empty() {
        words.remove(&of);
    } else {
        words.insert(of, text.to_owned());
    }
}

/// What stays typed when a reading is kept: what does not change from one to the next. The four main
/// ones are blanked so that none is kept twice by mistake.
pub(crate) fn left_typed(kept: &Draft) -> Draft {
    let mut typed = kept.typed.clone();
    typed.retain(|&field, _| carries_over(field));
    Draft {
        typed,
        bulb_test: None,
    }
}

/// Air, weather and standing values hold for the next reading as well; gauges and pipes do not.
fn carries_over(field: diagnosis::Field) -> bool {
    use diagnosis::Field::{CondenserAir, OpenAir, ReturnDryBulb, ReturnWetBulb};
    use diagnosis::Field::{StandingAir, StandingPressure};
    matches!(
        field,
        CondenserAir | OpenAir | ReturnDryBulb | ReturnWetBulb | StandingPressure | StandingAir
    )
}
