//! The loader: a machine on four wheels with a mast, a carriage and two forks.
//!
//! The body's frame has its origin on the ground under the front axle, x ahead, y up.

use std::f32::consts::{PI, TAU};

use bevy::prelude::*;

use super::coat::Coat;
use super::kit::{Kit, m};
use super::piece::Piece;
use super::rides::{Now, Rides};
use crate::domain::loader::{
    AXLE_TO_FACE_M, FACE_HEIGHT_M, FACE_THICKNESS_M, FORK_THICKNESS_M, FORK_WIDTH_M,
};
use crate::domain::spec::LoaderSpec;
use crate::sim::line::LOADER_BODY_MIDDLE_M;
use crate::view::shown::LoaderShown;

/// Wheels: radius, half width, half track; the rear axle behind the front one, m.
const WHEEL_M: f32 = 0.62;
const WHEEL_HALF_M: f32 = 0.21;
const TRACK_HALF_M: f32 = 0.94;
const REAR_M: f32 = -2.55;
/// The mast's rails beside its middle, and its foot and top, m.
const MAST_M: f32 = 0.40;
const MAST_X: f32 = 0.80;
const MAST_LOW_M: f32 = 0.28;
const MAST_HIGH_M: f32 = 2.58;
/// Lift of the forks up to which the inner mast stays, m.
const FREE_LIFT_M: f32 = 0.5;
/// Part of the lift beyond it that the inner mast makes.
const STAGE_SHARE: f32 = 0.5;

fn shown<'a>(now: &Now<'a>) -> Option<&'a LoaderShown> {
    now.shown.loader.as_ref()
}

pub fn body(now: &Now) -> Option<Transform> {
    let middle = LOADER_BODY_MIDDLE_M.as_vec3();
    Some(now.in_plan(shown(now)?.body) * Transform::from_translation(-middle))
}

/// Front ones, then rear ones. They turn with the way.
pub fn wheel(now: &Now, which: u8) -> Option<Transform> {
    let body = body(now)?;
    let ahead = body.rotation * Vec3::X;
    let turned = -body.translation.dot(ahead) / WHEEL_M;
    let side = if which.is_multiple_of(2) { -1.0 } else { 1.0 };
    let x = if which < 2 { 0.0 } else { REAR_M };
    let at = Transform::from_xyz(x, WHEEL_M, side * TRACK_HALF_M);
    // Both sides are the same wheel, its outside turned outwards.
    let out = Quat::from_rotation_y(if side > 0.0 { 0.0 } else { PI });
    let spin = Quat::from_rotation_z(turned);
    Some(body * at.with_rotation(spin * out))
}

/// How high the forks are over the ground under the front axle, m.
fn lift_m(now: &Now) -> Option<f32> {
    let face = now.in_plan(shown(now)?.face);
    let half = shown(now)?.face_half;
    let heel = face.transform_point(Vec3::new(half.x, FORK_THICKNESS_M as f32 - half.y, 0.0));
    let body = body(now)?;
    Some((body.rotation.inverse() * (heel - body.translation)).y)
}

pub fn stage(now: &Now) -> Option<Transform> {
    let up = STAGE_SHARE * (lift_m(now)? - FREE_LIFT_M).max(0.0);
    Some(body(now)? * Transform::from_xyz(0.0, up, 0.0))
}

/// The carriage's face: its frame is that of its box.
pub fn face(now: &Now) -> Option<Transform> {
    Some(now.in_plan(shown(now)?.face))
}

pub fn fork(now: &Now, which: u8) -> Option<Transform> {
    let fork = shown(now)?.forks.get(usize::from(which)).copied()?;
    Some(now.in_plan(fork))
}

pub fn build(kit: &mut Kit) {
    let Some(spec) = kit.rig.spec().loader else {
        return;
    };
    chassis(kit.on(Rides::Loader));
    cab(kit.on(Rides::Loader));
    mast(kit);
    wheels(kit);
    carriage(kit.on(Rides::LoaderFace), &spec);
    fork_piece(kit.on_each(&[Rides::Fork(0), Rides::Fork(1)]), &spec);
}

