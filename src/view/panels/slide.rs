//! Values that are moved along a line: dragged by the pointer, moved by the arrow keys, or written.

use bevy_egui::egui::{
    CornerRadius, DragValue, Id, Key, Pos2, Rect, Response, Sense, Shape, Stroke, StrokeKind,
    TextStyle, Ui, WidgetInfo, pos2, vec2,
};

use super::parts;
use crate::texts::{Message, Texts};
use crate::view::theme;

/// One press of a page key is so many steps.
const PAGE: f64 = 10.0;
/// Room for a number that can be written, in heights of the text.
const NUMBER: f32 = 4.4;
/// The pass in which a written number was given up.
const GIVEN_UP: &str = "abandoned";

/// A line from a least to a greatest value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slide<'a> {
    /// What is moved.
    pub name: &'a str,
    /// What it is now, in words.
    pub shown: &'a str,
    pub least: f64,
    pub most: f64,
    pub step: f64,
}

/// How a knob looks: it points to its value.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Knob {
    Low,
    High,
    Alone,
}

impl Slide<'_> {
    /// One value. What it is moved to.
    pub fn one(&self, ui: &mut Ui, texts: &Texts, value: f64) -> Option<f64> {
        let id = ui.next_auto_id();
        let (line, [number]) = self.line::<1>(ui);
        self.paint(ui, line, [self.least, value]);
        let moved = self.knob(ui, id.with(2), line, value, self.name, Knob::Alone);
        let written = self.number(ui, texts, number, value, self.name);
        moved.or(written)
    }

    /// A range; its ends are called by names of their own. Which end is moved, and to what.
    pub fn range(
        &self,
        ui: &mut Ui,
        texts: &Texts,
        range: [f64; 2],
        names: [&str; 2],
    ) -> Option<(usize, f64)> {
        let id = ui.next_auto_id();
        let (line, numbers) = self.line::<2>(ui);
        self.paint(ui, line, range);
        let mut moved = None;
        for (end, kind) in [Knob::Low, Knob::High].into_iter().enumerate() {
            let to = self.knob(ui, id.with(end), line, range[end], names[end], kind);
            moved = moved.or(to.map(|to| (end, to)));
        }
        for (end, at) in numbers.into_iter().enumerate() {
            let to = self.number(ui, texts, at, range[end], names[end]);
            moved = moved.or(to.map(|to| (end, to)));
        }
        moved
    }

    /// The number itself, to be written: between the ends, and not to whole steps.
    fn number(&self, ui: &mut Ui, texts: &Texts, at: Rect, value: f64, what: &str) -> Option<f64> {
        let mut to = value;
        let field = DragValue::new(&mut to)
            .range(self.least..=self.most)
            .clamp_existing_to_range(false)
            .update_while_editing(false)
            .speed(self.step)
            .custom_formatter(|value, _| ((value * 1e6).round() / 1e6).to_string())
            .custom_parser(|text| text.trim().replace(',', ".").parse().ok());
        let response = ui.put(at, field);
        let name = texts.say(&Message::new("labscreen-exact").with("what", what));
        ui.ctx()
            .accesskit_node_builder(response.id, |node| node.set_label(name));
        if response.has_focus() {
            parts::is_written(ui);
        }
        parts::seen(response);
        let is_given_up = is_given_up(ui);
        (to != value && !is_given_up).then_some(to)
    }

    /// The words above, room for the line, and for numbers at its end.
    fn line<const N: usize>(&self, ui: &mut Ui) -> (Rect, [Rect; N]) {
        let em = theme::em(ui);
        let palette = theme::palette(ui);
        let font = TextStyle::Body.resolve(ui.style());
        let width = ui.available_width();
        let shown = parts::wrapped(ui, self.shown, font.clone(), palette.text, width);
        let beside = shown.size().x + 0.5 * em;
        let fits = width - beside > 6.0 * em;
        let room = if fits { width - beside } else { width };
        let name = parts::wrapped(ui, self.name, font, palette.text, room);
        let below = if fits { 0.0 } else { name.size().y };
        let text = name.size().y.max(below + shown.size().y);
        let high = (1.5 * em).max(ui.spacing().interact_size.y);
        let height = text + high;
        let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
        if ui.is_rect_visible(rect) {
            let at = pos2(rect.right() - shown.size().x, rect.top() + below);
            ui.painter().galley(rect.min, name, palette.text);
            ui.painter().galley(at, shown, palette.text);
        }
        let below = Rect::from_min_max(pos2(rect.left(), rect.top() + text), rect.max);
        let (wide, gap) = (NUMBER * em, 0.3 * em);
        let (line, _) = below.split_left_right_at_x(below.right() - N as f32 * (wide + gap));
        let number = |i: usize| {
            let right = below.right() - (N - 1 - i) as f32 * (wide + gap);
            Rect::from_min_max(pos2(right - wide, below.top()), pos2(right, below.bottom()))
        };
        (line, core::array::from_fn(number))
    }

    /// Where the values of the line are: room for a knob is left at either end.
    fn x(&self, ui: &Ui, line: Rect, value: f64) -> f32 {
        let knob = width(ui);
        let span = (self.most - self.least).max(f64::MIN_POSITIVE);
        let share = ((value - self.least) / span).clamp(0.0, 1.0);
        line.left() + knob + share as f32 * (line.width() - 2.0 * knob)
    }

    fn value(&self, ui: &Ui, line: Rect, x: f32) -> f64 {
        let knob = width(ui);
        let share = (x - line.left() - knob) / (line.width() - 2.0 * knob).max(1.0);
        self.stepped(self.least + f64::from(share) * (self.most - self.least))
    }

    /// The nearest step within the line.
    fn stepped(&self, value: f64) -> f64 {
        let step = self.step.max(1e-9);
        let value = (value / step).round() * step;
        let value = value.clamp(self.least, self.most);
        (value * 1e9).round() / 1e9
    }

    fn paint(&self, ui: &Ui, line: Rect, filled: [f64; 2]) {
        let em = theme::em(ui);
        let palette = theme::palette(ui);
        let middle = line.center().y;
        let knob = width(ui);
        let bar = Rect::from_min_max(
            pos2(line.left() + knob, middle - 0.2 * em),
            pos2(line.right() - knob, middle + 0.2 * em),
        );
        ui.painter().rect(
            bar,
            CornerRadius::same(2),
            palette.raised,
            Stroke::new(1.0, palette.edge),
            StrokeKind::Inside,
        );
        let [from, to] = filled.map(|value| self.x(ui, line, value));
        if from < to {
            let part = Rect::from_min_max(pos2(from, bar.top()), pos2(to, bar.bottom()));
            ui.painter()
                .rect_filled(part, CornerRadius::ZERO, palette.accent);
        }
    }

    fn knob(
        &self,
        ui: &mut Ui,
        id: Id,
        line: Rect,
        value: f64,
        name: &str,
        kind: Knob,
    ) -> Option<f64> {
        let wide = width(ui);
        let x = self.x(ui, line, value);
        let left = match kind {
            Knob::Low => x - wide,
            Knob::High => x,
            Knob::Alone => x - 0.5 * wide,
        };
        let rect = Rect::from_min_size(pos2(left, line.top()), vec2(wide, line.height()));
        let response = ui.interact(rect, id, Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::slider(ui.is_enabled(), value, name));
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_value(self.shown);
            node.set_min_numeric_value(self.least);
            node.set_max_numeric_value(self.most);
            node.set_numeric_value_step(self.step);
        });
        if ui.is_rect_visible(rect) {
            paint_knob(ui, rect, x, kind, &response);
        }
        let response = parts::seen(response);
        let dragged = response.dragged().then(|| response.interact_pointer_pos());
        let dragged = dragged.flatten().map(|at: Pos2| self.value(ui, line, at.x));
        let moved = dragged.or_else(|| self.moved(ui, &response, value));
        moved.filter(|to| (to - value).abs() > 1e-12)
    }

    fn moved(&self, ui: &Ui, response: &Response, value: f64) -> Option<f64> {
        if !parts::takes_arrows(ui, response) {
            return None;
        }
        parts::takes_pages(ui);
        ui.input(|input| {
            let times = |key| input.num_presses(key) as f64;
            if input.key_pressed(Key::Home) {
                return Some(self.least);
            }
            if input.key_pressed(Key::End) {
                return Some(self.most);
            }
            let steps = times(Key::ArrowRight) - times(Key::ArrowLeft)
                + PAGE * (times(Key::PageUp) - times(Key::PageDown));
            (steps != 0.0).then(|| self.stepped(value + steps * self.step))
        })
    }
}

