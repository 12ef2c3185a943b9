//! Where the yard is looked at from: six named places, and a glide between them.
//!
//! Only the orbit is free; it never goes through the ground or into a pipe. The others follow from the
//! line: the operator's place and a person's eyes are 1.65 m over the feet.

use bevy::math::{Quat, Vec3};
use bevy::prelude::Transform;

use super::shown::{Shown, in_world};
use super::yard::Yard;
use crate::domain::crew;
use crate::domain::plan;
use crate::domain::rig::{End, Point, Rig};
use crate::domain::spec::{Duty, Place};
use crate::session::coach::Pointed;
use crate::session::story::Camera;
use crate::sim::line::{PersonId, State, StickPlace};
use crate::sim::world::StickId;
use crate::texts::Message;

/// Height of the eyes over the feet, m (common practice, no source).
pub const EYES_M: f32 = 1.65;
/// How near the orbit comes to what it looks at, and how far away it goes, m.
const NEAREST_M: f32 = 2.0;
const FARTHEST_M: f32 = 90.0;
/// The lowest and the highest that the orbit looks from, rad above the level.
const LOWEST_RAD: f32 = 0.03;
const HIGHEST_RAD: f32 = 1.45;
/// How far a camera stays over the ground, m.
const OVER_GROUND_M: f32 = 0.4;
/// How far a camera stays off a pipe's surface, m.
const OFF_PIPE_M: f32 = 0.3;
/// How far a head turns to a side, and up or down, rad.
const HEAD_TURN_RAD: f32 = 1.9;
const HEAD_RISE_RAD: f32 = 0.8;
/// What the operator looks at from top to bottom, rad: the line beyond the machine, not all that eyes
/// can see.
const OPERATOR_RAD: f32 = 0.70;
/// The same of the plan, the shape of the picture that it is fitted into, and its margin.
const PLAN_RAD: f32 = 0.5;
const PLAN_SHAPE: f64 = 16.0 / 9.0;
const PLAN_MARGIN: f64 = 1.12;
/// Who starts farther away comes into the plan when they come near, m.
const CREW_M: f64 = 25.0;
/// How far behind the end of a seated stick the line is looked along, and how far above it, m.
const BEHIND_M: f64 = 3.6;
const OVER_M: f64 = 1.25;
/// How long a glide from one place to another takes, s.
const GLIDE_S: f32 = 0.3;

/// A place to look from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum CameraName {
    /// The operator's own place at the control station.
    Operator,
    /// Around a point, freely.
    #[default]
    Orbit,
    /// From straight above, the rack at the top.
    Plan,
    /// Along the line towards the machine.
    Line,
    /// Beside the end of the stick that is being handled.
    Stick,
    /// A person's eyes.
    Eyes,
}

impl CameraName {
    pub const ALL: [Self; 6] = [
        Self::Operator,
        Self::Orbit,
        Self::Plan,
        Self::Line,
        Self::Stick,
        Self::Eyes,
    ];

    /// As on the command line.
    pub fn code(self) -> &'static str {
        match self {
            Self::Operator => "operator",
            Self::Orbit => "orbit",
            Self::Plan => "plan",
            Self::Line => "line",
            Self::Stick => "stick",
            Self::Eyes => "eyes",
        }
    }

    pub fn of_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|name| name.code() == code)
    }

    /// Its name.
    pub fn said(self) -> Message {
        Message::new(match self {
            Self::Operator => "camera-operator",
            Self::Orbit => "camera-orbit",
            Self::Plan => "camera-plan",
            Self::Line => "camera-line",
            Self::Stick => "camera-stick",
            Self::Eyes => "camera-eyes",
        })
    }
}

/// The free camera: around a point of the world.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Orbit {
    pub about: Vec3,
    /// 0 looks towards the machine (-z to +z), growing to the left.
    pub yaw_rad: f32,
    /// Above the level.
    pub pitch_rad: f32,
    pub away_m: f32,
}

