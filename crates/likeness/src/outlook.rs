//! What would be read, with bands: the fitted systems and their neighbours along each axis of what is
//! not known, all put through the same change.

use cycle::{Point, Rested};
use serde::{Deserialize, Serialize};

use crate::band::{Band, Part};
use crate::fit::{Likeness, Mode};
use crate::twin::{Change, NoPoint, Twin};

/// Of a change, this share more may come or less, and this much in any case, as standard deviations:
/// the unit is not the model. Temperatures, °F; pressures, psi; capacity, share. Engineering defaults,
/// no source.
const IN_DEGREES: Unit = Unit {
    share: 0.12,
    least: 0.1,
};
const IN_PSI: Unit = Unit {
    share: 0.05,
    least: 0.5,
};
const IN_CAPACITY: Unit = Unit {
    share: 0.12,
    least: 0.003,
};

/// How far a change may be from the model's.
#[derive(Clone, Copy, Debug)]
struct Unit {
    share: f64,
    least: f64,
}

impl Unit {
    fn sd(self, change: f64) -> f64 {
        libm::hypot(self.share * change, self.least)
    }
}

/// What would be read.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Outlook {
    /// Superheat at the measuring point, °F.
    pub superheat_f: Band,
    /// Subcooling, °F.
    pub subcooling_f: Band,
    /// Suction pressure at the measuring point, psig.
    pub suction_psig: Band,
    /// Pressure at the liquid port, psig.
    pub head_psig: Band,
    /// Capacity over that of now.
    pub capacity_share: Band,
    /// Capacity, Btu/h; where the size was told.
    pub capacity_btu_h: Option<Band>,
}

/// What a change brings: then less now.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Shift {
    /// °F.
    pub superheat_f: Band,
    /// °F.
    pub subcooling_f: Band,
    /// psi.
    pub suction_psi: Band,
    /// psi.
    pub head_psi: Band,
}

/// A system and its neighbours: a step of one standard deviation to both sides of each axis.
#[derive(Clone, Debug)]
pub(crate) struct Around {
    weight: f64,
    centre: Rested,
    sides: Vec<[Option<Rested>; 2]>,
}

impl Around {
    fn of(
        twin: &Twin,
        mode: &Mode,
        change: &Change,
        near: Option<&Rested>,
    ) -> Result<Self, NoPoint> {
        let centre = twin.point(&mode.z, change, Some(near.unwrap_or(&mode.rested)))?;
        let side = |axis: &[f64], sign: f64| {
            let moved = mode.z.iter().zip(axis).map(|(z, by)| z + sign * by);
            twin.point(&moved.collect::<Vec<_>>(), change, Some(&centre))
                .ok()
        };
        let sides = mode
            .axes
            .iter()
            .map(|axis| [side(axis, 1.0), side(axis, -1.0)])
            .collect();
        Ok(Self {
            weight: mode.weight,
            centre,
            sides,
        })
    }

    fn point(&self) -> &Point {
        &self.centre.point
    }

    /// Middle and standard deviation of a number made of two operating points of the same system:
    /// half of what each axis moves it from one side to the other, independent of the other axes.
    fn moments(&self, other: &Self, read: impl Fn(&Point, &Point) -> f64) -> (f64, f64) {
        let middle = read(self.point(), other.point());
        let sides = self.sides.iter().zip(&other.sides);
        let variance: f64 = sides
            .map(|(one, other)| {
                let at = |side: usize| {
                    let (one, other) = (one[side].as_ref()?, other[side].as_ref()?);
                    Some(read(&one.point, &other.point))
                };
                let half = match (at(0), at(1)) {
                    (Some(up), Some(down)) => 0.5 * (up - down),
                    (Some(only), None) | (None, Some(only)) => only - middle,
                    (None, None) => 0.0,
                };
                half * half
            })
            .sum();
        (middle, variance.sqrt())
    }
}

/// The same change put through every fitted system; those without an answer are left out.
#[derive(Clone, Debug)]
pub(crate) struct Spread {
    arounds: Vec<Option<Around>>,
    why: Option<NoPoint>,
}

impl Likeness {
    /// # Errors
    /// Why the model has no answer for the most probable part of the fitted systems.
    pub(crate) fn spread(&self, change: &Change, from: Option<&Spread>) -> Result<Spread, NoPoint> {
        let mut why = None;
        let arounds: Vec<Option<Around>> = self
            .modes
            .iter()
            .enumerate()
            .map(|(place, mode)| {
                let near = from.and_then(|from| from.arounds[place].as_ref());
                let near = near.map(|near| &near.centre);
                match Around::of(&self.twin, mode, change, near) {
                    Ok(around) => Some(around),
                    Err(reason) => {
                        why.get_or_insert(reason);
                        None
                    }
                }
            })
            .collect();
        let answered: f64 = arounds.iter().flatten().map(|around| around.weight).sum();
        match why {
            Some(why) if answered < 0.5 => Err(why),
            _ => Ok(Spread { arounds, why }),
        }
    }
}

