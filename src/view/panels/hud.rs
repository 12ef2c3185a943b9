//! On the line: what lies over the scene while it is worked. The scene fills the window; a thin bar at
//! the top, the step at the left, instruments at the right, the pendant at the bottom, and everything
//! but the emergency stop folds away.

use bevy_egui::egui::{Align2, Key, Rect, Ui, pos2, vec2};

use super::instruments;
pub use super::instruments::{Instruments, Nearest};
use super::parts::{self, Overlay, Press, say};
use super::timeline::Track;
use super::{Picture, pendant, radio};
use crate::session::mode::Mode;
use crate::sim::controls::{Call, Held};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub exercise: String,
    pub mode: Mode,
    pub clock_s: f64,
    /// How fast the line's time runs: 1 as it is, less is slow motion.
    pub speed: f64,
    pub is_paused: bool,
    /// The machine cannot keep up.
    pub is_behind: bool,
    /// Whether time can be held, slowed and stepped.
    pub time_can_be_held: bool,
    /// In guided and practice mode.
    pub zone: Option<Zone>,
    /// The next step: always in guided mode, when asked for in practice.
    pub step: Option<Step>,
    /// Whether the next step can be asked for.
    pub help_on_request: bool,
    pub instruments: Option<Instruments>,
    /// What was said and heard, the latest last.
    pub captions: Vec<String>,
    pub second_view: Option<SecondView>,
    pub rewind: Option<Rewind>,
    pub cameras: Vec<String>,
    pub camera: usize,
    pub pendant: pendant::Model,
    pub radio: radio::Model,
}

/// The exclusion zone now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Zone {
    /// No stick can move.
    Still,
    /// A stick can move, and nobody is inside.
    Live,
    /// Somebody is inside while a stick can move.
    Inside(String),
}

/// A step of the work, as the coach sees it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Step {
    pub what: String,
    pub why: String,
    pub done: usize,
    pub of: usize,
    /// What has left the path, and how to come back to it.
    pub off_path: Option<String>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct SecondView {
    pub picture: Picture,
    pub name: String,
}

/// How far back time can be turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rewind {
    pub from_s: f64,
    pub to_s: f64,
    /// Where it is turned to; None while the line runs.
    pub at_s: Option<f64>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    pub is_folded: bool,
    pub radio_open: bool,
    pub cameras_open: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Action {
    Pause,
    Resume,
    /// One tick, or as much as the caller makes of it.
    StepOnce,
    Speed(f64),
    /// Escape: the pause screen.
    Menu,
    Help,
    Camera(usize),
    Say(Call),
    Rewind(f64),
    TakeOver(f64),
    Pendant(pendant::Action),
}

/// What was done in a pass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Done {
    pub actions: Vec<Action>,
    /// Buttons held by the pointer or by Space.
    pub held: Held,
}

/// Folds everything away, and brings it back.
pub const FOLD: Key = Key::F4;
/// Opens the radio's menu.
pub const RADIO: Key = Key::R;
/// Speeds of time that can be chosen.
pub const SPEEDS: [f64; 3] = [0.25, 0.5, 1.0];

const BAR: &str = "bar";
const PENDANT: &str = "pendant";

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Done {
    let mut done = Done::default();
    if parts::pressed(ui, FOLD) {
        state.is_folded = !state.is_folded;
    }
    if parts::pressed(ui, RADIO) {
        state.radio_open = !state.radio_open;
    }
    if state.is_folded {
        folded(ui, texts, model, state, &mut done);
        return done;
    }
    let window = parts::inside(ui.max_rect());
    let em = theme::em(ui);
    let between = gap::SMALL * em;
    bar(ui, texts, model, state, window, &mut done);
    let plan = pendant::Plan::new(ui, texts, &model.pendant, window.width());
    let bottom = show_pendant(ui, texts, model, &plan, window, &mut done);
    let top = parts::overlay_rect(ui.ctx(), BAR)
        .map_or(window.top() + 3.0 * em, |rect| rect.bottom())
        + between;
    let bottom = above_pendant(ui, texts, model, window, bottom - between, &mut done);
    // The columns end above what lies over the pendant only where that reaches under them.
    let room = Rect::from_min_max(
        pos2(window.left(), top),
        pos2(window.right(), bottom.columns - between),
    );
    let wide = (19.0 * em).min(0.36 * window.width());
    if let Some(step) = &model.step {
        let place = Place {
            at: room.min,
            pivot: Align2::LEFT_TOP,
            width: wide,
            most_height: room.height(),
        };
        place
            .overlay("step")
            .show(ui.ctx(), |ui| step_card(ui, texts, step));
    }
    right_column(ui, texts, model, state, room, wide, &mut done);
    done
}

