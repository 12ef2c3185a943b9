//! What somebody who sets a line out reads: the bubble inclinometer of a rail, a spirit level, the
//! tape, a rule at the string line. None of them shows more than its marks, and none is the truth.
//!
//! The inclinometer is a bent tube with a bubble before a scale. Up the rail is positive:
//!
//! ```text
//!      eye o              the bubble stands R·θ up the tube; an eye that is u up the rail and n out
//!           \             from the scale sees it against the mark
//!            \ bubble       s + (s - u) d/(n - d),  s = R·θ
//!  ----------(o)----  d   (similar triangles; d from the scale to the bubble's middle)
//!  ====|==|=\|==|====  scale
//! ```
//!
//! An eye square to the bubble (u = s) reads what it shows; from uphill it seems to stand lower.

use crate::domain::math::{cos, rad, sin, sqrt};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::Place;

/// How far the bubble goes for a degree, m, and with it the radius of the bent tube, m (ours).
pub const BUBBLE_M_PER_DEGREE: f64 = 0.022;
pub const TUBE_RADIUS_M: f64 = BUBBLE_M_PER_DEGREE / rad(1.0);
/// How far the bubble's middle is in front of the scale, m (ours).
pub const BUBBLE_OUT_M: f64 = 0.0255;
/// Marks of the inclinometer from 0 on, one for each degree. Between two of them the eye tells
/// quarters.
pub const GAUGE_MARKS: u8 = 12;
const GAUGE_READS_RAD: f64 = rad(0.25);
/// How far beyond its marks the bubble goes, rad.
pub const GAUGE_BEYOND_RAD: f64 = rad(0.6);
/// Where the inclinometer sits, m (ours): its last mark below a rail's high end along it, its tube
/// under the rail's surface, its scale outside the rail.
const GAUGE_FROM_END_M: f64 = 0.42;
pub const GAUGE_UNDER_M: f64 = 0.065;
pub const GAUGE_OUTSIDE_M: f64 = 0.0195;
/// From how far away its marks can be read, m, and how flat to its face, m.
const LEGIBLE_M: f64 = 2.0;
const IN_FRONT_M: f64 = 0.05;
/// From mark to mark of the level, rad.
pub const LEVEL_MARK_RAD: f64 = rad(0.2);
/// From mark to mark of the tape and of the rule at the string, m.
pub const TAPE_MARK_M: f64 = 0.01;
pub const RULE_MARK_M: f64 = 0.005;

/// To the nearest mark.
fn to_mark(value: f64, mark: f64) -> f64 {
    (value / mark).round() * mark
}

/// How far up a rail the zero of its inclinometer is, m.
pub fn gauge_zero_m(rig: &Rig) -> f64 {
    let scale_m = BUBBLE_M_PER_DEGREE * f64::from(GAUGE_MARKS);
    rig.spec().rack.length_m - GAUGE_FROM_END_M - scale_m
}

/// The zero of an inclinometer's scale: x, y, z of a right-handed line, m.
pub fn gauge_at(rig: &Rig, side: End) -> [f64; 3] {
    let along_m = gauge_zero_m(rig);
    let point = rig.on_rail(side, along_m, -GAUGE_UNDER_M);
    let half_m = 0.5 * rig.spec().rack.rail_width_m + GAUGE_OUTSIDE_M;
    [
        point.x_m,
        point.y_m,
        rig.rail_z_m(side) + outwards(side) * half_m,
    ]
}

/// Which way along z an inclinometer faces.
fn outwards(side: End) -> f64 {
    match side {
        End::Near => 1.0,
        End::Far => -1.0,
    }
}

/// Where an eye is against a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eye {
    /// Up the rail from the scale's zero, m.
    pub uphill_m: f64,
    /// Out from the scale, m.
    pub out_m: f64,
    /// From the scale's zero in all, m.
    pub away_m: f64,
}

impl Eye {
    /// An eye at x, y, z of a right-handed line before the inclinometer of a rail.
    pub fn before(rig: &Rig, side: End, eye_m: [f64; 3]) -> Self {
        let gauge_m = gauge_at(rig, side);
        let [dx, dy, dz] = std::array::from_fn(|i| eye_m[i] - gauge_m[i]);
        let pitch_rad = rig.rail(side).pitch_rad;
        Self {
            uphill_m: dy * sin(pitch_rad) - dx * cos(pitch_rad),
            out_m: dz * outwards(side),
            away_m: sqrt(dx * dx + dy * dy + dz * dz),
        }
    }

