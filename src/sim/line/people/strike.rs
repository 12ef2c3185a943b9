//! What hits whom: the distance of a standing person from sticks and other moving things, followed
//! through the whole of a tick, so that nothing fast jumps over anybody.

use serde::{Deserialize, Serialize};

use crate::domain::spec::Place;
use crate::sim::world::{StickId, StickState, World};
use crate::sim::{Pose, Vector};

use super::PersonId;

/// A standing person is an upright capsule of this radius and height, m (our own figures).
pub const PERSON_RADIUS_M: f32 = 0.25;
pub const PERSON_HEIGHT_M: f32 = 1.75;
/// What comes slower than this touches and does not strike, m/s.
pub const STRIKING_M_PER_S: f32 = 0.05;

/// From here on the distance is measured in the plan, and never too large, m.
const FAR_M: f32 = 2.0;
/// Steps of the search for the nearest point of a person, each to two thirds of what was left.
const NARROWINGS: usize = 20;
/// The least that a sweep goes on by, m.
const CREEP_M: f32 = 5.0e-4;
/// A stick that is this much further within a tick was put there, m.
const PUT_M: f32 = 0.5;

/// What can strike somebody.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Striker {
    Stick(StickId),
    Loader,
    /// A powered part of the line.
    Machinery,
}

/// The form of a moving thing, in the world.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// A round bar with flat ends.
    Tube {
        from: Vector,
        to: Vector,
        radius_m: f32,
    },
    Block {
        half: Vector,
        pose: Pose,
    },
}

/// A moving thing other than a stick, as it is at the end of a tick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mover {
    pub what: Striker,
    pub shape: Shape,
    /// m/s.
    pub velocity: Vector,
    /// What is behind a blow, kg.
    pub mass_kg: f64,
}

/// Somebody was struck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strike {
    /// Tick at whose end it was seen.
    pub tick: u64,
    pub person: PersonId,
    pub by: Striker,
    /// Speed at which the two closed along the line between them, m/s.
    pub speed_m_per_s: f64,
    /// Kinetic energy of what struck, J.
    pub energy_j: f64,
    pub place: Place,
}

/// A thing on its way through one tick.
#[derive(Clone, Copy, Debug)]
pub struct Passing {
    pub what: Striker,
    shape: Shape,
    /// How far its two ends have come in this tick, m.
    come: [Vector; 2],
    pub energy_j: f64,
}

/// The ends of a stick's axis.
pub type Ends = [Vector; 2];

pub fn ends_of(world: &World, stick: StickId) -> Ends {
    let state = world.stick(stick);
    let half = state.axis() * (0.5 * world.pipe(stick).length_m as f32);
    [state.pose.translation + half, state.pose.translation - half]
}

impl Passing {
    /// A stick; `before` is where its ends were a tick ago.
    pub fn stick(world: &World, stick: StickId, before: Option<Ends>) -> Self {
        let now = ends_of(world, stick);
        let before = before.unwrap_or(now);
        let mut come = [now[0] - before[0], now[1] - before[1]];
        if come.iter().any(|way| way.length() > PUT_M) {
            come = [Vector::ZERO; 2];
        }
        Self {
            what: Striker::Stick(stick),
            shape: Shape::Tube {
                from: now[0],
                to: now[1],
                radius_m: world.pipe(stick).radius_m() as f32,
            },
            come,
            energy_j: kinetic_energy_j(world, stick),
        }
    }

    pub fn mover(mover: &Mover, dt_s: f32) -> Self {
        let speed = f64::from(mover.velocity.length());
        Self {
            what: mover.what,
            shape: mover.shape,
            come: [mover.velocity * dt_s; 2],
            energy_j: 0.5 * mover.mass_kg * speed * speed,
        }
    }

    /// How far its fastest end has come in this tick, m.
    pub fn come_m(&self) -> f32 {
        self.come[0].length().max(self.come[1].length())
    }

    /// As it was at a fraction of the tick.
    fn at(&self, fraction: f32) -> Shape {
        let left = fraction - 1.0;
        match self.shape {
            Shape::Tube { from, to, radius_m } => Shape::Tube {
                from: from + self.come[0] * left,
                to: to + self.come[1] * left,
                radius_m,
            },
            Shape::Block { half, pose } => Shape::Block {
                half,
                pose: Pose::from_parts(pose.translation + self.come[0] * left, pose.rotation),
            },
        }
    }

    /// How far the material at a point of it comes in the tick, its turning about its own axis left
    /// out, m.
    fn come_at(&self, point: Vector) -> Vector {
        match self.shape {
            Shape::Tube { from, to, .. } => {
                let axis = to - from;
                let along = ((point - from).dot(axis) / axis.length_squared()).clamp(0.0, 1.0);
                self.come[0] * (1.0 - along) + self.come[1] * along
            }
            Shape::Block { .. } => self.come[0],
        }
    }
}

/// What a tick brought between a person and a thing.
#[derive(Clone, Copy, Debug)]
pub struct Meeting {
    /// Distance of the two surfaces at the end of the tick, m; below 0 they overlap.
    pub gap_m: f32,
    /// Speed at which the thing struck, m/s.
    pub struck_m_per_s: Option<f32>,
}

