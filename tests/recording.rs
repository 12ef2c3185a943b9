//! Recordings as evidence: whatever becomes of the program they open, what stands in them is proved or
//! said not to be, and they are small.
//!
//! The large numbers are asked for by the environment: `CHOCKLINE_KILLS=200`, `CHOCKLINE_VERIFIES=500`,
//! `CHOCKLINE_HOUR=1`, each with `cargo test --release --test recording`.

#[path = "common/chance.rs"]
mod chance;
#[path = "common/program.rs"]
mod program;

use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::sleep;
use std::time::{Duration, Instant};

use chance::Chance;
use chockline::domain::set_out::SetOut;
use chockline::evidence::{Difference, Outcome, Recording, part_of};
use chockline::operator::ROSTER;
use chockline::scenario::parse;
use chockline::session::library::Library;
use chockline::session::store::Store;
use chockline::session::{Course, Finished, Mode, Run, Step};
use chockline::sim::controls::{Button, Controls};
use chockline::sim::line::Body;
use chockline::sim::world::StickId;
use program::chockline;

fn asked(variable: &str) -> Option<usize> {
    std::env::var(variable).ok()?.parse().ok()
}

fn course(id: &str, mode: Mode) -> Course {
    let library = Library::open(None);
    library.find(id).expect("a shipped scenario").course(mode)
}

fn to_its_end(mut run: Run) -> Finished {
    while let Step::Goes = run.tick(&Controls::default()).expect("no fault") {}
    run.finish().ok().expect("a result")
}

fn demonstrated(id: &str, operator: &str, seed: u64) -> Finished {
    let mut course = course(id, Mode::Demonstration);
    course.seed = seed;
    let member = chockline::operator::member(operator).unwrap();
    to_its_end(course.demonstrate(member).unwrap())
}

fn replayed(path: &Path, more: &[&str]) -> (i32, String) {
    let args = [&["replay", path.to_str().unwrap()][..], more].concat();
    let output = chockline(&args);
    let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    (output.status.code().expect("it ends by itself"), said)
}

// ---- killed at any moment

/// Its own name for the other process, and what tells that where to record.
const RECORDS: &str = "what_is_killed_while_it_records_loses_less_than_a_second";
const FILE: &str = "CHOCKLINE_TEST_RECORD_TO";

/// Records a run in real time and tells every tick, until it is killed.
fn record_until_killed(path: &Path) {
    let course = course("steady-feed", Mode::Practice);
    let mut run = course.set_out(SetOut::default()).unwrap();
    run.record(path).unwrap();
    let mut out = std::io::stdout().lock();
    let mut chance = Chance(std::process::id().into());
    let began = Instant::now();
    let mut held = Controls::default();
    loop {
        let tick = run.line().tick_count();
        let due = Duration::from_secs_f64(tick as f64 / 240.0);
        sleep(due.saturating_sub(began.elapsed()));
        if chance.below(60) == 0 {
            let button = Button::ALL[chance.below(Button::ALL.len() as u64) as usize];
            held = Controls::held([button]);
        }
        run.tick(&held).unwrap();
        writeln!(out, "tick {}", run.line().tick_count()).unwrap();
        out.flush().unwrap();
    }
}

#[test]
fn what_is_killed_while_it_records_loses_less_than_a_second() {
    if let Some(path) = std::env::var_os(FILE) {
        return record_until_killed(Path::new(&path));
    }
    let kills = asked("CHOCKLINE_KILLS").unwrap_or(6);
    let (next, lost_most) = (AtomicUsize::new(0), AtomicUsize::new(0));
    std::thread::scope(|scope| {
        for _ in 0..6 {
            scope.spawn(|| {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    if number >= kills {
                        return;
                    }
                    let lost = kill_one(number as u64);
                    lost_most.fetch_max(lost as usize, Ordering::Relaxed);
                }
            });
        }
    });
    println!("{kills} killed; the most that was lost: {lost_most:?} of 240 ticks");
}

