//! Setting the line out before pipe moves: everything that can be set, as it was found and as it is
//! now, beside the scene in which it is done.

use bevy_egui::egui::{Align2, CornerRadius, Frame, Key, Panel, Rect, Ui, pos2};

use super::gauges::{self, Bubble};
use super::parts::{self, Overlay, Press, say};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    pub rows: Vec<Row>,
    /// Where the tape is held to.
    pub tape: Option<Tape>,
    /// What the coach says is next.
    pub advice: Option<String>,
    /// What came of what was done last.
    pub said: Option<String>,
    /// What lies in front of the one who walks: it can be looked at closely.
    pub near: Option<String>,
    /// Why the line cannot be started yet.
    pub not_yet: Option<String>,
    /// What was refused last, and why.
    pub refused: Option<String>,
    /// What keys do on foot, line by line; nothing where it is folded away.
    pub keys: Vec<String>,
}

/// One thing that can be set.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Given back with what is done to it.
    pub id: usize,
    /// Under what it is listed: rack, escapement, cradles and so on.
    pub group: String,
    pub name: String,
    pub as_found: String,
    pub control: Control,
    /// It has been set otherwise than it was found.
    pub changed: bool,
    /// Why it cannot be set now.
    pub barred: Option<String>,
    /// The inclinometer to be read while it is set.
    pub bubble: Option<Bubble>,
}

/// How a thing is set.
#[derive(Clone, Debug, PartialEq)]
pub enum Control {
    /// Less and more of a value, written with its unit; at its least, at its most.
    Stepper { value: String, ends: [bool; 2] },
    /// One of several.
    Choice { options: Vec<String>, chosen: usize },
    /// Done or not.
    Toggle { text: String, is_on: bool },
    /// Done once and for all by pressing it.
    Deed { text: String, is_done: bool },
}

/// A tape that is held to something.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    /// From where to where.
    pub between: String,
    pub metres: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// So many steps more, less where negative.
    Step {
        row: usize,
        steps: i32,
    },
    Choose {
        row: usize,
        option: usize,
    },
    Toggle {
        row: usize,
        on: bool,
    },
    Do {
        row: usize,
    },
    /// Go there and look at it closely.
    Look {
        row: usize,
    },
    LookAtNear,
    Start,
    Pause,
}

/// How much of the window the panel takes; the scene keeps the rest.
fn width(ui: &Ui, window: Rect) -> f32 {
    (27.0 * theme::em(ui)).min(0.5 * window.width())
}

/// What is left of the window for the scene.
pub fn scene(ui: &Ui) -> Rect {
    let window = ui.max_rect();
    let right = window.right() - width(ui, window);
    Rect::from_min_max(window.min, pos2(right, window.bottom()))
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let window = ui.max_rect();
    let scene = scene(ui);
    let panel = Rect::from_min_max(pos2(scene.right(), window.top()), window.max);
    ui.painter()
        .rect_filled(panel, CornerRadius::ZERO, theme::palette(ui).over_scene());
    let edge = parts::inside(window);
    let inner = Rect::from_min_max(
        pos2(panel.left() + gap::MEDIUM * theme::em(ui), edge.top()),
        pos2(window.right() - gap::MEDIUM * theme::em(ui), edge.bottom()),
    );
    if let Some(near) = &model.near {
        near_card(ui, texts, scene, near);
    }
    if !model.keys.is_empty() {
        keys(ui, scene, &model.keys);
    }
    let look = model.near.is_some() && parts::pressed(ui, LOOK);
    let pause = parts::escaped(ui).then_some(Action::Pause);
    let action = parts::within(ui, "panel", inner, |ui| {
        parts::heading(ui, &say(texts, "setout-title"));
        let start = start(ui, texts, model);
        let set = parts::scroll(ui, "settings", true, |ui| rows(ui, texts, model));
        start.or(set)
    });
    action.or(look.then_some(Action::LookAtNear)).or(pause)
}

/// The key that looks closely at what is near.
pub const LOOK: Key = Key::E;

/// What is near, below the reticle.
fn near_card(ui: &Ui, texts: &Texts, scene: Rect, near: &str) {
    let em = theme::em(ui);
    let text = Message::new("setout-near")
        .with("name", near)
        .with("key", LOOK.name());
    let overlay = Overlay {
        name: "near",
        at: pos2(scene.center().x, scene.center().y + 2.0 * em),
        pivot: Align2::CENTER_TOP,
        width: (0.8 * scene.width()).min(26.0 * em),
        most_height: 0.4 * scene.height(),
        on_top: false,
    };
    overlay.show(ui.ctx(), |ui| parts::body(ui, &texts.say(&text)));
}

