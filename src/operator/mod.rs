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
pub trait Operator {
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
}

/// How long everything must lie still before a run ends, s.
const REST_S: f64 = 1.0;

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
    let mut rest_since_s = line.time_s();
    while line.time_s() < time_limit_s {
        let controls = operator.controls(line);
        line.tick(&controls);
        if let Some(fault) = line.fault() {
            return Err(fault);
        }
        watch(line, &controls);
        if !(operator.is_done() && line.is_at_rest()) {
            rest_since_s = line.time_s();
        } else if line.time_s() - rest_since_s >= REST_S {
            return Ok(Ending::AtRest);
        }
    }
    Ok(Ending::TimeLimit)
}
