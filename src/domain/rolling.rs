//! Rolling, slipping, two sticks meeting, wind.

use super::math::{GRAVITY_M_PER_S2, atan, cos, sin, sqrt, tan};

/// Density of air at sea level and 15 °C, kg/m³.
pub const AIR_DENSITY_KG_M3: f64 = 1.225;
/// Kinematic viscosity of air, m²/s.
pub const AIR_VISCOSITY_M2_PER_S: f64 = 1.5e-5;
/// Drag coefficient of a cylinder across the wind above the drag crisis, Re > 3.5e6 (Roshko,
/// J. Fluid Mech. 10 (1961) 345). Between 2e5 and 3.5e6 sweep 0.4 to 1.2.
pub const DRAG_COEFFICIENT: f64 = 0.7;
/// Lever arm of rolling resistance of a polymer on steel, m (0.08 in, a supplier's calculator; an
/// assumption to be measured with a slope test).
pub const LEVER_ARM_POLYMER_ON_STEEL_M: f64 = 0.002;

/// A round body that rolls: all that its motion depends on apart from its mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roller {
    /// Outside radius R, m, above 0.
    pub radius_m: f64,
    /// Shape factor k = I/(m R²), 0.5 (solid) to 1 (hoop).
    pub shape_factor: f64,
}

/// Rolling resistance coefficient C_rr = f/R from a lever arm f, m, 0 or more (Coulomb rolling
/// friction, mechanics texts, from memory, not confirmed in a retrieved text).
pub fn rolling_resistance(lever_arm_m: f64, radius_m: f64) -> f64 {
    lever_arm_m / radius_m
}

/// Slope above which a round stick starts by itself, rad: tan θ = f/R (same source).
pub fn start_slope_rad(rolling_resistance: f64) -> f64 {
    atan(rolling_resistance)
}

/// Slope down to which friction `friction` (0 or more) keeps a stick rolling without slip, rad:
/// tan θ = μ(1 + k)/k (OpenStax University Physics 1, 11.1).
pub fn no_slip_limit_rad(friction: f64, shape_factor: f64) -> f64 {
    atan(friction * (1.0 + shape_factor) / shape_factor)
}

/// Acceleration of a stick that slides down a slope steeper than the no-slip limit, m/s²:
/// g(sin θ - μ cos θ) (OpenStax University Physics 1, 11.1).
pub fn sliding_acceleration_m_per_s2(pitch_rad: f64, friction: f64) -> f64 {
    GRAVITY_M_PER_S2 * (sin(pitch_rad) - friction * cos(pitch_rad))
}

/// Growth of its surface speed ωR meanwhile, m/s²: μ g cos θ/k (same source).
pub fn sliding_spin_acceleration_m_per_s2(pitch_rad: f64, friction: f64, shape_factor: f64) -> f64 {
    friction * GRAVITY_M_PER_S2 * cos(pitch_rad) / shape_factor
}

/// Speed after a run of `run_m` (0 or more) from rest, m/s: √(2 a s); 0 where it does not start.
pub fn speed_after_run_m_per_s(acceleration_m_per_s2: f64, run_m: f64) -> f64 {
    sqrt((2.0 * acceleration_m_per_s2 * run_m).max(0.0))
}

/// Time for a run of `run_m` (0 or more) from rest, s: √(2 s/a); none where it does not start.
pub fn time_over_run_s(acceleration_m_per_s2: f64, run_m: f64) -> Option<f64> {
    (acceleration_m_per_s2 > 0.0).then(|| sqrt(2.0 * run_m / acceleration_m_per_s2))
}

/// Speeds of two sticks, m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AfterCollision {
    /// The stick that came rolling.
    pub striker_m_per_s: f64,
    /// The stick that lay still.
    pub struck_m_per_s: f64,
}

impl Roller {
    /// Acceleration of rolling without slip down a slope, m/s²: g(sin θ - C_rr cos θ)/(1 + k)
    /// (OpenStax University Physics 1, 11.1; the resistance from the balance of moments,
    /// derived). Negative: a rolling stick slows down, one at rest stays.
    pub fn acceleration_m_per_s2(&self, pitch_rad: f64, rolling_resistance: f64) -> f64 {
        GRAVITY_M_PER_S2 * (sin(pitch_rad) - rolling_resistance * cos(pitch_rad))
            / (1.0 + self.shape_factor)
    }

    /// Speed once slip has ended on the level, m/s: (v + k ωR)/(1 + k), ωR being the surface
    /// speed of the spin in the sense of rolling (Cambridge engineering dynamics, rolling after
    /// slip; Beer & Johnston).
    pub fn settled_speed_m_per_s(&self, speed_m_per_s: f64, surface_speed_m_per_s: f64) -> f64 {
        (speed_m_per_s + self.shape_factor * surface_speed_m_per_s) / (1.0 + self.shape_factor)
    }

