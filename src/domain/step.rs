//! A stick against a stop, and the row behind it.
//!
//! Heights are measured normal to the rails. The impact on the stop's corner is plastic and
//! without slip: the cautious case, because a bounce makes the stick need more speed to get over
//! (derived, see tests). Heights lie between 0 and R, pitches between 0 and a quarter turn.

use super::error::{DomainError, in_range};
use super::math::{GRAVITY_M_PER_S2, acos, cos, sin, sqrt, tan};
use super::rolling::{Roller, speed_after_run_m_per_s, start_slope_rad};

/// Halvings of the bisection for the critical pitch: below the last bit of an f64.
const HALVINGS: u32 = 60;

/// Angle at the stick's centre between the rails' normal and the stop's corner, rad:
/// β = acos(1 - h/R), 0 to a quarter turn.
pub fn corner_angle_rad(radius_m: f64, stop_height_m: f64) -> f64 {
    acos((1.0 - stop_height_m / radius_m).clamp(0.0, 1.0))
}

/// Stop height that holds a stick at rest on a slope, m: R(1 - cos θ) (statics, derived). A moving
/// stick needs far more: see [`Roller::jump_speed_m_per_s`].
pub fn static_stop_height_m(radius_m: f64, pitch_rad: f64) -> f64 {
    radius_m * (1.0 - cos(pitch_rad))
}

impl Roller {
    /// Part of its speed a stick keeps as it strikes the corner: v′/v = 1 - h/((1 + k)R)
    /// (angular momentum about the corner; Beer & Johnston, impulsive motion; derived).
    pub fn speed_kept_at_stop(&self, stop_height_m: f64) -> f64 {
        1.0 - stop_height_m / ((1.0 + self.shape_factor) * self.radius_m)
    }

    /// Least speed with which a stick that strikes the stop gets over it, m/s:
    /// √(2 g R[1 - cos(β - θ)]/(1 + k)) / [1 - h/((1 + k)R)]; 0 where the stop does not even hold
    /// it at rest, infinite for a stop above R (Beer & Johnston, impulsive motion; derived, see
    /// test).
    pub fn jump_speed_m_per_s(&self, stop_height_m: f64, pitch_rad: f64) -> f64 {
        if stop_height_m > self.radius_m {
            return f64::INFINITY;
        }
        let climb_rad = (corner_angle_rad(self.radius_m, stop_height_m) - pitch_rad).max(0.0);
        let rise_m = self.radius_m * (1.0 - cos(climb_rad));
        sqrt(2.0 * GRAVITY_M_PER_S2 * rise_m / (1.0 + self.shape_factor))
            / self.speed_kept_at_stop(stop_height_m)
    }

    /// Energy at the stop as a fraction of the energy that jumps it: (v/v_jump)². Infinite where
    /// the stop holds nothing.
    pub fn energy_fraction_at_stop(
        &self,
        speed_m_per_s: f64,
        stop_height_m: f64,
        pitch_rad: f64,
    ) -> f64 {
        let jump = self.jump_speed_m_per_s(stop_height_m, pitch_rad);
        if jump > 0.0 {
            (speed_m_per_s / jump) * (speed_m_per_s / jump)
        } else {
            f64::INFINITY
        }
    }

    /// Pitch at which one stick that runs `run_m` (up to 30 m) from rest just jumps the stop, rad:
    /// the root of v_jump(θ) = √(2 a(θ) s) (derived, see test). The stop must be higher than what
    /// holds nothing even on the slope where the stick starts, and not above R.
    pub fn critical_pitch_rad(
        &self,
        stop_height_m: f64,
        run_m: f64,
        rolling_resistance: f64,
    ) -> Result<f64, DomainError> {
        let start_rad = start_slope_rad(rolling_resistance);
        in_range(
            "stop height",
            stop_height_m,
            static_stop_height_m(self.radius_m, start_rad)..=self.radius_m,
            "m",
            "a lower stop holds nothing, a higher one is not jumped by rolling over its corner",
        )?;
        in_range(
            "run to the stop",
            run_m,
            0.0..=30.0,
            "m",
            "measure the free way to the stop",
        )?;
        // Up to β the arriving speed rises with the pitch and the needed speed falls.
        let (mut holds, mut jumps) = (start_rad, corner_angle_rad(self.radius_m, stop_height_m));
        for _ in 0..HALVINGS {
            let middle = 0.5 * (holds + jumps);
            let acceleration = self.acceleration_m_per_s2(middle, rolling_resistance);
            if speed_after_run_m_per_s(acceleration, run_m)
                >= self.jump_speed_m_per_s(stop_height_m, middle)
            {
                jumps = middle;
            } else {
                holds = middle;
            }
        }
        Ok(jumps)
    }

    /// Greatest speed just after the impact with which the stick stays on the corner as it pivots
    /// over it, m/s: v′² ≤ g R cos(β - θ), on the level g(R - h). Above it the stick flies
    /// (derived).
    pub fn corner_hold_speed_m_per_s(&self, stop_height_m: f64, pitch_rad: f64) -> f64 {
        let lean_rad = corner_angle_rad(self.radius_m, stop_height_m) - pitch_rad;
        sqrt((GRAVITY_M_PER_S2 * self.radius_m * cos(lean_rad)).max(0.0))
    }
}

/// Push of a row of `sticks` equal smooth sticks along the rails on the stop, N: n W sin θ
/// (statics, derived).
pub fn row_push_n(sticks: u32, weight_n: f64, pitch_rad: f64) -> f64 {
    f64::from(sticks) * weight_n * sin(pitch_rad)
}

