//! A mesh in the making: corners with their normals and colours, and the faces between them.
//!
//! Everything is in the frame of the piece it belongs to, in the plan of a right-handed line; for a
//! left-handed one the finished mesh is its mirror image.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use super::coat::GRIME_M;

#[derive(Clone, Debug, Default)]
pub struct Solid {
    positions: Vec<Vec3>,
    normals: Vec<Vec3>,
    colours: Vec<[f32; 4]>,
    indices: Vec<u32>,
}

impl Solid {
    pub fn is_empty(&self) -> bool {
        self.indices.is_empty()
    }

    pub fn triangles(&self) -> usize {
        self.indices.len() / 3
    }

    pub fn positions(&self) -> &[Vec3] {
        &self.positions
    }

    pub fn normals(&self) -> &[Vec3] {
        &self.normals
    }

    /// A corner; its number.
    pub fn corner(&mut self, at: Vec3, normal: Vec3, colour: [f32; 4]) -> u32 {
        self.positions.push(at);
        self.normals.push(normal.normalize_or(Vec3::Y));
        self.colours.push(colour);
        self.positions.len() as u32 - 1
    }

    /// A triangle of corners that are there, seen from where their normals point.
    pub fn triangle(&mut self, corners: [u32; 3]) {
        let [a, b, c] = corners.map(|corner| self.positions[corner as usize]);
        let face = (b - a).cross(c - a);
        if face.length_squared() < 1.0e-16 {
            return;
        }
        let outwards: Vec3 = corners
            .iter()
            .map(|&corner| self.normals[corner as usize])
            .sum();
        let [a, b, c] = corners;
        if face.dot(outwards) < 0.0 {
            self.indices.extend([a, c, b]);
        } else {
            self.indices.extend([a, b, c]);
        }
    }

    /// A flat face with no dents.
    pub fn face(&mut self, outline: &[Vec3], normal: Vec3, colour: [f32; 4]) {
        let first = self.positions.len() as u32;
        for &at in outline {
            self.corner(at, normal, colour);
        }
        for next in 1..(outline.len() as u32).saturating_sub(1) {
            self.triangle([first, first + next, first + next + 1]);
        }
    }

    /// The mesh; `mirror` is that of the rig.
    pub fn mesh(self, mirror: f32) -> Mesh {
        let flip = Vec3::new(mirror, 1.0, 1.0);
        let mut indices = self.indices;
        if mirror < 0.0 {
            for triangle in indices.chunks_exact_mut(3) {
                triangle.swap(1, 2);
            }
        }
        let uvs: Vec<[f32; 2]> = self
            .positions
            .iter()
            .zip(&self.normals)
            .map(|(&at, &normal)| laid_on(at, normal))
            .collect();
        let flipped = |all: Vec<Vec3>| -> Vec<[f32; 3]> {
            all.into_iter().map(|v| (v * flip).to_array()).collect()
        };
        Mesh::new(
            PrimitiveTopology::TriangleList,
            RenderAssetUsages::default(),
        )
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, flipped(self.positions))
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, flipped(self.normals))
        .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, uvs)
        .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, self.colours)
        .with_inserted_indices(Indices::U32(indices))
    }
}

/// Where the picture of dust lies on a face: straight from the side it looks to.
fn laid_on(at: Vec3, normal: Vec3) -> [f32; 2] {
    let to = normal.abs();
    let flat = if to.y >= to.x && to.y >= to.z {
        Vec2::new(at.x, at.z)
    } else if to.x >= to.z {
        Vec2::new(at.z, at.y)
    } else {
        Vec2::new(at.x, at.y)
    };
    (flat / GRIME_M).to_array()
}