fn chassis(piece: &mut Piece) {
    // The frame between the wheels, axles, mudguards.
    piece.block(
        Coat::Slate,
        Vec3::new(-3.6, 0.42, -0.55),
        Vec3::new(0.55, 0.86, 0.55),
    );
    for x in [0.0, REAR_M] {
        let axle = Vec3::new(x, WHEEL_M, 0.0);
        piece.rod(
            Coat::Dark,
            axle - Vec3::Z * 0.80,
            axle + Vec3::Z * 0.80,
            0.11,
        );
        piece.rod(
            Coat::Dark,
            axle - Vec3::Z * 0.17,
            axle + Vec3::Z * 0.17,
            0.21,
        );
        for side in [-1.0, 1.0] {
            let guard: Vec<Vec2> = (0..=10)
                .map(|step| (0.12 + 0.76 * step as f32 / 10.0) * PI)
                .map(|angle| Vec2::from_angle(angle) * (WHEEL_M + 0.09))
                .collect();
            let inner = guard.iter().rev().map(|&point| point * 0.955);
            let outline: Vec<Vec2> = guard.iter().copied().chain(inner).collect();
            let at = Transform::from_xyz(x, WHEEL_M, side * (TRACK_HALF_M + 0.01));
            piece.cut(Coat::Sand, at, &outline, 0.24);
        }
    }
    // Engine hood with its louvres, and the counterweight.
    let hood = [
        (-4.05, 0.92),
        (-4.05, 1.46),
        (-3.85, 1.62),
        (-2.25, 1.72),
        (-2.25, 0.86),
        (-3.6, 0.86),
    ];
    piece.cut(Coat::Sand, Transform::IDENTITY, &hood.map(Vec2::from), 0.66);
    for side in [-1.0, 1.0] {
        for slat in 0..7 {
            let x = -3.65 + 0.13 * slat as f32;
            let at = Transform::from_xyz(x, 1.30, side * 0.664);
            piece.plate(Coat::Black, at, Vec3::new(0.035, 0.17, 0.006));
        }
        let lamp = Vec3::new(-4.055, 1.15, side * 0.52);
        piece.rod(Coat::Plastic, lamp, lamp - Vec3::X * 0.02, 0.055);
    }
    let weight = [
        (-4.18, 0.44),
        (-4.20, 0.80),
        (-4.05, 1.00),
        (-3.45, 1.00),
        (-3.45, 0.34),
        (-4.00, 0.34),
    ];
    piece.cut(
        Coat::Slate,
        Transform::IDENTITY,
        &weight.map(Vec2::from),
        0.98,
    );
    // Exhaust.
    piece.rod(
        Coat::Dark,
        Vec3::new(-2.65, 1.60, 0.45),
        Vec3::new(-2.65, 2.25, 0.45),
        0.055,
    );
    piece.rod(
        Coat::Galvanised,
        Vec3::new(-2.65, 2.2, 0.45),
        Vec3::new(-2.70, 2.42, 0.45),
        0.035,
    );
    // Side tanks and steps.
    for side in [-1.0, 1.0] {
        piece.block(
            Coat::Slate,
            Vec3::new(-1.75, 0.40, side * 0.56),
            Vec3::new(-0.85, 0.92, side * 0.98),
        );
        for y in [0.42, 0.70] {
            piece.block(
                Coat::Galvanised,
                Vec3::new(-1.55, y, side * 0.98),
                Vec3::new(-1.10, y + 0.02, side * 1.12),
            );
        }
    }
}

