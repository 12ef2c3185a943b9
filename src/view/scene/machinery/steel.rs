//! Parts that are the same all over the rig: beams, plates, feet, bolts.

use bevy::prelude::*;

use super::coat::Coat;
use super::piece::Piece;

/// A frame halfway between two points: x along the way, y as near to `up` as it may be.
pub fn along(from: Vec3, to: Vec3, up: Vec3) -> Transform {
    let x = (to - from).normalize_or(Vec3::X);
    let y = (up - x * up.dot(x)).normalize_or(x.any_orthonormal_vector());
    let turn = Quat::from_mat3(&Mat3::from_cols(x, y, x.cross(y)));
    Transform::from_translation(0.5 * (from + to)).with_rotation(turn)
}

impl Piece {
    /// A closed box section whose axis runs from one point to another, a cap on both ends.
    pub fn box_beam(&mut self, coat: Coat, from: Vec3, to: Vec3, up: Vec3, width_depth: [f32; 2]) {
        let [width, depth] = width_depth;
        let at = along(from, to, up);
        let half = Vec3::new(0.5 * (to - from).length(), 0.5 * depth, 0.5 * width);
        self.plate(coat, at, half);
        let cap = Vec3::new(0.008, 0.5 * depth + 0.012, 0.5 * width + 0.012);
        for end in [-1.0, 1.0] {
            let x = end * (half.x - cap.x);
            self.plate(coat, at * Transform::from_xyz(x, 0.0, 0.0), cap);
        }
    }

    /// An I section; the way runs along its middle.
    pub fn i_beam(&mut self, coat: Coat, from: Vec3, to: Vec3, up: Vec3, width_depth: [f32; 2]) {
        let [width, depth] = width_depth;
        let at = along(from, to, up);
        let (half_x, thick) = (
            0.5 * (to - from).length(),
            (0.09 * depth).clamp(0.008, 0.02),
        );
        for side in [-1.0, 1.0] {
            let flange = Transform::from_xyz(0.0, side * 0.5 * (depth - thick), 0.0);
            self.plate(
                coat,
                at * flange,
                Vec3::new(half_x, 0.5 * thick, 0.5 * width),
            );
        }
        self.plate(
            coat,
            at,
            Vec3::new(half_x, 0.5 * depth - thick, (0.04 * width).max(0.004)),
        );
    }

    /// A three-cornered stiffener in the corner at `corner`, its legs along two edges square to each
    /// other.
    pub fn gusset(&mut self, coat: Coat, corner: Vec3, one: Vec3, other: Vec3) {
        let x = one.normalize_or(Vec3::X);
        let y = other.normalize_or(Vec3::Y);
        let turn = Quat::from_mat3(&Mat3::from_cols(x, y, x.cross(y)));
        let outline = [
            Vec2::ZERO,
            Vec2::new(one.length(), 0.0),
            Vec2::new(one.length(), 0.12 * other.length()),
            Vec2::new(0.12 * one.length(), other.length()),
            Vec2::new(0.0, other.length()),
        ];
        let at = Transform::from_translation(corner).with_rotation(turn);
        self.cut(coat, at, &outline, 0.006);
    }

    /// The head of a bolt on a face that looks `out`; `across` its flats.
    pub fn bolt(&mut self, at: Vec3, out: Vec3, across: f32) {
        let frame = super::piece::upright(at, at + out);
        let outline = [0, 1, 2, 3, 4, 5].map(|corner| {
            let angle = std::f32::consts::TAU * corner as f32 / 6.0;
            Vec2::from_angle(angle) * across * 0.577
        });
        // A cut lies in x and y: its thickness goes out of the face.
        let turned = Quat::from_rotation_x(-std::f32::consts::FRAC_PI_2);
        let rise = 0.3 * across;
        let at = frame * Transform::from_xyz(0.0, rise, 0.0).with_rotation(turned);
        self.cut(Coat::Galvanised, at, &outline, rise);
    }

    /// Bolts in a grid on a face: `counts` along the frame's x and y, from -`half` to `half`, seen
    /// from its z.
    pub fn bolts(&mut self, face: Transform, half: Vec2, counts: [u32; 2], across: f32) {
        if !self.is_detailed() {
            return;
        }
        let place = |index: u32, count: u32, half: f32| {
            if count < 2 {
                0.0
            } else {
                half * (2.0 * index as f32 / (count - 1) as f32 - 1.0)
            }
        };
        for x in 0..counts[0] {
            for y in 0..counts[1] {
                let at = Vec3::new(
                    place(x, counts[0], half.x),
                    place(y, counts[1], half.y),
                    0.0,
                );
                self.bolt(face.transform_point(at), face.rotation * Vec3::Z, across);
            }
        }
    }

    /// A screw foot from where it is held down to the ground, and the mat under it, if there is one.
    pub fn foot(&mut self, held: Vec3, ground_m: f32, padded: bool) {
        let pad_m = if padded { 0.06 } else { 0.0 };
        let low = Vec3::new(held.x, ground_m + pad_m, held.z);
        if padded {
            self.mat(Vec3::new(held.x, ground_m, held.z), [0.34, 0.26], pad_m);
        }
        self.rod(Coat::Machined, low + Vec3::Y * 0.02, held, 0.022);
        let plate = [
            (0.0, 0.0),
            (0.13, 0.0),
            (0.13, 0.014),
            (0.045, 0.04),
            (0.045, 0.06),
            (0.0, 0.06),
        ];
        let at = Transform::from_translation(low);
        self.turned(Coat::Dark, at, &plate.map(Vec2::from));
    }

    /// A mat of boards on the ground, these half widths along x and z.
    pub fn mat(&mut self, on: Vec3, half: [f32; 2], thick: f32) {
        let boards = 4;
        let width = 2.0 * half[1] / boards as f32;
        for board in 0..boards {
            let z = on.z - half[1] + (board as f32 + 0.5) * width;
            let at = Transform::from_xyz(on.x, on.y + 0.5 * thick, z);
            let size = Vec3::new(half[0], 0.5 * thick, 0.5 * width - 0.004);
            self.plate(Coat::Timber, at, size);
        }
    }

    /// A hydraulic cylinder's body with its gland and ports, along the way.
    pub fn cylinder(&mut self, coat: Coat, from: Vec3, to: Vec3, radius: f32) {
        let way = to - from;
        let length = way.length();
        let dir = way.normalize_or(Vec3::Y);
        self.rod(coat, from, to, radius);
        let collar = dir * (0.2 * length).min(0.05);
        self.rod(Coat::Dark, to - collar, to + dir * 0.004, 1.14 * radius);
        self.rod(Coat::Dark, from - dir * 0.01, from + collar, 1.10 * radius);
        let side = dir.any_orthonormal_vector();
        for share in [0.12, 0.86] {
            let at = from + way * share;
            self.rod(Coat::Galvanised, at, at + side * (radius + 0.03), 0.016);
        }
    }
}
