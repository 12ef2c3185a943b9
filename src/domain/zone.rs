//! The exclusion zone: a polygon of cones in the plan of a right-handed line.
//!
//! Plane geometry throughout (derived; the tests hold brute force against it). Cones count from 1
//! in messages.

use std::fmt;

use super::math::sqrt;
use super::spec::Place;

/// Least distance of two cones, m: nearer ones are one cone set twice (ours).
pub const CONES_APART_M: f64 = 0.1;
/// Least area of a zone, m²: less holds nobody out of anything (ours).
pub const AREA_MIN_M2: f64 = 1.0;
/// Farthest a cone may stand from the line's middle along either axis, m (ours).
pub const SITE_M: f64 = 1000.0;
/// Edges nearer than this touch, m (ours).
const TOUCH_M: f64 = 1e-3;
/// Sine of the angle up to which edges count as parallel: over the size of a site they part by no
/// more than [`ON_EDGE_M`].
const PARALLEL: f64 = 1e-9;
/// A place this near to the edge stands on it, m (ours).
const ON_EDGE_M: f64 = 1e-6;

/// Why cones make no zone. Cones are counted from 1 in the order in which they were set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ZoneFault {
    /// Fewer than three.
    TooFew {
        /// How many there are.
        cones: usize,
    },
    /// One is off the site, or its place is not a number.
    OffSite {
        /// The cone.
        cone: usize,
        /// Where it is said to stand.
        place: Place,
    },
    /// Two stand in one place, as good as.
    TooNear {
        /// The two.
        cones: [usize; 2],
        /// Their distance, m.
        apart_m: f64,
    },
    /// Two edges cross or touch.
    Crosses {
        /// The cones at the ends of one edge and of the other.
        edges: [[usize; 2]; 2],
    },
    /// It is too small.
    TooSmall {
        /// Its area, m².
        area_m2: f64,
    },
}

impl fmt::Display for ZoneFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew { cones } => write!(
                f,
                "the zone has {cones} cones, which enclose nothing: set at least 3"
            ),
            Self::OffSite { cone, place } => write!(
                f,
                "cone {cone} stands at x {} m, z {} m, which is not on the site: give both within \
                 {SITE_M} m of the line's middle",
                place.x_m, place.z_m
            ),
            Self::TooNear { cones, apart_m } => write!(
                f,
                "cones {} and {} are {apart_m:.2} m apart, allowed is {CONES_APART_M} m and more: \
                 leave one of them out",
                cones[0], cones[1]
            ),
            Self::Crosses { edges: [a, b] } => write!(
                f,
                "the zone crosses itself between cones {}-{} and {}-{}: set the cones in the order \
                 in which somebody walks around it",
                a[0], a[1], b[0], b[1]
            ),
            Self::TooSmall { area_m2 } => write!(
                f,
                "the zone covers {area_m2:.2} m², allowed is {AREA_MIN_M2} m² and more: set the \
                 cones farther apart"
            ),
        }
    }
}

impl std::error::Error for ZoneFault {}

/// The widest gap between neighbouring cones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// The two cones, counted from 1.
    pub cones: [usize; 2],
    /// Their distance, m.
    pub width_m: f64,
}

/// How another polygon sticks out of a zone.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncovered {
    /// The farthest any of `places` is off, m: out of the zone, or into the polygon where a cone
    /// stands within it.
    pub by_m: f64,
    /// Where that is.
    pub at: Place,
    /// The polygon's corners outside the zone, the middles of the pieces of its edges that lie
    /// outside, where its edges cross the zone's, and the cones that stand within it.
    pub places: Vec<Place>,
}

/// A simple polygon: no edge crosses or touches another. It does not matter which way round or from
/// which cone it was set.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    cones: Vec<Place>,
}

