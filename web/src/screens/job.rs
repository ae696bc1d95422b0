//! Job: what the equipment is, what it should do, and by which tools.

use super::slice::slice;
use crate::desk::{Desk, desk};
use crate::parts::{Choice, Go, NumberField, Pick, TextField};
use diagnosis::{MeasuringPoint, Metering, Pedigree};
use job::{Event, GaugeFace, Job, Name, PlateField, PlateState, Screen, Typed, glide};
use leptos::prelude::*;
use quantity::{GaugeReference, Units};
use refrigerant::{Refrigerant, SafetyClass};

/// The screen.
#[component]
pub(super) fn JobScreen() -> impl IntoView {
    let desk = desk();
    let ready = move || slice(desk, |job| job.setup().is_some()).unwrap_or(false);
    view! {
        <section>
            <h1>"Job"</h1>
            <Names />
            <Equipment />
            <Targets />
            <PlaceAndTools />
            <div class="act">
                <p class="hint" class:gone=ready>
                    "Name refrigerant and metering device to go on."
                </p>
                <Go
                    words="Next: Look first"
                    to=Screen::LookFirst
                    open=Signal::derive(ready)
                />
            </div>
        </section>
    }
}

/// A memo of a slice of the open job.
fn choice<T: PartialEq + Send + Sync + Clone + 'static>(
    desk: Desk,
    of: impl Fn(&Job) -> Option<T> + Send + Sync + 'static,
) -> Signal<Option<T>> {
    Memo::new(move |_| desk.job.with(|job| job.as_ref().and_then(&of))).into()
}

#[component]
fn Names() -> impl IntoView {
    let desk = desk();
    [Name::Place, Name::Unit, Name::Technician, Name::Complaint]
        .into_iter()
        .map(|name| {
            let value = Memo::new(move |_| {
                slice(desk, |job| job.names.get(&name).cloned())
                    .flatten()
                    .unwrap_or_default()
            });
            view! {
                <TextField
                    label=name.label()
                    id=format!("name-{}", name.key())
                    value=value
                    hint=name.hint()
                    on_keep=move |text| {
                        desk.happens(Event::Wrote { name, text });
                    }
                />
            }
        })
        .collect_view()
}

#[component]
fn Equipment() -> impl IntoView {
    let desk = desk();
    let refrigerant = choice(desk, |job| job.choices.refrigerant);
    view! {
        <h2>"Equipment"</h2>
        <Pick
            label="Refrigerant, by the plate"
            id="refrigerant"
            all=Refrigerant::ALL.iter().map(|&r| (r, r.name().to_owned())).collect()
            value=refrigerant
            on_pick=move |refrigerant| {
                desk.happens(Event::ChoseRefrigerant { refrigerant });
            }
        />
        {move || refrigerant.get().map(|refrigerant| refrigerant_card(refrigerant, desk.units.get()))}
        <Choice
            legend="Metering device"
            name="metering"
            all=Metering::ALL.iter().map(|&m| (m, m.says())).collect()
            value=choice(desk, |job| job.choices.metering)
            on_pick=move |metering| {
                desk.happens(Event::ChoseMetering { metering });
            }
        />
        <Choice
            legend="Data plate"
            name="plate"
            all=PlateState::ALL.iter().map(|&p| (p, p.says())).collect()
            value=choice(desk, |job| Some(job.choices.plate))
            on_pick=move |plate| {
                desk.happens(Event::SawPlate { plate });
            }
        />
        <Show when=move || slice(desk, |job| job.choices.plate) == Some(PlateState::Missing)>
            <p class="caution">
                "Plate missing: targets are rules of thumb. They are enough to look, not to pass or to charge by."
            </p>
        </Show>
        <Plate field=PlateField::Tons />
        <Plate field=PlateField::PlateCharge />
    }
}

