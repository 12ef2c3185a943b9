//! From keyboard, mouse and gamepad to what is done on the line.
//!
//! Nothing is decided here but which switch does which [`Act`]; how a dead man's control takes it is
//! [`crate::session`]'s affair. What is looked at turns by the mouse with its right button held, by the
//! arrow keys and by the right stick.

use std::collections::BTreeSet;

use bevy::ecs::system::SystemParam;
use bevy::input::ButtonState;
use bevy::input::gamepad::{GamepadAxis, GamepadButton, GamepadEvent};
use bevy::input::keyboard::KeyboardInput;
use bevy::input::mouse::{MouseMotion, MouseScrollUnit, MouseWheel};
use bevy::prelude::*;
use bevy::window::{WindowFocused, WindowOccluded};
use bevy_egui::egui::{Event, Key};

use super::bindings::{Act, Bindings, KEYS};
use crate::session::hands::Source;

/// The keyboard among the devices; gamepads have their entity's number and one more.
const KEYBOARD: u64 = 0;
/// The switches of the pointer: a button of the pendant under it.
pub const POINTER: u64 = u64::MAX;
/// Whether a switch is one of a gamepad.
pub fn is_of_pad(source: Source) -> bool {
    source.device != KEYBOARD && source.device != POINTER
}

/// Turn of the view by a pixel of the mouse, and by a second of an arrow key or a full stick, rad.
const BY_PIXEL_RAD: f32 = 0.004;
const BY_SECOND_RAD: f32 = 1.2;
/// One notch of the wheel comes this part nearer.
const BY_NOTCH: f32 = 0.88;
/// A stick that is nearer to its middle than this is in its middle.
const DEAD_ZONE: f32 = 0.15;

/// Something that was done with a device.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Done {
    Down {
        act: Act,
        source: Source,
        repeated: bool,
    },
    Up(Source),
    /// The hands are elsewhere: the window has lost the focus or is hidden.
    HandsOff,
    DeviceGone(u64),
}

/// What was done since the last frame.
#[derive(Resource, Clone, Debug, Default)]
pub struct Felt {
    pub done: Vec<Done>,
    /// The view turned to the left, and raised, rad.
    pub turn_rad: [f32; 2],
    /// The view's distance times this.
    pub nearer: f32,
}

/// What panels hear of the keyboard.
#[derive(Clone, Debug, Default)]
pub struct Heard {
    /// Keys that went down for the line and are down still. They do nothing in a panel, or a key that
    /// is held while a screen opens would press what is on it.
    down_for_line: BTreeSet<Key>,
}

impl Heard {
    /// Leaves to the panels what is meant for them. That a key comes up they always hear.
    pub fn keep(&mut self, events: &mut Vec<Event>, is_of_line: bool) {
        events.retain(|event| match event {
            Event::Key { key, pressed, .. } if !pressed => {
                self.down_for_line.remove(key);
                true
            }
            Event::Key { key, .. } => {
                if is_of_line {
                    self.down_for_line.insert(*key);
                }
                !self.down_for_line.contains(key)
            }
            Event::Text(_) => !is_of_line,
            // What comes up elsewhere is not heard.
            Event::WindowFocused(_) => {
                self.down_for_line.clear();
                true
            }
            _ => true,
        });
    }
}

/// The messages of a frame.
#[derive(SystemParam)]
pub struct Devices<'w, 's> {
    keys: MessageReader<'w, 's, KeyboardInput>,
    pads: MessageReader<'w, 's, GamepadEvent>,
    focus: MessageReader<'w, 's, WindowFocused>,
    hidden: MessageReader<'w, 's, WindowOccluded>,
    motion: MessageReader<'w, 's, MouseMotion>,
    wheel: MessageReader<'w, 's, MouseWheel>,
    held: Res<'w, ButtonInput<KeyCode>>,
    mouse: Res<'w, ButtonInput<MouseButton>>,
    sticks: Query<'w, 's, &'static Gamepad>,
    time: Res<'w, Time<Real>>,
}

pub fn plugin(app: &mut App) {
    app.init_resource::<Felt>()
        .init_resource::<Bindings>()
        .add_systems(PreUpdate, feel.after(bevy::input::InputSystems));
}

fn feel(mut devices: Devices, bindings: Res<Bindings>, mut felt: ResMut<Felt>) {
    *felt = Felt {
        nearer: 1.0,
        ..Felt::default()
    };
    feel_keys(&mut devices, &bindings, &mut felt.done);
    feel_pads(&mut devices, &bindings, &mut felt.done);
    let focus = devices.focus.read().last().map(|focus| focus.focused);
    let away = focus == Some(false);
    if focus == Some(true) {
        // What came up elsewhere was not seen: the keyboard begins with everything up. What is still
        // down only repeats, and a repeat holds nothing.
        felt.done.push(Done::DeviceGone(KEYBOARD));
    }
    let hidden = devices.hidden.read().any(|hidden| hidden.occluded);
    if away || hidden {
        felt.done.push(Done::HandsOff);
    }
    look(&mut devices, &mut felt);
}

