//! The feed rack: two rails on their trestles and screw jacks, with the inclinometers that they are
//! set by.
//!
//! A rail's frame has its origin at the toe, y square to the surface, x down the rail: a place
//! `along_m` up the rail is at x = -`along_m`.

use std::f32::consts::TAU;

use bevy::prelude::*;

use super::coat::Coat;
use super::kit::{Kit, m, outwards};
use super::piece::Piece;
use super::pipe::glyph;
use super::rides::{Now, Rides, ground_m};
use crate::domain::math::deg;
use crate::domain::rig::{End, Rig};
use crate::session::walk::{
    BUBBLE_M_PER_DEGREE, BUBBLE_OUT_M, GAUGE_BEYOND_RAD, GAUGE_MARKS, GAUGE_OUTSIDE_M,
    GAUGE_UNDER_M, RISE_PER_TURN_M, gauge_zero_m,
};

/// The deck of a rail is as thick as its body in the core.
const DECK_M: f32 = 0.12;
/// Longest rail without a joint, m, and where an extension is joined on, as a part of the length.
const ONE_PIECE_M: f32 = 3.6;
const JOINT: f32 = 0.6;
/// How far inside the high end a jack stands, and beyond a joint, m.
const JACK_INSIDE_M: f32 = 0.16;
/// How far up the rail the trestle at the toe carries it, m.
const TRESTLE_M: f32 = 0.12;
/// Height of the mat under a jack, m.
const MAT_M: f32 = 0.08;
/// Rise of a jack in one turn of its crank, m.
const LEAD_M: f32 = RISE_PER_TURN_M as f32;
/// Length on the vial of one degree, m, how many it has, and how far beyond them its bubble goes.
const DEGREE_M: f32 = BUBBLE_M_PER_DEGREE as f32;
const DEGREES: u8 = GAUGE_MARKS;
const BEYOND_DEGREES: f32 = deg(GAUGE_BEYOND_RAD) as f32;
/// Height of the vial's middle over the deck's lower edge, m.
const VIAL_M: f32 = DECK_M - GAUGE_UNDER_M as f32;
/// How far outside the rail its marks are, and how far before them the bubble, m.
const MARKS_M: f32 = GAUGE_OUTSIDE_M as f32;
const BUBBLE_M: f32 = BUBBLE_OUT_M as f32;

fn length_m(rig: &Rig) -> f32 {
    m(rig.spec().rack.length_m)
}

fn half_width_m(rig: &Rig) -> f32 {
    0.5 * m(rig.spec().rack.rail_width_m)
}

/// How far the lower chord is under the deck, m: less where the rack is low.
fn truss_m(rig: &Rig) -> f32 {
    (m(rig.spec().rack.toe_height_m) - 0.75).clamp(0.06, 0.30)
}

/// Where an extension is joined on, up the rail, m.
fn joint_m(rig: &Rig) -> Option<f32> {
    let length = length_m(rig);
    (length > ONE_PIECE_M).then_some(JOINT * length)
}

/// The stands of a rail up from its trestle: at its high end, and at the joint.
pub fn stands(rig: &Rig) -> u8 {
    if joint_m(rig).is_some() { 2 } else { 1 }
}

/// Where a jack stands, up the rail, m.
fn stand_m(rig: &Rig, stand: u8) -> Option<f32> {
    match stand {
        0 => Some(length_m(rig) - JACK_INSIDE_M),
        1 => joint_m(rig).map(|joint| joint - JACK_INSIDE_M),
        _ => None,
    }
}

/// Where the inclinometer's vial begins, up the rail, m.
fn vial_m(rig: &Rig) -> f32 {
    m(gauge_zero_m(rig))
}

pub fn rail(now: &Now, end: End) -> Transform {
    let rig = now.rig;
    let pitch = m(Now::of(now.shown.pitch_rad, end));
    Transform::from_xyz(
        -m(rig.toe_m),
        m(rig.spec().rack.toe_height_m),
        m(rig.rail_z_m(end)),
    )
    .with_rotation(Quat::from_rotation_z(-pitch))
}

