//! The page: what a run came to, why, what was to be seen, and who signs for it.

use jiff::Timestamp;

use super::chart::{plot, sign, timeline};
use super::findings::{badge, findings};
use super::moments::{Pictures, Taken};
use super::plan::plan;
use super::settings::{Standing, rows};
use super::study::Study;
use crate::domain::finding::Severity;
use crate::evidence::{asked, ended, figures, leading, result};
use crate::html::{Markup, Page, Sheet, data_url, html};
use crate::judge::time_s;
use crate::operator::member;
use crate::session::brief::facts;
use crate::session::debrief::{MarkKind, plots};
use crate::texts::{Message, Texts};

/// What kind of page it is.
const KIND: &str = "report";
/// How many digits of the hash stand at the foot of every sheet of paper.
const SHORT_HASH: usize = 16;

/// What is not in the recording itself.
#[derive(Clone, Copy)]
pub struct Paper<'a> {
    /// The name of the recording's file.
    pub file: &'a str,
    /// The SHA-256 of its bytes, in hexadecimal digits.
    pub sha256: &'a str,
    pub made: Timestamp,
    pub pictures: &'a Pictures,
}

/// Whether a file that begins so is a report.
pub fn is_report(head: &[u8]) -> bool {
    Page::is_of(KIND, head)
}

/// The report of a run as the text of an HTML file.
pub fn page(study: &Study, paper: &Paper, texts: &Texts) -> String {
    let scenario = study.scenario.texts(texts.lang()).name;
    let title = texts.say(&Message::new("paper-title").with("scenario", scenario.as_str()));
    let head = texts.say(
        &Message::new("paper-sheet-head")
            .with("title", title.as_str())
            .with("who", who(study))
            .with("result", result(&study.verdict.score)),
    );
    let short = paper.sha256.get(..SHORT_HASH).unwrap_or(paper.sha256);
    let foot = texts.say(
        &Message::new("paper-sheet-foot")
            .with("caution", Message::new("caution"))
            .with("command", verify(paper.file))
            .with("hash", short),
    );
    let body = html! {
        header {
            h1 { (title) }
            (came_to(study, texts))
        }
        main {
            (summary(study, paper, texts))
            (findings(study, texts))
            (pictures(paper.pictures, texts))
            (course(study, texts))
            (curves(study, texts))
            (seen_from_above(study, texts))
            (set_out(study, texts))
            (figures_and_assumptions(study, texts))
            (signatures(study, texts))
            (verification(study, paper, texts))
        }
        footer.foot { p { strong { (texts.say(&"caution".into())) } } }
    };
    let page = Page {
        lang: texts.lang(),
        title: &title,
        kind: KIND,
        sheet: Some(Sheet {
            head: &head,
            foot: &foot,
        }),
        body,
    };
    page.text()
}

/// Who drove: a member of the roster, or whoever had the pendant.
fn who(study: &Study) -> Message {
    let name = study.driver();
    match member(name) {
        Some(member) => Message::new("paper-who-simulated")
            .with("name", name)
            .with("does", member.does()),
        None => Message::new("paper-who").with("name", name),
    }
}

/// What verifies the recording.
fn verify(file: &str) -> Message {
    Message::new("paper-command").with("file", file)
}

fn came_to(study: &Study, texts: &Texts) -> Markup {
    let outcome = study.recording.outcome;
    let passed = study.verdict.score.passed;
    let (class, word) = if passed {
        ("passed", "paper-passed")
    } else {
        ("failed", "paper-failed")
    };
    html! {
        div.result {
            p.verdict {
                (badge(class, &texts.say(&word.into()))) " " (texts.say(&outcome.headline()))
            }
            p { (texts.say(&result(&study.verdict.score))) "." }
            p { (texts.say(&outcome.meaning())) }
            @if let Some(cut) = &study.recording.cut_short {
                p { (texts.say(&cut.said(study.recording.log.ticks))) }
            }
        }
    }
}

/// A list of names and values.
fn list(facts: &[(String, String)]) -> Markup {
    html! {
        dl.facts {
            @for (name, value) in facts { dt { (name) } dd { (value) } }
        }
    }
}

