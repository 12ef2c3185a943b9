//! On the line: what lies over the scene while it is worked. The scene fills the window; a thin bar at
//! the top, the step at the left, instruments at the right, the pendant at the bottom, and everything
//! but the emergency stop folds away.
//!
//! Keys work the line and not these cards: they are only named here, beside what they do. A gamepad works
//! a menu that is open, as arrows and Enter.

use bevy_egui::egui::{Align, Align2, Area, Id, Layout, Pos2, Rect, Ui, pos2, vec2};

pub use super::instruments::{Instruments, Nearest};
use super::parts::{self, Overlay, Press, say};
use super::timeline::Track;
use super::{Picture, function_check, instructor, look_from, pendant, radio};
use super::{bar, instruments, step_card};
use crate::session::mode::Mode;
use crate::sim::controls::{Call, Held, Upset};
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, Bindings};
use crate::view::icons::Icon;
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
    /// What is recorded does not reach the disk.
    pub is_unrecorded: bool,
    /// Whether time can be held, slowed and stepped.
    pub time_can_be_held: bool,
    /// The speeds of time that can be chosen, from slow to fast.
    pub speeds: Vec<f64>,
    /// In guided and practice mode.
    pub zone: Option<Zone>,
    /// The next step: always in guided mode, when asked for in practice.
    pub step: Option<Step>,
    /// Whether the next step can be asked for.
    pub help_on_request: bool,
    /// Whether the pendant can be taken over from whoever has it.
    pub may_take_over: bool,
    /// Whether the trainee can say that they are done.
    pub may_say_done: bool,
    pub instruments: Option<Instruments>,
    /// What was said and heard, the latest last.
    pub captions: Vec<String>,
    pub second_view: Option<SecondView>,
    pub rewind: Option<Rewind>,
    pub look: look_from::Model,
    /// Every motion tried once, empty; none where somebody else drives.
    pub check: Option<function_check::Model>,
    pub pendant: pendant::Model,
    pub radio: radio::Model,
    /// None where nothing may be brought about.
    pub instructor: Option<instructor::Model>,
    pub keys: Keys,
}

/// What the keys are called that do the same as a button here; empty where there is none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Keys {
    pub slower: String,
    pub faster: String,
    pub step: String,
    pub help: String,
    pub radio: String,
    pub check: String,
    pub fold: String,
    pub take_over: String,
    pub done: String,
    pub menu: String,
}

impl Keys {
    pub fn of(bindings: &Bindings, texts: &Texts) -> Self {
        let key = |act| bindings.said(act, texts);
        Self {
            slower: key(Act::Slower),
            faster: key(Act::Faster),
            step: key(Act::Step),
            help: key(Act::Help),
            radio: key(Act::Radio),
            check: key(Act::Check),
            fold: key(Act::Fold),
            take_over: key(Act::TakeOver),
            done: key(Act::Done),
            menu: key(Act::Pause),
        }
    }
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
    pub open: Option<Menu>,
    /// There was room for the second view when the panel was last shown: where there is none, nobody
    /// need draw it.
    pub has_room_for_second: bool,
}

/// What can be opened at the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Menu {
    Radio,
    Look,
    Check,
    Instructor,
}

impl State {
    /// Opens a menu, or closes it where it is open.
    pub fn toggle(&mut self, menu: Menu) {
        self.open = if self.open == Some(menu) {
            None
        } else {
            Some(menu)
        };
    }
}

