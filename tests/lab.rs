//! The laboratory: rows that do not depend on who ran them, bounds that cover, answers that agree with
//! the closed forms, and bad input that changes nothing.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::atomic::AtomicBool;

use chacha20::ChaCha8Rng;
use chacha20::rand_core::SeedableRng;
use chockline::evidence::Outcome;
use chockline::lab::{
    Design, Engine, Estimate, Event, Indices, Journal, Limit, Measure, Part, Patience, Row, Search,
    Settled, Sweep, SweepError, Table, TableError, Trials, answer, exact_lower, exact_upper,
    search, text, wilson,
};
use chockline::texts::{Lang, Texts};
use rand::RngExt;

const BASE: &str = "(format: 1, name: \"base\", goal: OneStick,
    pipe: (size: Ips(24), wall: Dr(17), ovality_pct: 0.5), row: (sticks: 2))";

const SMALL: &str = "(format: 1, name: \"small\", base: \"base.ron\", seed: 7,
    against: (path: \"rack.pitch_deg\", values: [0.5, 5, 14]),
    each: [(path: \"rack.surface\", values: [\"Dry\", \"Wet\"])],
    vary: [
        (path: \"contact.friction_pipe_on_pipe\", spread: Uniform(0.14, 0.3), unmeasured: true),
        (path: \"pipe.ovality_pct\", spread: Normal(1, 0.5), within: Some((0, 3))),
    ],
    together: [(of: (\"contact.friction_pipe_on_pipe\", \"pipe.ovality_pct\"), correlation: 0.5)],
    budget: (trials: 3, corner_trials: 1),
    limits: [(of: DoubleFeed, below: 0.7)])";

/// A folder with a base and a sweep.
struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    fn new(base: &str, sweep: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("base.ron"), base).unwrap();
        fs::write(folder.path().join("sweep.ron"), sweep).unwrap();
        Self { folder }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn sweep(&self) -> Sweep {
        Sweep::load(&self.path("sweep.ron")).unwrap_or_else(|error| {
            panic!("{}", error.say(Texts::of(Lang::English)));
        })
    }

    fn run(&self, args: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_chockline"))
            .args(args)
            .env("LANG", "C")
            .current_dir(self.folder.path())
            .output()
            .unwrap()
    }
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// All rows, run by so many threads.
fn whole(sweep: &Sweep, threads: usize, part: Part) -> Table {
    let engine = Engine::new(sweep, threads).unwrap();
    let stop = AtomicBool::new(false);
    let mut table = Table::new(sweep);
    let trials = Trials { part, stop: &stop };
    let ended = engine.run(&mut table, &trials, |_, _| Ok(()), |_| ());
    assert_eq!(ended.unwrap(), None);
    table
}

#[test]
fn rows_do_not_depend_on_threads_parts_or_interruptions() {
    let bench = Bench::new(BASE, SMALL);
    let sweep = bench.sweep();
    let one = whole(&sweep, 1, Part::WHOLE);
    let bytes = one.bytes(&sweep);
    assert_eq!(one.rows.len() as u64, sweep.trials());
    assert!(one.rows.values().all(|row| row.outcome.is_some()));
    let outcomes: Vec<_> = one.rows.values().map(|row| row.outcome).collect();
    for wanted in [Outcome::OneStick, Outcome::Hung] {
        assert!(outcomes.contains(&Some(wanted)), "{wanted:?}: {outcomes:?}");
    }
    assert_eq!(whole(&sweep, 2, Part::WHOLE).bytes(&sweep), bytes);

    let mut merged = Table::new(&sweep);
    for index in (0..7).rev() {
        let part = whole(&sweep, 1, Part { index, of: 7 });
        let path = bench.path(&format!("part-{index}.csv"));
        fs::write(&path, part.bytes(&sweep)).unwrap();
        merged.take_in(&path).unwrap();
    }
    assert_eq!(merged.bytes(&sweep), bytes);

    // Broken off in the middle of a line, and in the order in which rows happened to come.
    let mut cut = Table::new(&sweep);
    let path = bench.path("cut.csv");
    let mut journal = Journal::begin(&path, &cut, &sweep).unwrap();
    let rows: Vec<_> = one.rows.values().rev().take(5).cloned().collect();
    journal.add(&cut, &sweep, &rows).unwrap();
    drop(journal);
    let all = fs::read(&path).unwrap();
    fs::write(&path, &all[..all.len() - 9]).unwrap();
    assert_eq!(cut.take_in(&path).unwrap(), 4);
    let mut journal = Journal::go_on(&path).unwrap();
    let engine = Engine::new(&sweep, 2).unwrap();
    let stop = AtomicBool::new(false);
    let trials = Trials {
        part: Part::WHOLE,
        stop: &stop,
    };
    let keep = |table: &Table, rows: &[_]| journal.add(table, &sweep, rows);
    engine.run(&mut cut, &trials, keep, |_| ()).unwrap();
    assert_eq!(cut.bytes(&sweep), bytes);
    let mut again = Table::new(&sweep);
    again.take_in(&path).unwrap();
    assert_eq!(again.bytes(&sweep), bytes);
}

/// Several trials from one settled row: the same rows whoever runs them; and a fork of a row with its
/// own coefficients is that row.
#[test]
fn settled_rows_are_forked_and_go_on_as_they_would() {
    let sweep = SMALL
        .replace("trials: 3, corner_trials: 1", "trials: 6, rows: 2")
        .replace("together:", "// together:");
    let sweep = sweep.replace("values: [0.5, 5, 14]", "values: [1, 5]");
    let bench = Bench::new(BASE, &sweep);
    let sweep = bench.sweep();
    let one = whole(&sweep, 1, Part::WHOLE);
    assert_eq!(one.rows.len(), 24);
    let bytes = one.bytes(&sweep);
    assert_eq!(whole(&sweep, 2, Part::WHOLE).bytes(&sweep), bytes);
    let mut merged = Table::new(&sweep);
    for index in 0..5 {
        let part = whole(&sweep, 2, Part { index, of: 5 });
        merged.rows.extend(part.rows);
    }
    assert_eq!(merged.bytes(&sweep), bytes);
    for (row, next) in one.rows.values().zip(one.rows.values().skip(1)) {
        if next.number % 3 != 0 {
            assert_eq!(row.load_seed, next.load_seed);
            assert_eq!(row.values[1], next.values[1], "ovality belongs to the row");
            assert_ne!(row.values[0], next.values[0], "friction does not");
        }
    }
    let read = answer(&sweep, &one);
    for reading in read.curves.iter().flat_map(|curve| &curve.readings) {
        assert_eq!((reading.trials, reading.rows), (6, 2));
    }

    let scenario = sweep.scenario(0, 5.0, &[0.2, 1.0]).unwrap();
    let spec = scenario.line_for(3);
    let patience = Patience::UntilCertain;
    let row = Settled::new(&spec);
    let fork = row
        .fork_with_contact_of(&spec)
        .release(false, patience)
        .finish();
    assert_eq!(fork, row.release(false, patience).finish());
    let slippery = sweep.scenario(0, 5.0, &[0.3, 1.0]).unwrap().line_for(3);
    let other = Settled::new(&spec).fork_with_contact_of(&slippery);
    assert_ne!(fork, other.release(false, patience).finish());
}

/// Other programs read what the table says, and where it comes from.
#[test]
fn parquet_holds_the_rows_and_their_provenance() {
    use parquet::file::reader::{FileReader, SerializedFileReader};
    use parquet::record::RowAccessor;
    let bench = Bench::new(BASE, SMALL);
    let sweep = bench.sweep();
    let table = whole(&sweep, 2, Part { index: 0, of: 3 });
    let bytes = table.parquet(&sweep).unwrap();
    assert_eq!(bytes, table.parquet(&sweep).unwrap());
    let path = bench.path("rows.parquet");
    fs::write(&path, &bytes).unwrap();
    let reader = SerializedFileReader::new(fs::File::open(&path).unwrap()).unwrap();
    let head = reader
        .metadata()
        .file_metadata()
        .key_value_metadata()
        .unwrap();
    for (name, text) in &table.provenance.0 {
        let entry = head.iter().find(|entry| entry.key == *name).unwrap();
        assert_eq!(entry.value.as_deref(), Some(text.as_str()));
    }
    let schema = reader.metadata().file_metadata().schema_descr();
    let names: Vec<&str> = schema
        .columns()
        .iter()
        .map(|column| column.name())
        .collect();
    let csv = String::from_utf8(table.bytes(&sweep)).unwrap();
    let head = csv.lines().find(|line| !line.starts_with('#')).unwrap();
    assert_eq!(names, head.split(',').collect::<Vec<_>>());
    let place = |name: &str| names.iter().position(|known| *known == name).unwrap();
    let mut count = 0;
    for (read, row) in reader.get_row_iter(None).unwrap().zip(table.rows.values()) {
        let read = read.unwrap();
        let number = |name: &str| read.get_double(place(name)).ok();
        assert_eq!(read.get_long(0).unwrap() as u64, row.trial);
        assert_eq!(read.get_ulong(place("load_seed")).unwrap(), row.load_seed);
        assert_eq!(number("rack.pitch_deg"), Some(sweep.values[row.value]));
        assert_eq!(number("pipe.ovality_pct"), Some(row.values[1]));
        assert_eq!(number("feed_s"), row.measured(Measure::Time));
        let outcome = read.get_string(place("outcome")).unwrap();
        assert_eq!(*outcome, format!("{:?}", row.outcome.unwrap()));
        count += 1;
    }
    assert_eq!(count, table.rows.len());
}

/// Of 2,000 series of trials with a known probability, at least 95 % lie within the exact bound; and
/// Wilson's band does what it says to within two points.
#[test]
fn exact_bounds_cover_as_often_as_they_say() {
    const SERIES: u32 = 2_000;
    let mut chance = ChaCha8Rng::seed_from_u64(20);
    for (probability, trials) in [
        (0.005, 300),
        (0.012, 299),
        (0.05, 100),
        (0.3, 60),
        (0.9, 200),
    ] {
        let (mut upper, mut lower, mut both) = (0, 0, 0);
        for _ in 0..SERIES {
            let hits = (0..trials)
                .filter(|_| chance.random::<f64>() < probability)
                .count() as u64;
            upper += u32::from(exact_upper(hits, trials, 0.95) >= probability);
            lower += u32::from(exact_lower(hits, trials, 0.95) <= probability);
            let band = wilson(hits, trials, 0.95);
            both += u32::from((band.low..=band.high).contains(&probability));
        }
        for (what, covered) in [("upper", upper), ("lower", lower)] {
            let share = f64::from(covered) / f64::from(SERIES);
            assert!(
                share >= 0.95,
                "{what} bound of {probability}, {trials}: {share}"
            );
        }
        let share = f64::from(both) / f64::from(SERIES);
        assert!(share >= 0.92, "Wilson, {probability}, {trials}: {share}");
    }
}

/// A made-up line that feeds two where pipe slips on pipe when dry, and where it is oval when wet: what
/// matters is told of each by itself.
#[test]
fn what_matters_is_told_of_each_set_up() {
    let sweep = SMALL
        .replace("trials: 3, corner_trials: 1", "trials: 800")
        .replace("together:", "sampling: Saltelli, // together:")
        .replace("values: [0.5, 5, 14]", "values: [5]");
    let sweep = Bench::new(BASE, &sweep).sweep();
    let design = Design::new(&sweep);
    let mut table = Table::new(&sweep);
    for set_up in 0..2 {
        for number in 0..800 {
            let values = design.values(number, None, 5.0);
            let is_double = match set_up {
                0 => values[0] < 0.22,
                _ => values[1] > 1.0,
            };
            let trial = set_up as u64 * 800 + u64::from(number);
            let row = Row {
                trial,
                set_up,
                value: 0,
                corner: None,
                number,
                load_seed: 0,
                values,
                outcome: Some(if is_double {
                    Outcome::DoubleFeed
                } else {
                    Outcome::OneStick
                }),
                measured: Vec::new(),
                ticks: 1,
                why: String::new(),
            };
            table.rows.insert(trial, row);
        }
    }
    let answer = answer(&sweep, &table);
    for (set_up, curve) in answer.curves.iter().enumerate() {
        let other = 1 - set_up;
        let is = |indices: &&Indices| indices.event == Some(Event::DoubleFeed);
        let indices = &curve.indices.iter().find(is).unwrap().factors;
        assert!(indices[set_up].first.value > 0.8, "{set_up}: {indices:?}");
        assert!(indices[other].total.value < 0.2, "{set_up}: {indices:?}");
        let width = |variable: usize| {
            let swings = &curve.sensitivities[variable].swings;
            let double = swings.iter().find(|swing| swing.event == Event::DoubleFeed);
            double.unwrap().width()
        };
        let widths = [width(set_up), width(other)];
        assert!(widths[0] > 0.9 && widths[1] < 0.2, "{set_up}: {widths:?}");
    }
    let page = text(&sweep, &table, &answer, Texts::of(Lang::English));
    let heading = Texts::of(Lang::English).say(&"lab-head-indices".into());
    for set_up in &sweep.set_ups {
        let line = format!("{heading} {}", set_up.name);
        assert!(page.lines().any(|own| own.trim() == line), "{line}\n{page}");
    }
}

/// A made-up line: each trial has its own pitch below which it hangs, and above which it double feeds.
#[test]
fn the_search_finds_the_ends_of_the_grid_with_a_tenth_of_its_trials() {
    let limits = [
        Limit {
            of: Event::DoubleFeed,
            below: 0.01,
        },
        Limit {
            of: Event::Hang,
            below: 0.05,
        },
    ];
    let trials = 400;
    let (from, to, within): (f64, f64, f64) = (0.5, 14.0, 0.1);
    for seed in 0..20 {
        let ends: Vec<(f64, f64)> = (0..trials)
            .map(|trial| {
                let mut chance = ChaCha8Rng::seed_from_u64(1_000 * seed + u64::from(trial));
                let hang = 1.0 + chance.random_range(0.0..2.0) + 0.1 * seed as f64;
                (
                    hang,
                    8.0 + chance.random_range(0.0..4.0) - 0.1 * seed as f64,
                )
            })
            .collect();
        let events = |value: f64, places: &[u32]| -> Vec<Vec<bool>> {
            places
                .iter()
                .map(|trial| {
                    let (hang, jump) = ends[*trial as usize];
                    vec![value > jump, value < hang]
                })
                .collect()
        };
        let passes = |value: f64| {
            limits.iter().enumerate().all(|(i, limit)| {
                let rows = events(value, &(0..trials).collect::<Vec<_>>());
                let hits = rows.iter().filter(|row| row[i]).count() as u64;
                exact_upper(hits, u64::from(trials), 0.95) < limit.below
            })
        };
        let values: Vec<f64> = (0..=135).map(|i| from + 0.1 * f64::from(i)).collect();
        let passed: Vec<f64> = values
            .iter()
            .copied()
            .filter(|value| passes(*value))
            .collect();
        let (low, high) = (passed[0], *passed.last().unwrap());
        let sought = Search {
            from,
            to,
            within,
            trials,
            limits: &limits,
            confidence: 0.95,
        };
        let found = search(&sought, events);
        let window = found.window.unwrap();
        assert!(
            (window.0 - low).abs() < 0.1 + 1e-6,
            "{window:?} against {low}"
        );
        assert!(
            (window.1 - high).abs() < 0.1 + 1e-6,
            "{window:?} against {high}"
        );
        let grid = values.len() as u64 * u64::from(trials);
        assert!(10 * found.trials <= grid, "{} of {grid}", found.trials);
    }
}

/// Round, single, and with friction that holds a corner: what the closed forms take for granted.
#[test]
fn a_single_stick_has_the_window_of_the_closed_forms() {
    // The pins of a smaller size, so that the gate is low enough to be jumped on a rack's pitch.
    let base = "(format: 1, name: \"base\", goal: OneStick,
        pipe: (size: Ips(36), wall: Dr(17)),
        row: (sticks: 1, gap_mm: 914.4, scatter: (gap_mm: 0, long_axis_deg: 0, yaw_deg: 0, offset_m: 0)),
        rack: (length_m: 12), escapement: (size_setting: Ips(24)),
        contact: (friction_dry: 1, rolling_lever_arm_mm: 20))";
    let sweep = "(format: 1, name: \"one\", base: \"base.ron\",
        against: (path: \"rack.pitch_deg\", from: 1, to: 15, step: 0.05),
        budget: (trials: 1), limits: [(of: DoubleFeed, below: 0.96), (of: Hang, below: 0.96)])";
    let bench = Bench::new(base, sweep);
    let sweep = bench.sweep();
    let engine = Engine::new(&sweep, 2).unwrap();
    let events = [Event::DoubleFeed, Event::Hang];
    let ends = |from: f64, to: f64, within: f64| {
        let sought = Search {
            from,
            to,
            within,
            trials: 1,
            limits: &sweep.limits,
            confidence: 0.95,
        };
        let run = |value: f64, places: &[u32]| engine.events(0, value, places, &events);
        search(&sought, run).window.unwrap()
    };
    let (low, _) = ends(2.0, 4.0, 0.01);
    let (_, high) = ends(5.0, 15.0, 0.05);
    let estimate = Estimate::of_sweep(&sweep, 0).unwrap();
    for (found, known) in [
        (low, estimate.start_deg),
        (high, estimate.jump_deg.unwrap()),
    ] {
        assert!(
            (found / known - 1.0).abs() < 0.02,
            "{found} against {estimate:?}"
        );
    }
}

/// What is taken for certain is so: the same trials, watched until long after all is still.
#[test]
fn stopping_early_changes_no_outcome() {
    let sweep = "(format: 1, name: \"ends\", base: \"base.ron\", seed: 3,
        against: (path: \"rack.pitch_deg\", values: [1, 3, 5, 9, 11, 13]),
        vary: [(path: \"pipe.ovality_pct\", spread: Uniform(0, 5)),
               (path: \"row.long_axis_deg\", spread: Uniform(-90, 90))],
        measure: [DoubleFeed, Hang, RollOff], budget: (trials: 4))";
    let bench = Bench::new(BASE, sweep);
    let sweep = bench.sweep();
    let engine = Engine::new(&sweep, 1).unwrap();
    let mut seen = Vec::new();
    let (mut early_ticks, mut all_ticks) = (0, 0);
    for &pitch in &sweep.values {
        for number in 0..sweep.budget.trials {
            let [early, end] = [Patience::UntilCertain, Patience::ToTheEnd]
                .map(|patience| engine.at(0, pitch, None, number, patience).1);
            for event in Event::ALL {
                let is = |outcome: Option<Outcome>| event.is(outcome.unwrap());
                assert_eq!(
                    is(early.outcome),
                    is(end.outcome),
                    "{pitch} deg, {number}: {early:?} {end:?}"
                );
            }
            seen.push(early.outcome.unwrap());
            early_ticks += early.ticks;
            all_ticks += end.ticks;
        }
    }
    assert!(
        4 * early_ticks < 3 * all_ticks,
        "{early_ticks} of {all_ticks} ticks"
    );
    for wanted in [Outcome::OneStick, Outcome::Hung, Outcome::RollOff] {
        assert!(seen.contains(&wanted), "no {wanted:?} in {seen:?}");
    }
}

/// Nor with a single stick, of which nothing is waited for once it lies: one that goes over the receiver's
/// stop is slow on top of it.
#[test]
fn a_single_stick_that_goes_over_the_receiver_is_not_taken_for_received() {
    let base = BASE.replace("sticks: 2", "sticks: 1");
    let sweep = "(format: 1, name: \"over\", base: \"base.ron\", seed: 3,
        against: (path: \"rack.pitch_deg\", values: [5, 8, 9, 10, 11, 12, 13]),
        vary: [(path: \"pipe.ovality_pct\", spread: Uniform(0, 3)),
               (path: \"contact.friction_dry\", spread: Uniform(0.15, 0.4)),
               (path: \"contact.restitution\", spread: Uniform(0, 0.3))],
        measure: [RollOff], budget: (trials: 8))";
    let bench = Bench::new(&base, sweep);
    let sweep = bench.sweep();
    let engine = Engine::new(&sweep, 1).unwrap();
    let mut over = 0;
    for &pitch in &sweep.values {
        for number in 0..sweep.budget.trials {
            let [early, end] = [Patience::UntilCertain, Patience::ToTheEnd]
                .map(|patience| engine.at(0, pitch, None, number, patience).1);
            assert_eq!(early.outcome, end.outcome, "{pitch} deg, {number}");
            over += u32::from(early.outcome == Some(Outcome::RollOff));
        }
    }
    let all = sweep.trials() as u32;
    assert!(0 < over && over < all, "{over} of {all} go over");
}

#[test]
fn wrong_sweeps_say_what_is_wrong_and_what_was_meant() {
    let with = |old: &str, new: &str| {
        assert!(SMALL.contains(old), "{old}");
        SMALL.replacen(old, new, 1)
    };
    for (sweep, said) in [
        (
            with("rack.pitch_deg", "rack.pich_deg"),
            "did you mean rack.pitch_deg?",
        ),
        (
            with("contact.friction_pipe_on_pipe", "friction_pipe_on_pipe"),
            "did you mean contact.friction_pipe_on_pipe?",
        ),
        (with("values: [0.5, 5, 14]", "values: []"), "empty range"),
        (
            with("values: [0.5, 5, 14]", "from: 5, to: 4, step: 1"),
            "empty range",
        ),
        (
            with("values: [0.5, 5, 14]", "from: 5, to: 7"),
            "from, to and step",
        ),
        (
            with("values: [0.5, 5, 14]", "values: [5, 50]"),
            "allowed: 0 to 15",
        ),
        (
            with("Uniform(0.14, 0.3)", "Uniform(0.3, 0.14)"),
            "empty range",
        ),
        (
            with("Uniform(0.14, 0.3)", "Uniform(0.14, 3)"),
            "allowed: 0 to 1",
        ),
        (with("Some((0, 3))", "Some((30, 40))"), "empty range"),
        (
            with("\"Dry\", \"Wet\"", "\"Dry\", \"Damp\""),
            "no sound scenario: rack.surface",
        ),
        (
            with("correlation: 0.5", "correlation: 1.5"),
            "between -1 and 1",
        ),
        (with("trials: 3", "trials: 0"), "at least 1 trial"),
        (with("below: 0.7", "below: 7"), "between 0 and 1"),
        (with("spread: Normal", "spred: Normal"), "spred"),
        (
            with("path: \"pipe.ovality_pct\"", "path: \"rack.pitch_deg\""),
            "varied elsewhere",
        ),
        (
            with("path: \"pipe.ovality_pct\"", "path: \"pipe.size\""),
            "takes no number",
        ),
        (with("base: \"base.ron\"", "base: \"none.ron\""), "none.ron"),
        (
            with("budget: (trials: 3", "sampling: Grid, budget: (trials: 3"),
            "at least 4 trials",
        ),
        ("(".to_owned(), "1:1"),
    ] {
        let bench = Bench::new(BASE, &sweep);
        let error = Sweep::load(&bench.path("sweep.ron")).unwrap_err();
        let text = error.say(Texts::of(Lang::English));
        assert!(text.contains(said), "{said}: {text}");
        // And on the command line, without leaving anything behind.
        if said == "empty range" {
            let output = bench.run(&["sweep", "sweep.ron", "--out", "out"]);
            assert_eq!(output.status.code(), Some(2));
            assert!(!bench.path("out").exists());
        }
    }
    let error = Sweep::load(Path::new("no/such.ron")).unwrap_err();
    assert!(matches!(error, SweepError::Unreadable { .. }));
}

#[test]
fn a_folder_of_something_else_is_left_alone() {
    let bench = Bench::new(BASE, SMALL);
    let sweep = bench.sweep();
    let good = String::from_utf8(Table::new(&sweep).bytes(&sweep)).unwrap();
    fs::create_dir(bench.path("out")).unwrap();
    let rows = bench.path("out/rows.csv");
    let version = format!("chockline: {}", env!("CARGO_PKG_VERSION"));
    for (text, status_said) in [
        (good.replace(&version, "chockline: 0.0.9"), "'0.0.9' there"),
        (good.replace("seed: 7", "seed: 8"), "seed is '8' there"),
        ("something else\n".to_owned(), "no table of a sweep"),
        (format!("{good}1,2,3\n"), "no table of a sweep"),
    ] {
        fs::write(&rows, &text).unwrap();
        let output = bench.run(&["sweep", "sweep.ron", "--out", "out", "--resume"]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).contains(status_said), "{}", said(&output));
        let output = bench.run(&["sweep", "sweep.ron", "--out", "out"]);
        assert!(said(&output).contains("--resume"), "{}", said(&output));
        assert_eq!(fs::read_to_string(&rows).unwrap(), text, "it was changed");
        assert_eq!(fs::read_dir(bench.path("out")).unwrap().count(), 1);
    }
    let mut table = Table::new(&sweep);
    let missing = table.take_in(&bench.path("none.csv"));
    assert!(matches!(missing, Err(TableError::Io { .. })));
}

/// On the command line: killed and resumed, out of room and resumed, in parts and merged; all the same.
#[test]
fn nothing_is_lost_by_a_kill_or_a_full_disk() {
    let bench = Bench::new(BASE, SMALL);
    let output = bench.run(&["sweep", "sweep.ron", "--out", "whole"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let rows = |folder: &str| fs::read(bench.path(folder).join("rows.csv")).unwrap();
    let wanted = rows("whole");
    for name in [
        "rows.parquet",
        "answer.html",
        "answer.json",
        "window.svg",
        "window.png",
        "probability_1.svg",
    ] {
        assert!(bench.path("whole").join(name).exists(), "{name}");
    }
    let sheet = fs::read_to_string(bench.path("whole/answer.html")).unwrap();
    for piece in [
        "does not replace",
        "only narrow",
        "sweep_xxh3",
        "<svg",
        "sampling confidence",
    ] {
        assert!(sheet.contains(piece), "{piece}");
    }
    // No address but the names of formats.
    assert_eq!(
        sheet.matches("://").count(),
        sheet.matches("http://www.w3.org").count()
    );

    #[cfg(unix)]
    {
        // A limit on the size of files stands for a disk that is full.
        let program = env!("CARGO_BIN_EXE_chockline");
        let limited = format!(
            "trap '' XFSZ; ulimit -f 3; exec '{program}' sweep sweep.ron --out full --threads 1"
        );
        let output = Command::new("sh")
            .args(["-c", &limited])
            .current_dir(bench.folder.path())
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).contains("what was written before is kept"));
        assert!(!bench.path("full/rows.csv").exists());
        let output = bench.run(&["sweep", "sweep.ron", "--out", "full", "--resume"]);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        assert!(rows("full") == wanted);
    }

    let mut killed = Command::new(env!("CARGO_BIN_EXE_chockline"))
        .args(["sweep", "sweep.ron", "--out", "killed", "--threads", "1"])
        .current_dir(bench.folder.path())
        .spawn()
        .unwrap();
    let journal = bench.path("killed/rows.partial.csv");
    while !journal.exists() {
        std::thread::yield_now();
    }
    killed.kill().unwrap();
    killed.wait().unwrap();
    let output = bench.run(&["sweep", "sweep.ron", "--out", "killed", "--resume"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(rows("killed") == wanted);
    assert!(!journal.exists());

    for part in ["1/2", "2/2"] {
        let folder = format!("part-{}", &part[..1]);
        let output = bench.run(&["sweep", "sweep.ron", "--out", &folder, "--part", part]);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    }
    let output = bench.run(&["merge", "sweep.ron", "part-1", "--out", "merged"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said(&output).contains("trials are missing"),
        "{}",
        said(&output)
    );
    let output = bench.run(&["merge", "sweep.ron", "part-1", "part-2", "--out", "merged"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(rows("merged") == wanted);
}

/// Every shipped sweep loads, and its base with both ends of everything makes a sound scenario.
#[test]
fn shipped_sweeps_are_sound() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/lab");
    let mut count = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap_or_default();
        if path.extension().is_none_or(|ending| ending != "ron") || !text.contains("against:") {
            continue;
        }
        let sweep = Sweep::load(&path).unwrap_or_else(|error| {
            panic!("{}", error.say(Texts::of(Lang::English)));
        });
        assert!(sweep.out_of_reach().is_empty(), "{}", sweep.name);
        count += 1;
    }
    assert!(count >= 7, "{count}");
}

/// The answer counts what stands in the rows.
#[test]
fn an_answer_is_what_its_rows_say() {
    let bench = Bench::new(BASE, SMALL);
    let sweep = bench.sweep();
    let table = whole(&sweep, 2, Part::WHOLE);
    let answer = answer(&sweep, &table);
    assert_eq!(answer.curves.len(), 2);
    for (set_up, curve) in answer.curves.iter().enumerate() {
        for reading in &curve.readings {
            for event in &reading.events {
                let hits = table.rows.values().filter(|row| {
                    row.set_up == set_up
                        && row.corner.is_none()
                        && sweep.values[row.value] == reading.value
                        && event.event.is(row.outcome.unwrap())
                });
                assert_eq!(event.hits, hits.count() as u64);
                assert!(event.upper > event.share || event.share == 1.0);
            }
        }
    }
}