/// Force of the stop's corner on the first stick of that row, N, through the stick's centre:
/// n W sin θ/sin β (statics, derived). `corner_angle_rad` above 0.
pub fn stop_force_n(sticks: u32, weight_n: f64, pitch_rad: f64, corner_angle_rad: f64) -> f64 {
    row_push_n(sticks, weight_n, pitch_rad) / sin(corner_angle_rad)
}

/// Length of row, in sticks, above which its push lifts the first stick off the rails:
/// n = tan β/tan θ (statics, smooth sticks, derived). `pitch_rad` above 0.
pub fn row_length_that_lifts(pitch_rad: f64, corner_angle_rad: f64) -> f64 {
    tan(corner_angle_rad) / tan(pitch_rad)
}

/// Greatest height to which a pin of width `pin_width_m` (0 to 2R) rises, midway between two
/// touching sticks, before it touches them, m: R - √(R² - (R - b/2)²) (geometry, derived).
pub fn pin_reach_m(radius_m: f64, pin_width_m: f64) -> f64 {
    let room = (radius_m - pin_width_m / 2.0).max(0.0);
    radius_m - sqrt((radius_m * radius_m - room * room).max(0.0))
}

/// Where a separator pin fits behind the first stick of a touching row: its whole width between
/// two distances from the gate's corner, m, along the rails.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeparatorWindow {
    /// End towards the gate.
    pub from_m: f64,
    /// End up the rack.
    pub to_m: f64,
}

impl SeparatorWindow {
    /// The window for round sticks that rest against the gate, R(sin β_g + sin β_s) to
    /// R(2 + sin β_g - sin β_s), β_g and β_s being the corner angles of gate and separator. Both
    /// half R high: 0.866 to 1.000 OD (geometry, derived, see test).
    pub fn new(radius_m: f64, gate_height_m: f64, separator_height_m: f64) -> Self {
        let gate = sin(corner_angle_rad(radius_m, gate_height_m));
        let separator = sin(corner_angle_rad(radius_m, separator_height_m));
        Self {
            from_m: radius_m * (gate + separator),
            to_m: radius_m * (2.0 + gate - separator),
        }
    }

    /// Room left on the tighter side of a pin of that width whose middle stands at `middle_m` from
    /// the gate's corner, m. Negative: it strikes a stick (uphill of the window it lifts the second
    /// stick, downhill of it the first).
    pub fn clearance_m(&self, middle_m: f64, pin_width_m: f64) -> f64 {
        let half = pin_width_m / 2.0;
        (middle_m - half - self.from_m).min(self.to_m - middle_m - half)
    }
}

#[cfg(test)]
mod tests {
    use super::super::math::rad;
    use super::*;

    const P630: Roller = Roller {
        radius_m: 0.315,
        shape_factor: 0.8872,
    };

    #[test]
    fn a_stop_lower_than_the_static_height_holds_nothing() {
        let height = static_stop_height_m(0.315, rad(3.0));
        assert!((height * 1e3 - 0.43).abs() < 0.01);
        assert_eq!(P630.jump_speed_m_per_s(0.99 * height, rad(3.0)), 0.0);
        assert!(P630.jump_speed_m_per_s(1.01 * height, rad(3.0)) > 0.0);
        assert!(
            P630.energy_fraction_at_stop(0.0, 0.5 * height, rad(3.0))
                .is_infinite()
        );
    }

    #[test]
    fn at_the_critical_pitch_the_energy_is_just_enough() {
        let pitch = P630.critical_pitch_rad(0.1, 2.0, 0.006).unwrap();
        let speed = speed_after_run_m_per_s(P630.acceleration_m_per_s2(pitch, 0.006), 2.0);
        assert!((P630.energy_fraction_at_stop(speed, 0.1, pitch) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn stops_that_hold_nothing_or_cannot_be_jumped_are_refused() {
        for height in [1e-6, 0.32, f64::NAN] {
            assert!(P630.critical_pitch_rad(height, 2.0, 0.01).is_err());
        }
        assert!(P630.critical_pitch_rad(0.1, f64::NAN, 0.01).is_err());
        assert!(P630.jump_speed_m_per_s(0.32, 0.0).is_infinite());
        assert_eq!(P630.energy_fraction_at_stop(3.0, 0.32, 0.0), 0.0);
    }

    #[test]
    fn a_stick_that_only_just_gets_over_stays_on_the_corner() {
        let after = P630.jump_speed_m_per_s(0.1, 0.0) * P630.speed_kept_at_stop(0.1);
        assert!(after < P630.corner_hold_speed_m_per_s(0.1, 0.0));
        assert!((P630.corner_hold_speed_m_per_s(0.1, 0.0) - 1.452).abs() < 1e-3);
    }

    #[test]
    fn the_separator_at_0_93_od_has_room_and_a_wrong_size_setting_has_none() {
        let od = 0.63;
        let window = SeparatorWindow::new(od / 2.0, od / 4.0, od / 4.0);
        assert!((window.from_m / od - 0.8660).abs() < 1e-4);
        assert!((window.to_m / od - 1.0).abs() < 1e-12);
        assert!(window.clearance_m(0.93 * od, 0.04) > 0.0);
        assert!(window.clearance_m(0.93 * 0.71, 0.04) < 0.0);
        assert!(window.clearance_m(0.93 * 0.56, 0.04) < 0.0);
    }
}
