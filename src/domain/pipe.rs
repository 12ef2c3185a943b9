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
