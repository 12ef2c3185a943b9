//! Which key and which button of a gamepad does what on the line.
//!
//! Every act has one key and at most one button of the gamepad; the keys can be changed. A motion's
//! two ways lie over each other on the keyboard, as on the pendant.

use bevy::input::gamepad::GamepadButton;
use bevy::input::keyboard::KeyCode;
use bevy::prelude::Resource;
use bevy_egui::egui::Key;

use super::camera::CameraName;
use crate::domain::rig::End;
use crate::sim::controls::{Button, Call, Upset};
use crate::texts::{Message, Texts};
use crate::words;

/// Something that is done by a key on the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Act {
    /// Held: a button of the pendant or a crank.
    Hold(Button),
    EmergencyStop,
    /// Lets the emergency stop go.
    Reset,
    /// Isolates and locks the power, or takes the lock off again.
    Isolate,
    Say(Call),
    /// Opens what can be said over the radio.
    Radio,
    /// Opens what an instructor can bring about, in practice.
    Instructor,
    /// Brings it about at once.
    Upset(Upset),
    /// Opens what the motions did when they were tried.
    Check,
    Look(CameraName),
    /// The operator's own view, wherever one looks from.
    SecondView,
    /// Folds everything over the scene away.
    Fold,
    /// Help on request.
    Help,
    /// Shows and hides what is drawn into the scene to teach.
    Overlays,
    Slower,
    Faster,
    Step,
    /// Back by a few seconds, in practice.
    Rewind,
    /// Takes over from the moment that is shown, or from whoever shows how it is done.
    TakeOver,
    Pause,
    /// The trainee is done; before pipe moves: the line is started.
    Done,
    /// On foot: keys go to the list beside the scene, or back to the feet.
    List,
}

impl Act {
    /// What it does.
    pub fn said(self) -> Message {
        match self {
            Self::Hold(button) => words::button(button),
            Self::Say(call) => Message::new("key-say").with("call", words::call(call)),
            Self::Look(name) => name.said(),
            Self::EmergencyStop => "key-emergency-stop".into(),
            Self::Reset => "key-reset".into(),
            Self::Isolate => "key-isolate".into(),
            Self::Upset(upset) => words::upset(upset),
            Self::Instructor => "key-instructor".into(),
            Self::Radio => "key-radio".into(),
            Self::Check => "key-check".into(),
            Self::SecondView => "key-second-view".into(),
            Self::Fold => "key-fold".into(),
            Self::Help => "key-help".into(),
            Self::Overlays => "key-overlays".into(),
            Self::Slower => "key-slower".into(),
            Self::Faster => "key-faster".into(),
            Self::Step => "key-step".into(),
            Self::Rewind => "key-rewind".into(),
            Self::TakeOver => "key-take-over".into(),
            Self::Pause => "key-pause".into(),
            Self::Done => "key-done".into(),
            Self::List => "key-list".into(),
        }
    }

    /// What it belongs to.
    pub fn group(self) -> Message {
        Message::new(match self {
            Self::Hold(_) | Self::Check => "keys-group-pendant",
            Self::EmergencyStop | Self::Reset | Self::Isolate => "keys-group-safety",
            Self::Say(_) | Self::Radio => "keys-group-radio",
            Self::Instructor | Self::Upset(_) => "keys-group-instructor",
            Self::Look(_) | Self::SecondView | Self::Fold | Self::Overlays => "keys-group-look",
            Self::Slower
            | Self::Faster
            | Self::Step
            | Self::Rewind
            | Self::TakeOver
            | Self::Pause
            | Self::Done
            | Self::List
            | Self::Help => "keys-group-time",
        })
    }
}

/// An act, its name in files, its key and its button on a gamepad.
pub struct Binding {
    pub act: Act,
    pub code: &'static str,
    pub key: KeyCode,
    pub pad: Option<GamepadButton>,
}

