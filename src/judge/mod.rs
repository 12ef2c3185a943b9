//! The judge: from the log of a run to findings, each with the act at fault, and to a score that
//! explains itself. What caused a finding, and until when it could have been avoided, is found out by
//! running the line again from before it.

mod act;
mod causes;
mod finding;
mod leading;
mod log;
mod play;
mod rerun;
mod rules;
mod score;

pub use act::{Act, Deed, Part};
pub use causes::{Inquiry, Instead, LastChance, Try};
pub use finding::{Explained, Finding, Measured, explain};
pub use leading::{Fraction, Leading, gate_fraction, mean_pitch_rad, over_speed_m_per_s};
pub use log::{Log, Logger, Near, Noted, Sample, exposed_s, places};
pub use play::{NoResult, Played, play};
pub use rerun::{Kept, Rerun, Rescue};
pub use score::{Score, ScoreLine};

use crate::domain::finding::{FindingKind, Severity};
use crate::domain::limits;
use crate::domain::math::deg;
use crate::domain::rig::Rig;
use crate::domain::spec::LineSpec;
use crate::scenario::Scenario;
use crate::sim::world::DT_S;

/// So many ticks, s.
pub fn time_s(ticks: u64) -> f64 {
    ticks as f64 * f64::from(DT_S)
}

/// What is judged: a scenario, the line as it was run, and the log.
pub(crate) struct Case<'a> {
    scenario: &'a Scenario,
    rig: Rig,
    log: &'a Log,
}

impl<'a> Case<'a> {
    fn new(scenario: &'a Scenario, line: &LineSpec, log: &'a Log) -> Self {
        Self {
            scenario,
            rig: Rig::new(line),
            log,
        }
    }

    /// The line as it was run.
    fn spec(&self) -> &LineSpec {
        self.rig.spec()
    }
}

/// What a run came to.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Verdict {
    /// In the order of their ticks.
    pub findings: Vec<Finding>,
    pub leading: Leading,
    pub score: Score,
}

/// Judges a run of a scenario on a line, by its log alone.
pub fn judge(scenario: &Scenario, line: &LineSpec, log: &Log) -> Verdict {
    let case = Case::new(scenario, line, log);
    let findings = rules::findings(&case);
    Verdict {
        score: Score::of(scenario, log, &findings),
        leading: Leading::of(&case),
        findings,
    }
}

/// Whether something in a log fails the run whatever else is done.
pub fn has_failed(scenario: &Scenario, line: &LineSpec, log: &Log) -> bool {
    let findings = rules::findings(&Case::new(scenario, line, log));
    let mut kinds = findings.iter().map(|finding| finding.kind);
    kinds.any(|kind| kind.severity() == Severity::Critical)
}

/// The limits that the texts of a kind name: gap, figure, digits.
fn limit_of(kind: FindingKind) -> Vec<(&'static str, f64, usize)> {
    use FindingKind as K;
    match kind {
        K::InZone | K::StopUnheeded => vec![("limit", limits::PERCEPTION_RESPONSE.value, 1)],
        K::Dropped => vec![("limit", limits::DROPPED.value, 1)],
        K::PitchOutside => vec![
            ("low", deg(limits::PITCH_MIN.value), 0),
            ("high", deg(limits::PITCH_MAX.value), 0),
            ("never", deg(limits::PITCH_NEVER_ABOVE.value), 0),
        ],
        K::LiftTilt => vec![("limit", deg(limits::LIFT_TILT_MAX.value), 1)],
        K::HighLow => vec![("limit", 100.0 * limits::HIGH_LOW_MAX.value, 0)],
        K::LongAxisOff => vec![
            ("limit", deg(limits::LONG_AXIS_MAX.value), 0),
            ("oval", 100.0 * limits::OVAL.value, 0),
        ],
        K::GapOff => vec![
            ("least", 1e3 * limits::GAP_MIN.value, 0),
            ("limit", 1e3 * limits::GAP_MAX.value, 0),
        ],
        K::HardSeat => vec![
            ("limit", limits::SEAT_MAX.value, 2),
            ("entry", 100.0 * limits::ENTRY_MAX.value, 0),
        ],
        K::RoughLanding => vec![("limit", limits::LANDING_MAX.value, 1)],
        K::NoHorn => vec![("limit", limits::HORN_BEFORE.value, 0)],
        K::NeedlessMotion => vec![("limit", limits::IN_VAIN_MAX.value, 0)],
        _ => Vec::new(),
    }
}
