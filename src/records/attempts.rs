//! Attempts with their findings: only ever added to. What was wrong about one is put right by another
//! row that says why.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, Row};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use uuid::Uuid;

use super::error::RecordsError;
use super::people::{ClassId, Person, PersonId, person_named, person_of, uid_in, unreadable};
use super::sql;
use super::store::Records;
use super::uid::uid_named;
use crate::domain::finding::{FindingKind, Severity};
use crate::evidence::Outcome;
use crate::judge::{Verdict, explain, time_s};
use crate::operator::Ending;
use crate::texts::{Lang, Message, Texts};

/// What a correction says, as it is written.
pub(super) const VOID: &str = "void";
pub(super) const PERSON: &str = "person";
pub(super) const NOTE: &str = "note";

/// The result of an assessment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Attempt {
    /// The same in every store and every statement.
    pub uid: Uuid,
    /// The name of its files, without their ending.
    pub ticket: String,
    /// When it began.
    pub at: Timestamp,
    /// None where nobody gave a name, or whoever did is forgotten.
    pub trainee: Option<String>,
    /// The name of the scenario's file without its ending, and a hash of its text.
    pub scenario: String,
    pub scenario_hash: String,
    /// The name of the scenario, by the code of the language.
    pub titles: BTreeMap<String, String>,
    pub seed: u64,
    /// How it was made, in the session's word.
    pub mode: String,
    pub passed: bool,
    pub points: f64,
    pub pass_mark: f64,
    /// None where the simulation itself failed, which is nobody's result.
    pub ended: Option<Ending>,
    pub outcome: Option<Outcome>,
    pub duration_s: f64,
    pub breaks: u32,
    pub breaks_s: f64,
    /// The recording's file.
    pub recording: Option<String>,
    /// The version of the program.
    pub program: String,
}

impl Attempt {
    /// The name of the scenario in a language, as far as it has one.
    pub fn title(&self, lang: &str) -> &str {
        title_in(&self.titles, lang).unwrap_or(&self.scenario)
    }
}

/// The title in a language, or else the English one.
pub(super) fn title_in<'a>(titles: &'a BTreeMap<String, String>, lang: &str) -> Option<&'a str> {
    let title = titles
        .get(lang)
        .or_else(|| titles.get(Lang::English.code()));
    title.map(String::as_str)
}

/// What was found in an attempt.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Found {
    /// The id of its kind: a newer program may know more of them.
    pub kind: String,
    pub severity: Severity,
    pub tick: u64,
    pub time_s: f64,
    /// What it cost.
    pub points: f64,
    /// The rule that it was held against, in English, as it stood then.
    pub rule: String,
}

impl Found {
    /// The findings of a verdict with what they cost.
    pub fn of(verdict: &Verdict) -> Vec<Self> {
        let english = Texts::of(Lang::English);
        let lines = verdict.score.lines.iter();
        lines
            .filter_map(|line| Some((verdict.findings.get(line.finding)?, line.points)))
            .map(|(finding, points)| Self {
                kind: finding.kind.id().to_owned(),
                severity: finding.kind.severity(),
                tick: finding.tick,
                time_s: time_s(finding.tick),
                points,
                rule: english.say(&explain(finding.kind).rule),
            })
            .collect()
    }

    /// The kind, where this program knows it.
    pub fn known(&self) -> Option<FindingKind> {
        known_kind(&self.kind)
    }
}

/// The kind of an id, where this program knows it.
pub fn known_kind(id: &str) -> Option<FindingKind> {
    let mut kinds = FindingKind::ALL.iter();
    kinds.find(|kind| kind.id() == id).copied()
}

/// What puts an attempt right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Correction {
    /// It does not count.
    Void,
    /// It was somebody else's.
    Person(PersonId),
    /// It counts as it is, and there is something to say about it.
    Note,
}

/// A correction as it was made.
#[derive(Clone, Debug, PartialEq)]
pub struct Corrected {
    pub uid: Uuid,
    pub at: Timestamp,
    /// None where they are forgotten.
    pub by: Option<String>,
    pub why: String,
    pub what: What,
}

/// What a correction says, for people.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    Void,
    /// None where they are forgotten.
    Person(Option<String>),
    Note,
}

