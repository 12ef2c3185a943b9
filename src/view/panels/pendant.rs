//! The pendant: hold-to-run buttons in one fixed lay-out, the emergency stop, the isolating switch and
//! the lamps.
//!
//! A button works while it is held by the pointer; a pointer that slides off lets go. Keys of the machine
//! come from the caller and are only shown here.

use std::f32::consts::FRAC_PI_2;

use bevy_egui::egui::{
    Align2, CornerRadius, FontFamily, FontId, Rect, Response, Sense, Shape, Stroke, StrokeKind, Ui,
    Vec2, WidgetInfo, WidgetType, pos2, vec2,
};

use super::parts::{self, say};
use super::pendant_face::{face, key_hint, paint_way};
pub use super::pendant_plan::Plan;
use super::pendant_plan::{BETWEEN, Column, Group, HEAD, LAMPS, PAD, Part, ROW, STOP_WIDTH};
use crate::sim::controls::{Button, Held};
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, Bindings};
use crate::view::icons::{self, Icon};
use crate::view::theme;
use crate::words;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// What is held by keys or by a gamepad.
    pub held: Held,
    pub is_stopped: bool,
    pub is_isolated: bool,
    pub lamps: Lamps,
    pub arrows: Arrows,
    pub hints: Hints,
    /// Nothing can be worked: in a replay, or while somebody else has the pendant.
    pub is_dead: bool,
}

/// What the lamps show.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lamps {
    pub power: bool,
    pub receiver_ready: bool,
    pub gate_blocked: bool,
    pub interlock: bool,
}

/// Which way the arrows point, clockwise from up on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrows {
    /// Away from the rack.
    pub out_rad: f32,
    /// Towards the machine.
    pub on_rad: f32,
    /// 'Turn away from the rack' is clockwise.
    pub out_is_clockwise: bool,
}

impl Default for Arrows {
    /// As they are printed on the pendant, held by somebody who looks along the line.
    fn default() -> Self {
        Self {
            out_rad: -FRAC_PI_2,
            on_rad: 0.0,
            out_is_clockwise: false,
        }
    }
}

/// The keys, as they are called on this keyboard; those that are empty are not shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hints {
    pub buttons: Vec<(Button, String)>,
    pub stop: String,
    pub reset: String,
    pub isolate: String,
}

impl Hints {
    pub fn of(bindings: &Bindings, texts: &Texts) -> Self {
        let key = |act| bindings.said(act, texts);
        let of = |button| (button, key(Act::Hold(button)));
        Self {
            buttons: Button::ALL.into_iter().map(of).collect(),
            stop: key(Act::EmergencyStop),
            reset: key(Act::Reset),
            isolate: key(Act::Isolate),
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Stop,
    Reset,
    Isolate(bool),
}

/// What was done in a pass.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Done {
    /// Held by the pointer.
    pub held: Held,
    pub action: Option<Action>,
}

/// Shows the pendant where there is room for its plan.
pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, plan: &Plan) -> Done {
    let (rect, _) = ui.allocate_exact_size(plan.size, Sense::hover());
    let px = plan.px;
    ui.painter().rect(
        rect,
        CornerRadius::same(theme::CORNER),
        theme::PENDANT_CASE,
        Stroke::new(1.0, theme::INK),
        StrokeKind::Inside,
    );
    let inner = rect.shrink(PAD * px);
    lamp_strip(
        ui,
        texts,
        plan,
        Rect::from_min_size(inner.min, vec2(inner.width(), LAMPS * px)),
    );
    let mut done = Done::default();
    let wide: f32 = plan.groups.iter().map(Group::width).sum();
    let spare = inner.width() / px - wide;
    let between = spare / (plan.groups.len() - 1) as f32;
    let mut left = inner.left();
    let top = inner.top() + LAMPS * px;
    for group in &plan.groups {
        let width = group.width() * px;
        let head = Rect::from_min_size(pos2(left, top), vec2(width, HEAD * px));
        heads(ui, group, head, px);
        let mut x = left;
        for column in &group.columns {
            let rect = Rect::from_min_size(
                pos2(x, top + HEAD * px),
                vec2(column.width * px, (2.0 * ROW + BETWEEN) * px),
            );
            parts_of(ui, texts, model, column, rect, px, &mut done);
            x += (column.width + BETWEEN) * px;
        }
        left += width + between * px;
    }
    done
}

