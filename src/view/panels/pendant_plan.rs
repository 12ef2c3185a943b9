//! Where everything stands on the pendant, measured in heights of its letters.

use bevy_egui::egui::{Color32, FontFamily, FontId, Ui, Vec2, vec2};

use super::parts::say;
use super::pendant::Model;
use crate::sim::controls::Button;
use crate::texts::Texts;
use crate::view::theme;

/// What a place of the pendant holds.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    Hold(Button),
    Stop,
    Reset,
    Isolate,
}

/// A column: what stands over it, and one tall or two small parts.
pub(super) struct Column {
    pub(super) sub: Option<String>,
    pub(super) parts: Vec<Part>,
    pub(super) width: f32,
}

pub(super) struct Group {
    pub(super) head: String,
    pub(super) columns: Vec<Column>,
}

// In heights of its letters.
pub(super) const BUTTON_WIDTH: f32 = 3.9;
pub(super) const STOP_WIDTH: f32 = 5.6;
pub(super) const ROW: f32 = 2.75;
pub(super) const BETWEEN: f32 = 0.35;
pub(super) const BETWEEN_GROUPS: f32 = 0.75;
pub(super) const HEAD: f32 = 2.7;
pub(super) const LAMPS: f32 = 1.9;
pub(super) const PAD: f32 = 0.6;

/// Everything in its place, measured in heights of the letters.
pub struct Plan {
    pub(super) groups: Vec<Group>,
    pub(super) lamps: Vec<(bool, String)>,
    /// Height of the letters, px.
    pub(super) px: f32,
    pub(super) size: Vec2,
}

impl Plan {
    /// As large as the text, or as large as fits into a width.
    pub fn new(ui: &Ui, texts: &Texts, model: &Model, most_width: f32) -> Self {
        let mut groups = groups(texts);
        let measure = |text: &str, font: FontId| {
            let size = font.size;
            let galley = ui
                .painter()
                .layout_no_wrap(text.to_owned(), font, Color32::PLACEHOLDER);
            galley.size().x / size
        };
        let bold = theme::bold(ui, 1.0);
        let plain = FontId::new(bold.size, FontFamily::Proportional);
        for group in &mut groups {
            for column in &mut group.columns {
                let sub = column.sub.as_deref().unwrap_or_default();
                column.width = column.width.max(measure(sub, plain.clone()) + 0.4);
            }
            // A head over one column may take two lines.
            let head = if group.columns.len() == 1 {
                let words = group.head.split(' ');
                words
                    .map(|word| measure(word, bold.clone()))
                    .fold(0.0, f32::max)
            } else {
                measure(&group.head, bold.clone())
            };
            let lacks = (head + 0.3 - group.width()).max(0.0) / group.columns.len() as f32;
            for column in &mut group.columns {
                column.width += lacks;
            }
        }
        let lamps = lamps(texts, model);
        let lamps_width: f32 = lamps
            .iter()
            .map(|(_, text)| measure(text, plain.clone()) + 2.6)
            .sum();
        let keys: f32 = groups.iter().map(Group::width).sum();
        let keys = keys + BETWEEN_GROUPS * (groups.len() - 1) as f32;
        let wide = keys.max(lamps_width) + 2.0 * PAD;
        let px = theme::em(ui).min((most_width / wide * 4.0).floor() / 4.0);
        let high = 2.0 * PAD + LAMPS + HEAD + 2.0 * ROW + BETWEEN;
        Self {
            groups,
            lamps,
            px,
            size: vec2((wide * px).ceil(), (high * px).ceil()),
        }
    }

    pub fn size(&self) -> Vec2 {
        self.size
    }
}

impl Group {
    pub(super) fn width(&self) -> f32 {
        let columns: f32 = self.columns.iter().map(|column| column.width).sum();
        columns + BETWEEN * (self.columns.len() - 1) as f32
    }
}

fn groups(texts: &Texts) -> Vec<Group> {
    use Button as B;
    let hold = |buttons: &[Button]| -> Vec<Part> {
        buttons.iter().map(|&button| Part::Hold(button)).collect()
    };
    let column = |sub: Option<&'static str>, parts: Vec<Part>| Column {
        sub: sub.map(|id| say(texts, id)),
        parts,
        width: BUTTON_WIDTH,
    };
    let group = |head: &'static str, columns: Vec<Column>| Group {
        head: say(texts, head),
        columns,
    };
    let mut stop = column(None, vec![Part::Stop]);
    stop.width = STOP_WIDTH;
    vec![
        group("pendant-stop", vec![stop]),
        group("pendant-reset", vec![column(None, vec![Part::Reset])]),
        group("pendant-isolate", vec![column(None, vec![Part::Isolate])]),
        group("pendant-feed", vec![column(None, hold(&[B::Feed]))]),
        group(
            "pendant-receiver",
            vec![column(None, hold(&[B::ReceiverUp, B::ReceiverDown]))],
        ),
        group(
            "pendant-lift",
            vec![
                column(
                    Some("pendant-near"),
                    hold(&[B::LiftNearUp, B::LiftNearDown]),
                ),
                column(
                    Some("pendant-both"),
                    hold(&[B::LiftBothUp, B::LiftBothDown]),
                ),
                column(Some("pendant-far"), hold(&[B::LiftFarUp, B::LiftFarDown])),
            ],
        ),
        group(
            "pendant-shift",
            vec![
                column(
                    Some("pendant-near"),
                    hold(&[B::ShiftNearOut, B::ShiftNearIn]),
                ),
                column(Some("pendant-far"), hold(&[B::ShiftFarOut, B::ShiftFarIn])),
            ],
        ),
        group(
            "pendant-turn",
            vec![column(None, hold(&[B::TurnOut, B::TurnIn]))],
        ),
        group(
            "pendant-advance",
            vec![column(None, hold(&[B::AdvanceOn, B::AdvanceBack]))],
        ),
        group("pendant-horn", vec![column(None, hold(&[B::Horn]))]),
    ]
}

fn lamps(texts: &Texts, model: &Model) -> Vec<(bool, String)> {
    let lamps = model.lamps;
    [
        (lamps.power, "lamp-power"),
        (lamps.receiver_ready, "lamp-receiver"),
        (lamps.gate_blocked, "lamp-gate"),
        (lamps.interlock, "lamp-interlock"),
        (model.is_stopped, "lamp-stopped"),
    ]
    .map(|(on, id)| (on, say(texts, id)))
    .into()
}
