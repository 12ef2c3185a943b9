//! A run as the window makes it, without the window: the same bits as headless, rewinding, taking over,
//! how it ends, and what is kept of it.

#[path = "common/chance.rs"]
mod chance;

use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use chance::Chance;
use chockline::domain::finding::FindingKind;
use chockline::domain::set_out::SetOut;
use chockline::evidence::{Head, Outcome, Recorder, Recording};
use chockline::judge::{Played, play};
use chockline::operator::{Ending, member};
use chockline::session::library::Library;
use chockline::session::{
    Clock, Course, Finished, Inquest, Lookback, Mode, Run, Speed, Step, Store,
};
use chockline::sim::controls::{Button, ControlChange, Controls, controls_at};
use chockline::sim::line::{Line, StickPlace};
use chockline::sim::world::StickId;
use chockline::texts::{Lang, Texts};

fn course(id: &str, mode: Mode) -> Course {
    let library = Library::open(None);
    library.find(id).expect("a shipped scenario").course(mode)
}

/// The headless run of an operator, and its recording.
fn headless(course: &Course, operator: &str) -> (Played, Recording) {
    let mut recorder = Recorder::default();
    let mut at_pendant = member(operator).unwrap().operator();
    let played = play(
        course.scenario(),
        course.seed,
        at_pendant.as_mut(),
        |line, _| recorder.observe(line),
    );
    let played = played.unwrap();
    let outcome = Outcome::of(
        &played.line,
        played.ending,
        &chockline::evidence::Figures::of(&played.line),
    );
    let text = &course.loaded.text;
    let head = Head::of(text, course.seed, operator, &played.set_out);
    let recording = recorder.finish(&played, head, outcome);
    (played, recording)
}

/// Drives a run with given controls to a tick, or to its end.
fn drive(run: &mut Run, changes: &[ControlChange], ticks: u64) -> Option<Ending> {
    while run.line().tick_count() < ticks {
        let controls = controls_at(changes, run.line().tick_count() + 1);
        if let Step::Ended(ending) = run.tick(&controls).expect("no fault") {
            return Some(ending);
        }
    }
    None
}

#[test]
fn what_the_window_shares_between_threads_can_be_shared() {
    fn shared<T: Send + Sync>() {}
    shared::<Run>();
    shared::<Finished>();
    shared::<Lookback>();
    shared::<Inquest>();
    shared::<Store>();
}

/// However the frames come, with pauses and at every speed, the run is the headless one.
#[test]
fn the_same_run_hash_for_hash_from_the_window_and_headless() {
    let course = course("first-shift", Mode::Demonstration);
    let (_, right) = headless(&course, "expert");
    let mut run = course.demonstrate(member("expert").unwrap()).unwrap();
    let mut clock = Clock::default();
    let mut chance = Chance(7);
    let mut stray = Controls::held([Button::Feed]);
    while run.ended().is_none() {
        match chance.below(40) {
            0 => clock.set_paused(true),
            1..=3 => clock.set_paused(false),
            4 => clock.step(run.mode()),
            5 => clock.set_speed(Speed::ALL[chance.below(6) as usize], run.mode()),
            _ => {}
        }
        clock.begin(chance.below(70) as f64 / 1000.0);
        let mut spent_s = 0.0;
        while run.ended().is_none() && clock.is_due(spent_s) {
            // What lies on the pendant counts for nothing while the operator drives.
            stray.emergency_stop = !stray.emergency_stop;
            run.tick(&stray).unwrap();
            spent_s += 1e-4;
        }
        // Looking back changes nothing.
        if chance.below(200) == 0 {
            let tick = chance.below(run.line().tick_count() + 1);
            assert_eq!(run.look_at(tick).tick_count(), tick);
        }
    }
    let finished = run.finish().ok().unwrap();
    assert_eq!(finished.recording.states, right.states);
    assert_eq!(finished.recording.log, right.log);
    assert_eq!(finished.recording.scored, right.scored);
    let replay = finished.recording.replay(|_| ()).unwrap();
    assert_eq!(replay.differs, None);
    assert_eq!(replay.states, right.states.hashes.len());
}

