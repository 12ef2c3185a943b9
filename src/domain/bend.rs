//! Bent pipe: the energy it holds and what it does when it is let go.
//!
//! Polyethylene relaxes, so part of the energy is lost with the time held: with the very short
//! modulus these are upper bounds.

use super::error::{DomainError, in_range};
use super::math::sqrt;

/// Least radius of a cold bend over outside diameter, by DR up to and including the first number
/// (PPI Handbook of PE Pipe, underground installation, quoted in a secondary text).
const MIN_BEND_RATIO_UP_TO_DR: [(f64, f64); 6] = [
    (9.0, 20.0),
    (13.6, 25.0),
    (21.0, 27.0),
    (26.0, 34.0),
    (33.0, 42.0),
    (41.0, 52.0),
];

/// The same where a fitting or a flange lies in the bend (PPI Handbook of PE Pipe, from memory,
/// not confirmed in a retrieved text).
pub const MIN_BEND_RATIO_WITH_FITTING: f64 = 100.0;

/// Least radius of a cold bend over outside diameter for DR 7 to 41; a DR between two rows takes
/// the wider bend.
pub fn min_bend_ratio(dimension_ratio: f64) -> Result<f64, DomainError> {
    in_range(
        "DR",
        dimension_ratio,
        7.0..=41.0,
        "",
        "read the DR printed on the pipe",
    )?;
    let row = MIN_BEND_RATIO_UP_TO_DR.partition_point(|row| row.0 < dimension_ratio);
    Ok(MIN_BEND_RATIO_UP_TO_DR[row].1)
}

/// Strain of the outermost fibre of a pipe bent to a radius, 1: D/(2ρ) (Gere & Goodno).
pub fn bend_strain(outside_diameter_m: f64, bend_radius_m: f64) -> f64 {
    outside_diameter_m / (2.0 * bend_radius_m)
}

/// Energy per length of a pipe held to a radius, J/m: E I/(2ρ²) (Gere & Goodno, strain energy).
pub fn bend_energy_j_per_m(rigidity_n_m2: f64, bend_radius_m: f64) -> f64 {
    rigidity_n_m2 / (2.0 * bend_radius_m * bend_radius_m)
}

/// A pipe clamped at one end and pulled aside at the other, all above 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PulledEnd {
    /// Product E I, N·m².
    pub rigidity_n_m2: f64,
    /// Mass per length, kg/m.
    pub mass_kg_per_m: f64,
    /// Free length from the clamp, m.
    pub length_m: f64,
    /// How far the end is pulled aside, m; up to about a tenth of the length.
    pub pulled_m: f64,
}

impl PulledEnd {
    /// Force that holds it, N: 3 E I δ/ℓ³ (Gere & Goodno).
    pub fn force_n(&self) -> f64 {
        let l = self.length_m;
        3.0 * self.rigidity_n_m2 * self.pulled_m / (l * l * l)
    }

    /// Energy it holds, J: 3 E I δ²/(2ℓ³) (Gere & Goodno).
    pub fn energy_j(&self) -> f64 {
        0.5 * self.force_n() * self.pulled_m
    }

    /// Speed of the end after release by the first mode, m/s: δ·3.516 √(E I/(m′ℓ⁴)) (Rao,
    /// Mechanical Vibrations).
    pub fn recoil_speed_by_mode_m_per_s(&self) -> f64 {
        let l2 = self.length_m * self.length_m;
        self.pulled_m * FIRST_MODE * sqrt(self.rigidity_n_m2 / self.mass_kg_per_m) / l2
    }

    /// The same by energy, with 33/140 of the mass at the end, m/s (Rao); 1.5 % above the first.
    pub fn recoil_speed_by_energy_m_per_s(&self) -> f64 {
        let moving_kg = 33.0 / 140.0 * self.mass_kg_per_m * self.length_m;
        sqrt(2.0 * self.energy_j() / moving_kg)
    }
}

/// Square of the first root of cos x cosh x = -1.
const FIRST_MODE: f64 = 3.516_015_3;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bend_rows_are_the_published_ones_and_gaps_take_the_wider_bend() {
        let rows = [
            (7.0, 20.0),
            (9.0, 20.0),
            (11.0, 25.0),
            (13.5, 25.0),
            (17.0, 27.0),
            (21.0, 27.0),
            (26.0, 34.0),
            (32.5, 42.0),
            (41.0, 52.0),
            (10.0, 25.0),
            (22.0, 34.0),
        ];
        for (dr, ratio) in rows {
            assert_eq!(min_bend_ratio(dr).unwrap(), ratio, "DR {dr}");
        }
        assert!(min_bend_ratio(42.0).is_err() && min_bend_ratio(f64::NAN).is_err());
    }

    #[test]
    fn published_strains_follow_from_the_ratios() {
        for (ratio, percent) in [
            (20.0, 2.50),
            (25.0, 2.00),
            (27.0, 1.85),
            (34.0, 1.47),
            (42.0, 1.19),
            (52.0, 0.96),
        ] {
            assert!((bend_strain(1.0, ratio) * 100.0 - percent).abs() < 0.005);
        }
    }
}