fn cab(piece: &mut Piece) {
    let (front, back, low, high, half) = (-0.62, -2.15, 0.92, 2.62, 0.68);
    piece.block(
        Coat::Slate,
        Vec3::new(back, 0.86, -half),
        Vec3::new(front, low + 0.28, half),
    );
    let brow = front - 0.22;
    for side in [-1.0, 1.0] {
        let z = side * (half - 0.04);
        let posts = [
            (
                Vec3::new(front - 0.03, low + 0.2, z),
                Vec3::new(brow, high, z),
            ),
            (
                Vec3::new(back + 0.04, low + 0.2, z),
                Vec3::new(back + 0.10, high, z),
            ),
            (Vec3::new(-1.45, low + 0.2, z), Vec3::new(-1.45, high, z)),
        ];
        for (from, to) in posts {
            piece.box_beam(Coat::Slate, from, to, Vec3::Z, [0.07, 0.07]);
        }
        piece.plate(
            Coat::Glass,
            Transform::from_xyz(0.5 * (front + back) - 0.02, 1.85, side * (half - 0.02)),
            Vec3::new(0.62, 0.62, 0.006),
        );
        // Door edge and grab rail.
        let grab = Vec3::new(front - 0.12, 1.25, side * (half + 0.05));
        piece.rod(
            Coat::Galvanised,
            grab,
            grab + Vec3::new(-0.10, 0.75, 0.0),
            0.014,
        );
        // Work lamps under the roof's edge.
        let lamp = Vec3::new(brow + 0.05, high - 0.03, side * 0.45);
        piece.rod(Coat::Dark, lamp, lamp + Vec3::X * 0.08, 0.065);
        piece.rod(
            Coat::Plastic,
            lamp + Vec3::X * 0.08,
            lamp + Vec3::X * 0.09,
            0.055,
        );
        // Mirrors.
        let arm = Vec3::new(brow + 0.10, 2.25, side * half);
        let mirror = arm + Vec3::new(0.12, 0.02, side * 0.26);
        piece.rod(Coat::Dark, arm, mirror, 0.012);
        let at = Transform::from_translation(mirror - Vec3::Y * 0.10);
        piece.plate(Coat::Black, at, Vec3::new(0.02, 0.14, 0.09));
    }
    let pane = Vec3::new(0.005, 0.72, half - 0.06);
    let lean = Quat::from_rotation_z((front - brow).atan2(high - low - 0.2));
    let windscreen =
        Transform::from_xyz(0.5 * (front + brow) - 0.01, 1.86, 0.0).with_rotation(lean);
    piece.plate(Coat::Glass, windscreen, pane);
    piece.plate(
        Coat::Glass,
        Transform::from_xyz(back + 0.06, 1.86, 0.0),
        pane,
    );
    piece.block(
        Coat::Sand,
        Vec3::new(back - 0.02, high, -half - 0.03),
        Vec3::new(brow + 0.10, high + 0.07, half + 0.03),
    );
    // Bars over the roof keep a stick off the driver.
    for bar in 0..5 {
        let z = -0.5 + 0.25 * bar as f32;
        let from = Vec3::new(back + 0.05, high + 0.075, z);
        piece.rod(
            Coat::Slate,
            from,
            Vec3::new(brow + 0.05, high + 0.075, z),
            0.02,
        );
    }
    // Seat and wheel.
    piece.block(
        Coat::Black,
        Vec3::new(-1.75, 1.15, -0.26),
        Vec3::new(-1.25, 1.32, 0.26),
    );
    piece.block(
        Coat::Black,
        Vec3::new(-1.80, 1.30, -0.24),
        Vec3::new(-1.66, 1.95, 0.24),
    );
    piece.rod(
        Coat::Black,
        Vec3::new(-0.80, 1.15, 0.0),
        Vec3::new(-0.98, 1.58, 0.0),
        0.03,
    );
    let wheel = super::piece::upright(Vec3::new(-0.98, 1.58, 0.0), Vec3::new(-1.05, 1.75, 0.0));
    let rim = [
        (0.19, -0.014),
        (0.19, 0.014),
        (0.165, 0.014),
        (0.165, -0.014),
        (0.19, -0.014),
    ];
    piece.turned(Coat::Black, wheel, &rim.map(Vec2::from));
}

