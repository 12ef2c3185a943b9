//! When a trainee leaves the path: something is done that the expert would not do now, as the line
//! stands. Read from the state and the controls, as it happens.

use crate::domain::fusion::high_low_limit_m;
use crate::domain::limits::{GAP_MAX, GAP_MIN, HORN_BEFORE, LIFT_TILT_MAX, LONG_AXIS_MAX, OVAL};
use crate::domain::rig::End;
use crate::domain::set_out::Setting;
use crate::domain::spec::Motion;
use crate::operator::{Doing, Shadow};
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::drive::Way;
use crate::sim::line::{EventKind, Jaws, Line, StickPlace};
use crate::sim::world::{DT_S, StickId};
use crate::texts::Message;
use crate::words;

/// The same is not told again within this, s.
const TOLD_AGAIN_S: f64 = 20.0;
/// A stick of the row that moves faster is on its way, m/s.
const MOVES_M_PER_S: f64 = 0.05;
/// A stick in the receiver that is slower lies still, m/s, and is seen to after so long, s.
const STILL_M_PER_S: f64 = 0.01;
const STILL_S: f64 = 0.3;
/// How long it may take to stop for somebody, s.
const STOPS_S: f64 = 1.5;
/// Lengthwise tilt at which one end is told to be ahead, rad: long before its limit.
const AHEAD_RAD: f64 = LIFT_TILT_MAX.value / 3.0;
/// How far below or above the centreline a stick is not to be advanced, m.
const LOW_M: f64 = 0.03;
/// Gap at which advance should be let go, m.
const NEAR_M: f64 = 0.008;
/// How long a motion is held at its end, feed for a stick that does not come, the line live while
/// somebody works there, and nothing done, before it is told, s.
const AT_END_S: f64 = 2.5;
const FORCED_S: f64 = 2.0;
const AT_WORK_S: f64 = 0.5;
const WAITED_S: f64 = 45.0;

/// How the path was left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Off {
    NotSetOut,
    FedNotSetOut,
    FedUnchecked,
    FedNotCleared,
    FedWithPeople,
    FedReceiverDown,
    FedOccupied,
    FedRowMoving,
    FedWhileLoading,
    FedChocked,
    FedNoHorn,
    ForcedFeed,
    LetGoEarly,
    MovedWithPeople,
    LoweredRocking,
    OneEnd,
    AdvancedLow,
    NotTurned,
    HeldAdvance,
    HeldAtEnd,
    ClampLive,
    ClampUntrue,
    ClampGap,
    ClampNotTurned,
    Unclamped,
    LoadedUnchocked,
    Overloaded,
    BarredFromBelow,
    Jacked,
    LiveAtWork,
    RepairLive,
    Waited,
    LeftLive,
}

impl Off {
    /// What was done and the way back. `left` is what the set-out has left to do.
    pub fn said(self, left: &[Setting]) -> Message {
        let with_first = |id: &'static str| {
            let first = left
                .first()
                .map_or("coach-no-button".into(), words::setting);
            Message::new(id).with("setting", first)
        };
        Message::new(match self {
            Self::NotSetOut => return with_first("off-not-set-out"),
            Self::FedNotSetOut => return with_first("off-fed-not-set-out"),
            Self::FedUnchecked => "off-fed-unchecked",
            Self::FedNotCleared => "off-fed-not-cleared",
            Self::FedWithPeople => "off-fed-with-people",
            Self::FedReceiverDown => "off-fed-receiver-down",
            Self::FedOccupied => "off-fed-occupied",
            Self::FedRowMoving => "off-fed-row-moving",
            Self::FedWhileLoading => "off-fed-while-loading",
            Self::FedChocked => "off-fed-chocked",
            Self::FedNoHorn => "off-fed-no-horn",
            Self::ForcedFeed => "off-forced-feed",
            Self::LetGoEarly => "off-let-go-early",
            Self::MovedWithPeople => "off-moved-with-people",
            Self::LoweredRocking => "off-lowered-rocking",
            Self::OneEnd => "off-one-end",
            Self::AdvancedLow => "off-advanced-low",
            Self::NotTurned => "off-not-turned",
            Self::HeldAdvance => "off-held-advance",
            Self::HeldAtEnd => "off-held-at-end",
            Self::ClampLive => "off-clamp-live",
            Self::ClampUntrue => "off-clamp-untrue",
            Self::ClampGap => "off-clamp-gap",
            Self::ClampNotTurned => "off-clamp-not-turned",
            Self::Unclamped => "off-unclamped",
            Self::LoadedUnchocked => "off-loaded-unchocked",
            Self::Overloaded => "off-overloaded",
            Self::BarredFromBelow => "off-barred-from-below",
            Self::Jacked => "off-jacked",
            Self::LiveAtWork => "off-live-at-work",
            Self::RepairLive => "off-repair-live",
            Self::Waited => "off-waited",
            Self::LeftLive => "off-left-live",
        })
    }
}

