//! The coach of the guided mode: watches the line and whoever holds the pendant, says the next step and
//! its reason, and notices when the trainee leaves the path.
//!
//! What is next comes from the expert at the trainee's shoulder ([`Shadow`]), so that coach and expert
//! cannot disagree. [`Coach::look`] takes every tick; [`Coach::advice`] says what to show.

mod off;
mod pointed;
mod say;
mod set_out;

pub use off::Off;
pub use pointed::Pointed;
pub use set_out::{Task, set_out_advice};

use crate::domain::rig::End;
use crate::domain::set_out::Setting;
use crate::domain::spec::Motion;
use crate::operator::{Doing, Shadow};
use crate::scenario::Scenario;
use crate::sim::controls::{Button, Call, Controls, Held};
use crate::sim::drive::Way;
use crate::sim::line::{Line, StickPlace};
use crate::texts::Message;
use off::Watcher;

/// Cycles done right after which a hint is short, and after which it comes only when asked for.
const SHORT_AFTER: u32 = 1;
const ON_REQUEST_AFTER: u32 = 3;
/// So near to the centreline, and to the string, a stick is brought by tapping, m: what it goes on
/// while somebody sees it and lets go.
const NEARLY_TRUE_M: f64 = 0.015;
const NEARLY_THERE_M: f64 = 0.15;
/// How long a word about the path stays, ticks.
const STAYS_TICKS: u64 = 8 * 240;

/// A step of the work, as the coach names it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StepId {
    /// Before pipe moves.
    SetOut(Task),
    /// What the expert would be at.
    Work(Doing),
}

/// What is to be done at the control station.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Hold(Held),
    /// Held for a moment only, and looked at again.
    Tap(Held),
    LetGo,
    Say(Call),
    /// Isolate and lock the power.
    Isolate,
    PowerOn,
    /// The emergency stop is turned to release it.
    ReleaseStop,
}

/// How much of an advice is shown by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hint {
    /// What and why.
    Full,
    /// What.
    Short,
    /// Nothing, until it is asked for.
    OnRequest,
}

/// What is next.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    pub step: StepId,
    /// What to do, one sentence.
    pub what: Message,
    /// Why, one sentence.
    pub why: Message,
    /// What to point at in the scene.
    pub parts: Vec<Pointed>,
    /// None where it is waited and watched.
    pub action: Option<Action>,
    /// Steps of this cycle that are done, of how many.
    pub progress: (usize, usize),
    /// Sticks joined, of how many.
    pub sticks: (usize, usize),
    pub hint: Hint,
    /// The trainee has left the path: what it was, and the way back.
    pub off_path: Option<Message>,
}

/// See the module's text.
#[derive(Clone, Debug)]
pub struct Coach {
    shadow: Shadow,
    watcher: Watcher,
    /// What the set-out has left to do.
    left: Vec<Setting>,
    done: Controls,
    /// Cycles done right so far, and whether this one is so far.
    right_cycles: u32,
    clean: bool,
    joined: usize,
    /// Every time the path was left.
    left_path: Vec<(u64, Off)>,
    /// How far this cycle was before something came between.
    stage: usize,
}

impl Coach {
    /// Beside somebody who takes a line of a scenario as it stands, at its beginning or later.
    pub fn new(scenario: &Scenario, line: &Line) -> Self {
        Self {
            shadow: Shadow::new(line),
            watcher: Watcher::new(line),
            left: Shadow::left_to_set(line.rig().spec(), scenario.set_out_open),
            done: Controls::default(),
            right_cycles: 0,
            clean: true,
            joined: joined(line),
            left_path: Vec::new(),
            stage: 0,
        }
    }

    /// The same beside somebody who has done so many cycles right before.
    pub fn with_right_cycles(mut self, cycles: u32) -> Self {
        self.right_cycles = cycles;
        self
    }

    /// Cycles done right so far.
    pub fn right_cycles(&self) -> u32 {
        self.right_cycles
    }

    /// Every time the path was left: tick and act.
    pub fn left_path(&self) -> &[(u64, Off)] {
        &self.left_path
    }

    /// Takes a tick that has just been made under the given controls.
    pub fn look(&mut self, line: &Line, done: &Controls) {
        let noticed = self.watcher.see(line, done, &self.shadow, &self.left);
        self.shadow.look(line, done);
        self.done = *done;
        let tick = line.tick_count();
        for off in noticed {
            self.left_path.push((tick, off));
            self.clean = false;
            // What was known is told again, a little.
            self.right_cycles = self.right_cycles.min(ON_REQUEST_AFTER).saturating_sub(1);
        }
        let joined = joined(line);
        if joined > self.joined {
            self.joined = joined;
            if self.clean {
                self.right_cycles += 1;
            }
            self.clean = true;
        }
        let doing = self.shadow.doing(line);
        self.stage = stage(doing).unwrap_or(self.stage);
        self.watcher
            .wait(line, done, doing, self.action(line, doing).is_some());
    }

    /// What the expert would be at.
    pub fn doing(&self, line: &Line) -> Doing {
        self.shadow.doing(line)
    }

    /// What is next, and why.
    pub fn advice(&self, line: &Line) -> Advice {
        let doing = self.shadow.doing(line);
        let action = self.action(line, doing);
        let said = say::Said {
            line,
            doing,
            action,
            done: &self.done,
        };
        Advice {
            step: StepId::Work(doing),
            what: said.what(),
            why: say::why(doing, action),
            parts: pointed::of_doing(line, doing, action),
            action,
            progress: (self.stage, STAGES),
            sticks: (self.joined, line.sticks().len()),
            hint: self.hint(doing),
            off_path: self.off_path(line),
        }
    }

