//! People, the classes that they are in, and forgetting them.

use rusqlite::{Connection, OptionalExtension};
use uuid::Uuid;

use super::error::RecordsError;
use super::sql;
use super::store::Records;
use crate::texts::Message;

/// Longest name, in characters.
const LONGEST: usize = 80;
/// With which a cell of a table would be taken for a formula.
const FORMULA: [char; 4] = ['=', '+', '-', '@'];

/// By what a person is known in this store.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PersonId(pub(super) i64);

/// By what a class is known in this store.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClassId(pub(super) i64);

/// Somebody who has a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    pub id: PersonId,
    /// By what they are known to other stores.
    pub uid: Uuid,
    pub name: String,
    /// Tells people of one name apart; mostly empty.
    pub number: String,
}

impl Person {
    /// Their name, with the number where they have one.
    pub fn said(&self) -> Message {
        let said = match self.number.is_empty() {
            true => Message::new("records-name"),
            false => Message::new("records-name-number").with("number", self.number.as_str()),
        };
        said.with("name", self.name.as_str())
    }

    /// By what an attempt that they are about to make is theirs, and nobody else's of the same name.
    pub fn named(&self) -> String {
        match self.number.is_empty() {
            true => self.name.clone(),
            false => format!("{} #{}", self.name, self.number),
        }
    }
}

/// A name as it is written: one line, single spaces, no longer than fits, nothing that a table would
/// take for a formula. Nothing where nothing is left.
pub fn tidy(name: &str) -> Option<String> {
    let plain: String = name
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let plain = plain.trim_start_matches(|c: char| c.is_whitespace() || FORMULA.contains(&c));
    let words: Vec<&str> = plain.split_whitespace().collect();
    let name: String = words.join(" ").chars().take(LONGEST).collect();
    let name = name.trim_end().to_owned();
    (!name.is_empty()).then_some(name)
}

/// A name as it is compared.
pub fn key_of(name: &str) -> String {
    tidy(name).unwrap_or_default().to_lowercase()
}

/// A name that is given on purpose: as it is written, or told.
fn given(name: &str) -> Result<String, RecordsError> {
    let tidied = tidy(name);
    let plain: Vec<&str> = name.split_whitespace().collect();
    match tidied {
        Some(tidied) if tidied == plain.join(" ") => Ok(tidied),
        _ => Err(Message::new("records-bad-name")
            .with("name", name.escape_debug().to_string())
            .with("longest", LONGEST)
            .into()),
    }
}

/// The person of a name, who is added where there is none. None where the name is none.
pub(super) fn person_of(
    db: &Connection,
    name: &str,
    number: &str,
) -> rusqlite::Result<Option<PersonId>> {
    let Some(name) = tidy(name) else {
        return Ok(None);
    };
    let key = key_of(&name);
    let number = tidy(number).unwrap_or_default();
    let mut known = db.prepare_cached(sql::PERSON_MEANT)?;
    let known = known
        .query_row((&key, &number), |row| row.get(0))
        .optional()?;
    if let Some(id) = known {
        return Ok(Some(PersonId(id)));
    }
    let uid = Uuid::new_v4().to_string();
    db.execute(sql::PERSON_ADD, (uid, &name, &key, &number))?;
    Ok(Some(PersonId(db.last_insert_rowid())))
}

/// Whoever is meant by a name, or by a name and a number as [`Person::named`] writes them.
pub(super) fn person_named(db: &Connection, name: &str) -> rusqlite::Result<Option<PersonId>> {
    if let Some((name, number)) = name.rsplit_once('#') {
        let by = (key_of(name), tidy(number).unwrap_or_default());
        let mut known = db.prepare_cached(sql::PERSON_BY_KEY)?;
        let known = known.query_row(by, |row| row.get(0)).optional()?;
        if let Some(id) = known {
            return Ok(Some(PersonId(id)));
        }
    }
    person_of(db, name, "")
}