/// Taken back, a run is as if it had been stopped there: line, log and recording, and so it goes on.
#[test]
fn a_run_taken_back_is_as_if_it_had_stopped_there() {
    let course = course("first-shift", Mode::Practice);
    let (played, _) = headless(&course, "expert");
    let changes = &played.log.controls;
    let begin = || course.clone().set_out(played.set_out.clone()).unwrap();
    let mut run = begin();
    let mut finished: Vec<Finished> = Vec::new();
    for (far, back) in [
        (3000, 2999),
        (5001, 1),
        (4321, 481),
        (9000, 7777),
        (9600, 0),
    ] {
        drive(&mut run, changes, far);
        assert!(run.rewind_to(back), "back to {back}");
        let mut stopped = begin();
        drive(&mut stopped, changes, back);
        assert_eq!(run.line().hash(), stopped.line().hash(), "at {back}");
        assert_eq!(run.log(), stopped.log(), "at {back}");
        assert_eq!(run.controls(), stopped.controls(), "at {back}");
        // Something else is done from there on both.
        if back == 7777 {
            let other = [ControlChange {
                tick: 1,
                controls: Controls::held([Button::LiftNearUp, Button::Horn]),
            }];
            for run in [&mut run, &mut stopped] {
                drive(run, &other, back + 1200);
            }
            let both = [run.finish(), stopped.finish()];
            finished.extend(both.into_iter().map(|one| one.ok().unwrap()));
            run = begin();
        }
    }
    let [run, stopped] = <[Finished; 2]>::try_from(finished).ok().unwrap();
    assert_eq!(run.recording.states, stopped.recording.states);
    assert_eq!(run.recording.log, stopped.recording.log);
    assert_eq!(run.played.verdict, stopped.played.verdict);
    assert_eq!(run.recording.replay(|_| ()).unwrap().differs, None);
    // The same from the finished run.
    let mut again = run.try_again_from(5000);
    assert_eq!(again.mode(), Mode::Practice);
    let mut stopped = begin();
    drive(&mut stopped, changes, 5000);
    assert_eq!(again.line().hash(), stopped.line().hash());
    assert_eq!(again.log(), stopped.log());
    for run in [&mut again, &mut stopped] {
        drive(run, changes, 6007);
    }
    let both = [again, stopped].map(|run| run.finish().ok().unwrap().recording);
    assert_eq!(both[0].states, both[1].states);
    assert_eq!(both[0].log, both[1].log);
    assert_eq!(both[0].replay(|_| ()).unwrap().differs, None);
}

#[test]
fn any_moment_can_be_looked_at_in_any_order() {
    let course = course("first-shift", Mode::Demonstration);
    let (_, recording) = headless(&course, "expert");
    let finished = Finished::of_recording("first-shift", &recording).unwrap();
    assert_eq!(finished.recording, recording, "simulated again");
    let end = recording.log.ticks;
    let mut hashes = vec![0; end as usize + 1];
    let mut line = Line::build(&finished.played.spec);
    hashes[0] = line.hash();
    while line.tick_count() < end {
        line.tick(&recording.log.controls_at(line.tick_count() + 1));
        hashes[line.tick_count() as usize] = line.hash();
    }
    let mut lookback = Lookback::default();
    let mut chance = Chance(3);
    let mut tick = end;
    for turn in 0..300 {
        tick = match turn % 4 {
            0 => chance.below(end + 100),
            1 => tick.saturating_sub(chance.below(60)),
            2 => tick.saturating_sub(1),
            _ => tick + chance.below(30),
        };
        let line = finished.look_at(&mut lookback, tick);
        assert_eq!(line.tick_count(), tick.min(end));
        assert_eq!(line.hash(), hashes[tick.min(end) as usize], "tick {tick}");
    }
}

