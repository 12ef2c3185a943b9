//! Pipe: sizes, walls, mass, inertia and ovality.

use serde::{Deserialize, Serialize};

use super::error::{DomainError, in_range};
use super::limits;
use super::material::{DENSITY_AS_NZS_KG_M3, DENSITY_US_KG_M3};
use super::math::{GRAVITY_M_PER_S2, PI};
use super::oval::Oval;
use super::rolling::{Roller, rolling_resistance, start_slope_rad};

const M_PER_INCH: f64 = 0.0254;
const DR_MIN: f64 = 7.0;
const DR_MAX: f64 = 41.0;
/// Temperature of the wall unless another is given, °C.
const ROOM_TEMPERATURE_C: f64 = 23.0;

/// Inch sizes: the outside diameter is the size (AWWA C906 scope and size list; 63 and 65 in from
/// memory, not confirmed in a retrieved text).
pub const IPS_SIZES_IN: [u16; 17] = [
    14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36, 42, 48, 54, 63, 65,
];

/// Metric sizes: nominal outside diameter in mm (ISO 4427-2; AS/NZS 4130).
pub const METRIC_SIZES_MM: [u16; 15] = [
    355, 400, 450, 500, 560, 630, 710, 800, 900, 1000, 1200, 1400, 1600, 1800, 2000,
];

/// Published minimum walls in mm by nominal diameter and SDR (AS/NZS 4130, PE100 series). The
/// walls of 1000 SDR 13.6 and 1200 SDR 17 are thinner than diameter over SDR, and are so published.
const METRIC_WALLS_MM: [(u16, f64, f64); 21] = [
    (500, 11.0, 45.4),
    (500, 17.0, 29.6),
    (560, 17.0, 33.2),
    (630, 11.0, 57.2),
    (630, 17.0, 37.3),
    (630, 26.0, 24.1),
    (710, 17.0, 42.1),
    (800, 11.0, 72.5),
    (800, 17.0, 47.4),
    (900, 17.0, 53.5),
    (1000, 11.0, 90.3),
    (1000, 13.6, 72.5),
    (1000, 17.0, 59.3),
    (1000, 21.0, 47.7),
    (1200, 17.0, 67.9),
    (1200, 21.0, 57.2),
    (1200, 26.0, 45.9),
    (1400, 17.0, 82.4),
    (1400, 21.0, 66.7),
    (1600, 17.0, 94.1),
    (1600, 21.0, 76.2),
];

/// The standard a metric size is made to; it sets the tolerance of the mean outside diameter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum MetricStandard {
    /// +0.9 % of the nominal diameter at all sizes (derived from the published mean inside
    /// diameters, see tests).
    AsNzs4130,
    /// +0.6 % up to 630 mm, +0.9 % from 710 mm (grades B and A; ISO 4427-2:2019 table 1; the
    /// grades' sizes, ISO 11922-1, from memory, not confirmed in a retrieved text).
    Iso4427,
}

/// A nominal size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum SizeSystem {
    /// Iron pipe size in inches, one of [`IPS_SIZES_IN`].
    Ips {
        /// Size, in.
        size_in: u16,
    },
    /// Nominal outside diameter in mm, one of [`METRIC_SIZES_MM`].
    Metric {
        /// Nominal diameter, mm.
        dn_mm: u16,
        /// What it is made to.
        standard: MetricStandard,
    },
}

/// How the wall is given.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Wall {
    /// DR or SDR = outside diameter over minimum wall, 7 to 41 (ASTM F714, ISO 4065, from memory,
    /// not confirmed in a retrieved text).
    Ratio(f64),
    /// Minimum wall, m.
    Minimum {
        /// The wall, m.
        wall_m: f64,
    },
}

/// Minimum and mean wall, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallThickness {
    /// What DR or SDR is defined by.
    pub min_m: f64,
    /// What mass and inertia are computed from.
    pub avg_m: f64,
}

