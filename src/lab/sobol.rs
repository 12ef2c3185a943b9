//! Sobol indices: which part of the variance of a result each factor brings about, alone and with all
//! its interactions. By the estimators of Jansen (Comput. Phys. Commun. 117 (1999) 35) on the layout of
//! Saltelli et al. (Comput. Phys. Commun. 181 (2010) 259).
//!
//! For every base there are two independent trials, A and B, and one for each factor: A with that
//! factor from B.

use std::collections::BTreeMap;

use serde::Serialize;

/// Trials of a base besides those of its factors.
pub const INDEPENDENT: u32 = 2;

/// Which of its base's trials a trial is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Block {
    A,
    B,
    /// A with this factor from B.
    Mixed(usize),
}

impl Block {
    /// Base and block of a trial, where there are so many factors.
    pub fn of(trial: u32, factors: usize) -> (u32, Self) {
        let each = INDEPENDENT + factors as u32;
        let block = match trial % each {
            0 => Self::A,
            1 => Self::B,
            more => Self::Mixed((more - INDEPENDENT) as usize),
        };
        (trial / each, block)
    }

    /// Whether a factor is from B.
    pub fn is_from_b(self, factor: usize) -> bool {
        match self {
            Self::A => false,
            Self::B => true,
            Self::Mixed(mixed) => mixed == factor,
        }
    }
}

/// A share with its standard error.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Share {
    pub value: f64,
    pub error: f64,
}

/// What a factor brings about.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Index {
    /// Alone.
    pub first: Share,
    /// With all its interactions.
    pub total: Share,
}

/// The results of one base: of A, of B, and of A with each factor from B.
pub type Results = Vec<f64>;

/// Sums over the bases of a point, from which the indices follow.
#[derive(Clone, Debug, Default)]
struct Sums {
    bases: f64,
    /// Of the results of A and B, and of their squares.
    sum: f64,
    squares: f64,
    /// Of each factor, of the squares of what is left when it alone, or all but it, stays.
    alone: Vec<f64>,
    without: Vec<f64>,
}

impl Sums {
    /// Adds a base, or takes it away again.
    fn add(&mut self, results: &[f64], sign: f64) {
        let [a, b, mixed @ ..] = results else { return };
        self.alone.resize(mixed.len(), 0.0);
        self.without.resize(mixed.len(), 0.0);
        self.bases += sign;
        self.sum += sign * (a + b);
        self.squares += sign * (a * a + b * b);
        let each = self.alone.iter_mut().zip(&mut self.without).zip(mixed);
        for ((alone, without), mixed) in each {
            *alone += sign * (b - mixed) * (b - mixed);
            *without += sign * (a - mixed) * (a - mixed);
        }
    }

    fn variance(&self) -> f64 {
        let count = 2.0 * self.bases;
        (self.squares - self.sum * self.sum / count) / (count - 1.0)
    }

    /// Variance brought about by a factor alone, and by all that it has a part in.
    fn parts(&self, factor: usize) -> (f64, f64) {
        let half =
            |sums: &[f64]| sums.get(factor).copied().unwrap_or_default() / (2.0 * self.bases);
        (self.variance() - half(&self.alone), half(&self.without))
    }
}

/// The indices of all factors, over several points on the same random numbers: the variances of the
/// points are added up. Errors are those of a jackknife over the bases, at all points at once. None
/// where nothing varies or there are too few bases.
pub fn indices(points: &[BTreeMap<u32, Results>]) -> Option<Vec<Index>> {
    let mut sums: Vec<Sums> = Vec::new();
    let mut bases: Vec<u32> = Vec::new();
    for point in points {
        let mut own = Sums::default();
        point.values().for_each(|results| own.add(results, 1.0));
        bases.extend(point.keys());
        sums.push(own);
    }
    bases.sort_unstable();
    bases.dedup();
    let factors = sums.iter().map(|sums| sums.alone.len()).max()?;
    if bases.len() < 3 || sums.iter().any(|sums| sums.bases < 3.0) {
        return None;
    }
    let all = ratios(&sums, factors)?;
    let mut left_out = Vec::new();
    for base in &bases {
        for (point, sums) in points.iter().zip(&mut sums) {
            if let Some(results) = point.get(base) {
                sums.add(results, -1.0);
            }
        }
        left_out.push(ratios(&sums, factors)?);
        for (point, sums) in points.iter().zip(&mut sums) {
            if let Some(results) = point.get(base) {
                sums.add(results, 1.0);
            }
        }
    }
    let share = |factor: usize, of: fn(&(f64, f64)) -> f64| {
        let values: Vec<f64> = left_out
            .iter()
            .filter_map(|ratios| ratios.get(factor).map(of))
            .collect();
        let count = values.len() as f64;
        let mean = values.iter().sum::<f64>() / count;
        let spread: f64 = values
            .iter()
            .map(|value| (value - mean) * (value - mean))
            .sum();
        Share {
            value: all.get(factor).map(of).unwrap_or_default(),
            error: (spread * (count - 1.0) / count).sqrt(),
        }
    };
    let index = |factor| Index {
        first: share(factor, |ratios| ratios.0),
        total: share(factor, |ratios| ratios.1),
    };
    Some((0..factors).map(index).collect())
}

