//! The limits and reference figures of the trade, each with where it comes from.
//!
//! A simulated answer may only narrow these, never widen them. A figure recalled from a standard
//! is marked [`Certainty::Memory`]: check it against a bought copy before anybody relies on it.

use super::math::rad;

/// How well a figure is supported.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Certainty {
    /// Read in a text that anybody can get.
    Published,
    /// From memory, not confirmed in a retrieved text.
    Memory,
    /// Common practice of the trade, no source.
    CommonPractice,
}

/// One figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// What it limits, in words.
    pub what: &'static str,
    /// The figure, in that unit.
    pub value: f64,
    /// SI unit; "1" for a ratio.
    pub unit: &'static str,
    /// The text it comes from, or why it has none.
    pub source: &'static str,
    /// How well it is supported.
    pub certainty: Certainty,
}

const NO_SOURCE: &str = "common practice, no source";

const fn practice(what: &'static str, value: f64, unit: &'static str) -> Limit {
    Limit {
        what,
        value,
        unit,
        source: NO_SOURCE,
        certainty: Certainty::CommonPractice,
    }
}

const fn ours(what: &'static str, value: f64, unit: &'static str, source: &'static str) -> Limit {
    Limit {
        source,
        ..practice(what, value, unit)
    }
}

const fn memory(what: &'static str, value: f64, unit: &'static str, source: &'static str) -> Limit {
    Limit {
        what,
        value,
        unit,
        source,
        certainty: Certainty::Memory,
    }
}

const fn published(
    what: &'static str,
    value: f64,
    unit: &'static str,
    source: &'static str,
) -> Limit {
    Limit {
        what,
        value,
        unit,
        source,
        certainty: Certainty::Published,
    }
}

