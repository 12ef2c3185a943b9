//! Where runs are kept: a folder of the user's with every recording and the results of assessments.
//!
//! ```text
//! results.jsonl     one line a result, only ever added to
//! recordings/       one file a run; while it goes on it ends in `.part`
//! scenarios/        the user's own
//! laboratory/       one folder a sweep: what was set up, its rows, its sheet
//! settings.ron
//! ```

use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use directories::ProjectDirs;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use xxhash_rust::xxh3::xxh3_64;

use super::course::{Course, Ticket};
use super::finished::{Failed, Finished};
use super::mode::Mode;
use super::run::{Breaks, Run};
use crate::evidence::{ENDING, Outcome, OutputError, part_of};
use crate::operator::Ending;
use crate::texts::Message;

/// Version of the form of a result.
const FORMAT: u32 = 1;
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
    NotJson(serde_json::Error),
    Output(OutputError),
}

impl StoreError {
    /// What is wrong, and what to do.
    pub fn message(&self) -> Message {
        match self {
            Self::NoFolder => Message::new("store-no-folder").with("variable", FOLDER_VARIABLE),
            Self::Io { path, source } => Message::new("output-unwritable")
                .with("file", path.display().to_string())
                .with("error", source.to_string()),
            Self::NotJson(error) => Message::new("cli-not-json").with("error", error.to_string()),
            Self::Output(error) => error.message(),
        }
    }

    pub(super) fn at(path: &Path) -> impl FnOnce(io::Error) -> Self + use<> {
        let path = path.to_owned();
        move |source| Self::Io { path, source }
    }
}

/// The result of an assessment: one line of the file of results.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ResultRow {
    pub format: u32,
    pub id: String,
    /// When it began.
    pub at: Timestamp,
    /// The name of the scenario's file without its ending, and a hash of its text.
    pub scenario: String,
    pub scenario_hash: String,
    pub seed: u64,
    pub mode: Mode,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub trainee: Option<String>,
    pub passed: bool,
    pub points: f64,
    /// None where the simulation itself failed, which is nobody's result.
    pub ended: Option<Ending>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub outcome: Option<Outcome>,
    pub duration_s: f64,
    #[serde(default)]
    pub breaks: Breaks,
    /// The recording's file.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub recording: Option<String>,
}

impl ResultRow {
    /// Of a run of which nothing is known but that it began.
    pub(super) fn begun(
        ticket: &Ticket,
        scenario: &str,
        text: &str,
        seed: u64,
        mode: Mode,
    ) -> Self {
        Self {
            format: FORMAT,
            id: ticket.id.clone(),
            at: ticket.at,
            scenario: scenario.to_owned(),
            scenario_hash: hash_of(text),
            seed,
            mode,
            trainee: None,
            passed: false,
            points: 0.0,
            ended: Some(Ending::BrokenOff),
            outcome: None,
            duration_s: 0.0,
            breaks: Breaks::default(),
            recording: None,
        }
    }
}

impl Course {
    /// What is known of a run of it when it begins.
    pub(super) fn begun(&self, ticket: &Ticket) -> ResultRow {
        ResultRow {
            trainee: self.trainee.clone(),
            ..ResultRow::begun(ticket, &self.id, &self.loaded.text, self.seed, self.mode)
        }
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

/// The best that has come of a scenario.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Standing {
    #[default]
    NotTried,
    NotPassed {
        points: f64,
    },
    Passed {
        points: f64,
    },
}

impl Standing {
    /// The best of the results on a scenario's text, of everybody or of one trainee.
    pub fn of(results: &[ResultRow], text: &str, trainee: Option<&str>) -> Self {
        let hash = hash_of(text);
        let own = results.iter().filter(|row| {
            row.scenario_hash == hash
                && row.mode.counts()
                && row.ended.is_some()
                && (trainee.is_none() || row.trainee.as_deref() == trainee)
        });
        let best = own.max_by(|a, b| {
            let passed = a.passed.cmp(&b.passed);
            passed.then(a.points.total_cmp(&b.points))
        });
        best.map_or(Self::NotTried, |row| {
            let points = row.points;
            if row.passed {
                Self::Passed { points }
            } else {
                Self::NotPassed { points }
            }
        })
    }

    /// In words.
    pub fn said(self) -> Message {
        match self {
            Self::NotTried => "standing-not-tried".into(),
            Self::NotPassed { points } => {
                Message::new("standing-not-passed").measured("points", points, 0)
            }
            Self::Passed { points } => {
                Message::new("standing-passed").measured("points", points, 0)
            }
        }
    }
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