/// First and total share of each factor; none where nothing varies.
fn ratios(sums: &[Sums], factors: usize) -> Option<Vec<(f64, f64)>> {
    let variance: f64 = sums.iter().map(Sums::variance).sum();
    if variance.is_nan() || variance <= 0.0 {
        return None;
    }
    let ratio = |factor| {
        let parts = sums.iter().map(|sums| sums.parts(factor));
        let (first, total) = parts.fold((0.0, 0.0), |sum, part| (sum.0 + part.0, sum.1 + part.1));
        (first / variance, total / variance)
    };
    Some((0..factors).map(ratio).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use chacha20::ChaCha8Rng;
    use chacha20::rand_core::SeedableRng;
    use rand::RngExt;

    /// Ishigami's function with a = 7 and b = 0.1, whose indices are known (Ishigami & Homma, Proc.
    /// ISUMA 1990, 398).
    fn ishigami(x: &[f64]) -> f64 {
        let (sin, turn) = (libm::sin, 2.0 * std::f64::consts::PI);
        let at = |i: usize| turn * (x[i] - 0.5);
        sin(at(0)) + 7.0 * sin(at(1)).powi(2) + 0.1 * at(2).powi(4) * sin(at(0))
    }

    fn sampled(bases: u32, seed: u64) -> BTreeMap<u32, Results> {
        let mut chance = ChaCha8Rng::seed_from_u64(seed);
        let results = |base: u32| {
            let mut draw = || -> Vec<f64> { (0..3).map(|_| chance.random()).collect() };
            let (a, b) = (draw(), draw());
            let trials = (0..5).map(|trial| {
                let (_, block) = Block::of(trial, 3);
                let mixed = (0..3).map(|i| if block.is_from_b(i) { b[i] } else { a[i] });
                ishigami(&mixed.collect::<Vec<_>>())
            });
            (base, trials.collect())
        };
        (0..bases).map(results).collect()
    }

    #[test]
    fn ishigamis_function_has_its_known_indices() {
        let pi4 = std::f64::consts::PI.powi(4);
        let part1 = 0.5 * (1.0 + 0.1 * pi4 / 5.0).powi(2);
        let part2 = 49.0 / 8.0;
        let part13 = 0.01 * pi4 * pi4 * (1.0 / 18.0 - 1.0 / 50.0);
        let all = part1 + part2 + part13;
        let known = [
            (part1 / all, (part1 + part13) / all),
            (part2 / all, part2 / all),
            (0.0, part13 / all),
        ];
        let mut within = 0;
        for seed in 0..20 {
            // Two points, so that adding them up is looked at as well.
            let points = [sampled(1500, seed), sampled(1500, 100 + seed)];
            let found = indices(&points).unwrap();
            for (index, (first, total)) in found.iter().zip(known) {
                for (share, known) in [(index.first, first), (index.total, total)] {
                    assert!((share.value - known).abs() < 0.1, "{share:?}, {known}");
                    assert!(share.error < 0.03, "{share:?}");
                    within += u32::from((share.value - known).abs() < 2.0 * share.error);
                }
            }
        }
        // Of 120 shares about 95 % lie within two errors.
        assert!(within >= 105, "{within} of 120");
    }

    #[test]
    fn what_does_not_vary_has_no_indices() {
        let still: BTreeMap<u32, Results> = (0..9).map(|base| (base, vec![1.0; 4])).collect();
        assert_eq!(indices(&[still]), None);
    }
}
