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
    lines.extend(leading.iter().map(|line| format!("  {}", texts.say(line))));
    lines
}

fn result(score: &Score) -> Message {
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

fn finding_lines(
    finding: &Finding,
    points: f64,
    inquiry: Option<&Inquiry>,
    texts: &Texts,
) -> Vec<String> {
    let explained = explain(finding.kind);
    let head = |id: &'static str| {
        Message::new(id)
            .measured("points", points, 0)
            .measured("time", time_s(finding.tick), 1)
            .with("title", explained.title.clone())
            .with("severity", severity(finding.kind.severity()))
    };
    let head = match finding.at {
        Some([x_m, _, z_m]) => {
            head("score-line-at")
                .measured("x", x_m.into(), 1)
                .measured("z", z_m.into(), 1)
        }
        None => head("score-line"),
    };
    let mut told = vec![
        act("line-act", &finding.act),
        Message::new("line-fact").with("fact", finding.fact.clone()),
        Message::new("line-why").with("why", explained.why),
        Message::new("line-right").with("right", explained.right),
        Message::new("line-rule").with("rule", explained.rule),
    ];
    told.extend(
        inquiry
            .into_iter()
            .flat_map(|inquiry| found(finding, inquiry)),
    );
    let told = told.iter().map(|line| format!("      {}", texts.say(line)));
    [format!("  {}", texts.say(&head))]
        .into_iter()
        .chain(told)
        .collect()
}

fn act(id: &'static str, act: &Act) -> Message {
    Message::new(id)
        .with("act", act.said())
        .measured("time", time_s(act.tick), 1)
}

/// What an inquiry has found.
fn found(finding: &Finding, inquiry: &Inquiry) -> Vec<Message> {
    let mut lines: Vec<Message> = inquiry
        .causes
        .iter()
        .map(|cause| act("line-cause", cause))
        .collect();
    if lines.is_empty() {
        lines.push(Message::new("line-no-cause").with("tried", inquiry.tried));
    }
    if inquiry.undecided > 0 {
        lines.push(Message::new("line-undecided").with("count", inquiry.undecided));
    }
    lines.push(match inquiry.last_chance {
        Some(chance) => Message::new("line-last-chance")
            .with("rescue", chance.rescue.said())
            .measured("time", time_s(chance.tick), 1)
            .measured("before", time_s(finding.tick - chance.tick), 1),
        None => Message::new("line-no-last-chance").measured("window", inquiry.window_s, 0),
    });
    lines
}

fn leading(leading: &Leading) -> Vec<Message> {
    let mut lines =
        vec![Message::new("leading-line-of-fire").measured("time", leading.line_of_fire_s, 1)];
    let near = |id: &'static str, near: &Near| {
        Message::new(id)
            .with("person", words::duty(near.duty))
            .with("stick", words::stick(near.stick))
            .measured("time", time_s(near.tick), 1)
    };
    if let Some(nearest) = &leading.nearest {
        lines.push(near("leading-nearest", nearest).measured("distance", nearest.distance_m, 1));
    }
    if let Some((soonest, seconds)) = leading.soonest.as_ref().and_then(|n| Some((n, n.time_s?))) {
        lines.push(near("leading-soonest", soonest).measured("seconds", seconds, 1));
    }
    let part = |id: &'static str, of: &Fraction| {
        Message::new(id)
            .with("stick", words::stick(of.stick))
            .measured("speed", of.speed_m_per_s, 2)
            .measured("part", 100.0 * of.fraction, 0)
    };
    lines.extend(leading.entry.as_ref().map(|of| part("leading-entry", of)));
    lines.extend(leading.gate.as_ref().map(|of| part("leading-gate", of)));
    lines
}
