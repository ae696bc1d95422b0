//! The refrigerant as the model needs it: a row for each kelvin of saturation temperature, straight
//! lines in between. Made once for each refrigerant from the tables of `refrigerant`.
//!
//! A solve asks for some thousands of states; a row costs a few nanoseconds, the tables behind it
//! about a microsecond. The tests state what the rows lose.

use std::sync::OnceLock;

use quantity::{Temperature, TemperatureDifference};
use refrigerant::{Line, OutsideStates, Refrigerant};

/// Superheats (K) at which a row meets the tables exactly, besides zero: line, coil and discharge.
const KNOTS: [f64; 3] = [8.0, 30.0, 80.0];
/// Superheat over which vapour changes fastest, K: that near the dew line.
const SCALE: f64 = 20.0;
/// Coldest and hottest row, K, where the tables allow it.
const REACH: (u32, u32) = (223, 341);
/// Numbers in a row.
const WIDTH: usize = 19;
/// Steps and end (K) of a search for superheat; the quantity is monotonic and nearly straight. What
/// is left after a step of Newton's method goes with its square: 1e-10 K.
const SEARCH_STEPS: usize = 8;
const SEARCH_END: f64 = 1e-5;

/// Both sides of one circuit.
#[derive(Debug)]
pub(crate) struct Fluid {
    /// By dew temperature: the evaporator, the bulb.
    pub(crate) low: Side,
    /// By bubble temperature: the condenser, the liquid.
    pub(crate) high: Side,
}

/// The rows of one side, one kelvin apart.
#[derive(Debug)]
pub(crate) struct Side {
    first: f64,
    rows: Vec<[f64; WIDTH]>,
}

/// Liquid and vapour at one pressure. SI units; per kilogram.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Saturated {
    pub(crate) p: f64,
    pub(crate) bubble: f64,
    pub(crate) dew: f64,
    pub(crate) h_liquid: f64,
    pub(crate) h_vapour: f64,
    s_vapour: f64,
    v_vapour: f64,
    pub(crate) rho_liquid: f64,
    pub(crate) c_liquid: f64,
    /// Density of vapour over that of liquid, to the power two thirds.
    pub(crate) thinness: f64,
    h_rise: [f64; 3],
    s_rise: [f64; 3],
    v_rise: [f64; 3],
}

/// Dry vapour.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Vapour {
    /// K.
    pub(crate) t: f64,
    /// J/kg.
    pub(crate) h: f64,
    /// J/(kg K).
    pub(crate) s: f64,
    /// m3/kg.
    pub(crate) v: f64,
}

impl Fluid {
    /// The rows of a refrigerant, made when first asked for.
    pub(crate) fn of(refrigerant: Refrigerant) -> &'static Self {
        static MADE: [OnceLock<Fluid>; Refrigerant::ALL.len()] =
            [const { OnceLock::new() }; Refrigerant::ALL.len()];
        MADE[refrigerant as usize].get_or_init(|| Self {
            low: Side::new(refrigerant, Line::Dew),
            high: Side::new(refrigerant, Line::Bubble),
        })
    }
}

impl Side {
    /// All rows that the tables hold; they hold one span without gaps.
    fn new(refrigerant: Refrigerant, line: Line) -> Self {
        let all = (REACH.0..=REACH.1).map(|kelvin| {
            let kelvin = f64::from(kelvin);
            (kelvin, row(refrigerant, line, Temperature::from_k(kelvin)))
        });
        let held: Vec<_> = all
            .filter_map(|(t, row)| row.ok().map(|row| (t, row)))
            .collect();
        Self {
            first: held.first().map_or(f64::NAN, |(t, _)| *t),
            rows: held.into_iter().map(|(_, row)| row).collect(),
        }
    }

    /// The lowest and the highest saturation temperature, K.
    pub(crate) fn reach(&self) -> (f64, f64) {
        (self.first, self.first + (self.rows.len() - 1) as f64)
    }

