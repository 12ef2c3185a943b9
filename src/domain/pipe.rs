//! Pipe: dimensions, mass and inertia.

use serde::{Deserialize, Serialize};

/// One length of pipe as a rigid oval tube. All derived numbers follow from these fields.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pipe {
    /// Mean outside diameter, m.
    pub outside_diameter_m: f64,
    /// Minimum wall, m (what DR or SDR is defined by).
    pub wall_min_m: f64,
    /// Mean wall, m (what mass and inertia are computed from).
    pub wall_avg_m: f64,
    pub length_m: f64,
    pub density_kg_m3: f64,
    /// Ovality ψ = (D_max - D_min)/D_avg, as a fraction.
    pub ovality: f64,
    pub temperature_c: f64,
}

impl Pipe {
    pub fn radius_m(&self) -> f64 { self.outside_diameter_m / 2.0 }
    pub fn semi_axes_m(&self) -> (f64, f64) {
        let r = self.radius_m();
        (r * (1.0 + self.ovality / 2.0), r * (1.0 - self.ovality / 2.0))
    }
    pub fn mass_kg(&self) -> f64 {
        let t = self.wall_avg_m;
        self.density_kg_m3 * super::math::PI * (self.outside_diameter_m - t) * t * self.length_m
    }
    pub fn shape_factor(&self) -> f64 {
        let q = 1.0 - 2.0 * self.wall_avg_m / self.outside_diameter_m;
        0.5 * (1.0 + q * q)
    }
    pub fn principal_inertia_kg_m2(&self) -> [f64; 3] {
        let (a, b) = self.semi_axes_m();
        let t = self.wall_avg_m;
        let (c, d) = (a - t, b - t);
        let area = a * b - c * d;
        let m = self.mass_kg();
        let yy = m * (a * b.powi(3) - c * d.powi(3)) / (4.0 * area);
        let xx = m * (a.powi(3) * b - c.powi(3) * d) / (4.0 * area);
        let l = m * self.length_m * self.length_m / 12.0;
        [yy + l, xx + l, xx + yy]
    }
}
