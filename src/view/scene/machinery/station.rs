//! The control station: a post at the operator's place with the pendant on it.

use bevy::prelude::*;

use super::coat::Coat;
use super::fusion::Machine;
use super::kit::{Kit, m};
use super::rides::{Rides, ground_m};
use crate::domain::crew;
use crate::domain::rig::Rig;
use crate::domain::spec::{Duty, PersonSpec, Place};

/// How far before the operator the post stands, towards the line, m.
const BEFORE_M: f64 = 0.45;
/// Height of the pendant's middle over the ground, m, and how far its face leans back, rad.
const PENDANT_M: f32 = 1.08;
const LEANS_RAD: f32 = 0.55;

/// Where the operator stands, in the plan.
fn operator(rig: &Rig) -> Place {
    let of = |people: &[PersonSpec]| {
        let mut people = people.iter();
        people
            .find(|person| person.duty == Duty::Operator)
            .map(|person| person.start)
    };
    of(&rig.spec().people)
        .or_else(|| of(&crew::usual(rig)))
        .unwrap_or_default()
}

/// The pendant's frame in the plan: its middle, y out of its face, which looks at the operator.
pub fn pendant(rig: &Rig) -> Transform {
    let place = operator(rig);
    let side = if place.x_m < 0.0 { -1.0 } else { 1.0 };
    let (x, z) = (m(place.x_m - side * BEFORE_M), m(place.z_m));
    let facing = if side > 0.0 {
        0.0
    } else {
        std::f32::consts::PI
    };
    let turn = Quat::from_rotation_y(facing) * Quat::from_rotation_z(-LEANS_RAD);
    Transform::from_xyz(x, ground_m(rig, x, z) + PENDANT_M, z).with_rotation(turn)
}

/// The emergency stop on the pendant.
pub fn emergency_stop(rig: &Rig) -> Vec3 {
    pendant(rig).transform_point(Vec3::new(-0.10, 0.09, -0.13))
}

pub fn build(kit: &mut Kit) {
    let rig = kit.rig;
    let pendant = pendant(rig);
    let at = pendant.translation;
    let ground = ground_m(rig, at.x, at.z);
    let piece = kit.on(Rides::Ground);
    piece.plate(
        Coat::Dark,
        Transform::from_xyz(at.x, ground + 0.015, at.z),
        Vec3::new(0.22, 0.015, 0.22),
    );
    piece.rod(
        Coat::Slate,
        Vec3::new(at.x, ground + 0.03, at.z),
        Vec3::new(at.x, at.y - 0.04, at.z),
        0.035,
    );
    for turn in 0..4 {
        let way = Quat::from_rotation_y(std::f32::consts::FRAC_PI_2 * turn as f32) * Vec3::X;
        let corner = Vec3::new(at.x, ground + 0.03, at.z) + way * 0.034;
        piece.gusset(Coat::Slate, corner, way * 0.12, Vec3::Y * 0.14);
    }
    // The box, its face plate, and the rows of buttons.
    piece.plate(Coat::Slate, pendant, Vec3::new(0.16, 0.045, 0.22));
    let face = |x: f32, y: f32, z: f32| pendant.transform_point(Vec3::new(x, y, z));
    piece.plate(
        Coat::Sand,
        pendant * Transform::from_xyz(0.0, 0.046, 0.0),
        Vec3::new(0.150, 0.003, 0.210),
    );
    for row in 0..5 {
        for column in 0..4 {
            let x = 0.125 - 0.050 * row as f32;
            let z = 0.17 - 0.065 * column as f32;
            let coat = match (row + column) % 3 {
                0 => Coat::Plastic,
                1 => Coat::Grey,
                _ => Coat::Black,
            };
            piece.rod(Coat::Dark, face(x, 0.045, z), face(x, 0.053, z), 0.021);
            piece.rod(coat, face(x, 0.053, z), face(x, 0.064, z), 0.016);
        }
    }
    piece.plate(
        Coat::StopGround,
        pendant * Transform::from_xyz(-0.10, 0.050, -0.13),
        Vec3::new(0.048, 0.004, 0.068),
    );
    piece.rod(
        Coat::Dark,
        face(-0.10, 0.05, -0.13),
        face(-0.10, 0.075, -0.13),
        0.018,
    );
    piece.taper(
        Coat::Stop,
        face(-0.10, 0.072, -0.13),
        face(-0.10, 0.092, -0.13),
        [0.042, 0.036],
    );
    // The lockable isolator and the horn.
    piece.rod(
        Coat::Black,
        face(0.09, 0.046, -0.13),
        face(0.09, 0.062, -0.13),
        0.034,
    );
    piece.plate(
        Coat::Grey,
        pendant * Transform::from_xyz(0.09, 0.070, -0.13).with_rotation(Quat::from_rotation_y(0.5)),
        Vec3::new(0.038, 0.010, 0.009),
    );
    piece.taper(
        Coat::Dark,
        Vec3::new(at.x, at.y - 0.22, at.z),
        Vec3::new(at.x, at.y - 0.22, at.z - 0.16),
        [0.025, 0.075],
    );
    // Its cable goes along the ground to the power pack.
    let machine = Machine::of(rig);
    let (end_x, end_z) = (machine.half_width, machine.z + 0.6 * machine.half_length);
    let on_ground = |share: f32, sway: f32| {
        let x = at.x + (end_x - at.x) * share + sway;
        let z = at.z + (end_z - at.z) * share;
        Vec3::new(x, ground_m(rig, x, z) + 0.012, z)
    };
    let way = [
        Vec3::new(at.x, at.y - 0.10, at.z - 0.036),
        Vec3::new(at.x, ground + 0.3, at.z - 0.045),
        Vec3::new(at.x - 0.05, ground + 0.02, at.z - 0.10),
        on_ground(0.25, 0.12),
        on_ground(0.5, -0.08),
        on_ground(0.75, 0.06),
        on_ground(0.97, 0.0),
        Vec3::new(end_x - 0.12, machine.deck - 0.10, end_z),
    ];
    piece.swept(Coat::Hose, &way, 0.011);
}
