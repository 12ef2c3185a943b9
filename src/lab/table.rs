//! The rows of a sweep and where they come from, as a file.
//!
//! The head of the file, in lines that begin with `#`, says everything that the rows depend on. Rows
//! with the same head may be put together: those of a run that was broken off with what it still
//! lacked, those of several machines with each other.

use std::collections::BTreeMap;
use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use serde::de::value::{Error as WordError, StrDeserializer};
use serde::{Deserialize, Serialize, Serializer};

use super::file::{Level, Measure, Sweep};
use crate::evidence::{Outcome, beside};
use crate::texts::Message;

/// What stands in the place of an outcome where a trial failed.
const FAILED: &str = "Failed";

/// One trial with its numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub trial: u64,
    /// Places in the sweep's lists.
    pub set_up: usize,
    pub value: usize,
    /// Which ends of the unmeasured ranges; none for a trial by chance.
    pub corner: Option<u32>,
    /// Its place in the sampling: the same at every point for the same random numbers.
    pub number: u32,
    pub load_seed: u64,
    /// Of the variables, in the sweep's order.
    pub values: Vec<f64>,
    /// None where the trial failed, and `why`.
    pub outcome: Option<Outcome>,
    /// In the order of [`Measure::numbers`]; none where there was nothing to measure.
    pub measured: Vec<Option<f64>>,
    pub ticks: u64,
    pub why: String,
}

impl Row {
    pub fn measured(&self, measure: Measure) -> Option<f64> {
        let place = Measure::numbers().position(|known| known == measure)?;
        self.measured.get(place).copied().flatten()
    }
}

/// What the rows depend on: names and what stands behind them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Provenance(pub Vec<(String, String)>);

impl Serialize for Provenance {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, text)| (name, text)))
    }
}

impl Provenance {
    pub fn of(sweep: &Sweep) -> Self {
        let hash = |hash: u64| format!("{hash:016x}");
        let base = Path::new(&sweep.base.file).file_name();
        let base = base.map(|name| name.to_string_lossy().into_owned());
        let mut lines = vec![
            ("table".to_owned(), "1".to_owned()),
            ("chockline".to_owned(), env!("CARGO_PKG_VERSION").to_owned()),
            ("sweep".to_owned(), one_line(&sweep.name)),
            ("sweep_xxh3".to_owned(), hash(sweep.hashes[0])),
            ("base".to_owned(), one_line(&base.unwrap_or_default())),
            ("base_xxh3".to_owned(), hash(sweep.hashes[1])),
            ("seed".to_owned(), sweep.seed.to_string()),
            ("sampling".to_owned(), format!("{:?}", sweep.sampling)),
            ("trials".to_owned(), sweep.budget.trials.to_string()),
            ("rows".to_owned(), sweep.rows().to_string()),
            (
                "corner_trials".to_owned(),
                sweep.budget.corner_trials.to_string(),
            ),
            ("against".to_owned(), one_line(&sweep.against)),
        ];
        for (i, set_up) in sweep.set_ups.iter().enumerate() {
            let set = set_up.set.iter().map(|(path, level)| match level {
                Level::Written(text) => format!("{path}={text}"),
                Level::OnTop(more) => format!("{path}=+{more}"),
            });
            let set: Vec<String> = set.collect();
            let text = format!("{} {}", set_up.name, set.join(" "));
            lines.push((format!("set_up_{i}"), one_line(text.trim())));
        }
        for variable in &sweep.variables {
            let (low, high) = variable.within();
            let assumed = if variable.unmeasured {
                " unmeasured"
            } else {
                ""
            };
            let text = format!("{:?} [{low}, {high}]{assumed}", variable.spread);
            lines.push((variable.path.clone(), text));
        }
        Self(lines)
    }

    /// The first line in which another one differs, as (name, here, there).
    fn difference(&self, other: &Self) -> Option<(String, String, String)> {
        let count = self.0.len().max(other.0.len());
        let at = |lines: &[(String, String)], i: usize| lines.get(i).cloned().unwrap_or_default();
        (0..count).find_map(|i| {
            let (here, there) = (at(&self.0, i), at(&other.0, i));
            let name = if here.0.is_empty() { &there.0 } else { &here.0 };
            (here != there).then(|| (name.clone(), here.1, there.1))
        })
    }

    fn head(&self) -> String {
        let lines = self.0.iter();
        lines
            .map(|(name, text)| format!("# {name}: {text}\n"))
            .collect()
    }
}

