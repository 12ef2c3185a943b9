//! The score line by line: the act, its consequence, the right act, in this order; then how it came about.

use super::chart::{class, sign};
use super::study::Study;
use crate::domain::finding::Severity;
use crate::evidence::severity;
use crate::html::{Markup, html};
use crate::judge::{Act, Finding, Inquiry, ScoreLine, explain, time_s};
use crate::texts::{Message, Texts};

/// A finding with what it costs, and what was found out about it.
struct Shown<'a> {
    number: usize,
    points: f64,
    finding: &'a Finding,
    inquiry: Option<&'a Inquiry>,
}

/// The score as a table, and every finding explained.
pub fn findings(study: &Study, texts: &Texts) -> Markup {
    let say = |id: &'static str| texts.say(&id.into());
    let shown: Vec<Shown> = study
        .verdict
        .score
        .lines
        .iter()
        .enumerate()
        .filter_map(|(i, line)| Shown::of(study, i + 1, line))
        .collect();
    html! {
        h2 { (say("paper-score")) }
        @if shown.is_empty() { p { (say("paper-no-findings")) } }
        (score(study, &shown, texts))
        @for one in &shown { (one.explained(texts)) }
    }
}

fn score(study: &Study, shown: &[Shown], texts: &Texts) -> Markup {
    let say = |id: &'static str| texts.say(&id.into());
    let score = &study.verdict.score;
    html! {
        table.wide.short {
            thead {
                tr {
                    th.figure scope="col" { (say("paper-number")) }
                    th.figure scope="col" { (say("paper-time")) }
                    th scope="col" { (say("paper-found")) }
                    th.figure scope="col" { (say("paper-points")) }
                }
            }
            tbody {
                tr {
                    td.figure {}
                    td.figure { (at(0, texts)) }
                    th scope="row" { (say("paper-begins")) }
                    td.figure { (points(100.0)) }
                }
                @for one in shown {
                    tr {
                        td.figure { (one.number) }
                        td.figure { (at(one.finding.tick, texts)) }
                        th scope="row" {
                            (texts.say(&explain(one.finding.kind).title)) " "
                            (how_grave(one.finding.kind.severity(), texts))
                        }
                        td.figure { (points(-one.points)) }
                    }
                }
            }
            tfoot {
                tr {
                    td.figure {}
                    td.figure {}
                    th scope="row" {
                        (texts.say(
                            &Message::new("paper-comes-to").measured("mark", score.pass_mark, 0)
                        ))
                    }
                    td.figure { (points(score.points)) }
                }
            }
        }
    }
}

/// A word that stands out.
pub fn badge(class: &str, word: &str) -> Markup {
    html! { span class=(format!("badge {class}")) { (word) } }
}

fn how_grave(of: Severity, texts: &Texts) -> Markup {
    badge(class(of), &texts.say(&severity(of)))
}

fn at(tick: u64, texts: &Texts) -> String {
    texts.say(&Message::new("paper-at").measured("time", time_s(tick), 1))
}

/// Points with their sign; a true minus, as wide as the figures.
fn points(points: f64) -> String {
    let sign = if points < 0.0 { "\u{2212}" } else { "" };
    format!("{sign}{:.0}", points.abs())
}

impl<'a> Shown<'a> {
    fn of(study: &'a Study, number: usize, line: &ScoreLine) -> Option<Self> {
        let inquiries = study.inquiries().iter();
        let mut inquiries = inquiries.filter(|(of, _)| *of == line.finding);
        Some(Self {
            number,
            points: line.points,
            finding: study.verdict.findings.get(line.finding)?,
            inquiry: inquiries.next().map(|(_, inquiry)| inquiry),
        })
    }

    fn explained(&self, texts: &Texts) -> Markup {
        let say = |id: &'static str| texts.say(&id.into());
        let finding = self.finding;
        let explained = explain(finding.kind);
        let severity = finding.kind.severity();
        html! {
            article.finding {
                h3 {
                    (sign(severity)) " " (self.number) ". " (texts.say(&explained.title)) " "
                    (how_grave(severity, texts)) " "
                    (texts.say(&Message::new("paper-costs").with("points", points(-self.points))))
                }
                dl {
                    dt { (say("paper-act")) }
                    dd { (act(&finding.act, texts)) }
                    dt { (say("paper-consequence")) }
                    dd {
                        (texts.say(&self.consequence())) " " (texts.say(&explained.why))
                    }
                    dt { (say("paper-right")) }
                    dd { (texts.say(&explained.right)) }
                    dt { (say("paper-chain")) }
                    dd { (self.chain(texts)) }
                    dt { (say("paper-rule")) }
                    dd.weak { (texts.say(&explained.rule)) }
                }
            }
        }
    }

    /// What happened, when and where.
    fn consequence(&self) -> Message {
        let said = Message::new(match self.finding.at {
            Some(_) => "paper-fact-at",
            None => "paper-fact",
        });
        let said = said.with("fact", self.finding.fact.clone()).measured(
            "time",
            time_s(self.finding.tick),
            1,
        );
        match self.finding.at {
            Some([x_m, _, z_m]) => said
                .measured("x", x_m.into(), 1)
                .measured("z", z_m.into(), 1),
            None => said,
        }
    }

    /// From the acts without which it does not come to itself.
    fn chain(&self, texts: &Texts) -> Markup {
        let say = |message: Message| texts.say(&message);
        let Some(inquiry) = self.inquiry else {
            return html! { p { (texts.say(&"paper-not-inquired".into())) } };
        };
        let title = explain(self.finding.kind).title;
        html! {
            ol.chain {
                @for cause in &inquiry.causes {
                    li {
                        (act(cause, texts)) " "
                        span.weak { (texts.say(&"paper-caused".into())) }
                    }
                }
                @if inquiry.causes.is_empty() {
                    li { (say(Message::new("paper-no-cause").with("tried", inquiry.tried))) }
                }
                @match inquiry.last_chance {
                    Some(chance) => {
                        li {
                            (say(
                                Message::new("paper-last-chance")
                                    .with("rescue", chance.rescue.said())
                                    .measured("time", time_s(chance.tick), 1)
                                    .measured(
                                        "before",
                                        time_s(self.finding.tick.saturating_sub(chance.tick)),
                                        1
                                    )
                            ))
                        }
                    }
                    None => {
                        li {
                            (say(
                                Message::new("paper-no-last-chance")
                                    .measured("window", inquiry.window_s, 0)
                            ))
                        }
                    }
                }
                li {
                    (say(
                        Message::new("paper-came")
                            .with("title", title)
                            .measured("time", time_s(self.finding.tick), 1)
                    ))
                }
            }
            @if inquiry.undecided > 0 {
                p.weak { (say(Message::new("paper-undecided").with("count", inquiry.undecided))) }
            }
        }
    }
}

/// What was done, and when.
fn act(act: &Act, texts: &Texts) -> String {
    let said = if act.tick == 0 {
        Message::new("paper-act-before")
    } else {
        Message::new("paper-act-at").measured("time", time_s(act.tick), 1)
    };
    texts.say(&said.with("act", act.said()))
}
