//! How a number of the scenario is spread over the trials.

use serde::{Deserialize, Serialize};

use super::halving::least;
use crate::domain::math::sqrt;

/// Normal deviates further out than this have no probability that an f64 can tell from 0 or 1.
const FURTHEST: f64 = 8.3;

/// A distribution, in the unit of its field.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Spread {
    /// Evenly between two values.
    Uniform(f64, f64),
    /// From a least over a most likely to a greatest value.
    Triangular(f64, f64, f64),
    /// With a mean and a standard deviation.
    Normal(f64, f64),
}

impl Spread {
    /// Its least and greatest value; infinite where it has none.
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::Uniform(low, high) | Self::Triangular(low, _, high) => (low, high),
            Self::Normal(..) => (f64::NEG_INFINITY, f64::INFINITY),
        }
    }

    /// Whether its numbers make a distribution at all.
    pub fn is_sound(self) -> bool {
        match self {
            Self::Uniform(low, high) => low.is_finite() && high.is_finite() && low < high,
            Self::Triangular(low, mode, high) => {
                low.is_finite() && high.is_finite() && low < high && (low..=high).contains(&mode)
            }
            Self::Normal(mean, deviation) => {
                mean.is_finite() && deviation.is_finite() && deviation > 0.0
            }
        }
    }

    /// Part of it that lies below a value.
    fn below(self, value: f64) -> f64 {
        match self {
            Self::Uniform(low, high) => ((value - low) / (high - low)).clamp(0.0, 1.0),
            Self::Triangular(low, mode, high) => {
                if value <= low {
                    0.0
                } else if value >= high {
                    1.0
                } else if value < mode {
                    (value - low) * (value - low) / ((high - low) * (mode - low))
                } else {
                    1.0 - (high - value) * (high - value) / ((high - low) * (high - mode))
                }
            }
            Self::Normal(mean, deviation) => normal_below((value - mean) / deviation),
        }
    }

    /// The value below which the part `part` (0 to 1) lies.
    fn quantile(self, part: f64) -> f64 {
        match self {
            Self::Uniform(low, high) => low + part * (high - low),
            Self::Triangular(low, mode, high) => {
                let (span, rise, fall) = (high - low, mode - low, high - mode);
                if part * span < rise {
                    low + sqrt(part * span * rise)
                } else {
                    high - sqrt((1.0 - part) * span * fall)
                }
            }
            Self::Normal(mean, deviation) => mean + deviation * normal_quantile(part),
        }
    }

    /// The part of it that lies within two values.
    pub fn part_within(self, (low, high): (f64, f64)) -> f64 {
        self.below(high) - self.below(low)
    }

    /// The quantile of what is left of it within two values.
    pub fn quantile_within(self, part: f64, (low, high): (f64, f64)) -> f64 {
        let (from, to) = (self.below(low), self.below(high));
        self.quantile(from + part * (to - from)).clamp(low, high)
    }
}

/// Probability that a standard normal deviate is below a value.
pub fn normal_below(deviate: f64) -> f64 {
    0.5 * libm::erfc(-deviate / sqrt(2.0))
}

/// The standard normal deviate below which the part `part` lies.
pub fn normal_quantile(part: f64) -> f64 {
    least((-FURTHEST, FURTHEST), |deviate| {
        normal_below(deviate) >= part
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_invert_what_lies_below() {
        for spread in [
            Spread::Uniform(0.14, 0.3),
            Spread::Triangular(1.0, 1.5, 4.0),
            Spread::Triangular(1.0, 1.0, 4.0),
            Spread::Triangular(1.0, 4.0, 4.0),
            Spread::Normal(20.0, 5.0),
        ] {
            for i in 1..40 {
                let part = f64::from(i) / 40.0;
                let value = spread.quantile(part);
                assert!((spread.below(value) - part).abs() < 1e-12, "{spread:?}");
            }
        }
        assert!((normal_quantile(0.975) - 1.959_963_984_540_054).abs() < 1e-12);
    }

    #[test]
    fn what_is_cut_off_keeps_its_shape_within() {
        let spread = Spread::Normal(20.0, 5.0);
        let within = (18.0, 30.0);
        assert_eq!(spread.quantile_within(0.0, within), 18.0);
        assert!((spread.quantile_within(1.0, within) - 30.0).abs() < 1e-9);
        let middle = spread.quantile_within(0.5, within);
        let below = spread.part_within((18.0, middle)) / spread.part_within(within);
        assert!((below - 0.5).abs() < 1e-12);
    }
}
