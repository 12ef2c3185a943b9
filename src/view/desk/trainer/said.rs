//! What the trainer's screen shows, in words.

use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};

use super::Trainer;
use super::clerk::Seen;
use super::pages::{Page, Stage};
use crate::domain::finding::Severity;
use crate::evidence::severity;
use crate::judge::explain;
use crate::operator::{Ending, member};
use crate::records::{
    Attempt, Due, Exercise, Found, Kept, MOST_FINDINGS, MOST_OPEN, OfExercise, OfPerson, Person,
    PersonId, Standing, name_or_nobody, what_of,
};
use crate::session::going::{Going, Told};
use crate::texts::{Message, Texts};
use crate::view::icons::Mark;
use crate::view::panels::parts;
use crate::view::panels::trainer as page;
use crate::words;

/// Months to the dates that can be chosen.
const MONTHS: [i64; 3] = [3, 6, 12];
/// A run of which nothing has been written for so long stands still, s: otherwise it is twice a second.
const STILL_S: f64 = 3.0;

/// The day, in UTC as everything that is written.
pub fn today() -> Date {
    let now = Timestamp::now().to_string();
    let day = now.get(..10).and_then(|day| day.parse().ok());
    day.unwrap_or(Date::ZERO)
}

fn day(at: Timestamp) -> String {
    let at = at.to_string();
    at.get(..10).unwrap_or(&at).to_owned()
}

fn minute(at: Timestamp) -> String {
    let at = at.to_string();
    at.get(..16).unwrap_or(&at).replacen('T', " ", 1)
}

/// What came of an attempt.
fn result(attempt: &Attempt) -> (Mark, Message) {
    let (mark, id) = match (attempt.ended, attempt.passed) {
        (None, _) => return (Mark::Off, "trainer-result-fault".into()),
        (Some(_), true) => (Mark::Ok, "trainer-result-passed"),
        (Some(Ending::BrokenOff), false) => return (Mark::Not, "trainer-result-broken".into()),
        (Some(_), false) => (Mark::Not, "trainer-result-failed"),
    };
    (mark, Message::new(id).measured("points", attempt.points, 0))
}

/// When somebody is due again; overdue is told.
fn due_said(due: &Due, exercises: &[Exercise], today: Date) -> (Option<Mark>, Message) {
    let is_over = due.on < today;
    let title = due.scenario.as_ref().map(|scenario| {
        let known = exercises.iter().find(|it| it.scenario == *scenario);
        known.map_or(scenario.as_str(), |it| it.title.as_str())
    });
    let id = match (is_over, title.is_some()) {
        (true, true) => "trainer-overdue-at",
        (true, false) => "trainer-overdue",
        (false, true) => "trainer-due-at",
        (false, false) => "records-line",
    };
    let date = due.on.to_string();
    let said = match id {
        "records-line" => Message::new(id).with("text", date),
        id => Message::new(id).with("date", date),
    };
    let said = match title {
        Some(title) => said.with("exercise", title),
        None => said,
    };
    (is_over.then_some(Mark::Caution), said)
}

/// How many of the exercises that are taught somebody has passed.
fn passed(seen: &Seen, person: &OfPerson) -> usize {
    let exercises = seen.summary.exercises.iter().zip(&person.standings);
    exercises
        .filter(|(exercise, standing)| exercise.is_taught && standing.is_passed())
        .count()
}

