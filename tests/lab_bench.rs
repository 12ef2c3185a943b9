//! The laboratory as the window uses it: what is set up becomes a sweep file, runs in the background,
//! is stopped and gone on with, and every trial can be watched as it was run.

use std::path::Path;
use std::process::Command;
use std::thread::sleep;
use std::time::{Duration, Instant};

use chockline::lab::{
    BASE_FILE, Bench, JOURNAL, ROWS, SWEEP_FILE, Setting, Stage, Sweep, faults_of, is_same,
};
use chockline::scenario::{self, Base};
use chockline::texts::{Lang, Texts};

const NAMES: [&str; 2] = ["as in the base", "other"];

fn base() -> Base {
    let text = include_str!("../scenarios/lab/rack.ron");
    Base {
        file: "rack.ron".to_owned(),
        loaded: scenario::parse("rack.ron", text).unwrap(),
    }
}

/// Two sticks at three pitches, so that it takes seconds.
fn small() -> Setting {
    let text = include_str!("../scenarios/lab/rack.ron").replace("sticks: 6", "sticks: 2");
    let base = Base {
        file: "rack.ron".to_owned(),
        loaded: scenario::parse("rack.ron", &text).unwrap(),
    };
    let mut setting = Setting::usual("small", base);
    setting.pitch_deg = [4.0, 12.0];
    setting.step_deg = 4.0;
    setting.trials = 6;
    for varied in setting.varied.iter_mut().skip(1) {
        varied.unmeasured = false;
    }
    setting
}

fn until(bench: &mut Bench, over: impl Fn(&Bench) -> bool) {
    let end = Instant::now() + Duration::from_secs(300);
    while !over(bench) {
        assert!(Instant::now() < end, "{:?}", bench.progress());
        bench.hear();
        sleep(Duration::from_millis(5));
    }
}

#[test]
fn what_is_set_up_is_a_sweep_file() {
    let mut setting = Setting::usual("usual", base());
    setting.confidence = 0.99;
    setting.seed = 4;
    let sweep = setting.sweep(NAMES).unwrap();
    assert_eq!((sweep.confidence, sweep.seed), (0.99, 4));
    assert_eq!(sweep.values.len(), 11);
    assert_eq!(sweep.variables.len(), 5);
    assert_eq!(sweep.unmeasured().count(), 3);
    assert_eq!(sweep.budget.corner_trials, 8);
    assert_eq!(sweep.set_ups.len(), 1);

    // From a file it is the same.
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(BASE_FILE), &setting.base.loaded.text).unwrap();
    let path = folder.path().join(SWEEP_FILE);
    std::fs::write(&path, setting.text(NAMES)).unwrap();
    let read = Sweep::load(&path).unwrap();
    assert_eq!(read.hashes, sweep.hashes);
    assert_eq!(read.variables, sweep.variables);
    assert_eq!((read.confidence, read.seed), (0.99, 4));
}

#[test]
fn a_field_that_is_chosen_gets_a_range_about_what_it_is() {
    let mut setting = Setting::usual("usual", base());
    setting.varied.clear();
    for known in scenario::line_fields() {
        setting.vary(&known.path);
        setting.change(&known.path);
    }
    assert!(setting.varied.len() > 40);
    for varied in &setting.varied {
        let [low, high] = varied.bounds;
        let [from, to] = varied.range;
        assert!(low <= from && from < to && to <= high, "{varied:?}");
        assert!(varied.step > 0.0 && varied.step <= high - low, "{varied:?}");
    }
    // Each by itself makes a sweep, or says why not.
    for varied in setting.varied.clone() {
        let mut one = Setting::usual("one", base());
        one.varied = vec![varied.clone()];
        if let Err(error) = one.sweep(NAMES) {
            let faults = faults_of(&error);
            assert!(!faults.is_empty(), "{}", varied.path);
        }
    }
    let of = |path: &str| {
        let mut changed = setting.second.iter();
        changed
            .find(|changed| changed.path == path)
            .unwrap()
            .value
            .clone()
    };
    assert_eq!(of("row.sticks"), "6");
    assert_eq!(of("rack.surface"), "Dry");
}

