//! What the screens are put together from.

use bevy_egui::egui::{
    Align, Align2, Area, Color32, Context, CornerRadius, FontId, Frame, Galley, Id, Key, Layout,
    Margin, Order, Pos2, Rect, Response, ScrollArea, Sense, Stroke, StrokeKind, TextEdit,
    TextStyle, Ui, UiBuilder, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};
use std::sync::Arc;

use super::Picture;
use crate::texts::{Message, Texts};
use crate::view::icons::{self, Icon, Mark};
use crate::view::theme::{self, gap};

/// Says an entry without gaps.
pub fn say(texts: &Texts, id: &'static str) -> String {
    texts.say(&Message::new(id))
}

/// With a capital letter at its beginning.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Minutes and seconds: 1:05.
pub fn clock(time_s: f64) -> String {
    let whole_s = time_s.max(0.0).floor() as u64;
    format!("{}:{:02}", whole_s / 60, whole_s % 60)
}

/// Share of the window at its edges that holds nothing important.
const EDGE: f32 = 0.03;

/// A window's rectangle without its outermost edges.
pub fn inside(rect: Rect) -> Rect {
    rect.shrink2(EDGE * rect.size())
}

/// A screen that fills the window.
pub fn screen<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    let rect = ui.max_rect();
    ui.painter()
        .rect_filled(rect, CornerRadius::ZERO, theme::palette(ui).ground);
    within(ui, "screen", inside(rect), add)
}

/// A part of the window, laid out from top to bottom.
pub fn within<R>(ui: &mut Ui, name: &'static str, rect: Rect, add: impl FnOnce(&mut Ui) -> R) -> R {
    let builder = UiBuilder::new()
        .id_salt(name)
        .max_rect(rect)
        .layout(Layout::top_down(Align::Min));
    ui.scope_builder(builder, add).inner
}

/// What is left of a screen, in two parts beside each other.
pub fn split(ui: &Ui, left_width: f32) -> [Rect; 2] {
    let rect = ui.available_rect_before_wrap();
    let space = gap::LARGE * theme::em(ui);
    let middle = rect.left() + left_width;
    [
        Rect::from_min_max(rect.min, pos2(middle, rect.bottom())),
        Rect::from_min_max(pos2(middle + space, rect.top()), rect.max),
    ]
}

/// A raised part of a screen.
pub fn raised<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    let palette = theme::palette(ui);
    let margin = theme::rounded(gap::MEDIUM * theme::em(ui));
    Frame::new()
        .fill(palette.raised)
        .stroke(Stroke::new(1.0, palette.line))
        .corner_radius(theme::CORNER)
        .inner_margin(Margin::same(margin))
        .show(ui, |ui| {
            ui.set_min_width(ui.available_width());
            add(ui)
        })
        .inner
}

/// Room round what scrolls, px: whatever has the keyboard is ringed.
pub const SCROLL_MARGIN: f32 = theme::FOCUS_RING + 1.0;

/// What may be longer than its room. The page keys move the one that is a screen's main part.
pub fn scroll<R>(
    ui: &mut Ui,
    name: &'static str,
    is_main: bool,
    add: impl FnOnce(&mut Ui) -> R,
) -> R {
    let page = 0.8 * ui.available_height();
    let pages = if is_main && ui.memory(|memory| memory.top_modal_layer().is_none()) {
        pages(ui)
    } else {
        0.0
    };
    ScrollArea::vertical()
        .id_salt(name)
        .auto_shrink([false, false])
        .show(ui, |ui| {
            if pages != 0.0 {
                ui.scroll_with_delta(vec2(0.0, -pages * page));
            }
            Frame::new()
                .inner_margin(Margin::same(theme::rounded(SCROLL_MARGIN)))
                .show(ui, add)
                .inner
        })
        .inner
}

