//! The whole circuit at one moment: from the unknowns to how fast they change. Rest and motion are
//! both made of this one function.

use crate::fluid::Saturated;
use crate::round::{Round, Scene};
use crate::system::{Lags, State};
use crate::valve::{Device, Drive, Feed, lift};

/// Mass of vapour that follows the saturation pressure, share of vapour density a kelvin.
const SWING: f64 = 0.03;
/// Share of the coil's metal that the moving front warms or cools. The minutes that a valve takes to
/// settle come from this; without it the loop is several times too fast (prototype).
const QUENCH: f64 = 0.6;
/// The electronic valve's controller: share of travel for each kelvin. Engineering default, no
/// source.
const GAIN: f64 = 0.02;
/// The least it opens, share of travel.
const LEAST_OPENING: f64 = 0.05;
/// A loose bulb lags more: by its contact, down to this share of it. Default, no source.
const LOOSEST: f64 = 0.3;

/// What holds the needle at this moment.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Needle {
    /// Nothing: it stands where the forces or the controller put it.
    Free,
    /// Friction: it was there, and follows when pulled further than half the band.
    Rubbing { held: f64, half_band: f64 },
    /// A motor that stands there.
    Motor(f64),
}

/// The valve at one moment, and how fast everything changes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fed {
    pub(crate) rates: State,
    pub(crate) feed: Feed,
    /// Before friction and ends, lifts; and the lift.
    pub(crate) force: f64,
    pub(crate) lift: f64,
}

/// All there is to see at one moment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Seen {
    /// All but the valve.
    pub(crate) round: Round,
    pub(crate) fed: Fed,
}

impl Scene<'_> {
    /// The circuit with these unknowns, from nothing but them.
    pub(crate) fn look(&self, state: &State, lags: &Lags, needle: Needle) -> Seen {
        let round = self.round(state);
        let fed = self.fed(&round, state, lags, needle);
        Seen { round, fed }
    }

    /// The valve, and how fast everything changes, when the rest is known: `round` hangs on other
    /// unknowns than the bulb, the feed on its way and the drive.
    pub(crate) fn fed(&self, round: &Round, state: &State, lags: &Lags, needle: Needle) -> Fed {
        let Self { system, faults, .. } = self;
        let &[
            t_e,
            _,
            _,
            t_out,
            t_bulb,
            t_shell,
            density,
            feed1,
            feed2,
            drive,
        ] = state;
        let Round {
            low,
            high,
            level,
            compression,
            zones,
            ..
        } = round;

        // The valve between the two.
        let (bubble_pressure, liquid_density) = system.fluid.high.liquid(round.fed_liquid);
        let force = self.force_at(low, t_bulb, feed1, drive);
        let lift = self.lift(force, needle);
        let feed = system.valve.look(
            system.fluid,
            &Drive {
                head: high.p + round.foreign,
                coil: low.p,
                liquid: round.fed_liquid,
                liquid_density,
                bubble_pressure,
                quality: level.quality,
                latent: high.latent(),
                liquid_heat: high.c_liquid,
                density_share: density,
                area: system.valve.area_at(lift) * faults.valve_area,
                restriction: faults.liquid_restriction,
                screen: faults.screen,
            },
        );

        // Masses and heats, kg/s and K/s.
        let latent = low.latent();
        let arriving = system.valve.flow * feed2;
        let boiled = round.boiling_heat / latent;
        let metal = system.coil_metal / latent;
        let swing = SWING * low.rho_vapour() * (system.vessel.coil + system.vessel.suction_line);
        let quench = QUENCH * metal * (self.room().dry_bulb - t_e);
        let front_mass = level.coil_liquid + quench;
        let liquid_gain = (1.0 - round.inlet_quality) * arriving - boiled - round.carry;
        let vapour_gain =
            boiled + round.inlet_quality * feed.flow - (compression.flow - round.carry);
        // [-metal, front_mass; swing + metal, -quench] [dT_e; dfront] = [liquid_gain; vapour_gain]
        let whole = metal * quench - front_mass * (swing + metal);
        let d_t_e = (-quench * liquid_gain - front_mass * vapour_gain) / whole;
        let d_front = (-metal * vapour_gain - (swing + metal) * liquid_gain) / whole;
        let hot_metal = system.condenser_metal / high.latent()
            + SWING * high.rho_vapour() * system.vessel.condenser;
        let condensed = zones.condensing_heat / high.latent();
        let d_t_c = (compression.flow * zones.to_condense - level.quality * feed.flow - condensed)
            / hot_metal;
        let discharge = high.dew + zones.superheat;
        let bulb_aim =
            faults.bulb_contact * t_out + (1.0 - faults.bulb_contact) * self.room().dry_bulb;
        let controller_aim = match system.valve.device {
            Device::Eev(_) => self.controlled(low, t_bulb, drive),
            Device::Txv(_) | Device::Orifice => drive,
        };
        let rates = [
            d_t_e,
            d_front,
            d_t_c,
            (round.outlet_aim - t_out) / lags.tube,
            (bulb_aim - t_bulb) * faults.bulb_contact.max(LOOSEST) / lags.bulb,
            ((discharge + compression.inlet) / 2.0 - t_shell) / lags.shell,
            (feed.density_aim - density) / lags.line,
            (feed.flow / system.valve.flow - feed1) / lags.feed,
            (feed1 - feed2) / lags.feed,
            (controller_aim - drive) / lags.integral,
        ];
        Fed {
            rates,
            feed,
            force,
            lift,
        }
    }

    /// Where the needle would stand without friction or motor: lifts, or share of travel.
    pub(crate) fn force(&self, state: &State) -> f64 {
        let &[t_e, _, _, _, t_bulb, _, _, feed1, _, drive] = state;
        self.force_at(&self.system.fluid.low.at(t_e), t_bulb, feed1, drive)
    }

    fn force_at(&self, low: &Saturated, t_bulb: f64, flow_share: f64, drive: f64) -> f64 {
        let Self { system, faults, .. } = self;
        match system.valve.device {
            Device::Txv(balance) => balance.force(
                system.fluid,
                t_bulb,
                faults.bulb_charge_lost,
                low.p,
                flow_share,
                self.turns,
            ),
            Device::Eev(_) => self.controlled(low, t_bulb, drive),
            Device::Orifice => 1.0,
        }
    }

    /// Lift of the needle under this force.
    fn lift(&self, force: f64, needle: Needle) -> f64 {
        if let Some(lift) = self.faults.stuck_at {
            return lift;
        }
        match (self.system.valve.device, needle) {
            (Device::Orifice, _) => 1.0,
            (Device::Eev(_), Needle::Motor(position)) => position,
            (Device::Eev(_), _) => force,
            (Device::Txv(_), Needle::Rubbing { held, half_band }) => {
                lift(held.clamp(force - half_band, force + half_band))
            }
            (Device::Txv(_), _) => lift(force),
        }
    }

    /// Where the electronic valve's controller wants its motor, share of travel.
    fn controlled(&self, low: &Saturated, sensor: f64, drive: f64) -> f64 {
        let target = match self.system.valve.device {
            Device::Eev(target) => target,
            Device::Txv(_) | Device::Orifice => return drive,
        };
        (drive + GAIN * (sensor - low.dew - target)).clamp(LEAST_OPENING, 1.0)
    }
}
