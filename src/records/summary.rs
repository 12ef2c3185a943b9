//! A class at a glance: who passed what, what is found most, how results go on from attempt to attempt,
//! and what to teach next.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::attempts::{known_kind, title_in};
use super::error::RecordsError;
use super::people::{ClassId, PersonId, unreadable};
use super::sql;
use super::standing::Standing;
use super::store::Records;
use crate::domain::finding::FindingKind;
use crate::judge::explain;
use crate::texts::{Lang, Message};

/// Attempts after which they are counted together.
pub const LAST_ROUND: usize = 5;
/// Of the findings of a class, so many are told.
pub const MOST_FINDINGS: usize = 8;
/// Of what is still open, so many are told.
pub const MOST_OPEN: usize = 3;

/// An exercise that there is to teach, in the order in which they are taught.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exercise {
    /// The name of the scenario's file without its ending, and a hash of its text.
    pub scenario: String,
    pub hash: String,
    pub title: String,
}

/// See the module's text.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Summary {
    pub attempts: u64,
    /// Of whom nobody knows a name.
    pub nobodys: u64,
    /// Those with a name, in the order of their names.
    pub people: Vec<OfPerson>,
    /// Exercises that have been tried.
    pub exercises: Vec<OfExercise>,
    /// What has been found, that of the most people first.
    pub findings: Vec<OfKind>,
    /// The first, second ... attempt of a person at an exercise; the last of them holds all further
    /// ones.
    pub rounds: Vec<Round>,
    /// What was still found in the last attempts at an exercise, that of the most people first.
    pub open: Vec<OfKind>,
    /// The first exercise that not everybody masters.
    pub next: Option<OfExercise>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OfPerson {
    #[serde(skip)]
    pub id: PersonId,
    pub name: String,
    pub number: String,
    pub attempts: u64,
    /// What has come of each of the exercises of the summary.
    pub standings: Vec<Standing>,
}

