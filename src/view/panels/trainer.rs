//! The trainer's screen: classes at the left; people, the class at a glance, or the runs that are going
//! on at the right. A person, or what is asked before something is written, takes the place of all.

use std::mem::discriminant;

use bevy_egui::egui::{Key, TextEdit, Ui};

use super::parts::{self, Press, say};
use super::{trainer_forms, trainer_glance, trainer_person, trainer_table};
use crate::records::Standing;
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// Everybody first; each with how many are in it.
    pub classes: Vec<(String, String)>,
    pub class: usize,
    pub people: Vec<Row>,
    pub glance: Glance,
    pub going: Vec<Going>,
    /// Whoever is looked at.
    pub person: Option<Person>,
    /// What is being read or written, as long as it is.
    pub busy: Option<String>,
    /// What is being written must be done before anything else is.
    pub is_writing: bool,
    /// Why what is shown is not what is kept now.
    pub fault: Option<String>,
    /// What came of what was done last.
    pub done: Option<(Mark, String)>,
    /// Who stands for attempts, as they signed last.
    pub trainer: String,
    /// Dates to choose from: words, and the date.
    pub soon: Vec<(String, String)>,
}

/// A person of the table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    pub name: String,
    pub attempts: String,
    pub passed: String,
    /// The last attempt.
    pub last: Option<(Mark, String)>,
    /// When they are due again.
    pub due: Option<(Option<Mark>, String)>,
}

/// A class at a glance.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Glance {
    pub head: String,
    /// What else there is to know about it.
    pub notes: Vec<String>,
    /// Exercises that were tried: their names, and who came how far in them.
    pub exercises: Vec<(String, String)>,
    pub people: Vec<(String, Vec<Standing>)>,
    /// What is found most, with its share of the people.
    pub findings: Vec<(f32, String)>,
    /// From attempt to attempt: the share that was passed.
    pub rounds: Vec<(f32, String)>,
    pub next: Vec<String>,
}

/// A run that is going on.
#[derive(Clone, Debug, PartialEq)]
pub struct Going {
    pub who: String,
    /// Exercise and mode.
    pub what: String,
    pub since: String,
    /// How far it is, and what happened last.
    pub far: Vec<(Mark, String)>,
}

/// See the module's text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Person {
    pub name: String,
    pub facts: Vec<String>,
    pub due: Option<(Option<Mark>, String)>,
    pub attempts: Vec<Attempt>,
    /// Which of them is looked at.
    pub chosen: usize,
    /// Exercises to be assessed in: name, and how far they have come.
    pub exercises: Vec<(String, Standing)>,
    /// The first of them that they have not passed.
    pub proposed: usize,
}

/// An attempt.
#[derive(Clone, Debug, PartialEq)]
pub struct Attempt {
    pub title: String,
    pub date: String,
    /// What came of it.
    pub mark: Mark,
    pub result: String,
    /// Whether somebody stands for it, in few words.
    pub signed: String,
    /// How it was made.
    pub facts: String,
    /// Signs and corrections: what somebody stands for.
    pub remarks: Vec<(Mark, String)>,
    /// Title, how grave and what it cost.
    pub findings: Vec<(Mark, String, String)>,
    /// It counts: only then it can be signed off and has a certificate.
    pub counts: bool,
    /// What became of a page about it.
    pub page: Option<(Mark, String)>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    Class(usize),
    Person(usize),
    Attempt(usize),
    AddClass(String),
    AddPeople {
        names: Vec<String>,
        number: String,
    },
    SignOff {
        by: String,
        note: String,
    },
    Due {
        on: String,
        /// At the exercise of the attempt that is looked at alone.
        at_exercise: bool,
    },
    Void {
        by: String,
        why: String,
    },
    Assess {
        exercise: usize,
        /// With other sticks than the standard ones.
        others: bool,
    },
    Certificate,
    Report,
    /// From a person to all.
    All,
    Back,
}

/// What is at the right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Tab {
    #[default]
    People,
    Glance,
    Going,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    pub tab: Tab,
    /// What is looked for among the people.
    pub sought: String,
    /// It was sought: the keyboard goes on to the first who was found.
    pub goes_on: bool,
    /// In a narrow window: the list of classes is open, or an attempt.
    pub opened: bool,
    pub form: Option<Form>,
}

