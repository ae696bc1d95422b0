//! A proposed step of charge against what the plant then does.

use belief::{Class, LARGEST_STEP_OZ, judge};
use diagnosis::{Cause, ChargeAdvice, Metering};
use refrigerant::Refrigerant;

mod support;
use support::units::{Build, Dice};
use support::{Depth, visit};

const SEED: u64 = 0xC4A2_6E01;
const POUNDS_IN_KG: f64 = 1.0 / 0.453_592_37;
const SYSTEMS: [(Refrigerant, Metering); 4] = [
    (Refrigerant::R410A, Metering::AdjustableTxv),
    (Refrigerant::R22, Metering::AdjustableTxv),
    (Refrigerant::R454B, Metering::Electronic),
    (Refrigerant::R22, Metering::FixedOrifice),
];

#[test]
fn subcooling_after_the_step_stands_in_its_band() {
    let mut dice = Dice(SEED);
    let (mut errors, mut inside, mut orifice_superheat) = (Vec::new(), 0, (0, 0));
    for (refrigerant, metering) in SYSTEMS {
        for cause in [Cause::LowCharge, Cause::Overcharge] {
            let class = Class {
                first: cause,
                second: None,
            };
            for i in 0..150 {
                let share = (f64::from(i) + 0.5) / 150.0;
                let usual = (Build::Usual, 1.0);
                let full = Depth::Full;
                let visit = visit(&mut dice, refrigerant, metering, class, share, full, usual);
                let Some(visit) = visit else { continue };
                let pounds = visit.unit.system.charge_kg() * POUNDS_IN_KG;
                let said = judge(&visit.setup, &visit.reading, Some(16.0 * pounds));
                let Some(step) = said.proposal else { continue };

                let ounces = step.ounces.expect("the charge is known");
                assert!((1.0..=LARGEST_STEP_OZ).contains(&ounces.abs()));
                assert_eq!(ounces, libm::round(ounces));
                let adds = said.assessment.charge_advice() == ChargeAdvice::Add;
                assert_eq!(ounces > 0.0, adds);

                let mut faults = visit.call.faults;
                faults.charge += step.share;
                let Some(after) = visit.unit.again(&visit.call, &faults) else {
                    continue;
                };
                let foretold = step.subcooling.expect("subcooling was read");
                let off = (after.subcooling() - foretold.value).f();
                errors.push(off.abs());
                inside += usize::from(off.abs() <= foretold.half_width.f());
                if metering == Metering::FixedOrifice {
                    let foretold = step.superheat.expect("superheat was read");
                    let read_at_bulb = visit.setup.point == diagnosis::MeasuringPoint::Bulb;
                    let came = if read_at_bulb {
                        after.superheat()
                    } else {
                        after.superheat_at_port()
                    };
                    orifice_superheat.0 += 1;
                    let off = (came - foretold.value).f().abs();
                    orifice_superheat.1 += usize::from(off <= foretold.half_width.f());
                }
            }
        }
    }
    errors.sort_by(f64::total_cmp);
    let at = |part: f64| errors[((errors.len() - 1) as f64 * part) as usize];
    let covered = inside as f64 / errors.len() as f64;
    println!(
        "{} steps of charge: subcooling foretold to {:.1} °F (median), {:.1} (nine in ten); \
         {:.0} % in the band; orifice superheat {} of {} in the band",
        errors.len(),
        at(0.5),
        at(0.9),
        100.0 * covered,
        orifice_superheat.1,
        orifice_superheat.0,
    );
    assert!(errors.len() > 300);
    assert!(covered >= 0.85, "{covered}");
}
