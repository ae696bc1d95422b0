//! Builds readings from what a circuit does, and reads the published tables in `tests/data`.
#![allow(dead_code, reason = "each test file uses its own part")]

use diagnosis::{
    Assessment, Cause, ChargeAdvice, Field, Finding, Gate, Instruments, Metering, Pedigree,
    PressureLimit, Reading, Setup, Target, ThermometerLimit, assess,
};
use quantity::{AbsolutePressure, PressureDifference, Temperature, TemperatureDifference};
use refrigerant::Refrigerant;
use std::collections::HashMap;

pub mod random;

/// Rows of a table in `tests/data`: column name to text. Lines that begin with `#` are its source.
pub fn rows(csv: &str) -> Vec<HashMap<String, String>> {
    let mut lines = csv.lines().filter(|line| !line.starts_with('#')).map(cells);
    let header = lines.next().unwrap_or_default();
    let rows: Vec<_> = lines
        .map(|line| header.iter().cloned().zip(line).collect())
        .collect();
    assert!(!rows.is_empty(), "the table is empty");
    rows
}

fn cells(line: &str) -> Vec<String> {
    let mut found = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => found.push(String::new()),
            other => found.last_mut().expect("one cell at least").push(other),
        }
    }
    found
}

/// A running circuit, by what its refrigerant and air do. °F; differences in °F too.
///
/// The two saturations are mid-points, so that a blend's glide falls on both sides of them.
#[derive(Clone, Copy, Debug)]
pub struct Circuit {
    pub refrigerant: Refrigerant,
    pub metering: Metering,
    pub evaporating: f64,
    pub superheat: f64,
    pub condensing: f64,
    pub subcooling: f64,
    pub entering_air: f64,
    pub open_air: f64,
    pub condenser_air_rise: f64,
    pub return_dry_bulb: f64,
    pub return_wet_bulb: f64,
    pub air_split: f64,
    /// Discharge line itself.
    pub discharge: f64,
    pub amps: f64,
    /// Liquid line at the outdoor unit over the valve inlet.
    pub line_drop: f64,
}

impl Circuit {
    /// A sound machine on a warm day: the middle of each usual range.
    ///
    /// 35 °F under the return air and 20 °F over the outdoor air: trade rules. Superheat and
    /// subcooling 10 °F: the middle of a maker's 8 to 12 and of the usual plate. 80/67 °F return
    /// and 95 °F outdoors: AHRI 210/240, condition A. Discharge: common practice, no source.
    pub fn sound(refrigerant: Refrigerant, metering: Metering) -> Self {
        use Refrigerant::*;
        let discharge_over_condensing = match refrigerant {
            R32 => 70.0,
            R454B | R22 => 55.0,
            R410A | R407C | R448A | R449A | R427A => 45.0,
            R134a | R404A | R507A | R290 | R1234yf | R421A | R422D => 30.0,
        };
        Self {
            refrigerant,
            metering,
            evaporating: 45.0,
            superheat: 10.0,
            condensing: 115.0,
            subcooling: 10.0,
            entering_air: 95.0,
            open_air: 95.0,
            condenser_air_rise: 18.0,
            return_dry_bulb: 80.0,
            return_wet_bulb: 67.0,
            air_split: 20.0,
            discharge: 115.0 + discharge_over_condensing,
            amps: 85.0,
            line_drop: 1.0,
        }
    }

    /// What a technician reads on it: gauges vented at sea level, everything at the bulb.
    pub fn reading(&self) -> Reading {
        let (suction, liquid) = (
            self.at_midpoint(self.evaporating),
            self.at_midpoint(self.condensing),
        );
        let dew = self
            .refrigerant
            .dew()
            .temperature(suction)
            .expect("in the table");
        let bubble = self
            .refrigerant
            .bubble()
            .temperature(liquid)
            .expect("in the table");
        let liquid_line = bubble.f() - self.subcooling;
        Reading::of(&[
            (Field::SuctionPressure, psig(suction)),
            (Field::SuctionLine, dew.f() + self.superheat),
            (Field::LiquidPressure, psig(liquid)),
            (Field::LiquidLine, liquid_line),
            (Field::CondenserAir, self.entering_air),
            (Field::OpenAir, self.open_air),
            (
                Field::CondenserLeavingAir,
                self.entering_air + self.condenser_air_rise,
            ),
            (Field::ReturnDryBulb, self.return_dry_bulb),
            (Field::ReturnWetBulb, self.return_wet_bulb),
            (Field::SupplyDryBulb, self.return_dry_bulb - self.air_split),
            (Field::LiquidLineEnd, liquid_line - self.line_drop),
            (Field::DischargeLine, self.discharge),
            (Field::Amps, self.amps),
        ])
    }

