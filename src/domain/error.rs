//! What a constructor or a table look-up of this layer says when it is given a bad number.

use std::fmt;
use std::ops::RangeInclusive;

/// A number that cannot be used: what it is, what is allowed and what to do.
#[derive(Clone, Debug, PartialEq)]
pub enum DomainError {
    /// Outside the range within which the formula or the table holds, or not a number at all.
    OutOfRange {
        /// Name of the quantity.
        what: &'static str,
        /// What was given.
        value: f64,
        /// What is allowed, both ends included.
        allowed: RangeInclusive<f64>,
        /// Unit of all three; empty for a ratio.
        unit: &'static str,
        /// What to do about it.
        remedy: &'static str,
    },
    /// A size that its series does not have.
    NotInSeries {
        /// Name of the quantity.
        what: &'static str,
        /// What was given.
        value: u16,
        /// The sizes there are.
        series: &'static [u16],
        /// Unit of both.
        unit: &'static str,
    },
}

impl fmt::Display for DomainError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange {
                what,
                value,
                allowed,
                unit,
                remedy,
            } => write!(
                f,
                "{what} is {value} {unit}; allowed is {} to {} {unit}: {remedy}",
                allowed.start(),
                allowed.end()
            ),
            Self::NotInSeries {
                what,
                value,
                series,
                unit,
            } => write!(
                f,
                "{what} is {value} {unit}, which its series does not have: choose one of {series:?}"
            ),
        }
    }
}

impl std::error::Error for DomainError {}

/// The value if it lies in `allowed`; not-a-number never does.
pub(super) fn in_range(
    what: &'static str,
    value: f64,
    allowed: RangeInclusive<f64>,
    unit: &'static str,
    remedy: &'static str,
) -> Result<f64, DomainError> {
    if allowed.contains(&value) {
        Ok(value)
    } else {
        Err(DomainError::OutOfRange {
            what,
            value,
            allowed,
            unit,
            remedy,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_says_what_is_wrong_what_is_allowed_and_what_to_do() {
        let error = in_range("pitch", 11.0, 2.0..=10.0, "deg", "lower the jacks").unwrap_err();
        assert_eq!(
            error.to_string(),
            "pitch is 11 deg; allowed is 2 to 10 deg: lower the jacks"
        );
        let error = DomainError::NotInSeries {
            what: "size",
            value: 25,
            series: &[24, 26],
            unit: "in",
        };
        assert_eq!(
            error.to_string(),
            "size is 25 in, which its series does not have: choose one of [24, 26]"
        );
    }

    #[test]
    fn not_a_number_is_never_in_range() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(in_range("x", bad, 0.0..=1.0, "m", "measure it").is_err());
        }
    }
}
