//! The model of the debrief: the events on a timeline, the findings with the lines of the score, and
//! plots on the same time axis. Pure; the screen only draws it.

mod plots;
mod timeline;
mod trace;

pub use plots::{LimitLine, Plot, PlotKind, Series, plots};
pub use timeline::{Cluster, Mark, MarkKind, clusters};
pub use trace::{Tracer, Traces, trace};

use crate::domain::finding::Severity;
use crate::domain::spec::PersonSpec;
use crate::evidence::{Told, finding_head, finding_told, leading, result, severity};
use crate::judge::{Inquiry, Log, Verdict, explain};
use crate::texts::Message;

/// See the module's text.
#[derive(Clone, Debug, PartialEq)]
pub struct Debrief {
    /// What the run came to, in a line.
    pub result: Message,
    pub passed: bool,
    pub points: f64,
    /// Ticks in the run.
    pub ticks: u64,
    pub marks: Vec<Mark>,
    pub findings: Vec<FindingShown>,
    /// How near it came to harm.
    pub leading: Vec<Told>,
}

/// A finding as the right column shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingShown {
    /// Which of the verdict's findings.
    pub finding: usize,
    pub tick: u64,
    pub severity: Severity,
    pub severity_word: Message,
    pub title: Message,
    pub points: f64,
    /// The line of the score: points, time, title.
    pub head: Message,
    /// Act, consequence, why, right act, rule, causes: each with the tick it jumps to.
    pub lines: Vec<Told>,
}

impl Debrief {
    /// Of a run that is over, on a line that is described with these people; `inquiries` by the place of
    /// their finding.
    pub fn of(
        people: &[PersonSpec],
        log: &Log,
        verdict: &Verdict,
        inquiries: &[(usize, Inquiry)],
    ) -> Self {
        let findings = verdict.score.lines.iter().filter_map(|cost| {
            let finding = verdict.findings.get(cost.finding)?;
            let inquiry = inquiries.iter().find(|(of, _)| *of == cost.finding);
            let grave = finding.kind.severity();
            Some(FindingShown {
                finding: cost.finding,
                tick: finding.tick,
                severity: grave,
                severity_word: severity(grave),
                title: explain(finding.kind).title,
                points: cost.points,
                head: finding_head(finding, cost.points),
                lines: finding_told(finding, inquiry.map(|(_, inquiry)| inquiry)),
            })
        });
        Self {
            result: result(&verdict.score),
            passed: verdict.score.passed,
            points: verdict.score.points,
            ticks: log.ticks,
            marks: timeline::marks(people, log, verdict),
            findings: findings.collect(),
            leading: leading(&verdict.leading),
        }
    }
}