impl Trainer {
    pub(super) fn model(&self, texts: &'static Texts) -> page::Model {
        let seen = &self.seen;
        let said = |message: &Message| texts.say(message);
        let of_class = |name: String, people: u64| {
            let people = Message::new("trainer-class-people").with("people", people);
            (name, said(&people))
        };
        let everybody = said(&"summary-everybody".into());
        let mut classes = vec![of_class(everybody, seen.everybody)];
        classes.extend(
            seen.classes
                .iter()
                .map(|(name, people)| of_class(name.clone(), *people)),
        );
        let class = seen.class.as_ref();
        let class = class.and_then(|name| seen.classes.iter().position(|(it, _)| it == name));
        let busy = match (self.is_writing, self.is_reading) {
            (true, _) => Some("trainer-writing"),
            (false, true) => Some("trainer-reading"),
            (false, false) => None,
        };
        page::Model {
            classes,
            class: class.map_or(0, |class| class + 1),
            people: self.rows(texts),
            glance: self.glance(texts),
            going: self.going.iter().map(|one| going(one, texts)).collect(),
            person: self.person_page(texts),
            busy: busy.map(|id| said(&id.into())),
            is_writing: self.is_writing,
            fault: self.fault.as_ref().map(said),
            done: self.done.as_ref().map(|(mark, done)| (*mark, said(done))),
            trainer: self.signs.clone(),
            soon: self.soon(texts),
        }
    }

    fn soon(&self, texts: &Texts) -> Vec<(String, String)> {
        let of = |months: i64| {
            let on = self.today.checked_add(months.months()).ok()?;
            let words = Message::new("trainer-months").with("months", months.unsigned_abs());
            Some((texts.say(&words), on.to_string()))
        };
        MONTHS.into_iter().filter_map(of).collect()
    }

    fn rows(&self, texts: &Texts) -> Vec<page::Row> {
        let lang = texts.lang().code();
        let seen = &self.seen;
        let row = |person: &Person| {
            let summed = self.summed(person.id);
            let last = seen.last.iter().find(|(id, _)| *id == person.id);
            let last = last.map(|(_, attempt)| {
                let (mark, result) = result(attempt);
                let said = Message::new("trainer-last-said")
                    .with("date", day(attempt.at))
                    .with("exercise", attempt.title(lang))
                    .with("result", result);
                (mark, texts.say(&said))
            });
            // The first of them comes first.
            let due = seen.due.iter().find(|due| due.whose == person.id);
            let due = due.map(|due| {
                let (mark, said) = due_said(due, &self.exercises, self.today);
                (mark, texts.say(&said))
            });
            let passed = summed.map_or(0, |summed| passed(seen, summed));
            let passed = Message::new("trainer-passed-of")
                .with("passed", passed.to_string())
                .with("of", self.exercises.len().to_string());
            page::Row {
                name: texts.say(&person.said()),
                attempts: summed.map_or(0, |summed| summed.attempts).to_string(),
                passed: texts.say(&passed),
                last,
                due,
            }
        };
        seen.people.iter().map(row).collect()
    }

    /// What a person has come to.
    fn summed(&self, person: PersonId) -> Option<&OfPerson> {
        let mut people = self.seen.summary.people.iter();
        people.find(|it| it.id == person)
    }

    fn glance(&self, texts: &Texts) -> page::Glance {
        let summary = &self.seen.summary;
        let most = summary.people.len().max(1) as f32;
        let nobodys = (summary.nobodys > 0)
            .then(|| Message::new("summary-nobodys").with("attempts", summary.nobodys));
        let open = summary.open.iter().take(MOST_OPEN);
        let next = summary.next.as_ref().filter(|_| !summary.people.is_empty());
        let next = open.map(|it| it.open_said()).chain(next.map(|it| {
            let people = summary.people.len();
            it.next_said(people)
        }));
        page::Glance {
            head: texts.say(&summary.head(self.seen.class.as_deref())),
            notes: nobodys.iter().map(|note| texts.say(note)).collect(),
            exercises: summary
                .exercises
                .iter()
                .map(|it| (it.title.clone(), texts.say(&it.said())))
                .collect(),
            people: self
                .seen
                .people
                .iter()
                .filter_map(|person| {
                    let standings = self.summed(person.id)?.standings.clone();
                    Some((texts.say(&person.said()), standings))
                })
                .collect(),
            findings: summary
                .findings
                .iter()
                .take(MOST_FINDINGS)
                .map(|it| (it.people as f32 / most, texts.say(&it.said())))
                .collect(),
            rounds: summary
                .rounds
                .iter()
                .enumerate()
                .map(|(nth, round)| (round.share_passed() as f32, texts.say(&round.said(nth))))
                .collect(),
            next: next.map(|next| texts.say(&next)).collect(),
        }
    }