impl Zone {
    /// The zone within cones in order around it; the first fault found where they make none.
    pub fn new(cones: &[Place]) -> Result<Self, ZoneFault> {
        let count = cones.len();
        if count < 3 {
            return Err(ZoneFault::TooFew { cones: count });
        }
        let on_site = |c: f64| (-SITE_M..=SITE_M).contains(&c);
        for (i, &place) in cones.iter().enumerate() {
            if !on_site(place.x_m) || !on_site(place.z_m) {
                return Err(ZoneFault::OffSite { cone: i + 1, place });
            }
        }
        for (i, &one) in cones.iter().enumerate() {
            for (j, &other) in cones.iter().enumerate().skip(i + 1) {
                let apart_m = distance_m(one, other);
                if apart_m < CONES_APART_M {
                    return Err(ZoneFault::TooNear {
                        cones: [i + 1, j + 1],
                        apart_m,
                    });
                }
            }
        }
        for (i, one) in edges(cones).enumerate() {
            for (j, other) in edges(cones).enumerate().skip(i + 1) {
                let apart_m = if j == i + 1 {
                    hinged_apart_m(one.from, one.to, other.to)
                } else if (j + 1) % count == i {
                    hinged_apart_m(other.from, one.from, one.to)
                } else {
                    one.apart_m(other)
                };
                if apart_m <= TOUCH_M {
                    let named = |k: usize| [k + 1, (k + 1) % count + 1];
                    return Err(ZoneFault::Crosses {
                        edges: [named(i), named(j)],
                    });
                }
            }
        }
        let zone = Self {
            cones: cones.to_vec(),
        };
        let area_m2 = zone.area_m2();
        if area_m2 < AREA_MIN_M2 {
            return Err(ZoneFault::TooSmall { area_m2 });
        }
        Ok(zone)
    }

    /// The cones in the order in which they were set.
    pub fn cones(&self) -> &[Place] {
        &self.cones
    }

    /// Whether somebody there is inside; on the edge counts as inside.
    pub fn contains(&self, place: Place) -> bool {
        contains(&self.cones, place)
    }

    /// Distance from the edge, m: positive inside, negative outside.
    pub fn edge_distance_m(&self, place: Place) -> f64 {
        edge_distance_m(&self.cones, place)
    }

    /// Area, m².
    pub fn area_m2(&self) -> f64 {
        let twice: f64 = edges(&self.cones)
            .map(|edge| cross(vector(edge.from), vector(edge.to)))
            .sum();
        twice.abs() / 2.0
    }

    /// The widest gap between neighbouring cones.
    pub fn widest_gap(&self) -> Gap {
        let count = self.cones.len();
        edges(&self.cones).enumerate().fold(
            Gap {
                cones: [1, 2],
                width_m: 0.0,
            },
            |widest, (i, edge)| {
                let width_m = distance_m(edge.from, edge.to);
                if width_m > widest.width_m {
                    Gap {
                        cones: [i + 1, (i + 1) % count + 1],
                        width_m,
                    }
                } else {
                    widest
                }
            },
        )
    }

    /// Whether all of a simple polygon, given by its corners in order, is inside.
    pub fn covers(&self, polygon: &[Place]) -> bool {
        self.uncovered(polygon).is_none()
    }

    /// What of a simple polygon lies outside; None where the zone covers it.
    pub fn uncovered(&self, polygon: &[Place]) -> Option<Uncovered> {
        let mut out = Uncovered {
            by_m: 0.0,
            at: Place::default(),
            places: Vec::new(),
        };
        // A zone has no holes: it covers a polygon if it covers its edges.
        for edge in edges(polygon) {
            let mut cuts: Vec<f64> = edges(&self.cones)
                .filter_map(|other| edge.cut_by(other))
                .collect();
            cuts.extend([0.0, 1.0]);
            cuts.sort_by(f64::total_cmp);
            for piece in cuts.windows(2) {
                let (from, to) = (edge.at(piece[0]), edge.at(piece[1]));
                let middle = edge.at((piece[0] + piece[1]) / 2.0);
                if !self.contains(middle) {
                    for place in [from, middle, to] {
                        out.add(place, (-self.edge_distance_m(place)).max(0.0));
                    }
                }
            }
        }
        if out.places.is_empty() {
            return None;
        }
        for &cone in &self.cones {
            let depth_m = edge_distance_m(polygon, cone);
            if depth_m > ON_EDGE_M {
                out.add(cone, depth_m);
            }
        }
        Some(out)
    }
}

impl Uncovered {
    fn add(&mut self, place: Place, off_m: f64) {
        if self.places.is_empty() || off_m > self.by_m {
            (self.by_m, self.at) = (off_m, place);
        }
        if !self.places.contains(&place) {
            self.places.push(place);
        }
    }
}

/// Whether a place is inside a simple polygon, its edge included.
pub(super) fn contains(polygon: &[Place], place: Place) -> bool {
    edge_distance_m(polygon, place) >= -ON_EDGE_M
}