/// Kills a recording run at a moment of its first six seconds; how many ticks are lost.
fn kill_one(number: u64) -> u64 {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("run.chock");
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", RECORDS, "--nocapture", "--test-threads=1"])
        .env(FILE, &path)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut told = BufReader::new(child.stdout.take().unwrap());
    let mut line = String::new();
    let tick_of = |line: &str| -> Option<u64> { line.strip_prefix("tick ")?.trim().parse().ok() };
    while tick_of(&line).is_none() {
        line.clear();
        assert_ne!(told.read_line(&mut line).unwrap(), 0, "it never began");
    }
    let mut chance = Chance(number * 7919 + 1);
    chance.below(2);
    sleep(Duration::from_millis(chance.below(6000)));
    child.kill().unwrap();
    child.wait().unwrap();
    let mut rest = String::new();
    told.read_to_string(&mut rest).unwrap();
    // The last line may be torn; what is whole was made.
    let whole = rest.rfind('\n').map_or("", |end| &rest[..end]);
    let made = whole.lines().filter_map(tick_of).next_back();
    let made = made.or(tick_of(&line)).unwrap();

    assert!(!path.exists(), "it is not complete");
    let recording = Recording::load(&part_of(&path)).expect("it opens");
    assert!(recording.cut_short.is_some(), "and says so");
    let replay = recording.replay(|_| ()).unwrap();
    assert_eq!(replay.differs, None, "killed at tick {made}");
    let lost = made.saturating_sub(recording.log.ticks);
    assert!(lost < 240, "{lost} ticks lost of {made}");
    lost
}

/// A whole program that is killed: what it recorded opens, is told apart, and is verified.
#[test]
fn the_program_itself_can_be_killed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("run.chock");
    let part = part_of(&path);
    let mut child = Command::new(env!("CARGO_BIN_EXE_chockline"))
        .args(["run", "scenarios/full-rack.ron", "--record"])
        .arg(&path)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let until = Instant::now() + Duration::from_secs(60);
    let size = || part.metadata().map_or(0, |known| known.len());
    let mut head = 0;
    while head == 0 || size() < head + 1000 {
        assert!(Instant::now() < until);
        head = if head == 0 { size() } else { head };
        sleep(Duration::from_millis(1));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    let (code, said) = replayed(&part, &["--verify"]);
    assert_eq!(code, 5, "{said}");
    assert!(said.contains("Cut short") && said.contains("Verified as far as it goes"));
    let (code, said) = replayed(&part, &[]);
    assert_eq!(code, 5, "{said}");
    // The same name again: what was left is written over.
    let again = chockline(&[
        "run",
        "scenarios/first-release.ron",
        "--record",
        path.to_str().unwrap(),
    ]);
    assert!(again.status.code().is_some_and(|code| code < 2));
    assert!(path.exists() && !part.exists());
    assert_eq!(replayed(&path, &["--verify"]).0, 0);
}

// ---- taken back, and gone on with