/// Flattest rack on which sticks are fed.
pub const PITCH_MIN: Limit = practice("rack pitch, least", rad(4.0), "rad");
/// Steepest rack on which sticks are fed as a rule.
pub const PITCH_MAX: Limit = practice("rack pitch, most", rad(6.0), "rad");
/// Pitch never to be exceeded.
pub const PITCH_NEVER_ABOVE: Limit = practice("rack pitch, never above", rad(10.0), "rad");
/// Cradle spacing as a fraction of stick length. Beam theory puts it between the spacing of least
/// sag (0.5537) and the Bessel points (0.5594).
pub const CRADLE_SPACING: Limit = practice("cradle spacing over stick length", 1.0 / 1.8, "1");
/// Least overhang of the tail beyond the far cradle once the stick is in the machine.
pub const TAIL_OVERHANG_MIN: Limit = practice("tail overhang after the advance", 0.3, "m");
/// Greatest lengthwise tilt of a stick on the lifts.
pub const LIFT_TILT_MAX: Limit = ours(
    "lengthwise tilt on the lifts",
    rad(1.5),
    "rad",
    "common practice, no source for a figure; ours, below the 1.65 degrees at which a frosted stick slides in 120 degree V's of which one is free",
);
/// Gouge depth over minimum wall at which a stick is rejected.
pub const GOUGE_MAX: Limit = practice("gouge depth over minimum wall", 0.10, "1");
/// The stricter gouge depth that some owners ask for.
pub const GOUGE_STRICT: Limit = published(
    "gouge depth over minimum wall, strict owners",
    0.05,
    "1",
    "City of Nashua pipe specification",
);
/// Misalignment of the two outside surfaces in the machine over minimum wall.
pub const HIGH_LOW_MAX: Limit = memory("high-low over minimum wall", 0.10, "1", "ASTM F2620");
/// Fall of the outside diameter at a cut end over the undistorted outside diameter.
pub const TOE_IN_MAX: Limit = memory("toe-in over outside diameter", 0.015, "1", "ASTM F714");
/// Half band of the mean outside diameter of pipe made to inch sizes.
pub const OD_TOLERANCE_US: Limit = memory(
    "tolerance of outside diameter, inch sizes",
    0.0045,
    "1",
    "ASTM F714; AWWA C906 table 3",
);
/// D_max - D_min of straight metric pipe at the factory, over nominal diameter.
pub const OUT_OF_ROUNDNESS_METRIC: Limit = memory(
    "out-of-roundness over nominal diameter, metric sizes",
    0.035,
    "1",
    "ISO 11922-1 grade N; EN 12201-2",
);
/// The same for inch sizes.
pub const OUT_OF_ROUNDNESS_IPS: Limit = practice(
    "out-of-roundness over outside diameter, inch sizes",
    0.05,
    "1",
);
/// Least interfacial pressure of butt fusion.
pub const INTERFACIAL_PRESSURE_MIN: Limit = memory(
    "interfacial pressure, least",
    413_685.0,
    "Pa",
    "ASTM F2620 (60 psi)",
);
/// Greatest interfacial pressure of butt fusion.
pub const INTERFACIAL_PRESSURE_MAX: Limit = memory(
    "interfacial pressure, most",
    620_528.0,
    "Pa",
    "ASTM F2620 (90 psi)",
);
/// Walking speed that 85 % of young walkers reach.
pub const WALKING_SPEED: Limit = published(
    "walking speed, 15th percentile, young",
    1.15,
    "m/s",
    "TCRP-NCHRP 2005, quoted in 'Another look at pedestrian walking speed'",
);
/// Walking speed that 85 % of older walkers reach.
pub const WALKING_SPEED_OLDER: Limit = published(
    "walking speed, 15th percentile, older",
    0.92,
    "m/s",
    "TCRP-NCHRP 2005, quoted in 'Another look at pedestrian walking speed'",
);
/// Time to perceive and to respond that covers about nine people in ten.
pub const PERCEPTION_RESPONSE: Limit = published(
    "perception-response time, design",
    2.5,
    "s",
    "AASHTO Green Book, quoted in a secondary text",
);
/// Energy at which falling debris is counted as hurting somebody.
pub const DEBRIS_CASUALTY_ENERGY: Limit = published(
    "debris casualty energy",
    15.0,
    "J",
    "US range-safety practice (11 ft lb), quoted in a secondary text",
);
/// Energy at which a fragment is counted as hazardous.
pub const HAZARDOUS_FRAGMENT_ENERGY: Limit = published(
    "hazardous fragment energy",
    79.0,
    "J",
    "US DDESB Technical Paper 12 (58 ft lb)",
);

/// Fall on to the receiver or the cradles from which a stick counts as dropped.
pub const DROPPED: Limit = ours(
    "fall on to the line",
    1.0,
    "m/s",
    "common practice, no source for a figure; ours, a free fall of 50 mm",
);
/// Speed at the receiver's stop over the speed that goes over it.
pub const ENTRY_MAX: Limit = ours(
    "entry speed over the speed that leaves the saddle",
    0.95,
    "1",
    "common practice, no source for a figure; ours, nine tenths of the energy that leaves it",
);
/// Speed of a stick when the receiver goes down with it, or when it comes down in the cradles.
pub const SEAT_MAX: Limit = ours(
    "speed when seated",
    0.10,
    "m/s",
    "common practice, no source for a figure; ours, a thirtieth of the energy that leaves a 120 degree V",
);
/// Speed at which a stick that is set down meets the row.
pub const LANDING_MAX: Limit = ours(
    "speed when set down on the row",
    0.5,
    "m/s",
    "common practice, no source for a figure; ours, less than half the energy of a fed stick",
);
/// Gap to the string at hand-over: the jaws' carriage takes up no more.
pub const GAP_MAX: Limit = ours(
    "gap at hand-over",
    0.050,
    "m",
    "common practice, no source for a figure; ours, what the carriage takes up with room to face",
);
/// And its least: touching, the stick is pressed.
pub const GAP_MIN: Limit = ours(
    "least gap at hand-over",
    0.001,
    "m",
    "common practice, no source for a figure; ours, what the eye tells from touching",
);
/// Long axis off upright at hand-over.
pub const LONG_AXIS_MAX: Limit = ours(
    "long axis off upright at hand-over",
    rad(5.0),
    "rad",
    "common practice, no source for a figure; ours, which moves the edge of a 4 % oval end by 0.02 % of the diameter",
);
/// Ovality below which nobody turns a stick.
pub const OVAL: Limit = ours(
    "ovality from which the long axis is put upright",
    0.01,
    "1",
    "common practice, no source for a figure; ours, what the wall's limit of high-low takes up",
);
/// The horn sounds at most so long before a feed.
pub const HORN_BEFORE: Limit = ours(
    "horn before a feed",
    10.0,
    "s",
    "common practice, no source for a figure; ours, what people remember",
);
/// A motion held longer than this in all where it cannot go is needless.
pub const IN_VAIN_MAX: Limit = ours(
    "motion held where it cannot go",
    10.0,
    "s",
    "common practice, no source for a figure; ours",
);

