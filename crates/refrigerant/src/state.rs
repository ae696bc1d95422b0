//! Density, enthalpy, entropy and heat capacity: what a model of a plant needs beyond saturation.
//!
//! Two expansions for each refrigerant: saturated liquid against temperature; vapour against ln p
//! and ln(1 + superheat / 10 K).

use core::fmt;

use quantity::{AbsolutePressure, Temperature, TemperatureDifference};

use crate::chebyshev::{Chebyshev, sum, sum_and_slope};
use crate::state_table::{self, COLUMNS, MOST_SUPERHEAT, ROWS, SCALE};
use crate::{OutsideTable, Refrigerant};

/// Steps allowed, and the share of the whole range at which a search for superheat ends.
const SEARCH_STEPS: usize = 60;
const SEARCH_END: f64 = 1e-12;

/// A state of one phase, in SI units per kilogram.
///
/// Enthalpy and entropy count from saturated liquid at 0 °C, where they are 200 kJ/kg and
/// 1 kJ/(kg K): the convention of the International Institute of Refrigeration.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Temperature.
    pub temperature: Temperature,
    /// Absolute pressure.
    pub pressure: AbsolutePressure,
    /// Density, kg/m3.
    pub density_kg_m3: f64,
    /// Enthalpy, J/kg.
    pub enthalpy_j_kg: f64,
    /// Entropy, J/(kg K).
    pub entropy_j_kg_k: f64,
    /// Heat capacity at constant pressure, J/(kg K).
    pub heat_capacity_j_kg_k: f64,
}

/// Why there is no such state in the tables.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OutsideStates {
    /// The pressure or the saturation temperature is outside.
    Saturation(OutsideTable),
    /// Colder than dew, or hotter than the table: the asked superheat and the most there is, from
    /// zero. Not a number is outside too.
    Superheat {
        /// Whose table.
        refrigerant: Refrigerant,
        /// What was asked for.
        asked: TemperatureDifference,
        /// The most the table knows; the least is zero.
        most: TemperatureDifference,
    },
    /// No vapour in the tables has the enthalpy (J/kg) or entropy (J/(kg K)) asked for at this
    /// pressure: it is wet, or hotter than the table.
    NoVapour {
        /// Whose table.
        refrigerant: Refrigerant,
        /// At which pressure.
        pressure: AbsolutePressure,
        /// What was asked for.
        asked: f64,
        /// That of dry saturated vapour.
        lowest: f64,
        /// That of the hottest vapour in the table.
        highest: f64,
    },
}

impl fmt::Display for OutsideStates {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Saturation(outside) => outside.fmt(f),
            Self::Superheat {
                refrigerant,
                asked,
                most,
            } => write!(
                f,
                "{:.1} °F of superheat is outside the vapour table of {}, 0 to {:.0} °F",
                asked.f(),
                refrigerant.name(),
                most.f(),
            ),
            Self::NoVapour {
                refrigerant,
                pressure,
                asked,
                lowest,
                highest,
            } => write!(
                f,
                "no vapour of {} at {:.1} psia has {asked:.0} J/kg or J/(kg K); from {lowest:.0} \
                 to {highest:.0}",
                refrigerant.name(),
                pressure.psia(),
            ),
        }
    }
}

impl core::error::Error for OutsideStates {}

impl From<OutsideTable> for OutsideStates {
    fn from(outside: OutsideTable) -> Self {
        Self::Saturation(outside)
    }
}

/// The generated numbers of one refrigerant.
pub(crate) struct StateTable {
    pub(crate) lowest_kelvin: f64,
    pub(crate) highest_kelvin: f64,
    pub(crate) liquid_density: Chebyshev,
    pub(crate) liquid_enthalpy: Chebyshev,
    pub(crate) liquid_entropy: Chebyshev,
    pub(crate) liquid_heat_capacity: Chebyshev,
    pub(crate) vapour: VapourTable,
}

/// One row for each power of the superheat variable, one column for each of ln p. Single precision
/// holds seven digits; the fit holds four.
pub(crate) struct VapourTable {
    pub(crate) low_ln_pascal: f64,
    pub(crate) high_ln_pascal: f64,
    pub(crate) ln_density: [[f32; COLUMNS]; ROWS],
    pub(crate) enthalpy: [[f32; COLUMNS]; ROWS],
    pub(crate) entropy: [[f32; COLUMNS]; ROWS],
}

