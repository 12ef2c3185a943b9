//! The first screen: one column, the yard beside it, the caution in full.

use bevy_egui::egui::{CornerRadius, Frame, Panel, Rect, Ui, vec2};

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
    Laboratory,
    Trainer,
    Settings,
    Keys,
    Quit,
}

/// In a window of less height, in heights of the text, only the entries' names are shown.
const TIGHT: f32 = 36.0;

/// The column that all stands in: wide enough for the caution to be read as a text, not as a ribbon.
fn column(ui: &Ui) -> Rect {
    let window = ui.max_rect();
    let width = (30.0 * theme::em(ui)).clamp(0.36 * window.width(), 0.7 * window.width());
    Rect::from_min_size(window.min, vec2(width, window.height()))
}

/// What is left of the window for the scene.
pub fn scene(ui: &Ui) -> Rect {
    Rect::from_min_max(column(ui).right_top(), ui.max_rect().max)
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let window = ui.max_rect();
    let em = theme::em(ui);
    let edge = parts::inside(window);
    let column = column(ui);
    ui.painter()
        .rect_filled(column, CornerRadius::ZERO, theme::palette(ui).over_scene());
    let inner = Rect::from_min_max(
        edge.min,
        column.max - vec2(gap::LARGE * em, edge.top() - window.top()),
    );
    let is_tight = window.height() < TIGHT * em;
    parts::within(ui, "title", inner, |ui| {
        // Always in full, however much there is above it.
        let caution = say(texts, "caution");
        Panel::bottom("caution")
            .frame(Frame::new())
            .show_separator_line(false)
            .show(ui, |ui| {
                parts::space(ui, gap::SMALL);
                parts::sign(ui, Mark::Caution, &caution);
            });
        parts::scroll(ui, "title", true, |ui| entries(ui, texts, model, is_tight))
    })
}

fn entries(ui: &mut Ui, texts: &Texts, model: &Model, is_tight: bool) -> Option<Action> {
    const ENTRIES: [(&str, &str, Action); 6] = [
        ("title-exercises", "title-exercises-note", Action::Exercises),
        (
            "title-laboratory",
            "title-laboratory-note",
            Action::Laboratory,
        ),
        ("title-trainer", "title-trainer-note", Action::Trainer),
        ("title-settings", "title-settings-note", Action::Settings),
        ("title-keys", "title-keys-note", Action::Keys),
        ("title-quit", "title-quit-note", Action::Quit),
    ];
    let mut action = None;
    let palette = theme::palette(ui);
    let size = if is_tight { 1.5 } else { 2.4 };
    let name = say(texts, "product");
    parts::paragraph(ui, &name, theme::bold(ui, size), palette.text);
    parts::body(ui, &say(texts, "title-what"));
    parts::space(ui, if is_tight { 0.0 } else { gap::LARGE });
    if let Some(unfinished) = &model.unfinished {
        let text = say(texts, "title-continue");
        let press = Press::new(&text).note(unfinished).primary().fill().show(ui);
        parts::home(ui, &press);
        if press.clicked() {
            action = Some(Action::Continue);
        }
    }
    for (id, note, chosen) in ENTRIES {
        let text = say(texts, id);
        let note = say(texts, note);
        let mut press = Press::new(&text).listed();
        if !is_tight {
            press = press.note(&note);
        }
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
    action
}
