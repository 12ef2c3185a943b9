//! A piece of machinery that moves as one: the shapes of steel it is welded and bolted together from.

use std::collections::BTreeMap;
use std::f32::consts::TAU;

use bevy::prelude::*;

use super::coat::{Coat, Finish};
use super::solid::Solid;

/// Widest bevel of a plate's edges, m.
const BEVEL_M: f32 = 0.006;
/// A step of a turned profile that is shorter is an edge, and worn.
const EDGE_M: f32 = 0.013;
/// Two steps of a profile that turn by less than this (its cosine) are one smooth face.
const SMOOTH: f32 = 0.78;

/// See the module's text. One solid for every finish.
#[derive(Clone, Debug)]
pub struct Piece {
    corners: u32,
    solids: BTreeMap<Finish, Solid>,
}

impl Piece {
    /// `corners` is how many a large round part has.
    pub fn new(corners: u32) -> Self {
        Self {
            corners,
            solids: BTreeMap::new(),
        }
    }

    pub fn solids(&self) -> impl Iterator<Item = (Finish, &Solid)> {
        self.solids.iter().map(|(&finish, solid)| (finish, solid))
    }

    pub fn into_solids(self) -> impl Iterator<Item = (Finish, Solid)> {
        self.solids.into_iter()
    }

    fn solid(&mut self, coat: Coat) -> &mut Solid {
        self.solids.entry(coat.finish()).or_default()
    }

    /// Corners of a round part of this radius.
    pub fn corners(&self, radius_m: f32) -> u32 {
        let share = (radius_m / 0.4).sqrt().min(1.0);
        let least = if self.is_detailed() { 6 } else { 4 };
        ((self.corners as f32 * share) as u32).clamp(least, self.corners.max(least))
    }

    /// Whether round parts are drawn with all their detail.
    pub fn is_detailed(&self) -> bool {
        self.corners >= 48
    }

    /// A plate or block with these half extents.
    pub fn plate(&mut self, coat: Coat, at: Transform, half: Vec3) {
        let bevel = if self.is_detailed() {
            BEVEL_M.min(0.25 * half.min_element())
        } else {
            0.0
        };
        self.bevelled(coat, at, half, bevel);
    }

    /// The same from one corner to the opposite one, square to the axes.
    pub fn block(&mut self, coat: Coat, from: Vec3, to: Vec3) {
        let half = 0.5 * (to - from).abs();
        self.plate(coat, Transform::from_translation(0.5 * (from + to)), half);
    }

    fn bevelled(&mut self, coat: Coat, at: Transform, half: Vec3, bevel: f32) {
        let inner = half - Vec3::splat(bevel);
        // The corner in a direction of signs, on the face across one axis.
        let point = |signs: Vec3, axis: usize| {
            let mut point = signs * inner;
            point[axis] = signs[axis] * half[axis];
            at.transform_point(point)
        };
        let sign = |on: bool| if on { 1.0 } else { -1.0 };
        let (colour, edge) = (coat.colour(), coat.edge());
        let solid = self.solid(coat);
        for axis in 0..3 {
            let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
            for up in [1.0, -1.0] {
                let corner = |su: f32, sv: f32| {
                    let mut signs = Vec3::ZERO;
                    (signs[axis], signs[u], signs[v]) = (up, su, sv);
                    point(signs, axis)
                };
                let mut normal = Vec3::ZERO;
                normal[axis] = up;
                let outline = [
                    corner(1.0, 1.0),
                    corner(-1.0, 1.0),
                    corner(-1.0, -1.0),
                    corner(1.0, -1.0),
                ];
                solid.face(&outline, at.rotation * normal, colour);
            }
        }
        if bevel <= 0.0 {
            return;
        }
        for along in 0..3 {
            let (u, v) = ((along + 1) % 3, (along + 2) % 3);
            for quarter in 0..4 {
                let mut signs = Vec3::ZERO;
                (signs[u], signs[v]) = (sign(quarter & 1 == 0), sign(quarter & 2 == 0));
                let ends = [1.0, -1.0].map(|end| {
                    let mut signs = signs;
                    signs[along] = end;
                    (point(signs, u), point(signs, v))
                });
                let outline = [ends[0].0, ends[0].1, ends[1].1, ends[1].0];
                solid.face(&outline, at.rotation * signs, edge);
            }
        }
        for corner in 0..8 {
            let signs = Vec3::new(
                sign(corner & 1 == 0),
                sign(corner & 2 == 0),
                sign(corner & 4 == 0),
            );
            let outline = [0, 1, 2].map(|axis| point(signs, axis));
            solid.face(&outline, at.rotation * signs, edge);
        }
    }

