//! The escapement: gate and separator pins in their guides beside the rails, each with its cylinder,
//! or a star wheel on its shaft.

use bevy::prelude::*;

use super::coat::Coat;
use super::kit::{Kit, m, outwards};
use super::piece::Piece;
use super::rack;
use super::rides::{Now, Rides};
use crate::domain::rig::{End, NOTCH_RAD, Rig, SPOKES};
use crate::domain::spec::EscapementKind;

/// How far under its sunk place the crosshead sits on a pin, beyond the stroke, m.
const CROSSHEAD_M: f32 = 0.10;
/// How far below the crosshead a pin ends, m.
const TAIL_M: f32 = 0.06;
/// Thickness of the guides' cheeks and the room in their slots, m.
const CHEEK_M: f32 = 0.012;
const PLAY_M: f32 = 0.006;
/// How far under the rail's surface the guides' collars lie, m.
const COLLAR_M: f32 = 0.028;

fn stroke_m(rig: &Rig) -> f32 {
    m(rig.pin_stroke_m())
}

/// How far a sunk pin is under the rail's surface, m.
fn sunk_m(rig: &Rig) -> f32 {
    m(rig.pin_stroke_m() - rig.gate_height_m)
}

/// Middle of pins and wheels beside the middle of their rail, m.
fn beside_m(rig: &Rig, end: End) -> f32 {
    m(rig.pin_z_m(end) - rig.rail_z_m(end))
}

fn gate_middle_m(rig: &Rig) -> f32 {
    m(rig.gate_corner_m - 0.5 * rig.gate_thickness_m)
}

/// A pin's frame: its origin is the middle of its top.
fn pin(now: &Now, end: End, along_m: f32, raised: f64) -> Transform {
    let rig = now.rig;
    let top = m(raised) * stroke_m(rig) - sunk_m(rig);
    rack::rail(now, end) * Transform::from_xyz(-along_m, top, beside_m(rig, end))
}

pub fn gate(now: &Now, end: End) -> Transform {
    let raised = Now::of(now.shown.gates, end);
    pin(now, end, gate_middle_m(now.rig), raised)
}

pub fn separator(now: &Now, end: End) -> Transform {
    let raised = Now::of(now.shown.separators, end);
    pin(now, end, m(now.rig.separator_middle_m), raised)
}

pub fn wheel(now: &Now, end: End) -> Transform {
    let rig = now.rig;
    let turned = m(Now::of(now.shown.gates, end) * NOTCH_RAD);
    let hub = Transform::from_xyz(-m(rig.hub_m), -m(rig.hub_depth_m), beside_m(rig, end));
    rack::rail(now, end) * hub * Transform::from_rotation(Quat::from_rotation_z(-turned))
}

pub fn build(kit: &mut Kit) {
    for end in End::BOTH {
        match kit.rig.spec().escapement.kind {
            EscapementKind::PinPair => pins(kit, end),
            EscapementKind::StarWheel => star(kit, end),
        }
    }
}

fn pins(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let faults = rig.faults(end);
    let pins = [
        (
            Rides::Gate(end),
            gate_middle_m(rig),
            m(rig.gate_thickness_m),
            faults.gate_missing,
        ),
        (
            Rides::Separator(end),
            m(rig.separator_middle_m),
            m(rig.separator_width_m),
            faults.separator_missing,
        ),
    ];
    for (rides, along, thick, missing) in pins {
        guide(kit, end, along, thick);
        let rail_under = m(rig.on_rail(end, f64::from(along), 0.0).y_m);
        let stroke = stroke_m(rig);
        let half_width = m(rig.pin_half_width_m());
        let inwards = -outwards(end);
        let cylinder_z = inwards * (half_width + 0.075 + 0.004 * stroke);
        let radius = 0.030 + 0.02 * stroke;

        // Sunk, the crosshead is this far under the surface; the cylinder ends under it.
        let crosshead = stroke + CROSSHEAD_M;
        let top = -crosshead - 0.05;
        let bottom = (top - stroke - 0.10).max(0.10 - rail_under);
        let rail = kit.on(Rides::Rail(end));
        let at = |y: f32| Vec3::new(-along, y, beside_m(rig, end) + cylinder_z);
        rail.cylinder(Coat::Sand, at(bottom.min(top - 0.05)), at(top), radius);
        let clamp = Transform::from_translation(at(top - 0.07) - Vec3::Z * 0.5 * cylinder_z);
        let reach = 0.5 * cylinder_z.abs() + radius;
        rail.plate(Coat::Slate, clamp, Vec3::new(radius + 0.012, 0.022, reach));

        let moving = kit.on(rides);
        if !missing {
            moving.block(
                Coat::Machined,
                Vec3::new(
                    -0.5 * thick,
                    -(stroke + CROSSHEAD_M + TAIL_M) + sunk_m(rig),
                    -half_width,
                ),
                Vec3::new(0.5 * thick, 0.0, half_width),
            );
        }
        let y = -crosshead + sunk_m(rig);
        let head = Transform::from_xyz(0.0, y, 0.5 * cylinder_z);
        let size = Vec3::new(
            0.5 * thick.max(0.06) + 0.014,
            0.028,
            0.5 * cylinder_z.abs() + 0.03,
        );
        moving.plate(Coat::Dark, head, size);
        let rod = Vec3::new(0.0, y, cylinder_z);
        moving.rod(
            Coat::Chrome,
            rod,
            rod - Vec3::Y * (stroke + 0.12),
            0.55 * radius,
        );
        moving.bolt(rod + Vec3::Y * 0.028, Vec3::Y, 0.04);
    }
    index_bar(kit, end);
}