/// Follows a person, who goes from `before` to `now` on their feet, and a thing through a tick.
pub fn meeting(before: Vector, now: Vector, thing: &Passing, dt_s: f32) -> Meeting {
    let walked = now - before;
    let closing_m = thing.come_m() + walked.length();
    let far_m = plan_gap(&thing.shape, now);
    if far_m - closing_m > FAR_M {
        return Meeting {
            gap_m: far_m,
            struck_m_per_s: None,
        };
    }
    let end = gap(&thing.shape, now);
    let mut struck = None;
    let mut fraction = 0.0;
    // No gap closes faster than both ways together: it may be skipped. Every step is at least a creep.
    while thing.come_m() > 0.0 && fraction <= 1.0 {
        let near = gap(&thing.at(fraction), before + walked * fraction);
        if near.gap_m < 0.0 {
            let come = thing.come_at(near.on_thing);
            // Somebody whose middle is inside is struck the way the thing goes.
            let line = near.towards.unwrap_or(come.normalize_or_zero());
            let (towards, away) = (come.dot(line) / dt_s, walked.dot(line) / dt_s);
            if towards > STRIKING_M_PER_S && towards - away > STRIKING_M_PER_S {
                struck = Some(towards - away);
            }
            break;
        }
        if fraction == 1.0 {
            break;
        }
        fraction = (fraction + near.gap_m.max(CREEP_M) / closing_m).min(1.0);
    }
    Meeting {
        gap_m: end.gap_m,
        struck_m_per_s: struck,
    }
}

/// Distance of a person on their feet from a stick as it is now, m.
pub fn gap_to_stick_m(world: &World, stick: StickId, foot: Vector) -> f32 {
    let thing = Passing::stick(world, stick, None);
    let far_m = plan_gap(&thing.shape, foot);
    if far_m > FAR_M {
        far_m
    } else {
        gap(&thing.shape, foot).gap_m
    }
}

/// Whether a stick is over a person's head: the two overlap in the plan.
pub fn is_under(world: &World, stick: StickId, foot: Vector) -> bool {
    let [from, to] = ends_of(world, stick);
    let radius_m = world.pipe(stick).radius_m() as f32;
    plan_distance(from, to, foot) < radius_m + PERSON_RADIUS_M
}

/// Height of a stick's underside over a person's feet, where it is nearest to them in the plan, m.
pub fn underside_m(world: &World, stick: StickId, foot: Vector) -> f32 {
    let [from, to] = ends_of(world, stick);
    let along = plan_along(from, to, foot);
    (from + (to - from) * along).y - world.pipe(stick).radius_m() as f32 - foot.y
}

fn kinetic_energy_j(world: &World, stick: StickId) -> f64 {
    let pipe = world.pipe(stick);
    let state: StickState = world.stick(stick);
    let inertia = pipe.principal_inertia();
    let spin = state.pose.rotation.inverse() * state.spin;
    let square = |v: f32| f64::from(v) * f64::from(v);
    0.5 * (pipe.mass_kg() * f64::from(state.velocity.length_squared())
        + inertia.long_axis_kg_m2 * square(spin.x)
        + inertia.short_axis_kg_m2 * square(spin.y)
        + inertia.tube_axis_kg_m2 * square(spin.z))
}

/// Between a person's and a thing's surface.
struct Gap {
    gap_m: f32,
    /// The thing's nearest point.
    on_thing: Vector,
    /// Unit vector from there to the person; None where the person's middle is inside.
    towards: Option<Vector>,
}

fn gap(shape: &Shape, foot: Vector) -> Gap {
    let at = |height_m: f32| foot + Vector::Y * height_m;
    let distance = |height_m: f32| (at(height_m) - nearest(shape, at(height_m))).length();
    // The distance from a convex body along a line has one low point.
    let (mut low, mut high) = (PERSON_RADIUS_M, PERSON_HEIGHT_M - PERSON_RADIUS_M);
    for _ in 0..NARROWINGS {
        let third = (high - low) / 3.0;
        if distance(low + third) <= distance(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    let on_axis = at(0.5 * (low + high));
    let on_thing = nearest(shape, on_axis);
    let away = on_axis - on_thing;
    Gap {
        gap_m: away.length() - PERSON_RADIUS_M,
        on_thing,
        towards: away.try_normalize(),
    }
}

/// The point of a body that is nearest to a point; inside it, the point itself.
fn nearest(shape: &Shape, point: Vector) -> Vector {
    match *shape {
        Shape::Tube { from, to, radius_m } => {
            let axis = to - from;
            let along = (point - from).dot(axis) / axis.length_squared();
            let beside = point - from - axis * along;
            let share = (radius_m / beside.length().max(radius_m)).min(1.0);
            from + axis * along.clamp(0.0, 1.0) + beside * share
        }
        Shape::Block { half, pose } => {
            let local = pose.rotation.inverse() * (point - pose.translation);
            pose.translation + pose.rotation * local.clamp(-half, half)
        }
    }
}

/// A distance in the plan that the true one is never below, m.
fn plan_gap(shape: &Shape, foot: Vector) -> f32 {
    match *shape {
        Shape::Tube { from, to, radius_m } => {
            plan_distance(from, to, foot) - radius_m - PERSON_RADIUS_M
        }
        Shape::Block { half, pose } => {
            plan_distance(pose.translation, pose.translation, foot)
                - half.length()
                - PERSON_RADIUS_M
        }
    }
}

/// Distance in the plan of a point from a line from one point to another, m.
pub fn plan_distance(from: Vector, to: Vector, point: Vector) -> f32 {
    let away = point - (from + (to - from) * plan_along(from, to, point));
    Vector::new(away.x, 0.0, away.z).length()
}

/// How far along a line its point nearest in the plan is, 0 to 1.
fn plan_along(from: Vector, to: Vector, point: Vector) -> f32 {
    let flat = |v: Vector| Vector::new(v.x, 0.0, v.z);
    let line = flat(to - from);
    if line == Vector::ZERO {
        return 0.0;
    }
    (flat(point - from).dot(line) / line.length_squared()).clamp(0.0, 1.0)
}