/// Vapour at one pressure: what is left of the table once ln p is put in.
struct Isobar {
    refrigerant: Refrigerant,
    pressure: AbsolutePressure,
    dew: Temperature,
    ln_density: [f64; ROWS],
    enthalpy: [f64; ROWS],
    entropy: [f64; ROWS],
}

impl Refrigerant {
    /// Saturated liquid at a temperature, at its bubble pressure. Liquid subcooled to that
    /// temperature by 10 °F is denser and lower in enthalpy, by up to 1.0 and 0.3 % when it
    /// condensed at 120 °F, 1.5 and 0.4 % at 130 °F (R-410A, the worst by CoolProp 8.0.0).
    ///
    /// # Errors
    /// [`OutsideStates::Saturation`] when `t` is outside [`Self::state_limits`].
    ///
    /// # Example
    /// ```
    /// use quantity::Temperature;
    /// use refrigerant::Refrigerant;
    /// let liquid = Refrigerant::R410A.saturated_liquid(Temperature::from_c(0.0))?;
    /// assert!((liquid.enthalpy_j_kg - 200e3).abs() < 20.0);
    /// # Ok::<(), refrigerant::OutsideStates>(())
    /// ```
    pub fn saturated_liquid(self, t: Temperature) -> Result<State, OutsideStates> {
        let table = self.states();
        let (lowest, highest) = self.state_limits();
        if !(lowest..=highest).contains(&t) {
            let line = crate::Line::Bubble;
            let outside = OutsideTable::Temperature {
                refrigerant: self,
                line,
                asked: t,
                lowest,
                highest,
            };
            return Err(outside.into());
        }
        Ok(State {
            temperature: t,
            pressure: self.bubble().pressure(t)?,
            density_kg_m3: table.liquid_density.value(t.k()),
            enthalpy_j_kg: table.liquid_enthalpy.value(t.k()),
            entropy_j_kg_k: table.liquid_entropy.value(t.k()),
            heat_capacity_j_kg_k: table.liquid_heat_capacity.value(t.k()),
        })
    }

    /// Vapour at a pressure, this far above its dew temperature; zero is dry saturated vapour.
    ///
    /// # Errors
    /// [`OutsideStates::Saturation`] when the dew temperature of `p` is outside
    /// [`Self::state_limits`]; [`OutsideStates::Superheat`] when `superheat` is below zero or
    /// above 100 K (180 °F).
    pub fn vapour(
        self,
        p: AbsolutePressure,
        superheat: TemperatureDifference,
    ) -> Result<State, OutsideStates> {
        if !(0.0..=MOST_SUPERHEAT).contains(&superheat.k()) {
            return Err(OutsideStates::Superheat {
                refrigerant: self,
                asked: superheat,
                most: TemperatureDifference::from_k(MOST_SUPERHEAT),
            });
        }
        Ok(self.isobar(p)?.state(variable(superheat.k())))
    }

    /// Vapour at a pressure and a temperature.
    ///
    /// # Errors
    /// As [`Self::vapour`]; a temperature below dew is a superheat below zero.
    pub fn superheated_vapour(
        self,
        p: AbsolutePressure,
        t: Temperature,
    ) -> Result<State, OutsideStates> {
        self.vapour(p, t - self.dew().temperature(p)?)
    }

    /// Vapour at a pressure that has this enthalpy, J/kg: the discharge when the work is known.
    ///
    /// # Errors
    /// [`OutsideStates::Saturation`] as [`Self::vapour`]; [`OutsideStates::NoVapour`].
    pub fn vapour_of_enthalpy(
        self,
        p: AbsolutePressure,
        enthalpy_j_kg: f64,
    ) -> Result<State, OutsideStates> {
        let isobar = self.isobar(p)?;
        isobar.find(&isobar.enthalpy, enthalpy_j_kg)
    }

    /// Vapour at a pressure that has this entropy, J/(kg K): the end of a compression without
    /// loss.
    ///
    /// # Errors
    /// [`OutsideStates::Saturation`] as [`Self::vapour`]; [`OutsideStates::NoVapour`].
    pub fn vapour_of_entropy(
        self,
        p: AbsolutePressure,
        entropy_j_kg_k: f64,
    ) -> Result<State, OutsideStates> {
        let isobar = self.isobar(p)?;
        isobar.find(&isobar.entropy, entropy_j_kg_k)
    }

