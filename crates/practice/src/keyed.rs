//! Names in files for types of other crates, so that those stay free of storage.

use diagnosis::{Cause, Metering};
use refrigerant::Refrigerant;
use serde::{Deserialize, Deserializer, Serializer, de::Error};

/// A type whose values have a name in files.
pub(crate) trait Keyed: Copy + 'static {
    /// What one of them is called, for messages.
    const WHAT: &'static str;
    /// Every value.
    fn all() -> &'static [Self];
    /// Its name.
    fn named(self) -> &'static str;

    /// The value of that name.
    fn find(key: &str) -> Option<Self> {
        Self::all().iter().copied().find(|it| it.named() == key)
    }
    /// Every name, for messages.
    fn names() -> String {
        let names: Vec<_> = Self::all().iter().map(|it| it.named()).collect();
        names.join(", ")
    }
}

macro_rules! keyed {
    ($($type:ty => $what:literal, $all:expr, $key:expr;)*) => {
        $(impl Keyed for $type {
            const WHAT: &'static str = $what;
            fn all() -> &'static [Self] { $all }
            fn named(self) -> &'static str { ($key)(self) }
        })*
    };
}
keyed! {
    Cause => "cause", Cause::ALL, Cause::key;
    Metering => "metering device", &Metering::ALL, Metering::key;
    Refrigerant => "refrigerant", &Refrigerant::ALL, Refrigerant::name;
    crate::Difficulty => "difficulty", &crate::Difficulty::ALL, crate::Difficulty::key;
    crate::Way => "way of trouble", crate::Way::ALL, crate::Way::key;
}

/// For `#[serde(with = "keyed")]`.
pub(crate) fn serialize<T: Keyed, S: Serializer>(value: &T, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(value.named())
}

/// The value of that name.
pub(crate) fn deserialize<'de, T: Keyed, D: Deserializer<'de>>(from: D) -> Result<T, D::Error> {
    found(&String::deserialize(from)?)
}

fn found<T: Keyed, E: Error>(key: &str) -> Result<T, E> {
    T::find(key)
        .ok_or_else(|| E::custom(format!("{key:?} is no {}; one of {}", T::WHAT, T::names())))
}

/// The same for a list.
pub(crate) mod list {
    use super::{Deserialize, Deserializer, Keyed, Serializer, found};

    pub(crate) fn serialize<T: Keyed, S: Serializer>(
        values: &[T],
        to: S,
    ) -> Result<S::Ok, S::Error> {
        to.collect_seq(values.iter().map(|value| value.named()))
    }

    pub(crate) fn deserialize<'de, T: Keyed, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Vec<T>, D::Error> {
        let keys = Vec::<String>::deserialize(from)?;
        keys.iter().map(|key| found(key)).collect()
    }
}
