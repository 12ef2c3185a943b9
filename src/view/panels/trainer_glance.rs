//! A class at a glance: who is how far, by signs; what is found most; how it goes on; what to teach.

use bevy_egui::egui::{
    Align2, CornerRadius, Pos2, Rect, Sense, Stroke, StrokeKind, TextStyle, Ui, Vec2, WidgetInfo,
    WidgetType, pos2, vec2,
};

use super::parts::{self, say};
use super::trainer::Glance;
use crate::records::Standing;
use crate::texts::{Message, Texts};
use crate::view::icons::{self, Mark};
use crate::view::theme::{self, gap};

/// Widths in heights of the text: of the names, of a cell, of a bar.
const NAME: f32 = 12.0;
const CELL: f32 = 3.9;
const BAR: f32 = 8.0;

pub fn show(ui: &mut Ui, texts: &Texts, glance: &Glance) {
    parts::subheading(ui, &glance.head);
    for note in &glance.notes {
        parts::sign(ui, Mark::Note, note);
    }
    parts::space(ui, gap::SMALL);
    if !glance.next.is_empty() {
        parts::subheading(ui, &say(texts, "summary-next"));
        for next in &glance.next {
            parts::sign(ui, Mark::Note, next);
        }
        parts::space(ui, gap::MEDIUM);
    }
    if !glance.exercises.is_empty() && !glance.people.is_empty() {
        parts::subheading(ui, &say(texts, "summary-exercises"));
        legend(ui, texts);
        table(ui, texts, glance);
        for (i, (_, said)) in glance.exercises.iter().enumerate() {
            parts::note(ui, &format!("{}  {said}", i + 1));
        }
        parts::space(ui, gap::MEDIUM);
    }
    for (id, bars) in [
        ("summary-findings", &glance.findings),
        ("summary-rounds", &glance.rounds),
    ] {
        if bars.is_empty() {
            continue;
        }
        parts::subheading(ui, &say(texts, id));
        for (share, said) in bars {
            bar(ui, *share, said);
        }
        parts::space(ui, gap::MEDIUM);
    }
}

/// What the signs of the table mean.
fn legend(ui: &mut Ui, texts: &Texts) {
    const SIGNS: [(Standing, &str); 4] = [
        (Standing::Mastered { points: 0.0 }, "trainer-sign-mastered"),
        (Standing::Passed { points: 0.0 }, "trainer-sign-passed"),
        (Standing::NotPassed { points: 0.0 }, "trainer-sign-failed"),
        (Standing::NotTried, "trainer-sign-none"),
    ];
    let em = theme::em(ui);
    let small = TextStyle::Small.resolve(ui.style());
    let weak = theme::palette(ui).weak;
    parts::row(ui, |ui| {
        for (standing, id) in SIGNS {
            let word = say(texts, id);
            let beside = (signs(standing).1 as f32 * 1.2 + 0.4) * em;
            let words = parts::wrapped(ui, &word, small.clone(), weak, parts::widest(ui) - beside);
            let size = vec2(
                beside + words.size().x + 0.8 * em,
                words.size().y.max(1.3 * em),
            );
            let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, word.as_str()));
            sign(ui, rect.left_center(), standing);
            let at = pos2(rect.left() + beside, rect.center().y - 0.5 * words.size().y);
            ui.painter().galley(at, words, weak);
        }
    });
}

/// The sign of a standing, and how often it stands.
fn signs(standing: Standing) -> (Mark, u8) {
    match standing {
        Standing::NotTried => (Mark::Off, 1),
        Standing::NotPassed { .. } => (Mark::Not, 1),
        Standing::Passed { .. } => (Mark::Ok, 1),
        Standing::Mastered { .. } => (Mark::Ok, 2),
    }
}

/// Paints the sign of a standing, from its left middle on.
fn sign(ui: &Ui, left: Pos2, standing: Standing) {
    let em = theme::em(ui);
    let (mark, times) = signs(standing);
    // Not yet is not to be louder than what has been done.
    let size = if standing == Standing::NotTried {
        0.6
    } else {
        1.1
    };
    for i in 0..times {
        let middle = left + vec2((0.55 + 1.2 * f32::from(i)) * em, 0.0);
        let square = Rect::from_center_size(middle, Vec2::splat(size * em));
        icons::mark(ui.painter(), square, mark, theme::palette(ui));
    }
}

/// In words.
pub(super) fn standing_said(texts: &Texts, standing: Standing) -> String {
    let message = match standing {
        Standing::NotTried => Message::new("best-none"),
        Standing::NotPassed { points } => {
            Message::new("trainer-not-passed").measured("points", points, 0)
        }
        Standing::Passed { points } => Message::new("best-passed").measured("points", points, 0),
        Standing::Mastered { .. } => Message::new("best-mastered"),
    };
    texts.say(&message)
}

