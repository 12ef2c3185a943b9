//! One trial: a row is loaded, one stick is fed, and the line is watched until what comes of it is
//! certain.

use crate::domain::spec::{LineSpec, ZoneSpec};
use crate::evidence::{Figures, Outcome};
use crate::judge::over_speed_m_per_s;
use crate::operator::{Ending, Feeder, Operator};
use crate::sim::line::{EventKind, Line, Stage, StickPlace};
use crate::sim::world::StickId;
use crate::texts::Message;
use crate::words;

/// How long the row must lie still before it is certain that it stays, s.
const STILL_S: f64 = 0.1;
/// The same for a stick that hangs before an open gate, s.
const HANG_S: f64 = 0.5;
/// A stick that is slower than this part of the speed that takes it over the receiver's stop has lost
/// too much to leave it: what it loses it does not get back.
const STAYS: f64 = 0.7;
/// Nothing that feeds a line takes longer, s.
const TIME_LIMIT_S: f64 = 60.0;
/// A lost stick is followed over the ground for so long, s, and so far, m; one that is still under way
/// then is told to have come at least so far.
const RUN_OUT_S: f64 = 60.0;
const RUN_OUT_M: f64 = 60.0;

/// How long a trial goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Patience {
    /// Until its outcome is certain.
    UntilCertain,
    /// Until everything has lain still for long: for checking what was taken for certain.
    ToTheEnd,
}

/// What came of a trial.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// None where the trial failed; `why` says so.
    pub outcome: Option<Outcome>,
    pub why: Option<Message>,
    pub gate_energy: f64,
    pub yaw_deg: Option<f64>,
    pub seat_m_per_s: Option<f64>,
    pub run_out_m: Option<f64>,
    pub feed_s: Option<f64>,
    /// Length of the simulation, ticks.
    pub ticks: u64,
}

impl Trial {
    pub fn failed(why: Message) -> Self {
        Self {
            outcome: None,
            why: Some(why),
            gate_energy: 0.0,
            yaw_deg: None,
            seat_m_per_s: None,
            run_out_m: None,
            feed_s: None,
            ticks: 0,
        }
    }
}

impl Trial {
    /// What was measured, in the order of [`Measure::ALL`](super::Measure::ALL), of those that are numbers.
    pub fn measured(&self) -> Vec<Option<f64>> {
        vec![
            self.yaw_deg,
            Some(self.gate_energy).filter(|_| self.outcome.is_some()),
            self.seat_m_per_s,
            self.run_out_m,
            self.feed_s,
        ]
    }
}

/// A line on which only pipe moves: nobody stands there and no zone is kept.
fn unattended(spec: &LineSpec) -> LineSpec {
    LineSpec {
        people: Vec::new(),
        zone: ZoneSpec::default(),
        ..spec.clone()
    }
}

/// Loads a line, feeds one stick and sees what comes of it. `follows` says whether a lost stick is
/// followed until it lies.
pub fn release(spec: &LineSpec, follows: bool, patience: Patience) -> Trial {
    let mut release = Release::new(spec, follows, patience);
    loop {
        if let Some(trial) = release.tick() {
            break trial;
        }
    }
}

/// A trial tick by tick, for whoever watches it.
pub struct Release {
    line: Line,
    feeder: Feeder,
    watch: Watch,
    follows: bool,
}

impl Release {
    pub fn new(spec: &LineSpec, follows: bool, patience: Patience) -> Self {
        Self {
            line: Line::build(&unattended(spec)),
            feeder: Feeder::default(),
            watch: Watch::new(patience, follows),
            follows,
        }
    }

    pub fn line(&self) -> &Line {
        &self.line
    }

    /// One tick. What has come of it, as soon as that is certain; from then on the line may run on,
    /// which changes nothing of it.
    pub fn tick(&mut self) -> Option<Trial> {
        let line = &mut self.line;
        let controls = self.feeder.controls(line);
        line.tick(&controls);
        if let Some(fault) = line.fault() {
            return Some(Trial {
                ticks: line.tick_count(),
                ..Trial::failed(words::sim_fault(fault))
            });
        }
        let outcome = self.watch.observe(line, self.feeder.is_done())?;
        let ticks = line.tick_count();
        let run_out_m = self.follows.then(|| run_out_m(line)).flatten();
        Some(measured(line, outcome, run_out_m, ticks))
    }
}

