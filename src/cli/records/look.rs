//! Looking into the records: lists, one attempt, a class at a glance.

use std::path::PathBuf;

use clap::ValueEnum;

use super::{Desk, Done, line};
use crate::cli::{PASSED, to_json};
use crate::evidence::{Output, severity};
use crate::judge::explain;
use crate::records::{
    Attempt, ClassId, MOST_FINDINGS, MOST_OPEN, Records, RecordsError, Standing, Summary, Which,
    name_or_nobody, what_of,
};
use crate::texts::Message;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Kind {
    #[default]
    Attempts,
    People,
    Classes,
    Due,
}

#[derive(Clone, Debug, Default, clap::Args)]
pub struct ListArgs {
    #[arg(
        value_name = "WHAT",
        value_enum,
        default_value_t,
        hide_possible_values = true,
        hide_default_value = true
    )]
    pub kind: Kind,

    #[arg(long, value_name = "PERSON")]
    pub person: Option<String>,

    #[arg(long, value_name = "CLASS")]
    pub class: Option<String>,

    #[arg(long, value_name = "EXERCISE")]
    pub exercise: Option<String>,
}

#[derive(Clone, Debug, clap::Args)]
pub struct ShowArgs {
    #[arg(value_name = "ATTEMPT")]
    pub attempt: String,
}

#[derive(Clone, Debug, clap::Args)]
pub struct SummaryArgs {
    #[arg(long, value_name = "CLASS")]
    pub class: Option<String>,

    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
}

