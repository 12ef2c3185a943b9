//! What the rows of a sweep say: probabilities with their bands, the window, what matters most, which
//! of two set-ups is better.

use std::collections::BTreeMap;

use serde::Serialize;

use super::bounds::{Band, at_most, exact_lower, exact_upper, wilson_of_share};
use super::file::{Event, Measure, Sampling, Sweep};
use super::sobol::{Block, INDEPENDENT, Index, Results, indices};
use super::spread::normal_quantile;
use super::table::{Provenance, Row, Table};
use crate::domain::limits;
use crate::domain::math::deg;

/// The path whose window the trade's limits narrow.
pub const PITCH: &str = "rack.pitch_deg";
/// Where fewer or more than this part of the trials come to an event, it hardly tells what matters.
const TELLING: (f64, f64) = (0.02, 0.98);

/// An event at a value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    pub event: Event,
    /// Trials that came to it. Those that failed count as if they had.
    pub hits: u64,
    pub share: f64,
    /// Wilson's score band, two-sided, of as many trials as there are rows.
    pub band: Band,
    /// Exact one-sided bounds. Where several trials share a row they are those of the rows of which all
    /// trials came to it, and of the rows of which any did: trials that share a row are not independent.
    pub lower: f64,
    pub upper: f64,
    /// The greatest share in a corner of the unmeasured ranges.
    pub worst: Option<f64>,
}

/// The trials at one value.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reading {
    pub value: f64,
    pub trials: u64,
    /// Rows that were loaded and settled for them.
    pub rows: u64,
    pub failed: u64,
    pub events: Vec<Interval>,
    /// Means of what is measured, in the order of [`Measure::numbers`].
    pub means: Vec<Option<f64>>,
}

impl Reading {
    pub fn of(&self, event: Event) -> Option<&Interval> {
        self.events.iter().find(|known| known.event == event)
    }
}

/// The readings of a set-up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Curve {
    pub set_up: String,
    pub readings: Vec<Reading>,
    pub window: Window,
    pub sensitivities: Vec<Sensitivity>,
    /// Where the trials are laid out for them.
    pub indices: Vec<Indices>,
}

impl Curve {
    /// A heading, with the name of the set-up behind it where it has one.
    pub fn headed(&self, heading: &str) -> String {
        [heading, &self.set_up].join(" ").trim().to_owned()
    }
}

/// The values at which every risk is shown to be below its limit: ranges of neighbours.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Window {
    /// By the trials alone, with the sweep's confidence, given its assumptions.
    pub shown: Vec<(f64, f64)>,
    /// Those that also hold in every corner of the ranges that nobody has measured, as counted there.
    pub worst_case: Option<Vec<(f64, f64)>>,
    /// What of them the trade's limits leave; none where it is not drawn against the pitch.
    pub narrowed: Option<Vec<(f64, f64)>>,
}

/// How much a variable has to do with an event or a measured number.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sensitivity {
    pub path: String,
    pub unmeasured: bool,
    /// Mean rank correlation (Spearman) with the energy at the gate, and its band of 95 %.
    pub with_gate_energy: Option<(f64, f64)>,
    pub swings: Vec<Swing>,
}

/// How often an event comes where a variable is in its lowest and in its highest third.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Swing {
    pub event: Event,
    pub low_third: f64,
    pub high_third: f64,
    pub all: f64,
}

impl Swing {
    /// How far apart the two thirds are.
    pub fn width(&self) -> f64 {
        (self.high_third - self.low_third).abs()
    }
}

/// Which part of the variance of a result each factor brings about.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Indices {
    /// None is the energy at the gate.
    pub event: Option<Event>,
    /// In the order of the variables; last how the row comes to lie.
    pub factors: Vec<Index>,
}

/// Two set-ups on the same random numbers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    pub set_ups: [String; 2],
    pub event: Event,
    pub pairs: Pair,
    /// Probability of so one-sided a difference, or more so, if neither were better (exact sign test).
    pub by_chance: f64,
}