impl Records {
    /// Adds people, and a class where one is named; those who are there already stay as they are. Says
    /// how many were new.
    ///
    /// # Errors
    /// Where a name is none, or they cannot be written.
    pub fn add_people(
        &mut self,
        names: &[String],
        number: &str,
        class: Option<&str>,
    ) -> Result<u64, RecordsError> {
        let names: Vec<String> = names
            .iter()
            .map(|name| given(name))
            .collect::<Result<_, _>>()?;
        if !number.is_empty() {
            given(number)?;
        }
        let class = class.map(given).transpose()?;
        let fault = self.fault();
        self.as_one(|db| {
            let count = || db.query_row(sql::PEOPLE_COUNT, [], |row| row.get::<_, i64>(0));
            let before = count().map_err(&fault)?;
            let class = class
                .map(|class| class_of(db, &class).map_err(&fault))
                .transpose()?;
            for name in &names {
                let person = person_of(db, name, number).map_err(&fault)?;
                if let (Some(class), Some(person)) = (class, person) {
                    join(db, class, person).map_err(&fault)?;
                }
            }
            Ok(count().map_err(&fault)?.abs_diff(before))
        })
    }

    /// Adds a class.
    ///
    /// # Errors
    /// Where the name is none, or it cannot be written.
    pub fn add_class(&mut self, name: &str) -> Result<(), RecordsError> {
        self.add_people(&[], "", Some(name)).map(|_| ())
    }

    /// Everybody who has a name, of a class or at all.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn people(&self, class: Option<ClassId>) -> Result<Vec<Person>, RecordsError> {
        self.people_by(sql::PEOPLE, class)
    }

    fn people_by(&self, sql: &str, class: Option<ClassId>) -> Result<Vec<Person>, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare(sql).map_err(&fault)?;
        let rows = query.query_map([class.map(|class| class.0)], person_in);
        rows.and_then(Iterator::collect).map_err(fault)
    }

    /// Those who may learn something, in the order of their names: whoever has only signed off what others
    /// did is none of them. Without a class everybody is asked for.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn trainees(&self, class: Option<ClassId>) -> Result<Vec<Person>, RecordsError> {
        self.people_by(sql::TRAINEES, class)
    }

    /// Classes with how many are in them.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn classes(&self) -> Result<Vec<(String, u64)>, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare(sql::CLASSES).map_err(&fault)?;
        let rows = query.query_map([], |row| {
            Ok((row.get(0)?, row.get::<_, i64>(1)?.unsigned_abs()))
        });
        rows.and_then(Iterator::collect).map_err(fault)
    }

    /// Who it is, by name, by name and number after a `#`, or by what they are known to others.
    ///
    /// # Errors
    /// Where there is nobody, or more than one.
    pub fn find_person(&self, asked: &str) -> Result<Person, RecordsError> {
        let (name, number) = match asked.rsplit_once('#') {
            Some((name, number)) => (name, Some(number.trim())),
            None => (asked, None),
        };
        let fault = self.fault();
        let mut query = self.db.prepare(sql::PEOPLE_NAMED).map_err(&fault)?;
        let by = [key_of(name)];
        let rows = query.query_map(by, person_in);
        let mut found: Vec<Person> = rows.and_then(Iterator::collect).map_err(fault)?;
        found.retain(|person| number.is_none_or(|number| person.number == number));
        let message = |id: &'static str| Message::new(id).with("name", asked);
        match found.len() {
            1 => Ok(found.remove(0)),
            0 => Err(message("records-no-person").into()),
            _ => {
                let numbers: Vec<&str> = found.iter().map(|it| it.number.as_str()).collect();
                Err(message("records-several-people")
                    .with("numbers", numbers.join(", "))
                    .into())
            }
        }
    }

    /// Which class it is, and how its name is written.
    ///
    /// # Errors
    /// Where there is none.
    pub fn find_class(&self, asked: &str) -> Result<(ClassId, String), RecordsError> {
        let fault = self.fault();
        let found = self
            .db
            .query_row(sql::CLASS_BY_KEY, [key_of(asked)], |row| {
                Ok((ClassId(row.get(0)?), row.get(1)?))
            })
            .optional();
        found
            .map_err(fault)?
            .ok_or_else(|| Message::new("records-no-class").with("name", asked).into())
    }

    /// Takes out of the store who somebody was. Their attempts stay, as nobody's. Returns the names of
    /// the recordings that were made of them.
    ///
    /// # Errors
    /// Where it cannot be written; then nothing is taken out.
    pub fn forget(&mut self, person: &Person) -> Result<Vec<String>, RecordsError> {
        let fault = self.fault();
        let id = person.id.0;
        let recordings = self.as_one(|db| {
            let mut query = db.prepare(sql::RECORDINGS_OF).map_err(&fault)?;
            let rows = query.query_map([id], |row| row.get(0));
            let recordings = rows.and_then(Iterator::collect).map_err(&fault)?;
            for step in sql::FORGET {
                // Not every step names the person twice, but every one once.
                db.execute(step, [id]).map_err(&fault)?;
            }
            Ok(recordings)
        })?;
        self.scrub()?;
        Ok(recordings)
    }
}

