//! The laboratory's right side: the trials of the pitch that is looked at, and the one that is seen.

use bevy_egui::egui::Ui;

use super::lab::{Action, Chosen, Model, Point};
use super::parts::{self, Press, say};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let Some(point) = &model.point else {
        parts::subheading(ui, &say(texts, "labscreen-trials"));
        parts::body(ui, &say(texts, "labscreen-trials-none"));
        return None;
    };
    parts::subheading(ui, &point.title);
    let seen = match &point.chosen {
        Some(chosen) => self::chosen(ui, texts, chosen),
        None => {
            parts::note(ui, &say(texts, "labscreen-trials-note"));
            None
        }
    };
    parts::space(ui, gap::SMALL);
    seen.or(list(ui, texts, point))
}

fn chosen(ui: &mut Ui, texts: &Texts, chosen: &Chosen) -> Option<Action> {
    let mut action = None;
    if let Some(picture) = chosen.picture {
        let most = 13.0 * theme::em(ui);
        parts::picture(ui, picture, &chosen.title, most);
    }
    if let Some(plays) = chosen.plays {
        parts::row(ui, |ui| {
            let (id, icon) = if plays {
                ("labscreen-hold", Icon::Pause)
            } else {
                ("labscreen-play", Icon::Play)
            };
            let text = say(texts, id);
            if Press::new(&text).only_icon(icon).show(ui).clicked() {
                action = Some(Action::Play(!plays));
            }
            let text = say(texts, "labscreen-watch");
            let press = Press::new(&text).icon(Icon::Look).primary();
            if press.show(ui).clicked() {
                action = Some(Action::Watch);
            }
            parts::show_value(ui, &chosen.clock, 0.0);
        });
    }
    parts::body(ui, &chosen.title);
    for (mark, told) in &chosen.told {
        parts::sign(ui, *mark, told);
    }
    numbers(ui, &chosen.numbers);
    action
}

/// What the trial was run with.
pub(super) fn numbers(ui: &mut Ui, numbers: &[(String, String)]) {
    for (path, value) in numbers {
        parts::note(ui, &format!("{path}: {value}"));
    }
}

fn list(ui: &mut Ui, texts: &Texts, point: &Point) -> Option<Action> {
    let mut action =
        parts::row(ui, |ui| parts::choice(ui, &point.kinds, point.kind)).map(Action::Kind);
    if point.trials.is_empty() {
        parts::sign(ui, Mark::Note, &say(texts, "labscreen-trials-empty"));
    }
    for (i, trial) in point.trials.iter().enumerate() {
        let press = Press::new(&trial.title)
            .mark(trial.mark, &trial.said)
            .selected(trial.is_chosen)
            .fill();
        if press.show(ui).clicked() {
            action = Some(Action::Trial(i));
        }
    }
    if point.pages > 1 {
        let name = say(texts, "labscreen-page");
        let said = Message::new("labscreen-page-of")
            .with("page", point.page + 1)
            .with("pages", point.pages);
        let ends = [point.page == 0, point.page + 1 == point.pages];
        let steps = parts::row(ui, |ui| {
            parts::stepper(ui, texts, &name, &texts.say(&said), ends)
        });
        if steps != 0 {
            action = Some(Action::Page(steps));
        }
    }
    action
}
