//! Near and far cradle: a V of crossed rollers on a side-shift, on a lift column with twin rams.
//!
//! The near rollers lie across the line under their faces and carry the stick on; the far ones lie
//! along it and turn it. Both are set with barrels that let the stick go the other way.

use std::f32::consts::{PI, TAU};

use bevy::prelude::*;

use super::coat::Coat;
use super::escapement::motor;
use super::kit::{Kit, m, outwards};
use super::piece::Piece;
use super::rides::{Now, Rides, ground_m};
use crate::domain::rig::{COLUMN_BASE_M, CRADLE_FACE_RAD, End, Rig};
use crate::domain::spec::{ColumnSpec, Turning};

/// Radius of a driven roller over its barrels, m.
pub const ROLLER_M: f32 = 0.072;
/// Barrels around a roller, and how far one ring of them is from the next, m.
const BARRELS: u32 = 8;
const RING_M: f32 = 0.062;
/// How far the rollers' middles are beside the middle of a near face along z, m, and how far apart
/// far ones lie along their face.
const NEAR_ROW_M: f32 = 0.075;
const FAR_ROW_M: f32 = 0.156;
/// Under the apex: the V's floor, the slide, the head of the mast, m.
const FLOOR_M: f32 = 0.17;
const SLIDE_M: f32 = 0.235;
const HEAD_M: f32 = 0.275;
/// Widths of the column's stages, m.
const OUTER_M: f32 = 0.26;
const MIDDLE_M: f32 = 0.20;
const INNER_M: f32 = 0.145;
/// How far the lift's rams stand off the column's middle, m.
const RAM_M: f32 = 0.205;

fn spec(rig: &Rig, end: End) -> ColumnSpec {
    rig.spec().cradles.column(end)
}

/// Height of the outer tube's top, m.
fn tube_top_m(rig: &Rig) -> f32 {
    (m(rig.apex_low_m()) - HEAD_M - 0.03).max(0.34)
}

fn leaning(rig: &Rig, end: End, off_m: f64, lean_rad: f64) -> Transform {
    Transform::from_xyz(m(off_m), 0.0, m(rig.cradle_z_m(end)))
        .with_rotation(Quat::from_rotation_z(-m(lean_rad)))
}

/// The frame of a column: its origin on the ground between the feet.
pub fn column(now: &Now, end: End) -> Transform {
    let lean = Now::of(now.shown.cradles, end).lean_rad;
    leaning(now.rig, end, spec(now.rig, end).offset_m, lean)
}

/// The same, up by a part of what the lift is raised.
pub fn raised(now: &Now, end: End, share: f32) -> Transform {
    let raised = m(Now::of(now.shown.cradles, end).raised_m);
    column(now, end) * Transform::from_xyz(0.0, share * raised, 0.0)
}

/// The frame of a V: its origin is the apex.
pub fn carriage(now: &Now, end: End) -> Transform {
    let cradle = Now::of(now.shown.cradles, end);
    let apex = m(now.rig.apex_low_m() + cradle.raised_m);
    leaning(now.rig, end, cradle.off_m, cradle.lean_rad) * Transform::from_xyz(0.0, apex, 0.0)
}

/// The frame of a face in that of its V: x along the face towards the outer side, y square to it.
fn face(side: u8) -> Transform {
    let turn = m(CRADLE_FACE_RAD) * if side == 0 { -1.0 } else { 1.0 };
    Transform::from_rotation(Quat::from_rotation_z(turn))
}

fn towards(side: u8) -> f32 {
    if side == 0 { -1.0 } else { 1.0 }
}

/// How far from the apex the far rollers lie along a face: one where a stick of the setting lies, and
/// others beside it as there is room.
fn far_rows(rig: &Rig) -> Vec<f32> {
    let lies = m(rig.setting_radius_m) * m(CRADLE_FACE_RAD).tan();
    let room = (ROLLER_M + 0.015)..=(m(rig.wing_m()) - ROLLER_M - 0.012);
    (-3..=3)
        .map(|row| lies + row as f32 * FAR_ROW_M)
        .filter(|at| room.contains(at))
        .collect()
}