const fn binding(
    act: Act,
    code: &'static str,
    key: KeyCode,
    pad: Option<GamepadButton>,
) -> Binding {
    Binding {
        act,
        code,
        key,
        pad,
    }
}

/// What there is, as it is bound at first. The order is that of the help.
pub const BINDINGS: [Binding; 64] = {
    use Button as B;
    use GamepadButton as P;
    use KeyCode as K;
    let (hold, upset) = (Act::Hold, Act::Upset);
    [
        binding(hold(B::Feed), "feed", K::Space, Some(P::South)),
        binding(hold(B::ReceiverUp), "receiver_up", K::KeyR, Some(P::North)),
        binding(
            hold(B::ReceiverDown),
            "receiver_down",
            K::KeyF,
            Some(P::West),
        ),
        binding(
            hold(B::LiftBothUp),
            "lift_both_up",
            K::KeyU,
            Some(P::DPadUp),
        ),
        binding(
            hold(B::LiftBothDown),
            "lift_both_down",
            K::KeyJ,
            Some(P::DPadDown),
        ),
        binding(hold(B::LiftNearUp), "lift_near_up", K::KeyT, None),
        binding(hold(B::LiftNearDown), "lift_near_down", K::KeyG, None),
        binding(hold(B::LiftFarUp), "lift_far_up", K::KeyY, None),
        binding(hold(B::LiftFarDown), "lift_far_down", K::KeyH, None),
        binding(hold(B::ShiftNearIn), "shift_near_in", K::KeyZ, None),
        binding(hold(B::ShiftNearOut), "shift_near_out", K::KeyX, None),
        binding(hold(B::ShiftFarIn), "shift_far_in", K::KeyC, None),
        binding(hold(B::ShiftFarOut), "shift_far_out", K::KeyV, None),
        binding(hold(B::TurnIn), "turn_in", K::KeyQ, Some(P::LeftTrigger2)),
        binding(
            hold(B::TurnOut),
            "turn_out",
            K::KeyE,
            Some(P::RightTrigger2),
        ),
        binding(
            hold(B::AdvanceOn),
            "advance_on",
            K::KeyW,
            Some(P::DPadRight),
        ),
        binding(
            hold(B::AdvanceBack),
            "advance_back",
            K::KeyS,
            Some(P::DPadLeft),
        ),
        binding(hold(B::Horn), "horn", K::KeyB, Some(P::RightThumb)),
        binding(hold(B::JackNearUp), "jack_near_up", K::KeyI, None),
        binding(hold(B::JackNearDown), "jack_near_down", K::KeyK, None),
        binding(hold(B::JackFarUp), "jack_far_up", K::KeyO, None),
        binding(hold(B::JackFarDown), "jack_far_down", K::KeyL, None),
        binding(Act::Check, "check", K::KeyA, None),
        binding(
            Act::EmergencyStop,
            "emergency_stop",
            K::Enter,
            Some(P::East),
        ),
        binding(Act::Reset, "reset", K::Delete, None),
        binding(Act::Isolate, "isolate", K::KeyP, None),
        binding(Act::Radio, "radio", K::KeyM, Some(P::LeftTrigger)),
        binding(Act::Say(Call::Clear), "say_clear", K::Digit1, None),
        binding(Act::Say(Call::Load), "say_load", K::Digit2, None),
        binding(Act::Say(Call::Chock), "say_chock", K::Digit3, None),
        binding(Act::Say(Call::Unchock), "say_unchock", K::Digit4, None),
        binding(Act::Say(Call::Clamp), "say_clamp", K::Digit5, None),
        binding(Act::Say(Call::Unclamp), "say_unclamp", K::Digit6, None),
        binding(Act::Say(Call::Hold), "say_hold", K::Digit7, None),
        binding(Act::Say(Call::Release), "say_release", K::Digit8, None),
        binding(
            Act::Say(Call::BarFromEnd(End::Near)),
            "say_bar_near",
            K::Digit9,
            None,
        ),
        binding(
            Act::Say(Call::BarFromEnd(End::Far)),
            "say_bar_far",
            K::Digit0,
            None,
        ),
        binding(
            Act::Say(Call::BarFromBelow),
            "say_bar_below",
            K::Slash,
            None,
        ),
        binding(
            Act::Look(CameraName::Operator),
            "look_operator",
            K::F1,
            Some(P::RightTrigger),
        ),
        binding(Act::Look(CameraName::Orbit), "look_orbit", K::F2, None),
        binding(Act::Look(CameraName::Plan), "look_plan", K::F3, None),
        binding(Act::Look(CameraName::Line), "look_line", K::F4, None),
        binding(Act::Look(CameraName::Stick), "look_stick", K::F5, None),
        binding(Act::Look(CameraName::Eyes), "look_eyes", K::F6, None),
        binding(Act::SecondView, "second_view", K::F7, None),
        binding(Act::Overlays, "overlays", K::F8, Some(P::LeftThumb)),
        binding(Act::Fold, "fold", K::F9, None),
        binding(Act::Slower, "slower", K::Minus, None),
        binding(Act::Faster, "faster", K::Equal, None),
        binding(Act::Step, "step", K::Period, None),
        binding(Act::Rewind, "rewind", K::Comma, None),
        binding(Act::TakeOver, "take_over", K::Home, None),
        binding(Act::Done, "done", K::End, None),
        binding(Act::List, "list", K::Tab, None),
        binding(Act::Help, "help", K::F10, Some(P::Select)),
        binding(Act::Pause, "pause", K::Escape, Some(P::Start)),
        binding(Act::Instructor, "instructor", K::F12, None),
        binding(upset(Upset::Visitor), "upset_visitor", K::F11, None),
        binding(upset(Upset::StopCalled), "upset_stop", K::Insert, None),
        binding(upset(Upset::Gust), "upset_gust", K::Backspace, None),
        binding(
            upset(Upset::LiftCreeps(End::Near)),
            "upset_lift_near",
            K::BracketLeft,
            None,
        ),
        binding(
            upset(Upset::LiftCreeps(End::Far)),
            "upset_lift_far",
            K::BracketRight,
            None,
        ),
        binding(upset(Upset::RadioDies), "upset_radio", K::Semicolon, None),
        binding(upset(Upset::PowerFails), "upset_power", K::Backquote, None),
    ]
};

