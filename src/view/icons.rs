//! Icons as painted shapes, so that no font has to hold them. Each fills a square.

use std::f32::consts::{FRAC_PI_2, PI, TAU};

use bevy_egui::egui::{
    Align2, Color32, CornerRadius, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2,
    pos2, vec2,
};
use serde::{Deserialize, Serialize};

use super::theme::{self, Palette};

/// What is meant by a sign; its word always stands beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Mark {
    /// A disc with a tick.
    Ok,
    /// A triangle (ISO 3864).
    Caution,
    /// An octagon.
    Danger,
    /// A disc with an i.
    Note,
    /// A disc with a cross: not so, and no matter of safety.
    Not,
    /// A filled square: on.
    On,
    /// A hollow ring: off, or not yet.
    Off,
}

/// What a button does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Icon {
    Up,
    Down,
    Left,
    Right,
    /// Counter-clockwise, and clockwise, as seen from the machine.
    TurnLeft,
    TurnRight,
    /// Towards the machine, and back from it.
    Onward,
    Back,
    /// A stick rolls through the gate.
    Feed,
    Horn,
    LockOpen,
    LockClosed,
    Play,
    Pause,
    Step,
    Rewind,
    Camera,
    Help,
    Radio,
    Look,
    Tick,
    Fold,
    Close,
    Plus,
    Minus,
    Flag,
}

/// Paints a sign.
pub fn mark(painter: &Painter, rect: Rect, mark: Mark, palette: &Palette) {
    let rect = squared(rect);
    let (at, r) = (rect.center(), 0.5 * rect.width());
    match mark {
        Mark::Ok => {
            painter.circle_filled(at, r, theme::OK);
            tick(
                painter,
                rect.shrink(0.28 * r),
                theme::CHALK_RAISED,
                0.26 * r,
            );
        }
        Mark::Caution => {
            let corners = triangle(rect);
            painter.add(Shape::convex_polygon(
                corners,
                theme::CAUTION,
                Stroke::new(0.16 * r, theme::INK),
            ));
            exclamation(painter, at + vec2(0.0, 0.22 * r), 0.62 * r, theme::INK);
        }
        Mark::Danger => {
            let corners = polygon(at, r, 8, PI / 8.0);
            painter.add(Shape::convex_polygon(
                corners,
                theme::DANGER,
                Stroke::new(0.14 * r, theme::CHALK),
            ));
            exclamation(painter, at, 0.72 * r, theme::CHALK);
        }
        Mark::Note => {
            painter.circle_stroke(at, 0.9 * r, Stroke::new(0.2 * r, palette.accent));
            painter.circle_filled(at - vec2(0.0, 0.42 * r), 0.14 * r, palette.accent);
            painter.line_segment(
                [at - vec2(0.0, 0.12 * r), at + vec2(0.0, 0.52 * r)],
                Stroke::new(0.22 * r, palette.accent),
            );
        }
        Mark::Not => {
            painter.circle_filled(at, 0.95 * r, palette.text);
            let line = Stroke::new(0.26 * r, palette.ground);
            let arm = 0.42 * r;
            painter.line_segment([at + vec2(-arm, -arm), at + vec2(arm, arm)], line);
            painter.line_segment([at + vec2(-arm, arm), at + vec2(arm, -arm)], line);
        }
        Mark::On => {
            let square = Rect::from_center_size(at, Vec2::splat(1.5 * r));
            painter.rect_filled(square, CornerRadius::ZERO, palette.text);
        }
        Mark::Off => {
            painter.circle_stroke(at, 0.72 * r, Stroke::new(0.2 * r, palette.weak));
        }
    }
}

