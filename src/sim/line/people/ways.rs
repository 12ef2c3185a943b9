//! Ways in the plan of a right-handed line: round the line from one place to another, and out of it.
//!
//! Whoever works at the line walks round it outside and goes in along the sticks, never across them.
//! Steel is not in anybody's way but the fusion machine's end, where nobody passes between it and the
//! sticks.

use crate::domain::crew::sticks_reach_m;
use crate::domain::math::sqrt;
use crate::domain::plan::high_end_x_m;
use crate::domain::rig::Rig;
use crate::domain::spec::Place;
use crate::domain::zone::Zone;

/// How far outside the sticks' ends people walk, m (our own figure, like those below).
const BESIDE_ENDS_M: f64 = 0.8;
/// How far beyond the rack's high end.
const BEYOND_RACK_M: f64 = 1.0;
/// How far from the line's centre on the side away from the rack.
const OUTER_SIDE_M: f64 = 2.5;
/// Half the width of the fusion machine.
pub const MACHINE_HALF_WIDTH_M: f64 = 1.0;
/// How far beyond its edge somebody goes who leaves a place.
const OUT_M: f64 = 0.5;

pub fn distance_m(one: Place, other: Place) -> f64 {
    let (dx, dz) = (one.x_m - other.x_m, one.z_m - other.z_m);
    sqrt(dx * dx + dz * dz)
}

/// A place between two, at a share of the way from the first.
pub fn between(from: Place, to: Place, share: f64) -> Place {
    Place {
        x_m: from.x_m + (to.x_m - from.x_m) * share,
        z_m: from.z_m + (to.z_m - from.z_m) * share,
    }
}

/// The ground that the line takes up, with the way round it.
#[derive(Clone, Copy, Debug)]
pub struct Ways {
    /// Beyond the rack's high end, and on the outer side.
    high_x_m: f64,
    outer_x_m: f64,
    /// Beside the sticks' ends, on both sides.
    side_z_m: f64,
}

impl Ways {
    pub fn new(rig: &Rig) -> Self {
        let ends_m = sticks_reach_m(rig).max(rig.spec().rack.rail_spacing_m / 2.0);
        Self {
            high_x_m: high_end_x_m(rig) - BEYOND_RACK_M,
            outer_x_m: OUTER_SIDE_M,
            side_z_m: ends_m + BESIDE_ENDS_M,
        }
    }

    /// Whether a place is in the line.
    pub fn is_in_line(&self, place: Place) -> bool {
        place.x_m > self.high_x_m && place.x_m < self.outer_x_m && place.z_m.abs() < self.side_z_m
    }

    /// The way round: from the outer side at the machine by the far end and the rack's high end to
    /// the machine's other side.
    fn round(&self) -> [Place; 5] {
        let at = |x_m, z_m| Place { x_m, z_m };
        [
            at(self.outer_x_m, self.side_z_m),
            at(self.outer_x_m, -self.side_z_m),
            at(self.high_x_m, -self.side_z_m),
            at(self.high_x_m, self.side_z_m),
            at(-MACHINE_HALF_WIDTH_M, self.side_z_m),
        ]
    }

    /// The place on the way round from which somebody gets to a place, and on which leg of it.
    fn entry(&self, place: Place) -> (usize, Place) {
        let round = self.round();
        let legs = round.windows(2).enumerate().filter_map(|(leg, ends)| {
            let &[a, b] = ends else { return None };
            // Into the line only along the sticks.
            let along_z = a.z_m == b.z_m;
            let within = place.x_m >= a.x_m.min(b.x_m) && place.x_m <= a.x_m.max(b.x_m);
            if self.is_in_line(place) && !(along_z && within) {
                return None;
            }
            let length_m = distance_m(a, b);
            let along =
                (place.x_m - a.x_m) * (b.x_m - a.x_m) + (place.z_m - a.z_m) * (b.z_m - a.z_m);
            let share = (along / (length_m * length_m)).clamp(0.0, 1.0);
            Some((leg, between(a, b, share)))
        });
        let nearest = legs.min_by(|(_, one), (_, other)| {
            distance_m(*one, place).total_cmp(&distance_m(*other, place))
        });
        nearest.unwrap_or((0, round[0]))
    }

    /// The places to walk to in turn from one place to another, the last included.
    pub fn way(&self, from: Place, to: Place) -> Vec<Place> {
        if !self.crosses(from, to) {
            return vec![to];
        }
        let round = self.round();
        let ((first, start), (last, end)) = (self.entry(from), self.entry(to));
        let mut way = vec![start];
        if first < last {
            way.extend(&round[first + 1..=last]);
        } else {
            way.extend(round[last + 1..=first].iter().rev());
        }
        way.extend([end, to]);
        way
    }

    /// Whether the straight way from one place to another leads through the line, or past the
    /// machine's end.
    fn crosses(&self, from: Place, to: Place) -> bool {
        let steps = 1.0 + (distance_m(from, to) / 0.1).floor();
        let mut share = 0.0;
        while share <= 1.0 {
            let at = between(from, to, share);
            let machine = at.x_m.abs() < MACHINE_HALF_WIDTH_M && at.z_m > 0.0;
            if self.is_in_line(at) || machine {
                return true;
            }
            share += 1.0 / steps;
        }
        false
    }

    /// Where somebody goes who is called out of the line and its zone, straight to the nearest safe
    /// place: sideways past the ends of the sticks, or past the cones on the side where sticks run
    /// out. `open` says whether a straight way is free. None for somebody who is outside.
    pub fn out(
        &self,
        zone: Option<&Zone>,
        from: Place,
        open: impl Fn(Place) -> bool,
    ) -> Option<Place> {
        if !self.is_in_line(from) && !zone.is_some_and(|zone| zone.contains(from)) {
            return None;
        }
        let cones = zone.map_or(&[][..], Zone::cones);
        let edge = |start: f64, of: fn(&Place) -> f64, better: fn(f64, f64) -> f64| {
            cones.iter().map(of).fold(start, better)
        };
        let near_z_m = edge(self.side_z_m, |cone| cone.z_m, f64::max) + OUT_M;
        let far_z_m = edge(-self.side_z_m, |cone| cone.z_m, f64::min) - OUT_M;
        let outer_x_m = edge(self.outer_x_m, |cone| cone.x_m, f64::max) + OUT_M;
        let at = |x_m, z_m| Place { x_m, z_m };
        let far = at(from.x_m, far_z_m);
        let near = (from.x_m.abs() > MACHINE_HALF_WIDTH_M).then_some(at(from.x_m, near_z_m));
        let outer = zone.is_some().then_some(at(outer_x_m, from.z_m));
        let ways = [Some(far), near, outer].into_iter().flatten();
        let nearest = ways
            .filter(|&to| open(to))
            .min_by(|one, other| distance_m(*one, from).total_cmp(&distance_m(*other, from)));
        Some(nearest.unwrap_or(far))
    }
}