/// What is written while a run is taken back and gone on with is what the run came to.
#[test]
fn a_file_of_a_run_that_was_taken_back_is_the_run_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::at(folder.path()).unwrap();
    let mut chance = Chance(5);
    for round in 0..4 {
        let mut run = course("first-release", Mode::Practice)
            .set_out(SetOut::default())
            .unwrap();
        store.begin(&mut run).unwrap();
        for _ in 0..6 {
            for _ in 0..chance.below(500) + 100 {
                let held = (chance.below(3) == 0)
                    .then(|| Button::ALL[chance.below(Button::ALL.len() as u64) as usize]);
                run.tick(&Controls::held(held)).unwrap();
            }
            assert!(run.rewind_to(chance.below(run.line().tick_count() + 1)));
        }
        for _ in 0..chance.below(400) {
            run.tick(&Controls::default()).unwrap();
        }
        assert_eq!(run.recording_fault(), None);
        let ticks = run.line().tick_count();
        if round == 3 {
            // As if the power went.
            let part = part_of(&file_of(&store, &run));
            drop(run);
            let recording = Recording::load(&part).unwrap();
            assert!(recording.log.ticks <= ticks && recording.log.ticks + 120 >= ticks);
            assert_eq!(recording.replay(|_| ()).unwrap().differs, None);
            continue;
        }
        let path = file_of(&store, &run);
        let mut finished = run.finish().ok().unwrap();
        store.keep(&mut finished).unwrap();
        let recording = Recording::load(&path).unwrap();
        let checksum = recording.checksum;
        assert!(checksum.is_some());
        let expected = Recording {
            checksum,
            ..finished.recording.clone()
        };
        assert_eq!(recording, expected, "round {round}");
        assert!(recording.verify(|_| ()).unwrap().is_verified());
        // Gone on with from a moment: a file of its own, with all that came before.
        let tick = chance.below(ticks + 1);
        let mut again = finished.try_again_from(tick);
        store.begin(&mut again).unwrap();
        for _ in 0..300 {
            again.tick(&Controls::held([Button::Horn])).unwrap();
        }
        let path = file_of(&store, &again);
        let mut finished = again.finish().ok().unwrap();
        store.keep(&mut finished).unwrap();
        let recording = Recording::load(&path).unwrap();
        assert_eq!(recording.log, finished.recording.log);
        assert_eq!(recording.states, finished.recording.states);
        assert!(recording.verify(|_| ()).unwrap().is_verified());
    }
}

fn file_of(store: &Store, run: &Run) -> PathBuf {
    let id = &run.ticket().unwrap().id;
    store.recordings().join(format!("{id}.chock"))
}

#[test]
fn who_takes_over_stands_in_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::at(folder.path()).unwrap();
    let member = chockline::operator::member("expert").unwrap();
    let mut run = course("first-release", Mode::Demonstration)
        .demonstrate(member)
        .unwrap();
    store.begin(&mut run).unwrap();
    for tick in 0..600 {
        if tick == 300 {
            assert!(run.take_over());
        }
        run.tick(&Controls::default()).unwrap();
    }
    let path = file_of(&store, &run);
    let mut finished = run.finish().ok().unwrap();
    store.keep(&mut finished).unwrap();
    let recording = Recording::load(&path).unwrap();
    assert_eq!(recording.head.operator, "trainee");
    assert_eq!(recording.head.mode, Mode::Practice);
    assert_eq!(recording.head, finished.recording.head);
}

// ---- verified, or not

#[test]
fn runs_of_all_scenarios_and_operators_are_verified() {
    let library = Library::open(None);
    let mut pairs = Vec::new();
    for entry in library.entries() {
        let scenario = &entry.loaded.scenario;
        for member in ROSTER.iter() {
            let applies = member.applies(&scenario.line, scenario.set_out_open);
            if applies.is_ok() {
                pairs.push((entry.id.clone(), member.name));
            }
        }
    }
    let many = asked("CHOCKLINE_VERIFIES");
    let runs: Vec<(String, &str, u64)> = match many {
        // Every pair once, then again with other seeds.
        Some(many) => (0..many)
            .map(|i| {
                let (id, operator) = &pairs[i % pairs.len()];
                (id.clone(), *operator, 1 + (i / pairs.len()) as u64)
            })
            .collect(),
        None => [
            ("wrong-size", "leaves-the-setting"),
            ("visitor", "calls-nobody-out"),
            ("hung-stick", "bars-from-below"),
            ("loaded-row", "expert"),
        ]
        .map(|(id, operator)| (id.to_owned(), operator, 3))
        .into(),
    };
    let next = AtomicUsize::new(0);
    let (run_s, verify_s) = (AtomicUsize::new(0), AtomicUsize::new(0));
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                while let Some((id, operator, seed)) =
                    runs.get(next.fetch_add(1, Ordering::Relaxed))
                {
                    let finished = demonstrated(id, operator, *seed);
                    let bytes = finished.recording.to_bytes().unwrap();
                    let recording = Recording::read(bytes.as_slice()).unwrap();
                    let began = Instant::now();
                    let verification = recording.verify(|_| ()).unwrap();
                    let took_ms = began.elapsed().as_millis() as usize;
                    assert!(
                        verification.is_verified() && verification.is_consistent(),
                        "{id} {operator} {seed}: {verification:?}"
                    );
                    run_s.fetch_add(recording.log.ticks as usize / 240, Ordering::Relaxed);
                    verify_s.fetch_add(took_ms, Ordering::Relaxed);
                }
            });
        }
    });
    let (run_s, verify_ms) = (run_s.into_inner(), verify_s.into_inner());
    println!(
        "{} runs of {} pairs, {run_s} s of run verified in {:.1} s: {:.0} times real time",
        runs.len(),
        pairs.len(),
        verify_ms as f64 / 1000.0,
        1000.0 * run_s as f64 / verify_ms.max(1) as f64
    );
}

