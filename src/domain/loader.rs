//! The loader's forks: how far out the sticks lie, what that leaves of its rating, how hard it
//! may brake. The maker's data plate rules over any formula here (29 CFR 1910.178, from memory,
//! not confirmed in a retrieved text).

use super::math::{GRAVITY_M_PER_S2, tan};

/// Load centre of `sticks` lying side by side across the forks, m from the fork face: n D/2
/// (geometry).
pub fn load_centre_m(sticks: u32, outside_diameter_m: f64) -> f64 {
    f64::from(sticks) * outside_diameter_m / 2.0
}

/// Field estimate of the capacity at a load centre beyond the rated one, in the unit of the
/// rating: C·LC_rated/LC (OSHA powered-truck guidance, quoted in a secondary text). Within the
/// rated centre the rating itself.
pub fn capacity_at(rated: f64, rated_centre_m: f64, load_centre_m: f64) -> f64 {
    rated * (rated_centre_m / load_centre_m).min(1.0)
}

/// Braking up to which sticks on forks tilted back by `tilt_rad` do not roll off, m/s²: g tan φ
/// (statics, derived). Ground that falls towards the tips takes its fall off the tilt.
pub fn braking_limit_m_per_s2(tilt_rad: f64) -> f64 {
    GRAVITY_M_PER_S2 * tan(tilt_rad)
}