    /// The job: plate targets of 8 to 12 and 7 to 13 °F, gate held, protocol-grade tools.
    pub fn setup(&self) -> Setup {
        Setup {
            superheat_target: (self.metering != Metering::FixedOrifice)
                .then(|| Target::from_f(8.0, 12.0, Pedigree::DataPlate)),
            subcooling_target: (self.metering != Metering::FixedOrifice)
                .then(|| Target::from_f(7.0, 13.0, Pedigree::DataPlate)),
            gate: Gate::HELD,
            ..Setup::new(self.refrigerant, self.metering)
        }
    }

    pub fn assessed(&self) -> Assessment {
        assess(&self.setup(), &self.reading())
    }

    /// The pressure whose dew and bubble temperatures have this middle. By halving: dew pressure
    /// is under it, bubble pressure over it.
    pub fn at_midpoint(&self, fahrenheit: f64) -> AbsolutePressure {
        at_midpoint(self.refrigerant, Temperature::from_f(fahrenheit))
    }
}

pub fn at_midpoint(refrigerant: Refrigerant, middle: Temperature) -> AbsolutePressure {
    let mut low = refrigerant
        .dew()
        .pressure(middle)
        .expect("in the table")
        .pa()
        * 0.999;
    let mut high = refrigerant
        .bubble()
        .pressure(middle)
        .expect("in the table")
        .pa()
        * 1.001;
    for _ in 0..60 {
        let p = AbsolutePressure::from_pa((low + high) / 2.0);
        if refrigerant.midpoint_temperature(p).expect("in the table") < middle {
            low = p.pa();
        } else {
            high = p.pa();
        }
    }
    AbsolutePressure::from_pa(low)
}

/// Whole circuits with one fault, in the directions of the trade's table; sizes ours, large enough
/// for protocol-grade tools to prove.
impl Circuit {
    /// Discharge line at this condensing, this much over a sound circuit's.
    pub fn discharge_at(&self, condensing: f64, moved: f64) -> f64 {
        self.discharge - self.condensing + condensing + moved
    }

    /// Suction down, superheat up, subcooling normal to up, head normal to down, split down, amps
    /// down, no drop up to the valve.
    pub fn underfed(self) -> Self {
        Self {
            evaporating: 30.0,
            superheat: 30.0,
            condensing: 110.0,
            subcooling: 14.0,
            air_split: 13.0,
            amps: 52.0,
            condenser_air_rise: 12.0,
            discharge: self.discharge_at(110.0, 15.0),
            ..self
        }
    }

    /// Suction down, superheat up, subcooling DOWN, head down, split down, amps down.
    pub fn undercharged(self) -> Self {
        Self {
            evaporating: 34.0,
            superheat: 26.0,
            condensing: 107.0,
            subcooling: 1.0,
            air_split: 14.0,
            amps: 54.0,
            condenser_air_rise: 11.0,
            discharge: self.discharge_at(107.0, 20.0),
            ..self
        }
    }

    /// Suction down, superheat normal to down, subcooling normal to up, head normal to down, split
    /// UP.
    pub fn short_of_air(self) -> Self {
        Self {
            evaporating: 30.0,
            superheat: 6.0,
            condensing: 111.0,
            subcooling: 12.0,
            air_split: 29.0,
            condenser_air_rise: 13.0,
            discharge: self.discharge_at(111.0, -5.0),
            ..self
        }
    }

    /// Suction up, superheat DOWN, subcooling normal to down, split normal to down.
    pub fn overfed(self) -> Self {
        Self {
            evaporating: 54.0,
            superheat: 3.5,
            subcooling: 8.0,
            air_split: 18.0,
            amps: 95.0,
            discharge: self.discharge_at(115.0, -15.0),
            ..self
        }
    }

