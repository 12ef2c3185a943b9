//! The subject: pipe, rig, formulas, limits. Knows no engine, no file and no clock.
//!
//! Formulas take their documented ranges and do not check them; constructors and tables do, and
//! answer with an [`error::DomainError`].

pub mod beam;
pub mod bend;
pub mod crew;
pub mod edge;
pub mod envelope;
pub mod error;
pub mod finding;
pub mod fusion;
pub mod layout;
pub mod limits;
pub mod loader;
pub mod material;
pub mod math;
pub mod oval;
pub mod people;
pub mod pipe;
pub mod plan;
pub mod rig;
pub mod rolling;
pub mod set_out;
pub mod spec;
pub mod step;
pub mod vcradle;
pub mod zone;
