//! The fusion machine: a frame with guide rods and two pairs of clamps, the rest at its near end, the
//! facer and the heater plate swung up out of the way, and the stands that the string runs off over.

use std::f32::consts::{PI, TAU};

use bevy::prelude::*;

use super::coat::Coat;
use super::kit::{Kit, frame_of, m, upper_face};
use super::piece::Piece;
use super::rides::{Now, Rides, ground_m};
use crate::domain::plan;
use crate::domain::rig::Rig;
use crate::sim::line::Jaws;

/// Clamps: two hold the stick, two the string.
pub const CLAMPS: u8 = 4;
/// How far a clamp's upper half swings open, rad.
const OPENS_RAD: f32 = 1.25;
/// Time that takes, s.
pub const SWINGS_S: f32 = 2.0;
/// Clear of the pipe inside a clamp, m.
const CLEAR_M: f32 = 0.012;
/// Half width of a clamp along z, m.
const CLAMP_HALF_M: f32 = 0.075;
/// Half of the room between the inner clamps, for facer and heater, m.
const ROOM_M: f32 = 0.24;

/// The machine's measures for its pipe.
pub struct Machine {
    pub z: f32,
    pub half_length: f32,
    pub half_width: f32,
    /// Of the jaws' centreline.
    pub centre: f32,
    /// Of the pipe.
    pub radius: f32,
    /// Of the clamps, outside.
    pub ring: f32,
    /// Top of the frame's beams.
    pub deck: f32,
    pub ground: f32,
}

impl Machine {
    pub fn of(rig: &Rig) -> Self {
        let spec = rig.spec().machine;
        let radius = rig
            .spec()
            .sticks
            .first()
            .map_or(m(rig.setting_radius_m), |stick| m(stick.pipe.radius_m()));
        let (z, centre) = (m(rig.jaws_z_m()), m(spec.centreline_m));
        let around = plan::machine(rig);
        let [rest, _] = rig.rest(f64::from(radius));
        let apex = upper_face(&rest)[1].y;
        let ground = ground_m(rig, 0.0, z);
        Self {
            z,
            half_length: m(spec.half_length_m),
            half_width: m(around.x_to_m),
            centre,
            radius,
            ring: radius + 0.06 + 0.05 * radius,
            deck: (centre - radius - 0.26).min(apex - 0.19).max(ground + 0.30),
            ground,
        }
    }

    /// Middle of a clamp along z.
    pub fn clamp_z(&self, which: u8) -> f32 {
        let outer = (0.62 * self.half_length).max(ROOM_M + 3.0 * CLAMP_HALF_M);
        let away = if which.is_multiple_of(2) {
            ROOM_M + CLAMP_HALF_M
        } else {
            outer
        };
        self.z + if which < 2 { -away } else { away }
    }

    fn hinge(&self, which: u8) -> Vec3 {
        Vec3::new(self.ring + 0.02, self.centre, self.clamp_z(which))
    }
}

/// How far the clamps of the stick's and of the string's side stand open.
pub fn open(jaws: Jaws) -> [f32; 2] {
    match jaws {
        Jaws::Open => [1.0, 0.0],
        Jaws::Clamped { .. } => [0.0, 0.0],
        Jaws::Drawing { .. } => [1.0, 1.0],
    }
}

/// The upper half of a clamp: its frame's origin is its hinge, on the outer side.
pub fn clamp(now: &Now, which: u8) -> Transform {
    let open = now.wound.clamps[usize::from(which >= 2)];
    let turn = Quat::from_rotation_z(-OPENS_RAD * open);
    Transform::from_translation(Machine::of(now.rig).hinge(which)).with_rotation(turn)
}

pub fn build(kit: &mut Kit) {
    let machine = Machine::of(kit.rig);
    frame(kit.on(Rides::Ground), &machine);
    rods(kit.on(Rides::Ground), &machine);
    rest(kit);
    for which in 0..CLAMPS {
        clamps(kit, &machine, which);
    }
    swung_up(kit.on(Rides::Ground), &machine);
    stands(kit, &machine);
}