    /// How far whoever is looked at has come in each of the exercises that are taught.
    pub(super) fn standings(&self) -> Vec<Standing> {
        let summary = &self.seen.summary;
        let own = self.query.person.and_then(|person| self.summed(person));
        let of = |exercise: &Exercise| {
            let is_it =
                |it: &OfExercise| (&it.scenario, &it.hash) == (&exercise.scenario, &exercise.hash);
            let at = summary.exercises.iter().position(is_it)?;
            own?.standings.get(at).copied()
        };
        let exercises = self.exercises.iter();
        exercises
            .map(|exercise| of(exercise).unwrap_or_default())
            .collect()
    }

    fn person_page(&self, texts: &Texts) -> Option<page::Person> {
        let seen = &self.seen;
        let person = self.person()?;
        let summed = self.summed(person.id);
        let facts = summed.map(|summed| {
            let said = Message::new("trainer-person-attempts")
                .with("attempts", summed.attempts)
                .with("passed", passed(seen, summed).to_string())
                .with("of", self.exercises.len().to_string());
            texts.say(&said)
        });
        let due = seen.due.iter().find(|due| due.whose == person.id);
        let due = due.map(|due| {
            let (mark, said) = due_said(due, &self.exercises, self.today);
            let said = Message::new("trainer-person-due").with("due", said);
            (mark, texts.say(&said))
        });
        let standings = self.standings();
        let proposed = standings.iter().position(|standing| !standing.is_passed());
        let titles = self.exercises.iter().map(|it| it.title.clone());
        Some(page::Person {
            name: texts.say(&person.said()),
            facts: facts.into_iter().collect(),
            due,
            attempts: seen
                .kept
                .iter()
                .map(|kept| attempt(kept, self.page.as_ref(), texts))
                .collect(),
            chosen: self.chosen_place(),
            exercises: titles.zip(standings).collect(),
            proposed: proposed.unwrap_or_default(),
        })
    }
}

fn attempt(kept: &Kept, page: Option<&Page>, texts: &Texts) -> page::Attempt {
    let attempt = &kept.attempt;
    let (mark, result) = result(attempt);
    let (mark, result) = match kept.is_void {
        true => (
            Mark::Off,
            Message::new("trainer-result-void").with("result", result),
        ),
        false => (mark, result),
    };
    let signed = match kept.sign_offs.last() {
        Some(it) => Message::new("trainer-signed").with("by", name_or_nobody(it.by.as_ref())),
        None => "trainer-unsigned".into(),
    };
    let facts = Message::new("trainer-attempt-facts")
        .with("date", minute(attempt.at))
        .measured("minutes", attempt.duration_s / 60.0, 1)
        .with("breaks", u64::from(attempt.breaks))
        .with("seed", attempt.seed.to_string())
        .with("program", attempt.program.as_str());
    let corrections = kept.corrections.iter().map(|it| {
        let said = Message::new("certificate-correction")
            .with("date", day(it.at))
            .with("what", what_of(&it.what))
            .with("by", name_or_nobody(it.by.as_ref()))
            .with("why", it.why.as_str());
        (Mark::Note, said)
    });
    let signs = kept.sign_offs.iter().map(|it| {
        let said = Message::new("records-signed")
            .with("by", name_or_nobody(it.by.as_ref()))
            .with("date", day(it.at))
            .with("note", it.note.as_str());
        (Mark::Ok, said)
    });
    let unsigned = (kept.sign_offs.is_empty() && !kept.is_void)
        .then(|| (Mark::Off, Message::new("trainer-unsigned")));
    let remarks = corrections.chain(signs).chain(unsigned);
    page::Attempt {
        title: attempt.title(texts.lang().code()).to_owned(),
        date: day(attempt.at),
        mark,
        result: texts.say(&result),
        signed: texts.say(&signed),
        facts: texts.say(&facts),
        remarks: remarks
            .map(|(mark, said)| (mark, texts.say(&said).trim_end().to_owned()))
            .collect(),
        findings: kept.findings.iter().map(|it| found(it, texts)).collect(),
        counts: !kept.is_void && attempt.ended.is_some(),
        page: page
            .filter(|page| page.attempt == attempt.uid)
            .map(|page| page_said(&page.stage, texts)),
    }
}

