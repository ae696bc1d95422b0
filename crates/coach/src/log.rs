//! The log in order, cut where the stem or the system was changed.

use crate::{End, Entry, Minutes, Plan, Quarters};

/// Beyond this, °F, a superheat or a condensing temperature is a slip of the finger.
const ABSURD_F: f64 = 300.0;

/// More quarter turns than this at once, a hundred turns, is a slip of the finger too.
const ABSURD_QUARTERS: u32 = 400;

/// One reading, in minutes since its segment began and °F.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Point {
    /// Minutes since the segment began.
    pub(crate) t: f64,
    pub(crate) superheat: f64,
    /// The needle's lowest and highest superheat.
    pub(crate) needle: Option<(f64, f64)>,
    /// Condensing temperature, °F.
    pub(crate) condensing: Option<f64>,
}

/// What began a segment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Began {
    AsFound,
    Turned,
    Disturbed,
}

/// The time between two changes.
#[derive(Clone, Debug)]
pub(crate) struct Segment {
    pub(crate) began: Began,
    /// Minutes since the log began.
    pub(crate) start: f64,
    /// Stem from as found, turns.
    pub(crate) position: f64,
    /// The last turn that led here; zero where none did.
    pub(crate) turned: f64,
    pub(crate) points: Vec<Point>,
    /// The end that the stem met here.
    pub(crate) met: Option<End>,
}

/// The whole log, understood.
#[derive(Clone, Debug)]
pub(crate) struct Log {
    pub(crate) earlier: Vec<Segment>,
    pub(crate) last: Segment,
    pub(crate) position: Quarters,
    pub(crate) opening_end: Option<Quarters>,
    pub(crate) closing_end: Option<Quarters>,
}

impl Log {
    /// Sorts, drops what cannot be counted (see [`Entry`]), and cuts.
    pub(crate) fn new(plan: &Plan, entries: &[Entry], now: Minutes) -> Self {
        let mut entries: Vec<&Entry> = entries
            .iter()
            .filter(|entry| counts(entry) && entry.at() <= now)
            .collect();
        entries.sort_by(|a, b| a.at().get().total_cmp(&b.at().get()));
        let start = entries.first().map_or(0.0, |entry| entry.at().get());
        let mut log = Self {
            earlier: Vec::new(),
            last: Segment::new(Began::AsFound, start, Quarters::default()),
            position: Quarters::default(),
            opening_end: plan.opening_end,
            closing_end: plan.closing_end,
        };
        for entry in entries {
            log.add(entry);
        }
        log
    }

    fn add(&mut self, entry: &Entry) {
        let at = entry.at().get();
        match *entry {
            Entry::Reading {
                superheat,
                swing,
                condensing,
                ..
            } => {
                let t = at - self.last.start;
                self.last.points.retain(|point| point.t != t);
                self.last.points.push(Point {
                    t,
                    superheat: superheat.f(),
                    needle: swing
                        .map(|(a, b)| (a.f(), b.f()))
                        .filter(|(a, b)| a.abs() <= ABSURD_F && b.abs() <= ABSURD_F)
                        .map(|(a, b)| (a.min(b), a.max(b))),
                    condensing: condensing.map(|t| t.f()).filter(|f| f.abs() <= ABSURD_F),
                });
            }
            Entry::Turn { by, .. } => {
                self.position = self.position.plus(by);
                self.begin(Began::Turned, at);
                self.last.turned = by.turns();
            }
            Entry::Disturbed { .. } => self.begin(Began::Disturbed, at),
            Entry::StemEnd { end, .. } => {
                self.last.met = Some(end);
                match end {
                    End::Opening => self.opening_end = Some(self.position),
                    End::Closing => self.closing_end = Some(self.position),
                }
            }
        }
    }

    fn begin(&mut self, began: Began, at: f64) {
        let next = Segment::new(began, at, self.position);
        self.earlier.push(core::mem::replace(&mut self.last, next));
    }

    /// The newest reading of all, and whether it was taken since the last change.
    pub(crate) fn newest(&self) -> Option<(Point, bool)> {
        let before = || {
            self.earlier
                .iter()
                .rev()
                .find_map(|segment| segment.points.last())
        };
        match self.last.points.last() {
            Some(point) => Some((*point, true)),
            None => before().map(|point| (*point, false)),
        }
    }

    /// The newest condensing temperature, °F.
    pub(crate) fn condensing(&self) -> Option<f64> {
        let segments = core::iter::once(&self.last).chain(self.earlier.iter().rev());
        segments
            .flat_map(|segment| segment.points.iter().rev())
            .find_map(|point| point.condensing)
    }
}

impl Segment {
    fn new(began: Began, start: f64, position: Quarters) -> Self {
        Self {
            began,
            start,
            position: position.turns(),
            turned: 0.0,
            points: Vec::new(),
            met: None,
        }
    }
}

fn counts(entry: &Entry) -> bool {
    entry.at().get().is_finite()
        && match entry {
            // Not-a-number compares false, and so is dropped too.
            Entry::Reading { superheat, .. } => superheat.f().abs() <= ABSURD_F,
            Entry::Turn { by, .. } => (1..=ABSURD_QUARTERS).contains(&by.get().unsigned_abs()),
            Entry::Disturbed { .. } | Entry::StemEnd { .. } => true,
        }
}