fn person_in(row: &rusqlite::Row) -> rusqlite::Result<Person> {
    Ok(Person {
        id: PersonId(row.get(0)?),
        uid: uid_in(row, 1)?,
        name: row.get(2)?,
        number: row.get(3)?,
    })
}

/// A column that holds what something is known by.
pub(super) fn uid_in(row: &rusqlite::Row, column: usize) -> rusqlite::Result<Uuid> {
    let text: String = row.get(column)?;
    Uuid::parse_str(&text).map_err(|error| unreadable(column, error))
}

/// A column that does not hold what it should.
pub(super) fn unreadable(
    column: usize,
    error: impl std::error::Error + Send + Sync + 'static,
) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(column, rusqlite::types::Type::Text, Box::new(error))
}

pub(super) fn class_of(db: &Connection, name: &str) -> rusqlite::Result<ClassId> {
    let key = key_of(name);
    db.execute(sql::CLASS_ADD, (name, &key))?;
    db.query_row(sql::CLASS_BY_KEY, [key], |row| row.get(0))
        .map(ClassId)
}

pub(super) fn join(db: &Connection, class: ClassId, person: PersonId) -> rusqlite::Result<()> {
    db.execute(sql::MEMBER_ADD, (class.0, person.0)).map(|_| ())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn records() -> (tempfile::TempDir, Records) {
        let folder = tempfile::tempdir().unwrap();
        let records = Records::open(&folder.path().join("r.sqlite")).unwrap();
        (folder, records)
    }

    fn names(names: &[&str]) -> Vec<String> {
        names.iter().map(|&name| name.to_owned()).collect()
    }

    #[test]
    fn names_are_tidied_and_compared_as_people_mean_them() {
        assert_eq!(tidy("  Ana\t\n  Núñez "), Some("Ana Núñez".to_owned()));
        assert_eq!(tidy("=2+3"), Some("2+3".to_owned()));
        assert_eq!(tidy(" -- @=+ "), None);
        assert_eq!(tidy(""), None);
        assert_eq!(tidy(&"x".repeat(500)).unwrap().len(), LONGEST);
        assert_eq!(key_of(" ÁNA  núñez"), key_of("Ána Núñez"));
    }

    #[test]
    fn people_and_classes_are_added_once() {
        let (_folder, mut records) = records();
        let both = names(&["Ana Núñez", "Bo Lund"]);
        assert_eq!(records.add_people(&both, "", Some("Spring")).unwrap(), 2);
        assert_eq!(records.add_people(&both, "", Some("spring")).unwrap(), 0);
        assert_eq!(
            records.add_people(&names(&["Bo Lund"]), "7", None).unwrap(),
            1
        );
        assert_eq!(records.classes().unwrap(), [("Spring".to_owned(), 2)]);
        let (class, written) = records.find_class("SPRING").unwrap();
        assert_eq!(written, "Spring");
        assert_eq!(records.people(Some(class)).unwrap().len(), 2);
        assert_eq!(records.people(None).unwrap().len(), 3);
        assert_eq!(records.find_person("ana núñez").unwrap().name, "Ana Núñez");
        let id = |asked: &str| records.find_person(asked).unwrap_err().message();
        assert_eq!(id("Bo Lund").id(), "records-several-people");
        assert_eq!(id("Cy").id(), "records-no-person");
        assert_eq!(records.find_person("Bo Lund#7").unwrap().number, "7");
        assert_eq!(records.find_person("Bo Lund#").unwrap().number, "");
        for bad in ["", " ", "=x", "a\nb\u{7}", &"x".repeat(81)] {
            let refused = records.add_people(&names(&["Eve", bad]), "", None);
            assert!(refused.is_err(), "{bad:?}");
        }
        assert!(records.find_person("Eve").is_err(), "all or none");
        assert!(records.find_class("none").is_err());
    }
}
