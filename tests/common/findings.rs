//! What is found wrong with a run, tick by tick: the plain yardstick of the operators' tests.
#![allow(dead_code)]

use std::collections::BTreeSet;

use chockline::domain::envelope::Adequacy;
use chockline::domain::finding::FindingKind as Kind;
use chockline::domain::fusion::high_low_limit_m;
use chockline::domain::limits::{LIFT_TILT_MAX, PITCH_MAX, PITCH_MIN};
use chockline::domain::math::rad;
use chockline::domain::rig::End;
use chockline::domain::spec::{Coupler, Item, LineSpec, Motion};
use chockline::sim::controls::{Button, Controls};
use chockline::sim::line::{BarFrom, EventKind, Line, StickPlace};

const DT_S: f64 = 1.0 / 240.0;
/// Rails settle with their feet by so much.
const SETTLED_RAD: f64 = rad(0.1);
const HORN_BEFORE_S: f64 = 10.0;
const INSIDE_S: f64 = 2.5;
const UNHEEDED_S: f64 = 1.0;
const HELD_S: f64 = 2.0;
const LONG_AXIS_RAD: f64 = rad(5.0);
/// Less is touching.
const GAP_M: std::ops::RangeInclusive<f64> = 0.001..=0.050;
const DROPPED_M_PER_S: f64 = 1.0;
/// Speed at the first touch of a cradle's V from which a stick is seated hard: a third of the speed at
/// which it leaves it.
const HARD_SEAT_M_PER_S: f64 = 0.25;

pub struct Findings {
    pub kinds: BTreeSet<Kind>,
    /// Greatest of what is compared with a limit, for the messages.
    pub seat_m_per_s: f64,
    pub rough_m_per_s: f64,
    handling_time_s: f64,
    told: usize,
    horn_s: f64,
    fed: bool,
    inside_s: Vec<f64>,
    unheeded_s: f64,
    held_s: [f64; 7],
    motions: [f64; 7],
    cycles: u32,
    through: u32,
    released_s: Vec<Option<f64>>,
    seated: Vec<bool>,
    pub gap_m: f64,
}

impl Findings {
    pub fn new(line: &Line, handling_time_s: f64) -> Self {
        Self {
            kinds: BTreeSet::new(),
            seat_m_per_s: 0.0,
            rough_m_per_s: 0.0,
            handling_time_s,
            told: 0,
            horn_s: f64::NEG_INFINITY,
            fed: false,
            inside_s: vec![0.0; line.people().iter().len()],
            unheeded_s: 0.0,
            held_s: [0.0; 7],
            motions: [0.0; 7],
            cycles: 0,
            through: 0,
            released_s: vec![None; line.sticks().len()],
            seated: vec![false; line.sticks().len()],
            gap_m: f64::INFINITY,
        }
    }

    fn add(&mut self, kind: Kind, holds: bool) {
        if holds {
            self.kinds.insert(kind);
        }
    }

