//! Recordings of runs that were cut short, by whatever became of the program: found again when it
//! starts. An assessment is simulated to where it was cut short and becomes a result.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use jiff::Timestamp;

use super::course::{Course, Ticket};
use super::run::{Run, Step};
use super::store::{Store, StoreError};
use crate::evidence::{ENDING, Recording, part_of};
use crate::records::Attempt;
use crate::scenario;
use crate::sim::controls::{ControlChange, controls_at};
use crate::texts::Message;

/// An assessment that was cut short.
pub struct Leftover {
    /// Where its recording is to stand, and where it has grown.
    path: PathBuf,
    part: PathBuf,
    /// Held, so that no other program settles it.
    file: File,
    recording: Recording,
}

/// Assessments that were cut short, and what is wrong with others that are no more than a beginning:
/// those are put aside. Of other runs as much as was recorded is put in its place.
pub fn leftovers(store: &Store) -> (Vec<Leftover>, Vec<Message>) {
    let (mut found, mut warnings) = (Vec::new(), Vec::new());
    for part in growing(store) {
        match Leftover::read(&part) {
            Ok(Some(leftover)) if leftover.recording.head.mode.counts() => found.push(leftover),
            Ok(Some(leftover)) => leftover.put_in_place(),
            Ok(None) => {}
            Err(error) => {
                let aside = part.with_extension("unreadable");
                let put = fs::rename(&part, &aside).map_or(&part, |()| &aside);
                warnings.push(
                    Message::new("leftover-unreadable")
                        .with("file", put.display().to_string())
                        .with("error", error),
                );
            }
        }
    }
    (found, warnings)
}

/// The files of recordings that are not in their place: they are being written, or were left.
pub(super) fn growing(store: &Store) -> Vec<PathBuf> {
    let entries = fs::read_dir(store.recordings())
        .into_iter()
        .flatten()
        .flatten();
    let mut parts: Vec<PathBuf> = entries
        .map(|entry| entry.path())
        .filter(|part| part_of(&part.with_extension("")) == *part)
        .filter(|part| is_recording(&part.with_extension("")))
        .collect();
    parts.sort();
    parts
}

fn is_recording(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == ENDING)
}

/// Who has a growing recording.
pub(super) enum Held {
    /// A program that is making the run.
    Living,
    /// Nobody: this is its file, held from now on.
    Left(File),
    /// Somebody who has made the file and written nothing yet, or who came no further.
    Empty,
}

/// How often, and with which pause between, it is looked again whether a file is held: whoever only
/// looks holds it for an instant.
const LOOKS: u32 = 3;
const PAUSE: Duration = Duration::from_millis(10);

/// Finds out who has a growing recording. Whoever writes it holds its file from before the first byte:
/// an empty one is not touched, or the one who is about to hold it could not.
pub(super) fn held(part: &Path) -> io::Result<Held> {
    if part.metadata()?.len() == 0 {
        return Ok(Held::Empty);
    }
    let file = File::options().read(true).write(true).open(part)?;
    for look in 1..=LOOKS {
        match file.try_lock() {
            Ok(()) => return Ok(Held::Left(file)),
            Err(TryLockError::WouldBlock) if look < LOOKS => std::thread::sleep(PAUSE),
            Err(TryLockError::WouldBlock) => {}
            Err(TryLockError::Error(error)) => return Err(error),
        }
    }
    Ok(Held::Living)
}

impl Leftover {
    /// Reads what there is of a recording; none where a program is writing it, or nothing is in it.
    fn read(part: &Path) -> Result<Option<Self>, Message> {
        let held = held(part).map_err(|error| {
            Message::new("recording-unreadable").with("error", error.to_string())
        })?;
        let Held::Left(file) = held else {
            return Ok(None);
        };
        let recording = Recording::read(&file).map_err(|error| error.message())?;
        Ok(Some(Self {
            path: part.with_extension(""),
            part: part.to_owned(),
            file,
            recording,
        }))
    }

    /// The name of the scenario's file without its ending, and when the run began.
    pub fn begun(&self) -> (&str, Timestamp) {
        (&self.recording.head.course, self.recording.head.at)
    }