    /// At a saturation temperature, K; held inside [`Self::reach`]: the solver keeps its unknowns
    /// there, and says so when it had to.
    pub(crate) fn at(&self, kelvin: f64) -> Saturated {
        let (row, share) = self.place(kelvin);
        let [low, high] = [&self.rows[row], &self.rows[row + 1]];
        let p = libm::exp(low[0] + share * (high[0] - low[0]));
        Saturated::between(low, high, share, p)
    }

    /// At a pressure, Pa; held inside the table likewise.
    pub(crate) fn at_pressure(&self, p: f64) -> Saturated {
        let (row, share) = self.place_of(p);
        let [low, high] = [&self.rows[row], &self.rows[row + 1]];
        let p = if share > 0.0 && share < 1.0 {
            p
        } else {
            libm::exp(low[0] + share * (high[0] - low[0]))
        };
        Saturated::between(low, high, share, p)
    }

    /// Saturation pressure, Pa, and nothing else.
    pub(crate) fn pressure(&self, kelvin: f64) -> f64 {
        let (row, share) = self.place(kelvin);
        let [low, high] = [self.rows[row][0], self.rows[row + 1][0]];
        libm::exp(low + share * (high - low))
    }

    /// Saturation pressure (Pa) and density of liquid (kg/m3), and nothing else.
    pub(crate) fn liquid(&self, kelvin: f64) -> (f64, f64) {
        let (row, share) = self.place(kelvin);
        let [low, high] = [&self.rows[row], &self.rows[row + 1]];
        let at = |column: usize| low[column] + share * (high[column] - low[column]);
        (libm::exp(at(0)), at(7))
    }

    /// Bubble temperature (K), densities of liquid and vapour (kg/m3) at a pressure.
    pub(crate) fn boiling(&self, p: f64) -> (f64, f64, f64) {
        let (row, share) = self.place_of(p);
        let [low, high] = [&self.rows[row], &self.rows[row + 1]];
        let at = |column: usize| low[column] + share * (high[column] - low[column]);
        (at(1), at(7), 1.0 / at(6))
    }

    /// Saturation temperature, K, and nothing else.
    pub(crate) fn temperature(&self, p: f64) -> f64 {
        let (row, share) = self.place_of(p);
        self.first + row as f64 + share
    }

    fn place(&self, kelvin: f64) -> (usize, f64) {
        let last = self.rows.len() - 1;
        let steps = (kelvin - self.first).clamp(0.0, last as f64);
        let row = (steps as usize).min(last - 1);
        (row, steps - row as f64)
    }

    fn place_of(&self, p: f64) -> (usize, f64) {
        let ln_p = libm::log(p);
        let above = self.rows.partition_point(|row| row[0] <= ln_p);
        let row = above.clamp(1, self.rows.len() - 1) - 1;
        let [low, high] = [self.rows[row][0], self.rows[row + 1][0]];
        (row, ((ln_p - low) / (high - low)).clamp(0.0, 1.0))
    }
}

impl Saturated {
    fn between(low: &[f64; WIDTH], high: &[f64; WIDTH], share: f64, p: f64) -> Self {
        let mut n = *low;
        for (n, high) in n.iter_mut().zip(high) {
            *n += share * (high - *n);
        }
        Self {
            p,
            bubble: n[1],
            dew: n[2],
            h_liquid: n[3],
            h_vapour: n[4],
            s_vapour: n[5],
            v_vapour: n[6],
            rho_liquid: n[7],
            c_liquid: n[8],
            thinness: n[9],
            h_rise: [n[10], n[11], n[12]],
            s_rise: [n[13], n[14], n[15]],
            v_rise: [n[16], n[17], n[18]],
        }
    }

    /// Heat of evaporation at this pressure, J/kg.
    pub(crate) fn latent(&self) -> f64 {
        self.h_vapour - self.h_liquid
    }

