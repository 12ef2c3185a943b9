//! Which numbers a trial gets: by its place in the sweep alone, whoever runs it and in whatever order.
//!
//! The same place at another pitch, or with another set-up, gets the same random numbers, so that
//! differences are those of the pitch or the set-up and not of luck.

use chacha20::ChaCha8Rng;
use chacha20::rand_core::SeedableRng;
use rand::RngExt;
use rand::seq::SliceRandom;

use super::file::{Sampling, Sweep, Variable};
use super::spread::{normal_below, normal_quantile};
use crate::scenario::{Holds, field};

/// Streams of random numbers: one for each trial, and one for the order of each variable's parts.
const ORDER_STREAM: u64 = 1 << 40;

/// How the trials of a point are laid out.
#[derive(Clone, Debug)]
pub struct Design {
    seed: u64,
    sampling: Sampling,
    trials: u32,
    variables: Vec<Variable>,
    mixing: Vec<Vec<f64>>,
    /// For Latin sampling: of each variable, the part that each trial gets.
    order: Vec<Vec<u32>>,
    /// For a grid: parts to a side.
    side: u32,
}

impl Design {
    pub fn new(sweep: &Sweep) -> Self {
        let trials = sweep.budget.trials;
        let order = match sweep.sampling {
            Sampling::Latin => (0..sweep.variables.len())
                .map(|i| {
                    let mut parts: Vec<u32> = (0..trials).collect();
                    parts.shuffle(&mut stream(sweep.seed, ORDER_STREAM + i as u64));
                    parts
                })
                .collect(),
            _ => Vec::new(),
        };
        Self {
            seed: sweep.seed,
            sampling: sweep.sampling,
            trials,
            variables: sweep.variables.clone(),
            mixing: sweep.mixing.clone(),
            order,
            side: side(trials, sweep.variables.len() as u32),
        }
    }

    /// With what seed the row of a trial is loaded.
    pub fn load_seed(&self, trial: u32) -> u64 {
        stream(self.seed, u64::from(trial)).random()
    }

    /// Places in the unit cube, one to a variable.
    fn places(&self, trial: u32) -> Vec<f64> {
        let mut chance = stream(self.seed, u64::from(trial));
        let _load_seed: u64 = chance.random();
        let count = self.variables.len();
        (0..count)
            .map(|i| {
                let by_chance: f64 = chance.random();
                match self.sampling {
                    Sampling::Random => by_chance,
                    Sampling::Latin => {
                        let parts = self.order.get(i);
                        let part = parts.and_then(|parts| parts.get(trial as usize));
                        // Corner trials beyond the design's own are by chance.
                        part.map_or(by_chance, |part| {
                            (f64::from(*part) + by_chance) / f64::from(self.trials)
                        })
                    }
                    Sampling::Sobol => {
                        let scramble = (self.seed ^ (self.seed >> 32)) as u32;
                        let place = sobol_burley::sample(trial, i as u32, scramble);
                        // In the middle of what 24 bits leave open.
                        f64::from(place) + 0.5 / f64::from(1 << 24)
                    }
                    Sampling::Grid => {
                        let along = (u64::from(trial) / u64::from(self.side).pow(i as u32))
                            % u64::from(self.side);
                        (along as f64 + 0.5) / f64::from(self.side)
                    }
                }
            })
            .collect()
    }

    /// The values of all variables in a trial. `corner` puts the unmeasured ones at the ends of their
    /// ranges, one bit to each; `against` is what some are added to.
    pub fn values(&self, trial: u32, corner: Option<u32>, against: f64) -> Vec<f64> {
        let independent: Vec<f64> = self.places(trial);
        let is_mixed = |i: usize| {
            let row = self.mixing.get(i).into_iter().flatten();
            row.take(i).any(|weight| *weight != 0.0)
        };
        let scores: Vec<f64> = independent
            .iter()
            .map(|part| normal_quantile(*part))
            .collect();
        let mut bit = 0;
        let each = self.variables.iter().zip(&independent).enumerate();
        each.map(|(i, (variable, place))| {
            let corner = corner.filter(|_| variable.unmeasured).map(|corner| {
                let end = (corner >> bit) & 1;
                bit += 1;
                variable.ends()[end as usize]
            });
            let value = corner.unwrap_or_else(|| {
                let place = if is_mixed(i) {
                    let row = self.mixing.get(i).into_iter().flatten();
                    normal_below(row.zip(&scores).map(|(weight, score)| weight * score).sum())
                } else {
                    *place
                };
                variable.spread.quantile_within(place, variable.within())
            });
            settled(variable, value, against)
        })
        .collect()
    }
}

/// A value as its field takes it.
fn settled(variable: &Variable, value: f64, against: f64) -> f64 {
    let value = if variable.on_top {
        against + value
    } else {
        value
    };
    match field(&variable.path) {
        Ok(Holds::Number { min, max, .. }) => value.clamp(min, max),
        Ok(Holds::Whole { min, max }) => value.round().clamp(min as f64, max as f64),
        _ => value,
    }
}

fn stream(seed: u64, number: u64) -> ChaCha8Rng {
    let mut stream = ChaCha8Rng::seed_from_u64(seed);
    stream.set_stream(number);
    stream
}

/// The greatest whole `side` with `side` to the power `dimensions` not above `trials`.
fn side(trials: u32, dimensions: u32) -> u32 {
    let fits = |side: u32| {
        u64::from(side)
            .checked_pow(dimensions)
            .is_some_and(|n| n <= trials.into())
    };
    let mut side = 1;
    while dimensions > 0 && side < trials && fits(side + 1) {
        side += 1;
    }
    side
}
