//! How sure a count of outcomes makes us: bounds of a binomial probability.

use libm::{exp, log, log1p};

use super::halving::least;
use super::spread::normal_quantile;

/// A probability as counted, with its band.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Band {
    pub low: f64,
    pub high: f64,
}

/// Probability of at most `hits` in `trials`, each with probability `p`: the binomial sum, its terms by
/// their logarithms, so that none is lost.
pub fn at_most(hits: u64, trials: u64, p: f64) -> f64 {
    if p <= 0.0 || hits >= trials {
        return 1.0;
    }
    if p >= 1.0 {
        return 0.0;
    }
    let odds = log(p) - log1p(-p);
    let mut term = trials as f64 * log1p(-p);
    let mut sum = exp(term);
    for k in 0..hits {
        term += log((trials - k) as f64 / (k + 1) as f64) + odds;
        sum += exp(term);
    }
    sum.min(1.0)
}

/// Upper bound of a probability of which `hits` of `trials` were counted, one-sided and exact: were
/// it any higher, so few would be counted with a probability below 1 - `confidence` (Clopper &
/// Pearson, Biometrika 26 (1934) 404). 1 without trials.
pub fn exact_upper(hits: u64, trials: u64, confidence: f64) -> f64 {
    if hits >= trials {
        return 1.0;
    }
    least((0.0, 1.0), |p| 1.0 - at_most(hits, trials, p) >= confidence)
}

/// Lower bound, likewise; 0 without hits.
pub fn exact_lower(hits: u64, trials: u64, confidence: f64) -> f64 {
    if hits == 0 {
        return 0.0;
    }
    least((0.0, 1.0), |p| {
        1.0 - at_most(hits - 1, trials, p) >= 1.0 - confidence
    })
}

/// Both exact bounds, which hold together with the given confidence.
pub fn exact_band(hits: u64, trials: u64, confidence: f64) -> Band {
    let one_sided = 0.5 * (1.0 + confidence);
    Band {
        low: exact_lower(hits, trials, one_sided),
        high: exact_upper(hits, trials, one_sided),
    }
}

/// The score interval (Wilson, J. Am. Stat. Assoc. 22 (1927) 209), two-sided: for the eye, on charts.
/// It covers about as often as it says, sometimes less; what is claimed rests on the exact bounds.
pub fn wilson(hits: u64, trials: u64, confidence: f64) -> Band {
    wilson_of_share(hits as f64 / trials.max(1) as f64, trials, confidence)
}

/// The same for a share that need not be a whole count of the trials.
pub fn wilson_of_share(share: f64, trials: u64, confidence: f64) -> Band {
    if trials == 0 {
        return Band {
            low: 0.0,
            high: 1.0,
        };
    }
    let (n, p) = (trials as f64, share);
    let z = normal_quantile(0.5 * (1.0 + confidence));
    let share = z * z / n;
    let middle = (p + 0.5 * share) / (1.0 + share);
    let half = z * (p * (1.0 - p) / n + 0.25 * share / n).sqrt() / (1.0 + share);
    Band {
        low: (middle - half).max(0.0),
        high: (middle + half).min(1.0),
    }
}

/// So many trials, none of them a hit, show a risk below `risk`: ln(1 - confidence)/ln(1 - risk).
pub fn clean_trials(risk: f64, confidence: f64) -> u64 {
    ((1.0 - confidence).ln() / (1.0 - risk).ln()).ceil() as u64
}

/// The most hits in `trials` with which the risk is still shown to be below `risk`; none where not
/// even a clean series shows it.
pub fn most_failures(trials: u64, risk: f64, confidence: f64) -> Option<u64> {
    let shows = |hits: u64| exact_upper(hits, trials, confidence) < risk;
    if !shows(0) {
        return None;
    }
    // No more than are expected at that very risk.
    let (mut passes, mut fails) = (0, (risk * trials as f64).ceil() as u64 + 1);
    while fails - passes > 1 {
        let middle = passes + (fails - passes) / 2;
        if shows(middle) {
            passes = middle;
        } else {
            fails = middle;
        }
    }
    Some(passes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Probability of at most `hits` in `trials`, multiplied out term by term.
    fn product(hits: u64, trials: u64, p: f64) -> f64 {
        let mut term = (1.0 - p).powi(trials as i32);
        let mut sum = term;
        for k in 0..hits {
            term *= (trials - k) as f64 / (k + 1) as f64 * p / (1.0 - p);
            sum += term;
        }
        sum
    }

    #[test]
    fn exact_bounds_are_where_the_binomial_sum_says() {
        for (hits, trials) in [
            (0, 10),
            (1, 10),
            (9, 10),
            (3, 299),
            (40, 100),
            (90, 100_000),
        ] {
            let upper = exact_upper(hits, trials, 0.95);
            assert!((product(hits, trials, upper) - 0.05).abs() < 1e-9);
            if hits > 0 {
                let lower = exact_lower(hits, trials, 0.95);
                assert!((1.0 - product(hits - 1, trials, lower) - 0.05).abs() < 1e-9);
            }
        }
        // Without hits, and with nothing else, the sums have one term.
        for trials in [1, 59, 299, 2995] {
            let alone = 0.05_f64.powf(1.0 / trials as f64);
            assert!((exact_upper(0, trials, 0.95) - (1.0 - alone)).abs() < 1e-12);
            assert!((exact_lower(trials, trials, 0.95) - alone).abs() < 1e-9);
        }
        assert_eq!(exact_upper(5, 5, 0.95), 1.0);
        assert_eq!(exact_upper(0, 0, 0.95), 1.0);
        assert_eq!(exact_lower(0, 5, 0.95), 0.0);
    }

    #[test]
    fn one_in_a_thousand_takes_2995_clean_trials() {
        assert_eq!(clean_trials(1e-3, 0.95), 2995);
        assert_eq!(clean_trials(0.01, 0.95), 299);
        assert_eq!(clean_trials(0.05, 0.95), 59);
        assert_eq!(most_failures(2995, 1e-3, 0.95), Some(0));
        assert_eq!(most_failures(2994, 1e-3, 0.95), None);
        assert_eq!(most_failures(473, 0.01, 0.95), Some(1));
        assert_eq!(most_failures(472, 0.01, 0.95), Some(0));
    }

    #[test]
    fn wilson_agrees_with_its_formula_by_hand() {
        let band = wilson(8, 10, 0.95);
        assert!((band.low - 0.4902).abs() < 1e-4 && (band.high - 0.9433).abs() < 1e-4);
    }
}