    /// The mark before which a bubble seems to stand, rad; None where the scale cannot be read from
    /// here.
    pub fn sees_rad(self, shown_rad: f64) -> Option<f64> {
        if self.out_m < IN_FRONT_M || self.away_m > LEGIBLE_M {
            return None;
        }
        let most_rad = rad(f64::from(GAUGE_MARKS)) + GAUGE_BEYOND_RAD;
        let stands_m = TUBE_RADIUS_M * shown_rad.clamp(-GAUGE_BEYOND_RAD, most_rad);
        let off_m = (stands_m - self.uphill_m) * BUBBLE_OUT_M / (self.out_m - BUBBLE_OUT_M);
        Some((stands_m + off_m) / TUBE_RADIUS_M)
    }
}

/// What the inclinometer of a rail shows, right or wrong, rad.
pub fn gauge_shows_rad(rig: &Rig, side: End) -> f64 {
    rig.rail(side).pitch_rad + rig.faults(side).inclinometer_error_rad
}

/// What is read off it, rad.
pub fn gauge_reading_rad(seen_rad: f64) -> f64 {
    to_mark(seen_rad, GAUGE_READS_RAD)
}

/// What a level shows, rad.
pub fn level_reading_rad(slope_rad: f64) -> f64 {
    to_mark(slope_rad, LEVEL_MARK_RAD)
}

/// What a tape held level shows between two places, m.
pub fn tape_reading_m(from: Place, to: Place) -> f64 {
    let (dx, dz) = (to.x_m - from.x_m, to.z_m - from.z_m);
    to_mark(sqrt(dx * dx + dz * dz), TAPE_MARK_M)
}

/// What a rule shows between the string and the middle of a V, m.
pub fn rule_reading_m(off_m: f64) -> f64 {
    to_mark(off_m, RULE_MARK_M)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::math::deg;

    fn eye(uphill_m: f64, out_m: f64) -> Eye {
        Eye {
            uphill_m,
            out_m,
            away_m: sqrt(uphill_m * uphill_m + out_m * out_m),
        }
    }

    #[test]
    fn an_eye_square_to_the_bubble_reads_what_it_shows() {
        for shown in [0.0, rad(4.3), rad(11.0)] {
            let seen = eye(TUBE_RADIUS_M * shown, 0.4).sees_rad(shown).unwrap();
            assert!(
                (seen - shown).abs() < 1e-12,
                "{} for {}",
                deg(seen),
                deg(shown)
            );
        }
    }

    /// The ray from the eye through the bubble, followed to the scale.
    #[test]
    fn parallax_is_that_of_the_ray_through_the_bubble() {
        for (uphill_m, out_m) in [(0.5, 0.4), (-0.3, 0.25), (1.0, 1.2), (0.0, 0.1)] {
            let shown = rad(5.0);
            let (bubble, out) = (TUBE_RADIUS_M * shown, BUBBLE_OUT_M);
            let share = out_m / (out_m - out);
            let meets_m = uphill_m + (bubble - uphill_m) * share;
            let seen = eye(uphill_m, out_m).sees_rad(shown).unwrap();
            assert!((seen - meets_m / TUBE_RADIUS_M).abs() < 1e-12);
        }
        // Half a metre uphill of zero at 0.4 m from the scale, with the bubble 0.11 m up:
        // 0.39 · 25.5/374.5 m on 22 mm a degree, 1.21° too little.
        let seen = eye(0.5, 0.4).sees_rad(rad(5.0)).unwrap();
        let too_little_deg = 0.39 * 25.5 / 374.5 / 0.022;
        assert!(
            (5.0 - deg(seen) - too_little_deg).abs() < 1e-9,
            "{}",
            deg(seen)
        );
        assert!((too_little_deg - 1.207).abs() < 0.001);
    }

    #[test]
    fn the_bubble_stops_at_the_ends_of_its_tube() {
        let at = |shown: f64| eye(0.0, 0.5).sees_rad(shown).unwrap();
        assert_eq!(at(rad(20.0)), at(rad(12.6)));
        assert_eq!(at(rad(-5.0)), at(rad(-0.6)));
    }

    #[test]
    fn from_behind_or_from_afar_nothing_is_read() {
        assert_eq!(eye(0.0, -0.3).sees_rad(0.0), None);
        assert_eq!(eye(0.0, 2.1).sees_rad(0.0), None);
        assert_eq!(eye(1.9, 1.0).sees_rad(0.0), None);
    }

    #[test]
    fn nothing_is_read_finer_than_its_marks() {
        assert!((deg(gauge_reading_rad(rad(5.13))) - 5.25).abs() < 1e-9);
        assert!((deg(gauge_reading_rad(rad(5.12))) - 5.0).abs() < 1e-9);
        assert!((deg(level_reading_rad(rad(4.29))) - 4.2).abs() < 1e-9);
        let place = |x_m, z_m| Place { x_m, z_m };
        let read = tape_reading_m(place(0.0, -3.0), place(0.004, 3.777));
        assert!((read - 6.78).abs() < 1e-9);
        assert!((rule_reading_m(-0.023) + 0.025).abs() < 1e-9);
    }
}
