//! What went on with time, drawn under the time line on the same axis and with the same cursor.

use bevy_egui::egui::{Id, Sense, Ui, Vec2b, WidgetInfo, WidgetType, vec2};
use egui_plot::{HLine, Line, LineStyle, Plot, PlotPoints, VLine};

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
    (3.6 * theme::em(ui)).round()
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
                .with("unit", curve.unit.as_str())
        },
    );
    let value = texts.say(&value);
    parts::note(ui, &value);
    let [low, high] = curve.range();
    let step_s = round_step_s(length_s, ui.available_width() / (5.0 * em));
    let digits = curve.digits;
    let plot = Plot::new(Id::new(("plot", curve.name.as_str())))
        .height(5.5 * em)
        .width(ui.available_width())
        .min_size(vec2(8.0 * em, 3.0 * em))
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .allow_axis_zoom_drag(false)
        .show_x(false)
        .show_y(false)
        .show_crosshair(false)
        .show_background(true)
        .grid_color(palette.edge)
        .show_axes(Vec2b::new(false, true))
        .y_axis_min_width(axis_px(ui))
        .y_axis_formatter(move |mark, _| format!("{:.digits$}", mark.value))
        .x_grid_spacer(move |_| marks(length_s, step_s))
        .label_formatter(|_| None)
        .set_margin_fraction(vec2(0.0, 0.0))
        .sense(Sense::click_and_drag());
    let shown = plot.show(ui, |plot| {
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
    let response = shown.response;
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &value));
    let is_at_work = response.is_pointer_button_down_on() || response.clicked();
    let at = response.interact_pointer_pos().filter(|_| is_at_work)?;
    let time_s = shown.transform.value_from_position(at).x;
    Some(time_s.clamp(0.0, length_s))
}

fn marks(length_s: f64, step_s: f64) -> Vec<egui_plot::GridMark> {
    let many = (length_s / step_s).floor().max(0.0) as usize;
    (0..=many)
        .map(|i| egui_plot::GridMark {
            value: i as f64 * step_s,
            step_size: step_s,
        })
        .collect()
}
