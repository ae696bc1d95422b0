//! What was told of a system: plain numbers, so that it can go to a background worker as text.

use core::fmt;

use diagnosis::{Checked, Field, MeasuringPoint, Metering, Reading, Setup, check, derive};
use quantity::{AbsolutePressure, GaugePressure, Temperature};
use serde::{Deserialize, Serialize};

/// A temperature that was measured, °F, and half the width of its error band.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// °F.
    pub f: f64,
    /// Half the width of the band, °F; zero or more.
    pub within_f: f64,
}

/// A settled superheat of the log, and where the stem stood.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Answered {
    /// Turns from as found, clockwise positive.
    pub stem_turns: f64,
    /// The superheat that it settled to, °F.
    pub superheat_f: f64,
    /// Half the width of its band, °F.
    pub within_f: f64,
}

/// What was told of one system at one time. Blank where it is not known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Told {
    /// Name of the refrigerant, as in [`refrigerant::Refrigerant::name`].
    pub refrigerant: String,
    /// `txv`, `txv-fixed`, `eev` or `orifice`, as in [`diagnosis::Metering::key`].
    pub metering: String,
    /// Tons of 12 000 Btu/h.
    #[serde(default)]
    pub nominal_tons: Option<f64>,
    /// Plate charge with its line allowance, oz.
    #[serde(default)]
    pub plate_charge_oz: Option<f64>,
    /// One way, ft.
    #[serde(default)]
    pub line_length_ft: Option<f64>,
    /// Inner diameter of the liquid line, in.
    #[serde(default)]
    pub liquid_line_in: Option<f64>,
    /// Inner diameter of the suction line, in.
    #[serde(default)]
    pub suction_line_in: Option<f64>,
    /// Band for superheat at the measuring point, °F.
    pub superheat_low_f: f64,
    /// See [`Self::superheat_low_f`].
    pub superheat_high_f: f64,
    /// Band for subcooling, °F.
    pub subcooling_low_f: f64,
    /// See [`Self::subcooling_low_f`].
    pub subcooling_high_f: f64,
    /// Superheat never to go under, °F.
    pub minimum_superheat_f: f64,
    /// Suction was measured at the service valve, not at the bulb.
    pub at_service_valve: bool,
    /// Pressure of the local air, psia.
    pub local_air_psia: f64,
    /// What the gauges' zero stands on, psia.
    pub gauge_zero_psia: f64,
    /// Dew temperature at the measuring point.
    pub suction_dew: Measured,
    /// Suction line there.
    pub suction_line: Measured,
    /// Bubble temperature at the liquid port.
    pub liquid_bubble: Measured,
    /// Liquid line there.
    pub liquid_line: Measured,
    /// Suction line at the compressor.
    #[serde(default)]
    pub compressor_suction: Option<Measured>,
    /// Liquid line before the valve.
    #[serde(default)]
    pub liquid_line_end: Option<Measured>,
    /// Air that enters the condenser.
    #[serde(default)]
    pub condenser_air: Option<Measured>,
    /// Air in open shade.
    #[serde(default)]
    pub open_air: Option<Measured>,
    /// Air that leaves the condenser.
    #[serde(default)]
    pub condenser_leaving_air: Option<Measured>,
    /// Return air.
    #[serde(default)]
    pub return_dry_bulb: Option<Measured>,
    /// See [`Self::return_dry_bulb`].
    #[serde(default)]
    pub return_wet_bulb: Option<Measured>,
    /// Supply air.
    #[serde(default)]
    pub supply_dry_bulb: Option<Measured>,
    /// A standing test found the pressure off its chart: gas that does not condense, or another
    /// refrigerant. Nothing can be likened to that.
    #[serde(default)]
    pub is_off_chart: bool,
    /// Turns of the stem from as found, clockwise positive, while this was read.
    #[serde(default)]
    pub stem_turns: f64,
    /// What the log has of other positions of the stem, oldest first.
    #[serde(default)]
    pub answered: Vec<Answered>,
}

/// What a job knows besides its setup and its reading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Besides {
    /// As in [`Told::plate_charge_oz`].
    pub plate_charge_oz: Option<f64>,
    /// As in [`Told::line_length_ft`].
    pub line_length_ft: Option<f64>,
    /// As in [`Told::liquid_line_in`].
    pub liquid_line_in: Option<f64>,
    /// As in [`Told::suction_line_in`].
    pub suction_line_in: Option<f64>,
    /// As in [`Told::stem_turns`].
    pub stem_turns: f64,
    /// As in [`Told::answered`].
    pub answered: Vec<Answered>,
}

