//! What can be read in practice: pitch of the rails, height of the cradles and the tilt between them,
//! speed of the stick, the nearest person.

use bevy_egui::egui::{
    Align, CornerRadius, Layout, Rect, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2,
    vec2,
};

use super::gauges::{self, Bubble};
use super::parts::{self, say};
use crate::domain::limits;
use crate::domain::math::deg;
use crate::texts::{Message, Texts};
use crate::view::icons::Mark;
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Instruments {
    /// Near, far rail.
    pub pitch_deg: [f64; 2],
    /// Near, far cradle over its lowest place, m.
    pub raised_m: [f64; 2],
    pub highest_m: f64,
    /// Lengthwise tilt of the stick in the cradles.
    pub tilt_deg: Option<f64>,
    /// Of the stick that moves fastest.
    pub speed_m_per_s: f64,
    /// Who is nearest to pipe that moves or may move, and how far.
    pub nearest: Option<Nearest>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    pub who: String,
    pub distance_m: f64,
    /// Nearer than is safe.
    pub is_close: bool,
}

/// Where the scales of the bubbles end.
const SCALE_DEG: f64 = 12.0;

/// Shows them; in a small window as numbers alone.
pub fn show(ui: &mut Ui, texts: &Texts, model: &Instruments, is_tight: bool) {
    let names = ["instruments-near", "instruments-far"];
    for (id, at_deg) in names.into_iter().zip(model.pitch_deg) {
        let line = texts.say(&Message::new(id).measured("angle", at_deg, 1));
        if is_tight {
            parts::body(ui, &line);
            continue;
        }
        parts::note(ui, &line);
        gauges::bubble(
            ui,
            &Bubble {
                name: line,
                seen_deg: at_deg,
                image_deg: at_deg,
                scale_deg: 0.0..=SCALE_DEG,
                right_deg: Some(deg(limits::PITCH_MIN.value)..=deg(limits::PITCH_MAX.value)),
            },
        );
    }
    if !is_tight {
        parts::space(ui, gap::TINY);
        parts::subheading(ui, &say(texts, "instruments-heights"));
        heights(ui, texts, model);
    }
    if let Some(tilt_deg) = model.tilt_deg {
        let most_deg = deg(limits::LIFT_TILT_MAX.value);
        let tilt = Message::new("instruments-tilt")
            .measured("tilt", tilt_deg.abs(), 1)
            .measured("limit", most_deg, 1);
        let mark = if tilt_deg.abs() > most_deg {
            Mark::Caution
        } else {
            Mark::Ok
        };
        parts::sign(ui, mark, &texts.say(&tilt));
    }
    parts::space(ui, gap::TINY);
    let speed = Message::new("instruments-speed").measured("speed", model.speed_m_per_s, 2);
    parts::body(ui, &texts.say(&speed));
    if let Some(nearest) = &model.nearest {
        let text = Message::new("instruments-nearest")
            .with("who", nearest.who.as_str())
            .measured("distance", nearest.distance_m, 1);
        let mark = if nearest.is_close {
            Mark::Danger
        } else {
            Mark::Ok
        };
        parts::sign(ui, mark, &texts.say(&text));
    }
}

/// Two bars and the line between their tops.
fn heights(ui: &mut Ui, texts: &Texts, model: &Instruments) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let lines = ["instruments-raised-near", "instruments-raised-far"].map(Message::new);
    let [near, far] = model.raised_m;
    let [near_line, far_line] = lines;
    let near_line = texts.say(&near_line.measured("height", near, 2));
    let far_line = texts.say(&far_line.measured("height", far, 2));
    let size = vec2(ui.available_width(), 3.6 * em);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let name = say(texts, "instruments-heights");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &name));
    if ui.is_rect_visible(rect) {
        let painter = ui.painter();
        let full = rect.height() - 0.6 * em;
        // The machine is at the right, so the near cradle is too.
        let bars = [rect.right() - 2.2 * em, rect.left() + 1.0 * em];
        let mut tops = [rect.center(); 2];
        for ((x, raised_m), top) in bars.into_iter().zip(model.raised_m).zip(&mut tops) {
            let case = Rect::from_min_max(
                pos2(x, rect.bottom() - full),
                pos2(x + 1.2 * em, rect.bottom()),
            );
            painter.rect(
                case,
                CornerRadius::same(2),
                palette.raised,
                Stroke::new(1.0, palette.edge),
                StrokeKind::Inside,
            );
            let share = (raised_m / model.highest_m.max(0.01)).clamp(0.0, 1.0) as f32;
            let level = rect.bottom() - share * full;
            let bar = Rect::from_min_max(pos2(case.left(), level), case.max);
            painter.rect_filled(bar, CornerRadius::same(2), palette.weak);
            *top = pos2(case.center().x, level);
        }
        painter.line_segment(tops, Stroke::new(0.22 * em, palette.text));
        for top in tops {
            painter.circle_filled(top, 0.3 * em, palette.text);
        }
        painter.hline(
            tops[0].x.min(tops[1].x)..=tops[0].x.max(tops[1].x),
            0.5 * (tops[0].y + tops[1].y),
            Stroke::new(1.0, palette.edge),
        );
    }
    ui.columns(2, |columns| {
        if let [left, right] = columns {
            parts::note(left, &far_line);
            right.with_layout(Layout::top_down(Align::Max), |ui| {
                parts::note(ui, &near_line)
            });
        }
    });
}