    pub fn observe(&mut self, line: &Line, controls: &Controls) {
        let now_s = line.time_s();
        if controls.has(Button::Horn) {
            self.horn_s = now_s;
        }
        let (gate_m, r) = (line.rig().gate_far_edge_m(), line.rig().setting_radius_m);
        let feeding = controls.has(Button::Feed) && !controls.isolated;
        if self.fed && !feeding {
            let over = line.present().any(|stick| {
                let along_m = line.along_m(stick);
                along_m < gate_m + 0.6 * r && along_m > gate_m - 0.6 * r
            });
            self.add(Kind::LetGoEarly, over);
        }
        self.fed = feeding;
        let can_move = line.stick_can_move();
        if let Some(watch) = line.watch() {
            for (i, person) in line.people().iter().enumerate() {
                let inside = can_move
                    && person.is_on_foot()
                    && chockline::domain::envelope::inside_either(
                        person.place(),
                        watch.zone(),
                        watch.envelope(),
                    );
                self.inside_s[i] = if inside { self.inside_s[i] + DT_S } else { 0.0 };
                if self.inside_s[i] > INSIDE_S {
                    self.kinds.insert(Kind::InZone);
                }
            }
        }
        let pressed = controls.held.iter().any(|button| button != Button::Horn);
        let against = line.people().spotter_says_stop() && pressed && !controls.isolated;
        self.unheeded_s = if against { self.unheeded_s + DT_S } else { 0.0 };
        self.add(Kind::StopUnheeded, self.unheeded_s > UNHEEDED_S);
        for stick in line.present() {
            let in_cradle = End::BOTH.iter().any(|&end| line.is_in_cradle(end, stick));
            if in_cradle && !self.seated[stick.0] {
                self.seated[stick.0] = true;
                let speed_m_per_s = line.speed_m_per_s(stick);
                self.seat_m_per_s = self.seat_m_per_s.max(speed_m_per_s);
                self.add(Kind::HardSeat, speed_m_per_s > HARD_SEAT_M_PER_S);
            }
            if line.place(stick) == StickPlace::Seated {
                let tilted = line.tilt_rad(stick).abs() > LIFT_TILT_MAX.value;
                self.add(Kind::LiftTilt, tilted);
            }
        }
        let on_rack_n: f64 = line
            .present()
            .filter(|&stick| {
                line.place(stick) == StickPlace::Held
                    && !line.loader().is_some_and(|l| l.keeps(stick))
            })
            .map(|stick| line.world().pipe(stick).weight_n())
            .sum();
        self.add(
            Kind::RackOverloaded,
            on_rack_n > line.rig().spec().rack.rated_load_n,
        );
        self.motions_held(line, controls);
        for event in &line.events()[self.told..] {
            self.event(line, &event.kind, line.time_at_s(event.tick));
        }
        self.told = line.events().len();
    }

    fn motions_held(&mut self, line: &Line, controls: &Controls) {
        for (i, motion) in Motion::ALL.into_iter().enumerate() {
            let held = Button::of(motion)
                .iter()
                .any(|&button| controls.has(button))
                || (matches!(motion, Motion::LiftNear | Motion::LiftFar)
                    && (controls.has(Button::LiftBothUp) || controls.has(Button::LiftBothDown)));
            let at = match motion {
                Motion::Turn => f64::NAN,
                Motion::Advance => line
                    .present()
                    .find(|&s| line.place(s) == StickPlace::Seated)
                    .map_or(f64::NAN, |s| f64::from(line.stick(s).pose.translation.z)),
                _ => line.motion(motion),
            };
            let stands = (at - self.motions[i]).abs() < 1.0e-5;
            self.held_s[i] = if held && stands && !controls.isolated {
                self.held_s[i] + DT_S
            } else {
                0.0
            };
            self.motions[i] = at;
            if self.held_s[i] > HELD_S {
                self.kinds.insert(Kind::NeedlessMotion);
            }
        }
    }