/// A card's place.
struct Place {
    at: bevy_egui::egui::Pos2,
    pivot: Align2,
    width: f32,
    most_height: f32,
}

impl Place {
    fn overlay(self, name: &'static str) -> Overlay {
        Overlay {
            name,
            at: self.at,
            pivot: self.pivot,
            width: self.width,
            most_height: self.most_height,
            on_top: false,
        }
    }
}

/// Only the emergency stop, and how to bring the rest back.
fn folded(ui: &Ui, texts: &Texts, model: &Model, state: &mut State, done: &mut Done) {
    let window = parts::inside(ui.max_rect());
    let place = Place {
        at: window.left_bottom(),
        pivot: Align2::LEFT_BOTTOM,
        width: (30.0 * theme::em(ui)).min(window.width()),
        most_height: window.height(),
    };
    place.overlay("folded").show(ui.ctx(), |ui| {
        parts::row(ui, |ui| {
            if pendant::show_stop(ui, texts, &model.pendant) {
                done.actions.push(Action::Pendant(pendant::Action::Stop));
            }
            let unfold = Message::new("hud-unfold").with("key", FOLD.name());
            let unfold = texts.say(&unfold);
            if Press::new(&unfold).icon(Icon::Fold).show(ui).clicked() {
                state.is_folded = false;
            }
        });
    });
    if parts::escaped(ui) {
        done.actions.push(Action::Menu);
    }
}

fn bar(ui: &Ui, texts: &Texts, model: &Model, state: &mut State, window: Rect, done: &mut Done) {
    let place = Place {
        at: window.min,
        pivot: Align2::LEFT_TOP,
        width: window.width(),
        most_height: 0.5 * window.height(),
    };
    place.overlay(BAR).show(ui.ctx(), |ui| {
        parts::row(ui, |ui| {
            let head = Message::new("hud-head")
                .with("exercise", model.exercise.as_str())
                .with("mode", model.mode.said());
            parts::subheading(ui, &texts.say(&head));
            let palette = theme::palette(ui);
            let clock = parts::clock(model.clock_s);
            parts::paragraph(ui, &clock, theme::numbers(ui, 1.1), palette.text);
            time(ui, texts, model, done);
            if model.is_behind {
                parts::sign(ui, Mark::Not, &say(texts, "hud-behind"));
            }
            match &model.zone {
                None => {}
                Some(Zone::Still) => {
                    parts::sign(ui, Mark::Ok, &say(texts, "zone-still"));
                }
                Some(Zone::Live) => {
                    parts::sign(ui, Mark::Caution, &say(texts, "zone-live"));
                }
                Some(Zone::Inside(who)) => {
                    let text = Message::new("zone-inside").with("who", who.as_str());
                    parts::sign(ui, Mark::Danger, &texts.say(&text));
                }
            }
            tools(ui, texts, model, state, done);
        });
    });
}

/// How time runs, and what holds it.
fn time(ui: &mut Ui, texts: &Texts, model: &Model, done: &mut Done) {
    if !model.time_can_be_held {
        return;
    }
    let (id, icon, action) = if model.is_paused {
        ("hud-resume", Icon::Play, Action::Resume)
    } else {
        ("hud-pause", Icon::Pause, Action::Pause)
    };
    let text = say(texts, id);
    if Press::new(&text).only_icon(icon).show(ui).clicked() {
        done.actions.push(action);
    }
    if model.is_paused {
        let step = say(texts, "hud-step");
        if Press::new(&step).only_icon(Icon::Step).show(ui).clicked() {
            done.actions.push(Action::StepOnce);
        }
    }
    for speed in SPEEDS {
        let text = texts.say(&Message::new("hud-speed").with("speed", speed));
        let is_chosen = (speed - model.speed).abs() < 0.01;
        if Press::new(&text).selected(is_chosen).show(ui).clicked() {
            done.actions.push(Action::Speed(speed));
        }
    }
}

