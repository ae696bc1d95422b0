//! The record that is left behind: as found, as left, every turn and wait, what was seen and what
//! was not. Blanks are written as "not measured".

use crate::choice::{GaugeFace, PlateState};
use crate::draft::Draft;
use crate::job::Job;
use crate::log::What;
use crate::look_first::Item;
use crate::measure::Measure;
use crate::name::Name;
use crate::plate::PlateField;
use crate::typed::EntryFault;
use crate::words::{signed_mass, turns, words_after};
use belief::{Judged, in_words};
use diagnosis::{Assessment, Banded, BulbTest, Derived, Field, Target};
use quantity::{TemperatureDifference, Units};
use refrigerant::SafetyClass;
use std::collections::BTreeSet;

/// A line of the record: what, and what it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What.
    pub what: String,
    /// What it was; two columns in the readings: as found, as left.
    pub was: Vec<String>,
}

/// A part of the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its heading.
    pub heading: &'static str,
    /// Its lines.
    pub lines: Vec<Line>,
}

/// The whole record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// What to call it.
    pub title: String,
    /// Invented, to look at.
    pub demo: bool,
    /// Its parts, in order.
    pub sections: Vec<Section>,
}

pub(crate) const NOT_MEASURED: &str = "not measured";

fn line(what: impl Into<String>, was: impl Into<String>) -> Line {
    Line {
        what: what.into(),
        was: vec![was.into()],
    }
}

/// Writes the record of a job.
///
/// - `now_ms`: when it is written.
/// - `clock`: writes a time for a person, given milliseconds since 1970, UTC.
pub fn record(job: &Job, units: Units, now_ms: i64, clock: &dyn Fn(i64) -> String) -> Record {
    let before = job
        .readings()
        .next()
        .map(|(at, draft)| (at, draft, job.assess(draft)));
    let after = job
        .readings()
        .next_back()
        .map(|(at, draft)| (at, draft, job.assess(draft)));
    Record {
        title: job.title(),
        demo: job.demo,
        sections: vec![
            Section {
                heading: "Job",
                lines: about(job, units, now_ms, clock),
            },
            Section {
                heading: "Targets and tools",
                lines: targets(job, units),
            },
            Section {
                heading: "Look first",
                lines: checks(job, clock),
            },
            Section {
                heading: "Readings: as found, as left",
                lines: readings(before.as_ref(), after.as_ref(), units, clock),
            },
            Section {
                heading: "Turns, waits and weights",
                lines: done(job, units, clock),
            },
            Section {
                heading: "Finding",
                lines: finding(after.as_ref().and_then(|(_, draft, _)| job.judge(draft))),
            },
            Section {
                heading: "Proof",
                lines: proof(job, now_ms, clock),
            },
        ],
    }
}

type Read<'a> = (i64, &'a Draft, Option<Assessment>);

fn about(job: &Job, units: Units, now_ms: i64, clock: &dyn Fn(i64) -> String) -> Vec<Line> {
    let mut lines: Vec<Line> = Name::ALL
        .iter()
        .filter_map(|name| Some(line(name.label(), job.names.get(name)?)))
        .collect();
    lines.push(line("Began", clock(job.created_ms)));
    lines.push(line("Written", clock(now_ms)));
    let refrigerant = job
        .choices
        .refrigerant
        .map_or("not named".to_owned(), |refrigerant| {
            format!(
                "{}, class {}",
                refrigerant.name(),
                SafetyClass::key(refrigerant.safety_class())
            )
        });
    lines.push(line("Refrigerant", refrigerant));
    lines.push(line(
        "Metering device",
        job.choices
            .metering
            .map_or("not named", |metering| metering.says()),
    ));
    let number = |field: PlateField| {
        let measure = field.row().measure;
        job.number(field)
            .map_or(NOT_MEASURED.to_owned(), |value| measure.says(value, units))
    };
    lines.push(line("Nominal capacity", number(PlateField::Tons)));
    lines.push(line("Plate charge", number(PlateField::PlateCharge)));
    lines.push(line("Data plate", job.choices.plate.says()));
    lines
}