pub fn bubble(now: &Now, end: End) -> Transform {
    let error = now.rig.faults(end).inclinometer_error_rad;
    let reading = m(Now::of(now.shown.pitch_rad, end) + error).to_degrees();
    let along = vial_m(now.rig)
        + DEGREE_M * reading.clamp(-BEYOND_DEGREES, f32::from(DEGREES) + BEYOND_DEGREES);
    rail(now, end) * Transform::from_xyz(-along, VIAL_M - DECK_M, vial_side(now.rig, end))
}

fn vial_side(rig: &Rig, end: End) -> f32 {
    outwards(end) * (half_width_m(rig) + MARKS_M + BUBBLE_M)
}

pub fn jack_head(now: &Now, end: End, stand: u8) -> Option<Transform> {
    let along = stand_m(now.rig, stand)?;
    let under = Vec3::new(-along, -DECK_M - truss_m(now.rig), 0.0);
    Some(Transform::from_translation(
        rail(now, end).transform_point(under),
    ))
}

pub fn jack_leg(now: &Now, end: End, stand: u8) -> Option<Transform> {
    let head = jack_head(now, end, stand)?.translation;
    let y = ground_m(now.rig, head.x, head.z);
    Some(Transform::from_xyz(head.x, y, head.z))
}

pub fn jack_crank(now: &Now, end: End, stand: u8) -> Option<Transform> {
    let (head, leg) = (
        jack_head(now, end, stand)?.translation,
        jack_leg(now, end, stand)?,
    );
    let turned = TAU * (head.y - leg.translation.y) / LEAD_M;
    let at = Vec3::new(0.0, leg_m(now.rig, end, stand) - 0.05, outwards(end) * 0.10);
    let crank = Transform::from_translation(at).with_rotation(Quat::from_rotation_z(turned));
    Some(leg * crank)
}

/// Height of a jack's leg, m: a little over half of what it holds up as set out.
fn leg_m(rig: &Rig, end: End, stand: u8) -> f32 {
    let along = stand_m(rig, stand).unwrap_or_default();
    let point = rig.on_rail(end, f64::from(along), 0.0);
    let high =
        m(point.y_m) - DECK_M - truss_m(rig) - ground_m(rig, m(point.x_m), m(rig.rail_z_m(end)));
    (0.58 * high).max(0.15)
}

pub fn build(kit: &mut Kit) {
    for end in End::BOTH {
        deck(kit, end);
        trestle(kit, end);
        inclinometer(kit, end);
        for stand in 0..stands(kit.rig) {
            jack(kit, end, stand);
        }
    }
}

fn deck(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let (length, half) = (length_m(rig), half_width_m(rig));
    let (truss, joint) = (truss_m(rig), joint_m(rig));
    let running = Coat::of(rig.rail(end).surface);
    let out = outwards(end);
    let rail = kit.on(Rides::Rail(end));
    let parts = match joint {
        Some(joint) => vec![(0.0, joint), (joint, length)],
        None => vec![(0.0, length)],
    };
    for &(from, to) in &parts {
        // A hair between two sections shows where they are joined.
        let gap = if from > 0.0 { 0.004 } else { 0.0 };
        let (low, high) = (-from - gap, -to);
        rail.block(
            Coat::Slate,
            Vec3::new(high, -DECK_M, -half),
            Vec3::new(low, -0.006, half),
        );
        rail.block(
            running,
            Vec3::new(high, -0.008, -half + 0.004),
            Vec3::new(low, 0.0, half - 0.004),
        );
        chord(rail, (from.max(0.3), to - 0.06), truss, half);
    }
    // Nose and tail plates.
    for x in [-0.012, -length + 0.012] {
        let at = Transform::from_xyz(x, -0.5 * DECK_M - 0.012, 0.0);
        rail.plate(
            Coat::Slate,
            at,
            Vec3::new(0.012, 0.5 * DECK_M, half + 0.014),
        );
    }
    // The livery's band, and the plate that says what the rack may carry.
    for side in [-1.0, 1.0] {
        for &(from, to) in &parts {
            let z = side * (half + 0.0015);
            let at = Transform::from_xyz(-0.5 * (from + to), -0.5 * DECK_M, z);
            let size = Vec3::new(0.5 * (to - from) - 0.05, 0.020, 0.0015);
            rail.plate(Coat::Sand, at, size);
        }
    }
    let at = Transform::from_xyz(-0.45 * length.min(3.0), -0.5 * DECK_M, out * (half + 0.005));
    rail.plate(Coat::Plastic, at, Vec3::new(0.09, 0.045, 0.004));
    if let Some(joint) = joint {
        splice(rail, joint, half, truss);
    }
}

