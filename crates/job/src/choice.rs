//! What is chosen about a job rather than typed.

use diagnosis::{MeasuringPoint, Metering, Pedigree};
use quantity::GaugeReference;
use refrigerant::Refrigerant;

/// Whether the plate was read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum PlateState {
    /// Not looked at yet.
    #[default]
    Unread,
    /// Read; targets can come from it.
    Read,
    /// Missing or past reading: a state of its own, shown everywhere.
    Missing,
}

impl PlateState {
    /// Every state, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::Unread, Self::Read, Self::Missing];
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Unread => "unread",
            Self::Read => "read",
            Self::Missing => "missing",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Unread => "Not read yet",
            Self::Read => "Read",
            Self::Missing => "Missing",
        }
    }
}

/// How the gauges state their error.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum GaugeFace {
    /// Digital: so many psi everywhere.
    #[default]
    Digital,
    /// Dial: a share of full scale.
    Dial,
}

impl GaugeFace {
    /// Both, in the order they are offered.
    pub const ALL: [Self; 2] = [Self::Digital, Self::Dial];
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Digital => "digital",
            Self::Dial => "dial",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Digital => "Digital, ± psi",
            Self::Dial => "Dial, % of full scale",
        }
    }
}

/// Everything chosen so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choices {
    /// What is in the circuit.
    pub refrigerant: Option<Refrigerant>,
    /// What feeds the coil.
    pub metering: Option<Metering>,
    /// Where suction is read.
    pub point: MeasuringPoint,
    /// The point that the superheat target is for.
    pub target_point: MeasuringPoint,
    /// Whether the suction gauge sits at the service valve while the thermometer is at the bulb.
    pub gauge_at_service_valve: bool,
    /// What the gauges' zero stands on.
    pub gauge: GaugeReference,
    /// How the gauges state their error.
    pub face: GaugeFace,
    /// Whether the plate was read.
    pub plate: PlateState,
    /// Where the superheat target came from.
    pub superheat_pedigree: Pedigree,
    /// Where the subcooling target came from.
    pub subcooling_pedigree: Pedigree,
}

impl Default for Choices {
    fn default() -> Self {
        Self {
            refrigerant: None,
            metering: None,
            point: MeasuringPoint::Bulb,
            target_point: MeasuringPoint::Bulb,
            gauge_at_service_valve: true,
            gauge: GaugeReference::Vented,
            face: GaugeFace::Digital,
            plate: PlateState::Unread,
            superheat_pedigree: Pedigree::Maker,
            subcooling_pedigree: Pedigree::DataPlate,
        }
    }
}

crate::keyed::keyed! {
    PlateState => "plate state", PlateState::ALL, PlateState::key;
    GaugeFace => "gauge face", GaugeFace::ALL, GaugeFace::key;
}

/// How far dew and bubble are apart at 40 °F dew, where a coil works: the glide to tell a person.
pub fn glide(refrigerant: Refrigerant) -> Option<quantity::TemperatureDifference> {
    let coil = refrigerant
        .dew()
        .pressure(quantity::Temperature::from_f(40.0))
        .ok()?;
    refrigerant.glide(coil).ok()
}
