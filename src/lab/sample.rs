//! Which numbers a trial gets: by its place in the sweep alone, whoever runs it and in whatever order.
//!
//! The same place at another pitch, or with another set-up, gets the same random numbers, so that
//! differences are those of the pitch or the set-up and not of luck.

use chacha20::ChaCha8Rng;
use chacha20::rand_core::SeedableRng;
use rand::RngExt;
use rand::seq::SliceRandom;

use super::file::{Sampling, Sweep, Variable};
use super::sobol::Block;
use super::spread::{normal_below, normal_quantile};

/// Streams of random numbers: one for each trial, one for the second trial of each base of Sobol
/// indices, and one for the order of each variable's parts.
const SECOND_STREAM: u64 = 1 << 36;
const ORDER_STREAM: u64 = 1 << 40;

/// How the trials of a point are laid out.
#[derive(Clone, Debug)]
pub struct Design {
    seed: u64,
    sampling: Sampling,
    trials: u32,
    /// Trials that begin from the same settled row.
    releases: u32,
    variables: Vec<Variable>,
    mixing: Vec<Vec<f64>>,
    /// For Latin sampling: of each variable, the part that each trial gets, or each row.
    order: Vec<Vec<u32>>,
    /// For a grid: parts to a side.
    side: u32,
}

impl Design {
    pub fn new(sweep: &Sweep) -> Self {
        let (trials, releases) = (sweep.budget.trials, sweep.releases_of_row());
        let order = match sweep.sampling {
            Sampling::Latin => {
                let variables = sweep.variables.iter().enumerate();
                variables
                    .map(|(i, variable)| {
                        let mut parts: Vec<u32> =
                            (0..trials / shared_by(variable, releases)).collect();
                        parts.shuffle(&mut stream(sweep.seed, ORDER_STREAM + i as u64));
                        parts
                    })
                    .collect()
            }
            _ => Vec::new(),
        };
        Self {
            releases,
            seed: sweep.seed,
            sampling: sweep.sampling,
            trials,
            variables: sweep.variables.clone(),
            mixing: sweep.mixing.clone(),
            order,
            side: side(trials, sweep.variables.len() as u32),
        }
    }

    /// Which row a trial begins from.
    pub fn row(&self, trial: u32) -> u32 {
        trial / self.releases
    }

    /// With what seed the row of a trial is loaded.
    pub fn load_seed(&self, trial: u32) -> u64 {
        match self.sampling {
            Sampling::Saltelli => {
                let (base, block) = Block::of(trial, self.variables.len() + 1);
                self.of_base(base, block.is_from_b(self.variables.len())).0
            }
            _ => self.chances(self.row(trial).into()).0,
        }
    }

    /// Random numbers of the first or the second trial of a base.
    fn of_base(&self, base: u32, second: bool) -> (u64, Vec<f64>) {
        self.chances(u64::from(base) + if second { SECOND_STREAM } else { 0 })
    }

    /// Random numbers of a trial, or of a row: the seed of its loading, and one to each variable.
    fn chances(&self, number: u64) -> (u64, Vec<f64>) {
        let mut chance = stream(self.seed, number);
        let load_seed = chance.random();
        (
            load_seed,
            self.variables.iter().map(|_| chance.random()).collect(),
        )
    }

    /// Places in the unit cube, one to a variable.
    fn places(&self, trial: u32) -> Vec<f64> {
        if self.sampling == Sampling::Saltelli {
            let (base, block) = Block::of(trial, self.variables.len() + 1);
            let [first, second] = [false, true].map(|second| self.of_base(base, second).1);
            let each = first.into_iter().zip(second).enumerate();
            return each
                .map(|(i, (a, b))| if block.is_from_b(i) { b } else { a })
                .collect();
        }
        let (_, own) = self.chances(trial.into());
        let (_, of_row) = self.chances(self.row(trial).into());
        let each = self.variables.iter().zip(own.into_iter().zip(of_row));
        each.enumerate()
            .map(|(i, (variable, (own, of_row)))| {
                let sharing = shared_by(variable, self.releases);
                let (trial, by_chance) = match sharing {
                    1 => (trial, own),
                    _ => (self.row(trial), of_row),
                };
                match self.sampling {
                    Sampling::Random | Sampling::Saltelli => by_chance,
                    Sampling::Latin => {
                        let parts = self.order.get(i);
                        let part = parts.and_then(|parts| parts.get(trial as usize));
                        // Corner trials beyond the design's own are by chance.
                        part.map_or(by_chance, |part| {
                            (f64::from(*part) + by_chance) / f64::from(self.trials / sharing)
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

    /// The values with which the row of a trial settles: as in the trial, but for coefficients of
    /// contact, which have the middle of what they are drawn from.
    pub fn settling_values(&self, trial: u32, against: f64) -> Vec<f64> {
        let mut values = self.values(trial, None, against);
        for (value, variable) in values.iter_mut().zip(&self.variables) {
            if variable.is_of_contact() {
                *value = variable.middle(against);
            }
        }
        values
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
            variable.taken(value, against)
        })
        .collect()
    }
}

/// Trials that have the same value of a variable.
fn shared_by(variable: &Variable, releases: u32) -> u32 {
    if variable.is_of_contact() {
        1
    } else {
        releases
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
