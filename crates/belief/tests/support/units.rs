//! Units and calls drawn at random from the model of the plant: the library is made of some, the
//! tests ask about others.

use std::sync::Mutex;

use belief::{Class, ROWS, Row};
use cycle::{Equalizer, Faults, LineSet, Plate, Point, System, Traits, Weather};
use diagnosis::{Cause, Metering};
use quantity::{PressureDifference, Temperature, TemperatureDifference};
use refrigerant::Refrigerant;

/// Random numbers that are the same everywhere: splitmix64 of Steele, Lea and Flood (2014).
pub struct Dice(pub u64);

impl Dice {
    pub fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
    pub fn by_ratio(&mut self, low: f64, high: f64) -> f64 {
        low * libm::pow(high / low, self.unit())
    }
    /// Mean 0, standard deviation 1, never beyond 2.5: sum of twelve would do, the polar method is
    /// shorter.
    pub fn normal(&mut self) -> f64 {
        loop {
            let (a, b) = (self.between(-1.0, 1.0), self.between(-1.0, 1.0));
            let s = a * a + b * b;
            if s > 0.0 && s < 1.0 {
                let drawn = a * (-2.0 * libm::log(s) / s).sqrt();
                if drawn.abs() < 2.5 {
                    return drawn;
                }
            }
        }
    }
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[((self.unit() * of.len() as f64) as usize).min(of.len() - 1)]
    }
}

/// How units differ from each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Build {
    /// As the library's.
    Usual,
    /// Built otherwise: valve, equalizer, lines and fan outside the library's, coils and compressor
    /// further from the model's size. The charge is weighed in as well as elsewhere.
    Odd,
}

/// One unit with what no one knows of it.
pub struct Unit {
    pub metering: Metering,
    pub refrigerant: Refrigerant,
    pub tons: f64,
    pub system: System,
    /// What its plate asks for.
    pub superheat: TemperatureDifference,
    pub subcooling: TemperatureDifference,
    /// A sound unit's own differences from the design, told as faults.
    own: Faults,
    own_turns: f64,
    turn: TemperatureDifference,
    fan_heat: f64,
    amps_at_design: f64,
    /// Compressor power of such a unit at the design point, W.
    design_power: f64,
}

/// Compressor power of a unit of one ton at the design point, W.
fn design_power(refrigerant: Refrigerant) -> Option<f64> {
    static KNOWN: Mutex<Vec<(Refrigerant, f64)>> = Mutex::new(Vec::new());
    let mut known = KNOWN.lock().ok()?;
    if let Some(&(_, power)) = known.iter().find(|(of, _)| *of == refrigerant) {
        return Some(power);
    }
    let valve = cycle::Metering::Txv(Equalizer::External);
    let design = System::build(&Plate::new(refrigerant, 1.0, valve)).ok()?;
    let rating = Weather::at_sea_level_f(95.0, 80.0, 67.0).ok()?;
    let power = design.steady(&rating, &Faults::NONE, 0.0).ok()?.power_w;
    known.push((refrigerant, power));
    Some(power)
}

/// One call: a unit, its weather and what is wrong with it.
pub struct Call {
    pub class: Class,
    /// Where between smallest and largest the first cause stands, 0 to 1.
    pub share: f64,
    /// Outdoor air, return dry and wet bulb, K.
    pub air: [f64; 3],
    pub faults: Faults,
    pub turns: f64,
    pub point: Point,
    pub rows: [f64; ROWS],
}