    /// Head up, subcooling UP, superheat held, discharge cool.
    pub fn overcharged(self) -> Self {
        Self {
            evaporating: 47.0,
            condensing: 122.0,
            subcooling: 24.0,
            amps: 105.0,
            condenser_air_rise: 22.0,
            discharge: self.discharge_at(122.0, -10.0),
            ..self
        }
    }

    /// Head UP, subcooling normal to up, amps UP, air rise high, entering air as in the open.
    pub fn fouled(self) -> Self {
        Self {
            evaporating: 49.0,
            condensing: 132.0,
            subcooling: 12.0,
            air_split: 18.0,
            amps: 112.0,
            condenser_air_rise: 33.0,
            discharge: self.discharge_at(132.0, 8.0),
            ..self
        }
    }

    /// Head up over open air, normal over the hot air that enters.
    pub fn recirculating(self) -> Self {
        Self {
            evaporating: 48.0,
            condensing: 127.0,
            entering_air: 107.0,
            open_air: 92.0,
            air_split: 18.0,
            amps: 108.0,
            discharge: self.discharge_at(127.0, 0.0),
            ..self
        }
    }

    /// Head UP and subcooling up as calculated, split down, amps up, discharge hot.
    pub fn gassy(self) -> Self {
        Self {
            evaporating: 46.0,
            superheat: 13.0,
            condensing: 130.0,
            subcooling: 22.0,
            air_split: 16.0,
            amps: 110.0,
            condenser_air_rise: 20.0,
            discharge: self.discharge_at(130.0, 30.0),
            ..self
        }
    }
}

/// As a vented gauge at sea level shows it.
pub fn psig(p: AbsolutePressure) -> f64 {
    (p - AbsolutePressure::STANDARD_ATMOSPHERE).psi()
}

/// Standing pressure of a sound circuit at this air, `over` psi above the middle of its chart.
pub fn standing(reading: &mut Reading, refrigerant: Refrigerant, air_f: f64, over_psi: f64) {
    let chart = psig(at_midpoint(refrigerant, Temperature::from_f(air_f)));
    reading.set(Field::StandingPressure, Some(chart + over_psi));
    reading.set(Field::StandingAir, Some(air_f));
}

/// Better tools than the protocol asks: a digital manifold and matched thermometers.
pub fn sharp_tools() -> Instruments {
    tools(1.0, 2.0, 0.5)
}

/// Limits of error in psi, psi and °F.
pub fn tools(low_psi: f64, high_psi: f64, thermometer_f: f64) -> Instruments {
    Instruments {
        low: PressureLimit::Fixed(PressureDifference::from_psi(low_psi)),
        high: PressureLimit::Fixed(PressureDifference::from_psi(high_psi)),
        thermometer: ThermometerLimit {
            fixed: TemperatureDifference::from_f(thermometer_f),
            percent_of_reading: 0.0,
        },
    }
}

/// Causes in order with their weights, for a failing test's message.
pub fn told(findings: &[Finding]) -> String {
    findings
        .iter()
        .take(5)
        .map(|finding| format!("{} {:.3}", finding.cause.key(), finding.weight))
        .collect::<Vec<_>>()
        .join(", ")
}

/// Where a cause stands, from 0.
pub fn place(findings: &[Finding], cause: Cause) -> usize {
    findings
        .iter()
        .position(|finding| finding.cause == cause)
        .expect("every cause is weighed")
}

/// The cause must lead.
pub fn leads(said: &Assessment, cause: Cause, case: &str) {
    assert_eq!(
        said.findings[0].cause,
        cause,
        "{case}: {}",
        told(&said.findings)
    );
}

/// The two must lead, in either order: these readings do not part them.
pub fn both_lead(said: &Assessment, causes: [Cause; 2], case: &str) {
    for cause in causes {
        assert!(
            place(&said.findings, cause) < 2,
            "{case}: {}",
            told(&said.findings)
        );
    }
}

pub fn never_adds(said: &Assessment, case: &str) {
    assert_ne!(
        said.charge_advice(),
        ChargeAdvice::Add,
        "{case}: {:?}",
        said.charge
    );
}
