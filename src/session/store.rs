//! Where runs are kept: a folder of the user's with every recording and the records of assessments.
//!
//! ```text
//! records.sqlite    people, classes, attempts: see `crate::records`
//! recordings/       one file a run; while it goes on it ends in `.part`
//! scenarios/        the user's own
//! laboratory/       one folder a sweep: what was set up, its rows, its sheet
//! settings.ron
//! ```

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use directories::ProjectDirs;
use jiff::Timestamp;
use xxhash_rust::xxh3::xxh3_64;

use super::course::{Course, Ticket};
use super::finished::{Failed, Finished};
use super::mode::Mode;
use super::run::Run;
use crate::evidence::{ENDING, OutputError, part_of};
use crate::operator::Ending;
use crate::records::{self, Attempt, Found, Records, RecordsError, Which};
use crate::texts::{Lang, Message};

/// Names another folder to keep everything in.
const FOLDER_VARIABLE: &str = "CHOCKLINE_DATA";

/// Why something is not kept.
#[derive(Debug)]
pub enum StoreError {
    /// The system names no folder for a program's data.
    NoFolder,
    Io {
        path: PathBuf,
        source: io::Error,
    },
    Output(OutputError),
    Records(RecordsError),
}

impl StoreError {
    /// What is wrong, and what to do.
    pub fn message(&self) -> Message {
        match self {
            Self::NoFolder => Message::new("store-no-folder").with("variable", FOLDER_VARIABLE),
            Self::Io { path, source } => Message::new("output-unwritable")
                .with("file", path.display().to_string())
                .with("error", source.to_string()),
            Self::Output(error) => error.message(),
            Self::Records(error) => error.message(),
        }
    }

    pub(super) fn at(path: &Path) -> impl FnOnce(io::Error) -> Self + use<> {
        let path = path.to_owned();
        move |source| Self::Io { path, source }
    }
}

/// A scenario's text in sixteen hexadecimal digits: results belong to the text that was run.
pub fn hash_of(text: &str) -> String {
    format!("{:016x}", xxh3_64(text.as_bytes()))
}

/// A time as a part of a file's name.
fn letters_of(at: Timestamp) -> String {
    let text = at.to_string();
    text.chars().filter(|c| c.is_ascii_alphanumeric()).collect()
}

/// See the module's text.
#[derive(Clone, Debug)]
pub struct Store {
    folder: PathBuf,
}

impl Store {
    /// In the user's folder for data, or the one that the environment names.
    ///
    /// # Errors
    /// Where there is none, or it cannot be written to.
    pub fn open() -> Result<Self, StoreError> {
        let named = std::env::var_os(FOLDER_VARIABLE).filter(|value| !value.is_empty());
        let usual =
            || ProjectDirs::from("", "", env!("CARGO_PKG_NAME")).map(|dirs| dirs.data_dir().into());
        let folder = named.map(PathBuf::from).or_else(usual);
        Self::at(&folder.ok_or(StoreError::NoFolder)?)
    }

    /// In a folder, which is made where it is not there.
    ///
    /// # Errors
    /// Where it cannot be written to.
    pub fn at(folder: &Path) -> Result<Self, StoreError> {
        let store = Self {
            folder: folder.to_owned(),
        };
        let folder = store.recordings();
        fs::create_dir_all(&folder).map_err(StoreError::at(&folder))?;
        Ok(store)
    }

    pub fn settings(&self) -> PathBuf {
        self.folder.join("settings.ron")
    }

    /// The user's own scenarios.
    pub fn scenarios(&self) -> PathBuf {
        self.folder.join("scenarios")
    }

    /// Reports that were asked for.
    pub fn reports(&self) -> PathBuf {
        self.folder.join("reports")
    }

    /// A folder for a sweep of the laboratory that begins now; it is not made yet.
    pub fn new_sweep(&self) -> PathBuf {
        let folder = self.folder.join("laboratory");
        let name = letters_of(Timestamp::now());
        let numbered = (2..).map(|number: u32| folder.join(format!("{name}_{number}")));
        let mut places = std::iter::once(folder.join(&name)).chain(numbered);
        places.find(|place| !place.exists()).unwrap_or(folder)
    }

    pub fn recordings(&self) -> PathBuf {
        self.folder.join("recordings")
    }

    /// The file of a recording.
    pub(super) fn file_of(&self, ticket: &Ticket) -> PathBuf {
        self.recordings().join(file_name(&ticket.id))
    }

    /// The file of the records.
    pub fn records_file(&self) -> PathBuf {
        self.folder.join(records::FILE)
    }

    /// The records, to write to them.
    ///
    /// # Errors
    /// Where they cannot be written.
    pub fn records(&self) -> Result<Records, StoreError> {
        Records::open(&self.records_file()).map_err(StoreError::Records)
    }

