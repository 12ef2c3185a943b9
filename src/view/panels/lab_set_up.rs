//! The laboratory's left side: what is started from, what varies, what is compared, what is accepted.

use bevy_egui::egui::{Key, Response, Ui};

use super::lab::{Action, Changed, Choosing, Field, Model, State, Value, Variable, range, seek};
use super::parts::{self, Press, say};
use super::slide::Slide;
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::gap;

/// The screen may begin with it.
pub fn show(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    begins: bool,
) -> Option<Action> {
    match state.choosing {
        Some(Choosing::Base) => base(ui, texts, model, state),
        Some(choosing) => field(ui, texts, model, state, choosing),
        None => set_up(ui, texts, model, state, begins),
    }
}

fn set_up(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    begins: bool,
) -> Option<Action> {
    let mut action = None;
    let opens = |ui: &mut Ui, id: &'static str, what: Choosing, state: &mut State| {
        let text = say(texts, id);
        if Press::new(&text).icon(Icon::Plus).show(ui).clicked() {
            state.choosing = Some(what);
        }
    };
    for fault in &model.faults {
        parts::sign(ui, Mark::Caution, fault);
    }
    parts::subheading(ui, &say(texts, "labscreen-base"));
    let name = model.bases.get(model.base).cloned().unwrap_or_default();
    let note = say(texts, "labscreen-base-note");
    let base = Press::new(&name).note(&note).fill().show(ui);
    if begins {
        parts::home(ui, &base);
    }
    if base.clicked() {
        state.choosing = Some(Choosing::Base);
    }
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "labscreen-pitches"));
    let pitch = say(texts, "labscreen-pitch");
    if let Some((end, to)) = range(ui, texts, &pitch, &model.pitch) {
        action = Some(Action::Pitch { end, to });
    }
    let chosen = parts::row(ui, |ui| {
        parts::body(ui, &say(texts, "labscreen-step"));
        parts::choice(ui, &model.steps.0, model.steps.1)
    });
    action = action.or(chosen.map(Action::Step));
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "labscreen-varies"));
    for (i, one) in model.variables.iter().enumerate() {
        let done = ui.push_id(("variable", i), |ui| variable(ui, texts, one, i));
        action = action.or(done.inner);
    }
    opens(ui, "labscreen-vary", Choosing::Variable, state);
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "labscreen-second"));
    for (i, one) in model.second.iter().enumerate() {
        let done = ui.push_id(("changed", i), |ui| changed(ui, texts, one, i));
        action = action.or(done.inner);
    }
    if model.second.is_empty() {
        parts::note(ui, &say(texts, "labscreen-second-none"));
        opens(ui, "labscreen-compare", Choosing::Second, state);
    } else {
        opens(ui, "labscreen-change", Choosing::Second, state);
    }
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "labscreen-accepted"));
    for (i, risk) in model.risks.iter().enumerate() {
        let steps = ui.push_id(("risk", i), |ui| {
            stepper(ui, texts, &risk.name, &risk.said, risk.ends)
        });
        if steps.inner != 0 {
            let steps = steps.inner;
            action = Some(Action::Risk { risk: i, steps });
        }
    }
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "labscreen-trials-each"));
    let chosen = parts::row(ui, |ui| parts::choice(ui, &model.trials.0, model.trials.1));
    action = action.or(chosen.map(Action::Trials));
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "labscreen-confidence"));
    let chosen = parts::row(ui, |ui| {
        parts::choice(ui, &model.confidences.0, model.confidences.1)
    });
    action = action.or(chosen.map(Action::Confidence));
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "labscreen-chance"));
    let seed = say(texts, "labscreen-seed");
    let ends = [model.seed <= 1, false];
    let steps = stepper(ui, texts, &seed, &model.seed.to_string(), ends);
    if steps != 0 {
        action = Some(Action::Seed(steps));
    }
    parts::note(ui, &say(texts, "labscreen-seed-note"));
    for warning in &model.warnings {
        parts::sign(ui, Mark::Note, warning);
    }
    action
}

/// A stepper before its name.
fn stepper(ui: &mut Ui, texts: &Texts, name: &str, said: &str, ends: [bool; 2]) -> i32 {
    parts::row(ui, |ui| {
        let steps = parts::stepper(ui, texts, name, said, ends);
        parts::body(ui, name);
        steps
    })
}

