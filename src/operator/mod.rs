//! Who drives the line. An operator sees what a person at the control station could see and hands in
//! controls, tick by tick; it changes nothing else.

mod feeder;
mod recorded;
mod roster;
mod worker;

pub use feeder::Feeder;
pub use recorded::Recorded;
pub use roster::{Member, ROSTER, member};
pub use worker::{Doing, Frees, Habits, LetsGo, Shadow, Worker};

use crate::domain::set_out::SetOut;
use crate::domain::spec::LineSpec;
use crate::sim::controls::Controls;
use crate::sim::line::Line;
use crate::sim::world::SimFault;

/// Somebody or something at the control station.
pub trait Operator: Send + Sync {
    /// What they set right on the line as found, before pipe moves; `open` says whether the rack is
    /// still empty.
    fn set_out(&self, _as_found: &LineSpec, _open: bool) -> SetOut {
        SetOut::default()
    }

    /// The controls for the next tick.
    fn controls(&mut self, line: &Line) -> Controls;

    /// Whether the job is done as far as the operator is concerned.
    fn is_done(&self) -> bool;
}

/// How a run came to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Ending {
    /// The operator was done and everything had come to rest.
    AtRest,
    /// The scenario's time was over.
    TimeLimit,
    /// Something that fails the run had happened, and what followed from it had been seen.
    Critical,
    /// The run was broken off.
    BrokenOff,
}

/// How long everything must lie still before a run ends, s.
const REST_S: f64 = 1.0;

/// Tells when a run is over: whoever drives is done and everything has lain still for a while, or the
/// scenario's time is over.
#[derive(Clone, Debug)]
pub struct EndWatch {
    time_limit_s: f64,
    /// Since when all has been done and still, s.
    since_s: f64,
}

impl EndWatch {
    pub fn new(line: &Line, time_limit_s: f64) -> Self {
        Self {
            time_limit_s,
            since_s: line.time_s(),
        }
    }

    /// Takes a tick that has just been made; `done` says whether whoever drives is.
    pub fn observe(&mut self, line: &Line, done: bool) -> Option<Ending> {
        let now_s = line.time_s();
        if !(done && line.is_at_rest()) {
            self.since_s = now_s;
        } else if now_s - self.since_s >= REST_S {
            return Some(Ending::AtRest);
        }
        (now_s >= self.time_limit_s).then_some(Ending::TimeLimit)
    }
}

/// Lets an operator drive a line to the end of the run; `watch` sees every tick and its controls.
///
/// # Errors
/// A [`SimFault`] where the simulation itself failed: then there is no result.
pub fn run(
    line: &mut Line,
    operator: &mut dyn Operator,
    time_limit_s: f64,
    mut watch: impl FnMut(&Line, &Controls),
) -> Result<Ending, SimFault> {
    let mut end = EndWatch::new(line, time_limit_s);
    loop {
        let controls = operator.controls(line);
        line.tick(&controls);
        if let Some(fault) = line.fault() {
            return Err(fault);
        }
        watch(line, &controls);
        if let Some(ending) = end.observe(line, operator.is_done()) {
            return Ok(ending);
        }
    }
}
