//! The report of a run: for people as text, for machines as JSON.

use serde::Serialize;

use super::figures::Figures;
use super::outcome::Outcome;
use super::reasons::Reason;
use super::score::score_lines;
use crate::domain::spec::PersonSpec;
use crate::judge::{Inquiry, Played, Verdict};
use crate::operator::Ending;
use crate::scenario::{Goal, Scenario};
use crate::sim::line::Event;
use crate::texts::{Lang, Message, Texts};
use crate::words;

/// Version of the JSON form.
const FORMAT: u32 = 1;

/// Everything a run has to say for itself.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    pub format: u32,
    pub program: &'static str,
    pub version: &'static str,
    /// The scenario's name, in the order of [`Lang::ALL`].
    #[serde(skip)]
    pub scenario: [String; Lang::ALL.len()],
    pub scenario_file: String,
    pub seed: u64,
    pub operator: String,
    pub goal: Goal,
    pub outcome: Outcome,
    pub passed: bool,
    #[serde(skip)]
    pub reasons: Vec<Reason>,
    pub figures: Figures,
    pub verdict: Verdict,
    /// What caused findings, and their last chances: by the place of the finding.
    pub inquiries: Vec<(usize, Inquiry)>,
    pub events: Vec<TimedEvent>,
    /// Whom the line is described with.
    #[serde(skip)]
    pub people: Vec<PersonSpec>,
    pub ending: Ending,
    pub duration_s: f64,
    /// Hash of the final state, as sixteen hexadecimal digits.
    pub state_hash: String,
    pub assumptions: Assumptions,
}

/// A report with what it says in a language.
#[derive(Clone, Debug, Serialize)]
pub struct Said<'a> {
    language: Lang,
    scenario: &'a str,
    meaning: String,
    reasons: Vec<Told<'a>>,
    caution: String,
    #[serde(flatten)]
    report: &'a Report,
}

/// A reason as data and as a sentence.
#[derive(Clone, Debug, Serialize)]
struct Told<'a> {
    reason: &'a Reason,
    sentence: String,
}

/// An event with its time.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct TimedEvent {
    pub time_s: f64,
    #[serde(flatten)]
    pub event: Event,
}

/// Values nobody has published for pipe on a rack, as this run took them.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Assumptions {
    pub friction_on_near_rail: f64,
    pub friction_on_far_rail: f64,
    pub friction_pipe_on_pipe: f64,
    pub restitution: f64,
    pub rolling_lever_arm_mm: f64,
}

impl Report {
    /// The report of a run that has ended.
    pub fn of(
        scenario: &Scenario,
        scenario_file: &str,
        seed: u64,
        operator: &str,
        played: &Played,
        inquiries: Vec<(usize, Inquiry)>,
    ) -> Self {
        let (line, ending) = (&played.line, played.ending);
        let figures = Figures::of(line);
        let outcome = Outcome::of(line, ending, &figures);
        let rack = &line.rig().spec().rack;
        let contact = &line.rig().spec().contact;
        Self {
            format: FORMAT,
            program: env!("CARGO_PKG_NAME"),
            version: env!("CARGO_PKG_VERSION"),
            scenario: Lang::ALL.map(|lang| scenario.texts(lang).name),
            scenario_file: scenario_file.to_owned(),
            seed,
            operator: operator.to_owned(),
            goal: scenario.goal,
            outcome,
            passed: played.verdict.score.passed,
            reasons: Reason::of(line, outcome, &figures),
            figures,
            verdict: played.verdict.clone(),
            inquiries,
            people: line.rig().spec().people.clone(),
            events: line
                .events()
                .iter()
                .map(|&event| TimedEvent {
                    time_s: line.time_at_s(event.tick),
                    event,
                })
                .collect(),
            ending,
            duration_s: line.time_s(),
            state_hash: format!("{:016x}", line.hash()),
            assumptions: Assumptions {
                friction_on_near_rail: contact.friction(rack.near_rail.surface),
                friction_on_far_rail: contact.friction(rack.far_rail.surface),
                friction_pipe_on_pipe: contact.friction_pipe_on_pipe,
                restitution: contact.restitution,
                rolling_lever_arm_mm: 1.0e3 * contact.rolling_lever_arm_m,
            },
        }
    }

