//! The picture of the laboratory: where the line feeds one stick at a time, and how often what comes,
//! on one axis of pitches.

use bevy_egui::egui::{
    Align2, CornerRadius, Id, Key, Rect, Response, Sense, Stroke, StrokeKind, Ui, UiBuilder,
    WidgetInfo, WidgetType, pos2, vec2,
};
use egui_plot::{FilledArea, Line, LineStyle, MarkerShape, PlotPoints, Points, VLine};

use super::parts;
use super::plots::{marks, still};
use crate::view::theme::{self, gap};

/// How a row of the window chart is filled: told apart without colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// An outline: what the closed forms say.
    Open,
    /// Lines: what the trials show.
    Ruled,
    /// Crossed lines: in the worst case as well.
    Crossed,
    /// Full: what may be used.
    Full,
}

/// A row of the window chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    pub name: String,
    /// From where to where, in words.
    pub said: String,
    pub fill: Fill,
    pub spans: Vec<(f64, f64)>,
}

/// How often an event comes, pitch by pitch.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    pub name: String,
    /// Which of the three colours, lines and marks.
    pub kind: usize,
    /// Pitch, share, and its band from and to; shares from 0 to 1.
    pub points: Vec<[f64; 4]>,
}

/// The picture of a set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    pub title: String,
    pub series: Vec<Series>,
    /// Pitches that can be looked at, and which of them is.
    pub pitches: Vec<f64>,
    pub chosen: Option<usize>,
}

/// What all pictures share.
#[derive(Clone, Debug, PartialEq)]
pub struct Axes {
    /// Of the pitch, deg.
    pub from: f64,
    pub to: f64,
    pub x_name: String,
    pub y_name: String,
    /// Upright lines: the limits of the trade.
    pub marks: Vec<f64>,
    pub marks_name: String,
}

/// Height of a row of the window chart, and of the curves, in heights of the text.
const ROW: f32 = 0.8;
const CURVES: f32 = 13.0;

/// Room for the numbers at the left, px.
fn axis_px(ui: &Ui) -> f32 {
    (3.0 * theme::em(ui)).round()
}

impl Axes {
    /// The pitches have some room at either side.
    fn ends(&self) -> (f64, f64) {
        let more = 0.03 * (self.to - self.from).max(0.5);
        (self.from - more, self.to + more)
    }

    fn x(&self, frame: Rect, value: f64) -> f32 {
        let (from, to) = self.ends();
        let share = ((value - from) / (to - from)).clamp(0.0, 1.0);
        frame.left() + share as f32 * frame.width()
    }

    fn step(&self, width_em: f32) -> f64 {
        const STEPS: [f64; 5] = [0.5, 1.0, 2.0, 5.0, 10.0];
        let most = f64::from(width_em / 3.0).max(2.0);
        let step = STEPS
            .into_iter()
            .find(|step| (self.to - self.from) / step <= most);
        step.unwrap_or(20.0)
    }
}

/// The window chart: a row below the other.
pub fn bars(ui: &mut Ui, axes: &Axes, rows: &[Bar]) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let width = ui.available_width();
    for row in rows {
        let text = format!("{}: {}", row.name, row.said);
        parts::note(ui, &text);
        if row.spans.is_empty() {
            continue;
        }
        let (rect, _) = ui.allocate_exact_size(vec2(width, ROW * em), Sense::hover());
        let frame = Rect::from_min_max(pos2(rect.left() + axis_px(ui), rect.top()), rect.max);
        if !ui.is_rect_visible(frame) {
            continue;
        }
        ui.painter()
            .rect_filled(frame, CornerRadius::ZERO, palette.raised);
        for &(from, to) in &row.spans {
            let [left, right] = [from, to].map(|end| axes.x(frame, end));
            // A window of one value still has some width.
            let bar = Rect::from_min_max(
                pos2(left - 2.0, frame.top() + 1.0),
                pos2(right + 2.0, frame.bottom() - 1.0),
            );
            fill(ui, bar, row.fill);
        }
        for &mark in &axes.marks {
            let (from, to) = axes.ends();
            if (from..=to).contains(&mark) {
                let x = axes.x(frame, mark);
                let painter = ui.painter();
                painter.vline(x, frame.y_range(), Stroke::new(1.0, palette.text));
            }
        }
    }
    if !axes.marks_name.is_empty() {
        parts::note(ui, &axes.marks_name);
    }
}

