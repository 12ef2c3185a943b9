//! Somebody who knows the job: runs the whole cycle, stick after stick, and looks at the stick itself
//! before every next move.

use super::Operator;
use crate::domain::rig::End;
use crate::domain::spec::EscapementKind;
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{Jaws, Line, Stage, StickPlace};
use crate::sim::world::StickId;

/// How often the expert looks and decides, s.
const LOOKS_EVERY_S: f64 = 0.1;
/// How long the row must lie still before it is fed, s.
const STILL_S: f64 = 0.5;
/// How far past the gate a stick's centre must be when feed is let go, in radii of the setting.
const CLEAR_R: f64 = 0.9;
/// How true the stick is brought to the centreline, m (a tenth of the wall of the thinnest pipe
/// of the line is 2 mm).
const TRUE_M: f64 = 0.0015;
/// How upright the long axis of an oval stick is brought, rad, and the ovality below which nobody
/// turns a stick.
const UPRIGHT_RAD: f64 = 0.05;
const ROUND_ENOUGH: f64 = 0.005;
/// Gap to the string at which the stick is stopped, m.
const GAP_M: f64 = 0.020;

/// See the module's text.
#[derive(Clone, Debug)]
pub struct Expert {
    step: Step,
    /// When the present step began, s.
    since_s: f64,
    next_look_s: f64,
    controls: Controls,
    /// What was seen at the last look, to judge speeds: heights and offsets over both cradles, gap,
    /// long axis.
    seen: Option<Seen>,
    /// Events read so far.
    read: usize,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Step {
    Settle,
    Feed,
    Receive(StickId),
    Lower(StickId),
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

#[derive(Clone, Copy, Debug)]
struct Seen {
    /// Height and offset of the stick's axis over the near and the far cradle, m.
    over: [(f64, f64); 2],
    gap_m: f64,
    long_axis_rad: f64,
}

impl Default for Expert {
    fn default() -> Self {
        Self {
            step: Step::Settle,
            since_s: 0.0,
            next_look_s: 0.0,
            controls: Controls::default(),
            seen: None,
            read: 0,
        }
    }
}

impl Operator for Expert {
    fn controls(&mut self, line: &Line) -> Controls {
        self.controls.call = None;
        if line.time_s() >= self.next_look_s {
            self.next_look_s = line.time_s() + LOOKS_EVERY_S;
            self.controls = self.decide(line);
        }
        self.controls
    }

    fn is_done(&self) -> bool {
        self.step == Step::Done
    }
}

impl Expert {
    fn go_to(&mut self, step: Step, line: &Line) {
        self.step = step;
        self.since_s = line.time_s();
        self.seen = None;
    }

    fn been_s(&self, line: &Line) -> f64 {
        line.time_s() - self.since_s
    }

    fn decide(&mut self, line: &Line) -> Controls {
        match self.step {
            Step::Settle => {
                if !line.is_at_rest() {
                    self.since_s = line.time_s();
                }
                if line.present().all(|s| line.place(s) != StickPlace::Held) {
                    self.go_to(Step::Secure, line);
                } else if !line.receiver_is_up() {
                    return Controls::held([Button::ReceiverUp]);
                } else if self.been_s(line) >= STILL_S {
                    self.go_to(Step::Feed, line);
                }
                Controls::default()
            }
            Step::Feed => {
                let fed = line.present().find(|&s| {
                    matches!(line.place(s), StickPlace::Released | StickPlace::Received)
                });
                let clear_m = line.rig().gate_far_edge_m() - CLEAR_R * line.rig().setting_radius_m;
                let done = match line.rig().spec().escapement.kind {
                    EscapementKind::PinPair => fed.filter(|&s| line.along_m(s) < clear_m),
                    EscapementKind::StarWheel => fed.filter(|_| line.stage() == Stage::Done),
                };
                match done {
                    Some(stick) => {
                        self.go_to(Step::Receive(stick), line);
                        Controls::default()
                    }
                    None => Controls::held([Button::Feed]),
                }
            }
            Step::Receive(stick) => {
                // It rocks in the saddle for a while: slow at the turning points, but not still.
                let slow = line.stick(stick).velocity.length() < 0.01;
                if !(slow && line.place(stick) == StickPlace::Received) {
                    self.since_s = line.time_s();
                }
                if self.been_s(line) >= STILL_S {
                    self.go_to(Step::Lower(stick), line);
                }
                Controls::default()
            }
            Step::Lower(stick) => {
                let down = line.receiver_lowered_m() >= line.rig().spec().receiver.travel_m - 1e-3;
                if down && line.place(stick) == StickPlace::Seated {
                    self.go_to(Step::Raise(stick), line);
                    return Controls::default();
                }
                Controls::held([Button::ReceiverDown])
            }
            Step::Raise(stick) => self.true_up(line, stick, Step::Turn(stick), true),
            Step::Turn(stick) => self.turn(line, stick),
            Step::Align(stick) => self.true_up(line, stick, Step::Advance(stick), false),
            Step::Advance(stick) => self.advance(line, stick),
            Step::Clamp(stick) => self.clamp(line, stick),
            Step::Join(_) => {
                if line.jaws() == Jaws::Open {
                    self.go_to(Step::Reset, line);
                }
                Controls::default()
            }
            Step::Reset => {
                if End::BOTH.iter().all(|&end| line.raised_m(end) <= 0.0) {
                    self.go_to(Step::Settle, line);
                    return Controls::default();
                }
                Controls::held([Button::LiftBothDown])
            }
            Step::Secure => {
                self.go_to(Step::Done, line);
                Controls {
                    isolated: true,
                    ..Controls::default()
                }
            }
            Step::Done => self.controls,
        }
    }

    /// Brings the stick's axis over both cradles to the centreline: heights, and once it is raised,
    /// offsets too.
    fn true_up(&mut self, line: &Line, stick: StickId, next: Step, heights_only: bool) -> Controls {
        let seen = see(line, stick);
        let last = self.seen.replace(seen);
        let target_m = line.rig().spec().machine.centreline_m;
        let mut held = Vec::new();
        for (i, end) in End::BOTH.into_iter().enumerate() {
            let (height, off) = seen.over[i];
            let (last_height, last_off) = last.map_or((height, off), |last| last.over[i]);
            let up = press(target_m - height, height - last_height);
            held.extend(match (up, end) {
                (1, End::Near) => Some(Button::LiftNearUp),
                (-1, End::Near) => Some(Button::LiftNearDown),
                (1, End::Far) => Some(Button::LiftFarUp),
                (-1, End::Far) => Some(Button::LiftFarDown),
                _ => None,
            });
            if heights_only {
                continue;
            }
            let out = press(-off, off - last_off);
            held.extend(match (out, end) {
                (1, End::Near) => Some(Button::ShiftNearOut),
                (-1, End::Near) => Some(Button::ShiftNearIn),
                (1, End::Far) => Some(Button::ShiftFarOut),
                (-1, End::Far) => Some(Button::ShiftFarIn),
                _ => None,
            });
        }
        let still = last.is_some_and(|last| {
            let moved = |i: usize| {
                (seen.over[i].0 - last.over[i].0).abs() + (seen.over[i].1 - last.over[i].1).abs()
            };
            moved(0) + moved(1) < 1.0e-4
        });
        if held.is_empty() && still {
            self.go_to(next, line);
        }
        Controls::held(held)
    }

    /// Puts the long axis of an oval stick upright.
    fn turn(&mut self, line: &Line, stick: StickId) -> Controls {
        let seen = see(line, stick);
        let last = self.seen.replace(seen);
        let off = seen.long_axis_rad;
        let turned = last.map_or(0.0, |last| off - last.long_axis_rad);
        let round = line.world().pipe(stick).ovality < ROUND_ENOUGH;
        if round || (off.abs() < UPRIGHT_RAD && turned.abs() < 1.0e-3) {
            self.go_to(Step::Align(stick), line);
            return Controls::default();
        }
        if (off + turned).abs() < UPRIGHT_RAD / 2.0 {
            return Controls::default();
        }
        Controls::held([if off > 0.0 {
            Button::TurnIn
        } else {
            Button::TurnOut
        }])
    }

    fn advance(&mut self, line: &Line, stick: StickId) -> Controls {
        let seen = see(line, stick);
        let last = self.seen.replace(seen);
        let closing_m = last.map_or(0.0, |last| last.gap_m - seen.gap_m);
        // The rollers need half a second to stop: as far again as in two and a half looks.
        if seen.gap_m - 2.5 * closing_m > GAP_M {
            return Controls::held([Button::AdvanceOn]);
        }
        if last.is_some() && closing_m.abs() < 1.0e-4 {
            self.go_to(Step::Clamp(stick), line);
        }
        Controls::default()
    }

    /// Asks for the jaws when the end lies true; trims it once more where it does not.
    fn clamp(&mut self, line: &Line, stick: StickId) -> Controls {
        let front = line.front_end(stick);
        if line.place(stick) == StickPlace::Clamped {
            self.go_to(Step::Join(stick), line);
            return Controls::default();
        }
        if !front.is_in_reach() || front.off_centre_m() > 4.0 * TRUE_M {
            self.go_to(Step::Align(stick), line);
            return Controls::default();
        }
        // Said once, and again where nothing comes of it.
        let say = self.read == 0 || self.been_s(line) > 10.0;
        if say {
            self.read = line.events().len().max(1);
            self.since_s = line.time_s();
        }
        Controls {
            call: say.then_some(Call::Clamp),
            ..Controls::default()
        }
    }
}

fn see(line: &Line, stick: StickId) -> Seen {
    Seen {
        over: End::BOTH.map(|end| {
            let at = line.axis_at(stick, line.rig().cradle_z_m(end));
            (at.y_m, at.x_m)
        }),
        gap_m: line.front_end(stick).gap_m,
        long_axis_rad: line.long_axis_off_rad(stick),
    }
}

/// Which way to press for a way still to go, while it moved by `moved_m` since the last look: it will
/// move on by as much until the next.
fn press(to_go_m: f64, moved_m: f64) -> i8 {
    let left_m = to_go_m - moved_m;
    if left_m.abs() < TRUE_M {
        0
    } else if left_m > 0.0 {
        1
    } else {
        -1
    }
}
