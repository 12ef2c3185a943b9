//! The best that has come of a scenario.

use std::collections::BTreeSet;

use serde::Serialize;

use super::attempts::Attempt;
use super::people::key_of;

/// With so many seeds a scenario must be passed before it is mastered.
pub const SEEDS_TO_MASTER: usize = 2;

/// See the module's text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub enum Standing {
    #[default]
    NotTried,
    NotPassed {
        points: f64,
    },
    Passed {
        points: f64,
    },
    /// Passed with different seeds.
    Mastered {
        points: f64,
    },
}

impl Standing {
    /// The best of the attempts on a scenario's text, by its hash: of everybody, or of one trainee.
    pub fn of(attempts: &[Attempt], hash: &str, trainee: Option<&str>) -> Self {
        let key = trainee.map(key_of);
        let own = attempts.iter().filter(|attempt| {
            let whose = || attempt.trainee.as_deref().map(key_of);
            attempt.scenario_hash == hash
                && attempt.ended.is_some()
                && (key.is_none() || whose() == key)
        });
        Self::of_results(own.map(|attempt| (attempt.seed, attempt.passed, attempt.points)))
    }

    /// The best of results: seed, whether passed, points.
    pub fn of_results(results: impl Iterator<Item = (u64, bool, f64)>) -> Self {
        let mut standing = Self::NotTried;
        let mut seeds = BTreeSet::new();
        for (seed, passed, points) in results {
            if passed {
                seeds.insert(seed);
            }
            standing = match (standing, passed) {
                (Self::NotTried, false) => Self::NotPassed { points },
                (Self::NotTried | Self::NotPassed { .. }, true) => Self::Passed { points },
                (Self::NotPassed { points: best }, false) => Self::NotPassed {
                    points: best.max(points),
                },
                (Self::Passed { points: best }, true) => Self::Passed {
                    points: best.max(points),
                },
                (standing, _) => standing,
            };
        }
        match standing {
            Self::Passed { points } if seeds.len() >= SEEDS_TO_MASTER => Self::Mastered { points },
            standing => standing,
        }
    }

    pub fn is_passed(self) -> bool {
        matches!(self, Self::Passed { .. } | Self::Mastered { .. })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_best_result_stands_and_two_seeds_make_it_mastered() {
        let of = |results: &[(u64, bool, f64)]| Standing::of_results(results.iter().copied());
        assert_eq!(of(&[]), Standing::NotTried);
        let lost = [(1, false, 95.0), (1, false, 20.0)];
        assert_eq!(of(&lost), Standing::NotPassed { points: 95.0 });
        let won = [lost[0], (1, true, 85.0), (1, true, 82.0), (2, false, 99.0)];
        assert_eq!(of(&won), Standing::Passed { points: 85.0 });
        let twice = [won.as_slice(), &[(2, true, 81.0)]].concat();
        assert_eq!(of(&twice), Standing::Mastered { points: 85.0 });
        assert!(of(&twice).is_passed() && !of(&lost).is_passed());
    }
}
