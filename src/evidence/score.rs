//! The score for people: line by line the act, its consequence and the right act; and how near the run
//! came to harm, also where nothing was found.

use crate::domain::finding::Severity;
use crate::judge::{
    Act, Finding, Fraction, Inquiry, Leading, Near, Score, Verdict, explain, time_s,
};
use crate::texts::{Message, Texts};
use crate::words;

/// The lines of a verdict; `inquiries` by the place of their finding.
pub fn score_lines(
    verdict: &Verdict,
    inquiries: &[(usize, Inquiry)],
    texts: &Texts,
) -> Vec<String> {
    let mut lines = vec![texts.say(&result(&verdict.score))];
    if verdict.findings.is_empty() {
        lines.push(format!("  {}", texts.say(&"score-no-findings".into())));
    }
    for cost in &verdict.score.lines {
        let Some(finding) = verdict.findings.get(cost.finding) else {
            continue;
        };
        let inquiry = inquiries.iter().find(|(of, _)| *of == cost.finding);
        lines.extend(finding_lines(
            finding,
            cost.points,
            inquiry.map(|(_, inquiry)| inquiry),
            texts,
        ));
    }
    lines.push(format!("\n{}", texts.say(&"leading-heading".into())));
    let leading = leading(&verdict.leading);
    let leading = leading.iter();
    lines.extend(leading.map(|line| format!("  {}", texts.say(&line.said))));
    lines
}

/// What a run came to.
pub fn result(score: &Score) -> Message {
    let id = match score {
        Score { passed: true, .. } => "score-passed",
        Score { critical: true, .. } => "score-failed-critical",
        Score {
            broken_off: true, ..
        } => "score-failed-broken-off",
        Score {
            goal_met: false, ..
        } => "score-failed-goal",
        _ => "score-failed-points",
    };
    let message = Message::new(id).measured("points", score.points, 0);
    if id == "score-failed-points" {
        message.measured("mark", score.pass_mark, 0)
    } else {
        message
    }
}

/// A severity in words.
pub fn severity(severity: Severity) -> Message {
    Message::new(match severity {
        Severity::Critical => "severity-critical",
        Severity::Major => "severity-major",
        Severity::Minor => "severity-minor",
    })
}

/// Something told about a finding, and the tick that it is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    pub said: Message,
    pub tick: Option<u64>,
}

impl Told {
    fn at(said: Message, tick: u64) -> Self {
        Self {
            said,
            tick: Some(tick),
        }
    }
}

impl From<Message> for Told {
    fn from(said: Message) -> Self {
        Self { said, tick: None }
    }
}

/// The first line about a finding: what it costs, when and where, its title.
pub fn finding_head(finding: &Finding, points: f64) -> Message {
    let head = |id: &'static str| {
        Message::new(id)
            .measured("points", points, 0)
            .measured("time", time_s(finding.tick), 1)
            .with("title", explain(finding.kind).title)
            .with("severity", severity(finding.kind.severity()))
    };
    match finding.at {
        Some([x_m, _, z_m]) => {
            head("score-line-at")
                .measured("x", x_m.into(), 1)
                .measured("z", z_m.into(), 1)
        }
        None => head("score-line"),
    }
}

/// What is told about a finding: act, consequence, why, right act, rule, and what an inquiry has found.
pub fn finding_told(finding: &Finding, inquiry: Option<&Inquiry>) -> Vec<Told> {
    let explained = explain(finding.kind);
    let fact = Message::new("line-fact").with("fact", finding.fact.clone());
    let mut told = vec![
        act("line-act", &finding.act),
        Told::at(fact, finding.tick),
        Message::new("line-why").with("why", explained.why).into(),
        Message::new("line-right")
            .with("right", explained.right)
            .into(),
        Message::new("line-rule")
            .with("rule", explained.rule)
            .into(),
    ];
    told.extend(
        inquiry
            .into_iter()
            .flat_map(|inquiry| found(finding, inquiry)),
    );
    told
}

fn finding_lines(
    finding: &Finding,
    points: f64,
    inquiry: Option<&Inquiry>,
    texts: &Texts,
) -> Vec<String> {
    let told = finding_told(finding, inquiry);
    let told = told
        .iter()
        .map(|line| format!("      {}", texts.say(&line.said)));
    [format!("  {}", texts.say(&finding_head(finding, points)))]
        .into_iter()
        .chain(told)
        .collect()
}

fn act(id: &'static str, act: &Act) -> Told {
    let said = Message::new(id)
        .with("act", act.said())
        .measured("time", time_s(act.tick), 1);
    Told::at(said, act.tick)
}

/// What an inquiry has found.
fn found(finding: &Finding, inquiry: &Inquiry) -> Vec<Told> {
    let mut lines: Vec<Told> = inquiry
        .causes
        .iter()
        .map(|cause| act("line-cause", cause))
        .collect();
    if lines.is_empty() {
        let none = Message::new("line-no-cause").with("tried", inquiry.tried);
        lines.push(none.into());
    }
    if inquiry.undecided > 0 {
        let left = Message::new("line-undecided").with("count", inquiry.undecided);
        lines.push(left.into());
    }
    lines.push(match inquiry.last_chance {
        Some(chance) => Told::at(
            Message::new("line-last-chance")
                .with("rescue", chance.rescue.said())
                .measured("time", time_s(chance.tick), 1)
                .measured("before", time_s(finding.tick - chance.tick), 1),
            chance.tick,
        ),
        None => Message::new("line-no-last-chance")
            .measured("window", inquiry.window_s, 0)
            .into(),
    });
    lines
}

/// How near a run came to harm.
pub fn leading(leading: &Leading) -> Vec<Told> {
    let in_all = Message::new("leading-line-of-fire").measured("time", leading.line_of_fire_s, 1);
    let mut lines: Vec<Told> = vec![in_all.into()];
    let near = |id: &'static str, near: &Near| {
        Message::new(id)
            .with("person", words::duty(near.duty))
            .with("stick", words::stick(near.stick))
            .measured("time", time_s(near.tick), 1)
    };
    if let Some(nearest) = &leading.nearest {
        let said = near("leading-nearest", nearest).measured("distance", nearest.distance_m, 1);
        lines.push(Told::at(said, nearest.tick));
    }
    if let Some((soonest, seconds)) = leading.soonest.as_ref().and_then(|n| Some((n, n.time_s?))) {
        let said = near("leading-soonest", soonest).measured("seconds", seconds, 1);
        lines.push(Told::at(said, soonest.tick));
    }
    let part = |id: &'static str, of: &Fraction| {
        let said = Message::new(id)
            .with("stick", words::stick(of.stick))
            .measured("speed", of.speed_m_per_s, 2)
            .measured("part", 100.0 * of.fraction, 0);
        Told::at(said, of.tick)
    };
    lines.extend(leading.entry.as_ref().map(|of| part("leading-entry", of)));
    lines.extend(leading.gate.as_ref().map(|of| part("leading-gate", of)));
    lines
}