/// Keys that can be bound, with their names in files and on screens.
pub const KEYS: [(KeyCode, &str); 66] = {
    use KeyCode as K;
    [
        (K::KeyA, "A"),
        (K::KeyB, "B"),
        (K::KeyC, "C"),
        (K::KeyD, "D"),
        (K::KeyE, "E"),
        (K::KeyF, "F"),
        (K::KeyG, "G"),
        (K::KeyH, "H"),
        (K::KeyI, "I"),
        (K::KeyJ, "J"),
        (K::KeyK, "K"),
        (K::KeyL, "L"),
        (K::KeyM, "M"),
        (K::KeyN, "N"),
        (K::KeyO, "O"),
        (K::KeyP, "P"),
        (K::KeyQ, "Q"),
        (K::KeyR, "R"),
        (K::KeyS, "S"),
        (K::KeyT, "T"),
        (K::KeyU, "U"),
        (K::KeyV, "V"),
        (K::KeyW, "W"),
        (K::KeyX, "X"),
        (K::KeyY, "Y"),
        (K::KeyZ, "Z"),
        (K::Digit1, "1"),
        (K::Digit2, "2"),
        (K::Digit3, "3"),
        (K::Digit4, "4"),
        (K::Digit5, "5"),
        (K::Digit6, "6"),
        (K::Digit7, "7"),
        (K::Digit8, "8"),
        (K::Digit9, "9"),
        (K::Digit0, "0"),
        (K::F1, "F1"),
        (K::F2, "F2"),
        (K::F3, "F3"),
        (K::F4, "F4"),
        (K::F5, "F5"),
        (K::F6, "F6"),
        (K::F7, "F7"),
        (K::F8, "F8"),
        (K::F9, "F9"),
        (K::F10, "F10"),
        (K::F11, "F11"),
        (K::F12, "F12"),
        (K::Space, "Space"),
        (K::Enter, "Enter"),
        (K::Backspace, "Backspace"),
        (K::Tab, "Tab"),
        (K::Escape, "Esc"),
        (K::Delete, "Delete"),
        (K::Insert, "Insert"),
        (K::Home, "Home"),
        (K::End, "End"),
        (K::Minus, "-"),
        (K::Equal, "="),
        (K::Comma, ","),
        (K::Period, "."),
        (K::Slash, "/"),
        (K::Semicolon, ";"),
        (K::BracketLeft, "["),
        (K::BracketRight, "]"),
        (K::Backquote, "`"),
    ]
};

