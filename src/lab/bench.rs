//! A sweep that runs in the background while somebody looks at what has come of it so far.
//!
//! Every pitch gets its trials a few at a time, in turn, so that the whole picture is there early and
//! becomes sharper. What was done is written down row by row and never lost: it can be stopped, gone
//! on with, and run to its end by the command line.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Receiver, Sender, TryRecvError};
use std::thread;
use std::time::Instant;

use super::answer::{Answer, answer};
use super::engine::{Engine, Part, Trials};
use super::file::Sweep;
use super::folder::{JOURNAL, keep, put, taken, write_answer};
use super::setting::{BASE_FILE, SWEEP_FILE};
use super::table::{Journal, Row, Table, TableError};
use super::trial::{Release, Trial};
use crate::texts::{Lang, Message, Texts};

/// Trials after which the answer is read anew, and how often it is at most.
const AT_ONCE: u64 = 48;
const PASSES: u64 = 100;

/// How a sweep stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stage {
    Running,
    /// Somebody stopped it; its rows are kept.
    Stopped,
    Done,
    /// It could not go on; its rows are kept.
    Failed(Message),
}

/// What the other thread tells.
enum News {
    Rows(Vec<Row>),
    Answer(Box<Answer>),
    Ended(Stage),
}

/// A thread at work.
struct Job {
    stop: Arc<AtomicBool>,
    news: Receiver<News>,
    begun: Instant,
    /// Rows that were there when it began.
    before: usize,
}

/// See the module's text.
pub struct Bench {
    sweep: Arc<Sweep>,
    table: Table,
    answer: Answer,
    stage: Stage,
    job: Option<Job>,
    threads: usize,
    folder: Option<PathBuf>,
}

impl Bench {
    /// Begins a sweep with so many threads. In the folder, which must be new, its rows are written down;
    /// `text` is that of the sweep.
    ///
    /// # Errors
    /// Where the folder cannot be made or written to: then nothing has begun.
    pub fn begin(
        sweep: Sweep,
        text: &str,
        threads: usize,
        folder: Option<PathBuf>,
    ) -> Result<Self, Message> {
        let table = Table::new(&sweep);
        if let Some(folder) = &folder {
            fs::create_dir_all(folder).map_err(|source| {
                let path = folder.clone();
                TableError::Io { path, source }.message()
            })?;
            if let Some(taken) = taken(folder) {
                let file = taken.display().to_string();
                return Err(Message::new("lab-folder-taken").with("file", file));
            }
            put(&folder.join(SWEEP_FILE), text.as_bytes())?;
            put(&folder.join(BASE_FILE), sweep.base.loaded.text.as_bytes())?;
            Journal::begin(&folder.join(JOURNAL), &table, &sweep)
                .map_err(|error| error.message())?;
        }
        let mut bench = Self {
            answer: answer(&sweep, &table),
            sweep: Arc::new(sweep),
            table,
            stage: Stage::Stopped,
            job: None,
            threads,
            folder,
        };
        bench.go_on();
        Ok(bench)
    }

    /// Goes on with what was stopped.
    pub fn go_on(&mut self) {
        if self.job.is_some() || self.stage == Stage::Done {
            return;
        }
        let stop = Arc::new(AtomicBool::new(false));
        let (tell, news) = mpsc::channel();
        let work = Work {
            sweep: Arc::clone(&self.sweep),
            table: self.table.clone(),
            threads: self.threads,
            folder: self.folder.clone(),
            stop: Arc::clone(&stop),
            tell,
        };
        thread::spawn(move || work.run());
        self.job = Some(Job {
            stop,
            news,
            begun: Instant::now(),
            before: self.table.rows.len(),
        });
        self.stage = Stage::Running;
    }

    /// Lets the trials in hand finish and begins no more.
    pub fn stop(&mut self) {
        if let Some(job) = &self.job {
            job.stop.store(true, Ordering::Relaxed);
        }
    }

    /// Whether it has been asked to stop and has not yet.
    pub fn is_stopping(&self) -> bool {
        let job = self.job.as_ref();
        job.is_some_and(|job| job.stop.load(Ordering::Relaxed))
    }

    /// Takes what the other thread has done since. Says whether there was anything.
    pub fn hear(&mut self) -> bool {
        let mut heard = false;
        while let Some(job) = &self.job {
            match job.news.try_recv() {
                Ok(News::Rows(rows)) => {
                    let rows = rows.into_iter().map(|row| (row.trial, row));
                    self.table.rows.extend(rows);
                }
                Ok(News::Answer(answer)) => self.answer = *answer,
                Ok(News::Ended(stage)) => {
                    self.stage = stage;
                    self.job = None;
                }
                Err(TryRecvError::Empty) => break,
                Err(TryRecvError::Disconnected) => {
                    self.stage = Stage::Failed("lab-thread-lost".into());
                    self.job = None;
                }
            }
            heard = true;
        }
        heard
    }

