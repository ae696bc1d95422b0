//! Whether a plant at rest stays there: its slowest to die of all swings.

use crate::eigen::eigenvalues;
use crate::error::NoSolution;
use crate::faults::Faults;
use crate::round::Scene;
use crate::steady::{jacobian, rest};
use crate::system::{Lags, System};
use crate::weather::Weather;

/// How a small push away from rest swings out, by the pair of eigenvalues that is damped least.
///
/// Friction is not in it: a sticking needle can hunt where this says it calms down, and can hold
/// still where a small push would swing up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stability {
    /// 1: no swing at all; 0: swings for ever; below 0: grows until the needle meets its ends, the
    /// valve hunts.
    pub damping_ratio: f64,
    /// Time of one swing, s.
    pub period_s: f64,
}

impl Stability {
    /// It swings up by itself.
    pub fn hunts(&self) -> bool {
        self.damping_ratio < 0.0
    }
}

impl System {
    /// Damping and period of the swing that is damped least, at rest with these turns of the stem and
    /// the lags of [`crate::Traits`]; `None` when nothing swings.
    ///
    /// # Errors
    /// As [`System::steady`].
    pub fn stability(
        &self,
        weather: &Weather,
        faults: &Faults,
        turns: f64,
    ) -> Result<Option<Stability>, NoSolution> {
        let scene = Scene::new(self, weather, faults, turns)?;
        let rest = rest(&scene)?;
        let matrix = jacobian(&scene, &rest.state, &Lags::of(self.traits()));
        let all = eigenvalues(&matrix).into_iter().flatten();
        Ok(all
            .filter(|value| value.im > 0.0)
            .map(|value| Stability {
                damping_ratio: -value.re / value.norm(),
                period_s: core::f64::consts::TAU / value.im,
            })
            .min_by(|a, b| a.damping_ratio.total_cmp(&b.damping_ratio)))
    }
}
