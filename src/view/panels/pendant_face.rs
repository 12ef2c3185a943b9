//! How the buttons of the pendant look.

use std::f32::consts::PI;

use bevy_egui::egui::{
    Color32, CornerRadius, FontFamily, FontId, Pos2, Rect, Response, Stroke, StrokeKind, Ui, pos2,
};

use super::pendant::Arrows;
use crate::sim::controls::Button;
use crate::view::icons::{self, Icon};
use crate::view::theme;

/// The face of a button, pushed in while it is held. Where there is room on it.
pub(super) fn face(
    ui: &Ui,
    rect: Rect,
    fill: Color32,
    is_held: bool,
    response: &Response,
    px: f32,
) -> Rect {
    let corner = CornerRadius::same(theme::CORNER);
    let painter = ui.painter();
    painter.rect_filled(rect, corner, theme::INK);
    let face = if is_held {
        rect.shrink(0.2 * px)
    } else {
        rect.shrink(0.08 * px)
    };
    painter.rect_filled(face, corner, fill);
    if is_held {
        let ring = Stroke::new(0.16 * px, theme::QUIET_BLUE);
        painter.rect_stroke(rect, corner, ring, StrokeKind::Inside);
    } else if response.hovered() {
        let ring = Stroke::new(0.1 * px, theme::QUIET_BLUE);
        painter.rect_stroke(rect, corner, ring, StrokeKind::Inside);
    }
    face
}

/// The key at the foot of a button. The middle of what is left above it.
pub(super) fn key_hint(ui: &Ui, rect: Rect, hint: &str, ink: Color32, px: f32) -> Pos2 {
    if hint.is_empty() {
        return rect.center();
    }
    // Long names of keys take smaller letters, so that they stay within the button.
    let galley = |size: f32| {
        let font = FontId::new(size, FontFamily::Monospace);
        ui.painter().layout_no_wrap(hint.to_owned(), font, ink)
    };
    let whole = galley(0.82 * px);
    let room = rect.width() - 0.3 * px;
    let galley = if whole.size().x > room {
        galley(0.82 * px * room / whole.size().x)
    } else {
        whole
    };
    let at = pos2(
        rect.center().x - 0.5 * galley.size().x,
        rect.bottom() - 0.12 * px - galley.size().y,
    );
    let left = at.y - rect.top();
    ui.painter().galley(at, galley, ink);
    pos2(rect.center().x, rect.top() + 0.52 * left)
}

pub(super) fn paint_way(ui: &Ui, rect: Rect, button: Button, arrows: Arrows, ink: Color32) {
    use Button as B;
    let painter = ui.painter();
    let turn = |clockwise: bool| {
        if clockwise {
            Icon::TurnRight
        } else {
            Icon::TurnLeft
        }
    };
    let pointing = |rad: f32, is_double: bool| icons::towards(painter, rect, rad, is_double, ink);
    match button {
        B::Feed => icons::icon(painter, rect, Icon::Feed, ink),
        B::Horn => icons::icon(painter, rect, Icon::Horn, ink),
        B::ReceiverUp
        | B::LiftNearUp
        | B::LiftFarUp
        | B::LiftBothUp
        | B::JackNearUp
        | B::JackFarUp => pointing(0.0, false),
        B::ReceiverDown
        | B::LiftNearDown
        | B::LiftFarDown
        | B::LiftBothDown
        | B::JackNearDown
        | B::JackFarDown => pointing(PI, false),
        B::ShiftNearOut | B::ShiftFarOut => pointing(arrows.out_rad, false),
        B::ShiftNearIn | B::ShiftFarIn => pointing(arrows.out_rad + PI, false),
        B::TurnOut => icons::icon(painter, rect, turn(arrows.out_is_clockwise), ink),
        B::TurnIn => icons::icon(painter, rect, turn(!arrows.out_is_clockwise), ink),
        B::AdvanceOn => pointing(arrows.on_rad, true),
        B::AdvanceBack => pointing(arrows.on_rad + PI, true),
    }
}