fn found(found: &Found, texts: &Texts) -> (Mark, String, String) {
    let title = match found.known() {
        Some(kind) => texts.say(&explain(kind).title),
        None => found.kind.clone(),
    };
    let mark = match found.severity {
        Severity::Critical => Mark::Danger,
        Severity::Major => Mark::Caution,
        Severity::Minor => Mark::Note,
    };
    let about = Message::new("trainer-found")
        .with("severity", severity(found.severity))
        .with("time", parts::clock(found.time_s))
        .measured("points", found.points, 0);
    (mark, title, texts.say(&about))
}

fn page_said(stage: &Stage, texts: &Texts) -> (Mark, String) {
    let lies = |id: &'static str, path: &std::path::Path| {
        Message::new(id).with("file", path.display().to_string())
    };
    let (mark, said) = match stage {
        Stage::Making => (Mark::Note, "trainer-page-making".into()),
        Stage::Saved(path) => (Mark::Ok, lies("trainer-page-saved", path)),
        Stage::NotOpened(path) => (Mark::Note, lies("trainer-page-not-opened", path)),
        Stage::Failed(fault) => (Mark::Caution, fault.clone()),
    };
    (mark, texts.say(&said))
}

/// A run that is going on.
fn going(going: &Going, texts: &Texts) -> page::Going {
    let still = (going.still_s >= STILL_S).then(|| {
        let seconds = going.still_s.floor().to_string();
        Message::new("trainer-going-still").with("seconds", seconds)
    });
    let Some(told) = &going.told else {
        return page::Going {
            who: going.id.clone(),
            what: String::new(),
            since: String::new(),
            far: vec![(Mark::Off, texts.say(&"trainer-going-unread".into()))],
        };
    };
    let title = told.titles.get(texts.lang().code());
    let what = Message::new("trainer-going-what")
        .with("exercise", title.cloned().unwrap_or_default())
        .with("mode", told.mode.said());
    let since_s = Timestamp::now().as_second() - told.at.as_second();
    let since = Message::new("trainer-going-since")
        .with("minutes", u64::try_from(since_s / 60).unwrap_or_default());
    let run = Message::new("trainer-going-run")
        .with("time", parts::clock(told.run_s))
        .with("events", told.events);
    let last = told.last.as_ref().map(|(at_s, event)| {
        Message::new("trainer-going-last")
            .with("time", parts::clock(*at_s))
            .with("event", words::event(event, &told.people))
    });
    let breaks = (told.breaks > 0)
        .then(|| Message::new("trainer-going-breaks").with("breaks", u64::from(told.breaks)));
    let far = [
        (Mark::Note, Some(run)),
        (Mark::Note, last),
        (Mark::Note, breaks),
        (Mark::Off, still),
    ];
    page::Going {
        who: texts.say(&who(told)),
        what: texts.say(&what),
        since: texts.say(&since),
        far: far
            .into_iter()
            .filter_map(|(mark, said)| Some((mark, texts.say(&said?))))
            .collect(),
    }
}

fn who(told: &Told) -> Message {
    match &told.trainee {
        _ if member(&told.operator).is_some() => {
            Message::new("trainer-going-shown").with("operator", told.operator.as_str())
        }
        Some(name) => Message::new("records-name").with("name", name.as_str()),
        None => "trainer-going-nobody".into(),
    }
}
