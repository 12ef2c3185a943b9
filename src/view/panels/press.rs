//! The button that all screens use: a text, with an icon, a note and a sign where they are wanted.

use bevy_egui::egui::{
    Color32, CornerRadius, Id, Rect, Response, Sense, Stroke, StrokeKind, TextStyle, Ui, Vec2,
    WidgetInfo, WidgetType, pos2, vec2,
};

use super::parts::{seen, widest, wrapped};
use crate::view::icons::{self, Icon, Mark};
use crate::view::theme;

/// A button. What it is called is told to assistive technology, and by its note what it does.
#[must_use]
pub struct Press<'a> {
    text: &'a str,
    note: Option<&'a str>,
    icon: Option<Icon>,
    mark: Option<(Mark, &'a str)>,
    bars: Option<u8>,
    is_primary: bool,
    is_selected: Option<bool>,
    fills: bool,
    is_listed: bool,
    name: Option<&'a str>,
    hides_text: bool,
    least_width: f32,
    is_held: bool,
    key: &'a str,
}

/// What is held to repeat and has the keyboard.
pub(super) const HELD: &str = "held";

impl<'a> Press<'a> {
    pub fn new(text: &'a str) -> Self {
        Self {
            text,
            note: None,
            icon: None,
            mark: None,
            bars: None,
            is_primary: false,
            is_selected: None,
            fills: false,
            is_listed: false,
            name: None,
            hides_text: false,
            least_width: 0.0,
            is_held: false,
            key: "",
        }
    }

    /// The one that goes on.
    pub fn primary(mut self) -> Self {
        self.is_primary = true;
        self
    }

    pub fn icon(mut self, icon: Icon) -> Self {
        self.icon = Some(icon);
        self
    }

    /// A line below, in smaller letters.
    pub fn note(mut self, note: &'a str) -> Self {
        self.note = Some(note);
        self
    }

    /// A sign and its word, below.
    pub fn mark(mut self, mark: Mark, word: &'a str) -> Self {
        self.mark = Some((mark, word));
        self
    }

    /// So many of five bars before its note.
    pub fn bars(mut self, level: u8) -> Self {
        self.bars = Some(level);
        self
    }

    /// One of several of which one is chosen.
    pub fn selected(mut self, is: bool) -> Self {
        self.is_selected = Some(is);
        self
    }

    /// As wide as there is room.
    pub fn fill(mut self) -> Self {
        self.fills = true;
        self
    }

    /// One of a list below each other: as wide as there is room, its text at the left.
    pub fn listed(mut self) -> Self {
        self.is_listed = true;
        self.fill()
    }

    /// It is held, not only pressed.
    pub fn held(mut self) -> Self {
        self.is_held = true;
        self
    }

    /// The key that does the same, on its cap at the end; nothing where it has no name.
    pub fn key(mut self, key: &'a str) -> Self {
        self.key = key;
        self
    }

    /// Not narrower than so many heights of the text.
    pub fn at_least(mut self, width: f32) -> Self {
        self.least_width = width;
        self
    }

    /// Called otherwise than what stands on it.
    pub fn called(mut self, name: &'a str) -> Self {
        self.name = Some(name);
        self
    }

    /// Only its icon is seen; it is called by its text all the same, also to whoever points at it.
    pub fn only_icon(mut self, icon: Icon) -> Self {
        self.hides_text = true;
        self.icon(icon)
    }