/// As many exercises beside each other as there is room for; the rest below.
fn table(ui: &mut Ui, texts: &Texts, glance: &Glance) {
    let em = theme::em(ui);
    let room = ui.available_width() - NAME * em;
    let columns = ((room / (CELL * em)).floor() as usize).max(1);
    let count = glance.exercises.len();
    for first in (0..count).step_by(columns) {
        let shown = first..(first + columns).min(count);
        numbers(ui, shown.clone());
        for (name, standings) in &glance.people {
            person(ui, texts, glance, name, standings, shown.clone());
        }
        parts::space(ui, gap::SMALL);
    }
}

/// Where a cell begins.
fn left_of(ui: &Ui, rect: Rect, column: usize) -> f32 {
    rect.left() + (NAME + CELL * column as f32) * theme::em(ui)
}

fn numbers(ui: &mut Ui, shown: std::ops::Range<usize>) {
    let em = theme::em(ui);
    let size = vec2(ui.available_width(), 1.4 * em);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let weak = theme::palette(ui).weak;
    for (column, exercise) in shown.enumerate() {
        let at = pos2(left_of(ui, rect, column), rect.center().y);
        let number = (exercise + 1).to_string();
        ui.painter()
            .text(at, Align2::LEFT_CENTER, number, theme::bold(ui, 0.85), weak);
    }
}

fn person(
    ui: &mut Ui,
    texts: &Texts,
    glance: &Glance,
    name: &str,
    standings: &[Standing],
    shown: std::ops::Range<usize>,
) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let body = TextStyle::Body.resolve(ui.style());
    let words = parts::wrapped(ui, name, body, palette.text, (NAME - 0.8) * em);
    let tall = (words.size().y + 0.4 * em).max(1.9 * em);
    let size = vec2(ui.available_width(), tall);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let told = |exercise: usize| {
        let title = glance
            .exercises
            .get(exercise)
            .map(|(title, _)| title.as_str());
        let standing = standings.get(exercise).copied().unwrap_or_default();
        format!(
            "{}: {}",
            title.unwrap_or_default(),
            standing_said(texts, standing)
        )
    };
    response.widget_info(|| {
        let all: Vec<String> = shown.clone().map(told).collect();
        let all = format!("{name}. {}", all.join(". "));
        WidgetInfo::labeled(WidgetType::Label, true, all)
    });
    let pointed = response.hover_pos().map(|at| at.x);
    if ui.is_rect_visible(rect) {
        let line = Stroke::new(1.0, palette.line);
        ui.painter().hline(rect.x_range(), rect.top(), line);
        let at = pos2(rect.left(), rect.center().y - 0.5 * words.size().y);
        ui.painter().galley(at, words, palette.text);
        for (column, exercise) in shown.clone().enumerate() {
            let standing = standings.get(exercise).copied().unwrap_or_default();
            let left = pos2(left_of(ui, rect, column), rect.center().y);
            sign(ui, left, standing);
            let points = match standing {
                Standing::NotPassed { points } | Standing::Passed { points } => points,
                Standing::NotTried | Standing::Mastered { .. } => continue,
            };
            ui.painter().text(
                left + vec2(1.35 * em, 0.0),
                Align2::LEFT_CENTER,
                format!("{points:.0}"),
                theme::numbers(ui, 0.9),
                palette.text,
            );
        }
    }
    let pointed = pointed.map(|x| ((x - left_of(ui, rect, 0)) / (CELL * em)).floor());
    let exercise = pointed.filter(|column| *column >= 0.0);
    let exercise = exercise.map(|column| shown.start + column as usize);
    if let Some(exercise) = exercise.filter(|exercise| shown.contains(exercise)) {
        response.on_hover_text_at_pointer(told(exercise));
    }
}

/// A share, 0 to 1, as a bar, and its words.
fn bar(ui: &mut Ui, share: f32, said: &str) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let body = TextStyle::Body.resolve(ui.style());
    let beside = (BAR * em).min(0.3 * ui.available_width());
    let words = parts::wrapped(
        ui,
        said,
        body,
        palette.text,
        ui.available_width() - beside - gap::MEDIUM * em,
    );
    let size = vec2(ui.available_width(), words.size().y.max(1.3 * em));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, said));
    if !ui.is_rect_visible(rect) {
        return;
    }
    let top = rect.top() + 0.15 * em;
    let frame = Rect::from_min_size(pos2(rect.left(), top), vec2(beside, em));
    let filled = Rect::from_min_size(
        frame.min,
        vec2(share.clamp(0.0, 1.0) * frame.width(), frame.height()),
    );
    let painter = ui.painter();
    painter.rect_filled(filled, CornerRadius::ZERO, palette.series[0]);
    painter.rect_stroke(
        frame,
        CornerRadius::ZERO,
        Stroke::new(1.0, palette.edge),
        StrokeKind::Inside,
    );
    let at = pos2(rect.left() + beside + gap::MEDIUM * em, rect.top());
    painter.galley(at, words, palette.text);
}