impl Unit {
    pub fn draw(
        dice: &mut Dice,
        refrigerant: Refrigerant,
        metering: Metering,
        build: Build,
    ) -> Option<Self> {
        let odd = build == Build::Odd;
        let tons = dice.by_ratio(1.5, 10.0);
        let internal = dice.unit() < if odd { 0.5 } else { 0.15 };
        let equalizer = if internal {
            Equalizer::Internal
        } else {
            Equalizer::External
        };
        let device = match metering {
            Metering::AdjustableTxv => cycle::Metering::Txv(equalizer),
            Metering::FixedTxv => cycle::Metering::TxvFixed(equalizer),
            Metering::Electronic => cycle::Metering::Eev,
            Metering::FixedOrifice => cycle::Metering::Orifice,
        };
        let width = (tons / 3.0).sqrt();
        let plate = Plate {
            superheat: TemperatureDifference::from_f(dice.between(8.0, 13.0)),
            subcooling: TemperatureDifference::from_f(dice.between(7.0, 13.0)),
            lines: LineSet {
                length_m: if odd {
                    dice.between(20.0, 40.0)
                } else {
                    dice.by_ratio(5.0, 25.0)
                },
                liquid_inner_mm: 8.0 * width * dice.between(0.9, 1.1),
                suction_inner_mm: 20.0 * width * dice.between(0.9, 1.1),
            },
            ..Plate::new(refrigerant, tons, device)
        };
        let usual = Traits::default();
        let turn = TemperatureDifference::from_k(dice.by_ratio(0.8, 2.4));
        let cfm = if odd {
            dice.pick(&[0.92, 1.08])
        } else {
            1.0 + 0.02 * dice.normal()
        };
        let traits = Traits {
            superheat_per_turn: turn,
            stem_turns_out: 20.0,
            stem_turns_in: 30.0,
            // A valve may be too large and still hold; an orifice is matched to its unit.
            valve_size: match (metering, odd) {
                (Metering::FixedOrifice, false) => 1.0,
                (Metering::FixedOrifice, true) => dice.pick(&[0.95, 1.05]),
                (_, false) => dice.by_ratio(0.9, 1.5),
                (_, true) => dice.pick(&[0.85, 1.9]),
            },
            bulb_slope: if odd { 1.0 } else { dice.between(0.75, 0.95) },
            stroke: TemperatureDifference::from_k(if odd {
                dice.pick(&[2.0, 8.0])
            } else {
                dice.between(3.0, 6.0)
            }),
            bleed: dice.between(0.0, if odd { 0.12 } else { 0.05 }),
            airflow_m3_s_ton: usual.airflow_m3_s_ton * cfm,
            ..usual
        };
        let system = System::build_with(&plate, &traits).ok()?;
        // Coils and compressor of another size than the model's design: 1 to 3 °F on either side.
        let wide = if odd { 1.5 } else { 1.0 };
        let own = Faults {
            charge: 1.0 + 0.025 * dice.normal(),
            valve_area: 1.0 + 0.03 * wide * dice.normal(),
            liquid_restriction: dice.by_ratio(0.6, if odd { 3.0 } else { 1.7 }),
            suction_restriction: dice.by_ratio(0.6, if odd { 2.5 } else { 1.7 }),
            indoor_air: 1.0 + 0.06 * wide * dice.normal(),
            condenser_air: 1.0 + 0.07 * wide * dice.normal(),
            recirculation: dice.between(0.0, 0.02),
            pumping: (1.0 + 0.035 * wide * dice.normal()).min(1.09),
            ..Faults::NONE
        };
        Some(Self {
            metering,
            refrigerant,
            tons,
            superheat: plate.superheat,
            subcooling: plate.subcooling,
            system,
            own,
            own_turns: 0.5 * wide * dice.normal() / turn.k(),
            turn,
            fan_heat: dice.between(0.3, 0.9),
            amps_at_design: 82.0 * (1.0 + 0.08 * wide * dice.normal()),
            design_power: tons * design_power(refrigerant)?,
        })
    }

    fn stem(&self, turns: f64) -> f64 {
        match self.metering {
            Metering::AdjustableTxv => turns + self.own_turns,
            _ => 0.0,
        }
    }