#[test]
fn what_is_wrong_is_said_and_nothing_is_lost() {
    let texts = Texts::of(Lang::English);
    let mut setting = Setting::usual("usual", base());
    setting.pitch_deg = [9.0, 4.0];
    setting.vary("contact.friction_dry");
    setting.varied[1].range = [0.3, 0.2];
    let kept = setting.clone();
    let error = setting.sweep(NAMES).unwrap_err();
    let places: Vec<String> = faults_of(&error).into_iter().map(|fault| fault.0).collect();
    assert!(places.iter().any(|place| place == "against"), "{places:?}");
    assert!(
        places.iter().any(|place| place.starts_with("vary[2]")),
        "{places:?}"
    );
    assert!(
        places.iter().any(|place| place.starts_with("vary[6]")),
        "{places:?}"
    );
    for (_, what) in faults_of(&error) {
        assert!(texts.try_say(&what).is_ok());
    }
    assert_eq!(setting, kept);
    // No sound scenario.
    let mut setting = Setting::usual("usual", base());
    setting.change("pipe.length_m");
    setting.second[0].value = "900".to_owned();
    assert!(setting.sweep(NAMES).is_err());
}

fn rows_of_the_command_line(folder: &Path) -> Vec<u8> {
    let out = tempfile::tempdir().unwrap();
    let out = out.path().join("out");
    let output = Command::new(env!("CARGO_BIN_EXE_chockline"))
        .arg("sweep")
        .arg(folder.join(SWEEP_FILE))
        .arg("--out")
        .arg(&out)
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    std::fs::read(out.join(ROWS)).unwrap()
}

#[test]
fn stopped_and_gone_on_with_it_gives_the_rows_of_the_command_line() {
    let place = tempfile::tempdir().unwrap();
    let folder = place.path().join("one");
    let mut setting = small();
    setting.change("row.sticks");
    setting.second[0].value = "1".to_owned();
    let sweep = setting.sweep(NAMES).unwrap();
    let text = setting.text(NAMES);
    let mut bench = Bench::begin(sweep, &text, 1, Some(folder.clone())).unwrap();
    assert_eq!(*bench.stage(), Stage::Running);
    until(&mut bench, |bench| bench.progress().0 > 0);
    bench.stop();
    assert!(bench.is_stopping());
    until(&mut bench, |bench| *bench.stage() != Stage::Running);
    assert_eq!(*bench.stage(), Stage::Stopped);
    let (kept, of) = bench.progress();
    assert!(kept > 0 && kept < of, "{kept} of {of}");
    assert!(folder.join(JOURNAL).exists());
    bench.go_on();
    until(&mut bench, |bench| *bench.stage() != Stage::Running);
    assert_eq!(*bench.stage(), Stage::Done);
    assert_eq!(bench.progress(), (of, of));
    assert_eq!(bench.answer().trials, of);
    assert_eq!(bench.answer().comparisons.len(), 3);
    assert!(!folder.join(JOURNAL).exists());
    let rows = std::fs::read(folder.join(ROWS)).unwrap();
    assert!(rows == rows_of_the_command_line(&folder), "other rows");

    // The sheet goes beside them.
    let told = bench.export(Lang::Spanish).unwrap();
    let sheet = told.recv_timeout(Duration::from_secs(60)).unwrap().unwrap();
    let page = std::fs::read_to_string(sheet).unwrap();
    assert!(page.contains("<svg") && page.contains("lang=\"es\""));
    for file in [
        "window.svg",
        "window.png",
        "probability_2.svg",
        "probability_2.png",
    ] {
        assert!(folder.join(file).exists(), "{file}");
    }
    // A folder that is taken is left alone.
    let sweep = setting.sweep(NAMES).unwrap();
    std::fs::write(folder.join(JOURNAL), "something").unwrap();
    assert!(Bench::begin(sweep, &text, 1, Some(folder)).is_err());
}

#[test]
fn a_trial_that_is_watched_is_the_one_of_its_row_to_the_last_bit() {
    let setting = small();
    let sweep = setting.sweep(NAMES).unwrap();
    let mut bench = Bench::begin(sweep, &setting.text(NAMES), 2, None).unwrap();
    until(&mut bench, |bench| *bench.stage() != Stage::Running);
    assert_eq!(*bench.stage(), Stage::Done);
    let mut seen = 0;
    for value in 0..3 {
        for row in bench.trials_at(0, value) {
            let mut release = bench.watch(row.trial).unwrap();
            let trial = loop {
                if let Some(trial) = release.tick() {
                    break trial;
                }
            };
            assert!(is_same(row, &trial), "{row:?} {trial:?}");
            assert_eq!(release.line().tick_count(), row.ticks);
            // What runs on changes nothing of it.
            for _ in 0..240 {
                release.tick();
            }
            seen += 1;
        }
    }
    assert_eq!(seen, 18);
    assert!(bench.export(Lang::English).is_none(), "there is no folder");
}