fn frame(piece: &mut Piece, machine: &Machine) {
    let (z0, hl, hw) = (machine.z, machine.half_length, machine.half_width);
    let (deck, ground) = (machine.deck, machine.ground);
    let depth = 0.16;
    let beam_x = 0.74 * hw;
    for side in [-1.0, 1.0] {
        let x = side * beam_x;
        piece.i_beam(
            Coat::Slate,
            Vec3::new(x, deck - 0.5 * depth, z0 - hl),
            Vec3::new(x, deck - 0.5 * depth, z0 + hl),
            Vec3::Y,
            [0.13, depth],
        );
        let bays = 5;
        for bay in 0..=bays {
            let z = z0 - hl + 0.05 + (2.0 * hl - 0.10) * bay as f32 / bays as f32;
            piece.plate(
                Coat::Slate,
                Transform::from_xyz(x, deck - 0.5 * depth, z),
                Vec3::new(0.06, 0.5 * depth - 0.014, 0.006),
            );
        }
    }
    for share in [-1.0, -0.36, 0.36, 1.0_f32] {
        let wide = if share.abs() > 0.9 { hw } else { beam_x };
        let z = z0 + share * (hl - 0.07);
        piece.box_beam(
            Coat::Slate,
            Vec3::new(-wide, deck - 0.5 * depth, z),
            Vec3::new(wide, deck - 0.5 * depth, z),
            Vec3::Y,
            [0.12, depth - 0.03],
        );
    }
    // Legs with screw feet, braced.
    let skid = ground + 0.16;
    for side in [-1.0, 1.0] {
        for end in [-1.0, 1.0] {
            let (x, z) = (side * (hw - 0.10), z0 + end * (hl - 0.07));
            piece.box_beam(
                Coat::Slate,
                Vec3::new(x, skid, z),
                Vec3::new(x, deck - 0.02, z),
                Vec3::X,
                [0.12, 0.12],
            );
            piece.foot(Vec3::new(x, skid + 0.02, z), ground, true);
            let inside = Vec3::new(x, deck - depth, z - end * 0.06);
            piece.gusset(
                Coat::Slate,
                inside,
                Vec3::Z * -end * 0.22,
                Vec3::NEG_Y * 0.22,
            );
        }
        let x = side * (hw - 0.10);
        piece.box_beam(
            Coat::Slate,
            Vec3::new(x, skid + 0.05, z0 - hl + 0.13),
            Vec3::new(x, skid + 0.05, z0 + hl - 0.13),
            Vec3::Y,
            [0.08, 0.09],
        );
    }
    // Walkway plate on the outer side and a toe board in sand.
    piece.block(
        Coat::Galvanised,
        Vec3::new(beam_x + 0.08, deck - 0.01, z0 - hl + 0.14),
        Vec3::new(hw, deck + 0.012, z0 + hl - 0.14),
    );
    piece.block(
        Coat::Sand,
        Vec3::new(hw - 0.012, deck - 0.12, z0 - hl + 0.14),
        Vec3::new(hw + 0.001, deck + 0.03, z0 + hl - 0.14),
    );
    piece.block(
        Coat::Sand,
        Vec3::new(-hw - 0.001, deck - 0.12, z0 - hl + 0.14),
        Vec3::new(-hw + 0.012, deck + 0.03, z0 + hl - 0.14),
    );
    // The technician's panel on a post, on the outer side.
    let panel = Vec3::new(hw - 0.12, deck + 0.62, z0 + 0.62 * hl);
    piece.rod(Coat::Slate, Vec3::new(panel.x, deck, panel.z), panel, 0.028);
    let tilted = Transform::from_translation(panel).with_rotation(Quat::from_rotation_z(-0.5));
    piece.plate(Coat::Slate, tilted, Vec3::new(0.15, 0.05, 0.20));
    piece.plate(
        Coat::Plastic,
        tilted * Transform::from_xyz(-0.01, 0.048, 0.0),
        Vec3::new(0.12, 0.006, 0.17),
    );
    for gauge in [-1.0, 0.0, 1.0] {
        let at = tilted * Transform::from_xyz(-0.05, 0.052, gauge * 0.10);
        let up = at.rotation * Vec3::Y * 0.02;
        piece.rod(Coat::Black, at.translation, at.translation + up, 0.038);
        piece.rod(
            Coat::Chalk,
            at.translation + up,
            at.translation + up * 1.15,
            0.032,
        );
    }
}