/// Watches the controls and the line for it.
#[derive(Clone, Debug)]
pub struct Watcher {
    before: Controls,
    /// Events that have been looked at.
    told: usize,
    /// What was told, and when, s.
    noticed: Vec<(Off, f64)>,
    horn_s: Option<f64>,
    /// When a stick in the receiver was last seen to rock, s.
    rocked_s: Option<f64>,
    /// For how long, s: somebody has been inside, each motion has been held where it does not go, feed
    /// has been held for nothing, the line has been live while somebody works there.
    held_up_s: f64,
    at_end_s: [f64; Motion::ALL.len()],
    motions: [f64; Motion::ALL.len()],
    forced_s: f64,
    at_work_s: f64,
    /// Since when nothing has been done, s, and at what step.
    idle_since_s: f64,
    idle_at: Option<Doing>,
    waited: bool,
    fed: bool,
    begun: bool,
    /// Another stick would have been too much for the rack's plate while the loader was last parked.
    over_plate: bool,
}

impl Watcher {
    pub fn new(line: &Line) -> Self {
        Self {
            before: Controls::default(),
            told: line.events().len(),
            noticed: Vec::new(),
            horn_s: None,
            rocked_s: None,
            held_up_s: 0.0,
            at_end_s: [0.0; Motion::ALL.len()],
            motions: Motion::ALL.map(|motion| line.motion(motion)),
            forced_s: 0.0,
            at_work_s: 0.0,
            idle_since_s: line.time_s(),
            idle_at: None,
            waited: false,
            fed: line.tick_count() > 0,
            begun: false,
            over_plate: false,
        }
    }

    /// Takes a tick that has just been made under the given controls; `shadow` has not seen it yet.
    pub fn see(
        &mut self,
        line: &Line,
        done: &Controls,
        shadow: &Shadow,
        left: &[Setting],
    ) -> Vec<Off> {
        let mut found = Vec::new();
        if !core::mem::replace(&mut self.begun, true) && !self.fed && !left.is_empty() {
            found.push(Off::NotSetOut);
        }
        let before = core::mem::replace(&mut self.before, *done);
        let now_s = line.time_s();
        if done.has(Button::Horn) {
            self.horn_s = Some(now_s);
        }
        if rocks(line) {
            self.rocked_s = Some(now_s);
        }
        for button in done.pressed_since(&before) {
            self.pressed(line, button, shadow, left, &mut found);
        }
        if let Some(call) = done.call.filter(|_| before.call != done.call) {
            self.called(line, call, done, &mut found);
        }
        let people = is_anybody_inside(line);
        for event in line.events().get(self.told..).unwrap_or_default() {
            match event.kind {
                EventKind::GateClosedUnder { .. } if !people && !done.emergency_stop => {
                    found.push(Off::LetGoEarly);
                }
                EventKind::NotIsolated { .. } => found.push(Off::RepairLive),
                _ => {}
            }
        }
        self.told = line.events().len();
        found.extend(self.lasting(line, done, shadow));
        if line.loader().is_some_and(|loader| loader.is_parked()) {
            self.over_plate = shadow.would_overload(line);
        }
        found.retain(|&off| self.is_new(off, now_s));
        found
    }

    /// Takes what is next after the same tick: for how long nothing has come of it.
    pub fn wait(&mut self, line: &Line, done: &Controls, doing: Doing, to_do: bool) {
        let idle = to_do && done.held.is_empty() && done.call.is_none();
        if !idle || self.idle_at != Some(doing) {
            self.idle_since_s = line.time_s();
        }
        self.idle_at = Some(doing);
        self.waited = line.time_s() - self.idle_since_s > WAITED_S;
    }