/// How far the escapement's setting may be off the pipe's diameter.
pub const SETTING_OFF_MAX: Limit = ours(
    "size setting off the pipe's diameter, as a part of it",
    0.02,
    "1",
    "common practice, no source for a figure; ours, the diameter's tolerance and reading the scale",
);
/// A lift column off the line's centre as set out.
pub const COLUMN_OFF_MAX: Limit = ours(
    "lift column off the line's centre",
    0.02,
    "m",
    "common practice, no source for a figure; ours, a sixth of what the side-shift takes up",
);
/// A lift column out of plumb as set out.
pub const COLUMN_LEAN_MAX: Limit = ours(
    "lift column out of plumb",
    rad(0.5),
    "rad",
    "common practice, no source for a figure; ours, what a spirit level shows",
);

/// All of them, for the help pages and reports.
pub const ALL: [Limit; 33] = [
    SETTING_OFF_MAX,
    GAP_MIN,
    COLUMN_OFF_MAX,
    COLUMN_LEAN_MAX,
    DROPPED,
    ENTRY_MAX,
    SEAT_MAX,
    LANDING_MAX,
    GAP_MAX,
    LONG_AXIS_MAX,
    OVAL,
    HORN_BEFORE,
    IN_VAIN_MAX,
    PITCH_MIN,
    PITCH_MAX,
    PITCH_NEVER_ABOVE,
    CRADLE_SPACING,
    TAIL_OVERHANG_MIN,
    LIFT_TILT_MAX,
    GOUGE_MAX,
    GOUGE_STRICT,
    HIGH_LOW_MAX,
    TOE_IN_MAX,
    OD_TOLERANCE_US,
    OUT_OF_ROUNDNESS_METRIC,
    OUT_OF_ROUNDNESS_IPS,
    INTERFACIAL_PRESSURE_MIN,
    INTERFACIAL_PRESSURE_MAX,
    WALKING_SPEED,
    WALKING_SPEED_OLDER,
    PERCEPTION_RESPONSE,
    DEBRIS_CASUALTY_ENERGY,
    HAZARDOUS_FRAGMENT_ENERGY,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_limit_is_a_number_with_a_unit_and_a_source() {
        for limit in ALL {
            assert!(
                limit.value.is_finite() && limit.value > 0.0,
                "{}",
                limit.what
            );
            assert!(!limit.unit.is_empty() && !limit.source.is_empty());
        }
    }

    #[test]
    fn no_two_limits_carry_the_same_words() {
        for (i, one) in ALL.iter().enumerate() {
            assert!(ALL[i + 1..].iter().all(|other| other.what != one.what));
        }
    }

    #[test]
    fn common_practice_never_claims_a_source() {
        for limit in ALL {
            let says_none = limit.source.contains("no source");
            assert_eq!(
                says_none,
                limit.certainty == Certainty::CommonPractice,
                "{}",
                limit.what
            );
        }
    }
}