/// The guide rods, their bearers, and the rams that move the stick's clamps.
fn rods(piece: &mut Piece, machine: &Machine) {
    let (z0, hl) = (machine.z, machine.half_length);
    let (x, y) = rod_place(machine);
    for side in [-1.0, 1.0] {
        let x = side * x;
        let (from, to) = (z0 - hl + 0.36, z0 + hl - 0.18);
        piece.rod(
            Coat::Chrome,
            Vec3::new(x, y, from),
            Vec3::new(x, y, to),
            0.040,
        );
        for z in [from + 0.03, to - 0.03] {
            piece.plate(
                Coat::Slate,
                Transform::from_xyz(x, 0.5 * (y + 0.09 + machine.deck), z),
                Vec3::new(0.085, 0.5 * (y + 0.09 - machine.deck), 0.03),
            );
            let corner = Vec3::new(x, machine.deck, z + if z < z0 { 0.03 } else { -0.03 });
            let inwards = Vec3::Z * if z < z0 { 1.0 } else { -1.0 };
            let tall = (y - machine.deck).max(0.08);
            piece.gusset(Coat::Slate, corner, inwards * 0.14, Vec3::Y * 0.8 * tall);
        }
        // The ram beside the rod, from the string's clamp to the stick's.
        let (body, head) = (
            Vec3::new(x, y - 0.13, machine.clamp_z(3) - 0.02),
            Vec3::new(x, y - 0.13, z0 + 0.06),
        );
        piece.cylinder(Coat::Sand, body, head, 0.045);
        let inner = Vec3::new(x, y - 0.13, machine.clamp_z(0));
        piece.rod(Coat::Chrome, head, inner, 0.026);
    }
}

/// Where the guide rods lie beside and above: under the middle of the pipe.
fn rod_place(machine: &Machine) -> (f32, f32) {
    let y = (machine.centre - 0.35 * machine.radius).max(machine.deck + 0.20);
    (machine.ring + 0.09, y)
}

fn rest(kit: &mut Kit) {
    let rig = kit.rig;
    let machine = Machine::of(rig);
    let plates = rig.rest(f64::from(machine.radius));
    let (z, half) = (m(rig.rest_z_m()), m(rig.rest_half_width_m()));
    let apex = upper_face(&plates[0])[1];
    let piece = kit.on(Rides::Ground);
    for (side, plate) in plates.iter().enumerate() {
        let out = if side == 0 { -1.0 } else { 1.0 };
        let (reach, thick) = (m(plate.half_length_m), m(plate.half_thickness_m));
        let frame = Transform::from_xyz(0.0, 0.0, z) * frame_of(plate);
        // Rollers across the line, flush with the face; cheeks a little under it.
        let radius = 0.042;
        for row in [-0.5, 0.5] {
            let at = Vec3::new(0.0, thick - radius, row * half);
            let ends =
                [-1.0, 1.0].map(|end| frame.transform_point(at + Vec3::X * end * (reach - 0.035)));
            piece.rod(Coat::Galvanised, ends[0], ends[1], radius);
        }
        for cheek in [-1.0, 1.0] {
            let at = frame * Transform::from_xyz(0.0, -0.012, cheek * (half - 0.008));
            piece.plate(
                Coat::Slate,
                at,
                Vec3::new(reach - 0.004, thick - 0.014, 0.007),
            );
        }
        let tip = frame * Transform::from_xyz(out * (reach - 0.010), 0.0, 0.0);
        piece.plate(Coat::Sand, tip, Vec3::new(0.010, thick, half));
        let prop = frame.transform_point(Vec3::new(out * 0.4 * reach, 0.01 - thick, 0.0));
        piece.block(
            Coat::Slate,
            Vec3::new(prop.x - 0.04, machine.deck - 0.02, z - 0.06),
            Vec3::new(prop.x + 0.04, prop.y.max(machine.deck + 0.02), z + 0.06),
        );
    }
    piece.block(
        Coat::Slate,
        Vec3::new(-0.09, machine.deck - 0.08, z - half + 0.01),
        Vec3::new(0.09, apex.y - 0.10, z + half - 0.01),
    );
    piece.block(
        Coat::Slate,
        Vec3::new(-0.76 * machine.half_width, machine.deck - 0.05, z - 0.07),
        Vec3::new(0.76 * machine.half_width, machine.deck, z + 0.07),
    );
}

