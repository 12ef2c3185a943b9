//! What the plots show, over the whole run: sampled while it goes on, or by running it again from its
//! controls. Both give the same.

use crate::domain::math::deg;
use crate::domain::rig::End;
use crate::domain::spec::LineSpec;
use crate::judge::{Log, gate_fraction};
use crate::sim::line::{Line, Stage, StickPlace};
use crate::sim::world::StickId;

/// Ticks between two samples.
const EVERY_TICKS: u64 = 8;
/// A fed stick's speed is shown from so far up from the gate's corner, in radii of the setting.
const AT_GATE_R: f64 = 1.5;

/// Everything at the same ticks; none where there is nothing to measure.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Traces {
    pub ticks: Vec<u64>,
    /// Pitch of the near and the far rail, deg.
    pub pitch_deg: [Vec<Option<f32>>; 2],
    /// Lengthwise tilt of the stick in both cradles, deg.
    pub tilt_deg: Vec<Option<f32>>,
    /// How far the near and the far lift are raised, m.
    pub raised_m: [Vec<Option<f32>>; 2],
    /// Energy of the stick that comes down to the closed gate, in hundredths of what jumps it.
    pub gate_energy_pct: Vec<Option<f32>>,
    /// Speed of the lowest stick at the gate, or on its way from there to the receiver, m/s.
    pub gate_m_per_s: Vec<Option<f32>>,
    /// Distance of whoever is nearest from pipe and machinery, and from such that moves, m.
    pub nearest_m: Vec<Option<f32>>,
    pub nearest_moving_m: Vec<Option<f32>>,
}

/// Samples a line while it is run.
#[derive(Clone, Debug, Default)]
pub struct Tracer {
    traces: Traces,
}

impl Tracer {
    /// Takes a tick that has just been made.
    pub fn see(&mut self, line: &Line) {
        let tick = line.tick_count();
        if !tick.is_multiple_of(EVERY_TICKS) {
            return;
        }
        let traces = &mut self.traces;
        traces.ticks.push(tick);
        for (trace, end) in traces.pitch_deg.iter_mut().zip(End::BOTH) {
            trace.push(Some(deg(line.pitch_rad(end)) as f32));
        }
        for (trace, end) in traces.raised_m.iter_mut().zip(End::BOTH) {
            trace.push(Some(line.raised_m(end) as f32));
        }
        traces.tilt_deg.push(tilt_deg(line));
        traces.gate_energy_pct.push(gate_energy_pct(line));
        traces.gate_m_per_s.push(gate_m_per_s(line));
        let nearest = |of: fn(&crate::sim::line::Person) -> f64| {
            let on_foot = line.people().iter().filter(|person| person.is_on_foot());
            let least_m = on_foot.map(of).fold(f64::INFINITY, f64::min);
            least_m.is_finite().then_some(least_m as f32)
        };
        let (any_m, moving_m) = (
            nearest(|person| person.nearest_m()),
            nearest(|person| person.nearest_moving_m()),
        );
        traces.nearest_m.push(any_m);
        traces.nearest_moving_m.push(moving_m);
    }

    /// Forgets what came after a tick: the run is gone on with from there.
    pub fn rewind(&mut self, tick: u64) {
        let traces = &mut self.traces;
        let kept = traces.ticks.partition_point(|at| *at <= tick);
        traces.ticks.truncate(kept);
        let [near, far] = &mut traces.pitch_deg;
        let [near_m, far_m] = &mut traces.raised_m;
        for trace in [
            near,
            far,
            near_m,
            far_m,
            &mut traces.tilt_deg,
            &mut traces.gate_energy_pct,
            &mut traces.gate_m_per_s,
            &mut traces.nearest_m,
            &mut traces.nearest_moving_m,
        ] {
            trace.truncate(kept);
        }
    }

    pub fn traces(&self) -> &Traces {
        &self.traces
    }
}

/// Runs a line again under the controls of a log, and traces it. `spec` is the line as it was run.
pub fn trace(spec: &LineSpec, log: &Log) -> Traces {
    let mut line = Line::build(spec);
    let mut tracer = Tracer::default();
    while line.tick_count() < log.ticks && line.fault().is_none() {
        line.tick(&log.controls_at(line.tick_count() + 1));
        tracer.see(&line);
    }
    tracer.traces
}

fn tilt_deg(line: &Line) -> Option<f32> {
    let mut present = line.present();
    let lifted = present.find(|&stick| {
        line.place(stick) == StickPlace::Seated
            && End::BOTH.iter().all(|&end| line.is_in_cradle(end, stick))
    })?;
    Some(deg(line.tilt_rad(lifted)) as f32)
}

/// None while the gate is open, or nothing comes down to it.
fn gate_energy_pct(line: &Line) -> Option<f32> {
    if line.stage() != Stage::Blocked {
        return None;
    }
    let stick = lowest(line, |stick| is_at_gate(line, stick))?;
    let roller = line.world().pipe(stick).roller();
    let fraction = gate_fraction(line.rig(), roller, line.speed_m_per_s(stick));
    Some(100.0 * fraction as f32)
}

fn gate_m_per_s(line: &Line) -> Option<f32> {
    let on_way = |stick| line.place(stick) == StickPlace::Released;
    let stick = lowest(line, |stick| is_at_gate(line, stick) || on_way(stick))?;
    Some(line.speed_m_per_s(stick) as f32)
}

/// On the rack, not with the loader, and near the gate.
fn is_at_gate(line: &Line, stick: StickId) -> bool {
    let rig = line.rig();
    let brought = line.loader().is_some_and(|loader| loader.keeps(stick));
    line.place(stick) == StickPlace::Held
        && !brought
        && line.along_m(stick) < rig.gate_corner_m + AT_GATE_R * rig.setting_radius_m
}

fn lowest(line: &Line, is_meant: impl Fn(StickId) -> bool) -> Option<StickId> {
    let meant = line.present().filter(|&stick| is_meant(stick));
    meant.min_by(|&one, &other| line.along_m(one).total_cmp(&line.along_m(other)))
}