fn leave(ui: &mut Ui, texts: &Texts, id: &'static str, path: &str) -> bool {
    let text = texts.say(&Message::new(id).with("what", path));
    Press::new(&text).only_icon(Icon::Close).show(ui).clicked()
}

fn variable(ui: &mut Ui, texts: &Texts, one: &Variable, i: usize) -> Option<Action> {
    let mut action = None;
    if let Some((end, to)) = range(ui, texts, &one.path, &one.range) {
        let variable = i;
        action = Some(Action::Range { variable, end, to });
    }
    parts::note(ui, &one.meaning);
    for fault in &one.faults {
        parts::sign(ui, Mark::Caution, fault);
    }
    parts::row(ui, |ui| {
        let unmeasured = say(texts, "labscreen-unmeasured");
        let name = Message::new("labscreen-unmeasured-of").with("what", one.path.as_str());
        if parts::toggle_called(ui, &unmeasured, &texts.say(&name), one.is_unmeasured) {
            action = Some(Action::Unmeasured {
                variable: i,
                is: !one.is_unmeasured,
            });
        }
        if leave(ui, texts, "labscreen-leave", &one.path) {
            action = Some(Action::Leave(i));
        }
    });
    parts::space(ui, gap::SMALL);
    action
}

fn changed(ui: &mut Ui, texts: &Texts, one: &Changed, i: usize) -> Option<Action> {
    let mut action = None;
    match one.value {
        Value::Number {
            now,
            least,
            most,
            step,
        } => {
            let slide = Slide {
                name: &one.path,
                shown: &one.said,
                least,
                most,
                step,
            };
            if let Some(to) = slide.one(ui, texts, now) {
                action = Some(Action::Value { changed: i, to });
            }
        }
        Value::Word { ends } => {
            parts::body(ui, &one.path);
            let steps = parts::row(ui, |ui| {
                parts::stepper(ui, texts, &one.path, &one.said, ends)
            });
            if steps != 0 {
                action = Some(Action::Word { changed: i, steps });
            }
        }
    }
    parts::note(ui, &one.meaning);
    if leave(ui, texts, "labscreen-undo", &one.path) {
        action = Some(Action::Undo(i));
    }
    parts::space(ui, gap::SMALL);
    action
}

/// Goes back without having chosen.
fn without(ui: &mut Ui, texts: &Texts, state: &mut State) -> Response {
    let text = say(texts, "labscreen-without");
    let press = Press::new(&text).icon(Icon::Left).show(ui);
    if press.clicked() {
        state.choosing = None;
        state.sought.clear();
    }
    press
}

fn base(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::subheading(ui, &say(texts, "labscreen-base"));
    let press = without(ui, texts, state);
    parts::home_of_list(ui, &press);
    let mut action = None;
    for (i, name) in model.bases.iter().enumerate() {
        let press = Press::new(name).selected(i == model.base).fill();
        if press.show(ui).clicked() {
            action = Some(Action::Base(i));
        }
    }
    if action.is_some() {
        state.choosing = None;
    }
    action
}

/// Whether a field is one of those that are looked for.
fn is_sought(field: &Field, sought: &str) -> bool {
    let sought = sought.trim().to_lowercase();
    field.path.contains(&sought) || field.meaning.to_lowercase().contains(&sought)
}

fn field(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    choosing: Choosing,
) -> Option<Action> {
    let is_second = choosing == Choosing::Second;
    let head = if is_second {
        "labscreen-choose-second"
    } else {
        "labscreen-choose-variable"
    };
    parts::subheading(ui, &say(texts, head));
    without(ui, texts, state);
    let sought = seek(ui, texts, &mut state.sought);
    parts::home_of_list(ui, &sought);
    // Who has written nothing leaves the list at once.
    let is_left = sought.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape));
    if is_left && state.sought.is_empty() {
        state.choosing = None;
    }
    let mut action = None;
    let mut is_any = false;
    for (i, field) in model.fields.iter().enumerate() {
        let fits = (is_second || field.is_number) && is_sought(field, &state.sought);
        if !fits {
            continue;
        }
        is_any = true;
        let press = Press::new(&field.path).note(&field.meaning).listed();
        if press.show(ui).clicked() {
            action = Some(if is_second {
                Action::Change(i)
            } else {
                Action::Vary(i)
            });
        }
    }
    if !is_any {
        parts::sign(ui, Mark::Note, &say(texts, "labscreen-none-found"));
    }
    if action.is_some() {
        state.choosing = None;
        state.sought.clear();
    }
    action
}
