//! Pipe: an oval tube with its wall to be seen at the ends, thin stripes along it, and a chalk line of
//! print, so that everybody sees it roll. The long axis is marked with chalk at both ends.

use std::f32::consts::TAU;

use bevy::prelude::*;

use super::coat::{linear, picture};
use super::kit::m;
use super::solid::Solid;
use crate::domain::pipe::Pipe;
use crate::view::quality::Quality;
use crate::view::theme::machinery as theme;

/// Where the stripes lie about the axis, from the long axis, rad.
const STRIPES_RAD: [f32; 4] = [0.63, 2.20, 3.77, 5.34];
/// Where the print lies, rad: once to each side.
const PRINTS_RAD: [f32; 2] = [1.48, 4.62];
/// How far marks stand off the surface, m: too little to be seen.
const MARK_OFF_M: f32 = 0.0012;
/// Length of the chalk marks of the long axis, m.
const AXIS_MARK_M: f32 = 0.32;
/// Length of one line of print, m.
const PRINT_M: f32 = 1.9;
/// The broken edge of an end, m.
const RIM_M: f32 = 0.006;

/// The section of a pipe: semi-axes outside, and the wall, m.
#[derive(Clone, Copy)]
struct Section {
    long: f32,
    short: f32,
    wall: f32,
}

impl Section {
    fn of(pipe: &Pipe) -> Self {
        let oval = pipe.oval();
        Self {
            long: m(oval.long_m),
            short: m(oval.short_m),
            wall: m(pipe.wall_avg_m),
        }
    }

    /// A point this far inside the surface, and the normal there.
    fn at(&self, angle: f32, inside: f32) -> (Vec2, Vec2) {
        let (s, c) = angle.sin_cos();
        let (a, b) = (self.long - inside, self.short - inside);
        (
            Vec2::new(a * c, b * s),
            Vec2::new(b * c, a * s).normalize_or(Vec2::X),
        )
    }

    /// The angle that a width takes up on the surface.
    fn angle_of(&self, width: f32) -> f32 {
        width / (0.5 * (self.long + self.short))
    }

    /// Half the angle of a stripe: it is seen from the back of a class.
    fn stripe(&self) -> f32 {
        0.5 * self.angle_of(0.010 + 0.030 * self.long)
    }
}

/// The angles at which a pipe has corners: evenly, and on both sides of every stripe. Each with
/// whether the face from there on is a stripe's.
fn corners(section: &Section, around: u32) -> Vec<(f32, bool)> {
    let half = section.stripe();
    let mut angles = Vec::new();
    let mut from = STRIPES_RAD[0] - half;
    for (stripe, middle) in STRIPES_RAD.into_iter().enumerate() {
        angles.push((from, true));
        let begins = middle + half;
        let ends = STRIPES_RAD
            .get(stripe + 1)
            .map_or(STRIPES_RAD[0] + TAU - half, |&next| next - half);
        let faces = (((ends - begins) / TAU * around as f32).round() as u32).max(1);
        for face in 0..faces {
            let share = face as f32 / faces as f32;
            angles.push((begins + (ends - begins) * share, false));
        }
        from = ends;
    }
    angles.push((from, true));
    angles
}

/// A stick about the frame's z, its long axis along x.
pub fn stick(pipe: &Pipe, quality: Quality) -> Mesh {
    solid(pipe, quality).mesh(1.0)
}