fn targets(job: &Job, units: Units) -> Vec<Line> {
    let Some(setup) = job.setup() else {
        return Vec::new();
    };
    let target = |target: Option<Target>| {
        target.map_or("none known: rule of thumb".to_owned(), |target| {
            format!("{}, {}", target.says(units), target.pedigree.says())
        })
    };
    let tools = setup.instruments;
    let local_air = Measure::Barometer.says(setup.local_air.psia(), units);
    let mut lines = vec![
        line(
            "Superheat target",
            format!(
                "{} ({})",
                target(setup.superheat_target),
                setup.target_point.says()
            ),
        ),
        line("Subcooling target", target(setup.subcooling_target)),
        line(
            "Superheat never under",
            units.difference(setup.minimum_superheat),
        ),
        line("Read", setup.point.says()),
        line(
            "Suction line loss added",
            units.pressure_difference(setup.line_loss),
        ),
        line(
            "Gauges",
            format!("{}, local air {local_air}", setup.gauge.key()),
        ),
        line(
            "Limits of error",
            format!(
                "suction ±{}, liquid ±{}, thermometers ±{}{}",
                units.pressure_difference(tools.low.half_width()),
                units.pressure_difference(tools.high.half_width()),
                units.difference(tools.thermometer.fixed),
                if tools.thermometer.percent_of_reading > 0.0 {
                    " + 0.1 % of reading"
                } else {
                    ""
                },
            ),
        ),
    ];
    if job.choices.face == GaugeFace::Dial {
        lines.push(line("Dials", "limits are shares of full scale"));
    }
    lines
}

fn checks(job: &Job, clock: &dyn Fn(i64) -> String) -> Vec<Line> {
    let metering = job.choices.metering;
    let mut lines: Vec<Line> = Item::ALL
        .iter()
        .filter(|item| metering.is_none_or(|metering| item.applies(metering)))
        .map(|item| {
            let was = job
                .checks
                .get(item)
                .map_or("not marked".to_owned(), |check| {
                    if check.note.trim().is_empty() {
                        check.state.says().to_owned()
                    } else {
                        format!("{}: {}", check.state.says(), check.note)
                    }
                });
            line(item.row().label, was)
        })
        .collect();
    let cautioned: Vec<&str> = Item::ALL
        .iter()
        .filter(|item| metering.is_none_or(|metering| item.applies(metering)))
        .filter(|item| item.row().caution.is_some())
        .map(|item| item.row().label)
        .collect();
    lines.push(line("Cautions shown at", cautioned.join("; ")));
    lines.extend(job.overrides.iter().map(|opened| {
        line(
            "Gate overridden",
            format!("{}: {}", clock(opened.at_ms), opened.reason),
        )
    }));
    lines
}

fn readings(
    before: Option<&Read>,
    after: Option<&Read>,
    units: Units,
    clock: &dyn Fn(i64) -> String,
) -> Vec<Line> {
    let columns = [before, after];
    let row = |what: &str, cell: &dyn Fn(&Read) -> Option<String>| Line {
        what: what.to_owned(),
        was: columns
            .iter()
            .map(|read| {
                read.and_then(cell)
                    .unwrap_or_else(|| NOT_MEASURED.to_owned())
            })
            .collect(),
    };
    let mut lines = vec![row("Time", &|read| Some(clock(read.0)))];
    lines.extend(
        Field::ALL
            .iter()
            .filter(|field| field.row().group.is_in_record())
            .map(|field| {
                let measure = Measure::from(field.row().kind);
                row(field.row().label, &|read| {
                    let typed = read.1.typed.get(field)?;
                    Some(match typed.within(measure, field.row().hard) {
                        Ok(value) => measure.says(value, units),
                        Err(EntryFault::Number(_)) => format!("{} (not a number)", typed.text),
                        Err(EntryFault::OutOfRange { value, .. }) => {
                            format!("{} (outside what can be)", measure.says(value, units))
                        }
                    })
                })
            }),
    );
    lines.push(row("Bulb in a warm hand", &|read| {
        read.1.bulb_test.map(|test| {
            match test {
                BulbTest::Rises => "suction rises",
                BulbTest::Nothing => "nothing happens",
            }
            .to_owned()
        })
    }));
    for &(what, of) in DERIVED {
        lines.push(row(what, &|read| of(&read.2.as_ref()?.derived, units)));
    }
    lines
}

type Cell = fn(&Derived, Units) -> Option<String>;