    /// The recording of a result.
    pub fn recording_of(&self, row: &Attempt) -> Option<PathBuf> {
        self.recording_named(row.recording.as_ref()?)
    }

    /// A recording by the name of its file.
    pub fn recording_named(&self, file: &str) -> Option<PathBuf> {
        // A name, and nothing that leads elsewhere.
        let name = Path::new(file).file_name()?;
        Some(self.recordings().join(name))
    }

    /// Puts a run down that begins now. It is written down from here on, so that an assessment ends as
    /// a result whatever becomes of the program.
    ///
    /// # Errors
    /// Where it cannot be put down: then an assessment must not begin.
    pub fn begin(&self, run: &mut Run) -> Result<(), StoreError> {
        // What could not be kept must not begin.
        let records = match run.mode().counts() {
            true => Some(self.records()?),
            false => None,
        };
        let ticket = self.ticket(run.course(), records.as_ref())?;
        let path = self.file_of(&ticket);
        run.put_down(ticket);
        run.record(&path).map_err(StoreError::at(&path))
    }

    /// A name that no run has yet.
    fn ticket(&self, course: &Course, records: Option<&Records>) -> Result<Ticket, StoreError> {
        let now = Timestamp::now();
        let at = Timestamp::from_millisecond(now.as_millisecond()).unwrap_or(now);
        let when = letters_of(at);
        let scenario: String = course
            .id
            .chars()
            .map(|c| if c.is_alphanumeric() { c } else { '-' })
            .collect();
        let name = format!("{when}-{scenario}");
        let is_free = |name: &str| -> Result<bool, RecordsError> {
            let recording = self.recordings().join(file_name(name));
            // A clock that was put back comes to the same time again.
            let known = records.map_or(Ok(false), |records| records.has_ticket(name))?;
            Ok(!recording.exists() && !part_of(&recording).exists() && !known)
        };
        let mut id = name.clone();
        let mut number = 1;
        while !is_free(&id).map_err(StoreError::Records)? {
            number += 1;
            id = format!("{name}-{number}");
        }
        Ok(Ticket { id, at })
    }

    /// What is known of an assessment when it begins: it was broken off.
    ///
    /// # Errors
    /// Where there are no records that it could belong to.
    pub(super) fn begun(
        &self,
        ticket: &Ticket,
        scenario: &str,
        text: &str,
        seed: u64,
        mode: Mode,
        trainee: Option<&str>,
    ) -> Result<Attempt, StoreError> {
        let hash = hash_of(text);
        let whose = trainee.unwrap_or_default();
        let uid = self.records()?.uid_for(&[&ticket.id, &hash, whose]);
        Ok(Attempt {
            uid,
            ticket: ticket.id.clone(),
            at: ticket.at,
            trainee: trainee.map(str::to_owned),
            scenario: scenario.to_owned(),
            scenario_hash: hash,
            titles: Default::default(),
            seed,
            mode: mode.word().to_owned(),
            passed: false,
            points: 0.0,
            pass_mark: 0.0,
            ended: Some(Ending::BrokenOff),
            outcome: None,
            duration_s: 0.0,
            breaks: 0,
            breaks_s: 0.0,
            recording: None,
            program: env!("CARGO_PKG_VERSION").to_owned(),
        })
    }

    fn course_begun(&self, course: &Course, ticket: &Ticket) -> Result<Attempt, StoreError> {
        let text = &course.loaded.text;
        let whose = course.trainee.as_deref();
        let begun = self.begun(ticket, &course.id, text, course.seed, course.mode, whose)?;
        let title = |lang: Lang| (lang.code().to_owned(), course.scenario().texts(lang).name);
        Ok(Attempt {
            titles: Lang::ALL.map(title).into(),
            pass_mark: course.scenario().scoring.pass_mark,
            ..begun
        })
    }

    /// Keeps the recording of a run and, of an assessment, its result.
    ///
    /// # Errors
    /// Where they cannot be written; an assessment then stays written down, and is settled when the
    /// program starts again.
    pub fn keep(&self, finished: &mut Finished) -> Result<Option<Attempt>, StoreError> {
        let ticket = match &finished.ticket {
            Some(ticket) => ticket.clone(),
            None => self.ticket(&finished.course, None)?,
        };
        finished.ticket = Some(ticket.clone());
        finished.recording.head.id.clone_from(&ticket.id);
        if !finished.course.mode.counts() {
            finished
                .write_recording(&self.file_of(&ticket))
                .map_err(StoreError::Output)?;
            return Ok(None);
        }
        let played = &finished.played;
        let row = Attempt {
            passed: played.verdict.score.passed,
            points: played.verdict.score.points,
            ended: Some(played.ending),
            outcome: Some(finished.outcome),
            duration_s: played.line.time_s(),
            breaks: finished.breaks.count,
            breaks_s: finished.breaks.total_s,
            recording: Some(file_name(&ticket.id)),
            ..self.course_begun(&finished.course, &ticket)?
        };
        // As long as the recording is not in its place the result is looked for when the program
        // starts; so it comes first.
        self.add(&row, &Found::of(&played.verdict))?;
        finished
            .write_recording(&self.file_of(&ticket))
            .map_err(StoreError::Output)?;
        Ok(Some(row))
    }

