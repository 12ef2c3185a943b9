//! The recording of a run: all that is needed to run it again, to look at it, to score it, and to prove
//! that it is the same.
//!
//! | module | what it is |
//! |---|---|
//! | [`chunk`] | what a file is made of |
//! | [`frame`] | how it is packed and checked |
//! | [`progress`], [`mod@file`] | writing it while the run goes on |
//! | [`take`] | reading it, whole or cut short |
//! | [`poses`] | where the sticks were, for looking at |
//! | [`maker`] | which program made it |

mod chunk;
mod file;
mod frame;
mod maker;
mod poses;
mod progress;
mod take;

use std::fs::File;
use std::io::Read;
use std::path::Path;

pub use chunk::{Breaks, Head, Mode, Scored};
pub use file::{RecordingFile, part_of};
pub use maker::Maker;
pub use poses::{Pose, Poses};

use super::outcome::Outcome;
use super::output::{Output, OutputError};
use crate::domain::set_out::SetOut;
use crate::domain::spec::LineSpec;
use crate::judge::{Log, Played, Verdict, judge, time_s};
use crate::scenario::{self, Scenario};
use crate::sim::controls::ControlChange;
use crate::sim::line::Line;
use crate::texts::Message;
use crate::words;
pub(super) use chunk::Standing;
use chunk::{Chunk, End};
use frame::{FORMAT, Fault, Reader, Writer};
use jiff::Timestamp;
use progress::Progress;

/// How the name of a recording's file ends.
pub const ENDING: &str = "chock";
/// Ticks between two hashes.
pub(super) const HASH_EVERY_TICKS: u64 = 240;
/// Ticks between two sampled poses.
const POSE_EVERY_TICKS: u64 = 8;
/// No recording is larger than this, bytes: some days.
const LARGEST: usize = 64 * 1024 * 1024;

/// A recording. Of a complete one [`Recording::checksum`] is there, of one that was cut short
/// [`Recording::cut_short`].
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    pub head: Head,
    /// Controls, events, samples: all that the run is judged by.
    pub log: Log,
    pub states: States,
    pub breaks: Breaks,
    /// After this tick the trainee said that they were done.
    pub done: Option<u64>,
    /// Of one that was cut short it is broken off, whatever had come of it.
    pub outcome: Outcome,
    /// What it was worth when it ended.
    pub scored: Option<Scored>,
    /// The check over the whole file that it was read from.
    pub checksum: Option<u64>,
    pub cut_short: Option<CutShort>,
}

/// What is known of the end of a recording that has none.
#[derive(Clone, Debug, PartialEq)]
pub struct CutShort {
    /// The last tick that is known to have begun.
    pub ticks: u64,
    /// Controls that were held after the end of the log.
    pub after: Vec<ControlChange>,
    /// Bytes at the end of the file that had not been wholly written.
    pub lost_bytes: usize,
    /// How things stood at the end of the log was written, too.
    pub standing_known: bool,
}

impl CutShort {
    /// That there is no more than to a tick.
    pub fn said(&self, ticks: u64) -> Message {
        Message::new("recording-cut-short")
            .measured("time", time_s(ticks), 2)
            .with("tick", ticks.to_string())
            .with("bytes", self.lost_bytes)
    }
}

/// The states of a run that were taken down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct States {
    /// State hash after every whole second and at the end: tick and hash.
    pub hashes: Vec<(u64, u64)>,
    /// With every hash a digest of every body, in the order of [`crate::sim::line::Body::all`].
    pub digests: Vec<Vec<u32>>,
    /// Thirty times a second, for looking at.
    pub poses: Vec<Poses>,
}

impl States {
    fn mark(&mut self, line: &Line) {
        self.hashes.push((line.tick_count(), line.hash()));
        self.digests.push(line.digests());
    }

    fn forget_after(&mut self, tick: u64) {
        self.hashes.retain(|(at, _)| *at <= tick);
        self.digests.truncate(self.hashes.len());
        self.poses.retain(|(at, _)| *at <= tick);
    }
}

/// Takes states down while a run goes on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Recorder(States);

