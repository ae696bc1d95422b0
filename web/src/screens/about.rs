//! Units, theme, and what this is.

use crate::desk::desk;
use crate::parts::Choice;
use crate::prefs::{self, PRESSURES, TEMPERATURES, Theme};
use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn About() -> impl IntoView {
    let desk = desk();
    let theme = RwSignal::new(prefs::theme());
    let flip =
        |pairs: &[(&'static str, _)]| pairs.iter().map(|&(name, unit)| (unit, name)).collect();
    let set_units = move |change: &dyn Fn(&mut quantity::Units)| {
        desk.units.update(change);
        prefs::keep_units(desk.units.get_untracked());
    };
    view! {
        <section>
            <h1>"Units, theme, about"</h1>
            <Choice
                legend="Temperatures"
                name="temperature"
                all=flip(&TEMPERATURES)
                value=Signal::derive(move || Some(desk.units.get().temperature))
                on_pick=move |unit| set_units(&|units| units.temperature = unit)
                hint="Differences are shown in °F or K. What was typed stays as typed."
            />
            <Choice
                legend="Pressures"
                name="pressure"
                all=PRESSURES.iter().map(|&(name, unit)| (unit, name)).collect()
                value=Signal::derive(move || Some(desk.units.get().pressure))
                on_pick=move |unit| set_units(&|units| units.pressure = unit)
            />
            <Choice
                legend="Theme"
                name="theme"
                all=vec![(Theme::Sun, "Sun: black on white"), (Theme::Dusk, "Dusk: light on dark")]
                value=Signal::derive(move || Some(theme.get()))
                on_pick=move |picked| {
                    theme.set(picked);
                    prefs::show_theme(picked);
                }
            />
            <h2>"What this is"</h2>
            <p>
                "Evenfeed helps a technician set an expansion valve and prove that it is set. It works without a signal, keeps every entry on this device and sends nothing anywhere."
            </p>
            <p>
                "Saturation data are generated from CoolProp 8. Every number carries the error band of the tools; what the tools cannot prove is not used as evidence."
            </p>
            <p class="caution">
                "It advises and certifies nothing. Data plate, maker's instructions, local code and licensed practice rule."
            </p>
            <p class="quiet">{concat!("Version ", env!("CARGO_PKG_VERSION"))}</p>
        </section>
    }
}