    fn event(&mut self, line: &Line, kind: &EventKind, now_s: f64) {
        let spec = line.rig().spec();
        match *kind {
            EventKind::CycleBegan => {
                self.cycles += 1;
                let usual = PITCH_MIN.value - SETTLED_RAD..=PITCH_MAX.value + SETTLED_RAD;
                let outside = End::BOTH
                    .iter()
                    .any(|&end| !usual.contains(&line.pitch_rad(end)));
                self.add(Kind::PitchOutside, outside);
                let setting_m = spec.escapement.size_setting_m;
                let wrong = spec
                    .sticks
                    .iter()
                    .any(|s| (s.pipe.outside_diameter_m / setting_m - 1.0).abs() > 0.02);
                self.add(Kind::WrongSetting, wrong);
                let covers = line
                    .watch()
                    .is_none_or(|w| w.adequacy() == Adequacy::Covers);
                self.add(Kind::ZoneInadequate, !covers);
                let crossed = Motion::ALL.iter().any(|&m| spec.faults.motion(m).crossed);
                self.add(Kind::CrossedAccepted, crossed);
                self.add(Kind::FaultMissed, fault_missed(spec));
                let ready =
                    line.receiver_is_up() && line.receiver_is_empty() && cradles_empty(line);
                self.add(Kind::FedUnready, !ready);
                self.add(Kind::NoHorn, now_s - self.horn_s > HORN_BEFORE_S);
            }
            EventKind::PassedGate { stick, open, .. } => {
                self.through += 1;
                self.released_s[stick.0] = Some(now_s);
                self.add(Kind::DoubleFeed, !open || self.through > self.cycles.max(1));
            }
            EventKind::Struck { .. } => self.add(Kind::Struck, true),
            EventKind::Lost { .. } => self.add(Kind::RollOff, true),
            EventKind::FellFromForks { .. } => self.add(Kind::Dropped, true),
            EventKind::Landed { fall_m_per_s, .. } => {
                self.add(Kind::Dropped, fall_m_per_s > DROPPED_M_PER_S);
            }
            EventKind::UnderStick { .. } => self.add(Kind::UnderStick, true),
            EventKind::Barred { from, .. } => self.add(Kind::FromBelow, from == BarFrom::Below),
            EventKind::JackedUnderLoad { .. } => self.add(Kind::JackUnderLoad, true),
            EventKind::Unclamped { .. } => self.add(Kind::JointRushed, true),
            EventKind::SetDown { .. } => {
                self.add(Kind::LoadedUnchocked, !line.chocks().are_set());
            }
            EventKind::Clamped {
                stick,
                off_m,
                gap_m,
                long_axis_off_rad,
            } => {
                let pipe = line.world().pipe(stick);
                self.gap_m = self.gap_m.min(gap_m);
                self.add(Kind::HighLow, off_m > high_low_limit_m(pipe.wall_min_m));
                let off = pipe.ovality >= 0.01 && long_axis_off_rad.abs() > LONG_AXIS_RAD;
                self.add(Kind::LongAxisOff, off);
                self.add(Kind::GapOff, !GAP_M.contains(&gap_m));
                let late = self.released_s[stick.0]
                    .is_some_and(|from_s| now_s - from_s > self.handling_time_s);
                self.add(Kind::SlowCycle, late);
            }
            _ => {}
        }
        if let Some(speed) = line.loader().and_then(|loader| loader.row_struck_m_per_s()) {
            self.rough_m_per_s = self.rough_m_per_s.max(speed);
        }
    }

    pub fn end(&mut self, line: &Line, done: bool) {
        self.add(Kind::LeftLive, done && line.stick_can_move());
    }
}

fn cradles_empty(line: &Line) -> bool {
    !line
        .present()
        .any(|stick| matches!(line.place(stick), StickPlace::Seated | StickPlace::Received))
}

/// A fault that a look at the line, a gauge or a radio check shows.
pub fn fault_missed(spec: &LineSpec) -> bool {
    let faults = &spec.faults;
    let pads = [spec.rack.near_rail.foot, spec.rack.far_rail.foot];
    let columns = End::BOTH.map(|end| spec.cradles.column(end));
    End::BOTH.iter().any(|&end| {
        let rail = faults.rail(end);
        rail.gate_missing
            || rail.separator_missing
            || rail.chock_missing
            || faults.is_faulty(Item::Rail(end))
    }) || faults.is_faulty(Item::Rollers)
        || faults.is_faulty(Item::Radio)
        || Motion::ALL.iter().any(|&motion| {
            let seen = faults.motion(motion);
            seen.coupler != Coupler::Latched || seen.creep_m_per_s > 0.0
        })
        || pads.iter().any(|foot| !foot.padded)
        || columns
            .iter()
            .any(|c| !c.rack_foot.padded || !c.outer_foot.padded)
}