    pub fn sweep(&self) -> &Sweep {
        &self.sweep
    }

    pub fn stage(&self) -> &Stage {
        &self.stage
    }

    /// What the rows say, as they were when it was read last.
    pub fn answer(&self) -> &Answer {
        &self.answer
    }

    /// Trials that are done, and all.
    pub fn progress(&self) -> (u64, u64) {
        (self.table.rows.len() as u64, self.sweep.trials())
    }

    /// Trials a second while it runs, and the time that is left at that rate, s.
    pub fn pace(&self) -> Option<(f64, f64)> {
        let job = self.job.as_ref()?;
        let spent_s = job.begun.elapsed().as_secs_f64();
        let done = self.table.rows.len() - job.before;
        if done == 0 || spent_s < 0.2 {
            return None;
        }
        let rate = done as f64 / spent_s;
        let (done, of) = self.progress();
        Some((rate, of.saturating_sub(done) as f64 / rate))
    }

    /// The trials by chance at a value, in the order of their places.
    pub fn trials_at(&self, set_up: usize, value: usize) -> impl Iterator<Item = &Row> {
        let point = (set_up * self.sweep.values.len() + value) as u64;
        let from = point * self.sweep.trials_of_point();
        let to = from + u64::from(self.sweep.budget.trials);
        self.table.rows.range(from..to).map(|(_, row)| row)
    }

    pub fn row(&self, trial: u64) -> Option<&Row> {
        self.table.rows.get(&trial)
    }

    /// A trial to be watched tick by tick, as it was run.
    ///
    /// # Errors
    /// Why its numbers make no line.
    pub fn watch(&self, trial: u64) -> Result<Release, Message> {
        Engine::new(&self.sweep, 1)?.watch(trial)
    }

    /// Where its files are.
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Writes the sheet and its charts beside the rows, in the background. None where there is no
    /// folder.
    pub fn export(&self, lang: Lang) -> Option<Receiver<Result<PathBuf, Message>>> {
        let folder = self.folder.clone()?;
        let (sweep, table) = (Arc::clone(&self.sweep), self.table.clone());
        let (tell, told) = mpsc::channel();
        thread::spawn(move || {
            let answer = answer(&sweep, &table);
            let written = write_answer(&sweep, &table, &answer, &folder, Texts::of(lang));
            // Nobody listens any more where the laboratory has been left.
            let _ = tell.send(written);
        });
        Some(told)
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        self.stop();
    }
}

/// Whether a trial that was watched is the one of a row, to the last bit.
pub fn is_same(row: &Row, trial: &Trial) -> bool {
    let bits = |numbers: &[Option<f64>]| -> Vec<Option<u64>> {
        let each = numbers.iter();
        each.map(|number| number.map(f64::to_bits)).collect()
    };
    row.outcome == trial.outcome
        && row.ticks == trial.ticks
        && bits(&row.measured) == bits(&trial.numbers())
}

/// What the other thread has in hand.
struct Work {
    sweep: Arc<Sweep>,
    table: Table,
    threads: usize,
    folder: Option<PathBuf>,
    stop: Arc<AtomicBool>,
    tell: Sender<News>,
}

impl Work {
    fn run(mut self) {
        let stage = self.go_through().unwrap_or_else(Stage::Failed);
        let _ = self.tell.send(News::Ended(stage));
    }

    fn go_through(&mut self) -> Result<Stage, Message> {
        let sweep = Arc::clone(&self.sweep);
        let engine = Engine::new(&sweep, self.threads)?;
        let mut journal = match &self.folder {
            Some(folder) => {
                let journal = Journal::go_on(&folder.join(JOURNAL));
                Some(journal.map_err(|error| error.message())?)
            }
            None => None,
        };
        let passes = sweep.trials().div_ceil(AT_ONCE).clamp(1, PASSES);
        for index in 0..passes {
            let trials = Trials {
                part: Part { index, of: passes },
                stop: &self.stop,
            };
            let tell = &self.tell;
            let ended = engine.run(
                &mut self.table,
                &trials,
                |table, rows| {
                    if let Some(journal) = &mut journal {
                        journal.add(table, &sweep, rows)?;
                    }
                    // Nobody listens any more where the laboratory has been left.
                    let _ = tell.send(News::Rows(rows.to_vec()));
                    Ok(())
                },
                |_| {},
            );
            let ended = ended.map_err(|error| error.message())?;
            let answer = Box::new(answer(&sweep, &self.table));
            let _ = self.tell.send(News::Answer(answer));
            if ended.is_some() {
                return Ok(Stage::Stopped);
            }
        }
        if let (Some(folder), Some(journal)) = (&self.folder, journal) {
            keep(&sweep, &self.table, folder)?;
            journal.remove().map_err(|error| error.message())?;
        }
        Ok(Stage::Done)
    }
}