    /// A turned part: its profile (radius, height) about the frame's y, in the order in which the
    /// outside lies to the right of the way up.
    pub fn turned(&mut self, coat: Coat, at: Transform, profile: &[Vec2]) {
        let radius = profile
            .iter()
            .fold(0.0_f32, |most, point| most.max(point.x));
        let around = self.corners(radius);
        let closed = profile.first() == profile.last();
        let steps: Vec<(Vec2, Vec2, Vec2)> = profile
            .windows(2)
            .map(|pair| {
                let along = pair[1] - pair[0];
                (
                    pair[0],
                    pair[1],
                    Vec2::new(along.y, -along.x).normalize_or_zero(),
                )
            })
            .collect();
        let count = steps.len();
        let (colour, edge) = (coat.colour(), coat.edge());
        let solid = self.solid(coat);
        for (index, &(from, to, normal)) in steps.iter().enumerate() {
            let beside = |other: Option<usize>| {
                let other = other.map_or(normal, |other| steps[other].2);
                if other.dot(normal) > SMOOTH {
                    (normal + other).normalize_or(normal)
                } else {
                    normal
                }
            };
            let before = index.checked_sub(1).or(closed.then_some(count - 1));
            let after = if index + 1 < count {
                Some(index + 1)
            } else {
                closed.then_some(0)
            };
            let (first, second) = (beside(before), beside(after));
            let short = (to - from).length() < EDGE_M && count > 3;
            let colour = if short { edge } else { colour };
            let mut rows = Vec::with_capacity(around as usize + 1);
            for corner in 0..=around {
                let (s, c) = (TAU * corner as f32 / around as f32).sin_cos();
                let ring = |point: Vec2| Vec3::new(point.x * c, point.y, point.x * s);
                let mut put = |point: Vec2, normal: Vec2| {
                    solid.corner(
                        at.transform_point(ring(point)),
                        at.rotation * ring(normal),
                        colour,
                    )
                };
                rows.push((put(from, first), put(to, second)));
            }
            for pair in rows.windows(2) {
                let [(a, b), (d, c)] = [pair[0], pair[1]];
                solid.triangle([a, b, c]);
                solid.triangle([a, c, d]);
            }
        }
    }

    /// A round bar with broken edges.
    pub fn rod(&mut self, coat: Coat, from: Vec3, to: Vec3, radius: f32) {
        self.taper(coat, from, to, [radius, radius]);
    }

    /// A round bar that narrows.
    pub fn taper(&mut self, coat: Coat, from: Vec3, to: Vec3, radii: [f32; 2]) {
        let length = (to - from).length();
        let edge = (0.12 * radii[0].min(radii[1])).min(0.006).min(0.2 * length);
        let profile = [
            (0.0, 0.0),
            (radii[0] - edge, 0.0),
            (radii[0], edge),
            (radii[1], length - edge),
            (radii[1] - edge, length),
            (0.0, length),
        ];
        self.turned(coat, upright(from, to), &profile.map(Vec2::from));
    }

    /// A hollow bar.
    pub fn tube(&mut self, coat: Coat, from: Vec3, to: Vec3, outer: f32, inner: f32) {
        let length = (to - from).length();
        let profile = [
            (outer, 0.0),
            (outer, length),
            (inner, length),
            (inner, 0.0),
            (outer, 0.0),
        ];
        self.turned(coat, upright(from, to), &profile.map(Vec2::from));
    }

    /// A plate of any outline (in the frame's x and y), from -`half_m` to `half_m` along z.
    pub fn cut(&mut self, coat: Coat, at: Transform, outline: &[Vec2], half_m: f32) {
        let area: f32 = pairs(outline).map(|(a, b)| a.perp_dot(b)).sum();
        let mut outline = outline.to_vec();
        if area < 0.0 {
            outline.reverse();
        }
        let (colour, edge) = (coat.colour(), coat.edge());
        let caps = cut_up(&outline);
        let solid = self.solid(coat);
        for side in [half_m, -half_m] {
            let normal = at.rotation * Vec3::Z * side.signum();
            let first = solid.positions().len() as u32;
            for point in &outline {
                solid.corner(at.transform_point(point.extend(side)), normal, colour);
            }
            for triangle in &caps {
                solid.triangle(triangle.map(|corner| first + corner as u32));
            }
        }
        for (a, b) in pairs(&outline) {
            let normal = Vec2::new(b.y - a.y, a.x - b.x).extend(0.0);
            let quad = [
                a.extend(half_m),
                b.extend(half_m),
                b.extend(-half_m),
                a.extend(-half_m),
            ];
            let quad = quad.map(|point| at.transform_point(point));
            solid.face(&quad, at.rotation * normal, edge);
        }
    }

