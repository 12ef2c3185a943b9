//! Somebody at the keyboard of the window who does what the coach would say, knowing only what the
//! program has written of its recording: the line is simulated beside it, a little ahead of where it is.
//!
//! However slow the frames are: nothing is decided before what was done last stands in the recording.
#![allow(dead_code)]

use std::collections::VecDeque;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

use chockline::evidence::Recording;
use chockline::operator::Doing;
use chockline::session::coach::{Action, Coach, StepId};
use chockline::session::course::Course;
use chockline::sim::controls::{Button, Call, ControlChange, Held, controls_at};
use chockline::sim::line::Line;
use chockline::view::bindings::{Act, Bindings, key_name};

use super::screen::{Window, keysym};

const TICKS_PER_S: f64 = 240.0;
/// Ticks between two signs of life in the recording.
const BEAT_TICKS: u64 = 120;
/// How long a tap is, and how long is looked after it, s.
const TAP_S: f64 = 0.05;
const LOOK_S: f64 = 0.5;
/// How long it may take until what was done stands in the recording, s; then it is done again.
const HEARD_S: f64 = 4.0;
/// A call is made again when nothing has come of it for so long, s.
const AGAIN_S: f64 = 6.0;
/// How far apart the moments are that can be gone back to, ticks.
const KEPT_TICKS: u64 = 60;
/// How many ticks pass at most between a key and what comes of it.
const LEAD_MOST_TICKS: f64 = 80.0;

/// What is to be found in the recording of what was done last.
#[derive(Clone, Copy)]
enum Awaited {
    Nothing,
    Held(Held),
    /// Held, and let go again.
    Tapped(Held),
    Said(Call),
    Isolated(bool),
    Released,
}

/// The line and the coach beside it at a moment.
struct Moment {
    line: Line,
    coach: Coach,
}

impl Moment {
    fn fork(&self) -> Self {
        Self {
            line: self.line.fork(),
            coach: self.coach.clone(),
        }
    }

    fn go_to(&mut self, tick: u64, changes: &[ControlChange]) {
        while self.line.tick_count() < tick {
            let controls = controls_at(changes, self.line.tick_count() + 1);
            self.line.tick(&controls);
            self.coach.look(&self.line, &controls);
        }
    }
}

/// See the module's text.
pub struct Pilot {
    recording: PathBuf,
    changes: Vec<ControlChange>,
    /// The latest tick that is known, and when it became known.
    known: (u64, Instant),
    /// How fast the window is, and how many ticks pass between a key and what comes of it.
    ticks_per_s: f64,
    lead_ticks: f64,
    /// Where the line will be when a key that is pressed now is felt.
    ahead: Moment,
    /// The same at moments before, from the last one that is known for sure.
    kept: VecDeque<Moment>,
    held: Held,
    /// Since when what is awaited, how many changes there were, and where the line was.
    awaited: (Awaited, Instant, usize, f64),
    /// Until when nothing is done.
    rests_until_s: f64,
    began: Instant,
    said: Option<(Call, f64)>,
    told: String,
}

impl Pilot {
    /// Beside a run of a course that has just begun, as it is recorded in a folder.
    pub fn beside(course: &Course, recordings: &Path) -> Self {
        let recording = fs::read_dir(recordings)
            .expect("the recordings' folder")
            .filter_map(|entry| Some(entry.ok()?.path()))
            .find(|path| path.extension().is_some_and(|ending| ending == "part"))
            .expect("a recording of the run");
        let set_out = Recording::load(&recording).unwrap().head.set_out;
        let run = course.clone().set_out(set_out).unwrap();
        let ahead = Moment {
            line: Line::build(run.spec()),
            coach: Coach::new(course.scenario(), run.line()),
        };
        let now = Instant::now();
        Self {
            recording,
            changes: Vec::new(),
            known: (0, now),
            ticks_per_s: TICKS_PER_S,
            lead_ticks: 0.2 * TICKS_PER_S,
            kept: VecDeque::from([ahead.fork()]),
            ahead,
            held: Held::NONE,
            awaited: (Awaited::Nothing, now, 0, 0.0),
            rests_until_s: 0.0,
            began: now,
            said: None,
            told: String::new(),
        }
    }