impl Recorder {
    /// Goes on with a recording from a tick, as if what came after had never been.
    pub fn back_to(recording: &Recording, tick: u64) -> Self {
        let mut states = recording.states.clone();
        // The end of a run has a hash of its own, whenever it comes.
        if let Some((last, _)) = states.hashes.last().copied()
            && !last.is_multiple_of(HASH_EVERY_TICKS)
        {
            states.forget_after(last - 1);
            states.poses.clone_from(&recording.states.poses);
        }
        states.forget_after(tick);
        Self(states)
    }

    /// Forgets what was taken after a tick.
    pub fn forget_after(&mut self, tick: u64) {
        self.0.forget_after(tick);
    }

    pub(super) fn states(&self) -> &States {
        &self.0
    }

    /// The states of a run that ends as a line stands.
    pub(super) fn states_to(mut self, line: &Line) -> States {
        let tick = line.tick_count();
        let known = self.0.hashes.last();
        if known.is_none_or(|(last, _)| *last != tick) {
            self.0.mark(line);
        }
        self.0
    }

    /// Takes a tick that has just been made.
    pub fn observe(&mut self, line: &Line) {
        let tick = line.tick_count();
        if tick.is_multiple_of(HASH_EVERY_TICKS) {
            self.0.mark(line);
        }
        if tick.is_multiple_of(POSE_EVERY_TICKS) {
            self.0.poses.push(poses::of(line));
        }
    }

    /// The recording of the run that has ended.
    pub fn finish(self, played: &Played, head: Head, outcome: Outcome) -> Recording {
        Recording {
            head,
            log: played.log.clone(),
            states: self.states_to(&played.line),
            breaks: Breaks::default(),
            done: None,
            outcome,
            scored: Some(Scored::from(&played.verdict)),
            checksum: None,
            cut_short: None,
        }
    }
}

impl Head {
    /// Of a run that a member of the roster drives, of which nothing more is known.
    pub fn of(scenario: &str, seed: u64, operator: &str, set_out: &SetOut) -> Self {
        Self {
            maker: Maker::here(),
            id: String::new(),
            at: Timestamp::UNIX_EPOCH,
            course: String::new(),
            scenario: scenario.to_owned(),
            seed,
            mode: Mode::Demonstration,
            operator: operator.to_owned(),
            trainee: None,
            set_out: set_out.clone(),
        }
    }
}

/// Why a recording is not read, or not run again.
#[derive(Debug)]
pub enum RecordingError {
    Unreadable(std::io::Error),
    /// It is no recording of this program.
    NotARecording,
    /// Of this format, which this program does not read.
    OtherFormat(u16),
    /// Larger than any recording.
    TooLarge,
    /// Complete once, and changed or damaged since from this byte on.
    Damaged {
        at: usize,
    },
    /// What stands at this byte cannot be.
    Unsound {
        at: usize,
    },
    Scenario(Message),
    SetOut(Message),
    /// Its log does not fit its line.
    Log,
}

impl RecordingError {
    /// What is wrong, and what to do.
    pub fn message(&self) -> Message {
        let at_byte = |id, at: usize| Message::new(id).with("byte", (at + 1).to_string());
        match self {
            Self::Unreadable(error) => {
                Message::new("recording-unreadable").with("error", error.to_string())
            }
            Self::NotARecording => "recording-none".into(),
            Self::OtherFormat(format) => {
                let id = if *format > FORMAT {
                    "recording-newer-format"
                } else {
                    "recording-other-format"
                };
                Message::new(id)
                    .with("format", format.to_string())
                    .with("known", FORMAT.to_string())
            }
            Self::TooLarge => Message::new("recording-too-large")
                .with("most", (LARGEST / (1024 * 1024)).to_string()),
            Self::Damaged { at } => at_byte("recording-damaged", *at),
            Self::Unsound { at } => at_byte("recording-unsound", *at),
            Self::Scenario(fault) => {
                Message::new("recording-scenario").with("fault", fault.clone())
            }
            Self::SetOut(fault) => Message::new("recording-set-out").with("fault", fault.clone()),
            Self::Log => "recording-log".into(),
        }
    }
}

