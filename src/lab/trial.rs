//! One trial: a row is loaded, one stick is fed, and the line is watched until what comes of it is
//! certain.

use super::file::Measure;
use crate::domain::math::GRAVITY_M_PER_S2;
use crate::domain::spec::{LineSpec, ZoneSpec};
use crate::evidence::{Figures, Outcome};
use crate::judge::over_speed_m_per_s;
use crate::operator::{Ending, Feeder, Operator};
use crate::sim::controls::Button;
use crate::sim::line::{EventKind, Line, Stage, StickPlace};
use crate::sim::world::StickId;
use crate::texts::Message;
use crate::words;

/// How long the row must lie still before it is certain that it stays, s.
const STILL_S: f64 = 0.1;
/// The same for a stick that hangs before an open gate, s.
const HANG_S: f64 = 0.5;
/// A stick with less energy than one that rolls at this part of the speed that takes it over the receiver's
/// stop has lost too much to leave it: what it loses it does not get back.
const STAYS: f64 = 0.7;
/// How long all lies still where it is watched to the end, s.
const LONG_S: f64 = 3.0;
/// Nothing that feeds a line takes longer from the press of feed, s.
const TIME_LIMIT_S: f64 = 60.0;
/// A row that rolls slowly is waited for; fed as it rolls, the separator comes up under a stick.
/// And feed is held as long as a stick may still come, which on a slope that hardly lets it start is long:
/// let go earlier, the gate comes up under it and throws it on, s.
const PATIENCE_S: f64 = TIME_LIMIT_S;
/// A row that has closed up (no gap in it wider than this, m, and none before the gate) and is slower than
/// this, m/s, for so long, s, has nothing left to come to the gate with.
const CLOSED_UP_M: f64 = 0.02;
const SLOW_M_PER_S: f64 = 0.03;
const SLOW_S: f64 = 0.1;
/// Nor does its lowest stick stand higher over the rails than the softness of contacts allows, m.
const ON_RAILS_M: f64 = 0.005;
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
    /// 0 where nothing came up against the gate.
    pub gate_energy: Option<f64>,
    pub yaw_deg: Option<f64>,
    pub seat_m_per_s: Option<f64>,
    pub run_out_m: Option<f64>,
    pub feed_s: Option<f64>,
    /// Length of the simulation, ticks.
    pub ticks: u64,
}

impl Trial {
    /// A measured number; none where there was nothing to measure.
    pub fn measured(&self, measure: Measure) -> Option<f64> {
        match measure {
            Measure::DoubleFeed | Measure::Hang | Measure::RollOff => None,
            Measure::Yaw => self.yaw_deg,
            Measure::GateEnergy => self.gate_energy,
            Measure::SeatSpeed => self.seat_m_per_s,
            Measure::RunOut => self.run_out_m,
            Measure::Time => self.feed_s,
        }
    }

    /// All of them, in the order of [`Measure::numbers`].
    pub fn numbers(&self) -> Vec<Option<f64>> {
        let numbers = Measure::numbers();
        numbers.map(|measure| self.measured(measure)).collect()
    }