fn pages(ui: &Ui) -> f32 {
    ui.input(|input| {
        let pressed = |key| input.num_presses(key) as f32;
        pressed(Key::PageDown) - pressed(Key::PageUp)
    })
}

/// Whether Escape was pressed and nobody was writing: then it only ends the writing.
pub fn escaped(ui: &Ui) -> bool {
    let written: Option<u64> = ui.data(|data| data.get_temp(Id::new(WRITING)));
    let now = ui.ctx().cumulative_pass_nr();
    let is_written = written.is_some_and(|at| at + 1 >= now);
    ui.input(|input| input.key_pressed(Key::Escape)) && !is_written
}

/// The last pass in which a field was written in.
const WRITING: &str = "writing";

/// Gives the keyboard to a thing when somebody begins to use arrows and nothing has it yet.
pub fn home(ui: &Ui, response: &Response) {
    let begins = ui.input(|input| {
        [
            Key::ArrowUp,
            Key::ArrowDown,
            Key::ArrowLeft,
            Key::ArrowRight,
        ]
        .iter()
        .any(|&key| input.key_pressed(key))
    });
    if begins && ui.memory(|memory| memory.focused().is_none()) {
        response.request_focus();
    }
}

/// Brings into sight what has just got the keyboard.
pub fn seen(response: Response) -> Response {
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    response
}

/// Room between parts.
pub fn space(ui: &mut Ui, parts: f32) {
    let px = (parts * theme::em(ui)).round();
    ui.add_space(px);
}

pub fn heading(ui: &mut Ui, text: &str) {
    let font = TextStyle::Heading.resolve(ui.style());
    paragraph(ui, text, font, theme::palette(ui).text);
}

/// Heads a part of a screen.
pub fn subheading(ui: &mut Ui, text: &str) {
    let font = theme::bold(ui, 1.0);
    paragraph(ui, text, font, theme::palette(ui).text);
}

pub fn body(ui: &mut Ui, text: &str) {
    let font = TextStyle::Body.resolve(ui.style());
    paragraph(ui, text, font, theme::palette(ui).text);
}

/// What is said beside the matter.
pub fn note(ui: &mut Ui, text: &str) {
    let font = TextStyle::Small.resolve(ui.style());
    paragraph(ui, text, font, theme::palette(ui).weak);
}

/// A text that breaks into lines where it has to.
pub fn paragraph(ui: &mut Ui, text: &str, font: FontId, color: Color32) -> Response {
    sign_of(ui, None, text, font, color)
}

/// A sign and its word.
pub fn sign(ui: &mut Ui, mark: Mark, text: &str) -> Response {
    let font = TextStyle::Body.resolve(ui.style());
    sign_of(ui, Some(mark), text, font, theme::palette(ui).text)
}

/// The same in large letters.
pub fn sign_heading(ui: &mut Ui, mark: Mark, text: &str) -> Response {
    let font = TextStyle::Heading.resolve(ui.style());
    sign_of(ui, Some(mark), text, font, theme::palette(ui).text)
}

fn sign_of(ui: &mut Ui, mark: Option<Mark>, text: &str, font: FontId, color: Color32) -> Response {
    let line = font.size;
    let beside = mark.map_or(0.0, |_| (1.6 * line).round());
    let galley = wrapped(ui, text, font, color, widest(ui) - beside);
    let size = vec2(beside + galley.size().x, galley.size().y.max(1.2 * line));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, ui.is_enabled(), text));
    if ui.is_rect_visible(rect) {
        if let Some(mark) = mark {
            let first = galley.rows.first().map_or(line, |row| row.rect().height());
            let at = rect.min + vec2(0.6 * line, 0.5 * first.max(1.2 * line));
            let square = Rect::from_center_size(at, Vec2::splat(1.2 * line));
            icons::mark(ui.painter(), square, mark, theme::palette(ui));
        }
        let down = 0.5 * (rect.height() - galley.size().y).max(0.0);
        ui.painter()
            .galley(rect.min + vec2(beside, down), galley, color);
    }
    response
}