/// One bit, one event, one control, one pose, the outcome, the score: each is told, with its tick and
/// its part.
#[test]
fn what_was_changed_and_sealed_again_is_found() {
    let folder = tempfile::tempdir().unwrap();
    let recording = demonstrated("first-shift", "expert", 1).recording;
    let state = |tick, bodies: &[Body]| Difference::State {
        tick,
        bodies: bodies.to_vec(),
    };
    type Tamper = fn(&mut Recording);
    let tampered: [(Tamper, Option<Difference>, &str); 8] = [
        (
            |r| r.states.hashes[3].1 ^= 1,
            Some(state(960, &[])),
            "at tick 960",
        ),
        (
            |r| r.states.digests[4][2] ^= 1,
            Some(state(1200, &[Body::Escapement])),
            "at tick 1200 (5.00 s): the escapement",
        ),
        (
            |r| r.states.poses[20].1[0][1] += 0.5,
            Some(Difference::Poses {
                tick: 168,
                stick: StickId(0),
            }),
            "the recorded pose of stick 1",
        ),
        (
            |r| r.log.events.truncate(5),
            Some(Difference::Log),
            "events or samples",
        ),
        (
            |r| r.outcome = Outcome::Struck,
            Some(Difference::Outcome),
            "the outcome",
        ),
        (
            |r| r.scored.as_mut().unwrap().points = 55.0,
            Some(Difference::Score),
            "the score",
        ),
        (
            |r| r.log.controls.truncate(1),
            None,
            "Departs from the recording",
        ),
        (|r| r.head.seed += 1, None, "Departs from the recording"),
    ];
    for (tamper, expected, told) in tampered {
        let mut other = recording.clone();
        tamper(&mut other);
        let differs = other.replay(|_| ()).unwrap().differs;
        match expected {
            Some(expected) => assert_eq!(differs, Some(expected)),
            None => assert!(
                matches!(differs, Some(Difference::State { .. })),
                "{differs:?}"
            ),
        }
        let path = folder.path().join("other.chock");
        std::fs::write(&path, other.to_bytes().unwrap()).unwrap();
        let (code, said) = replayed(&path, &["--verify"]);
        assert_eq!(code, 1, "{said}");
        assert!(
            said.contains(told) && said.contains("NOT VERIFIED"),
            "{said}"
        );
    }
}

