//! The system that is fitted: from unknowns to an operating point, and from that to what would be
//! read.

use cycle::{
    BuildError, Equalizer, Faults, LineSet, Metering, NoSolution, Plate, Point, Rested, System,
    Traits, Weather, WeatherError,
};
use quantity::{AbsolutePressure, Temperature, TemperatureDifference};
use refrigerant::{Refrigerant, SaturationLine};

use crate::error::FitError;
use crate::sense::{Sense, sensed};
use crate::told::{Measured, Told};
use crate::unknown::{Row, Unknown, rows, sd_within};

/// Metres in a foot, millimetres in an inch. NIST SP 811 (2008), B.8.
const FOOT: f64 = 0.3048;
const INCH: f64 = 25.4;
/// Tons where they were not told; everything but the lines scales with them.
const USUAL_TONS: f64 = 3.0;
/// Room for any stem in the plant; its true ends are not known.
const STEM_ROOM: f64 = 40.0;
/// Of the log's superheats the last so many are fitted.
const MOST_ANSWERED: usize = 4;
/// What a settled superheat of the log may be off besides its band, °F: the weather was another.
const LOG_SD: f64 = 1.0;
/// Dry bulb over wet bulb, at least, °F.
const LEAST_DEPRESSION: f64 = 0.3;

/// Something else than was read: what a what-if changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Change {
    /// Turns of the stem, clockwise positive.
    pub(crate) turns: f64,
    /// Stands at this turn from the usual setting instead.
    pub(crate) stands_at: Option<f64>,
    /// Needle held at this lift.
    pub(crate) held_at: Option<f64>,
    /// Times the charge.
    pub(crate) charge: f64,
    /// Shares of the right charge more.
    pub(crate) more_charge: f64,
    /// Times the indoor air.
    pub(crate) indoor_air: f64,
    /// Air outdoors warmer by this, °F.
    pub(crate) warmer_f: f64,
    /// Air outdoors is this, °F.
    pub(crate) outdoor_f: Option<f64>,
    /// No air goes round the condenser.
    pub(crate) open_air: bool,
}

impl Change {
    pub(crate) const NONE: Self = Self {
        turns: 0.0,
        stands_at: None,
        held_at: None,
        charge: 1.0,
        more_charge: 0.0,
        indoor_air: 1.0,
        warmer_f: 0.0,
        outdoor_f: None,
        open_air: false,
    };
}

/// A system of this kind, and what is known of it.
#[derive(Clone, Debug)]
pub(crate) struct Twin {
    pub(crate) told: Told,
    pub(crate) rows: Vec<Row>,
    pub(crate) device: diagnosis::Metering,
    /// What was read, °F, with its standard deviation.
    sensed: Vec<(Sense, f64, f64)>,
    plate: Plate,
    system: System,
    air: Weather,
    /// Superheat for a turn of the plant's own stem, °F.
    plant_gain: f64,
}

/// One value of each unknown, by name. The usual ones where there is no row.
#[derive(Clone, Copy, Debug)]
struct Values {
    faults: Faults,
    setting_f: f64,
    gain: f64,
    held_f: Option<f64>,
    outdoor_f: f64,
    dry_f: f64,
    wet_f: f64,
}

impl Twin {
    /// # Errors
    /// [`FitError`] for what no system can be made of.
    pub(crate) fn new(told: &Told) -> Result<Self, FitError> {
        let refrigerant = Refrigerant::from_name(&told.refrigerant)
            .ok_or_else(|| FitError::UnknownRefrigerant(told.refrigerant.clone()))?;
        let device = told
            .device()
            .ok_or_else(|| FitError::UnknownMetering(told.metering.clone()))?;
        if told.open_air.or(told.condenser_air).is_none() {
            return Err(FitError::NoOutdoorAir);
        }
        // A valve without a stem is fitted as one with: no one knows how it was set.
        let metering = match device {
            diagnosis::Metering::AdjustableTxv | diagnosis::Metering::FixedTxv => {
                Metering::Txv(Equalizer::External)
            }
            diagnosis::Metering::Electronic => Metering::Eev,
            diagnosis::Metering::FixedOrifice => Metering::Orifice,
        };
        let usual = LineSet::default();
        let middle = |low: f64, high: f64| 0.5 * (low + high);
        let superheat = middle(told.superheat_low_f, told.superheat_high_f).clamp(6.0, 16.0);
        let subcooling = middle(told.subcooling_low_f, told.subcooling_high_f).clamp(5.0, 16.0);
        let plate = Plate {
            lines: LineSet {
                length_m: told.line_length_ft.map_or(usual.length_m, |ft| ft * FOOT),
                liquid_inner_mm: told
                    .liquid_line_in
                    .map_or(usual.liquid_inner_mm, |i| i * INCH),
                suction_inner_mm: told
                    .suction_line_in
                    .map_or(usual.suction_inner_mm, |inch| inch * INCH),
            },
            superheat: TemperatureDifference::from_f(superheat),
            subcooling: TemperatureDifference::from_f(subcooling),
            ..Plate::new(
                refrigerant,
                told.nominal_tons.unwrap_or(USUAL_TONS),
                metering,
            )
        };
        let system = built(&plate)?;
        let air = Weather::new(
            Temperature::from_f(95.0),
            Temperature::from_f(80.0),
            Temperature::from_f(67.0),
            AbsolutePressure::from_psia(told.local_air_psia),
        )?;
        Ok(Self {
            rows: rows(told, device),
            sensed: sensed(told),
            plant_gain: system.traits().superheat_per_turn.f(),
            told: told.clone(),
            device,
            plate,
            system,
            air,
        })
    }