/// What is asked before something is written.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    Class {
        name: String,
    },
    People {
        names: String,
        number: String,
    },
    SignOff {
        by: String,
        note: String,
        /// It is asked once whether it shall be.
        asked: bool,
    },
    Due {
        on: String,
        at_exercise: bool,
    },
    Void {
        by: String,
        why: String,
    },
    Assess {
        exercise: usize,
        others: bool,
    },
}

/// Narrower or lower than so many heights of the text, the parts take turns.
const TWO_COLUMNS: f32 = 64.0;
const LOW: f32 = 28.0;

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::screen(ui, |ui| {
        if let Some(Form::SignOff { asked: true, .. }) = state.form {
            return trainer_forms::sure(ui, texts, model, &mut state.form);
        }
        let em = theme::em(ui);
        let is_wide = ui.available_width() > TWO_COLUMNS * em && ui.available_height() > LOW * em;
        let title = match &model.person {
            Some(person) => person.name.clone(),
            None => say(texts, "trainer-title"),
        };
        let back = parts::header(ui, texts, &title) || parts::escaped(ui);
        // What lies over the rest is left first.
        if back && state.form.take().is_some() {
            return None;
        }
        if back && std::mem::take(&mut state.opened) && !is_wide {
            return None;
        }
        let leaves = match &model.person {
            Some(_) => Action::All,
            None => Action::Back,
        };
        let action = if let Some(form) = &state.form {
            parts::scroll(ui, ("form", discriminant(form)), true, |ui| {
                told(ui, model);
                trainer_forms::show(ui, texts, model, &mut state.form)
            })
        } else if let Some(person) = &model.person {
            trainer_person::show(ui, texts, model, person, state, is_wide)
        } else if is_wide {
            columns(ui, texts, model, state)
        } else {
            parts::scroll(
                ui,
                ("all", state.opened, state.tab, model.class),
                true,
                |ui| in_turn(ui, texts, model, state),
            )
        };
        action.or(back.then_some(leaves))
    })
}

/// What is being done, what is wrong, what was done.
pub(super) fn told(ui: &mut Ui, model: &Model) {
    if let Some(fault) = &model.fault {
        parts::sign(ui, Mark::Caution, fault);
    }
    if let Some(busy) = &model.busy {
        parts::sign(ui, Mark::Note, busy);
    }
    if let Some((mark, done)) = &model.done {
        parts::sign(ui, *mark, done);
    }
}

fn columns(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    let width = ui.available_width();
    let [left, right] = parts::split(ui, (0.22 * width).max(17.0 * theme::em(ui)));
    let class = parts::within(ui, "left", left, |ui| {
        parts::scroll(ui, "classes", false, |ui| {
            parts::subheading(ui, &say(texts, "trainer-classes"));
            let class = classes(ui, model, true);
            parts::space(ui, gap::MEDIUM);
            adds(ui, texts, state, true);
            class
        })
    });
    let shown = parts::within(ui, "right", right, |ui| {
        tabs(ui, texts, model, state);
        told(ui, model);
        parts::space(ui, gap::SMALL);
        if state.tab == Tab::People && !model.people.is_empty() {
            seek(ui, texts, state);
            trainer_table::heads(ui, texts);
        }
        let width = trainer_table::width(ui);
        parts::scroll(ui, ("shown", state.tab, model.class), true, |ui| {
            shown(ui, texts, model, state, Some(width))
        })
    });
    class.or(shown)
}

fn in_turn(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    if state.opened {
        parts::subheading(ui, &say(texts, "trainer-classes"));
        let class = classes(ui, model, true);
        if class.is_some() {
            state.opened = false;
        }
        return class;
    }
    let name = model
        .classes
        .get(model.class)
        .map(|(name, _)| name.as_str());
    let note = say(texts, "trainer-other-class");
    let press = Press::new(name.unwrap_or_default()).note(&note).listed();
    let press = press.show(ui);
    parts::home(ui, &press);
    if press.clicked() {
        state.opened = true;
    }
    tabs(ui, texts, model, state);
    told(ui, model);
    parts::space(ui, gap::SMALL);
    if state.tab == Tab::People {
        adds(ui, texts, state, false);
    }
    if state.tab == Tab::People && !model.people.is_empty() {
        seek(ui, texts, state);
    }
    shown(ui, texts, model, state, None)
}

