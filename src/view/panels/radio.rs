//! What can be said over the radio, and the cranks of the jacks: a menu by number keys or by pressing.

use bevy_egui::egui::{Key, Ui};

use super::parts::{self, Press, say};
use crate::sim::controls::{Button, Call, Held};
use crate::texts::{Message, Texts};
use crate::view::icons::Icon;
use crate::view::theme::gap;
use crate::words;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// In the order of their number keys.
    pub calls: Vec<Call>,
    /// Whether the operator stands where a jack can be cranked.
    pub has_cranks: bool,
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

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Done {
    let mut done = Done::default();
    parts::subheading(ui, &say(texts, "radio-title"));
    parts::note(ui, &say(texts, "radio-note"));
    for (i, &call) in model.calls.iter().enumerate() {
        let said = parts::sentence(&texts.say(&text(call)));
        let key = parts::NUMBERS.get(i);
        let line = match key {
            Some(_) => texts.say(
                &Message::new("radio-row")
                    .with("key", (i + 1).to_string())
                    .with("call", said.as_str()),
            ),
            None => said.clone(),
        };
        let press = Press::new(&line)
            .called(&said)
            .selected(false)
            .fill()
            .show(ui);
        if i == 0 {
            parts::home(ui, &press);
        }
        let by_key = key.is_some_and(|&key| parts::pressed(ui, key));
        if press.clicked() || by_key {
            done.action = Some(Action::Say(call));
        }
    }
    if model.has_cranks {
        parts::space(ui, gap::SMALL);
        parts::subheading(ui, &say(texts, "radio-cranks"));
        parts::note(ui, &say(texts, "radio-cranks-note"));
        for button in [
            Button::JackNearUp,
            Button::JackNearDown,
            Button::JackFarUp,
            Button::JackFarDown,
        ] {
            let name = parts::sentence(&texts.say(&words::button(button)));
            let icon = match button {
                Button::JackNearUp | Button::JackFarUp => Icon::Up,
                _ => Icon::Down,
            };
            let press = Press::new(&name).icon(icon).fill().held().show(ui);
            let over = press.contains_pointer() && press.is_pointer_button_down_on();
            let space =
                press.has_focus() && ui.input(|input| input.focused && input.key_down(Key::Space));
            if over || space {
                done.held = done.held.with(button);
            }
        }
    }
    let close = say(texts, "close");
    let pressed = Press::new(&close).icon(Icon::Close).show(ui).clicked();
    if pressed || parts::escaped(ui) {
        done.action = done.action.or(Some(Action::Close));
    }
    done
}