fn feel_keys(devices: &mut Devices, bindings: &Bindings, done: &mut Vec<Done>) {
    for key in devices.keys.read() {
        let Some(switch) = KEYS.iter().position(|(known, _)| *known == key.key_code) else {
            continue;
        };
        let source = Source {
            device: KEYBOARD,
            switch: switch as u64,
        };
        match (key.state, bindings.of_key(key.key_code)) {
            (ButtonState::Pressed, Some(act)) => done.push(Done::Down {
                act,
                source,
                repeated: key.repeat,
            }),
            (ButtonState::Released, _) => done.push(Done::Up(source)),
            (ButtonState::Pressed, None) => {}
        }
    }
}

fn feel_pads(devices: &mut Devices, bindings: &Bindings, done: &mut Vec<Done>) {
    for event in devices.pads.read() {
        match event {
            GamepadEvent::Button(button) => {
                let source = Source {
                    device: device_of(button.entity),
                    switch: switch_of(button.button),
                };
                match (button.state, bindings.of_pad(button.button)) {
                    (ButtonState::Pressed, Some(act)) => done.push(Done::Down {
                        act,
                        source,
                        repeated: false,
                    }),
                    (ButtonState::Released, _) => done.push(Done::Up(source)),
                    (ButtonState::Pressed, None) => {}
                }
            }
            GamepadEvent::Connection(connection) if connection.disconnected() => {
                done.push(Done::DeviceGone(device_of(connection.gamepad)));
            }
            GamepadEvent::Connection(_) | GamepadEvent::Axis(_) => {}
        }
    }
}

fn device_of(pad: Entity) -> u64 {
    1 + pad.to_bits()
}

fn switch_of(button: GamepadButton) -> u64 {
    match button {
        GamepadButton::Other(number) => 1000 + u64::from(number),
        known => GamepadButton::all()
            .iter()
            .position(|one| *one == known)
            .unwrap_or_default() as u64,
    }
}

fn look(devices: &mut Devices, felt: &mut Felt) {
    let dragged: Vec2 = devices.motion.read().map(|motion| motion.delta).sum();
    if devices.mouse.pressed(MouseButton::Right) {
        felt.turn_rad[0] -= dragged.x * BY_PIXEL_RAD;
        felt.turn_rad[1] -= dragged.y * BY_PIXEL_RAD;
    }
    let step = BY_SECOND_RAD * devices.time.delta_secs();
    let held = |key| f32::from(u8::from(devices.held.pressed(key)));
    felt.turn_rad[0] += step * (held(KeyCode::ArrowLeft) - held(KeyCode::ArrowRight));
    felt.turn_rad[1] += step * (held(KeyCode::ArrowUp) - held(KeyCode::ArrowDown));
    for pad in &devices.sticks {
        let axis = |axis| {
            let at: f32 = pad.get(axis).unwrap_or_default();
            if at.abs() < DEAD_ZONE { 0.0 } else { at }
        };
        felt.turn_rad[0] -= step * axis(GamepadAxis::RightStickX);
        felt.turn_rad[1] += step * axis(GamepadAxis::RightStickY);
    }
    let notches: f32 = devices
        .wheel
        .read()
        .map(|wheel| match wheel.unit {
            MouseScrollUnit::Line => wheel.y,
            MouseScrollUnit::Pixel => wheel.y / 60.0,
        })
        .sum();
    let keys = held(KeyCode::PageUp) - held(KeyCode::PageDown);
    felt.nearer = BY_NOTCH.powf(notches + 6.0 * keys * devices.time.delta_secs());
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::Modifiers;

    use super::*;

    fn key(key: Key, pressed: bool) -> Event {
        Event::Key {
            key,
            physical_key: None,
            pressed,
            repeat: false,
            modifiers: Modifiers::NONE,
        }
    }

    #[test]
    fn a_key_that_went_down_for_the_line_does_nothing_in_a_panel_until_it_is_pressed_anew() {
        let mut heard = Heard::default();
        let mut left = |events: &[Event], is_of_line| {
            let mut events = events.to_vec();
            heard.keep(&mut events, is_of_line);
            events
        };
        let (down, up) = (key(Key::Enter, true), key(Key::Enter, false));
        assert_eq!(left(&[down.clone(), Event::Text("x".into())], true), []);
        // A screen has opened, and the key is down still.
        assert_eq!(left(&[down.clone(), down.clone()], false), []);
        let other = key(Key::Escape, true);
        assert_eq!(left(std::slice::from_ref(&other), false), [other]);
        let all = [up, down];
        assert_eq!(left(&all, false), all);
    }

    #[test]
    fn a_key_that_went_down_in_a_panel_comes_up_for_it_on_the_line() {
        let mut heard = Heard::default();
        let mut events = vec![key(Key::Enter, false), key(Key::Space, true)];
        heard.keep(&mut events, true);
        assert_eq!(events, [key(Key::Enter, false)]);
        // Nobody saw it come up while the window was not looked at.
        let mut events = vec![Event::WindowFocused(true), key(Key::Space, true)];
        let all = events.clone();
        heard.keep(&mut events, false);
        assert_eq!(events, all);
    }
}
