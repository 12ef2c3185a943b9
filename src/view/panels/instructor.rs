//! What an instructor can bring about while a trainee practises. The keys do the same at once, from a
//! second keyboard, without anything to be seen beforehand.

use bevy_egui::egui::Ui;

use super::parts::{self, Press, say};
use crate::sim::controls::Upset;
use crate::texts::Texts;
use crate::view::bindings::{Act, Bindings};
use crate::view::icons::Icon;
use crate::words;

/// What can be brought about, whether it can now, and the names of the keys.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Model(pub Vec<(Upset, bool, String)>);

impl Model {
    pub fn of(bindings: &Bindings, texts: &Texts, may: impl Fn(Upset) -> bool) -> Self {
        let named = |upset| (upset, may(upset), bindings.said(Act::Upset(upset), texts));
        Self(Upset::ALL.map(named).into())
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Upset(Upset),
    Close,
}

/// `closes` is what the key is called that closes it.
pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, closes: &str) -> Option<Action> {
    let mut action = None;
    parts::subheading(ui, &say(texts, "instructor-title"));
    parts::note(ui, &say(texts, "instructor-note"));
    for (i, (upset, may, key)) in model.0.iter().enumerate() {
        let said = parts::sentence(&texts.say(&words::upset(*upset)));
        let press = Press::new(&said).listed().key(key);
        let press = ui.add_enabled_ui(*may, |ui| press.show(ui)).inner;
        if i == 0 {
            parts::home_by_arrow(ui, &press);
        }
        if press.clicked() {
            action = Some(Action::Upset(*upset));
        }
    }
    let close = say(texts, "close");
    let press = Press::new(&close).icon(Icon::Close).key(closes);
    if press.show(ui).clicked() || parts::escaped(ui) {
        action = action.or(Some(Action::Close));
    }
    action
}
