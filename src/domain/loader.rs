//! The loader's forks: how far out the sticks lie, what that leaves of its rating, how hard it
//! may brake. The maker's data plate rules over any formula here (29 CFR 1910.178, from memory,
//! not confirmed in a retrieved text).

use super::math::{GRAVITY_M_PER_S2, cos, sin, tan};

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

/// Width of a fork across the machine and its thickness, m (a common fork of 5 t class; our own
/// figures).
pub const FORK_WIDTH_M: f64 = 0.15;
pub const FORK_THICKNESS_M: f64 = 0.05;
/// Height of the carriage's face over the forks, m, and its thickness: it backs up every stick to
/// above its middle (our own figures).
pub const FACE_HEIGHT_M: f64 = 1.2;
pub const FACE_THICKNESS_M: f64 = 0.10;

/// How far the tips stay off the row's last stick, and the face off a stick it goes under, m (our own
/// figure).
pub const KEEPS_OFF_M: f64 = 0.05;

/// Front axle to fork face, m, on the level: a telehandler drawn in, or a wheel loader with its
/// arms low (an assumption, no source; the machine's own chart rules).
pub const AXLE_TO_FACE_M: f64 = 1.0;
/// Part of the load that tips the machine on firm, level ground that its rating is (EN 474-3 and ISO
/// 14397-1 for forks, from memory, not confirmed in a retrieved text).
pub const RATED_PART_OF_TIPPING: f64 = 0.8;
/// Centre of mass of the empty machine behind the front axle and over the ground, and its radius of
/// gyration about that, m (assumptions, no source).
const MASS_BEHIND_AXLE_M: f64 = 1.2;
const MASS_UP_M: f64 = 1.0;
const GYRATION_M: f64 = 1.2;

/// Capacity by moments at a load centre beyond the rated one, in the unit of the rating:
/// C (b + LC_rated)/(b + LC) with b the distance from the front axle to the fork face, m (statics;
/// less cautious than [`capacity_at`]). Within the rated centre the rating itself.
pub fn capacity_by_moments(
    rated: f64,
    rated_centre_m: f64,
    load_centre_m: f64,
    axle_to_face_m: f64,
) -> f64 {
    let ratio = (axle_to_face_m + rated_centre_m) / (axle_to_face_m + load_centre_m);
    rated * ratio.min(1.0)
}

/// Braking from `speed_m_per_s` to rest at which a round stick that lay against the face rolls off
/// the tips, m/s²; infinite where no stop from that speed sends it that far. `way_m` is how far its
/// line of contact may roll, fork length less radius; `tilt_rad` the back-tilt less the ground's
/// fall, above 0; `shape_factor` is k = I/(m R²).
///
/// Above g tan φ the stick leaves the face and gains (a cos φ - g sin φ)/(1 + k) on the forks while
/// the machine brakes, then loses g sin φ/(1 + k): together v² cos φ (a cos φ - g sin φ)/(2 (1 + k) a
/// g sin φ), which is set equal to the way (rolling without slip, derived).
pub fn braking_that_rolls_off_m_per_s2(
    tilt_rad: f64,
    speed_m_per_s: f64,
    way_m: f64,
    shape_factor: f64,
) -> f64 {
    let (s, c) = (GRAVITY_M_PER_S2 * sin(tilt_rad), cos(tilt_rad));
    let square = speed_m_per_s * speed_m_per_s;
    let left = c * square - 2.0 * (1.0 + shape_factor) * s * way_m / c;
    if left > 0.0 {
        s * square / left
    } else {
        f64::INFINITY
    }
}

/// Parts of a load that the two forks carry, the one on the side it lies towards first: (1 ± 2e/s)/2
/// for a centre of mass `off_middle_m` off the middle of forks `spread_m` apart. The second is
/// negative where it tips over the first (law of the lever).
pub fn fork_shares(off_middle_m: f64, spread_m: f64) -> [f64; 2] {
    let lead = off_middle_m.abs() / spread_m;
    [0.5 + lead, 0.5 - lead]
}

/// A machine by its rating: what it takes to tip it over its front axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stability {
    mass_kg: f64,
}

impl Stability {
    /// Of a machine rated for `capacity_kg` at `load_centre_m` from the fork face: one of a mass that
    /// is on the point of tipping under the rating over [`RATED_PART_OF_TIPPING`].
    pub fn of_rating(capacity_kg: f64, load_centre_m: f64) -> Self {
        let tipping_kg_m =
            capacity_kg / RATED_PART_OF_TIPPING * (AXLE_TO_FACE_M + load_centre_m.max(0.0));
        // A machine of nothing would have no motion to speak of.
        Self {
            mass_kg: (tipping_kg_m / MASS_BEHIND_AXLE_M).max(1.0),
        }
    }

    /// Mass of the empty machine, kg.
    pub fn mass_kg(&self) -> f64 {
        self.mass_kg
    }

    /// Moment about the front axle that its own weight resists with, N·m, when it is inclined nose
    /// down by `nose_down_rad` and gains `acceleration_m_per_s2` forwards (statics, with the force
    /// of inertia of its mass).
    pub fn resisting_moment_n_m(&self, nose_down_rad: f64, acceleration_m_per_s2: f64) -> f64 {
        let (s, c) = (sin(nose_down_rad), cos(nose_down_rad));
        let weight = GRAVITY_M_PER_S2 * (MASS_BEHIND_AXLE_M * c - MASS_UP_M * s);
        self.mass_kg * (weight + acceleration_m_per_s2 * MASS_UP_M)
    }

    /// Moment of inertia of the empty machine about its front wheels' line on the ground, kg·m².
    pub fn inertia_kg_m2(&self) -> f64 {
        let square = |a: f64| a * a;
        self.mass_kg * (square(MASS_BEHIND_AXLE_M) + square(MASS_UP_M) + square(GYRATION_M))
    }
}
