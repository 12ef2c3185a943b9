//! Polyethylene: density, stiffness by load time and temperature, expansion.

use super::error::{DomainError, in_range};
use super::math::log10;

/// Density of black PE4710 pipe made to inch sizes, kg/m³ (0.0345 lb/in³; from memory, not
/// confirmed in a retrieved text).
pub const DENSITY_US_KG_M3: f64 = 955.0;
/// Density that the published AS/NZS 4130 weights contain, kg/m³ (derived, see tests).
pub const DENSITY_AS_NZS_KG_M3: f64 = 965.0;
/// Base-resin density of cell class 4, kg/m³ (ASTM D3350 table 1, from memory, not confirmed in a
/// retrieved text). Carbon black adds up to about 10 kg/m³.
pub const DENSITY_CELL_4_KG_M3: (f64, f64) = (947.0, 955.0);

/// Poisson's ratio under lasting load (PPI Handbook of PE Pipe, ch. 3, from memory, not confirmed
/// in a retrieved text; under short load 0.35 to 0.45).
pub const POISSON_RATIO: f64 = 0.45;

/// Modulus under very short load at 23 °C, Pa (130 000 psi; PPI Handbook of PE Pipe, ch. 3,
/// app. B.2, from memory, not confirmed in a retrieved text). The upper bound for recoil.
pub const MODULUS_VERY_SHORT_PA: f64 = 896e6;

/// Thermal expansion of PE4xxx pipe, 1/K (8e-5 per °F; PPI Handbook of PE Pipe, ch. 3, app. E,
/// from memory, not confirmed in a retrieved text).
pub const EXPANSION_PIPE_PER_K: f64 = 1.44e-4;
/// Thermal expansion of HDPE, 1/K (Crawford, Plastics Engineering, table 1.8).
pub const EXPANSION_RESIN_PER_K: f64 = 1.2e-4;

const HOURS_PER_YEAR: f64 = 8760.0;

/// Apparent modulus of PE4xxx at 23 °C: hours under load, MPa (PPI Handbook of PE Pipe, 2nd ed.,
/// ch. 3, table B.1.1).
const MODULUS_MPA_BY_HOURS: [(f64, f64); 6] = [
    (0.5, 565.0),
    (2.0, 510.0),
    (12.0, 434.0),
    (100.0, 379.0),
    (HOURS_PER_YEAR, 276.0),
    (50.0 * HOURS_PER_YEAR, 200.0),
];

/// Multiplier on the modulus: °C, factor (PPI Handbook of PE Pipe, ch. 3, table B.1.2, from
/// memory, not confirmed in a retrieved text).
const MODULUS_FACTOR_BY_C: [(f64, f64); 10] = [
    (-29.0, 2.54),
    (-18.0, 2.18),
    (-7.0, 1.81),
    (4.0, 1.49),
    (16.0, 1.18),
    (23.0, 1.00),
    (27.0, 0.93),
    (38.0, 0.73),
    (49.0, 0.58),
    (60.0, 0.43),
];

/// Apparent modulus at 23 °C after `load_time_h` hours under load, 0.5 h to 50 years, Pa; linear
/// in the logarithm of time between the rows of the table (PPI Handbook of PE Pipe, 2nd ed., ch. 3,
/// table B.1.1).
pub fn apparent_modulus_pa(load_time_h: f64) -> Result<f64, DomainError> {
    let last_h = MODULUS_MPA_BY_HOURS[MODULUS_MPA_BY_HOURS.len() - 1].0;
    in_range(
        "time under load",
        load_time_h,
        MODULUS_MPA_BY_HOURS[0].0..=last_h,
        "h",
        "take the half-hour value for sag, the very short value for recoil",
    )?;
    Ok(interpolate(&MODULUS_MPA_BY_HOURS, load_time_h, log10) * 1e6)
}

/// Factor on the modulus at a wall temperature of -29 to 60 °C; 1 at 23 °C (PPI Handbook of PE
/// Pipe, ch. 3, table B.1.2, from memory, not confirmed in a retrieved text).
pub fn modulus_temperature_factor(temperature_c: f64) -> Result<f64, DomainError> {
    let last_c = MODULUS_FACTOR_BY_C[MODULUS_FACTOR_BY_C.len() - 1].0;
    in_range(
        "wall temperature",
        temperature_c,
        MODULUS_FACTOR_BY_C[0].0..=last_c,
        "°C",
        "measure the wall, not the air, and do not work outside this range",
    )?;
    Ok(interpolate(&MODULUS_FACTOR_BY_C, temperature_c, |c| c))
}

/// Growth of a free length, m; negative when it cools. ΔL = α L ΔT.
pub fn thermal_growth_m(length_m: f64, warming_k: f64, expansion_per_k: f64) -> f64 {
    expansion_per_k * length_m * warming_k
}

/// Piecewise linear on a rising table in the scale `scale`; `x` must lie within the table.
fn interpolate(table: &[(f64, f64)], x: f64, scale: fn(f64) -> f64) -> f64 {
    let upper = table
        .partition_point(|row| row.0 < x)
        .clamp(1, table.len() - 1);
    let ((x0, y0), (x1, y1)) = (table[upper - 1], table[upper]);
    y0 + (y1 - y0) * (scale(x) - scale(x0)) / (scale(x1) - scale(x0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_give_their_own_rows_back() {
        for (hours, mpa) in MODULUS_MPA_BY_HOURS {
            assert!((apparent_modulus_pa(hours).unwrap() - mpa * 1e6).abs() < 1.0);
        }
        for (c, factor) in MODULUS_FACTOR_BY_C {
            assert!((modulus_temperature_factor(c).unwrap() - factor).abs() < 1e-12);
        }
    }

    #[test]
    fn outside_the_tables_the_answer_is_an_error_that_says_the_range() {
        let message = apparent_modulus_pa(0.1).unwrap_err().to_string();
        assert!(message.contains("0.5 to 438000 h"), "{message}");
        for bad in [-29.1, 60.1, f64::NAN] {
            assert!(modulus_temperature_factor(bad).is_err());
        }
    }

    #[test]
    fn published_modulus_agrees_in_both_units() {
        // The handbook prints psi; the MPa column is rounded to 1 MPa.
        for (psi, mpa) in [82e3, 74e3, 63e3, 55e3, 40e3, 29e3]
            .into_iter()
            .zip(MODULUS_MPA_BY_HOURS.map(|row| row.1))
        {
            assert!((psi * 6.894757e-3 - mpa).abs() < 0.6);
        }
    }
}