    fn ticket(&self) -> Ticket {
        Ticket {
            id: self.recording.head.id.clone(),
            at: self.recording.head.at,
        }
    }

    /// As much as there is of it.
    fn put_in_place(self) {
        drop(self.file);
        let _ = fs::rename(&self.part, &self.path);
    }

    /// Simulates it to where it was cut short and keeps it as a result. It takes seconds.
    ///
    /// # Errors
    /// Where the result cannot be written; then it is still there the next time.
    pub fn settle(self, store: &Store) -> Result<Attempt, StoreError> {
        let row = self.keep(store)?;
        drop(self.file);
        let _ = fs::remove_file(&self.part);
        Ok(row)
    }

    fn keep(&self, store: &Store) -> Result<Attempt, StoreError> {
        let (known, _) = store.results();
        let known = known
            .into_iter()
            .find(|row| row.ticket == self.recording.head.id);
        let Some(run) = self.run() else {
            return self.keep_unsimulated(known, store);
        };
        match (run.finish(), known) {
            // It was cut short after its result had been kept.
            (Ok(mut finished), Some(row)) => {
                finished
                    .write_recording(&self.path)
                    .map_err(StoreError::Output)?;
                Ok(row)
            }
            (Ok(mut finished), None) => {
                let kept = store.keep(&mut finished)?;
                kept.map_or_else(|| self.broken_off(store), Ok)
            }
            (Err(_), Some(row)) => Ok(row),
            (Err(mut failed), None) => {
                let kept = store.keep_failed(&mut failed)?;
                kept.map_or_else(|| self.broken_off(store), Ok)
            }
        }
    }

    /// The run, simulated to its last tick; none of a scenario that this program cannot run.
    fn run(&self) -> Option<Run> {
        let recording = &self.recording;
        let head = &recording.head;
        let loaded = scenario::parse(&head.course, &head.scenario).ok()?;
        let course = Course {
            seed: head.seed,
            trainee: head.trainee.clone(),
            ..Course::new(&head.course, Arc::new(loaded), head.mode)
        };
        let mut run = course.set_out(head.set_out.clone()).ok()?;
        run.put_down(self.ticket());
        run.set_breaks(recording.breaks);
        let (ticks, after): (u64, &[ControlChange]) = match &recording.cut_short {
            Some(cut) => (cut.ticks, &cut.after),
            None => (recording.log.ticks, &[]),
        };
        let changes = [recording.log.controls.as_slice(), after].concat();
        while run.line().tick_count() < ticks {
            if recording.done == Some(run.line().tick_count()) {
                run.say_done();
            }
            let controls = controls_at(&changes, run.line().tick_count() + 1);
            match run.tick(&controls) {
                Ok(Step::Goes) => {}
                Ok(Step::Ended(_)) | Err(_) => break,
            }
        }
        Some(run)
    }

    /// That it began, and was broken off.
    fn broken_off(&self, store: &Store) -> Result<Attempt, StoreError> {
        let head = &self.recording.head;
        let whose = head.trainee.as_deref();
        let ticket = self.ticket();
        let begun = store.begun(
            &ticket,
            &head.course,
            &head.scenario,
            head.seed,
            head.mode,
            whose,
        )?;
        Ok(Attempt {
            breaks: self.recording.breaks.count,
            breaks_s: self.recording.breaks.total_s,
            ..begun
        })
    }