/// A half ring in the frame's x and y, above its middle or below it.
fn half_ring(inner: f32, outer: f32, upper: bool, corners: u32) -> Vec<Vec2> {
    let (from, to) = if upper { (0.0, PI) } else { (PI, TAU) };
    let at = |step: u32| from + (to - from) * step as f32 / corners as f32;
    let arc = |radius: f32| (0..=corners).map(move |step| Vec2::from_angle(at(step)) * radius);
    let back: Vec<Vec2> = arc(inner).collect();
    arc(outer).chain(back.into_iter().rev()).collect()
}

fn clamps(kit: &mut Kit, machine: &Machine, which: u8) {
    let z = machine.clamp_z(which);
    let (inner, outer) = (machine.radius + CLEAR_M, machine.ring);
    let (rod_x, rod_y) = rod_place(machine);
    let lug = Vec3::new(0.055, 0.050, CLAMP_HALF_M * 0.8);

    let lower = kit.on(Rides::Ground);
    let corners = (lower.corners(outer) / 2).max(8);
    let ring = half_ring(inner + 0.02, outer, false, corners);
    let at = Transform::from_xyz(0.0, machine.centre, z);
    lower.cut(Coat::Slate, at, &ring, CLAMP_HALF_M);
    let liner = half_ring(inner, inner + 0.024, false, corners);
    lower.cut(Coat::Machined, at, &liner, CLAMP_HALF_M * 0.9);
    for side in [-1.0, 1.0] {
        let ear = Transform::from_xyz(side * (outer + 0.02), machine.centre - 0.055, z);
        lower.plate(Coat::Slate, ear, lug);
        // The bearing on the guide rod; the string's clamps stand on the frame.
        let bearing = Vec3::new(side * rod_x, rod_y, z);
        lower.tube(
            Coat::Dark,
            bearing - Vec3::Z * CLAMP_HALF_M,
            bearing + Vec3::Z * CLAMP_HALF_M,
            0.075,
            0.042,
        );
        let web = 0.5 * (machine.centre - 0.10 + rod_y);
        lower.plate(
            Coat::Slate,
            Transform::from_xyz(side * (outer + 0.03), web, z),
            Vec3::new(
                0.05,
                0.5 * (machine.centre - 0.06 - rod_y).abs() + 0.02,
                CLAMP_HALF_M * 0.7,
            ),
        );
        if which >= 2 {
            let low = machine.centre - 0.80 * outer;
            lower.block(
                Coat::Slate,
                Vec3::new(side * 0.60 * outer - 0.05, machine.deck - 0.01, z - 0.05),
                Vec3::new(
                    side * 0.60 * outer + 0.05,
                    low.max(machine.deck + 0.02),
                    z + 0.05,
                ),
            );
        }
    }

    let hinge = machine.hinge(which);
    let upper = kit.on(Rides::Clamp(which));
    let at = Transform::from_xyz(-hinge.x, 0.0, 0.0);
    upper.cut(
        Coat::Sand,
        at,
        &half_ring(inner + 0.02, outer, true, corners),
        CLAMP_HALF_M,
    );
    let liner = half_ring(inner, inner + 0.024, true, corners);
    upper.cut(Coat::Machined, at, &liner, CLAMP_HALF_M * 0.9);
    for x in [0.0, -2.0 * hinge.x] {
        upper.plate(Coat::Sand, Transform::from_xyz(x, 0.052, 0.0), lug);
    }
    // The hinge's pin, and the screw with its grip on the other side.
    let pin = Vec3::new(0.035, 0.0, 0.0);
    upper.rod(
        Coat::Machined,
        pin - Vec3::Z * 0.09,
        pin + Vec3::Z * 0.09,
        0.024,
    );
    let screw = Vec3::new(-2.0 * hinge.x, 0.0, 0.0);
    upper.rod(
        Coat::Chrome,
        screw - Vec3::Y * 0.06,
        screw + Vec3::Y * 0.20,
        0.020,
    );
    upper.rod(
        Coat::Dark,
        screw + Vec3::new(0.0, 0.19, -0.10),
        screw + Vec3::new(0.0, 0.19, 0.10),
        0.014,
    );
    // A rib over the crown.
    let crown = Transform::from_xyz(-hinge.x, outer + 0.018, 0.0);
    upper.plate(
        Coat::Sand,
        crown,
        Vec3::new(0.20 * outer, 0.022, CLAMP_HALF_M * 0.6),
    );
}