/// Cheeks on both sides of a pin, a back plate, and the collar with the slot it comes up through.
fn guide(kit: &mut Kit, end: End, along: f32, thick: f32) {
    let rig = kit.rig;
    let half_width = m(rig.pin_half_width_m());
    let (z, out) = (beside_m(rig, end), outwards(end));
    let low = -(stroke_m(rig) + CROSSHEAD_M + 0.02);
    let slot = 0.5 * thick + PLAY_M;
    let rail = kit.on(Rides::Rail(end));
    for side in [-1.0, 1.0] {
        let x = -along + side * (slot + 0.5 * CHEEK_M);
        rail.block(
            Coat::Slate,
            Vec3::new(x - 0.5 * CHEEK_M, low, z - half_width - 0.004),
            Vec3::new(x + 0.5 * CHEEK_M, -COLLAR_M, z + half_width),
        );
        // The collar's sides.
        let collar = Transform::from_xyz(
            -along + side * (slot + 0.017),
            -COLLAR_M - 0.012,
            z - out * 0.004,
        );
        let size = Vec3::new(0.017, 0.012, half_width + 0.018);
        rail.plate(Coat::Sand, collar, size);
        let gusset = Vec3::new(-along + side * (slot + CHEEK_M), -COLLAR_M - 0.024, z);
        rail.gusset(
            Coat::Slate,
            gusset,
            Vec3::X * side * 0.05,
            Vec3::NEG_Y * 0.10,
        );
    }
    // The plate on the rail's side, and the strap across the open side.
    let back = z + out * (half_width + 0.5 * CHEEK_M + 0.002);
    let wide = slot + CHEEK_M + 0.035;
    rail.plate(
        Coat::Slate,
        Transform::from_xyz(-along, 0.5 * (low - COLLAR_M), back),
        Vec3::new(wide, 0.5 * (-COLLAR_M - low), 0.5 * CHEEK_M),
    );
    let face = Quat::from_rotation_y(if out > 0.0 { std::f32::consts::PI } else { 0.0 });
    for y in [-COLLAR_M - 0.055, low + 0.03] {
        let strap = z - out * (half_width + 0.004 + 0.5 * CHEEK_M);
        rail.plate(
            Coat::Dark,
            Transform::from_xyz(-along, y, strap),
            Vec3::new(slot + CHEEK_M, 0.024, 0.5 * CHEEK_M),
        );
        let bolts = Transform::from_xyz(-along, y, strap - out * 0.5 * CHEEK_M).with_rotation(face);
        rail.bolts(bolts, Vec2::new(slot, 0.0), [2, 1], 0.022);
    }
}

/// The bar with the holes into which the guides are put for a size.
fn index_bar(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let out = outwards(end);
    let side = -out * (0.5 * m(rig.spec().rack.rail_width_m) + 0.004);
    let (from, to) = (
        0.10,
        (m(rig.separator_middle_m) + 0.35).min(m(rig.spec().rack.length_m) - 0.05),
    );
    let rail = kit.on(Rides::Rail(end));
    rail.plate(
        Coat::Galvanised,
        Transform::from_xyz(-0.5 * (from + to), -0.085, side),
        Vec3::new(0.5 * (to - from), 0.022, 0.004),
    );
    if !rail.is_detailed() {
        return;
    }
    let facing = Quat::from_rotation_y(if out > 0.0 { std::f32::consts::PI } else { 0.0 });
    let holes = ((to - from) / 0.05) as u32;
    for hole in 1..holes {
        let x = -(from + 0.05 * hole as f32);
        let at = Transform::from_xyz(x, -0.085, side - out * 0.0046).with_rotation(facing);
        rail.mark(Coat::Black, at, Vec2::splat(0.007));
    }
}

