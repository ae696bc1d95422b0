//! Placeholder for the first build.
