//! The metering device: what holds its needle, and what flows past it.

use crate::fluid::Fluid;
use crate::smooth::{softmin, softplus, unit_clamp};

/// Rounding of the ends of the needle's travel, share of full lift.
const END_ROUND: f64 = 0.02;
/// Rounding where a bulb runs out of liquid, Pa.
const LIMIT_ROUND: f64 = 2000.0;
/// Rounding where flashing starts, K.
const FLASH_ROUND: f64 = 0.25;
/// Choking pressure of a short tube over the bubble pressure of its liquid. Fitted by us to the
/// correlation of Payne and O'Neal (2004), 2.4 % rms for R-22 and R-410A.
pub(crate) const CHOKING: f64 = 0.73;
/// The least flow that is worked with, over design, so that its square root keeps a slope.
const LEAST: f64 = 1e-4;

/// An expansion valve as a balance of forces.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Balance {
    /// Spring at the design setting, Pa.
    pub(crate) spring: f64,
    /// What a turn clockwise adds, Pa.
    pub(crate) turn: f64,
    /// Pressure from shut to fully open, Pa.
    pub(crate) stroke: f64,
    /// Bulb temperature at the design point, K.
    pub(crate) bulb_design: f64,
    /// Slope of the charge in the bulb over that of the refrigerant.
    pub(crate) bulb_slope: f64,
    /// Highest bulb pressure, Pa, if limited.
    pub(crate) bulb_limit: Option<f64>,
    /// Drop of coil and distributor at design flow, Pa, when the equalizer is inside the valve.
    pub(crate) inner_drop: f64,
}

/// The device as built.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Device {
    /// With or without a stem.
    Txv(Balance),
    /// The controller's target superheat, K.
    Eev(f64),
    /// No moving part.
    Orifice,
}

/// Device, its size, and the lines before it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Valve {
    pub(crate) device: Device,
    /// Effective area fully open, m2; the discharge coefficient is in it.
    pub(crate) area: f64,
    /// Share that stays open when shut.
    pub(crate) bleed: f64,
    /// Resistance of liquid line and drier, and of the condenser before the port: pressure drop is
    /// this times flow squared over density, 1/m4.
    pub(crate) line_loss: f64,
    pub(crate) condenser_loss: f64,
    /// Design flow, kg/s.
    pub(crate) flow: f64,
}

/// What drives the flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Drive {
    /// Condenser outlet pressure before losses, Pa.
    pub(crate) head: f64,
    /// Coil pressure, Pa.
    pub(crate) coil: f64,
    /// Liquid temperature, K, density, kg/m3, and bubble pressure, Pa.
    pub(crate) liquid: f64,
    pub(crate) liquid_density: f64,
    pub(crate) bubble_pressure: f64,
    /// Vapour that already left the condenser with it, by mass.
    pub(crate) quality: f64,
    /// Heat of evaporation there, J/kg, and liquid heat capacity, J/(kg K).
    pub(crate) latent: f64,
    pub(crate) liquid_heat: f64,
    /// Density before the needle over that of liquid (the unknown of the model).
    pub(crate) density_share: f64,
    /// Area now, m2.
    pub(crate) area: f64,
    /// Shares: see [`crate::Faults`].
    pub(crate) restriction: f64,
    pub(crate) screen: f64,
}

/// One look at the feed.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Feed {
    /// kg/s.
    pub(crate) flow: f64,
    /// At the port after the condenser, and at the end of the liquid line, Pa.
    pub(crate) port: f64,
    pub(crate) line_end: f64,
    /// Vapour before the needle, by mass.
    pub(crate) flash: f64,
    /// Where the density share is heading.
    pub(crate) density_aim: f64,
}

impl Balance {
    /// Where the needle would stand without friction, in lifts: below 0 is shut, above 1 open.
    pub(crate) fn force(
        &self,
        fluid: &Fluid,
        bulb: f64,
        lost: f64,
        coil: f64,
        flow_share: f64,
        turns: f64,
    ) -> f64 {
        let felt = self.bulb_design + self.bulb_slope * (bulb - self.bulb_design);
        let full = fluid.low.pressure(felt);
        let limited = match self.bulb_limit {
            Some(limit) => softmin(full, limit, LIMIT_ROUND),
            None => full,
        };
        let below = coil + self.inner_drop * flow_share * flow_share;
        (limited * (1.0 - lost) - below - self.spring - self.turn * turns) / self.stroke
    }
}

/// Lift of the needle, 0 to 1, where the forces put it.
pub(crate) fn lift(force: f64) -> f64 {
    unit_clamp(force, END_ROUND)
}

impl Valve {
    /// Area at a lift, m2.
    ///
    /// # Source
    /// `2y - y2`: H. Li, Modeling adjustable throat-area expansion valves, 2004
    /// (`txv_model_parameters.csv`).
    pub(crate) fn area_at(&self, lift: f64) -> f64 {
        match self.device {
            Device::Txv(_) => {
                self.area * (self.bleed + (1.0 - self.bleed) * (2.0 * lift - lift * lift))
            }
            Device::Eev(_) => self.area * lift,
            Device::Orifice => self.area,
        }
    }

    /// The flow, and what flash gas it meets on the way.
    pub(crate) fn look(&self, fluid: &Fluid, drive: &Drive) -> Feed {
        let rho = drive.liquid_density;
        let line = self.condenser_loss + self.line_loss * drive.restriction;
        let losses = (line + self.line_loss * drive.screen) / rho;
        let needle = 1.0 / (2.0 * rho * drive.density_share * drive.area * drive.area);
        let least = LEAST * self.flow;
        let through =
            |fall: f64, resistance: f64| libm::sqrt((fall / resistance).max(least * least));
        let flow = match self.device {
            Device::Txv(_) | Device::Eev(_) => through(drive.head - drive.coil, needle + losses),
            // Choked on the bubble pressure, or on the inlet's own when that is lower.
            Device::Orifice => through(
                drive.head - CHOKING * drive.bubble_pressure,
                needle + losses,
            )
            .max(through(
                (1.0 - CHOKING) * drive.head,
                needle + (1.0 - CHOKING) * losses,
            )),
        };
        let squared = flow * flow / rho;
        let inlet = drive.head - losses * flow * flow;
        let (bubble, dense, thin) = fluid.high.boiling(inlet.max(drive.coil));
        // Vapour from the condenser counts as the warmth it would give its liquid, so that a line
        // that cools it condenses some.
        let per_kelvin = drive.liquid_heat / drive.latent;
        let warmth = drive.quality / per_kelvin + drive.liquid - bubble;
        let quality = (per_kelvin * softplus(warmth, FLASH_ROUND)).min(1.0);
        Feed {
            flow,
            port: drive.head - self.condenser_loss * squared,
            line_end: drive.head - line * squared,
            flash: quality,
            density_aim: density_share(quality, dense / thin),
        }
    }
}

/// Density of an even mixture over that of its liquid, which is `ratio` times that of its vapour.
fn density_share(quality: f64, ratio: f64) -> f64 {
    1.0 / (1.0 + quality * (ratio - 1.0))
}
