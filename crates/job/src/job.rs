//! A job, and the only way on: `apply`.

use crate::choice::{Choices, GaugeFace, PlateState};
use crate::draft::Draft;
use crate::event::Event;
use crate::log::{Logged, What, charge_ounces, counted, position};
use crate::look_first::{Check, CheckState, Item, Part};
use crate::measure::Measure;
use crate::name::Name;
use crate::number::NumberFault;
use crate::plate::PlateField;
use crate::screen::Screen;
use crate::stem::{Stem, StemView, last_change};
use crate::typed::{EntryFault, Typed};
use air::{Altitude, standard_atmosphere};
use coach::{Quarters, Stop};
use diagnosis::{
    Assessment, Gate, Instruments, MeasuringPoint, Metering, Pedigree, PressureLimit, Setup,
    Target, ThermometerLimit, assess,
};
use quantity::{AbsolutePressure, PressureDifference, TemperatureDifference};
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
    /// Why the gate was opened against open checks, and when.
    pub overridden: Option<(i64, String)>,
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

/// Why an event does not fit. The job is as it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refused {
    /// The stem is shut: the gate neither holds nor is overridden.
    StemShut,
    /// There is no stem on this device.
    NoStem,
    /// The as-found position comes before the first turn.
    AsFoundFirst,
    /// A reading comes before the first turn: there would be nothing to compare with.
    ReadingFirst,
    /// More than two turns in one step, or none.
    StepTooLarge,
    /// Nothing was entered.
    NothingEntered,
    /// An override needs a written reason.
    ReasonNeeded,
    /// The weight is not a number that can be.
    Weight(EntryFault),
    /// There is nothing to take back.
    NothingToTakeBack,
    /// The job is closed; open it again first.
    Closed,
}

impl Refused {
    /// What is wrong and what to do.
    pub const fn says(self) -> &'static str {
        match self {
            Self::StemShut => {
                "The stem stays shut until every check of Look first holds, or is overridden with a written reason."
            }
            Self::NoStem => "This metering device has no stem to turn.",
            Self::AsFoundFirst => "Write down how the stem was found before the first turn.",
            Self::ReadingFirst => "Keep a reading before the first turn, to compare with.",
            Self::StepTooLarge => "At most two turns in one step, at least a quarter.",
            Self::NothingEntered => "Nothing is entered yet.",
            Self::ReasonNeeded => "Write why, in a few words: it goes into the record.",
            Self::Weight(EntryFault::Number(fault)) => fault.says(),
            Self::Weight(EntryFault::OutOfRange { .. }) => {
                "More than any charge of this kind. Check the number and its unit."
            }
            Self::NothingToTakeBack => "There is nothing in the log to take back.",
            Self::Closed => "This job is closed. Open it again to go on.",
        }
    }
}

