//! One file for each screen, and the frame around them.

mod about;
mod finding;
mod frame;
mod home;
mod job;
mod kept;
mod look_first;
mod proof;
mod reading;
mod slice;
mod stem;
mod weigh;

pub(crate) use frame::App;