fn lamp_strip(ui: &Ui, texts: &Texts, plan: &Plan, rect: Rect) {
    let px = plan.px;
    let font = FontId::new(px, FontFamily::Proportional);
    let galleys = plan.lamps.iter().map(|(on, text)| {
        let color = if *on { theme::CHALK } else { theme::CHALK_WEAK };
        ui.painter()
            .layout_no_wrap(text.clone(), font.clone(), color)
    });
    let galleys: Vec<_> = galleys.collect();
    let wide: f32 = galleys
        .iter()
        .map(|galley| galley.size().x + 1.6 * px)
        .sum();
    let spare = (rect.width() - wide) / (galleys.len() - 1) as f32;
    let mut left = rect.left();
    for (i, ((on, text), galley)) in plan.lamps.iter().zip(galleys).enumerate() {
        let at = pos2(left, rect.top());
        let step = galley.size().x + 1.6 * px;
        left += step + spare;
        let response = ui.interact(
            Rect::from_min_size(at, vec2(step, rect.height() - 0.4 * px)),
            ui.id().with(("lamp", i)),
            Sense::hover(),
        );
        let state = Message::new(if *on { "lamp-on" } else { "lamp-off" });
        let name = Message::new("lamp-is")
            .with("lamp", text.as_str())
            .with("state", state);
        let name = texts.say(&name);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &name));
        let lamp = Rect::from_center_size(at + vec2(0.7, 0.6) * px, Vec2::splat(1.1 * px));
        let painter = ui.painter();
        if *on {
            painter.circle(
                lamp.center(),
                0.5 * lamp.width(),
                theme::CHALK_RAISED,
                Stroke::new(0.12 * px, theme::INK),
            );
            painter.circle_filled(lamp.center(), 0.2 * lamp.width(), theme::INK);
        } else {
            painter.circle_stroke(
                lamp.center(),
                0.42 * lamp.width(),
                Stroke::new(0.12 * px, theme::CHALK_WEAK),
            );
        }
        let down = 0.6 * px - 0.5 * galley.size().y;
        painter.galley(at + vec2(1.6 * px, down), galley, theme::CHALK);
    }
}

fn heads(ui: &Ui, group: &Group, rect: Rect, px: f32) {
    let bold = FontId::new(px, theme::bold(ui, 1.0).family);
    let plain = FontId::new(px, FontFamily::Proportional);
    let has_subs = group.columns.iter().any(|column| column.sub.is_some());
    let width = if has_subs {
        f32::INFINITY
    } else {
        rect.width() + 1.0
    };
    let mut job =
        bevy_egui::egui::text::LayoutJob::simple(group.head.clone(), bold, theme::CHALK, width);
    job.halign = bevy_egui::egui::Align::Center;
    let galley = ui.painter().layout_job(job);
    let down = if has_subs {
        0.0
    } else {
        HEAD * px - 0.2 * px - galley.size().y
    };
    let at = pos2(rect.center().x, rect.top() + down);
    ui.painter().galley(at, galley, theme::CHALK);
    let mut left = rect.left();
    for column in &group.columns {
        let width = column.width * px;
        if let Some(sub) = &column.sub {
            let at = pos2(left + 0.5 * width, rect.bottom() - 0.2 * px);
            ui.painter()
                .text(at, Align2::CENTER_BOTTOM, sub, plain.clone(), theme::CHALK);
        }
        left += width + BETWEEN * px;
    }
}

fn parts_of(
    ui: &Ui,
    texts: &Texts,
    model: &Model,
    column: &Column,
    rect: Rect,
    px: f32,
    done: &mut Done,
) {
    let is_tall = column.parts.len() == 1;
    for (i, part) in column.parts.iter().enumerate() {
        let place = if is_tall {
            rect
        } else {
            let top = rect.top() + i as f32 * (ROW + BETWEEN) * px;
            Rect::from_min_size(pos2(rect.left(), top), vec2(rect.width(), ROW * px))
        };
        match part {
            Part::Hold(button) => {
                let is_held = hold(ui, texts, model, *button, i, place, px);
                if is_held {
                    done.held = done.held.with(*button);
                }
            }
            Part::Stop => {
                if stop(ui, texts, model, place, px) {
                    done.action = Some(Action::Stop);
                }
            }
            Part::Reset => {
                if turned(ui, texts, model, Part::Reset, place, px) {
                    done.action = Some(Action::Reset);
                }
            }
            Part::Isolate => {
                if turned(ui, texts, model, Part::Isolate, place, px) {
                    done.action = Some(Action::Isolate(!model.is_isolated));
                }
            }
        }
    }
}

/// A hold-to-run button: whether it is held by the pointer.
fn hold(
    ui: &Ui,
    texts: &Texts,
    model: &Model,
    button: Button,
    row: usize,
    rect: Rect,
    px: f32,
) -> bool {
    // A click that lasts is none: what is held senses drags.
    let response = ui.interact(rect, ui.id().with(button), Sense::drag());
    let name = parts::sentence(&texts.say(&words::button(button)));
    let by_keys = model.held.has(button);
    let is_held = !model.is_dead && is_under_pointer(ui, &response);
    response.widget_info(|| {
        WidgetInfo::selected(
            WidgetType::Button,
            !model.is_dead,
            is_held || by_keys,
            &name,
        )
    });
    let (fill, ink) = match (button, row) {
        (Button::Horn | Button::TurnIn | Button::TurnOut, _) => (theme::BUTTON_GREY, theme::INK),
        (_, 0) => (theme::BUTTON_WHITE, theme::INK),
        _ => (theme::BUTTON_BLACK, theme::CHALK),
    };
    let hint = model.hints.buttons.iter().find(|(of, _)| *of == button);
    let hint = hint.map_or("", |(_, hint)| hint);
    let place = face(ui, rect, fill, is_held || by_keys, &response, px);
    let ink = if model.is_dead {
        ink.gamma_multiply(0.5)
    } else {
        ink
    };
    let at = key_hint(ui, place, hint, ink, px);
    let square = Rect::from_center_size(at, Vec2::splat(1.5 * px));
    paint_way(ui, square, button, model.arrows, ink);
    response.on_hover_text(name);
    is_held
}

