//! One message that wants an answer: what has ended, what has failed and what to do about it, what is
//! asked before it is done.

use bevy_egui::egui::{Align2, Ui};

use super::parts::{self, Overlay, Press, say};
use crate::texts::Texts;
use crate::view::icons::Mark;
use crate::view::theme::{self, Palette, gap};

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub mark: Mark,
    pub title: String,
    /// What has happened.
    pub what: String,
    /// Where: a file and its line, a device.
    pub place: Option<String>,
    /// What to do about it.
    pub remedy: Option<String>,
    /// What can be answered; the first is what is usually meant.
    pub answers: Vec<String>,
    /// Which of them Escape means.
    pub escape: Option<usize>,
}

/// The answer that was given.
pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<usize> {
    let window = ui.max_rect();
    ui.painter().rect_filled(window, 0.0, Palette::veil());
    let inside = parts::inside(window);
    let overlay = Overlay {
        name: "dialog",
        at: inside.center(),
        pivot: Align2::CENTER_CENTER,
        width: (38.0 * theme::em(ui)).min(inside.width()),
        most_height: inside.height(),
        on_top: true,
    };
    let answer = overlay.show(ui.ctx(), |ui| inner(ui, texts, model));
    answer.or(model.escape.filter(|_| parts::escaped(ui)))
}

fn inner(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<usize> {
    let layer = ui.layer_id();
    ui.memory_mut(|memory| memory.set_modal_layer(layer));
    parts::sign_heading(ui, model.mark, &model.title);
    parts::body(ui, &model.what);
    if let Some(place) = &model.place {
        parts::subheading(ui, &say(texts, "dialog-where"));
        let palette = theme::palette(ui);
        parts::paragraph(ui, place, theme::numbers(ui, 0.9), palette.text);
    }
    if let Some(remedy) = &model.remedy {
        parts::subheading(ui, &say(texts, "dialog-remedy"));
        parts::body(ui, remedy);
    }
    parts::space(ui, gap::SMALL);
    parts::row(ui, |ui| {
        let mut given = None;
        for (i, answer) in model.answers.iter().enumerate() {
            let mut press = Press::new(answer);
            if i == 0 {
                press = press.primary();
            }
            let response = press.show(ui);
            if i == 0 {
                parts::home(ui, &response);
            }
            if response.clicked() {
                given = Some(i);
            }
        }
        given
    })
}
