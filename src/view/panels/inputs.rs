//! What is chosen, turned on, moved step by step and written.

use bevy_egui::egui::{
    CornerRadius, Margin, Rect, Response, Sense, Stroke, StrokeKind, TextEdit, TextStyle, Ui, Vec2,
    WidgetInfo, WidgetType, pos2, vec2,
};

use super::parts::{home, is_written, paragraph, seen, widest, wrapped};
use super::press::Press;
use crate::texts::{Message, Texts};
use crate::view::icons::Icon;
use crate::view::theme;

/// Chooses one of several of a row by pressing it. What was pressed.
pub fn choice(ui: &mut Ui, options: &[String], chosen: usize) -> Option<usize> {
    let mut pressed = None;
    for (i, option) in options.iter().enumerate() {
        if Press::new(option).selected(i == chosen).show(ui).clicked() {
            pressed = Some(i);
        }
    }
    pressed
}

/// The same, where the screen begins with it.
pub fn first_choice(ui: &mut Ui, options: &[String], chosen: usize) -> Option<usize> {
    let mut pressed = None;
    for (i, option) in options.iter().enumerate() {
        let press = Press::new(option).selected(i == chosen).show(ui);
        if i == chosen {
            home(ui, &press);
        }
        if press.clicked() {
            pressed = Some(i);
        }
    }
    pressed
}

/// Turns something on or off: a box that is ticked, and its words.
pub fn toggle(ui: &mut Ui, text: &str, is_on: bool) -> bool {
    toggle_called(ui, text, text, is_on)
}

/// The same, where its words stand beside what they are about: with a name that says it all.
pub fn toggle_called(ui: &mut Ui, text: &str, name: &str, is_on: bool) -> bool {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let beside = (1.8 * em).round();
    let font = TextStyle::Body.resolve(ui.style());
    let galley = wrapped(ui, text, font, palette.text, widest(ui) - beside);
    let height = galley.size().y.max(ui.spacing().interact_size.y);
    let size = vec2(beside + galley.size().x, height);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response
        .widget_info(|| WidgetInfo::selected(WidgetType::Checkbox, ui.is_enabled(), is_on, name));
    if ui.is_rect_visible(rect) {
        let center = pos2(rect.left() + 0.65 * em, rect.center().y);
        let square = Rect::from_center_size(center, Vec2::splat(1.2 * em));
        let edge = if response.hovered() {
            palette.accent
        } else {
            palette.edge
        };
        ui.painter().rect(
            square,
            CornerRadius::same(2),
            palette.raised,
            Stroke::new(1.5, edge),
            StrokeKind::Inside,
        );
        if is_on {
            let at = |x: f32, y: f32| square.min + square.size() * vec2(x, y);
            ui.painter().line(
                vec![at(0.2, 0.52), at(0.42, 0.76), at(0.82, 0.26)],
                Stroke::new(0.18 * em, palette.text),
            );
        }
        let down = 0.5 * (rect.height() - galley.size().y);
        ui.painter()
            .galley(rect.min + vec2(beside, down), galley, palette.text);
    }
    seen(response).clicked()
}

/// Less, a value, more, in a row. How many steps it is moved.
pub fn stepper(ui: &mut Ui, texts: &Texts, name: &str, value: &str, ends: [bool; 2]) -> i32 {
    let called = |id| texts.say(&Message::new(id).with("what", name));
    let mut steps = 0;
    let less = called("less");
    let response = ui.add_enabled_ui(!ends[0], |ui| {
        Press::new(&less).only_icon(Icon::Minus).held().show(ui)
    });
    steps -= repeats(ui, &response.inner);
    let width = 5.0 * theme::em(ui);
    show_value(ui, value, width);
    let more = called("more");
    let response = ui.add_enabled_ui(!ends[1], |ui| {
        Press::new(&more).only_icon(Icon::Plus).held().show(ui)
    });
    steps + repeats(ui, &response.inner)
}

/// A value between the buttons that move it, in no less room than a width, px.
pub fn show_value(ui: &mut Ui, value: &str, least_width: f32) {
    let font = theme::numbers(ui, 1.0);
    let palette = theme::palette(ui);
    let galley = wrapped(ui, value, font, palette.text, widest(ui));
    let width = galley.size().x.max(least_width);
    let height = ui.spacing().interact_size.y.max(galley.size().y);
    let (rect, response) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, value));
    let at = rect.center() - 0.5 * galley.size();
    ui.painter().galley(at, galley, palette.text);
}

/// Seconds that a button is held before it repeats, and between repeats.
const REPEAT_S: [f64; 2] = [0.45, 0.08];

/// How often a button that repeats has been pressed since the last pass.
fn repeats(ui: &Ui, response: &Response) -> i32 {
    let due: Option<f64> = ui.data(|data| data.get_temp(response.id));
    if !response.is_pointer_button_down_on() {
        ui.data_mut(|data| data.remove::<f64>(response.id));
        // What the pointer has pressed has counted already.
        return i32::from(response.clicked() && due.is_none());
    }
    let now = ui.input(|input| input.time);
    ui.ctx().request_repaint();
    match due {
        None => {
            ui.data_mut(|data| data.insert_temp(response.id, now + REPEAT_S[0]));
            1
        }
        Some(due) if now >= due => {
            ui.data_mut(|data| data.insert_temp(response.id, now + REPEAT_S[1]));
            1
        }
        Some(_) => 0,
    }
}

/// A field to write in, under its label.
pub fn field<'t>(ui: &mut Ui, label: &str, make: impl FnOnce(&Ui) -> TextEdit<'t>) -> Response {
    let palette = theme::palette(ui);
    let small = TextStyle::Small.resolve(ui.style());
    let label = paragraph(ui, label, small, palette.weak);
    let edit = make(ui).margin(Margin::symmetric(
        theme::rounded(ui.spacing().button_padding.x),
        theme::rounded(ui.spacing().button_padding.y),
    ));
    let response = ui.add(edit).labelled_by(label.id);
    if response.has_focus() {
        is_written(ui);
    }
    let edge = Stroke::new(1.0, palette.edge);
    ui.painter().rect_stroke(
        response.rect,
        CornerRadius::same(theme::CORNER),
        edge,
        StrokeKind::Inside,
    );
    seen(response)
}
