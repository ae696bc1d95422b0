//! A visit to the stand-in plant: reading, turning, waiting; shared by the tests of the rules.

#![allow(clippy::unwrap_used, missing_docs, dead_code)] // each test binary uses a part

pub use crate::plan::plan;
use crate::plant::{Dice, Plant};
use coach::{Advice, Entry, Minutes, Plan, Quarters, Wait, Why, advise};
use quantity::TemperatureDifference as Difference;

pub const INTERVALS: [f64; 3] = [1.0 / 3.0, 1.0, 3.0];

pub fn f(difference: f64) -> Difference {
    Difference::from_f(difference)
}

pub fn reading(at: f64, superheat: f64) -> Entry {
    Entry::Reading {
        at: Minutes::new(at),
        superheat: f(superheat),
        swing: None,
        condensing: None,
    }
}

/// A plant, its log and a clock.
pub struct Visit {
    pub plan: Plan,
    pub plant: Plant,
    pub dice: Dice,
    pub log: Vec<Entry>,
    pub now: f64,
    pub every: f64,
}

impl Visit {
    pub fn new(start: f64, gain: f64, every: f64) -> Self {
        let plant = Plant::plain(start, gain);
        Self {
            plan: plan(),
            plant,
            dice: Dice::new(3),
            log: Vec::new(),
            now: 0.0,
            every,
        }
    }

    /// Reads now and on until so many minutes have passed.
    pub fn read(&mut self, minutes: f64) -> Advice {
        let until = self.now + minutes;
        loop {
            let superheat = self.plant.read(self.now, &mut self.dice);
            self.log.push(reading(self.now, superheat));
            if self.now + self.every > until + 1e-9 {
                return self.advice();
            }
            self.now += self.every;
        }
    }

    /// Reads until the verdict is no longer 'drifting'.
    pub fn settle(&mut self) -> Advice {
        for _ in 0..100 {
            let advice = self.read(0.0);
            if advice.wait != Some(Wait::Drifting) {
                return advice;
            }
            self.now += self.every;
        }
        panic!("still drifting: {:?}", self.advice());
    }

    pub fn turn(&mut self, quarters: i32) {
        let by = Quarters::new(quarters);
        self.plant.turn(self.now, by.turns());
        self.log.push(Entry::Turn {
            at: Minutes::new(self.now),
            by,
        });
        self.now += self.every;
    }

    pub fn advice(&self) -> Advice {
        advise(&self.plan, &self.log, Minutes::new(self.now))
    }
}

pub fn said(advice: &Advice, is: impl Fn(&Why) -> bool) -> bool {
    advice.why.iter().any(is)
}
