//! A run that is over: what came of it, looking back, inquiries, trying again from a moment.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use super::course::{Course, Ticket};
use super::lookback::Lookback;
use super::mode::Mode;
use super::run::{Breaks, Driver, Run};
use crate::evidence::{Outcome, OutputError, Recording, RecordingFile, Report, part_of};
use crate::judge::{Inquiry, Played, Rerun};
use crate::operator::{Ending, member};
use crate::scenario::{Loaded, name_of};
use crate::sim::line::Line;
use crate::sim::world::SimFault;
use crate::texts::Message;
use crate::words;

/// See the module's text.
pub struct Finished {
    pub course: Course,
    pub ticket: Option<Ticket>,
    pub breaks: Breaks,
    /// Who drove, as the recording says.
    pub operator: String,
    pub outcome: Outcome,
    pub played: Played,
    pub recording: Recording,
    /// Its recording, written while it went on, until it is put in its place.
    pub(super) file: Option<RecordingFile>,
}

/// A run in which the simulation itself failed: there is no result.
pub struct Failed {
    pub course: Course,
    pub ticket: Option<Ticket>,
    pub breaks: Breaks,
    pub duration_s: f64,
    pub fault: SimFault,
    pub(super) file: Option<RecordingFile>,
}

/// How far inquiries have come, to be shared with whoever waits for them.
#[derive(Debug, Default)]
pub struct Inquest {
    done: AtomicUsize,
    of: AtomicUsize,
    cancelled: AtomicBool,
}

impl Inquest {
    /// How many inquiries are done, and of how many.
    pub fn progress(&self) -> (usize, usize) {
        let load = |count: &AtomicUsize| count.load(Ordering::Relaxed);
        (load(&self.done), load(&self.of))
    }

    /// No more inquiries are begun.
    pub fn cancel(&self) {
        self.cancelled.store(true, Ordering::Relaxed);
    }
}

impl Finished {
    /// A recorded run, simulated again.
    ///
    /// # Errors
    /// Where the recording is not sound, or the simulation fails on it.
    pub fn of_recording(id: &str, recording: &Recording) -> Result<Self, Message> {
        let (scenario, _) = recording.as_run().map_err(|error| error.message())?;
        let loaded = Loaded {
            scenario,
            warnings: Vec::new(),
            text: recording.head.scenario.clone(),
        };
        let course = Course {
            seed: recording.head.seed,
            ..Course::new(id, Arc::new(loaded), Mode::Demonstration)
        };
        let driver = match member(&recording.head.operator) {
            Some(member) => Driver::Operator {
                name: member.name,
                operator: member.operator(),
            },
            None => Driver::Hands,
        };
        let mut run = Run::new(course, recording.head.set_out.clone(), driver)
            .map_err(|fault| words::set_out_fault(&fault))?;
        let ending = recording.log.ending.unwrap_or(Ending::BrokenOff);
        let log = &recording.log;
        run.go_through(&log.controls, log.ticks)
            .map_err(words::sim_fault)?;
        let mut finished = run
            .finish_as(ending)
            .map_err(|failed| words::sim_fault(failed.fault))?;
        finished.recording.head = recording.head.clone();
        finished.recording.breaks = recording.breaks;
        finished.recording.done = recording.done;
        Ok(finished)
    }

    /// Puts its recording in its place: completed, where it was written while the run went on and all
    /// is on the disk, or else written anew.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn write_recording(&mut self, path: &Path) -> Result<(), OutputError> {
        if let Some(file) = self.file.take()
            && file.finish(&self.recording).is_ok()
        {
            return Ok(());
        }
        self.recording.write(path)?;
        // What has been written of it while it went on.
        let _ = std::fs::remove_file(part_of(path));
        Ok(())
    }

    /// The run, to be run again.
    pub fn rerun(&self) -> Rerun<'_> {
        self.played.rerun(self.course.scenario())
    }

    /// The line as it stood after a tick.
    pub fn look_at<'a>(&self, lookback: &'a mut Lookback, tick: u64) -> &'a Line {
        lookback.at(&self.rerun(), tick)
    }

    /// Looks for causes and last chances, by the places of their findings; none where it was cancelled.
    /// It takes seconds, and may be done beside everything else.
    pub fn inquire(&self, inquest: &Inquest) -> Option<Vec<(usize, Inquiry)>> {
        let places = self.played.worth_inquiry();
        inquest.of.store(places.len(), Ordering::Relaxed);
        let mut inquiries = Vec::new();
        for place in places {
            if inquest.cancelled.load(Ordering::Relaxed) {
                return None;
            }
            let inquiry = self.played.inquire(self.course.scenario(), place)?;
            inquiries.push((place, inquiry));
            inquest.done.fetch_add(1, Ordering::Relaxed);
        }
        Some(inquiries)
    }

    /// The report, with inquiries as far as they are done.
    pub fn report(&self, inquiries: Vec<(usize, Inquiry)>) -> Report {
        let course = &self.course;
        Report::of(
            course.scenario(),
            &name_of(course.id.as_ref()),
            course.seed,
            &self.operator,
            &self.played,
            inquiries,
        )
    }

    /// Another run that goes on by hand from how this one stood after a tick; it counts for nothing.
    pub fn try_again_from(&self, tick: u64) -> Run {
        Run::from_moment(self, tick)
    }
}
