//! Somebody at the pendant who runs the whole cycle, stick after stick. With sound habits it is the
//! expert; every operator in error is the same person with one habit that is not.
//!
//! It decides ten times a second, from what a person at the line can see: where the stick is, how the
//! motions go, what the spotter says.

mod check;
mod recover;
mod roll;
mod trim;

use super::Operator;
use crate::domain::spec::{Duty, EscapementKind, Motion, Turning};
use crate::sim::controls::{Button, Call, Controls, Held};
use crate::sim::line::{Jaws, Line, Stage, State, StickPlace};
use crate::sim::world::StickId;
use check::Check;
use recover::Recovery;
use roll::Roll;
use trim::{Seen, Trim, see};

/// How often it looks and decides, s.
const LOOKS_EVERY_S: f64 = 0.1;
/// How long a button is tapped for a small way, s.
const TAP_S: f64 = 0.04;
/// How long a thing must lie still to count as still, s.
const STILL_S: f64 = 0.5;
/// How long a stick lies still on its way before it counts as stuck, s.
const STUCK_S: f64 = 3.0;
/// How far past the gate a stick's centre must be when feed is let go, in radii of the setting.
const CLEAR_R: f64 = 0.9;
/// How long feed is held for a stick that does not come, s.
const FEED_PATIENCE_S: f64 = 10.0;
/// How upright the long axis of an oval stick is brought, rad, and the ovality below which nobody
/// turns a stick.
const UPRIGHT_RAD: f64 = 0.05;
const ROUND_ENOUGH: f64 = 0.005;
/// Gap to the string at which the stick is stopped, m.
const GAP_M: f64 = 0.020;
/// How true an end is to be before the jaws are asked for, m.
const TRUE_END_M: f64 = 0.006;
/// How long a job of the crew is waited for, s.
const JOB_PATIENCE_S: f64 = 120.0;
/// How long it waits for people to be out of the line before it does something else, s.
const CLEAR_PATIENCE_S: f64 = 60.0;

/// The same with the power isolated and locked.
fn isolated(controls: Controls) -> Controls {
    Controls {
        isolated: true,
        ..controls
    }
}

/// Whether a stick is so oval that its long axis is turned upright.
fn is_oval(line: &Line, stick: StickId) -> bool {
    line.world().pipe(stick).ovality >= ROUND_ENOUGH
}

fn turns_by(line: &Line, turning: Turning) -> bool {
    line.rig().spec().cradles.turning == turning
}

/// When feed is let go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LetsGo {
    /// The stick is well clear of the gate.
    Clear,
    /// It has just begun to move: half over the gate.
    Early,
}

/// What is done about a stick that does not come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frees {
    /// Stop, isolate, chock, hold with the loader, put the pitch right, and only then go on.
    Rightly,
    /// Feed held, and barred from below.
    FromBelow,
    /// The jacks are cranked with the pipe on the rack.
    ByJacking,
}

/// How somebody works. The default is as it should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habits {
    /// Every motion is tried once, empty, before pipe moves.
    pub checks: bool,
    /// The receiver is up before feeding (where the interlock lets anybody do otherwise).
    pub raises_receiver: bool,
    /// Feeds only when the stick before has left the receiver and the cradles.
    pub waits_its_turn: bool,
    pub lets_go: LetsGo,
    /// Lowers only when the stick lies still in the receiver.
    pub waits_for_still: bool,
    /// Both ends are raised together; else the near one alone, all the way, before the far one.
    pub raises_together: bool,
    /// Trims heights and offsets; else both lifts go up once, by eye.
    pub trims: bool,
    /// Puts the long axis upright.
    pub turns: bool,
    /// Raises the stick to the centreline before it advances.
    pub raises_first: bool,
    /// Stops short of the string.
    pub stops_short: bool,
    /// Looks whether the end is true before asking for the jaws.
    pub looks_at_end: bool,
    /// Leaves the jaws alone until the joint is made.
    pub leaves_joint: bool,
    /// Sounds the horn and calls everybody out, and waits until they are, before a stick can move.
    pub clears: bool,
    /// Stops when the spotter says so.
    pub heeds_spotter: bool,
    pub frees: Frees,
    /// Isolates at the end.
    pub secures: bool,
    /// Asks for the loader's sticks with the row chocked.
    pub chocks_for_loading: bool,
}