/// What a reading lacks to be fitted: fields of which it has no usable number. Of the last two, open
/// and entering air, either will do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lacking(pub Vec<Field>);

impl fmt::Display for Lacking {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "To be fitted the reading lacks:")?;
        for field in &self.0 {
            write!(f, " {};", field.row().label)?;
        }
        Ok(())
    }
}

impl core::error::Error for Lacking {}

/// Puts together what is told by a reading.
///
/// # Errors
/// [`Lacking`] when the reading has no superheat, no subcooling, or no air outdoors.
pub fn told(setup: &Setup, reading: &Reading, besides: &Besides) -> Result<Told, Lacking> {
    let (checked, _) = check(setup, reading);
    let derived = derive(&checked);
    let at = |field| thermometer(setup, &checked, field);
    let main = [
        (
            Field::SuctionPressure,
            saturation(derived.suction_saturation),
        ),
        (Field::SuctionLine, at(Field::SuctionLine)),
        (Field::LiquidPressure, saturation(derived.liquid_saturation)),
        (Field::LiquidLine, at(Field::LiquidLine)),
    ];
    let air = [Field::CondenserAir, Field::OpenAir];
    let [condenser_air, open_air] = air.map(at);
    let mut lacking: Vec<Field> = main
        .iter()
        .filter_map(|(field, found)| found.is_none().then_some(*field))
        .collect();
    if condenser_air.or(open_air).is_none() {
        lacking.extend(air);
    }
    let [
        (_, Some(suction_dew)),
        (_, Some(suction_line)),
        (_, Some(liquid_bubble)),
        (_, Some(liquid_line)),
    ] = main
    else {
        return Err(Lacking(lacking));
    };
    if !lacking.is_empty() {
        return Err(Lacking(lacking));
    }
    let zero = GaugePressure::from_psig(0.0);
    Ok(Told {
        refrigerant: setup.refrigerant.name().to_owned(),
        metering: setup.metering.key().to_owned(),
        nominal_tons: setup.nominal_tons,
        plate_charge_oz: besides.plate_charge_oz,
        line_length_ft: besides.line_length_ft,
        liquid_line_in: besides.liquid_line_in,
        suction_line_in: besides.suction_line_in,
        superheat_low_f: derived.superheat_target.low.f(),
        superheat_high_f: derived.superheat_target.high.f(),
        subcooling_low_f: derived.subcooling_target.low.f(),
        subcooling_high_f: derived.subcooling_target.high.f(),
        minimum_superheat_f: setup.minimum_superheat.f(),
        at_service_valve: setup.point == MeasuringPoint::ServiceValve,
        local_air_psia: setup.local_air.psia(),
        gauge_zero_psia: setup.gauge.absolute(zero, setup.local_air).psia(),
        suction_dew,
        suction_line,
        liquid_bubble,
        liquid_line,
        compressor_suction: at(Field::CompressorSuction),
        liquid_line_end: at(Field::LiquidLineEnd),
        condenser_air,
        open_air,
        condenser_leaving_air: at(Field::CondenserLeavingAir),
        return_dry_bulb: at(Field::ReturnDryBulb),
        return_wet_bulb: at(Field::ReturnWetBulb),
        supply_dry_bulb: at(Field::SupplyDryBulb),
        is_off_chart: derived
            .standing
            .is_some_and(|standing| standing.is_off_chart()),
        stem_turns: besides.stem_turns,
        answered: besides.answered.clone(),
    })
}

fn saturation(found: Option<diagnosis::Banded<Temperature>>) -> Option<Measured> {
    found.map(|banded| Measured {
        f: banded.value.f(),
        within_f: banded.half_width.f(),
    })
}

fn thermometer(setup: &Setup, checked: &Checked, field: Field) -> Option<Measured> {
    let value = checked.temperature(field)?;
    Some(Measured {
        f: value.f(),
        within_f: setup.instruments.thermometer.half_width(value).f(),
    })
}

impl Told {
    /// What doses the refrigerant; `None` for a key of no kind.
    pub(crate) fn device(&self) -> Option<Metering> {
        Metering::ALL
            .into_iter()
            .find(|kind| kind.key() == self.metering)
    }

    /// What a gauge shows, psig.
    pub(crate) fn shown_psig(&self, pressure: AbsolutePressure) -> f64 {
        pressure.psia() - self.gauge_zero_psia
    }
}
