//! Runs the trials of a sweep on every core. What a trial gives depends on its place alone.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Sender};
use std::time::{Duration, Instant};

use rayon::prelude::*;

use super::bounds::exact_band;
use super::file::{Event, Measure, Sweep};
use super::sample::Design;
use super::table::{Row, Table, TableError};
use super::trial::{Patience, Release, Settled, Trial};
use crate::domain::spec::LineSpec;
use crate::texts::{Lang, Message, Texts};

/// Trials of a point before its band is looked at for the first time; then after twice as many.
const FIRST_LOOK: u32 = 64;

/// One of several machines that share a sweep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// Counted from 0.
    pub index: u64,
    pub of: u64,
}

impl Part {
    pub const WHOLE: Self = Self { index: 0, of: 1 };

    fn has(self, trial: u64) -> bool {
        trial % self.of == self.index
    }
}

/// How far a sweep has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    pub done: u64,
    pub of: u64,
}

/// Why trials are left over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stopped {
    /// Somebody asked for it.
    Asked,
    /// The time of the budget was over.
    Time,
}

/// Trials to run, and what may end them.
pub struct Trials<'a> {
    pub part: Part,
    /// Set from outside, it lets the trials in hand finish and begins no more.
    pub stop: &'a AtomicBool,
}

/// See the module's text.
pub struct Engine<'a> {
    sweep: &'a Sweep,
    design: Design,
    pool: rayon::ThreadPool,
}

