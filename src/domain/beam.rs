//! A stick as a beam on two supports, the same overhang at each end.
//!
//! Formulas: Timoshenko; Gere & Goodno; Roark (overhanging beam under uniform load). Down is
//! positive for sag and droop.

use super::error::{DomainError, in_range};
use super::limits;

/// Spacings with a name, as fractions of the stick's length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NamedSpacing {
    /// The middle lies as high as the supports: √6/(√5 + √6) (derived, see test).
    ZeroMidSag,
    /// Ends and middle sag alike, the least possible (derived, see test).
    LeastSag,
    /// The rule of the trade, length over 1.8 (common practice, no source).
    TradeRule,
    /// Least shortening of the axis, 0.5594 (metrology; derived, see test).
    Bessel,
    /// End faces plumb, 1/√3 (metrology; derived, see test).
    Airy,
    /// Moments at supports and middle alike, 2 - √2 (beam handbooks; derived, see test).
    EqualMoments,
}

impl NamedSpacing {
    /// Spacing over length.
    pub fn fraction(self) -> f64 {
        match self {
            Self::ZeroMidSag => 0.522_774_424_948_338_8,
            Self::LeastSag => 0.553_701_797_810_816_5,
            Self::TradeRule => limits::CRADLE_SPACING.value,
            Self::Bessel => 0.559_380_118_673,
            Self::Airy => 0.577_350_269_189_625_8,
            Self::EqualMoments => 2.0 - core::f64::consts::SQRT_2,
        }
    }
}

/// A uniform beam on two supports, placed evenly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupportedBeam {
    length_m: f64,
    spacing_m: f64,
    load_n_per_m: f64,
    rigidity_n_m2: f64,
}

impl SupportedBeam {
    /// `load_n_per_m` is the weight per length, `rigidity_n_m2` the product E I.
    pub fn new(
        length_m: f64,
        spacing_m: f64,
        load_n_per_m: f64,
        rigidity_n_m2: f64,
    ) -> Result<Self, DomainError> {
        in_range(
            "stick length",
            length_m,
            0.1..=100.0,
            "m",
            "measure one stick",
        )?;
        in_range(
            "support spacing",
            spacing_m,
            0.1 * length_m..=length_m,
            "m",
            "both supports lie under the stick, a tenth of its length apart at least",
        )?;
        in_range(
            "load",
            load_n_per_m,
            0.0..=1e6,
            "N/m",
            "give the weight per length",
        )?;
        in_range(
            "bending rigidity",
            rigidity_n_m2,
            1.0..=1e12,
            "N·m²",
            "multiply the apparent modulus in Pa by the second moment of area in m⁴",
        )?;
        Ok(Self {
            length_m,
            spacing_m,
            load_n_per_m,
            rigidity_n_m2,
        })
    }

    /// Overhang at each end, m: (L - s)/2.
    pub fn overhang_m(&self) -> f64 {
        (self.length_m - self.spacing_m) / 2.0
    }

    /// Bending moment at a support, N·m: -w a²/2 (negative: the top is stretched).
    pub fn support_moment_n_m(&self) -> f64 {
        let a = self.overhang_m();
        -self.load_n_per_m * a * a / 2.0
    }

    /// Bending moment in the middle, N·m: w s²/8 - w a²/2.
    pub fn mid_moment_n_m(&self) -> f64 {
        let s = self.spacing_m;
        self.load_n_per_m * s * s / 8.0 + self.support_moment_n_m()
    }

    /// Sag of the middle below the supports, m: w s²(5 s² - 24 a²)/(384 E I).
    pub fn mid_sag_m(&self) -> f64 {
        let (s, a) = (self.spacing_m, self.overhang_m());
        self.load_n_per_m * s * s * (5.0 * s * s - 24.0 * a * a) / (384.0 * self.rigidity_n_m2)
    }

    /// Droop of an end below the supports, m: w a(3 a³ + 6 a² s - s³)/(24 E I).
    pub fn end_droop_m(&self) -> f64 {
        let (s, a) = (self.spacing_m, self.overhang_m());
        self.load_n_per_m * a * (3.0 * a * a * a + 6.0 * a * a * s - s * s * s)
            / (24.0 * self.rigidity_n_m2)
    }

    /// Slope of an end, rad, positive drooping: w(4 a³ + 6 a² s - s³)/(24 E I).
    pub fn end_slope_rad(&self) -> f64 {
        let (s, a) = (self.spacing_m, self.overhang_m());
        self.load_n_per_m * (4.0 * a * a * a + 6.0 * a * a * s - s * s * s)
            / (24.0 * self.rigidity_n_m2)
    }
}

/// What each of two supports carries, N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupportLoads {
    /// The support towards the machine.
    pub near_n: f64,
    /// The other one.
    pub far_n: f64,
}

impl SupportLoads {
    /// The stick stays on both; otherwise it tips over the one that is pressed.
    pub fn both_press(&self) -> bool {
        self.near_n > 0.0 && self.far_n > 0.0
    }
}

/// Shares of a weight whose centre lies `towards_near_m` from the middle of two supports
/// `spacing_m` (above 0) apart, N: W(½ ± x/s) (statics).
pub fn support_loads(weight_n: f64, spacing_m: f64, towards_near_m: f64) -> SupportLoads {
    let shift = towards_near_m / spacing_m;
    SupportLoads {
        near_n: weight_n * (0.5 + shift),
        far_n: weight_n * (0.5 - shift),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_beams_are_refused() {
        assert!(SupportedBeam::new(12.0, 13.0, 700.0, 1.7e6).is_err());
        assert!(SupportedBeam::new(12.0, 0.0, 700.0, 1.7e6).is_err());
        assert!(SupportedBeam::new(12.0, 6.0, f64::NAN, 1.7e6).is_err());
        assert!(SupportedBeam::new(12.0, 6.0, 700.0, 0.0).is_err());
    }

    #[test]
    fn supports_at_the_ends_give_the_schoolbook_beam() {
        let beam = SupportedBeam::new(2.0, 2.0, 3.0, 5.0).unwrap();
        assert_eq!(beam.support_moment_n_m(), 0.0);
        assert!((beam.mid_moment_n_m() - 3.0 * 4.0 / 8.0).abs() < 1e-12);
        assert!((beam.mid_sag_m() - 5.0 * 3.0 * 16.0 / (384.0 * 5.0)).abs() < 1e-12);
        assert!((beam.end_slope_rad() + 3.0 * 8.0 / (24.0 * 5.0)).abs() < 1e-12);
    }

    #[test]
    fn the_trade_rule_lies_between_least_sag_and_bessel() {
        let trade = NamedSpacing::TradeRule.fraction();
        assert!(NamedSpacing::LeastSag.fraction() < trade);
        assert!(trade < NamedSpacing::Bessel.fraction());
    }

    #[test]
    fn a_stick_a_quarter_metre_off_loads_one_cradle_more_and_far_off_tips() {
        let loads = support_loads(8313.4, 6.667, 0.25);
        assert!((loads.near_n - 4468.0).abs() < 1.0 && (loads.far_n - 3845.0).abs() < 1.0);
        assert!(loads.both_press());
        assert!(!support_loads(8313.4, 6.667, 3.4).both_press());
    }
}
