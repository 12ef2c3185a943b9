//! Records that go from one machine to another: a file of their own, or a store. Everything is known by
//! an id that is the same everywhere, so that taking the same file in twice changes nothing.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::attempts::{
    Attempt, Found, NOTE, Origin, PERSON, VOID, attempt_in, date_in, findings_of, insert,
    read_kept, seq_of, time_in,
};
use super::error::RecordsError;
use super::people::{ClassId, PersonId, class_of, join, key_of, tidy, uid_in};
use super::sql;
use super::store::Records;
use crate::texts::Message;

/// Version of the form of the file.
const FORMAT: u32 = 1;
/// Largest file that is taken in, bytes.
const LARGEST: u64 = 1 << 29;
/// Most points of an attempt.
const FULL: f64 = 100.0;

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Carried {
    format: u32,
    people: Vec<CarriedPerson>,
    classes: Vec<CarriedClass>,
    attempts: Vec<CarriedAttempt>,
    due: Vec<CarriedDue>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CarriedPerson {
    uid: Uuid,
    name: String,
    number: String,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CarriedClass {
    name: String,
    members: Vec<Uuid>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CarriedAttempt {
    attempt: Attempt,
    /// Whose it was when it was written; none of somebody who is forgotten.
    person: Option<Uuid>,
    origin: Uuid,
    recorded_at: Timestamp,
    findings: Vec<Found>,
    corrections: Vec<CarriedCorrection>,
    sign_offs: Vec<CarriedSignOff>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CarriedCorrection {
    uid: Uuid,
    at: Timestamp,
    by: Option<Uuid>,
    why: String,
    what: CarriedWhat,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
enum CarriedWhat {
    Void,
    Person(Option<Uuid>),
    Note,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CarriedSignOff {
    uid: Uuid,
    at: Timestamp,
    by: Option<Uuid>,
    note: String,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CarriedDue {
    uid: Uuid,
    person: Uuid,
    scenario: Option<String>,
    on: Date,
    at: Timestamp,
}

/// What came of taking records in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TakenIn {
    pub people: u64,
    pub attempts: u64,
    /// Attempts that were there already.
    pub known: u64,
    /// Corrections and sign-offs.
    pub remarks: u64,
    /// Attempts that are here under the same id and say something else: those here stand.
    pub differing: Vec<Uuid>,
}

impl Carried {
    /// Reads a file: of records that are carried, or a store.
    ///
    /// # Errors
    /// Where it is neither, damaged, newer than this program, or holds what cannot be.
    pub fn load(path: &Path) -> Result<Self, RecordsError> {
        let io = RecordsError::io(path);
        let mut file = File::open(path).map_err(&io)?;
        let mut mark = [0; sql::MARK.len()];
        let is_store = file.read_exact(&mut mark).is_ok() && mark == sql::MARK;
        if is_store {
            return Records::open_copy(path)?.carried(None);
        }
        let length = file.metadata().map_err(&io)?.len();
        let bad = |why: Message| {
            RecordsError::from(
                Message::new("records-not-carried")
                    .with("file", path.display().to_string())
                    .with("why", why),
            )
        };
        if length > LARGEST {
            return Err(bad("records-too-large".into()));
        }
        let text = std::fs::read_to_string(path).map_err(&io)?;
        let unreadable = |error: serde_json::Error| {
            Message::new("records-not-json").with("error", error.to_string())
        };
        // A newer form is told before what is strange about it.
        #[derive(Deserialize)]
        struct Head {
            format: u32,
        }
        let head: Head = serde_json::from_str(&text).map_err(|error| bad(unreadable(error)))?;
        if head.format != FORMAT {
            return Err(bad(Message::new("records-other-format")
                .with("format", head.format.to_string())
                .with("known", FORMAT.to_string())));
        }
        let carried: Self = serde_json::from_str(&text).map_err(|error| bad(unreadable(error)))?;
        match carried.attempts.iter().find(|it| !it.attempt.can_be()) {
            Some(it) => {
                let attempt = it.attempt.uid.to_string();
                Err(bad(
                    Message::new("records-cannot-be").with("attempt", attempt)
                ))
            }
            None => Ok(carried),
        }
    }

    /// As a file.
    ///
    /// # Errors
    /// Never, for what a store holds.
    pub fn to_json(&self) -> Result<Vec<u8>, serde_json::Error> {
        serde_json::to_vec_pretty(self)
    }
}

impl Attempt {
    /// Whether its numbers can be.
    fn can_be(&self) -> bool {
        let lasts = |time_s: f64| time_s.is_finite() && time_s >= 0.0;
        (0.0..=FULL).contains(&self.points)
            && (0.0..=FULL).contains(&self.pass_mark)
            && lasts(self.duration_s)
            && lasts(self.breaks_s)
            && (!self.passed || self.ended.is_some())
    }
}

impl Records {
    /// Everything that another machine needs to know, of a class or at all.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn carried(&self, class: Option<ClassId>) -> Result<Carried, RecordsError> {
        self.read_carried(class).map_err(self.fault())
    }

    fn read_carried(&self, class: Option<ClassId>) -> rusqlite::Result<Carried> {
        // All of it as it stands at one moment.
        let db = self.db.unchecked_transaction()?;
        let class = class.map(|class| class.0);
        let mut attempts = Vec::new();
        let mut query = db.prepare(sql::ATTEMPTS)?;
        let rows = query.query_map((None::<i64>, None::<i64>, class, true), |row| {
            let person: Option<String> = row.get(22)?;
            let attempt = Attempt {
                trainee: None,
                ..attempt_in(row)?
            };
            let carried = CarriedAttempt {
                attempt,
                person: person.is_some().then(|| uid_in(row, 22)).transpose()?,
                origin: uid_in(row, 23)?,
                recorded_at: time_in(row, 24)?,
                findings: Vec::new(),
                corrections: Vec::new(),
                sign_offs: Vec::new(),
            };
            Ok((row.get::<_, i64>(19)?, carried))
        })?;
        for row in rows {
            let (seq, carried) = row?;
            attempts.push(CarriedAttempt {
                findings: findings_of(&db, seq)?,
                corrections: corrections_of(&db, seq)?,
                sign_offs: sign_offs_of(&db, seq)?,
                ..carried
            });
        }
        let mut query = db.prepare(sql::DUE)?;
        let due = query.query_map([class], |row| {
            let scenario: String = row.get(2)?;
            Ok(CarriedDue {
                uid: uid_in(row, 0)?,
                person: uid_in(row, 5)?,
                scenario: (!scenario.is_empty()).then_some(scenario),
                on: date_in(row, 3)?,
                at: time_in(row, 4)?,
            })
        })?;
        let due: Vec<CarriedDue> = due.collect::<Result<_, _>>()?;
        let mut classes: Vec<CarriedClass> = Vec::new();
        let mut query = db.prepare(sql::MEMBERSHIPS)?;
        let rows = query.query_map([class], |row| {
            let name: String = row.get(0)?;
            let member: Option<String> = row.get(1)?;
            Ok((name, member.is_some().then(|| uid_in(row, 1)).transpose()?))
        })?;
        for row in rows {
            let (name, member) = row?;
            match classes.last_mut().filter(|last| last.name == name) {
                Some(class) => class.members.extend(member),
                None => classes.push(CarriedClass {
                    name,
                    members: member.into_iter().collect(),
                }),
            }
        }
        let named: std::collections::BTreeSet<Uuid> = attempts
            .iter()
            .flat_map(CarriedAttempt::people)
            .chain(due.iter().map(|due| due.person))
            .chain(classes.iter().flat_map(|class| class.members.clone()))
            .collect();
        let mut query = db.prepare(sql::PEOPLE)?;
        let people = query.query_map([None::<i64>], |row| {
            Ok(CarriedPerson {
                uid: uid_in(row, 1)?,
                name: row.get(2)?,
                number: row.get(3)?,
            })
        })?;
        let mut people: Vec<CarriedPerson> = people.collect::<Result<_, _>>()?;
        people.retain(|person| class.is_none() || named.contains(&person.uid));
        Ok(Carried {
            format: FORMAT,
            people,
            classes,
            attempts,
            due,
        })
    }

    /// Takes records in: all of them or none. What is here already stays as it is.
    ///
    /// # Errors
    /// Where they cannot be written.
    pub fn take_in(&mut self, carried: &Carried) -> Result<TakenIn, RecordsError> {
        let fault = self.fault();
        self.as_one(|db| take_in(db, carried).map_err(&fault))
    }
}

impl CarriedAttempt {
    /// Everybody who is named in it.
    fn people(&self) -> impl Iterator<Item = Uuid> {
        let corrections = self.corrections.iter().flat_map(|it| {
            let whose = match it.what {
                CarriedWhat::Person(person) => person,
                CarriedWhat::Void | CarriedWhat::Note => None,
            };
            it.by.into_iter().chain(whose)
        });
        let sign_offs = self.sign_offs.iter().filter_map(|it| it.by);
        self.person.into_iter().chain(corrections).chain(sign_offs)
    }
}

/// A column with what a person is known by, where it is not empty.
fn someone(row: &rusqlite::Row, column: usize) -> rusqlite::Result<Option<Uuid>> {
    let uid: Option<String> = row.get(column)?;
    uid.is_some().then(|| uid_in(row, column)).transpose()
}

fn corrections_of(db: &Connection, seq: i64) -> rusqlite::Result<Vec<CarriedCorrection>> {
    let mut query = db.prepare_cached(sql::CORRECTIONS)?;
    let rows = query.query_map([seq], |row| {
        let what: String = row.get(4)?;
        Ok(CarriedCorrection {
            uid: uid_in(row, 0)?,
            at: time_in(row, 1)?,
            by: someone(row, 6)?,
            why: row.get(3)?,
            what: match what.as_str() {
                VOID => CarriedWhat::Void,
                PERSON => CarriedWhat::Person(someone(row, 7)?),
                _ => CarriedWhat::Note,
            },
        })
    })?;
    rows.collect()
}

fn sign_offs_of(db: &Connection, seq: i64) -> rusqlite::Result<Vec<CarriedSignOff>> {
    let mut query = db.prepare_cached(sql::SIGN_OFFS)?;
    let rows = query.query_map([seq], |row| {
        Ok(CarriedSignOff {
            uid: uid_in(row, 0)?,
            at: time_in(row, 1)?,
            by: someone(row, 4)?,
            note: row.get(3)?,
        })
    })?;
    rows.collect()
}

fn take_in(db: &Connection, carried: &Carried) -> rusqlite::Result<TakenIn> {
    let mut taken = TakenIn::default();
    for person in &carried.people {
        taken.people += u64::from(take_person(db, person)?);
    }
    for class in &carried.classes {
        let Some(name) = tidy(&class.name) else {
            continue;
        };
        let id = class_of(db, &name)?;
        for member in &class.members {
            if let Some(person) = known(db, Some(*member))? {
                join(db, id, person)?;
            }
        }
    }
    for it in &carried.attempts {
        let uid = it.attempt.uid;
        let seq = match seq_of(db, uid)? {
            Some(seq) => {
                taken.known += 1;
                let same = read_kept(db, uid)?.is_some_and(|here| {
                    let here_alone = Attempt {
                        trainee: None,
                        ..here.attempt
                    };
                    here_alone == it.attempt && here.findings == it.findings
                });
                if !same {
                    taken.differing.push(uid);
                    continue;
                }
                seq
            }
            None => {
                taken.attempts += 1;
                let origin = Origin {
                    store: it.origin,
                    at: it.recorded_at,
                };
                let person = known(db, it.person)?;
                insert(db, &it.attempt, &it.findings, person, &origin)?
            }
        };
        taken.remarks += take_remarks(db, seq, it)?;
    }
    for due in &carried.due {
        if let Some(person) = known(db, Some(due.person))? {
            let scenario = due.scenario.as_deref().unwrap_or_default();
            let (uid, on, at) = (due.uid.to_string(), due.on.to_string(), due.at.to_string());
            db.execute(sql::DUE_ADD, (uid, person.0, scenario, on, at))?;
        }
    }
    Ok(taken)
}

/// Corrections and sign-offs that are not here yet: how many.
fn take_remarks(db: &Connection, seq: i64, it: &CarriedAttempt) -> rusqlite::Result<u64> {
    let mut taken = 0;
    let is_here = |query: &str, uid: Uuid| -> rusqlite::Result<bool> {
        db.query_row(query, [uid.to_string()], |row| row.get(0))
    };
    for made in &it.corrections {
        if is_here(sql::CORRECTION_KNOWN, made.uid)? {
            continue;
        }
        let by = known_or_nobody(db, made.by)?;
        let (what, person) = match made.what {
            CarriedWhat::Void => (VOID, None),
            CarriedWhat::Person(person) => (PERSON, Some(known_or_nobody(db, person)?.0)),
            CarriedWhat::Note => (NOTE, None),
        };
        let (uid, at) = (made.uid.to_string(), made.at.to_string());
        let row = (uid, seq, at, by.0, &made.why, what, person);
        db.execute(sql::CORRECTION_ADD, row)?;
        taken += 1;
    }
    for made in &it.sign_offs {
        if is_here(sql::SIGN_OFF_KNOWN, made.uid)? {
            continue;
        }
        let by = known_or_nobody(db, made.by)?;
        let (uid, at) = (made.uid.to_string(), made.at.to_string());
        db.execute(sql::SIGN_OFF_ADD, (uid, seq, at, by.0, &made.note))?;
        taken += 1;
    }
    Ok(taken)
}

/// Takes a person in under the id that they have elsewhere: whoever has the same name and number is the
/// same person. True where they are new.
fn take_person(db: &Connection, person: &CarriedPerson) -> rusqlite::Result<bool> {
    let uid = person.uid.to_string();
    let is_forgotten: bool = db.query_row(sql::FORGOTTEN, [&uid], |row| row.get(0))?;
    let Some(name) = tidy(&person.name).filter(|_| !is_forgotten) else {
        return Ok(false);
    };
    if known(db, Some(person.uid))?.is_some() {
        return Ok(false);
    }
    let key = key_of(&name);
    let number = tidy(&person.number).unwrap_or_default();
    let by_name: Option<i64> = db
        .query_row(sql::PERSON_BY_KEY, (&key, &number), |row| row.get(0))
        .optional()?;
    match by_name {
        Some(id) => {
            db.execute(sql::ALIAS_ADD, (uid, id))?;
            Ok(false)
        }
        None => {
            db.execute(sql::PERSON_ADD, (uid, name, key, number))?;
            Ok(true)
        }
    }
}

/// Who goes by an id here.
fn known(db: &Connection, uid: Option<Uuid>) -> rusqlite::Result<Option<PersonId>> {
    let Some(uid) = uid else {
        return Ok(None);
    };
    let mut query = db.prepare_cached(sql::PERSON_BY_UID)?;
    let id = query
        .query_row([uid.to_string()], |row| row.get(0))
        .optional()?;
    Ok(id.map(PersonId))
}

/// Who goes by an id here, or else somebody without a name.
fn known_or_nobody(db: &Connection, uid: Option<Uuid>) -> rusqlite::Result<PersonId> {
    match known(db, uid)? {
        Some(person) => Ok(person),
        None => {
            db.execute(sql::NOBODY_ADD, [])?;
            Ok(PersonId(db.last_insert_rowid()))
        }
    }
}
