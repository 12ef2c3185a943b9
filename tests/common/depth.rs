//! How deep sticks are in each other, by means that have nothing in common with the contacts of the
//! core: two convex bodies overlap by the least of their overlaps along any direction, and that is
//! looked for from a few likely directions.
#![allow(dead_code)]

use chockline::sim::glam::{DQuat, DVec3};
use chockline::sim::world::{StickId, World};

/// A stick somewhere, as an oval cylinder along its own z.
#[derive(Clone, Copy, Debug)]
pub struct Body {
    /// Half axes and half length, m.
    half_m: DVec3,
    middle: DVec3,
    turn: DQuat,
}

impl Body {
    pub fn stick(world: &World, stick: StickId) -> Self {
        let (pipe, pose) = (world.pipe(stick), world.stick(stick).pose);
        let oval = pipe.oval();
        Self {
            half_m: DVec3::new(oval.long_m, oval.short_m, pipe.length_m / 2.0),
            middle: pose.translation.as_dvec3(),
            turn: pose.rotation.as_dquat(),
        }
    }

    /// How far it reaches from its middle in a direction, m.
    fn reach_m(&self, direction: DVec3) -> f64 {
        let local = self.turn.conjugate() * direction;
        let half = self.half_m;
        (half.x * local.x).hypot(half.y * local.y) + half.z * local.z.abs()
    }

    /// Nearest point of its own axis.
    fn nearest_on_line(&self, point: DVec3) -> DVec3 {
        let half_m = self.half_m.z;
        let along = self.turn * DVec3::Z;
        self.middle + along * (point - self.middle).dot(along).clamp(-half_m, half_m)
    }

    fn axes(&self) -> [DVec3; 3] {
        DVec3::AXES.map(|axis| self.turn * axis)
    }
}

/// Depth of two bodies in each other, m; None where it is less than `concern_m` or there is none.
pub fn depth_m(one: &Body, other: &Body, concern_m: f64) -> Option<f64> {
    let between = other.middle - one.middle;
    let overlap = |direction: DVec3| {
        one.reach_m(direction) + other.reach_m(-direction) - between.dot(direction)
    };
    let mut best = (f64::INFINITY, DVec3::Y);
    let mut try_one = |direction: DVec3| {
        if direction.length_squared() > 1.0e-9 {
            let direction = direction.normalize();
            let direction = direction * between.dot(direction).signum();
            let depth = overlap(direction);
            if depth < best.0 {
                best = (depth, direction);
            }
        }
        best.0 < concern_m
    };
    // Across from one line to the other.
    let mut near = one.nearest_on_line(other.middle);
    let mut far = other.nearest_on_line(near);
    for _ in 0..50 {
        near = one.nearest_on_line(far);
        far = other.nearest_on_line(near);
    }
    let (own, others) = (one.axes(), other.axes());
    let likely = [far - near, own[2], others[0], others[1], others[2]];
    if likely.into_iter().any(&mut try_one) {
        return None;
    }
    let crossed = others.map(|axis| own[2].cross(axis));
    if crossed.into_iter().any(&mut try_one) {
        return None;
    }
    // From the best of them downhill, round the long axis and along it: square to that axis is a
    // sharp valley.
    let mut steps = [0.3, 0.3];
    while steps[0] > 1.0e-5 {
        let round = own[2].cross(best.1).normalize_or(own[0]);
        let along = best.1.cross(round);
        for (step, way) in steps.iter_mut().zip([round, along]) {
            let tried = [*step, -*step].map(|by| (best.1 + way * by).normalize());
            let [one, other] = tried.map(|direction| (overlap(direction), direction));
            let least = if one.0 < other.0 { one } else { other };
            if least.0 < best.0 {
                best = least;
            } else {
                *step *= 0.5;
            }
        }
        if best.0 < concern_m {
            return None;
        }
    }
    Some(best.0)
}