fn is_under_pointer(ui: &Ui, response: &Response) -> bool {
    let over = ui.input(|input| {
        let at = input.pointer.latest_pos();
        at.is_some_and(|at| response.rect.contains(at))
    });
    over && response.is_pointer_button_down_on()
}

/// The emergency stop: whether it was struck. It latches on the way down, not on the way up.
fn stop(ui: &Ui, texts: &Texts, model: &Model, rect: Rect, px: f32) -> bool {
    let response = ui.interact(rect, ui.id().with("stop"), Sense::click());
    let name = say(texts, "pendant-stop");
    response
        .widget_info(|| WidgetInfo::selected(WidgetType::Button, true, model.is_stopped, &name));
    let painter = ui.painter();
    let corner = CornerRadius::same(theme::CORNER);
    painter.rect_filled(rect, corner, theme::STOP_YELLOW);
    let r = 0.5 * rect.width().min(rect.height() - 1.2 * px) - 0.35 * px;
    let middle = key_hint(ui, rect, &model.hints.stop, theme::INK, px);
    // Latched it is in: smaller, with a bar across.
    let r_now = if model.is_stopped { 0.86 * r } else { r };
    painter.circle(
        middle,
        r_now,
        theme::STOP_RED,
        Stroke::new(0.16 * px, theme::INK),
    );
    if model.is_stopped {
        let bar = Rect::from_center_size(middle, vec2(1.3 * r, 0.34 * r));
        painter.rect_filled(bar, CornerRadius::ZERO, theme::CHALK_RAISED);
    } else {
        painter.circle_stroke(middle, 0.62 * r, Stroke::new(0.1 * px, theme::INK));
    }
    if response.hovered() {
        let ring = Stroke::new(0.14 * px, theme::INK);
        painter.rect_stroke(rect, corner, ring, StrokeKind::Inside);
    }
    let is_struck = response.is_pointer_button_down_on() || response.clicked();
    response.on_hover_text(&name);
    !model.is_stopped && is_struck
}

/// The emergency stop alone, where the pendant is folded away: whether it was struck.
pub fn show_stop(ui: &mut Ui, texts: &Texts, model: &Model) -> bool {
    let px = theme::em(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(STOP_WIDTH, 2.0 * ROW) * px, Sense::hover());
    stop(ui, texts, model, rect, px)
}

/// What is turned, not held: the reset of the stop, and the isolating switch. Whether it was.
fn turned(ui: &Ui, texts: &Texts, model: &Model, part: Part, rect: Rect, px: f32) -> bool {
    let (id, is_on, hint, icon) = match part {
        Part::Reset => (
            "pendant-reset-long",
            model.is_stopped,
            &model.hints.reset,
            Icon::TurnRight,
        ),
        _ if model.is_isolated => (
            "pendant-isolate-long",
            true,
            &model.hints.isolate,
            Icon::LockClosed,
        ),
        _ => (
            "pendant-isolate-long",
            false,
            &model.hints.isolate,
            Icon::LockOpen,
        ),
    };
    let is_open = !model.is_dead && (part != Part::Reset || model.is_stopped);
    let name = say(texts, id);
    let response = ui.interact(rect, ui.id().with(id), Sense::click());
    response.widget_info(|| {
        WidgetInfo::selected(
            WidgetType::Button,
            is_open,
            part != Part::Reset && is_on,
            &name,
        )
    });
    let ink = if is_open { theme::INK } else { theme::SLATE };
    let place = face(ui, rect, theme::BUTTON_GREY, false, &response, px);
    let middle = key_hint(ui, place, hint, ink, px);
    let square = Rect::from_center_size(middle - vec2(0.0, 0.4 * px), Vec2::splat(1.7 * px));
    icons::icon(ui.painter(), square, icon, ink);
    if part == Part::Isolate {
        // A lever that stands up while the power is on, across while it is locked off.
        let pivot = middle + vec2(0.0, 1.5 * px);
        let way = if model.is_isolated {
            vec2(0.9, 0.0)
        } else {
            vec2(0.0, -0.9)
        };
        ui.painter().add(Shape::line_segment(
            [pivot, pivot + px * way],
            Stroke::new(0.3 * px, ink),
        ));
        ui.painter().circle_filled(pivot, 0.3 * px, ink);
    }
    let is_clicked = response.clicked();
    response.on_hover_text(name);
    is_open && is_clicked
}