/// The lower chord with its posts and diagonals, from one place up the rail to another.
fn chord(rail: &mut Piece, (from, to): (f32, f32), truss: f32, half: f32) {
    let low = -DECK_M - truss;
    rail.block(
        Coat::Slate,
        Vec3::new(-to, low, -0.7 * half),
        Vec3::new(-from, low + 0.06, 0.7 * half),
    );
    let bays = (((to - from) / 0.9).round() as u32).max(1);
    let at = |bay: u32| -(from + (to - from) * bay as f32 / bays as f32);
    for bay in 0..=bays {
        let x = at(bay).clamp(-to + 0.02, -from - 0.02);
        rail.block(
            Coat::Slate,
            Vec3::new(x - 0.015, low + 0.05, -0.6 * half),
            Vec3::new(x + 0.015, -DECK_M + 0.01, 0.6 * half),
        );
        if bay < bays {
            let (from, to) = (
                Vec3::new(at(bay), low + 0.05, 0.0),
                Vec3::new(at(bay + 1), -DECK_M, 0.0),
            );
            rail.rod(Coat::Slate, from, to, 0.016);
        }
        let corner = Vec3::new(x + 0.015, -DECK_M, 0.0);
        rail.gusset(Coat::Slate, corner, Vec3::X * 0.07, Vec3::NEG_Y * 0.07);
    }
}

/// The plates and bolts of the joint to an extension.
fn splice(rail: &mut Piece, joint: f32, half: f32, truss: f32) {
    for side in [-1.0, 1.0] {
        let turn = Quat::from_rotation_y(if side > 0.0 {
            0.0
        } else {
            std::f32::consts::PI
        });
        for (y, tall) in [(-0.5 * DECK_M, 0.045), (-DECK_M - truss + 0.03, 0.028)] {
            let reach = if y < -DECK_M { 0.7 * half } else { half };
            let at = Transform::from_xyz(-joint, y, side * (reach + 0.008));
            rail.plate(Coat::Dark, at, Vec3::new(0.19, tall, 0.008));
            let face = Transform::from_xyz(-joint, y, side * (reach + 0.016)).with_rotation(turn);
            rail.bolts(face, Vec2::new(0.15, tall - 0.018), [4, 2], 0.026);
        }
    }
}