/// Whether what was written is given up by Escape: egui's field still takes it over in the pass after.
fn is_given_up(ui: &Ui) -> bool {
    if ui.input(|input| input.key_pressed(Key::Escape)) {
        parts::tell(ui, GIVEN_UP);
    }
    parts::was_told(ui, GIVEN_UP)
}

/// How wide a knob is: wide enough to be hit.
fn width(ui: &Ui) -> f32 {
    (1.4 * theme::em(ui)).max(20.0).round()
}

fn paint_knob(ui: &Ui, rect: Rect, x: f32, kind: Knob, response: &Response) {
    let palette = theme::palette(ui);
    let is_hot = response.hovered() || response.has_focus() || response.dragged();
    let fill = if is_hot {
        palette.button_hovered
    } else {
        palette.button
    };
    let edge = Stroke::new(1.5, palette.text);
    let tall = 0.38 * rect.height();
    let middle = rect.center().y;
    let [left, right] = [rect.left() + 1.0, rect.right() - 1.0];
    // Of two, each points to its own end of what lies between them.
    let corners = match kind {
        Knob::Low => vec![
            pos2(left, middle - tall),
            pos2(right - 0.3 * rect.width(), middle - tall),
            pos2(x, middle),
            pos2(right - 0.3 * rect.width(), middle + tall),
            pos2(left, middle + tall),
        ],
        Knob::High => vec![
            pos2(right, middle - tall),
            pos2(right, middle + tall),
            pos2(left + 0.3 * rect.width(), middle + tall),
            pos2(x, middle),
            pos2(left + 0.3 * rect.width(), middle - tall),
        ],
        Knob::Alone => vec![
            pos2(left + 2.0, middle - tall),
            pos2(right - 2.0, middle - tall),
            pos2(right - 2.0, middle + tall),
            pos2(left + 2.0, middle + tall),
        ],
    };
    ui.painter().add(Shape::convex_polygon(corners, fill, edge));
    if kind == Knob::Alone {
        let line = [pos2(x, middle - 0.6 * tall), pos2(x, middle + 0.6 * tall)];
        ui.painter().line_segment(line, edge);
    }
}
