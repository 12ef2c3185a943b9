//! On foot in the yard: somebody of ordinary height who walks, looks closely, measures, cranks, carries
//! cones.
//!
//! What a trainee can do:
//!
//! | what | keys | gamepad |
//! |---|---|---|
//! | walk; briskly; crouch | W A S D, up and down; Shift; Ctrl | left stick; press it; press the right one |
//! | look about | mouse with its right button held; left and right, Page Up and Page Down | right stick |
//! | look closely at what is in the middle; step back again | E or Enter; Escape or Backspace | south; east |
//! | accept it, report it | Y, R | west, north |
//! | move the head while looking closely, to read a scale squarely | as for walking | left stick |
//! | hook the tape on and walk with it, take it up; put down there what it measures to | T; P | right shoulder; right trigger |
//! | put a cone down; take up the one in the middle | C | left shoulder |
//! | crank the jack beside which one stands up, down | U, J, held | up, down on the cross |
//! | lay the level on that rail; stretch the string | L; G | left, right on the cross |
//! | take the last act back | Z | select |
//!
//! [`OnFoot::step`] moves the person and tells what is [`Wish`]ed for: it changes no line. Whoever owns the walk
//! carries the wishes out ([`Wish`] names the acts of [`crate::session::walk`]) and keeps
//! [`OnFoot::cones`] and [`OnFoot::string`] as they are. [`input`] alone knows keys.

mod drawn;
mod hands;
pub mod input;
mod site;
mod spots;
#[cfg(test)]
mod tests;

use bevy::prelude::*;

pub use hands::{HookedTo, Tape};
pub use site::{Site, start};
pub use spots::{Focus, Spot, meant, spots};

use super::yard::Yard;
use crate::domain::rig::End;
use crate::domain::spec::Place;
use crate::session::walk::{Act, Thing};
use crate::texts::{Message, Texts};

/// Height of the eyes, standing and crouching, m.
const EYE_M: f32 = 1.65;
const CROUCHED_M: f32 = 0.95;
/// Walking speed, and that of somebody in a hurry, m/s.
const WALKS_M_PER_S: f32 = 1.5;
const HURRIES_M_PER_S: f32 = 3.2;
/// Time in which a pace, a height and a camera get most of the way to where they go, s.
const PACE_S: f32 = 0.10;
const HEIGHT_S: f32 = 0.12;
const CAMERA_S: f32 = 0.10;
/// How far up and down somebody looks, rad.
const LOOKS_UP_RAD: f32 = 1.48;
/// How far the head goes to either side, up and down, while looking closely, m, and how fast, m/s.
const HEAD_M: f32 = 0.6;
const HEAD_M_PER_S: f32 = 0.5;
/// A longer frame is walked in steps of this, s.
const STEP_S: f32 = 0.05;
/// And not beyond so much of it: somebody was away.
const LONGEST_S: f32 = 0.5;

/// What the keys are called that accept and report what is looked at closely.
pub const ACCEPT_KEY: &str = "Y";
pub const REPORT_KEY: &str = "R";

/// What keys do on foot, line by line.
pub fn hints(texts: &Texts) -> Vec<String> {
    const LINES: [&str; 6] = [
        "foot-walk",
        "foot-close",
        "foot-jack",
        "foot-tape",
        "foot-cones",
        "foot-string",
    ];
    LINES
        .iter()
        .map(|id| texts.say(&Message::new(*id)))
        .collect()
}

/// What is asked of somebody on foot in one frame. Ways are -1 to 1.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq)]
pub struct WalkInput {
    pub forward: f32,
    pub right: f32,
    /// Turn to the right, and up, rad in this frame.
    pub turn_rad: f32,
    pub up_rad: f32,
    pub hurry: bool,
    pub crouch: bool,
    /// The crank: 1 up, -1 down, held.
    pub crank: f32,
    /// Pressed in this frame.
    pub pressed: Pressed,
}

/// What was pressed in a frame, and not only held.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Pressed {
    pub closer: bool,
    pub back: bool,
    pub accept: bool,
    pub report: bool,
    pub tape: bool,
    pub put: bool,
    pub cone: bool,
    pub level: bool,
    pub string: bool,
    pub undo: bool,
}

/// What somebody on foot wants done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wish {
    /// Look closely.
    Look(Thing),
    /// Accept, report, put cones, cradles, the machine, the string.
    Do(Act),
    /// Turn the crank of a jack. While it turns, the scene follows [`Yard::shown`]; the line is built anew
    /// for what comes after.
    Crank {
        rail: End,
        turns: f64,
    },
    /// Lay the level on a rail.
    Level(End),
    Undo,
}

/// What is looked at closely.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Close {
    spot: Spot,
    /// Where the eye was put before it, and how far it has gone from there to the right and up, m.
    from: Vec3,
    head: Vec2,
}

