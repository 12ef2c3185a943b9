//! All keys and all buttons of a gamepad, at a glance.

use bevy_egui::egui::{TextStyle, Ui};

use super::bindings::{self, Binding};
use super::parts::{self, say};
use crate::texts::{Message, Texts};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    pub groups: Vec<Group>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    pub name: String,
    pub rows: Vec<Binding>,
    /// What is told in sentences instead.
    pub lines: Vec<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Back,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    parts::screen(ui, |ui| {
        let title = say(texts, "keys-title");
        let back = parts::header_alone(ui, texts, &title) || parts::escaped(ui);
        parts::scroll(ui, "keys", true, |ui| {
            let lines = ["keys-hold", "keys-focus", "keys-stop"];
            for line in lines {
                parts::body(ui, &say(texts, line));
            }
            parts::space(ui, gap::MEDIUM);
            let em = theme::em(ui);
            let columns = ((ui.available_width() / (30.0 * em)) as usize).clamp(1, 3);
            ui.columns(columns, |columns| {
                let many = columns.len();
                for (i, group) in model.groups.iter().enumerate() {
                    let Some(ui) = columns.get_mut(i % many) else {
                        continue;
                    };
                    parts::subheading(ui, &group.name);
                    for binding in &group.rows {
                        line(ui, texts, binding);
                    }
                    for told in &group.lines {
                        parts::body(ui, told);
                    }
                    parts::space(ui, gap::MEDIUM);
                }
            });
        });
        back.then_some(Action::Back)
    })
}

fn line(ui: &mut Ui, texts: &Texts, binding: &Binding) {
    let palette = theme::palette(ui);
    parts::row(ui, |ui| {
        parts::key_cap(ui, &bindings::named(texts, binding), bindings::KEY_WIDTH);
        ui.vertical(|ui| {
            let font = TextStyle::Body.resolve(ui.style());
            parts::paragraph(ui, &parts::sentence(&binding.name), font, palette.text);
            if let Some(pad) = &binding.pad {
                let pad = Message::new("keys-pad").with("button", pad.as_str());
                let font = TextStyle::Small.resolve(ui.style());
                parts::paragraph(ui, &texts.say(&pad), font, palette.weak);
            }
        });
    });
}
