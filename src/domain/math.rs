//! Elementary functions that give the same bits on every machine.
//!
//! The system's mathematics library differs between machines, so everything that can reach the
//! simulated state takes its trigonometry from the `libm` crate by way of these names. A test
//! forbids the methods of `f64` and `f32` that would go to the system in `domain` and `sim`.

/// Standard acceleration used throughout, m/s² (the rounded engineering value, not 9.80665).
pub const GRAVITY_M_PER_S2: f64 = 9.81;

pub use core::f64::consts::PI;

pub use libm::{acos, asin, atan, atan2, cbrt, cos, exp, log, log10, pow, sin, sqrt, tan};

/// Degrees to radians.
pub const fn rad(degrees: f64) -> f64 {
    degrees * (PI / 180.0)
}

/// Radians to degrees.
pub const fn deg(radians: f64) -> f64 {
    radians * (180.0 / PI)
}