/// What keys do on foot, in the scene's lower corner.
fn keys(ui: &Ui, scene: Rect, keys: &[String]) {
    let edge = parts::inside(ui.max_rect());
    let overlay = Overlay {
        name: "keys",
        at: pos2(edge.left(), edge.bottom()),
        pivot: Align2::LEFT_BOTTOM,
        width: (30.0 * theme::em(ui)).min(0.9 * scene.width()),
        most_height: 0.45 * scene.height(),
        on_top: false,
    };
    overlay.show(ui.ctx(), |ui| {
        for line in keys {
            parts::note(ui, line);
        }
    });
}

fn start(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    Panel::bottom("start")
        .frame(Frame::new())
        .show(ui, |ui| {
            parts::space(ui, gap::SMALL);
            if let Some(refused) = &model.refused {
                parts::sign(ui, Mark::Not, refused);
            }
            if let Some(not_yet) = &model.not_yet {
                parts::sign(ui, Mark::Note, not_yet);
            }
            let text = say(texts, "setout-start");
            let press = ui
                .add_enabled_ui(model.not_yet.is_none(), |ui| {
                    Press::new(&text).icon(Icon::Play).primary().fill().show(ui)
                })
                .inner;
            press.clicked().then_some(Action::Start)
        })
        .inner
}

fn rows(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let mut action = None;
    if let Some(advice) = &model.advice {
        parts::sign(ui, Mark::Note, advice);
    }
    if let Some(said) = &model.said {
        parts::body(ui, said);
    }
    parts::note(ui, &say(texts, "setout-note"));
    if let Some(tape) = &model.tape {
        let reading = Message::new("setout-tape")
            .with("between", tape.between.as_str())
            .measured("metres", tape.metres, 2);
        let reading = texts.say(&reading);
        parts::subheading(ui, &reading);
        gauges::tape(ui, &reading, tape.metres);
    }
    let mut group = "";
    for row in &model.rows {
        if row.group != group {
            group = &row.group;
            parts::space(ui, gap::SMALL);
            parts::subheading(ui, group);
        }
        let done = ui
            .push_id(row.id, |ui| parts::raised(ui, |ui| one(ui, texts, row)))
            .inner;
        action = action.or(done);
    }
    action
}

fn one(ui: &mut Ui, texts: &Texts, row: &Row) -> Option<Action> {
    let id = row.id;
    parts::body(ui, &row.name);
    let found = Message::new("setout-as-found").with("value", row.as_found.as_str());
    let found = texts.say(&found);
    if row.changed {
        parts::note(ui, &found);
        parts::sign(ui, Mark::Ok, &say(texts, "setout-changed"));
    } else {
        parts::note(ui, &found);
    }
    if let Some(bubble) = &row.bubble {
        gauges::bubble(ui, bubble);
    }
    let name = texts.say(&Message::new("setout-look").with("what", row.name.as_str()));
    let text = say(texts, "setout-look-short");
    let action = parts::row(ui, |ui| {
        let open = row.barred.is_none();
        let mut action = control(ui, texts, row, open);
        let look = Press::new(&text).icon(Icon::Look).called(&name).show(ui);
        if look.clicked() {
            action = Some(Action::Look { row: id });
        }
        action
    });
    if let Some(barred) = &row.barred {
        parts::sign(ui, Mark::Not, barred);
    }
    action
}

fn control(ui: &mut Ui, texts: &Texts, row: &Row, open: bool) -> Option<Action> {
    let id = row.id;
    if !open {
        ui.disable();
    }
    match &row.control {
        Control::Stepper { value, ends } => {
            let steps = parts::stepper(ui, texts, &row.name, value, *ends);
            (steps != 0).then_some(Action::Step { row: id, steps })
        }
        Control::Choice { options, chosen } => {
            let pressed = parts::choice(ui, options, *chosen);
            pressed.map(|option| Action::Choose { row: id, option })
        }
        Control::Toggle { text, is_on } => {
            parts::toggle(ui, text, *is_on).then_some(Action::Toggle {
                row: id,
                on: !is_on,
            })
        }
        Control::Deed {
            text,
            is_done: false,
        } => parts::button(ui, text)
            .clicked()
            .then_some(Action::Do { row: id }),
        Control::Deed { text, .. } => {
            parts::sign(ui, Mark::Ok, text);
            None
        }
    }
}
