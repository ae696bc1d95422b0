//! Words in files: every choice is written by its key, so that live types stay free to change.

use serde::{Deserialize, Deserializer, Serializer, de::Error};

/// A type whose values have a name in files.
pub(crate) trait Keyed: Copy + 'static {
    /// What a list of them is called, for messages.
    const WHAT: &'static str;
    /// Every value.
    fn all() -> &'static [Self];
    /// Its name.
    fn named(self) -> &'static str;
}

macro_rules! keyed {
    ($($type:ty => $what:literal, $all:expr, $key:expr;)*) => {
        $(impl $crate::keyed::Keyed for $type {
            const WHAT: &'static str = $what;
            fn all() -> &'static [Self] { &$all }
            fn named(self) -> &'static str { ($key)(self) }
        })*
    };
}
pub(crate) use keyed;

/// For `#[serde(with = "keyed")]`-style use.
pub(crate) fn serialize<T: Keyed, S: Serializer>(value: &T, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(value.named())
}

/// The value of that name.
pub(crate) fn deserialize<'de, T: Keyed, D: Deserializer<'de>>(from: D) -> Result<T, D::Error> {
    find(&String::deserialize(from)?)
}

fn find<T: Keyed, E: Error>(key: &str) -> Result<T, E> {
    T::all()
        .iter()
        .copied()
        .find(|value| value.named() == key)
        .ok_or_else(|| E::custom(format!("{key} is not a {}", T::WHAT)))
}

/// The same for a value that may be absent.
pub(crate) mod optional {
    use super::{Deserialize, Deserializer, Keyed, Serializer, find};

    pub(crate) fn serialize<T: Keyed, S: Serializer>(
        value: &Option<T>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        match value {
            Some(value) => to.serialize_some(value.named()),
            None => to.serialize_none(),
        }
    }

    pub(crate) fn deserialize<'de, T: Keyed, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Option<T>, D::Error> {
        Option::<String>::deserialize(from)?
            .map(|key| find(&key))
            .transpose()
    }
}

keyed! {
    diagnosis::Field => "reading field", *FIELDS, |f: diagnosis::Field| f.row().key;
    diagnosis::BulbTest => "bulb answer", [diagnosis::BulbTest::Rises, diagnosis::BulbTest::Nothing], diagnosis::BulbTest::key;
    diagnosis::Metering => "metering device", diagnosis::Metering::ALL, diagnosis::Metering::key;
    diagnosis::MeasuringPoint => "measuring point", diagnosis::MeasuringPoint::ALL, diagnosis::MeasuringPoint::key;
    diagnosis::Pedigree => "pedigree", diagnosis::Pedigree::ALL, diagnosis::Pedigree::key;
    quantity::GaugeReference => "gauge reference", quantity::GaugeReference::ALL, quantity::GaugeReference::key;
    refrigerant::Refrigerant => "refrigerant", refrigerant::Refrigerant::ALL, refrigerant::Refrigerant::name;
}

static FIELDS: &[diagnosis::Field] = diagnosis::Field::ALL;