    /// The plate's charge where it was told, else that of a usual unit of its size; oz. `None` when
    /// neither charge nor size was told.
    pub(crate) fn right_charge_oz(&self) -> Option<f64> {
        /// NIST SP 811 (2008), B.8.
        const OUNCES_IN_KG: f64 = 35.273_96;
        self.told.plate_charge_oz.or(self
            .told
            .nominal_tons
            .map(|_| self.system.charge_kg() * OUNCES_IN_KG))
    }

    /// Share of its largest feed that the device lets through at this lift.
    pub(crate) fn open_share(&self, lift: f64) -> f64 {
        match self.device {
            diagnosis::Metering::AdjustableTxv | diagnosis::Metering::FixedTxv => {
                let bleed = self.system.traits().bleed;
                bleed + (1.0 - bleed) * (2.0 * lift - lift * lift)
            }
            diagnosis::Metering::Electronic => lift,
            diagnosis::Metering::FixedOrifice => 1.0,
        }
    }

    /// The operating point with these unknowns, in standard deviations from their priors' middles.
    pub(crate) fn point(
        &self,
        z: &[f64],
        change: &Change,
        near: Option<&Rested>,
    ) -> Result<Rested, NoPoint> {
        let values = self.values(z);
        let mut faults = values.faults;
        faults.charge = faults.charge * change.charge + change.more_charge;
        faults.indoor_air *= change.indoor_air;
        faults.stuck_at = change.held_at;
        if change.open_air {
            faults.recirculation = 0.0;
        }
        let setting = match change.stands_at {
            Some(turns) => turns * values.gain,
            None => values.setting_f + (self.told.stem_turns + change.turns) * values.gain,
        };
        let turns = if self.device.has_bulb() {
            (setting / self.plant_gain).clamp(-STEM_ROOM, STEM_ROOM)
        } else {
            0.0
        };
        let outdoor = change.outdoor_f.unwrap_or(values.outdoor_f) + change.warmer_f;
        let [outdoor, dry, wet] = [
            outdoor,
            values.dry_f,
            values.wet_f.min(values.dry_f - LEAST_DEPRESSION),
        ]
        .map(Temperature::from_f);
        let air = self.air.with(outdoor, dry, wet)?;
        match values.held_f {
            None => Ok(self.system.steady_near(&air, &faults, turns, near)?),
            Some(held) => {
                let plate = Plate {
                    superheat: TemperatureDifference::from_f(held),
                    ..self.plate.clone()
                };
                Ok(built(&plate)?.steady_near(&air, &faults, turns, near)?)
            }
        }
    }

    fn values(&self, z: &[f64]) -> Values {
        let mut values = Values {
            faults: Faults::NONE,
            setting_f: 0.0,
            gain: self.plant_gain,
            held_f: None,
            outdoor_f: 95.0,
            dry_f: 80.0,
            wet_f: 67.0,
        };
        for (row, z) in self.rows.iter().zip(z) {
            let value = row.value(*z);
            let place = match row.unknown {
                Unknown::Charge => &mut values.faults.charge,
                Unknown::StemSetting => &mut values.setting_f,
                Unknown::Gain => &mut values.gain,
                Unknown::ValveArea => &mut values.faults.valve_area,
                Unknown::Held => values.held_f.insert(value),
                Unknown::IndoorAir => &mut values.faults.indoor_air,
                Unknown::CondenserAir => &mut values.faults.condenser_air,
                Unknown::Recirculation => &mut values.faults.recirculation,
                Unknown::Pumping => &mut values.faults.pumping,
                Unknown::Outdoor => &mut values.outdoor_f,
                Unknown::ReturnDry => &mut values.dry_f,
                Unknown::ReturnWet => &mut values.wet_f,
            };
            *place = value;
        }
        values
    }