impl SizeSystem {
    /// The size itself if its series has it.
    pub fn check(self) -> Result<Self, DomainError> {
        let (what, value, series, unit): (_, _, &'static [u16], _) = match self {
            Self::Ips { size_in } => ("inch pipe size", size_in, &IPS_SIZES_IN, "in"),
            Self::Metric { dn_mm, .. } => {
                ("metric nominal diameter", dn_mm, &METRIC_SIZES_MM, "mm")
            }
        };
        if series.contains(&value) {
            Ok(self)
        } else {
            Err(DomainError::NotInSeries {
                what,
                value,
                series,
                unit,
            })
        }
    }

    /// Nominal outside diameter, m.
    pub fn nominal_diameter_m(self) -> f64 {
        match self {
            Self::Ips { size_in } => f64::from(size_in) * M_PER_INCH,
            Self::Metric { dn_mm, .. } => f64::from(dn_mm) * 1e-3,
        }
    }

    /// Mean outside diameter, m: the nominal one for inch sizes, the middle of the tolerance band
    /// for metric sizes (derived, see the check against published inside diameters).
    pub fn mean_diameter_m(self) -> f64 {
        match self {
            Self::Ips { .. } => self.nominal_diameter_m(),
            Self::Metric { dn_mm, standard } => {
                let dn = f64::from(dn_mm);
                let grade = match standard {
                    MetricStandard::Iso4427 if dn_mm <= 630 => 0.006,
                    _ => 0.009,
                };
                (dn + up_to_tenth(grade * dn) / 2.0) * 1e-3
            }
        }
    }

    /// Minimum and mean wall for this size.
    ///
    /// Inch sizes: t_min = OD/DR, t_avg = 1.06 t_min (half of a 12 % band; PPI Handbook of PE
    /// Pipe, ch. 6, and ASTM F714, from memory, not confirmed in a retrieved text). Metric sizes:
    /// the published wall where there is one, otherwise dn/SDR rounded up to 0.1 mm;
    /// e_max = 1.1 e_min + 0.1 mm rounded up to 0.1 mm (ISO 11922-1 grade V); the mean lies half
    /// way.
    pub fn wall(self, wall: Wall) -> Result<WallThickness, DomainError> {
        let nominal_m = self.nominal_diameter_m();
        let min_m = match wall {
            Wall::Minimum { wall_m } => in_range(
                "minimum wall",
                wall_m,
                nominal_m / DR_MAX..=nominal_m / DR_MIN,
                "m",
                "measure the wall, or give the DR printed on the pipe",
            )?,
            Wall::Ratio(ratio) => {
                in_range(
                    "DR or SDR",
                    ratio,
                    DR_MIN..=DR_MAX,
                    "",
                    "read the ratio printed on the pipe",
                )?;
                match self {
                    Self::Ips { .. } => nominal_m / ratio,
                    Self::Metric { dn_mm, .. } => {
                        let published = METRIC_WALLS_MM
                            .iter()
                            .find(|row| row.0 == dn_mm && row.1 == ratio);
                        published.map_or_else(|| up_to_tenth(f64::from(dn_mm) / ratio), |row| row.2)
                            * 1e-3
                    }
                }
            }
        };
        let avg_m = match self {
            Self::Ips { .. } => 1.06 * min_m,
            Self::Metric { .. } => {
                let max_m = up_to_tenth(1.1 * min_m * 1e3 + 0.1) * 1e-3;
                (min_m + max_m) / 2.0
            }
        };
        Ok(WallThickness { min_m, avg_m })
    }

    /// Greatest D_max - D_min of straight pipe at the factory, m. Metric sizes above 250 mm:
    /// 0.035 dn rounded up to 0.1 mm (ISO 11922-1 grade N, from memory, not confirmed in a
    /// retrieved text). Inch sizes: 5 % of the outside diameter (common practice, no source).
    pub fn out_of_roundness_limit_m(self) -> f64 {
        match self {
            Self::Ips { .. } => limits::OUT_OF_ROUNDNESS_IPS.value * self.nominal_diameter_m(),
            Self::Metric { dn_mm, .. } => {
                up_to_tenth(limits::OUT_OF_ROUNDNESS_METRIC.value * f64::from(dn_mm)) * 1e-3
            }
        }
    }
}

