//! Settings, keys, and messages that want an answer.

use super::house::House;
use crate::session::mode::Mode;
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, BINDINGS, Bindings, KEYS, heard, key_heard, key_said};
use crate::view::icons::Mark;
use crate::view::on_foot;
use crate::view::panels::bindings::{self, Binding};
use crate::view::panels::{controls_help, dialog, settings};
use crate::view::theme::ThemeChoice;

/// What the settings are now.
pub fn model(house: &House, bound: &Bindings) -> settings::Model {
    settings::Model {
        lang: house.lang(),
        text_scale: house.text_scale(),
        theme: house.theme(),
        quality: house.quality(),
        reduced_motion: house.settings.reduced_motion,
        volume: None,
        bindings: bindings::Model {
            rows: rows(bound, house.texts()),
            keys: KEYS.iter().filter_map(|(key, _)| heard(*key)).collect(),
        },
    }
}

/// Does what was done to the settings. Says whether they are closed.
pub fn apply(action: settings::Action, house: &mut House, bound: &mut Bindings) -> bool {
    let kept = &mut house.settings;
    match action {
        settings::Action::Lang(lang) => kept.lang = Some(lang),
        settings::Action::TextScale(scale) => {
            kept.text_scale_pct = (100.0 * scale).round() as u32;
        }
        settings::Action::Theme(theme) => kept.projector = theme == ThemeChoice::Projector,
        settings::Action::Quality(quality) => {
            kept.quality = quality.map(|quality| quality.code().to_owned());
        }
        settings::Action::ReducedMotion(reduced) => kept.reduced_motion = reduced,
        settings::Action::Volume(volume) => kept.volume_pct = (100.0 * volume).round() as u32,
        settings::Action::Bindings(action) => {
            bind(action, bound);
            kept.keys = bound
                .kept()
                .map(|(code, key)| (code.to_owned(), key.to_owned()))
                .collect();
        }
        settings::Action::Back => {
            // Kept as a whole when they are left; what is wrong with the place was said at the start.
            let _ = house.keep_settings();
            return true;
        }
    }
    false
}

fn bind(action: bindings::Action, bound: &mut Bindings) {
    match action {
        bindings::Action::Bind { row, key: pressed } => {
            if let Some(key) = key_heard(pressed) {
                let _ = bound.bind(row, key);
            }
        }
        bindings::Action::Move {
            from,
            to,
            key: pressed,
        } => {
            if let Some(key) = key_heard(pressed) {
                bound.swap(from, to, key);
            }
        }
        bindings::Action::Reset => *bound = Bindings::default(),
    }
}

fn rows(bound: &Bindings, texts: &Texts) -> Vec<Binding> {
    BINDINGS
        .iter()
        .enumerate()
        .map(|(place, binding)| Binding {
            name: texts.say(&binding.act.said()),
            key: bound.key(place).and_then(heard),
            key_name: texts.say(&key_said(bound.key(place).unwrap_or(binding.key))),
            pad: binding.pad.map(|pad| texts.say(&pad_said(pad))),
            // It also goes back from every screen.
            is_fixed: binding.act == Act::Pause,
        })
        .collect()
}

/// What all keys do.
pub fn keys(bound: &Bindings, texts: &Texts) -> controls_help::Model {
    let mut groups: Vec<controls_help::Group> = Vec::new();
    for (binding, row) in BINDINGS.iter().zip(rows(bound, texts)) {
        let name = texts.say(&binding.act.group());
        match groups.iter_mut().find(|group| group.name == name) {
            Some(group) => group.rows.push(row),
            None => groups.push(controls_help::Group {
                name,
                rows: vec![row],
                lines: Vec::new(),
            }),
        }
    }
    groups.push(controls_help::Group {
        name: texts.say(&Message::new("keys-group-foot")),
        rows: Vec::new(),
        lines: on_foot::hints(texts),
    });
    controls_help::Model { groups }
}

/// A message that is only to be read.
pub fn notice(message: &Message, texts: &Texts) -> dialog::Model {
    dialog::Model {
        mark: Mark::Note,
        title: texts.say(&Message::new("notice-title")),
        what: texts.say(message),
        place: None,
        remedy: None,
        answers: vec![texts.say(&Message::new("notice-read"))],
        escape: Some(0),
    }
}

/// Whether a run shall be given up; in which mode, where it has begun.
pub fn leave(quits: bool, mode: Option<Mode>, texts: &Texts) -> dialog::Model {
    let say = |id: &'static str| texts.say(&Message::new(id));
    dialog::Model {
        mark: Mark::Caution,
        title: say(if quits { "leave-quit" } else { "leave-run" }),
        what: say(match mode {
            None => "leave-set-out",
            Some(mode) if mode.counts() => "leave-counts",
            Some(_) => "leave-counts-not",
        }),
        place: None,
        remedy: None,
        answers: vec![say("leave-yes"), say("leave-no")],
        escape: Some(1),
    }
}

fn pad_said(pad: bevy::input::gamepad::GamepadButton) -> Message {
    use bevy::input::gamepad::GamepadButton as P;
    Message::new(match pad {
        P::South => "pad-south",
        P::East => "pad-east",
        P::North => "pad-north",
        P::West => "pad-west",
        P::DPadUp => "pad-up",
        P::DPadDown => "pad-down",
        P::DPadLeft => "pad-left",
        P::DPadRight => "pad-right",
        P::LeftTrigger => "pad-left-shoulder",
        P::RightTrigger => "pad-right-shoulder",
        P::LeftTrigger2 => "pad-left-trigger",
        P::RightTrigger2 => "pad-right-trigger",
        P::LeftThumb => "pad-left-stick",
        P::RightThumb => "pad-right-stick",
        P::Select => "pad-select",
        P::Start => "pad-start",
        _ => "pad-other",
    })
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::Key;

    use super::*;

    #[test]
    fn every_key_that_can_be_bound_is_one_that_is_felt() {
        for (_, name) in KEYS {
            assert!(Key::from_name(name).is_some(), "{name}");
        }
    }
}