    pub fn show(self, ui: &mut Ui) -> Response {
        let em = theme::em(ui);
        let palette = theme::palette(ui);
        let pad = ui.spacing().button_padding;
        let chosen = self.is_selected == Some(true);
        // What cannot be pressed is faded, and a filled one could not be read then.
        let is_primary = self.is_primary && ui.is_enabled();
        let (text_color, weak_color) = match (is_primary, chosen) {
            (_, true) => (palette.on_accent, palette.on_accent),
            (true, _) => (palette.on_primary, palette.on_primary),
            _ => (palette.text, palette.weak),
        };
        let beside = match (self.icon, self.hides_text) {
            (Some(_), true) => (1.1 * em).round(),
            (Some(_), false) => (1.7 * em).round(),
            (None, _) => 0.0,
        };
        let width = widest(ui);
        let small = TextStyle::Small.resolve(ui.style());
        let cap = Some(self.key).filter(|key| !key.is_empty());
        let cap = cap.map(|key| wrapped(ui, key, small.clone(), weak_color, width));
        let cap_margin = (0.35 * small.size).round();
        let after = cap.as_ref().map_or(0.0, |cap| {
            (cap.size().x + 2.0 * cap_margin + 0.5 * em).round()
        });
        let room = width - 2.0 * pad.x - beside - after;
        let font = if self.is_primary || self.note.is_some() {
            theme::bold(ui, 1.0)
        } else {
            TextStyle::Button.resolve(ui.style())
        };
        let text = if self.hides_text { "" } else { self.text };
        let text = wrapped(ui, text, font, text_color, room);
        let bars = self.bars.map_or(0.0, |_| 3.4 * small.size);
        let note = self
            .note
            .map(|note| wrapped(ui, note, small.clone(), weak_color, room - bars));
        let sign = 1.5 * small.size;
        let mark = self.mark.map(|(mark, word)| {
            (
                mark,
                wrapped(ui, word, small.clone(), weak_color, room - sign),
            )
        });
        let line = 0.25 * em;
        let mut inner = text.size();
        if self.hides_text {
            inner = vec2(0.0, em);
        }
        if let Some(note) = &note {
            inner.x = inner.x.max(bars + note.size().x);
            inner.y += line + note.size().y;
        }
        if let Some((_, word)) = &mark {
            inner.x = inner.x.max(sign + word.size().x);
            inner.y += line + word.size().y;
        }
        let mut size = inner + 2.0 * pad + vec2(beside + after, 0.0);
        size.y = size.y.max(ui.spacing().interact_size.y);
        size.x = if self.fills {
            width
        } else {
            size.x.max(size.y).max(self.least_width * em)
        };
        // A click that lasts is none: whatever is held has to sense drags too.
        let sense = if self.is_held {
            Sense::click_and_drag()
        } else {
            Sense::click()
        };
        let (rect, response) = ui.allocate_exact_size(size.min(vec2(width, f32::INFINITY)), sense);
        let name = self.name.unwrap_or(self.text);
        response.widget_info(|| match self.is_selected {
            Some(is) => WidgetInfo::selected(WidgetType::Button, ui.is_enabled(), is, name),
            None => WidgetInfo::labeled(WidgetType::Button, ui.is_enabled(), name),
        });
        if let Some(note) = self.note {
            ui.ctx().accesskit_node_builder(response.id, |node| {
                node.set_description(note);
            });
        }
        if ui.is_rect_visible(rect) {
            let is_hot = response.hovered() || response.has_focus();
            let fill = match (is_primary, chosen, is_hot) {
                (_, true, _) => palette.accent,
                (true, _, true) => palette.primary_hovered,
                (true, ..) => palette.primary,
                (_, _, true) => palette.button_hovered,
                _ => palette.button,
            };
            let edge = match (is_primary || chosen, response.hovered()) {
                (_, true) => palette.accent,
                (true, _) => fill,
                _ => palette.edge,
            };
            ui.painter().rect(
                rect,
                CornerRadius::same(theme::CORNER),
                fill,
                Stroke::new(1.0, edge),
                StrokeKind::Inside,
            );
            // What is narrower than its button stands in its middle, lists stand at the left.
            let is_listed = self.is_listed || self.note.is_some() || self.is_selected.is_some();
            let left = if self.fills && is_listed {
                rect.left() + pad.x
            } else {
                rect.center().x - 0.5 * (inner.x + beside + after)
            };
            if let Some(cap) = cap {
                let size = cap.size() + vec2(2.0 * cap_margin, 0.0);
                let left = if self.fills {
                    rect.right() - pad.x - size.x
                } else {
                    left + beside + inner.x + 0.5 * em
                };
                let place = Rect::from_min_size(pos2(left, rect.center().y - 0.5 * size.y), size);
                ui.painter().rect_stroke(
                    place,
                    CornerRadius::same(theme::CORNER),
                    Stroke::new(1.0, weak_color),
                    StrokeKind::Inside,
                );
                let at = place.min + vec2(cap_margin, 0.0);
                ui.painter().galley(at, cap, weak_color);
            }
            let mut at = pos2(left + beside, rect.center().y - 0.5 * inner.y);
            if let Some(icon) = self.icon {
                let first = if self.hides_text {
                    em
                } else {
                    text.size().y.min(1.4 * em)
                };
                let middle = if self.hides_text {
                    pos2(left + 0.5 * beside, rect.center().y)
                } else {
                    pos2(left + 0.6 * em, at.y + 0.5 * first)
                };
                let square = Rect::from_center_size(middle, Vec2::splat(1.1 * em));
                icons::icon(ui.painter(), square, icon, text_color);
            }
            let down = text.size().y;
            ui.painter().galley(at, text, text_color);
            at.y += down + line;
            if let Some(note) = note {
                if let Some(level) = self.bars {
                    let height = small.size;
                    let square = Rect::from_min_size(
                        at + vec2(0.0, 0.15 * height),
                        vec2(bars - 0.6 * height, height),
                    );
                    level_bars(ui, square, level, weak_color);
                }
                let down = note.size().y;
                ui.painter().galley(at + vec2(bars, 0.0), note, weak_color);
                at.y += down + line;
            }
            if let Some((mark, word)) = mark {
                let square = Rect::from_center_size(
                    at + vec2(0.6 * small.size, 0.5 * word.size().y.min(1.4 * small.size)),
                    Vec2::splat(1.1 * small.size),
                );
                icons::mark(ui.painter(), square, mark, palette);
                ui.painter().galley(at + vec2(sign, 0.0), word, weak_color);
            }
        }
        if self.is_held && response.has_focus() {
            ui.data_mut(|data| data.insert_temp(Id::new(HELD), response.id));
        }
        let response = seen(response);
        if self.hides_text {
            response.on_hover_text(name)
        } else {
            response
        }
    }
}

/// Five bars of which so many are filled.
fn level_bars(ui: &Ui, rect: Rect, level: u8, color: Color32) {
    let step = rect.width() / 5.0;
    for i in 0..5_u8 {
        let tall = rect.height() * (0.35 + 0.65 * f32::from(i + 1) / 5.0);
        let bar = Rect::from_min_max(
            pos2(rect.left() + f32::from(i) * step, rect.bottom() - tall),
            pos2(rect.left() + (f32::from(i) + 0.66) * step, rect.bottom()),
        );
        if i < level {
            ui.painter().rect_filled(bar, CornerRadius::ZERO, color);
        } else {
            ui.painter().rect_stroke(
                bar,
                CornerRadius::ZERO,
                Stroke::new(1.0, color),
                StrokeKind::Inside,
            );
        }
    }
}

/// A button with a word.
pub fn button(ui: &mut Ui, text: &str) -> Response {
    Press::new(text).show(ui)
}
