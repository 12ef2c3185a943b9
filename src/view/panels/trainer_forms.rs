//! What is asked before the trainer's screen writes anything, or begins an assessment.

use bevy_egui::egui::{TextEdit, Ui};

use super::dialog;
use super::parts::{self, Press, say};
use super::trainer::{Action, Attempt, Form, Model, is_date};
use super::trainer_glance::standing_said;
use crate::records::Standing;
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

/// Letters of a name, of a reason.
const NAME_MOST: usize = 80;
const TEXT_MOST: usize = 400;
/// How wide what is written in is at most, in heights of the text.
const WIDE: f32 = 36.0;

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, open: &mut Option<Form>) -> Option<Action> {
    let width = (WIDE * theme::em(ui)).min(ui.available_width());
    ui.set_max_width(width);
    let form = open.as_mut()?;
    let (action, closes) = match form {
        Form::Class { name } => class(ui, texts, model, name),
        Form::People { names, number } => people(ui, texts, model, names, number),
        Form::SignOff { by, note, asked } => sign_off(ui, texts, model, (by, note), asked),
        Form::Due { on, at_exercise } => due(ui, texts, model, on, at_exercise),
        Form::Void { by, why } => void(ui, texts, model, by, why),
        Form::Assess { exercise, others } => assess(ui, texts, model, exercise, others),
    };
    if closes {
        *open = None;
    }
    action
}

/// What was done in a form, and whether it is left without anything.
type Done = (Option<Action>, bool);

/// The attempt that is looked at.
fn chosen(model: &Model) -> Option<&Attempt> {
    let person = model.person.as_ref()?;
    person.attempts.get(person.chosen)
}

fn line(ui: &mut Ui, texts: &Texts, id: &'static str, text: &mut String, begins: bool) {
    let label = say(texts, id);
    let field = parts::field(ui, &label, |_| {
        TextEdit::singleline(text)
            .desired_width(f32::INFINITY)
            .char_limit(NAME_MOST)
    });
    if begins {
        parts::home(ui, &field);
    }
}

fn lines(ui: &mut Ui, texts: &Texts, id: &'static str, text: &mut String, begins: bool) {
    let label = say(texts, id);
    let field = parts::field(ui, &label, |_| {
        TextEdit::multiline(text)
            .desired_rows(3)
            .desired_width(f32::INFINITY)
            .char_limit(TEXT_MOST)
    });
    if begins {
        parts::home(ui, &field);
    }
}

/// Doing it, or leaving it: whether each is pressed.
fn ends(ui: &mut Ui, texts: &Texts, model: &Model, text: &str, icon: Icon, can: bool) -> [bool; 2] {
    parts::space(ui, gap::SMALL);
    parts::row(ui, |ui| {
        let done = ui.add_enabled_ui(can && !model.is_writing, |ui| {
            Press::new(text).icon(icon).primary().show(ui).clicked()
        });
        let leave = parts::button(ui, &say(texts, "trainer-leave"));
        [done.inner, leave.clicked()]
    })
}

fn class(ui: &mut Ui, texts: &Texts, model: &Model, name: &mut String) -> Done {
    parts::subheading(ui, &say(texts, "trainer-add-class"));
    line(ui, texts, "trainer-class-name", name, true);
    let can = !name.trim().is_empty();
    let text = say(texts, "trainer-add-class-do");
    let [done, leave] = ends(ui, texts, model, &text, Icon::Plus, can);
    let action = done.then(|| Action::AddClass(name.trim().to_owned()));
    (action, leave)
}

/// The names of a text: one a line, or between commas.
fn names_in(text: &str) -> Vec<String> {
    let names = text.split(['\n', ',', ';']).map(str::trim);
    names
        .filter(|name| !name.is_empty())
        .map(str::to_owned)
        .collect()
}

fn people(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    names: &mut String,
    number: &mut String,
) -> Done {
    parts::subheading(ui, &say(texts, "trainer-add-people"));
    let into = match model.classes.get(model.class).filter(|_| model.class > 0) {
        Some((name, _)) => Message::new("trainer-into-class").with("class", name.as_str()),
        None => "trainer-into-none".into(),
    };
    parts::body(ui, &texts.say(&into));
    lines(ui, texts, "trainer-names", names, true);
    line(ui, texts, "trainer-number", number, false);
    let found = names_in(names);
    let is_one_too_many = !number.trim().is_empty() && found.len() > 1;
    if is_one_too_many {
        parts::sign(ui, Mark::Caution, &say(texts, "trainer-number-of-one"));
    }
    let text = texts.say(&Message::new("trainer-add-people-do").with("people", found.len()));
    let can = !found.is_empty() && !is_one_too_many;
    let [done, leave] = ends(ui, texts, model, &text, Icon::Plus, can);
    let action = done.then(|| Action::AddPeople {
        names: found,
        number: number.trim().to_owned(),
    });
    (action, leave)
}

/// Which attempt it is about.
fn about(ui: &mut Ui, model: &Model) {
    if let Some(attempt) = chosen(model) {
        parts::body(ui, &format!("{}, {}", attempt.title, attempt.date));
        parts::sign(ui, attempt.mark, &attempt.result);
    }
}

fn sign_off(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    (by, note): (&mut String, &mut String),
    asked: &mut bool,
) -> Done {
    parts::subheading(ui, &say(texts, "trainer-sign-off"));
    about(ui, model);
    parts::body(ui, &say(texts, "trainer-sign-off-means"));
    line(ui, texts, "trainer-by", by, true);
    lines(ui, texts, "trainer-note", note, false);
    let text = say(texts, "trainer-sign-off");
    let can = !by.trim().is_empty();
    let [done, leave] = ends(ui, texts, model, &text, Icon::Tick, can);
    *asked |= done;
    (None, leave)
}