/// Paints an icon in one colour.
pub fn icon(painter: &Painter, rect: Rect, icon: Icon, color: Color32) {
    let rect = squared(rect);
    let (at, r) = (rect.center(), 0.5 * rect.width());
    let line = Stroke::new((0.22 * r).max(1.5), color);
    let p = |x: f32, y: f32| at + r * vec2(x, y);
    match icon {
        Icon::Up => arrow(painter, at, r, 0.0, color),
        Icon::Right => arrow(painter, at, r, FRAC_PI_2, color),
        Icon::Down => arrow(painter, at, r, PI, color),
        Icon::Left => arrow(painter, at, r, -FRAC_PI_2, color),
        Icon::TurnLeft => turning(painter, at, r, line, -1.0),
        Icon::TurnRight => turning(painter, at, r, line, 1.0),
        Icon::Onward => double_arrow(painter, at, r, 0.0, color),
        Icon::Back => double_arrow(painter, at, r, PI, color),
        Icon::Feed => {
            painter.circle_stroke(p(-0.42, -0.12), 0.44 * r, line);
            painter.line_segment([p(-0.95, 0.5), p(0.95, 0.5)], line);
            painter.line_segment([p(0.15, -0.12), p(0.6, -0.12)], line);
            painter.add(Shape::convex_polygon(
                vec![p(0.5, -0.5), p(0.98, -0.12), p(0.5, 0.26)],
                color,
                Stroke::NONE,
            ));
        }
        Icon::Horn => {
            painter.add(Shape::convex_polygon(
                vec![
                    p(-0.85, -0.25),
                    p(-0.2, -0.25),
                    p(-0.2, 0.25),
                    p(-0.85, 0.25),
                ],
                color,
                Stroke::NONE,
            ));
            painter.add(Shape::convex_polygon(
                vec![p(-0.2, -0.25), p(0.3, -0.7), p(0.3, 0.7), p(-0.2, 0.25)],
                color,
                Stroke::NONE,
            ));
            for reach in [0.35, 0.62] {
                arc(painter, p(0.25, 0.0), reach * r, -0.8, 0.8, line);
            }
        }
        Icon::LockClosed | Icon::LockOpen => {
            let body = Rect::from_center_size(p(0.0, 0.35), vec2(1.3, 0.95) * r);
            painter.rect_filled(body, 0.12 * r, color);
            let (middle, from) = match icon {
                Icon::LockClosed => (p(0.0, -0.12), PI),
                _ => (p(0.0, -0.34), PI),
            };
            arc(painter, middle, 0.42 * r, from, TAU, line);
            painter.line_segment([middle - vec2(0.42 * r, 0.0), p(-0.42, 0.0)], line);
            if icon == Icon::LockClosed {
                painter.line_segment([middle + vec2(0.42 * r, 0.0), p(0.42, 0.0)], line);
            }
        }
        Icon::Play => {
            let corners = vec![p(-0.55, -0.75), p(0.8, 0.0), p(-0.55, 0.75)];
            painter.add(Shape::convex_polygon(corners, color, Stroke::NONE));
        }
        Icon::Pause => {
            for x in [-0.4, 0.4] {
                let bar = Rect::from_center_size(p(x, 0.0), vec2(0.42, 1.4) * r);
                painter.rect_filled(bar, 0.0, color);
            }
        }
        Icon::Step => {
            let corners = vec![p(-0.65, -0.7), p(0.35, 0.0), p(-0.65, 0.7)];
            painter.add(Shape::convex_polygon(corners, color, Stroke::NONE));
            let bar = Rect::from_center_size(p(0.58, 0.0), vec2(0.3, 1.4) * r);
            painter.rect_filled(bar, 0.0, color);
        }
        Icon::Rewind => {
            for x in [-0.85, 0.0] {
                let corners = vec![p(x, 0.0), p(x + 0.85, -0.7), p(x + 0.85, 0.7)];
                painter.add(Shape::convex_polygon(corners, color, Stroke::NONE));
            }
        }
        Icon::Camera => {
            let body = Rect::from_center_size(p(0.0, 0.12), vec2(1.7, 1.2) * r);
            painter.rect_stroke(body, 0.14 * r, line, StrokeKind::Inside);
            painter.circle_stroke(p(0.0, 0.12), 0.32 * r, line);
            painter.line_segment([p(-0.35, -0.62), p(0.35, -0.62)], line);
        }
        Icon::Help => {
            painter.circle_stroke(at, 0.88 * r, line);
            painter.text(
                at,
                Align2::CENTER_CENTER,
                '?',
                FontId::proportional(1.25 * r),
                color,
            );
        }
        Icon::Radio => {
            let body = Rect::from_center_size(p(-0.2, 0.3), vec2(0.8, 1.3) * r);
            painter.rect_stroke(body, 0.12 * r, line, StrokeKind::Inside);
            painter.line_segment([p(0.05, -0.3), p(0.05, -0.95)], line);
            for reach in [0.35, 0.65] {
                arc(painter, p(0.1, -0.75), reach * r, -0.7, 0.7, line);
            }
        }
        Icon::Look => {
            let corners = (0..=12).map(|i| {
                let x = -0.95 + 1.9 * i as f32 / 12.0;
                p(x, -0.62 * (1.0 - (x / 0.95).powi(2)))
            });
            let upper: Vec<Pos2> = corners.collect();
            let lower: Vec<Pos2> = upper
                .iter()
                .map(|point| pos2(point.x, 2.0 * at.y - point.y))
                .collect();
            painter.line(upper, line);
            painter.line(lower, line);
            painter.circle_filled(at, 0.28 * r, color);
        }
        Icon::Tick => {
            painter.line(vec![p(-0.8, 0.05), p(-0.25, 0.65), p(0.85, -0.65)], line);
        }
        Icon::Fold => {
            painter.rect_stroke(rect.shrink(0.2 * r), 0.1 * r, line, StrokeKind::Inside);
            painter.line_segment([p(-0.8, 0.3), p(0.8, 0.3)], line);
        }
        Icon::Close => {
            painter.line_segment([p(-0.6, -0.6), p(0.6, 0.6)], line);
            painter.line_segment([p(-0.6, 0.6), p(0.6, -0.6)], line);
        }
        Icon::Plus => {
            painter.line_segment([p(-0.7, 0.0), p(0.7, 0.0)], line);
            painter.line_segment([p(0.0, -0.7), p(0.0, 0.7)], line);
        }
        Icon::Minus => {
            painter.line_segment([p(-0.7, 0.0), p(0.7, 0.0)], line);
        }
        Icon::Flag => {
            painter.line_segment([p(-0.6, -0.85), p(-0.6, 0.9)], line);
            painter.add(Shape::convex_polygon(
                vec![p(-0.6, -0.85), p(0.8, -0.4), p(-0.6, 0.1)],
                color,
                Stroke::NONE,
            ));
        }
    }
}