/// Most quarters in one step: two turns. Army manuals: at most two full turns in one step.
const MOST_QUARTERS: u32 = 8;
/// Most ounces in one weighing.
const MOST_OUNCES: f64 = 2000.0;

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
            overridden: None,
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
        if self.finished_ms.is_some()
            && !matches!(
                event,
                Event::Reopened | Event::Went { .. } | Event::Wrote { .. }
            )
        {
            return Err(Refused::Closed);
        }
        let mut job = self.clone();
        let mut requests = job.take(event, now_ms)?;
        requests.insert(0, Request::Save { seq: self.events });
        match (self.rings_at(now_ms), job.rings_at(now_ms)) {
            (before, after) if before == after => {}
            (_, Some(at_ms)) => requests.push(Request::RingAt { at_ms }),
            (_, None) => requests.push(Request::Silence),
        }
        job.events += 1;
        job.touched_ms = now_ms;
        Ok((job, requests))
    }

    fn take(&mut self, event: &Event, now_ms: i64) -> Result<Vec<Request>, Refused> {
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
            Event::Noted { field, typed } => return Ok(self.note(*field, typed)),
            Event::Checked { item, state, note } => {
                self.checks.insert(
                    *item,
                    Check {
                        state: *state,
                        note: note.clone(),
                    },
                );
            }
            Event::Overrode { reason } if reason.trim().is_empty() => {
                return Err(Refused::ReasonNeeded);
            }
            Event::Overrode { reason } => self.overridden = Some((now_ms, reason.clone())),
            Event::Entered { field, typed } if typed.is_blank() => {
                self.draft.typed.remove(field);
            }
            Event::Entered { field, typed } => {
                self.draft.typed.insert(*field, typed.clone());
            }
            Event::WarmedBulb { answer } => self.draft.bulb_test = *answer,
            Event::ClearedReading => self.draft = Draft::default(),
            Event::KeptReading => self.keep_reading(now_ms)?,
            Event::RecordedAsFound { note } => self.as_found = Some((now_ms, note.clone())),
            Event::Turned { quarters } => self.turn(Quarters::new(*quarters), now_ms)?,
            Event::MetEnd { end } => self.log.push(Logged::new(now_ms, What::End(*end))),
            Event::Weighed { typed } => self.weigh(typed, now_ms)?,
            Event::Changed { what, note } => {
                let what = What::Change {
                    what: *what,
                    note: note.clone(),
                };
                self.log.push(Logged::new(now_ms, what));
            }
            Event::TookBack => self.take_back()?,
            Event::Finished => self.finished_ms = Some(now_ms),
            Event::Reopened => self.finished_ms = None,
            Event::Went { screen } => self.screen = *screen,
        }
        Ok(Vec::new())
    }

    fn note(&mut self, field: PlateField, typed: &Typed) -> Vec<Request> {
        if typed.is_blank() {
            self.plate.remove(&field);
        } else {
            self.plate.insert(field, typed.clone());
        }
        if field.row().remembered {
            vec![Request::Remember {
                field,
                typed: typed.clone(),
            }]
        } else {
            Vec::new()
        }
    }

    fn keep_reading(&mut self, now_ms: i64) -> Result<(), Refused> {
        // A second tap on the same thumb: nothing was measured since.
        let as_left = self
            .readings()
            .next_back()
            .is_some_and(|(_, kept)| self.draft == left_typed(kept));
        if self.draft.is_empty() || as_left {
            return Err(Refused::NothingEntered);
        }
        let left = left_typed(&self.draft);
        let draft = std::mem::replace(&mut self.draft, left);
        self.log.push(Logged::new(now_ms, What::Reading(draft)));
        Ok(())
    }

    fn turn(&mut self, by: Quarters, now_ms: i64) -> Result<(), Refused> {
        if self.choices.metering != Some(Metering::AdjustableTxv) {
            return Err(Refused::NoStem);
        }
        if !self.stem_open() {
            return Err(Refused::StemShut);
        }
        if self.as_found.is_none() {
            return Err(Refused::AsFoundFirst);
        }
        if self.readings().next().is_none() {
            return Err(Refused::ReadingFirst);
        }
        if by.get() == 0 || by.get().unsigned_abs() > MOST_QUARTERS {
            return Err(Refused::StepTooLarge);
        }
        let stem = self.stem(now_ms);
        // Away from liquid nothing waits.
        let rescue = stem.state == Stem::Stopped(Stop::BelowMinimum) && by.get() > 0;
        let early = !rescue && stem.wait.is_some_and(|wait| !wait.is_over(now_ms));
        self.log.push(Logged::new(now_ms, What::Turn { by, early }));
        Ok(())
    }

    fn weigh(&mut self, typed: &Typed, now_ms: i64) -> Result<(), Refused> {
        let ounces = typed
            .within(Measure::Mass, (-MOST_OUNCES, MOST_OUNCES))
            .map_err(Refused::Weight)?;
        if ounces == 0.0 {
            return Err(Refused::Weight(EntryFault::Number(NumberFault::Blank)));
        }
        self.log.push(Logged::new(now_ms, What::Charge { ounces }));
        Ok(())
    }

    fn take_back(&mut self) -> Result<(), Refused> {
        let last = self
            .log
            .iter_mut()
            .rev()
            .find(|line| !line.struck)
            .ok_or(Refused::NothingToTakeBack)?;
        last.struck = true;
        // It may be mended and kept again, unless the next one is being typed already.
        if let What::Reading(kept) = &last.what
            && (self.draft.is_empty() || self.draft == left_typed(kept))
        {
            self.draft = kept.clone();
        }
        Ok(())
    }

    /// When the wait that runs ends, if one runs.
    fn rings_at(&self, now_ms: i64) -> Option<i64> {
        let until_ms = last_change(self)?.saturating_add(self.wait_ms());
        (self.finished_ms.is_none() && until_ms > now_ms).then_some(until_ms)
    }

    /// The checks that this device needs and that are not done, in order.
    pub fn open_checks(&self) -> impl Iterator<Item = Item> + '_ {
        let metering = self.choices.metering.unwrap_or(Metering::AdjustableTxv);
        Item::ALL
            .iter()
            .copied()
            .filter(move |&item| item.applies(metering) && !self.is_done(item))
    }

    /// Whether a check is marked done.
    pub fn is_done(&self, item: Item) -> bool {
        self.checks
            .get(&item)
            .is_some_and(|check| check.state == CheckState::Done)
    }

    /// The reason this job is turned away, if it is: a check that failed outright.
    pub fn turned_away(&self) -> Option<&'static str> {
        self.checks
            .iter()
            .filter(|(_, check)| check.state == CheckState::NotDone)
            .find_map(|(item, _)| item.row().turned_away)
    }

    /// Whether the stem may be turned: every check holds, or the gate was overridden.
    pub fn stem_open(&self) -> bool {
        self.overridden.is_some() || self.open_checks().next().is_none()
    }

    /// What the checks mean to the finding: overriding opens the stem, not the charge.
    fn gate(&self) -> Gate {
        let done = |part: Part| {
            Item::ALL
                .iter()
                .filter(|item| item.row().part == part)
                .all(|&item| self.is_done(item))
        };
        Gate {
            held: done(Part::Machine) && done(Part::Air),
            bulb_seen_right: done(Part::Bulb),
        }
    }

    /// A number about the job in the unit of its key: as typed if usable, else the usual one.
    pub fn number(&self, field: PlateField) -> Option<f64> {
        let row = field.row();
        match self.plate.get(&field) {
            Some(typed) => typed.within(row.measure, row.range).ok(),
            None => row.usual,
        }
    }

    /// What is wrong with a number about the job, if anything.
    pub fn fault(&self, field: PlateField) -> Option<EntryFault> {
        let row = field.row();
        // The upper end of a band stands no lower than its lower end.
        let lower_end = match field {
            PlateField::SuperheatHigh => self.number(PlateField::SuperheatLow),
            PlateField::SubcoolingHigh => self.number(PlateField::SubcoolingLow),
            _ => None,
        };
        let range = (lower_end.unwrap_or(row.range.0), row.range.1);
        self.plate.get(&field)?.within(row.measure, range).err()
    }

    fn band(&self, low: PlateField, high: PlateField, pedigree: Pedigree) -> Option<Target> {
        let (low, high) = (self.number(low)?, self.number(high)?);
        // A plate that cannot be read is no pedigree.
        let pedigree = match (pedigree, self.choices.plate) {
            (Pedigree::DataPlate, PlateState::Missing) => Pedigree::RuleOfThumb,
            (pedigree, _) => pedigree,
        };
        (low <= high).then(|| Target::from_f(low, high, pedigree))
    }

    /// The setup that readings are judged by; `None` until refrigerant and device are named.
    pub fn setup(&self) -> Option<Setup> {
        let choices = &self.choices;
        let mut setup = Setup::new(choices.refrigerant?, choices.metering?);
        setup.nominal_tons = self.number(PlateField::Tons);
        setup.point = choices.point;
        setup.target_point = choices.target_point;
        if choices.point == MeasuringPoint::Bulb && choices.gauge_at_service_valve {
            let loss = self.number(PlateField::LineLoss).unwrap_or(0.0);
            setup.line_loss = PressureDifference::from_psi(loss);
        }
        setup.gauge = choices.gauge;
        setup.local_air = self.local_air();
        setup.instruments = self.instruments();
        if let Some(minimum) = self.number(PlateField::MinimumSuperheat) {
            setup.minimum_superheat = TemperatureDifference::from_f(minimum);
        }
        setup.superheat_target = self.band(
            PlateField::SuperheatLow,
            PlateField::SuperheatHigh,
            choices.superheat_pedigree,
        );
        setup.subcooling_target = self.band(
            PlateField::SubcoolingLow,
            PlateField::SubcoolingHigh,
            choices.subcooling_pedigree,
        );
        setup.gate = self.gate();
        Some(setup)
    }

    fn local_air(&self) -> AbsolutePressure {
        if let Some(barometer) = self.number(PlateField::Barometer) {
            return AbsolutePressure::from_psia(barometer);
        }
        let altitude = Altitude::from_ft(self.number(PlateField::Altitude).unwrap_or(0.0));
        standard_atmosphere(altitude).unwrap_or(AbsolutePressure::STANDARD_ATMOSPHERE)
    }

    fn instruments(&self) -> Instruments {
        let mut tools = Instruments::default();
        let psi = |field| self.number(field).map(PressureDifference::from_psi);
        let gauge = |limit, full_scale| match self.choices.face {
            GaugeFace::Digital => psi(limit).map(PressureLimit::Fixed),
            GaugeFace::Dial => self
                .number(PlateField::DialPercent)
                .zip(psi(full_scale))
                .map(|(percent, full_scale)| PressureLimit::OfFullScale {
                    percent,
                    full_scale,
                }),
        };
        tools.low = gauge(PlateField::LowLimit, PlateField::LowFullScale).unwrap_or(tools.low);
        tools.high = gauge(PlateField::HighLimit, PlateField::HighFullScale).unwrap_or(tools.high);
        if let Some(limit) = self.number(PlateField::Thermometer) {
            let fixed = TemperatureDifference::from_f(limit);
            tools.thermometer = ThermometerLimit {
                fixed,
                percent_of_reading: 0.0,
            };
        }
        tools
    }

    /// What a typed set of values means in this job; `None` until refrigerant and device are named.
    pub fn assess(&self, draft: &Draft) -> Option<Assessment> {
        Some(assess(&self.setup()?, &draft.reading()))
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

    pub(crate) fn wait_ms(&self) -> i64 {
        let minutes = self.number(PlateField::Wait).unwrap_or(15.0);
        (minutes * 60_000.0) as i64
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

fn keep_words(names: &mut BTreeMap<Name, String>, name: Name, text: &str) {
    if text.trim().is_empty() {
        names.remove(&name);
    } else {
        names.insert(name, text.to_owned());
    }
}

/// What stays typed when a reading is kept: what does not change from one to the next. The four main
/// ones are blanked so that none is kept twice by mistake.
fn left_typed(kept: &Draft) -> Draft {
    let typed = kept
        .typed
        .iter()
        .filter(|(field, _)| carries_over(**field))
        .map(|(&field, typed)| (field, typed.clone()))
        .collect();
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