/// How wide a thing may be here: in a row that wraps, as wide as the row.
fn widest(ui: &Ui) -> f32 {
    if ui.layout().main_wrap() {
        ui.max_rect().width()
    } else {
        ui.available_width()
    }
}

/// A text laid out in a width.
pub fn wrapped(ui: &Ui, text: &str, font: FontId, color: Color32, width: f32) -> Arc<Galley> {
    // Half a pixel more than a text takes, or rounding breaks its last word.
    ui.painter().layout(
        text.to_owned(),
        font,
        color,
        width.max(font_width_least(ui)) + 0.5,
    )
}

/// Nothing is laid out narrower than that.
fn font_width_least(ui: &Ui) -> f32 {
    2.0 * theme::em(ui)
}

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
    name: Option<&'a str>,
    hides_text: bool,
    least_width: f32,
}

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
            name: None,
            hides_text: false,
            least_width: 0.0,
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
        let (text_color, weak_color) = match (self.is_primary, chosen) {
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
        let room = width - 2.0 * pad.x - beside;
        let font = if self.is_primary || self.note.is_some() {
            theme::bold(ui, 1.0)
        } else {
            TextStyle::Button.resolve(ui.style())
        };
        let small = TextStyle::Small.resolve(ui.style());
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
        let mut size = inner + 2.0 * pad + vec2(beside, 0.0);
        size.y = size.y.max(ui.spacing().interact_size.y);
        size.x = if self.fills {
            width
        } else {
            size.x.max(size.y).max(self.least_width * em)
        };
        let (rect, response) =
            ui.allocate_exact_size(size.min(vec2(width, f32::INFINITY)), Sense::click());
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
            let fill = match (self.is_primary, chosen, is_hot) {
                (_, true, _) => palette.accent,
                (true, _, true) => palette.primary_hovered,
                (true, ..) => palette.primary,
                (_, _, true) => palette.button_hovered,
                _ => palette.button,
            };
            let edge = match (self.is_primary || chosen, response.hovered()) {
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
            let left =
                if self.fills && self.note.is_some() || self.fills && self.is_selected.is_some() {
                    rect.left() + pad.x
                } else {
                    rect.center().x - 0.5 * (inner.x + beside)
                };
            let mut at = pos2(left + beside, rect.center().y - 0.5 * inner.y);
            if let Some(icon) = self.icon {
                let first = if self.hides_text {
                    em
                } else {
                    text.size().y.min(1.4 * em)
                };
                let middle = if self.hides_text {
                    rect.center()
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

/// A row that goes on below when it is full.
pub fn row<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal_wrapped(add).inner
}

/// The head of a screen: its name, and the way back.
pub fn header(ui: &mut Ui, texts: &Texts, title: &str) -> bool {
    let back = say(texts, "back");
    let pressed = row(ui, |ui| {
        let back = Press::new(&back).icon(Icon::Left).show(ui);
        space(ui, gap::SMALL);
        heading(ui, title);
        back.clicked()
    });
    space(ui, gap::SMALL);
    pressed
}

/// What is said, in its own words, under what it is called.
pub fn told(ui: &mut Ui, what: &str, text: &str) {
    subheading(ui, what);
    body(ui, text);
    space(ui, gap::MEDIUM);
}

/// A picture as wide as there is room, not higher than a share of it.
pub fn picture(ui: &mut Ui, picture: Picture, name: &str, most_height: f32) {
    let width = ui.available_width();
    let scale = (width / picture.size_px.x.max(1.0)).min(most_height / picture.size_px.y.max(1.0));
    let (rect, response) = ui.allocate_exact_size(scale * picture.size_px, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, name));
    let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    ui.painter()
        .image(picture.texture, rect, uv, Color32::WHITE);
}

/// Chooses one of several of a row by pressing it. What was pressed.
pub fn choice(ui: &mut Ui, options: &[String], chosen: usize) -> Option<usize> {
    let mut pressed = None;
    for (i, option) in options.iter().enumerate() {
        if Press::new(option).selected(i == chosen).show(ui).clicked() {
            pressed = Some(i);
        }
    }
    pressed
}

/// Turns something on or off: a box that is ticked, and its words.
pub fn toggle(ui: &mut Ui, text: &str, is_on: bool) -> bool {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let beside = (1.8 * em).round();
    let font = TextStyle::Body.resolve(ui.style());
    let galley = wrapped(ui, text, font, palette.text, widest(ui) - beside);
    let height = galley.size().y.max(ui.spacing().interact_size.y);
    let size = vec2(beside + galley.size().x, height);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response
        .widget_info(|| WidgetInfo::selected(WidgetType::Checkbox, ui.is_enabled(), is_on, text));
    if ui.is_rect_visible(rect) {
        let center = pos2(rect.left() + 0.65 * em, rect.center().y);
        let square = Rect::from_center_size(center, Vec2::splat(1.2 * em));
        let edge = if response.hovered() {
            palette.accent
        } else {
            palette.edge
        };
        ui.painter().rect(
            square,
            CornerRadius::same(2),
            palette.raised,
            Stroke::new(1.5, edge),
            StrokeKind::Inside,
        );
        if is_on {
            let at = |x: f32, y: f32| square.min + square.size() * vec2(x, y);
            ui.painter().line(
                vec![at(0.2, 0.52), at(0.42, 0.76), at(0.82, 0.26)],
                Stroke::new(0.18 * em, palette.text),
            );
        }
        let down = 0.5 * (rect.height() - galley.size().y);
        ui.painter()
            .galley(rect.min + vec2(beside, down), galley, palette.text);
    }
    seen(response).clicked()
}

/// Less, a value, more, in a row. How many steps it is moved.
pub fn stepper(ui: &mut Ui, texts: &Texts, name: &str, value: &str, ends: [bool; 2]) -> i32 {
    let called = |id| texts.say(&Message::new(id).with("what", name));
    let mut steps = 0;
    let less = called("less");
    let response = ui.add_enabled_ui(!ends[0], |ui| {
        Press::new(&less).only_icon(Icon::Minus).show(ui)
    });
    steps -= repeats(ui, &response.inner);
    let font = theme::numbers(ui, 1.0);
    let palette = theme::palette(ui);
    let galley = wrapped(ui, value, font, palette.text, widest(ui));
    let width = galley.size().x.max(5.0 * theme::em(ui));
    let height = ui.spacing().interact_size.y.max(galley.size().y);
    let (rect, response) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, value));
    let at = rect.center() - 0.5 * galley.size();
    ui.painter().galley(at, galley, palette.text);
    let more = called("more");
    let response = ui.add_enabled_ui(!ends[1], |ui| {
        Press::new(&more).only_icon(Icon::Plus).show(ui)
    });
    steps + repeats(ui, &response.inner)
}