fn trestle(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let z = m(rig.rail_z_m(end));
    let at = rig.on_rail(end, f64::from(TRESTLE_M), 0.0);
    let (x, top) = (m(at.x_m), m(at.y_m) - DECK_M);
    let ground = ground_m(rig, x, z);
    let base = ground + 0.14;
    let stand = kit.on(Rides::Ground);
    // A saddle on a pin: the rail turns on it when its other end is cranked.
    stand.rod(
        Coat::Machined,
        Vec3::new(x, top - 0.03, z - 0.12),
        Vec3::new(x, top - 0.03, z + 0.12),
        0.03,
    );
    for side in [-1.0, 1.0] {
        let lug = Vec3::new(x, top - 0.045, z + side * 0.095);
        stand.plate(
            Coat::Dark,
            Transform::from_translation(lug),
            Vec3::new(0.05, 0.05, 0.012),
        );
    }
    stand.box_beam(
        Coat::Slate,
        Vec3::new(x, base, z),
        Vec3::new(x, top - 0.08, z),
        Vec3::Z,
        [0.11, 0.11],
    );
    let foot_z = 0.34;
    stand.box_beam(
        Coat::Slate,
        Vec3::new(x, base - 0.03, z - foot_z - 0.06),
        Vec3::new(x, base - 0.03, z + foot_z + 0.06),
        Vec3::Y,
        [0.11, 0.09],
    );
    let tall = (top - base).max(0.2);
    for side in [-1.0, 1.0] {
        let brace_from = Vec3::new(x, base + 0.02, z + side * foot_z);
        let brace_to = Vec3::new(x, base + 0.62 * tall, z + side * 0.03);
        stand.box_beam(Coat::Slate, brace_from, brace_to, Vec3::X, [0.05, 0.05]);
        let held = Vec3::new(x, base - 0.05, z + side * foot_z);
        stand.foot(held, ground, true);
    }
}

fn jack(kit: &mut Kit, end: End, stand: u8) {
    let rig = kit.rig;
    let out = outwards(end);
    let high = leg_m(rig, end, stand);
    // The pads of a rail are those of its high end.
    let padded = stand > 0 || rig.rail(end).foot.padded;
    let pad = if padded { MAT_M } else { 0.0 };

    let head = kit.on(Rides::JackHead(end, stand));
    head.plate(
        Coat::Dark,
        Transform::from_xyz(0.0, -0.012, 0.0),
        Vec3::new(0.09, 0.012, 0.09),
    );
    head.bolts(
        Transform::from_xyz(0.0, -0.024, 0.0).with_rotation(Quat::from_rotation_x(TAU / 4.0)),
        Vec2::splat(0.065),
        [2, 2],
        0.024,
    );
    head.rod(Coat::Dark, Vec3::Y * -0.10, Vec3::Y * -0.02, 0.045);
    thread(head, -0.10, -0.10 - high.max(0.5), 0.026);

    let leg = kit.on(Rides::JackLeg(end, stand));
    if padded {
        leg.mat(Vec3::ZERO, [0.36, 0.36], pad);
    }
    let foot = [
        (0.0, 0.0),
        (0.16, 0.0),
        (0.16, 0.018),
        (0.07, 0.05),
        (0.07, 0.08),
        (0.0, 0.08),
    ];
    leg.turned(
        Coat::Dark,
        Transform::from_xyz(0.0, pad, 0.0),
        &foot.map(Vec2::from),
    );
    leg.tube(
        Coat::Sand,
        Vec3::Y * (pad + 0.06),
        Vec3::Y * high,
        0.058,
        0.034,
    );
    leg.tube(
        Coat::Slate,
        Vec3::Y * (high - 0.10),
        Vec3::Y * (high + 0.012),
        0.072,
        0.034,
    );
    for corner in 0..3 {
        let way = Quat::from_rotation_y(TAU * (corner as f32 / 3.0 + 0.083)) * Vec3::X;
        leg.gusset(
            Coat::Dark,
            way * 0.056 + Vec3::Y * (pad + 0.05),
            way * 0.10,
            Vec3::Y * (0.4 * high).min(0.22),
        );
    }
    // The gear case that the crank turns.
    let case = Transform::from_xyz(0.0, high - 0.05, out * 0.065);
    leg.plate(Coat::Slate, case, Vec3::new(0.05, 0.045, 0.035));

    let crank = kit.on(Rides::JackCrank(end, stand));
    crank.rod(Coat::Machined, Vec3::ZERO, Vec3::Z * out * 0.06, 0.012);
    crank.plate(
        Coat::Dark,
        Transform::from_xyz(0.0, 0.09, out * 0.05),
        Vec3::new(0.012, 0.105, 0.006),
    );
    let knob = Vec3::new(0.0, 0.18, out * 0.055);
    crank.rod(Coat::Rubber, knob, knob + Vec3::Z * out * 0.11, 0.018);
}

