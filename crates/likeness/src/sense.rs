//! What is read of a system, and how sure it is.

use cycle::Point;
use quantity::Temperature;

use crate::told::{Measured, Told};
use crate::unknown::sd_within;

/// What would be read of an operating point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sense {
    SuctionDew,
    SuctionLine,
    LiquidBubble,
    LiquidLine,
    CompressorSuction,
    LiquidLineEnd,
    CondenserAir,
    CondenserLeavingAir,
    SupplyDryBulb,
}

impl Sense {
    /// Its name in files.
    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::SuctionDew => "suction_dew_f",
            Self::SuctionLine => "suction_line_temp_f",
            Self::LiquidBubble => "liquid_bubble_f",
            Self::LiquidLine => "liquid_line_temp_f",
            Self::CompressorSuction => "compressor_suction_temp_f",
            Self::LiquidLineEnd => "liquid_line_end_f",
            Self::CondenserAir => "condenser_air_f",
            Self::CondenserLeavingAir => "condenser_leaving_air_f",
            Self::SupplyDryBulb => "supply_dry_bulb_f",
        }
    }

    /// How far a sound unit may be from this model, °F, as a standard deviation: makers choose other
    /// coils and fans. Engineering defaults, no source.
    const fn unit_sd(self) -> f64 {
        match self {
            Self::SuctionDew | Self::LiquidBubble => 1.0,
            Self::SuctionLine | Self::LiquidLine => 0.8,
            Self::CondenserAir => 0.7,
            Self::CompressorSuction | Self::LiquidLineEnd => 1.5,
            Self::SupplyDryBulb => 1.5,
            Self::CondenserLeavingAir => 3.0,
        }
    }

    pub(crate) fn of(self, point: &Point, at_service_valve: bool) -> Temperature {
        match self {
            Self::SuctionDew if at_service_valve => point.suction_dew,
            Self::SuctionDew => point.evaporating,
            Self::SuctionLine if at_service_valve => point.compressor_inlet.temperature,
            Self::SuctionLine => point.coil_outlet.temperature,
            Self::LiquidBubble => point.liquid_saturation,
            Self::LiquidLine => point.liquid_port.temperature,
            Self::CompressorSuction => point.compressor_inlet.temperature,
            Self::LiquidLineEnd => point.line_end.temperature,
            Self::CondenserAir => point.condenser_air,
            Self::CondenserLeavingAir => point.condenser_leaving_air,
            Self::SupplyDryBulb => point.supply_air,
        }
    }
}

/// What was read, °F, each with its standard deviation: by the tool and by the unit.
pub(crate) fn sensed(told: &Told) -> Vec<(Sense, f64, f64)> {
    // With open air read, entering air is a reading; without, it is the air outdoors.
    let entering = told.open_air.and(told.condenser_air);
    let optional: [(Sense, Option<Measured>); 9] = [
        (Sense::SuctionDew, Some(told.suction_dew)),
        (Sense::SuctionLine, Some(told.suction_line)),
        (Sense::LiquidBubble, Some(told.liquid_bubble)),
        (Sense::LiquidLine, Some(told.liquid_line)),
        (Sense::CompressorSuction, told.compressor_suction),
        (Sense::LiquidLineEnd, told.liquid_line_end),
        (Sense::CondenserAir, entering),
        (Sense::CondenserLeavingAir, told.condenser_leaving_air),
        (Sense::SupplyDryBulb, told.supply_dry_bulb),
    ];
    optional
        .into_iter()
        .filter_map(|(sense, found)| {
            let Measured { f, within_f } = found?;
            Some((sense, f, libm::hypot(sd_within(within_f), sense.unit_sd())))
        })
        .collect()
}
