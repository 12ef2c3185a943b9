//! Keys, mouse and gamepad of somebody on foot. Nothing else of the walk knows them.

use bevy::input::gamepad::{Gamepad, GamepadButton};
use bevy::input::mouse::AccumulatedMouseMotion;
use bevy::prelude::*;

use super::{Pressed, WalkInput};

/// How far a pixel of the mouse turns the view, rad.
const RAD_PER_PIXEL: f32 = 0.0025;
/// How fast keys and a full stick turn it, rad/s.
const KEYS_RAD_PER_S: f32 = 1.4;
const STICK_RAD_PER_S: f32 = 2.4;

/// Gathers a frame's input.
pub fn read(
    time: Res<Time>,
    keys: Res<ButtonInput<KeyCode>>,
    mouse: Res<ButtonInput<MouseButton>>,
    moved: Res<AccumulatedMouseMotion>,
    gamepads: Query<&Gamepad>,
    mut input: ResMut<WalkInput>,
) {
    let passed_s = time.delta_secs();
    let mut next = of_keys(&keys, passed_s);
    if mouse.pressed(MouseButton::Right) {
        next.turn_rad += moved.delta.x * RAD_PER_PIXEL;
        next.up_rad -= moved.delta.y * RAD_PER_PIXEL;
    }
    for gamepad in &gamepads {
        add_gamepad(&mut next, gamepad, passed_s);
    }
    *input = next;
}

fn of_keys(keys: &ButtonInput<KeyCode>, passed_s: f32) -> WalkInput {
    use KeyCode as K;
    let way = |more: &[K], less: &[K]| {
        let is = |of: &[K]| f32::from(u8::from(keys.any_pressed(of.iter().copied())));
        is(more) - is(less)
    };
    let pressed = |of: &[K]| keys.any_just_pressed(of.iter().copied());
    WalkInput {
        forward: way(&[K::KeyW, K::ArrowUp], &[K::KeyS, K::ArrowDown]),
        right: way(&[K::KeyD], &[K::KeyA]),
        turn_rad: KEYS_RAD_PER_S * passed_s * way(&[K::ArrowRight], &[K::ArrowLeft]),
        up_rad: KEYS_RAD_PER_S * passed_s * way(&[K::PageUp], &[K::PageDown]),
        hurry: keys.any_pressed([K::ShiftLeft, K::ShiftRight]),
        crouch: keys.any_pressed([K::ControlLeft, K::ControlRight]),
        crank: way(&[K::KeyU], &[K::KeyJ]),
        pressed: Pressed {
            closer: pressed(&[K::KeyE, K::Enter, K::NumpadEnter]),
            back: pressed(&[K::Escape, K::Backspace]),
            accept: pressed(&[K::KeyY]),
            report: pressed(&[K::KeyR]),
            tape: pressed(&[K::KeyT]),
            put: pressed(&[K::KeyP]),
            cone: pressed(&[K::KeyC]),
            level: pressed(&[K::KeyL]),
            string: pressed(&[K::KeyG]),
            undo: pressed(&[K::KeyZ]),
        },
    }
}

fn add_gamepad(input: &mut WalkInput, gamepad: &Gamepad, passed_s: f32) {
    use GamepadButton as B;
    let (walks, looks) = (gamepad.left_stick(), gamepad.right_stick());
    input.forward += walks.y;
    input.right += walks.x;
    input.turn_rad += STICK_RAD_PER_S * passed_s * looks.x;
    input.up_rad += STICK_RAD_PER_S * passed_s * looks.y;
    input.hurry |= gamepad.pressed(B::LeftThumb);
    input.crouch |= gamepad.pressed(B::RightThumb);
    let held = |button: B| f32::from(u8::from(gamepad.pressed(button)));
    input.crank += held(B::DPadUp) - held(B::DPadDown);
    let of = &mut input.pressed;
    of.closer |= gamepad.just_pressed(B::South);
    of.back |= gamepad.just_pressed(B::East);
    of.accept |= gamepad.just_pressed(B::West);
    of.report |= gamepad.just_pressed(B::North);
    of.tape |= gamepad.just_pressed(B::RightTrigger);
    of.put |= gamepad.just_pressed(B::RightTrigger2);
    of.cone |= gamepad.just_pressed(B::LeftTrigger);
    of.level |= gamepad.just_pressed(B::DPadLeft);
    of.string |= gamepad.just_pressed(B::DPadRight);
    of.undo |= gamepad.just_pressed(B::Select);
}