    /// The report for machines: the data, and what it says in a language.
    pub fn said(&self, texts: &Texts) -> Said<'_> {
        Said {
            report: self,
            language: texts.lang(),
            scenario: self.name(texts.lang()),
            meaning: texts.say(&self.outcome.meaning()),
            reasons: self
                .reasons
                .iter()
                .map(|reason| Told {
                    reason,
                    sentence: texts.say(&reason.message()),
                })
                .collect(),
            caution: texts.say(&Message::new("caution")),
        }
    }

    fn name(&self, lang: Lang) -> &str {
        &self.scenario[lang as usize]
    }

    /// The report for people.
    pub fn text(&self, texts: &Texts) -> String {
        let mut lines = vec![
            texts.say(
                &Message::new("report-head")
                    .with("scenario", self.name(texts.lang()))
                    .with("outcome", self.outcome.headline()),
            ),
            format!("  {}", texts.say(&self.outcome.meaning())),
            format!("  {}", texts.say(&asked(self.goal))),
        ];
        lines.push(String::new());
        lines.extend(score_lines(&self.verdict, &self.inquiries, texts));
        lines.push(String::new());
        let reasons = self.reasons.iter();
        lines.extend(reasons.map(|reason| format!("  {}", texts.say(&reason.message()))));
        lines.push(format!("\n{}", texts.say(&"report-what-happened".into())));
        let happened = self
            .events
            .iter()
            .map(|event| (event.time_s, words::event(&event.event.kind, &self.people)))
            .chain([(self.duration_s, ended(self.ending))]);
        lines.extend(
            happened.map(|(time_s, message)| format!("  {time_s:7.2} s  {}", texts.say(&message))),
        );
        lines.push(format!("\n{}", texts.say(&"report-figures".into())));
        let rows: Vec<(String, String)> = figures(&self.figures)
            .iter()
            .map(|(name, value)| (texts.say(name), texts.say(value)))
            .collect();
        let widths = rows.iter().map(|(name, _)| name.chars().count());
        let width = widths.max().unwrap_or_default();
        lines.extend(
            rows.iter()
                .map(|(name, value)| format!("  {name:width$} {value}")),
        );
        lines.push(format!("\n{}", texts.say(&"report-assumed".into())));
        lines.push(format!("  {}", texts.say(&self.assumptions.message())));
        let stamp = Message::new("report-stamp")
            .with("seed", self.seed.to_string())
            .with("operator", self.operator.as_str())
            .with("program", self.program)
            .with("version", self.version)
            .with("state", self.state_hash.as_str());
        lines.push(format!("\n{}", texts.say(&stamp)));
        lines.push(texts.say(&"caution".into()));
        lines.join("\n") + "\n"
    }
}

impl Assumptions {
    pub fn message(&self) -> Message {
        Message::new("report-assumptions")
            .with("near", self.friction_on_near_rail.to_string())
            .with("far", self.friction_on_far_rail.to_string())
            .with("pipe", self.friction_pipe_on_pipe.to_string())
            .with("restitution", self.restitution.to_string())
            .with("lever", self.rolling_lever_arm_mm.to_string())
    }
}

/// The figures that there are: name and value.
pub fn figures(figures: &Figures) -> Vec<(Message, Message)> {
    let [near, far] = figures.pitch_deg;
    let mut rows = vec![
        (
            "figure-pitch".into(),
            Message::new("figure-pitch-is")
                .measured("near", near, 2)
                .measured("far", far, 2),
        ),
        (
            "figure-hang".into(),
            Message::new("figure-hang-is")
                .measured("oval", figures.hang_deg, 2)
                .measured("resistance", figures.start_deg, 2),
        ),
    ];
    if let Some(time_s) = figures.feed_time_s {
        rows.push((
            "figure-feed-time".into(),
            Message::new("figure-feed-time-is").measured("time", time_s, 2),
        ));
    }
    if let Some(reception) = &figures.reception {
        rows.push((
            "figure-reception".into(),
            Message::new("figure-reception-is")
                .measured("speed", reception.speed_m_per_s, 2)
                .measured("part", 100.0 * reception.speed_fraction, 0)
                .measured("yaw", reception.yaw_deg, 2),
        ));
    }
    if let Some(blow) = &figures.hardest_blow {
        rows.push((
            "figure-blow".into(),
            Message::new("figure-blow-is")
                .measured("speed", blow.speed_m_per_s, 2)
                .with("stick", words::stick(blow.stick))
                .measured("energy", 100.0 * blow.energy_fraction, 0),
        ));
    }
    if let Some(lean) = &figures.lean {
        rows.push((
            "figure-lean".into(),
            Message::new("figure-lean-is")
                .with("stick", words::stick(lean.stick))
                .measured("lift", lean.lift_mm, 0)
                .measured("part", 100.0 * lean.fraction, 0),
        ));
    }
    rows
}

/// What was to be done.
pub fn asked(goal: Goal) -> Message {
    Message::new(match goal {
        Goal::Joined => "goal-joined",
        Goal::OneStick => "goal-one-stick",
        Goal::LeftOnRack => "goal-left-on-rack",
    })
}

/// How it came to its end.
pub fn ended(ending: Ending) -> Message {
    Message::new(match ending {
        Ending::AtRest => "ending-at-rest",
        Ending::TimeLimit => "ending-time-limit",
        Ending::Critical => "ending-critical",
        Ending::BrokenOff => "ending-broken-off",
    })
}
