//! Which key does what: shown, and changed by pressing another. A key does one thing only; one that is
//! taken is not given away unasked.

use bevy_egui::egui::{Event, EventFilter, Id, Key, TextStyle, Ui};

use super::parts::{self, Press, say};
use crate::texts::{Message, Texts};
use crate::view::icons::Mark;
use crate::view::theme;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    pub rows: Vec<Binding>,
    /// What can be bound.
    pub keys: Vec<Key>,
}

/// What is done by a key.
#[derive(Clone, Debug, PartialEq)]
pub struct Binding {
    pub name: String,
    pub key: Option<Key>,
    /// What the key is called; empty where there is none.
    pub key_name: String,
    /// Its button on a gamepad, shown only.
    pub pad: Option<String>,
    /// Keys that are not to be changed, such as Escape.
    pub is_fixed: bool,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    /// The row that waits for a key.
    listening: Option<usize>,
    /// A key that is taken: for which row, the key, by whom.
    taken: Option<(usize, Key, usize)>,
    /// A row for which a key was pressed that cannot be bound.
    refused: Option<usize>,
}

impl State {
    /// Whether the next key is meant for a row.
    pub fn is_listening(&self) -> bool {
        self.listening.is_some()
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Bind {
        row: usize,
        key: Key,
    },
    /// A key goes from one row to another.
    Move {
        from: usize,
        to: usize,
        key: Key,
    },
    Reset,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    let heard = heard(ui, model, state);
    let mut action = heard;
    for (i, binding) in model.rows.iter().enumerate() {
        let one = ui.push_id(i, |ui| one(ui, texts, model, state, i, binding));
        action = action.or(one.inner);
    }
    action
}

/// Room for the name of a key, in heights of the text.
pub const KEY_WIDTH: f32 = 6.0;

fn one(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    i: usize,
    binding: &Binding,
) -> Option<Action> {
    let mut action = None;
    let listens = state.listening == Some(i);
    let key = named(texts, binding);
    parts::row(ui, |ui| {
        let shown = if listens {
            say(texts, "keys-listening")
        } else {
            key.clone()
        };
        let called = Message::new("keys-change")
            .with("what", parts::sentence(&binding.name))
            .with("key", key.as_str());
        let called = texts.say(&called);
        let press = ui.add_enabled_ui(!binding.is_fixed, |ui| {
            Press::new(&shown)
                .called(&called)
                .selected(listens)
                .at_least(KEY_WIDTH)
                .show(ui)
        });
        let press = press.inner;
        if listens {
            // Arrows, Tab and Escape are meant for the row, not for moving on.
            let all = EventFilter {
                tab: true,
                horizontal_arrows: true,
                vertical_arrows: true,
                escape: true,
            };
            press.request_focus();
            ui.memory_mut(|memory| memory.set_focus_lock_filter(press.id, all));
        } else if press.clicked() {
            state.listening = Some(i);
            state.taken = None;
            state.refused = None;
            let now = ui.ctx().cumulative_pass_nr();
            ui.data_mut(|data| data.insert_temp(Id::new(SINCE), now));
        }
        let font = TextStyle::Body.resolve(ui.style());
        parts::paragraph(
            ui,
            &parts::sentence(&binding.name),
            font,
            theme::palette(ui).text,
        );
        if let Some(pad) = &binding.pad {
            let pad = Message::new("keys-pad").with("button", pad.as_str());
            let font = TextStyle::Small.resolve(ui.style());
            parts::paragraph(ui, &texts.say(&pad), font, theme::palette(ui).weak);
        }
    });
    if let Some((row, key, by)) = state.taken
        && row == i
    {
        let other = model.rows.get(by);
        let [other_name, key_name] = other.map_or(["", ""], |other| {
            [other.name.as_str(), other.key_name.as_str()]
        });
        let is_fixed = other.is_some_and(|other| other.is_fixed);
        let text = Message::new("keys-taken")
            .with("key", key_name)
            .with("what", other_name);
        parts::sign(ui, Mark::Not, &texts.say(&text));
        parts::row(ui, |ui| {
            let anyway = say(texts, "keys-move");
            if !is_fixed && Press::new(&anyway).show(ui).clicked() {
                action = Some(Action::Move {
                    from: by,
                    to: row,
                    key,
                });
                state.taken = None;
            }
            let leave = say(texts, "keys-leave");
            if Press::new(&leave).show(ui).clicked() {
                state.taken = None;
            }
        });
    }
    if state.refused == Some(i) {
        parts::sign(ui, Mark::Not, &say(texts, "keys-refused"));
    }
    action
}

/// What the key of a row is called.
pub(super) fn named(texts: &Texts, binding: &Binding) -> String {
    if binding.key_name.is_empty() {
        say(texts, "keys-none")
    } else {
        binding.key_name.clone()
    }
}

/// The pass in which listening began: what pressed the button is not what is listened for.
const SINCE: &str = "since";

/// Takes the key that a row waits for.
fn heard(ui: &Ui, model: &Model, state: &mut State) -> Option<Action> {
    let row = state.listening?;
    let since: u64 = ui.data(|data| data.get_temp(Id::new(SINCE))).unwrap_or(0);
    if ui.ctx().cumulative_pass_nr() <= since {
        return None;
    }
    let key = ui.input(|input| {
        input.events.iter().find_map(|event| match event {
            Event::Key {
                key,
                pressed: true,
                repeat: false,
                ..
            } => Some(*key),
            _ => None,
        })
    })?;
    state.listening = None;
    if key == Key::Escape {
        return None;
    }
    let is_at = |binding: &Binding| binding.key == Some(key);
    match model.rows.iter().position(is_at) {
        Some(by) if by != row => {
            state.taken = Some((row, key, by));
            None
        }
        _ if !model.keys.contains(&key) => {
            state.refused = Some(row);
            None
        }
        _ => Some(Action::Bind { row, key }),
    }
}