impl Habits {
    pub const SOUND: Self = Self {
        checks: true,
        raises_receiver: true,
        waits_its_turn: true,
        lets_go: LetsGo::Clear,
        waits_for_still: true,
        raises_together: true,
        trims: true,
        turns: true,
        raises_first: true,
        stops_short: true,
        looks_at_end: true,
        leaves_joint: true,
        clears: true,
        heeds_spotter: true,
        frees: Frees::Rightly,
        secures: true,
        chocks_for_loading: true,
    };
}

/// See the module's text.
#[derive(Clone, Debug)]
pub struct Worker {
    habits: Habits,
    step: Step,
    /// When the present step began, s.
    since_s: f64,
    next_look_s: f64,
    controls: Controls,
    /// What was seen at the last look, to judge speeds.
    seen: Option<Seen>,
    /// The buttons are tapped, not held, until the next look.
    tapping: bool,
    /// A call has been made in this step.
    said: bool,
    /// Everybody has been called out once: after that only whoever is in again.
    cleared: bool,
    /// What stopped work with a stick that cannot go on.
    given_up: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Step {
    Check(Check),
    Clear,
    Load(Loading),
    Settle,
    Feed,
    Recover(Recovery),
    Receive(StickId),
    Lower(StickId),
    /// Turned by side-shift, on the raised receiver.
    Roll(StickId, Roll),
    Raise(StickId),
    Turn(StickId),
    Align(StickId),
    Advance(StickId),
    Clamp(StickId),
    Join(StickId),
    Reset,
    Secure,
    Done,
}

/// Bringing a stick with the loader.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Loading {
    Chock,
    Bring,
    Unchock,
}

impl Worker {
    pub fn new(habits: Habits) -> Self {
        Self {
            habits,
            step: if habits.checks {
                Step::Check(Check::default())
            } else {
                Step::Clear
            },
            since_s: 0.0,
            next_look_s: 0.0,
            controls: Controls::default(),
            seen: None,
            tapping: false,
            said: false,
            cleared: false,
            given_up: false,
        }
    }

    fn go_to(&mut self, step: Step, line: &Line) -> Controls {
        self.step = step;
        self.since_s = line.time_s();
        self.seen = None;
        self.said = false;
        Controls::default()
    }

    /// Leaves the stick that cannot go on, and secures the line.
    fn give_up(&mut self, line: &Line) -> Controls {
        self.given_up = true;
        self.go_to(Step::Settle, line)
    }

    fn been_s(&self, line: &Line) -> f64 {
        line.time_s() - self.since_s
    }

    /// Says something once in a step.
    fn say(&mut self, call: Call) -> Controls {
        let call = (!self.said).then_some(call);
        self.said = true;
        Controls {
            call,
            ..Controls::default()
        }
    }

    fn decide(&mut self, line: &Line) -> Controls {
        if self.habits.heeds_spotter && line.people().spotter_says_stop() && self.is_moving_pipe() {
            // Nothing moves, and the clock of the step stands.
            self.since_s += LOOKS_EVERY_S;
            return Controls::default();
        }
        match self.step {
            Step::Check(check) => self.check(line, check),
            Step::Clear => self.clear(line),
            Step::Load(loading) => self.load(line, loading),
            Step::Settle => self.settle(line),
            Step::Feed => self.feed(line),
            Step::Recover(recovery) => self.recover(line, recovery),
            Step::Receive(stick) => self.receive(line, stick),
            Step::Lower(stick) => self.lower(line, stick),
            Step::Roll(stick, roll) => self.roll(line, stick, roll),
            Step::Raise(stick) => self.raise(line, stick),
            Step::Turn(stick) => self.turn(line, stick),
            Step::Align(stick) => self.trim(line, stick, Trim::Both, Step::Advance(stick)),
            Step::Advance(stick) => self.advance(line, stick),
            Step::Clamp(stick) => self.clamp(line, stick),
            Step::Join(stick) => self.join(line, stick),
            Step::Reset => self.reset(line),
            Step::Secure => self.secure(line),
            Step::Done => self.controls,
        }
    }

