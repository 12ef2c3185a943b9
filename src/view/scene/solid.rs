//! Solids and sheets put together into one mesh, each with its own colour: what stands still is drawn
//! in few calls.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

/// See the module's text. What is added is placed by [`Solid::at`] and coloured by [`Solid::paint`].
#[derive(Clone, Debug)]
pub struct Solid {
    positions: Vec<[f32; 3]>,
    normals: Vec<[f32; 3]>,
    uvs: Vec<[f32; 2]>,
    colours: Vec<[f32; 4]>,
    indices: Vec<u32>,
    colour: [f32; 4],
    uv: [f32; 2],
    place: Transform,
}

impl Default for Solid {
    fn default() -> Self {
        Self {
            positions: Vec::new(),
            normals: Vec::new(),
            uvs: Vec::new(),
            colours: Vec::new(),
            indices: Vec::new(),
            colour: [1.0; 4],
            uv: [0.0; 2],
            place: Transform::IDENTITY,
        }
    }
}

impl Solid {
    pub fn new() -> Self {
        Self::default()
    }

    /// The colour of what is added next.
    pub fn paint(&mut self, colour: Color) -> &mut Self {
        self.colour = colour.to_linear().to_f32_array();
        self
    }

    /// The point of a texture that flat-coloured solids take.
    pub fn dab(&mut self, uv: [f32; 2]) -> &mut Self {
        self.uv = uv;
        self
    }

    /// Where what is added next stands.
    pub fn at(&mut self, place: Transform) -> &mut Self {
        self.place = place;
        self
    }

    pub fn is_empty(&self) -> bool {
        self.indices.is_empty()
    }

    pub fn corner_count(&self) -> usize {
        self.positions.len()
    }

