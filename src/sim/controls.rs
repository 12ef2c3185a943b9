//! What an operator can do in one tick. Everything is hold-to-run.

use serde::{Deserialize, Serialize};

/// The state of the control station in one tick.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Controls {
    /// Feed: the escapement cycles once while held, and blocks on let-go.
    pub feed: bool,
    /// Raise the receiver.
    pub receiver_up: bool,
    /// Lower the receiver. Together with 'up' neither moves.
    pub receiver_down: bool,
    /// The latching emergency stop, as long as it is latched.
    pub emergency_stop: bool,
}

/// The controls from a tick on: a run's input is the list of its changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ControlChange {
    /// The first tick (counted from 1) made under these controls.
    pub tick: u64,
    pub controls: Controls,
}