    /// Of a scenario that this program cannot run: it began, and was broken off. What was recorded of it
    /// is kept as it is.
    fn keep_unsimulated(
        &self,
        known: Option<Attempt>,
        store: &Store,
    ) -> Result<Attempt, StoreError> {
        let row = match known {
            Some(row) => row,
            None => {
                let name = self.path.file_name();
                let row = Attempt {
                    recording: name.map(|name| name.to_string_lossy().into_owned()),
                    ..self.broken_off(store)?
                };
                store.add(&row, &[])?;
                row
            }
        };
        fs::rename(&self.part, &self.path).map_err(StoreError::at(&self.path))?;
        Ok(row)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::set_out::SetOut;
    use crate::scenario::parse;
    use crate::session::mode::Mode;
    use crate::sim::controls::{Button, Call, Controls};

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
        (part_of(&store.file_of(&ticket)), hash)
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
        let recording = Recording::load(&recording).unwrap();
        assert_eq!(recording.states.hashes.last(), Some(&(480, hash)));
        assert_eq!(recording.cut_short, None, "it is complete now");
        assert_eq!(recording.head.trainee.as_deref(), Some("Ana"));
        let breaks = recording.breaks;
        assert_eq!((breaks.count, breaks.total_s), (1, 3.5));
        assert_eq!(recording.replay(|_| ()).unwrap().differs, None);
        assert!(!path.exists());
        assert!(leftovers(&store).0.is_empty());
    }

    #[test]
    fn one_that_had_its_result_is_not_counted_twice() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let (path, _) = cut_short(&store, 20);
        let written = fs::read(&path).unwrap();
        for leftover in leftovers(&store).0 {
            leftover.settle(&store).unwrap();
        }
        fs::write(&path, written).unwrap();
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

    /// It may be one that another program is about to write.
    #[test]
    fn an_empty_file_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let part = store.recordings().join("x.chock.part");
        fs::write(&part, "").unwrap();
        let (found, warnings) = leftovers(&store);
        assert!(found.is_empty() && warnings.is_empty());
        assert!(part.exists());
    }

    /// Wherever the power goes while it is written: once the head is whole there is a result.
    #[test]
    fn cut_at_any_byte_it_is_still_a_result() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let (path, _) = cut_short(&store, 14);
        let whole = fs::read(&path).unwrap();
        let (mut last, mut heads) = (0, 0);
        for cut in 1..=whole.len() {
            let folder = tempfile::tempdir().unwrap();
            let store = Store::at(folder.path()).unwrap();
            let part = store.recordings().join("x.chock.part");
            fs::write(&part, &whole[..cut]).unwrap();
            let (found, warnings) = leftovers(&store);
            if found.is_empty() {
                assert_eq!((last, warnings.len()), (0, 1), "cut at {cut}");
                let kept = store.recordings().join("x.chock.unreadable");
                assert_eq!(fs::read(kept).unwrap(), whole[..cut]);
                heads = cut + 1;
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
        assert!(heads > 100, "{heads}");
        assert_eq!(last, 13, "the call is over in tick 13");
    }

    #[test]
    fn other_runs_are_kept_as_far_as_they_were_recorded() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let loaded = Arc::new(parse("small", SMALL).unwrap());
        let course = Course::new("small", loaded, Mode::Practice);
        let mut run = course.set_out(SetOut::default()).unwrap();
        store.begin(&mut run).unwrap();
        for _ in 0..500 {
            run.tick(&Default::default()).unwrap();
        }
        let path = store.file_of(run.ticket().unwrap());
        drop(run);
        let (found, warnings) = leftovers(&store);
        assert!(found.is_empty() && warnings.is_empty());
        let recording = Recording::load(&path).unwrap();
        assert_eq!(recording.log.ticks, 480);
        assert!(recording.cut_short.is_some());
        assert_eq!(recording.replay(|_| ()).unwrap().differs, None);
        assert_eq!(store.results().0, []);
    }

    #[test]
    fn what_this_program_cannot_run_is_a_result_all_the_same() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let (path, _) = cut_short(&store, 3);
        let mut recording = Recording::load(&path).unwrap();
        recording.head.scenario = SMALL.replace("Ips(24)", "Ips(2400)");
        fs::write(&path, recording.to_bytes().unwrap()).unwrap();
        for leftover in leftovers(&store).0 {
            let row = leftover.settle(&store).unwrap();
            assert!(!row.passed && row.ended.is_some());
            let kept = Recording::load(&store.recording_of(&row).unwrap()).unwrap();
            assert_eq!(kept.head.trainee.as_deref(), Some("Ana"));
        }
        assert_eq!(store.results().0.len(), 1);
    }
}