    pub fn corners(&self) -> impl Iterator<Item = Vec3> + '_ {
        self.positions.iter().copied().map(Vec3::from)
    }

    pub fn triangles(&self) -> impl Iterator<Item = [u32; 3]> + '_ {
        self.indices.chunks_exact(3).map(|t| [t[0], t[1], t[2]])
    }

    /// A corner; returns its number.
    pub fn corner(&mut self, at: Vec3, normal: Vec3, uv: [f32; 2]) -> u32 {
        let number = self.positions.len() as u32;
        self.positions
            .push(self.place.transform_point(at).to_array());
        self.normals.push(
            (self.place.rotation * normal)
                .normalize_or_zero()
                .to_array(),
        );
        self.uvs.push(uv);
        self.colours.push(self.colour);
        number
    }

    pub fn triangle(&mut self, corners: [u32; 3]) {
        self.indices.extend(corners);
    }

    /// A flat face with corners counter-clockwise seen from its front.
    pub fn face(&mut self, corners: &[Vec3]) {
        let [first, second, third, ..] = corners else {
            return;
        };
        let normal = (*second - *first)
            .cross(*third - *first)
            .normalize_or_zero();
        let uv = self.uv;
        let numbers: Vec<u32> = corners
            .iter()
            .map(|&at| self.corner(at, normal, uv))
            .collect();
        for pair in numbers[1..].windows(2) {
            self.triangle([numbers[0], pair[0], pair[1]]);
        }
    }

    /// A box about a point.
    pub fn slab(&mut self, middle: Vec3, half: Vec3) -> &mut Self {
        self.tapered(middle, half, Vec2::ONE)
    }

    /// A box whose upper face is this much of the lower one, along x and z.
    pub fn tapered(&mut self, middle: Vec3, half: Vec3, share: Vec2) -> &mut Self {
        let corner = |x: f32, y: f32, z: f32| {
            let (sx, sz) = if y > 0.0 {
                (share.x, share.y)
            } else {
                (1.0, 1.0)
            };
            middle + Vec3::new(x * half.x * sx, y * half.y, z * half.z * sz)
        };
        let c = |i: usize| {
            let sign = |bit: usize| if i >> bit & 1 == 1 { 1.0 } else { -1.0 };
            corner(sign(0), sign(1), sign(2))
        };
        for face in [
            [1, 3, 7, 5],
            [0, 4, 6, 2],
            [2, 6, 7, 3],
            [0, 1, 5, 4],
            [4, 5, 7, 6],
            [0, 2, 3, 1],
        ] {
            self.face(&face.map(c));
        }
        self
    }

    /// A round bar from one point to another, with its own radius at each and closed ends.
    pub fn bar(&mut self, from: (Vec3, f32), to: (Vec3, f32), sides: u32) -> &mut Self {
        self.sleeve(from, to, sides);
        self.lid(to.0, to.0 - from.0, to.1, sides);
        self.lid(from.0, from.0 - to.0, from.1, sides);
        self
    }

    /// The same with open ends.
    pub fn sleeve(&mut self, from: (Vec3, f32), to: (Vec3, f32), sides: u32) -> &mut Self {
        let along = (to.0 - from.0).normalize_or(Vec3::Y);
        let (u, v) = along.any_orthonormal_pair();
        let slope = (from.1 - to.1) / (to.0 - from.0).length().max(1.0e-6);
        let uv = self.uv;
        let mut last = None;
        for i in 0..=sides {
            let (sin, cos) = turn(i, sides).sin_cos();
            let out = u * cos + v * sin;
            let normal = out + along * slope;
            let low = self.corner(from.0 + out * from.1, normal, uv);
            let high = self.corner(to.0 + out * to.1, normal, uv);
            if let Some((low_before, high_before)) = last {
                self.triangle([low_before, low, high]);
                self.triangle([low_before, high, high_before]);
            }
            last = Some((low, high));
        }
        self
    }

    /// Oval rings (height, half depth along x and half width along z), joined from one to the next.
    pub fn loft(&mut self, rings: &[(f32, Vec2)], sides: u32) -> &mut Self {
        let uv = self.uv;
        // Whichever way they are given, they are joined upwards.
        let mut rings = rings.to_vec();
        rings.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut before: Vec<u32> = Vec::new();
        for (n, &(y, half)) in rings.iter().enumerate() {
            let low = rings[n.saturating_sub(1)];
            let high = rings[(n + 1).min(rings.len() - 1)];
            let slope = (low.1 - high.1).max_element() / (high.0 - low.0).max(1.0e-4);
            let ring: Vec<u32> = (0..=sides)
                .map(|i| {
                    let (sin, cos) = turn(i, sides).sin_cos();
                    let at = Vec3::new(half.x * cos, y, -half.y * sin);
                    let normal = Vec3::new(cos / half.x, 0.0, -sin / half.y).normalize_or_zero();
                    self.corner(at, normal + Vec3::Y * slope.clamp(-3.0, 3.0), uv)
                })
                .collect();
            for i in 0..before.len().saturating_sub(1) {
                self.triangle([before[i], before[i + 1], ring[i + 1]]);
                self.triangle([before[i], ring[i + 1], ring[i]]);
            }
            before = ring;
        }
        self
    }

    /// A round plate that looks along `towards`.
    pub fn lid(&mut self, middle: Vec3, towards: Vec3, radius: f32, sides: u32) -> &mut Self {
        if radius <= 0.0 {
            return self;
        }
        let normal = towards.normalize_or(Vec3::Y);
        let (u, v) = normal.any_orthonormal_pair();
        let uv = self.uv;
        let centre = self.corner(middle, normal, uv);
        let rim: Vec<u32> = (0..sides)
            .map(|i| {
                let (sin, cos) = turn(i, sides).sin_cos();
                self.corner(middle + (u * cos + v * sin) * radius, normal, uv)
            })
            .collect();
        for i in 0..sides as usize {
            self.triangle([centre, rim[i], rim[(i + 1) % sides as usize]]);
        }
        self
    }

    /// A ring that looks along `towards`: the end of a pipe.
    pub fn ring(
        &mut self,
        middle: Vec3,
        towards: Vec3,
        radii: (f32, f32),
        sides: u32,
    ) -> &mut Self {
        let normal = towards.normalize_or(Vec3::Y);
        let (u, v) = normal.any_orthonormal_pair();
        let uv = self.uv;
        let mut last = None;
        for i in 0..=sides {
            let (sin, cos) = turn(i, sides).sin_cos();
            let out = u * cos + v * sin;
            let inner = self.corner(middle + out * radii.0, normal, uv);
            let outer = self.corner(middle + out * radii.1, normal, uv);
            if let Some((inner_before, outer_before)) = last {
                self.triangle([inner_before, outer_before, outer]);
                self.triangle([inner_before, outer, inner]);
            }
            last = Some((inner, outer));
        }
        self
    }

    /// An ellipsoid, from a height of its unit ball (-1 is whole) up.
    pub fn ball(&mut self, middle: Vec3, radii: Vec3, sides: u32, from: f32) -> &mut Self {
        let rows = (sides / 2).max(3);
        let low = from.clamp(-1.0, 0.99).asin();
        let uv = self.uv;
        let mut before: Vec<u32> = Vec::new();
        for row in 0..=rows {
            let up = low + (std::f32::consts::FRAC_PI_2 - low) * row as f32 / rows as f32;
            let ring: Vec<u32> = (0..=sides)
                .map(|i| {
                    let (sin, cos) = turn(i, sides).sin_cos();
                    let unit = Vec3::new(up.cos() * cos, up.sin(), -up.cos() * sin);
                    self.corner(middle + unit * radii, unit / radii, uv)
                })
                .collect();
            for i in 0..sides as usize {
                if let (Some(&a), Some(&b)) = (before.get(i), before.get(i + 1)) {
                    self.triangle([a, b, ring[i + 1]]);
                    self.triangle([a, ring[i + 1], ring[i]]);
                }
            }
            before = ring;
        }
        self
    }

    /// The same a little thicker all over: the edge that is seen around it.
    pub fn thickened(&self, by_m: f32) -> Self {
        let mut thick = self.clone();
        for (at, normal) in thick.positions.iter_mut().zip(&self.normals) {
            *at = (Vec3::from(*at) + Vec3::from(*normal) * by_m).to_array();
        }
        thick
    }

    /// The same in shades of grey.
    pub fn grey(&self) -> Self {
        let mut grey = self.clone();
        for colour in &mut grey.colours {
            let shade = LinearRgba::from_f32_array(*colour).luminance();
            let shade = 0.08 + 0.55 * shade;
            *colour = [shade, shade, shade, colour[3]];
        }
        grey
    }

    /// The mesh of a sheet that lies on the ground, with the way of its u and the hand of its v, so
    /// that a texture's bumps are lit from the right side.
    pub fn sheet(self, tangent: [f32; 4]) -> Mesh {
        let tangents = vec![tangent; self.positions.len()];
        self.mesh()
            .with_inserted_attribute(Mesh::ATTRIBUTE_TANGENT, tangents)
    }

    pub fn mesh(self) -> Mesh {
        Mesh::new(
            PrimitiveTopology::TriangleList,
            RenderAssetUsages::default(),
        )
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, self.positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, self.normals)
        .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, self.uvs)
        .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, self.colours)
        .with_inserted_indices(Indices::U32(self.indices))
    }
}