impl Orbit {
    /// From the outer side and a little behind, the rack in the background.
    pub fn usual(rig: &Rig) -> Self {
        let length_m = rig
            .spec()
            .sticks
            .first()
            .map_or(12.0, |stick| stick.pipe.length_m) as f32;
        Self {
            about: in_world(
                rig,
                Point {
                    x_m: -1.0,
                    y_m: 1.0,
                },
                0.0,
            ),
            yaw_rad: rig.mirror() as f32 * -0.85,
            pitch_rad: 0.27,
            away_m: 9.0 + 0.75 * length_m,
        }
    }

    /// Turned and moved by a hand's drag, kept within bounds.
    pub fn moved(mut self, turn_rad: f32, rise_rad: f32, nearer: f32) -> Self {
        self.yaw_rad = (self.yaw_rad + turn_rad).rem_euclid(core::f32::consts::TAU);
        self.pitch_rad = (self.pitch_rad + rise_rad).clamp(LOWEST_RAD, HIGHEST_RAD);
        self.away_m = (self.away_m * nearer).clamp(NEAREST_M, FARTHEST_M);
        self
    }

    fn eye(&self) -> Vec3 {
        let back = Quat::from_rotation_y(self.yaw_rad)
            * Quat::from_rotation_x(self.pitch_rad)
            * Vec3::NEG_Z;
        self.about + back * self.away_m
    }
}

/// What is looked at, and from where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Viewpoint {
    pub name: CameraName,
    pub orbit: Orbit,
    /// Whose eyes; the operator's where nobody is named.
    pub person: Option<PersonId>,
    /// Which stick; the one that is being handled where none is named.
    pub stick: Option<StickId>,
    /// How far the head is turned to the left and up, at the operator's place and in a person's eyes.
    pub head_rad: [f32; 2],
}

impl Viewpoint {
    pub fn new(name: CameraName, rig: &Rig) -> Self {
        Self {
            name,
            orbit: Orbit::usual(rig),
            person: None,
            stick: None,
            head_rad: [0.0; 2],
        }
    }

    /// From where a moment of a story is best seen.
    pub fn of_moment(camera: Camera, subject: Option<Pointed>, rig: &Rig) -> Self {
        let name = CameraName::of_code(camera.name()).unwrap_or_default();
        let mut viewpoint = Self::new(name, rig);
        match subject {
            Some(Pointed::Stick(stick)) => viewpoint.stick = Some(stick),
            Some(Pointed::Person(person)) => viewpoint.person = Some(person),
            _ => {}
        }
        viewpoint
    }

    /// Whether somebody may stand where it looks from.
    pub fn is_where_people_stand(name: CameraName) -> bool {
        matches!(name, CameraName::Operator | CameraName::Eyes)
    }

    /// Looked around by a hand's drag: the head turns, or the orbit.
    pub fn look_round(&mut self, turn_rad: f32, rise_rad: f32) {
        if Self::is_where_people_stand(self.name) {
            let [left, up] = &mut self.head_rad;
            *left = (*left + turn_rad).clamp(-HEAD_TURN_RAD, HEAD_TURN_RAD);
            *up = (*up + rise_rad).clamp(-HEAD_RISE_RAD, HEAD_RISE_RAD);
        } else {
            self.orbit = self.orbit.moved(turn_rad, -rise_rad, 1.0);
        }
    }

    /// The camera's place and attitude.
    pub fn transform(&self, yard: &Yard) -> Transform {
        let rig = yard.rig();
        match self.name {
            CameraName::Operator => self.turned(operator(yard)),
            CameraName::Orbit => {
                let eye = clear_of_pipe(yard, over_ground(rig, self.orbit.eye()));
                looking(eye, self.orbit.about)
            }
            CameraName::Plan => plan_view(yard),
            CameraName::Line => along_line(yard),
            CameraName::Stick => beside_stick(yard, self.stick),
            CameraName::Eyes => self.eyes(yard),
        }
    }

    fn eyes(&self, yard: &Yard) -> Transform {
        let person = self.person.and_then(|id| yard.shown.person(id));
        let Some(person) = person.filter(|person| person.state != State::InCab) else {
            return self.turned(operator(yard));
        };
        let eye = person.feet + Vec3::Y * EYES_M;
        let ahead = Quat::from_rotation_y(person.facing_rad) * Vec3::X;
        self.turned(looking(eye, eye + ahead * 6.0 - Vec3::Y * 0.6))
    }