/// An outcome as it stands in a table.
pub(super) fn outcome_word(outcome: Option<Outcome>) -> String {
    outcome.map_or(FAILED.to_owned(), |outcome| format!("{outcome:?}"))
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Why a table cannot be used or written.
#[derive(Debug)]
pub enum TableError {
    Io {
        path: PathBuf,
        source: std::io::Error,
    },
    /// It is no table of this program, or it is damaged at a line.
    NotATable { path: PathBuf, line: usize },
    /// Its rows do not belong to this sweep.
    Other {
        path: PathBuf,
        name: String,
        here: String,
        there: String,
    },
    /// The same trial with two results.
    Contradicts { path: PathBuf, trial: u64 },
    /// Parts that do not make a whole.
    Incomplete { missing: u64, first: u64 },
}

impl TableError {
    pub fn message(&self) -> Message {
        match self {
            Self::Io { path, source } => Message::new("lab-table-io")
                .with("file", path.display().to_string())
                .with("error", source.to_string()),
            Self::NotATable { path, line } => Message::new("lab-not-a-table")
                .with("file", path.display().to_string())
                .with("line", *line),
            Self::Other {
                path,
                name,
                here,
                there,
            } => Message::new("lab-other-table")
                .with("file", path.display().to_string())
                .with("name", name.as_str())
                .with("here", here.as_str())
                .with("there", there.as_str()),
            Self::Contradicts { path, trial } => Message::new("lab-table-contradicts")
                .with("file", path.display().to_string())
                .with("trial", *trial),
            Self::Incomplete { missing, first } => Message::new("lab-table-incomplete")
                .with("missing", *missing)
                .with("first", *first),
        }
    }
}

/// The rows of a sweep, as far as they are there.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    pub provenance: Provenance,
    columns: Vec<String>,
    variables: usize,
    pub rows: BTreeMap<u64, Row>,
}

impl Table {
    pub fn new(sweep: &Sweep) -> Self {
        let fixed = ["trial", "set_up", "value", "corner", "number", "load_seed"];
        let mut columns: Vec<String> = fixed.map(str::to_owned).to_vec();
        columns.push(sweep.against.clone());
        columns.extend(sweep.variables.iter().map(|variable| variable.path.clone()));
        columns.push("outcome".to_owned());
        let measures = Measure::ALL.iter().filter_map(|measure| measure.column());
        columns.extend(measures.map(str::to_owned));
        columns.extend(["ticks", "why"].map(str::to_owned));
        Self {
            provenance: Provenance::of(sweep),
            columns,
            variables: sweep.variables.len(),
            rows: BTreeMap::new(),
        }
    }

    /// Head and names of the columns.
    pub fn head(&self) -> String {
        let names = self.record(self.columns.iter().map(String::as_str));
        self.provenance.head() + &names
    }

    /// A row as a line.
    pub fn line(&self, sweep: &Sweep, row: &Row) -> String {
        let number = |number: Option<f64>| number.map(|n| n.to_string()).unwrap_or_default();
        let against = sweep.values.get(row.value).copied();
        let mut cells = vec![
            row.trial.to_string(),
            row.set_up.to_string(),
            row.value.to_string(),
            row.corner
                .map(|corner| corner.to_string())
                .unwrap_or_default(),
            row.number.to_string(),
            row.load_seed.to_string(),
            number(against),
        ];
        cells.extend(row.values.iter().map(f64::to_string));
        cells.push(outcome_word(row.outcome));
        cells.extend(row.measured.iter().map(|measured| number(*measured)));
        cells.extend([row.ticks.to_string(), row.why.clone()]);
        self.record(cells.iter().map(String::as_str))
    }