fn summary(study: &Study, paper: &Paper, texts: &Texts) -> Markup {
    let recording = &study.recording;
    let say = |message: Message| texts.say(&message);
    let ticks = recording.log.ticks;
    let lasted = match recording.log.ending {
        Some(ending) => Message::new("paper-lasted-ended")
            .measured("time", time_s(ticks), 1)
            .with("ending", ended(ending)),
        None => Message::new("paper-lasted").measured("time", time_s(ticks), 1),
    };
    let [program, version] = study.recorded_by();
    let recorded = Message::new("paper-program")
        .with("program", program)
        .with("version", version);
    let made = Message::new("paper-program-at")
        .with("program", env!("CARGO_PKG_NAME"))
        .with("version", env!("CARGO_PKG_VERSION"))
        .with("at", paper.made.strftime("%Y-%m-%d %H:%M UTC").to_string());
    let scenario = study.scenario.texts(texts.lang());
    let mut rows: Vec<(String, String)> = vec![
        (say("paper-scenario".into()), scenario.name),
        (say("paper-by".into()), say(who(study))),
        (say("paper-task".into()), say(asked(study.scenario.goal))),
        (say("paper-seed".into()), study.seed().to_string()),
        (say("paper-duration".into()), say(lasted)),
    ];
    rows.extend(
        facts(&study.spec)
            .into_iter()
            .map(|fact| (say(fact.name), say(fact.value))),
    );
    rows.push((say("paper-recorded-by".into()), say(recorded)));
    rows.push((say("paper-made-by".into()), say(made)));
    html! {
        h2 { (say("paper-summary".into())) }
        (list(&rows))
        @if let Some(again) = &study.again {
            @if !again.report.reasons.is_empty() {
                h3 { (say("paper-reasons".into())) }
                ul {
                    @for reason in &again.report.reasons { li { (say(reason.message())) } }
                }
            }
        }
    }
}

fn pictures(pictures: &Pictures, texts: &Texts) -> Markup {
    html! {
        h2 { (texts.say(&"paper-pictures".into())) }
        @match pictures {
            Pictures::Without(why) => { p { (texts.say(why)) } }
            Pictures::Taken(taken) => {
                @for (moment, taken) in taken {
                    @let heading = texts.say(
                        &Message::new("paper-moment")
                            .with("heading", moment.heading.clone())
                            .measured("time", time_s(moment.tick), 1)
                    );
                    figure {
                        h3 { (heading) }
                        (shown(taken, &heading, texts))
                        figcaption {
                            @for caption in &moment.captions { (texts.say(caption)) " " }
                        }
                    }
                }
            }
        }
    }
}

fn shown(taken: &Taken, heading: &str, texts: &Texts) -> Markup {
    let alt = Message::new("paper-picture-shows").with("heading", heading);
    let [width, height] = taken.size;
    html! {
        img src=(data_url(taken.media_type, &taken.bytes)) width=(width) height=(height)
            alt=(texts.say(&alt));
    }
}

fn course(study: &Study, texts: &Texts) -> Markup {
    let say = |id: &'static str| texts.say(&id.into());
    let debrief = study.debrief();
    html! {
        h2 { (say("paper-timeline")) }
        figure {
            (timeline(&debrief, texts))
            figcaption {
                ul.legend {
                    @for severity in [Severity::Critical, Severity::Major, Severity::Minor] {
                        li {
                            (sign(severity)) " "
                            (texts.say(&crate::evidence::severity(severity)))
                        }
                    }
                }
            }
        }
        table.wide.dense {
            thead {
                tr {
                    th.figure scope="col" { (say("paper-time")) }
                    th scope="col" { (say("paper-kind")) }
                    th scope="col" { (say("paper-what")) }
                }
            }
            tbody {
                @for mark in &debrief.marks {
                    tr {
                        td.figure {
                            (texts.say(
                                &Message::new("paper-at").measured("time", time_s(mark.tick), 1)
                            ))
                        }
                        td {
                            (say(match mark.kind {
                                MarkKind::Act => "paper-kind-act",
                                MarkKind::Event => "paper-kind-event",
                                MarkKind::Finding(_) => "paper-kind-finding",
                            }))
                        }
                        th scope="row" {
                            @if let MarkKind::Finding(severity) = mark.kind {
                                (sign(severity)) " "
                            }
                            (texts.say(&mark.said))
                        }
                    }
                }
            }
        }
    }
}

fn curves(study: &Study, texts: &Texts) -> Markup {
    let debrief = study.debrief();
    html! {
        h2 { (texts.say(&"paper-curves".into())) }
        p.weak.lead { (texts.say(&"paper-curves-explained".into())) }
        @for each in plots(&study.traces, &study.spec) {
            @let (picture, said) = plot(&each, &debrief, texts);
            figure {
                h3 {
                    (texts.say(
                        &Message::new("paper-plot")
                            .with("title", each.title.clone())
                            .with("unit", each.unit)
                    ))
                }
                @if each.series.len() > 1 {
                    ul.legend {
                        @for (i, series) in each.series.iter().enumerate() {
                            li {
                                svg viewBox="0 0 32 14" aria-hidden="true" {
                                    path class=(if i == 0 { "first" } else { "second" })
                                        d="M1 7L31 7" {}
                                }
                                " " (texts.say(&series.name))
                            }
                        }
                    }
                }
                (picture)
                figcaption { (said) }
            }
        }
    }
}