/// Paints an arrow that points anywhere, `turned` clockwise from up; a double one for what goes along
/// the line.
pub fn towards(painter: &Painter, rect: Rect, turned_rad: f32, is_double: bool, color: Color32) {
    let rect = squared(rect);
    let (at, r) = (rect.center(), 0.5 * rect.width());
    if is_double {
        double_arrow(painter, at, r, turned_rad, color);
    } else {
        arrow(painter, at, r, turned_rad, color);
    }
}

/// What a moment of a run is marked with on a time line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum MomentMark {
    /// A ring: something that belongs to the cycle.
    Cycle,
    /// A lozenge: somebody did or said something.
    People,
    /// A triangle: a finding.
    Finding,
    /// An octagon: a finding that fails the run.
    Critical,
}

/// Paints the mark of a moment.
pub fn moment(painter: &Painter, at: Pos2, r: f32, kind: MomentMark, palette: &Palette) {
    let square = Rect::from_center_size(at, Vec2::splat(2.0 * r));
    let edge = Stroke::new(1.0, palette.ground);
    match kind {
        MomentMark::Cycle => {
            painter.circle(
                at,
                0.66 * r,
                palette.ground,
                Stroke::new(0.3 * r, palette.text),
            );
        }
        MomentMark::People => {
            let corners = polygon(at, 0.85 * r, 4, 0.0);
            painter.add(Shape::convex_polygon(corners, palette.accent, edge));
        }
        MomentMark::Finding => mark(painter, square, Mark::Caution, palette),
        MomentMark::Critical => mark(painter, square, Mark::Danger, palette),
    }
}

