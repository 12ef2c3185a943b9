//! Flat shapes on the ground: filled polygons, ribbons and dashes, draped a little above it.

use bevy::prelude::*;

use crate::domain::spec::Place;
use crate::view::scene::ground::Lie;
use crate::view::scene::solid::Solid;

/// Twice the area of a triangle, positive where it turns from +x to +z.
fn area(a: Place, b: Place, c: Place) -> f64 {
    (b.x_m - a.x_m) * (c.z_m - a.z_m) - (c.x_m - a.x_m) * (b.z_m - a.z_m)
}

/// A simple polygon cut into triangles by ears, each turning from +x to +z; corners by number.
pub fn triangles(polygon: &[Place]) -> Vec<[usize; 3]> {
    let mut left: Vec<usize> = (0..polygon.len()).collect();
    let whole: f64 = (1..polygon.len().saturating_sub(1))
        .map(|i| area(polygon[0], polygon[i], polygon[i + 1]))
        .sum();
    if whole < 0.0 {
        left.reverse();
    }
    let mut found = Vec::new();
    while left.len() >= 3 {
        let count = left.len();
        let ear = (0..count).find(|&i| {
            let [a, b, c] = [
                left[(i + count - 1) % count],
                left[i],
                left[(i + 1) % count],
            ];
            let corner = [polygon[a], polygon[b], polygon[c]];
            area(corner[0], corner[1], corner[2]) > 0.0
                && left
                    .iter()
                    .all(|&other| [a, b, c].contains(&other) || !is_inside(corner, polygon[other]))
        });
        // Corners in one line have no ear: they are left out.
        let i = ear.unwrap_or(0);
        if ear.is_some() {
            found.push([
                left[(i + count - 1) % count],
                left[i],
                left[(i + 1) % count],
            ]);
        }
        left.remove(i);
    }
    found
}

fn is_inside([a, b, c]: [Place; 3], at: Place) -> bool {
    area(a, b, at) >= 0.0 && area(b, c, at) >= 0.0 && area(c, a, at) >= 0.0
}

/// Puts flat shapes on a line's ground.
pub struct Drape<'a> {
    lie: Lie<'a>,
    mirrored: bool,
    over_m: f32,
    pub sheet: Solid,
}

impl<'a> Drape<'a> {
    pub fn new(lie: Lie<'a>, mirrored: bool, over_m: f32) -> Self {
        Self {
            lie,
            mirrored,
            over_m,
            sheet: Solid::new(),
        }
    }

    /// A corner; its texture's tile is one metre by one metre of the plan.
    pub fn corner(&mut self, place: Place) -> u32 {
        let at = self.lie.at(place) + Vec3::Y * self.over_m;
        let uv = [place.x_m as f32, place.z_m as f32];
        self.sheet.corner(at, Vec3::Y, uv)
    }

    /// A triangle that turns from +x to +z in the plan looks down in a right-handed frame: it is
    /// turned over, and on a mirrored line it is not.
    pub fn triangle(&mut self, [a, b, c]: [u32; 3]) {
        if self.mirrored {
            self.sheet.triangle([a, b, c]);
        } else {
            self.sheet.triangle([a, c, b]);
        }
    }

    pub fn fill(&mut self, polygon: &[Place]) {
        let corners: Vec<u32> = polygon.iter().map(|&place| self.corner(place)).collect();
        for triangle in triangles(polygon) {
            self.triangle(triangle.map(|i| corners[i]));
        }
    }

    /// A ribbon from one place to another.
    pub fn ribbon(&mut self, from: Place, to: Place, half_m: f64) {
        let (dx, dz) = (to.x_m - from.x_m, to.z_m - from.z_m);
        let length_m = dx.hypot(dz);
        if length_m <= 0.0 {
            return;
        }
        let (ax, az) = (-dz / length_m * half_m, dx / length_m * half_m);
        let aside = |at: Place, sign: f64| Place {
            x_m: at.x_m + sign * ax,
            z_m: at.z_m + sign * az,
        };
        let corners = [
            aside(from, -1.0),
            aside(to, -1.0),
            aside(to, 1.0),
            aside(from, 1.0),
        ];
        let [a, b, c, d] = corners.map(|place| self.corner(place));
        self.triangle([a, b, c]);
        self.triangle([a, c, d]);
    }