/// Facer and heater plate on their arms, each swung up to its side.
fn swung_up(piece: &mut Piece, machine: &Machine) {
    let (rod_x, rod_y) = rod_place(machine);
    let radius = machine.radius + 0.07;
    // The arm reaches from the rod to the middle of the disc as it would be between the ends.
    let reach = Vec2::new(rod_x, machine.centre - rod_y).length();
    let up = Vec2::from_angle(1.02) * reach;
    for (side, thick) in [(-1.0, 0.11), (1.0, 0.022)] {
        let pivot = Vec3::new(side * rod_x, rod_y, machine.z + side * 0.06);
        let middle = pivot + Vec3::new(side * up.x, up.y + 0.35 * radius, 0.0);
        let along_z = Vec3::Z * thick;
        piece.tube(
            Coat::Dark,
            pivot - Vec3::Z * 0.07,
            pivot + Vec3::Z * 0.07,
            0.075,
            0.042,
        );
        piece.box_beam(Coat::Slate, pivot, middle, Vec3::Z, [0.07, 0.10]);
        if side < 0.0 {
            // The facer: two discs with blades and a motor.
            piece.rod(Coat::Slate, middle - along_z, middle + along_z, radius);
            for face in [-1.0, 1.0] {
                for blade in 0..3 {
                    let angle = TAU * (blade as f32 / 3.0 + 0.12);
                    let at = Transform::from_translation(middle + along_z * face * 1.03)
                        .with_rotation(Quat::from_rotation_z(angle))
                        * Transform::from_xyz(0.55 * radius, 0.0, 0.0);
                    piece.plate(Coat::Machined, at, Vec3::new(0.40 * radius, 0.022, 0.012));
                }
            }
            piece.rod(
                Coat::Dark,
                middle + Vec3::Z * 0.10,
                middle + Vec3::Z * 0.32,
                0.09,
            );
        } else {
            piece.rod(Coat::Heater, middle - along_z, middle + along_z, radius);
            piece.tube(
                Coat::Galvanised,
                middle - along_z * 0.6,
                middle + along_z * 0.6,
                radius + 0.012,
                radius - 0.012,
            );
            let top = middle + Vec3::Y * radius;
            piece.plate(
                Coat::Dark,
                Transform::from_translation(top + Vec3::Y * 0.06),
                Vec3::new(0.10, 0.065, 0.05),
            );
            piece.rod(
                Coat::Rubber,
                top + Vec3::new(-0.16, 0.15, 0.0),
                top + Vec3::new(0.16, 0.15, 0.0),
                0.018,
            );
        }
    }
}

/// Roller stands under the string beyond the machine.
fn stands(kit: &mut Kit, machine: &Machine) {
    let rig = kit.rig;
    let places = [1.3, 6.0, 11.0, 16.0].map(|beyond| machine.z + machine.half_length + beyond);
    let under = machine.centre - machine.radius;
    let reach = 0.5 * machine.radius + 0.06;
    for z in places {
        let ground = ground_m(rig, 0.0, z);
        let piece = kit.on(Rides::Ground);
        // Two rollers in a shallow V touch the pipe at 25° from its lowest point.
        let lean = 0.436_f32;
        for side in [-1.0, 1.0] {
            let touch = Vec2::new(side * lean.sin(), -lean.cos());
            let radius = 0.055;
            let middle = touch * (machine.radius + radius);
            let axis = Vec2::new(lean.cos(), side * lean.sin()) * 0.5 * reach;
            let at = |share: f32| {
                let point = middle + axis * share;
                Vec3::new(point.x, machine.centre + point.y, z)
            };
            piece.rod(Coat::Urethane, at(-0.9), at(0.9), radius);
            piece.rod(Coat::Galvanised, at(-1.15), at(1.15), 0.02);
            let leg_top = at(1.1);
            let foot = Vec3::new(leg_top.x + side * 0.22, ground, z);
            piece.box_beam(
                Coat::Slate,
                foot,
                leg_top - Vec3::Y * 0.02,
                Vec3::Z,
                [0.06, 0.06],
            );
            piece.plate(
                Coat::Dark,
                Transform::from_translation(foot + Vec3::Y * 0.01),
                Vec3::new(0.10, 0.010, 0.14),
            );
        }
        let beam = under - 0.16;
        let half = reach + 0.12;
        piece.box_beam(
            Coat::Slate,
            Vec3::new(-half, beam, z),
            Vec3::new(half, beam, z),
            Vec3::Y,
            [0.08, 0.10],
        );
    }
}