impl From<Fault> for RecordingError {
    fn from(fault: Fault) -> Self {
        match fault {
            Fault::Foreign => Self::NotARecording,
            Fault::OtherFormat(format) => Self::OtherFormat(format),
            Fault::Damaged { at } => Self::Damaged { at },
            Fault::Unsound { at } => Self::Unsound { at },
        }
    }
}

impl Recording {
    /// Reads a recording. One that was cut short is read as far as it was wholly written, and says so.
    ///
    /// # Errors
    /// Where the file cannot be read, is no recording of this format, or has been changed.
    pub fn load(path: &Path) -> Result<Self, RecordingError> {
        let file = File::open(path).map_err(RecordingError::Unreadable)?;
        Self::read(file)
    }

    /// Reads a recording from its beginning.
    ///
    /// # Errors
    /// As [`Recording::load`].
    pub fn read(from: impl Read) -> Result<Self, RecordingError> {
        let mut bytes = Vec::new();
        // One byte more than is allowed tells what is too large.
        from.take(LARGEST as u64 + 1)
            .read_to_end(&mut bytes)
            .map_err(RecordingError::Unreadable)?;
        if bytes.len() > LARGEST {
            return Err(RecordingError::TooLarge);
        }
        Ok(take::read(&bytes)?)
    }

    /// Whether a file begins as a recording does.
    pub fn is_one(path: &Path) -> bool {
        let mut beginning = [0; 8];
        let read = File::open(path).and_then(|mut file| file.read_exact(&mut beginning));
        read.is_ok() && Reader::is_one(&beginning)
    }

    /// The file of a recording of which nothing has been written yet.
    ///
    /// # Errors
    /// Where something in it has no form in a file.
    pub fn to_bytes(&self) -> Result<Vec<u8>, postcard::Error> {
        let mut bytes = Vec::new();
        let mut writer = Writer::begin(&mut bytes);
        let mut chunks = vec![Chunk::Head(Box::new(self.head.clone()))];
        Progress::default().put(
            &self.log,
            &self.states,
            Standing::told(&self.log),
            &mut |chunk| chunks.push(chunk),
        );
        chunks.extend(self.done.map(Chunk::Done));
        chunks.push(Chunk::Breaks(self.breaks));
        chunks.extend(self.end().map(Chunk::End));
        for chunk in &chunks {
            writer.put(chunk, &mut bytes)?;
        }
        Ok(bytes)
    }

    /// How it ended; none of one that was cut short.
    fn end(&self) -> Option<End> {
        Some(End {
            ending: self.log.ending,
            outcome: self.outcome,
            scored: self.scored.clone()?,
        })
    }

    /// Writes a recording of which nothing has been written yet, whole or not at all.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn write(&self, path: &Path) -> Result<(), OutputError> {
        let bytes = self.to_bytes().map_err(|error| OutputError::Unwritable {
            path: path.to_owned(),
            source: std::io::Error::other(error),
        })?;
        Output::open(path)?.write(&bytes)
    }

    /// Its scenario, and the line as it was run.
    ///
    /// # Errors
    /// Where its scenario, its set-out or its log is not sound.
    pub fn as_run(&self) -> Result<(Scenario, LineSpec), RecordingError> {
        let loaded = scenario::parse("recording", &self.head.scenario).map_err(|faults| {
            let first = faults.first().map(|fault| fault.what.clone());
            RecordingError::Scenario(first.unwrap_or_else(|| "recording-log".into()))
        })?;
        let scenario = loaded.scenario;
        let spec = self
            .head
            .set_out
            .applied(&scenario.line_for(self.head.seed), scenario.set_out_open)
            .map_err(|fault| RecordingError::SetOut(words::set_out_fault(&fault)))?;
        // No run goes on beyond its scenario's time.
        let too_long = time_s(self.log.ticks) > scenario.time_limit_s + 1.0;
        let sticks = spec.stick_count();
        let poses = &self.states.poses;
        let posed = poses.iter().all(|(_, poses)| poses.len() == sticks);
        if too_long || !posed || !self.log.fits(&spec) {
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

#[cfg(test)]
mod tests;