fn fill(ui: &Ui, bar: Rect, fill: Fill) {
    let palette = theme::palette(ui);
    let painter = ui.painter().with_clip_rect(bar.intersect(ui.clip_rect()));
    let line = Stroke::new(1.5, palette.accent);
    let slanted = |down: bool| {
        let step = 0.5 * bar.height().max(8.0);
        let mut x = bar.left() - bar.height();
        while x < bar.right() {
            let [left, right] = [x, x + bar.height()];
            let ends = if down {
                [pos2(left, bar.top()), pos2(right, bar.bottom())]
            } else {
                [pos2(left, bar.bottom()), pos2(right, bar.top())]
            };
            painter.line_segment(ends, line);
            x += step;
        }
    };
    match fill {
        Fill::Open => {}
        Fill::Ruled => slanted(false),
        Fill::Crossed => {
            slanted(false);
            slanted(true);
        }
        Fill::Full => {
            painter.rect_filled(bar, CornerRadius::ZERO, palette.accent);
        }
    }
    painter.rect_stroke(bar, CornerRadius::ZERO, line, StrokeKind::Inside);
}

/// Which line a series has.
fn style(kind: usize) -> LineStyle {
    match kind % 3 {
        0 => LineStyle::Solid,
        1 => LineStyle::Dashed { length: 9.0 },
        _ => LineStyle::Dotted { spacing: 5.0 },
    }
}

fn marker(kind: usize) -> MarkerShape {
    match kind % 3 {
        0 => MarkerShape::Circle,
        1 => MarkerShape::Up,
        _ => MarkerShape::Square,
    }
}

/// The curves of a set-up. The pitch that was asked for by pointing at it, or by arrow keys.
pub fn curves(ui: &mut Ui, axes: &Axes, picture: &Picture, name: &str) -> Option<usize> {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    if !picture.title.is_empty() {
        parts::subheading(ui, &picture.title);
    }
    legend(ui, picture);
    parts::note(ui, &axes.y_name);
    // The numbers, and what they are numbers of.
    let below = 2.5 * em;
    // Seen whole also where there is little room.
    let room = ui.clip_rect().height() - below - em;
    let height = (CURVES * em).min(room).max(6.0 * em);
    let size = vec2(ui.available_width(), height + below);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let frame = Rect::from_min_max(
        rect.min + vec2(axis_px(ui), 0.3 * em),
        rect.max - vec2(0.0, below),
    );
    let (from, to) = axes.ends();
    let step = axes.step(frame.width() / em);
    let plot = still(ui, Id::new(("lab", name)), frame)
        .x_grid_spacer(move |_| marks(from, to, step))
        .y_grid_spacer(move |_| marks(0.0, 1.0, 0.25))
        .sense(Sense::hover());
    let builder = UiBuilder::new().id_salt(("frame", name)).max_rect(frame);
    let mut inner = ui.new_child(builder);
    plot.show(&mut inner, |plot| {
        plot.set_plot_bounds_x(from..=to);
        plot.set_plot_bounds_y(-0.02..=1.02);
        for &mark in &axes.marks {
            let line = VLine::new("", mark).color(palette.weak).width(1.0);
            plot.vline(line.allow_hover(false));
        }
        for series in &picture.series {
            let [xs, low, high] = [0, 2, 3].map(|i| {
                series
                    .points
                    .iter()
                    .map(|point| point[i])
                    .collect::<Vec<_>>()
            });
            if xs.len() > 1 {
                let band = FilledArea::new("", &xs, &low, &high)
                    .fill_color(palette.band(series.kind))
                    .allow_hover(false);
                plot.add(band);
            }
        }
        for series in &picture.series {
            let color = palette.series.get(series.kind).copied();
            let color = color.unwrap_or(palette.text);
            let points: Vec<[f64; 2]> = series.points.iter().map(|at| [at[0], at[1]]).collect();
            for at in &series.points {
                let band = vec![[at[0], at[2]], [at[0], at[3]]];
                let line = Line::new("", PlotPoints::from(band))
                    .color(color)
                    .width(1.0);
                plot.line(line.allow_hover(false));
            }
            plot.line(
                Line::new("", PlotPoints::from(points.clone()))
                    .color(color)
                    .style(style(series.kind))
                    .width(2.2)
                    .allow_hover(false),
            );
            plot.points(
                Points::new("", PlotPoints::from(points))
                    .color(color)
                    .shape(marker(series.kind))
                    .filled(true)
                    .radius(4.5)
                    .allow_hover(false),
            );
        }
        if let Some(&at) = picture.chosen.and_then(|i| picture.pitches.get(i)) {
            let line = VLine::new("", at).color(palette.text).width(2.0);
            plot.vline(line.allow_hover(false));
        }
    });
    numbers(ui, axes, frame, step);
    pointed(ui, axes, picture, name, frame)
}

