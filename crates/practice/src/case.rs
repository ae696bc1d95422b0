//! One case: what is given, and everything hidden behind it.

use crate::difficulty::Difficulty;
use crate::draw::{self, Drawn};
use crate::keyed::Keyed;
use crate::lesson::{self, Lesson};
use crate::tools::Kit;
use crate::trouble::{Trouble, Wrong};
use core::fmt;
use cycle::{Point, Run, System, Weather};
use diagnosis::{Cause, Metering};
use quantity::Temperature;
use refrigerant::Refrigerant;
use serde::Serialize;

/// The sizes that can be asked for, tons of 12 000 Btu/h.
pub const TONS: [f64; 4] = [2.0, 3.0, 5.0, 7.5];
/// The refrigerants that can be asked for.
pub const REFRIGERANTS: [Refrigerant; 4] = [
    Refrigerant::R22,
    Refrigerant::R410A,
    Refrigerant::R32,
    Refrigerant::R454B,
];

/// What is asked of a case; the rest is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Filter {
    /// Nominal capacity, one of [`TONS`].
    pub tons: Option<f64>,
    /// What feeds the coil.
    pub metering: Option<Metering>,
    /// What the plate says is in it, one of [`REFRIGERANTS`].
    pub refrigerant: Option<Refrigerant>,
    /// How hard.
    pub difficulty: Difficulty,
    /// A lesson of the house instead of a drawn case, by its key; the rest does not count then.
    pub lesson: Option<String>,
}

/// What a technician is given before anything is looked at: plate, targets, and what the customer
/// says. Demo, invented.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Nameplate {
    /// Where.
    pub place: String,
    /// What the customer says.
    pub complaint: String,
    /// What the plate says is in it.
    #[serde(serialize_with = "crate::keyed::serialize")]
    pub refrigerant: Refrigerant,
    /// Nominal capacity, tons of 12 000 Btu/h.
    pub nominal_tons: f64,
    /// What feeds the coil.
    #[serde(serialize_with = "crate::keyed::serialize")]
    pub metering: Metering,
    /// Superheat at the bulb by the maker; for an orifice by the maker's chart at this weather.
    pub superheat_low_f: f64,
    /// Upper end of it.
    pub superheat_high_f: f64,
    /// Subcooling at the liquid port by the plate; none for an orifice.
    pub subcooling_low_f: Option<f64>,
    /// Upper end of it.
    pub subcooling_high_f: Option<f64>,
    /// Factory charge with line allowance, ounces.
    pub plate_charge_oz: f64,
    /// Superheat never under, °F.
    pub minimum_superheat_f: f64,
    /// What the tools in the bag may be wrong by.
    pub kit: Kit,
}

/// A case. What is public may be shown; the rest is hidden until the debrief, and a case cannot be
/// serialised: its address is enough to make it again.
///
/// ```
/// fn shown<T: serde::Serialize>(_: T) {}
/// # let case = practice::Case::parse("bench=1").expect("a case");
/// shown(practice::Session::begin(case).view());
/// ```
/// ```compile_fail
/// fn shown<T: serde::Serialize>(_: T) {}
/// # let case = practice::Case::parse("bench=1").expect("a case");
/// shown(case);
/// ```
#[derive(Clone, Debug)]
pub struct Case {
    pub(crate) seed: u64,
    pub(crate) origin: Origin,
    /// How hard it is.
    pub difficulty: Difficulty,
    /// What is given.
    pub nameplate: Nameplate,
    pub(crate) troubles: Vec<Trouble>,
    /// What must be called, a slot for each trouble; any of a slot will do.
    pub(crate) answers: Vec<Vec<Cause>>,
    pub(crate) wrong: Wrong,
    pub(crate) weather: Weather,
    pub(crate) room_wet: Temperature,
    /// The plant as found, at rest.
    pub(crate) start: Run,
    /// The same plant with nothing wrong, in usual weather, at rest.
    pub(crate) sound: Point,
    /// The plant as its plate says, for what is weighed in anew.
    pub(crate) named: System,
    /// Compressor power at the design point, W.
    pub(crate) design_power_w: f64,
}

/// Where a case comes from.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Origin {
    Drawn(Filter),
    Lesson(Box<Lesson>),
}