#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct OfExercise {
    pub scenario: String,
    pub hash: String,
    pub title: String,
    /// Otherwise it is not taught any more, or not in this form.
    pub is_taught: bool,
    pub attempts: u64,
    /// People with a name.
    pub tried: u64,
    pub passed: u64,
    pub mastered: u64,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OfKind {
    /// The id of the kind, and the kind where this program knows it.
    pub id: String,
    pub kind: Option<FindingKind>,
    pub people: u64,
    pub times: u64,
    /// What it cost in all.
    pub points: f64,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Round {
    pub attempts: u64,
    pub passed: u64,
    /// In all.
    pub points: f64,
}

impl Round {
    /// Mean points of its attempts.
    pub fn mean(&self) -> f64 {
        self.points / self.attempts.max(1) as f64
    }

    /// Share of its attempts that were passed, 0 to 1.
    pub fn share_passed(&self) -> f64 {
        self.passed as f64 / self.attempts.max(1) as f64
    }

    /// The same in words, of the round of a number, from 0.
    pub fn said(&self, nth: usize) -> Message {
        let is_last = nth + 1 == LAST_ROUND;
        Message::new(if is_last {
            "summary-round-last"
        } else {
            "summary-round"
        })
        .with("nth", (nth + 1).to_string())
        .with("attempts", self.attempts)
        .measured("passed", 100.0 * self.share_passed(), 0)
        .measured("points", self.mean(), 0)
    }
}

impl OfExercise {
    /// Its title; of an earlier text of it, that.
    pub fn named(&self) -> Message {
        Message::new(if self.is_taught {
            "records-line"
        } else {
            "summary-earlier"
        })
        .with("text", self.title.as_str())
    }

    pub fn said(&self) -> Message {
        Message::new("summary-exercise")
            .with("title", self.named())
            .with("attempts", self.attempts)
            .with("tried", self.tried.to_string())
            .with("passed", self.passed.to_string())
            .with("mastered", self.mastered.to_string())
    }

    /// That it is to be taught next to so many people.
    pub fn next_said(&self, people: usize) -> Message {
        Message::new("summary-next-exercise")
            .with("title", self.title.as_str())
            .with("mastered", self.mastered.to_string())
            .with("people", people)
    }
}

impl OfKind {
    pub fn title(&self) -> Message {
        match self.kind {
            Some(kind) => explain(kind).title,
            None => Message::new("records-line").with("text", self.id.as_str()),
        }
    }

    pub fn said(&self) -> Message {
        Message::new("summary-finding")
            .with("title", self.title())
            .with("people", self.people)
            .with("times", self.times)
            .measured("points", self.points, 0)
    }

    /// That it has still to be taught, and what is right.
    pub fn open_said(&self) -> Message {
        let said = Message::new("summary-open")
            .with("title", self.title())
            .with("people", self.people);
        match self.kind {
            Some(kind) => Message::new("summary-open-right")
                .with("open", said)
                .with("right", explain(kind).right),
            None => said,
        }
    }
}

impl Summary {
    /// Who and how many it is about: a class by its name, or everybody.
    pub fn head(&self, class: Option<&str>) -> Message {
        let who = match class {
            Some(name) => Message::new("summary-class").with("name", name),
            None => "summary-everybody".into(),
        };
        Message::new("summary-head")
            .with("who", who)
            .with("people", self.people.len())
            .with("attempts", self.attempts)
    }
}

/// An attempt that counts.
struct Row {
    seq: i64,
    whose: Option<i64>,
    exercise: (String, String),
    seed: u64,
    passed: bool,
    points: f64,
    found: Vec<(String, f64)>,
}

impl Records {
    /// Sums up a class, or everybody. The exercises are those that there are to teach; what is not taught any
    /// more has its title in a language, as far as it had one.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn summary(
        &self,
        class: Option<ClassId>,
        exercises: &[Exercise],
        lang: Lang,
    ) -> Result<Summary, RecordsError> {
        let rows = self.rows(class).map_err(self.fault())?;
        let people = self.trainees(class)?;
        let titles = self.titles(lang).map_err(self.fault())?;
        let mut summary = Summary {
            attempts: rows.len() as u64,
            ..Summary::default()
        };
        let named: BTreeSet<i64> = people.iter().map(|person| person.id.0).collect();
        let is_named = |whose: Option<i64>| whose.is_some_and(|id| named.contains(&id));
        summary.nobodys = rows.iter().filter(|row| !is_named(row.whose)).count() as u64;

        // Of each person and exercise, in the order of writing.
        let mut series: BTreeMap<_, Vec<&Row>> = BTreeMap::new();
        for row in &rows {
            series
                .entry((row.whose, &row.exercise))
                .or_default()
                .push(row);
        }
        let standing = |person: i64, exercise: &(String, String)| {
            let own = series.get(&(Some(person), exercise)).into_iter().flatten();
            Standing::of_results(own.map(|row| (row.seed, row.passed, row.points)))
        };

        let tried: BTreeSet<&(String, String)> = rows.iter().map(|row| &row.exercise).collect();
        let keys = in_order(&tried, exercises);
        for person in &people {
            let standings = keys.iter().map(|key| standing(person.id.0, key)).collect();
            let own = rows.iter().filter(|row| row.whose == Some(person.id.0));
            summary.people.push(OfPerson {
                id: person.id,
                name: person.name.clone(),
                number: person.number.clone(),
                attempts: own.count() as u64,
                standings,
            });
        }
        let of_exercise = |key: &(String, String), title: Option<&str>| {
            let standings: Vec<Standing> = people.iter().map(|it| standing(it.id.0, key)).collect();
            let count = |is: fn(&Standing) -> bool| {
                standings.iter().filter(|standing| is(standing)).count() as u64
            };
            OfExercise {
                scenario: key.0.clone(),
                hash: key.1.clone(),
                title: match title {
                    Some(title) => title.to_owned(),
                    None => titles.get(key).unwrap_or(&key.0).clone(),
                },
                is_taught: title.is_some(),
                attempts: rows.iter().filter(|row| row.exercise == *key).count() as u64,
                tried: count(|standing| *standing != Standing::NotTried),
                passed: count(|standing| standing.is_passed()),
                mastered: count(|standing| matches!(standing, Standing::Mastered { .. })),
            }
        };
        let title_of = |key: &(String, String)| {
            let known = exercises
                .iter()
                .find(|it| (&it.scenario, &it.hash) == (&key.0, &key.1));
            known.map(|it| it.title.as_str())
        };
        summary.exercises = keys
            .iter()
            .map(|key| of_exercise(key, title_of(key)))
            .collect();
        summary.next = exercises
            .iter()
            .map(|it| of_exercise(&(it.scenario.clone(), it.hash.clone()), Some(&it.title)))
            .find(|it| it.mastered < people.len() as u64);

        summary.findings = kinds(rows.iter());
        // Whoever has not come back to it since still has to learn it.
        summary.open = kinds(
            series
                .iter()
                .filter(|((whose, _), _)| is_named(*whose))
                .filter_map(|(_, own)| own.last().copied()),
        );
        for ((whose, _), own) in &series {
            if whose.is_none() {
                continue;
            }
            for (nth, row) in own.iter().enumerate() {
                let nth = nth.min(LAST_ROUND - 1);
                if summary.rounds.len() <= nth {
                    summary.rounds.resize(nth + 1, Round::default());
                }
                if let Some(round) = summary.rounds.get_mut(nth) {
                    round.attempts += 1;
                    round.passed += u64::from(row.passed);
                    round.points += row.points;
                }
            }
        }
        Ok(summary)
    }

    /// What exercises were called when they were tried last.
    fn titles(&self, lang: Lang) -> rusqlite::Result<BTreeMap<(String, String), String>> {
        let mut query = self.db.prepare(sql::TITLES)?;
        let rows = query.query_map([], |row| {
            let (scenario, hash): (String, String) = (row.get(0)?, row.get(1)?);
            let titles: String = row.get(2)?;
            let titles = serde_json::from_str(&titles).map_err(|error| unreadable(2, error))?;
            let title = title_in(&titles, lang.code())
                .unwrap_or(&scenario)
                .to_owned();
            Ok(((scenario, hash), title))
        })?;
        rows.collect()
    }

    fn rows(&self, class: Option<ClassId>) -> rusqlite::Result<Vec<Row>> {
        // Both as they stand at one moment.
        let db = self.db.unchecked_transaction()?;
        let mut query = db.prepare(sql::SUMMARY_ATTEMPTS)?;
        let rows = query.query_map([class.map(|class| class.0)], |row| {
            let seed: String = row.get(4)?;
            Ok(Row {
                seq: row.get(0)?,
                whose: row.get(1)?,
                exercise: (row.get(2)?, row.get(3)?),
                seed: seed
                    .parse()
                    .map_err(|error: std::num::ParseIntError| unreadable(4, error))?,
                passed: row.get(5)?,
                points: row.get(6)?,
                found: Vec::new(),
            })
        })?;
        let mut rows: Vec<Row> = rows.collect::<Result<_, _>>()?;
        let mut query = db.prepare(sql::SUMMARY_FINDINGS)?;
        let mut found = query.query([])?;
        // Both in the order of writing.
        let mut at = 0;
        while let Some(row) = found.next()? {
            let seq: i64 = row.get(0)?;
            while rows.get(at).is_some_and(|row| row.seq < seq) {
                at += 1;
            }
            if let Some(attempt) = rows.get_mut(at).filter(|row| row.seq == seq) {
                attempt.found.push((row.get(1)?, row.get(2)?));
            }
        }
        Ok(rows)
    }
}

