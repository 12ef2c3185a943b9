//! The first screen: one column, the yard beside it, the caution in full.

use bevy_egui::egui::{CornerRadius, Rect, Ui, vec2};

use super::parts::{self, Press, say};
use crate::texts::Texts;
use crate::view::icons::Mark;
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// What can be gone on with.
    pub unfinished: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Continue,
    Exercises,
    Settings,
    Keys,
    Quit,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let window = ui.max_rect();
    let em = theme::em(ui);
    let edge = parts::inside(window);
    // Wide enough for the caution to be read as a text, not as a ribbon.
    let width = (30.0 * em)
        .min(0.62 * window.width())
        .max(0.36 * window.width());
    let column = Rect::from_min_size(window.min, vec2(width, window.height()));
    ui.painter()
        .rect_filled(column, CornerRadius::ZERO, theme::palette(ui).over_scene());
    let inner = Rect::from_min_max(
        edge.min,
        column.max - vec2(gap::LARGE * em, edge.top() - window.top()),
    );
    parts::within(ui, "title", inner, |ui| {
        parts::scroll(ui, "title", true, |ui| column_of(ui, texts, model))
    })
}

fn column_of(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let mut action = None;
    parts::space(ui, gap::MEDIUM);
    let palette = theme::palette(ui);
    let name = say(texts, "product");
    parts::paragraph(ui, &name, theme::bold(ui, 2.4), palette.text);
    let what = say(texts, "title-what");
    parts::body(ui, &what);
    parts::space(ui, gap::LARGE);
    if let Some(unfinished) = &model.unfinished {
        let text = say(texts, "title-continue");
        let press = Press::new(&text).note(unfinished).primary().fill().show(ui);
        parts::home(ui, &press);
        if press.clicked() {
            action = Some(Action::Continue);
        }
    }
    let entries = [
        ("title-exercises", "title-exercises-note", Action::Exercises),
        ("title-settings", "title-settings-note", Action::Settings),
        ("title-keys", "title-keys-note", Action::Keys),
        ("title-quit", "title-quit-note", Action::Quit),
    ];
    for (id, note, chosen) in entries {
        let text = say(texts, id);
        let note = say(texts, note);
        let mut press = Press::new(&text).note(&note).fill();
        let is_first = model.unfinished.is_none() && chosen == Action::Exercises;
        if is_first {
            press = press.primary();
        }
        let response = press.show(ui);
        if is_first {
            parts::home(ui, &response);
        }
        if response.clicked() {
            action = Some(chosen);
        }
    }
    parts::space(ui, gap::LARGE);
    let caution = say(texts, "caution");
    parts::sign(ui, Mark::Caution, &caution);
    parts::space(ui, gap::SMALL);
    action
}