    /// Whether it is about to move pipe, or moves it: then stop means stop.
    fn is_moving_pipe(&self) -> bool {
        matches!(
            self.step,
            Step::Feed
                | Step::Lower(_)
                | Step::Roll(..)
                | Step::Raise(_)
                | Step::Turn(_)
                | Step::Align(_)
                | Step::Advance(_)
        )
    }

    /// Everybody out, before the first stick can move.
    fn clear(&mut self, line: &Line) -> Controls {
        let out = line.watch().is_none_or(|watch| watch.nobody_inside());
        let told = self.said || self.cleared;
        if !self.habits.clears || (out && told) || self.been_s(line) > CLEAR_PATIENCE_S {
            self.cleared = true;
            let next = if self.loads_left(line) > 0 {
                Step::Load(Loading::Chock)
            } else {
                Step::Settle
            };
            return self.go_to(next, line);
        }
        let horn = self.been_s(line) < 1.0;
        let said = self.say(Call::Clear);
        Controls {
            held: horn.then_some(Button::Horn).into_iter().collect(),
            ..said
        }
    }

    /// Whether nobody is at work or on the way to it or from it.
    fn all_idle(&self, line: &Line) -> bool {
        let mut people = line.people().iter();
        people.all(|person| {
            person.spec().duty == Duty::Visitor
                || matches!(person.state(), State::Standing | State::Down | State::InCab)
        })
    }

    /// Whether the row is chocked, and whoever did it is away again.
    fn is_chocked(&self, line: &Line) -> bool {
        line.chocks().are_set() && self.all_idle(line)
    }

    /// Whether the chocks are away, and whoever took them too.
    fn is_unchocked(&self, line: &Line) -> bool {
        line.chocks().raised_fractions() == [0.0; 2] && self.all_idle(line)
    }

    fn loads_left(&self, line: &Line) -> usize {
        line.loader().map_or(0, |loader| loader.sticks_left())
    }

    /// The loader's sticks, one at a time, on to a chocked row.
    fn load(&mut self, line: &Line, loading: Loading) -> Controls {
        // Whoever works at the rack works on an isolated line.
        let mut controls = self.load_next(line, loading);
        controls.isolated = self.habits.chocks_for_loading;
        controls
    }

    fn load_next(&mut self, line: &Line, loading: Loading) -> Controls {
        let Some(loader) = line.loader() else {
            return self.go_to(Step::Settle, line);
        };
        match loading {
            Loading::Chock => {
                let chocked = self.is_chocked(line);
                let none = line.present().next().is_none();
                let late = self.been_s(line) > JOB_PATIENCE_S;
                if !self.habits.chocks_for_loading || chocked || none || late {
                    return self.go_to(Step::Load(Loading::Bring), line);
                }
                self.say(Call::Chock)
            }
            Loading::Bring => {
                let parked = loader.is_parked() && loader.asked().is_none();
                if self.said && parked && self.been_s(line) > 2.0 {
                    let more = self.loads_left(line) > 0 && self.been_s(line) < 300.0;
                    let next = if more {
                        Step::Load(Loading::Chock)
                    } else {
                        Step::Load(Loading::Unchock)
                    };
                    return self.go_to(next, line);
                }
                self.say(Call::Load)
            }
            Loading::Unchock => {
                if self.is_unchocked(line) || self.been_s(line) > JOB_PATIENCE_S {
                    return self.go_to(Step::Clear, line);
                }
                self.say(Call::Unchock)
            }
        }
    }