    fn results_file(&self) -> PathBuf {
        self.folder.join("results.jsonl")
    }

    /// The recording of a result.
    pub fn recording_of(&self, row: &ResultRow) -> Option<PathBuf> {
        let file = row.recording.as_ref()?;
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
        let ticket = self.ticket(run.course());
        let path = self.file_of(&ticket);
        run.put_down(ticket);
        run.record(&path).map_err(StoreError::at(&path))
    }

    /// A name that no run has yet.
    fn ticket(&self, course: &Course) -> Ticket {
        let now = Timestamp::now();
        let at = Timestamp::from_millisecond(now.as_millisecond()).unwrap_or(now);
        let when = letters_of(at);
        let scenario: String = course
            .id
            .chars()
            .map(|c| if c.is_alphanumeric() { c } else { '-' })
            .collect();
        let name = format!("{when}-{scenario}");
        let is_free = |name: &str| {
            let recording = self.recordings().join(file_name(name));
            !recording.exists() && !part_of(&recording).exists()
        };
        let mut id = name.clone();
        let mut number = 1;
        while !is_free(&id) {
            number += 1;
            id = format!("{name}-{number}");
        }
        Ticket { id, at }
    }

    /// Keeps the recording of a run and, of an assessment, its result.
    ///
    /// # Errors
    /// Where they cannot be written; an assessment then stays written down, and is settled when the
    /// program starts again.
    pub fn keep(&self, finished: &mut Finished) -> Result<Option<ResultRow>, StoreError> {
        let ticket = finished
            .ticket
            .get_or_insert_with(|| self.ticket(&finished.course))
            .clone();
        finished.recording.head.id.clone_from(&ticket.id);
        if !finished.course.mode.counts() {
            finished
                .write_recording(&self.file_of(&ticket))
                .map_err(StoreError::Output)?;
            return Ok(None);
        }
        let played = &finished.played;
        let row = ResultRow {
            passed: played.verdict.score.passed,
            points: played.verdict.score.points,
            ended: Some(played.ending),
            outcome: Some(finished.outcome),
            duration_s: played.line.time_s(),
            breaks: finished.breaks,
            recording: Some(file_name(&ticket.id)),
            ..finished.course.begun(&ticket)
        };
        // As long as the recording is not in its place the result is looked for when the program
        // starts; so it comes first.
        self.add(&row)?;
        finished
            .write_recording(&self.file_of(&ticket))
            .map_err(StoreError::Output)?;
        Ok(Some(row))
    }

    /// Puts an assessment down in which the simulation itself failed.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn keep_failed(&self, failed: &mut Failed) -> Result<Option<ResultRow>, StoreError> {
        let ticket = failed
            .ticket
            .get_or_insert_with(|| self.ticket(&failed.course))
            .clone();
        if !failed.course.mode.counts() {
            return Ok(None);
        }
        let row = ResultRow {
            ended: None,
            duration_s: failed.duration_s,
            breaks: failed.breaks,
            ..failed.course.begun(&ticket)
        };
        self.add(&row)?;
        if let Some(file) = failed.file.take() {
            file.discard();
        }
        Ok(Some(row))
    }

    /// Adds a result: on the disk when this returns.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub(super) fn add(&self, row: &ResultRow) -> Result<(), StoreError> {
        let line = serde_json::to_string(row).map_err(StoreError::NotJson)?;
        let path = self.results_file();
        let mut options = File::options();
        let file = options.read(true).append(true).create(true).open(&path);
        let written = file.and_then(|mut file| {
            file.lock()?;
            let torn = ends_within_a_line(&mut file)?;
            let start = if torn { "\n" } else { "" };
            file.write_all(format!("{start}{line}\n").as_bytes())?;
            file.sync_all()
        });
        written.map_err(StoreError::at(&path))
    }

    /// All results in the order in which they were added, and what is wrong with the file. Lines that
    /// cannot be read stay where they are.
    pub fn results(&self) -> (Vec<ResultRow>, Vec<Message>) {
        let path = self.results_file();
        let bytes = match fs::read(&path) {
            Ok(bytes) => bytes,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Default::default(),
            Err(error) => {
                let warning = Message::new("results-unreadable")
                    .with("file", path.display().to_string())
                    .with("error", error.to_string());
                return (Vec::new(), vec![warning]);
            }
        };
        let (mut rows, mut warnings) = (Vec::new(), Vec::new());
        for (number, line) in bytes.split(|byte| *byte == b'\n').enumerate() {
            if line.trim_ascii().is_empty() {
                continue;
            }
            match serde_json::from_slice::<ResultRow>(line) {
                Ok(row) if row.format == FORMAT => rows.push(row),
                _ => warnings.push(
                    Message::new("results-line-unreadable")
                        .with("file", path.display().to_string())
                        .with("line", (number + 1).to_string()),
                ),
            }
        }
        (rows, warnings)
    }
}

