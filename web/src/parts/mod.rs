//! What screens share.

mod band_strip;
mod choice;
mod go;
mod in_order;
pub(crate) mod likened;
mod number_field;
mod rest;
mod ring;
mod table;
mod text_field;
mod trend;
mod verdict;

pub(crate) use band_strip::BandStrip;
pub(crate) use choice::{Choice, Pick};
pub(crate) use go::Go;
pub(crate) use in_order::in_order;
pub(crate) use number_field::NumberField;
pub(crate) use rest::Unkept;
pub(crate) use ring::Ring;
pub(crate) use table::{Cell, table};
pub(crate) use text_field::TextField;
pub(crate) use trend::TrendStrip;
pub(crate) use verdict::VerdictMark;