/// The name of a key in files.
pub fn key_name(key: KeyCode) -> &'static str {
    KEYS.iter()
        .find(|(known, _)| *known == key)
        .map_or("?", |(_, name)| name)
}

/// What a key is called on screens: by its letter or its sign, and by a word where it has none.
pub fn key_said(key: KeyCode) -> Message {
    use KeyCode as K;
    match key {
        K::Space => "key-space".into(),
        K::Enter => "key-enter".into(),
        K::Backspace => "key-backspace".into(),
        K::Tab => "key-tab".into(),
        K::Escape => "key-escape".into(),
        K::Delete => "key-delete".into(),
        K::Insert => "key-insert".into(),
        K::Home => "key-home".into(),
        K::End => "key-end".into(),
        _ => Message::new("key-named").with("key", key_name(key)),
    }
}

/// The key as panels hear it.
pub fn heard(key: KeyCode) -> Option<Key> {
    match key {
        KeyCode::Delete => Some(Key::Delete),
        KeyCode::Insert => Some(Key::Insert),
        _ => Key::from_name(key_name(key)),
    }
}

/// The key that panels hear so; none where it cannot be bound.
pub fn key_heard(key: Key) -> Option<KeyCode> {
    let mut keys = KEYS.iter().map(|(known, _)| *known);
    keys.find(|known| heard(*known) == Some(key))
}

/// The key of a name.
pub fn key_of_name(name: &str) -> Option<KeyCode> {
    KEYS.iter()
        .find(|(_, known)| *known == name)
        .map(|(key, _)| *key)
}

/// What is bound now.
#[derive(Resource, Clone, Debug, PartialEq)]
pub struct Bindings {
    /// By the order of [`BINDINGS`].
    keys: Vec<KeyCode>,
}

impl Default for Bindings {
    fn default() -> Self {
        Self {
            keys: BINDINGS.iter().map(|binding| binding.key).collect(),
        }
    }
}

