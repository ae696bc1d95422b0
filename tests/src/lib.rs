//! What must stay absent from this repository. Nothing depends on this crate.

#[cfg(test)]
mod borders;
#[cfg(test)]
mod manner;