    /// Puts an assessment down in which the simulation itself failed.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn keep_failed(&self, failed: &mut Failed) -> Result<Option<Attempt>, StoreError> {
        let ticket = match &failed.ticket {
            Some(ticket) => ticket.clone(),
            None => self.ticket(&failed.course, None)?,
        };
        failed.ticket = Some(ticket.clone());
        if !failed.course.mode.counts() {
            return Ok(None);
        }
        let row = Attempt {
            ended: None,
            duration_s: failed.duration_s,
            breaks: failed.breaks.count,
            breaks_s: failed.breaks.total_s,
            ..self.course_begun(&failed.course, &ticket)?
        };
        self.add(&row, &[])?;
        if let Some(file) = failed.file.take() {
            file.discard();
        }
        Ok(Some(row))
    }

    /// Adds a result: on the disk when this returns.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub(super) fn add(&self, row: &Attempt, findings: &[Found]) -> Result<(), StoreError> {
        let mut records = self.records()?;
        records.add(row, findings).map_err(StoreError::Records)
    }

    /// All results that count, in the order in which they were added, and what is wrong with the
    /// records.
    pub fn results(&self) -> (Vec<Attempt>, Vec<Message>) {
        let read = || -> Result<Vec<Attempt>, RecordsError> {
            match self.records_file().exists() {
                true => Records::open_to_read(&self.records_file())?.attempts(Which::default()),
                false => Ok(Vec::new()),
            }
        };
        match read() {
            Ok(rows) => (rows, Vec::new()),
            Err(error) => (Vec::new(), vec![error.message()]),
        }
    }
}

fn file_name(id: &str) -> String {
    format!("{id}.{ENDING}")
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::scenario::parse;
    use crate::session::library::shipped;

    fn course(id: &str) -> Course {
        let loaded = parse("first-release.ron", shipped("first-release.ron").unwrap()).unwrap();
        Course::new(id, Arc::new(loaded), Mode::Assessed)
    }

    #[test]
    fn a_run_that_could_not_be_kept_does_not_begin() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        fs::write(store.records_file(), [7; 4000]).unwrap();
        let begin = |mode| {
            let course = Course {
                mode,
                ..course("first-release")
            };
            store.begin(&mut course.set_out(Default::default()).unwrap())
        };
        let refused = begin(Mode::Assessed).unwrap_err();
        assert_eq!(refused.message().id(), "records-damaged");
        assert!(begin(Mode::Practice).is_ok(), "it counts for nothing");
        let (rows, faults) = store.results();
        assert!(rows.is_empty() && faults.len() == 1);
        assert_eq!(fs::read(store.records_file()).unwrap(), [7; 4000]);
    }

    #[test]
    fn names_are_names_of_files_and_never_taken_twice() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let course = course("../../a b");
        let ids: Vec<String> = (0..20)
            .map(|_| {
                let id = store.ticket(&course, None).unwrap().id;
                fs::write(store.recordings().join(file_name(&id)), "").unwrap();
                id
            })
            .collect();
        let unlike: std::collections::BTreeSet<&String> = ids.iter().collect();
        assert_eq!(unlike.len(), ids.len());
        assert!(
            ids.iter()
                .all(|id| id.ends_with("a-b") || id.contains("a-b-"))
        );
        assert!(ids.iter().all(|id| !id.contains(['/', '.', ':', '\\'])));
        let path = store.recording_named("../records.sqlite").unwrap();
        assert_eq!(path, store.recordings().join("records.sqlite"));
    }

    /// A clock that comes to the same time again does not take a name twice, also where the recording
    /// is gone.
    #[test]
    fn a_name_that_is_in_the_records_is_taken() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let course = course("first-release");
        let mut records = store.records().unwrap();
        let ticket = store.ticket(&course, Some(&records)).unwrap();
        let row = store.course_begun(&course, &ticket).unwrap();
        assert!(!records.has_ticket(&ticket.id).unwrap());
        records.add(&row, &[]).unwrap();
        assert!(records.has_ticket(&ticket.id).unwrap());
        assert_eq!(store.results().0, [row]);
    }
}