/// Rounded up to a tenth, as the metric standards do; a hair over a tenth from binary fractions
/// does not count.
fn up_to_tenth(value: f64) -> f64 {
    (value * 10.0 - 1e-6).ceil() / 10.0
}

/// One length of pipe as a rigid oval tube. All derived numbers follow from these fields.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pipe {
    /// Mean outside diameter, m.
    pub outside_diameter_m: f64,
    /// Minimum wall, m (what DR or SDR is defined by).
    pub wall_min_m: f64,
    /// Mean wall, m (what mass and inertia are computed from).
    pub wall_avg_m: f64,
    /// Length, m.
    pub length_m: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Ovality ψ = (D_max - D_min)/D_avg, as a fraction.
    pub ovality: f64,
    /// Temperature of the wall, °C.
    pub temperature_c: f64,
}

/// Principal moments of inertia through the centre of mass, kg·m².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrincipalInertia {
    /// About the tube's own axis.
    pub tube_axis_kg_m2: f64,
    /// About the long axis of the oval.
    pub long_axis_kg_m2: f64,
    /// About the short axis of the oval.
    pub short_axis_kg_m2: f64,
}

impl Pipe {
    /// A round stick of a listed size at 23 °C, with the density usual for its size system.
    pub fn from_size(size: SizeSystem, wall: Wall, length_m: f64) -> Result<Self, DomainError> {
        let wall = size.check()?.wall(wall)?;
        let density_kg_m3 = match size {
            SizeSystem::Ips { .. } => DENSITY_US_KG_M3,
            SizeSystem::Metric { .. } => DENSITY_AS_NZS_KG_M3,
        };
        Self {
            outside_diameter_m: size.mean_diameter_m(),
            wall_min_m: wall.min_m,
            wall_avg_m: wall.avg_m,
            length_m,
            density_kg_m3,
            ovality: 0.0,
            temperature_c: ROOM_TEMPERATURE_C,
        }
        .check()
    }

    /// The pipe itself if every field lies in the range this layer's formulas are meant for.
    pub fn check(self) -> Result<Self, DomainError> {
        in_range(
            "outside diameter",
            self.outside_diameter_m,
            0.3..=2.1,
            "m",
            "this line handles large pipe only",
        )?;
        in_range(
            "minimum wall",
            self.wall_min_m,
            self.outside_diameter_m / 45.0..=self.outside_diameter_m / 5.0,
            "m",
            "check the wall against the DR printed on the pipe",
        )?;
        in_range(
            "mean wall",
            self.wall_avg_m,
            self.wall_min_m..=1.3 * self.wall_min_m,
            "m",
            "the mean wall is the minimum wall plus half its tolerance band",
        )?;
        in_range(
            "stick length",
            self.length_m,
            2.0..=30.0,
            "m",
            "measure one stick; shorter pieces and strings are not fed from a rack",
        )?;
        in_range(
            "density",
            self.density_kg_m3,
            930.0..=980.0,
            "kg/m³",
            "take 955 (inch sizes) or 965 (metric) unless the maker states another",
        )?;
        in_range(
            "ovality",
            self.ovality,
            0.0..=0.15,
            "",
            "give (D_max - D_min)/D_avg as a fraction: 3 % is 0.03",
        )?;
        in_range(
            "pipe temperature",
            self.temperature_c,
            -40.0..=70.0,
            "°C",
            "measure the wall in °C",
        )?;
        Ok(self)
    }

    /// Ratio of outside diameter to minimum wall.
    pub fn dimension_ratio(&self) -> f64 {
        self.outside_diameter_m / self.wall_min_m
    }

    /// Mean outside radius, m.
    pub fn radius_m(&self) -> f64 {
        self.outside_diameter_m / 2.0
    }

    /// Mean inside radius, m.
    pub fn inner_radius_m(&self) -> f64 {
        self.radius_m() - self.wall_avg_m
    }