impl Spread {
    /// Why a part of the fitted systems has no answer.
    pub(crate) fn why(&self) -> Option<NoPoint> {
        self.why
    }

    /// The operating point of the most probable system that has one.
    pub(crate) fn best(&self) -> Option<&Point> {
        self.arounds.iter().flatten().next().map(Around::point)
    }

    /// Band of one number of the operating points.
    pub(crate) fn band(&self, read: impl Fn(&Point) -> f64) -> Band {
        self.against(None, |_| 0.0, |point, _| read(point))
    }

    /// Band of how one number differs from that of `now`.
    fn shift(&self, now: &Self, unit: Unit, read: impl Fn(&Point) -> f64) -> Band {
        self.against(
            Some(now),
            |shift| unit.sd(shift),
            |then, now| read(then) - read(now),
        )
    }

    /// Band of a number made of two operating points of the same system; of one, twice, without
    /// `other`. `unit`: standard deviation that the unit adds to such a number.
    pub(crate) fn against(
        &self,
        other: Option<&Self>,
        unit: impl Fn(f64) -> f64,
        read: impl Fn(&Point, &Point) -> f64,
    ) -> Band {
        let parts = self.parts(other.unwrap_or(self), |one, other| {
            let (middle, sd) = one.moments(other, &read);
            (middle, libm::hypot(sd, unit(middle)))
        });
        Band::of(&parts)
    }

    /// Band of what would be read then. Known twice: by the fitted systems alone, and by what is read
    /// now, right to `noise` (a standard deviation), with the change by the systems. The unit's own
    /// share is in what is read, so that the second way is mostly the better one; at an end, such as a
    /// coil that floods, the first. The better one counts.
    fn band_then(&self, now: &Self, noise: f64, unit: Unit, read: impl Fn(&Point) -> f64) -> Band {
        let parts = self.parts(now, |then, now| {
            let (middle, alone) = then.moments(then, |point, _| read(point));
            let (shift, of_shift) = then.moments(now, |then, now| read(then) - read(now));
            let unit = unit.sd(shift);
            let (alone, of_shift) = (libm::hypot(alone, unit), libm::hypot(of_shift, unit));
            (middle, alone.min(libm::hypot(of_shift, noise)))
        });
        Band::of(&parts)
    }

    /// Middle and standard deviation by each fitted system that has both answers.
    fn parts(&self, other: &Self, of: impl Fn(&Around, &Around) -> (f64, f64)) -> Vec<Part> {
        let pairs = self.arounds.iter().zip(&other.arounds);
        let mut parts: Vec<Part> = pairs
            .filter_map(|(one, other)| {
                let (one, other) = (one.as_ref()?, other.as_ref()?);
                let (middle, sd) = of(one, other);
                Some(Part {
                    weight: one.weight,
                    middle,
                    sd,
                })
            })
            .collect();
        let sum: f64 = parts.iter().map(|part| part.weight).sum();
        for part in &mut parts {
            part.weight /= sum;
        }
        parts
    }
}

impl Likeness {
    /// What would be read of these systems; `now` is what is read of them as they are.
    pub(crate) fn outlook(&self, then: &Spread, now: &Spread) -> Outlook {
        let twin = &self.twin;
        let shown = |pressure| twin.told.shown_psig(pressure);
        let noise = twin.noise();
        Outlook {
            superheat_f: then
                .band_then(now, noise.superheat_f, IN_DEGREES, |point| {
                    twin.superheat_f(point)
                })
                .at_least(0.0),
            subcooling_f: then.band_then(now, noise.subcooling_f, IN_DEGREES, |point| {
                point.subcooling().f()
            }),
            suction_psig: then.band_then(now, noise.suction_psi, IN_PSI, |point| {
                shown(twin.suction(point))
            }),
            head_psig: then.band_then(now, noise.head_psi, IN_PSI, |point| {
                shown(point.liquid_port.pressure)
            }),
            capacity_share: then.against(
                Some(now),
                |share| IN_CAPACITY.sd(share - 1.0),
                |then, now| then.capacity_w / now.capacity_w,
            ),
            capacity_btu_h: twin
                .told
                .nominal_tons
                .map(|_| then.band(|point| point.capacity_btu_h())),
        }
    }

    pub(crate) fn shift(&self, then: &Spread, now: &Spread) -> Shift {
        let twin = &self.twin;
        let shown = |pressure| twin.told.shown_psig(pressure);
        Shift {
            superheat_f: then.shift(now, IN_DEGREES, |point| twin.superheat_f(point)),
            subcooling_f: then.shift(now, IN_DEGREES, |point| point.subcooling().f()),
            suction_psi: then.shift(now, IN_PSI, |point| shown(twin.suction(point))),
            head_psi: then.shift(now, IN_PSI, |point| shown(point.liquid_port.pressure)),
        }
    }
}
