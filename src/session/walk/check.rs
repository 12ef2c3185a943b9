//! The function check on the running line: every motion tried once, empty, against its arrow.
//!
//! It watches the line and the controls, notes which way each motion was asked to go and what it did,
//! and passes no judgement. The trainee accepts a motion or reports it; for a report the power is
//! isolated and the rigger called ([`FunctionCheck::report`]), and afterwards the motion has to be
//! tried again.

use super::{Answer, Decision, Thing};
use crate::domain::spec::{Item, LineSpec, Motion};
use crate::sim::controls::{Button, Controls};
use crate::sim::drive::Way;
use crate::sim::line::{EventKind, Line, StickPlace};
use crate::texts::Message;
use crate::words;

/// A motion that has gone so far, m, or rollers that run so fast, m/s, are seen to move.
const SEEN_M: f64 = 0.002;
const SEEN_M_PER_S: f64 = 0.01;
/// Over how long a speed is judged, s.
const LOOK_S: f64 = 0.1;
/// How long a motion is still watched when its button has been let go, s.
const AFTER_S: f64 = 1.5;
/// How long a repair is waited for, s.
const REPAIR_PATIENCE_S: f64 = 90.0;

/// What was seen when a motion was asked to go one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trial {
    pub asked: Way,
    /// Which way it went; None where nothing has moved so far.
    pub went: Option<Way>,
    /// From the button to the first movement, s.
    pub late_s: Option<f64>,
    /// How long the button was held, s.
    pub held_s: f64,
    /// The greatest speed, and that of the plate, m/s.
    pub speed_m_per_s: f64,
    pub usual_m_per_s: f64,
    /// No pipe was on the receiver or the cradles.
    pub empty: bool,
}

/// How a motion stands in the check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tried {
    pub motion: Motion,
    /// The last trials outwards and back.
    pub out: Option<Trial>,
    pub back: Option<Trial>,
    pub answer: Option<Answer>,
    pub repair: Option<Repair>,
}

/// How far a repair is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Repair {
    /// Asked for, at that time of the line, s.
    Asked {
        since_s: f64,
    },
    Done,
    /// Nobody has come.
    GivenUp,
}

impl Tried {
    fn new(motion: Motion) -> Self {
        Self {
            motion,
            out: None,
            back: None,
            answer: None,
            repair: None,
        }
    }

    /// Whether it has been asked to go at all.
    pub fn is_tried(&self) -> bool {
        self.out.is_some() || self.back.is_some()
    }

    /// What was seen of it, in words.
    pub fn seen(&self) -> Vec<Message> {
        let trials = [self.out, self.back].into_iter().flatten();
        trials.map(|trial| trial.seen(self.motion)).collect()
    }
}

impl Trial {
    fn seen(&self, motion: Motion) -> Message {
        let [out, back] = Button::of(motion);
        let button = words::button(if self.asked == Way::Out { out } else { back });
        let told = match (self.went, self.late_s) {
            (Some(went), Some(late_s)) => Message::new(if went == self.asked {
                "check-went-along"
            } else {
                "check-went-against"
            })
            .measured("late", late_s, 1)
            .measured("speed", 1e3 * self.speed_m_per_s, 0)
            .measured("usual", 1e3 * self.usual_m_per_s, 0),
            _ => Message::new("check-went-nowhere").measured("held", self.held_s, 1),
        };
        told.with("button", button)
    }
}

/// A trial that is being watched.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Watched {
    trial: Trial,
    began_s: f64,
    let_go_s: Option<f64>,
    from: f64,
    /// Where it stood at the last look, and when that was.
    looked: (f64, f64),
}

/// See the module's text.
#[derive(Clone, Debug, PartialEq)]
pub struct FunctionCheck {
    tried: [Tried; Motion::ALL.len()],
    watched: [Option<Watched>; Motion::ALL.len()],
    /// How many of the line's events have been heard.
    heard: usize,
    decisions: Vec<Decision>,
}

impl FunctionCheck {
    pub fn new(line: &Line) -> Self {
        Self {
            tried: Motion::ALL.map(Tried::new),
            watched: [None; Motion::ALL.len()],
            heard: line.events().len(),
            decisions: Vec::new(),
        }
    }

    /// Every motion, in the order of the pendant.
    pub fn tried(&self) -> &[Tried] {
        &self.tried
    }

    /// What was decided, in order.
    pub fn decisions(&self) -> &[Decision] {
        &self.decisions
    }

    /// Whether every motion has been tried, and accepted or put right and accepted.
    pub fn is_complete(&self) -> bool {
        let accepted = |tried: &Tried| tried.answer == Some(Answer::Accepted);
        self.tried.iter().all(accepted)
    }

    /// Notes what a tick has brought. To be called after every tick with its controls.
    pub fn watch(&mut self, line: &Line, controls: &Controls) {
        let events = line.events();
        for event in events.get(self.heard..).unwrap_or_default() {
            if let EventKind::Repaired {
                item: Item::Motion(motion),
            } = event.kind
            {
                self.tried[motion as usize] = Tried {
                    repair: Some(Repair::Done),
                    ..Tried::new(motion)
                };
                self.watched[motion as usize] = None;
            }
        }
        self.heard = events.len();
        for tried in &mut self.tried {
            if let Some(Repair::Asked { since_s }) = tried.repair
                && line.time_s() - since_s > REPAIR_PATIENCE_S
            {
                tried.repair = Some(Repair::GivenUp);
            }
        }
        let powered = !controls.emergency_stop && !controls.isolated;
        for motion in Motion::ALL {
            let asked = if powered {
                controls.asked(motion)
            } else {
                Way::Hold
            };
            self.watch_motion(line, motion, asked);
        }
    }