impl Desk<'_> {
    pub fn list(&self, args: &ListArgs) -> Done {
        let records = self.to_read()?;
        let class = class_of(&records, args.class.as_deref())?.map(|(id, _)| id);
        let lines: Vec<Message> = match args.kind {
            Kind::People => records
                .people(class)?
                .into_iter()
                .map(|person| person.said())
                .collect(),
            Kind::Classes => records
                .classes()?
                .into_iter()
                .map(|(name, people)| {
                    Message::new("records-class")
                        .with("name", name)
                        .with("people", people)
                })
                .collect(),
            Kind::Due => records
                .due(class)?
                .into_iter()
                .map(|due| {
                    let what = due.scenario.unwrap_or_default();
                    Message::new("records-due-row")
                        .with("date", due.on.to_string())
                        .with("name", due.person)
                        .with("exercise", what)
                })
                .collect(),
            Kind::Attempts => {
                let person = args.person.as_deref();
                let person = person.map(|name| records.find_person(name)).transpose()?;
                let which = Which {
                    person: person.map(|person| person.id),
                    class,
                    scenario: args.exercise.as_deref(),
                    void: false,
                };
                let attempts = records.attempts(which)?;
                attempts.iter().map(|attempt| self.row(attempt)).collect()
            }
        };
        if lines.is_empty() {
            return Ok((vec!["records-nothing".into()], PASSED));
        }
        Ok((lines, PASSED))
    }

    fn row(&self, attempt: &Attempt) -> Message {
        let at = attempt.at.to_string();
        let uid = attempt.uid.to_string();
        let id = match (attempt.ended.is_some(), attempt.passed) {
            (false, _) => "records-row-fault",
            (true, true) => "records-row-passed",
            (true, false) => "records-row-failed",
        };
        Message::new(id)
            .with("id", uid.get(..8).unwrap_or_default())
            .with("date", at.get(..16).unwrap_or(&at).replacen('T', " ", 1))
            .with("points", format!("{:>3.0}", attempt.points))
            .with("name", name_or_nobody(attempt.trainee.as_ref()))
            .with("exercise", attempt.title(self.texts.lang().code()))
    }

    pub fn show(&self, args: &ShowArgs) -> Done {
        let records = self.to_read()?;
        let kept = records.find(&args.attempt)?;
        let attempt = &kept.attempt;
        let recording = attempt.recording.clone().unwrap_or_default();
        let mut lines = vec![
            self.row(attempt),
            Message::new("records-show")
                .with("id", attempt.uid.to_string())
                .with("scenario", attempt.scenario.as_str())
                .with("hash", attempt.scenario_hash.as_str())
                .with("seed", attempt.seed.to_string())
                .measured("duration", attempt.duration_s, 0)
                .with("breaks", u64::from(attempt.breaks))
                .with("program", attempt.program.as_str())
                .with("recording", recording),
        ];
        for found in &kept.findings {
            let title = match found.known() {
                Some(kind) => explain(kind).title,
                None => line(found.kind.clone()),
            };
            let head = Message::new("score-line")
                .measured("points", found.points, 0)
                .measured("time", found.time_s, 1)
                .with("title", title)
                .with("severity", severity(found.severity));
            lines.push(line(format!("  {}", self.texts.say(&head))));
        }
        for it in &kept.corrections {
            lines.push(
                Message::new("certificate-correction")
                    .with("date", it.at.to_string())
                    .with("what", what_of(&it.what))
                    .with("by", name_or_nobody(it.by.as_ref()))
                    .with("why", it.why.as_str()),
            );
        }
        for it in &kept.sign_offs {
            lines.push(
                Message::new("records-signed")
                    .with("by", name_or_nobody(it.by.as_ref()))
                    .with("date", it.at.to_string())
                    .with("note", it.note.as_str()),
            );
        }
        if let Some(due) = records.due_after(&kept)? {
            lines.push(Message::new("records-due-on").with("date", due.to_string()));
        }
        Ok((lines, PASSED))
    }

    pub fn summary(&self, args: &SummaryArgs) -> Done {
        let records = self.to_read()?;
        let class = class_of(&records, args.class.as_deref())?;
        let exercises = self.library().exercises(self.texts.lang());
        let summary = records.summary(
            class.as_ref().map(|(id, _)| *id),
            &exercises,
            self.texts.lang(),
        )?;
        if let Some(path) = &args.json {
            let bytes = to_json(&summary)?;
            let output = Output::open(path).map_err(RecordsError::Output)?;
            output.write(&bytes).map_err(RecordsError::Output)?;
        }
        let head = summary.head(class.as_ref().map(|(_, name)| name.as_str()));
        Ok(([vec![head], self.summed_up(&summary)].concat(), PASSED))
    }

    fn summed_up(&self, summary: &Summary) -> Vec<Message> {
        let mut lines = Vec::new();
        if summary.nobodys > 0 {
            lines.push(Message::new("summary-nobodys").with("attempts", summary.nobodys));
        }
        if summary.attempts == 0 {
            lines.push("records-nothing".into());
        }
        // Whatever stands below a heading.
        let below = |said: Message| line(format!("  {}", self.texts.say(&said)));
        let heading = |id: &'static str| line(format!("\n{}", self.texts.say(&id.into())));
        if !summary.exercises.is_empty() {
            lines.push(heading("summary-exercises"));
            lines.extend(summary.exercises.iter().map(|it| below(it.said())));
            lines.push(heading("summary-people"));
        }
        for person in &summary.people {
            let count = |is: fn(&Standing) -> bool| {
                let standings = person.standings.iter();
                standings
                    .filter(|standing| is(standing))
                    .count()
                    .to_string()
            };
            let open: Vec<&str> = summary
                .exercises
                .iter()
                .zip(&person.standings)
                .filter(|(_, standing)| matches!(standing, Standing::NotPassed { .. }))
                .map(|(exercise, _)| exercise.title.as_str())
                .collect();
            let said = Message::new("summary-person")
                .with("name", person.name.as_str())
                .with("attempts", person.attempts)
                .with("passed", count(|standing| standing.is_passed()))
                .with(
                    "mastered",
                    count(|it| matches!(it, Standing::Mastered { .. })),
                );
            lines.push(below(match open.is_empty() {
                true => said,
                false => Message::new("summary-person-open")
                    .with("person", said)
                    .with("open", open.join(", ")),
            }));
        }
        if !summary.findings.is_empty() {
            lines.push(heading("summary-findings"));
        }
        let findings = summary.findings.iter().take(MOST_FINDINGS);
        lines.extend(findings.map(|it| below(it.said())));
        if !summary.rounds.is_empty() {
            lines.push(heading("summary-rounds"));
        }
        let rounds = summary.rounds.iter().enumerate();
        lines.extend(rounds.map(|(nth, round)| below(round.said(nth))));
        if !summary.open.is_empty() || summary.next.is_some() {
            lines.push(heading("summary-next"));
        }
        let open = summary.open.iter().take(MOST_OPEN);
        lines.extend(open.map(|it| below(it.open_said())));
        if let Some(next) = &summary.next {
            lines.push(below(next.next_said(summary.people.len())));
        }
        lines
    }
}

/// A class by its name, where one is named.
pub fn class_of(
    records: &Records,
    name: Option<&str>,
) -> Result<Option<(ClassId, String)>, RecordsError> {
    name.map(|name| records.find_class(name)).transpose()
}
