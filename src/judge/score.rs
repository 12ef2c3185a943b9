//! The score: 100 points, less what every finding costs.

use serde::Serialize;

use super::finding::Finding;
use super::log::Log;
use crate::domain::finding::Severity;
use crate::operator::Ending;
use crate::scenario::{Goal, Scenario};
use crate::sim::line::{EventKind, StickPlace};

/// Points of a run without a finding.
const FULL: f64 = 100.0;

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Score {
    pub points: f64,
    pub pass_mark: f64,
    /// What was to be done has been done.
    pub goal_met: bool,
    /// There is a critical finding.
    pub critical: bool,
    /// The run was broken off before its end.
    #[serde(skip_serializing_if = "core::ops::Not::not")]
    pub broken_off: bool,
    /// The goal is met, there is no critical finding, the points reach the mark, and the run was not
    /// broken off.
    pub passed: bool,
    /// What each finding costs, in the order of the findings.
    pub lines: Vec<ScoreLine>,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ScoreLine {
    /// Which of the findings.
    pub finding: usize,
    pub points: f64,
}

impl Score {
    pub(super) fn of(scenario: &Scenario, log: &Log, findings: &[Finding]) -> Self {
        let costs = findings.iter().map(|f| scenario.scoring.points(f.kind));
        let lines: Vec<ScoreLine> = costs
            .enumerate()
            .map(|(finding, points)| ScoreLine { finding, points })
            .collect();
        let lost: f64 = lines.iter().map(|line| line.points).sum();
        let points = (FULL - lost).max(0.0);
        let pass_mark = scenario.scoring.pass_mark;
        let goal_met = is_met(scenario.goal, log);
        let critical = findings
            .iter()
            .any(|finding| finding.kind.severity() == Severity::Critical);
        let broken_off = log.ending == Some(Ending::BrokenOff);
        Self {
            points,
            pass_mark,
            goal_met,
            critical,
            broken_off,
            passed: goal_met && !critical && !broken_off && points >= pass_mark,
            lines,
        }
    }
}

/// Whether what was to be done has been done.
fn is_met(goal: Goal, log: &Log) -> bool {
    let mut places = log.places.iter();
    match goal {
        Goal::Joined => places.all(|place| *place == StickPlace::Joined),
        Goal::OneStick => {
            let on_the_line = |place: &&StickPlace| {
                matches!(
                    place,
                    StickPlace::Received
                        | StickPlace::Seated
                        | StickPlace::Clamped
                        | StickPlace::Joined
                )
            };
            places.clone().any(|place| on_the_line(&place))
                && places.all(|place| !matches!(place, StickPlace::Released | StickPlace::Lost))
        }
        Goal::LeftOnRack => !log
            .events
            .iter()
            .any(|noted| matches!(noted.event.kind, EventKind::PassedGate { .. })),
    }
}
