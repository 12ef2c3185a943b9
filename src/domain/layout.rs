//! Set-out along the line: far cradle, near cradle, machine.
//!
//! Measured from the middle of the cradles towards the machine (+z). The stick is seated evenly
//! over the cradles, then advanced until its front end is at the jaws' centre.

use super::beam::NamedSpacing;
use super::error::{DomainError, in_range};
use super::limits;

/// Distances along the line as planned or as measured on site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetOut {
    /// Length of the stick, m.
    pub stick_length_m: f64,
    /// Far cradle to near cradle, m.
    pub cradle_spacing_m: f64,
    /// Near cradle to the centre of the jaws, m.
    pub near_cradle_to_jaws_m: f64,
    /// Centre of the jaws to the machine's end that faces the cradles, m.
    pub machine_half_length_m: f64,
}

/// What is wrong with a set-out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SetOutFinding {
    /// The cradles are so far from the trade's spacing that ends or middle sag more than they need:
    /// outside the spacings of no sag in the middle and of equal moments.
    SpacingOff {
        /// As set, m.
        spacing_m: f64,
        /// Length over 1.8, m.
        wanted_m: f64,
    },
    /// A seated stick would reach into the machine.
    NoLoadingGap {
        /// Gap, m, negative.
        gap_m: f64,
    },
    /// After the advance the tail lies short on the far cradle, or off it (negative).
    TailShort {
        /// As it comes out, m.
        overhang_m: f64,
        /// The least there should be, m.
        needed_m: f64,
    },
    /// After the advance the centre of mass is beyond the near cradle: the stick tips.
    CentreOfMassOutside {
        /// By how much, m.
        beyond_m: f64,
    },
}

impl SetOut {
    /// The set-out for a stick: spacing L/1.8 (common practice, no source), the machine beyond the
    /// front overhang of 0.222 L and a gap to lower the stick in.
    pub fn plan(
        stick_length_m: f64,
        loading_gap_m: f64,
        machine_half_length_m: f64,
    ) -> Result<Self, DomainError> {
        in_range(
            "loading gap",
            loading_gap_m,
            0.0..=5.0,
            "m",
            "leave just enough to lower a stick in without touching the machine",
        )?;
        let cradle_spacing_m = NamedSpacing::TradeRule.fraction() * stick_length_m;
        let overhang_m = (stick_length_m - cradle_spacing_m) / 2.0;
        Self {
            stick_length_m,
            cradle_spacing_m,
            near_cradle_to_jaws_m: overhang_m + loading_gap_m + machine_half_length_m,
            machine_half_length_m,
        }
        .check()
    }

    /// The set-out itself if its distances are usable.
    pub fn check(self) -> Result<Self, DomainError> {
        let remedy = "measure along the line: far cradle, near cradle, machine, in this order";
        in_range("stick length", self.stick_length_m, 2.0..=30.0, "m", remedy)?;
        in_range(
            "cradle spacing",
            self.cradle_spacing_m,
            0.1 * self.stick_length_m..=self.stick_length_m,
            "m",
            remedy,
        )?;
        in_range(
            "machine half length",
            self.machine_half_length_m,
            0.1..=10.0,
            "m",
            remedy,
        )?;
        in_range(
            "near cradle to jaws",
            self.near_cradle_to_jaws_m,
            self.machine_half_length_m..=50.0,
            "m",
            remedy,
        )?;
        Ok(self)
    }

    /// Overhang of a seated stick beyond each cradle, m.
    pub fn overhang_m(&self) -> f64 {
        (self.stick_length_m - self.cradle_spacing_m) / 2.0
    }

    /// Place of the far cradle, m.
    pub fn far_cradle_z_m(&self) -> f64 {
        -self.cradle_spacing_m / 2.0
    }

    /// Place of the near cradle, m.
    pub fn near_cradle_z_m(&self) -> f64 {
        self.cradle_spacing_m / 2.0
    }

    /// Place of the jaws' centre, m.
    pub fn jaws_z_m(&self) -> f64 {
        self.near_cradle_z_m() + self.near_cradle_to_jaws_m
    }

