//! A run from set-out to verdict.

use super::finding::Finding;
use super::log::{Log, Logger};
use super::rerun::{Kept, Rerun};
use super::{Inquiry, Verdict, judge};
use crate::domain::finding::{FindingKind, Severity};
use crate::domain::set_out::{SetOut, SetOutFault};
use crate::domain::spec::LineSpec;
use crate::operator::{Ending, Operator, run};
use crate::scenario::Scenario;
use crate::sim::controls::Controls;
use crate::sim::line::Line;
use crate::sim::world::SimFault;

/// A run that has come to its end, and what it is worth.
pub struct Played {
    pub set_out: SetOut,
    /// The line as it was run.
    pub spec: LineSpec,
    /// As it stands at the end.
    pub line: Line,
    pub ending: Ending,
    pub log: Log,
    pub verdict: Verdict,
    pub kept: Kept,
}

/// Why there is no result.
#[derive(Clone, Debug, PartialEq)]
pub enum NoResult {
    /// The line cannot be set out so.
    SetOut(SetOutFault),
    /// The simulation itself failed.
    Fault(SimFault),
}

/// Lets an operator set a scenario's line out and drive it to its end; `watch` sees every tick.
///
/// # Errors
/// Where the line cannot be set out as the operator wants it, or the simulation itself fails.
pub fn play(
    scenario: &Scenario,
    seed: u64,
    operator: &mut dyn Operator,
    mut watch: impl FnMut(&Line, &Controls),
) -> Result<Played, NoResult> {
    let as_found = scenario.line_for(seed);
    let open = scenario.set_out_open;
    let set_out = operator.set_out(&as_found, open);
    let spec = set_out.applied(&as_found, open).map_err(NoResult::SetOut)?;
    let mut line = Line::build(&spec);
    let (mut logger, mut kept) = (Logger::default(), Kept::default());
    let ending = run(
        &mut line,
        operator,
        scenario.time_limit_s,
        |line, controls| {
            logger.observe(line, controls);
            kept.observe(line, &logger);
            watch(line, controls);
        },
    )
    .map_err(NoResult::Fault)?;
    let log = logger.finish(&line, ending);
    Ok(Played {
        verdict: judge(scenario, &spec, &log),
        set_out,
        spec,
        line,
        ending,
        log,
        kept,
    })
}

impl Played {
    /// The run, to be run again.
    pub fn rerun<'a>(&'a self, scenario: &'a Scenario) -> Rerun<'a> {
        Rerun {
            scenario,
            line: &self.spec,
            log: &self.log,
            kept: &self.kept,
        }
    }

    /// Findings that came of acts, by their place: the first of every grave kind that has causes beyond
    /// the act that the rule names.
    pub fn worth_inquiry(&self) -> Vec<usize> {
        let mut known: Vec<FindingKind> = Vec::new();
        let mut places = Vec::new();
        for (i, finding) in self.verdict.findings.iter().enumerate() {
            if is_worth_inquiry(finding) && !known.contains(&finding.kind) {
                known.push(finding.kind);
                places.push(i);
            }
        }
        places
    }

    /// Inquires into a finding, by its place.
    pub fn inquire(&self, scenario: &Scenario, place: usize) -> Option<Inquiry> {
        let finding = self.verdict.findings.get(place)?;
        Some(self.rerun(scenario).inquire(finding))
    }

    /// Inquires into all that is worth it. By the place of the finding.
    pub fn inquiries(&self, scenario: &Scenario) -> Vec<(usize, Inquiry)> {
        let places = self.worth_inquiry().into_iter();
        places
            .filter_map(|place| Some((place, self.inquire(scenario, place)?)))
            .collect()
    }
}

/// Whether a finding is what came of acts, and not an act itself.
fn is_worth_inquiry(finding: &Finding) -> bool {
    use FindingKind as K;
    finding.kind.severity() == Severity::Critical && finding.kind != K::FromBelow
        || matches!(
            finding.kind,
            K::InZone | K::LiftTilt | K::HighLow | K::HardSeat
        )
}
