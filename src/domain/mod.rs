//! The subject: pipe, rig, formulas, limits. Knows no engine, no file and no clock.

pub mod math;
pub mod pipe;
pub mod rig;
pub mod spec;