/// Middle of a near roller along its face, and half its length, m.
fn near_roller(rig: &Rig) -> (f32, f32) {
    let (from, to) = (0.055, m(rig.wing_m()) - 0.035);
    (0.5 * (from + to), 0.5 * (to - from))
}

/// The rollers of a cradle.
fn rollers(rig: &Rig, end: End) -> Vec<Rides> {
    let rows = match end {
        End::Near => 2,
        End::Far => far_rows(rig).len() as u8,
    };
    let of = |side: u8| (0..rows).map(move |row| Rides::Roller(end, side, row));
    of(0).chain(of(1)).collect()
}

/// A roller's frame: its middle, x along a near one, z along a far one.
pub fn roller(now: &Now, end: End, side: u8, which: u8) -> Transform {
    let turned = Now::of(now.wound.rollers_rad, end);
    let (at, spin) = match end {
        End::Near => {
            let z = NEAR_ROW_M * if which == 0 { -1.0 } else { 1.0 };
            let x = towards(side) * near_roller(now.rig).0;
            // Seen along x the top of the roller goes to +z as it turns on.
            (Vec3::new(x, -ROLLER_M, z), Quat::from_rotation_x(turned))
        }
        End::Far => {
            let row = far_rows(now.rig).get(usize::from(which)).copied();
            let x = towards(side) * row.unwrap_or_default();
            (Vec3::new(x, -ROLLER_M, 0.0), Quat::from_rotation_z(turned))
        }
    };
    carriage(now, end) * face(side) * Transform::from_translation(at).with_rotation(spin)
}

pub fn build(kit: &mut Kit) {
    for end in End::BOTH {
        base(kit, end);
        lift(kit, end);
        shift(kit, end);
        vee(kit, end);
        barrels(kit, end);
    }
}

fn base(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let column = spec(rig, end);
    let (z, half) = (m(rig.cradle_z_m(end)), 0.5 * m(COLUMN_BASE_M));
    let top = tube_top_m(rig);
    let ground = [-1.0, 1.0].map(|side| ground_m(rig, m(column.offset_m) + side * half, z));
    let padded = [column.rack_foot.padded, column.outer_foot.padded];
    let piece = kit.on(Rides::Column(end));
    for z in [-0.17, 0.17] {
        piece.i_beam(
            Coat::Slate,
            Vec3::new(-half - 0.06, 0.14, z),
            Vec3::new(half + 0.06, 0.14, z),
            Vec3::Y,
            [0.09, 0.12],
        );
    }
    for side in [-1.0, 1.0] {
        piece.box_beam(
            Coat::Slate,
            Vec3::new(side * half, 0.15, -0.26),
            Vec3::new(side * half, 0.15, 0.26),
            Vec3::Y,
            [0.10, 0.10],
        );
        let index = usize::from(side > 0.0);
        for z in [-0.20, 0.20] {
            let held = Vec3::new(side * half, 0.11, z);
            piece.foot(held, ground[index].min(0.02), padded[index]);
        }
    }
    piece.plate(
        Coat::Slate,
        Transform::from_xyz(0.0, 0.21, 0.0),
        Vec3::new(0.30, 0.012, 0.24),
    );
    piece.box_beam(
        Coat::Sand,
        Vec3::Y * 0.21,
        Vec3::Y * top,
        Vec3::X,
        [OUTER_M, OUTER_M],
    );
    let collar = Vec3::new(0.5 * OUTER_M + 0.025, 0.025, 0.5 * OUTER_M + 0.025);
    piece.plate(
        Coat::Slate,
        Transform::from_xyz(0.0, top - 0.025, 0.0),
        collar,
    );
    for turn in 0..4 {
        let out = Quat::from_rotation_y(TAU * 0.25 * turn as f32);
        let face = Transform::from_translation(Vec3::Y * (top - 0.025) + out * Vec3::Z * collar.z)
            .with_rotation(out);
        piece.bolts(face, Vec2::new(0.09, 0.0), [3, 1], 0.024);
        let side = out * Vec3::X;
        let corner = side * 0.5 * OUTER_M + Vec3::Y * 0.222;
        piece.gusset(
            Coat::Slate,
            corner,
            side * 0.12,
            Vec3::Y * (0.5 * (top - 0.22)).min(0.22),
        );
    }
}

