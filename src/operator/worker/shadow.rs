//! The expert at somebody else's shoulder: decides as if the pendant were theirs, and goes on only as
//! far as the other has come. Whoever asks it what is next can never be told anything but what the
//! expert would do.

use super::check::Trial;
use super::recover::Recovery;
use super::set_out::set_out;
use super::{Habits, LOOKS_EVERY_S, Loading, Step, Worker, isolated};
use crate::domain::math::rad;
use crate::domain::rig::End;
use crate::domain::set_out::Setting;
use crate::domain::spec::{Item, LineSpec, Motion};
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::drive::Way;
use crate::sim::line::{Line, Stage, StickPlace};
use crate::sim::world::{DT_S, StickId};

/// A stick slower than this is not on its way, m/s.
const MOVES_M_PER_S: f64 = 0.05;
/// A call that was made so long before it was asked for still counts, s.
const CALLED_BEFORE_S: f64 = 15.0;
/// Whoever repairs has begun so long after the call, s.
const REPAIR_BEGINS_S: f64 = 3.0;
/// A rail that stands so near to what it is set to is set, rad.
const PITCH_SET_RAD: f64 = rad(0.2);
/// How often the expert may go on in one look.
const STEPS_AT_ONCE: usize = 6;

/// What the expert would be at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doing {
    /// Somebody is inside: nothing may move.
    HeldUp,
    /// Trying a motion, empty, against its arrow.
    Try(Motion),
    Repair(Item),
    /// Calling everybody out.
    Clear,
    Chock,
    Load,
    Unchock,
    RaiseReceiver,
    /// Waiting for the row to lie still.
    Settle,
    Horn,
    Feed,
    /// A stick hangs: stopping and isolating, and what follows.
    Stop,
    ChockHung,
    Hold,
    Release,
    UnchockHung,
    Bar,
    /// Waiting for a stick to lie still in the receiver.
    Receive(StickId),
    Lower(StickId),
    /// Turning it by side-shift.
    Roll(StickId),
    Raise(StickId),
    Turn(StickId),
    Align(StickId),
    Advance(StickId),
    Clamp(StickId),
    /// Leaving the joint alone.
    Join(StickId),
    /// Lowering the lifts for the next stick.
    Reset,
    Secure,
    /// Nothing more: all is joined, or a stick cannot go on and is left safe.
    Done {
        given_up: bool,
    },
}

/// See the module's text.
#[derive(Clone, Debug)]
pub struct Shadow {
    worker: Worker,
    /// What the expert would have the controls be.
    asked: Controls,
    next_look_s: f64,
    /// What is to be said, and has not been.
    unsaid: Option<Call>,
    /// The last call that was made and has not been counted, and when.
    heard: Option<(Call, f64)>,
    /// The last repair that was asked for, and when.
    repair: Option<(Item, f64)>,
    /// The function check, as far as it has come; none where pipe has moved already.
    trials: Option<[Trial; Motion::ALL.len()]>,
}

impl Shadow {
    /// From the beginning of a run, or as a line stands.
    pub fn new(line: &Line) -> Self {
        let fresh = line.tick_count() == 0;
        let mut worker = Worker::taking_over(line);
        worker.next_look_s = line.time_s();
        Self {
            worker,
            asked: Controls::default(),
            next_look_s: line.time_s(),
            unsaid: None,
            heard: None,
            repair: None,
            trials: fresh.then(Default::default),
        }
    }

    /// What the expert would still set on a line as it is; `open` says whether the rack is still empty.
    pub fn left_to_set(line: &LineSpec, open: bool) -> Vec<Setting> {
        let mut left = set_out(&Habits::SOUND, line, open).settings;
        // Both rails are set together; one of them may stand right already.
        left.retain(|setting| match setting {
            Setting::Pitch { rail, pitch_rad } => {
                let now_rad = match rail {
                    End::Near => line.rack.near_rail.pitch_rad,
                    End::Far => line.rack.far_rail.pitch_rad,
                };
                (now_rad - pitch_rad).abs() > PITCH_SET_RAD
            }
            _ => true,
        });
        left
    }

    /// Takes a tick that has just been made under the given controls.
    pub fn look(&mut self, line: &Line, done: &Controls) {
        let now_s = line.time_s();
        if let Some(call) = done.call {
            self.heard = Some((call, now_s));
            self.worker.cleared |= call == Call::Clear;
            if let Call::Repair(item) = call {
                self.repair = Some((item, now_s));
            }
        }
        if let Some(trials) = &mut self.trials {
            for (trial, motion) in trials.iter_mut().zip(Motion::ALL) {
                trial.see(line, motion, done);
            }
        }
        if self.worker.held_up_s.is_none() && !self.is_followed(done) {
            self.worker.since_s += f64::from(DT_S);
        }
        if now_s < self.next_look_s {
            return;
        }
        self.next_look_s = now_s + LOOKS_EVERY_S;
        if let Some(step) = self.elsewhere(line, done) {
            self.worker.go_to(step, line);
            self.unsaid = None;
        }
        self.take_as_said(now_s);
        self.worker.tapping = false;
        self.asked = match self.untried(line) {
            Some(trying) => trying,
            None => self.decide(line),
        };
        self.worker.controls = self.asked;
    }