/// The part that departs first is named: a lift that was never asked to go up, and what lies on it.
#[test]
fn the_part_that_departs_first_is_named() {
    let mut recording = demonstrated("first-shift", "expert", 1).recording;
    let lifts = |change: &&chockline::sim::controls::ControlChange| {
        change.controls.held.iter().any(Button::is_lift)
    };
    let at = recording.log.controls.iter().find(lifts).unwrap().tick;
    for change in &mut recording.log.controls {
        let held = change.controls.held.iter().filter(|held| !held.is_lift());
        change.controls.held = held.collect();
    }
    let Some(Difference::State { tick, bodies }) = recording.replay(|_| ()).unwrap().differs else {
        panic!("it departs");
    };
    assert!(tick >= at && tick < at + 480, "at {tick} after {at}");
    assert!(bodies.contains(&Body::Cradles), "{bodies:?}");
    assert!(!bodies.contains(&Body::Rack), "{bodies:?}");
}

/// Made where bits may differ: what is proved, and what is not.
#[test]
fn of_another_machine_score_and_poses_are_proved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.chock");
    let mut recording = demonstrated("as-found-steep", "takes-as-found", 2).recording;
    let verify = |recording: &Recording| {
        std::fs::write(&path, recording.to_bytes().unwrap()).unwrap();
        replayed(&path, &["--verify"])
    };
    // Where it agrees all the same, it is verified.
    recording.head.maker.platform = "elsewhere".to_owned();
    assert_eq!(verify(&recording).0, 0);
    let mut other = recording.clone();
    for (_, hash) in &mut other.states.hashes {
        *hash ^= 1;
    }
    for (_, poses) in other.states.poses.iter_mut().skip(40) {
        poses[0][2] += 1.0 / 64.0;
    }
    let (code, said) = verify(&other);
    assert_eq!(code, 4, "{said}");
    for told in [
        "elsewhere",
        "bits may differ",
        "Proved: outcome, findings and points",
        "recorded poses have the stick",
        "looks the same up to tick 328",
        "Not proved here: that the controls lead to all this",
    ] {
        assert!(said.contains(told), "{told} in {said}");
    }
    // What does not fit together is not excused by another machine.
    let mut scored = other.clone();
    scored.scored.as_mut().unwrap().points = 100.0;
    let (code, said) = verify(&scored);
    assert_eq!(code, 1, "{said}");
    assert!(said.contains("NOT SO: findings and points"), "{said}");
    let mut moved = other;
    for (_, poses) in &mut moved.states.poses {
        for pose in poses {
            pose[1] += 2.0;
        }
    }
    let (code, said) = verify(&moved);
    assert_eq!(code, 1, "{said}");
    assert!(said.contains("is not where the recorded poses"), "{said}");
}

// ---- bad files

#[test]
fn a_bad_file_is_one_clear_message() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bad.chock");
    let whole = demonstrated("first-release", "feeder", 1)
        .recording
        .to_bytes()
        .unwrap();
    let mut damaged = whole.clone();
    damaged[whole.len() / 2] ^= 0x20;
    let mut newer = whole.clone();
    newer[8] = 9;
    let files: [(&[u8], &str); 5] = [
        (b"", "no recording of this program"),
        (b"{}", "no recording of this program"),
        (&whole[..9], "no recording of this program"),
        (&damaged, "changed or damaged from byte"),
        (&newer, "of a newer program"),
    ];
    for (bytes, told) in files {
        std::fs::write(&path, bytes).unwrap();
        for command in [&["replay"][..], &["replay", "--verify"], &["score"]] {
            let output = chockline(&[command, &[path.to_str().unwrap()]].concat());
            let said = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(2), "{said}");
            assert!(said.contains(told), "{told} in {said}");
            assert_eq!(said.trim_end().lines().count(), 1, "{said}");
        }
    }
    assert_eq!(replayed(Path::new("no-such.chock"), &[]).0, 2);
    // One that was cut short is scored as broken off, and says so.
    std::fs::write(&path, &whole[..whole.len() / 2]).unwrap();
    let output = chockline(&["score", path.to_str().unwrap()]);
    let said = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(said.contains("Cut short"), "{said}");
}