/// The derived numbers a person may want, in the order of the work.
const DERIVED: &[(&str, Cell)] = &[
    ("Superheat", |d, units| banded(d.superheat, units)),
    ("Superheat at compressor", |d, units| {
        banded(d.compressor_superheat, units)
    }),
    ("Subcooling", |d, units| banded(d.subcooling, units)),
    ("Suction saturation, dew", |d, units| {
        Some(units.temperature(d.suction_saturation?.value))
    }),
    ("Liquid saturation, bubble", |d, units| {
        Some(units.temperature(d.liquid_saturation?.value))
    }),
    ("Condensing over entering air", |d, units| {
        banded(d.condensing_over_entering, units)
    }),
    ("Entering air over open shade", |d, units| {
        banded(d.entering_air_rise, units)
    }),
    ("Air rise through condenser", |d, units| {
        banded(d.condenser_air_rise, units)
    }),
    ("Evaporator split", |d, units| {
        banded(d.evaporator_split, units)
    }),
    ("Air split", |d, units| banded(d.air_split, units)),
    ("Air split expected at this coil", |d, units| {
        Some(units.difference(d.expected_air_split?))
    }),
    ("Liquid approach", |d, units| {
        banded(d.liquid_approach, units)
    }),
    ("Liquid line drop", |d, units| {
        banded(d.liquid_line_drop, units)
    }),
    ("Drier drop", |d, units| banded(d.drier_drop, units)),
    ("Discharge over condensing", |d, units| {
        banded(d.discharge_superheat, units)
    }),
    ("Compression ratio", |d, _| {
        Some(format!("{:.2}", d.compression_ratio?.value))
    }),
    ("Standing pressure off chart", |d, units| {
        Some(units.pressure_difference(d.standing?.off_chart))
    }),
];

pub(crate) fn banded(value: Option<Banded<TemperatureDifference>>, units: Units) -> Option<String> {
    Some(value?.says(units))
}

/// The derived numbers that there are, with their error bands, for a person to read.
pub fn derived_numbers(derived: &Derived, units: Units) -> Vec<(&'static str, String)> {
    DERIVED
        .iter()
        .filter_map(|&(what, of)| Some((what, of(derived, units)?)))
        .collect()
}

fn done(job: &Job, units: Units, clock: &dyn Fn(i64) -> String) -> Vec<Line> {
    let mut timed: Vec<(i64, String)> = Vec::new();
    if let Some((at, note)) = &job.as_found {
        let note = if note.trim().is_empty() {
            "marked"
        } else {
            note
        };
        timed.push((*at, format!("stem as found: {note}")));
    }
    let mut last_turn: Option<i64> = None;
    for entry in &job.log {
        let waited = last_turn.map(|at| entry.at_ms.saturating_sub(at) / 60_000);
        let says = words_after(job, entry, waited, units);
        if matches!(entry.what, What::Turn { .. }) && !entry.struck {
            last_turn = Some(entry.at_ms);
        }
        timed.push((
            entry.at_ms,
            if entry.struck {
                format!("taken back: {says}")
            } else {
                says
            },
        ));
    }
    timed.sort_by_key(|(at, _)| *at);
    let mut lines: Vec<Line> = timed
        .into_iter()
        .map(|(at, says)| line(clock(at), says))
        .collect();
    lines.push(line("Stem from as found", turns(job.position().get())));
    lines.push(line(
        "Charge, in less out",
        signed_mass(job.charge_ounces(), units),
    ));
    lines
}

fn finding(judged: Option<Judged>) -> Vec<Line> {
    let Some(judged) = judged else {
        return vec![line("Finding", NOT_MEASURED)];
    };
    let said = &judged.assessment;
    let mut lines: Vec<Line> = judged
        .shown()
        .map(|(finding, probability)| {
            let chance = format!("{}, {:.0} %", in_words(probability), probability * 100.0);
            line(finding.name(), chance)
        })
        .collect();
    lines.extend((judged.disagreement()).map(|says| line("Table and model differ", says)));
    lines.push(line(said.charge_advice().says(), said.charge.says()));
    let cautions: BTreeSet<&str> = judged
        .shown()
        .filter_map(|(finding, _)| finding.cause.words().caution)
        .collect();
    lines.extend(cautions.into_iter().map(|says| line("Caution shown", says)));
    lines.extend(
        said.doubts
            .iter()
            .map(|doubt| line("Questioned", doubt.says())),
    );
    lines
}

fn proof(job: &Job, now_ms: i64, clock: &dyn Fn(i64) -> String) -> Vec<Line> {
    let proof = job.proof(now_ms);
    let mut lines = vec![
        line("Superheat", proof.superheat.says()),
        line("Subcooling", proof.subcooling.says()),
    ];
    if proof.look_first_open {
        lines.push(line("Look first", "not every check holds: no pass"));
    }
    if proof.charge_changed_since {
        lines.push(line("Charge", "changed after the last reading: not proved"));
    }
    if job.choices.plate == PlateState::Missing {
        lines.push(line(
            "Plate",
            "missing: a target said to be from it is a rule of thumb",
        ));
    }
    if let Some(at) = job.finished_ms {
        lines.push(line("Closed", clock(at)));
    }
    lines.push(line(
        "Standing",
        "An aid to memory and judgement; certifies nothing. Data plate, maker's instructions, local code and licensed practice rule.",
    ));
    lines
}
