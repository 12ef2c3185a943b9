//! What a recording's file is made of, in the order in which it comes.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::maker::Maker;
use super::poses::Moved;
use crate::domain::finding::FindingKind;
use crate::domain::set_out::SetOut;
use crate::evidence::Outcome;
use crate::judge::{Log, Near, Noted, Sample, Verdict, exposed_s, places};
use crate::operator::Ending;
use crate::sim::controls::ControlChange;
use crate::sim::line::{Line, StickPlace};

/// How a run is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Mode {
    /// A coach says what is next, and why.
    Guided,
    /// Help on request, read-outs, any moment again.
    Practice,
    /// Only what a real operator has; it counts.
    Assessed,
    /// Somebody else drives.
    Demonstration,
    /// The controls are learnt on a sound line; nothing is scored.
    WarmUp,
}

/// Pauses of an assessment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Breaks {
    pub count: u32,
    pub total_s: f64,
}

/// What a run begins with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Head {
    pub maker: Maker,
    /// By what the run is known in the records.
    pub id: String,
    /// When it began.
    pub at: Timestamp,
    /// The name of the scenario's file, without its ending.
    pub course: String,
    /// The scenario's own text.
    pub scenario: String,
    pub seed: u64,
    pub mode: Mode,
    /// Who drives: a member of the roster, or `trainee`.
    pub operator: String,
    /// Who is at the pendant, if they have said so.
    pub trainee: Option<String>,
    /// What was set before pipe moved.
    pub set_out: SetOut,
}

/// What a run was worth when it ended.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scored {
    pub passed: bool,
    /// Of 100.
    pub points: f64,
    /// What was found, and after which tick.
    pub findings: Vec<(FindingKind, u64)>,
}

impl From<&Verdict> for Scored {
    fn from(verdict: &Verdict) -> Self {
        let findings = verdict.findings.iter();
        Self {
            passed: verdict.score.passed,
            points: verdict.score.points,
            findings: findings
                .map(|finding| (finding.kind, finding.tick))
                .collect(),
        }
    }
}

/// What of a log is no list that grows.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Standing {
    pub nearest: Option<Near>,
    pub soonest: Option<Near>,
    pub exposed_s: Vec<f64>,
    pub places: Vec<StickPlace>,
}

impl Standing {
    pub fn of(line: &Line, log: &Log) -> Self {
        Self {
            exposed_s: exposed_s(line),
            places: places(line),
            ..Self::told(log)
        }
    }

    /// As a finished log has it.
    pub fn told(log: &Log) -> Self {
        Self {
            nearest: log.nearest,
            soonest: log.soonest,
            exposed_s: log.exposed_s.clone(),
            places: log.places.clone(),
        }
    }

    pub fn put_into(&self, log: &mut Log) {
        log.nearest = self.nearest;
        log.soonest = self.soonest;
        log.exposed_s.clone_from(&self.exposed_s);
        log.places.clone_from(&self.places);
    }
}

/// The state after a tick: its hash, and the digests of the bodies that have changed since the last
/// time, by their places.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Marked {
    pub tick: u64,
    pub hash: u64,
    pub digests: Vec<(u16, u32)>,
}

/// What came in some ticks, at most a second.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Stretch {
    /// The last of them.
    pub to: u64,
    pub events: Vec<Noted>,
    pub samples: Vec<Sample>,
    pub marks: Vec<Marked>,
    pub poses: Vec<Moved>,
    /// Where it has changed.
    pub standing: Option<Standing>,
    /// More was known when it was written: how things stood after it was not.
    pub more: bool,
}

/// How much there is of all that grows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lengths {
    pub changes: usize,
    pub events: usize,
    pub samples: usize,
    pub marks: usize,
    pub poses: usize,
}

/// How a run ended.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct End {
    pub ending: Option<Ending>,
    pub outcome: Outcome,
    pub scored: Scored,
}

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Chunk {
    /// The first one.
    Head(Box<Head>),
    /// Written before the tick is made.
    Controls(ControlChange),
    Stretch(Stretch),
    /// The run was taken back to a tick: what came after has never been. So much of what was written
    /// is kept.
    Back {
        tick: u64,
        kept: Lengths,
        standing: Standing,
    },
    /// After this tick the trainee said that they were done.
    Done(u64),
    Breaks(Breaks),
    /// From here on it is made otherwise, or somebody else drives.
    Driver {
        mode: Mode,
        operator: String,
    },
    /// The last one of a run that came to its end.
    End(End),
}