fn star(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let inwards = -outwards(end);
    let r = m(rig.setting_radius_m);
    let half = m(rig.pin_half_width_m());
    let shaft = 0.075 * r + 0.02;

    let wheel = kit.on(Rides::Wheel(end));
    wheel.cut(
        Coat::Machined,
        Transform::IDENTITY,
        &star_outline(rig),
        half,
    );
    for side in [-1.0, 1.0] {
        let disc = Vec3::Z * side * (half + 0.012);
        wheel.rod(Coat::Slate, Vec3::Z * side * (half - 0.002), disc, 0.30 * r);
        let face = Quat::from_rotation_y(if side > 0.0 {
            0.0
        } else {
            std::f32::consts::PI
        });
        let face = Transform::from_translation(disc).with_rotation(face);
        for spoke in 0..SPOKES {
            let way = Vec2::from_angle(m(NOTCH_RAD) * (spoke as f32 + 0.5)) * 0.22 * r;
            wheel.bolt(
                face.transform_point(way.extend(0.0)),
                face.rotation * Vec3::Z,
                0.032,
            );
        }
    }
    wheel.rod(
        Coat::Machined,
        Vec3::Z * -inwards * (half + 0.10),
        Vec3::Z * inwards * (half + 0.14),
        shaft,
    );

    // Bearings hang from the rail, one under it and one beside the wheel; a motor on the shaft's end.
    let (x, y, z) = (-m(rig.hub_m), -m(rig.hub_depth_m), beside_m(rig, end));
    let rail = kit.on(Rides::Rail(end));
    let inner = z + inwards * (half + 0.075);
    for bearing in [0.0, inner] {
        let block = Vec3::new(1.9 * shaft + 0.03, 1.7 * shaft + 0.02, 0.035);
        rail.plate(Coat::Sand, Transform::from_xyz(x, y, bearing), block);
        for side in [-1.0, 1.0] {
            let hanger = Vec3::new(x + side * (block.x - 0.015), 0.5 * (y - 0.10), bearing);
            let tall = 0.5 * (-0.10 - y).max(0.04);
            rail.plate(
                Coat::Slate,
                Transform::from_translation(hanger),
                Vec3::new(0.015, tall + 0.03, 0.03),
            );
        }
    }
    let arm_z = 0.5 * inner;
    rail.plate(
        Coat::Slate,
        Transform::from_xyz(x - 1.9 * shaft - 0.06, -0.095, arm_z),
        Vec3::new(0.035, 0.02, arm_z.abs() + 0.04),
    );
    rail.plate(
        Coat::Slate,
        Transform::from_xyz(x - 1.9 * shaft - 0.045, 0.5 * (y - 0.09), inner),
        Vec3::new(0.02, 0.5 * (-0.09 - y).max(0.04) + 0.02, 0.03),
    );
    motor(rail, Vec3::new(x, y, inner + inwards * 0.035), inwards);
}

/// A hydraulic motor on the end of a shaft along z, its ports below.
pub fn motor(piece: &mut Piece, at: Vec3, towards: f32) {
    let out = Vec3::Z * towards;
    piece.rod(Coat::Dark, at, at + out * 0.022, 0.062);
    piece.rod(Coat::Slate, at + out * 0.02, at + out * 0.15, 0.050);
    piece.rod(Coat::Dark, at + out * 0.15, at + out * 0.175, 0.042);
    for side in [-1.0, 1.0] {
        let port = at + out * 0.11 + Vec3::X * side * 0.022;
        piece.rod(Coat::Galvanised, port, port - Vec3::Y * 0.08, 0.014);
    }
}

/// The wheel seen along its shaft: the spokes are as in the core, the webs between them are not
/// reached by a stick.
fn star_outline(rig: &Rig) -> Vec<Vec2> {
    let r = m(rig.setting_radius_m);
    let (tip, half) = (m(rig.spoke_m), 0.5 * m(rig.spoke_thickness_m));
    let notch = m(NOTCH_RAD);
    let mut outline = Vec::with_capacity(5 * SPOKES);
    for spoke in 0..SPOKES {
        let way = Vec2::from_angle(notch * (spoke as f32 + 0.5));
        let side = way.perp();
        outline.extend([
            way * 0.46 * r - side * half,
            way * tip - side * half,
            way * tip + side * half,
            way * 0.46 * r + side * half,
            Vec2::from_angle(notch * (spoke as f32 + 1.0)) * 0.30 * r,
        ]);
    }
    outline
}