    /// The outline, of mean diameter a + b: ψ = 2(a - b)/(a + b) (definition of ASTM D2122, from
    /// memory, not confirmed in a retrieved text).
    pub fn oval(&self) -> Oval {
        let r = self.radius_m();
        Oval {
            long_m: r * (1.0 + self.ovality / 2.0),
            short_m: r * (1.0 - self.ovality / 2.0),
        }
    }

    /// Cross-section of material, m²: π (OD - t) t, round or oval (geometry).
    pub fn area_m2(&self) -> f64 {
        PI * (self.outside_diameter_m - self.wall_avg_m) * self.wall_avg_m
    }

    /// Mass per length, kg/m, from mean diameter and mean wall (PPI TR-7).
    pub fn mass_per_length_kg_per_m(&self) -> f64 {
        self.density_kg_m3 * self.area_m2()
    }

    /// Mass, kg.
    pub fn mass_kg(&self) -> f64 {
        self.mass_per_length_kg_per_m() * self.length_m
    }

    /// Weight, N.
    pub fn weight_n(&self) -> f64 {
        self.mass_kg() * GRAVITY_M_PER_S2
    }

    /// Shape factor of rolling k = I/(m R²) = ½(1 + (r/R)²) of the round tube; 0.5 for a solid
    /// bar, 1 for a thin hoop (Beer & Johnston, moments of inertia).
    pub fn shape_factor(&self) -> f64 {
        let ratio = self.inner_radius_m() / self.radius_m();
        0.5 * (1.0 + ratio * ratio)
    }

    /// Slope from which it rolls by itself at any phase, rad: what its ovality holds and what rolling
    /// resistance of this lever arm, m, holds (the sum is cautious).
    pub fn rolls_from_rad(&self, rolling_lever_arm_m: f64) -> f64 {
        let resistance = rolling_resistance(rolling_lever_arm_m, self.radius_m());
        self.oval().hang_angle_rad() + start_slope_rad(resistance)
    }

    /// What its rolling depends on.
    pub fn roller(&self) -> Roller {
        Roller {
            radius_m: self.radius_m(),
            shape_factor: self.shape_factor(),
        }
    }

    /// Moment of inertia of the round tube about its own axis, kg·m² (Beer & Johnston).
    pub fn axial_inertia_kg_m2(&self) -> f64 {
        self.shape_factor() * self.mass_kg() * self.radius_m() * self.radius_m()
    }

    /// Moment of inertia of the round tube about a cross axis through its centre, kg·m²:
    /// m[3(R² + r²) + L²]/12 (Beer & Johnston).
    pub fn cross_inertia_kg_m2(&self) -> f64 {
        let (outer, inner) = (self.radius_m(), self.inner_radius_m());
        self.mass_kg() * (3.0 * (outer * outer + inner * inner) + self.length_m * self.length_m)
            / 12.0
    }

    /// Principal moments of inertia of the oval tube, outer ellipse less inner ellipse with the
    /// same wall on both axes, kg·m² (Beer & Johnston, moments of areas).
    pub fn principal_inertia(&self) -> PrincipalInertia {
        let Oval {
            long_m: a,
            short_m: b,
        } = self.oval();
        let (inner_a, inner_b) = (a - self.wall_avg_m, b - self.wall_avg_m);
        let quarter_pi = PI / 4.0;
        let about_long_m4 = quarter_pi * (a * b * b * b - inner_a * inner_b * inner_b * inner_b);
        let about_short_m4 = quarter_pi * (b * a * a * a - inner_b * inner_a * inner_a * inner_a);
        let mass_per_m = self.density_kg_m3 * self.length_m;
        let lengthwise_kg_m2 = self.mass_kg() * self.length_m * self.length_m / 12.0;
        PrincipalInertia {
            tube_axis_kg_m2: mass_per_m * (about_long_m4 + about_short_m4),
            long_axis_kg_m2: mass_per_m * about_long_m4 + lengthwise_kg_m2,
            short_axis_kg_m2: mass_per_m * about_short_m4 + lengthwise_kg_m2,
        }
    }