impl State {
    /// Closes what is open over the line. Whether anything was.
    pub fn close(&mut self) -> bool {
        self.open.take().is_some()
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Action {
    Pause,
    Resume,
    /// One tick, or as much as the caller makes of it.
    StepOnce,
    Speed(f64),
    /// The pause screen.
    Menu,
    /// The trainee is done.
    Done,
    Help,
    Look(look_from::Action),
    Check(function_check::Action),
    Say(Call),
    Upset(Upset),
    Rewind(f64),
    /// From the moment that is shown, or from whoever drives.
    TakeOver,
    Pendant(pendant::Action),
}

/// What was done in a pass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Done {
    pub actions: Vec<Action>,
    /// Buttons held by the pointer.
    pub held: Held,
}

const BAR: &str = "bar";
const PENDANT: &str = "pendant";
const REWIND: &str = "rewind";
const CAPTIONS: &str = "captions";
/// A window of less width or height than that, in heights of the text, shows only what is needed.
const TIGHT: (f32, f32) = (50.0, 36.0);

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Done {
    let mut done = Done::default();
    if state.is_folded {
        folded(ui, texts, model, state, &mut done);
        return done;
    }
    let window = parts::inside(ui.max_rect());
    let em = theme::em(ui);
    let between = gap::SMALL * em;
    let is_tight = window.width() < TIGHT.0 * em || window.height() < TIGHT.1 * em;
    let place = Place {
        at: window.min,
        pivot: Align2::LEFT_TOP,
        width: window.width(),
        most_height: 0.5 * window.height(),
    };
    place.overlay(BAR).show(ui.ctx(), |ui| {
        bar::show(ui, texts, model, state, is_tight, &mut done);
    });
    let plan = pendant::Plan::new(ui, texts, &model.pendant, window.width());
    let bottom = show_pendant(ui, texts, model, &plan, window, &mut done);
    let top = parts::overlay_rect(ui.ctx(), BAR)
        .map_or(window.top() + 3.0 * em, |rect| rect.bottom())
        + between;
    let over = Rect::from_min_max(window.min, pos2(window.right(), bottom - between));
    // A menu takes what room there is in a small window.
    let is_menu_open = state.open.is_some();
    let columns = if is_tight && is_menu_open {
        over.bottom()
    } else {
        above_pendant(ui, texts, model, over, is_tight, &mut done)
    };
    let room = Rect::from_min_max(
        pos2(window.left(), top),
        pos2(window.right(), columns.max(top + 4.0 * em)),
    );
    let wide = column_width(ui, window);
    if let Some(step) = &model.step {
        let place = Place {
            at: room.min,
            pivot: Align2::LEFT_TOP,
            width: wide,
            most_height: room.height(),
        };
        place
            .overlay("step")
            .show(ui.ctx(), |ui| step_card::show(ui, texts, step));
    }
    // In a small window nothing is read off while time is turned back.
    let is_turned_back = model.rewind.is_some_and(|rewind| rewind.at_s.is_some());
    if !is_tight || !is_turned_back || is_menu_open {
        right_column(ui, texts, model, state, room, is_tight, &mut done);
    }
    done
}

/// A card's place.
struct Place {
    at: Pos2,
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
        width: (22.0 * theme::em(ui)).min(window.width()),
        most_height: window.height(),
    };
    place.overlay("folded").show(ui.ctx(), |ui| {
        parts::row(ui, |ui| {
            if pendant::show_stop(ui, texts, &model.pendant) {
                done.actions.push(Action::Pendant(pendant::Action::Stop));
            }
            let unfold = say(texts, "hud-unfold");
            let press = Press::new(&unfold).icon(Icon::Fold).key(&model.keys.fold);
            if press.show(ui).clicked() {
                state.is_folded = false;
            }
        });
    });
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
    let worked = Area::new(Id::new(PENDANT))
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

/// Captions and the rewind, at the bottom of what lies over the pendant. Where the columns end.
fn above_pendant(
    ui: &Ui,
    texts: &Texts,
    model: &Model,
    over: Rect,
    is_tight: bool,
    done: &mut Done,
) -> f32 {
    let em = theme::em(ui);
    let width = (48.0 * em).min(over.width());
    let place = |bottom: f32, width: f32| Place {
        at: pos2(over.center().x, bottom),
        pivot: Align2::CENTER_BOTTOM,
        width,
        most_height: 9.0 * em,
    };
    let above = |name: &'static str, bottom: f32| {
        let rect = parts::overlay_rect(ui.ctx(), name);
        bottom - rect.map_or(3.0 * em, |rect| rect.height()) - gap::SMALL * em
    };
    let mut bottom = over.bottom();
    if let Some(rewind) = &model.rewind {
        place(bottom, width).overlay(REWIND).show(ui.ctx(), |ui| {
            rewinding(ui, texts, model, rewind, is_tight, done);
        });
        bottom = above(REWIND, bottom);
    }
    // In a small window only what was said last, and nothing while time is turned back.
    let is_turned_back = model.rewind.is_some_and(|rewind| rewind.at_s.is_some());
    let from = match (is_tight, is_turned_back) {
        (false, _) => 0,
        (true, false) => model.captions.len().saturating_sub(1),
        (true, true) => model.captions.len(),
    };
    let captions = model.captions.get(from..).unwrap_or_default();
    if captions.is_empty() {
        return bottom;
    }
    // Between the columns, where there is room for a line.
    let between = over.width() - 2.0 * (column_width(ui, over) + gap::SMALL * em);
    let is_between = between > 18.0 * em;
    let width = if is_between {
        between.min(width)
    } else {
        width
    };
    place(bottom, width).overlay(CAPTIONS).show(ui.ctx(), |ui| {
        for caption in captions {
            parts::body(ui, caption);
        }
    });
    if is_between {
        bottom
    } else {
        above(CAPTIONS, bottom)
    }
}

