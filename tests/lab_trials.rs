//! The laboratory with real trials: the search against the grid that it stands for, rows that settle with
//! the middle coefficients of contact against rows that settle with their own, and the answers that are
//! kept with the shipped sweeps against the program as it is.
//!
//! The large numbers are asked for by the environment, each with `cargo test --release --test lab_trials
//! -- --nocapture`: `CHOCKLINE_GRID=60` trials at each pitch of the grid, `CHOCKLINE_PAIRS=1000` rows settled
//! twice, `CHOCKLINE_ANSWERS=1` every row that is kept.

use std::fs;
use std::path::{Path, PathBuf};

use chockline::lab::{
    Design, Engine, Event, Patience, Search, Settled, Sweep, Table, exact_band, is_same,
    most_failures, search,
};
use chockline::texts::{Lang, Texts};
use rayon::prelude::*;

fn asked(variable: &str) -> Option<u32> {
    std::env::var(variable).ok()?.parse().ok()
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/lab")
}

/// The laboratory's rack with so many sticks, everything varied as in the shipped sweeps.
fn sweep(sticks: usize, rest: &str) -> Sweep {
    let text = format!(
        "(format: 1, name: \"real\", base: \"rack.ron\", seed: 5,
        set_ups: [(name: \"row\", set: [(\"row.sticks\", \"{sticks}\")])],
        vary: [
            (path: \"contact.friction_pipe_on_pipe\", spread: Uniform(0.14, 0.30)),
            (path: \"contact.rolling_lever_arm_mm\", spread: Triangular(0.5, 2, 5)),
            (path: \"contact.restitution\", spread: Uniform(0, 0.3)),
            (path: \"contact.friction_dry\", spread: Uniform(0.15, 0.40)),
            (path: \"pipe.ovality_pct\", spread: Triangular(0, 1.5, 3.5)),
            (path: \"row.long_axis_deg\", spread: Uniform(-90, 90)),
        ],
        {rest})"
    );
    Sweep::parse("real.ron", &text, &folder()).unwrap_or_else(|error| {
        panic!("{}", error.say(Texts::of(Lang::English)));
    })
}

/// One stick hangs on a flat rack and goes over the receiver on a steep one.
#[test]
fn the_search_ends_where_the_grid_of_the_same_trials_does() {
    let trials = asked("CHOCKLINE_GRID").unwrap_or(16);
    let sweep = sweep(
        1,
        &format!(
            "against: (path: \"rack.pitch_deg\", from: 0.5, to: 14, step: 0.1),
            budget: (trials: {trials}),
            limits: [(of: DoubleFeed, below: 0.2), (of: Hang, below: 0.2), (of: RollOff, below: 0.2)]"
        ),
    );
    assert!(sweep.out_of_reach().is_empty());
    let engine = Engine::new(&sweep, 0).unwrap();
    let events: Vec<Event> = sweep.limits.iter().map(|limit| limit.of).collect();
    let most = most_failures(trials.into(), 0.2, sweep.confidence).unwrap();
    let places: Vec<u32> = (0..trials).collect();
    // What has failed for good needs no more of its trials to be seen to fail.
    let passes = |value: &f64| {
        let mut hits = vec![0; events.len()];
        places.chunks(8).all(|places| {
            for row in engine.events(0, *value, places, &events) {
                for (hits, hit) in hits.iter_mut().zip(row) {
                    *hits += u64::from(hit);
                }
            }
            hits.iter().all(|hits| *hits <= most)
        })
    };
    let passed: Vec<f64> = sweep.values.iter().copied().filter(passes).collect();
    let ends = (*passed.first().unwrap(), *passed.last().unwrap());
    let sought = Search {
        from: 0.5,
        to: 14.0,
        within: 0.1,
        trials,
        limits: &sweep.limits,
        confidence: sweep.confidence,
    };
    let found = search(&sought, |value, places| {
        engine.events(0, value, places, &events)
    });
    let grid = sweep.trials();
    println!(
        "grid {ends:?}, {} of {} pitches pass, {grid} trials; {found:?}",
        passed.len(),
        sweep.values.len()
    );
    assert_eq!(grid, sought.trials_of_grid());
    let window = found.window.unwrap();
    for (found, known) in [(window.0, ends.0), (window.1, ends.1)] {
        assert!((found - known).abs() < 0.1 + 1e-6, "{window:?}, {ends:?}");
    }
    assert!(10 * found.trials <= grid, "{} of {grid}", found.trials);
    assert!(1.0 < ends.0 && ends.1 < 13.0, "no ends: {ends:?}");
}

/// The same trials from a row that settled with their own coefficients and from one that settled with the
/// middle ones: as often one way as the other.
#[test]
fn settling_with_the_middle_coefficients_leans_to_neither_side() {
    let pairs = asked("CHOCKLINE_PAIRS").unwrap_or(24);
    let sweep = sweep(
        4,
        &format!(
            "against: (path: \"rack.pitch_deg\", values: [2, 7, 9]), budget: (trials: {pairs})"
        ),
    );
    let design = Design::new(&sweep);
    let line = |number: u32, pitch: f64, values: &[f64]| {
        let scenario = sweep.scenario(0, pitch, values).unwrap();
        scenario.line_for(design.load_seed(number))
    };
    for &pitch in &sweep.values {
        let outcomes: Vec<_> = (0..pairs)
            .into_par_iter()
            .map(|number| {
                let spec = line(number, pitch, &design.values(number, None, pitch));
                let middle = line(number, pitch, &design.settling_values(number, pitch));
                let own = Settled::new(&spec);
                let shared = Settled::new(&middle).fork_with_contact_of(&spec);
                [own, shared].map(|row| {
                    let trial = row.release(false, Patience::UntilCertain).finish();
                    trial.outcome.unwrap()
                })
            })
            .collect();
        for event in Event::ALL {
            let count = |own: bool, shared: bool| {
                let is = |pair: &&[_; 2]| pair.map(|outcome| event.is(outcome)) == [own, shared];
                outcomes.iter().filter(is).count() as u64
            };
            let (both, own, shared) = (count(true, true), count(true, false), count(false, true));
            // Of the trials that differ, half one way and half the other, if it leans to neither.
            let split = exact_band(own, own + shared, 0.999);
            println!(
                "{pitch} deg, {event:?}: own {} of {pairs}, shared {}; {own} and {shared} alone, split {:.3} to {:.3}",
                both + own,
                both + shared,
                split.low,
                split.high
            );
            assert!(
                own + shared == 0 || (split.low..=split.high).contains(&0.5),
                "{pitch} deg, {event:?}: {own} and {shared} alone"
            );
        }
    }
}

/// What is kept belongs to the sweep, the base and the program as they are: the head of its rows says so,
/// and rows that are run again are the same to the last bit.
#[test]
fn kept_answers_are_those_of_the_program_as_it_is() {
    let guide = fs::read_to_string(folder().join("README.md")).unwrap();
    let mut count = 0;
    for entry in fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap_or_default();
        if path.extension().is_none_or(|ending| ending != "ron") || !text.contains("against:") {
            continue;
        }
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let kept = folder().join("answers").join(&name);
        if !kept.exists() {
            let none = guide.split("No whole answer is kept of").nth(1);
            let told = none.and_then(|rest| rest.split(": they load").next());
            let is_told = told.is_some_and(|told| told.contains(&format!("`{name}.ron`")));
            assert!(is_told, "the guide does not say that {name} has no answer");
            continue;
        }
        count += 1;
        let anew = format!("scenarios/lab/answers.sh makes the answer of {name} anew");
        let sweep = Sweep::load(&path).unwrap();
        let mut table = Table::new(&sweep);
        let taken = table.take_in(&kept.join("sample.csv"));
        let taken = taken.unwrap_or_else(|error| {
            panic!("{}; {anew}", Texts::of(Lang::English).say(&error.message()));
        });
        assert!(taken >= 5, "{name}: {taken} rows");

        let sheet = fs::read_to_string(kept.join("sheet.txt")).unwrap();
        for (name, text) in &table.provenance.0 {
            let line = format!("    {name}: {text}\n");
            assert!(sheet.contains(&line), "no '{line}' in the sheet; {anew}");
        }
        let whole = format!("{0} of {0} trials", sweep.trials());
        assert!(sheet.contains(&whole), "{name} is not whole; {anew}");
        assert!(sheet.contains("only narrow"), "{name}");
        assert!(guide.contains(&format!("answers/{name}/")), "{name}");
        windows_are_those_of_the_sheet(&guide, &name, &sheet);

        let engine = Engine::new(&sweep, 1).unwrap();
        let again = asked("CHOCKLINE_ANSWERS").map_or(2, |_| taken);
        let step = taken.div_ceil(again);
        let rows: Vec<_> = table.rows.values().skip(step / 2).step_by(step).collect();
        rows.into_par_iter().for_each(|row| {
            let trial = engine.watch(row.trial).unwrap().finish();
            assert!(is_same(row, &trial), "{name}: {row:?} {trial:?}; {anew}");
        });
    }
    assert!(count > 0);
    let kept = fs::read_dir(folder().join("answers")).unwrap();
    assert_eq!(kept.count(), count, "an answer without a sweep");
}

/// The guide's table of windows says what the sheet says: `| name | set-up | window | ...`.
fn windows_are_those_of_the_sheet(guide: &str, name: &str, sheet: &str) {
    let link = format!("| [{name}](answers/{name}/");
    for line in guide.lines().filter(|line| line.starts_with(&link)) {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let (set_up, window) = (cells[2], cells[3]);
        let is_told = |row: &str| {
            let rest = row.trim_start().strip_prefix(set_up);
            rest.is_some_and(|rest| rest.trim_start().starts_with(window))
        };
        assert!(sheet.lines().any(is_told), "not in the sheet: {line}");
    }
}
