//! Warming up: every control tried once, one after the other, with what to look at. Unscored, on any
//! line; read from the line and the controls alone.

use crate::domain::rig::End;
use crate::domain::spec::Motion;
use crate::session::coach::Pointed;
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{Line, StickPlace};
use crate::texts::Message;
use crate::words;

/// How long a motion is held at least, s, and for how long at most where it does not go.
const HELD_S: f64 = 0.7;
const HELD_MOST_S: f64 = 2.0;
/// What counts as having moved, m or m/s.
const MOVED: f64 = 0.005;

/// One thing to try.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Drill {
    /// The view turned or walked about in; the view tells when it is done.
    LookAround,
    Horn,
    CallOut,
    /// A motion held, watched, and let go.
    Press(Motion, Button),
    /// Both buttons of a motion at once: nothing goes.
    BothAtOnce,
    EmergencyStop,
    ReleaseStop,
    Isolate,
    PowerOn,
    /// Feed held until the stick is clear, and let go.
    Feed,
}

/// The drills in their order.
const ORDER: [Drill; 25] = [
    Drill::LookAround,
    Drill::Horn,
    Drill::CallOut,
    Drill::Press(Motion::Receiver, Button::ReceiverDown),
    Drill::Press(Motion::Receiver, Button::ReceiverUp),
    Drill::Press(Motion::LiftNear, Button::LiftBothUp),
    Drill::Press(Motion::LiftNear, Button::LiftBothDown),
    Drill::Press(Motion::LiftNear, Button::LiftNearUp),
    Drill::Press(Motion::LiftNear, Button::LiftNearDown),
    Drill::Press(Motion::LiftFar, Button::LiftFarUp),
    Drill::Press(Motion::LiftFar, Button::LiftFarDown),
    Drill::Press(Motion::ShiftNear, Button::ShiftNearOut),
    Drill::Press(Motion::ShiftNear, Button::ShiftNearIn),
    Drill::Press(Motion::ShiftFar, Button::ShiftFarOut),
    Drill::Press(Motion::ShiftFar, Button::ShiftFarIn),
    Drill::Press(Motion::Turn, Button::TurnOut),
    Drill::Press(Motion::Turn, Button::TurnIn),
    Drill::Press(Motion::Advance, Button::AdvanceOn),
    Drill::Press(Motion::Advance, Button::AdvanceBack),
    Drill::BothAtOnce,
    Drill::EmergencyStop,
    Drill::ReleaseStop,
    Drill::Isolate,
    Drill::PowerOn,
    Drill::Feed,
];

/// What is to be tried now.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillAdvice {
    pub drill: Drill,
    pub what: Message,
    pub why: Message,
    pub parts: Vec<Pointed>,
    /// Drills done, of how many.
    pub progress: (usize, usize),
}

/// See the module's text.
#[derive(Clone, Debug)]
pub struct Drills {
    at: usize,
    /// Where the motion stood when this drill began.
    from: f64,
    /// For how long what is asked has been held, s.
    held_s: f64,
    /// What is asked has been done, and is to be let go.
    lets_go: bool,
    before: Option<f64>,
}

impl Drills {
    pub fn new() -> Self {
        Self {
            at: 0,
            from: 0.0,
            held_s: 0.0,
            lets_go: false,
            before: None,
        }
    }

    /// The drill at hand; none when all are done.
    pub fn now(&self) -> Option<Drill> {
        ORDER.get(self.at).copied()
    }

    pub fn is_done(&self) -> bool {
        self.at >= ORDER.len()
    }

    /// The trainee has looked around.
    pub fn looked_around(&mut self) {
        if self.now() == Some(Drill::LookAround) {
            self.go_on();
        }
    }

    /// Leaves the drill at hand out.
    pub fn skip(&mut self) {
        if !self.is_done() {
            self.go_on();
        }
    }

    fn go_on(&mut self) {
        *self = Self {
            at: self.at + 1,
            ..Self::new()
        };
    }

    /// Takes a tick that has just been made under the given controls.
    pub fn see(&mut self, line: &Line, done: &Controls) {
        let Some(drill) = self.now() else { return };
        let now_s = line.time_s();
        let dt_s = self.before.map_or(0.0, |before_s| now_s - before_s);
        self.before = Some(now_s);
        let goes_on = match drill {
            Drill::LookAround => false,
            Drill::Horn => self.pressed(done.has(Button::Horn), dt_s),
            Drill::CallOut => done.call == Some(Call::Clear),
            Drill::Press(motion, button) => self.moved(line, motion, button, done, dt_s),
            Drill::BothAtOnce => {
                let both = done.has(Button::LiftBothUp) && done.has(Button::LiftBothDown);
                self.pressed(both, dt_s)
            }
            Drill::EmergencyStop => done.emergency_stop,
            Drill::ReleaseStop => !done.emergency_stop,
            Drill::Isolate => done.isolated,
            Drill::PowerOn => !done.isolated,
            Drill::Feed => self.fed(line, done),
        };
        if goes_on {
            self.go_on();
        }
    }