/// What has been tried: first what there is to teach, in its order, then what is not taught any more.
fn in_order(tried: &BTreeSet<&(String, String)>, exercises: &[Exercise]) -> Vec<(String, String)> {
    let taught = exercises
        .iter()
        .map(|it| (it.scenario.clone(), it.hash.clone()))
        .filter(|key| tried.contains(key));
    let mut keys: Vec<(String, String)> = taught.collect();
    for key in tried {
        if !keys.contains(key) {
            keys.push((*key).clone());
        }
    }
    keys
}

/// The kinds of what was found: that of the most people first, then that which cost the most.
fn kinds<'a>(rows: impl Iterator<Item = &'a Row>) -> Vec<OfKind> {
    #[derive(Default)]
    struct Sum {
        people: BTreeSet<i64>,
        times: u64,
        points: f64,
    }
    let mut sums: BTreeMap<&str, Sum> = BTreeMap::new();
    for row in rows {
        for (kind, points) in &row.found {
            let sum = sums.entry(kind).or_default();
            sum.people.extend(row.whose);
            sum.times += 1;
            sum.points += points;
        }
    }
    let mut kinds: Vec<OfKind> = sums
        .into_iter()
        .map(|(id, sum)| OfKind {
            id: id.to_owned(),
            kind: known_kind(id),
            people: sum.people.len() as u64,
            times: sum.times,
            points: sum.points,
        })
        .collect();
    kinds.sort_by(|a, b| {
        let people = b.people.cmp(&a.people);
        people.then(b.points.total_cmp(&a.points))
    });
    kinds
}