    /// A rolling stick hits an equal one at rest and both settle to rolling; smooth contact of
    /// restitution 0 to 1: v₁ = ((1 - e)v/2 + k v)/(1 + k), v₂ = (1 + e)v/(2(1 + k)) (derived, see
    /// test).
    pub fn collide_and_settle(&self, speed_m_per_s: f64, restitution: f64) -> AfterCollision {
        let striker = (1.0 - restitution) * speed_m_per_s / 2.0;
        let struck = (1.0 + restitution) * speed_m_per_s / 2.0;
        AfterCollision {
            striker_m_per_s: self.settled_speed_m_per_s(striker, speed_m_per_s),
            struck_m_per_s: self.settled_speed_m_per_s(struck, 0.0),
        }
    }

    /// Energy of rolling, J: ½ m(1 + k)v².
    pub fn rolling_energy_j(&self, mass_kg: f64, speed_m_per_s: f64) -> f64 {
        0.5 * mass_kg * (1.0 + self.shape_factor) * speed_m_per_s * speed_m_per_s
    }

    /// Speed of rolling that carries `energy_j` (0 or more), m/s.
    pub fn speed_for_energy_m_per_s(&self, mass_kg: f64, energy_j: f64) -> f64 {
        sqrt(2.0 * energy_j / (mass_kg * (1.0 + self.shape_factor)))
    }
}

/// Wind force on a stick lying across it, N: ½ρ C_d D L v² (fluid mechanics texts, from memory,
/// not confirmed in a retrieved text).
pub fn wind_drag_n(
    drag_coefficient: f64,
    diameter_m: f64,
    length_m: f64,
    wind_m_per_s: f64,
) -> f64 {
    0.5 * AIR_DENSITY_KG_M3 * drag_coefficient * diameter_m * length_m * wind_m_per_s * wind_m_per_s
}

/// Reynolds number of a stick across the wind, which tells how far its drag is known.
pub fn reynolds(diameter_m: f64, wind_m_per_s: f64) -> f64 {
    wind_m_per_s * diameter_m / AIR_VISCOSITY_M2_PER_S
}

/// Wind across a stick on level rails that starts it rolling, m/s: drag = weight × tan of the
/// slope on which it would start, which is C_rr for a round stick and that of the hang angle for
/// an oval one (derived, see test).
pub fn wind_start_speed_m_per_s(
    weight_n: f64,
    start_slope_rad: f64,
    drag_coefficient: f64,
    diameter_m: f64,
    length_m: f64,
) -> f64 {
    let force_n = weight_n * tan(start_slope_rad);
    sqrt(force_n / wind_drag_n(drag_coefficient, diameter_m, length_m, 1.0))
}

#[cfg(test)]
mod tests {
    use super::super::math::rad;
    use super::*;

    const HOOP: Roller = Roller {
        radius_m: 0.3,
        shape_factor: 1.0,
    };

    #[test]
    fn textbook_hoop_on_sixty_degrees_needs_friction_0_87() {
        // OpenStax University Physics 1, 11.1.
        let limit = no_slip_limit_rad(0.866, 1.0);
        assert!((limit - rad(60.0)).abs() < 1e-3);
    }

    #[test]
    fn a_stick_on_too_flat_a_slope_has_no_time_and_no_speed() {
        let a = HOOP.acceleration_m_per_s2(rad(0.1), 0.00635);
        assert!(a < 0.0);
        assert_eq!(speed_after_run_m_per_s(a, 3.0), 0.0);
        assert_eq!(time_over_run_s(a, 3.0), None);
    }

    #[test]
    fn spin_and_slide_meet_at_the_no_slip_limit() {
        let (mu, k) = (0.2, 0.88);
        let at = no_slip_limit_rad(mu, k);
        let slide = sliding_acceleration_m_per_s2(at, mu);
        let spin = sliding_spin_acceleration_m_per_s2(at, mu, k);
        assert!((slide - spin).abs() < 1e-12);
    }

    #[test]
    fn energy_and_its_speed_are_each_other_s_inverse() {
        let v = HOOP.speed_for_energy_m_per_s(900.0, 79.0);
        assert!((HOOP.rolling_energy_j(900.0, v) - 79.0).abs() < 1e-9);
    }

    #[test]
    fn a_hit_without_bounce_or_with_all_of_it_keeps_the_settled_sum() {
        // Slip on the level moves momentum to the ground, by the same amount however elastic.
        for e in [0.0, 0.5, 1.0] {
            let after = HOOP.collide_and_settle(1.0, e);
            assert!((after.striker_m_per_s + after.struck_m_per_s - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn reynolds_of_a_24_inch_stick_in_a_stiff_wind() {
        assert!((reynolds(0.63, 15.0) - 6.3e5).abs() < 1.0);
    }
}