    /// Held for a while, then let go.
    fn pressed(&mut self, held: bool, dt_s: f64) -> bool {
        self.held_s += if held { dt_s } else { 0.0 };
        self.lets_go = self.held_s >= HELD_S;
        self.lets_go && !held
    }

    fn moved(
        &mut self,
        line: &Line,
        motion: Motion,
        button: Button,
        done: &Controls,
        dt_s: f64,
    ) -> bool {
        let (at, held) = (line.motion(motion), done.has(button));
        if self.held_s == 0.0 {
            self.from = at;
        }
        self.held_s += if held { dt_s } else { 0.0 };
        let rollers = matches!(motion, Motion::Turn | Motion::Advance);
        let went = if rollers { at } else { at - self.from };
        let moved = went.abs() > MOVED && self.held_s >= HELD_S;
        self.lets_go |= moved || self.held_s >= HELD_MOST_S;
        self.lets_go && !held
    }

    fn fed(&mut self, line: &Line, done: &Controls) -> bool {
        let held = done.has(Button::Feed);
        let mut present = line.present();
        let past = present.any(|stick| {
            matches!(
                line.place(stick),
                StickPlace::Released | StickPlace::Received
            )
        });
        self.lets_go |= past && !line.is_any_over_gate();
        let on_rack = line
            .present()
            .any(|stick| line.place(stick) == StickPlace::Held);
        !held && (self.lets_go || (!past && !on_rack))
    }

    /// What is to be tried now; none when all is done.
    pub fn advice(&self) -> Option<DrillAdvice> {
        let drill = self.now()?;
        Some(DrillAdvice {
            drill,
            what: self.what(drill),
            why: why(drill),
            parts: parts(drill),
            progress: (self.at, ORDER.len()),
        })
    }

    fn what(&self, drill: Drill) -> Message {
        if self.lets_go {
            return match drill {
                Drill::Feed => "drill-let-go-feed".into(),
                _ => "drill-let-go".into(),
            };
        }
        match drill {
            Drill::LookAround => "drill-look-around".into(),
            Drill::Horn => "drill-horn".into(),
            Drill::CallOut => "drill-call-out".into(),
            Drill::Press(motion, button) => Message::new("drill-press")
                .with("button", words::button(button))
                .with("motion", drill_motion(motion, button)),
            Drill::BothAtOnce => Message::new("drill-both")
                .with("one", words::button(Button::LiftBothUp))
                .with("other", words::button(Button::LiftBothDown)),
            Drill::EmergencyStop => "drill-stop".into(),
            Drill::ReleaseStop => "drill-release-stop".into(),
            Drill::Isolate => "drill-isolate".into(),
            Drill::PowerOn => "drill-power-on".into(),
            Drill::Feed => "drill-feed".into(),
        }
    }
}

impl Default for Drills {
    fn default() -> Self {
        Self::new()
    }
}

/// What moves when a button is held.
fn drill_motion(motion: Motion, button: Button) -> Message {
    match button {
        Button::LiftBothUp | Button::LiftBothDown => "drill-both-lifts".into(),
        _ => words::motion(motion),
    }
}

fn why(drill: Drill) -> Message {
    Message::new(match drill {
        Drill::LookAround => "drill-why-look-around",
        Drill::Horn => "why-no-horn",
        Drill::CallOut => "drill-why-call-out",
        Drill::Press(Motion::Receiver, _) => "drill-why-receiver",
        Drill::Press(Motion::LiftNear | Motion::LiftFar, _) => "drill-why-lifts",
        Drill::Press(Motion::ShiftNear | Motion::ShiftFar, _) => "drill-why-shifts",
        Drill::Press(Motion::Turn, _) => "drill-why-turn",
        Drill::Press(Motion::Advance, _) => "drill-why-advance",
        Drill::BothAtOnce => "drill-why-both",
        Drill::EmergencyStop => "drill-why-stop",
        Drill::ReleaseStop => "coach-why-release-stop",
        Drill::Isolate => "drill-why-isolate",
        Drill::PowerOn => "coach-why-power-on",
        Drill::Feed => "why-let-go-early",
    })
}

fn parts(drill: Drill) -> Vec<Pointed> {
    vec![match drill {
        Drill::Press(Motion::Receiver, _) => Pointed::Receiver,
        Drill::Press(_, Button::LiftBothUp | Button::LiftBothDown) | Drill::BothAtOnce => {
            return End::BOTH.map(Pointed::Cradle).to_vec();
        }
        Drill::Press(Motion::LiftNear | Motion::ShiftNear | Motion::Advance, _) => {
            Pointed::Cradle(End::Near)
        }
        Drill::Press(_, _) => Pointed::Cradle(End::Far),
        Drill::Feed => Pointed::Escapement(End::Near),
        Drill::CallOut => Pointed::Cones,
        Drill::LookAround
        | Drill::Horn
        | Drill::EmergencyStop
        | Drill::ReleaseStop
        | Drill::Isolate
        | Drill::PowerOn => Pointed::Station,
    }]
}