/// What came of the same trials with either set-up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Pair {
    pub both: u64,
    pub first_alone: u64,
    pub second_alone: u64,
    pub neither: u64,
}

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Answer {
    /// Of the rows that were read.
    pub provenance: Provenance,
    pub trials: u64,
    pub failed: u64,
    /// The first few reasons of failed trials.
    pub failures: Vec<String>,
    pub curves: Vec<Curve>,
    pub comparisons: Vec<Comparison>,
}

/// Reads a table.
pub fn answer(sweep: &Sweep, table: &Table) -> Answer {
    let rows: Vec<&Row> = table.rows.values().collect();
    let failed: Vec<&&Row> = rows.iter().filter(|row| row.outcome.is_none()).collect();
    let mut failures: Vec<String> = failed.iter().map(|row| row.why.clone()).collect();
    failures.sort();
    failures.dedup();
    failures.truncate(5);
    Answer {
        provenance: table.provenance.clone(),
        trials: rows.len() as u64,
        failed: failed.len() as u64,
        failures,
        curves: (0..sweep.set_ups.len())
            .map(|set_up| curve(sweep, &rows, set_up))
            .collect(),
        comparisons: comparisons(sweep, &rows),
    }
}

/// The events that a sweep looks at: those it measures, and those it limits.
fn events(sweep: &Sweep) -> Vec<Event> {
    let is_wanted = |event: &Event| {
        let measured = sweep
            .measures
            .iter()
            .any(|measure| measure.event() == Some(*event));
        measured || sweep.limits.iter().any(|limit| limit.of == *event)
    };
    Event::ALL.into_iter().filter(is_wanted).collect()
}

fn curve(sweep: &Sweep, rows: &[&Row], set_up: usize) -> Curve {
    let own: Vec<&Row> = rows
        .iter()
        .copied()
        .filter(|row| row.set_up == set_up)
        .collect();
    let readings: Vec<Reading> = (0..sweep.values.len())
        .filter_map(|value| {
            let here: Vec<&Row> = own
                .iter()
                .copied()
                .filter(|row| row.value == value)
                .collect();
            reading(sweep, &here, *sweep.values.get(value)?)
        })
        .collect();
    Curve {
        set_up: sweep
            .set_ups
            .get(set_up)
            .map(|s| s.name.clone())
            .unwrap_or_default(),
        window: window(sweep, &readings),
        sensitivities: sensitivities(sweep, &own),
        indices: sobol_indices(sweep, &own),
        readings,
    }
}

fn reading(sweep: &Sweep, rows: &[&Row], value: f64) -> Option<Reading> {
    let (by_chance, corners): (Vec<&Row>, Vec<&Row>) = rows
        .iter()
        .copied()
        .filter(|row| row.corner.is_some() || sweep.counts(row.number))
        .partition(|row| row.corner.is_none());
    if by_chance.is_empty() {
        return None;
    }
    let trials = by_chance.len() as u64;
    // In the order of the trials, those that share a row beside each other.
    let sharing: Vec<&[&Row]> = by_chance
        .chunk_by(|a, b| row_of(sweep, a) == row_of(sweep, b))
        .collect();
    let of_rows = sharing.len() as u64;
    let events = events(sweep).into_iter().map(|event| {
        let is = |row: &&Row| event.counts(row.outcome);
        let hits = by_chance.iter().filter(|row| is(row)).count() as u64;
        let any = sharing.iter().filter(|rows| rows.iter().any(is)).count() as u64;
        let all = sharing.iter().filter(|rows| rows.iter().all(is)).count() as u64;
        let share = hits as f64 / trials as f64;
        Interval {
            event,
            hits,
            share,
            band: wilson_of_share(share, of_rows, sweep.confidence),
            lower: exact_lower(all, of_rows, sweep.confidence),
            upper: exact_upper(any, of_rows, sweep.confidence),
            worst: worst(event, &corners),
        }
    });
    let means = Measure::numbers().map(|measure| {
        let values = by_chance.iter().filter_map(|row| row.measured(measure));
        mean(values.filter(|value| value.is_finite()))
    });
    Some(Reading {
        value,
        trials,
        rows: of_rows,
        failed: by_chance.iter().filter(|row| row.outcome.is_none()).count() as u64,
        events: events.collect(),
        means: means.collect(),
    })
}