/// Why there is no such case.
#[derive(Clone, Debug, PartialEq)]
pub enum CaseError {
    /// The address does not begin with `bench=`.
    NotAnAddress {
        /// What was given.
        given: String,
    },
    /// The seed is not a whole number from 0.
    Seed {
        /// What was given.
        given: String,
    },
    /// A part has no `=`, or its name is not known or comes twice.
    Part {
        /// What was given.
        given: String,
    },
    /// A part's value is not one of those there are.
    Value {
        /// Which part.
        part: &'static str,
        /// What was given.
        given: String,
        /// What can be given.
        allowed: String,
    },
    /// No draw of this kind made a plant that runs and shows its trouble.
    NothingDrawn,
    /// A lesson's case does not come to rest, or cannot be built.
    Unworkable {
        /// Which field of the lesson is to blame, as far as can be told.
        field: &'static str,
        /// What the model says.
        says: String,
    },
}

impl fmt::Display for CaseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotAnAddress { given } => {
                write!(f, "{given:?} is no case: it should begin with bench=.")
            }
            Self::Seed { given } => write!(
                f,
                "The case number {given:?} is no whole number from 0 to {}.",
                u64::MAX
            ),
            Self::Part { given } => write!(
                f,
                "{given:?} is no part of a case, or comes twice. Parts: tons, metering, \
                 refrigerant, difficulty, lesson, each as name=value with ; between."
            ),
            Self::Value {
                part,
                given,
                allowed,
            } => write!(f, "{part} {given:?} is not one of {allowed}."),
            Self::NothingDrawn => write!(
                f,
                "No plant of this kind runs and shows its trouble. Try another case number."
            ),
            Self::Unworkable { field, says } => write!(f, "{field}: {says}"),
        }
    }
}

impl core::error::Error for CaseError {}

const NAME: &str = "bench=";

impl Case {
    /// Draws the case of this number. The same number and filter give the same case everywhere.
    ///
    /// A draw is thrown away, and the next one of the same number taken, until the plant comes to
    /// rest inside the model both sound and as found, and each trouble by itself moves at least one
    /// reading from what the sound plant shows: superheat or subcooling by 4 °F, condensing by 5 °F,
    /// evaporating by 4 °F, or capacity down by 7 %. Gas and another refrigerant must also put the
    /// standing pressure off the chart by 12 psi.
    ///
    /// # Errors
    /// [`CaseError::NothingDrawn`] after 400 draws; [`CaseError::Value`] for an unknown lesson or a
    /// size or refrigerant that is not offered.
    ///
    /// # Example
    /// ```
    /// use practice::{Case, Filter};
    /// let case = Case::draw(41, &Filter::default())?;
    /// assert_eq!(case.address(), "bench=41");
    /// assert_eq!(Case::parse("bench=41")?.nameplate, case.nameplate);
    /// # Ok::<(), practice::CaseError>(())
    /// ```
    pub fn draw(seed: u64, filter: &Filter) -> Result<Self, CaseError> {
        if let Some(key) = &filter.lesson {
            let lesson = lesson::of_key(key).ok_or_else(|| CaseError::Value {
                part: "lesson",
                given: key.clone(),
                allowed: lesson::keys(),
            })?;
            return Self::of_lesson(lesson);
        }
        check_offered(filter)?;
        let drawn = draw::draw(seed, filter).ok_or(CaseError::NothingDrawn)?;
        Ok(Self::of(
            drawn,
            seed,
            Origin::Drawn(filter.clone()),
            filter.difficulty,
        ))
    }

    /// The case of a lesson, the house's own or a trainer's.
    ///
    /// # Errors
    /// [`CaseError::Unworkable`] when its plant cannot be built or does not come to rest.
    pub fn of_lesson(lesson: &Lesson) -> Result<Self, CaseError> {
        let drawn = draw::of_lesson(&lesson.case)?;
        let origin = Origin::Lesson(Box::new(lesson.clone()));
        Ok(Self::of(
            drawn,
            lesson.case.seed,
            origin,
            lesson.case.difficulty,
        ))
    }

    fn of(drawn: Drawn, seed: u64, origin: Origin, difficulty: Difficulty) -> Self {
        let Drawn {
            nameplate,
            troubles,
            answers,
            wrong,
            weather,
            start,
            sound,
            named,
            design_power_w,
        } = drawn;
        Self {
            seed,
            origin,
            difficulty,
            nameplate,
            troubles,
            answers,
            wrong,
            room_wet: weather.indoor().wet_bulb(),
            weather,
            start,
            sound,
            named,
            design_power_w,
        }
    }