fn file_name(id: &str) -> String {
    format!("{id}.{ENDING}")
}

/// Whether a file's last line has no end: something was cut short while it was written.
fn ends_within_a_line(file: &mut File) -> io::Result<bool> {
    if file.metadata()?.len() == 0 {
        return Ok(false);
    }
    file.seek(SeekFrom::End(-1))?;
    let mut last = [0];
    file.read_exact(&mut last)?;
    Ok(last != *b"\n")
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

    fn row(id: &str, passed: bool, points: f64) -> ResultRow {
        let ticket = Ticket {
            id: id.to_owned(),
            at: Timestamp::UNIX_EPOCH,
        };
        ResultRow {
            passed,
            points,
            ended: Some(Ending::AtRest),
            ..course("first-release").begun(&ticket)
        }
    }

    #[test]
    fn results_are_only_added_to() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        assert_eq!(store.results(), Default::default());
        let rows = [row("a", false, 40.0), row("b", true, 90.0)];
        for row in &rows {
            store.add(row).unwrap();
        }
        let (read, warnings) = store.results();
        assert_eq!(read, rows);
        assert!(warnings.is_empty());
    }

    #[test]
    fn a_torn_line_is_told_and_neither_lost_nor_glued_to_the_next() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        store.add(&row("a", true, 90.0)).unwrap();
        let whole = fs::read(store.results_file()).unwrap();
        let end = whole.len();
        // Whatever was on the disk of the last line when the power went.
        for cut in [1, end / 2, end - 1] {
            let mut torn = whole.clone();
            torn.extend(&whole[..cut]);
            fs::write(store.results_file(), &torn).unwrap();
            store.add(&row("b", false, 10.0)).unwrap();
            let (read, warnings) = store.results();
            let ids: Vec<&str> = read.iter().map(|row| row.id.as_str()).collect();
            // A line that lacks only its end is whole.
            let (known, told): (&[&str], usize) = if cut == end - 1 {
                (&["a", "a", "b"], 0)
            } else {
                (&["a", "b"], 1)
            };
            assert_eq!((ids.as_slice(), warnings.len()), (known, told), "cut {cut}");
            assert!(fs::read(store.results_file()).unwrap().starts_with(&torn));
        }
        fs::write(store.results_file(), b"\xff\xfe\n{\"format\": 9}\n\n").unwrap();
        assert_eq!(store.results().1.len(), 2);
    }

    #[test]
    fn the_best_result_stands() {
        let text = shipped("first-release.ron").unwrap();
        let of = |rows: &[ResultRow]| Standing::of(rows, text, None);
        assert_eq!(of(&[]), Standing::NotTried);
        let lost = [row("a", false, 95.0), row("b", false, 20.0)];
        assert_eq!(of(&lost), Standing::NotPassed { points: 95.0 });
        let won = [lost[0].clone(), row("c", true, 85.0), row("d", true, 82.0)];
        assert_eq!(of(&won), Standing::Passed { points: 85.0 });
        // Another text, another run's result, nobody's result, another trainee's.
        assert_eq!(Standing::of(&won, "other", None), Standing::NotTried);
        let practice = ResultRow {
            mode: Mode::Practice,
            ..row("e", true, 100.0)
        };
        let nobodys = ResultRow {
            ended: None,
            ..row("f", false, 0.0)
        };
        assert_eq!(of(&[practice, nobodys]), Standing::NotTried);
        let own = ResultRow {
            trainee: Some("Ana".to_owned()),
            ..row("g", false, 50.0)
        };
        let all = [won.as_slice(), &[own]].concat();
        let standing = Standing::of(&all, text, Some("Ana"));
        assert_eq!(standing, Standing::NotPassed { points: 50.0 });
    }

    #[test]
    fn names_are_names_of_files_and_never_taken_twice() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let course = course("../../a b");
        let ids: Vec<String> = (0..20)
            .map(|_| {
                let id = store.ticket(&course).id;
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
        let away = ResultRow {
            recording: Some("../results.jsonl".to_owned()),
            ..row("x", true, 1.0)
        };
        let path = store.recording_of(&away).unwrap();
        assert_eq!(path, store.recordings().join("results.jsonl"));
    }
}
