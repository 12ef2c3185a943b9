//! What an assessment writes down while it goes on, so that it ends as a result whatever becomes of the
//! program: what it began with, then every change of the controls. Found again when the program starts,
//! it is simulated to where it was cut short.

use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::course::{Course, Ticket};
use super::mode::Mode;
use super::run::{Breaks, Step};
use super::store::{Store, StoreError};
use crate::domain::set_out::SetOut;
use crate::records::Attempt;
use crate::scenario;
use crate::sim::controls::{ControlChange, Controls, controls_at};
use crate::texts::Message;

/// Version of the form of a journal.
const FORMAT: u32 = 1;
/// Ticks after which it is put down that the run goes on: a second.
const BEAT_TICKS: u64 = 240;

/// The first line: what the run began with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Head {
    format: u32,
    id: String,
    at: Timestamp,
    scenario: String,
    text: String,
    seed: u64,
    mode: Mode,
    trainee: Option<String>,
    set_out: SetOut,
}

impl Head {
    fn ticket(&self) -> Ticket {
        Ticket {
            id: self.id.clone(),
            at: self.at,
        }
    }
}

/// Every further line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
enum Entry {
    Controls(ControlChange),
    /// The run has come to this tick.
    Tick(u64),
    /// After this tick the trainee said that they were done.
    Done(u64),
    Breaks(Breaks),
}

/// A journal that is being written.
pub struct Journal {
    path: PathBuf,
    /// Lines on their way to the disk; writing does not hold up the run.
    lines: Option<Sender<Vec<u8>>>,
    writer: Option<JoinHandle<()>>,
    fault: Arc<Mutex<Option<String>>>,
    last: Option<Controls>,
}

impl Journal {
    /// Begins a journal: its head is on the disk when this returns.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub(super) fn begin(
        path: &Path,
        ticket: &Ticket,
        course: &Course,
        set_out: &SetOut,
    ) -> Result<Self, StoreError> {
        let head = Head {
            format: FORMAT,
            id: ticket.id.clone(),
            at: ticket.at,
            scenario: course.id.clone(),
            text: course.loaded.text.clone(),
            seed: course.seed,
            mode: course.mode,
            trainee: course.trainee.clone(),
            set_out: set_out.clone(),
        };
        let head = line_of(&head).map_err(StoreError::NotJson)?;
        let begun = File::create_new(path).and_then(|mut file| {
            // Another program that starts meanwhile must not take it for one that was left.
            file.lock()?;
            file.write_all(&head)?;
            file.sync_all()?;
            sync_folder_of(path);
            Ok(file)
        });
        let file = begun.map_err(StoreError::at(path))?;
        let (lines, received) = channel();
        let fault = Arc::new(Mutex::new(None));
        let told = Arc::clone(&fault);
        let writer = std::thread::spawn(move || {
            if let Err(error) = write_lines(file, &received)
                && let Ok(mut told) = told.lock()
            {
                *told = Some(error.to_string());
            }
        });
        Ok(Self {
            path: path.to_owned(),
            lines: Some(lines),
            writer: Some(writer),
            fault,
            last: None,
        })
    }

    /// Why it is not on the disk, where it is not.
    pub fn fault(&self) -> Option<String> {
        self.fault.lock().ok().and_then(|fault| fault.clone())
    }

    /// Takes the controls of a tick that is about to be made.
    pub fn tick(&mut self, tick: u64, controls: &Controls) {
        if self.last.as_ref() != Some(controls) {
            self.last = Some(*controls);
            self.put(&Entry::Controls(ControlChange {
                tick,
                controls: *controls,
            }));
        }
        if tick.is_multiple_of(BEAT_TICKS) {
            self.put(&Entry::Tick(tick));
        }
    }

    pub fn done(&self, tick: u64) {
        self.put(&Entry::Done(tick));
    }

    pub fn had_break(&self, breaks: Breaks) {
        self.put(&Entry::Breaks(breaks));
    }

    fn put(&self, entry: &Entry) {
        if let (Some(lines), Ok(line)) = (&self.lines, line_of(entry)) {
            // Where nobody writes any more, the fault is told already.
            let _ = lines.send(line);
        }
    }

    /// Waits until everything is written.
    fn close(&mut self) {
        self.lines = None;
        if let Some(writer) = self.writer.take() {
            let _ = writer.join();
        }
    }

    /// The run has its result.
    pub(super) fn discard(mut self) {
        self.close();
        let _ = fs::remove_file(&self.path);
    }
}

