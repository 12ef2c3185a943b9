//! A person: their attempts at the left, the one that is looked at right, and what can be done.

use bevy_egui::egui::{Response, Ui};

use super::parts::{self, Press, say};
use super::trainer::{Action, Attempt, Form, Model, Person, State, told};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

pub fn show(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    person: &Person,
    state: &mut State,
    is_wide: bool,
) -> Option<Action> {
    if is_wide {
        told(ui, model);
        let width = ui.available_width();
        let [left, right] = parts::split(ui, (0.36 * width).max(24.0 * theme::em(ui)));
        let listed = parts::within(ui, "left", left, |ui| {
            parts::scroll(ui, "attempts", false, |ui| {
                about(ui, texts, person, state);
                list(ui, texts, person, state)
            })
        });
        let done = parts::within(ui, "right", right, |ui| {
            parts::scroll(ui, ("attempt", &person.name, person.chosen), true, |ui| {
                chosen(ui, texts, model, person, state, false)
            })
        });
        return listed.or(done);
    }
    parts::scroll(ui, ("person", &person.name, state.opened), true, |ui| {
        told(ui, model);
        if state.opened {
            return chosen(ui, texts, model, person, state, true);
        }
        about(ui, texts, person, state);
        let listed = list(ui, texts, person, state);
        state.opened = listed.is_some();
        listed
    })
}

/// What is known of them, and what can be done for them.
fn about(ui: &mut Ui, texts: &Texts, person: &Person, state: &mut State) {
    for fact in &person.facts {
        parts::body(ui, fact);
    }
    if let Some((mark, due)) = &person.due {
        parts::sign(ui, mark.unwrap_or(Mark::Note), due);
    }
    parts::row(ui, |ui| {
        let assess = say(texts, "trainer-assess");
        let press = Press::new(&assess).icon(Icon::Flag).primary().show(ui);
        parts::home(ui, &press);
        if press.clicked() {
            state.form = Some(Form::Assess {
                exercise: person.proposed,
                others: false,
            });
        }
        if parts::button(ui, &say(texts, "trainer-set-due")).clicked() {
            state.form = Some(Form::Due {
                on: String::new(),
                at_exercise: false,
            });
        }
    });
    parts::space(ui, gap::MEDIUM);
}

fn list(ui: &mut Ui, texts: &Texts, person: &Person, state: &State) -> Option<Action> {
    parts::subheading(ui, &say(texts, "trainer-their-attempts"));
    if person.attempts.is_empty() {
        parts::sign(ui, Mark::Off, &say(texts, "trainer-none"));
    }
    let mut action = None;
    for (i, attempt) in person.attempts.iter().enumerate() {
        let note = Message::new("trainer-attempt-note")
            .with("date", attempt.date.as_str())
            .with("signed", attempt.signed.as_str());
        let note = texts.say(&note);
        let press = Press::new(&attempt.title)
            .note(&note)
            .mark(attempt.mark, &attempt.result)
            .selected(i == person.chosen && !state.opened)
            .fill();
        let press = ui.push_id(("attempt", i), |ui| press.show(ui)).inner;
        if press.clicked() {
            action = Some(Action::Attempt(i));
        }
    }
    action
}

/// The attempt that is looked at; the screen may begin with what can be done about it.
fn chosen(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    person: &Person,
    state: &mut State,
    begins: bool,
) -> Option<Action> {
    let Some(attempt) = person.attempts.get(person.chosen) else {
        parts::body(ui, &say(texts, "trainer-no-attempt"));
        return None;
    };
    parts::heading(ui, &attempt.title);
    parts::sign(ui, attempt.mark, &attempt.result);
    parts::note(ui, &attempt.facts);
    for (mark, remark) in &attempt.remarks {
        parts::sign(ui, *mark, remark);
    }
    parts::space(ui, gap::SMALL);
    let action = acts(ui, texts, model, attempt, state, begins);
    if let Some((mark, page)) = &attempt.page {
        parts::sign(ui, *mark, page);
    }
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "certificate-findings"));
    if attempt.findings.is_empty() {
        parts::sign(ui, Mark::Ok, &say(texts, "paper-no-findings"));
    }
    for (mark, title, about) in &attempt.findings {
        parts::sign(ui, *mark, title);
        parts::note(ui, about);
    }
    action
}

/// What can be done about an attempt.
fn acts(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    attempt: &Attempt,
    state: &mut State,
    begins: bool,
) -> Option<Action> {
    let by = || model.trainer.clone();
    let mut action = None;
    parts::row(ui, |ui| {
        let press = |ui: &mut Ui, id: &'static str, icon: Option<Icon>, can: bool| -> Response {
            let text = say(texts, id);
            let press = Press::new(&text);
            let press = match icon {
                Some(icon) => press.icon(icon),
                None => press,
            };
            ui.add_enabled_ui(can, |ui| press.show(ui)).inner
        };
        let sign = press(ui, "trainer-sign-off", Some(Icon::Tick), attempt.counts);
        if begins && attempt.counts {
            parts::home(ui, &sign);
        }
        if sign.clicked() {
            state.form = Some(Form::SignOff {
                by: by(),
                note: String::new(),
                asked: false,
            });
        }
        if press(ui, "trainer-certificate", None, attempt.counts).clicked() {
            action = Some(Action::Certificate);
        }
        let report = press(ui, "trainer-report", None, true);
        if begins && !attempt.counts {
            parts::home(ui, &report);
        }
        if report.clicked() {
            action = Some(Action::Report);
        }
        if press(ui, "trainer-void", None, attempt.counts).clicked() {
            state.form = Some(Form::Void {
                by: by(),
                why: String::new(),
            });
        }
    });
    action
}