/// Distance of a place from the edge of a simple polygon, m: positive inside, where a ray from it
/// crosses an odd number of edges, negative outside.
pub(super) fn edge_distance_m(polygon: &[Place], place: Place) -> f64 {
    let mut inside = false;
    let mut least_m = f64::INFINITY;
    for edge in edges(polygon) {
        least_m = least_m.min(edge.distance_m(place));
        let (a, b) = (edge.from, edge.to);
        if (a.z_m > place.z_m) != (b.z_m > place.z_m) {
            let part = (place.z_m - a.z_m) / (b.z_m - a.z_m);
            inside ^= place.x_m < a.x_m + part * (b.x_m - a.x_m);
        }
    }
    if inside { least_m } else { -least_m }
}

/// The convex hull of places, counter-clockwise seen with x to the right and z up (Andrew's
/// monotone chain).
pub(super) fn hull(mut places: Vec<Place>) -> Vec<Place> {
    places.sort_by(|a, b| a.x_m.total_cmp(&b.x_m).then(a.z_m.total_cmp(&b.z_m)));
    let mut hull: Vec<Place> = Vec::new();
    for half in 0..2 {
        let begin = hull.len();
        for &place in &places {
            while let [.., a, b] = hull[begin..]
                && cross(between(a, b), between(b, place)) <= 0.0
            {
                hull.pop();
            }
            hull.push(place);
        }
        // The last of one half is the first of the other.
        hull.pop();
        if half == 0 {
            places.reverse();
        }
    }
    hull
}

/// One edge of a polygon.
#[derive(Clone, Copy)]
struct Edge {
    from: Place,
    to: Place,
}

fn edges(polygon: &[Place]) -> impl Iterator<Item = Edge> + '_ {
    let next = polygon.iter().cycle().skip(1);
    polygon
        .iter()
        .zip(next)
        .map(|(&from, &to)| Edge { from, to })
}

impl Edge {
    /// The place that part of the way along it.
    fn at(self, part: f64) -> Place {
        let (dx, dz) = between(self.from, self.to);
        Place {
            x_m: self.from.x_m + part * dx,
            z_m: self.from.z_m + part * dz,
        }
    }

    fn distance_m(self, place: Place) -> f64 {
        let along = between(self.from, self.to);
        let length2 = dot(along, along);
        let part = if length2 > 0.0 {
            (dot(between(self.from, place), along) / length2).clamp(0.0, 1.0)
        } else {
            0.0
        };
        distance_m(self.at(part), place)
    }

    /// How far along it another edge crosses it, 0 to 1. None where they do not meet or run
    /// parallel.
    fn cut_by(self, other: Self) -> Option<f64> {
        let (a, b) = (between(self.from, self.to), between(other.from, other.to));
        let turn = cross(a, b);
        if turn.abs() <= PARALLEL * sqrt(dot(a, a) * dot(b, b)) {
            return None;
        }
        let apart = between(self.from, other.from);
        let parts = [cross(apart, b) / turn, cross(apart, a) / turn];
        // A cut at an end may come out a rounding error beside it.
        let met = parts.iter().all(|part| (-1e-9..=1.0 + 1e-9).contains(part));
        met.then(|| parts[0].clamp(0.0, 1.0))
    }

    fn apart_m(self, other: Self) -> f64 {
        if self.cut_by(other).is_some() {
            return 0.0;
        }
        let ends = [
            self.distance_m(other.from),
            self.distance_m(other.to),
            other.distance_m(self.from),
            other.distance_m(self.to),
        ];
        ends.into_iter().fold(f64::INFINITY, f64::min)
    }
}

/// How far two edges that share a corner keep apart beyond it, m: 0 where one folds back on to the
/// other.
fn hinged_apart_m(from: Place, corner: Place, to: Place) -> f64 {
    let (one, other) = (Edge { from, to: corner }, Edge { from: corner, to });
    one.distance_m(to).min(other.distance_m(from))
}

fn vector(place: Place) -> (f64, f64) {
    (place.x_m, place.z_m)
}

fn between(from: Place, to: Place) -> (f64, f64) {
    (to.x_m - from.x_m, to.z_m - from.z_m)
}

fn distance_m(one: Place, other: Place) -> f64 {
    let way = between(one, other);
    sqrt(dot(way, way))
}

fn dot(a: (f64, f64), b: (f64, f64)) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

fn cross(a: (f64, f64), b: (f64, f64)) -> f64 {
    a.0 * b.1 - a.1 * b.0
}
