//! A stick that hangs: how it is freed, and how it should not be.
//!
//! The bar frees it, from an end, from uphill: the gate stands closed and locked below it. It is chocked
//! and held by the loader until nobody is near it but whoever has the bar.

use super::{Frees, Step, Worker, isolated};
use crate::domain::rig::End;
use crate::domain::spec::Duty;
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{Line, StickPlace};

/// How far up from the gate's corner the lowest stick's centre is at most that lies against it, in radii
/// of the setting.
const AT_GATE_R: f64 = 1.5;
/// How long each part is waited for, s.
const PATIENCE_S: f64 = 150.0;
/// How far up a foot of the rack is cranked by somebody who only wants the stick to go, s.
const JACKED_S: f64 = 15.0;
/// How often it is tried.
const TRIES: u32 = 2;

/// How far the recovery is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Recovery {
    /// Power off and locked; the gate closes.
    #[default]
    Isolate,
    Chock,
    Hold,
    Release,
    Unchock,
    Bar,
}

/// Whether the row does not come down to the gate.
pub fn hangs(line: &Line) -> bool {
    let rig = line.rig();
    let held = line.present().filter(|&stick| {
        line.place(stick) == StickPlace::Held && !line.loader().is_some_and(|l| l.keeps(stick))
    });
    let lowest_m = held.map(|stick| line.along_m(stick)).min_by(f64::total_cmp);
    lowest_m.is_some_and(|along_m| along_m > rig.gate_corner_m + AT_GATE_R * rig.setting_radius_m)
}

/// The end of the sticks at which the rigger waits.
fn riggers_end(line: &Line) -> End {
    let mut people = line.people().iter();
    let rigger = people.find(|person| person.spec().duty == Duty::Rigger);
    match rigger {
        Some(rigger) if rigger.place().z_m > 0.0 => End::Near,
        _ => End::Far,
    }
}

impl Worker {
    pub(super) fn recover(&mut self, line: &Line, recovery: Recovery) -> Controls {
        if self.habits.frees != Frees::Rightly {
            return self.force(line);
        }
        let been_s = self.been_s(line);
        let late = been_s > PATIENCE_S;
        let to = Step::Recover;
        isolated(match recovery {
            Recovery::Isolate if self.recoveries >= TRIES => {
                self.given_up = true;
                return isolated(self.go_to(Step::Secure, line));
            }
            Recovery::Isolate if been_s > 3.0 && line.is_at_rest() => {
                self.recoveries += 1;
                self.go_to(to(Recovery::Chock), line)
            }
            Recovery::Isolate => Controls::default(),
            Recovery::Chock if self.is_chocked(line) || late => {
                self.go_to(to(Recovery::Hold), line)
            }
            Recovery::Chock => self.say(Call::Chock),
            Recovery::Hold if line.loader().is_some_and(|l| l.held().is_some()) => {
                self.go_to(to(Recovery::Release), line)
            }
            // Nothing holds it: leave it safe.
            Recovery::Hold if late || line.loader().is_none() => {
                return isolated(self.go_to(Step::Secure, line));
            }
            Recovery::Hold => self.say(Call::Hold),
            Recovery::Release => {
                let away = line.loader().is_none_or(|loader| loader.is_parked());
                if (self.said && away && been_s > 5.0) || late {
                    self.go_to(to(Recovery::Unchock), line)
                } else {
                    self.say(Call::Release)
                }
            }
            Recovery::Unchock if self.is_unchocked(line) || late => {
                self.go_to(to(Recovery::Bar), line)
            }
            Recovery::Unchock => self.say(Call::Unchock),
            Recovery::Bar => {
                let done = been_s > 5.0 && self.all_idle(line) && line.is_at_rest();
                if (done && !hangs(line)) || late {
                    self.go_to(Step::Clear, line)
                } else {
                    self.say(Call::BarFromEnd(riggers_end(line)))
                }
            }
        })
    }

    /// Feed held on, and the stick made to go whatever it takes.
    fn force(&mut self, line: &Line) -> Controls {
        let gone = line
            .present()
            .find(|&s| matches!(line.place(s), StickPlace::Received | StickPlace::Lost));
        if let Some(stick) = gone {
            return self.go_to(Step::Receive(stick), line);
        }
        if self.been_s(line) > PATIENCE_S {
            return self.give_up(line);
        }
        let mut controls = match self.habits.frees {
            Frees::FromBelow => self.say(Call::BarFromBelow),
            Frees::ByJacking if self.been_s(line) < JACKED_S => {
                Controls::held([Button::JackNearUp, Button::JackFarUp])
            }
            Frees::ByJacking | Frees::Rightly => Controls::default(),
        };
        controls.held = controls.held.with(Button::Feed);
        controls
    }
}