/// Somebody stands for an attempt.
#[derive(Clone, Debug, PartialEq)]
pub struct SignOff {
    pub uid: Uuid,
    pub at: Timestamp,
    pub by: Option<String>,
    pub note: String,
}

/// When somebody has to come again.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    pub whose: PersonId,
    pub person: String,
    /// None for all of it.
    pub scenario: Option<String>,
    pub on: Date,
}

/// Everything there is about an attempt.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    pub attempt: Attempt,
    pub person: Option<PersonId>,
    pub is_void: bool,
    pub findings: Vec<Found>,
    pub corrections: Vec<Corrected>,
    pub sign_offs: Vec<SignOff>,
}

/// Which attempts.
#[derive(Clone, Copy, Debug, Default)]
pub struct Which<'a> {
    pub person: Option<PersonId>,
    pub class: Option<ClassId>,
    pub scenario: Option<&'a str>,
    /// Those too that do not count.
    pub void: bool,
}

/// A value that is written as one word.
pub(super) fn word_of(value: &impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(Value::String(word)) => word,
        _ => String::new(),
    }
}

fn of_word<T: DeserializeOwned>(row: &Row, column: usize) -> rusqlite::Result<Option<T>> {
    let word: Option<String> = row.get(column)?;
    word.map(|word| {
        serde_json::from_value(Value::String(word)).map_err(|error| unreadable(column, error))
    })
    .transpose()
}

pub(super) fn time_in(row: &Row, column: usize) -> rusqlite::Result<Timestamp> {
    let text: String = row.get(column)?;
    text.parse()
        .map_err(|error: jiff::Error| unreadable(column, error))
}

pub(super) fn date_in(row: &Row, column: usize) -> rusqlite::Result<Date> {
    let text: String = row.get(column)?;
    text.parse()
        .map_err(|error: jiff::Error| unreadable(column, error))
}

pub(super) fn attempt_in(row: &Row) -> rusqlite::Result<Attempt> {
    let titles: String = row.get(6)?;
    let seed: String = row.get(7)?;
    Ok(Attempt {
        uid: uid_in(row, 0)?,
        ticket: row.get(1)?,
        at: time_in(row, 2)?,
        trainee: row.get(3)?,
        scenario: row.get(4)?,
        scenario_hash: row.get(5)?,
        titles: serde_json::from_str(&titles).map_err(|error| unreadable(6, error))?,
        seed: seed
            .parse()
            .map_err(|error: std::num::ParseIntError| unreadable(7, error))?,
        mode: row.get(8)?,
        passed: row.get(9)?,
        points: row.get(10)?,
        pass_mark: row.get(11)?,
        ended: of_word(row, 12)?,
        outcome: of_word(row, 13)?,
        duration_s: row.get(14)?,
        breaks: row.get(15)?,
        breaks_s: row.get(16)?,
        recording: row.get(17)?,
        program: row.get(18)?,
    })
}

/// Where an attempt was written first, and when.
pub(super) struct Origin {
    pub store: Uuid,
    pub at: Timestamp,
}

/// Writes an attempt with its findings.
pub(super) fn insert(
    db: &Connection,
    attempt: &Attempt,
    findings: &[Found],
    person: Option<PersonId>,
    origin: &Origin,
) -> rusqlite::Result<i64> {
    let titles = serde_json::to_string(&attempt.titles)
        .map_err(|error| rusqlite::Error::ToSqlConversionFailure(Box::new(error)))?;
    let mut add = db.prepare_cached(sql::ATTEMPT_ADD)?;
    add.execute(rusqlite::params![
        attempt.uid.to_string(),
        origin.store.to_string(),
        origin.at.to_string(),
        attempt.ticket,
        attempt.at.to_string(),
        person.map(|person| person.0),
        attempt.scenario,
        attempt.scenario_hash,
        titles,
        attempt.seed.to_string(),
        attempt.mode,
        attempt.passed,
        attempt.points,
        attempt.pass_mark,
        attempt.ended.as_ref().map(word_of),
        attempt.outcome.as_ref().map(word_of),
        attempt.duration_s,
        attempt.breaks,
        attempt.breaks_s,
        attempt.recording,
        attempt.program,
    ])?;
    let seq = db.last_insert_rowid();
    let mut rule = db.prepare_cached(sql::RULE_ADD)?;
    let mut add = db.prepare_cached(sql::FINDING_ADD)?;
    for (place, found) in findings.iter().enumerate() {
        rule.execute([&found.rule])?;
        add.execute(rusqlite::params![
            seq,
            i64::try_from(place).unwrap_or(i64::MAX),
            found.kind,
            word_of(&found.severity),
            i64::try_from(found.tick).unwrap_or(i64::MAX),
            found.time_s,
            found.points,
            found.rule,
        ])?;
    }
    Ok(seq)
}