    fn off_path(&self, line: &Line) -> Option<Message> {
        let &(tick, off) = self.left_path.last()?;
        let recent = line.tick_count() < tick + STAYS_TICKS;
        recent.then(|| off.said(&self.left))
    }

    /// What the trainee is told who wants to leave the line as it stands; none where it may be left.
    pub fn leaving(&self, line: &Line) -> Option<Message> {
        (!line.is_isolated() && line.stick_can_move()).then(|| Off::LeftLive.said(&self.left))
    }

    fn hint(&self, doing: Doing) -> Hint {
        match self.right_cycles {
            _ if !is_of_the_cycle(doing) => Hint::Full,
            ..SHORT_AFTER => Hint::Full,
            SHORT_AFTER..ON_REQUEST_AFTER => Hint::Short,
            _ => Hint::OnRequest,
        }
    }

    /// The one thing to do now.
    fn action(&self, line: &Line, doing: Doing) -> Option<Action> {
        let (asked, done) = (self.shadow.asked(), &self.done);
        let taps = self.shadow.taps() || is_nearly_there(line, doing);
        // Whoever taps lets go by themselves.
        if (!taps || asked.held.is_empty()) && is_too_much(asked, done, doing) {
            return Some(Action::LetGo);
        }
        if asked.isolated && !done.isolated {
            return Some(Action::Isolate);
        }
        if let Some(call) = asked.call {
            return Some(Action::Say(call));
        }
        let held = one_thing(asked.held);
        if held.is_empty() {
            return None;
        }
        if done.emergency_stop {
            return Some(Action::ReleaseStop);
        }
        if done.isolated && !asked.isolated {
            return Some(Action::PowerOn);
        }
        Some(if taps {
            Action::Tap(held)
        } else {
            Action::Hold(held)
        })
    }
}

/// Whether so little is left that nobody lets go in time: it is gone by tapping.
fn is_nearly_there(line: &Line, doing: Doing) -> bool {
    match doing {
        Doing::Raise(stick) | Doing::Align(stick) => {
            let spec = &line.rig().spec().machine;
            End::BOTH.iter().all(|&end| {
                let at = line.axis_at(stick, line.rig().cradle_z_m(end));
                (at.y_m - spec.centreline_m).abs() < NEARLY_TRUE_M
            })
        }
        Doing::Advance(stick) => line.front_end(stick).gap_m < NEARLY_THERE_M,
        _ => false,
    }
}

fn joined(line: &Line) -> usize {
    let places = line.sticks().map(|stick| line.place(stick));
    places.filter(|place| *place == StickPlace::Joined).count()
}

/// Why a step is done.
pub fn why(doing: Doing) -> Message {
    say::why(doing, None)
}

/// Whether something is held that is not asked for. While motions are tried, any may be.
fn is_too_much(asked: &Controls, done: &Controls, doing: Doing) -> bool {
    let feeds = done.has(Button::Feed) && !asked.has(Button::Feed);
    let mut motions = Motion::ALL.iter();
    let moves = motions.any(|&motion| {
        let way = done.asked(motion);
        way != Way::Hold && way != asked.asked(motion)
    });
    feeds || (moves && !matches!(doing, Doing::Try(_)))
}

/// Heights before sides, and both lifts by one button.
fn one_thing(held: Held) -> Held {
    let lifts: Held = held.iter().filter(|button| button.is_lift()).collect();
    let pairs = [
        (Button::LiftNearUp, Button::LiftFarUp, Button::LiftBothUp),
        (
            Button::LiftNearDown,
            Button::LiftFarDown,
            Button::LiftBothDown,
        ),
    ];
    for (near, far, both) in pairs {
        if lifts.has(near) && lifts.has(far) {
            return [both].into_iter().collect();
        }
    }
    if lifts.is_empty() { held } else { lifts }
}

/// Steps of a cycle.
const STAGES: usize = 14;

/// How many steps of a cycle are done; none where something has come between.
fn stage(doing: Doing) -> Option<usize> {
    Some(match doing {
        Doing::Try(_) | Doing::Repair(_) => 0,
        Doing::Clear | Doing::Chock | Doing::Load | Doing::Unchock => 1,
        Doing::RaiseReceiver | Doing::Settle => 2,
        Doing::Horn => 3,
        Doing::Feed => 4,
        Doing::Receive(_) => 5,
        Doing::Lower(_) => 6,
        Doing::Raise(_) => 7,
        Doing::Turn(_) | Doing::Roll(_) => 8,
        Doing::Align(_) => 9,
        Doing::Advance(_) => 10,
        Doing::Clamp(_) => 11,
        Doing::Join(_) => 12,
        Doing::Reset | Doing::Secure => 13,
        Doing::Done { .. } => STAGES,
        Doing::HeldUp
        | Doing::Stop
        | Doing::ChockHung
        | Doing::Hold
        | Doing::Release
        | Doing::UnchockHung
        | Doing::Bar => return None,
    })
}

/// Whether a step comes again with every stick: only such hints fade.
fn is_of_the_cycle(doing: Doing) -> bool {
    stage(doing).is_some_and(|stage| (2..13).contains(&stage))
}
