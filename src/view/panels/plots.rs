//! What went on with time, drawn under the time line on the same axis and with the same cursor.

use bevy_egui::egui::{Align2, Id, Rect, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, pos2, vec2};
use egui_plot::{GridMark, HLine, Line, LineStyle, Plot, PlotPoints, VLine};

use super::parts;
use super::timeline::round_step_s;
use crate::texts::{Message, Texts};
use crate::view::theme;

/// A quantity with time.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    pub name: String,
    /// As it is written behind a number.
    pub unit: String,
    /// Time, s, and value; at most some two thousand.
    pub points: Vec<[f64; 2]>,
    /// What it is held against.
    pub limits: Vec<f64>,
    pub digits: usize,
}

impl Curve {
    /// The last value that is not later than a time.
    pub fn at(&self, time_s: f64) -> Option<f64> {
        let later = self.points.partition_point(|point| point[0] <= time_s);
        let last = later.checked_sub(1)?;
        self.points.get(last).map(|point| point[1])
    }

    fn range(&self) -> [f64; 2] {
        let values = self.points.iter().map(|point| point[1]);
        let all = values.chain(self.limits.iter().copied());
        let [low, high] = all
            .filter(|value| value.is_finite())
            .fold([0.0_f64, 0.0], |[low, high], value| {
                [low.min(value), high.max(value)]
            });
        let span = (high - low).max(1e-3);
        [low - 0.06 * span, high + 0.1 * span]
    }
}

/// Room for the numbers at the left of every plot, px.
pub fn axis_px(ui: &Ui) -> f32 {
    (3.4 * theme::em(ui)).round()
}

/// A plot in a frame that nothing moves and that says nothing by itself.
pub fn still<'a>(ui: &Ui, id: Id, frame: Rect) -> Plot<'a> {
    Plot::new(id)
        .width(frame.width())
        .height(frame.height())
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .allow_axis_zoom_drag(false)
        .show_x(false)
        .show_y(false)
        .show_crosshair(false)
        .show_axes(false)
        .grid_color(theme::palette(ui).edge)
        .label_formatter(|_| None)
        .set_margin_fraction(vec2(0.0, 0.0))
}

/// Shows a curve. The time that was asked for by pointing into it.
pub fn show(ui: &mut Ui, texts: &Texts, curve: &Curve, length_s: f64, now_s: f64) -> Option<f64> {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let value = curve.at(now_s).map_or_else(
        || Message::new("plot-none").with("name", curve.name.as_str()),
        |value| {
            Message::new("plot-value")
                .with("name", curve.name.as_str())
                .measured("value", value, curve.digits)
                .with("unit", unit(&curve.unit))
        },
    );
    let value = texts.say(&value);
    parts::note(ui, &value);
    let [low, high] = curve.range();
    let step_s = round_step_s(length_s, ui.available_width() / (5.0 * em));
    let step = round_step(high - low);
    let size = vec2(ui.available_width(), 5.5 * em);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let frame = Rect::from_min_max(rect.min + vec2(axis_px(ui), 0.0), rect.max);
    let plot = still(ui, Id::new(("plot", curve.name.as_str())), frame)
        .x_grid_spacer(move |_| marks(0.0, length_s, step_s))
        .y_grid_spacer(move |_| marks(low, high, step))
        // Pointed into, but nothing for the keyboard: that moves the time line.
        .sense(Sense::CLICK | Sense::DRAG);
    let builder = UiBuilder::new().id_salt("frame").max_rect(frame);
    let mut inner = ui.new_child(builder);
    let shown = plot.show(&mut inner, |plot| {
        plot.set_plot_bounds_x(0.0..=length_s.max(0.1));
        plot.set_plot_bounds_y(low..=high);
        for &limit in &curve.limits {
            plot.hline(
                HLine::new("", limit)
                    .color(palette.weak)
                    .style(LineStyle::dashed_dense())
                    .allow_hover(false),
            );
        }
        let points = PlotPoints::from(curve.points.clone());
        plot.line(
            Line::new("", points)
                .color(palette.text)
                .width(1.8)
                .allow_hover(false),
        );
        plot.vline(
            VLine::new("", now_s)
                .color(palette.accent)
                .width(2.0)
                .allow_hover(false),
        );
    });
    let font = theme::numbers(ui, 0.84);
    for mark in marks(low, high, step) {
        let y = frame.bottom() - ((mark.value - low) / (high - low)) as f32 * frame.height();
        let half = 0.5 * font.size;
        if y - half >= frame.top() && y + half <= frame.bottom() {
            let digits = if step < 1.0 { 1 } else { 0 };
            ui.painter().text(
                pos2(frame.left() - 0.4 * em, y),
                Align2::RIGHT_CENTER,
                format!("{:.digits$}", mark.value),
                font.clone(),
                palette.weak,
            );
        }
    }
    let response = shown.response;
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &value));
    let is_at_work = response.is_pointer_button_down_on() || response.clicked();
    let at = response.interact_pointer_pos().filter(|_| is_at_work)?;
    let time_s = shown.transform.value_from_position(at).x;
    Some(time_s.clamp(0.0, length_s))
}

/// A unit as it stands behind its number: degrees follow at once, all others after a thin space.
fn unit(unit: &str) -> String {
    match unit {
        "°" => unit.to_owned(),
        _ => format!("\u{202f}{unit}"),
    }
}

/// Lines of the grid at whole steps.
pub fn marks(low: f64, high: f64, step: f64) -> Vec<GridMark> {
    let (first, last) = ((low / step).ceil(), (high / step).floor());
    let many = (last - first).clamp(-1.0, 200.0) as i32;
    (0..=many)
        .map(|i| GridMark {
            value: (first + f64::from(i)) * step,
            step_size: step,
        })
        .collect()
}

/// A round step of a value, so that there are two to five of it in a span.
fn round_step(span: f64) -> f64 {
    const STEPS: [f64; 9] = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
    let step = STEPS.into_iter().find(|step| span / step <= 5.0);
    step.unwrap_or(100.0)
}