    fn decide(&mut self, line: &Line) -> Controls {
        let mut asked = Controls::default();
        for _ in 0..STEPS_AT_ONCE {
            let (step, was_held_up) = (self.worker.step, self.worker.held_up_s.is_some());
            asked = self.worker.decide(line);
            match (was_held_up, self.worker.held_up_s.is_some()) {
                (false, true) => self.unsaid = asked.call,
                (true, false) => self.unsaid = None,
                _ => {}
            }
            if self.worker.held_up_s.is_none() {
                // It has not been said before the other has said it.
                if asked.call.is_some() {
                    self.unsaid = asked.call;
                    self.worker.said = false;
                } else if step != self.worker.step {
                    self.unsaid = None;
                }
            }
            let asks = !asked.held.is_empty() || asked.call.is_some();
            if asks || [step, Step::Done].contains(&self.worker.step) {
                break;
            }
        }
        asked.call = self.unsaid;
        asked
    }

    /// A call counts once, also when it was made a little before it was asked for.
    fn take_as_said(&mut self, now_s: f64) {
        let (Some(unsaid), Some((call, at_s))) = (self.unsaid, self.heard) else {
            return;
        };
        if call == unsaid && now_s - at_s <= CALLED_BEFORE_S {
            self.worker.said = true;
            self.unsaid = None;
            self.heard = None;
        }
    }

    /// The motions to be tried before pipe moves: what is asked for the first of them.
    fn untried(&mut self, line: &Line) -> Option<Controls> {
        let trials = self.trials?;
        if let Some(controls) = self.worker.held_up(line) {
            if self.worker.given_up {
                self.trials = None;
            }
            self.unsaid = controls
                .call
                .or(self.unsaid.filter(|call| *call == Call::Clear));
            return Some(Controls {
                call: self.unsaid,
                ..controls
            });
        }
        let mut motions = trials.iter().zip(Motion::ALL);
        let Some((trial, motion)) = motions.find(|(trial, motion)| !trial.is_done(*motion)) else {
            self.trials = None;
            return None;
        };
        let item = Item::Motion(motion);
        if trial.found_wrong() {
            let asked_s = self
                .repair
                .filter(|(of, _)| *of == item)
                .map(|(_, at_s)| at_s);
            let waits = asked_s.is_some_and(|at_s| {
                line.time_s() - at_s < REPAIR_BEGINS_S || !self.worker.all_idle(line)
            });
            self.unsaid = (!waits).then_some(Call::Repair(item));
            return Some(isolated(Controls {
                call: self.unsaid,
                ..Controls::default()
            }));
        }
        self.unsaid = None;
        Some(Controls::held([trial.next(line, motion)]))
    }

    /// Whether the other does what the expert would: only then the step's clock runs.
    fn is_followed(&self, done: &Controls) -> bool {
        let asked = &self.asked;
        if self.unsaid.is_some() || (asked.isolated && !done.isolated) {
            return false;
        }
        let mut ways = Motion::ALL.iter().map(|&motion| asked.asked(motion));
        let moves = Motion::ALL.iter().all(|&motion| {
            asked.asked(motion) == Way::Hold || asked.asked(motion) == done.asked(motion)
        });
        let held = [Button::Feed, Button::Horn]
            .iter()
            .all(|&button| !asked.has(button) || done.has(button));
        let needs_power = asked.has(Button::Feed) || ways.any(|way| way != Way::Hold);
        let dead = done.isolated || done.emergency_stop;
        moves && held && !(needs_power && dead)
    }

    /// Where the other has come to by themselves, if that is not where the expert is.
    fn elsewhere(&mut self, line: &Line, done: &Controls) -> Option<Step> {
        let step = self.worker.step;
        let cycles = !matches!(line.stage(), Stage::Blocked | Stage::Done);
        if cycles && done.has(Button::Feed) && is_before_feed(step) {
            self.trials = None;
            return Some(Step::Feed);
        }
        if let Step::Load(Loading::Chock | Loading::Bring) = step
            && !self.worker.said
            && self.heard.is_none_or(|(call, _)| call != Call::Load)
            && !self.worker.may_load(line)
        {
            return Some(Step::Load(Loading::Unchock));
        }
        let hand = line.present().find(|&stick| is_in_hand(line.place(stick)));
        let Some(stick) = hand else {
            let (Step::Raise(stick)
            | Step::Turn(stick)
            | Step::Align(stick)
            | Step::Advance(stick)
            | Step::Clamp(stick)) = step
            else {
                return None;
            };
            return (line.place(stick) == StickPlace::Joined).then_some(Step::Join(stick));
        };
        let at = |steps: &[Step]| steps.contains(&step);
        let rolls = matches!(step, Step::Roll(of, _) if of == stick);
        let (fits, or_else) = match line.place(stick) {
            StickPlace::Released => {
                let coming = line.speed_m_per_s(stick) > MOVES_M_PER_S;
                let fits = at(&[Step::Feed, Step::Receive(stick)]) || !coming;
                (fits, Step::Receive(stick))
            }
            StickPlace::Received => {
                let fits = at(&[Step::Feed, Step::Receive(stick), Step::Lower(stick)]) || rolls;
                (fits, Step::Receive(stick))
            }
            StickPlace::Seated => {
                let on = [
                    Step::Lower(stick),
                    Step::Raise(stick),
                    Step::Turn(stick),
                    Step::Align(stick),
                    Step::Advance(stick),
                    Step::Clamp(stick),
                ];
                (at(&on) || rolls, Step::Raise(stick))
            }
            _ => (
                at(&[Step::Clamp(stick), Step::Join(stick)]),
                Step::Join(stick),
            ),
        };
        let left_safe = matches!(step, Step::Secure | Step::Done) && self.worker.given_up;
        if fits || left_safe {
            return None;
        }
        self.trials = None;
        Some(or_else)
    }

