//! The trainer's screen: classes and people, what is kept of them and what is written down about them,
//! and which runs are going on.
//!
//! | module | what it is |
//! |---|---|
//! | `clerk` | reads and writes the records, on a thread of its own |
//! | `watch` | the runs that are going on |
//! | `pages` | certificates and reports |
//! | `said` | all of it in words |

mod clerk;
mod pages;
mod said;
mod watch;

use std::time::Duration;

use bevy_egui::egui::Ui;
use jiff::civil::Date;
use uuid::Uuid;

use super::choose::Briefed;
use super::house::House;
use super::{Over, Turn};
use crate::records::{Exercise, Kept, Person};
use crate::session::course::Course;
use crate::session::going::Going;
use crate::session::mode::Mode;
use crate::session::store::Store;
use crate::texts::{Lang, Message, Texts};
use crate::view::icons::Mark;
use crate::view::panels::trainer as page;
use clerk::{Clerk, Query, Seen, Told, Write};
use pages::{Kind, Opener, Page};
use watch::Watch;

/// How long the window waits for the next frame while something is being read or written.
const SOON: Duration = Duration::from_millis(60);

/// See the module's text.
pub struct Trainer {
    store: Store,
    /// None while the screen is not on.
    clerk: Option<Clerk>,
    watch: Option<Watch>,
    query: Query,
    seen: Seen,
    going: Vec<Going>,
    /// What there is to teach, in the order of the library.
    exercises: Vec<Exercise>,
    /// Which attempt is looked at; none for the last.
    chosen: Option<Uuid>,
    page: Option<Page>,
    opener: Opener,
    is_reading: bool,
    is_writing: bool,
    fault: Option<Message>,
    done: Option<(Mark, Message)>,
    /// Who signed last.
    signs: String,
    today: Date,
    state: page::State,
    /// What is shown, until any of it is another.
    shown: Option<(Lang, page::Model)>,
}

impl Trainer {
    /// None where nothing is kept.
    pub fn new(house: &House) -> Option<Self> {
        let store = house.store()?.clone();
        Some(Self::of(store, |path| open::that(path)))
    }

    fn of(store: Store, opener: Opener) -> Self {
        Self {
            store,
            clerk: None,
            watch: None,
            query: Query::default(),
            seen: Seen::default(),
            going: Vec::new(),
            exercises: Vec::new(),
            chosen: None,
            page: None,
            opener,
            is_reading: false,
            is_writing: false,
            fault: None,
            done: None,
            signs: String::new(),
            today: said::today(),
            state: page::State::default(),
            shown: None,
        }
    }

    /// Somebody comes to it, or back to it.
    pub fn enter(&mut self, house: &House) {
        self.exercises = house.library().exercises(house.lang());
        self.query.exercises.clone_from(&self.exercises);
        self.query.lang = house.lang();
        self.signs = house.settings.trainer.clone().unwrap_or_default();
        self.today = said::today();
        self.clerk = Some(Clerk::new(self.store.records_file()));
        self.watch = Some(Watch::new(self.store.clone()));
        self.going.clear();
        self.done = None;
        self.is_writing = false;
        self.look();
    }

    /// Somebody leaves it: what is being written is still written.
    pub fn leave(&mut self) {
        self.clerk = None;
        self.watch = None;
    }

