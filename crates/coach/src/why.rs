//! The reasons behind an advice: data first, words second.

use quantity::{Temperature, TemperatureDifference, TemperatureUnit};

use crate::{End, Quarters};

/// One reason, with its numbers. [`Why::says`] puts it into words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// There is no reading yet, or none since the last change.
    NoReading,
    /// The newest reading is old.
    OldReading {
        /// Its age.
        minutes: f64,
    },
    /// Too soon after a change for a settled value.
    TooSoon {
        /// Minutes since the change.
        minutes: f64,
        /// The least that is waited.
        least: f64,
    },
    /// Superheat is still on its way.
    StillMoving {
        /// From the newest reading to where it will settle.
        to_go: TemperatureDifference,
        /// Half-width of its 90 % interval.
        half_width: TemperatureDifference,
    },
    /// The readings so far cannot tell; this many more would, if they come as expected.
    NeedsReadings {
        /// How many.
        more: u32,
        /// Minutes between them.
        minutes_apart: f64,
    },
    /// The readings so far cannot tell, and a few more would not either.
    KeepReading {
        /// Minutes between them.
        minutes_apart: f64,
    },
    /// The readings scatter more than the tools do, and are too far apart to show a beat.
    WatchNeedle {
        /// Their scatter: one standard deviation.
        scatter: TemperatureDifference,
    },
    /// A long time since the change, and still no rest.
    SlowToSettle {
        /// Minutes since the change.
        minutes: f64,
    },
    /// It has settled.
    Steady {
        /// The readings it rests on.
        readings: u32,
        /// Minutes from the first to the last of them.
        minutes: f64,
    },
    /// It swings.
    Swinging {
        /// From low to high.
        peak_to_peak: TemperatureDifference,
        /// Minutes for one swing, if known.
        period_minutes: Option<f64>,
    },
    /// What to do about hunting before the stem is touched.
    FixBeforeStem,
    /// How the valve answered the last turn that settled.
    Responded {
        /// The turn, clockwise positive.
        turns: Quarters,
        /// The change that was foreseen.
        expected: TemperatureDifference,
        /// The change that came.
        moved: TemperatureDifference,
    },
    /// The settled value is in the band.
    InBand {
        /// The settled value.
        value: TemperatureDifference,
        /// Half-width of its 90 % interval, the tools' standing error included.
        half_width: TemperatureDifference,
    },
    /// The superheat the next turn aims at.
    Aim {
        /// The value aimed at.
        target: TemperatureDifference,
    },
    /// The step was held to the largest allowed.
    Capped {
        /// The largest allowed here.
        at: Quarters,
        /// It is the first step, before the valve has shown what a turn does.
        first: bool,
    },
    /// The step was cut to what is left of the stem's travel.
    CutForEnd {
        /// The end ahead.
        end: End,
        /// What is left.
        left: Quarters,
    },
    /// A larger opening turn might have dipped under the minimum.
    CutForMinimum {
        /// The smallest turn that was refused.
        turn: Quarters,
        /// The lowest it might have touched: prediction less its uncertainty and the dip.
        lowest: TemperatureDifference,
        /// The minimum.
        minimum: TemperatureDifference,
    },
    /// A larger opening turn might have raised the head over its limit.
    CutForHead {
        /// The smallest turn that was refused.
        turn: Quarters,
        /// The condensing temperature it might have led to.
        condensing: Temperature,
        /// The limit.
        limit: Temperature,
    },
    /// A larger closing turn might have gone past the band.
    CutForBandTop {
        /// The smallest turn that was refused.
        turn: Quarters,
        /// The highest it might have settled at.
        highest: TemperatureDifference,
        /// The band's top.
        top: TemperatureDifference,
    },
    /// How to make an opening turn: a quarter at a time, and how deep superheat may dip meanwhile.
    Slowly {
        /// Seconds for each quarter turn.
        seconds: f64,
        /// The lowest it may touch so.
        lowest: TemperatureDifference,
        /// The lowest it may touch when the stem is turned at once.
        at_once: TemperatureDifference,
    },
    /// Out of the band, and not even a quarter turn is safe.
    NothingPasses,
    /// The newest reading is at or under the minimum.
    BelowMinimum {
        /// The reading.
        superheat: TemperatureDifference,
        /// The minimum.
        minimum: TemperatureDifference,
    },
    /// With these tools the newest reading may as well be no superheat at all.
    TouchesZero {
        /// The reading.
        superheat: TemperatureDifference,
        /// Half-width of its error band.
        half_width: TemperatureDifference,
    },
    /// The stem was closed for this a moment ago; its answer is awaited.
    JustClosed,
    /// Condensing temperature over its limit.
    HighHead {
        /// The condensing temperature.
        condensing: Temperature,
        /// The limit.
        limit: Temperature,
        /// The limit is the rule of thumb and not this unit's.
        rule_of_thumb: bool,
    },
    /// The stem is at an end.
    AtEnd {
        /// Which.
        end: End,
    },
    /// The band cannot be reached with the travel that is left.
    OutOfReach {
        /// The turn it would take.
        needed: Quarters,
        /// What is left in that direction.
        left: Quarters,
        /// The end ahead.
        end: End,
    },
    /// Superheat went the other way than the stem.
    WrongWay {
        /// The turn, clockwise positive.
        turns: Quarters,
        /// The change that came.
        moved: TemperatureDifference,
    },
    /// Superheat stayed while the stem was turned.
    NoResponse {
        /// The turns in all, clockwise positive.
        turns: Quarters,
        /// The change that was foreseen.
        expected: TemperatureDifference,
        /// The change that came.
        moved: TemperatureDifference,
    },
}