/// The inner stages and the twin rams.
fn lift(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let top = tube_top_m(rig);
    let head = m(rig.apex_low_m()) - HEAD_M;
    let stroke = m(rig.spec().cradles.lift_stroke_m);
    let stage = kit.on(Rides::Stage(end));
    stage.box_beam(
        Coat::Slate,
        Vec3::Y * (top - 0.5 * stroke - 0.15),
        Vec3::Y * (top + 0.012),
        Vec3::X,
        [MIDDLE_M, MIDDLE_M],
    );
    let mast = kit.on(Rides::Mast(end));
    mast.box_beam(
        Coat::Machined,
        Vec3::Y * (top - stroke - 0.15),
        Vec3::Y * (head + 0.01),
        Vec3::X,
        [INNER_M, INNER_M],
    );
    mast.plate(
        Coat::Slate,
        Transform::from_xyz(0.0, head + 0.012, 0.0),
        Vec3::new(0.36, 0.016, 0.14),
    );
    for side in [-1.0, 1.0] {
        let x = side * RAM_M;
        mast.rod(
            Coat::Chrome,
            Vec3::new(x, head, 0.0),
            Vec3::new(x, top - stroke - 0.2, 0.0),
            0.026,
        );
        let gusset = Vec3::new(side * 0.5 * INNER_M, head - 0.004, 0.0);
        mast.gusset(
            Coat::Slate,
            gusset,
            Vec3::X * side * 0.20,
            Vec3::NEG_Y * 0.03,
        );
    }
    let column = kit.on(Rides::Column(end));
    for side in [-1.0, 1.0] {
        let x = side * RAM_M;
        column.cylinder(
            Coat::Slate,
            Vec3::new(x, 0.23, 0.0),
            Vec3::new(x, top - 0.035, 0.0),
            0.042,
        );
    }
}

fn shift(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let head = m(rig.apex_low_m()) - HEAD_M;
    let half_range = 0.5 * m(rig.spec().cradles.shift_range_m);
    let ram_z = outwards(end) * 0.20;
    let mast = kit.on(Rides::Mast(end));
    for z in [-0.095, 0.095] {
        mast.plate(
            Coat::Machined,
            Transform::from_xyz(0.0, head + 0.030, z),
            Vec3::new(0.34 + half_range, 0.010, 0.022),
        );
    }
    let from = Vec3::new(-0.36, head + 0.01, ram_z);
    let to = Vec3::new(0.06 - half_range, head + 0.01, ram_z);
    mast.cylinder(Coat::Sand, from, to, 0.032);
    mast.plate(
        Coat::Slate,
        Transform::from_xyz(-0.34, head + 0.01, ram_z * 0.85),
        Vec3::new(0.018, 0.026, 0.07),
    );
    let carriage = kit.on(Rides::Carriage(end));
    for side in [-1.0, 1.0] {
        for z in [-0.095, 0.095] {
            carriage.plate(
                Coat::Dark,
                Transform::from_xyz(side * 0.17, -SLIDE_M + 0.005, z),
                Vec3::new(0.075, 0.022, 0.036),
            );
        }
    }
    let y = -HEAD_M + 0.01;
    let lug = Vec3::new(0.20, y, ram_z);
    carriage.rod(Coat::Chrome, lug, Vec3::new(-0.24, y, ram_z), 0.017);
    carriage.plate(
        Coat::Slate,
        Transform::from_xyz(0.205, 0.5 * (y - FLOOR_M), ram_z),
        Vec3::new(0.014, 0.5 * (-FLOOR_M - y) + 0.03, 0.03),
    );
    carriage.plate(
        Coat::Slate,
        Transform::from_xyz(0.17, -FLOOR_M - 0.02, 0.85 * ram_z),
        Vec3::new(0.05, 0.01, 0.08),
    );
}

