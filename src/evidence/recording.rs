//! The recording of a run: all that is needed to run it again, and hashes to prove that it is the
//! same.

use std::path::Path;

use serde::{Deserialize, Serialize};

use super::outcome::Outcome;
use crate::domain::set_out::SetOut;
use crate::domain::spec::LineSpec;
use crate::judge::{Log, Played, Verdict, judge, time_s};
use crate::scenario::{self, Scenario};
use crate::sim::line::Line;
use crate::texts::Message;
use crate::words;

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
    /// What was set before pipe moved.
    pub set_out: SetOut,
    /// Controls, events, samples: all that the run is judged by.
    pub log: Log,
    /// State hash after every whole second and at the end: tick and hash.
    pub hashes: Vec<(u64, u64)>,
    /// Sampled poses, for looking at: tick, then for each stick position (m) and rotation (x y z w).
    pub poses: Vec<(u64, Vec<[f32; 7]>)>,
    pub outcome: Outcome,
}

/// Makes a recording while a run goes on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Recorder {
    hashes: Vec<(u64, u64)>,
    poses: Vec<(u64, Vec<[f32; 7]>)>,
}

impl Recorder {
    /// Goes on with a recording from a tick, as if what came after had never been.
    pub fn back_to(recording: &Recording, tick: u64) -> Self {
        let mut recorder = Self {
            hashes: recording.hashes.clone(),
            poses: recording.poses.clone(),
        };
        // The end of a run has a hash of its own, whenever it comes.
        recorder
            .hashes
            .retain(|(at, _)| at.is_multiple_of(HASH_EVERY_TICKS));
        recorder.forget_after(tick);
        recorder
    }

    /// Forgets what was taken after a tick.
    pub fn forget_after(&mut self, tick: u64) {
        self.hashes.retain(|(at, _)| *at <= tick);
        self.poses.retain(|(at, _)| *at <= tick);
    }

    /// The hashes of a run that ends as a line stands.
    pub(super) fn hashes_to(mut self, line: &Line) -> Vec<(u64, u64)> {
        let tick = line.tick_count();
        if self.hashes.last().is_none_or(|(last, _)| *last != tick) {
            self.hashes.push((tick, line.hash()));
        }
        self.hashes
    }

    /// Takes a tick that has just been made.
    pub fn observe(&mut self, line: &Line) {
        let tick = line.tick_count();
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
        self,
        played: &Played,
        scenario: &str,
        seed: u64,
        operator: &str,
        outcome: Outcome,
    ) -> Recording {
        Recording {
            format: FORMAT,
            program: env!("CARGO_PKG_NAME").to_owned(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            scenario: scenario.to_owned(),
            seed,
            operator: operator.to_owned(),
            set_out: played.set_out.clone(),
            log: played.log.clone(),
            poses: self.poses.clone(),
            hashes: self.hashes_to(&played.line),
            outcome,
        }
    }
}

/// Why a recording is not scored.
#[derive(Debug)]
pub enum RecordingError {
    Unreadable(std::io::Error),
    NotARecording(serde_json::Error),
    /// Of this format, which this program does not read.
    OtherFormat(u32),
    Scenario(Message),
    SetOut(Message),
    /// Its log does not fit its line.
    Log,
}

impl RecordingError {
    /// What is wrong, and what to do.
    pub fn message(&self) -> Message {
        match self {
            Self::Unreadable(error) => {
                Message::new("recording-unreadable").with("error", error.to_string())
            }
            Self::NotARecording(error) => {
                Message::new("recording-none").with("error", error.to_string())
            }
            Self::OtherFormat(format) => Message::new("recording-other-format")
                .with("format", format.to_string())
                .with("known", FORMAT.to_string()),
            Self::Scenario(fault) => {
                Message::new("recording-scenario").with("fault", fault.clone())
            }
            Self::SetOut(fault) => Message::new("recording-set-out").with("fault", fault.clone()),
            Self::Log => Message::new("recording-log"),
        }
    }
}

impl Recording {
    /// Reads a recording.
    ///
    /// # Errors
    /// Where the file cannot be read or is no recording of this format.
    pub fn load(path: &Path) -> Result<Self, RecordingError> {
        let recording: Self =
            serde_json::from_slice(&std::fs::read(path).map_err(RecordingError::Unreadable)?)
                .map_err(RecordingError::NotARecording)?;
        if recording.format == FORMAT {
            Ok(recording)
        } else {
            Err(RecordingError::OtherFormat(recording.format))
        }
    }

    /// Its scenario, and the line as it was run.
    ///
    /// # Errors
    /// Where its scenario, its set-out or its log is not sound.
    pub fn as_run(&self) -> Result<(Scenario, LineSpec), RecordingError> {
        let loaded = scenario::parse("recording", &self.scenario).map_err(|faults| {
            let first = faults.first().map(|fault| fault.what.clone());
            RecordingError::Scenario(first.unwrap_or_else(|| Message::new("recording-log")))
        })?;
        let scenario = loaded.scenario;
        let spec = self
            .set_out
            .applied(&scenario.line_for(self.seed), scenario.set_out_open)
            .map_err(|fault| RecordingError::SetOut(words::set_out_fault(&fault)))?;
        // No run goes on beyond its scenario's time.
        let too_long = time_s(self.log.ticks) > scenario.time_limit_s + 1.0;
        if too_long || !self.log.fits(&spec) {
            return Err(RecordingError::Log);
        }
        Ok((scenario, spec))
    }

    /// Judges it anew, by what is in it alone.
    ///
    /// # Errors
    /// Where its scenario, its set-out or its log is not sound.
    pub fn judged(&self) -> Result<(Scenario, Verdict), RecordingError> {
        let (scenario, spec) = self.as_run()?;
        let verdict = judge(&scenario, &spec, &self.log);
        Ok((scenario, verdict))
    }
}