    fn settle(&mut self, line: &Line) -> Controls {
        if !line.is_at_rest() {
            self.since_s = line.time_s();
        }
        let on_rack = line
            .present()
            .any(|stick| line.place(stick) == StickPlace::Held);
        if !on_rack || self.given_up {
            return self.go_to(Step::Secure, line);
        }
        if self.habits.raises_receiver && !line.receiver_is_up() {
            return Controls::held([Button::ReceiverUp]);
        }
        if self.been_s(line) >= STILL_S {
            return self.go_to(Step::Feed, line);
        }
        Controls::default()
    }

    fn feed(&mut self, line: &Line) -> Controls {
        let rig = line.rig();
        let coming = line
            .present()
            .find(|&s| matches!(line.place(s), StickPlace::Released | StickPlace::Received));
        let edge_m = rig.gate_far_edge_m();
        let clear_m = edge_m - CLEAR_R * rig.setting_radius_m;
        let done = match (rig.spec().escapement.kind, self.habits.lets_go) {
            (EscapementKind::PinPair, LetsGo::Clear) => {
                coming.filter(|&s| line.along_m(s) < clear_m)
            }
            (EscapementKind::PinPair, LetsGo::Early) => {
                // At once when it moves: it lies half over the sunk gate.
                let early_m = edge_m + 0.3 * rig.setting_radius_m;
                let mut row = line.present();
                row.find(|&s| line.place(s) != StickPlace::Seated && line.along_m(s) < early_m)
            }
            (EscapementKind::StarWheel, _) => coming.filter(|_| line.stage() == Stage::Done),
        };
        if let Some(stick) = done {
            return self.go_to(Step::Receive(stick), line);
        }
        if self.been_s(line) > FEED_PATIENCE_S {
            self.go_to(Step::Recover(Recovery::default()), line);
            if self.habits.frees == Frees::Rightly {
                return Controls::default();
            }
        }
        Controls::held([Button::Feed])
    }

    fn receive(&mut self, line: &Line, stick: StickId) -> Controls {
        // It rocks in the saddle for a while: slow at the turning points, but not still.
        if line.speed_m_per_s(stick) >= 0.01 {
            self.since_s = line.time_s();
        }
        let still_s = self.been_s(line);
        match line.place(stick) {
            StickPlace::Received if still_s > STILL_S || !self.habits.waits_for_still => {
                let by_shift = turns_by(line, Turning::SideShift) && is_oval(line, stick);
                let next = if by_shift && self.habits.turns {
                    Step::Roll(stick, Roll::default())
                } else {
                    Step::Lower(stick)
                };
                self.go_to(next, line)
            }
            // It lies on the gate or the rack, and does not come on.
            StickPlace::Held | StickPlace::Released if still_s > STUCK_S => {
                self.go_to(Step::Settle, line)
            }
            StickPlace::Lost => self.give_up(line),
            _ => Controls::default(),
        }
    }

    fn lower(&mut self, line: &Line, stick: StickId) -> Controls {
        if line.place(stick) == StickPlace::Lost {
            return self.give_up(line);
        }
        let travel_m = line.rig().spec().receiver.travel_m;
        let down = line.receiver_lowered_m() >= travel_m - 1e-3;
        if down && line.place(stick) == StickPlace::Seated {
            let next = match (self.habits.waits_its_turn, self.habits.raises_first) {
                (false, _) => Step::Feed,
                (true, false) => Step::Advance(stick),
                (true, true) => Step::Raise(stick),
            };
            return self.go_to(next, line);
        }
        if down && self.been_s(line) > 30.0 {
            return self.give_up(line);
        }
        Controls::held([Button::ReceiverDown])
    }

    fn raise(&mut self, line: &Line, stick: StickId) -> Controls {
        let next = if self.habits.turns {
            Step::Turn(stick)
        } else {
            Step::Align(stick)
        };
        if !self.habits.raises_together {
            return self.raise_one_end(line, stick);
        }
        if !self.habits.trims {
            return self.raise_by_eye(line, stick, Step::Advance(stick));
        }
        self.trim(line, stick, Trim::Heights, next)
    }

