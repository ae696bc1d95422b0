//! What is typed and chosen about a job, as the setup that readings are judged by.

use crate::choice::{GaugeFace, PlateState};
use crate::draft::Draft;
use crate::job::Job;
use crate::log::{What, position};
use crate::plate::PlateField;
use crate::typed::EntryFault;
use air::{Altitude, standard_atmosphere};
use belief::Judged;
use diagnosis::{
    Assessment, Instruments, MeasuringPoint, Pedigree, PressureLimit, Setup, Target,
    ThermometerLimit, assess,
};
use likeness::{Answered, Besides, Lacking, Told};
use quantity::{AbsolutePressure, PressureDifference, TemperatureDifference};

/// What is added to the suction gauge: something only with the gauge at the service valve and the
/// thermometer at the bulb.
///
/// - `psi`: the loss that was given, in psi. Without one the usual loss of
///   [`PlateField::LineLoss`] counts, since with none superheat would read too high.
pub fn line_loss(
    point: MeasuringPoint,
    gauge_at_service_valve: bool,
    psi: Option<f64>,
) -> PressureDifference {
    if point != MeasuringPoint::Bulb || !gauge_at_service_valve {
        return PressureDifference::ZERO;
    }
    let usual = PlateField::LineLoss.row().usual;
    PressureDifference::from_psi(psi.or(usual).unwrap_or(0.0))
}

impl Job {
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
        // A plate that nobody read is no pedigree.
        let pedigree = match (pedigree, self.choices.plate) {
            (Pedigree::DataPlate, PlateState::Unread | PlateState::Missing) => {
                Pedigree::RuleOfThumb
            }
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
        setup.line_loss = line_loss(
            choices.point,
            choices.gauge_at_service_valve,
            self.number(PlateField::LineLoss),
        );
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

    /// The numbers, doubts and alarm of a typed set of values; `None` until refrigerant and device
    /// are named. Its causes and its word on the charge are the table's alone: to show those, ask
    /// [`Self::judge`].
    pub fn assess(&self, draft: &Draft) -> Option<Assessment> {
        Some(assess(&self.setup()?, &draft.reading()))
    }

    /// What a typed set of values means, by the trade's table and the model of the plant; `None`
    /// until refrigerant and device are named.
    pub fn judge(&self, draft: &Draft) -> Option<Judged> {
        let charge = self.number(PlateField::PlateCharge);
        Some(belief::judge(&self.setup()?, &draft.reading(), charge))
    }

    /// What the present reading and the log tell of this system, to liken one to it; `None` until
    /// refrigerant and device are named or while nothing was read.
    ///
    /// - `now_ms`: how far the log counts.
    ///
    /// # Errors
    /// [`Lacking`]: which readings are missing.
    pub fn told(&self, now_ms: i64) -> Option<Result<Told, Lacking>> {
        let setup = self.setup()?;
        let draft = self.present_reading()?;
        // A kept reading belongs to the stem as it stood then.
        let kept = self.log.iter().rposition(
            |line| matches!(&line.what, What::Reading(kept) if !line.struck && kept == draft),
        );
        let stem = position(&self.log[..kept.unwrap_or(self.log.len())]);
        let places = self
            .stem(now_ms)
            .advice
            .map_or(Vec::new(), |said| said.places);
        let answered = places
            .iter()
            .filter(|place| place.position != stem)
            .map(|place| Answered {
                stem_turns: place.position.turns(),
                superheat_f: place.settled.value.f(),
                within_f: place.settled.half_width.f(),
            })
            .collect();
        let besides = Besides {
            plate_charge_oz: self.number(PlateField::PlateCharge),
            stem_turns: stem.turns(),
            answered,
            ..Besides::default()
        };
        Some(likeness::told(&setup, &draft.reading(), &besides))
    }

    pub(crate) fn wait_ms(&self) -> i64 {
        let minutes = self.number(PlateField::Wait).unwrap_or(15.0);
        (minutes * 60_000.0) as i64
    }

    /// Why a target that was begun does not count yet, in one sentence each.
    pub fn target_gaps(&self) -> Vec<&'static str> {
        let typed = |field| self.plate.contains_key(&field);
        let ends = |low, high| typed(low) != typed(high);
        let by_plate = |low, pedigree| typed(low) && pedigree == Pedigree::DataPlate;
        let choices = &self.choices;
        let by_plate = by_plate(PlateField::SuperheatLow, choices.superheat_pedigree)
            || by_plate(PlateField::SubcoolingLow, choices.subcooling_pedigree);
        [
            (
                ends(PlateField::SuperheatLow, PlateField::SuperheatHigh),
                "Superheat target: both ends are needed.",
            ),
            (
                ends(PlateField::SubcoolingLow, PlateField::SubcoolingHigh),
                "Subcooling target: both ends are needed.",
            ),
            (
                by_plate && choices.plate != PlateState::Read,
                "The plate is not marked as read: its targets count as a rule of thumb until it is.",
            ),
        ]
        .into_iter()
        .filter_map(|(gap, says)| gap.then_some(says))
        .collect()
    }
}
