//! A run, tick by tick: who drives it, how it ends, and taking it back to a moment and over.

use std::io;
use std::path::Path;

use jiff::Timestamp;

use super::course::{Course, Ticket};
use super::finished::{Failed, Finished};
use super::lookback::Lookback;
use super::mode::Mode;
use crate::domain::set_out::{SetOut, SetOutFault};
use crate::domain::spec::LineSpec;
pub use crate::evidence::Breaks;
use crate::evidence::{Figures, Head, Maker, Outcome, Recorder, Recording, RecordingFile};
use crate::judge::{Kept, Log, Logger, Played, Rerun, has_failed, judge};
use crate::operator::{EndWatch, Ending, Operator};
use crate::scenario::Goal;
use crate::sim::controls::{ControlChange, Controls, controls_at};
use crate::sim::line::{Line, StickPlace};
use crate::sim::world::SimFault;

/// How long a run goes on at most after what fails it, where nothing comes to rest, s.
const AFTERMATH_S: f64 = 30.0;
/// What stands in a recording for whoever is at the controls themselves.
const TRAINEE: &str = "trainee";

/// Who drives.
pub enum Driver {
    /// Whoever is at the controls.
    Hands,
    /// A member of the roster.
    Operator {
        name: &'static str,
        operator: Box<dyn Operator>,
    },
}

/// What came of a tick.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    Goes,
    /// The run is over; nothing moves any more.
    Ended(Ending),
}

/// See the module's text.
pub struct Run {
    course: Course,
    set_out: SetOut,
    /// The line as it was set out.
    spec: LineSpec,
    line: Line,
    logger: Logger,
    kept: Kept,
    recorder: Recorder,
    driver: Driver,
    /// Of the last tick.
    controls: Controls,
    end: EndWatch,
    /// After this tick whoever is at the controls said that they were done.
    done: Option<u64>,
    /// Since when there is something that fails the run, s.
    failed_s: Option<f64>,
    /// Events that have been looked at for it.
    looked_at: usize,
    ended: Option<Ending>,
    breaks: Breaks,
    lookback: Lookback,
    began: Timestamp,
    ticket: Option<Ticket>,
    file: Option<RecordingFile>,
}

impl Run {
    /// A line set out, before its first tick.
    ///
    /// # Errors
    /// What cannot be set so.
    pub fn new(course: Course, set_out: SetOut, driver: Driver) -> Result<Self, SetOutFault> {
        let spec = set_out.applied(&course.as_found(), course.is_open())?;
        let line = Line::build(&spec);
        let end = EndWatch::new(&line, course.scenario().time_limit_s);
        Ok(Self {
            course,
            set_out,
            spec,
            line,
            logger: Logger::default(),
            kept: Kept::default(),
            recorder: Recorder::default(),
            driver,
            controls: Controls::default(),
            end,
            done: None,
            failed_s: None,
            looked_at: 0,
            ended: None,
            breaks: Breaks::default(),
            lookback: Lookback::default(),
            began: Timestamp::now(),
            ticket: None,
            file: None,
        })
    }

    /// A finished run as it stood after a tick, to be gone on with by hand. It counts for nothing.
    pub(super) fn from_moment(finished: &Finished, tick: u64) -> Self {
        let tick = tick.min(finished.played.log.ticks);
        let course = Course {
            mode: Mode::Practice,
            ..finished.course.clone()
        };
        let (line, logger) = finished.rerun().back_to(tick);
        let end = EndWatch::new(&line, course.scenario().time_limit_s);
        let mut run = Self {
            set_out: finished.played.set_out.clone(),
            spec: finished.played.spec.clone(),
            kept: finished.played.kept.until(tick),
            recorder: Recorder::back_to(&finished.recording, tick),
            driver: Driver::Hands,
            controls: logger.log().controls_at(tick),
            end,
            line,
            logger,
            course,
            done: None,
            failed_s: None,
            looked_at: 0,
            ended: None,
            breaks: Breaks::default(),
            lookback: Lookback::default(),
            began: Timestamp::now(),
            ticket: None,
            file: None,
        };
        run.look_for_failure();
        run
    }

    /// By what it is known in the records.
    pub(super) fn put_down(&mut self, ticket: Ticket) {
        self.ticket = Some(ticket);
    }

    /// Writes its recording from here on, what there is of it already included, into a file that is to
    /// stand at a path when the run is over.
    ///
    /// # Errors
    /// Where the file cannot be written.
    pub fn record(&mut self, path: &Path) -> io::Result<()> {
        let mut file = RecordingFile::begin(path, self.head())?;
        if self.line.tick_count() > 0 {
            file.catch_up(&self.line, self.logger.log(), &self.recorder);
        }
        self.file = Some(file);
        Ok(())
    }

