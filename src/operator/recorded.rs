//! Recorded input: does again what was done.

use super::Operator;
use crate::sim::controls::{ControlChange, Controls, controls_at};
use crate::sim::line::Line;

/// Plays a list of control changes, and is done after its last tick.
#[derive(Clone, Debug)]
pub struct Recorded {
    changes: Vec<ControlChange>,
    last_tick: u64,
    tick: u64,
}

impl Recorded {
    /// `changes` in the order of their ticks, for a run of `ticks`.
    pub fn new(changes: Vec<ControlChange>, ticks: u64) -> Self {
        Self {
            changes,
            last_tick: ticks,
            tick: 0,
        }
    }
}

impl Operator for Recorded {
    fn controls(&mut self, line: &Line) -> Controls {
        self.tick = line.tick_count() + 1;
        controls_at(&self.changes, self.tick)
    }

    fn is_done(&self) -> bool {
        self.tick >= self.last_tick
    }
}
