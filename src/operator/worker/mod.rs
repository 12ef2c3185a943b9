//! Somebody at the pendant who runs the whole cycle, stick after stick. With sound habits it is the
//! expert; every operator in error is the same person with one habit that is not.
//!
//! It decides ten times a second, from what a person at the line can see: where the stick is, how the
//! motions go, what the spotter says.

mod check;
mod load;
mod people;
mod recover;
mod roll;
mod set_out;
mod shadow;
mod take_over;
mod trim;

use super::Operator;
use crate::domain::set_out::SetOut;
use crate::domain::spec::{EscapementKind, LineSpec, Motion, Turning};
use crate::sim::controls::{Button, Call, Controls, Held};
use crate::sim::line::{Jaws, Line, Stage, StickPlace};
use crate::sim::world::StickId;
use check::Check;
use load::Loading;
use recover::{Recovery, hangs};
use roll::Roll;
pub use set_out::{walk_round, zone_to_set};
pub use shadow::{Doing, Shadow};
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
/// How long the horn is sounded before a feed, s.
const HORN_S: f64 = 1.0;
/// How long somebody holds a button on who does not look whether anything still moves, and waits who
/// lets the time go by, s.
const HELD_ON_S: f64 = 5.0;
const DAWDLED_S: f64 = 320.0;

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
    /// Stop, isolate, chock, hold with the loader, bar from the end, and only then go on.
    Rightly,
    /// Feed held, and barred from below.
    FromBelow,
    /// The jacks are cranked with the pipe on the rack.
    ByJacking,
}

/// How somebody works. The default is as it should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habits {
    /// Looks the line over, and has put right what is found.
    pub walks_round: bool,
    /// Sets the rails' pitch by their inclinometers.
    pub sets_pitch: bool,
    /// Sets the escapement for the pipe.
    pub sets_size: bool,
    /// Sets cones where those there are do not reach.
    pub sets_zone: bool,
    /// Every motion is tried once, empty, before pipe moves.
    pub checks: bool,
    /// The receiver is up before feeding (where the interlock lets anybody do otherwise).
    pub raises_receiver: bool,
    /// Feeds only when the stick before has left the receiver and the cradles.
    pub waits_its_turn: bool,
    /// Sounds the horn before each feed.
    pub sounds_horn: bool,
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
    /// Lets go of a button where its motion has come to its end.
    pub lets_go_at_stop: bool,
    /// Gets on with a stick that is seated.
    pub keeps_pace: bool,
    /// Calls everybody out, and waits until they are, before a stick can move.
    pub clears: bool,
    /// Stops and isolates as soon as the spotter says so, or somebody is seen in the zone.
    pub heeds_spotter: bool,
    pub frees: Frees,
    /// Stays until every stick is joined, and isolates at the end; else leaves after the first.
    pub secures: bool,
    /// Asks for the loader's sticks with the row chocked.
    pub chocks_for_loading: bool,
    /// Asks for no more sticks than the rack's plate allows.
    pub minds_plate: bool,
}