    /// Superheat at the measuring point, °F.
    pub(crate) fn superheat_f(&self, point: &Point) -> f64 {
        if self.told.at_service_valve {
            point.superheat_at_port().f()
        } else {
            point.superheat().f()
        }
    }

    /// Suction pressure at the measuring point.
    pub(crate) fn suction(&self, point: &Point) -> AbsolutePressure {
        if self.told.at_service_valve {
            point.compressor_inlet.pressure
        } else {
            point.coil_outlet.pressure
        }
    }

    /// What the tools may be off in what was read.
    pub(crate) fn noise(&self) -> Noise {
        let told = &self.told;
        let sd = |measured: Measured| sd_within(measured.within_f);
        let psi = |line: &SaturationLine, measured: Measured| {
            let at = |f: f64| {
                line.pressure(Temperature::from_f(f))
                    .map(AbsolutePressure::psia)
            };
            match (at(measured.f + 0.5), at(measured.f - 0.5)) {
                (Ok(up), Ok(down)) => (up - down) * sd(measured),
                // Off the chart nothing is known of it: the fitted systems alone count.
                _ => f64::INFINITY,
            }
        };
        let refrigerant = self.plate.refrigerant;
        Noise {
            superheat_f: libm::hypot(sd(told.suction_dew), sd(told.suction_line)),
            subcooling_f: libm::hypot(sd(told.liquid_bubble), sd(told.liquid_line)),
            suction_psi: psi(refrigerant.dew(), told.suction_dew),
            head_psi: psi(refrigerant.bubble(), told.liquid_bubble),
        }
    }

    /// What each reading misses the model by, in its standard deviations, with its name.
    pub(crate) fn misses(&self, point: &Point) -> Vec<(&'static str, f64)> {
        let at_valve = self.told.at_service_valve;
        self.sensed
            .iter()
            .map(|(sense, value, sd)| {
                let modelled = sense.of(point, at_valve).f();
                (sense.key(), (modelled - value) / sd)
            })
            .collect()
    }

    /// The same for the superheats of the log: where the stem stood, against now, and the miss of a
    /// superheat.
    pub(crate) fn log(&self) -> impl Iterator<Item = (f64, impl Fn(f64) -> f64)> {
        let answered = if self.device == diagnosis::Metering::AdjustableTxv {
            self.told.answered.as_slice()
        } else {
            &[]
        };
        let skipped = answered.len().saturating_sub(MOST_ANSWERED);
        answered.iter().skip(skipped).map(|answer| {
            let sd = libm::hypot(sd_within(answer.within_f), LOG_SD);
            let superheat = answer.superheat_f;
            let miss = move |modelled: f64| (modelled - superheat) / sd;
            (answer.stem_turns - self.told.stem_turns, miss)
        })
    }
}

/// Standard deviations of what was read, by the tools alone.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Noise {
    pub(crate) superheat_f: f64,
    pub(crate) subcooling_f: f64,
    pub(crate) suction_psi: f64,
    pub(crate) head_psi: f64,
}

/// Why an operating point is not there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum NoPoint {
    Rest(NoSolution),
    Air(WeatherError),
    Build(BuildError),
}

impl From<NoSolution> for NoPoint {
    fn from(error: NoSolution) -> Self {
        Self::Rest(error)
    }
}
impl From<WeatherError> for NoPoint {
    fn from(error: WeatherError) -> Self {
        Self::Air(error)
    }
}
impl From<BuildError> for NoPoint {
    fn from(error: BuildError) -> Self {
        Self::Build(error)
    }
}

impl core::fmt::Display for NoPoint {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Rest(error) => error.fmt(f),
            Self::Air(error) => error.fmt(f),
            Self::Build(error) => error.fmt(f),
        }
    }
}

fn built(plate: &Plate) -> Result<System, BuildError> {
    let traits = Traits {
        stem_turns_out: STEM_ROOM,
        stem_turns_in: STEM_ROOM,
        ..Traits::default()
    };
    System::build_with(plate, &traits)
}
