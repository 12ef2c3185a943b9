//! Reads and writes the records for the screen, on a thread of its own: another program that writes at
//! the same moment keeps the clerk waiting, and never the window. The file is opened for every piece of
//! work, so that a backup that is put back meanwhile is what is worked with.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, TryRecvError, channel};
use std::thread;
use std::time::{Duration, SystemTime};

use jiff::civil::Date;
use uuid::Uuid;

use crate::records::{
    Attempt, Correction, Due, Exercise, Kept, Person, PersonId, Records, RecordsError, Summary,
};
use crate::texts::{Lang, Message};

/// How often it is looked whether another program has written to the records.
const LOOK_EVERY: Duration = Duration::from_secs(1);

/// What is to be seen of the records.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Query {
    /// Tells this one from those before it.
    pub number: u64,
    /// None for everybody.
    pub class: Option<String>,
    pub person: Option<PersonId>,
    /// What there is to teach.
    pub exercises: Vec<Exercise>,
    pub lang: Lang,
}

/// What is to be written.
#[derive(Clone, Debug, PartialEq)]
pub enum Write {
    Class(String),
    People {
        names: Vec<String>,
        number: String,
        class: Option<String>,
    },
    SignOff {
        attempt: Uuid,
        by: String,
        note: String,
    },
    Due {
        person: Person,
        scenario: Option<String>,
        on: Date,
    },
    Void {
        attempt: Uuid,
        by: String,
        why: String,
    },
}

/// The records as they are now.
#[derive(Clone, Debug, Default)]
pub struct Seen {
    pub classes: Vec<(String, u64)>,
    /// The class that is shown, as its name is written; none for everybody.
    pub class: Option<String>,
    pub people: Vec<Person>,
    /// How many people there are in all.
    pub everybody: u64,
    pub last: Vec<(PersonId, Attempt)>,
    pub due: Vec<Due>,
    pub summary: Summary,
    /// The attempts of the person who is looked at.
    pub kept: Vec<Kept>,
}

/// What the clerk says.
#[derive(Debug)]
pub enum Told {
    /// What was asked for by the query of a number.
    Seen(u64, Box<Seen>),
    /// It cannot be read now; it is tried again.
    Unread(Message),
    Written(Message),
    /// Nothing of it was written.
    Refused(Message),
}

enum Ask {
    Look(Box<Query>),
    Write(Box<(Write, Query)>),
}

/// See the module's text.
pub struct Clerk {
    asks: Sender<Ask>,
    told: Receiver<Told>,
}

impl Clerk {
    /// Of the records in a file, which need not be there yet.
    pub fn new(file: PathBuf) -> Self {
        let (asks, asked) = channel();
        let (tell, told) = channel();
        thread::spawn(move || work(&file, &asked, &tell));
        Self { asks, told }
    }

    /// From now on this is to be seen.
    pub fn look(&self, query: Query) {
        // Where nobody works any more, that is heard.
        let _ = self.asks.send(Ask::Look(Box::new(query)));
    }

    /// Writes, and from then on this is to be seen.
    pub fn write(&self, write: Write, query: Query) {
        let _ = self.asks.send(Ask::Write(Box::new((write, query))));
    }

    /// What there is to be heard.
    ///
    /// # Errors
    /// Where nobody works any more.
    pub fn hear(&self) -> Result<Option<Told>, Message> {
        match self.told.try_recv() {
            Ok(told) => Ok(Some(told)),
            Err(TryRecvError::Empty) => Ok(None),
            Err(TryRecvError::Disconnected) => Err("trainer-thread-lost".into()),
        }
    }
}

fn work(file: &Path, asked: &Receiver<Ask>, tell: &Sender<Told>) {
    let mut query: Option<Query> = None;
    let mut known = None;
    loop {
        match asked.recv_timeout(LOOK_EVERY) {
            Ok(Ask::Look(asked)) => {
                query = Some(*asked);
                known = None;
            }
            Ok(Ask::Write(asked)) => {
                let (what, next) = *asked;
                let told = match write(file, what) {
                    Ok(done) => Told::Written(done),
                    Err(error) => Told::Refused(error.message()),
                };
                if tell.send(told).is_err() {
                    return;
                }
                query = Some(next);
                known = None;
            }
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return,
        }
        let now = Some(stamp(file));
        let Some(query) = query.as_ref().filter(|_| now != known) else {
            continue;
        };
        let told = match look(file, query) {
            Ok(seen) => {
                known = now;
                Told::Seen(query.number, Box::new(seen))
            }
            Err(error) => Told::Unread(error.message()),
        };
        if tell.send(told).is_err() {
            return;
        }
    }
}

/// Length and last writing of the file and of its log: other ones where something was written.
fn stamp(file: &Path) -> [Option<(u64, SystemTime)>; 2] {
    let mut log = file.as_os_str().to_owned();
    log.push("-wal");
    [file, Path::new(&log)].map(|path| {
        let found = fs::metadata(path).ok()?;
        Some((found.len(), found.modified().ok()?))
    })
}

fn look(file: &Path, query: &Query) -> Result<Seen, RecordsError> {
    if !file.exists() {
        return Ok(Seen::default());
    }
    let records = Records::open_to_read(file)?;
    let classes = records.classes()?;
    // One that is not there any more is everybody.
    let class = query.class.as_deref();
    let class = class.and_then(|name| records.find_class(name).ok());
    let (id, class) = class.unzip();
    let person = query.person;
    let kept = person.map(|person| records.kept_of(person)).transpose()?;
    Ok(Seen {
        classes,
        class,
        people: records.people(id)?,
        everybody: records.people(None)?.len() as u64,
        last: records.last_attempts(id)?,
        due: records.due(id)?,
        summary: records.summary(id, &query.exercises, query.lang)?,
        kept: kept.unwrap_or_default(),
    })
}

/// Writes it; says what was done.
fn write(file: &Path, what: Write) -> Result<Message, RecordsError> {
    let mut records = Records::open(file)?;
    match what {
        Write::Class(name) => {
            records.add_class(&name)?;
            Ok(Message::new("trainer-class-made").with("class", name))
        }
        Write::People {
            names,
            number,
            class,
        } => {
            let new = records.add_people(&names, &number, class.as_deref())?;
            Ok(Message::new("records-added").with("new", new))
        }
        Write::SignOff { attempt, by, note } => {
            records.sign_off(attempt, &by, &note, None)?;
            Ok(Message::new("trainer-is-signed").with("by", by))
        }
        Write::Due {
            person,
            scenario,
            on,
        } => {
            records.set_due(&person, scenario.as_deref(), on)?;
            Ok(Message::new("records-due-set")
                .with("name", person.name)
                .with("date", on.to_string()))
        }
        Write::Void { attempt, by, why } => {
            records.correct(attempt, &Correction::Void, &by, &why)?;
            Ok("trainer-is-void".into())
        }
    }
}