impl Habits {
    pub const SOUND: Self = Self {
        walks_round: true,
        sets_pitch: true,
        sets_size: true,
        sets_zone: true,
        checks: true,
        raises_receiver: true,
        waits_its_turn: true,
        sounds_horn: true,
        lets_go: LetsGo::Clear,
        waits_for_still: true,
        raises_together: true,
        trims: true,
        turns: true,
        raises_first: true,
        stops_short: true,
        looks_at_end: true,
        leaves_joint: true,
        lets_go_at_stop: true,
        keeps_pace: true,
        clears: true,
        heeds_spotter: true,
        frees: Frees::Rightly,
        secures: true,
        chocks_for_loading: true,
        minds_plate: true,
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
    /// Since when it stands still for people in the zone, s.
    held_up_s: Option<f64>,
    /// It has let the time go by once.
    dawdled: bool,
    /// How often a stick that hangs has been set about.
    recoveries: u32,
    /// What stopped work with a stick that cannot go on.
    given_up: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Step {
    Check(Check),
    Clear,
    Load(Loading),
    Settle,
    Horn,
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
            held_up_s: None,
            dawdled: false,
            recoveries: 0,
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
        if let Some(controls) = self.held_up(line) {
            return controls;
        }
        match self.step {
            Step::Check(check) => self.check(line, check),
            Step::Clear => self.clear(line),
            Step::Load(loading) => self.load(line, loading),
            Step::Settle => self.settle(line),
            Step::Horn => self.horn(line),
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
            let next = if self.habits.frees == Frees::Rightly && hangs(line) {
                Step::Recover(Recovery::default())
            } else {
                self.to_feed()
            };
            return self.go_to(next, line);
        }
        Controls::default()
    }

    /// What comes before the next stick.
    fn to_feed(&self) -> Step {
        if self.habits.sounds_horn {
            Step::Horn
        } else {
            Step::Feed
        }
    }

    fn horn(&mut self, line: &Line) -> Controls {
        if self.been_s(line) >= HORN_S {
            return self.go_to(Step::Feed, line);
        }
        Controls::held([Button::Horn])
    }

    /// A stick that is on its way from the rack to the receiver, or lies in it.
    fn coming(line: &Line) -> Option<StickId> {
        let mut present = line.present();
        present.find(|&s| matches!(line.place(s), StickPlace::Released | StickPlace::Received))
    }

    fn feed(&mut self, line: &Line) -> Controls {
        let rig = line.rig();
        let coming = Self::coming(line);
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
        if line.receiver_lowered_m() < travel_m - 1e-3 {
            return Controls::held([Button::ReceiverDown]);
        }
        let stroke_s = line.rig().spec().receiver.travel_time_s;
        if !self.habits.lets_go_at_stop && self.been_s(line) < stroke_s + HELD_ON_S {
            return Controls::held([Button::ReceiverDown]);
        }
        if line.place(stick) == StickPlace::Seated {
            let next = match (self.habits.waits_its_turn, self.habits.raises_first) {
                (false, _) => self.to_feed(),
                (true, false) => Step::Advance(stick),
                (true, true) => Step::Raise(stick),
            };
            return self.go_to(next, line);
        }
        if self.been_s(line) > 30.0 {
            return self.give_up(line);
        }
        Controls::default()
    }

    fn raise(&mut self, line: &Line, stick: StickId) -> Controls {
        if !self.habits.keeps_pace && !self.dawdled {
            self.dawdled = self.been_s(line) > DAWDLED_S;
            return Controls::default();
        }
        let next = if self.habits.turns {
            Step::Turn(stick)
        } else {
            self.to_hand_over(stick)
        };
        if !self.habits.raises_together {
            return self.raise_one_end(line, stick, next);
        }
        if !self.habits.trims {
            return self.raise_by_eye(line, stick, next);
        }
        self.trim(line, stick, Trim::Heights, next)
    }

    /// What comes when a stick is up and upright.
    fn to_hand_over(&self, stick: StickId) -> Step {
        if self.habits.trims {
            Step::Align(stick)
        } else {
            Step::Advance(stick)
        }
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
            return self.go_to(self.to_hand_over(stick), line);
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
        if self.been_s(line) > 20.0 && self.all_idle(line) {
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
        let drawn = line.jaws() == Jaws::Open && !line.world().is_present(stick);
        if drawn && self.all_idle(line) {
            let next = if self.habits.secures {
                Step::Reset
            } else {
                Step::Secure
            };
            return self.go_to(next, line);
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
        let down: Vec<Button> = [Motion::LiftNear, Motion::LiftFar]
            .into_iter()
            .filter(|&motion| line.motion(motion) > 0.0)
            .map(|motion| {
                let [_, down] = Button::of(motion);
                down
            })
            .collect();
        if down.is_empty() {
            return self.go_to(Step::Clear, line);
        }
        Controls::held(down)
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
    fn set_out(&self, as_found: &LineSpec, open: bool) -> SetOut {
        set_out::set_out(&self.habits, as_found, open)
    }

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
