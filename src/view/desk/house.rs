//! What outlives a run: settings, scenarios to choose, results; and what is wrong with any of them.

use std::path::{Path, PathBuf};

use crate::records::{Attempt, Standing};
use crate::scenario::Base;
use crate::session::course::Course;
use crate::session::finished::Finished;
use crate::session::leftover;
use crate::session::library::{Entry, Library};
use crate::session::mode::Mode;
use crate::session::run::Run;
use crate::session::settings::Settings;
use crate::session::store::{Store, hash_of};
use crate::sim::line::Line;
use crate::texts::{Lang, Message, Texts};
use crate::view::panels::exercises::{Best, Row, Showing};
use crate::view::quality::Quality;
use crate::view::theme::ThemeChoice;

/// Names on the roster, and as they are shown.
type Showings = (Vec<&'static str>, Vec<Showing>);

/// See the module's text.
pub struct House {
    store: Option<Store>,
    pub settings: Settings,
    library: Library,
    results: Vec<Attempt>,
    /// The list of exercises, as it was made last.
    rows: Option<(Lang, Vec<Row>)>,
    /// Who can show which exercise, as it was asked last.
    showings: Option<(usize, Lang, Showings)>,
    notices: Vec<Message>,
    /// The language where the settings name none.
    environment: Lang,
}

impl House {
    /// Opens the records; without a place to keep them, nothing is kept, which is said.
    pub fn open(environment: Lang) -> Self {
        match Store::open() {
            Ok(store) => Self::of(Some(store), Vec::new(), environment),
            Err(error) => Self::of(None, vec![error.message()], environment),
        }
    }

    /// With the records in a place of the caller's.
    #[cfg(test)]
    pub fn at(store: Store, environment: Lang) -> Self {
        Self::of(Some(store), Vec::new(), environment)
    }

    fn of(store: Option<Store>, mut notices: Vec<Message>, environment: Lang) -> Self {
        let settings = store.as_ref().map_or_else(Settings::default, |store| {
            let (settings, fault) = Settings::load(&store.settings());
            notices.extend(fault);
            settings
        });
        let folder = store.as_ref().map(Store::scenarios);
        let library = Library::open(folder.as_deref());
        if let Some(store) = &store {
            notices.extend(settle(store));
        }
        let texts = Texts::of(settings.lang.unwrap_or(environment));
        notices.extend(
            library
                .faults()
                .iter()
                .map(|fault| Message::new("notice-scenario").with("fault", fault.say(texts))),
        );
        let mut house = Self {
            store,
            settings,
            library,
            results: Vec::new(),
            rows: None,
            showings: None,
            notices,
            environment,
        };
        house.read_results();
        house
    }

    /// What was found wrong, once.
    pub fn notices(&self) -> Vec<Message> {
        self.notices.clone()
    }

    pub fn texts(&self) -> &'static Texts {
        Texts::of(self.lang())
    }

    pub fn lang(&self) -> Lang {
        self.settings.lang.unwrap_or(self.environment)
    }

    pub fn theme(&self) -> ThemeChoice {
        if self.settings.projector {
            ThemeChoice::Projector
        } else {
            ThemeChoice::Dark
        }
    }

    pub fn text_scale(&self) -> f32 {
        self.settings.text_scale_pct as f32 / 100.0
    }

    /// None where the program chooses.
    pub fn quality(&self) -> Option<Quality> {
        self.settings.quality.as_deref().and_then(Quality::of_code)
    }

    /// Keeps the settings; says what is wrong where they cannot be kept.
    pub fn keep_settings(&self) -> Option<Message> {
        let store = self.store.as_ref()?;
        let kept = self.settings.save(&store.settings());
        kept.err().map(|error| error.message())
    }

    pub fn read_results(&mut self) {
        if let Some(store) = &self.store {
            let (results, faults) = store.results();
            self.results = results;
            self.notices.extend(faults);
        }
        self.rows = None;
    }

    pub fn entry(&self, row: usize) -> Option<&Entry> {
        self.library.entries().get(row)
    }

    /// The line of an exercise, as it is found.
    pub fn line_of(&self, row: usize) -> Option<Line> {
        let entry = self.entry(row)?;
        Some(Line::build(&entry.course(Mode::Practice).as_found()))
    }

    /// What stands behind the first screens.
    pub fn backdrop(&self) -> Option<Line> {
        let entry = self.library.first()?;
        Some(Line::build(&entry.course(Mode::Practice).as_found()))
    }

    /// Every scenario as a base that can be varied.
    pub fn bases(&self) -> Vec<Base> {
        let entries = self.library.entries().iter();
        let base = |entry: &Entry| Base {
            file: format!("{}.ron", entry.id),
            loaded: (*entry.loaded).clone(),
        };
        entries.map(base).collect()
    }

    /// A folder for a sweep that begins now; none where nothing is kept.
    pub fn lab_folder(&self) -> Option<PathBuf> {
        self.store.as_ref().map(Store::new_sweep)
    }

    /// Where everything is kept; none where nothing is.
    pub fn store(&self) -> Option<&Store> {
        self.store.as_ref()
    }

    pub fn library(&self) -> &Library {
        &self.library
    }

    /// Whether there is a place to keep anything.
    pub fn has_place(&self) -> bool {
        self.store.is_some()
    }

    pub fn name_of(&self, course: &Course) -> String {
        course.scenario().texts(self.lang()).name.clone()
    }

    /// The exercises as the list shows them.
    pub fn rows(&mut self) -> Vec<Row> {
        let lang = self.lang();
        let known = self.rows.take().filter(|(of, _)| *of == lang);
        let (_, rows) = self
            .rows
            .insert(known.unwrap_or_else(|| (lang, self.make_rows())));
        rows.clone()
    }

    fn make_rows(&self) -> Vec<Row> {
        self.library
            .entries()
            .iter()
            .map(|entry| {
                let scenario = &entry.loaded.scenario;
                let texts = scenario.texts(self.lang());
                Row {
                    name: texts.name.clone(),
                    level: u8::try_from(scenario.level).unwrap_or(u8::MAX),
                    trains: texts.trains.clone(),
                    minutes: scenario.takes_min,
                    best: self.best(entry),
                    brief: texts.brief.clone(),
                    hazards: texts.hazards.clone(),
                    seed: scenario.seed,
                    picture: None,
                }
            })
            .collect()
    }

    fn best(&self, entry: &Entry) -> Best {
        let trainee = self.settings.trainee.as_deref();
        match Standing::of(&self.results, &hash_of(&entry.loaded.text), trainee) {
            Standing::NotTried => Best::NotTried,
            Standing::NotPassed { .. } => Best::Failed,
            Standing::Passed { points } => Best::Passed { points },
            Standing::Mastered { .. } => Best::Mastered,
        }
    }

    /// Who can show an exercise.
    pub fn showings(&mut self, row: usize) -> Showings {
        let key = (row, self.lang());
        let known = self.showings.take();
        let known = known.filter(|(row, lang, _)| (*row, *lang) == key);
        let known = known.unwrap_or_else(|| (key.0, key.1, self.find_showings(row)));
        self.showings.insert(known).2.clone()
    }

    fn find_showings(&self, row: usize) -> Showings {
        let Some(entry) = self.entry(row) else {
            return (Vec::new(), Vec::new());
        };
        let scenario = &entry.loaded.scenario;
        let applies = crate::operator::ROSTER.iter().filter(|member| {
            member
                .applies(&scenario.line, scenario.set_out_open)
                .is_ok()
        });
        applies
            .map(|member| {
                let showing = Showing {
                    name: member.name.to_owned(),
                    does: self.texts().say(&member.does()),
                };
                (member.name, showing)
            })
            .unzip()
    }

    /// What was assessed last and can be gone on with.
    pub fn last_tried(&self) -> Option<String> {
        self.last_course().map(|course| self.name_of(&course))
    }

    pub fn last_course(&self) -> Option<Course> {
        let last = self.results.last()?;
        let entry = self.library.find(&last.scenario)?;
        Some(Course {
            trainee: self.settings.trainee.clone(),
            ..entry.course(Mode::Assessed)
        })
    }

    /// Puts the beginning of a run down; what is wrong where it cannot.
    pub fn begin(&self, run: &mut Run) -> Option<Message> {
        let store = self.store.as_ref()?;
        store.begin(run).err().map(|error| error.message())
    }

    /// Judges a run that is over or given up, and keeps it.
    ///
    /// # Errors
    /// Where the simulation itself failed.
    pub fn finish(&mut self, run: Run) -> Result<(Finished, Option<Message>), Message> {
        match run.finish() {
            Ok(mut finished) => {
                let kept = self.store.as_ref().map(|store| store.keep(&mut finished));
                let fault = kept.and_then(Result::err).map(|error| error.message());
                self.read_results();
                Ok((finished, fault))
            }
            Err(mut failed) => {
                if let Some(store) = &self.store {
                    let _ = store.keep_failed(&mut failed);
                }
                Err(Message::new("cli-simulation-failed")
                    .with("fault", crate::words::sim_fault(failed.fault)))
            }
        }
    }

    /// The window closes in the middle of a run.
    pub fn give_up(&mut self, run: Run) {
        let _ = self.finish(run);
    }

    /// The recording of a run, or its report, into the records' folder; where it is, or what is wrong.
    pub fn save_report(&self, text: &str, stem: &str) -> Result<String, Message> {
        let store = self
            .store
            .as_ref()
            .ok_or_else(|| Message::new("notice-no-place"))?;
        let path = store.reports().join(format!("{stem}.txt"));
        write(&path, text)?;
        Ok(path.display().to_string())
    }
}

fn write(path: &Path, text: &str) -> Result<(), Message> {
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|error| {
            Message::new("output-unwritable")
                .with("file", folder.display().to_string())
                .with("error", error.to_string())
        })?;
    }
    let output = crate::evidence::Output::open(path).map_err(|error| error.message())?;
    output
        .write(text.as_bytes())
        .map_err(|error| error.message())
}

/// Assessments that were broken off by more than the window: they get their results now.
fn settle(store: &Store) -> Vec<Message> {
    let (leftovers, mut notices) = leftover::leftovers(store);
    for leftover in leftovers {
        let said = match leftover.settle(store) {
            Ok(row) => Message::new("notice-settled").with("scenario", row.scenario),
            Err(error) => error.message(),
        };
        notices.push(said);
    }
    notices
}
