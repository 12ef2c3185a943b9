//! Feet on the ground: how far they sink under what they carry.

use crate::domain::spec::FootSpec;

/// Bearing area of a foot on its pad and of one without, m² (ours: pads of 0.6 m, feet of 0.15 m
/// square).
const PAD_M2: f64 = 0.36;
const BARE_M2: f64 = 0.0225;
/// Time in which ground gives way to most of a new load, s (ours).
const SETTLING_S: f64 = 5.0;

/// One foot. It sinks towards pressure over modulus of subgrade reaction (Winkler; foundation
/// handbooks) and does not come up again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// m³/N: sinking per load.
    softness_m_per_n: f64,
    sunk_m: f64,
}

impl Foot {
    pub fn new(spec: FootSpec, subgrade_n_per_m3: f64) -> Self {
        let area_m2 = if spec.padded { PAD_M2 } else { BARE_M2 };
        Self {
            softness_m_per_n: 1.0 / (subgrade_n_per_m3 * area_m2),
            sunk_m: 0.0,
        }
    }

    pub fn tick(&mut self, load_n: f64, dt_s: f64) {
        let under_load_m = load_n.max(0.0) * self.softness_m_per_n;
        self.sunk_m += (under_load_m - self.sunk_m).max(0.0) * (dt_s / SETTLING_S);
    }

    pub fn sunk_m(&self) -> f64 {
        self.sunk_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10 kN on 0.36 m² of ground of 40 MN/m³ is 27.8 kPa / 40 MN/m³ = 0.69 mm; bare, 11.1 mm.
    #[test]
    fn a_foot_sinks_by_pressure_over_modulus() {
        let sunk = |padded: bool| {
            let mut foot = Foot::new(FootSpec { padded }, 40.0e6);
            for _ in 0..240 * 60 {
                foot.tick(10.0e3, 1.0 / 240.0);
            }
            foot.tick(0.0, 1.0);
            foot.sunk_m()
        };
        assert!((sunk(true) / 0.694e-3 - 1.0).abs() < 0.01);
        assert!((sunk(false) / 11.11e-3 - 1.0).abs() < 0.01);
    }
}