fn measured(line: &Line, outcome: Outcome, run_out_m: Option<f64>, ticks: u64) -> Trial {
    let figures = Figures::of(line);
    let blow = figures.hardest_blow.as_ref();
    Trial {
        outcome: Some(outcome),
        why: None,
        gate_energy: blow.map_or(0.0, |blow| blow.energy_fraction),
        yaw_deg: figures.reception.as_ref().map(|at| at.yaw_deg),
        seat_m_per_s: figures.reception.as_ref().map(|at| at.speed_m_per_s),
        run_out_m,
        feed_s: figures.feed_time_s,
        ticks,
    }
}

/// Follows a lost stick until it lies: how far across from the line's centre, m.
fn run_out_m(line: &mut Line) -> Option<f64> {
    let lost = line
        .sticks()
        .find(|&stick| line.place(stick) == StickPlace::Lost)?;
    let end_s = line.time_s() + RUN_OUT_S;
    let still = |line: &Line| line.speed_m_per_s(lost) < 0.005;
    let mut since_s = line.time_s();
    while line.time_s() < end_s && line.fault().is_none() {
        line.tick(&Default::default());
        let far = line.plane_point(lost).x_m.abs();
        if !still(line) {
            since_s = line.time_s();
        }
        if line.time_s() - since_s > 0.5 || far > RUN_OUT_M {
            break;
        }
    }
    Some(line.plane_point(lost).x_m.abs())
}

/// Watches for the moment from which the outcome is certain.
struct Watch {
    patience: Patience,
    /// A lost stick is to be seen, so that not even a double feed is the end.
    follows: bool,
    /// Since when the sticks behind the gate have lain still, and everything, s.
    row_still_s: f64,
    all_still_s: f64,
}

impl Watch {
    fn new(patience: Patience, follows: bool) -> Self {
        Self {
            patience,
            follows,
            row_still_s: 0.0,
            all_still_s: 0.0,
        }
    }

    fn observe(&mut self, line: &Line, fed: bool) -> Option<Outcome> {
        let now_s = line.time_s();
        let (row_still, all_still) = still(line);
        if !row_still {
            self.row_still_s = now_s;
        }
        if !all_still {
            self.all_still_s = now_s;
        }
        let mut cycles = 0;
        let (mut through, mut over_closed) = (0, false);
        for event in line.events() {
            match event.kind {
                EventKind::PassedGate { open, .. } => {
                    through += 1;
                    over_closed |= !open;
                }
                EventKind::CycleBegan { .. } => cycles += 1,
                _ => {}
            }
        }
        let early = self.patience == Patience::UntilCertain;
        // Nothing that comes later is graver.
        if early && !self.follows && (through > cycles.max(1) || over_closed) {
            return Some(Outcome::DoubleFeed);
        }
        let (row_s, all_s) = (now_s - self.row_still_s, now_s - self.all_still_s);
        let closed = matches!(line.stage(), Stage::Blocked | Stage::Done);
        let hangs = early && line.stage() == Stage::Open && all_s >= HANG_S;
        let over = if !fed && !hangs {
            false
        } else if early {
            hangs
                || closed && row_s >= STILL_S && (has_settled(line) || all_s >= HANG_S)
                || line.is_stalled() && all_s >= HANG_S
        } else {
            all_s >= 3.0
        };
        let late = now_s >= TIME_LIMIT_S;
        let ending = if late {
            Ending::TimeLimit
        } else {
            Ending::AtRest
        };
        (over || late).then(|| Outcome::of(line, ending, &Figures::of(line)))
    }
}

/// Whether the sticks behind the gate lie still, and whether all do.
fn still(line: &Line) -> (bool, bool) {
    let (mut row, mut all) = (true, true);
    for stick in line.present() {
        let state = line.stick(stick);
        let still = state.velocity.length() < 2.0e-3 && state.spin.length() < 2.0e-3;
        all &= still;
        row &= still || line.place(stick) != StickPlace::Held;
    }
    (row, all)
}

/// Whether every stick that has gone through lies in the receiver for good, or is lost.
fn has_settled(line: &Line) -> bool {
    let mut gone = 0;
    let settled = line.present().all(|stick| match line.place(stick) {
        StickPlace::Held => true,
        StickPlace::Received => {
            gone += 1;
            stays(line, stick)
        }
        StickPlace::Lost => {
            gone += 1;
            true
        }
        _ => false,
    });
    settled && gone > 0
}

fn stays(line: &Line, stick: StickId) -> bool {
    let roller = line.world().pipe(stick).roller();
    let over = over_speed_m_per_s(line.rig(), roller);
    over.is_some_and(|over| line.speed_m_per_s(stick) < STAYS * over)
}