    /// The line, a little ahead of where it is.
    pub fn line(&self) -> &Line {
        &self.ahead.line
    }

    /// How fast the window is: of real time.
    pub fn speed(&self) -> f64 {
        self.ticks_per_s / TICKS_PER_S
    }

    fn now_s(&self) -> f64 {
        self.began.elapsed().as_secs_f64()
    }

    /// Where the line is by now, ticks.
    fn now_tick(&self) -> f64 {
        let (tick, at) = self.known;
        let on = at.elapsed().as_secs_f64() * self.ticks_per_s;
        tick as f64 + on.min(BEAT_TICKS as f64)
    }

    /// Reads on, and goes where the line will be. False where the run is over.
    pub fn follow(&mut self) -> bool {
        let Ok(recording) = Recording::load(&self.recording) else {
            return false;
        };
        let after = recording.cut_short.map(|cut| cut.after).unwrap_or_default();
        let changes = [recording.log.controls, after].concat();
        for change in changes.iter().skip(self.changes.len()) {
            self.take(*change);
        }
        let tick = recording.log.ticks;
        if tick > self.known.0 {
            let (before, at) = self.known;
            let rate = (tick - before) as f64 / at.elapsed().as_secs_f64().max(0.01);
            if tick - before == BEAT_TICKS {
                self.ticks_per_s = rate.min(TICKS_PER_S);
            }
            self.known = (tick, Instant::now());
        }
        let to = (self.now_tick() + self.lead_ticks) as u64;
        while self.ahead.line.tick_count() < to {
            let next = self.ahead.line.tick_count() / KEPT_TICKS * KEPT_TICKS + KEPT_TICKS;
            self.ahead.go_to(next.min(to), &self.changes);
            if self.ahead.line.tick_count() == next {
                self.kept.push_back(self.ahead.fork());
            }
        }
        let sure = |moment: &Moment| moment.line.tick_count() < self.known.0;
        while self.kept.get(1).is_some_and(sure) {
            self.kept.pop_front();
        }
        true
    }

    fn take(&mut self, change: ControlChange) {
        let first = self.changes.len() == self.awaited.2;
        if first && !matches!(self.awaited.0, Awaited::Nothing) {
            let lead = (change.tick as f64 - self.awaited.3).clamp(0.0, LEAD_MOST_TICKS);
            self.lead_ticks += 0.3 * (lead - self.lead_ticks);
        }
        self.changes.push(change);
        // What was thought to come after has not.
        self.kept
            .retain(|moment| moment.line.tick_count() < change.tick);
        let last = self.kept.back().expect("the last that is sure");
        self.ahead = last.fork();
        self.known = (change.tick, Instant::now());
    }

    /// Whether what was done last stands in the recording.
    fn is_heard(&self) -> bool {
        let (awaited, _, from, _) = self.awaited;
        let new = self.changes.get(from..).unwrap_or_default();
        let last = new.last().map(|change| change.controls);
        let has = |held: Held| new.iter().any(|change| change.controls.held == held);
        match awaited {
            Awaited::Nothing => true,
            Awaited::Held(held) => last.is_some_and(|last| last.held == held),
            Awaited::Tapped(held) => has(held) && last.is_some_and(|last| last.held.is_empty()),
            Awaited::Said(call) => {
                let mut said = new.iter().map(|change| change.controls.call);
                said.any(|said| said == Some(call)) && last.is_some_and(|last| last.call.is_none())
            }
            Awaited::Isolated(isolated) => last.is_some_and(|last| last.isolated == isolated),
            Awaited::Released => last.is_some_and(|last| !last.emergency_stop),
        }
    }

    /// Whether it can be decided now what is next.
    fn is_free(&mut self, window: &Window) -> bool {
        if self.is_heard() {
            self.awaited.0 = Awaited::Nothing;
            return self.now_s() >= self.rests_until_s;
        }
        if self.awaited.1.elapsed().as_secs_f64() > HEARD_S {
            // Everything up, and anew.
            println!("{:.1} s: not heard", self.now_s());
            for button in Button::ALL {
                window.up(&key(Act::Hold(button)));
            }
            self.held = Held::NONE;
            self.awaited.0 = Awaited::Nothing;
        }
        false
    }

