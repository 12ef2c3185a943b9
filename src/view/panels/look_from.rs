//! Where the line is looked at from, and what is drawn into it to teach.

use bevy_egui::egui::Ui;

use super::parts::{self, Press, say};
use crate::texts::Texts;
use crate::view::icons::Icon;
use crate::view::theme::gap;

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Model {
    /// What they are called, with the names of their keys.
    pub cameras: Vec<(String, String)>,
    pub camera: usize,
    /// What can be drawn into the scene, and whether it is.
    pub drawn: Vec<(String, bool)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Camera(usize),
    /// What is drawn is switched on or off.
    Draw(usize),
    Close,
}

impl Model {
    pub fn has_choice(&self) -> bool {
        self.cameras.len() > 1 || !self.drawn.is_empty()
    }
}

/// `closes` is what the key is called that closes it.
pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, closes: &str) -> Option<Action> {
    let mut action = None;
    parts::subheading(ui, &say(texts, "hud-cameras"));
    for (i, (camera, key)) in model.cameras.iter().enumerate() {
        let press = Press::new(camera)
            .selected(i == model.camera)
            .fill()
            .key(key)
            .show(ui);
        if i == model.camera {
            parts::home_by_arrow(ui, &press);
        }
        if press.clicked() {
            action = Some(Action::Camera(i));
        }
    }
    if !model.drawn.is_empty() {
        parts::space(ui, gap::SMALL);
        parts::subheading(ui, &say(texts, "hud-drawn"));
        for (i, (name, is_on)) in model.drawn.iter().enumerate() {
            if parts::toggle(ui, name, *is_on) {
                action = Some(Action::Draw(i));
            }
        }
    }
    let close = say(texts, "close");
    let press = Press::new(&close).icon(Icon::Close).key(closes);
    let pressed = press.show(ui).clicked();
    if pressed || parts::escaped(ui) {
        action = action.or(Some(Action::Close));
    }
    action
}