fn column_width(ui: &Ui, window: Rect) -> f32 {
    (19.0 * theme::em(ui)).min(0.36 * window.width())
}

fn rewinding(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    rewind: &Rewind,
    is_tight: bool,
    done: &mut Done,
) {
    let size = vec2(ui.available_width(), 2.3 * theme::em(ui));
    let layout = Layout::right_to_left(Align::Center);
    ui.allocate_ui_with_layout(size, layout, |ui| {
        if let Some(at_s) = rewind.at_s {
            let text = Message::new("hud-take-over").with("time", parts::clock(at_s));
            let text = texts.say(&text);
            let press = Press::new(&text)
                .icon(Icon::Play)
                .primary()
                .key(if is_tight { "" } else { &model.keys.take_over })
                .show(ui);
            if press.clicked() {
                done.actions.push(Action::TakeOver);
            }
        }
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
    });
}

/// How high the second view is, of its width.
const SECOND_HIGH: f32 = 9.0 / 16.0;

/// What is open of radio and cameras, else instruments; and the second view below.
fn right_column(
    ui: &Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    room: Rect,
    is_tight: bool,
    done: &mut Done,
) {
    let em = theme::em(ui);
    let closes = model.keys.menu.as_str();
    let is_menu_open = state.open.is_some();
    state.has_room_for_second = false;
    let wide = if is_tight && is_menu_open {
        (30.0 * em).min(room.width())
    } else {
        column_width(ui, room)
    };
    let place = |most_height: f32| Place {
        at: room.right_top(),
        pivot: Align2::RIGHT_TOP,
        width: wide,
        most_height,
    };
    match state.open {
        Some(Menu::Radio) => {
            let worked = place(room.height())
                .overlay("radio")
                .show(ui.ctx(), |ui| radio::show(ui, texts, &model.radio, closes));
            for button in worked.held.iter() {
                done.held = done.held.with(button);
            }
            if let Some(radio::Action::Say(call)) = worked.action {
                done.actions.push(Action::Say(call));
            }
            if worked.action.is_some() {
                state.open = None;
            }
            return;
        }
        Some(Menu::Look) => {
            let action = place(room.height())
                .overlay("looking")
                .show(ui.ctx(), |ui| {
                    look_from::show(ui, texts, &model.look, closes)
                });
            match action {
                Some(look_from::Action::Close) => state.open = None,
                Some(action) => done.actions.push(Action::Look(action)),
                None => {}
            }
            return;
        }
        Some(Menu::Check) => {
            if let Some(check) = &model.check {
                let action = place(room.height()).overlay("check").show(ui.ctx(), |ui| {
                    function_check::show(ui, texts, check, closes)
                });
                match action {
                    Some(function_check::Action::Close) => state.open = None,
                    Some(action) => done.actions.push(Action::Check(action)),
                    None => {}
                }
                return;
            }
        }
        Some(Menu::Instructor) => {
            if let Some(model) = &model.instructor {
                let action = place(room.height())
                    .overlay("instructor")
                    .show(ui.ctx(), |ui| instructor::show(ui, texts, model, closes));
                match action {
                    Some(instructor::Action::Close) => state.open = None,
                    Some(instructor::Action::Upset(upset)) => {
                        done.actions.push(Action::Upset(upset));
                        state.open = None;
                    }
                    None => {}
                }
                return;
            }
        }
        None => {}
    }
    let mut left = room.height();
    let high = wide * SECOND_HIGH;
    let whole = high + 3.0 * em;
    // Where there is no room for both, the instruments are what is needed.
    state.has_room_for_second =
        left > whole + 16.0 * em || model.instruments.is_none() && left > whole;
    if let Some(second) = &model.second_view
        && state.has_room_for_second
    {
        let place = Place {
            at: room.right_bottom(),
            pivot: Align2::RIGHT_BOTTOM,
            width: wide,
            most_height: whole,
        };
        place.overlay("second").show(ui.ctx(), |ui| {
            parts::picture(ui, second.picture, &second.name, high);
            parts::note(ui, &second.name);
        });
        left -= whole + gap::SMALL * em;
    }
    if let Some(read) = &model.instruments {
        place(left).overlay("instruments").show(ui.ctx(), |ui| {
            instruments::show(ui, texts, read, is_tight);
        });
    }
}