fn mast(kit: &mut Kit) {
    let body = kit.on(Rides::Loader);
    for side in [-1.0, 1.0] {
        let z = side * MAST_M;
        body.i_beam(
            Coat::Slate,
            Vec3::new(MAST_X - 0.06, MAST_LOW_M, z),
            Vec3::new(MAST_X - 0.06, MAST_HIGH_M, z),
            Vec3::X,
            [0.09, 0.15],
        );
        // Tilt rams back to the frame.
        let (from, to) = (Vec3::new(-0.05, 0.95, z), Vec3::new(MAST_X - 0.14, 1.35, z));
        body.cylinder(Coat::Dark, from, from.lerp(to, 0.72), 0.05);
        body.rod(Coat::Chrome, from.lerp(to, 0.6), to, 0.028);
        let (low, high) = (
            Vec3::new(MAST_X - 0.08, MAST_LOW_M, side * 0.26),
            Vec3::new(MAST_X - 0.08, MAST_HIGH_M - 0.25, side * 0.26),
        );
        body.cylinder(Coat::Slate, low, high, 0.042);
    }
    for y in [MAST_LOW_M + 0.05, 1.30, MAST_HIGH_M - 0.06] {
        body.box_beam(
            Coat::Slate,
            Vec3::new(MAST_X - 0.12, y, -MAST_M),
            Vec3::new(MAST_X - 0.12, y, MAST_M),
            Vec3::Y,
            [0.05, 0.10],
        );
    }
    let stage = kit.on(Rides::LoaderStage);
    for side in [-1.0, 1.0] {
        let z = side * (MAST_M - 0.075);
        stage.i_beam(
            Coat::Dark,
            Vec3::new(MAST_X, MAST_LOW_M + 0.04, z),
            Vec3::new(MAST_X, MAST_HIGH_M - 0.02, z),
            Vec3::X,
            [0.06, 0.11],
        );
        stage.rod(
            Coat::Chrome,
            Vec3::new(MAST_X - 0.08, MAST_LOW_M + 0.3, side * 0.26),
            Vec3::new(MAST_X - 0.08, MAST_HIGH_M - 0.05, side * 0.26),
            0.026,
        );
        // Lift chains over their wheels.
        for x in [MAST_X - 0.02, MAST_X + 0.045] {
            stage.block(
                Coat::Black,
                Vec3::new(x - 0.006, MAST_LOW_M + 0.55, side * 0.12 - 0.014),
                Vec3::new(x + 0.006, MAST_HIGH_M - 0.10, side * 0.12 + 0.014),
            );
        }
        let pulley = Vec3::new(MAST_X + 0.012, MAST_HIGH_M - 0.09, side * 0.12);
        stage.rod(
            Coat::Dark,
            pulley - Vec3::Z * 0.025,
            pulley + Vec3::Z * 0.025,
            0.06,
        );
    }
    stage.box_beam(
        Coat::Dark,
        Vec3::new(MAST_X - 0.02, MAST_HIGH_M - 0.05, 0.075 - MAST_M),
        Vec3::new(MAST_X - 0.02, MAST_HIGH_M - 0.05, MAST_M - 0.075),
        Vec3::Y,
        [0.05, 0.07],
    );
}

fn wheels(kit: &mut Kit) {
    let rides = [0, 1, 2, 3].map(Rides::LoaderWheel);
    let piece = kit.on_each(&rides);
    let lying = Transform::from_rotation(Quat::from_rotation_x(0.5 * PI));
    let (r, half) = (WHEEL_M, WHEEL_HALF_M);
    let tyre = [
        (0.30, -half * 0.78),
        (0.40, -half * 0.98),
        (r - 0.10, -half),
        (r - 0.035, -half * 0.88),
        (r - 0.022, -half * 0.6),
        (r - 0.022, half * 0.6),
        (r - 0.035, half * 0.88),
        (r - 0.10, half),
        (0.40, half * 0.98),
        (0.30, half * 0.78),
    ];
    piece.turned(Coat::Rubber, lying, &tyre.map(Vec2::from));
    // Lugs show that it turns.
    for lug in 0..18 {
        for side in [-1.0, 1.0_f32] {
            let angle = TAU * (lug as f32 + if side > 0.0 { 0.5 } else { 0.0 }) / 18.0;
            let at = Transform::from_rotation(Quat::from_rotation_z(angle))
                * Transform::from_xyz(r - 0.016, 0.0, side * half * 0.46)
                    .with_rotation(Quat::from_rotation_x(side * 0.55));
            piece.plate(Coat::Rubber, at, Vec3::new(0.016, 0.034, half * 0.46));
        }
    }
    let rim = [
        (0.0, -half * 0.2),
        (0.20, -half * 0.2),
        (0.24, -half * 0.72),
        (0.32, -half * 0.80),
        (0.32, half * 0.80),
        (0.27, half * 0.74),
        (0.21, half * 0.22),
        (0.13, half * 0.16),
        (0.12, half * 0.5),
        (0.0, half * 0.52),
    ];
    piece.turned(Coat::Sand, lying, &rim.map(Vec2::from));
    for bolt in 0..8 {
        let way = Vec2::from_angle(TAU * bolt as f32 / 8.0) * 0.165;
        piece.bolt(way.extend(half * 0.19), Vec3::Z, 0.035);
    }
}

