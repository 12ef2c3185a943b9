//! One thing of the line, looked at closely: what is seen, and the choice to accept it or to report it.

use bevy_egui::egui::{Align2, Key, Ui};

use super::Picture;
use super::gauges::{self, Bubble};
use super::parts::{self, Overlay, Press, say};
use crate::texts::Texts;
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub name: String,
    /// What there is to see, sentence by sentence. It says what is, not what is right.
    pub seen: Vec<String>,
    pub gauge: Option<Gauge>,
    pub picture: Option<Picture>,
    /// What has been said of it before.
    pub said: Option<Said>,
    pub keys: Keys,
}

/// What the keys on foot are called that do the same as a button here.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Keys {
    pub accept: String,
    pub report: String,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Gauge {
    Bubble(Bubble),
    Tape { name: String, metres: f64 },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    Accepted,
    Reported,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Action {
    Accept,
    Report,
    /// The eye goes so many steps up, down where negative.
    Eye(f64),
    Back,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let window = parts::inside(ui.max_rect());
    // Beside what is looked at, which is in the middle of the scene's part of the window.
    let overlay = Overlay {
        name: "look",
        at: window.right_center(),
        pivot: Align2::RIGHT_CENTER,
        width: (26.0 * theme::em(ui)).min(0.5 * window.width()),
        most_height: window.height(),
        on_top: true,
    };
    let action = overlay.show(ui.ctx(), |ui| {
        let back = parts::header(ui, texts, &parts::sentence(&model.name));
        inner(ui, texts, model).or(back.then_some(Action::Back))
    });
    action.or(parts::escaped(ui).then_some(Action::Back))
}

fn inner(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let mut action = None;
    if let Some(picture) = model.picture {
        let most = 12.0 * theme::em(ui);
        parts::picture(ui, picture, &model.name, most);
    }
    for seen in &model.seen {
        parts::body(ui, seen);
    }
    match &model.gauge {
        Some(Gauge::Bubble(bubble)) => {
            gauges::bubble(ui, bubble);
            action = eye(ui, texts);
        }
        Some(Gauge::Tape { name, metres }) => gauges::tape(ui, name, *metres),
        None => {}
    }
    parts::space(ui, gap::MEDIUM);
    match model.said {
        Some(Said::Accepted) => {
            parts::sign(ui, Mark::Ok, &say(texts, "look-accepted"));
        }
        Some(Said::Reported) => {
            parts::sign(ui, Mark::Note, &say(texts, "look-reported"));
        }
        None => {}
    }
    let [accept, report] = ["look-accept", "look-report"].map(|id| say(texts, id));
    let keys = &model.keys;
    // On foot they are heard there; from the list they come here.
    let [accepts, reports] = [&keys.accept, &keys.report].map(|name| {
        let key = Key::from_name(name);
        key.is_some_and(|key| parts::pressed(ui, key))
    });
    parts::row(ui, |ui| {
        let press = Press::new(&accept).key(&keys.accept).show(ui);
        parts::home(ui, &press);
        if press.clicked() || accepts {
            action = Some(Action::Accept);
        }
        let press = Press::new(&report).key(&keys.report).show(ui);
        if press.clicked() || reports {
            action = Some(Action::Report);
        }
    });
    action
}

/// Moves the eye up or down before the glass.
fn eye(ui: &mut Ui, texts: &Texts) -> Option<Action> {
    parts::note(ui, &say(texts, "look-eye"));
    let [up, down] = ["look-eye-up", "look-eye-down"].map(|id| say(texts, id));
    let moved = parts::row(ui, |ui| {
        let up = Press::new(&up).icon(Icon::Up).show(ui).clicked();
        let down = Press::new(&down).icon(Icon::Down).show(ui).clicked();
        f64::from(u8::from(up)) - f64::from(u8::from(down))
    });
    let keys = f64::from(u8::from(parts::pressed(ui, Key::Plus)))
        - f64::from(u8::from(parts::pressed(ui, Key::Minus)));
    let moved = moved + keys;
    (moved != 0.0).then_some(Action::Eye(moved))
}