fn seen_from_above(study: &Study, texts: &Texts) -> Markup {
    let say = |id: &'static str| texts.say(&id.into());
    let (picture, said) = plan(study, texts);
    let line = |class: &'static str| {
        html! {
            svg viewBox="0 0 32 14" aria-hidden="true" { path class=(class) d="M1 7L31 7" {} }
        }
    };
    let entries = [
        ("way", "paper-legend-way"),
        ("was", "paper-legend-was"),
        ("walk", "paper-legend-walk"),
        ("cones", "paper-legend-cones"),
        ("reach", "paper-legend-reach"),
    ];
    html! {
        h2 { (say("paper-plan")) }
        figure {
            (picture)
            figcaption {
                ul.legend {
                    @for (class, name) in entries { li { (line(class)) " " (say(name)) } }
                }
                (said)
            }
        }
    }
}

fn set_out(study: &Study, texts: &Texts) -> Markup {
    let say = |id: &'static str| texts.say(&id.into());
    let found = study.scenario.line_for(study.seed());
    let heads = [
        "paper-setting",
        "paper-as-found",
        "paper-as-set",
        "paper-as-should",
        "paper-standing",
    ];
    html! {
        div.short {
            h2 { (say("paper-settings")) }
            div.scroll tabindex="0" role="region" aria-label=(say("paper-settings")) {
                table.wide {
                    thead { tr { @for head in heads { th scope="col" { (say(head)) } } } }
                    tbody {
                        @for row in rows(&found, &study.spec) {
                            tr {
                                th scope="row" { (texts.say(&row.name)) }
                                td { (texts.say(&row.found)) }
                                td { (texts.say(&row.set)) }
                                td { (texts.say(&row.right)) }
                                td { (standing(row.standing, texts)) }
                            }
                        }
                    }
                }
            }
            p.weak { (say("paper-settings-explained")) }
        }
    }
}

fn standing(of: Standing, texts: &Texts) -> Markup {
    let (class, word) = match of {
        Standing::Right => ("passed", "paper-standing-right"),
        Standing::Wrong => ("failed", "paper-standing-wrong"),
        Standing::Unusual => ("major", "paper-standing-unusual"),
    };
    badge(class, &texts.say(&word.into()))
}

fn figures_and_assumptions(study: &Study, texts: &Texts) -> Markup {
    // In a terminal name and value stand in columns.
    let columns = |said: String| match said.split_once("  ") {
        Some((name, value)) => (name.trim().to_owned(), value.trim().to_owned()),
        None => (said, String::new()),
    };
    let leading: Vec<(String, String)> = leading(&study.verdict.leading)
        .iter()
        .map(|told| columns(texts.say(&told.said)))
        .collect();
    html! {
        h2 { (texts.say(&"leading-heading".into())) }
        (list(&leading))
        @if let Some(again) = &study.again {
            @let rows: Vec<(String, String)> = figures(&again.report.figures)
                .iter()
                .map(|(name, value)| (texts.say(name), texts.say(value)))
                .collect();
            h3 { (texts.say(&"report-figures".into())) }
            (list(&rows))
            h3 { (texts.say(&"report-assumed".into())) }
            p { (texts.say(&again.report.assumptions.message())) }
        }
    }
}

fn signatures(study: &Study, texts: &Texts) -> Markup {
    let say = |id: &'static str| texts.say(&id.into());
    let lines = ["paper-name", "paper-signature", "paper-date"];
    let by_hand = member(study.driver()).is_none();
    html! {
        div.short {
            h2 { (say("paper-signatures")) }
            @if !by_hand { p.weak { (say("paper-signed-demonstration")) } }
            div.signatures {
                @for who in ["paper-trainee", "paper-trainer"] {
                    section {
                        h3 { (say(who)) }
                        @for line in lines { p { (say(line)) " " span {} } }
                    }
                }
            }
        }
    }
}

fn verification(study: &Study, paper: &Paper, texts: &Texts) -> Markup {
    let say = |message: Message| texts.say(&message);
    let replay = &study.replay;
    let proved = match replay.differs {
        None => Message::new("paper-verified").with("states", replay.states),
        Some(_) => Message::new("paper-not-verified"),
    };
    html! {
        div.short {
            h2 { (say("paper-verify".into())) }
            p { (say(proved)) }
            p { (say("paper-verify-how".into())) }
            pre { code { (say(verify(paper.file))) } }
            p { (say("paper-hash".into())) br; code { (paper.sha256) } }
        }
    }
}
