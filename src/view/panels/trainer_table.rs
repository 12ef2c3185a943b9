//! The people of a class, each in a row that leads to them.

use std::sync::Arc;

use bevy_egui::egui::{
    Color32, FontId, Galley, Rect, Response, Sense, Stroke, TextStyle, Ui, Vec2, WidgetInfo,
    WidgetType, pos2, vec2,
};

use super::parts::{self, Press, say};
use super::trainer::{Action, Model, Row, State};
use crate::texts::Texts;
use crate::view::icons::{self, Mark};
use crate::view::theme::{self, gap};

/// Columns, and their shares of the width.
const COLUMNS: [(&str, f32); 5] = [
    ("trainer-name", 0.26),
    ("trainer-attempts", 0.11),
    ("trainer-passed", 0.13),
    ("trainer-last", 0.31),
    ("trainer-due", 0.19),
];

/// How wide columns are above and in what scrolls here, whether or not there is a bar at its side.
pub fn width(ui: &Ui) -> f32 {
    let bar = ui.spacing().scroll.allocated_width();
    ui.available_width() - 2.0 * parts::SCROLL_MARGIN - bar
}

/// In columns of a width, or below each other.
pub fn show(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    width: Option<f32>,
) -> Option<Action> {
    if model.people.is_empty() {
        if model.busy.is_none() && model.fault.is_none() {
            parts::sign(ui, Mark::Note, &say(texts, "trainer-nobody"));
        }
        return None;
    }
    let sought = state.sought.trim().to_lowercase();
    let mut action = None;
    let mut is_any = false;
    for (i, person) in model.people.iter().enumerate() {
        if !person.name.to_lowercase().contains(&sought) {
            continue;
        }
        is_any = true;
        let response = match width {
            Some(width) => {
                let row = ui.push_id(("person", i), |ui| row(ui, texts, person, width));
                row.inner
            }
            None => card(ui, texts, person),
        };
        if std::mem::take(&mut state.goes_on) {
            response.request_focus();
        }
        if response.clicked() {
            action = Some(Action::Person(i));
        }
    }
    if !is_any {
        parts::sign(ui, Mark::Note, &say(texts, "trainer-none-found"));
    }
    action
}

/// What is known of a person, in one line.
fn line(texts: &Texts, person: &Row) -> String {
    let named = |id: &'static str, value: &str| format!("{}: {value}", say(texts, id));
    let mut told = vec![
        named("trainer-attempts", &person.attempts),
        named("trainer-passed", &person.passed),
    ];
    let due = person.due.as_ref();
    told.extend(due.map(|(_, due)| named("trainer-due", due)));
    told.join(", ")
}

/// A row where there is no room for columns.
fn card(ui: &mut Ui, texts: &Texts, person: &Row) -> Response {
    let line = line(texts, person);
    let mut press = Press::new(&person.name).note(&line).listed();
    if let Some((mark, last)) = &person.last {
        press = press.mark(*mark, last);
    }
    press.show(ui)
}

/// What stands in a column: a sign, and words.
type Cell<'a> = (Option<Mark>, &'a str);

/// What stands in the columns: above the rows, which scroll.
pub fn heads(ui: &mut Ui, texts: &Texts) {
    let width = width(ui);
    let words = COLUMNS.map(|(id, _)| say(texts, id));
    let cells = words.each_ref().map(|word| (None, word.as_str()));
    let small = TextStyle::Small.resolve(ui.style());
    let weak = theme::palette(ui).weak;
    let laid = lay(ui, width, &cells, [&small; 5].map(Clone::clone), weak);
    let size = vec2(ui.available_width(), height(&laid));
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let rect = rect.translate(vec2(parts::SCROLL_MARGIN, 0.0));
    paint(ui, rect, &laid, weak);
}