fn tools(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State, done: &mut Done) {
    let tool = |ui: &mut Ui, id: &'static str, icon: Icon| {
        let text = say(texts, id);
        Press::new(&text).only_icon(icon).show(ui).clicked()
    };
    if model.help_on_request && tool(ui, "hud-help", Icon::Help) {
        done.actions.push(Action::Help);
    }
    if tool(ui, "hud-radio", Icon::Radio) {
        state.radio_open = !state.radio_open;
        state.cameras_open = false;
    }
    if model.cameras.len() > 1 && tool(ui, "hud-cameras", Icon::Camera) {
        state.cameras_open = !state.cameras_open;
        state.radio_open = false;
    }
    if tool(ui, "hud-fold", Icon::Fold) {
        state.is_folded = true;
    }
    let menu = say(texts, "hud-menu");
    let is_free = !state.radio_open && !state.cameras_open;
    let pressed = Press::new(&menu).show(ui).clicked();
    if pressed || (is_free && parts::escaped(ui)) {
        done.actions.push(Action::Menu);
    }
}

/// The pendant in the middle of the bottom edge. Its upper edge.
fn show_pendant(
    ui: &Ui,
    texts: &Texts,
    model: &Model,
    plan: &pendant::Plan,
    window: Rect,
    done: &mut Done,
) -> f32 {
    let size = plan.size();
    let at = pos2(window.center().x - 0.5 * size.x, window.bottom() - size.y);
    let worked = bevy_egui::egui::Area::new(bevy_egui::egui::Id::new(PENDANT))
        .fixed_pos(at)
        .default_size(size)
        .constrain(false)
        .show(ui.ctx(), |ui| {
            pendant::show(ui, texts, &model.pendant, plan)
        })
        .inner;
    done.held = worked.held;
    done.actions.extend(worked.action.map(Action::Pendant));
    at.y
}

/// Where other things end.
struct Above {
    columns: f32,
}

/// Captions and the rewind, over the pendant.
fn above_pendant(
    ui: &Ui,
    texts: &Texts,
    model: &Model,
    window: Rect,
    bottom: f32,
    done: &mut Done,
) -> Above {
    let em = theme::em(ui);
    let width = (48.0 * em).min(window.width());
    let mut bottom = bottom;
    if let Some(rewind) = &model.rewind {
        let place = Place {
            at: pos2(window.center().x, bottom),
            pivot: Align2::CENTER_BOTTOM,
            width,
            most_height: 12.0 * em,
        };
        place.overlay("rewind").show(ui.ctx(), |ui| {
            rewinding(ui, texts, model, rewind, done);
        });
        let height = parts::overlay_rect(ui.ctx(), "rewind").map_or(3.0 * em, |rect| rect.height());
        bottom -= height + gap::SMALL * em;
    }
    let columns = bottom;
    if !model.captions.is_empty() {
        let side = (19.0 * em).min(0.36 * window.width()) + gap::SMALL * em;
        // Between the columns, where there is room for a line.
        let free = window.width() - 2.0 * side;
        let width = if free > 16.0 * em {
            free.min(width)
        } else {
            width
        };
        let place = Place {
            at: pos2(window.center().x, bottom),
            pivot: Align2::CENTER_BOTTOM,
            width,
            most_height: 8.0 * em,
        };
        place.overlay("captions").show(ui.ctx(), |ui| {
            for caption in &model.captions {
                parts::body(ui, caption);
            }
        });
        if free <= 16.0 * em {
            let height =
                parts::overlay_rect(ui.ctx(), "captions").map_or(2.0 * em, |rect| rect.height());
            return Above {
                columns: columns - height - gap::SMALL * em,
            };
        }
    }
    Above { columns }
}

fn rewinding(ui: &mut Ui, texts: &Texts, model: &Model, rewind: &Rewind, done: &mut Done) {
    let name = say(texts, "hud-rewind");
    let track = Track {
        name: &name,
        from_s: rewind.from_s,
        to_s: rewind.to_s,
        now_s: rewind.at_s.unwrap_or(model.clock_s),
        moments: &[],
    };
    if let Some(time_s) = track.show(ui) {
        done.actions.push(Action::Rewind(time_s));
    }
    let Some(at_s) = rewind.at_s else {
        return;
    };
    parts::row(ui, |ui| {
        let text = Message::new("hud-take-over").with("time", parts::clock(at_s));
        let text = texts.say(&text);
        let press = Press::new(&text).icon(Icon::Play).primary().show(ui);
        if press.clicked() {
            done.actions.push(Action::TakeOver(at_s));
        }
    });
}