fn refrigerant_card(refrigerant: Refrigerant, units: Units) -> impl IntoView {
    let class = refrigerant.safety_class();
    let glide = match glide(refrigerant) {
        Some(glide) if glide.f() >= 0.5 => format!(
            "Glide {} at the coil. Superheat is taken from dew, subcooling from bubble.",
            units.difference(glide)
        ),
        _ => "No glide to speak of: dew and bubble are one line here.".to_owned(),
    };
    let caution = match class {
        SafetyClass::A1 => "Not flammable. Heavier than air: displaces it in pits and basements.",
        SafetyClass::A2L => {
            "Mildly flammable: air the place, no flame, no spark, rated tools, never bypass a leak sensor."
        }
        SafetyClass::A3 => "Highly flammable: only if trained and equipped for it.",
    };
    view! {
        <div class="refrigerant">
            <p class="big-name">{refrigerant.name()} <span class="class">{class.key()}</span></p>
            <p>{refrigerant.components()}</p>
            <p>{glide}</p>
            <p class="caution">{caution}</p>
        </div>
    }
}

/// A number about the job.
#[component]
pub(super) fn Plate(field: PlateField) -> impl IntoView {
    let desk = desk();
    let row = field.row();
    let text = RwSignal::new(None::<String>);
    let shown = move || {
        let units = desk.units.get();
        text.get().unwrap_or_else(|| {
            slice(desk, |job| {
                job.plate
                    .get(&field)
                    .map(|typed| typed.shown(row.measure, units))
            })
            .flatten()
            .unwrap_or_default()
        })
    };
    let keep = move |()| {
        if let Some(text) = text.try_update(Option::take).flatten() {
            let typed = Typed::new(&text, desk.units.get_untracked());
            let kept = desk
                .job
                .with_untracked(|job| job.as_ref().and_then(|job| job.plate.get(&field).cloned()));
            if kept.as_ref() != Some(&typed) && !(kept.is_none() && typed.is_blank()) {
                desk.happens(Event::Noted { field, typed });
            }
        }
    };
    let fault = move || {
        let units = desk.units.get();
        slice(desk, |job| {
            job.fault(field).map(|fault| fault.says(row.measure, units))
        })
        .flatten()
    };
    let usual = row.usual.map_or(String::new(), |usual| {
        format!(
            ". Blank: {}",
            row.measure.says(usual, desk.units.get_untracked())
        )
    });
    view! {
        <NumberField
            label=row.label
            id=format!("plate-{}", row.key)
            unit=Signal::derive(move || row.measure.sign(desk.units.get()).to_owned())
            value=Signal::derive(shown)
            on_type=move |typed| text.set(Some(typed))
            on_keep=keep
            fault=Signal::derive(fault)
            below_zero=Signal::derive(move || {
                row.measure.goes_below_zero(row.range.0, desk.units.get())
            })
            hint=format!("{}{usual}", row.hint)
        />
    }
}

#[component]
fn Targets() -> impl IntoView {
    let desk = desk();
    let pedigrees = || {
        Pedigree::ALL
            .iter()
            .map(|&p| (p, p.says()))
            .collect::<Vec<_>>()
    };
    let orifice = move || {
        slice(desk, |job| {
            job.choices.metering == Some(Metering::FixedOrifice)
        })
        .unwrap_or(false)
    };
    view! {
        <h2>"Targets"</h2>
        <Show when=orifice>
            <p>
                "Fixed orifice: charge sets superheat. Type the maker's chart value less and plus 5 °F (2.8 K) as the band; left blank, the field formula is used from return wet bulb and entering air, and only as a rule of thumb."
            </p>
        </Show>
        <div class="pair">
            <Plate field=PlateField::SuperheatLow />
            <Plate field=PlateField::SuperheatHigh />
        </div>
        <Choice
            legend="Superheat target from"
            name="superheat-pedigree"
            all=pedigrees()
            value=choice(desk, |job| Some(job.choices.superheat_pedigree))
            on_pick=move |pedigree| {
                desk.happens(Event::ChoseSuperheatPedigree { pedigree });
            }
        />
        <div class="pair">
            <Plate field=PlateField::SubcoolingLow />
            <Plate field=PlateField::SubcoolingHigh />
        </div>
        <Choice
            legend="Subcooling target from"
            name="subcooling-pedigree"
            all=pedigrees()
            value=choice(desk, |job| Some(job.choices.subcooling_pedigree))
            on_pick=move |pedigree| {
                desk.happens(Event::ChoseSubcoolingPedigree { pedigree });
            }
        />
        {move || {
            slice(desk, |job| job.target_gaps())
                .unwrap_or_default()
                .into_iter()
                .map(|gap| view! { <p class="caution">{gap}</p> })
                .collect_view()
        }}
        <Plate field=PlateField::MinimumSuperheat />
        <Plate field=PlateField::HeadLimit />
    }
}

