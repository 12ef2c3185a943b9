//! Setting the line out before pipe moves: everything that can be set, as it was found and as it is
//! now, beside the scene in which it is done.

use bevy_egui::egui::{Align2, CornerRadius, Frame, Key, Panel, Rect, Ui, pos2};

use super::gauges;
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
    /// What the key is called that starts the line.
    pub start_key: String,
    /// What keys do on foot, line by line; nothing where it is folded away.
    pub keys: Vec<String>,
}

/// One thing that can be set, or looked at and judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Given back with what is done to it.
    pub id: usize,
    /// Under what it is listed.
    pub group: String,
    pub name: String,
    /// How it stands: a sign and its word.
    pub stands: (Mark, String),
    /// How it is set; none where it is only looked at.
    pub control: Option<Control>,
}

/// How a thing is set.
#[derive(Clone, Debug, PartialEq)]
pub enum Control {
    /// Less and more of a value, written with its unit; at its least, at its most.
    Stepper { value: String, ends: [bool; 2] },
    /// One of several, in their order.
    Choice { options: Vec<String>, chosen: usize },
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
        keys(ui, scene, &model.keys, model.near.is_some());
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

const NEAR: &str = "near";

/// What is near, below the reticle.
fn near_card(ui: &Ui, texts: &Texts, scene: Rect, near: &str) {
    let em = theme::em(ui);
    let text = Message::new("setout-near")
        .with("name", near)
        .with("key", LOOK.name());
    let overlay = Overlay {
        name: NEAR,
        at: pos2(scene.center().x, scene.center().y + 2.0 * em),
        pivot: Align2::CENTER_TOP,
        width: (0.9 * scene.width()).min(34.0 * em),
        most_height: 0.4 * scene.height(),
        on_top: false,
    };
    overlay.show(ui.ctx(), |ui| parts::body(ui, &texts.say(&text)));
}

/// What keys do on foot, in the scene's lower corner.
fn keys(ui: &Ui, scene: Rect, keys: &[String], has_near: bool) {
    let edge = parts::inside(ui.max_rect());
    let near = parts::overlay_rect(ui.ctx(), NEAR).filter(|_| has_near);
    let top = near.map_or(scene.center().y, |near| near.bottom());
    let room = edge.bottom() - top - gap::SMALL * theme::em(ui);
    let overlay = Overlay {
        name: "keys",
        at: pos2(edge.left(), edge.bottom()),
        pivot: Align2::LEFT_BOTTOM,
        width: (30.0 * theme::em(ui)).min(0.9 * scene.width()),
        most_height: room,
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
            if let Some(said) = &model.said {
                parts::body(ui, said);
            }
            if let Some(refused) = &model.refused {
                parts::sign(ui, Mark::Not, refused);
            }
            if let Some(not_yet) = &model.not_yet {
                parts::sign(ui, Mark::Note, not_yet);
            }
            let text = say(texts, "setout-start");
            let press = ui
                .add_enabled_ui(model.not_yet.is_none(), |ui| {
                    let press = Press::new(&text).icon(Icon::Play).primary();
                    press.key(&model.start_key).fill().show(ui)
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
    for (i, row) in model.rows.iter().enumerate() {
        if row.group != group {
            group = &row.group;
            parts::space(ui, gap::SMALL);
            parts::subheading(ui, group);
        }
        let done = ui.push_id(row.id, |ui| match &row.control {
            Some(control) => parts::raised(ui, |ui| set(ui, texts, row, control, i == 0)),
            None => looked_at(ui, texts, row, i == 0),
        });
        action = action.or(done.inner);
    }
    action
}

/// What is only looked at: pressed as a whole.
fn looked_at(ui: &mut Ui, texts: &Texts, row: &Row, is_first: bool) -> Option<Action> {
    let (mark, word) = &row.stands;
    let called = Message::new("setout-look").with("what", row.name.as_str());
    let called = texts.say(&called);
    let press = Press::new(&row.name)
        .mark(*mark, word)
        .icon(Icon::Look)
        .called(&called)
        .listed()
        .show(ui);
    if is_first {
        parts::home(ui, &press);
    }
    press.clicked().then_some(Action::Look { row: row.id })
}

/// What is set here.
fn set(ui: &mut Ui, texts: &Texts, row: &Row, control: &Control, is_first: bool) -> Option<Action> {
    let id = row.id;
    parts::subheading(ui, &row.name);
    let called = Message::new("setout-look").with("what", row.name.as_str());
    let called = texts.say(&called);
    let action = parts::row(ui, |ui| {
        let action = match control {
            Control::Stepper { value, ends } => {
                let steps = parts::stepper(ui, texts, &row.name, value, *ends);
                (steps != 0).then_some(Action::Step { row: id, steps })
            }
            Control::Choice { options, chosen } => {
                let value = options.get(*chosen).map_or("", String::as_str);
                let ends = [*chosen == 0, chosen + 1 >= options.len()];
                let steps = parts::stepper(ui, texts, &row.name, value, ends);
                let option = chosen.saturating_add_signed(steps.signum() as isize);
                (steps != 0).then_some(Action::Choose { row: id, option })
            }
        };
        let look = Press::new(&called).only_icon(Icon::Look).show(ui);
        if is_first {
            parts::home(ui, &look);
        }
        let look = look.clicked().then_some(Action::Look { row: id });
        action.or(look)
    });
    let (mark, word) = &row.stands;
    parts::sign(ui, *mark, word);
    action
}