/// The place of an attempt in the order of writing, where it is there.
pub(super) fn seq_of(db: &Connection, uid: Uuid) -> rusqlite::Result<Option<i64>> {
    let mut query = db.prepare_cached(sql::ATTEMPT_SEQ)?;
    query
        .query_row([uid.to_string()], |row| row.get(0))
        .optional()
}

impl Records {
    /// Adds an attempt: on the disk when this returns. One that is there already is not added again.
    ///
    /// # Errors
    /// Where it cannot be written; then nothing of it is.
    pub fn add(&mut self, attempt: &Attempt, findings: &[Found]) -> Result<(), RecordsError> {
        let fault = self.fault();
        let origin = Origin {
            store: self.uid(),
            at: Timestamp::now(),
        };
        self.as_one(|db| {
            let written = || -> rusqlite::Result<()> {
                if seq_of(db, attempt.uid)?.is_some() {
                    return Ok(());
                }
                let person = match &attempt.trainee {
                    Some(name) => person_named(db, name)?,
                    None => None,
                };
                insert(db, attempt, findings, person, &origin).map(|_| ())
            };
            written().map_err(&fault)
        })
    }

    /// Attempts as their corrections leave them, in the order of writing.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn attempts(&self, which: Which) -> Result<Vec<Attempt>, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare(sql::ATTEMPTS).map_err(&fault)?;
        let rows = query.query_map(
            (
                which.person.map(|person| person.0),
                which.scenario,
                which.class.map(|class| class.0),
                which.void,
            ),
            attempt_in,
        );
        rows.and_then(Iterator::collect).map_err(fault)
    }

    /// The last attempt of each of a class, or of everybody, that counts.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn last_attempts(
        &self,
        class: Option<ClassId>,
    ) -> Result<Vec<(PersonId, Attempt)>, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare(sql::LAST_ATTEMPTS).map_err(&fault)?;
        let rows = query.query_map([class.map(|class| class.0)], |row| {
            Ok((PersonId(row.get(20)?), attempt_in(row)?))
        });
        rows.and_then(Iterator::collect).map_err(fault)
    }

    /// Everything about the attempts of a person, those too that do not count: the last first.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn kept_of(&self, person: PersonId) -> Result<Vec<Kept>, RecordsError> {
        let which = Which {
            person: Some(person),
            void: true,
            ..Which::default()
        };
        let mut all = Vec::new();
        for attempt in self.attempts(which)?.iter().rev() {
            all.extend(self.kept(attempt.uid)?);
        }
        Ok(all)
    }

    /// By what an attempt of this store's is known: it follows from what tells it from all others here.
    pub fn uid_for(&self, parts: &[&str]) -> Uuid {
        uid_named(self.uid(), parts.join("\n").as_bytes())
    }

    /// Whether there is an attempt with files of a name.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn has_ticket(&self, ticket: &str) -> Result<bool, RecordsError> {
        let found = self
            .db
            .query_row(sql::TICKET_KNOWN, [ticket], |row| row.get(0));
        found.map_err(self.fault())
    }

    /// An attempt as its corrections leave it.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn attempt(&self, uid: Uuid) -> Result<Option<Attempt>, RecordsError> {
        Ok(self.kept(uid)?.map(|kept| kept.attempt))
    }

    /// Everything about an attempt, by what it is known by, how that begins, or the name of its files.
    ///
    /// # Errors
    /// Where there is none, or more than one.
    pub fn find(&self, asked: &str) -> Result<Kept, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare(sql::ATTEMPTS_NAMED).map_err(&fault)?;
        let rows = query.query_map([asked.trim().to_lowercase().as_str()], |row| uid_in(row, 0));
        let mut found: Vec<Uuid> = rows.and_then(Iterator::collect).map_err(&fault)?;
        if found.is_empty() {
            let rows = query.query_map([asked.trim()], |row| uid_in(row, 0));
            found = rows.and_then(Iterator::collect).map_err(&fault)?;
        }
        let message = |id: &'static str| Message::new(id).with("attempt", asked);
        let kept = match found.as_slice() {
            [uid] => self.kept(*uid)?,
            [] => None,
            _ => return Err(message("records-several-attempts").into()),
        };
        kept.ok_or_else(|| message("records-no-attempt").into())
    }

    /// Everything about an attempt.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn kept(&self, uid: Uuid) -> Result<Option<Kept>, RecordsError> {
        read_kept(&self.db, uid).map_err(self.fault())
    }

    /// Puts an attempt right by a row that says why.
    ///
    /// # Errors
    /// Where there is no such attempt, no reason, or it cannot be written.
    pub fn correct(
        &mut self,
        attempt: Uuid,
        what: &Correction,
        by: &str,
        why: &str,
    ) -> Result<(), RecordsError> {
        let why = why.trim();
        if why.is_empty() {
            return Err(Message::new("records-no-reason").into());
        }
        let (word, person) = match what {
            Correction::Void => (VOID, None),
            Correction::Person(person) => (PERSON, Some(person.0)),
            Correction::Note => (NOTE, None),
        };
        self.stand_for(attempt, by, |db, seq, by, now| {
            let uid = Uuid::new_v4().to_string();
            let row = (uid, seq, now, by, why, word, person);
            db.execute(sql::CORRECTION_ADD, row).map(|_| ())
        })
    }

    /// Somebody stands for an attempt; and when the trainee has to come again, if they do.
    ///
    /// # Errors
    /// Where there is no such attempt, or one that does not count or is nobody's, or it cannot be
    /// written.
    pub fn sign_off(
        &mut self,
        attempt: Uuid,
        by: &str,
        note: &str,
        due: Option<Date>,
    ) -> Result<(), RecordsError> {
        let kept = self.kept(attempt)?;
        let kept = kept.ok_or_else(|| no_attempt(attempt))?;
        if kept.is_void || kept.attempt.ended.is_none() {
            return Err(Message::new("records-sign-off-void").into());
        }
        if due.is_some() && kept.attempt.trainee.is_none() {
            return Err(Message::new("records-due-nobody").into());
        }
        self.stand_for(attempt, by, |db, seq, by, now| {
            let uid = Uuid::new_v4().to_string();
            db.execute(sql::SIGN_OFF_ADD, (uid, seq, now, by, note.trim()))?;
            if let (Some(on), Some(person)) = (due, kept.person) {
                add_due(db, person, &kept.attempt.scenario, on)?;
            }
            Ok(())
        })
    }

    /// Writes something about an attempt that somebody stands for, now. It cannot be earlier than the
    /// attempt.
    fn stand_for(
        &mut self,
        attempt: Uuid,
        by: &str,
        write: impl FnOnce(&Connection, i64, i64, &str) -> rusqlite::Result<()>,
    ) -> Result<(), RecordsError> {
        let began = self.attempt(attempt)?.map(|attempt| attempt.at);
        let now = Timestamp::now();
        if let Some(began) = began.filter(|began| *began > now) {
            return Err(Message::new("records-clock-back")
                .with("now", now.to_string())
                .with("began", began.to_string())
                .into());
        }
        let fault = self.fault();
        self.as_one(|db| {
            let seq = seq_of(db, attempt).map_err(&fault)?;
            let seq = seq.ok_or_else(|| no_attempt(attempt))?;
            let person = person_of(db, by, "").map_err(&fault)?;
            let person = person.ok_or_else(|| Message::new("records-nobody-signs"))?;
            write(db, seq, person.0, &now.to_string()).map_err(&fault)
        })
    }

    /// Says when somebody has to come again.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn set_due(
        &mut self,
        person: &Person,
        scenario: Option<&str>,
        on: Date,
    ) -> Result<(), RecordsError> {
        let fault = self.fault();
        let id = person.id;
        self.as_one(|db| add_due(db, id, scenario.unwrap_or_default(), on).map_err(&fault))
    }

    /// When people have to come again, the first first.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn due(&self, class: Option<ClassId>) -> Result<Vec<Due>, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare(sql::DUE).map_err(&fault)?;
        let rows = query.query_map([class.map(|class| class.0)], |row| {
            let scenario: String = row.get(2)?;
            Ok(Due {
                whose: PersonId(row.get(6)?),
                person: row.get(1)?,
                scenario: (!scenario.is_empty()).then_some(scenario),
                on: date_in(row, 3)?,
            })
        });
        rows.and_then(Iterator::collect).map_err(fault)
    }

    /// When whoever made an attempt has to come again.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn due_after(&self, kept: &Kept) -> Result<Option<Date>, RecordsError> {
        let of = |due: &Due| {
            let scenario = due.scenario.as_ref();
            kept.person == Some(due.whose)
                && scenario.is_none_or(|scenario| *scenario == kept.attempt.scenario)
        };
        let due = self.due(None)?;
        Ok(due.into_iter().find(of).map(|due| due.on))
    }
}

