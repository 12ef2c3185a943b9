//! The recording of a run: all that is needed to run it again, and hashes to prove that it is the
//! same.

use serde::{Deserialize, Serialize};

use super::outcome::Outcome;
use crate::sim::controls::{ControlChange, Controls};
use crate::sim::line::{Event, Line};

/// Version of the recording's form.
const FORMAT: u32 = 1;
/// Ticks between two hashes.
const HASH_EVERY_TICKS: u64 = 240;
/// Ticks between two sampled poses.
const POSE_EVERY_TICKS: u64 = 8;

/// A finished recording.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recording {
    pub format: u32,
    pub program: String,
    pub version: String,
    /// The scenario's own text.
    pub scenario: String,
    pub seed: u64,
    pub operator: String,
    /// Ticks in the run.
    pub ticks: u64,
    /// Every change of the controls.
    pub controls: Vec<ControlChange>,
    /// State hash after every whole second and at the end: tick and hash.
    pub hashes: Vec<(u64, u64)>,
    pub events: Vec<Event>,
    /// Sampled poses, for looking at: tick, then for each stick position (m) and rotation (x y z w).
    pub poses: Vec<(u64, Vec<[f32; 7]>)>,
    pub outcome: Outcome,
}

/// Makes a recording while a run goes on.
#[derive(Debug, Default)]
pub struct Recorder {
    controls: Vec<ControlChange>,
    hashes: Vec<(u64, u64)>,
    poses: Vec<(u64, Vec<[f32; 7]>)>,
}

impl Recorder {
    /// Takes a tick that has just been made under the given controls.
    pub fn observe(&mut self, line: &Line, controls: &Controls) {
        let tick = line.tick_count();
        if self.controls.last().map(|change| &change.controls) != Some(controls) {
            self.controls.push(ControlChange {
                tick,
                controls: *controls,
            });
        }
        if tick.is_multiple_of(HASH_EVERY_TICKS) {
            self.hashes.push((tick, line.hash()));
        }
        if tick.is_multiple_of(POSE_EVERY_TICKS) {
            let poses = line.sticks().map(|stick| {
                let pose = line.stick(stick).pose;
                let [x, y, z] = pose.translation.to_array();
                let [i, j, k, w] = pose.rotation.to_array();
                [x, y, z, i, j, k, w]
            });
            self.poses.push((tick, poses.collect()));
        }
    }

    /// The recording of the run that has ended.
    pub fn finish(
        mut self,
        line: &Line,
        scenario: &str,
        seed: u64,
        operator: &str,
        outcome: Outcome,
    ) -> Recording {
        let tick = line.tick_count();
        if self.hashes.last().is_none_or(|(last, _)| *last != tick) {
            self.hashes.push((tick, line.hash()));
        }
        Recording {
            format: FORMAT,
            program: env!("CARGO_PKG_NAME").to_owned(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            scenario: scenario.to_owned(),
            seed,
            operator: operator.to_owned(),
            ticks: tick,
            controls: self.controls,
            hashes: self.hashes,
            events: line.events().to_vec(),
            poses: self.poses,
            outcome,
        }
    }
}