fn step_card(ui: &mut Ui, texts: &Texts, step: &Step) {
    let head = Message::new("step-head")
        .with("step", (step.done + 1).min(step.of.max(1)))
        .with("of", step.of.max(1));
    parts::note(ui, &texts.say(&head));
    dots(ui, step.done, step.of);
    parts::subheading(ui, &step.what);
    parts::body(ui, &step.why);
    if let Some(off_path) = &step.off_path {
        parts::space(ui, gap::TINY);
        parts::sign(ui, Mark::Note, off_path);
    }
}

/// A filled dot for what is done, a ring with a dot for what is next, rings for the rest.
fn dots(ui: &mut Ui, done: usize, of: usize) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let step = (ui.available_width() / of.max(1) as f32).min(0.9 * em);
    let size = vec2(step * of as f32, 0.9 * em);
    let (rect, _) = ui.allocate_exact_size(size, bevy_egui::egui::Sense::hover());
    let r = (0.34 * step).min(0.32 * em);
    for i in 0..of {
        let at = pos2(rect.left() + (i as f32 + 0.5) * step, rect.center().y);
        let line = bevy_egui::egui::Stroke::new((0.3 * r).max(1.0), palette.text);
        match i.cmp(&done) {
            std::cmp::Ordering::Less => {
                ui.painter().circle_filled(at, r, palette.text);
            }
            std::cmp::Ordering::Equal => {
                ui.painter().circle(at, r, palette.accent, line);
            }
            std::cmp::Ordering::Greater => {
                ui.painter().circle_stroke(at, 0.85 * r, line);
            }
        }
    }
}

/// What is open of radio and cameras, else instruments; and the second view below.
fn right_column(
    ui: &Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    room: Rect,
    wide: f32,
    done: &mut Done,
) {
    let em = theme::em(ui);
    let place = |most_height: f32| Place {
        at: room.right_top(),
        pivot: Align2::RIGHT_TOP,
        width: wide,
        most_height,
    };
    if state.radio_open {
        let worked = place(room.height())
            .overlay("radio")
            .show(ui.ctx(), |ui| radio::show(ui, texts, &model.radio));
        for button in worked.held.iter() {
            done.held = done.held.with(button);
        }
        match worked.action {
            Some(radio::Action::Say(call)) => {
                done.actions.push(Action::Say(call));
                state.radio_open = false;
            }
            Some(radio::Action::Close) => state.radio_open = false,
            None => {}
        }
        return;
    }
    if state.cameras_open {
        place(room.height())
            .overlay("cameras")
            .show(ui.ctx(), |ui| cameras(ui, texts, model, state, done));
        return;
    }
    let mut left = room.height();
    if let Some(second) = &model.second_view {
        let scale = wide / second.picture.size_px.x.max(1.0);
        let size = scale * second.picture.size_px;
        let whole = size.y + 3.0 * em;
        // Where there is no room for both, the instruments are what is needed.
        let has_room = left > whole + 16.0 * em || model.instruments.is_none() && left > whole;
        if has_room {
            let place = Place {
                at: room.right_bottom(),
                pivot: Align2::RIGHT_BOTTOM,
                width: wide,
                most_height: whole,
            };
            place.overlay("second").show(ui.ctx(), |ui| {
                parts::picture(ui, second.picture, &second.name, size.y);
                parts::note(ui, &second.name);
            });
            left -= whole + gap::SMALL * em;
        }
    }
    if let Some(read) = &model.instruments {
        place(left).overlay("instruments").show(ui.ctx(), |ui| {
            instruments::show(ui, texts, read);
        });
    }
}

fn cameras(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State, done: &mut Done) {
    parts::subheading(ui, &say(texts, "hud-cameras"));
    for (i, camera) in model.cameras.iter().enumerate() {
        let press = Press::new(camera)
            .selected(i == model.camera)
            .fill()
            .show(ui);
        if i == model.camera {
            parts::home(ui, &press);
        }
        if press.clicked() {
            done.actions.push(Action::Camera(i));
            state.cameras_open = false;
        }
    }
    let close = say(texts, "close");
    let pressed = Press::new(&close).icon(Icon::Close).show(ui).clicked();
    if pressed || parts::escaped(ui) {
        state.cameras_open = false;
    }
}