/// Which row of its point a trial began from.
fn row_of(sweep: &Sweep, row: &Row) -> u32 {
    row.number / sweep.releases_of_row()
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (count, sum) = values.fold((0u64, 0.0), |(count, sum), value| (count + 1, sum + value));
    (count > 0).then(|| sum / count as f64)
}

fn worst(event: Event, corners: &[&Row]) -> Option<f64> {
    let mut counted: BTreeMap<u32, (u64, u64)> = BTreeMap::new();
    for row in corners {
        let (hits, trials) = counted.entry(row.corner?).or_default();
        *hits += u64::from(event.counts(row.outcome));
        *trials += 1;
    }
    let shares = counted
        .values()
        .map(|(hits, trials)| *hits as f64 / *trials as f64);
    shares.reduce(f64::max)
}

fn window(sweep: &Sweep, readings: &[Reading]) -> Window {
    if sweep.limits.is_empty() {
        return Window::default();
    }
    let is_shown = |reading: &Reading| {
        sweep.limits.iter().all(|limit| {
            reading
                .of(limit.of)
                .is_some_and(|event| event.upper < limit.below)
        })
    };
    let holds_at_worst = |reading: &Reading| {
        is_shown(reading)
            && sweep.limits.iter().all(|limit| {
                let worst = reading.of(limit.of).and_then(|event| event.worst);
                worst.is_some_and(|worst| worst <= limit.below)
            })
    };
    let shown = ranges(readings, is_shown);
    let worst_case = (sweep.corners() > 0).then(|| ranges(readings, holds_at_worst));
    let (low, high) = (deg(limits::PITCH_MIN.value), deg(limits::PITCH_MAX.value));
    // Rounding in degrees must not exclude the limit itself.
    let (low, high) = ((low * 1e9).round() / 1e9, (high * 1e9).round() / 1e9);
    let narrowed = (sweep.against == PITCH).then(|| {
        let from = worst_case.as_ref().unwrap_or(&shown).iter();
        from.filter(|(from, to)| *to >= low && *from <= high)
            .map(|(from, to)| (from.max(low), to.min(high)))
            .collect()
    });
    Window {
        shown,
        worst_case,
        narrowed,
    }
}

/// Ranges of neighbours that hold.
fn ranges(readings: &[Reading], holds: impl Fn(&Reading) -> bool) -> Vec<(f64, f64)> {
    let mut ranges: Vec<(f64, f64)> = Vec::new();
    let mut before = false;
    for reading in readings {
        let now = holds(reading);
        match ranges.last_mut() {
            Some(range) if now && before => range.1 = reading.value,
            _ if now => ranges.push((reading.value, reading.value)),
            _ => {}
        }
        before = now;
    }
    ranges
}

/// Ranks of numbers, from 0, equal ones sharing the middle of theirs.
fn ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    let at = |i: usize| values.get(i).copied().unwrap_or_default();
    order.sort_by(|a, b| at(*a).total_cmp(&at(*b)));
    let mut ranks = vec![0.0; values.len()];
    let mut from = 0;
    while from < order.len() {
        let value = order.get(from).map(|i| at(*i)).unwrap_or_default();
        let alike = order
            .iter()
            .skip(from)
            .take_while(|i| at(**i) == value)
            .count();
        let middle = from as f64 + (alike as f64 - 1.0) / 2.0;
        for i in order.iter().skip(from).take(alike) {
            if let Some(rank) = ranks.get_mut(*i) {
                *rank = middle;
            }
        }
        from += alike;
    }
    ranks
}

