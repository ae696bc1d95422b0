//! What was chosen and typed about the job, as the readings are judged by it; and the trend strip.

use crate::visit::{MINUTE, START, Visit, noted, turned, weighed};
use diagnosis::{MeasuringPoint, Metering, PressureLimit, Setup};
use job::{Event, GaugeFace, PlateField, Screen};
use quantity::GaugeReference;

fn setup(visit: &Visit) -> Setup {
    visit.job.setup().unwrap()
}

#[test]
fn line_loss_counts_only_with_gauge_and_thermometer_apart() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    visit.does(&noted(PlateField::LineLoss, "3"));
    for (point, at_service_valve, loss) in [
        (MeasuringPoint::Bulb, true, 3.0),
        (MeasuringPoint::Bulb, false, 0.0),
        (MeasuringPoint::ServiceValve, true, 0.0),
        (MeasuringPoint::ServiceValve, false, 0.0),
    ] {
        visit.does(&Event::ChosePoint { point });
        visit.does(&Event::PlacedGauge { at_service_valve });
        assert!((setup(&visit).line_loss.psi() - loss).abs() < 1e-12);
    }
}

/// Standard atmosphere at 5000 ft: 12.228 psia; from memory, to be read against a printed table.
#[test]
fn barometer_overrides_the_altitude() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    let air = |visit: &Visit| setup(visit).local_air.psia();
    assert!((air(&visit) - 14.696).abs() < 5e-4);
    visit.does(&noted(PlateField::Altitude, "5000"));
    assert!((air(&visit) - 12.228).abs() < 5e-3);
    visit.does(&noted(PlateField::Barometer, "12.5"));
    assert!((air(&visit) - 12.5).abs() < 1e-9);
    visit.does(&noted(PlateField::Barometer, ""));
    assert!((air(&visit) - 12.228).abs() < 5e-3);
    for gauge in GaugeReference::ALL {
        visit.does(&Event::ChoseGauge { gauge });
        assert_eq!(setup(&visit).gauge, gauge);
    }
}

/// 1 % of 500 psi of full scale is 5 psi anywhere on the dial.
#[test]
fn dial_errs_by_a_share_of_its_full_scale() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    let limits = |visit: &Visit| {
        let tools = setup(visit).instruments;
        (tools.low.half_width().psi(), tools.high.half_width().psi())
    };
    let near = |(a, b): (f64, f64), (c, d): (f64, f64)| {
        assert!((a - c).abs() < 1e-9 && (b - d).abs() < 1e-9, "{a}, {b}");
    };
    near(limits(&visit), (0.5, 1.0));
    visit.does(&Event::ChoseFace {
        face: GaugeFace::Dial,
    });
    for (field, text) in [
        (PlateField::DialPercent, "1"),
        (PlateField::LowFullScale, "250"),
        (PlateField::HighFullScale, "500"),
    ] {
        visit.does(&noted(field, text));
    }
    near(limits(&visit), (2.5, 5.0));
    assert!(matches!(
        setup(&visit).instruments.high,
        PressureLimit::OfFullScale { .. }
    ));
    visit.does(&Event::ChoseFace {
        face: GaugeFace::Digital,
    });
    near(limits(&visit), (0.5, 1.0));
}

#[test]
fn thermometer_of_its_own_sheet_has_no_share_of_reading() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    let own = setup(&visit).instruments.thermometer;
    assert!((own.fixed.f() - 0.3).abs() < 1e-12 && own.percent_of_reading == 0.0);
    // Blank: the protocol's ±(1.3 °F + 0.1 %), California RA3.2.2.2 (2008).
    visit.does(&noted(PlateField::Thermometer, ""));
    let protocol = setup(&visit).instruments.thermometer;
    assert!((protocol.fixed.f() - 1.3).abs() < 1e-12 && protocol.percent_of_reading == 0.1);
}

#[test]
fn trend_shows_readings_and_turns_that_count() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    assert_eq!(visit.job.trend(), None);
    visit = Visit::ready_to_turn(20.0);
    visit.minutes(1);
    visit.does(&turned(-2));
    visit.does(&turned(1));
    visit.does(&Event::TookBack);
    visit.does(&weighed("4"));
    visit.minutes(5);
    visit.reads(16.0, 11.0);
    let trend = visit.job.trend().unwrap();
    let minute = |at_ms: i64| (at_ms - START) / MINUTE;
    let turns: Vec<_> = trend
        .turns
        .iter()
        .map(|t| (minute(t.at_ms), t.by.get()))
        .collect();
    assert_eq!(turns, [(13, -2)]);
    let points: Vec<_> = trend
        .points
        .iter()
        .map(|point| {
            let f = |difference: quantity::TemperatureDifference| difference.f().round();
            (
                minute(point.at_ms),
                point.superheat.map(f),
                point.subcooling.map(f),
            )
        })
        .collect();
    let as_found = |minute| (minute, Some(20.0), Some(10.0));
    assert_eq!(
        points,
        [
            as_found(4),
            as_found(8),
            as_found(12),
            (18, Some(16.0), Some(11.0))
        ]
    );
    assert!((trend.superheat_target.low.f() - 8.0).abs() < 1e-9);
    assert!((trend.subcooling_target.high.f() - 13.0).abs() < 1e-9);
}

#[test]
fn screens_follow_the_order_of_the_work() {
    let mut at = Some(Screen::Job);
    let mut passed = Vec::new();
    while let Some(screen) = at {
        assert_eq!(Screen::from_key(screen.key()), Some(screen));
        passed.push(screen.says());
        at = screen.next();
    }
    assert_eq!(
        passed,
        ["Job", "Look first", "Reading", "Finding", "Stem", "Proof"]
    );
    assert_eq!(Screen::from_key("cellar"), None);
    let mut visit = Visit::begun();
    for screen in Screen::ALL {
        assert_eq!(visit.does(&Event::Went { screen }), []);
        assert_eq!(visit.job.screen, screen);
        // Reload returns to the same screen.
        assert_eq!(visit.reopened().screen, screen);
    }
}

/// Read as none, a mistyped loss would show superheat too high, and open the valve for it.
#[test]
fn line_loss_that_is_no_number_counts_as_the_usual_one() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    let loss = |visit: &Visit| visit.job.setup().unwrap().line_loss.psi();
    visit.does(&Event::PlacedGauge {
        at_service_valve: true,
    });
    visit.does(&noted(PlateField::LineLoss, "3"));
    assert_eq!(loss(&visit), 3.0);
    for no_loss in ["about 3", "300"] {
        visit.does(&noted(PlateField::LineLoss, no_loss));
        assert_eq!(loss(&visit), 2.0, "{no_loss}");
        assert!(visit.job.fault(PlateField::LineLoss).is_some());
    }
}