    /// A hose or a bent bar through points.
    pub fn swept(&mut self, coat: Coat, points: &[Vec3], radius: f32) {
        let around = self.corners(radius);
        let colour = coat.colour();
        let solid = self.solid(coat);
        let mut side = Vec3::ZERO;
        let mut before: Option<Vec<u32>> = None;
        for (index, &at) in points.iter().enumerate() {
            let ahead = points.get(index + 1).map_or(Vec3::ZERO, |&next| next - at);
            let behind = index
                .checked_sub(1)
                .map_or(Vec3::ZERO, |last| at - points[last]);
            let along =
                (ahead.normalize_or_zero() + behind.normalize_or_zero()).normalize_or(Vec3::X);
            // The frame is carried on, so that the hose does not twist.
            side = (side - along * side.dot(along)).normalize_or(along.any_orthonormal_vector());
            let up = along.cross(side);
            let ring: Vec<u32> = (0..=around)
                .map(|corner| {
                    let (s, c) = (TAU * corner as f32 / around as f32).sin_cos();
                    let normal = side * c + up * s;
                    solid.corner(at + normal * radius, normal, colour)
                })
                .collect();
            if let Some(before) = before {
                for (pair, last) in ring.windows(2).zip(before.windows(2)) {
                    solid.triangle([last[0], pair[0], pair[1]]);
                    solid.triangle([last[0], pair[1], last[1]]);
                }
            }
            before = Some(ring);
        }
    }

    /// A flat mark on a face, in the frame's x and y, seen from +z.
    pub fn mark(&mut self, coat: Coat, at: Transform, half: Vec2) {
        let corner = |x: f32, y: f32| at.transform_point(Vec3::new(x * half.x, y * half.y, 0.0));
        let outline = [
            corner(-1.0, -1.0),
            corner(1.0, -1.0),
            corner(1.0, 1.0),
            corner(-1.0, 1.0),
        ];
        let colour = coat.colour();
        self.solid(coat)
            .face(&outline, at.rotation * Vec3::Z, colour);
    }
}

/// A frame at `from` whose y points to `to`.
pub fn upright(from: Vec3, to: Vec3) -> Transform {
    let along = (to - from).normalize_or(Vec3::Y);
    Transform::from_translation(from).with_rotation(Quat::from_rotation_arc(Vec3::Y, along))
}

fn pairs(outline: &[Vec2]) -> impl Iterator<Item = (Vec2, Vec2)> + '_ {
    outline
        .iter()
        .zip(outline.iter().cycle().skip(1))
        .map(|(&a, &b)| (a, b))
}

/// The triangles of an outline that runs counter-clockwise, by cutting off its ears.
fn cut_up(outline: &[Vec2]) -> Vec<[usize; 3]> {
    let mut left: Vec<usize> = (0..outline.len()).collect();
    let mut triangles = Vec::with_capacity(outline.len());
    while left.len() > 3 {
        let count = left.len();
        let ear = (0..count).find(|&at| {
            let [a, b, c] = [(at + count - 1) % count, at, (at + 1) % count].map(|i| left[i]);
            let [pa, pb, pc] = [a, b, c].map(|i| outline[i]);
            let turns = (pb - pa).perp_dot(pc - pb) > 1.0e-12;
            let inside = |p: Vec2| {
                (pb - pa).perp_dot(p - pa) > 0.0
                    && (pc - pb).perp_dot(p - pb) > 0.0
                    && (pa - pc).perp_dot(p - pc) > 0.0
            };
            turns
                && !left
                    .iter()
                    .any(|&i| i != a && i != b && i != c && inside(outline[i]))
        });
        // What is left of an outline that is no area has no face.
        let at = ear.unwrap_or(0);
        if ear.is_some() {
            triangles.push([
                left[(at + count - 1) % count],
                left[at],
                left[(at + 1) % count],
            ]);
        }
        left.remove(at);
    }
    if let [a, b, c] = left[..] {
        triangles.push([a, b, c]);
    }
    triangles
}