fn tabs(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) {
    const TABS: [Tab; 3] = [Tab::People, Tab::Glance, Tab::Going];
    let going = Message::new("trainer-going").with("runs", model.going.len());
    let words = [
        say(texts, "trainer-people"),
        say(texts, "trainer-glance"),
        texts.say(&going),
    ];
    let at = TABS.iter().position(|tab| *tab == state.tab);
    let chosen = parts::row(ui, |ui| parts::choice(ui, &words, at.unwrap_or_default()));
    if let Some(tab) = chosen.and_then(|chosen| TABS.get(chosen)) {
        state.tab = *tab;
    }
}

fn classes(ui: &mut Ui, model: &Model, begins: bool) -> Option<Action> {
    let mut action = None;
    for (i, (name, people)) in model.classes.iter().enumerate() {
        let press = Press::new(name)
            .note(people)
            .selected(i == model.class)
            .fill()
            .show(ui);
        if begins && i == model.class {
            parts::home(ui, &press);
        }
        if press.clicked() {
            action = Some(Action::Class(i));
        }
    }
    action
}

/// What can be added. They stand below each other where there is room for it.
fn adds(ui: &mut Ui, texts: &Texts, state: &mut State, is_listed: bool) {
    let mut add = |ui: &mut Ui| {
        for (id, form) in [
            (
                "trainer-add-people",
                Form::People {
                    names: String::new(),
                    number: String::new(),
                },
            ),
            (
                "trainer-add-class",
                Form::Class {
                    name: String::new(),
                },
            ),
        ] {
            let text = say(texts, id);
            let mut press = Press::new(&text).icon(Icon::Plus);
            if is_listed {
                press = press.listed();
            }
            if press.show(ui).clicked() {
                state.form = Some(form);
            }
        }
    };
    if is_listed {
        add(ui);
    } else {
        parts::row(ui, add);
    }
}

/// Letters of what is looked for.
const SOUGHT_MOST: usize = 60;

fn seek(ui: &mut Ui, texts: &Texts, state: &mut State) {
    let label = say(texts, "trainer-seek");
    let sought = &mut state.sought;
    let field = parts::field(ui, &label, |_| {
        TextEdit::singleline(sought)
            .desired_width(f32::INFINITY)
            .char_limit(SOUGHT_MOST)
    });
    // The arrows stay in a field.
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    state.goes_on =
        field.has_focus() && pressed(Key::ArrowDown) || field.lost_focus() && pressed(Key::Enter);
}

fn shown(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    width: Option<f32>,
) -> Option<Action> {
    match state.tab {
        Tab::People => trainer_table::show(ui, texts, model, state, width),
        Tab::Glance => {
            trainer_glance::show(ui, texts, &model.glance);
            None
        }
        Tab::Going => {
            going(ui, texts, model);
            None
        }
    }
}

/// The runs that are made now.
fn going(ui: &mut Ui, texts: &Texts, model: &Model) {
    if model.going.is_empty() {
        parts::sign(ui, Mark::Off, &say(texts, "trainer-going-none"));
        parts::space(ui, gap::SMALL);
    }
    for one in &model.going {
        parts::raised(ui, |ui| {
            parts::sign_heading(ui, Mark::On, &one.who);
            parts::body(ui, &one.what);
            parts::note(ui, &one.since);
            for (mark, far) in &one.far {
                parts::sign(ui, *mark, far);
            }
        });
        parts::space(ui, gap::SMALL);
    }
    parts::note(ui, &say(texts, "trainer-going-how"));
}

/// Whether a date is written as dates are: year, month and day.
pub(super) fn is_date(text: &str) -> bool {
    text.trim().parse::<jiff::civil::Date>().is_ok() && text.trim().len() == 10
}
