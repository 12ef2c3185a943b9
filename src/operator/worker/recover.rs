//! A stick that does not come: how it is freed, and how it should not be.

use super::{Frees, Step, Worker, isolated};
use crate::domain::math::rad;
use crate::domain::rig::End;
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{Line, StickPlace};

/// How much steeper than what holds the stick the rails are set, rad.
const MARGIN_RAD: f64 = rad(1.0);
/// How long each part is waited for, s.
const PATIENCE_S: f64 = 150.0;
/// How far up a foot of the rack is cranked by somebody who only wants the stick to go, s.
const JACKED_S: f64 = 15.0;

/// How far the recovery is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Recovery {
    /// Power off and locked; the gate closes.
    #[default]
    Isolate,
    Chock,
    Hold,
    Crank,
    Release,
    Unchock,
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
            Recovery::Isolate if been_s > 3.0 && line.is_at_rest() => {
                self.go_to(to(Recovery::Chock), line)
            }
            Recovery::Isolate => Controls::default(),
            Recovery::Chock if self.is_chocked(line) || late => {
                self.go_to(to(Recovery::Hold), line)
            }
            Recovery::Chock => self.say(Call::Chock),
            Recovery::Hold if line.loader().is_some_and(|l| l.held().is_some()) => {
                self.go_to(to(Recovery::Crank), line)
            }
            // Nothing holds it: leave it safe.
            Recovery::Hold if late || line.loader().is_none() => {
                return self.go_to(Step::Secure, line);
            }
            Recovery::Hold => self.say(Call::Hold),
            Recovery::Crank => {
                let wanted_rad = pitch_that_rolls_rad(line) + MARGIN_RAD;
                let low = |side: End| line.pitch_rad(side) < wanted_rad;
                let cranks: Vec<Button> = [
                    (End::Near, Button::JackNearUp),
                    (End::Far, Button::JackFarUp),
                ]
                .into_iter()
                .filter(|&(side, _)| low(side))
                .map(|(_, button)| button)
                .collect();
                if cranks.is_empty() || late {
                    self.go_to(to(Recovery::Release), line);
                }
                Controls::held(cranks)
            }
            Recovery::Release => {
                let away = line.loader().is_none_or(|loader| loader.is_parked());
                if (self.said && away && been_s > 5.0) || late {
                    self.go_to(to(Recovery::Unchock), line)
                } else {
                    self.say(Call::Release)
                }
            }
            Recovery::Unchock if self.is_unchocked(line) || late => {
                return self.go_to(Step::Clear, line);
            }
            Recovery::Unchock => self.say(Call::Unchock),
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

/// Slope on which every stick of the rack rolls by itself, rad.
fn pitch_that_rolls_rad(line: &Line) -> f64 {
    let arm_m = line.rig().spec().contact.rolling_lever_arm_m;
    line.present()
        .filter(|&stick| line.place(stick) == StickPlace::Held)
        .map(|stick| line.world().pipe(stick).rolls_from_rad(arm_m))
        .fold(0.0, f64::max)
}
