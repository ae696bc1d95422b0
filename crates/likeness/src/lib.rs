//! A system made like the one that was read, and what it would do if something were changed.
//!
//! Where to start: [`told`] puts together what a reading tells; [`fit`] finds the systems of
//! [`cycle`] that read like that, by what no one can see and its priors; [`Likeness::what_if`],
//! [`Likeness::after_charge`] and [`Likeness::will_it_fit`] ask them. [`answer`] does all of it with
//! text, for a background worker.
//!
//! One way only: nothing that comes out of here goes back into a finding.
//!
//! ```
//! use diagnosis::{Field, Metering, Reading, Setup};
//! use likeness::{Besides, fit, told};
//! use refrigerant::Refrigerant;
//! let setup = Setup::new(Refrigerant::R410A, Metering::AdjustableTxv);
//! let mut reading = Reading::of(&[
//!     (Field::SuctionPressure, 112.0),
//!     (Field::SuctionLine, 62.0),
//!     (Field::LiquidPressure, 365.0),
//!     (Field::LiquidLine, 99.0),
//! ]);
//! // Without the air outdoors there is nothing to fit.
//! assert!(told(&setup, &reading, &Besides::default()).is_err());
//! reading.set(Field::OpenAir, Some(91.0));
//! let told = told(&setup, &reading, &Besides::default())?;
//! let likeness = fit(&told)?;
//! assert!(!likeness.report().poor);
//! let (_, changes) = likeness.what_if();
//! let opened = changes.iter().find(|change| change.what == "stem-out-one-turn");
//! let shift = opened.and_then(|change| change.shift).expect("the model has an answer");
//! assert!(shift.superheat_f.high < 0.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod answer;
mod band;
mod error;
mod fit;
mod matrix;
mod outlook;
mod reach;
mod report;
mod sense;
mod told;
mod twin;
mod unknown;
mod what_if;

pub use answer::{Answer, Failure, Question, answer, answered, read};
pub use band::Band;
pub use error::FitError;
pub use fit::{Likeness, fit};
pub use outlook::{Outlook, Shift};
pub use reach::{Reach, Weathered, WillItFit};
pub use report::{Fitted, Miss, Report};
pub use told::{Answered, Besides, Lacking, Measured, Told, told};
pub use unknown::Unknown;
pub use what_if::{Forecast, NoOunces, WhatIf};