fn vee(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let (wing, half) = (m(rig.wing_m()), m(rig.cradle_half_width_m()));
    let (rise, reach) = m(CRADLE_FACE_RAD).sin_cos();
    let (x, y) = (wing * reach, wing * rise);
    let seized = end == End::Far && rig.spec().faults.roller_seized;
    let piece = kit.on(Rides::Carriage(end));
    // Cheeks carry the shafts; they end a finger's breadth under the faces.
    let foot = 0.24_f32.min(0.8 * x);
    let outline = [
        Vec2::new(-x + 0.012, y - 0.030),
        Vec2::new(0.0, -0.036),
        Vec2::new(x - 0.012, y - 0.030),
        Vec2::new(x - 0.004, y - 0.115),
        Vec2::new(foot, -FLOOR_M),
        Vec2::new(-foot, -FLOOR_M),
        Vec2::new(-x + 0.004, y - 0.115),
    ];
    for side in [-1.0, 1.0] {
        let at = Transform::from_xyz(0.0, 0.0, side * (half - 0.009));
        piece.cut(Coat::Slate, at, &outline, 0.008);
    }
    piece.plate(
        Coat::Slate,
        Transform::from_xyz(0.0, -FLOOR_M - 0.012, 0.0),
        Vec3::new(foot + 0.06, 0.014, half),
    );
    // The wings' ends reach up to the faces and no further.
    for side in [0, 1] {
        let tip = face(side) * Transform::from_xyz(towards(side) * (wing - 0.011), -0.060, 0.0);
        piece.plate(Coat::Sand, tip, Vec3::new(0.011, 0.060, half));
        let shafts = match end {
            End::Near => vec![],
            End::Far => far_rows(rig),
        };
        for row in shafts {
            let at = face(side) * Transform::from_xyz(towards(side) * row, -ROLLER_M, 0.0);
            let coat = if seized { Coat::Rust } else { Coat::Galvanised };
            for z in [-1.0, 1.0] {
                let from = at.transform_point(Vec3::Z * z * (half - 0.002));
                piece.rod(coat, from, from + Vec3::Z * z * 0.014, 0.026);
            }
        }
        if end == End::Near {
            let (middle, reach) = near_roller(rig);
            for z in [-NEAR_ROW_M, NEAR_ROW_M] {
                for tip in [-1.0, 1.0] {
                    let at = face(side)
                        * Transform::from_xyz(
                            towards(side) * middle + tip * (reach + 0.008),
                            -ROLLER_M,
                            z,
                        );
                    piece.plate(Coat::Dark, at, Vec3::new(0.010, 0.032, 0.034));
                }
            }
        }
    }
    match end {
        End::Near => {
            // The case of the drive under the V, and its motor.
            let case = Transform::from_xyz(0.0, -0.115, 0.0);
            piece.plate(Coat::Dark, case, Vec3::new(0.07, 0.055, half - 0.02));
            motor(piece, Vec3::new(0.0, -0.115, half), 1.0);
        }
        End::Far if rig.spec().cradles.turning == Turning::Powered => {
            for side in [0, 1] {
                let row = far_rows(rig).last().copied().unwrap_or_default();
                let at = face(side) * Transform::from_xyz(towards(side) * row, -ROLLER_M, -half);
                motor(piece, at.translation, -1.0);
            }
        }
        End::Far => {}
    }
}