    /// With the head turned.
    fn turned(&self, straight: Transform) -> Transform {
        let [left, up] = self.head_rad;
        let rotation = Quat::from_rotation_y(left) * straight.rotation * Quat::from_rotation_x(up);
        Transform {
            rotation,
            ..straight
        }
    }

    /// Vertical field of view, rad.
    pub fn field_rad(&self) -> f32 {
        match self.name {
            CameraName::Operator => OPERATOR_RAD,
            CameraName::Eyes => 0.95,
            CameraName::Plan => PLAN_RAD,
            CameraName::Orbit | CameraName::Line | CameraName::Stick => 0.80,
        }
    }
}

fn looking(eye: Vec3, at: Vec3) -> Transform {
    Transform::from_translation(eye).looking_at(at, Vec3::Y)
}

/// The stick that is being handled: fed, received, seated, clamped; else the first of the row.
pub fn handled(shown: &Shown) -> Option<StickId> {
    let order = |place: StickPlace| match place {
        StickPlace::Released => 0,
        StickPlace::Received => 1,
        StickPlace::Seated => 2,
        StickPlace::Clamped => 3,
        StickPlace::Lost => 4,
        StickPlace::Held => 5,
        StickPlace::Joined => 6,
    };
    let present = shown
        .sticks
        .iter()
        .enumerate()
        .filter(|(_, stick)| stick.present);
    present
        .min_by_key(|(_, stick)| order(stick.place))
        .map(|(i, _)| StickId(i))
}

/// From where the operator stands, towards the receiver.
fn operator(yard: &Yard) -> Transform {
    let rig = yard.rig();
    let people = yard.spec().people.iter();
    let at = people
        .zip(&yard.shown.people)
        .find(|(spec, shown)| spec.duty == Duty::Operator && shown.state != State::InCab)
        .map(|(_, shown)| shown.feet);
    let feet = at.unwrap_or_else(|| {
        let usual = crew::usual(rig)
            .into_iter()
            .find(|person| person.duty == Duty::Operator);
        on_ground(
            rig,
            usual.map_or(Place { x_m: 4.0, z_m: 0.0 }, |person| person.start),
        )
    });
    let receiver = in_world(
        rig,
        Point {
            x_m: -0.4,
            y_m: rig.seat_height_m,
        },
        -1.5,
    );
    looking(feet + Vec3::Y * EYES_M, receiver)
}

fn on_ground(rig: &Rig, place: Place) -> Vec3 {
    let height_m = rig.spec().ground.height_m(place);
    in_world(
        rig,
        Point {
            x_m: place.x_m,
            y_m: height_m,
        },
        place.z_m,
    )
}

/// Over everything that matters: steel, pipe, zone and people.
fn plan_view(yard: &Yard) -> Transform {
    let rig = yard.rig();
    let spec = yard.spec();
    let half_m = crew::sticks_reach_m(rig);
    let mut places = vec![
        Place {
            x_m: plan::high_end_x_m(rig),
            z_m: -half_m,
        },
        Place {
            x_m: 2.0,
            z_m: rig.machine_end_z_m() + 2.0,
        },
    ];
    places.extend(&spec.zone.cones);
    let people = spec.people.iter().map(|person| person.start);
    places.extend(people.filter(|place| place.x_m.hypot(place.z_m) < CREW_M));
    let reach = |of: fn(&Place) -> f64| {
        places
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            })
    };
    let (x, z) = (reach(|place| place.x_m), reach(|place| place.z_m));
    let high_m = (x.1 - x.0).max((z.1 - z.0) / PLAN_SHAPE) * PLAN_MARGIN;
    let middle = in_world(
        rig,
        Point {
            x_m: 0.5 * (x.0 + x.1),
            y_m: 0.0,
        },
        0.5 * (z.0 + z.1),
    );
    let eye = middle + Vec3::Y * (0.5 * high_m as f32 / (0.5 * PLAN_RAD).tan());
    // Pipe comes down the picture.
    let up = Vec3::NEG_X * rig.mirror() as f32;
    Transform::from_translation(eye).looking_at(middle, up)
}