/// Seconds that a button is held before it repeats, and between repeats.
const REPEAT_S: [f64; 2] = [0.45, 0.08];

/// How often a button that repeats has been pressed since the last pass.
fn repeats(ui: &Ui, response: &Response) -> i32 {
    let due: Option<f64> = ui.data(|data| data.get_temp(response.id));
    if !response.is_pointer_button_down_on() {
        ui.data_mut(|data| data.remove::<f64>(response.id));
        // What the pointer has pressed has counted already.
        return i32::from(response.clicked() && due.is_none());
    }
    let now = ui.input(|input| input.time);
    ui.ctx().request_repaint();
    match due {
        None => {
            ui.data_mut(|data| data.insert_temp(response.id, now + REPEAT_S[0]));
            1
        }
        Some(due) if now >= due => {
            ui.data_mut(|data| data.insert_temp(response.id, now + REPEAT_S[1]));
            1
        }
        Some(_) => 0,
    }
}

/// A field to write in, under its label.
pub fn field<'t>(ui: &mut Ui, label: &str, make: impl FnOnce(&Ui) -> TextEdit<'t>) -> Response {
    let palette = theme::palette(ui);
    let small = TextStyle::Small.resolve(ui.style());
    let label = paragraph(ui, label, small, palette.weak);
    let edit = make(ui).margin(Margin::symmetric(
        theme::rounded(ui.spacing().button_padding.x),
        theme::rounded(ui.spacing().button_padding.y),
    ));
    let response = ui.add(edit).labelled_by(label.id);
    if response.has_focus() {
        let now = ui.ctx().cumulative_pass_nr();
        ui.data_mut(|data| data.insert_temp(Id::new(WRITING), now));
    }
    let edge = Stroke::new(1.0, palette.edge);
    ui.painter().rect_stroke(
        response.rect,
        CornerRadius::same(theme::CORNER),
        edge,
        StrokeKind::Inside,
    );
    seen(response)
}