    /// What its recording begins with.
    fn head(&self) -> Head {
        let course = &self.course;
        let ticket = self.ticket.clone().unwrap_or_else(|| Ticket {
            id: course.id.clone(),
            at: self.began,
        });
        Head {
            maker: Maker::here(),
            id: ticket.id,
            at: ticket.at,
            course: course.id.clone(),
            scenario: course.loaded.text.clone(),
            seed: course.seed,
            mode: course.mode,
            operator: self.operator().unwrap_or(TRAINEE).to_owned(),
            trainee: course.trainee.clone(),
            set_out: self.set_out.clone(),
        }
    }

    pub fn course(&self) -> &Course {
        &self.course
    }

    pub fn mode(&self) -> Mode {
        self.course.mode
    }

    pub fn line(&self) -> &Line {
        &self.line
    }

    /// The line as it was set out.
    pub fn spec(&self) -> &LineSpec {
        &self.spec
    }

    pub fn set_out(&self) -> &SetOut {
        &self.set_out
    }

    pub fn log(&self) -> &Log {
        self.logger.log()
    }

    /// The controls of the last tick.
    pub fn controls(&self) -> &Controls {
        &self.controls
    }

    /// The member of the roster who drives; none while somebody is at the controls themselves.
    pub fn operator(&self) -> Option<&'static str> {
        match self.driver {
            Driver::Hands => None,
            Driver::Operator { name, .. } => Some(name),
        }
    }

    pub fn ended(&self) -> Option<Ending> {
        self.ended
    }

    /// Whether something has happened that fails the run whatever else is done.
    pub fn has_failed(&self) -> bool {
        self.failed_s.is_some()
    }

    pub fn breaks(&self) -> Breaks {
        self.breaks
    }

    pub fn ticket(&self) -> Option<&Ticket> {
        self.ticket.as_ref()
    }

    /// Whether what is written while the run goes on is on the disk; if not, why not.
    pub fn recording_fault(&self) -> Option<String> {
        self.file.as_ref().and_then(RecordingFile::fault)
    }

    /// One tick. Whoever is at the controls hands theirs in; they count for nothing while a member of
    /// the roster drives, but for what the instructor brings about, where the mode allows it.
    ///
    /// # Errors
    /// Where the simulation itself fails: then there is no result.
    pub fn tick(&mut self, hands: &Controls) -> Result<Step, SimFault> {
        if let Some(ending) = self.ended {
            return Ok(Step::Ended(ending));
        }
        if let Some(fault) = self.line.fault() {
            return Err(fault);
        }
        let driven = match &mut self.driver {
            Driver::Hands => *hands,
            Driver::Operator { operator, .. } => operator.controls(&self.line),
        };
        let controls = Controls {
            upset: hands.upset.filter(|_| self.course.mode.may_upset()),
            ..driven
        };
        if let Some(file) = &mut self.file {
            file.controls(self.line.tick_count() + 1, &controls);
        }
        self.make(&controls)?;
        self.look_for_failure();
        self.ended = self.ending();
        Ok(self.ended.map_or(Step::Goes, Step::Ended))
    }

    /// Makes a tick under controls and takes it down.
    fn make(&mut self, controls: &Controls) -> Result<(), SimFault> {
        self.line.tick(controls);
        self.controls = *controls;
        if let Some(fault) = self.line.fault() {
            return Err(fault);
        }
        self.logger.observe(&self.line, controls);
        self.kept.observe(&self.line, &self.logger);
        self.recorder.observe(&self.line);
        if let Some(file) = &mut self.file {
            file.observe(&self.line, self.logger.log(), &self.recorder);
        }
        Ok(())
    }

    /// Goes through recorded controls up to a tick, without looking for an end.
    ///
    /// # Errors
    /// Where the simulation itself fails.
    pub(super) fn go_through(
        &mut self,
        changes: &[ControlChange],
        ticks: u64,
    ) -> Result<(), SimFault> {
        while self.line.tick_count() < ticks {
            let controls = controls_at(changes, self.line.tick_count() + 1);
            self.make(&controls)?;
        }
        Ok(())
    }

    /// Looks through new events for what fails the run.
    fn look_for_failure(&mut self) {
        let log = self.logger.log();
        if self.failed_s.is_some() || log.events.len() == self.looked_at {
            return;
        }
        self.looked_at = log.events.len();
        if has_failed(self.course.scenario(), &self.spec, log) {
            self.failed_s = Some(self.line.time_s());
        }
    }

    fn ending(&mut self) -> Option<Ending> {
        let driven = matches!(self.driver, Driver::Operator { .. });
        let failed_s = self.failed_s.filter(|_| !driven);
        let done = match &self.driver {
            Driver::Operator { operator, .. } => operator.is_done(),
            Driver::Hands => self.done.is_some() || failed_s.is_some() || self.all_joined(),
        };
        let now_s = self.line.time_s();
        match (self.end.observe(&self.line, done), failed_s) {
            (Some(_), Some(_)) => Some(Ending::Critical),
            (None, Some(since_s)) if now_s - since_s >= AFTERMATH_S => Some(Ending::Critical),
            (ending, _) => ending,
        }
    }

    /// Every stick has become part of the string: there is nothing left to do.
    fn all_joined(&self) -> bool {
        let joined = |stick| self.line.place(stick) == StickPlace::Joined;
        self.course.scenario().goal == Goal::Joined && self.line.sticks().all(joined)
    }

    /// Whoever is at the controls says that they are done: the run is over as soon as everything lies
    /// still.
    pub fn say_done(&mut self) {
        if matches!(self.driver, Driver::Hands) && self.ended.is_none() && self.done.is_none() {
            self.done = Some(self.line.tick_count());
            if let Some(file) = &mut self.file {
                file.done(self.line.tick_count());
            }
        }
    }

    pub fn is_done_said(&self) -> bool {
        self.done.is_some()
    }

    /// A break of an assessment is over.
    pub fn had_break(&mut self, lasted_s: f64) {
        self.breaks.count += 1;
        self.breaks.total_s += lasted_s.max(0.0);
        if let Some(file) = &mut self.file {
            file.had_break(self.breaks);
        }
    }

    pub(super) fn set_breaks(&mut self, breaks: Breaks) {
        self.breaks = breaks;
    }

    /// Whoever watches takes the pendant over, as the line stands; from then on it is practice. Says
    /// whether they have it.
    pub fn take_over(&mut self) -> bool {
        if self.mode().may_take_over() {
            self.driver = Driver::Hands;
            self.course.mode = Mode::Practice;
            if let Some(file) = &mut self.file {
                file.driven_by(self.course.mode, TRAINEE);
            }
            self.look_for_failure();
        }
        matches!(self.driver, Driver::Hands)
    }

    /// Takes the run back to as it stood after a tick: what came after has never been. Says whether it
    /// did: the mode may not allow it.
    pub fn rewind_to(&mut self, tick: u64) -> bool {
        if !self.mode().may_rewind() || tick > self.line.tick_count() {
            return false;
        }
        let (line, logger) = self.rerun().back_to(tick);
        if let Some(file) = &mut self.file {
            file.catch_up(&self.line, self.logger.log(), &self.recorder);
        }
        self.line = line;
        self.logger = logger;
        self.kept.forget_after(tick);
        self.recorder.forget_after(tick);
        if let Some(file) = &mut self.file {
            file.back_to(&self.line, self.logger.log(), &self.recorder);
        }
        self.lookback.forget();
        self.controls = self.logger.log().controls_at(tick);
        self.end = EndWatch::new(&self.line, self.course.scenario().time_limit_s);
        self.done = None;
        self.ended = None;
        self.failed_s = None;
        self.looked_at = 0;
        self.look_for_failure();
        true
    }

    fn rerun(&self) -> Rerun<'_> {
        Rerun {
            scenario: self.course.scenario(),
            line: &self.spec,
            log: self.logger.log(),
            kept: &self.kept,
        }
    }

    /// The line as it stood after a tick, to be looked at; the run stays as it is.
    pub fn look_at(&mut self, tick: u64) -> &Line {
        let run = Rerun {
            scenario: self.course.scenario(),
            line: &self.spec,
            log: self.logger.log(),
            kept: &self.kept,
        };
        self.lookback.at(&run, tick)
    }

    /// Judges the run as it ended; one that has not ended is broken off.
    ///
    /// # Errors
    /// Where the simulation itself has failed.
    pub fn finish(self) -> Result<Finished, Box<Failed>> {
        let ending = self.ended.unwrap_or(Ending::BrokenOff);
        self.finish_as(ending)
    }

    pub(super) fn finish_as(self, ending: Ending) -> Result<Finished, Box<Failed>> {
        let head = self.head();
        if let Some(fault) = self.line.fault() {
            return Err(Box::new(Failed {
                course: self.course,
                ticket: self.ticket,
                breaks: self.breaks,
                duration_s: self.line.time_s(),
                fault,
                file: self.file,
            }));
        }
        let log = self.logger.finish(&self.line, ending);
        let verdict = judge(self.course.scenario(), &self.spec, &log);
        let outcome = Outcome::of(&self.line, ending, &Figures::of(&self.line));
        let played = Played {
            set_out: self.set_out,
            spec: self.spec,
            line: self.line,
            ending,
            log,
            verdict,
            kept: self.kept,
        };
        let recording = Recording {
            breaks: self.breaks,
            done: self.done,
            ..self.recorder.finish(&played, head, outcome)
        };
        Ok(Finished {
            course: self.course,
            ticket: self.ticket,
            breaks: self.breaks,
            operator: recording.head.operator.clone(),
            outcome,
            played,
            recording,
            file: self.file,
        })
    }
}