impl Why {
    /// The reason in words, with its numbers in the reader's unit.
    ///
    /// # Example
    /// ```
    /// use coach::{Quarters, Why};
    /// use quantity::{TemperatureDifference as Difference, TemperatureUnit};
    /// let why = Why::Responded {
    ///     turns: Quarters::new(-2),
    ///     expected: Difference::from_f(-1.1),
    ///     moved: Difference::from_f(-1.8),
    /// };
    /// assert_eq!(
    ///     why.says(TemperatureUnit::Fahrenheit),
    ///     "1/2 turn counter-clockwise moved superheat by -1.8 °F; -1.1 °F was foreseen.",
    /// );
    /// ```
    pub fn says(&self, unit: TemperatureUnit) -> String {
        let d = |difference: TemperatureDifference| {
            // Adding zero turns -0.0 into 0.0.
            let shown = libm::round(unit.show_difference(difference) * 10.0) / 10.0 + 0.0;
            format!("{shown:.1} {}", unit.difference_sign())
        };
        let t = |temperature: Temperature| format!("{:.0} {}", unit.show(temperature), unit.sign());
        match *self {
            Self::NoReading => "No reading since the last change: take one.".into(),
            Self::OldReading { minutes } => {
                format!("The newest reading is {minutes:.0} minutes old: take a fresh one first.")
            }
            Self::TooSoon { minutes, least } => format!(
                "{minutes:.1} minutes since the change; nothing counts as settled before {least:.0}."
            ),
            Self::StillMoving { to_go, half_width } => {
                format!(
                    "Superheat has about {} to go, give or take {}.",
                    d(to_go),
                    d(half_width)
                )
            }
            Self::NeedsReadings {
                more,
                minutes_apart,
            } => format!(
                "Cannot tell yet: needs {more} more reading{} about {} apart.",
                if more == 1 { "" } else { "s" },
                apart(minutes_apart),
            ),
            Self::KeepReading { minutes_apart } => {
                format!(
                    "Cannot tell yet: go on reading about {} apart.",
                    apart(minutes_apart)
                )
            }
            Self::WatchNeedle { scatter } => format!(
                "The readings scatter by {}, more than the tools do. Watch the needle for a minute \
                 and enter its lowest and highest, or read every 20 seconds.",
                d(scatter)
            ),
            Self::SlowToSettle { minutes } => format!(
                "Not settled {minutes:.0} minutes after the change. Is the load changing: doors, \
                 air flow, sun, a second stage?"
            ),
            Self::Steady { readings, minutes } => {
                format!("{readings} readings over {minutes:.0} minutes agree: it has settled.")
            }
            Self::Swinging {
                peak_to_peak,
                period_minutes,
            } => match period_minutes {
                Some(period) => format!(
                    "Superheat swings by {} about every {:.0} seconds.",
                    d(peak_to_peak),
                    period * 60.0
                ),
                None => format!("Superheat swings by {}.", d(peak_to_peak)),
            },
            Self::FixBeforeStem => "Before the stem: bulb place, strap and insulation; then load \
                and air flow; then solid liquid at the valve. Only if all are right, close a \
                quarter turn and wait."
                .into(),
            Self::Responded {
                turns,
                expected,
                moved,
            } => format!(
                "{} moved superheat by {}; {} was foreseen.",
                turn(turns),
                d(moved),
                d(expected)
            ),
            Self::InBand { value, half_width } => {
                format!(
                    "Settled at {}, give or take {}: in the band.",
                    d(value),
                    d(half_width)
                )
            }
            Self::Aim { target } => format!("The next turn aims at {}.", d(target)),
            Self::Capped { at, first: true } => {
                format!("First step on this valve: at most {}.", turn(at))
            }
            Self::Capped { at, first: false } => format!("At most {} in one step.", turn(at)),
            Self::CutForEnd { end, left } => {
                format!("Only {} is left to the {} end.", turn(left), name(end))
            }
            Self::CutForMinimum {
                turn: by,
                lowest,
                minimum,
            } => format!(
                "{} might dip to {}, under the minimum of {}.",
                turn(by),
                d(lowest),
                d(minimum)
            ),
            Self::CutForHead {
                turn: by,
                condensing,
                limit,
            } => format!(
                "{} might raise condensing to {}, over {}.",
                turn(by),
                t(condensing),
                t(limit)
            ),
            Self::CutForBandTop {
                turn: by,
                highest,
                top,
            } => format!(
                "{} might settle as high as {}, over the band's top of {}.",
                turn(by),
                d(highest),
                d(top)
            ),
            Self::Slowly {
                seconds,
                lowest,
                at_once,
            } => format!(
                "Turn slowly, a quarter each {seconds:.0} seconds: superheat may dip to {} on the \
                 way, and to {} if turned at once.",
                d(lowest),
                d(at_once)
            ),
            Self::NothingPasses => "Out of the band, but no turn is safe to propose: the reasons \
                stand above."
                .into(),
            Self::BelowMinimum { superheat, minimum } => format!(
                "Superheat {} is not above the minimum of {}: liquid may be reaching the \
                 compressor. The safe direction is clockwise. If it stays low, shut the system off.",
                d(superheat),
                d(minimum)
            ),
            Self::TouchesZero {
                superheat,
                half_width,
            } => format!(
                "Superheat {} may be none at all: the tools are only good to {}. The safe direction \
                 is clockwise. If it stays low, shut the system off.",
                d(superheat),
                d(half_width)
            ),
            Self::JustClosed => {
                "The stem was just closed for this: wait for its answer, and read.".into()
            }
            Self::HighHead {
                condensing,
                limit,
                rule_of_thumb,
            } => format!(
                "Condensing at {} is over {}{}. Opening the valve raises it further: find the cause \
                 of the high head first.",
                t(condensing),
                t(limit),
                if rule_of_thumb {
                    " (a rule of thumb: see the unit's own limit)"
                } else {
                    ""
                }
            ),
            Self::AtEnd { end } => format!(
                "The stem is at its {} end. Do not force it. Read until it settles.",
                name(end)
            ),
            Self::OutOfReach { needed, left, end } => format!(
                "It would take {}, and towards the {} end there is {}. Look for other faults: \
                 charge, restriction, bulb, air flow, valve size.",
                turn(needed),
                name(end),
                turn(left)
            ),
            Self::WrongWay { turns, moved } => format!(
                "{} moved superheat by {}: the wrong way. Turn back to as found. Confirm on the \
                 valve which way closes, and that nothing else changed.",
                turn(turns),
                d(moved)
            ),
            Self::NoResponse {
                turns,
                expected,
                moved,
            } => format!(
                "{} moved superheat by {} where {} was foreseen: the stem is not what limits this \
                 valve. Test the bulb, the inlet screen and the liquid feed.",
                turn(turns),
                d(moved),
                d(expected)
            ),
        }
    }
}

/// A signed count of quarters as a technician says it.
fn turn(by: Quarters) -> String {
    let quarters = by.get().unsigned_abs();
    let part = ["", "1/4", "1/2", "3/4"][(quarters % 4) as usize];
    let count = match (quarters / 4, part) {
        (0, "") => return "no turn".into(),
        (0, part) => part.to_owned(),
        (whole, "") => whole.to_string(),
        (whole, part) => format!("{whole} {part}"),
    };
    let noun = if quarters > 4 { "turns" } else { "turn" };
    let way = if by.get() < 0 {
        "counter-clockwise"
    } else {
        "clockwise"
    };
    format!("{count} {noun} {way}")
}

const fn name(end: End) -> &'static str {
    match end {
        End::Opening => "counter-clockwise",
        End::Closing => "clockwise",
    }
}

fn apart(minutes: f64) -> String {
    if minutes < 0.9 {
        format!("{:.0} seconds", minutes * 60.0)
    } else if minutes < 1.5 {
        "a minute".into()
    } else {
        format!("{minutes:.0} minutes")
    }
}