    fn await_that(&mut self, awaited: Awaited) {
        self.awaited = (awaited, Instant::now(), self.changes.len(), self.now_tick());
    }

    /// Whether the coach has nothing more.
    pub fn is_done(&self) -> bool {
        let advice = self.ahead.coach.advice(&self.ahead.line);
        matches!(advice.step, StepId::Work(Doing::Done { .. })) && advice.action.is_none()
    }

    /// Does what is to be done now.
    pub fn work(&mut self, window: &Window) {
        if !self.is_free(window) {
            return;
        }
        // Feed is let go only when the stick is clear for sure; whatever else is held, in time.
        let mut moment = &self.ahead;
        if self.held.has(Button::Feed) {
            let pressed = self.changes.last().map_or(0, |change| change.tick);
            let since = |moment: &&Moment| moment.line.tick_count() >= pressed;
            match self.kept.front().filter(since) {
                Some(sure) => moment = sure,
                None => return,
            }
        }
        let advice = moment.coach.advice(&moment.line);
        let told = format!("{:?} {:?}", advice.step, advice.action);
        if told != self.told {
            let (at_s, tick) = (self.now_s(), self.ahead.line.tick_count());
            println!("{at_s:.1} s, tick {tick}: {told}");
            self.told = told;
        }
        match advice.action {
            Some(Action::Hold(held)) => self.hold(window, held),
            Some(Action::Tap(held)) => self.tap(window, held),
            Some(Action::Say(call)) => self.say(window, call),
            Some(Action::Isolate) => self.latch(window, Act::Isolate, Awaited::Isolated(true)),
            Some(Action::PowerOn) => self.latch(window, Act::Isolate, Awaited::Isolated(false)),
            Some(Action::ReleaseStop) => self.latch(window, Act::Reset, Awaited::Released),
            Some(Action::LetGo) | None => self.hold(window, Held::NONE),
        }
    }

    /// Whether these buttons are held and no others, as far as the recording knows.
    pub fn holds(&self, wanted: Held) -> bool {
        self.held == wanted && self.is_heard()
    }

    /// Holds these buttons and no others, once what was done before has been heard.
    pub fn hold(&mut self, window: &Window, wanted: Held) {
        if self.held == wanted || !self.is_heard() {
            return;
        }
        self.await_that(Awaited::Held(wanted));
        for button in Button::ALL {
            match (self.held.has(button), wanted.has(button)) {
                (true, false) => window.up(&key(Act::Hold(button))),
                (false, true) => window.down(&key(Act::Hold(button))),
                _ => {}
            }
        }
        self.held = wanted;
    }

    fn tap(&mut self, window: &Window, wanted: Held) {
        if !self.held.is_empty() {
            return self.hold(window, Held::NONE);
        }
        self.await_that(Awaited::Tapped(wanted));
        let keys: Vec<String> = wanted.iter().map(|button| key(Act::Hold(button))).collect();
        for key in &keys {
            window.down(key);
        }
        std::thread::sleep(std::time::Duration::from_secs_f64(TAP_S));
        for key in &keys {
            window.up(key);
        }
        self.rests_until_s = self.now_s() + LOOK_S;
    }

    fn say(&mut self, window: &Window, call: Call) {
        if !self.held.is_empty() {
            return self.hold(window, Held::NONE);
        }
        let again = self
            .said
            .is_none_or(|(said, at_s)| said != call || self.now_s() > at_s + AGAIN_S);
        if again {
            self.said = Some((call, self.now_s()));
            self.await_that(Awaited::Said(call));
            window.press(&key(Act::Say(call)));
        }
    }

    /// A switch that latches.
    fn latch(&mut self, window: &Window, act: Act, awaited: Awaited) {
        if !self.held.is_empty() {
            return self.hold(window, Held::NONE);
        }
        self.await_that(awaited);
        window.press(&key(act));
    }
}

/// The X server's name of the key of an act.
pub fn key(act: Act) -> String {
    let key = Bindings::default().key_of(act).expect("a key");
    keysym(key_name(key))
}
