//! Degrees of superheat for one clockwise turn, learned from this valve's own responses.

/// What valves in general do: °F per clockwise turn, and one standard deviation. Covers the 0.5
/// (US Army manual) to 3-4 °F (a valve maker's sheet) of the literature; prototype-tested.
const USUAL: (f64, f64) = (2.2, 1.1);
/// The slope drifts along the range: share of the gain for each turn taken. The prototype had 0.12,
/// by which predictions came half again as near as they were said to; see `tests/foretold.rs`.
const DRIFT_PER_TURN: f64 = 0.08;
/// What a response is never better than, °F per turn: friction and a bent slope. Prototype-tested.
const RESPONSE_FLOOR: f64 = 0.3;
/// A response farther from what was foretold than so many standard deviations says that what was
/// known was too sure: it is made that unsure before it is weighed. Else the usual gain would hold
/// back that of a valve at the end of the range, and the next turn would go too far. Judgement.
const SURPRISE: f64 = 2.0;
/// A change of charge, airflow or bulb changes what a turn does: share of the gain. Default, no
/// source.
const DISTURBED: f64 = 0.3;
/// No valve is taken to be outside this, °F per turn.
const LIMITS: (f64, f64) = (0.2, 8.0);

/// The gain as a normal distribution, °F per clockwise turn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gain {
    pub(crate) mean: f64,
    variance: f64,
    pub(crate) learned: bool,
}

impl Gain {
    /// Before anything is known of this valve.
    pub(crate) fn usual() -> Self {
        Self {
            mean: USUAL.0,
            variance: USUAL.1 * USUAL.1,
            learned: false,
        }
    }

    /// Its standard deviation as it stands.
    pub(crate) fn sd(&self) -> f64 {
        self.variance.sqrt()
    }

    /// Its standard deviation for a turn of this size, the drift of the slope included.
    pub(crate) fn sd_over(&self, turns: f64) -> f64 {
        self.variance_over(turns).sqrt()
    }

    fn variance_over(&self, turns: f64) -> f64 {
        let drift = DRIFT_PER_TURN * self.mean * turns;
        self.variance + drift * drift
    }

    /// Learns from one response: a scalar Kalman step.
    ///
    /// - `turns`: clockwise positive, never zero.
    /// - `moved`: change of the settled superheat, °F, with its variance.
    pub(crate) fn learn(&mut self, turns: f64, moved: f64, moved_variance: f64) {
        let noise = moved_variance / (turns * turns) + RESPONSE_FLOOR * RESPONSE_FLOOR;
        let miss = moved / turns - self.mean;
        let least = miss * miss / (SURPRISE * SURPRISE) - noise;
        let before = self.variance_over(turns).max(least);
        let trust = before / (before + noise);
        self.mean = (self.mean + trust * miss).clamp(LIMITS.0, LIMITS.1);
        self.variance = (1.0 - trust) * before;
        self.learned = true;
    }

    /// Something else about the system was changed.
    pub(crate) fn widen(&mut self) {
        let change = DISTURBED * self.mean;
        self.variance += change * change;
    }
}

#[cfg(test)]
mod tests {
    use super::Gain;

    /// MODEL example, measured on the prototype: from 2.2 +- 1.1, 2.5 turns opened and -7 °F seen
    /// (each settled value within 0.5 °F) give 2.7 +- 0.4.
    #[test]
    fn one_good_response_narrows_the_gain_as_the_prototype_did() {
        let mut gain = Gain::usual();
        gain.learn(-2.5, -7.0, 2.0 * 0.5 * 0.5);
        assert!((gain.mean - 2.7).abs() < 0.05, "{gain:?}");
        assert!((gain.sd() - 0.4).abs() < 0.05, "{gain:?}");
    }

    /// A valve that does 7 °F a turn: one clean turn shows it, and the usual gain does not hold that
    /// back until the next turn goes too far.
    #[test]
    fn a_response_that_surprises_is_believed() {
        let mut gain = Gain::usual();
        gain.learn(-1.0, -7.0, 0.6);
        assert!(
            gain.mean > 6.0 && gain.mean + 2.0 * gain.sd() > 7.0,
            "{gain:?}"
        );
    }

    #[test]
    fn a_change_elsewhere_keeps_the_gain_and_widens_it() {
        let mut gain = Gain::usual();
        gain.learn(-1.0, -3.0, 0.5);
        let (mean, sd) = (gain.mean, gain.sd());
        gain.widen();
        assert!(gain.mean == mean && gain.sd() > 1.2 * sd && gain.learned);
    }
}