/// Names of the series, each with its line and mark.
fn legend(ui: &mut Ui, picture: &Picture) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    parts::row(ui, |ui| {
        for series in &picture.series {
            let color = palette.series.get(series.kind).copied();
            let color = color.unwrap_or(palette.text);
            let size = vec2(2.4 * em, 1.2 * em);
            let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
            let (middle, painter) = (rect.center(), ui.painter());
            let line = Stroke::new(2.2, color);
            let (left, right) = (rect.left_center(), rect.right_center());
            match style(series.kind) {
                LineStyle::Solid => {
                    painter.line_segment([left, right], line);
                }
                LineStyle::Dashed { length } => {
                    painter.extend(bevy_egui::egui::Shape::dashed_line(
                        &[left, right],
                        line,
                        length,
                        0.6 * length,
                    ));
                }
                LineStyle::Dotted { spacing } => {
                    painter.extend(bevy_egui::egui::Shape::dotted_line(
                        &[left, right],
                        color,
                        spacing,
                        1.3,
                    ));
                }
            }
            let r = 4.5;
            match marker(series.kind) {
                MarkerShape::Up => {
                    let corners = [vec2(0.0, -r), vec2(r, r), vec2(-r, r)];
                    let corners = corners.map(|corner| middle + corner).to_vec();
                    painter.add(bevy_egui::egui::Shape::convex_polygon(
                        corners,
                        color,
                        Stroke::NONE,
                    ));
                }
                MarkerShape::Square => {
                    let square = Rect::from_center_size(middle, vec2(2.0 * r, 2.0 * r));
                    painter.rect_filled(square, CornerRadius::ZERO, color);
                }
                _ => {
                    painter.circle_filled(middle, r, color);
                }
            }
            parts::body(ui, &series.name);
            parts::space(ui, gap::SMALL);
        }
    });
}

fn numbers(ui: &Ui, axes: &Axes, frame: Rect, step: f64) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let font = theme::numbers(ui, 0.84);
    let painter = ui.painter();
    for share in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let y = frame.bottom() - ((share + 0.02) / 1.04) as f32 * frame.height();
        painter.text(
            pos2(frame.left() - 0.4 * em, y),
            Align2::RIGHT_CENTER,
            format!("{:.0}", 100.0 * share),
            font.clone(),
            palette.weak,
        );
    }
    let (from, to) = axes.ends();
    let digits = usize::from(step < 1.0);
    let name = parts::wrapped(ui, &axes.x_name, font.clone(), palette.weak, frame.width());
    let top = frame.bottom() + 0.2 * em;
    for mark in marks(from, to, step) {
        painter.text(
            pos2(axes.x(frame, mark.value), top),
            Align2::CENTER_TOP,
            format!("{:.digits$}", mark.value),
            font.clone(),
            palette.weak,
        );
    }
    let at = pos2(frame.right() - name.size().x, top + 1.1 * em);
    painter.galley(at, name, palette.weak);
}

/// The plot as something that is moved along: the pitch that is looked at.
fn pointed(ui: &mut Ui, axes: &Axes, picture: &Picture, name: &str, frame: Rect) -> Option<usize> {
    let id = ui.id().with(("pitch", name));
    if picture.series.is_empty() {
        let response = ui.interact(frame, id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, name));
        return None;
    }
    let response = ui.interact(frame, id, Sense::click());
    let at = picture.chosen.unwrap_or(0);
    let now = picture.pitches.get(at).copied().unwrap_or_default();
    response.widget_info(|| WidgetInfo::slider(ui.is_enabled(), now, name));
    let pointed = response
        .interact_pointer_pos()
        .filter(|_| response.clicked());
    if response.clicked() {
        // The arrow keys go on from there.
        response.request_focus();
    }
    let pointed = pointed.and_then(|to| {
        let far = |pitch: f64| (axes.x(frame, pitch) - to.x).abs();
        let each = picture.pitches.iter().enumerate();
        each.min_by(|a, b| far(*a.1).total_cmp(&far(*b.1)))
            .map(|(i, _)| i)
    });
    let response = parts::seen(response);
    pointed.or_else(|| moved(ui, &response, at, picture.pitches.len()))
}

fn moved(ui: &Ui, response: &Response, at: usize, count: usize) -> Option<usize> {
    if !parts::takes_arrows(ui, response) {
        return None;
    }
    ui.input(|input| {
        let (left, right) = (
            input.num_presses(Key::ArrowLeft),
            input.num_presses(Key::ArrowRight),
        );
        let to = (at + right).saturating_sub(left);
        (left + right > 0).then(|| to.min(count.saturating_sub(1)))
    })
}