pub fn solid(pipe: &Pipe, quality: Quality) -> Solid {
    let section = Section::of(pipe);
    let corners = corners(&section, quality.pipe_corners());
    let half = 0.5 * m(pipe.length_m);
    let plain = linear(theme::PIPE);
    let stripe = linear(theme::PIPE_STRIPE);
    let (bore, end, rim) = (
        linear(theme::PIPE_BORE),
        linear(theme::PIPE_END),
        linear(theme::PIPE_END_RIM),
    );
    let mut solid = Solid::default();
    for pair in corners.windows(2) {
        let [(from, striped), (to, _)] = [pair[0], pair[1]];
        let colour = if striped { stripe } else { plain };
        let (from_out, to_out) = (section.at(from, 0.0), section.at(to, 0.0));
        // Outside, and the bore, seen from inside.
        let reach = half - RIM_M;
        wall(&mut solid, [from_out, to_out], [-reach, reach], 1.0, colour);
        let (from_in, to_in) = (section.at(from, section.wall), section.at(to, section.wall));
        wall(&mut solid, [from_in, to_in], [-half, half], -1.0, bore);
        for side in [-1.0, 1.0] {
            let face =
                |angle: f32, inside: f32, z: f32| section.at(angle, inside).0.extend(side * z);
            let ring = [
                face(from, RIM_M, half),
                face(to, RIM_M, half),
                face(to, section.wall, half),
                face(from, section.wall, half),
            ];
            solid.face(&ring, Vec3::Z * side, end);
            let edge = [
                face(from, 0.0, reach),
                face(to, 0.0, reach),
                face(to, RIM_M, half),
                face(from, RIM_M, half),
            ];
            let normal = (from_out.1 + to_out.1).normalize_or(Vec2::X);
            solid.face(&edge, (normal.extend(side)).normalize(), rim);
        }
    }
    marks(&mut solid, &section, half);
    solid
}

/// A strip of a wall between two corners of the section, from one place along the axis to another.
fn wall(
    solid: &mut Solid,
    corners: [(Vec2, Vec2); 2],
    [from, to]: [f32; 2],
    outwards: f32,
    colour: [f32; 4],
) {
    let [a, b] = corners;
    let mut put = |(at, normal): (Vec2, Vec2), z: f32| {
        solid.corner(at.extend(z), (normal * outwards).extend(0.0), colour)
    };
    let quad = [put(a, from), put(b, from), put(b, to), put(a, to)];
    solid.triangle([quad[0], quad[1], quad[2]]);
    solid.triangle([quad[0], quad[2], quad[3]]);
}

/// Chalk at both ends where the long axis lies.
fn marks(solid: &mut Solid, section: &Section, half: f32) {
    let chalk = linear(theme::CHALK);
    let width = 0.5 * section.angle_of(0.022);
    for middle in [0.0, 0.5 * TAU] {
        let corners = [middle - width, middle + width].map(|angle| section.at(angle, -MARK_OFF_M));
        for side in [-1.0, 1.0] {
            let span = [side * (half - 0.02), side * (half - 0.02 - AXIS_MARK_M)];
            wall(solid, corners, span, 1.0, chalk);
            // And over the end face.
            let face = |angle: f32, inside: f32| {
                section
                    .at(angle, inside)
                    .0
                    .extend(side * (half + MARK_OFF_M))
            };
            let over = [
                face(middle - width, RIM_M),
                face(middle + width, RIM_M),
                face(middle + width, section.wall),
                face(middle - width, section.wall),
            ];
            solid.face(&over, Vec3::Z * side, chalk);
        }
    }
}

/// The lines of print on a stick, as strips a hair over its surface.
pub fn print(pipe: &Pipe, quality: Quality) -> Mesh {
    let section = Section::of(pipe);
    let half = 0.5 * m(pipe.length_m);
    let width = section.angle_of(print_width_m(pipe));
    let steps = if quality == Quality::Low { 1 } else { 3 };
    let mut positions: Vec<[f32; 3]> = Vec::new();
    let mut normals: Vec<[f32; 3]> = Vec::new();
    let mut uvs: Vec<[f32; 2]> = Vec::new();
    let mut indices: Vec<u32> = Vec::new();
    for middle in PRINTS_RAD {
        for step in 0..=steps {
            let share = step as f32 / steps as f32;
            let (at, normal) = section.at(middle + width * (share - 0.5), -MARK_OFF_M);
            for side in [-1.0, 1.0] {
                positions.push(at.extend(side * (half - 0.05)).to_array());
                normals.push(normal.extend(0.0).to_array());
                // Read from outside with the axis running to the right it is upright.
                uvs.push([-side * half / PRINT_M, 1.0 - share]);
            }
            if step > 0 {
                let last = positions.len() as u32 - 4;
                indices.extend([last, last + 2, last + 1, last + 1, last + 2, last + 3]);
            }
        }
    }
    Mesh::new(
        bevy::mesh::PrimitiveTopology::TriangleList,
        bevy::asset::RenderAssetUsages::default(),
    )
    .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
    .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
    .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, uvs)
    .with_inserted_indices(bevy::mesh::Indices::U32(indices))
}