#[test]
fn only_practice_is_taken_back_and_only_a_demonstration_taken_over() {
    for mode in Mode::ALL {
        let mut run = course("first-release", mode)
            .set_out(SetOut::default())
            .unwrap();
        drive(&mut run, &[], 10);
        assert_eq!(run.rewind_to(5), mode == Mode::Practice, "{mode:?}");
        assert!(!run.rewind_to(11), "there is no such moment yet");
    }
    let course = course("first-release", Mode::Demonstration);
    let mut run = course.demonstrate(member("expert").unwrap()).unwrap();
    drive(&mut run, &[], 2000);
    assert_eq!(run.operator(), Some("expert"));
    run.say_done();
    assert!(!run.is_done_said(), "that is the operator's to say");
    assert!(run.take_over());
    assert_eq!((run.operator(), run.mode()), (None, Mode::Practice));
    let horn = Controls::held([Button::Horn]);
    run.tick(&horn).unwrap();
    assert_eq!(*run.controls(), horn);
    assert!(run.rewind_to(1000), "it is practice now");
    let finished = run.finish().ok().unwrap();
    assert_eq!(finished.recording.head.operator, "trainee");
    assert_eq!(finished.recording.replay(|_| ()).unwrap().differs, None);
}

#[test]
fn a_run_ends_when_the_job_is_done_or_said_to_be_or_has_failed() {
    // Every stick joined.
    let shift = course("first-shift", Mode::Assessed);
    let (played, _) = headless(&shift, "expert");
    let mut run = shift.set_out(played.set_out.clone()).unwrap();
    let ending = drive(&mut run, &played.log.controls, u64::MAX);
    assert_eq!(ending, Some(Ending::AtRest));
    assert!(run.line().tick_count() <= played.log.ticks);
    let finished = run.finish().ok().unwrap();
    let score = &finished.played.verdict.score;
    assert!(score.passed && score.points == 100.0, "{score:?}");

    // Said to be done, before anything is: when the row lies still.
    let mut run = course("first-release", Mode::Assessed)
        .set_out(SetOut::default())
        .unwrap();
    assert_eq!(drive(&mut run, &[], 1200), None);
    run.say_done();
    assert_eq!(drive(&mut run, &[], 4800), Some(Ending::AtRest));
    assert!(matches!(
        run.tick(&Controls::held([Button::Feed])),
        Ok(Step::Ended(_))
    ));
    let finished = run.finish().ok().unwrap();
    assert_eq!(finished.outcome, Outcome::NotFed);
    let kinds = finished.played.verdict.findings.iter().map(|f| f.kind);
    assert!(kinds.into_iter().any(|kind| kind == FindingKind::LeftLive));

    // Failed: the world goes on until it rests, and nothing is held against the trainee after that.
    let wrong = course("wrong-size", Mode::Assessed);
    let (played, _) = headless(&wrong, "leaves-the-setting");
    let mut run = wrong.set_out(played.set_out.clone()).unwrap();
    let ending = drive(&mut run, &played.log.controls, u64::MAX);
    assert_eq!(ending, Some(Ending::Critical));
    assert!(run.has_failed() && run.line().is_at_rest());
    let finished = run.finish().ok().unwrap();
    assert_eq!(finished.outcome, Outcome::DoubleFeed);
    assert!(!finished.played.verdict.score.passed);
    let said = finished.report(Vec::new()).text(Texts::of(Lang::English));
    assert!(said.contains("what fails the run has happened"), "{said}");
    let inquest = Inquest::default();
    let inquiries = finished.inquire(&inquest).unwrap();
    assert!(!inquiries.is_empty());
    assert_eq!(inquest.progress(), (inquiries.len(), inquiries.len()));
    inquest.cancel();
    assert!(finished.inquire(&inquest).is_none());
}

/// Before anything has come of it, it is broken off and nothing else.
#[test]
fn what_is_broken_off_at_its_beginning_has_come_to_nothing() {
    let mut run = course("first-shift", Mode::Assessed)
        .set_out(SetOut::default())
        .unwrap();
    drive(&mut run, &[], 240);
    let finished = run.finish().ok().unwrap();
    assert_eq!(finished.outcome, Outcome::BrokenOff);
    let score = &finished.played.verdict.score;
    assert!(score.broken_off && !score.passed);
}