impl Drop for Journal {
    fn drop(&mut self) {
        self.close();
    }
}

fn line_of(value: &impl Serialize) -> Result<Vec<u8>, serde_json::Error> {
    let mut line = serde_json::to_vec(value)?;
    line.push(b'\n');
    Ok(line)
}

fn write_lines(mut file: File, lines: &Receiver<Vec<u8>>) -> io::Result<()> {
    while let Ok(mut waiting) = lines.recv() {
        waiting.extend(lines.try_iter().flatten());
        file.write_all(&waiting)?;
        file.sync_data()?;
    }
    Ok(())
}

/// The name of a new file is on the disk only with its folder. Where folders cannot be opened there is
/// nothing to do.
fn sync_folder_of(path: &Path) {
    if let Some(Ok(folder)) = path.parent().map(File::open) {
        let _ = folder.sync_all();
    }
}

/// An assessment that was cut short.
pub struct Leftover {
    path: PathBuf,
    /// Held, so that no other program settles it.
    file: File,
    head: Head,
    changes: Vec<ControlChange>,
    /// The last tick that is known to have begun.
    ticks: u64,
    done: Option<u64>,
    breaks: Breaks,
}

/// Assessments that were cut short, and what is wrong with others that are no more than a beginning:
/// those are put aside.
pub fn leftovers(store: &Store) -> (Vec<Leftover>, Vec<Message>) {
    let (mut found, mut warnings) = (Vec::new(), Vec::new());
    let entries = fs::read_dir(store.journals())
        .into_iter()
        .flatten()
        .flatten();
    let mut paths: Vec<PathBuf> = entries
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "jsonl"))
        .collect();
    paths.sort();
    for path in paths {
        match Leftover::read(&path) {
            Ok(Some(leftover)) => found.push(leftover),
            Ok(None) => {}
            Err(error) => {
                let aside = path.with_extension("unreadable");
                let put = fs::rename(&path, &aside).map_or(&path, |()| &aside);
                warnings.push(
                    Message::new("journal-unreadable")
                        .with("file", put.display().to_string())
                        .with("error", error.to_string()),
                );
            }
        }
    }
    (found, warnings)
}