    /// Its address: `bench=`, its number, and what was asked of it. A lesson is named by its key; a
    /// trainer's own lesson is found only where its file is.
    pub fn address(&self) -> String {
        let filter = match &self.origin {
            Origin::Lesson(lesson) => return lesson.address(),
            Origin::Drawn(filter) => filter,
        };
        let mut text = format!("{NAME}{}", self.seed);
        let mut part = |name: &str, value: Option<String>| {
            if let Some(value) = value {
                text.push_str(&format!(";{name}={value}"));
            }
        };
        part("tons", filter.tons.map(|tons| tons.to_string()));
        part("metering", filter.metering.map(|it| it.key().to_owned()));
        part(
            "refrigerant",
            filter.refrigerant.map(|it| it.name().to_owned()),
        );
        let usual = Difficulty::default();
        part(
            "difficulty",
            (filter.difficulty != usual).then(|| filter.difficulty.key().to_owned()),
        );
        text
    }

    /// The case of an address; a `#` before it is allowed.
    ///
    /// # Errors
    /// [`CaseError`] says which part is wrong and what can stand there.
    pub fn parse(address: &str) -> Result<Self, CaseError> {
        let (seed, filter) = parse(address)?;
        Self::draw(seed, &filter)
    }

    /// Its number.
    pub const fn seed(&self) -> u64 {
        self.seed
    }

    /// The lesson it belongs to, if any.
    pub fn lesson(&self) -> Option<&Lesson> {
        match &self.origin {
            Origin::Lesson(lesson) => Some(lesson),
            Origin::Drawn(_) => None,
        }
    }
}

fn check_offered(filter: &Filter) -> Result<(), CaseError> {
    let tons = filter.tons.filter(|tons| !TONS.contains(tons));
    let refrigerant = filter.refrigerant.filter(|it| !REFRIGERANTS.contains(it));
    let wrong = |part, given: String, allowed: String| CaseError::Value {
        part,
        given,
        allowed,
    };
    match (tons, refrigerant) {
        (Some(tons), _) => Err(wrong("tons", tons.to_string(), tons_offered())),
        (_, Some(other)) => Err(wrong(
            "refrigerant",
            other.name().to_owned(),
            refrigerants_offered(),
        )),
        _ => Ok(()),
    }
}

fn tons_offered() -> String {
    TONS.map(|tons| tons.to_string()).join(", ")
}

fn refrigerants_offered() -> String {
    REFRIGERANTS.map(Refrigerant::name).join(", ")
}

/// The address of the next number with the same parts.
pub(crate) fn next_number(address: &str) -> Option<String> {
    let parts = address.strip_prefix(NAME)?;
    let digits = parts.split(';').next()?;
    let rest = parts.get(digits.len()..)?;
    let next = digits.parse::<u64>().ok()?.checked_add(1)?;
    Some(format!("{NAME}{next}{rest}"))
}

/// The number and the filter of an address, without drawing.
fn parse(address: &str) -> Result<(u64, Filter), CaseError> {
    let text = address.trim();
    let text = text.strip_prefix('#').unwrap_or(text);
    let parts = text
        .strip_prefix(NAME)
        .ok_or_else(|| CaseError::NotAnAddress {
            given: address.to_owned(),
        })?;
    let mut parts = parts.split(';');
    let number = parts.next().unwrap_or_default();
    let seed = number.parse().map_err(|_| CaseError::Seed {
        given: number.to_owned(),
    })?;
    let mut filter = Filter::default();
    let mut seen: Vec<&str> = Vec::new();
    for part in parts {
        let unknown = || CaseError::Part {
            given: part.to_owned(),
        };
        let (name, value) = part.split_once('=').ok_or_else(unknown)?;
        if seen.contains(&name) {
            return Err(unknown());
        }
        seen.push(name);
        match name {
            "tons" => {
                let tons = TONS.into_iter().find(|tons| tons.to_string() == value);
                filter.tons = Some(tons.ok_or_else(|| CaseError::Value {
                    part: "tons",
                    given: value.to_owned(),
                    allowed: tons_offered(),
                })?);
            }
            "metering" => filter.metering = Some(one_of("metering", value)?),
            "refrigerant" => {
                let named = one_of("refrigerant", value)?;
                filter.refrigerant = Some(named);
            }
            "difficulty" => filter.difficulty = one_of("difficulty", value)?,
            "lesson" => filter.lesson = Some(value.to_owned()),
            _ => return Err(unknown()),
        }
    }
    check_offered(&filter)?;
    Ok((seed, filter))
}

fn one_of<T: Keyed>(part: &'static str, value: &str) -> Result<T, CaseError> {
    T::find(value).ok_or_else(|| CaseError::Value {
        part,
        given: value.to_owned(),
        allowed: T::names(),
    })
}
