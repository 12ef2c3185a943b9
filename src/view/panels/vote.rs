//! The class predicts what will come of it, by key or by a show of hands, before it watches.

use bevy_egui::egui::{CornerRadius, Frame, Panel, Rect, Sense, Ui, pos2, vec2};

use super::parts::{self, Press, say};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    pub question: String,
    /// At most nine.
    pub choices: Vec<Choice>,
    /// After the run: which it was.
    pub came: Option<usize>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub text: String,
    pub votes: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// So many votes more, fewer where negative.
    Vote {
        choice: usize,
        by: i32,
    },
    /// The votes are in: watch, or go on after it has been told.
    Go,
    Back,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    parts::screen(ui, |ui| {
        let title = say(texts, "vote-title");
        // What has come is not voted on again.
        let back = if model.came.is_some() {
            parts::heading(ui, &title);
            parts::space(ui, gap::SMALL);
            false
        } else {
            parts::header(ui, texts, &title) || parts::escaped(ui)
        };
        let go = Panel::bottom("go")
            .frame(Frame::new())
            .show(ui, |ui| {
                parts::space(ui, gap::SMALL);
                let id = if model.came.is_some() {
                    "vote-go-on"
                } else {
                    "vote-watch"
                };
                let text = say(texts, id);
                let press = Press::new(&text).icon(Icon::Play).primary().show(ui);
                parts::home(ui, &press);
                press.clicked()
            })
            .inner;
        let voted = parts::scroll(ui, "choices", true, |ui| {
            let palette = theme::palette(ui);
            parts::paragraph(ui, &model.question, theme::bold(ui, 1.3), palette.text);
            if model.came.is_none() {
                parts::note(ui, &say(texts, "vote-note"));
            }
            parts::space(ui, gap::SMALL);
            let most = model.choices.iter().map(|choice| choice.votes).max();
            let most = most.unwrap_or(0).max(1);
            let mut voted = None;
            for (i, choice) in model.choices.iter().enumerate() {
                let one = ui.push_id(i, |ui| {
                    parts::raised(ui, |ui| one(ui, texts, model, i, choice, most))
                });
                voted = voted.or(one.inner);
            }
            voted
        });
        let by_key = parts::NUMBERS
            .iter()
            .take(model.choices.len())
            .position(|&key| parts::pressed(ui, key))
            .filter(|_| model.came.is_none());
        let voted = voted.or(by_key.map(|choice| Action::Vote { choice, by: 1 }));
        match (go, back) {
            (true, _) => Some(Action::Go),
            (_, true) => Some(Action::Back),
            _ => voted,
        }
    })
}

fn one(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    i: usize,
    choice: &Choice,
    most: u32,
) -> Option<Action> {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let text = Message::new("vote-choice")
        .with("key", (i + 1).to_string())
        .with("choice", choice.text.as_str());
    parts::paragraph(ui, &texts.say(&text), theme::bold(ui, 1.2), palette.text);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 0.8 * em), Sense::hover());
    let share = choice.votes as f32 / most as f32;
    let bar = Rect::from_min_max(
        rect.min,
        pos2(rect.left() + share * rect.width(), rect.bottom()),
    );
    let corner = CornerRadius::same(2);
    ui.painter().rect_filled(rect, corner, palette.line);
    ui.painter().rect_filled(bar, corner, palette.accent);
    if model.came == Some(i) {
        parts::sign(ui, Mark::Ok, &say(texts, "vote-came"));
    }
    let votes = Message::new("vote-count").with("votes", u64::from(choice.votes));
    let votes = texts.say(&votes);
    if model.came.is_some() {
        parts::body(ui, &votes);
        return None;
    }
    let ends = [choice.votes == 0, false];
    let steps = parts::row(ui, |ui| {
        parts::stepper(ui, texts, &choice.text, &votes, ends)
    });
    (steps != 0).then_some(Action::Vote {
        choice: i,
        by: steps,
    })
}