    /// Dew less bubble temperature, K.
    pub(crate) fn glide(&self) -> f64 {
        self.dew - self.bubble
    }

    /// Density of dry saturated vapour, kg/m3.
    pub(crate) fn rho_vapour(&self) -> f64 {
        1.0 / self.v_vapour
    }

    /// Vapour this much above dew, K; colder is taken as dry saturated.
    pub(crate) fn vapour(&self, superheat: f64) -> Vapour {
        let superheat = superheat.max(0.0);
        let basis = basis(superheat);
        Vapour {
            t: self.dew + superheat,
            h: self.h_vapour + dot(&self.h_rise, &basis),
            s: self.s_vapour + dot(&self.s_rise, &basis),
            v: self.v_vapour + dot(&self.v_rise, &basis),
        }
    }

    /// Superheat (K) of vapour with this enthalpy; zero when it is wet.
    pub(crate) fn superheat_of_enthalpy(&self, h: f64) -> f64 {
        find(&self.h_rise, h - self.h_vapour)
    }

    /// Superheat (K) of vapour with this entropy; zero when it is wet.
    pub(crate) fn superheat_of_entropy(&self, s: f64) -> f64 {
        find(&self.s_rise, s - self.s_vapour)
    }
}

/// What a row's rises are sums of.
fn basis(superheat: f64) -> [f64; 3] {
    [
        superheat,
        superheat * SCALE / (SCALE + superheat),
        superheat * superheat / KNOTS[2],
    ]
}