impl Leftover {
    /// Reads a journal; none where a program is writing it.
    fn read(path: &Path) -> io::Result<Option<Self>> {
        let mut file = File::options().read(true).write(true).open(path)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(fs::TryLockError::WouldBlock) => return Ok(None),
            Err(fs::TryLockError::Error(error)) => return Err(error),
        }
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)?;
        // What has no end was cut short while it was written.
        let lines = bytes.split_inclusive(|byte| *byte == b'\n');
        let mut whole = lines.filter(|line| line.ends_with(b"\n"));
        let head: Head = serde_json::from_slice(whole.next().unwrap_or_default())?;
        if head.format != FORMAT {
            return Err(io::ErrorKind::Unsupported.into());
        }
        let mut leftover = Self {
            path: path.to_owned(),
            file,
            head,
            changes: Vec::new(),
            ticks: 0,
            done: None,
            breaks: Breaks::default(),
        };
        // What comes after something unreadable has lost its sense.
        for entry in whole.map_while(|line| serde_json::from_slice(line).ok()) {
            leftover.take(entry);
        }
        Ok(Some(leftover))
    }

    fn take(&mut self, entry: Entry) {
        match entry {
            Entry::Controls(change) => {
                if self
                    .changes
                    .last()
                    .is_none_or(|last| last.tick < change.tick)
                {
                    self.ticks = self.ticks.max(change.tick);
                    self.changes.push(change);
                }
            }
            Entry::Tick(tick) => self.ticks = self.ticks.max(tick),
            Entry::Done(tick) => self.done = Some(tick),
            Entry::Breaks(breaks) => self.breaks = breaks,
        }
    }

    /// The name of the scenario's file without its ending, and when the run began.
    pub fn begun(&self) -> (&str, Timestamp) {
        (&self.head.scenario, self.head.at)
    }

    /// Simulates it to where it was cut short and keeps it as a result. It takes seconds.
    ///
    /// # Errors
    /// Where the result cannot be written; then it is still there the next time.
    pub fn settle(self, store: &Store) -> Result<Attempt, StoreError> {
        let (known, _) = store.results();
        let row = match known.into_iter().find(|row| row.ticket == self.head.id) {
            // It was cut short after its result had been kept.
            Some(row) => row,
            None => self.keep(store)?,
        };
        drop(self.file);
        let _ = fs::remove_file(&self.path);
        Ok(row)
    }

    fn keep(&self, store: &Store) -> Result<Attempt, StoreError> {
        let head = &self.head;
        let ticket = head.ticket();
        let Ok(loaded) = scenario::parse(&head.scenario, &head.text) else {
            return self.keep_unsimulated(store);
        };
        let course = Course {
            seed: head.seed,
            trainee: head.trainee.clone(),
            ..Course::new(&head.scenario, Arc::new(loaded), head.mode)
        };
        let Ok(mut run) = course.set_out(head.set_out.clone()) else {
            return self.keep_unsimulated(store);
        };
        run.put_down(ticket.clone(), None);
        run.set_breaks(self.breaks);
        while run.line().tick_count() < self.ticks {
            if self.done == Some(run.line().tick_count()) {
                run.say_done();
            }
            let controls = controls_at(&self.changes, run.line().tick_count() + 1);
            match run.tick(&controls) {
                Ok(Step::Goes) => {}
                Ok(Step::Ended(_)) | Err(_) => break,
            }
        }
        let kept = match run.finish() {
            Ok(mut finished) => store.keep(&mut finished)?,
            Err(mut failed) => store.keep_failed(&mut failed)?,
        };
        kept.map_or_else(|| self.broken_off(store), Ok)
    }

    /// That it began, and was broken off.
    fn broken_off(&self, store: &Store) -> Result<Attempt, StoreError> {
        let head = &self.head;
        let whose = head.trainee.as_deref();
        let ticket = head.ticket();
        let begun = store.begun(
            &ticket,
            &head.scenario,
            &head.text,
            head.seed,
            head.mode,
            whose,
        )?;
        Ok(Attempt {
            breaks: self.breaks.count,
            breaks_s: self.breaks.total_s,
            ..begun
        })
    }

    /// Of a scenario that this program cannot run: it began, and was broken off.
    fn keep_unsimulated(&self, store: &Store) -> Result<Attempt, StoreError> {
        let row = self.broken_off(store)?;
        store.add(&row, &[])?;
        Ok(row)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::parse;
    use crate::sim::controls::{Button, Call};

    /// The smallest line there is.
    const SMALL: &str = "(format: 1, name: \"Small\", pipe: (size: Ips(24), wall: Dr(17)), \
        row: (sticks: 1), people: [], zone: (cones: []))";

    /// What an assessment of some ticks leaves behind, and the hash of its last state.
    fn cut_short(store: &Store, ticks: u64) -> (PathBuf, u64) {
        let loaded = Arc::new(parse("small", SMALL).unwrap());
        let course = Course {
            trainee: Some("Ana".to_owned()),
            ..Course::new("small", loaded, Mode::Assessed)
        };
        let mut run = course.set_out(SetOut::default()).unwrap();
        store.begin(&mut run).unwrap();
        for tick in 1..=ticks {
            let mut controls = Controls::held((tick > 5 && tick < 9).then_some(Button::Horn));
            controls.call = (tick == 12).then_some(Call::Clear);
            run.tick(&controls).unwrap();
        }
        run.had_break(3.5);
        let ticket = run.ticket().unwrap().clone();
        let hash = run.line().hash();
        drop(run);
        (store.journals().join(format!("{}.jsonl", ticket.id)), hash)
    }

    #[test]
    fn an_assessment_that_is_cut_short_is_a_result() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let (path, hash) = cut_short(&store, 480);
        let (found, warnings) = leftovers(&store);
        assert!(warnings.is_empty());
        let [leftover] = <[Leftover; 1]>::try_from(found).ok().unwrap();
        let row = leftover.settle(&store).unwrap();
        assert_eq!(store.results().0, std::slice::from_ref(&row));
        assert_eq!(row.ended, Some(crate::operator::Ending::BrokenOff));
        assert!(!row.passed);
        assert_eq!(row.trainee.as_deref(), Some("Ana"));
        assert_eq!((row.breaks, row.breaks_s), (1, 3.5));
        let recording = store.recording_of(&row).unwrap();
        let recording = crate::evidence::Recording::load(&recording).unwrap();
        assert_eq!(recording.hashes.last(), Some(&(480, hash)));
        assert_eq!(recording.replay(|_| ()).unwrap().differs, None);
        assert!(!path.exists());
        assert!(leftovers(&store).0.is_empty());
    }

    #[test]
    fn one_that_had_its_result_is_not_counted_twice() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let (path, _) = cut_short(&store, 20);
        let journal = fs::read(&path).unwrap();
        for leftover in leftovers(&store).0 {
            leftover.settle(&store).unwrap();
        }
        fs::write(&path, journal).unwrap();
        for leftover in leftovers(&store).0 {
            leftover.settle(&store).unwrap();
        }
        assert_eq!(store.results().0.len(), 1);
        assert!(!path.exists());
    }

    #[test]
    fn a_run_that_goes_on_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let loaded = Arc::new(parse("small", SMALL).unwrap());
        let course = Course::new("small", loaded, Mode::Assessed);
        let mut run = course.set_out(SetOut::default()).unwrap();
        store.begin(&mut run).unwrap();
        let (found, warnings) = leftovers(&store);
        assert!(found.is_empty() && warnings.is_empty());
        drop(run);
        assert_eq!(leftovers(&store).0.len(), 1);
    }

    /// Wherever the power goes while it is written: once the head is whole there is a result.
    #[test]
    fn cut_at_any_byte_it_is_still_a_result() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let (path, _) = cut_short(&store, 14);
        let whole = fs::read(&path).unwrap();
        let head = whole.iter().position(|byte| *byte == b'\n').unwrap() + 1;
        let mut last = 0;
        for cut in 0..=whole.len() {
            let folder = tempfile::tempdir().unwrap();
            let store = Store::at(folder.path()).unwrap();
            fs::write(store.journals().join("x.jsonl"), &whole[..cut]).unwrap();
            let (found, warnings) = leftovers(&store);
            if cut < head {
                assert_eq!((found.len(), warnings.len()), (0, 1), "cut at {cut}");
                let kept = fs::read(store.journals().join("x.unreadable")).unwrap();
                assert_eq!(kept, whole[..cut]);
                continue;
            }
            assert_eq!((found.len(), warnings.len()), (1, 0), "cut at {cut}");
            for leftover in found {
                let row = leftover.settle(&store).unwrap();
                let ticks = (row.duration_s * 240.0).round() as u64;
                assert!(ticks >= last, "cut at {cut}: {ticks} ticks after {last}");
                last = ticks;
            }
            assert_eq!(store.results().0.len(), 1, "cut at {cut}");
        }
        assert_eq!(last, 13, "the call is over in tick 13");
    }

    #[test]
    fn what_this_program_cannot_run_is_a_result_all_the_same() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let (path, _) = cut_short(&store, 3);
        let text = fs::read_to_string(&path).unwrap();
        fs::write(&path, text.replace("Ips(24)", "Ips(2400)")).unwrap();
        for leftover in leftovers(&store).0 {
            let row = leftover.settle(&store).unwrap();
            assert!(!row.passed && row.ended.is_some() && row.recording.is_none());
        }
        assert_eq!(store.results().0.len(), 1);
    }
}
