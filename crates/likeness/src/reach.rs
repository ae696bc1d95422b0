//! Will it fit: can this valve ever hold the target here, over the range of weather?

use cycle::{Bound, NoSolution, Unknown};
use serde::{Deserialize, Serialize};

use crate::band::Band;
use crate::fit::Likeness;
use crate::outlook::Spread;
use crate::twin::{Change, NoPoint};

/// Air outdoors that is asked for, °F.
const OUTDOOR_F: [f64; 4] = [70.0, 85.0, 100.0, 115.0];
/// The stem's ends, turns clockwise from the usual setting. Makers' valves have 8 to 20 in all:
/// common practice, no source.
const ENDS: (f64, f64) = (-8.0, 12.0);

/// Whether the valve holds the target.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reach {
    /// In all weather asked for that the model answers.
    Holds,
    /// Even fully open it starves the coil, in all weather.
    TooSmall,
    /// Even with the stem fully in it feeds too much, in all weather.
    TooLarge,
    /// In some weather it does, in some it does not.
    SomeWeather,
    /// The model answers in no weather asked for.
    CannotTell,
    /// It has no stem: its superheat is what it is.
    NoStem,
}

/// One weather.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Weathered {
    /// Open air, °F.
    pub outdoor_f: f64,
    /// Pressure at the liquid port as the stem stands, psig.
    pub head_psig: f64,
    /// Liquid line there, °F.
    pub liquid_line_f: f64,
    /// What the coil takes up as the stem stands, over now.
    pub load_share: f64,
    /// Feed that this takes over the most that the valve lets through there.
    pub feed_share: Band,
    /// Superheat as the stem stands, °F.
    pub superheat_f: Band,
    /// With the stem fully out, °F.
    pub lowest_superheat_f: Band,
    /// With the stem fully in, °F.
    pub highest_superheat_f: Band,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WillItFit {
    /// In one word, by the middles of the bands.
    pub reach: Reach,
    /// Whether nine out of ten systems that read like this would have the same word.
    pub sure: bool,
    /// The target that is asked for, °F.
    pub target_low_f: f64,
    /// See [`Self::target_low_f`].
    pub target_high_f: f64,
    /// Each weather that the model answers.
    pub rows: Vec<Weathered>,
    /// Weather without an answer, °F, and why.
    pub without: Vec<(f64, String)>,
}

impl Likeness {
    /// Whether this valve can hold its target over the range of weather, with everything else as it
    /// was read.
    pub fn will_it_fit(&self) -> WillItFit {
        let told = &self.twin.told;
        let (low, high) = (told.superheat_low_f, told.superheat_high_f);
        let (mut rows, mut without) = (Vec::new(), Vec::new());
        let mut from: Option<Spread> = None;
        for outdoor_f in OUTDOOR_F {
            match self.weathered(outdoor_f, from.as_ref()) {
                Ok((row, spread)) => {
                    rows.push(row);
                    from = Some(spread);
                }
                Err(why) => without.push((outdoor_f, why)),
            }
        }
        let middle = |band: &Band| (band.middle, band.middle);
        let reach = self.verdict(&rows, middle, middle);
        // Each end as it speaks least for the word.
        let far = self.verdict(
            &rows,
            |band| (band.high, band.low),
            |band| (band.low, band.high),
        );
        WillItFit {
            reach,
            sure: reach == far,
            target_low_f: low,
            target_high_f: high,
            rows,
            without,
        }
    }