    /// Second moment of area of the round tube, m⁴: π(OD⁴ - ID⁴)/64 (Gere & Goodno).
    pub fn second_moment_of_area_m4(&self) -> f64 {
        let outer2 = self.radius_m() * self.radius_m();
        let inner2 = self.inner_radius_m() * self.inner_radius_m();
        PI * (outer2 * outer2 - inner2 * inner2) / 4.0
    }

    /// Ovality, as a fraction, that the pipe's own weight gives it on a flat surface; its long
    /// axis is then level. ΔD_v = -0.4674 q R_m⁴/(E′I′), ΔD_h = 0.4292 q R_m⁴/(E′I′) with
    /// q = ρ g t, I′ = t³/12, E′ = E/(1 - ν²) (Roark's Formulas for Stress and Strain, circular
    /// rings, from memory; both constants recomputed in the tests). `modulus_pa` is the apparent
    /// modulus for the time it has lain, above 0; `poisson_ratio` 0 to 0.5.
    pub fn own_weight_ovality(&self, modulus_pa: f64, poisson_ratio: f64) -> f64 {
        let t = self.wall_avg_m;
        let mean_radius = self.radius_m() - t / 2.0;
        let load_n_per_m2 = self.density_kg_m3 * GRAVITY_M_PER_S2 * t;
        let stiffness = modulus_pa / (1.0 - poisson_ratio * poisson_ratio) * t * t * t / 12.0;
        let mean_radius2 = mean_radius * mean_radius;
        (RING_VERTICAL + RING_HORIZONTAL) * load_n_per_m2 * mean_radius2 * mean_radius2
            / stiffness
            / self.outside_diameter_m
    }

    /// Delivered ovality plus that of its own weight, as when its long axis lies level: the
    /// greatest it can show (sum of small deflections, derived).
    pub fn lying_ovality(&self, modulus_pa: f64, poisson_ratio: f64) -> f64 {
        self.ovality + self.own_weight_ovality(modulus_pa, poisson_ratio)
    }

    /// Greatest fall of the outside diameter at a cut end, m, against the undistorted diameter
    /// read at least 1.5 diameters or 300 mm from the end, whichever is less (ASTM F714, from
    /// memory, not confirmed in a retrieved text).
    pub fn toe_in_limit_m(&self) -> f64 {
        limits::TOE_IN_MAX.value * self.outside_diameter_m
    }

    /// Deepest gouge with which a stick is accepted, m: a tenth of the minimum wall (common
    /// practice, no source; some owners allow half of it).
    pub fn gouge_limit_m(&self) -> f64 {
        limits::GOUGE_MAX.value * self.wall_min_m
    }
}

/// Ring constants of the fall of the vertical and the growth of the horizontal diameter.
const RING_VERTICAL: f64 = 0.4674;
const RING_HORIZONTAL: f64 = 0.4292;

#[cfg(test)]
mod tests {
    use super::*;

    const METRIC_630: SizeSystem = SizeSystem::Metric {
        dn_mm: 630,
        standard: MetricStandard::Iso4427,
    };

    #[test]
    fn unlisted_sizes_are_refused_with_the_series() {
        let error = Pipe::from_size(SizeSystem::Ips { size_in: 25 }, Wall::Ratio(17.0), 12.0)
            .unwrap_err()
            .to_string();
        assert!(
            error.contains("25 in") && error.contains("24, 26"),
            "{error}"
        );
        let odd = SizeSystem::Metric {
            dn_mm: 640,
            standard: MetricStandard::Iso4427,
        };
        assert!(odd.check().is_err());
    }

    #[test]
    fn every_listed_size_makes_a_pipe_at_every_usual_ratio() {
        let ips = IPS_SIZES_IN.map(|size_in| SizeSystem::Ips { size_in });
        let metric = [MetricStandard::Iso4427, MetricStandard::AsNzs4130]
            .into_iter()
            .flat_map(|standard| {
                METRIC_SIZES_MM.map(|dn_mm| SizeSystem::Metric { dn_mm, standard })
            });
        for size in ips.into_iter().chain(metric) {
            for ratio in [7.3, 9.0, 11.0, 13.6, 17.0, 21.0, 26.0, 32.5, 33.0, 41.0] {
                let pipe = Pipe::from_size(size, Wall::Ratio(ratio), 12.0).unwrap();
                // Published walls stay within 4 % of diameter over ratio.
                let by_ratio = size.nominal_diameter_m() / ratio;
                assert!(
                    (pipe.wall_min_m / by_ratio - 1.0).abs() < 0.04,
                    "{size:?} {ratio}"
                );
            }
        }
    }