/// Somebody on foot. All places are in the world.
#[derive(Resource, Clone, Debug)]
pub struct OnFoot {
    /// The eyes of somebody who stands where they stand.
    pub eye: Vec3,
    /// About y, 0 looks along -z; positive turns to the left.
    pub yaw_rad: f32,
    /// Up is positive.
    pub pitch_rad: f32,
    pub focus: Option<Focus>,
    pub tape: Option<Tape>,
    /// The cones as they stand, and whether the string is stretched; kept by whoever owns the walk.
    pub cones: Vec<Place>,
    pub string: bool,
    velocity: Vec2,
    place: Place,
    close: Option<Close>,
    /// The camera on its way to where it belongs.
    camera: Transform,
}

impl OnFoot {
    /// Somebody at a place who looks at another point.
    pub fn at(site: &Site, place: Place, towards: Vec3) -> Self {
        let eye = site.in_world(place, f64::from(EYE_M));
        let way = towards - eye;
        let mut on_foot = Self {
            eye,
            yaw_rad: f32::atan2(-way.x, -way.z),
            pitch_rad: f32::atan2(way.y, way.xz().length()).clamp(-LOOKS_UP_RAD, LOOKS_UP_RAD),
            focus: None,
            tape: None,
            cones: Vec::new(),
            string: false,
            velocity: Vec2::ZERO,
            place,
            close: None,
            camera: Transform::IDENTITY,
        };
        on_foot.camera = on_foot.wanted();
        on_foot
    }

    /// Somebody at the operator's place of a line, who looks at its middle.
    pub fn before(yard: &Yard) -> Self {
        let site = Site::shown(yard);
        let place = start(&site, yard.rig());
        let mut on_foot = Self::at(&site, place, Vec3::Y);
        on_foot.cones.clone_from(&yard.spec().zone.cones);
        on_foot
    }

    /// Where they stand, in the plan of a right-handed line.
    pub fn place(&self) -> Place {
        self.place
    }

    /// What is looked at closely.
    pub fn close_to(&self) -> Option<Thing> {
        self.close.map(|close| close.spot.thing)
    }

    /// The camera: through the eyes, eased.
    pub fn camera(&self) -> Transform {
        self.camera
    }

    /// The eye from which things are seen and read, as x, y, z of a right-handed line.
    pub fn reads_from(&self, site: &Site) -> [f64; 3] {
        site.right_handed(self.camera.translation)
    }

    /// Goes and looks closely at a thing, wherever it is: for lists beside the scene.
    pub fn go_and_look(&mut self, yard: &Yard, site: &Site, thing: Thing) -> bool {
        let all = spots(yard, site, &self.cones, self.eye);
        let Some(spot) = all.into_iter().find(|spot| spot.thing == thing) else {
            return false;
        };
        let beside = site.place_of(spot.at);
        let wanted = Place {
            x_m: beside.x_m + 0.6,
            z_m: beside.z_m + 0.6 * beside.z_m.signum(),
        };
        *self = Self {
            cones: std::mem::take(&mut self.cones),
            string: self.string,
            tape: self.tape,
            camera: self.camera,
            ..Self::at(site, site.nearest_free(wanted), spot.at)
        };
        self.look_closely(spot);
        true
    }

    /// Moves the head up or down before what is looked at closely, m.
    pub fn lean(&mut self, up_m: f32) {
        if let Some(close) = &mut self.close {
            close.lean(Vec2::new(0.0, up_m));
        }
    }

    /// Steps back from what was looked at.
    pub fn step_back(&mut self) {
        self.close = None;
    }

    fn look_closely(&mut self, spot: Spot) {
        // From where they stand, leaning in: a scale is first seen as slantingly as that.
        let out = (self.eye - spot.at).normalize_or(Vec3::Y);
        self.close = Some(Close {
            spot,
            from: spot.at + out * spot.close_m,
            head: Vec2::ZERO,
        });
        self.velocity = Vec2::ZERO;
    }

    /// Which way they look, standing.
    fn forward(&self) -> Vec3 {
        let (sin, cos) = self.yaw_rad.sin_cos();
        let (up, level) = self.pitch_rad.sin_cos();
        Vec3::new(-sin * level, up, -cos * level)
    }

    /// Where the camera belongs.
    fn wanted(&self) -> Transform {
        match self.close {
            None => Transform::from_translation(self.eye).looking_to(self.forward(), Vec3::Y),
            Some(close) => {
                Transform::from_translation(close.eye()).looking_at(close.spot.at, Vec3::Y)
            }
        }
    }

