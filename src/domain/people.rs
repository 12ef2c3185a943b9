//! People in the way: how long they need, how far a stick gets, what hurts.

use super::limits::{DEBRIS_CASUALTY_ENERGY, HAZARDOUS_FRAGMENT_ENERGY, Limit};
use super::rolling::Roller;

/// Approach speed of a walking person, m/s (ISO 13855:2010, from memory, not confirmed in a
/// retrieved text).
pub const APPROACH_WALKING_M_PER_S: f64 = 1.6;
/// Approach speed of a reaching hand, m/s (same source).
pub const APPROACH_REACHING_M_PER_S: f64 = 2.0;
/// Separation up to which the reaching speed counts, and below which the walking speed may not
/// bring it, m (same source).
const REACH_SEPARATION_M: f64 = 0.5;

/// Time from a release until somebody `way_m` from safety is clear, s: perception and response,
/// then a walk. All above 0.
pub fn time_to_clear_s(perception_response_s: f64, way_m: f64, walking_m_per_s: f64) -> f64 {
    perception_response_s + way_m / walking_m_per_s
}

/// Rolling speeds from which a stick carries the energy that counts as hurting, m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HurtingSpeeds {
    /// At 15 J, the debris casualty energy.
    pub debris_casualty_m_per_s: f64,
    /// At 79 J, the hazardous fragment energy.
    pub hazardous_fragment_m_per_s: f64,
}

/// The speeds for one stick. The limits behind them are for small bodies: with a stick any contact
/// is a failure, and these only show how slow is fast enough.
pub fn hurting_speeds(roller: Roller, mass_kg: f64) -> HurtingSpeeds {
    let speed_at = |limit: Limit| roller.speed_for_energy_m_per_s(mass_kg, limit.value);
    HurtingSpeeds {
        debris_casualty_m_per_s: speed_at(DEBRIS_CASUALTY_ENERGY),
        hazardous_fragment_m_per_s: speed_at(HAZARDOUS_FRAGMENT_ENERGY),
    }
}

/// Separation from a hazard that takes `stop_s` to come to rest, m: S = K T + C (ISO 13855:2010,
/// quoted in a secondary text). Running, jumping and falling are outside it.
pub fn separation_m(approach_m_per_s: f64, stop_s: f64, intrusion_m: f64) -> f64 {
    approach_m_per_s * stop_s + intrusion_m
}

/// The same in two passes: at reaching speed while that gives up to 0.5 m, else at walking speed
/// but not below 0.5 m (ISO 13855:2010, from memory, not confirmed in a retrieved text).
pub fn separation_two_pass_m(stop_s: f64, intrusion_m: f64) -> f64 {
    let reaching = separation_m(APPROACH_REACHING_M_PER_S, stop_s, intrusion_m);
    if reaching <= REACH_SEPARATION_M {
        reaching
    } else {
        separation_m(APPROACH_WALKING_M_PER_S, stop_s, intrusion_m).max(REACH_SEPARATION_M)
    }
}

/// Way of a stick in `time_s`, m: v t + ½ a t², or to where it comes to rest if it slows down.
pub fn stick_reach_m(speed_m_per_s: f64, acceleration_m_per_s2: f64, time_s: f64) -> f64 {
    let rolls_s = if acceleration_m_per_s2 < 0.0 {
        time_s.min(speed_m_per_s / -acceleration_m_per_s2)
    } else {
        time_s
    };
    speed_m_per_s * rolls_s + 0.5 * acceleration_m_per_s2 * rolls_s * rolls_s
}

#[cfg(test)]
mod tests {
    use super::super::limits::{PERCEPTION_RESPONSE, WALKING_SPEED};
    use super::*;

    #[test]
    fn a_stick_on_three_degrees_reaches_a_metre_and_a_half_before_somebody_is_clear() {
        let time = time_to_clear_s(PERCEPTION_RESPONSE.value, 1.0, WALKING_SPEED.value);
        assert!((time - 3.37).abs() < 0.005);
        assert!((stick_reach_m(0.0, 0.2721, time) - 1.54).abs() < 0.01);
    }

    #[test]
    fn a_slowing_stick_does_not_roll_back() {
        assert_eq!(stick_reach_m(1.0, -0.5, 100.0), 1.0);
        assert_eq!(stick_reach_m(0.0, -0.5, 100.0), 0.0);
    }

    #[test]
    fn separation_examples_of_the_standard() {
        assert_eq!(separation_two_pass_m(0.2, 0.128), 0.5);
        assert!((separation_m(APPROACH_WALKING_M_PER_S, 2.0, 0.85) - 4.05).abs() < 1e-12);
        assert!((separation_two_pass_m(0.1, 0.1) - 0.3).abs() < 1e-12);
    }
}