#[component]
fn PlaceAndTools() -> impl IntoView {
    let desk = desk();
    let points = || {
        MeasuringPoint::ALL
            .iter()
            .map(|&p| (p, p.says()))
            .collect::<Vec<_>>()
    };
    let at_bulb = move || slice(desk, |job| job.choices.point) == Some(MeasuringPoint::Bulb);
    let dial = move || slice(desk, |job| job.choices.face) == Some(GaugeFace::Dial);
    view! {
        <h2>"Where you read"</h2>
        <Choice
            legend="Suction line temperature is read"
            name="point"
            all=points()
            value=choice(desk, |job| Some(job.choices.point))
            on_pick=move |point| {
                desk.happens(Event::ChosePoint { point });
            }
            hint="At the bulb: what the valve controls. At the service valve: what reaches the compressor. Two different numbers."
        />
        <Show when=at_bulb>
            <Choice
                legend="Suction gauge sits"
                name="gauge-place"
                all=vec![(true, "at the service valve"), (false, "at the coil outlet")]
                value=choice(desk, |job| Some(job.choices.gauge_at_service_valve))
                on_pick=move |at_service_valve| {
                    desk.happens(Event::PlacedGauge { at_service_valve });
                }
            />
            <Show when=move || {
                slice(desk, |job| job.choices.gauge_at_service_valve).unwrap_or(false)
            }>
                <Plate field=PlateField::LineLoss />
            </Show>
        </Show>
        <Choice
            legend="The superheat target is meant"
            name="target-point"
            all=points()
            value=choice(desk, |job| Some(job.choices.target_point))
            on_pick=move |point| {
                desk.happens(Event::ChoseTargetPoint { point });
            }
        />
        <details class="more">
            <summary>"Altitude, gauges, thermometers, wait"</summary>
            <Plate field=PlateField::Altitude />
            <Plate field=PlateField::Barometer />
            <Choice
                legend="Gauges read"
                name="gauge"
                all=vec![
                    (GaugeReference::Vented, "against local air"),
                    (GaugeReference::Sealed, "sealed at sea level"),
                    (GaugeReference::Absolute, "absolute"),
                ]
                value=choice(desk, |job| Some(job.choices.gauge))
                on_pick=move |gauge| {
                    desk.happens(Event::ChoseGauge { gauge });
                }
            />
            <Choice
                legend="Gauge accuracy"
                name="face"
                all=GaugeFace::ALL.iter().map(|&f| (f, f.says())).collect()
                value=choice(desk, |job| Some(job.choices.face))
                on_pick=move |face| {
                    desk.happens(Event::ChoseFace { face });
                }
            />
            <Show
                when=dial
                fallback=|| {
                    view! {
                        <Plate field=PlateField::LowLimit />
                        <Plate field=PlateField::HighLimit />
                    }
                }
            >
                <Plate field=PlateField::DialPercent />
                <Plate field=PlateField::LowFullScale />
                <Plate field=PlateField::HighFullScale />
            </Show>
            <Plate field=PlateField::Thermometer />
            <Plate field=PlateField::Wait />
        </details>
    }
}