    /// Puts the long axis of an oval stick upright.
    fn turn(&mut self, line: &Line, stick: StickId) -> Controls {
        let seen = see(line, stick);
        let last = self.seen.replace(seen);
        let off = seen.long_axis_rad;
        let turned = last.map_or(0.0, |last| off - last.long_axis_rad);
        let turnable = turns_by(line, Turning::Powered) && is_oval(line, stick);
        let upright = off.abs() < UPRIGHT_RAD && turned.abs() < 1.0e-3;
        if !turnable || upright || self.been_s(line) > 90.0 {
            return self.go_to(Step::Align(stick), line);
        }
        if (off + turned).abs() < UPRIGHT_RAD / 2.0 {
            return Controls::default();
        }
        let [out, back] = Button::of(Motion::Turn);
        Controls::held([if off > 0.0 { back } else { out }])
    }

    fn advance(&mut self, line: &Line, stick: StickId) -> Controls {
        let seen = see(line, stick);
        let last = self.seen.replace(seen);
        if line.place(stick) == StickPlace::Lost {
            return self.give_up(line);
        }
        let closing_m = last.map_or(0.0, |last| last.gap_m - seen.gap_m);
        // The rollers need half a second to stop: as far again as in two and a half looks.
        let there = if self.habits.stops_short {
            seen.gap_m - 2.5 * closing_m <= GAP_M
        } else {
            seen.gap_m <= -0.001
        };
        let stuck = self.been_s(line) > 40.0 && closing_m.abs() < 1.0e-4;
        if !there && !stuck {
            return Controls::held([Button::AdvanceOn]);
        }
        if last.is_some() && closing_m.abs() < 1.0e-4 {
            return self.go_to(Step::Clamp(stick), line);
        }
        Controls::default()
    }

    /// Asks for the jaws when the end lies true; trims it once more where it does not.
    fn clamp(&mut self, line: &Line, stick: StickId) -> Controls {
        if line.place(stick) == StickPlace::Clamped {
            return isolated(self.go_to(Step::Join(stick), line));
        }
        let front = line.front_end(stick);
        let true_end = front.is_in_reach() && front.off_centre_m() <= TRUE_END_M;
        if self.habits.looks_at_end && !true_end && !self.said {
            return self.go_to(Step::Align(stick), line);
        }
        if self.been_s(line) > 20.0 {
            // Nothing came of it.
            if self.habits.looks_at_end && line.time_s() < 3.0e3 {
                return self.go_to(Step::Align(stick), line);
            }
            return self.give_up(line);
        }
        // The technician goes to the jaws: nothing may move meanwhile.
        isolated(self.say(Call::Clamp))
    }

    fn join(&mut self, line: &Line, stick: StickId) -> Controls {
        if line.jaws() == Jaws::Open && !line.world().is_present(stick) {
            return self.go_to(Step::Reset, line);
        }
        let joint_s = line.rig().spec().machine.joint_time_s;
        if !self.habits.leaves_joint && self.been_s(line) > 0.5 * joint_s {
            if line.jaws() == Jaws::Open {
                return self.give_up(line);
            }
            return isolated(self.say(Call::Unclamp));
        }
        isolated(Controls::default())
    }

    fn reset(&mut self, line: &Line) -> Controls {
        let low = [Motion::LiftNear, Motion::LiftFar].map(|motion| line.motion(motion) <= 0.0);
        if low == [true; 2] {
            return self.go_to(Step::Clear, line);
        }
        Controls::held([Button::LiftBothDown])
    }

    fn secure(&mut self, line: &Line) -> Controls {
        self.go_to(Step::Done, line);
        Controls {
            isolated: self.habits.secures,
            ..Controls::default()
        }
    }
}

impl Operator for Worker {
    fn controls(&mut self, line: &Line) -> Controls {
        self.controls.call = None;
        if line.time_s() >= self.next_look_s {
            self.next_look_s = line.time_s() + LOOKS_EVERY_S;
            self.tapping = false;
            self.controls = self.decide(line);
        } else if self.tapping && line.time_s() > self.next_look_s - LOOKS_EVERY_S + TAP_S {
            self.controls.held = Held::NONE;
        }
        self.controls
    }

    fn is_done(&self) -> bool {
        self.step == Step::Done
    }
}