/// However good it was so far.
#[test]
fn an_assessment_that_is_broken_off_is_not_passed() {
    let course = course("first-shift", Mode::Assessed);
    let (played, _) = headless(&course, "expert");
    let mut run = course.set_out(played.set_out.clone()).unwrap();
    // The stick is joined; that everything lies still is not waited for.
    while run.line().place(StickId(0)) != StickPlace::Joined {
        let next = run.line().tick_count() + 1;
        assert_eq!(drive(&mut run, &played.log.controls, next), None);
    }
    let finished = run.finish().ok().unwrap();
    let score = &finished.played.verdict.score;
    assert!(score.goal_met && !score.critical && score.points == 100.0);
    assert!(score.broken_off && !score.passed);
    assert_eq!(finished.played.ending, Ending::BrokenOff);
    assert_eq!(finished.outcome, Outcome::Joined);
    for lang in Lang::ALL {
        let said = finished.report(Vec::new()).text(Texts::of(lang));
        let word = ["the run was broken off", "la ejecución se interrumpió"];
        assert!(said.contains(word[lang as usize]), "{said}");
    }
    let replay = finished.recording.replay(|_| ()).unwrap();
    assert_eq!(replay.differs, None);
}

fn replay(path: &Path) -> (Option<i32>, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_chockline"))
        .args([Path::new("replay"), Path::new("--verify"), path])
        .env("LANG", "en")
        .env_remove("LC_ALL")
        .env_remove("LC_MESSAGES")
        .output()
        .unwrap();
    let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    (output.status.code(), said)
}

#[test]
fn what_is_kept_of_a_run_is_replayed_by_the_program() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::at(folder.path()).unwrap();
    let course = Course {
        trainee: Some("Ana".to_owned()),
        ..course("first-shift", Mode::Assessed)
    };
    let (played, _) = headless(&course, "expert");
    let mut run = course.set_out(played.set_out.clone()).unwrap();
    store.begin(&mut run).unwrap();
    assert_eq!(run.recording_fault(), None);
    assert_eq!(
        drive(&mut run, &played.log.controls, u64::MAX),
        Some(Ending::AtRest)
    );
    let mut finished = run.finish().ok().unwrap();
    let row = store.keep(&mut finished).unwrap().unwrap();
    assert!(row.passed && row.points == 100.0);
    assert_eq!(store.results().0, std::slice::from_ref(&row));
    let kept = std::fs::read_dir(store.recordings()).unwrap();
    assert_eq!(kept.count(), 1, "it is in its place, and nothing beside it");

    let path = store.recording_of(&row).unwrap();
    let (code, said) = replay(&path);
    assert_eq!(code, Some(0), "{said}");
    let recording = Recording::load(&path).unwrap();
    assert!(
        said.contains(&format!("all {} states", recording.states.hashes.len())),
        "{said}"
    );

    assert_eq!(recording.head.trainee.as_deref(), Some("Ana"));
    assert_eq!(recording.head.mode, Mode::Assessed);
    let mut endless = recording;
    endless.log.ticks = u64::MAX;
    assert!(endless.replay(|_| ()).is_err());
    assert_eq!(replay(Path::new("no-such.chock")).0, Some(2));
}

/// Practice is recorded too, and is no result.
#[test]
fn practice_is_recorded_and_counts_for_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::at(folder.path()).unwrap();
    let mut run = course("left-hand", Mode::Practice)
        .set_out(SetOut::default())
        .unwrap();
    store.begin(&mut run).unwrap();
    drive(&mut run, &[], 100);
    let mut finished = run.finish().ok().unwrap();
    assert_eq!(store.keep(&mut finished).unwrap(), None);
    assert_eq!(store.results().0, []);
    let kept = std::fs::read_dir(store.recordings()).unwrap();
    assert_eq!(kept.count(), 1);
    let shared = Arc::new(finished);
    let asked = Arc::clone(&shared);
    let beside = std::thread::spawn(move || asked.inquire(&Inquest::default()));
    assert_eq!(beside.join().unwrap(), Some(Vec::new()));
}