fn carriage(piece: &mut Piece, spec: &LoaderSpec) {
    let half = Vec3::new(
        0.5 * m(FACE_THICKNESS_M),
        0.5 * m(FACE_HEIGHT_M + FORK_THICKNESS_M),
        0.5 * m(spec.fork_spread_m + FORK_WIDTH_M),
    );
    // Bars whose front is the plane that a stick lies against.
    let front = half.x;
    for (y, tall) in [
        (-half.y + 0.10, 0.075),
        (-half.y + 0.52, 0.065),
        (half.y - 0.04, 0.04),
    ] {
        piece.plate(
            Coat::Slate,
            Transform::from_xyz(front - 0.032, y, 0.0),
            Vec3::new(0.032, tall, half.z),
        );
    }
    let bars = ((2.0 * half.z) / 0.24).round().max(2.0) as u32;
    for bar in 0..=bars {
        let z = -half.z + 0.02 + (2.0 * half.z - 0.04) * bar as f32 / bars as f32;
        piece.plate(
            Coat::Slate,
            Transform::from_xyz(front - 0.016, 0.0, z),
            Vec3::new(0.0155, half.y - 0.004, 0.016),
        );
    }
    // What runs in the mast.
    let back = front - m(AXLE_TO_FACE_M) + MAST_X;
    for side in [-1.0, 1.0] {
        let z = side * (MAST_M - 0.15);
        piece.plate(
            Coat::Dark,
            Transform::from_xyz(0.5 * (back + front) - 0.03, -half.y + 0.32, z),
            Vec3::new(0.5 * (front - back) + 0.02, 0.30, 0.02),
        );
    }
}

/// A fork: its frame is that of its box, whose upper face carries pipe.
fn fork_piece(piece: &mut Piece, spec: &LoaderSpec) {
    let half = Vec3::new(
        0.5 * m(spec.fork_length_m),
        0.5 * m(FORK_THICKNESS_M),
        0.5 * m(FORK_WIDTH_M),
    );
    let outline = [
        Vec2::new(-half.x, -half.y),
        Vec2::new(0.3 * half.x, -half.y),
        Vec2::new(half.x, half.y - 0.014),
        Vec2::new(half.x, half.y),
        Vec2::new(-half.x, half.y),
    ];
    piece.cut(Coat::Dark, Transform::IDENTITY, &outline, half.z);
    // Pipe has rubbed its upper face bright.
    let worn = Transform::from_xyz(0.06, half.y + 0.0006, 0.0)
        .with_rotation(Quat::from_rotation_x(-0.5 * PI));
    piece.mark(
        Coat::Galvanised,
        worn,
        Vec2::new(half.x - 0.07, half.z - 0.025),
    );
    let x = -half.x - 0.5 * m(FACE_THICKNESS_M);
    piece.plate(
        Coat::Dark,
        Transform::from_xyz(x + 0.022, 0.30, 0.0),
        Vec3::new(0.027, 0.325, half.z),
    );
    piece.gusset(
        Coat::Dark,
        Vec3::new(-half.x - 0.02, half.y - 0.002, 0.0),
        Vec3::X * 0.02,
        Vec3::Y * 0.05,
    );
}