    /// A call of this class; none where the model has no answer or a valve's trouble does not show.
    pub fn call(&self, dice: &mut Dice, class: Class, share: f64) -> Option<Call> {
        let air = air(dice, class);
        let weather = Weather::at_sea_level_f(air[0], air[1], air[2]).ok()?;
        let (mut faults, mut turns) = (self.own, self.own_turns_only());
        self.break_it(dice, class.first, share, &mut faults, &mut turns);
        match (class.first, class.second) {
            // Whoever turned the stem for a bulb that reads warm.
            (Cause::BulbContact, Some(Cause::ValveUnderfeeding)) => {
                turns = self.stem(dice.between(3.0, 12.0) / self.turn.k());
            }
            (Cause::BulbContact, Some(Cause::ValveOverfeeding)) => {
                turns = self.stem(-dice.between(2.0, 5.0) / self.turn.k());
            }
            (_, Some(second)) => {
                let second_share = dice.unit();
                self.break_it(dice, second, second_share, &mut faults, &mut turns);
            }
            (_, None) => {}
        }
        let point = self.system.steady(&weather, &faults, turns).ok()?;
        if matches!(
            class.first,
            Cause::ValveUnderfeeding | Cause::ValveOverfeeding
        ) {
            let mut sound = faults;
            let own = self.own;
            (
                sound.valve_area,
                sound.stuck_at,
                sound.bulb_charge_lost,
                sound.screen,
            ) = (
                own.valve_area,
                own.stuck_at,
                own.bulb_charge_lost,
                own.screen,
            );
            let sound = self
                .system
                .steady(&weather, &sound, self.own_turns_only())
                .ok()?;
            let moved = (point.superheat() - sound.superheat()).k();
            let shows = match class.first {
                Cause::ValveUnderfeeding => moved > 2.5,
                _ => moved < -1.5 && point.superheat().k() < self.superheat.k().max(4.0),
            };
            if !shows {
                return None;
            }
        }
        let rows = self.rows(&point, air);
        Some(Call {
            class,
            share,
            air: air.map(|f| Temperature::from_f(f).k()),
            faults,
            turns,
            point,
            rows,
        })
    }

    fn own_turns_only(&self) -> f64 {
        self.stem(0.0)
    }

    /// One certain unit, with nothing of its own: what crate `cycle` validates.
    pub fn plain(refrigerant: Refrigerant, tons: f64) -> Option<Self> {
        let valve = cycle::Metering::Txv(Equalizer::External);
        let plate = Plate::new(refrigerant, tons, valve);
        Some(Self {
            metering: Metering::AdjustableTxv,
            refrigerant,
            tons,
            superheat: plate.superheat,
            subcooling: plate.subcooling,
            system: System::build(&plate).ok()?,
            own: Faults::NONE,
            own_turns: 0.0,
            turn: Traits::default().superheat_per_turn,
            fan_heat: 0.6,
            amps_at_design: 82.0,
            design_power: tons * design_power(refrigerant)?,
        })
    }

    /// A call in this air (°F: outdoors, return dry and wet bulb) with these faults and stem.
    pub fn in_state(
        &self,
        air: [f64; 3],
        faults: Faults,
        turns: f64,
        class: Class,
    ) -> Option<Call> {
        let weather = Weather::at_sea_level_f(air[0], air[1], air[2]).ok()?;
        let point = self.system.steady(&weather, &faults, turns).ok()?;
        let rows = self.rows(&point, air);
        Some(Call {
            class,
            share: 0.5,
            air: air.map(|f| Temperature::from_f(f).k()),
            faults,
            turns,
            point,
            rows,
        })
    }

    /// Superheat of the same unit in the same weather with nothing wrong: what a maker's chart says.
    pub fn charted(&self, call: &Call) -> Option<TemperatureDifference> {
        let [outdoor, dry, wet] = call.air.map(|k| Temperature::from_k(k).f());
        let weather = Weather::at_sea_level_f(outdoor, dry, wet).ok()?;
        let point = self.system.steady(&weather, &Faults::NONE, 0.0).ok()?;
        Some(point.superheat())
    }

    /// The steady point with other faults, all else as in a call.
    pub fn again(&self, call: &Call, faults: &Faults) -> Option<Point> {
        let [outdoor, dry, wet] = call.air.map(|k| Temperature::from_k(k).f());
        let weather = Weather::at_sea_level_f(outdoor, dry, wet).ok()?;
        self.system.steady(&weather, faults, call.turns).ok()
    }

    fn break_it(
        &self,
        dice: &mut Dice,
        cause: Cause,
        share: f64,
        faults: &mut Faults,
        turns: &mut f64,
    ) {
        let size = belief::scale(cause).map_or(0.0, |scale| scale.at(share));
        let part = size / 100.0;
        match cause {
            Cause::NoFault | Cause::LowLoad | Cause::HighLoad | Cause::WrongRefrigerant => {}
            Cause::ValveUnderfeeding => self.starve(dice, share, faults, turns),
            Cause::ValveOverfeeding => self.flood(dice, share, faults, turns),
            Cause::BulbContact => faults.bulb_contact = 1.0 - part,
            Cause::LowCharge => faults.charge *= 1.0 - part,
            Cause::Overcharge => faults.charge *= 1.0 + part,
            Cause::LiquidRestriction => faults.liquid_restriction *= size,
            Cause::SuctionRestriction => faults.suction_restriction *= size,
            Cause::LowAirflow => faults.indoor_air *= 1.0 - part,
            Cause::CondenserFouled => faults.condenser_air *= 1.0 - part,
            Cause::HotAirRecirculation => faults.recirculation = part,
            Cause::NonCondensables => {
                faults.non_condensables = PressureDifference::from_psi(size);
            }
            Cause::WeakCompressor => faults.pumping *= 1.0 - part,
        }
    }