    pub fn failed(why: Message) -> Self {
        Self {
            outcome: None,
            why: Some(why),
            gate_energy: None,
            yaw_deg: None,
            seat_m_per_s: None,
            run_out_m: None,
            feed_s: None,
            ticks: 0,
        }
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

/// A row that has been loaded and lies still, at the moment in which feed is pressed.
pub struct Settled {
    line: Line,
    feeder: Feeder,
}

impl Settled {
    /// Loads a line and waits until its row lies still. A fault of the simulation is told by whoever
    /// releases it.
    pub fn new(spec: &LineSpec) -> Self {
        let mut line = Line::build(&unattended(spec));
        let mut feeder = Feeder::patient(PATIENCE_S, PATIENCE_S);
        loop {
            let controls = feeder.controls(&line);
            if controls.has(Button::Feed) || line.fault().is_some() {
                return Self { line, feeder };
            }
            line.tick(&controls);
        }
    }

    /// One like it, whose contacts are from now on those of a specification that is otherwise the same
    /// line's.
    pub fn fork_with_contact_of(&self, spec: &LineSpec) -> Self {
        Self {
            line: self.line.fork_with_contact_of(&unattended(spec)),
            feeder: self.feeder.clone(),
        }
    }

    /// Feeds one stick. `follows` says whether a lost stick is followed until it lies.
    pub fn release(self, follows: bool, patience: Patience) -> Release {
        Release {
            watch: Watch::new(&self.line, patience, follows),
            line: self.line,
            feeder: self.feeder,
            follows,
        }
    }
}

/// A stick that is being fed, tick by tick.
pub struct Release {
    line: Line,
    feeder: Feeder,
    watch: Watch,
    follows: bool,
}

impl Release {
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

    /// What comes of it.
    pub fn finish(mut self) -> Trial {
        loop {
            if let Some(trial) = self.tick() {
                break trial;
            }
        }
    }
}

fn measured(line: &Line, outcome: Outcome, run_out_m: Option<f64>, ticks: u64) -> Trial {
    let figures = Figures::of(line);
    let blow = figures.hardest_blow.as_ref();
    Trial {
        outcome: Some(outcome),
        why: None,
        gate_energy: Some(blow.map_or(0.0, |blow| blow.energy_fraction)),
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
    /// When feed was pressed, s.
    began_s: f64,
    /// Since when the gate has been open, s.
    open_s: f64,
    /// Since when the sticks behind the gate have lain still, and everything, s.
    row_still_s: f64,
    all_still_s: f64,
    /// Since when the row has closed up and been slow, s.
    closed_up_s: f64,
}

impl Watch {
    fn new(line: &Line, patience: Patience, follows: bool) -> Self {
        Self {
            patience,
            follows,
            began_s: line.time_s(),
            open_s: line.time_s(),
            row_still_s: line.time_s(),
            all_still_s: line.time_s(),
            closed_up_s: line.time_s(),
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
        if line.stage() != Stage::Open {
            self.open_s = now_s;
        }
        if !has_closed_up(line) {
            self.closed_up_s = now_s;
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
        // Feed is held, and nothing comes; one that starts slowly is given the time to.
        let open_s = now_s - self.open_s;
        let hangs = line.stage() == Stage::Open && all_s.min(open_s) >= HANG_S;
        let row_stays = || {
            let is_empty = held(line).next().is_none();
            is_empty || closed && (row_s >= STILL_S || now_s - self.closed_up_s >= SLOW_S)
        };
        let over = if !fed && !hangs {
            false
        } else if early {
            let nothing_moves = (closed || line.is_stalled()) && all_s >= HANG_S;
            hangs || nothing_moves || has_settled(line) && row_stays()
        } else {
            all_s >= LONG_S
        };
        let late = now_s - self.began_s >= TIME_LIMIT_S;
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

fn held(line: &Line) -> impl Iterator<Item = StickId> + '_ {
    line.present()
        .filter(|&stick| line.place(stick) == StickPlace::Held)
}

/// Whether the row lies against the gate without gaps, slow and on the rails.
fn has_closed_up(line: &Line) -> bool {
    let rig = line.rig();
    let mut below: Option<StickId> = None;
    held(line).all(|stick| {
        let pipe = line.world().pipe(stick);
        let radius_m = pipe.radius_m();
        let state = line.stick(stick);
        let fastest = state.velocity.length() + state.spin.length() * radius_m as f32;
        let from_m = match below.replace(stick) {
            Some(below) => line.along_m(below) + line.world().pipe(below).radius_m(),
            None => {
                let under_axis_m = radius_m - rig.gate_height_m;
                let lean_m = (radius_m * radius_m - under_axis_m * under_axis_m)
                    .max(0.0)
                    .sqrt();
                rig.gate_corner_m + lean_m - radius_m
            }
        };
        let gap_m = line.along_m(stick) - radius_m - from_m;
        let lift_m = line.above_rails_m(stick) - pipe.oval().long_m;
        f64::from(fastest) < SLOW_M_PER_S && gap_m < CLOSED_UP_M && lift_m < ON_RAILS_M
    })
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

/// By its energy, not by its speed alone: one that just gets over the stop is slow on top of it.
fn stays(line: &Line, stick: StickId) -> bool {
    let (rig, pipe, state) = (line.rig(), line.world().pipe(stick), line.stick(stick));
    let roller = pipe.roller();
    let seat_m = rig.seat_height_of_m(roller.radius_m) - line.receiver_lowered_m();
    let rise_m = (line.plane_point(stick).y_m - seat_m).max(0.0);
    let surface = f64::from(state.spin.length()) * roller.radius_m;
    let speed = line.speed_m_per_s(stick);
    // Twice the energy to the mass, and of one that rolls at the speed that it stays with, m²/s².
    let has =
        speed * speed + roller.shape_factor * surface * surface + 2.0 * GRAVITY_M_PER_S2 * rise_m;
    over_speed_m_per_s(rig, roller).is_some_and(|over| {
        let stays = STAYS * over;
        has < (1.0 + roller.shape_factor) * stays * stays
    })
}
