//! Somebody at the keyboard of the window who does what the coach would say, knowing only what the
//! program has written into its journal: the line is simulated beside it to where it now is.
#![allow(dead_code)]

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

use chockline::operator::Doing;
use chockline::session::coach::{Action, Coach, StepId};
use chockline::session::course::Course;
use chockline::sim::controls::{Button, Call, ControlChange, Held, controls_at};
use chockline::sim::line::Line;
use chockline::view::bindings::{Act, Bindings, key_name};
use serde_json::Value;

use super::screen::{Window, keysym};

/// So far behind the clock what is written down is surely known, ticks.
const BEHIND_TICKS: f64 = 60.0;
const TICKS_PER_S: f64 = 240.0;
/// How long a tap is, and how long is looked after it, s.
const TAP_S: f64 = 0.07;
const LOOK_S: f64 = 0.6;
/// A call is made again when nothing has come of it for so long, s.
const AGAIN_S: f64 = 4.0;

/// See the module's text.
pub struct Pilot {
    journal: PathBuf,
    /// Lines of the journal that have been read.
    read: usize,
    changes: Vec<ControlChange>,
    /// The latest tick that is known, and when it became known.
    known: (u64, Instant),
    line: Line,
    coach: Coach,
    held: Held,
    /// Until when a tap goes, and until when nothing is done after it.
    tap: Option<(f64, f64)>,
    began: Instant,
    said: Option<(Call, f64)>,
    latched: f64,
}

impl Pilot {
    /// Beside a run that has just begun: the course that was chosen, as it is written down in a folder.
    pub fn beside(course: &Course, line: Line, journals: &Path) -> Self {
        let journal = fs::read_dir(journals)
            .expect("the journals' folder")
            .filter_map(|entry| Some(entry.ok()?.path()))
            .find(|path| path.extension().is_some_and(|ending| ending == "jsonl"))
            .expect("a journal of the run");
        Self {
            journal,
            read: 0,
            changes: Vec::new(),
            known: (0, Instant::now()),
            coach: Coach::new(course.scenario(), &line),
            line,
            held: Held::NONE,
            tap: None,
            began: Instant::now(),
            said: None,
            latched: -10.0,
        }
    }

    pub fn line(&self) -> &Line {
        &self.line
    }

    fn now_s(&self) -> f64 {
        self.began.elapsed().as_secs_f64()
    }

    /// Reads on, and brings the line to where it is now. False where the run is over.
    pub fn follow(&mut self) -> bool {
        let Ok(text) = fs::read_to_string(&self.journal) else {
            return false;
        };
        let whole = text.rfind('\n').map_or("", |end| &text[..end]);
        // The first line is the head.
        for line in whole.lines().skip(1 + self.read) {
            self.read += 1;
            let entry: Value = serde_json::from_str(line).expect("a line of the journal");
            let tick = if let Some(change) = entry.get("Controls") {
                let change: ControlChange = serde_json::from_value(change.clone()).unwrap();
                self.changes.push(change);
                change.tick
            } else if let Some(tick) = entry.get("Tick").and_then(Value::as_u64) {
                tick
            } else {
                continue;
            };
            self.known = (tick, Instant::now());
        }
        let (tick, at) = self.known;
        let on = at.elapsed().as_secs_f64() * TICKS_PER_S;
        let now = (tick as f64 + on - BEHIND_TICKS).max(0.0) as u64;
        // Where the window is slower than real time, it says so once a second.
        let now = now.min(tick + 240);
        while self.line.tick_count() < now {
            let controls = controls_at(&self.changes, self.line.tick_count() + 1);
            self.line.tick(&controls);
            self.coach.look(&self.line, &controls);
        }
        true
    }

    /// Whether the coach has nothing more.
    pub fn is_done(&self) -> bool {
        let advice = self.coach.advice(&self.line);
        matches!(advice.step, StepId::Work(Doing::Done { .. })) && advice.action.is_none()
    }

    /// Does what is to be done now.
    pub fn work(&mut self, window: &Window) {
        let now_s = self.now_s();
        if let Some((until_s, rest_s)) = self.tap {
            if now_s >= until_s && !self.held.is_empty() {
                self.hold(window, Held::NONE);
            }
            if now_s < rest_s {
                return;
            }
            self.tap = None;
        }
        let advice = self.coach.advice(&self.line);
        match advice.action {
            Some(Action::Hold(held)) => self.hold(window, held),
            Some(Action::Tap(held)) => {
                self.hold(window, held);
                let long = if held.has(Button::AdvanceOn) {
                    1.8
                } else {
                    1.0
                };
                let until_s = now_s + long * TAP_S;
                self.tap = Some((until_s, until_s + LOOK_S));
            }
            Some(Action::Say(call)) => {
                self.hold(window, Held::NONE);
                let again = self
                    .said
                    .is_none_or(|(said, at_s)| said != call || now_s > at_s + AGAIN_S);
                if again {
                    self.said = Some((call, now_s));
                    window.press(&key(Act::Say(call)));
                }
            }
            Some(Action::Isolate | Action::PowerOn) => self.once(window, Act::Isolate),
            Some(Action::ReleaseStop) => self.once(window, Act::Reset),
            Some(Action::LetGo) | None => self.hold(window, Held::NONE),
        }
    }

    /// A switch that latches: what it does is seen only a while after.
    fn once(&mut self, window: &Window, act: Act) {
        self.hold(window, Held::NONE);
        if self.now_s() > self.latched + 1.5 {
            self.latched = self.now_s();
            window.press(&key(act));
        }
    }

    fn hold(&mut self, window: &Window, wanted: Held) {
        for button in Button::ALL {
            match (self.held.has(button), wanted.has(button)) {
                (true, false) => window.up(&key(Act::Hold(button))),
                (false, true) => window.down(&key(Act::Hold(button))),
                _ => {}
            }
        }
        self.held = wanted;
    }
}

/// The X server's name of the key of an act.
pub fn key(act: Act) -> String {
    let key = Bindings::default().key_of(act).expect("a key");
    keysym(key_name(key))
}
