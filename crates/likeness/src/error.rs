//! Why nothing could be fitted.

use core::fmt;

use cycle::{BuildError, WeatherError};

/// Why there is no likeness of what was told.
#[derive(Clone, Debug, PartialEq)]
pub enum FitError {
    /// No refrigerant of this name is in the tables.
    UnknownRefrigerant(String),
    /// No metering device has this key.
    UnknownMetering(String),
    /// Neither open nor entering air was told.
    NoOutdoorAir,
    /// A number is not a number.
    NotANumber,
    /// No system can be built from what was told.
    Build(BuildError),
    /// The air cannot be.
    Air(WeatherError),
    /// From no start did the model come to rest; why the first did not.
    NoRest(String),
    /// The covariance cannot be inverted: the fit means nothing.
    Flat,
}

impl From<BuildError> for FitError {
    fn from(error: BuildError) -> Self {
        Self::Build(error)
    }
}
impl From<WeatherError> for FitError {
    fn from(error: WeatherError) -> Self {
        Self::Air(error)
    }
}

impl FitError {
    /// Its name in files.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::UnknownRefrigerant(_) => "unknown-refrigerant",
            Self::UnknownMetering(_) => "unknown-metering",
            Self::NoOutdoorAir => "no-outdoor-air",
            Self::NotANumber => "not-a-number",
            Self::Build(_) => "no-such-system",
            Self::Air(_) => "no-such-air",
            Self::NoRest(_) => "no-operating-point",
            Self::Flat => "nothing-to-fit",
        }
    }
}

impl fmt::Display for FitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownRefrigerant(name) => {
                write!(f, "There are no tables for refrigerant {name:?}.")
            }
            Self::UnknownMetering(key) => write!(
                f,
                "Metering {key:?} is none of txv, txv-fixed, eev, orifice."
            ),
            Self::NoOutdoorAir => write!(f, "Air outdoors, open or entering, is needed."),
            Self::NotANumber => write!(f, "One of the numbers is not a number."),
            Self::Build(error) => error.fmt(f),
            Self::Air(error) => error.fmt(f),
            Self::NoRest(why) => write!(f, "The model finds no operating point: {why}"),
            Self::Flat => write!(f, "The readings leave the fit without a bottom."),
        }
    }
}

impl core::error::Error for FitError {}