fn barrels(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let rides = rollers(rig, end);
    let seized = end == End::Far && rig.spec().faults.roller_seized;
    let (half, lies, coat) = match end {
        // A near roller lies along x.
        End::Near => (
            near_roller(rig).1,
            Quat::from_rotation_z(-0.5 * PI),
            Coat::Rubber,
        ),
        End::Far => (
            m(rig.cradle_half_width_m()) - 0.022,
            Quat::from_rotation_x(0.5 * PI),
            if seized { Coat::Rust } else { Coat::Urethane },
        ),
    };
    let piece = kit.on_each(&rides);
    let about = Transform::from_rotation(lies);
    roller_of(piece, about, half, coat);
}

/// A roller about the frame's y, from -`half` to `half`: discs with rings of barrels between them.
fn roller_of(piece: &mut Piece, about: Transform, half: f32, coat: Coat) {
    let at = |y: f32| about.transform_point(Vec3::Y * y);
    piece.rod(Coat::Dark, at(-half), at(half), 0.62 * ROLLER_M);
    // Three bolts on each end show that it turns.
    for end in [-1.0, 1.0] {
        piece.rod(
            Coat::Machined,
            at(end * (half - 0.012)),
            at(end * half),
            0.80 * ROLLER_M,
        );
    }
    let rings = ((2.0 * (half - 0.012) / RING_M) as u32).max(1);
    let spread = 2.0 * (half - 0.012) / rings as f32;
    for ring in 0..rings {
        let y = -half + 0.012 + (ring as f32 + 0.5) * spread;
        if !piece.is_detailed() {
            // From afar a ring of barrels is a toothed wheel.
            let outline: Vec<Vec2> = (0..2 * BARRELS)
                .map(|tooth| {
                    let angle =
                        TAU * (tooth as f32 + 0.5 * (ring % 2) as f32) / (2 * BARRELS) as f32;
                    let out = if tooth % 2 == 0 { 1.0 } else { 0.88 };
                    Vec2::from_angle(angle) * out * ROLLER_M
                })
                .collect();
            let lying = Quat::from_rotation_x(0.5 * PI);
            let wheel = about * Transform::from_xyz(0.0, y, 0.0).with_rotation(lying);
            piece.cut(coat, wheel, &outline, 0.46 * spread);
            continue;
        }
        for barrel in 0..BARRELS {
            let angle = TAU * (barrel as f32 + 0.5 * (ring % 2) as f32) / BARRELS as f32;
            let around = about
                * Transform::from_xyz(0.0, y, 0.0)
                * Transform::from_rotation(Quat::from_rotation_y(angle));
            crowned(piece, around, 0.45 * spread, coat);
        }
    }
}

/// A barrel on the rim of a roller: its axis is tangent to the rim (the frame's z), its crown lies in
/// the roller's outer circle.
fn crowned(piece: &mut Piece, around: Transform, radius: f32, coat: Coat) {
    let centre = ROLLER_M - radius;
    let reach = 0.84 * ROLLER_M * (PI / BARRELS as f32).tan();
    let crown = |t: f32| (ROLLER_M * ROLLER_M - t * t).sqrt() - centre;
    let profile: Vec<Vec2> = core::iter::once(Vec2::new(0.0, -reach))
        .chain([-1.0, 0.0, 1.0].map(|share| {
            let t = reach * share;
            Vec2::new(crown(t), t)
        }))
        .chain([Vec2::new(0.0, reach)])
        .collect();
    let lying = Quat::from_rotation_x(0.5 * PI);
    let at = around * Transform::from_xyz(centre, 0.0, 0.0).with_rotation(lying);
    piece.turned(coat, at, &profile);
}

/// How far the rollers turn in a time, rad: near, far.
pub fn turned_rad(speeds_m_per_s: [f64; 2], passed_s: f32) -> [f32; 2] {
    speeds_m_per_s.map(|speed| m(speed) * passed_s / ROLLER_M)
}
