//! What can be said over the radio, and the cranks of the jacks. Their keys are named, and heard by the
//! line itself.

use bevy_egui::egui::Ui;

use super::parts::{self, Press, say};
use crate::sim::controls::{Button, Call, Held};
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, BINDINGS, Bindings};
use crate::view::icons::Icon;
use crate::view::theme::gap;
use crate::words;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// What can be said, with the names of the keys that say it; empty where there is none.
    pub calls: Vec<(Call, String)>,
    /// The cranks that the operator can turn, with the names of their keys.
    pub cranks: Vec<(Button, String)>,
}

/// The cranks of the jacks.
const CRANKS: [Button; 4] = [
    Button::JackNearUp,
    Button::JackNearDown,
    Button::JackFarUp,
    Button::JackFarDown,
];

impl Model {
    /// Everything that has a key, in the keys' order.
    pub fn of(bindings: &Bindings, texts: &Texts) -> Self {
        let calls = BINDINGS.iter().filter_map(|binding| match binding.act {
            Act::Say(call) => Some((call, bindings.said(binding.act, texts))),
            _ => None,
        });
        let crank = |crank| (crank, bindings.said(Act::Hold(crank), texts));
        Self {
            calls: calls.collect(),
            cranks: CRANKS.map(crank).into(),
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Say(Call),
    Close,
}

/// What was done in a pass: a call, and cranks that are held.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Done {
    pub action: Option<Action>,
    pub held: Held,
}

/// What a call says, with what it is about.
pub fn text(call: Call) -> Message {
    let said = words::call(call);
    let about = match call {
        Call::BarFromEnd(end) => words::end(end),
        Call::Repair(item) => words::item(item),
        _ => return said,
    };
    Message::new("radio-about")
        .with("call", said)
        .with("about", about)
}

/// `closes` is what the key is called that closes it.
pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, closes: &str) -> Done {
    let mut done = Done::default();
    parts::subheading(ui, &say(texts, "radio-title"));
    parts::note(ui, &say(texts, "radio-note"));
    for (i, (call, key)) in model.calls.iter().enumerate() {
        let said = parts::sentence(&texts.say(&text(*call)));
        let press = Press::new(&said).listed().key(key).show(ui);
        if i == 0 {
            parts::home_by_arrow(ui, &press);
        }
        if press.clicked() {
            done.action = Some(Action::Say(*call));
        }
    }
    if !model.cranks.is_empty() {
        parts::space(ui, gap::SMALL);
        parts::subheading(ui, &say(texts, "radio-cranks"));
        parts::note(ui, &say(texts, "radio-cranks-note"));
        for (button, key) in &model.cranks {
            let name = parts::sentence(&texts.say(&words::button(*button)));
            let icon = match button {
                Button::JackNearUp | Button::JackFarUp => Icon::Up,
                _ => Icon::Down,
            };
            let press = Press::new(&name).icon(icon).listed().held().key(key);
            let press = press.show(ui);
            if press.contains_pointer() && press.is_pointer_button_down_on() {
                done.held = done.held.with(*button);
            }
        }
    }
    let close = say(texts, "close");
    let press = Press::new(&close).icon(Icon::Close).key(closes);
    if press.show(ui).clicked() || parts::escaped(ui) {
        done.action = done.action.or(Some(Action::Close));
    }
    done
}