    fn weathered(
        &self,
        outdoor_f: f64,
        from: Option<&Spread>,
    ) -> Result<(Weathered, Spread), String> {
        let at = Change {
            outdoor_f: Some(outdoor_f),
            ..Change::NONE
        };
        let end = |turns: f64, lift: f64| match self.twin.device {
            diagnosis::Metering::AdjustableTxv => Change {
                stands_at: Some(turns),
                ..at
            },
            diagnosis::Metering::Electronic => Change {
                held_at: Some(lift),
                ..at
            },
            diagnosis::Metering::FixedTxv | diagnosis::Metering::FixedOrifice => at,
        };
        let twin = &self.twin;
        let superheat =
            |spread: &Spread| spread.band(|point| twin.superheat_f(point)).at_least(0.0);
        let text = |why: NoPoint| why.to_string();
        let here = self.spread(&at, from).map_err(text)?;
        let now = &self.modes[0].rested.point;
        let best = here.best().ok_or("no operating point")?;
        let superheat_f = superheat(&here);
        let out = match self.spread(&end(ENDS.0, 1.0), Some(&here)) {
            Ok(out) => superheat(&out),
            Err(why) if is_flooded(&why) => Band {
                low: 0.0,
                middle: 0.0,
                high: superheat_f.high,
            },
            Err(why) => return Err(text(why)),
        };
        let inward = match self.spread(&end(ENDS.1, 0.1), Some(&here)) {
            Ok(inward) => superheat(&inward),
            // Starved beyond the model it has at least what it has here.
            Err(why) if is_starved(&why) => superheat_f,
            Err(why) => return Err(text(why)),
        };
        let row = Weathered {
            outdoor_f,
            head_psig: twin.told.shown_psig(best.liquid_port.pressure),
            liquid_line_f: best.liquid_port.temperature.f(),
            load_share: best.capacity_w / now.capacity_w,
            feed_share: here.band(|point| twin.open_share(point.lift)).at_most(1.0),
            superheat_f,
            lowest_superheat_f: out,
            highest_superheat_f: inward,
        };
        Ok((row, here))
    }

    /// The word, with each row's lowest superheat as (what must be low enough to hold, what must be too
    /// high to starve), and its highest as (high enough to hold, too low to throttle).
    fn verdict(
        &self,
        rows: &[Weathered],
        lowest: impl Fn(&Band) -> (f64, f64),
        highest: impl Fn(&Band) -> (f64, f64),
    ) -> Reach {
        if !matches!(
            self.twin.device,
            diagnosis::Metering::AdjustableTxv | diagnosis::Metering::Electronic
        ) {
            return Reach::NoStem;
        }
        let (low, high) = (
            self.twin.told.superheat_low_f,
            self.twin.told.superheat_high_f,
        );
        let word = |row: &Weathered| {
            let (opens, starves) = lowest(&row.lowest_superheat_f);
            let (closes, floods) = highest(&row.highest_superheat_f);
            if opens <= high && closes >= low {
                Some(Reach::Holds)
            } else if starves > high {
                Some(Reach::TooSmall)
            } else if floods < low {
                Some(Reach::TooLarge)
            } else {
                None
            }
        };
        let mut words = rows.iter().map(word);
        match words.next() {
            None | Some(None) => Reach::CannotTell,
            Some(Some(first)) if words.all(|word| word == Some(first)) => first,
            Some(Some(_)) => Reach::SomeWeather,
        }
    }
}

/// Fed so much that the model of the coil ends: it has no superheat left.
fn is_flooded(why: &NoPoint) -> bool {
    matches!(
        why,
        NoPoint::Rest(NoSolution::Beyond {
            unknown: Unknown::Floodback
                | Unknown::LiquidFront
                | Unknown::FeedFirst
                | Unknown::FeedSecond
                | Unknown::Evaporating,
            bound: Bound::High,
            ..
        })
    )
}

/// Fed so little that the gas leaves hotter, or the coil is colder, than the model knows.
fn is_starved(why: &NoPoint) -> bool {
    let NoPoint::Rest(NoSolution::Beyond { unknown, bound, .. }) = why else {
        return false;
    };
    matches!(
        (unknown, bound),
        (Unknown::DischargeSuperheat, Bound::High)
            | (Unknown::Evaporating | Unknown::LiquidFront, Bound::Low)
    )
}