fn row(ui: &mut Ui, texts: &Texts, person: &Row, width: f32) -> Response {
    let [none, no_date] = ["trainer-none", "trainer-no-date"].map(|id| say(texts, id));
    let cells = [
        (None, person.name.as_str()),
        (None, person.attempts.as_str()),
        (None, person.passed.as_str()),
        of(
            person
                .last
                .as_ref()
                .map(|(mark, said)| (Some(*mark), said.as_str())),
            &none,
        ),
        of(
            person
                .due
                .as_ref()
                .map(|(mark, said)| (*mark, said.as_str())),
            &no_date,
        ),
    ];
    let palette = theme::palette(ui);
    let plain = TextStyle::Body.resolve(ui.style());
    let fonts = [
        theme::bold(ui, 1.0),
        theme::numbers(ui, 1.0),
        theme::numbers(ui, 1.0),
        plain.clone(),
        plain,
    ];
    let laid = lay(ui, width, &cells, fonts, palette.text);
    let tall = height(&laid).max(ui.spacing().interact_size.y);
    let (rect, response) = ui.allocate_exact_size(vec2(width, tall), Sense::click());
    response.widget_info(|| {
        WidgetInfo::labeled(WidgetType::Button, ui.is_enabled(), person.name.as_str())
    });
    ui.ctx().accesskit_node_builder(response.id, |node| {
        let last = person.last.as_ref().map(|(_, last)| last.as_str());
        let told = [line(texts, person), last.unwrap_or_default().to_owned()];
        node.set_description(told.join(". "));
    });
    if ui.is_rect_visible(rect) {
        if response.hovered() || response.has_focus() {
            ui.painter()
                .rect_filled(rect, theme::CORNER, palette.button_hovered);
        }
        let below = rect.bottom() + 0.5 * ui.spacing().item_spacing.y;
        ui.painter()
            .hline(rect.x_range(), below, Stroke::new(1.0, palette.line));
        paint(ui, rect, &laid, palette.text);
    }
    parts::seen(response)
}

fn of<'a>(cell: Option<Cell<'a>>, none: &'a str) -> Cell<'a> {
    cell.unwrap_or((None, none))
}

/// A cell laid out: its place from the left, its sign, its words.
struct Laid {
    left: f32,
    mark: Option<Mark>,
    words: Arc<Galley>,
}

fn lay(ui: &Ui, width: f32, cells: &[Cell; 5], fonts: [FontId; 5], color: Color32) -> Vec<Laid> {
    let em = theme::em(ui);
    let mut left = gap::SMALL * em;
    let mut laid = Vec::with_capacity(cells.len());
    for (((mark, text), font), (_, share)) in cells.iter().zip(fonts).zip(COLUMNS) {
        let beside = mark.map_or(0.0, |_| 1.6 * em);
        let room = share * (width - gap::SMALL * em) - beside - gap::SMALL * em;
        laid.push(Laid {
            left,
            mark: *mark,
            words: parts::wrapped(ui, text, font, color, room),
        });
        left += share * (width - gap::SMALL * em);
    }
    laid
}

fn height(laid: &[Laid]) -> f32 {
    let tall = |most: f32, cell: &Laid| most.max(cell.words.size().y);
    let most = laid.iter().fold(0.0, tall);
    let font = laid.first().and_then(|cell| cell.words.rows.first());
    let line = font.map_or(0.0, |row| row.rect().height());
    most + 0.6 * line
}

fn paint(ui: &Ui, rect: Rect, laid: &[Laid], color: Color32) {
    let em = theme::em(ui);
    for cell in laid {
        let top = rect.center().y - 0.5 * cell.words.size().y;
        let mut at = pos2(rect.left() + cell.left, top);
        if let Some(mark) = cell.mark {
            let first = cell.words.rows.first();
            let first = first.map_or(em, |row| row.rect().height());
            let middle = at + vec2(0.6 * em, 0.5 * first);
            let square = Rect::from_center_size(middle, Vec2::splat(1.1 * em));
            icons::mark(ui.painter(), square, mark, theme::palette(ui));
            at.x += 1.6 * em;
        }
        ui.painter().galley(at, Arc::clone(&cell.words), color);
    }
}
