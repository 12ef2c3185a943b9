//! The pieces a line's machinery is made of, before they become meshes.

use bevy::prelude::*;

use super::piece::Piece;
use super::rides::Rides;
use crate::domain::rig::{End, PlaneBox, Rig};
use crate::view::quality::Quality;

/// A length as the picture has it.
pub fn m(value: f64) -> f32 {
    value as f32
}

/// +1 at the near end, -1 at the far one: towards the outside of the line along z.
pub fn outwards(end: End) -> f32 {
    match end {
        End::Near => 1.0,
        End::Far => -1.0,
    }
}

/// The frame of a box across the line: x along it, y square to its upper face, its middle.
pub fn frame_of(plate: &PlaneBox) -> Transform {
    Transform::from_xyz(m(plate.centre.x_m), m(plate.centre.y_m), 0.0)
        .with_rotation(Quat::from_rotation_z(m(plate.turn_rad)))
}

/// Both ends of the upper face of a box across the line.
pub fn upper_face(plate: &PlaneBox) -> [Vec2; 2] {
    [-1.0, 1.0].map(|end| {
        let corner = Vec3::new(end * m(plate.half_length_m), m(plate.half_thickness_m), 0.0);
        frame_of(plate).transform_point(corner).truncate()
    })
}

/// See the module's text.
pub struct Kit<'a> {
    pub rig: &'a Rig,
    corners: u32,
    pieces: Vec<(Vec<Rides>, Piece)>,
}

impl<'a> Kit<'a> {
    pub fn new(rig: &'a Rig, quality: Quality) -> Self {
        Self {
            rig,
            corners: quality.corners(),
            pieces: Vec::new(),
        }
    }

    /// The piece that rides on one thing.
    pub fn on(&mut self, rides: Rides) -> &mut Piece {
        self.on_each(&[rides])
    }

    /// A piece of which there are several alike.
    pub fn on_each(&mut self, rides: &[Rides]) -> &mut Piece {
        let there = self.pieces.iter().position(|(on, _)| on == rides);
        let at = there.unwrap_or_else(|| {
            self.pieces.push((rides.to_vec(), Piece::new(self.corners)));
            self.pieces.len() - 1
        });
        &mut self.pieces[at].1
    }

    /// Every piece, with all that it rides on.
    pub fn into_pieces(self) -> Vec<(Vec<Rides>, Piece)> {
        self.pieces
    }

    pub fn pieces(&self) -> &[(Vec<Rides>, Piece)] {
        &self.pieces
    }
}