/// Whether a key was pressed while nobody was writing.
pub fn pressed(ui: &Ui, key: Key) -> bool {
    let writes = ui.ctx().text_edit_focused();
    !writes && ui.input(|input| input.key_pressed(key))
}

/// A card over the scene that is as high as what it holds, up to a limit; then it scrolls.
pub struct Overlay {
    pub name: &'static str,
    /// Where the point of the card lies that the pivot names.
    pub at: Pos2,
    pub pivot: Align2,
    pub width: f32,
    pub most_height: f32,
    /// Over the other cards.
    pub on_top: bool,
}

impl Overlay {
    pub fn show<R>(self, ctx: &Context, add: impl FnOnce(&mut Ui) -> R) -> R {
        let order = if self.on_top {
            Order::Foreground
        } else {
            Order::Middle
        };
        Area::new(Id::new(self.name))
            .order(order)
            .pivot(self.pivot)
            .fixed_pos(self.at)
            .default_size(vec2(self.width, self.most_height))
            .constrain(false)
            .show(ctx, |ui| {
                let palette = theme::palette(ui);
                let margin = theme::rounded(gap::SMALL * theme::em(ui));
                let around = 2.0 * f32::from(margin);
                // Not only as high as it was in the last pass.
                ui.set_max_height(self.most_height);
                Frame::new()
                    .fill(palette.over_scene())
                    .stroke(Stroke::new(1.0, palette.line))
                    .corner_radius(theme::CORNER)
                    .inner_margin(Margin::same(margin))
                    .show(ui, |ui| {
                        ui.set_width(self.width - around - 2.0);
                        ScrollArea::vertical()
                            .id_salt(self.name)
                            .max_height((self.most_height - around - 2.0).max(0.0))
                            .min_scrolled_height(0.0)
                            .auto_shrink([false, true])
                            .show(ui, add)
                            .inner
                    })
                    .inner
            })
            .inner
    }
}

/// Where a card over the scene was in the last pass.
pub fn overlay_rect(ctx: &Context, name: &'static str) -> Option<Rect> {
    ctx.memory(|memory| memory.area_rect(Id::new(name)))
}

/// The name of a key, as on its cap.
pub fn key_cap(ui: &mut Ui, key: &str, least_width: f32) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let font = TextStyle::Body.resolve(ui.style());
    let galley = wrapped(ui, key, font, palette.text, widest(ui) - em);
    let size = vec2(
        (galley.size().x + em).max(least_width * em),
        galley.size().y + 0.3 * em,
    );
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, key));
    ui.painter().rect(
        rect,
        CornerRadius::same(theme::CORNER),
        palette.raised,
        Stroke::new(1.0, palette.edge),
        StrokeKind::Inside,
    );
    let at = rect.center() - 0.5 * galley.size();
    ui.painter().galley(at, galley, palette.text);
}