    /// One frame: walks, looks about, and tells what is wished for.
    pub fn step(
        &mut self,
        yard: &Yard,
        site: &Site,
        input: &WalkInput,
        passed_s: f32,
    ) -> Vec<Wish> {
        let mut left_s = passed_s.clamp(0.0, LONGEST_S);
        if self.close.is_none() {
            self.yaw_rad = wrapped(self.yaw_rad - input.turn_rad);
            self.pitch_rad = (self.pitch_rad + input.up_rad).clamp(-LOOKS_UP_RAD, LOOKS_UP_RAD);
        }
        while left_s > 0.0 {
            let dt_s = left_s.min(STEP_S);
            left_s -= dt_s;
            match &mut self.close {
                Some(close) => close.move_head(input, dt_s),
                None => self.go(site, input, dt_s),
            }
        }
        let all = spots(yard, site, &self.cones, self.eye);
        let before = self.focus.as_ref().map(|focus| (focus.thing, focus.number));
        let spot = match self.close {
            Some(close) => Some(close.spot),
            None => meant(&all, self.eye, self.forward(), before).copied(),
        };
        self.focus = spot.map(|spot| Focus {
            thing: spot.thing,
            number: spot.number,
            name: spot.thing.name(yard.spec()),
            distance_m: self.eye.distance(spot.at),
        });
        let wishes = self.wishes(yard, site, input, spot, passed_s);
        let wanted = self.wanted();
        let share = eased(passed_s, CAMERA_S);
        // On their feet, the view is as quick as the eyes.
        self.camera = if self.close.is_none() && self.is_back() {
            wanted
        } else {
            Transform {
                translation: self.camera.translation.lerp(wanted.translation, share),
                rotation: self.camera.rotation.slerp(wanted.rotation, share),
                ..wanted
            }
        };
        wishes
    }

    /// Whether the camera has come back to the eyes.
    fn is_back(&self) -> bool {
        self.camera.translation.distance(self.eye) < 0.25
            && self.camera.forward().dot(self.forward()) > 0.98
    }

    fn go(&mut self, site: &Site, input: &WalkInput, dt_s: f32) {
        let speed_m_per_s = if input.hurry {
            HURRIES_M_PER_S
        } else {
            WALKS_M_PER_S
        };
        let (sin, cos) = self.yaw_rad.sin_cos();
        // Forward is -z at yaw 0, right is +x.
        let asked = Vec2::new(input.right, input.forward).clamp_length_max(1.0) * speed_m_per_s;
        let wanted = Vec2::new(
            asked.x * cos - asked.y * sin,
            -asked.x * sin - asked.y * cos,
        );
        self.velocity = self.velocity.lerp(wanted, eased(dt_s, PACE_S));
        let by = self.velocity * dt_s;
        let before = self.place;
        self.place = site.walk(before, site.mirror() * f64::from(by.x), f64::from(by.y));
        // What is walked against takes the pace away.
        let gone = site.in_world(self.place, 0.0) - site.in_world(before, 0.0);
        self.velocity = Vec2::new(gone.x, gone.z) / dt_s;
        let height_m = if input.crouch { CROUCHED_M } else { EYE_M };
        let wanted = site.in_world(self.place, f64::from(height_m));
        let rises = (wanted.y - self.eye.y) * eased(dt_s, HEIGHT_S);
        self.eye = Vec3::new(wanted.x, self.eye.y + rises, wanted.z);
    }
}

impl Close {
    /// Where the eye is.
    fn eye(&self) -> Vec3 {
        let towards = (self.spot.at - self.from).normalize_or(Vec3::NEG_Z);
        let right = towards.cross(Vec3::Y).normalize_or(Vec3::X);
        let up = right.cross(towards);
        self.from + right * self.head.x + up * self.head.y
    }

    fn move_head(&mut self, input: &WalkInput, dt_s: f32) {
        let asked = Vec2::new(input.right, input.forward).clamp_length_max(1.0);
        self.lean(asked * HEAD_M_PER_S * dt_s);
    }

    fn lean(&mut self, by: Vec2) {
        let most = HEAD_M.min(2.0 * self.spot.close_m);
        self.head = (self.head + by).clamp_length_max(most);
    }
}

/// The share of a way that is gone in a time.
fn eased(passed_s: f32, most_of_it_s: f32) -> f32 {
    1.0 - (-passed_s / most_of_it_s).exp()
}

fn wrapped(angle_rad: f32) -> f32 {
    use std::f32::consts::{PI, TAU};
    (angle_rad + PI).rem_euclid(TAU) - PI
}

/// Reads what is asked of the one who is on foot, and draws what they hold. Whoever owns the walk steps
/// them, and keeps [`OnFoot`] and [`Site`] in the world while somebody is on foot.
pub fn plugin(app: &mut App) {
    app.init_resource::<WalkInput>()
        .add_systems(PreUpdate, input::read.after(bevy::input::InputSystems))
        .add_plugins(drawn::plugin);
}