/// Changed at many places of a long recording: every change is seen.
#[test]
fn changed_bytes_of_a_long_recording_are_seen() {
    let bytes = demonstrated("steady-feed", "expert", 1)
        .recording
        .to_bytes()
        .unwrap();
    let mut chance = Chance(11);
    let mut changed = bytes.clone();
    for _ in 0..400 {
        let at = chance.below(bytes.len() as u64) as usize;
        let by = 1 + chance.below(255) as u8;
        changed[at] ^= by;
        assert!(Recording::read(changed.as_slice()).is_err(), "byte {at}");
        changed[at] ^= by;
    }
    let unchanged = Recording::read(changed.as_slice());
    assert!(unchanged.is_ok());
}

#[test]
fn a_full_disk_is_told() {
    if !Path::new("/dev/full").exists() {
        return;
    }
    let args = [
        "run",
        "scenarios/first-release.ron",
        "--record",
        "/dev/full",
    ];
    let output = chockline(&args);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("/dev/full"), "{said}");
}

/// Two programs do not write one file.
#[test]
fn a_file_that_is_being_written_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("run.chock");
    let mut run = course("first-release", Mode::Practice)
        .set_out(SetOut::default())
        .unwrap();
    run.record(&path).unwrap();
    let args = [
        "run",
        "scenarios/first-release.ron",
        "--record",
        path.to_str().unwrap(),
    ];
    assert_eq!(chockline(&args).status.code(), Some(2));
    run.tick(&Controls::default()).unwrap();
    let mut finished = run.finish().ok().unwrap();
    finished.write_recording(&path).unwrap();
    assert_eq!(Recording::load(&path).unwrap().log.ticks, 1);
}

// ---- size and speed

/// A busy line: a row that is filled up again, a crew, hands that never rest.
const BUSY: &str = "(format: 1, name: \"Busy\", pipe: (size: Ips(24), wall: Dr(17), ovality_pct: 2), \
    row: (sticks: 4), loader: (sticks: 8), machine: (joint_time_s: 60), time_limit_s: 3600)";

/// How large an hour is: of an expert's work, and of hands that press something else twice a second.
#[test]
fn an_hour_is_small() {
    let long = asked("CHOCKLINE_HOUR").is_some();
    let (loaded, wanted_s) = (
        Arc::new(parse("busy", BUSY).unwrap()),
        if long { 3600 } else { 60 },
    );
    let hour = |finished: &Finished| {
        let bytes = finished.recording.to_bytes().unwrap().len();
        let run_s = finished.played.line.time_s();
        let hour = bytes as f64 * 3600.0 / run_s / 1e6;
        println!("{bytes} bytes for {run_s:.0} s: {hour:.2} MB an hour");
        assert!(hour < 5.0, "{hour:.2} MB an hour");
    };
    let course = Course::new("busy", loaded, Mode::Demonstration);
    let member = chockline::operator::member("expert").unwrap();
    let mut run = course.clone().demonstrate(member).unwrap();
    while run.line().tick_count() < 240 * wanted_s {
        if let Step::Ended(_) = run.tick(&Controls::default()).unwrap() {
            break;
        }
    }
    let finished = run.finish().ok().unwrap();
    hour(&finished);
    let began = Instant::now();
    assert!(finished.recording.verify(|_| ()).unwrap().is_verified());
    let times = finished.played.line.time_s() / began.elapsed().as_secs_f64();
    println!("verified {times:.0} times as fast as it was");

    let course = Course {
        mode: Mode::Practice,
        ..course
    };
    let mut run = course.set_out(SetOut::default()).unwrap();
    let mut chance = Chance(17);
    let mut held = Controls::default();
    while run.line().tick_count() < 240 * wanted_s {
        if chance.below(120) == 0 {
            let button = Button::ALL[chance.below(Button::ALL.len() as u64) as usize];
            held = Controls::held([button]);
        }
        if let Step::Ended(_) = run.tick(&held).unwrap() {
            break;
        }
    }
    hour(&run.finish().ok().unwrap());
}