    fn is_new(&mut self, off: Off, now_s: f64) -> bool {
        if let Some((_, at_s)) = self.noticed.iter_mut().find(|(known, _)| *known == off) {
            let long_ago = now_s - *at_s > TOLD_AGAIN_S;
            if long_ago {
                *at_s = now_s;
            }
            return long_ago;
        }
        self.noticed.push((off, now_s));
        true
    }

    fn pressed(
        &mut self,
        line: &Line,
        button: Button,
        shadow: &Shadow,
        left: &[Setting],
        found: &mut Vec<Off>,
    ) {
        match button {
            Button::Feed => self.fed(line, shadow, left, found),
            Button::ReceiverDown => {
                let rocked = self
                    .rocked_s
                    .is_some_and(|at_s| line.time_s() - at_s < STILL_S);
                if rocked {
                    found.push(Off::LoweredRocking);
                }
            }
            Button::AdvanceOn => {
                if let Some(stick) = seated(line) {
                    if off_height_m(line, stick) > LOW_M {
                        found.push(Off::AdvancedLow);
                    }
                    if is_askew(line, stick) {
                        found.push(Off::NotTurned);
                    }
                }
            }
            Button::JackNearUp | Button::JackNearDown | Button::JackFarUp | Button::JackFarDown => {
                let mut ends = End::BOTH.iter();
                if ends.any(|&end| line.jack_load_n(end) > 0.0) {
                    found.push(Off::Jacked);
                }
            }
            _ => {}
        }
    }

    fn fed(&mut self, line: &Line, shadow: &Shadow, left: &[Setting], found: &mut Vec<Off>) {
        let first = !core::mem::replace(&mut self.fed, true);
        let mut add = |holds: bool, off: Off| {
            if holds {
                found.push(off);
            }
        };
        let now_s = line.time_s();
        add(is_anybody_inside(line), Off::FedWithPeople);
        add(
            line.watch().is_some() && !shadow.has_cleared(),
            Off::FedNotCleared,
        );
        add(!line.receiver_is_up(), Off::FedReceiverDown);
        add(!line.receiver_is_empty(), Off::FedOccupied);
        let moving = line.present().any(|stick| {
            line.place(stick) == StickPlace::Held && line.speed_m_per_s(stick) > MOVES_M_PER_S
        });
        add(moving, Off::FedRowMoving);
        let loading = line.loader().is_some_and(|loader| !loader.is_parked());
        add(loading, Off::FedWhileLoading);
        let chocked = line.chocks().raised_fractions() != [0.0; 2];
        add(chocked, Off::FedChocked);
        let heard = self
            .horn_s
            .is_some_and(|at_s| now_s - at_s <= HORN_BEFORE.value);
        add(!heard && line.people().iter().len() > 0, Off::FedNoHorn);
        if first {
            add(!left.is_empty(), Off::FedNotSetOut);
            add(!shadow.has_checked(), Off::FedUnchecked);
        }
    }

    fn called(&self, line: &Line, call: Call, done: &Controls, found: &mut Vec<Off>) {
        let mut add = |holds: bool, off: Off| {
            if holds {
                found.push(off);
            }
        };
        match call {
            Call::BarFromBelow => add(true, Off::BarredFromBelow),
            Call::Unclamp => {
                let clamped = matches!(line.jaws(), Jaws::Clamped { .. });
                add(clamped, Off::Unclamped);
            }
            Call::Load => {
                let row = line
                    .present()
                    .any(|stick| line.place(stick) == StickPlace::Held && line.is_on_rails(stick));
                add(row && !line.chocks().are_set(), Off::LoadedUnchocked);
                add(self.over_plate, Off::Overloaded);
            }
            Call::Clamp => {
                add(!done.isolated, Off::ClampLive);
                let Some(stick) = seated(line) else { return };
                let front = line.front_end(stick);
                let limit_m = high_low_limit_m(line.world().pipe(stick).wall_min_m);
                add(front.off_centre_m() > limit_m, Off::ClampUntrue);
                let gap_is_right = (GAP_MIN.value..=GAP_MAX.value).contains(&front.gap_m);
                add(!gap_is_right, Off::ClampGap);
                add(is_askew(line, stick), Off::ClampNotTurned);
            }
            _ => {}
        }
    }

