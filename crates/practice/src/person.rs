//! What a person can ask of a session: tools, plate, clock, and what was seen.

use crate::act::{MINUTE_COSTS, Place};
use crate::bag::Needs;
use crate::case::Case;
use crate::session::{Seen, Session, Step, Stopped};
use diagnosis::{Cause, Field, Gate, MeasuringPoint, Pedigree, Reading, Setup, Target};
use quantity::{PressureDifference, TemperatureDifference};

/// Allowed between gauge at the service valve and thermometer at the bulb, psi: trade rule.
const LINE_LOSS_PSI: f64 = 2.0;

impl Session {
    /// What a tool shows now, in the unit of the field's key. `None` where nothing is connected that
    /// could show it, see [`crate::needs`], or it was not read since the plant was changed.
    pub fn shows(&self, field: Field) -> Option<f64> {
        self.bag.shows(field, self.at_s)
    }

    /// Everything that the tools show now.
    pub fn reading(&self) -> Reading {
        let mut reading = Reading::default();
        for &field in Field::ALL {
            reading.set(field, self.shows(field));
        }
        reading.bulb_test = self.bag.bulb_test;
        reading
    }

    /// The setup that goes with the readings: what the plate says and where the tools hang.
    ///
    /// - `gate`: what the person has looked at, to their own judgement.
    pub fn setup(&self, gate: Gate) -> Setup {
        let plate = &self.case.nameplate;
        let (at_bulb, gauge_at_bulb) = (
            self.bag
                .probes
                .is_none_or(|(place, _)| place == Place::Bulb),
            self.bag.gauges == Some(Place::Bulb),
        );
        let between = at_bulb && !gauge_at_bulb;
        let subcooling = plate.subcooling_low_f.zip(plate.subcooling_high_f);
        Setup {
            nominal_tons: Some(plate.nominal_tons),
            point: if at_bulb {
                MeasuringPoint::Bulb
            } else {
                MeasuringPoint::ServiceValve
            },
            target_point: MeasuringPoint::Bulb,
            line_loss: PressureDifference::from_psi(if between { LINE_LOSS_PSI } else { 0.0 }),
            instruments: plate.kit.instruments(),
            minimum_superheat: TemperatureDifference::from_f(plate.minimum_superheat_f),
            superheat_target: Some(Target::from_f(
                plate.superheat_low_f,
                plate.superheat_high_f,
                Pedigree::Maker,
            )),
            subcooling_target: subcooling
                .map(|(low, high)| Target::from_f(low, high, Pedigree::DataPlate)),
            gate,
            ..Setup::new(plate.refrigerant, plate.metering)
        }
    }

    /// The case, as far as it is public.
    pub const fn case(&self) -> &Case {
        &self.case
    }
    /// Seconds since arrival.
    pub const fn at_s(&self) -> u32 {
        self.at_s
    }
    /// Quarter turns from as found, clockwise positive.
    pub const fn stem_quarters(&self) -> i32 {
        self.stem_quarters
    }
    /// Why the plant stands still, if it does.
    pub const fn stopped(&self) -> Option<Stopped> {
        self.stopped
    }
    /// Everything that was seen, in order.
    pub fn seen(&self) -> &[Seen] {
        &self.seen
    }
    /// Every action so far.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }
    /// What was called, if anything.
    pub fn called(&self) -> &[Cause] {
        &self.called
    }
    /// Whether the call is right: every trouble named, by any of its right names, and nothing else.
    /// Only once the case is over.
    pub fn is_found(&self) -> Option<bool> {
        self.over.then(|| {
            let slots = &self.case.answers;
            let named = slots
                .iter()
                .all(|slot| slot.iter().any(|cause| self.called.contains(cause)));
            named
                && self
                    .called
                    .iter()
                    .all(|called| slots.iter().flatten().any(|it| it == called))
        })
    }
    /// Whether it is over.
    pub const fn is_over(&self) -> bool {
        self.over
    }
    /// What it has cost so far, shells: parts and fees, and every minute.
    pub fn money(&self) -> f64 {
        self.parts_money + MINUTE_COSTS * f64::from(self.at_s) / 60.0
    }
    /// Whether the tools for a field are connected.
    pub fn has(&self, needs: Needs) -> bool {
        self.bag.has(needs)
    }
}