    /// The lowest and the highest saturation temperature with states: bubble for liquid, dew for
    /// vapour. Narrower than the saturation lines.
    pub fn state_limits(self) -> (Temperature, Temperature) {
        let table = self.states();
        (
            Temperature::from_k(table.lowest_kelvin),
            Temperature::from_k(table.highest_kelvin),
        )
    }

    fn isobar(self, p: AbsolutePressure) -> Result<Isobar, OutsideStates> {
        let dew = self.dew().temperature(p)?;
        let (lowest, highest) = self.state_limits();
        if !(lowest..=highest).contains(&dew) {
            let line = crate::Line::Dew;
            let outside = OutsideTable::Temperature {
                refrigerant: self,
                line,
                asked: dew,
                lowest,
                highest,
            };
            return Err(outside.into());
        }
        let table = &self.states().vapour;
        let (low, high) = (table.low_ln_pascal, table.high_ln_pascal);
        let u = (libm::log(p.pa()) - low) * 2.0 / (high - low) - 1.0;
        let along = |rows: &[[f32; COLUMNS]; ROWS]| rows.map(|row| sum(&row.map(f64::from), u));
        Ok(Isobar {
            refrigerant: self,
            pressure: p,
            dew,
            ln_density: along(&table.ln_density),
            enthalpy: along(&table.enthalpy),
            entropy: along(&table.entropy),
        })
    }

    const fn states(self) -> &'static StateTable {
        match self {
            Self::R22 => &state_table::R22,
            Self::R134a => &state_table::R134A,
            Self::R32 => &state_table::R32,
            Self::R410A => &state_table::R410A,
            Self::R407C => &state_table::R407C,
            Self::R404A => &state_table::R404A,
            Self::R507A => &state_table::R507A,
            Self::R290 => &state_table::R290,
            Self::R1234yf => &state_table::R1234YF,
            Self::R454B => &state_table::R454B,
            Self::R448A => &state_table::R448A,
            Self::R449A => &state_table::R449A,
            Self::R421A => &state_table::R421A,
            Self::R422D => &state_table::R422D,
            Self::R427A => &state_table::R427A,
        }
    }
}

/// From superheat in kelvin to -1 to 1; [`superheat`] is the way back.
fn variable(kelvin: f64) -> f64 {
    2.0 * libm::log1p(kelvin / SCALE) / libm::log1p(MOST_SUPERHEAT / SCALE) - 1.0
}

fn superheat(variable: f64) -> f64 {
    SCALE * libm::expm1((variable + 1.0) / 2.0 * libm::log1p(MOST_SUPERHEAT / SCALE))
}

impl Isobar {
    fn state(&self, v: f64) -> State {
        let kelvin = superheat(v);
        let (enthalpy, slope) = sum_and_slope(&self.enthalpy, v);
        // dv/dT, from the definition of the variable.
        let per_kelvin = 2.0 / libm::log1p(MOST_SUPERHEAT / SCALE) / (SCALE + kelvin);
        State {
            temperature: self.dew + TemperatureDifference::from_k(kelvin),
            pressure: self.pressure,
            density_kg_m3: libm::exp(sum(&self.ln_density, v)),
            enthalpy_j_kg: enthalpy,
            entropy_j_kg_k: sum(&self.entropy, v),
            heat_capacity_j_kg_k: slope * per_kelvin,
        }
    }

    /// The state at which a rising quantity has the value asked for: Newton's method inside a
    /// bracket that only shrinks, so that it always ends.
    fn find(&self, rising: &[f64; ROWS], asked: f64) -> Result<State, OutsideStates> {
        let (mut low, mut high) = (-1.0, 1.0);
        let (lowest, highest) = (sum(rising, low), sum(rising, high));
        if !(lowest..=highest).contains(&asked) {
            return Err(OutsideStates::NoVapour {
                refrigerant: self.refrigerant,
                pressure: self.pressure,
                asked,
                lowest,
                highest,
            });
        }
        let mut v = low + (high - low) * (asked - lowest) / (highest - lowest);
        for _ in 0..SEARCH_STEPS {
            let (value, slope) = sum_and_slope(rising, v);
            if value < asked {
                low = v
            } else {
                high = v
            }
            let newton = v - (value - asked) / slope;
            let next = if low <= newton && newton <= high {
                newton
            } else {
                (low + high) / 2.0
            };
            let done = (next - v).abs() < SEARCH_END;
            v = next;
            if done {
                break;
            }
        }
        Ok(self.state(v))
    }
}