    /// What is seen only when it lasts.
    fn lasting(&mut self, line: &Line, done: &Controls, shadow: &Shadow) -> Vec<Off> {
        let dt_s = f64::from(DT_S);
        let mut found = Vec::new();
        let doing = shadow.doing(line);
        let lasts = |clock_s: &mut f64, holds: bool, longest_s: f64| {
            *clock_s = if holds { *clock_s + dt_s } else { 0.0 };
            *clock_s > longest_s
        };
        let moves = done.has(Button::Feed)
            || Motion::ALL
                .iter()
                .any(|&motion| done.asked(motion) != Way::Hold);
        let held_up = lasts(&mut self.held_up_s, doing == Doing::HeldUp, STOPS_S);
        if held_up && moves && is_anybody_inside(line) && !done.emergency_stop {
            found.push(Off::MovedWithPeople);
        }
        if let Some(stick) = seated(line) {
            let rises = |motion| match done.asked(motion) {
                Way::Out => 1.0,
                Way::Hold => 0.0,
                Way::Back => -1.0,
            };
            let ahead = rises(Motion::LiftNear) - rises(Motion::LiftFar);
            if ahead * line.tilt_rad(stick) > AHEAD_RAD * f64::abs(ahead) && ahead != 0.0 {
                found.push(Off::OneEnd);
            }
            let front = line.front_end(stick);
            if done.has(Button::AdvanceOn) && front.gap_m < NEAR_M {
                found.push(Off::HeldAdvance);
            }
        }
        let dead = done.isolated || done.emergency_stop;
        for motion in Motion::ALL {
            let now = line.motion(motion);
            let before = core::mem::replace(&mut self.motions[motion as usize], now);
            let stands = !dead
                && done.asked(motion) != Way::Hold
                && now == before
                && !matches!(motion, Motion::Turn | Motion::Advance);
            if lasts(&mut self.at_end_s[motion as usize], stands, AT_END_S) {
                found.push(Off::HeldAtEnd);
            }
        }
        let recovers = matches!(
            doing,
            Doing::Stop
                | Doing::ChockHung
                | Doing::Hold
                | Doing::Release
                | Doing::UnchockHung
                | Doing::Bar
        );
        let forces = recovers && done.has(Button::Feed);
        if lasts(&mut self.forced_s, forces, FORCED_S) {
            found.push(Off::ForcedFeed);
        }
        let at_work = shadow.asked().isolated
            && doing != Doing::HeldUp
            && !done.isolated
            && !shadow.all_idle(line);
        if lasts(&mut self.at_work_s, at_work, AT_WORK_S) {
            found.push(Off::LiveAtWork);
        }
        if self.waited {
            found.push(Off::Waited);
        }
        found
    }
}

/// Whether somebody is inside while a stick can move, or the spotter says stop.
fn is_anybody_inside(line: &Line) -> bool {
    line.people().spotter_says_stop() || line.watch().is_some_and(|watch| !watch.nobody_inside())
}

/// Whether a stick is on its way into the receiver, or rocks in it.
fn rocks(line: &Line) -> bool {
    line.present().any(|stick| {
        matches!(
            line.place(stick),
            StickPlace::Released | StickPlace::Received
        ) && line.speed_m_per_s(stick) >= STILL_M_PER_S
            && !is_going_down(line)
    })
}

/// The receiver is on its way down: what lies on it moves with it.
fn is_going_down(line: &Line) -> bool {
    !line.receiver_is_up()
}

fn seated(line: &Line) -> Option<StickId> {
    line.present()
        .find(|&stick| line.place(stick) == StickPlace::Seated)
}

/// How far a stick's axis is off the centreline's height, over the worse of the cradles, m.
fn off_height_m(line: &Line, stick: StickId) -> f64 {
    let centre_m = line.rig().spec().machine.centreline_m;
    let over = End::BOTH.map(|end| {
        let at = line.axis_at(stick, line.rig().cradle_z_m(end));
        (at.y_m - centre_m).abs()
    });
    over[0].max(over[1])
}

/// Whether an oval stick's long axis is not upright.
fn is_askew(line: &Line, stick: StickId) -> bool {
    line.world().pipe(stick).ovality >= OVAL.value
        && line.long_axis_off_rad(stick).abs() > LONG_AXIS_MAX.value
}
