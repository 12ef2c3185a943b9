//! What is read off by eye: the bubble of an inclinometer behind its scale, and a tape.

use std::ops::RangeInclusive;

use bevy_egui::egui::{
    Align2, CornerRadius, Painter, Rect, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo,
    WidgetType, pos2, vec2,
};

use crate::view::theme::{self, gap};

/// A bubble in its tube.
#[derive(Clone, Debug, PartialEq)]
pub struct Bubble {
    /// What it is and what it reads, for whoever cannot see it.
    pub name: String,
    /// Before which mark the bubble is seen.
    pub seen_deg: f64,
    /// Before which its image in the mirror strip is seen: the same one for an eye square to the glass.
    pub image_deg: f64,
    pub scale_deg: RangeInclusive<f64>,
    /// What is right, marked on the scale; none where nobody has marked it.
    pub right_deg: Option<RangeInclusive<f64>>,
}

/// Paints a bubble inclinometer as wide as there is room.
pub fn bubble(ui: &mut Ui, bubble: &Bubble) {
    let em = theme::em(ui);
    let width = ui.available_width().min(26.0 * em);
    let (rect, response) = ui.allocate_exact_size(vec2(width, 3.2 * em), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &bubble.name));
    if ui.is_rect_visible(rect) {
        paint_bubble(ui, rect, bubble);
    }
}

fn paint_bubble(ui: &Ui, rect: Rect, bubble: &Bubble) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let painter = ui.painter();
    let ink = theme::INK;
    painter.rect(
        rect,
        CornerRadius::same(theme::CORNER),
        theme::SLATE,
        Stroke::new(1.0, palette.edge),
        StrokeKind::Inside,
    );
    let tube = Rect::from_min_max(
        rect.min + vec2(0.6 * em, 0.3 * em),
        pos2(rect.right() - 0.6 * em, rect.top() + 1.5 * em),
    );
    painter.rect_filled(tube, 0.6 * em, palette.glass);
    let (low, high) = (*bubble.scale_deg.start(), *bubble.scale_deg.end());
    let scale = tube.shrink2(vec2(1.0 * em, 0.0));
    let x = |deg: f64| {
        let share = ((deg - low) / (high - low)).clamp(-0.06, 1.06);
        scale.left() + share as f32 * scale.width()
    };
    // The mirror strip behind the tube.
    let strip = Rect::from_min_max(
        pos2(tube.left() + 0.4 * em, tube.bottom() - 0.38 * em),
        pos2(tube.right() - 0.4 * em, tube.bottom() - 0.14 * em),
    );
    painter.rect_filled(strip, 0.1 * em, theme::CHALK_RAISED);
    let image = pos2(x(bubble.image_deg), strip.center().y);
    painter.add(Shape::ellipse_filled(
        image,
        vec2(0.85 * em, 0.1 * em),
        theme::SLATE_LIGHT,
    ));
    let seen = pos2(x(bubble.seen_deg), tube.center().y - 0.1 * em);
    painter.add(Shape::Ellipse(bevy_egui::egui::epaint::EllipseShape {
        center: seen,
        radius: vec2(0.9 * em, 0.4 * em),
        fill: theme::CHALK_RAISED,
        stroke: Stroke::new(0.1 * em, ink),
        angle: 0.0,
    }));
    painter.vline(
        seen.x,
        seen.y - 0.4 * em..=seen.y + 0.4 * em,
        Stroke::new(1.5, ink),
    );
    if let Some(right) = &bubble.right_deg {
        let bar = Rect::from_min_max(
            pos2(x(*right.start()), tube.bottom() + 0.1 * em),
            pos2(x(*right.end()), tube.bottom() + 0.34 * em),
        );
        painter.rect_filled(bar, 0.0, theme::CHALK);
    }
    let every = if scale.width() / (high - low) as f32 > 2.2 * em {
        1
    } else {
        2
    };
    let steps = 2.0 * (high - low);
    for step in 0..=steps.round().max(0.0) as u32 {
        let deg = low + f64::from(step) / 2.0;
        let is_whole = step % 2 == 0;
        let down = if is_whole { 0.5 } else { 0.28 };
        painter.vline(
            x(deg),
            tube.bottom()..=tube.bottom() + down * em,
            Stroke::new(if is_whole { 1.5 } else { 1.0 }, theme::CHALK),
        );
        if is_whole && (step / 2) % every == 0 {
            number(ui, painter, pos2(x(deg), tube.bottom() + 0.55 * em), deg);
        }
    }
}

fn number(ui: &Ui, painter: &Painter, at: bevy_egui::egui::Pos2, value: f64) {
    painter.text(
        at,
        Align2::CENTER_TOP,
        format!("{value:.0}"),
        theme::numbers(ui, 0.84),
        theme::CHALK,
    );
}

/// A tape as it lies at its mark, with half a metre to either side.
pub fn tape(ui: &mut Ui, name: &str, metres: f64) {
    let em = theme::em(ui);
    let width = ui.available_width().min(30.0 * em);
    let (rect, response) = ui.allocate_exact_size(vec2(width, 3.2 * em), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, name));
    if !ui.is_rect_visible(rect) {
        return;
    }
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let blade = Rect::from_min_max(rect.min + vec2(0.0, 0.9 * em), rect.max);
    painter.rect(
        blade,
        CornerRadius::ZERO,
        theme::SAND,
        Stroke::new(1.0, theme::INK),
        StrokeKind::Inside,
    );
    // Tenths of a metre stand far enough apart for their numbers.
    let tenth = (3.4 * em).max(blade.width() / 9.0);
    let x = |metre: f64| blade.center().x + (10.0 * (metre - metres)) as f32 * tenth;
    let half = f64::from(0.5 * blade.width() / tenth) / 10.0;
    let first = (100.0 * (metres - half)).floor().max(0.0) as u64;
    let last = (100.0 * (metres + half)).ceil().max(0.0) as u64;
    for centimetre in first..=last {
        let metre = centimetre as f64 / 100.0;
        let tall = match (centimetre % 10, centimetre % 5) {
            (0, _) => 0.9,
            (_, 0) => 0.6,
            _ => 0.35,
        };
        painter.vline(
            x(metre),
            blade.top()..=blade.top() + tall * em,
            Stroke::new(1.0, theme::INK),
        );
        let clear = x(metre) - 1.5 * em > blade.left() && x(metre) + 1.5 * em < blade.right();
        if centimetre % 10 == 0 && clear {
            painter.text(
                pos2(x(metre), blade.bottom() - 0.1 * em),
                Align2::CENTER_BOTTOM,
                format!("{metre:.1}"),
                theme::numbers(ui, 0.9),
                theme::INK,
            );
        }
    }
    let middle = blade.center().x;
    painter.add(Shape::convex_polygon(
        vec![
            pos2(middle - 0.5 * em, rect.top()),
            pos2(middle + 0.5 * em, rect.top()),
            pos2(middle, blade.top() + 0.1 * em),
        ],
        theme::palette(ui).accent,
        Stroke::NONE,
    ));
    ui.add_space(gap::TINY * em);
}