fn print_width_m(pipe: &Pipe) -> f32 {
    0.045 + 0.035 * m(pipe.radius_m())
}

/// What is printed on a pipe: outside diameter and wall in mm, and the dimension ratio.
fn printed(pipe: &Pipe) -> String {
    format!(
        "PE {:.1}X{:.1} DR{:.1}",
        1000.0 * pipe.outside_diameter_m,
        1000.0 * pipe.wall_min_m,
        pipe.dimension_ratio()
    )
}

/// The picture of the print: chalk on pipe.
pub fn print_picture(pipe: &Pipe) -> Image {
    const SIZE: (usize, usize) = (512, 32);
    const DOT: usize = 3;
    let dark = theme::PIPE.to_be_bytes();
    let light = theme::CHALK.to_be_bytes();
    let colour = |[_, r, g, b]: [u8; 4]| [r, g, b, 255];
    let mut pixels = vec![colour(dark); SIZE.0 * SIZE.1];
    let mut dot = |x: usize, y: usize| {
        for py in y..(y + DOT).min(SIZE.1) {
            for px in x..(x + DOT).min(SIZE.0) {
                pixels[py * SIZE.0 + px] = colour(light);
            }
        }
    };
    let top = (SIZE.1 - 7 * DOT) / 2;
    let mut x = 6;
    for letter in printed(pipe).chars() {
        for (row, bits) in glyph(letter).into_iter().enumerate() {
            for column in 0..5 {
                if bits & (0b10000 >> column) != 0 {
                    dot(x + column * DOT, top + row * DOT);
                }
            }
        }
        x += 6 * DOT;
    }
    // A rule fills the rest of the line.
    for x in (x + 4..SIZE.0 - 10).step_by(DOT) {
        dot(x, top + 3 * DOT);
    }
    picture(SIZE.0, SIZE.1, pixels)
}

/// A letter of seven rows of five dots.
pub fn glyph(letter: char) -> [u8; 7] {
    match letter {
        '0' => [14, 17, 19, 21, 25, 17, 14],
        '1' => [4, 12, 4, 4, 4, 4, 14],
        '2' => [14, 17, 1, 2, 4, 8, 31],
        '3' => [31, 2, 4, 2, 1, 17, 14],
        '4' => [2, 6, 10, 18, 31, 2, 2],
        '5' => [31, 16, 30, 1, 1, 17, 14],
        '6' => [6, 8, 16, 30, 17, 17, 14],
        '7' => [31, 1, 2, 4, 8, 8, 8],
        '8' => [14, 17, 17, 14, 17, 17, 14],
        '9' => [14, 17, 17, 15, 1, 2, 12],
        'P' => [30, 17, 17, 30, 16, 16, 16],
        'E' => [31, 16, 16, 30, 16, 16, 31],
        'X' => [17, 17, 10, 4, 10, 17, 17],
        'D' => [30, 17, 17, 17, 17, 17, 30],
        'R' => [30, 17, 17, 30, 20, 18, 17],
        '.' => [0, 0, 0, 0, 0, 12, 12],
        _ => [0; 7],
    }
}