    fn watch_motion(&mut self, line: &Line, motion: Motion, asked: Way) {
        let (now, time_s) = (line.motion(motion), line.time_s());
        let watched = &mut self.watched[motion as usize];
        let goes_on = watched.is_some_and(|w| w.let_go_s.is_none() && w.trial.asked == asked);
        if asked != Way::Hold && !goes_on {
            *watched = Some(Watched {
                trial: Trial {
                    asked,
                    went: None,
                    late_s: None,
                    held_s: 0.0,
                    speed_m_per_s: 0.0,
                    usual_m_per_s: usual_m_per_s(line.rig().spec(), motion),
                    empty: is_empty(line),
                },
                began_s: time_s,
                let_go_s: None,
                from: now,
                looked: (now, time_s),
            });
        }
        let Some(of) = watched else { return };
        if asked == Way::Hold && of.let_go_s.is_none() {
            of.let_go_s = Some(time_s);
        }
        of.see(now, time_s, is_rollers(motion));
        let tried = &mut self.tried[motion as usize];
        match of.trial.asked {
            Way::Out => tried.out = Some(of.trial),
            Way::Back => tried.back = Some(of.trial),
            Way::Hold => {}
        }
        if of
            .let_go_s
            .is_some_and(|let_go_s| time_s - let_go_s > AFTER_S)
        {
            *watched = None;
        }
    }

    /// The motion is taken to be sound. False where it has not been tried.
    pub fn accept(&mut self, line: &Line, motion: Motion) -> bool {
        self.answer(line, motion, Answer::Accepted)
    }

    /// The motion is reported: whoever does so isolates the power and calls for its repair. False where
    /// it has not been tried, or something is reported already.
    pub fn report(&mut self, line: &Line, motion: Motion) -> bool {
        let since_s = line.time_s();
        if self.pending().is_some() || !self.answer(line, motion, Answer::Reported) {
            return false;
        }
        self.tried[motion as usize].repair = Some(Repair::Asked { since_s });
        true
    }

    fn answer(&mut self, line: &Line, motion: Motion, answer: Answer) -> bool {
        let tried = &mut self.tried[motion as usize];
        if !tried.is_tried() {
            return false;
        }
        tried.answer = Some(answer);
        let (spec, thing) = (line.rig().spec(), Thing::Hoses(motion));
        self.decisions.push(Decision {
            thing,
            answer,
            seen: tried.seen(),
            was_faulty: thing.is_faulty(spec),
            showed: spec.faults.shows(Item::Motion(motion)),
        });
        true
    }

    /// The motion that is being put right.
    pub fn pending(&self) -> Option<Motion> {
        let waits = |tried: &&Tried| matches!(tried.repair, Some(Repair::Asked { .. }));
        self.tried.iter().find(waits).map(|tried| tried.motion)
    }
}

impl Watched {
    fn see(&mut self, now: f64, time_s: f64, rollers: bool) {
        let trial = &mut self.trial;
        if self.let_go_s.is_none() {
            trial.held_s = time_s - self.began_s;
        }
        let least = if rollers { SEEN_M_PER_S } else { SEEN_M };
        let gone = now - self.from;
        if trial.went.is_none() && gone.abs() >= least {
            trial.went = Some(if gone > 0.0 { Way::Out } else { Way::Back });
            trial.late_s = Some(time_s - self.began_s);
        }
        let (before, before_s) = self.looked;
        if rollers {
            trial.speed_m_per_s = trial.speed_m_per_s.max(now.abs());
        } else if time_s - before_s >= LOOK_S {
            let speed_m_per_s = (now - before).abs() / (time_s - before_s);
            trial.speed_m_per_s = trial.speed_m_per_s.max(speed_m_per_s);
            self.looked = (now, time_s);
        }
    }
}

fn is_rollers(motion: Motion) -> bool {
    matches!(motion, Motion::Turn | Motion::Advance)
}

/// Whether no pipe lies where the motions would move it.
fn is_empty(line: &Line) -> bool {
    line.present().all(|stick| {
        matches!(
            line.place(stick),
            StickPlace::Held | StickPlace::Joined | StickPlace::Lost
        )
    })
}

/// The speed on a motion's plate, m/s.
fn usual_m_per_s(line: &LineSpec, motion: Motion) -> f64 {
    let (receiver, cradles) = (line.receiver, line.cradles);
    match motion {
        Motion::Receiver => receiver.travel_m / receiver.travel_time_s,
        Motion::LiftNear | Motion::LiftFar => cradles.lift_stroke_m / cradles.lift_time_s,
        Motion::ShiftNear | Motion::ShiftFar => cradles.shift_range_m / cradles.shift_time_s,
        Motion::Turn => cradles.turn_m_per_s,
        Motion::Advance => cradles.advance_m_per_s,
    }
}