/// Rank correlation of two series; none where one of them does not vary.
fn spearman(a: &[f64], b: &[f64]) -> Option<f64> {
    let (a, b) = (ranks(a), ranks(b));
    let middle = (a.len() as f64 - 1.0) / 2.0;
    let product = |x: &[f64], y: &[f64]| -> f64 {
        x.iter()
            .zip(y)
            .map(|(x, y)| (x - middle) * (y - middle))
            .sum()
    };
    let spread = (product(&a, &a) * product(&b, &b)).sqrt();
    (spread > 0.0).then(|| product(&a, &b) / spread)
}

/// Rows by chance, point by point.
fn by_point<'r>(rows: impl Iterator<Item = &'r Row>) -> Vec<Vec<&'r Row>> {
    let mut points: BTreeMap<(usize, usize), Vec<&Row>> = BTreeMap::new();
    for row in rows.filter(|row| row.corner.is_none()) {
        points.entry((row.set_up, row.value)).or_default().push(row);
    }
    points.into_values().collect()
}

fn sensitivities(sweep: &Sweep, rows: &[&Row]) -> Vec<Sensitivity> {
    let points = by_point(rows.iter().copied().filter(|row| sweep.counts(row.number)));
    let each = sweep.variables.iter().enumerate();
    each.map(|(i, variable)| {
        // What is added to the value that it is drawn against varies with that too.
        let value = |row: &Row| {
            let against = sweep.values.get(row.value).copied().unwrap_or_default();
            let own = row.values.get(i).copied().unwrap_or_default();
            if variable.on_top { own - against } else { own }
        };
        let mut correlations = Vec::new();
        let mut trials = 0usize;
        for point in &points {
            let pairs: Vec<(f64, f64)> = point
                .iter()
                .filter_map(|row| Some((value(row), row.measured(Measure::GateEnergy)?)))
                .collect();
            let (a, b): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
            if pairs.len() > 10
                && let Some(correlation) = spearman(&a, &b)
            {
                correlations.push(correlation * pairs.len() as f64);
                trials += pairs.len();
            }
        }
        let with_gate_energy = (trials > 0).then(|| {
            let n = trials as f64;
            (
                correlations.iter().sum::<f64>() / n,
                normal_quantile(0.975) / n.sqrt(),
            )
        });
        let swings = events(sweep)
            .into_iter()
            .filter_map(|event| swing(event, &points, &value));
        Sensitivity {
            path: variable.path.clone(),
            unmeasured: variable.unmeasured,
            with_gate_energy,
            swings: swings.collect(),
        }
    })
    .collect()
}

fn sobol_indices(sweep: &Sweep, rows: &[&Row]) -> Vec<Indices> {
    if sweep.sampling != Sampling::Saltelli {
        return Vec::new();
    }
    let points = by_point(rows.iter().copied());
    let wanted = events(sweep).into_iter().map(Some).chain([None]);
    let of = |event: Option<Event>| {
        let result = |row: &Row| match event {
            Some(event) => Some(f64::from(u8::from(event.counts(row.outcome)))),
            None => row.measured(Measure::GateEnergy),
        };
        let each = points.iter().map(|point| by_base(sweep, point, &result));
        let factors = indices(&each.collect::<Vec<_>>())?;
        Some(Indices { event, factors })
    };
    wanted.filter_map(of).collect()
}

/// The results of every base that is whole.
fn by_base(
    sweep: &Sweep,
    point: &[&Row],
    result: &impl Fn(&Row) -> Option<f64>,
) -> BTreeMap<u32, Results> {
    let mut bases: BTreeMap<u32, Results> = BTreeMap::new();
    for row in point {
        let (base, _) = Block::of(row.number, sweep.factors());
        bases.entry(base).or_default().extend(result(row));
    }
    bases.retain(|_, results| results.len() == INDEPENDENT as usize + sweep.factors());
    bases
}

