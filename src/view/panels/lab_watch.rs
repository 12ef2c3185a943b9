//! A trial of the laboratory in the whole window: the scene, a thin bar at the top, and at the bottom
//! what came of it.

use bevy_egui::egui::{Align2, Key, Ui};

use super::lab::caution;
use super::lab_trials::numbers;
use super::parts::{self, Overlay, Press, say};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme;

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// Which trial it is, in words.
    pub title: String,
    pub clock_s: f64,
    pub is_playing: bool,
    /// Speeds of time that can be chosen, from slow to fast, and which it is.
    pub speeds: Vec<f64>,
    pub speed: usize,
    /// The machine cannot keep up.
    pub is_behind: bool,
    /// What came of it, and whether it is what its row says.
    pub told: Vec<(Mark, String)>,
    pub numbers: Vec<(String, String)>,
    /// Places to look from, and which it is.
    pub cameras: Vec<String>,
    pub camera: usize,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    Play(bool),
    /// From its beginning.
    Again,
    Speed(usize),
    Camera(usize),
    Back,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let window = ui.max_rect();
    let inside = parts::inside(window);
    let em = theme::em(ui);
    let top = Overlay {
        name: "watch_top",
        at: inside.center_top(),
        pivot: Align2::CENTER_TOP,
        width: inside.width(),
        most_height: 0.45 * inside.height(),
        on_top: false,
    };
    let above = top.show(ui.ctx(), |ui| bar(ui, texts, model));
    let low = Overlay {
        name: "watch_low",
        at: inside.left_bottom(),
        pivot: Align2::LEFT_BOTTOM,
        width: (40.0 * em).min(inside.width()),
        most_height: 0.48 * inside.height(),
        on_top: false,
    };
    low.show(ui.ctx(), |ui| {
        for (mark, told) in &model.told {
            parts::sign(ui, *mark, told);
        }
        numbers(ui, &model.numbers);
        parts::sign(ui, Mark::Caution, &caution(texts));
    });
    let played = parts::pressed(ui, Key::Space) && ui.memory(|memory| memory.focused().is_none());
    above
        .or(played.then_some(Action::Play(!model.is_playing)))
        .or(parts::escaped(ui).then_some(Action::Back))
}

fn bar(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let mut action = None;
    parts::row(ui, |ui| {
        let back = say(texts, "labscreen-watch-back");
        if Press::new(&back).icon(Icon::Left).show(ui).clicked() {
            action = Some(Action::Back);
        }
        let (id, icon) = if model.is_playing {
            ("labscreen-hold", Icon::Pause)
        } else {
            ("labscreen-play", Icon::Play)
        };
        let text = say(texts, id);
        let play = Press::new(&text).only_icon(icon).show(ui);
        parts::home(ui, &play);
        if play.clicked() {
            action = Some(Action::Play(!model.is_playing));
        }
        let again = say(texts, "labscreen-again");
        if Press::new(&again)
            .only_icon(Icon::Rewind)
            .show(ui)
            .clicked()
        {
            action = Some(Action::Again);
        }
        parts::show_value(ui, &parts::clock(model.clock_s), 0.0);
        let speed = model.speeds.get(model.speed).copied().unwrap_or(1.0);
        let said = texts.say(&Message::new("hud-speed").with("speed", speed));
        let name = say(texts, "labscreen-speed");
        let ends = [model.speed == 0, model.speed + 1 == model.speeds.len()];
        let steps = parts::stepper(ui, texts, &name, &said, ends);
        if steps != 0 {
            let to = model.speed as i32 + steps;
            let most = model.speeds.len().saturating_sub(1) as i32;
            action = Some(Action::Speed(to.clamp(0, most) as usize));
        }
        if model.is_behind {
            parts::sign(ui, Mark::Not, &say(texts, "hud-behind"));
        }
        if let Some(camera) = parts::choice(ui, &model.cameras, model.camera) {
            action = Some(Action::Camera(camera));
        }
    });
    parts::subheading(ui, &model.title);
    action
}