impl<'a> Engine<'a> {
    /// With so many threads; 0 is one to each core.
    ///
    /// # Errors
    /// Where the system gives no threads.
    pub fn new(sweep: &'a Sweep, threads: usize) -> Result<Self, Message> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        Ok(Self {
            sweep,
            design: Design::new(sweep),
            pool: pool
                .map_err(|error| Message::new("lab-no-threads").with("error", error.to_string()))?,
        })
    }

    /// Point, corner and place in the sampling of a trial.
    fn place(&self, trial: u64) -> (u64, Option<u32>, u32) {
        let per_point = self.sweep.trials_of_point();
        let (point, rest) = (trial / per_point, trial % per_point);
        let by_chance = u64::from(self.sweep.budget.trials);
        match rest.checked_sub(by_chance) {
            None => (point, None, rest as u32),
            Some(over) => {
                let each = u64::from(self.sweep.budget.corner_trials).max(1);
                (point, Some((over / each) as u32), (over % each) as u32)
            }
        }
    }

    /// Set-up and value of a point, as their places in the sweep's lists, and the value itself.
    fn point(&self, point: u64) -> (usize, usize, f64) {
        let values = self.sweep.values.len() as u64;
        let (set_up, value) = ((point / values) as usize, (point % values) as usize);
        let against = self.sweep.values.get(value).copied().unwrap_or_default();
        (set_up, value, against)
    }

    /// What trials have in common that begin from the same settled row.
    fn row_of(&self, trial: u64) -> (u64, Option<u32>, u32) {
        let (point, corner, number) = self.place(trial);
        (point, corner, self.design.row(number))
    }

    /// Runs trials that begin from the same settled row, or a single one; `ends` says that no more is
    /// to begin.
    fn trials(&self, trials: &[u64], ends: &(impl Fn() -> bool + Sync)) -> Vec<Row> {
        let row = match trials {
            [first, _, ..] if !ends() => {
                let (point, _, number) = self.place(*first);
                let (set_up, _, against) = self.point(point);
                Some(self.settled(set_up, against, number))
            }
            _ => None,
        };
        let each = trials.iter().map_while(|&trial| (!ends()).then_some(trial));
        each.map(|trial| self.trial(trial, row.as_ref())).collect()
    }

    /// Runs trials in their order, on every thread, and hands their rows over as they come, as long as
    /// somebody takes them in.
    fn hand_over(
        &self,
        trials: &[u64],
        ends: &(impl Fn() -> bool + Sync),
        hand_over: Sender<Vec<Row>>,
    ) {
        let each = trials.chunk_by(|a, b| self.row_of(*a) == self.row_of(*b));
        // Whoever takes in no more has a reason that is told there.
        let _ = each
            .take_while(|_| !ends())
            .par_bridge()
            .try_for_each_with(hand_over, |hand_over, trials| {
                hand_over.send(self.trials(trials, ends))
            });
    }

    /// Runs a trial of the sweep, from a row that has settled if there is one.
    fn trial(&self, trial: u64, row: Option<&Result<Settled, Message>>) -> Row {
        let (point, corner, number) = self.place(trial);
        let (set_up, value, against) = self.point(point);
        let patience = Patience::UntilCertain;
        let (numbers, result) = self.of_row(set_up, against, corner, number, patience, row);
        Row {
            trial,
            set_up,
            value,
            corner,
            number,
            load_seed: self.design.load_seed(number),
            values: numbers,
            outcome: result.outcome,
            measured: result.numbers(),
            ticks: result.ticks,
            // A row is a line.
            why: result.why.map_or_else(String::new, |why| {
                let text = Texts::of(Lang::English).say(&why);
                text.split_whitespace().collect::<Vec<_>>().join(" ")
            }),
        }
    }

    /// Runs one trial anywhere: the values of its variables, and what came of it.
    pub fn at(
        &self,
        set_up: usize,
        against: f64,
        corner: Option<u32>,
        number: u32,
        patience: Patience,
    ) -> (Vec<f64>, Trial) {
        self.of_row(set_up, against, corner, number, patience, None)
    }

    fn of_row(
        &self,
        set_up: usize,
        against: f64,
        corner: Option<u32>,
        number: u32,
        patience: Patience,
        row: Option<&Result<Settled, Message>>,
    ) -> (Vec<f64>, Trial) {
        let numbers = self.design.values(number, corner, against);
        let released = self.released(set_up, against, number, &numbers, patience, row);
        let trial = released.map_or_else(Trial::failed, Release::finish);
        (numbers, trial)
    }

    /// A trial at the moment in which feed is pressed, from a row of its own where none is given.
    fn released(
        &self,
        set_up: usize,
        against: f64,
        number: u32,
        numbers: &[f64],
        patience: Patience,
        row: Option<&Result<Settled, Message>>,
    ) -> Result<Release, Message> {
        let spec = self.spec(set_up, against, number, numbers)?;
        let settled = match row {
            Some(Ok(row)) => row.fork_with_contact_of(&spec),
            Some(Err(why)) => return Err(why.clone()),
            None if self.sweep.releases_of_row() > 1 => {
                let row = self.settled(set_up, against, number)?;
                row.fork_with_contact_of(&spec)
            }
            None => Settled::new(&spec),
        };
        let follows = self.sweep.measures.contains(&Measure::RunOut);
        Ok(settled.release(follows, patience))
    }

    /// A trial of the sweep to be watched tick by tick: as it was run.
    ///
    /// # Errors
    /// Why its numbers make no line.
    pub fn watch(&self, trial: u64) -> Result<Release, Message> {
        let (point, corner, number) = self.place(trial);
        let (set_up, _, against) = self.point(point);
        let numbers = self.design.values(number, corner, against);
        let patience = Patience::UntilCertain;
        self.released(set_up, against, number, &numbers, patience, None)
    }

    /// The row from which a trial, and others with it, begin.
    fn settled(&self, set_up: usize, against: f64, number: u32) -> Result<Settled, Message> {
        let numbers = self.design.settling_values(number, against);
        let spec = self.spec(set_up, against, number, &numbers)?;
        Ok(Settled::new(&spec))
    }

    fn spec(
        &self,
        set_up: usize,
        against: f64,
        number: u32,
        numbers: &[f64],
    ) -> Result<LineSpec, Message> {
        let scenario = self.sweep.scenario(set_up, against, numbers)?;
        Ok(scenario.line_for(self.design.load_seed(number)))
    }

    /// Runs trials by chance at any value, each from a row of its own, at some places among the rows:
    /// of each, whether it came to the events.
    pub fn events(
        &self,
        set_up: usize,
        against: f64,
        places: &[u32],
        events: &[Event],
    ) -> Vec<Vec<bool>> {
        self.pool.install(|| {
            let each = places.par_iter().with_max_len(1);
            each.map(|&number| {
                let patience = Patience::UntilCertain;
                let number = self.sweep.independent(number);
                let (_, trial) = self.at(set_up, against, None, number, patience);
                let counts = |event: &Event| event.counts(trial.outcome);
                events.iter().map(counts).collect()
            })
            .collect()
        })
    }

    /// Runs all trials that a table lacks, and hands rows over as they come. `keep` stores them; what
    /// it cannot store ends the run.
    ///
    /// # Errors
    /// Of `keep`.
    pub fn run(
        &self,
        table: &mut Table,
        trials: &Trials<'_>,
        mut keep: impl FnMut(&Table, &[Row]) -> Result<(), TableError>,
        mut tell: impl FnMut(Progress),
    ) -> Result<Option<Stopped>, TableError> {
        let time_s = self.sweep.budget.time_s;
        let end = time_s.map(|time_s| Instant::now() + Duration::from_secs_f64(time_s));
        let mut look = match self.sweep.budget.width {
            Some(_) => FIRST_LOOK.min(self.sweep.budget.trials),
            None => self.sweep.budget.trials,
        };
        loop {
            let wanted = self.wanted(table, look, trials.part);
            let mut progress = Progress {
                done: table.rows.len() as u64,
                of: (table.rows.len() + wanted.len()) as u64,
            };
            tell(progress);
            let over = || end.is_some_and(|end| Instant::now() >= end);
            let asked = || trials.stop.load(Ordering::Relaxed);
            let ends = || asked() || over();
            let (hand_over, rows) = mpsc::channel();
            self.pool.in_place_scope(|scope| {
                scope.spawn(|_| self.hand_over(&wanted, &ends, hand_over));
                for rows in rows {
                    keep(table, &rows)?;
                    progress.done += rows.len() as u64;
                    tell(progress);
                    let rows = rows.into_iter().map(|row| (row.trial, row));
                    table.rows.extend(rows);
                }
                Ok(())
            })?;
            if progress.done < progress.of {
                let asked = asked();
                return Ok(Some(if asked { Stopped::Asked } else { Stopped::Time }));
            }
            if look >= self.sweep.budget.trials {
                return Ok(None);
            }
            look = look.saturating_mul(2).min(self.sweep.budget.trials);
        }
    }

    /// Trials that a table lacks when the points that are not narrow enough yet have `look` each.
    fn wanted(&self, table: &Table, look: u32, part: Part) -> Vec<u64> {
        let per_point = self.sweep.trials_of_point();
        let by_chance = u64::from(self.sweep.budget.trials);
        let done = self.narrow_enough(table, look);
        let points = self.sweep.points().len() as u64;
        let of_point = |point: u64| {
            let chance = if done.contains(&point) {
                0
            } else {
                u64::from(look)
            };
            let from = point * per_point;
            (from..from + chance).chain(from + by_chance..from + per_point)
        };
        (0..points)
            .flat_map(of_point)
            .filter(|trial| part.has(*trial) && !table.rows.contains_key(trial))
            .collect()
    }

    /// Points that need no more trials.
    fn narrow_enough(&self, table: &Table, look: u32) -> BTreeSet<u64> {
        let Some(width) = self.sweep.budget.width else {
            return BTreeSet::new();
        };
        let per_point = self.sweep.trials_of_point();
        let events: Vec<Event> = self.sweep.limits.iter().map(|limit| limit.of).collect();
        let is_narrow = |point: &u64| {
            let from = point * per_point;
            let to = from + u64::from(self.sweep.budget.trials);
            let rows: Vec<&Row> = table.rows.range(from..to).map(|(_, row)| row).collect();
            // Only whole looks count, so that it does not matter where a run was broken off.
            let looks = std::iter::successors(Some(FIRST_LOOK), |look| look.checked_mul(2));
            let mut looks = looks.take_while(|earlier| *earlier < look);
            looks.any(|earlier| {
                let seen: Vec<&&Row> = rows.iter().filter(|row| row.number < earlier).collect();
                seen.len() == earlier as usize
                    && events.iter().all(|event| {
                        let is = |row: &&&&Row| event.counts(row.outcome);
                        let hits = seen.iter().filter(is).count() as u64;
                        let band = exact_band(hits, u64::from(earlier), self.sweep.confidence);
                        band.high - band.low <= width
                    })
            })
        };
        (0..self.sweep.points().len() as u64)
            .filter(is_narrow)
            .collect()
    }
}