fn squared(rect: Rect) -> Rect {
    Rect::from_center_size(rect.center(), Vec2::splat(rect.width().min(rect.height())))
}

fn polygon(at: Pos2, r: f32, corners: u32, first_rad: f32) -> Vec<Pos2> {
    let angle = |i: u32| first_rad + TAU * i as f32 / corners as f32;
    (0..corners)
        .map(|i| at + r * Vec2::angled(angle(i)))
        .collect()
}

fn triangle(rect: Rect) -> Vec<Pos2> {
    let inner = rect.shrink(0.04 * rect.width());
    vec![
        inner.center_top(),
        inner.right_bottom() - vec2(0.0, 0.06 * rect.width()),
        inner.left_bottom() - vec2(0.0, 0.06 * rect.width()),
    ]
}

fn exclamation(painter: &Painter, at: Pos2, r: f32, color: Color32) {
    let stroke = Stroke::new(0.34 * r, color);
    painter.line_segment([at - vec2(0.0, 0.85 * r), at + vec2(0.0, 0.25 * r)], stroke);
    painter.circle_filled(at + vec2(0.0, 0.72 * r), 0.2 * r, color);
}

fn tick(painter: &Painter, rect: Rect, color: Color32, width: f32) {
    let at = |x: f32, y: f32| rect.min + rect.size() * vec2(x, y);
    painter.line(
        vec![at(0.08, 0.52), at(0.38, 0.84), at(0.94, 0.18)],
        Stroke::new(width, color),
    );
}

fn arc(painter: &Painter, at: Pos2, r: f32, from_rad: f32, to_rad: f32, line: Stroke) {
    let points = (0..=16).map(|i| {
        let angle = from_rad + (to_rad - from_rad) * i as f32 / 16.0;
        at + r * Vec2::angled(angle)
    });
    painter.line(points.collect(), line);
}

/// A solid arrow, `turned` clockwise from up.
fn arrow(painter: &Painter, at: Pos2, r: f32, turned_rad: f32, color: Color32) {
    let (sin, cos) = turned_rad.sin_cos();
    let p = |x: f32, y: f32| at + r * vec2(cos * x - sin * y, sin * x + cos * y);
    let head = vec![p(0.0, -0.85), p(0.72, 0.02), p(-0.72, 0.02)];
    let shaft = vec![p(-0.26, 0.0), p(0.26, 0.0), p(0.26, 0.82), p(-0.26, 0.82)];
    painter.add(Shape::convex_polygon(head, color, Stroke::NONE));
    painter.add(Shape::convex_polygon(shaft, color, Stroke::NONE));
}

fn double_arrow(painter: &Painter, at: Pos2, r: f32, turned_rad: f32, color: Color32) {
    let (sin, cos) = turned_rad.sin_cos();
    let p = |x: f32, y: f32| at + r * vec2(cos * x - sin * y, sin * x + cos * y);
    for y in [-0.8, 0.02] {
        let head = vec![p(0.0, y), p(0.74, y + 0.74), p(-0.74, y + 0.74)];
        painter.add(Shape::convex_polygon(head, color, Stroke::NONE));
    }
}

/// Most of a circle with a head; clockwise for 1.
fn turning(painter: &Painter, at: Pos2, r: f32, line: Stroke, way: f32) {
    let (from, to) = (-FRAC_PI_2 - way * 2.0, -FRAC_PI_2 + way * 1.9);
    arc(painter, at, 0.66 * r, from, to, line);
    let tip = at + 0.66 * r * Vec2::angled(to + way * 0.55);
    let base = at + 0.66 * r * Vec2::angled(to - way * 0.1);
    let out = (base - at).normalized();
    painter.add(Shape::convex_polygon(
        vec![tip, base + 0.36 * r * out, base - 0.36 * r * out],
        line.color,
        Stroke::NONE,
    ));
}