/// It is asked once whether somebody signs off.
pub fn sure(ui: &mut Ui, texts: &Texts, model: &Model, open: &mut Option<Form>) -> Option<Action> {
    let Some(Form::SignOff { by, note, asked }) = open else {
        return None;
    };
    let attempt = chosen(model)?;
    let question = Message::new("trainer-sign-off-sure")
        .with("exercise", attempt.title.as_str())
        .with("date", attempt.date.as_str())
        .with("result", attempt.result.as_str())
        .with("by", by.trim());
    let question = dialog::Model {
        mark: Mark::Note,
        title: say(texts, "trainer-sign-off-title"),
        what: texts.say(&question),
        place: None,
        remedy: None,
        answers: vec![
            say(texts, "trainer-sign-off-yes"),
            say(texts, "trainer-sign-off-no"),
        ],
        escape: Some(1),
    };
    let answer = dialog::show(ui, texts, &question)?;
    *asked = false;
    (answer == 0).then(|| Action::SignOff {
        by: by.trim().to_owned(),
        note: note.trim().to_owned(),
    })
}

fn due(ui: &mut Ui, texts: &Texts, model: &Model, on: &mut String, at_exercise: &mut bool) -> Done {
    parts::subheading(ui, &say(texts, "trainer-set-due"));
    let words: Vec<String> = model.soon.iter().map(|(words, _)| words.clone()).collect();
    let at = model.soon.iter().position(|(_, date)| date == on);
    let soon = parts::row(ui, |ui| {
        parts::first_choice(ui, &words, at.unwrap_or(usize::MAX))
    });
    if let Some((_, date)) = soon.and_then(|soon| model.soon.get(soon)) {
        date.clone_into(on);
    }
    line(ui, texts, "trainer-date", on, at.is_none());
    if let Some(attempt) = chosen(model) {
        parts::note(ui, &say(texts, "trainer-due-for"));
        let what = [say(texts, "trainer-due-all"), attempt.title.clone()];
        let pressed = parts::row(ui, |ui| parts::choice(ui, &what, usize::from(*at_exercise)));
        *at_exercise = pressed.map_or(*at_exercise, |pressed| pressed == 1);
    }
    let can = is_date(on);
    if !can && !on.trim().is_empty() {
        parts::sign(ui, Mark::Caution, &say(texts, "trainer-date-fault"));
    }
    let text = say(texts, "trainer-set-due-do");
    let [done, leave] = ends(ui, texts, model, &text, Icon::Tick, can);
    let action = done.then(|| Action::Due {
        on: on.trim().to_owned(),
        at_exercise: *at_exercise,
    });
    (action, leave)
}

fn void(ui: &mut Ui, texts: &Texts, model: &Model, by: &mut String, why: &mut String) -> Done {
    parts::subheading(ui, &say(texts, "trainer-void"));
    about(ui, model);
    parts::body(ui, &say(texts, "trainer-void-means"));
    lines(ui, texts, "trainer-why", why, true);
    line(ui, texts, "trainer-by", by, false);
    let text = say(texts, "trainer-void-do");
    let can = !by.trim().is_empty() && !why.trim().is_empty();
    let [done, leave] = ends(ui, texts, model, &text, Icon::Close, can);
    let action = done.then(|| Action::Void {
        by: by.trim().to_owned(),
        why: why.trim().to_owned(),
    });
    (action, leave)
}

fn assess(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    exercise: &mut usize,
    others: &mut bool,
) -> Done {
    let Some(person) = &model.person else {
        return (None, true);
    };
    let Some((name, standing)) = person.exercises.get(*exercise) else {
        parts::body(ui, &say(texts, "exercises-none"));
        let leave = parts::button(ui, &say(texts, "trainer-leave"));
        parts::home(ui, &leave);
        return (None, leave.clicked());
    };
    parts::subheading(ui, &say(texts, "trainer-assess"));
    parts::body(ui, &say(texts, "trainer-assess-means"));
    if parts::toggle(ui, &say(texts, "trainer-assess-others"), *others) {
        *others = !*others;
    }
    let text = Message::new("trainer-assess-do").with("exercise", name.as_str());
    let text = texts.say(&text);
    parts::space(ui, gap::SMALL);
    let (goes, leave) = parts::row(ui, |ui| {
        let press = Press::new(&text).icon(Icon::Flag).primary().show(ui);
        parts::home(ui, &press);
        let leave = parts::button(ui, &say(texts, "trainer-leave"));
        (press.clicked(), leave.clicked())
    });
    let said = standing_said(texts, *standing);
    parts::note(ui, &said);
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "trainer-assess-other"));
    let before = *exercise;
    for (i, (name, standing)) in person.exercises.iter().enumerate() {
        let mark = match standing {
            Standing::NotTried => Mark::Off,
            Standing::NotPassed { .. } => Mark::Not,
            Standing::Passed { .. } | Standing::Mastered { .. } => Mark::Ok,
        };
        let said = standing_said(texts, *standing);
        let press = Press::new(name)
            .mark(mark, &said)
            .selected(i == before)
            .fill();
        let press = ui.push_id(("exercise", i), |ui| press.show(ui)).inner;
        if press.clicked() {
            *exercise = i;
        }
    }
    let action = goes.then_some(Action::Assess {
        exercise: before,
        others: *others,
    });
    (action, leave)
}
