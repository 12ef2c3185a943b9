//! The function check: what each motion did when it was tried, and whether that is accepted or
//! reported. It says what was seen, not what is right.

use bevy_egui::egui::Ui;

use super::parts::{self, Press, say};
use crate::domain::spec::Motion;
use crate::texts::Texts;
use crate::view::icons::{Icon, Mark};
use crate::view::theme::gap;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// In the order of the pendant.
    pub motions: Vec<Row>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub motion: Motion,
    pub name: String,
    /// What was seen, one sentence for each way; nothing where it has not been tried.
    pub seen: Vec<String>,
    pub stands: Stands,
}

/// What has been decided about a motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    Open,
    Accepted,
    /// Somebody comes to put it right.
    Reported,
    /// It has to be tried again.
    PutRight,
    /// Nobody has come.
    NobodyCame,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Accept(Motion),
    Report(Motion),
    Close,
}

/// `closes` is what the key is called that closes it.
pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, closes: &str) -> Option<Action> {
    let mut action = None;
    parts::subheading(ui, &say(texts, "check-title"));
    parts::note(ui, &say(texts, "check-note"));
    for (i, row) in model.motions.iter().enumerate() {
        parts::space(ui, gap::SMALL);
        parts::subheading(ui, &row.name);
        action = action.or(motion(ui, texts, row, i == 0));
    }
    parts::space(ui, gap::SMALL);
    let close = say(texts, "close");
    let press = Press::new(&close).icon(Icon::Close).key(closes);
    let pressed = press.show(ui).clicked();
    if pressed || parts::escaped(ui) {
        action = action.or(Some(Action::Close));
    }
    action
}

fn motion(ui: &mut Ui, texts: &Texts, row: &Row, is_first: bool) -> Option<Action> {
    let (mark, id) = match row.stands {
        Stands::Open if row.seen.is_empty() => (Mark::Off, "check-not-tried"),
        Stands::Open => (Mark::Note, "check-open"),
        Stands::Accepted => (Mark::Ok, "check-accepted"),
        Stands::Reported => (Mark::Caution, "check-reported"),
        Stands::PutRight => (Mark::Note, "check-put-right"),
        Stands::NobodyCame => (Mark::Caution, "check-nobody-came"),
    };
    parts::sign(ui, mark, &say(texts, id));
    if row.seen.is_empty() {
        return None;
    }
    for seen in &row.seen {
        parts::note(ui, seen);
    }
    if row.stands == Stands::Reported {
        return None;
    }
    let [accept, report] = ["check-accept", "check-report"].map(|id| say(texts, id));
    // Of many rows with the same words, each says what it is about.
    let named = |word: &str| format!("{word}: {}", row.name);
    parts::row(ui, |ui| {
        let press = Press::new(&accept).called(&named(&accept)).show(ui);
        if is_first {
            parts::home_by_arrow(ui, &press);
        }
        if press.clicked() {
            return Some(Action::Accept(row.motion));
        }
        let press = Press::new(&report).called(&named(&report)).show(ui);
        press.clicked().then_some(Action::Report(row.motion))
    })
}