fn no_attempt(uid: Uuid) -> RecordsError {
    Message::new("records-no-attempt")
        .with("attempt", uid.to_string())
        .into()
}

fn add_due(db: &Connection, person: PersonId, scenario: &str, on: Date) -> rusqlite::Result<()> {
    let uid = Uuid::new_v4().to_string();
    let now = Timestamp::now().to_string();
    let row = (uid, person.0, scenario, on.to_string(), now);
    db.execute(sql::DUE_ADD, row).map(|_| ())
}

/// Everything about an attempt.
pub(super) fn read_kept(db: &Connection, uid: Uuid) -> rusqlite::Result<Option<Kept>> {
    let uid = uid.to_string();
    let mut query = db.prepare_cached(sql::ATTEMPT)?;
    let row = query
        .query_row([uid], |row| {
            let person: Option<i64> = row.get(20)?;
            let seq: i64 = row.get(19)?;
            Ok((attempt_in(row)?, seq, person.map(PersonId), row.get(21)?))
        })
        .optional()?;
    let Some((attempt, seq, person, is_void)) = row else {
        return Ok(None);
    };
    let mut query = db.prepare_cached(sql::CORRECTIONS)?;
    let corrections = query.query_map([seq], |row| {
        let what: String = row.get(4)?;
        Ok(Corrected {
            uid: uid_in(row, 0)?,
            at: time_in(row, 1)?,
            by: row.get(2)?,
            why: row.get(3)?,
            what: match what.as_str() {
                VOID => What::Void,
                PERSON => What::Person(row.get(5)?),
                _ => What::Note,
            },
        })
    })?;
    let corrections = corrections.collect::<Result<_, _>>()?;
    let mut query = db.prepare_cached(sql::SIGN_OFFS)?;
    let sign_offs = query.query_map([seq], |row| {
        Ok(SignOff {
            uid: uid_in(row, 0)?,
            at: time_in(row, 1)?,
            by: row.get(2)?,
            note: row.get(3)?,
        })
    })?;
    let sign_offs = sign_offs.collect::<Result<_, _>>()?;
    Ok(Some(Kept {
        attempt,
        person,
        is_void,
        findings: findings_of(db, seq)?,
        corrections,
        sign_offs,
    }))
}

pub(super) fn findings_of(db: &Connection, seq: i64) -> rusqlite::Result<Vec<Found>> {
    let mut query = db.prepare_cached(sql::FINDINGS)?;
    let rows = query.query_map([seq], |row| {
        let severity: Option<Severity> = of_word(row, 1)?;
        Ok(Found {
            kind: row.get(0)?,
            severity: severity.unwrap_or(Severity::Minor),
            tick: row.get::<_, i64>(2)?.unsigned_abs(),
            time_s: row.get(3)?,
            points: row.get(4)?,
            rule: row.get(5)?,
        })
    })?;
    rows.collect()
}