    pub fn caption(&self) -> &'static str {
        match self.query.person {
            Some(_) => "window-trainer-person",
            None => "window-trainer",
        }
    }

    /// How long the window may wait for the next frame.
    pub fn idle(&self, usual: Duration) -> Duration {
        match self.is_reading || self.is_writing {
            true => SOON,
            false => usual,
        }
    }

    /// Asks for what is to be seen now.
    fn look(&mut self) {
        let query = self.next_query();
        if let Some(clerk) = &self.clerk {
            clerk.look(query);
            self.is_reading = true;
        }
        self.shown = None;
    }

    fn next_query(&mut self) -> Query {
        self.query.number += 1;
        self.query.clone()
    }

    /// Takes what the others have done meanwhile.
    pub fn drive(&mut self) {
        if let Some(going) = self.watch.as_ref().and_then(Watch::hear)
            && going != self.going
        {
            self.going = going;
            self.shown = None;
        }
        if self.page.as_mut().is_some_and(Page::hear) {
            self.shown = None;
        }
        while let Some(clerk) = &self.clerk {
            match clerk.hear() {
                Ok(None) => break,
                Ok(Some(told)) => self.hear(told),
                Err(lost) => {
                    self.clerk = None;
                    self.is_writing = false;
                    self.is_reading = false;
                    self.fault = Some(lost);
                }
            }
            self.shown = None;
        }
    }

    fn hear(&mut self, told: Told) {
        match told {
            // Something else has been asked for since.
            Told::Seen(number, _) if number != self.query.number => {}
            Told::Seen(_, seen) => {
                self.seen = *seen;
                self.query.class.clone_from(&self.seen.class);
                // Who is not there any more is not looked at.
                if self.person().is_none() {
                    self.query.person = None;
                }
                self.is_reading = false;
                self.fault = None;
            }
            Told::Unread(fault) => {
                self.is_reading = false;
                self.fault = Some(fault);
            }
            Told::Written(done) => {
                self.is_writing = false;
                self.state.form = None;
                self.done = Some((Mark::Ok, done));
            }
            Told::Refused(fault) => {
                self.is_writing = false;
                let fault = Message::new("trainer-still-here").with("fault", fault);
                self.done = Some((Mark::Caution, fault));
            }
        }
    }

    pub fn show(&mut self, ui: &mut Ui, house: &mut House) -> Option<Turn> {
        let texts = house.texts();
        let lang = house.lang();
        let shown = self.shown.take().filter(|(of, _)| *of == lang);
        let (_, model) = shown.unwrap_or_else(|| (lang, self.model(texts)));
        let mut state = self.state.clone();
        let action = page::show(ui, texts, &model, &mut state);
        // What was done on it is seen in the next pass.
        if action.is_some() || state != self.state {
            ui.ctx().request_repaint();
        }
        // What was told is told until something else is begun.
        if state.form.is_some() && self.state.form.is_none() {
            self.done = None;
        } else {
            self.shown = Some((lang, model));
        }
        self.state = state;
        self.act(action?, house, texts)
    }

    fn act(
        &mut self,
        action: page::Action,
        house: &mut House,
        texts: &'static Texts,
    ) -> Option<Turn> {
        use page::Action;
        self.shown = None;
        match action {
            Action::Class(class) => {
                let class = class
                    .checked_sub(1)
                    .and_then(|at| self.seen.classes.get(at));
                self.query.class = class.map(|(name, _)| name.clone());
                self.look();
            }
            Action::Person(row) => {
                self.query.person = self.seen.people.get(row).map(|person| person.id);
                self.chosen = None;
                self.seen.kept.clear();
                self.done = None;
                self.look();
            }
            Action::Attempt(place) => {
                self.chosen = self.seen.kept.get(place).map(|kept| kept.attempt.uid);
            }
            Action::All => {
                self.query.person = None;
                self.done = None;
                self.look();
            }
            Action::AddClass(name) => {
                self.query.class = Some(name.clone());
                self.write(Write::Class(name));
            }
            Action::AddPeople { names, number } => {
                let class = self.seen.class.clone();
                self.write(Write::People {
                    names,
                    number,
                    class,
                });
            }
            Action::SignOff { by, note } => {
                self.keep_name(&by, house);
                let attempt = self.kept()?.attempt.uid;
                self.write(Write::SignOff { attempt, by, note });
            }
            Action::Void { by, why } => {
                self.keep_name(&by, house);
                let attempt = self.kept()?.attempt.uid;
                self.write(Write::Void { attempt, by, why });
            }
            Action::Due { on, at_exercise } => {
                let on = on.parse().ok()?;
                let person = self.person()?.clone();
                let attempt = self.kept().map(|kept| kept.attempt.scenario.clone());
                self.write(Write::Due {
                    person,
                    scenario: attempt.filter(|_| at_exercise),
                    on,
                });
            }
            Action::Assess { exercise, others } => return self.assess(exercise, others, house),
            Action::Certificate => self.make(Kind::Certificate, texts),
            Action::Report => self.make(Kind::Report, texts),
            Action::Back => return Some(Turn::Title),
        }
        None
    }

    fn write(&mut self, what: Write) {
        let query = self.next_query();
        if let Some(clerk) = &self.clerk {
            self.done = None;
            self.is_writing = true;
            // It is seen when it is written.
            self.is_reading = true;
            clerk.write(what, query);
        }
    }

    /// Keeps the name of whoever signs for the next time. Where it cannot be kept, it is written again.
    fn keep_name(&mut self, by: &str, house: &mut House) {
        by.clone_into(&mut self.signs);
        if house.settings.trainer.as_deref() != Some(by) {
            house.settings.trainer = Some(by.to_owned());
            let _ = house.keep_settings();
        }
    }

    fn make(&mut self, kind: Kind, texts: &'static Texts) {
        if let Some(kept) = self.kept().cloned() {
            let page = Page::make(kind, kept, self.store.clone(), texts, self.opener);
            self.page = Some(page);
        }
    }

    /// Whoever is looked at.
    fn person(&self) -> Option<&Person> {
        let id = self.query.person?;
        self.seen.people.iter().find(|person| person.id == id)
    }

    /// Which of their attempts is looked at.
    fn chosen_place(&self) -> usize {
        let at = self.chosen.and_then(|chosen| {
            let mut kept = self.seen.kept.iter();
            kept.position(|kept| kept.attempt.uid == chosen)
        });
        at.unwrap_or_default()
    }

    fn kept(&self) -> Option<&Kept> {
        self.seen.kept.get(self.chosen_place())
    }

    /// Leads to the brief of an assessment that is this person's.
    fn assess(&mut self, exercise: usize, others: bool, house: &House) -> Option<Turn> {
        let trainee = self.person()?.named();
        let Some(entry) = house.entry(exercise) else {
            return Some(Turn::Over(Over::Notice("exercises-none".into())));
        };
        let course = entry.course(Mode::Assessed);
        let tried = self.seen.kept.iter();
        let tried = tried.filter(|kept| kept.attempt.scenario == course.id);
        let seed = match others {
            // One that none of their attempts had.
            true => tried
                .map(|kept| kept.attempt.seed)
                .fold(course.seed, u64::max)
                .wrapping_add(1),
            false => course.seed,
        };
        self.state.form = None;
        Some(Turn::Brief(Box::new(Briefed::new(Course {
            trainee: Some(trainee),
            seed,
            ..course
        }))))
    }
}

#[cfg(test)]
mod tests;
