//! The function check: every motion tried once, empty, against its arrow.

use super::{Step, Worker, isolated};
use crate::domain::spec::{Item, Motion};
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::Line;

/// How long a motion is tried one way, s, and how long it is given to stop.
const TRIED_S: f64 = 1.0;
const STOPPED_S: f64 = 0.5;
/// Less than this part of what it should do is too little.
const ENOUGH: f64 = 0.6;
/// How long a repair is waited for, s.
const REPAIR_PATIENCE_S: f64 = 60.0;

/// How far the check is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Check {
    /// Which motion.
    index: usize,
    phase: Phase,
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
enum Phase {
    #[default]
    Begin,
    /// Tried outwards from a place that was seen, or back where it stands at its outer end.
    Out {
        from: f64,
        back: bool,
    },
    /// Taken back to where it was.
    Back {
        sound: bool,
    },
    Repair,
}

impl Worker {
    pub(super) fn check(&mut self, line: &Line, check: Check) -> Controls {
        let Some(&motion) = Motion::ALL.get(check.index) else {
            return self.go_to(Step::Clear, line);
        };
        let Check { index, phase } = check;
        let to = |phase: Phase| Step::Check(Check { index, phase });
        let next = Step::Check(Check {
            index: index + 1,
            phase: Phase::Begin,
        });
        let [outwards, backwards] = Button::of(motion);
        let been_s = self.been_s(line);
        match phase {
            Phase::Begin => {
                let from = line.motion(motion);
                let back = motion == Motion::Receiver && line.receiver_is_up();
                self.go_to(to(Phase::Out { from, back }), line)
            }
            Phase::Out { from, back } => {
                if been_s < TRIED_S {
                    return Controls::held([if back { backwards } else { outwards }]);
                }
                let went = (line.motion(motion) - from) * if back { -1.0 } else { 1.0 };
                let sound = went > ENOUGH * expected(line, motion);
                self.go_to(to(Phase::Back { sound }), line)
            }
            Phase::Back { sound } => {
                // The receiver is taken up again; the others as far back as they went.
                let up = motion == Motion::Receiver && !line.receiver_is_up();
                if been_s < TRIED_S || (up && sound && been_s < 20.0) {
                    return Controls::held([if motion == Motion::Receiver {
                        outwards
                    } else {
                        backwards
                    }]);
                }
                if been_s < TRIED_S + STOPPED_S {
                    return Controls::default();
                }
                if sound {
                    self.go_to(next, line)
                } else {
                    self.go_to(to(Phase::Repair), line)
                }
            }
            Phase::Repair => {
                let item = Item::Motion(motion);
                if !line.rig().spec().faults.is_faulty(item) && self.said {
                    return self.go_to(to(Phase::Begin), line);
                }
                if been_s > REPAIR_PATIENCE_S {
                    self.given_up = true;
                    return self.go_to(next, line);
                }
                isolated(self.say(Call::Repair(item)))
            }
        }
    }
}

/// What a sound motion does in the time it is tried: way, m, or speed, m/s.
fn expected(line: &Line, motion: Motion) -> f64 {
    let (receiver, cradles) = (line.rig().spec().receiver, line.rig().spec().cradles);
    let way = |stroke_m: f64, time_s: f64| (stroke_m / time_s * (TRIED_S - 0.1)).min(stroke_m);
    match motion {
        Motion::Receiver => way(receiver.travel_m, receiver.travel_time_s),
        Motion::LiftNear | Motion::LiftFar => way(cradles.lift_stroke_m, cradles.lift_time_s),
        Motion::ShiftNear | Motion::ShiftFar => {
            way(cradles.shift_range_m, cradles.shift_time_s).min(0.5 * cradles.shift_range_m)
        }
        Motion::Turn => cradles.turn_m_per_s,
        Motion::Advance => cradles.advance_m_per_s,
    }
}