    fn starve(&self, dice: &mut Dice, share: f64, faults: &mut Faults, turns: &mut f64) {
        let kinds: &[u8] = match self.metering {
            Metering::AdjustableTxv => b"ttabcs",
            Metering::FixedTxv => b"abcs",
            Metering::Electronic => b"abs",
            Metering::FixedOrifice => b"aas",
        };
        match dice.pick(kinds) {
            b't' => *turns = self.stem((3.0 + 13.0 * share) / self.turn.k()),
            b'a' => faults.valve_area *= 0.8 - 0.5 * share,
            b'b' => faults.stuck_at = Some(0.42 - 0.3 * share),
            b'c' => faults.bulb_charge_lost = 0.05 + 0.3 * share,
            _ => faults.screen = 10.0 * libm::pow(20.0, share),
        }
    }

    fn flood(&self, dice: &mut Dice, share: f64, faults: &mut Faults, turns: &mut f64) {
        let kinds: &[u8] = match self.metering {
            Metering::AdjustableTxv => b"ttba",
            Metering::FixedTxv => b"ba",
            Metering::Electronic => b"b",
            Metering::FixedOrifice => b"a",
        };
        match dice.pick(kinds) {
            b't' => *turns = self.stem(-(1.5 + 5.0 * share) / self.turn.k()),
            b'b' => faults.stuck_at = Some(0.65 + 0.35 * share),
            _ => {
                let most = if self.metering == Metering::FixedOrifice {
                    0.6
                } else {
                    2.0
                };
                faults.valve_area *= 1.12 + most * share;
            }
        }
    }

    fn rows(&self, point: &Point, air_f: [f64; 3]) -> [f64; ROWS] {
        let [outdoor, dry, wet] = air_f.map(|f| Temperature::from_f(f).k());
        Row::ALL.map(|row| match row {
            Row::CoilDew => point.evaporating.k(),
            Row::BulbLine => point.coil_outlet.temperature.k(),
            Row::PortDew => point.suction_dew.k(),
            Row::PortLine => point.compressor_inlet.temperature.k(),
            Row::LiquidSaturation => point.liquid_saturation.k(),
            Row::LiquidLine => point.liquid_port.temperature.k(),
            Row::EnteringAir => point.condenser_air.k(),
            Row::OpenAir => outdoor,
            Row::ReturnDry => dry,
            Row::ReturnWet => wet,
            Row::Supply => point.supply_air.k() + self.fan_heat,
            Row::LeavingAir => point.condenser_leaving_air.k(),
            Row::LineEnd => point.line_end.temperature.k(),
            Row::Discharge => point.discharge.temperature.k(),
            Row::Amps => self.amps_at_design * point.power_w / self.design_power,
        })
    }
}

/// °F: outdoors, return dry and wet bulb.
fn air(dice: &mut Dice, class: Class) -> [f64; 3] {
    let outdoor = dice.between(68.0, 112.0);
    let (dry, humid) = match class.first {
        Cause::LowLoad => (dice.between(58.0, 67.0), dice.between(0.30, 0.60)),
        Cause::HighLoad => (dice.between(83.0, 95.0), dice.between(0.35, 0.65)),
        Cause::NoFault => (dice.between(68.0, 82.0), dice.between(0.35, 0.65)),
        // A house with a fault is not always cool.
        _ => (dice.between(68.0, 86.0), dice.between(0.35, 0.65)),
    };
    let state = air::MoistAir::from_relative_humidity(
        Temperature::from_f(dry),
        humid,
        quantity::AbsolutePressure::STANDARD_ATMOSPHERE,
    );
    let wet = state.map_or(dry - 12.0, |state| state.wet_bulb().f());
    [outdoor, dry, wet]
}