    /// What the expert would have the controls be, beside what is to be said.
    pub fn asked(&self) -> &Controls {
        &self.asked
    }

    /// The buttons are to be tapped, not held.
    pub fn taps(&self) -> bool {
        self.worker.tapping
    }

    /// Everybody has been called out once.
    pub fn has_cleared(&self) -> bool {
        self.worker.cleared
    }

    /// Whether every motion has been tried, or pipe has moved without.
    pub fn has_checked(&self) -> bool {
        self.trials.is_none()
    }

    /// How many motions have been tried, of how many.
    pub fn tried(&self) -> (usize, usize) {
        let all = Motion::ALL.len();
        let done = |trials: &[Trial; Motion::ALL.len()]| {
            let motions = trials.iter().zip(Motion::ALL);
            motions
                .filter(|(trial, motion)| trial.is_done(*motion))
                .count()
        };
        (self.trials.as_ref().map_or(all, done), all)
    }

    /// Whether the rack's plate would not allow another stick.
    pub fn would_overload(&self, line: &Line) -> bool {
        let left = line.loader().is_some_and(|loader| loader.sticks_left() > 0);
        left && !self.worker.may_load(line)
    }

    /// Whether nobody is at work or on the way to it or from it.
    pub fn all_idle(&self, line: &Line) -> bool {
        self.worker.all_idle(line)
    }

    /// What the expert would be at.
    pub fn doing(&self, line: &Line) -> Doing {
        if self.worker.held_up_s.is_some() {
            return Doing::HeldUp;
        }
        if let Some(trials) = &self.trials {
            let mut motions = trials.iter().zip(Motion::ALL);
            if let Some((trial, motion)) = motions.find(|(trial, motion)| !trial.is_done(*motion)) {
                return if trial.found_wrong() {
                    Doing::Repair(Item::Motion(motion))
                } else {
                    Doing::Try(motion)
                };
            }
        }
        match self.worker.step {
            Step::Check(_) | Step::Clear => Doing::Clear,
            Step::Load(Loading::Chock) => Doing::Chock,
            Step::Load(Loading::Bring) => Doing::Load,
            Step::Load(Loading::Unchock) => Doing::Unchock,
            Step::Settle if !line.receiver_is_up() => Doing::RaiseReceiver,
            Step::Settle => Doing::Settle,
            Step::Horn => Doing::Horn,
            Step::Feed => Doing::Feed,
            Step::Recover(recovery) => match recovery {
                Recovery::Isolate => Doing::Stop,
                Recovery::Chock => Doing::ChockHung,
                Recovery::Hold => Doing::Hold,
                Recovery::Release => Doing::Release,
                Recovery::Unchock => Doing::UnchockHung,
                Recovery::Bar => Doing::Bar,
            },
            Step::Receive(stick) => Doing::Receive(stick),
            Step::Lower(stick) => Doing::Lower(stick),
            Step::Roll(stick, _) => Doing::Roll(stick),
            Step::Raise(stick) => Doing::Raise(stick),
            Step::Turn(stick) => Doing::Turn(stick),
            Step::Align(stick) => Doing::Align(stick),
            Step::Advance(stick) => Doing::Advance(stick),
            Step::Clamp(stick) => Doing::Clamp(stick),
            Step::Join(stick) => Doing::Join(stick),
            Step::Reset => Doing::Reset,
            Step::Secure => Doing::Secure,
            Step::Done => Doing::Done {
                given_up: self.worker.given_up,
            },
        }
    }
}

fn is_before_feed(step: Step) -> bool {
    matches!(
        step,
        Step::Check(_)
            | Step::Clear
            | Step::Load(_)
            | Step::Settle
            | Step::Horn
            | Step::Reset
            | Step::Secure
            | Step::Done
    )
}

/// Past the gate, and not yet part of the string.
fn is_in_hand(place: StickPlace) -> bool {
    matches!(
        place,
        StickPlace::Released | StickPlace::Received | StickPlace::Seated | StickPlace::Clamped
    )
}