    fn record<'c>(&self, cells: impl Iterator<Item = &'c str>) -> String {
        let mut writer = csv::Writer::from_writer(Vec::new());
        // Writing to memory cannot fail.
        let _ = writer.write_record(cells);
        let bytes = writer.into_inner().unwrap_or_default();
        String::from_utf8_lossy(&bytes).into_owned()
    }

    /// The whole table, in the order of its trials.
    pub fn bytes(&self, sweep: &Sweep) -> Vec<u8> {
        let rows = self.rows.values().map(|row| self.line(sweep, row));
        (self.head() + &rows.collect::<String>()).into_bytes()
    }

    /// Takes the rows of a file in, if it belongs to the same sweep. A last line that was cut off is
    /// left out.
    ///
    /// # Errors
    /// Where it cannot be read, is another's, is damaged, or says something else of the same trial.
    pub fn take_in(&mut self, path: &Path) -> Result<usize, TableError> {
        let text = fs::read_to_string(path).map_err(|source| TableError::Io {
            path: path.to_owned(),
            source,
        })?;
        let damaged = |line: usize| TableError::NotATable {
            path: path.to_owned(),
            line,
        };
        let mut head = Vec::new();
        let mut lines = text.split_inclusive('\n').enumerate().peekable();
        while let Some((number, line)) = lines.next_if(|(_, line)| line.starts_with("# ")) {
            let whole = line
                .strip_prefix("# ")
                .and_then(|line| line.strip_suffix('\n'));
            let pair = whole.and_then(|line| line.split_once(": "));
            let (name, text) = pair.ok_or_else(|| damaged(number + 1))?;
            head.push((name.to_owned(), text.to_owned()));
        }
        if head.is_empty() {
            return Err(damaged(1));
        }
        if let Some((name, here, there)) = self.provenance.difference(&Provenance(head)) {
            return Err(TableError::Other {
                path: path.to_owned(),
                name,
                here,
                there,
            });
        }
        let (number, names) = lines.next().ok_or_else(|| damaged(1))?;
        if names != self.record(self.columns.iter().map(String::as_str)) {
            return Err(damaged(number + 1));
        }
        let mut taken = 0;
        while let Some((number, line)) = lines.next() {
            if !line.ends_with('\n') && lines.peek().is_none() {
                break;
            }
            let row = self.row(line).ok_or_else(|| damaged(number + 1))?;
            match self.rows.get(&row.trial) {
                Some(known) if *known != row => {
                    return Err(TableError::Contradicts {
                        path: path.to_owned(),
                        trial: row.trial,
                    });
                }
                _ => self.rows.insert(row.trial, row),
            };
            taken += 1;
        }
        Ok(taken)
    }

    fn row(&self, line: &str) -> Option<Row> {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(line.as_bytes());
        let record = reader.records().next()?.ok()?;
        if record.len() != self.columns.len() {
            return None;
        }
        let mut cells = record.iter();
        let mut cell = || cells.next().unwrap_or_default();
        let optional = |text: &str| match text {
            "" => Some(None),
            text => text.parse::<f64>().ok().map(Some),
        };
        let trial = cell().parse().ok()?;
        let (set_up, value) = (cell().parse().ok()?, cell().parse().ok()?);
        let corner = match cell() {
            "" => None,
            text => Some(text.parse().ok()?),
        };
        let (number, load_seed) = (cell().parse().ok()?, cell().parse().ok()?);
        let _against: f64 = cell().parse().ok()?;
        let values = (0..self.variables).map(|_| cell().parse().ok());
        let values = values.collect::<Option<Vec<f64>>>()?;
        let outcome = match cell() {
            FAILED => None,
            word => {
                let word: StrDeserializer<'_, WordError> = StrDeserializer::new(word);
                Some(Outcome::deserialize(word).ok()?)
            }
        };
        let measured = Measure::numbers().map(|_| optional(cell()));
        let measured = measured.collect::<Option<Vec<_>>>()?;
        Some(Row {
            trial,
            set_up,
            value,
            corner,
            number,
            load_seed,
            values,
            outcome,
            measured,
            ticks: cell().parse().ok()?,
            why: cell().to_owned(),
        })
    }
}

/// Puts the tables of parts together.
///
/// # Errors
/// Where one does not belong to the sweep, two contradict each other, or rows are missing.
pub fn merge(sweep: &Sweep, parts: &[PathBuf]) -> Result<Table, TableError> {
    let mut table = Table::new(sweep);
    for part in parts {
        table.take_in(part)?;
    }
    let mut missing = (0..sweep.trials()).filter(|trial| !table.rows.contains_key(trial));
    match missing.next() {
        Some(first) => Err(TableError::Incomplete {
            missing: 1 + missing.count() as u64,
            first,
        }),
        None => Ok(table),
    }
}

/// The rows of a sweep that is under way, line by line, so that what is done is never lost.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    file: fs::File,
}

impl Journal {
    /// Begins a journal with the rows that are there already; the file must be new. It is there with
    /// its whole head or not at all: one that is killed as it begins can be gone on with.
    ///
    /// # Errors
    /// Where it cannot be written, or is there.
    pub fn begin(path: &Path, table: &Table, sweep: &Sweep) -> Result<Self, TableError> {
        let io = |source| TableError::Io {
            path: path.to_owned(),
            source,
        };
        let file = beside(path, &table.bytes(sweep)).map_err(io)?;
        let file = file
            .persist_noclobber(path)
            .map_err(|kept| io(kept.error))?;
        Ok(Self {
            path: path.to_owned(),
            file,
        })
    }

    /// Goes on with a journal whose rows have been taken in. A line that was cut off is cut away.
    ///
    /// # Errors
    /// Where it cannot be read or written.
    pub fn go_on(path: &Path) -> Result<Self, TableError> {
        let io = |source| TableError::Io {
            path: path.to_owned(),
            source,
        };
        let bytes = fs::read(path).map_err(io)?;
        let end = bytes
            .iter()
            .rposition(|byte| *byte == b'\n')
            .map_or(0, |at| at + 1);
        let file = fs::File::options().append(true).open(path).map_err(io)?;
        file.set_len(end as u64).map_err(io)?;
        Ok(Self {
            path: path.to_owned(),
            file,
        })
    }

    /// Adds rows.
    ///
    /// # Errors
    /// Where the disk is full or gone; what is there stays readable.
    pub fn add(&mut self, table: &Table, sweep: &Sweep, rows: &[Row]) -> Result<(), TableError> {
        let lines: String = rows.iter().map(|row| table.line(sweep, row)).collect();
        let written = self.file.write_all(lines.as_bytes());
        written.map_err(|source| TableError::Io {
            path: self.path.clone(),
            source,
        })
    }

    /// Removes it, when its rows lie in the finished table.
    ///
    /// # Errors
    /// Where it cannot be removed.
    pub fn remove(self) -> Result<(), TableError> {
        match fs::remove_file(&self.path) {
            Err(source) if source.kind() != ErrorKind::NotFound => Err(TableError::Io {
                path: self.path,
                source,
            }),
            _ => Ok(()),
        }
    }
}