fn swing(event: Event, points: &[Vec<&Row>], value: &impl Fn(&Row) -> f64) -> Option<Swing> {
    let mut counted = [(0u64, 0u64); 3];
    for point in points {
        let hits = point.iter().filter(|row| event.counts(row.outcome)).count() as f64;
        let share = hits / point.len() as f64;
        if !(TELLING.0..=TELLING.1).contains(&share) {
            continue;
        }
        let values: Vec<f64> = point.iter().map(|row| value(row)).collect();
        let count = point.len() as f64;
        for (row, rank) in point.iter().zip(ranks(&values)) {
            let hit = u64::from(event.counts(row.outcome));
            let third = usize::from(rank >= count / 3.0) + usize::from(rank >= 2.0 * count / 3.0);
            if let Some((hits, trials)) = counted.get_mut(third) {
                *hits += hit;
                *trials += 1;
            }
        }
    }
    let share = |(hits, trials): (u64, u64)| (trials > 0).then(|| hits as f64 / trials as f64);
    let [low, middle, high] = counted;
    let all = (low.0 + middle.0 + high.0, low.1 + middle.1 + high.1);
    Some(Swing {
        event,
        low_third: share(low)?,
        high_third: share(high)?,
        all: share(all)?,
    })
}

fn comparisons(sweep: &Sweep, rows: &[&Row]) -> Vec<Comparison> {
    let mut comparisons = Vec::new();
    let place = |row: &Row| (row.value, row.number);
    let of = |set_up: usize| -> BTreeMap<(usize, u32), &Row> {
        // One trial of each row: others with it are not independent.
        let own = rows.iter().filter(|row| {
            let is_first = row.number % sweep.releases_of_row() == 0 && sweep.counts(row.number);
            row.set_up == set_up && row.corner.is_none() && is_first
        });
        own.map(|row| (place(row), *row)).collect()
    };
    let first = of(0);
    for second in 1..sweep.set_ups.len() {
        let other = of(second);
        for event in events(sweep) {
            let mut pairs = Pair::default();
            for (place, row) in &first {
                let Some(twin) = other.get(place) else {
                    continue;
                };
                match (event.counts(row.outcome), event.counts(twin.outcome)) {
                    (true, true) => pairs.both += 1,
                    (true, false) => pairs.first_alone += 1,
                    (false, true) => pairs.second_alone += 1,
                    (false, false) => pairs.neither += 1,
                }
            }
            let name = |i: usize| {
                sweep
                    .set_ups
                    .get(i)
                    .map(|s| s.name.clone())
                    .unwrap_or_default()
            };
            comparisons.push(Comparison {
                set_ups: [name(0), name(second)],
                event,
                by_chance: sign_test(pairs.first_alone, pairs.second_alone),
                pairs,
            });
        }
    }
    comparisons
}

/// Two-sided exact sign test: the probability of a split at least as uneven, were both as likely.
fn sign_test(a: u64, b: u64) -> f64 {
    (2.0 * at_most(a.min(b), a + b, 0.5)).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranks_share_the_middle_and_correlate() {
        assert_eq!(ranks(&[3.0, 1.0, 3.0, 2.0]), [2.5, 0.0, 2.5, 1.0]);
        assert!((spearman(&[1.0, 2.0, 3.0], &[1.0, 8.0, 9.0]).unwrap() - 1.0).abs() < 1e-12);
        assert!((spearman(&[1.0, 2.0, 3.0], &[9.0, 8.0, 1.0]).unwrap() + 1.0).abs() < 1e-12);
        assert_eq!(spearman(&[1.0, 1.0], &[1.0, 2.0]), None);
    }

    #[test]
    fn a_split_of_ten_to_none_is_hardly_chance() {
        assert!((sign_test(10, 0) - 2.0 / 1024.0).abs() < 1e-9);
        assert_eq!(sign_test(0, 0), 1.0);
        assert_eq!(sign_test(5, 5), 1.0);
        assert!((sign_test(1, 4) - 12.0 / 32.0).abs() < 1e-9);
    }
}