    /// Gap between a seated stick and the machine, m.
    pub fn loading_gap_m(&self) -> f64 {
        self.near_cradle_to_jaws_m - self.machine_half_length_m - self.overhang_m()
    }

    /// Way of the stick from its seat to the jaws, m; also that of its centre of mass.
    pub fn advance_m(&self) -> f64 {
        self.near_cradle_to_jaws_m - self.overhang_m()
    }

    /// Overhang of the tail beyond the far cradle after the advance, m.
    pub fn tail_overhang_m(&self) -> f64 {
        self.overhang_m() - self.advance_m()
    }

    /// Everything that is wrong, in the order of the line.
    pub fn findings(&self) -> Vec<SetOutFinding> {
        let mut findings = Vec::new();
        let spacing = self.cradle_spacing_m / self.stick_length_m;
        let usable = NamedSpacing::ZeroMidSag.fraction()..=NamedSpacing::EqualMoments.fraction();
        if !usable.contains(&spacing) {
            findings.push(SetOutFinding::SpacingOff {
                spacing_m: self.cradle_spacing_m,
                wanted_m: NamedSpacing::TradeRule.fraction() * self.stick_length_m,
            });
        }
        let gap_m = self.loading_gap_m();
        // A planned gap of nothing may come out a rounding error below it.
        if gap_m < -1e-9 {
            findings.push(SetOutFinding::NoLoadingGap { gap_m });
        }
        let (overhang_m, needed_m) = (self.tail_overhang_m(), limits::TAIL_OVERHANG_MIN.value);
        if overhang_m < needed_m {
            findings.push(SetOutFinding::TailShort {
                overhang_m,
                needed_m,
            });
        }
        let beyond_m = self.advance_m() - self.near_cradle_z_m();
        if beyond_m > 0.0 {
            findings.push(SetOutFinding::CentreOfMassOutside { beyond_m });
        }
        findings
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_set_out_of_a_twelve_metre_stick() {
        let set_out = SetOut::plan(12.0, 0.5, 1.2).unwrap();
        assert!((set_out.cradle_spacing_m - 6.667).abs() < 1e-3);
        // 0.222 L + gap + half length.
        assert!((set_out.near_cradle_to_jaws_m - (0.2222 * 12.0 + 1.7)).abs() < 1e-3);
        assert!((set_out.loading_gap_m() - 0.5).abs() < 1e-12);
        assert!((set_out.advance_m() - 1.7).abs() < 1e-12);
        assert!((set_out.tail_overhang_m() - 0.967).abs() < 1e-3);
        assert!(set_out.far_cradle_z_m() < set_out.near_cradle_z_m());
        assert!(set_out.near_cradle_z_m() < set_out.jaws_z_m());
        assert_eq!(set_out.findings(), []);
    }

    #[test]
    fn a_short_stick_and_a_long_machine_lose_the_tail_then_tip() {
        let short = SetOut::plan(8.0, 0.5, 1.2).unwrap().findings();
        assert!(
            matches!(short[..], [SetOutFinding::TailShort { overhang_m, .. }] if overhang_m > 0.0)
        );
        let tips = SetOut::plan(6.0, 0.5, 1.4).unwrap().findings();
        assert!(matches!(
            tips[..],
            [
                SetOutFinding::TailShort { .. },
                SetOutFinding::CentreOfMassOutside { .. }
            ]
        ));
    }

    #[test]
    fn cradles_out_of_place_and_a_machine_too_near_are_found() {
        let good = SetOut::plan(12.0, 0.5, 1.2).unwrap();
        let wide = SetOut {
            cradle_spacing_m: 8.0,
            ..good
        };
        assert!(matches!(
            wide.findings()[0],
            SetOutFinding::SpacingOff { .. }
        ));
        let close = SetOut {
            near_cradle_to_jaws_m: 3.0,
            ..good
        };
        assert!(matches!(
            close.findings()[..],
            [SetOutFinding::NoLoadingGap { .. }]
        ));
    }

    #[test]
    fn bad_distances_are_refused() {
        assert!(SetOut::plan(f64::NAN, 0.5, 1.2).is_err());
        assert!(SetOut::plan(12.0, -0.5, 1.2).is_err());
        assert!(SetOut::plan(12.0, 0.5, 0.0).is_err());
    }
}
