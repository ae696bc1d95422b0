//! A temperature, and the difference of two.

use core::ops::{Add, Div, Mul, Neg, Sub};

/// Kelvin at 0 °F, times nine fifths: the Rankine zero. BIPM SI Brochure and NIST SP 811 B.9:
/// `T/K = (t/°F + 459.67) / 1.8`.
const RANKINE_OFFSET: f64 = 459.67;
/// Kelvin at 0 °C. NIST SP 811, B.9.
const CELSIUS_OFFSET: f64 = 273.15;

/// A temperature on a scale that has a zero of its own; held in kelvin.
///
/// # Source
/// NIST SP 811 (2008), B.9.
///
/// # Example
/// ```
/// use quantity::Temperature;
/// assert!((Temperature::from_f(212.0).c() - 100.0).abs() < 1e-9);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// From kelvin.
    pub const fn from_k(kelvin: f64) -> Self {
        Self(kelvin)
    }
    /// From degrees Celsius.
    pub const fn from_c(celsius: f64) -> Self {
        Self(celsius + CELSIUS_OFFSET)
    }
    /// From degrees Fahrenheit.
    pub const fn from_f(fahrenheit: f64) -> Self {
        Self((fahrenheit + RANKINE_OFFSET) / 1.8)
    }
    /// In kelvin.
    pub const fn k(self) -> f64 {
        self.0
    }
    /// In degrees Celsius.
    pub const fn c(self) -> f64 {
        self.0 - CELSIUS_OFFSET
    }
    /// In degrees Fahrenheit.
    pub const fn f(self) -> f64 {
        self.0 * 1.8 - RANKINE_OFFSET
    }
}

/// How far apart two temperatures are; held in kelvin. Nine fifths turns it into °F and nothing
/// is ever added: 10 K apart is 18 °F apart, not 50.
///
/// # Example
/// ```
/// use quantity::{Temperature, TemperatureDifference};
/// let superheat = Temperature::from_f(52.0) - Temperature::from_f(42.0);
/// assert!((superheat.f() - 10.0).abs() < 1e-9);
/// assert!((TemperatureDifference::from_k(10.0).f() - 18.0).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct TemperatureDifference(f64);

impl TemperatureDifference {
    /// No difference.
    pub const ZERO: Self = Self(0.0);
    /// From kelvin.
    pub const fn from_k(kelvin: f64) -> Self {
        Self(kelvin)
    }
    /// From Fahrenheit degrees of difference.
    pub const fn from_f(fahrenheit: f64) -> Self {
        Self(fahrenheit / 1.8)
    }
    /// In kelvin.
    pub const fn k(self) -> f64 {
        self.0
    }
    /// In Fahrenheit degrees of difference.
    pub const fn f(self) -> f64 {
        self.0 * 1.8
    }
    /// Its size without its sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}
impl Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, by: TemperatureDifference) -> Self {
        Self(self.0 + by.0)
    }
}
impl Sub<TemperatureDifference> for Temperature {
    type Output = Self;
    fn sub(self, by: TemperatureDifference) -> Self {
        Self(self.0 - by.0)
    }
}
impl Add for TemperatureDifference {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl Sub for TemperatureDifference {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Neg for TemperatureDifference {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<f64> for TemperatureDifference {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self(self.0 * by)
    }
}
impl Div<f64> for TemperatureDifference {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self(self.0 / by)
    }
}
impl Div for TemperatureDifference {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}