impl Bindings {
    /// As kept in the settings: codes of acts with names of keys. What is unknown is left out, and a key
    /// that two acts claim stays with the first.
    pub fn of_kept<'a>(kept: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let mut bindings = Self::default();
        for (code, name) in kept {
            let place = BINDINGS.iter().position(|binding| binding.code == code);
            if let (Some(place), Some(key)) = (place, key_of_name(name)) {
                let _ = bindings.bind(place, key);
            }
        }
        bindings
    }

    /// What differs from the first binding: code and key's name.
    pub fn kept(&self) -> impl Iterator<Item = (&'static str, &'static str)> + '_ {
        BINDINGS
            .iter()
            .zip(&self.keys)
            .filter(|(binding, key)| binding.key != **key)
            .map(|(binding, key)| (binding.code, key_name(*key)))
    }

    pub fn key(&self, place: usize) -> Option<KeyCode> {
        self.keys.get(place).copied()
    }

    pub fn key_of(&self, act: Act) -> Option<KeyCode> {
        let place = BINDINGS.iter().position(|binding| binding.act == act)?;
        self.key(place)
    }

    /// What the key of an act is called; empty where it has none.
    pub fn said(&self, act: Act, texts: &Texts) -> String {
        let key = self.key_of(act).map(key_said);
        key.map_or_else(String::new, |key| texts.say(&key))
    }

    pub fn of_key(&self, key: KeyCode) -> Option<Act> {
        let place = self.keys.iter().position(|known| *known == key)?;
        BINDINGS.get(place).map(|binding| binding.act)
    }

    pub fn of_pad(&self, button: GamepadButton) -> Option<Act> {
        BINDINGS
            .iter()
            .find(|binding| binding.pad == Some(button))
            .map(|binding| binding.act)
    }

    /// Binds an act to a key that another has, which gets this one's in exchange.
    pub fn swap(&mut self, from: usize, to: usize, key: KeyCode) {
        let freed = self.key(to);
        if let (Some(taken), Some(freed)) = (self.keys.get_mut(from), freed) {
            *taken = freed;
        }
        if let Some(bound) = self.keys.get_mut(to) {
            *bound = key;
        }
    }

    /// Binds an act to a key.
    ///
    /// # Errors
    /// The act that has the key already.
    pub fn bind(&mut self, place: usize, key: KeyCode) -> Result<(), Act> {
        match self.of_key(key) {
            Some(taken) if BINDINGS.get(place).map(|binding| binding.act) != Some(taken) => {
                Err(taken)
            }
            _ => {
                if let Some(bound) = self.keys.get_mut(place) {
                    *bound = key;
                }
                Ok(())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_act_has_a_key_and_a_name_of_its_own() {
        let codes: BTreeSet<&str> = BINDINGS.iter().map(|binding| binding.code).collect();
        let keys: BTreeSet<&str> = BINDINGS.iter().map(|b| key_name(b.key)).collect();
        assert_eq!((codes.len(), keys.len()), (BINDINGS.len(), BINDINGS.len()));
        assert!(!keys.contains("?"), "a key without a name cannot be shown");
        let pads: Vec<GamepadButton> = BINDINGS.iter().filter_map(|b| b.pad).collect();
        assert!((1..pads.len()).all(|i| !pads[..i].contains(&pads[i])));
    }

    #[test]
    fn panels_hear_every_key_that_can_be_bound() {
        for (key, name) in KEYS {
            assert_eq!(heard(key).and_then(key_heard), Some(key), "{name}");
        }
    }

    #[test]
    fn every_button_of_the_pendant_has_a_key() {
        for button in Button::ALL {
            let bound = BINDINGS.iter().any(|b| b.act == Act::Hold(button));
            assert!(bound, "{button:?}");
        }
    }

    #[test]
    fn a_key_that_is_taken_is_refused_and_a_free_one_is_kept() {
        let mut bindings = Bindings::default();
        assert_eq!(
            bindings.bind(0, KeyCode::KeyR),
            Err(Act::Hold(Button::ReceiverUp))
        );
        assert_eq!(bindings.bind(0, KeyCode::KeyN), Ok(()));
        assert_eq!(
            bindings.of_key(KeyCode::KeyN),
            Some(Act::Hold(Button::Feed))
        );
        assert_eq!(bindings.of_key(KeyCode::Space), None);
        let kept: Vec<_> = bindings.kept().collect();
        assert_eq!(kept, [("feed", "N")]);
        assert_eq!(Bindings::of_kept(kept), bindings);
    }

    #[test]
    fn nonsense_in_the_settings_changes_nothing() {
        let kept = [("feed", "Hyper"), ("sing", "A"), ("feed", "R")];
        assert_eq!(Bindings::of_kept(kept), Bindings::default());
    }
}