    #[test]
    fn bad_numbers_are_refused_by_name() {
        let good = Pipe::from_size(METRIC_630, Wall::Ratio(17.0), 12.0).unwrap();
        let bad = [
            (
                "stick length",
                Pipe {
                    length_m: f64::NAN,
                    ..good
                },
            ),
            (
                "ovality",
                Pipe {
                    ovality: 3.0,
                    ..good
                },
            ),
            (
                "density",
                Pipe {
                    density_kg_m3: 0.955,
                    ..good
                },
            ),
            (
                "mean wall",
                Pipe {
                    wall_avg_m: 0.01,
                    ..good
                },
            ),
            (
                "minimum wall",
                Pipe {
                    wall_min_m: 0.0,
                    ..good
                },
            ),
            (
                "outside diameter",
                Pipe {
                    outside_diameter_m: 630.0,
                    ..good
                },
            ),
            (
                "pipe temperature",
                Pipe {
                    temperature_c: 300.0,
                    ..good
                },
            ),
        ];
        for (name, pipe) in bad {
            let message = pipe.check().unwrap_err().to_string();
            assert!(message.starts_with(name), "{message}");
        }
        assert!(METRIC_630.wall(Wall::Ratio(4.0)).is_err());
        assert!(METRIC_630.wall(Wall::Minimum { wall_m: 37.3 }).is_err());
    }

    #[test]
    fn a_given_wall_and_its_ratio_agree() {
        let by_ratio = METRIC_630.wall(Wall::Ratio(17.0)).unwrap();
        let by_wall = METRIC_630.wall(Wall::Minimum { wall_m: 0.0373 }).unwrap();
        assert_eq!(by_ratio, by_wall);
        // e_max = 1.1 x 37.3 + 0.1 = 41.13, rounded up 41.2.
        assert!((by_wall.avg_m - 0.03925).abs() < 1e-12);
    }

    #[test]
    fn metric_limits_follow_the_standards_rounding() {
        // ISO 11922-1: mean diameter tolerance and out-of-roundness of each size, mm.
        let rows = [
            (500, 3.0, 17.5),
            (560, 3.4, 19.6),
            (630, 3.8, 22.1),
            (710, 6.4, 24.9),
            (800, 7.2, 28.0),
            (900, 8.1, 31.5),
            (1000, 9.0, 35.0),
            (1200, 10.8, 42.0),
            (1400, 12.6, 49.0),
            (1600, 14.4, 56.0),
        ];
        for (dn_mm, tolerance_mm, roundness_mm) in rows {
            let size = SizeSystem::Metric {
                dn_mm,
                standard: MetricStandard::Iso4427,
            };
            let plus_mm = (size.mean_diameter_m() - size.nominal_diameter_m()) * 2e3;
            assert!((plus_mm - tolerance_mm).abs() < 1e-9, "{dn_mm}: {plus_mm}");
            let roundness = size.out_of_roundness_limit_m() * 1e3;
            assert!(
                (roundness - roundness_mm).abs() < 1e-9,
                "{dn_mm}: {roundness}"
            );
        }
    }

    #[test]
    fn a_round_pipe_is_the_oval_pipe_of_no_ovality() {
        let pipe = Pipe::from_size(METRIC_630, Wall::Ratio(17.0), 12.0).unwrap();
        let oval = pipe.principal_inertia();
        assert!((oval.tube_axis_kg_m2 / pipe.axial_inertia_kg_m2() - 1.0).abs() < 1e-12);
        assert!((oval.long_axis_kg_m2 / pipe.cross_inertia_kg_m2() - 1.0).abs() < 1e-12);
        assert_eq!(oval.long_axis_kg_m2, oval.short_axis_kg_m2);
    }
}
