//! The function check: every motion tried once, empty, against its arrow.

use super::{Step, Worker, isolated};
use crate::domain::spec::{Item, Motion};
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::drive::Way;
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
    expected_in(line, motion, TRIED_S)
}

fn expected_in(line: &Line, motion: Motion, time_s: f64) -> f64 {
    let (receiver, cradles) = (line.rig().spec().receiver, line.rig().spec().cradles);
    let tried_s = (time_s - 0.1).max(0.0);
    let way = |stroke_m: f64, time_s: f64| (stroke_m / time_s * tried_s).min(stroke_m);
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

/// How one motion has been tried by whoever holds the pendant: outwards and back.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Trial {
    out: Tried,
    back: Tried,
    held: Option<Held>,
}

/// What was seen of one way of a motion.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Tried {
    #[default]
    Not,
    Sound,
    Wrong,
}

/// A button that is held now: which way, since when, from where.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Held {
    way: Way,
    since_s: f64,
    from: f64,
}

/// How long a button is held at least for the motion to be judged, s.
const JUDGED_S: f64 = 0.7;
/// Time between two looks, s, and how near to its end a motion counts as there, m.
const LOOK_S: f64 = 0.1;
const AT_END_M: f64 = 2.0e-3;

impl Trial {
    /// Takes a tick.
    pub fn see(&mut self, line: &Line, motion: Motion, done: &Controls) {
        if !line.rig().spec().faults.is_faulty(Item::Motion(motion)) && self.found_wrong() {
            // It has been put right, and is tried anew.
            *self = Self::default();
        }
        let dead = done.isolated || done.emergency_stop;
        let way = if dead { Way::Hold } else { done.asked(motion) };
        let (now_s, at) = (line.time_s(), line.motion(motion));
        if self.held.is_none_or(|held| held.way != way) {
            self.held = (way != Way::Hold).then_some(Held {
                way,
                since_s: now_s,
                from: at,
            });
        }
        let Some(held) = self.held else { return };
        let held_s = now_s - held.since_s;
        if held_s < JUDGED_S {
            return;
        }
        // The rollers' is a speed, the others' a place.
        let went = match motion {
            Motion::Turn | Motion::Advance => at,
            _ => at - held.from,
        };
        let went = if held.way == Way::Back { -went } else { went };
        let enough = went > ENOUGH * expected_in(line, motion, held_s.min(TRIED_S));
        if enough {
            self.take(held.way, Tried::Sound);
        } else if held_s >= TRIED_S - LOOK_S && room(line, motion, held.way) > AT_END_M {
            self.take(held.way, Tried::Wrong);
        }
    }

    fn take(&mut self, way: Way, seen: Tried) {
        let known = match way {
            Way::Out => &mut self.out,
            _ => &mut self.back,
        };
        if *known != Tried::Sound {
            *known = seen;
        }
    }

    /// Whether a motion has been tried. A receiver that goes up has been down before.
    pub fn is_done(&self, motion: Motion) -> bool {
        self.out == Tried::Sound && (self.back == Tried::Sound || motion == Motion::Receiver)
    }

    pub fn found_wrong(&self) -> bool {
        self.out == Tried::Wrong || self.back == Tried::Wrong
    }

    /// The button to try next: where there is no way to go, the other. What is held goes on until it
    /// has been judged.
    pub fn next(&self, line: &Line, motion: Motion) -> Button {
        let [outwards, backwards] = Button::of(motion);
        let enough = expected_in(line, motion, JUDGED_S + LOOK_S);
        let held = self.held.map(|held| held.way).filter(|&way| {
            let known = if way == Way::Out { self.out } else { self.back };
            known == Tried::Not && room(line, motion, way) > AT_END_M
        });
        let way = held.unwrap_or(match (self.out, room(line, motion, Way::Out) >= enough) {
            (Tried::Not, true) => Way::Out,
            (Tried::Not, false) => Way::Back,
            _ if room(line, motion, Way::Back) >= enough => Way::Back,
            _ => Way::Out,
        });
        if way == Way::Out { outwards } else { backwards }
    }
}

/// How far a motion can still go one way, m; rollers as long as they are held.
fn room(line: &Line, motion: Motion, way: Way) -> f64 {
    let (at, spec) = (line.motion(motion), line.rig().spec());
    let (back, out) = match motion {
        Motion::Receiver => (-spec.receiver.travel_m, 0.0),
        Motion::LiftNear | Motion::LiftFar => (0.0, spec.cradles.lift_stroke_m),
        Motion::ShiftNear | Motion::ShiftFar => {
            let half_m = 0.5 * spec.cradles.shift_range_m;
            (-half_m, half_m)
        }
        Motion::Turn | Motion::Advance => return f64::INFINITY,
    };
    match way {
        Way::Back => at - back,
        _ => out - at,
    }
}
