//! The run is held: go on, begin again, settings, end.

use bevy_egui::egui::{Align2, Ui};

use super::parts::{self, Overlay, Press, say};
use crate::session::mode::Mode;
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub exercise: String,
    pub mode: Mode,
    pub clock_s: f64,
    /// Pipe can move: an assessment ends as a result from here on.
    pub has_begun: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Resume,
    Restart,
    Settings,
    Keys,
    /// What an instructor can bring about.
    Instructor,
    /// The run is over, and judged where it is judged.
    End,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let window = ui.max_rect();
    ui.painter()
        .rect_filled(window, 0.0, theme::Palette::veil());
    let inside = parts::inside(window);
    let overlay = Overlay {
        name: "pause",
        at: inside.center(),
        pivot: Align2::CENTER_CENTER,
        width: (24.0 * theme::em(ui)).min(inside.width()),
        most_height: inside.height(),
        on_top: true,
    };
    let chosen = overlay.show(ui.ctx(), |ui| inner(ui, texts, model));
    chosen.or(parts::escaped(ui).then_some(Action::Resume))
}

fn inner(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let is_assessed = model.mode == Mode::Assessed && model.has_begun;
    parts::heading(ui, &say(texts, "pause-title"));
    let line = Message::new("pause-line")
        .with("exercise", model.exercise.as_str())
        .with("mode", model.mode.said())
        .with("time", parts::clock(model.clock_s));
    parts::note(ui, &texts.say(&line));
    parts::space(ui, gap::SMALL);
    let mut action = None;
    let entries = [
        ("pause-resume", Action::Resume),
        ("pause-restart", Action::Restart),
        ("pause-settings", Action::Settings),
        ("pause-keys", Action::Keys),
        ("pause-instructor", Action::Instructor),
        ("pause-end", Action::End),
    ];
    for (id, chosen) in entries {
        // A started assessment ends as a result; it is not begun again.
        if is_assessed && chosen == Action::Restart {
            continue;
        }
        let may_upset = model.mode.may_upset() && model.has_begun;
        if !may_upset && chosen == Action::Instructor {
            continue;
        }
        let text = say(texts, id);
        let mut press = Press::new(&text).fill();
        if chosen == Action::Resume {
            press = press.icon(Icon::Play).primary();
        }
        let response = press.show(ui);
        if chosen == Action::Resume {
            parts::home(ui, &response);
        }
        if response.clicked() {
            action = Some(chosen);
        }
    }
    if is_assessed {
        parts::sign(ui, Mark::Note, &say(texts, "pause-assessed"));
    }
    action
}