fn dot(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Newton's method for the superheat of a rise; zero for none.
fn find(rise: &[f64; 3], wanted: f64) -> f64 {
    if wanted <= 0.0 {
        return 0.0;
    }
    let slope = |s: f64| {
        let near = SCALE / (SCALE + s);
        rise[0] + rise[1] * near * near + rise[2] * 2.0 * s / KNOTS[2]
    };
    let mut superheat = wanted / slope(wanted / slope(0.0));
    for _ in 0..SEARCH_STEPS {
        let step = (wanted - dot(rise, &basis(superheat))) / slope(superheat);
        superheat = (superheat + step).max(0.0);
        if step.abs() < SEARCH_END {
            break;
        }
    }
    superheat
}

/// One row of the table, at a saturation temperature on one line.
fn row(
    refrigerant: Refrigerant,
    line: Line,
    t: Temperature,
) -> Result<[f64; WIDTH], OutsideStates> {
    let p = refrigerant.line(line).pressure(t)?;
    let (dew, bubble) = match line {
        Line::Dew => (t, refrigerant.bubble().temperature(p)?),
        Line::Bubble => (refrigerant.dew().temperature(p)?, t),
    };
    let liquid = refrigerant.saturated_liquid(bubble)?;
    let at = |superheat| refrigerant.vapour(p, TemperatureDifference::from_k(superheat));
    let dry = at(0.0)?;
    let hot = [at(KNOTS[0])?, at(KNOTS[1])?, at(KNOTS[2])?];
    let volume = 1.0 / dry.density_kg_m3;
    let root = libm::cbrt(dry.density_kg_m3 / liquid.density_kg_m3);
    let h = fit(hot.map(|state| state.enthalpy_j_kg - dry.enthalpy_j_kg));
    let s = fit(hot.map(|state| state.entropy_j_kg_k - dry.entropy_j_kg_k));
    let v = fit(hot.map(|state| 1.0 / state.density_kg_m3 - volume));
    let plain = [
        libm::log(p.pa()),
        bubble.k(),
        dew.k(),
        liquid.enthalpy_j_kg,
        dry.enthalpy_j_kg,
        dry.entropy_j_kg_k,
        volume,
        liquid.density_kg_m3,
        liquid.heat_capacity_j_kg_k,
        root * root,
    ];
    let mut row = [0.0; WIDTH];
    for (place, value) in row
        .iter_mut()
        .zip(plain.into_iter().chain(h).chain(s).chain(v))
    {
        *place = value;
    }
    Ok(row)
}

/// The three factors of [`basis`] that give these rises at [`KNOTS`], by Cramer's rule.
fn fit(rises: [f64; 3]) -> [f64; 3] {
    let m = KNOTS.map(basis);
    let det = |m: &[[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1])
            - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let whole = det(&m);
    [0, 1, 2].map(|column| {
        let mut swapped = m;
        for (row, rise) in swapped.iter_mut().zip(rises) {
            row[column] = rise;
        }
        det(&swapped) / whole
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::AbsolutePressure;

    /// Against the tables between the knots: liquid and vapour enthalpy (J/kg), volume, and the
    /// ideal work from coil to condenser. The limits are those the model was asked to keep: 0.5 % of
    /// a property, 1 % of an enthalpy difference.
    #[test]
    fn rows_keep_what_the_tables_say() {
        let mut worst = [0.0_f64; 4];
        for refrigerant in Refrigerant::ALL {
            let fluid = Fluid::of(refrigerant);
            for evaporating in [245.3, 262.7, 279.4, 286.6] {
                let low = fluid.low.at(evaporating);
                let p = AbsolutePressure::from_pa(low.p);
                for superheat in [0.0, 3.0, 12.0, 22.0] {
                    let truth = refrigerant
                        .vapour(p, TemperatureDifference::from_k(superheat))
                        .expect("inside the tables");
                    let ours = low.vapour(superheat);
                    let latent = low.latent();
                    worst[0] = worst[0].max(((ours.h - truth.enthalpy_j_kg) / latent).abs());
                    worst[1] = worst[1].max((ours.v * truth.density_kg_m3 - 1.0).abs());
                    for condensing in [301.5, 318.4, 331.6] {
                        let high = fluid.high.at(condensing);
                        let head = AbsolutePressure::from_pa(high.p);
                        let Ok(end) = refrigerant.vapour_of_entropy(head, truth.entropy_j_kg_k)
                        else {
                            continue; // Wet at the end: no vapour to compare.
                        };
                        let true_work = end.enthalpy_j_kg - truth.enthalpy_j_kg;
                        let work = high.vapour(high.superheat_of_entropy(ours.s)).h - ours.h;
                        worst[2] = worst[2].max((work / true_work - 1.0).abs());
                        let hot = refrigerant
                            .vapour(head, TemperatureDifference::from_k(superheat * 3.0))
                            .expect("inside the tables");
                        let ours = high.vapour(superheat * 3.0);
                        worst[3] = worst[3].max(((ours.h - hot.enthalpy_j_kg) / latent).abs());
                    }
                }
            }
        }
        println!("worst share of latent heat, volume, work, hot gas: {worst:?}");
        assert!(worst[0] < 0.003 && worst[1] < 0.005 && worst[2] < 0.01 && worst[3] < 0.005);
    }

    #[test]
    fn a_superheat_comes_back_from_its_enthalpy_and_entropy() {
        for refrigerant in Refrigerant::ALL {
            let high = Fluid::of(refrigerant).high.at(320.0);
            for superheat in [0.5, 9.0, 44.0, 95.0] {
                let vapour = high.vapour(superheat);
                assert!((high.superheat_of_enthalpy(vapour.h) - superheat).abs() < 1e-6);
                assert!((high.superheat_of_entropy(vapour.s) - superheat).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn every_refrigerant_has_rows_from_frost_to_the_high_pressure_switch() {
        for refrigerant in Refrigerant::ALL {
            let fluid = Fluid::of(refrigerant);
            let ((coldest, _), (_, hottest)) = (fluid.low.reach(), fluid.high.reach());
            assert!(
                coldest < 235.0 && hottest > 330.0,
                "{refrigerant:?} {coldest} {hottest}"
            );
            let back = fluid.high.temperature(fluid.high.pressure(311.3));
            assert!((back - 311.3).abs() < 1e-9);
        }
    }
}
