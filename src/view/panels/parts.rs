//! What the screens are put together from.

use std::sync::Arc;

use bevy_egui::egui::{
    Align, AsIdSalt, Color32, CornerRadius, EventFilter, FocusDirection, FontId, Frame, Galley, Id,
    Key, Layout, Margin, Rect, Response, ScrollArea, Sense, Stroke, StrokeKind, TextStyle, Ui,
    UiBuilder, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};

use super::Picture;
pub use super::inputs::{choice, field, first_choice, show_value, stepper, toggle, toggle_called};
pub use super::overlay::{Overlay, overlay_rect};
pub use super::press::{Press, button};
use crate::texts::{Message, Texts};
use crate::view::icons::{self, Icon, Mark};
use crate::view::theme::{self, gap};

/// The keys of a list of at most nine.
pub const NUMBERS: [Key; 9] = [
    Key::Num1,
    Key::Num2,
    Key::Num3,
    Key::Num4,
    Key::Num5,
    Key::Num6,
    Key::Num7,
    Key::Num8,
    Key::Num9,
];

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
pub const SCROLL_MARGIN: f32 = theme::FOCUS_RING + 2.0;

/// What may be longer than its room. The page keys move the one that is a screen's main part. Anything
/// else shown there has another name, so that it begins at its top.
pub fn scroll<R>(
    ui: &mut Ui,
    name: impl AsIdSalt,
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
    if was_told(ui, PAGING) {
        return 0.0;
    }
    ui.input(|input| {
        let pressed = |key| input.num_presses(key) as f32;
        pressed(Key::PageDown) - pressed(Key::PageUp)
    })
}

/// Whether Escape was pressed and nobody was writing: then it only ends the writing.
pub fn escaped(ui: &Ui) -> bool {
    ui.input(|input| input.key_pressed(Key::Escape)) && !was_told(ui, WRITING)
}

/// The last pass in which a field was written in.
const WRITING: &str = "writing";
/// The last pass in which something that has the keyboard took the page keys.
const PAGING: &str = "paging";

/// Tells that somebody writes in a field now.
pub fn is_written(ui: &Ui) {
    tell(ui, WRITING);
}

/// Tells that what has the keyboard moves by the page keys itself.
pub fn takes_pages(ui: &Ui) {
    tell(ui, PAGING);
}

/// Tells something of this pass.
pub fn tell(ui: &Ui, what: &'static str) {
    let now = ui.ctx().cumulative_pass_nr();
    ui.data_mut(|data| data.insert_temp(Id::new(what), now));
}

/// Whether it was told in this pass or in the last one.
pub fn was_told(ui: &Ui, what: &'static str) -> bool {
    let now = ui.ctx().cumulative_pass_nr();
    let at: Option<u64> = ui.data(|data| data.get_temp(Id::new(what)));
    at.is_some_and(|at| at + 1 >= now)
}

/// Gives the keyboard to what is most likely wanted: when it comes on, and when somebody begins to use
/// arrows and nothing has it.
pub fn home(ui: &Ui, response: &Response) {
    let now = ui.ctx().cumulative_pass_nr();
    let key = Id::new(HOME);
    let before: Option<(Id, u64)> = ui.data(|data| data.get_temp(key));
    ui.data_mut(|data| data.insert_temp(key, (response.id, now)));
    if before.is_none_or(|(id, at)| id != response.id || at + 1 < now) {
        response.request_focus();
    } else {
        home_by_arrow(ui, response);
    }
}

/// The same for what heads a list: one that opens is read from there.
pub fn home_of_list(ui: &Ui, response: &Response) {
    let had = response.has_focus();
    home(ui, response);
    if !had && response.has_focus() {
        response.scroll_to_me(None);
    }
}

/// The screen's home, and the pass in which it was last there.
const HOME: &str = "home";

/// Gives the keyboard to a thing when somebody begins to use arrows and nothing has it: where a key that
/// was meant for the line must not press anything.
pub fn home_by_arrow(ui: &Ui, response: &Response) {
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
        // It stays there: the arrow has had its use.
        ui.memory_mut(|memory| memory.move_focus(FocusDirection::None));
    }
}

/// Whether the arrow keys to the sides move what has the keyboard, and not the keyboard itself.
pub fn takes_arrows(ui: &Ui, response: &Response) -> bool {
    if !response.has_focus() {
        return false;
    }
    let filter = EventFilter {
        horizontal_arrows: true,
        ..EventFilter::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    true
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
pub(super) fn widest(ui: &Ui) -> f32 {
    if ui.layout().main_wrap() {
        ui.max_rect().width()
    } else {
        ui.available_width()
    }
}

/// A text laid out in a width.
pub(super) fn wrapped(
    ui: &Ui,
    text: &str,
    font: FontId,
    color: Color32,
    width: f32,
) -> Arc<Galley> {
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

/// A row that goes on below when it is full.
pub fn row<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal_wrapped(add).inner
}

/// The head of a screen: its name, and the way back.
pub fn header(ui: &mut Ui, texts: &Texts, title: &str) -> bool {
    let back = header_of(ui, texts, title);
    back.clicked()
}

/// The same, where the way back is all that there is to press.
pub fn header_alone(ui: &mut Ui, texts: &Texts, title: &str) -> bool {
    let back = header_of(ui, texts, title);
    home(ui, &back);
    back.clicked()
}

fn header_of(ui: &mut Ui, texts: &Texts, title: &str) -> Response {
    let back = say(texts, "back");
    let pressed = row(ui, |ui| {
        let back = Press::new(&back).icon(Icon::Left).show(ui);
        space(ui, gap::SMALL);
        heading(ui, title);
        back
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

/// Names and what belongs to them, in two columns; a row without a value is left out.
pub fn table<'a>(ui: &mut Ui, rows: impl IntoIterator<Item = &'a (String, String)>) {
    let wide = ui.available_width();
    let beside = (0.3 * wide).clamp(0.0, 9.0 * theme::em(ui));
    for (name, value) in rows.into_iter().filter(|(_, value)| !value.is_empty()) {
        ui.horizontal_top(|ui| {
            let left = ui.next_widget_position();
            ui.vertical(|ui| {
                ui.set_width(beside);
                let font = TextStyle::Body.resolve(ui.style());
                paragraph(ui, name, font, theme::palette(ui).weak);
            });
            let space = beside + gap::SMALL * theme::em(ui);
            ui.add_space((left.x + space - ui.next_widget_position().x).max(0.0));
            ui.vertical(|ui| body(ui, value));
        });
    }
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

/// Whether a key was pressed while nobody was writing.
pub fn pressed(ui: &Ui, key: Key) -> bool {
    let writes = ui.ctx().text_edit_focused();
    !writes && ui.input(|input| input.key_pressed(key))
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
