//! An oval stick on a slope: where it hangs, and what sets it off.
//!
//! The phase is the angle by which the long axis is turned in the sense of rolling downhill from
//! lying flat on the rails. With h(φ) the height of the centre above the rails, h² =
//! a² sin²φ + b² cos²φ, the centre advances by h dφ and its potential is
//! m g (h cos θ - sin θ ∫h dφ); all below follows (derived; limits agree with the classical
//! statics problem of an ellipse on a rough slope).

use super::math::{GRAVITY_M_PER_S2, PI, asin, atan, atan2, cos, sin, sqrt, tan};
use super::rolling::Roller;

/// Even number of intervals of Simpson's rule over at most a quarter turn; the integrand is
/// smooth, so the error is far below a part in 10⁹.
const INTERVALS: u32 = 32;

/// The outline of an oval stick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oval {
    /// Long semi-axis a, m, not below b.
    pub long_m: f64,
    /// Short semi-axis b, m, above 0.
    pub short_m: f64,
}

impl Oval {
    /// Steepest slope on which it can hang, rad: sin α = (a² - b²)/(a² + b²) (classical statics
    /// problem; brute force in the tests). In per cent about its ovality in per cent.
    pub fn hang_angle_rad(&self) -> f64 {
        let (a2, b2) = self.squares();
        asin((a2 - b2) / (a2 + b2))
    }

    /// Phases at which it balances on a slope of 0 to its hang angle: (stable, unstable), rad,
    /// from 0 and a quarter turn on the level to one and the same at the hang angle. None where
    /// it cannot hang (derived, see test).
    pub fn balance_phases_rad(&self, pitch_rad: f64) -> Option<(f64, f64)> {
        // (a² - b²) t = tan θ (a² t² + b²) with t = tan φ.
        let (a2, b2) = self.squares();
        let (p, q) = (a2 - b2, tan(pitch_rad));
        let discriminant = p * p - 4.0 * q * q * a2 * b2;
        if discriminant < 0.0 || p <= 0.0 {
            return None;
        }
        let root = p + sqrt(discriminant);
        // The product of the roots is b²/a²: no difference of near equals, no division by tan 0.
        Some((atan(2.0 * q * b2 / root), atan2(root, 2.0 * q * a2)))
    }

    /// Energy of the nudge that sets it off downhill from where it hangs, J: m g (a - b) on the
    /// level, 0 at the hang angle and beyond (derived, see test).
    pub fn barrier_energy_j(&self, mass_kg: f64, pitch_rad: f64) -> f64 {
        let Some((stable, unstable)) = self.balance_phases_rad(pitch_rad) else {
            return 0.0;
        };
        let rise = (self.height_m(unstable) - self.height_m(stable)) * cos(pitch_rad);
        let fall = sin(pitch_rad) * self.travel_m(stable, unstable);
        (mass_kg * GRAVITY_M_PER_S2 * (rise - fall)).max(0.0)
    }

    /// Speed of rolling, in the hanging phase, that carries it over that barrier, m/s. `roller`
    /// is the round stick of the same mean diameter (derived).
    pub fn carry_over_speed_m_per_s(&self, roller: Roller, pitch_rad: f64) -> f64 {
        roller.speed_for_energy_m_per_s(1.0, self.barrier_energy_j(1.0, pitch_rad))
    }

    /// How far it reaches from its centre in a direction at `angle_rad` from its long axis, m
    /// (support function of the ellipse).
    pub fn reach_m(&self, angle_rad: f64) -> f64 {
        let (a2, b2) = self.squares();
        let (s, c) = (sin(angle_rad), cos(angle_rad));
        sqrt(a2 * c * c + b2 * s * s)
    }

    /// Height of its centre above the rails, m.
    pub fn height_m(&self, phase_rad: f64) -> f64 {
        self.reach_m(0.5 * PI - phase_rad)
    }

    /// Way of the centre along the rails between two phases, m: ∫h dφ by Simpson's rule.
    fn travel_m(&self, from_rad: f64, to_rad: f64) -> f64 {
        let step = (to_rad - from_rad) / f64::from(INTERVALS);
        let inner: f64 = (1..INTERVALS)
            .map(|i| {
                let weight = if i % 2 == 1 { 4.0 } else { 2.0 };
                weight * self.height_m(from_rad + f64::from(i) * step)
            })
            .sum();
        (self.height_m(from_rad) + inner + self.height_m(to_rad)) * step / 3.0
    }

    fn squares(&self) -> (f64, f64) {
        (self.long_m * self.long_m, self.short_m * self.short_m)
    }
}

#[cfg(test)]
mod tests {
    use super::super::math::{PI, rad};
    use super::*;

    const OVAL: Oval = Oval {
        long_m: 0.322875,
        short_m: 0.307125,
    };

    #[test]
    fn on_the_level_it_balances_flat_and_upright() {
        let (stable, unstable) = OVAL.balance_phases_rad(0.0).unwrap();
        assert_eq!(stable, 0.0);
        assert!((unstable - PI / 2.0).abs() < 1e-12);
    }

    #[test]
    fn a_round_stick_hangs_nowhere() {
        let round = Oval {
            long_m: 0.3,
            short_m: 0.3,
        };
        assert_eq!(round.hang_angle_rad(), 0.0);
        assert_eq!(round.balance_phases_rad(rad(1.0)), None);
        assert_eq!(round.barrier_energy_j(900.0, 0.0), 0.0);
    }

    #[test]
    fn the_two_balances_meet_at_the_hang_angle() {
        let limit = OVAL.hang_angle_rad();
        let (stable, unstable) = OVAL.balance_phases_rad(limit * (1.0 - 1e-9)).unwrap();
        assert!((stable - unstable).abs() < 1e-3);
        assert_eq!(OVAL.balance_phases_rad(limit * 1.001), None);
    }
}
