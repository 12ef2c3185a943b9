//! How deep sticks are in each other, in parts and in the ground, by means that have nothing in common
//! with the contacts of the core: two convex bodies overlap by the least of their overlaps along any
//! direction, and that is looked for from a few likely directions.
#![allow(dead_code)]

use chockline::sim::glam::{DQuat, DVec3};
use chockline::sim::line::Line;
use chockline::sim::world::{PartId, StickId, World};

#[derive(Clone, Copy, Debug)]
enum Form {
    /// An oval cylinder along its own z: half axes and half length.
    Tube(DVec3),
    Box(DVec3),
}

/// A convex body somewhere.
#[derive(Clone, Copy, Debug)]
pub struct Body {
    form: Form,
    middle: DVec3,
    turn: DQuat,
}

impl Body {
    pub fn stick(world: &World, stick: StickId) -> Self {
        let (pipe, pose) = (world.pipe(stick), world.stick(stick).pose);
        let oval = pipe.oval();
        Self {
            form: Form::Tube(DVec3::new(oval.long_m, oval.short_m, pipe.length_m / 2.0)),
            middle: pose.translation.as_dvec3(),
            turn: pose.rotation.as_dquat(),
        }
    }

    /// A box or a round part; None for the ground.
    pub fn part(world: &World, part: PartId) -> Option<Self> {
        let form = match (world.box_half_extents(part), world.roller_size(part)) {
            (Some(half), _) => Form::Box(half.as_dvec3()),
            (None, Some((radius_m, half_m))) => {
                let radius_m = f64::from(radius_m);
                Form::Tube(DVec3::new(radius_m, radius_m, f64::from(half_m)))
            }
            (None, None) => return None,
        };
        let pose = world.part_pose(part);
        Some(Self {
            form,
            middle: pose.translation.as_dvec3(),
            turn: pose.rotation.as_dquat(),
        })
    }

    /// How far it reaches from its middle in a direction, m.
    fn reach_m(&self, direction: DVec3) -> f64 {
        let local = self.turn.conjugate() * direction;
        match self.form {
            Form::Tube(half) => (half.x * local.x).hypot(half.y * local.y) + half.z * local.z.abs(),
            Form::Box(half) => half.dot(local.abs()),
        }
    }

    /// Nearest point of its own long line (of a tube its axis, of a box its middle line along z).
    fn nearest_on_line(&self, point: DVec3) -> DVec3 {
        let half_m = match self.form {
            Form::Tube(half) | Form::Box(half) => half.z,
        };
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

/// How deep a stick is in the ground, m.
pub fn depth_in_ground_m(line: &Line, stick: StickId) -> f64 {
    let ground = &line.rig().spec().ground;
    let up = DVec3::new(
        line.rig().mirror() * ground.cross_fall_rad.tan(),
        1.0,
        ground.along_fall_rad.tan(),
    )
    .normalize();
    let body = Body::stick(line.world(), stick);
    body.reach_m(-up) - body.middle.dot(up)
}
