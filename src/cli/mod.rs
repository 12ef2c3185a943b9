//! (under construction)
pub mod check;