fn along_line(yard: &Yard) -> Transform {
    let rig = yard.rig();
    let half_m = yard
        .spec()
        .pipe_of(0)
        .map_or(6.0, |pipe| 0.5 * pipe.length_m);
    let eye = in_world(
        rig,
        Point {
            x_m: 1.2,
            y_m: rig.seat_height_m + OVER_M,
        },
        (rig.cradle_z_m(End::Far) - 1.0).min(-half_m) - BEHIND_M,
    );
    let at = in_world(
        rig,
        Point {
            x_m: -0.7,
            y_m: rig.seat_height_m - 0.2,
        },
        0.0,
    );
    looking(clear_of_pipe(yard, over_ground(rig, eye)), at)
}

fn beside_stick(yard: &Yard, stick: Option<StickId>) -> Transform {
    let rig = yard.rig();
    let stick = stick.or_else(|| handled(&yard.shown));
    let found = stick.and_then(|id| yard.shown.sticks.get(id.0).zip(yard.spec().pipe_of(id.0)));
    let Some((shown, pipe)) = found.filter(|(shown, _)| shown.present) else {
        return along_line(yard);
    };
    let half_m = 0.5 * pipe.length_m as f32;
    let radius_m = pipe.radius_m() as f32;
    let axis = shown.placed.turn * Vec3::Z;
    let far_end = shown.placed.at - axis * half_m * axis.z.signum();
    let out = rig.mirror() as f32;
    let eye = far_end
        + Vec3::new(
            out * (2.6 + 1.6 * radius_m),
            0.9 + 1.2 * radius_m,
            -2.8 - radius_m,
        );
    looking(
        clear_of_pipe(yard, over_ground(rig, eye)),
        far_end + Vec3::new(-out * 0.3, 0.0, 1.6),
    )
}

fn over_ground(rig: &Rig, eye: Vec3) -> Vec3 {
    let place = Place {
        x_m: rig.mirror() * f64::from(eye.x),
        z_m: f64::from(eye.z),
    };
    let ground_m = rig.spec().ground.height_m(place) as f32;
    Vec3::new(eye.x, eye.y.max(ground_m + OVER_GROUND_M), eye.z)
}

/// Out of every pipe, by the shortest way square to its axis.
fn clear_of_pipe(yard: &Yard, mut eye: Vec3) -> Vec3 {
    for (i, stick) in yard.shown.sticks.iter().enumerate() {
        let Some(pipe) = yard.spec().pipe_of(i).filter(|_| stick.present) else {
            continue;
        };
        let clear_m = pipe.radius_m() as f32 * 1.1 + OFF_PIPE_M;
        let axis = stick.placed.turn * Vec3::Z;
        let from = eye - stick.placed.at;
        let along_m = from.dot(axis);
        let off = from - axis * along_m;
        if along_m.abs() < 0.5 * pipe.length_m as f32 + OFF_PIPE_M && off.length() < clear_m {
            eye += off.normalize_or(Vec3::Y) * (clear_m - off.length());
        }
    }
    eye
}

/// A camera on its way from where it was to where it shall be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glide {
    at: Transform,
    field_rad: f32,
}

impl Glide {
    pub fn at(transform: Transform, field_rad: f32) -> Self {
        Self {
            at: transform,
            field_rad,
        }
    }

    /// On towards its goal for a frame. At once where motion shall be reduced.
    pub fn on(
        &mut self,
        goal: Transform,
        field_rad: f32,
        passed_s: f32,
        at_once: bool,
    ) -> (Transform, f32) {
        // What is left shrinks to a twentieth in the time of a glide.
        let share = if at_once {
            1.0
        } else {
            1.0 - (-3.0 * passed_s / GLIDE_S).exp()
        };
        self.at.translation = self.at.translation.lerp(goal.translation, share);
        self.at.rotation = self.at.rotation.slerp(goal.rotation, share);
        self.field_rad += (field_rad - self.field_rad) * share;
        (self.at, self.field_rad)
    }
}