fn turn(i: u32, sides: u32) -> f32 {
    std::f32::consts::TAU * i as f32 / sides as f32
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every triangle's own side is the side its corners' normals look to.
    fn faces_outwards(solid: &Solid) {
        for corners in solid.indices.chunks_exact(3) {
            let at = |i: usize| Vec3::from(solid.positions[corners[i] as usize]);
            let across = (at(1) - at(0)).cross(at(2) - at(0));
            // The poles of a ball are as small as rounding makes them.
            if across.length() < 1.0e-7 {
                continue;
            }
            let normal: Vec3 = (0..3)
                .map(|i| Vec3::from(solid.normals[corners[i] as usize]))
                .sum();
            assert!(across.dot(normal) > 0.0, "{corners:?}");
        }
    }

    #[test]
    fn solids_face_outwards() {
        let mut solid = Solid::new();
        solid.slab(Vec3::X, Vec3::new(0.5, 1.0, 2.0));
        solid.tapered(Vec3::Y, Vec3::ONE, Vec2::new(0.5, 0.2));
        solid.bar((Vec3::ZERO, 0.3), (Vec3::new(0.2, 1.0, 0.4), 0.1), 9);
        solid.ball(Vec3::Z, Vec3::new(0.3, 0.5, 0.2), 10, -1.0);
        solid.ball(Vec3::Z, Vec3::splat(0.3), 10, 0.0);
        solid.ring(Vec3::ZERO, Vec3::Z, (0.4, 0.5), 12);
        let rings = [(0.5, 0.2), (0.0, 0.3), (1.0, 0.1)];
        solid.loft(&rings.map(|(y, r)| (y, Vec2::new(r, 1.3 * r))), 8);
        faces_outwards(&solid);
    }
}