/// A jack's screw from one height to another, its thread as rings.
fn thread(head: &mut Piece, from: f32, to: f32, radius: f32) {
    head.rod(Coat::Machined, Vec3::Y * from, Vec3::Y * to, radius * 0.86);
    if !head.is_detailed() {
        return;
    }
    let pitch = 0.02;
    let rings = ((from - to).min(0.9) / pitch) as u32;
    for ring in 0..rings {
        let y = from - (ring as f32 + 0.5) * pitch;
        let profile = [(0.8, -0.4), (1.0, -0.15), (1.0, 0.15), (0.8, 0.4)];
        let profile = profile.map(|(r, h)| Vec2::new(r * radius, h * pitch));
        head.turned(Coat::Machined, Transform::from_xyz(0.0, y, 0.0), &profile);
    }
}

/// A number on a plate, its middle at the frame's origin.
fn number(piece: &mut Piece, at: Transform, value: u8) {
    const DOT_M: f32 = 0.0026;
    let digits = value.to_string();
    let wide = 6.0 * digits.len() as f32 - 1.0;
    for (place, digit) in digits.chars().enumerate() {
        for (row, bits) in glyph(digit).into_iter().enumerate() {
            for column in (0..5).filter(|column| bits & (0b10000 >> column) != 0) {
                let x = (6 * place + column) as f32 + 0.5 - 0.5 * wide;
                let dot = Transform::from_xyz(DOT_M * x, DOT_M * (3.0 - row as f32), 0.0);
                piece.mark(Coat::Black, at * dot, Vec2::splat(0.5 * DOT_M));
            }
        }
    }
}

fn inclinometer(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let out = outwards(end);
    let (half, side) = (half_width_m(rig), vial_side(rig, end));
    let (start, reach) = (vial_m(rig), DEGREE_M * f32::from(DEGREES));
    let y = VIAL_M - DECK_M;
    let rail = kit.on(Rides::Rail(end));
    let middle = -start - 0.5 * reach;
    // Its back plate and bracket.
    let back = Transform::from_xyz(middle, y - 0.005, out * (half + 0.012));
    rail.plate(
        Coat::Plastic,
        back,
        Vec3::new(0.5 * reach + 0.05, 0.068, 0.006),
    );
    for x in [-0.5 * reach - 0.03, 0.5 * reach + 0.03] {
        let clip = Transform::from_xyz(middle + x, y, side);
        rail.plate(Coat::Dark, clip, Vec3::new(0.012, 0.028, 0.03));
    }
    let (low, high) = (-start + 0.028, -start - reach - 0.028);
    rail.rod(
        Coat::Fluid,
        Vec3::new(low, y, side),
        Vec3::new(high, y, side),
        0.014,
    );
    let facing = Quat::from_rotation_y(if out > 0.0 { 0.0 } else { std::f32::consts::PI });
    for degree in 0..=DEGREES {
        let tall = match degree % 5 {
            0 => 0.020,
            _ => 0.010,
        };
        let x = -start - DEGREE_M * f32::from(degree);
        for (y, tall) in [(y - 0.022 - tall, tall), (y + 0.030, 0.006)] {
            let at = Transform::from_xyz(x, y, out * (half + MARKS_M)).with_rotation(facing);
            rail.mark(Coat::Black, at, Vec2::new(0.0016, tall));
        }
        if degree % 5 == 0 {
            let at = Transform::from_xyz(x, y - 0.055, out * (half + 0.0195)).with_rotation(facing);
            number(rail, at, degree);
        }
    }
    let bubble = kit.on(Rides::Bubble(end));
    let round: Vec<Vec2> = (0..=8)
        .map(|step| {
            let angle = std::f32::consts::PI * step as f32 / 8.0;
            Vec2::new(0.0175 * angle.sin(), -0.020 * angle.cos())
        })
        .collect();
    let lying = Quat::from_rotation_z(TAU / 4.0);
    bubble.turned(Coat::Black, Transform::from_rotation(lying), &round);
}
