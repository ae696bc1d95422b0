//! Gauge, absolute, and the difference of two.

use core::ops::{Add, Div, Mul, Neg, Sub};

/// Pascal in one pound-force per square inch. NIST SP 811 (2008), B.8.
const PSI: f64 = 6_894.757_293_168;
/// Pascal in one bar. NIST SP 811 (2008), B.8.
const BAR: f64 = 100_000.0;
/// Pascal in one standard atmosphere, the air at sea level. NIST SP 811 (2008), B.8.
const ATMOSPHERE: f64 = 101_325.0;

macro_rules! pressure {
    ($(#[$doc:meta])* $name:ident, $from_psi:ident, $psi:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// From pascal.
            pub const fn from_pa(pascal: f64) -> Self {
                Self(pascal)
            }
            /// From kilopascal.
            pub const fn from_kpa(kilopascal: f64) -> Self {
                Self(kilopascal * 1000.0)
            }
            /// From bar.
            pub const fn from_bar(bar: f64) -> Self {
                Self(bar * BAR)
            }
            /// From pounds per square inch.
            pub const fn $from_psi(psi: f64) -> Self {
                Self(psi * PSI)
            }
            /// In pascal.
            pub const fn pa(self) -> f64 {
                self.0
            }
            /// In kilopascal.
            pub const fn kpa(self) -> f64 {
                self.0 / 1000.0
            }
            /// In bar.
            pub const fn bar(self) -> f64 {
                self.0 / BAR
            }
            /// In pounds per square inch.
            pub const fn $psi(self) -> f64 {
                self.0 / PSI
            }
        }
    };
}

pressure!(
    /// A pressure above vacuum: what a substance feels. Held in pascal.
    AbsolutePressure, from_psia, psia
);
pressure!(
    /// A pressure as a gauge shows it; what it is above depends on the gauge, see
    /// [`GaugeReference`]. Held in pascal.
    GaugePressure, from_psig, psig
);
pressure!(
    /// How far apart two pressures are. Held in pascal.
    PressureDifference, from_psi, psi
);

impl AbsolutePressure {
    /// The standard atmosphere at sea level, 14.696 psia.
    pub const STANDARD_ATMOSPHERE: Self = Self(ATMOSPHERE);
}

impl PressureDifference {
    /// No difference.
    pub const ZERO: Self = Self(0.0);
}

/// What a gauge's zero stands on. Decides the one and only correction for altitude, so that a
/// reading is never corrected twice.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum GaugeReference {
    /// Open to the air around it: zero is the local air. The usual gauge.
    #[default]
    Vented,
    /// Sealed with sea-level air inside: zero is the standard atmosphere, wherever it is.
    Sealed,
    /// Zero is vacuum: what is shown is already absolute.
    Absolute,
}

impl GaugeReference {
    /// Every reference, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::Vented, Self::Sealed, Self::Absolute];

    /// Its name in files and on the command line: `vented`, `sealed` or `absolute`.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Vented => "vented",
            Self::Sealed => "sealed",
            Self::Absolute => "absolute",
        }
    }

    /// The absolute pressure behind what a gauge shows.
    ///
    /// - `shown`: the number on the gauge.
    /// - `local_air`: the pressure of the air where the gauge is, from altitude or barometer.
    ///
    /// # Example
    /// ```
    /// use quantity::{AbsolutePressure, GaugePressure, GaugeReference};
    /// let mile_high = AbsolutePressure::from_psia(12.2);
    /// let shown = GaugePressure::from_psig(118.0);
    /// assert!((GaugeReference::Vented.absolute(shown, mile_high).psia() - 130.2).abs() < 1e-9);
    /// assert!((GaugeReference::Absolute.absolute(shown, mile_high).psia() - 118.0).abs() < 1e-9);
    /// ```
    pub fn absolute(self, shown: GaugePressure, local_air: AbsolutePressure) -> AbsolutePressure {
        AbsolutePressure(shown.0 + self.zero(local_air).0)
    }

    /// What such a gauge shows at an absolute pressure: the inverse of [`Self::absolute`].
    pub fn shown(self, absolute: AbsolutePressure, local_air: AbsolutePressure) -> GaugePressure {
        GaugePressure(absolute.0 - self.zero(local_air).0)
    }

    fn zero(self, local_air: AbsolutePressure) -> AbsolutePressure {
        match self {
            Self::Vented => local_air,
            Self::Sealed => AbsolutePressure::STANDARD_ATMOSPHERE,
            Self::Absolute => AbsolutePressure(0.0),
        }
    }
}

macro_rules! shifts {
    ($point:ident) => {
        impl Add<PressureDifference> for $point {
            type Output = Self;
            fn add(self, by: PressureDifference) -> Self {
                Self(self.0 + by.0)
            }
        }
        impl Sub<PressureDifference> for $point {
            type Output = Self;
            fn sub(self, by: PressureDifference) -> Self {
                Self(self.0 - by.0)
            }
        }
        impl Sub for $point {
            type Output = PressureDifference;
            fn sub(self, other: Self) -> PressureDifference {
                PressureDifference(self.0 - other.0)
            }
        }
    };
}
shifts!(AbsolutePressure);
shifts!(GaugePressure);

impl Div for AbsolutePressure {
    type Output = f64;
    /// The ratio of two absolute pressures, for example the compression ratio.
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}
impl Add for PressureDifference {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl Neg for PressureDifference {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<f64> for PressureDifference {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self(self.0 * by)
    }
}
