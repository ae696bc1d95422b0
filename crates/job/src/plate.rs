//! Numbers about the job that are typed once: plate, place and tools. One row each.

use crate::measure::Measure;

/// What is known of a number about the job. Limits and default in the unit its key ends in.
#[derive(Debug)]
pub struct PlateRow {
    /// Its name in files.
    pub key: &'static str,
    /// What it measures.
    pub measure: Measure,
    /// Its name for a person.
    pub label: &'static str,
    /// Where to find it.
    pub hint: &'static str,
    /// Outside these it is refused.
    pub range: (f64, f64),
    /// What is used while it is blank, if anything is.
    pub usual: Option<f64>,
    /// Kept for the next job: it belongs to the place or the tools, not to the unit.
    pub remembered: bool,
}

macro_rules! plate {
    ($($name:ident $key:literal $measure:ident $label:literal $low:literal $high:literal
       $usual:expr, $remembered:literal $hint:literal;)*) => {
        /// A number about the job.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum PlateField { $(#[doc = $label] $name,)* }

        impl PlateField {
            /// Every one, in the order they are offered.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];
            /// The row that says everything about it.
            pub const fn row(self) -> &'static PlateRow {
                match self {
                    $(Self::$name => &PlateRow {
                        key: $key, measure: Measure::$measure, label: $label, hint: $hint,
                        range: ($low, $high), usual: $usual, remembered: $remembered,
                    },)*
                }
            }
        }
    };
}

plate! {
    Tons "nominal_tons" Tons "Nominal capacity" 0.25 50.0 None, false
        "From the model number or plate; 12 000 Btu/h is one ton";
    SuperheatLow "superheat_low_f" Difference "Superheat target, low" 0.0 60.0 None, false
        "Lower end of the band the maker asks for";
    SuperheatHigh "superheat_high_f" Difference "Superheat target, high" 0.0 60.0 None, false
        "Upper end of the band the maker asks for";
    SubcoolingLow "subcooling_low_f" Difference "Subcooling target, low" 0.0 40.0 None, false
        "Plate figure less its tolerance; protocol ±3 °F (1.7 K)";
    SubcoolingHigh "subcooling_high_f" Difference "Subcooling target, high" 0.0 40.0 None, false
        "Plate figure plus its tolerance";
    MinimumSuperheat "minimum_superheat_f" Difference "Superheat never under" 0.0 30.0 Some(5.0), false
        "No agreed figure; charts stop at 5 °F (2.8 K)";
    HeadLimit "head_limit_psig" Gauge "High-side limit" 100.0 800.0 None, false
        "From the plate; unknown: caution past 140 °F (60 °C) condensing";
    PlateCharge "plate_charge_oz" Mass "Plate charge" 1.0 2000.0 None, false
        "Factory charge plus line allowance";
    LineLoss "line_loss_psi" PressureDifference "Suction line loss allowed" 0.0 20.0 Some(2.0), false
        "Added when the gauge is at the service valve and the thermometer at the bulb; about 2 psi, none on short lines";
    Wait "wait_min" Minutes "Wait after a turn" 5.0 30.0 Some(15.0), true
        "Sources say 2 to 30 minutes; steady counts, not the clock alone";
    Altitude "altitude_ft" Altitude "Altitude" -1500.0 30000.0 Some(0.0), true
        "Asked once; vented gauges read against the local air";
    Barometer "barometer_psia" Barometer "Barometer, if you have one" 4.0 16.5 None, false
        "Station pressure, not corrected to sea level; overrides the altitude";
    LowLimit "low_limit_psi" PressureDifference "Suction gauge, ±" 0.0 50.0 Some(3.5), true
        "Its sheet; the protocol allows 3.5 psi";
    HighLimit "high_limit_psi" PressureDifference "Liquid gauge, ±" 0.0 100.0 Some(7.0), true
        "Its sheet; the protocol allows 7 psi";
    DialPercent "dial_percent" Percent "Dial accuracy, % of full scale" 0.1 5.0 Some(1.0), true
        "On the dial: class 1 is 1 %";
    LowFullScale "low_full_scale_psi" PressureDifference "Suction dial, full scale" 50.0 1000.0 Some(250.0), true
        "The highest mark";
    HighFullScale "high_full_scale_psi" PressureDifference "Liquid dial, full scale" 100.0 2000.0 Some(800.0), true
        "The highest mark";
    Thermometer "thermometer_limit_f" Difference "Thermometers, ±" 0.0 20.0 None, true
        "Its sheet; blank: the protocol's 1.3 °F + 0.1 % of reading";
}
crate::keyed::keyed! { PlateField => "plate field", *PlateField::ALL, |f: PlateField| f.row().key; }
