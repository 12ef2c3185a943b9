//! A line of time with its moments: dragged by the pointer, moved by the arrow keys.

use bevy_egui::egui::{
    Align2, CornerRadius, Key, Rect, Response, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo,
    pos2, vec2,
};

use super::parts;
use crate::view::icons::{self, MomentMark};
use crate::view::theme;

/// A moment that is marked.
#[derive(Clone, Debug, PartialEq)]
pub struct Moment {
    pub time_s: f64,
    pub mark: MomentMark,
    pub text: String,
}

/// What a time line shows.
pub struct Track<'a> {
    pub name: &'a str,
    pub from_s: f64,
    pub to_s: f64,
    pub now_s: f64,
    pub moments: &'a [Moment],
}

/// One press of an arrow key, and of a page key.
const STEP_S: f64 = 0.5;
const PAGE_S: f64 = 5.0;

impl Track<'_> {
    /// The time that was asked for.
    pub fn show(&self, ui: &mut Ui) -> Option<f64> {
        let em = theme::em(ui);
        let height = if self.moments.is_empty() { 2.0 } else { 3.0 };
        let size = vec2(ui.available_width(), height * em);
        let (rect, response) = ui.allocate_exact_size(size, Sense::click_and_drag());
        let (now_s, name) = (self.now_s, self.name);
        response.widget_info(|| WidgetInfo::slider(ui.is_enabled(), now_s, name));
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_value(parts::clock(now_s));
            node.set_min_numeric_value(self.from_s);
            node.set_max_numeric_value(self.to_s);
        });
        let line = Rect::from_min_max(rect.min, rect.max);
        if ui.is_rect_visible(rect) {
            self.paint(ui, rect, line);
        }
        if let Some(at) = response.hover_pos() {
            self.tell(ui, &response, line, at.x);
        }
        let response = parts::seen(response);
        self.dragged(line, &response)
            .or_else(|| self.moved(ui, &response))
            .map(|time_s| time_s.clamp(self.from_s, self.to_s))
    }

    fn x(&self, line: Rect, time_s: f64) -> f32 {
        let length_s = (self.to_s - self.from_s).max(f64::MIN_POSITIVE);
        let share = ((time_s - self.from_s) / length_s).clamp(0.0, 1.0);
        line.left() + share as f32 * line.width()
    }

    fn time_s(&self, line: Rect, x: f32) -> f64 {
        let share = (x - line.left()) / line.width().max(1.0);
        self.from_s + f64::from(share) * (self.to_s - self.from_s)
    }

    fn dragged(&self, line: Rect, response: &Response) -> Option<f64> {
        let is_at_work = response.is_pointer_button_down_on() || response.clicked();
        let at = response.interact_pointer_pos().filter(|_| is_at_work)?;
        // Near a mark it is the mark that is meant.
        let near = |moment: &&Moment| (self.x(line, moment.time_s) - at.x).abs() < 4.0;
        let marked = self.moments.iter().find(near);
        Some(marked.map_or_else(|| self.time_s(line, at.x), |moment| moment.time_s))
    }

    fn moved(&self, ui: &Ui, response: &Response) -> Option<f64> {
        if !parts::takes_arrows(ui, response) {
            return None;
        }
        parts::takes_pages(ui);
        ui.input(|input| {
            let times = |key| input.num_presses(key) as f64;
            if input.key_pressed(Key::Home) {
                return Some(self.from_s);
            }
            if input.key_pressed(Key::End) {
                return Some(self.to_s);
            }
            let by_s = STEP_S * (times(Key::ArrowRight) - times(Key::ArrowLeft))
                + PAGE_S * (times(Key::PageUp) - times(Key::PageDown));
            (by_s != 0.0).then_some(self.now_s + by_s)
        })
    }

    /// What lies under the pointer.
    fn tell(&self, ui: &Ui, response: &Response, line: Rect, x: f32) {
        let em = theme::em(ui);
        let near = |moment: &&Moment| (self.x(line, moment.time_s) - x).abs() < 0.6 * em;
        let texts: Vec<String> = self
            .moments
            .iter()
            .filter(near)
            .map(|moment| format!("{}  {}", parts::clock(moment.time_s), moment.text))
            .collect();
        let text = if texts.is_empty() {
            parts::clock(self.time_s(line, x).clamp(self.from_s, self.to_s))
        } else {
            texts.join("\n")
        };
        response.clone().on_hover_text_at_pointer(text);
    }

    fn paint(&self, ui: &Ui, rect: Rect, line: Rect) {
        let em = theme::em(ui);
        let palette = theme::palette(ui);
        let painter = ui.painter();
        let middle = if self.moments.is_empty() {
            rect.top() + 0.55 * em
        } else {
            rect.top() + 1.1 * em
        };
        let bar = Rect::from_min_max(
            pos2(line.left(), middle - 0.18 * em),
            pos2(line.right(), middle + 0.18 * em),
        );
        painter.rect(
            bar,
            CornerRadius::same(2),
            palette.raised,
            Stroke::new(1.0, palette.edge),
            StrokeKind::Inside,
        );
        let now = self.x(line, self.now_s);
        let done = Rect::from_min_max(bar.min, pos2(now, bar.bottom()));
        painter.rect_filled(done, CornerRadius::same(2), palette.accent);
        // The gravest moments are painted last, over the others.
        for kind in [
            MomentMark::Cycle,
            MomentMark::People,
            MomentMark::Finding,
            MomentMark::Critical,
        ] {
            for moment in self.moments.iter().filter(|moment| moment.mark == kind) {
                let at = pos2(self.x(line, moment.time_s), middle);
                icons::moment(painter, at, 0.55 * em, kind, palette);
            }
        }
        let knob = vec![
            pos2(now - 0.4 * em, middle - 1.0 * em),
            pos2(now + 0.4 * em, middle - 1.0 * em),
            pos2(now, middle - 0.35 * em),
        ];
        painter.add(Shape::convex_polygon(
            knob,
            palette.text,
            Stroke::new(1.0, palette.ground),
        ));
        painter.vline(
            now,
            middle - 0.35 * em..=middle + 0.5 * em,
            Stroke::new(2.0, palette.text),
        );
        self.paint_times(ui, rect, line);
    }

    fn paint_times(&self, ui: &Ui, rect: Rect, line: Rect) {
        let palette = theme::palette(ui);
        let font = theme::numbers(ui, 0.84);
        let bottom = rect.bottom();
        let text = |x: f32, align: Align2, time_s: f64| {
            let color = palette.weak;
            ui.painter().text(
                pos2(x, bottom),
                align,
                parts::clock(time_s),
                font.clone(),
                color,
            )
        };
        let first = text(line.left(), Align2::LEFT_BOTTOM, self.from_s);
        let last = text(line.right(), Align2::RIGHT_BOTTOM, self.to_s);
        let step_s = round_step_s(self.to_s - self.from_s, line.width() / (6.0 * font.size));
        let mut tick = (self.from_s / step_s).floor() * step_s + step_s;
        while tick < self.to_s {
            let x = self.x(line, tick);
            let half = 1.5 * font.size;
            if x - half > first.right() && x + half < last.left() {
                text(x, Align2::CENTER_BOTTOM, tick);
            }
            tick += step_s;
        }
    }
}

/// A round time, so that so many of it make up a length at the most.
pub fn round_step_s(length_s: f64, most: f32) -> f64 {
    const STEPS_S: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0];
    let least_s = length_s / f64::from(most.max(1.0));
    let step = STEPS_S.into_iter().find(|&step_s| step_s >= least_s);
    step.unwrap_or(1800.0)
}