    /// Dashes along a closed polygon, as evenly as its edges allow.
    pub fn dashes(&mut self, polygon: &[Place], (dash_m, gap_m): (f64, f64), half_m: f64) {
        for (n, &from) in polygon.iter().enumerate() {
            let to = polygon[(n + 1) % polygon.len()];
            let length_m = (to.x_m - from.x_m).hypot(to.z_m - from.z_m);
            let count = (length_m / (dash_m + gap_m)).round().max(1.0) as usize;
            let pitch = 1.0 / count as f64;
            let share = pitch * dash_m / (dash_m + gap_m);
            let along = |t: f64| Place {
                x_m: from.x_m + t * (to.x_m - from.x_m),
                z_m: from.z_m + t * (to.z_m - from.z_m),
            };
            for i in 0..count {
                let begins = pitch * i as f64;
                self.ribbon(along(begins), along(begins + share), half_m);
            }
        }
    }

    /// The closed outline of a polygon.
    pub fn outline(&mut self, polygon: &[Place], half_m: f64) {
        for (n, &from) in polygon.iter().enumerate() {
            self.ribbon(from, polygon[(n + 1) % polygon.len()], half_m);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::zone::Zone;
    use crate::view::scene::site::shipped;

    fn polygon(corners: &[(f64, f64)]) -> Vec<Place> {
        corners
            .iter()
            .map(|&(x_m, z_m)| Place { x_m, z_m })
            .collect()
    }

    #[test]
    fn triangles_fill_a_polygon_whole_and_once() {
        for corners in [
            polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0)]),
            polygon(&[(0.0, 0.0), (0.0, 5.0), (5.0, 5.0), (5.0, 0.0)]),
            // Hollow, either way round.
            polygon(&[(0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (3.0, 2.0), (0.0, 6.0)]),
            polygon(&[(0.0, 6.0), (3.0, 2.0), (6.0, 6.0), (6.0, 0.0), (0.0, 0.0)]),
            polygon(&[(0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]),
        ] {
            let filled: f64 = triangles(&corners)
                .iter()
                .map(|t| 0.5 * area(corners[t[0]], corners[t[1]], corners[t[2]]))
                .sum();
            let wanted = Zone::new(&corners).unwrap().area_m2();
            assert!((filled - wanted).abs() < 1.0e-9, "{filled} {wanted}");
        }
    }

    #[test]
    fn shapes_lie_on_the_ground_and_look_up() {
        for (name, rig) in shipped() {
            let lie = Lie::of(&rig);
            let mut drape = Drape::new(lie, rig.mirror() < 0.0, 0.02);
            let hollow = polygon(&[(0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (3.0, 2.0), (0.0, 6.0)]);
            drape.fill(&hollow);
            drape.dashes(&hollow, (0.6, 0.4), 0.05);
            drape.outline(&hollow, 0.03);
            let corners: Vec<Vec3> = drape.sheet.corners().collect();
            for at in &corners {
                let place = Place {
                    x_m: rig.mirror() * f64::from(at.x),
                    z_m: f64::from(at.z),
                };
                let over = f64::from(at.y) - rig.spec().ground.height_m(place);
                assert!((over - 0.02).abs() < 1.0e-4, "{name}: {over}");
            }
            for [a, b, c] in drape.sheet.triangles() {
                let [a, b, c] = [a, b, c].map(|i| corners[i as usize]);
                assert!((b - a).cross(c - a).y > 0.0, "{name}");
            }
        }
    }
}
