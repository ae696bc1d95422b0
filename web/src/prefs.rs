//! What a person likes to see: kept in the browser's small store, never with a job.

use quantity::{PressureUnit, TemperatureUnit, Units};

/// Black on white for the sun, or light on dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Theme {
    /// Black on white.
    #[default]
    Sun,
    /// Light on dark.
    Dusk,
}

impl Theme {
    /// Its name in the store and in the style sheet.
    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Sun => "sun",
            Self::Dusk => "dusk",
        }
    }
}

const UNITS: &str = "units";
const THEME: &str = "theme";

fn store() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok()?
}

fn get(name: &str) -> Option<String> {
    store()?.get_item(name).ok()?
}

fn set(name: &str, value: &str) {
    if let Some(store) = store() {
        // A browser that keeps nothing asks again next time; no entry is lost by it.
        let _ = store.set_item(name, value);
    }
}

/// The pairs of units, each with its key.
pub(crate) const PRESSURES: [(&str, PressureUnit); 3] = [
    ("psi", PressureUnit::Psi),
    ("kPa", PressureUnit::Kilopascal),
    ("bar", PressureUnit::Bar),
];
/// The temperature units, each with its key.
pub(crate) const TEMPERATURES: [(&str, TemperatureUnit); 2] = [
    ("°F", TemperatureUnit::Fahrenheit),
    ("°C", TemperatureUnit::Celsius),
];

/// The units chosen on this device.
pub(crate) fn units() -> Units {
    let kept = get(UNITS).unwrap_or_default();
    let (pressure, temperature) = kept.split_once(' ').unwrap_or_default();
    Units {
        pressure: find(&PRESSURES, pressure).unwrap_or_default(),
        temperature: find(&TEMPERATURES, temperature).unwrap_or_default(),
    }
}

fn find<T: Copy>(all: &[(&str, T)], key: &str) -> Option<T> {
    all.iter()
        .find(|(of, _)| *of == key)
        .map(|&(_, value)| value)
}

/// Keeps the units for next time.
pub(crate) fn keep_units(units: Units) {
    let pressure = PRESSURES.iter().find(|(_, unit)| *unit == units.pressure);
    let temperature = TEMPERATURES
        .iter()
        .find(|(_, unit)| *unit == units.temperature);
    if let (Some((pressure, _)), Some((temperature, _))) = (pressure, temperature) {
        set(UNITS, &format!("{pressure} {temperature}"));
    }
}

/// The theme chosen on this device.
pub(crate) fn theme() -> Theme {
    if get(THEME).as_deref() == Some(Theme::Dusk.key()) {
        Theme::Dusk
    } else {
        Theme::Sun
    }
}

/// Shows a theme and keeps it for next time.
pub(crate) fn show_theme(theme: Theme) {
    if let Some(root) = web_sys::window()
        .and_then(|window| window.document())
        .and_then(|document| document.document_element())
    {
        let _ = root.set_attribute("data-theme", theme.key());
    }
    set(THEME, theme.key());
}
