//! The Rust against states of the reference that lie between the nodes of the expansions.
//!
//! The same reference made the table, so this checks the fit and the evaluation, not the equations
//! of state; those are checked in `published.rs`. `cargo xtask generate --check` does the same at
//! 1,000 random points for each line, against the live reference.

mod support;

use std::collections::BTreeMap;

use quantity::{AbsolutePressure, Temperature};
use refrigerant::{Line, Refrigerant};
use support::rows;

/// Asked for: 0.02 °F and 0.02 %. Met with room: 0.0001 °F and 0.0001 %, so that a change that
/// loses accuracy shows long before it matters.
const MOST_F: f64 = 1e-4;
const MOST_PERCENT: f64 = 1e-4;

#[test]
fn every_line_follows_the_reference_both_ways() {
    let mut compared = BTreeMap::new();
    for row in &rows("coolprop_points") {
        let refrigerant = row.refrigerant().expect("ours");
        let line = Line::ALL
            .into_iter()
            .find(|line| line.key() == row.text("line"));
        let line = line.expect("dew or bubble");
        let (t, p) = (row.number("T_K"), row.number("p_Pa"));
        let saturation = refrigerant.line(line);
        // The first and last rows stand on the limits; the file's last digit may fall outside.
        let limits = saturation.limits();
        let t = t.clamp(
            limits.lowest_temperature.k(),
            limits.highest_temperature.k(),
        );
        let p = p.clamp(limits.lowest_pressure.pa(), limits.highest_pressure.pa());
        let pressure = saturation.pressure(Temperature::from_k(t)).expect("inside");
        let temperature = saturation
            .temperature(AbsolutePressure::from_pa(p))
            .expect("inside");
        let off_percent = (pressure.pa() / p - 1.0).abs() * 100.0;
        let off_f = (temperature.k() - t).abs() * 1.8;
        let whose = format!("{} {} at {t} K", refrigerant.name(), line.key());
        assert!(off_percent <= MOST_PERCENT, "{whose}: {off_percent:.1e} %");
        assert!(off_f <= MOST_F, "{whose}: {off_f:.1e} °F");
        *compared.entry((refrigerant, line)).or_insert(0) += 1;
    }
    for refrigerant in Refrigerant::ALL {
        for line in Line::ALL {
            assert_eq!(
                compared.get(&(refrigerant, line)),
                Some(&41),
                "{}",
                refrigerant.name()
            );
        }
    }
}

/// The range asked for: -50 °F to 150 °F, or 10 °F under the end of the reference, whichever is
/// lower. R-507A, critical at 159.1 °F (Lemmon 2003, as in CoolProp), is the lowest: 149.1 °F.
#[test]
fn every_line_covers_the_range_asked_for() {
    for refrigerant in Refrigerant::ALL {
        for line in Line::ALL {
            let limits = refrigerant.line(line).limits();
            assert!(limits.lowest_temperature.f() <= -50.0);
            assert!(
                limits.highest_temperature.f() >= 150.0,
                "{}",
                refrigerant.name()
            );
            // A vented gauge at zero on a high mountain (10,000 ft, about 10 psia) is inside.
            assert!(limits.lowest_pressure.psia() < 10.0);
        }
    }
}
