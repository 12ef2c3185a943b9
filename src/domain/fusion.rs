//! What the joint asks of the hand-over.

use super::limits;
use super::math::PI;

/// Greatest step between the two outside surfaces in the jaws, m: a tenth of the minimum wall
/// (ASTM F2620, from memory, not confirmed in a retrieved text).
pub fn high_low_limit_m(wall_min_m: f64) -> f64 {
    limits::HIGH_LOW_MAX.value * wall_min_m
}

/// Force that presses the faces together at an interfacial pressure, N: p π(OD - t)t, with the
/// nominal diameter and the minimum wall (ASTM F2620, from memory, not confirmed in a retrieved
/// text). The carriage's drag comes on top.
pub fn interfacial_force_n(nominal_diameter_m: f64, wall_min_m: f64, pressure_pa: f64) -> f64 {
    pressure_pa * PI * (nominal_diameter_m - wall_min_m) * wall_min_m
}
