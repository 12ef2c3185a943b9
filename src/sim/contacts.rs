//! Contacts of an oval tube with boxes, half-spaces and other tubes.
//!
//! The stock method keeps a contact manifold until a body has turned by a degree, which on a rolling
//! pipe leaves the contact point behind the centre and drives the pipe on. Here every manifold is
//! computed afresh, from exact section geometry:
//!
//! * **Side** contacts (nearly all there are): a point on a tube's side has its normal square to the
//!   tube's axis, so the question is a plane one. The tube is cut where the other body ends along
//!   its axis and the nearest points are found in each of these two sections.
//! * **Crossing** tubes touch at one point, along the common normal of their axes.
//! * **End** contacts (a cap or its rim against something) take the least-overlap direction from the
//!   general convex method and place the points on the tube's rim.
//!
//! The engine wants exactly one manifold per pair of simple shapes; both points go into one.
//!
//! The engine also keeps a contact's normal for the whole step. About a corner or another tube the
//! normal turns as the stick moves on, so [`StepHooks`] gives it the direction it will have in
//! the middle of the step; otherwise a stick that climbs a pin loses energy in proportion to the step.

use parry::query::details::{NormalConstraints, contact_support_map_support_map};
use parry::query::{
    ClosestPoints, Contact, ContactManifold, ContactManifoldsWorkspace, NonlinearRigidMotion,
    PersistentQueryDispatcher, QueryDispatcher, ShapeCastHit, ShapeCastOptions, TrackedContact,
    Unsupported,
};
use parry::shape::{Cuboid, HalfSpace, PackedFeatureId, Shape, SupportMap};
use rapier::dynamics::RigidBodyHandle;
use rapier::geometry::{ContactData, ContactManifoldData};
use rapier::pipeline::{ContactModificationContext, PhysicsHooks};

use super::glam::Vec2;
use super::section::{Ellipse, ellipse_ellipse, ellipse_quad};
use super::tube::Tube;
use super::{Pose, Vector, parry, rapier};

type Manifold = ContactManifold<ContactManifoldData, ContactData>;

/// Axes closer than this (cosine of 18°) are treated by sections.
const ALIGNED_COS: f32 = 0.95;

/// A side overlap deeper than this is doubted: it may be an end pushed into something, m.
const DOUBTFUL_DEPTH: f32 = 0.005;

/// Touches are reported this far ahead of the engine's own prediction, m. The engine keeps those
/// that close within the step, so that a fast stick meets a corner at its surface and not inside it.
const LOOK_AHEAD_M: f32 = 0.03;

/// A touch this far beyond the tube's end is still one of its side, m.
const BESIDE_END_M: f32 = 0.001;

/// A box narrower along the tube than this part of its length touches it in one point: two so close
/// together only hinder the solver.
const NARROW: f32 = 0.05;

/// How much deeper the one end of a narrow box must be to have the touch to itself, m.
const MERGE_SOFTNESS_M: f32 = 0.0005;

/// How much less deep a touch may be and still have a share in the normal of its manifold, m.
const SHARED_NORMAL_M: f32 = 0.002;

/// The dispatcher to chain before the default one.
#[derive(Clone, Copy, Debug, Default)]
pub struct TubeContacts;

/// One contact in the tube's frame: point on the tube, point on the other body, normal from the
/// tube towards the other, and an id that survives from tick to tick.
#[derive(Clone, Copy, Debug)]
struct Touch {
    on_tube: Vector,
    on_other: Vector,
    normal: Vector,
    distance: f32,
    /// Distance of the tube's axis from the point about which its contact turns: a corner, or the
    /// axis of another tube. Infinite where the other side is flat, m.
    arm_m: f32,
    id: u32,
}

impl Touch {
    /// Two touches as one, the deeper weighing more.
    fn merged(&self, other: &Self) -> Self {
        let lead = (other.distance - self.distance) / (2.0 * MERGE_SOFTNESS_M);
        let mine = (0.5 + lead).clamp(0.0, 1.0);
        let mix = |p: Vector, q: Vector| p * mine + q * (1.0 - mine);
        Self {
            on_tube: mix(self.on_tube, other.on_tube),
            on_other: mix(self.on_other, other.on_other),
            normal: mix(self.normal, other.normal).normalize_or(self.normal),
            distance: self.distance * mine + other.distance * (1.0 - mine),
            arm_m: if mine >= 0.5 { self.arm_m } else { other.arm_m },
            id: self.id,
        }
    }
}

/// At most four touches, in a fixed array: this runs every tick for every pair.
#[derive(Debug)]
struct Touches {
    list: [Touch; 4],
    len: usize,
}

impl Touches {
    fn none() -> Self {
        let blank = Touch {
            on_tube: Vector::ZERO,
            on_other: Vector::ZERO,
            normal: Vector::Y,
            distance: 0.0,
            arm_m: f32::INFINITY,
            id: 0,
        };
        Self {
            list: [blank; 4],
            len: 0,
        }
    }

    fn push(&mut self, touch: Touch, reach_m: f32) {
        if touch.distance <= reach_m && self.len < self.list.len() {
            self.list[self.len] = touch;
            self.len += 1;
        }
    }

    fn as_slice(&self) -> &[Touch] {
        &self.list[..self.len]
    }

    fn deepest(&self) -> Option<&Touch> {
        let touches = self.as_slice();
        touches
            .iter()
            .min_by(|p, q| p.distance.total_cmp(&q.distance))
    }

    /// The one normal of the manifold: the deepest one's. Others that are about as deep have their
    /// share, so that it does not jump; what only comes near has none: surfaces that roll on each
    /// other would seem to part or to close by the angle between the normals.
    fn normal(&self, deepest: &Touch) -> Vector {
        let touches = self.as_slice();
        let sum: Vector = touches
            .iter()
            .filter(|touch| touch.normal.dot(deepest.normal) > 0.98)
            .map(|touch| {
                let behind = (touch.distance - deepest.distance) / SHARED_NORMAL_M;
                touch.normal * (1.0 - behind).max(0.0)
            })
            .sum();
        sum.normalize_or(deepest.normal)
    }
}

/// What a manifold carries from tick to tick in its one word: how much its normal turns, and which
/// directions of its friction are free.
#[derive(Clone, Copy, Debug)]
struct Carried {
    /// 1 over the distance about which the normal turns, 1/m; 0 where it does not.
    per_arm: f32,
    free: FreeDirections,
}

/// Directions in which a surface's rollers run free: along the world's z, or square to it. Friction
/// there starts every step from nothing: left-overs of several surfaces would work against each
/// other.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FreeDirections {
    pub along: bool,
    pub across: bool,
}

impl FreeDirections {
    const BITS: u32 = 0b11;

    fn bits(self) -> u32 {
        u32::from(self.along) | u32::from(self.across) << 1
    }

    fn from_bits(bits: u32) -> Self {
        Self {
            along: bits & 1 != 0,
            across: bits & 2 != 0,
        }
    }

    /// The part of a vector in the free directions.
    pub fn part_of(self, v: Vector) -> Vector {
        let (along, across) = (f32::from(self.along), f32::from(self.across));
        Vector::new(v.x * across, v.y * across, v.z * along)
    }
}

impl Carried {
    /// The lowest bits of the number, which mean nothing to it, hold the directions.
    fn of(manifold: &Manifold) -> Self {
        let bits = manifold.data.user_data;
        Self {
            per_arm: f32::from_bits(bits & !FreeDirections::BITS),
            free: FreeDirections::from_bits(bits),
        }
    }

    fn bits(self) -> u32 {
        self.per_arm.to_bits() & !FreeDirections::BITS | self.free.bits()
    }
}

/// Whether a contact's normal turns as its bodies move on: at a corner or between tubes.
pub fn turns(manifold: &Manifold) -> bool {
    !manifold.points.is_empty() && Carried::of(manifold).per_arm > 0.0
}

/// What a contact carries in the engine's two feature ids, which mean nothing to it here: which of the
/// pair's touches it is, and the friction that the step began with, N·s.
#[derive(Clone, Copy, Debug)]
struct Begun {
    id: u32,
    friction: Vector,
}

impl Begun {
    const ID_BITS: u32 = 3;
    const EXPONENT_BITS: u32 = 8;
    /// Of each component, with its sign: whole parts of the greatest one's power of two.
    const PART_BITS: u32 = 17;
    const PARTS: f32 = 32_768.0;

    fn packed(self) -> [PackedFeatureId; 2] {
        let exponent = self.friction.abs().max_element().to_bits() >> 23;
        let unit = f32::from_bits(exponent << 23);
        let mut bits = u64::from(exponent);
        for component in self.friction.to_array() {
            let parts = (component / unit * Self::PARTS).clamp(-65_536.0, 65_535.0) as i32;
            bits = bits << Self::PART_BITS | u64::from(parts as u32 & mask(Self::PART_BITS));
        }
        let bits = bits << Self::ID_BITS | u64::from(self.id & mask(Self::ID_BITS));
        [
            PackedFeatureId((bits >> 32) as u32),
            PackedFeatureId(bits as u32),
        ]
    }

    fn unpacked([high, low]: [PackedFeatureId; 2]) -> Self {
        let bits = u64::from(high.0) << 32 | u64::from(low.0);
        let part = |place: u32| {
            let bits = (bits >> (Self::ID_BITS + place * Self::PART_BITS)) as u32;
            let unused = u32::BITS - Self::PART_BITS;
            ((bits << unused) as i32 >> unused) as f32 / Self::PARTS
        };
        let exponent = (bits >> (Self::ID_BITS + 3 * Self::PART_BITS)) as u32;
        let unit = f32::from_bits((exponent & mask(Self::EXPONENT_BITS)) << 23);
        Self {
            id: bits as u32 & mask(Self::ID_BITS),
            friction: Vector::new(part(2), part(1), part(0)) * unit,
        }
    }
}

fn mask(bits: u32) -> u32 {
    (1 << bits) - 1
}

/// The friction that a contact's step began with, N·s: the engine's figure for the step counts it
/// once more.
pub fn friction_begun_with(point: &TrackedContact<ContactData>) -> Vector {
    Begun::unpacked([point.fid1, point.fid2]).friction
}

/// What a part carries in its collider for the contacts: the lever arm of rolling resistance, m, and
/// the velocity of its surface in the world relative to its body, m/s.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SurfaceData {
    pub rolling_lever_arm_m: f32,
    pub velocity: Vector,
    pub free: FreeDirections,
}

impl SurfaceData {
    /// As the engine keeps it: the lever's lowest bits hold the directions.
    pub fn packed(self) -> u128 {
        let lever = self.rolling_lever_arm_m.to_bits() & !FreeDirections::BITS | self.free.bits();
        let [x, y, z] = self.velocity.to_array().map(f32::to_bits);
        [lever, x, y, z]
            .into_iter()
            .rev()
            .fold(0, |bits, word| bits << 32 | u128::from(word))
    }

    pub fn unpacked(bits: u128) -> Self {
        let [lever, x, y, z] = [0, 32, 64, 96].map(|at| (bits >> at) as u32);
        Self {
            rolling_lever_arm_m: f32::from_bits(lever & !FreeDirections::BITS),
            velocity: Vector::new(f32::from_bits(x), f32::from_bits(y), f32::from_bits(z)),
            free: FreeDirections::from_bits(lever),
        }
    }
}

/// The hook that turns normals on to the middle of the step, and lets surfaces run under a stick.
/// See the module's text.
#[derive(Clone, Copy, Debug)]
pub struct StepHooks {
    pub half_step_s: f32,
}

impl PhysicsHooks for StepHooks {
    fn modify_solver_contacts(&self, context: &mut ContactModificationContext) {
        let surface = |collider| {
            context
                .colliders
                .get(collider)
                .map_or(SurfaceData::default(), |c| {
                    SurfaceData::unpacked(c.user_data)
                })
        };
        let (first, second) = (surface(context.collider1), surface(context.collider2));
        let running = first.velocity - second.velocity;
        let per_arm = Carried::of(context.manifold).per_arm;
        let free = FreeDirections::from_bits(first.free.bits() | second.free.bits());
        *context.user_data = Carried { per_arm, free }.bits();
        if per_arm > 0.0 {
            self.turn_normal(context, per_arm);
        }
        if running != Vector::ZERO {
            // At a corner a surface does not run square to the normal; what it does along it would
            // push.
            let normal = *context.normal;
            let along_contact = running - normal * running.dot(normal);
            for contact in context.solver_contacts.iter_mut() {
                contact.tangent_velocity = along_contact;
            }
        }
    }
}

impl StepHooks {
    fn turn_normal(&self, context: &mut ContactModificationContext, per_arm: f32) {
        let velocity = |body: Option<RigidBodyHandle>| {
            body.and_then(|handle| context.bodies.get(handle))
                .map_or(Vector::ZERO, |body| body.linvel())
        };
        let moved = (velocity(context.rigid_body2) - velocity(context.rigid_body1))
            * (self.half_step_s * per_arm);
        let normal = *context.normal;
        let turned = normal + moved - normal * moved.dot(normal);
        *context.normal = turned.normalize_or(normal);
    }
}

impl QueryDispatcher for TubeContacts {
    fn intersection_test(
        &self,
        _: &Pose,
        _: &dyn Shape,
        _: &dyn Shape,
    ) -> Result<bool, Unsupported> {
        Err(Unsupported)
    }

    fn distance(&self, _: &Pose, _: &dyn Shape, _: &dyn Shape) -> Result<f32, Unsupported> {
        Err(Unsupported)
    }

    fn contact(
        &self,
        _: &Pose,
        _: &dyn Shape,
        _: &dyn Shape,
        _: f32,
    ) -> Result<Option<Contact>, Unsupported> {
        Err(Unsupported)
    }

    fn closest_points(
        &self,
        _: &Pose,
        _: &dyn Shape,
        _: &dyn Shape,
        _: f32,
    ) -> Result<ClosestPoints, Unsupported> {
        Err(Unsupported)
    }

    fn cast_shapes(
        &self,
        _: &Pose,
        _: Vector,
        _: &dyn Shape,
        _: &dyn Shape,
        _: ShapeCastOptions,
    ) -> Result<Option<ShapeCastHit>, Unsupported> {
        Err(Unsupported)
    }

    fn cast_shapes_nonlinear(
        &self,
        _: &NonlinearRigidMotion,
        _: &dyn Shape,
        _: &NonlinearRigidMotion,
        _: &dyn Shape,
        _: f32,
        _: f32,
        _: bool,
    ) -> Result<Option<ShapeCastHit>, Unsupported> {
        Err(Unsupported)
    }
}

impl PersistentQueryDispatcher<ContactManifoldData, ContactData> for TubeContacts {
    fn contact_manifolds(
        &self,
        pos12: &Pose,
        g1: &dyn Shape,
        g2: &dyn Shape,
        prediction: f32,
        manifolds: &mut Vec<Manifold>,
        _: &mut Option<ContactManifoldsWorkspace>,
    ) -> Result<(), Unsupported> {
        let reach_m = prediction + LOOK_AHEAD_M;
        let (touches, tube_is_second) = if let Some(tube) = g1.as_shape::<Tube>() {
            (touches_of(tube, pos12, g2, reach_m)?, false)
        } else if let Some(tube) = g2.as_shape::<Tube>() {
            (touches_of(tube, &pos12.inverse(), g1, reach_m)?, true)
        } else {
            return Err(Unsupported);
        };
        if manifolds.len() != 1 {
            manifolds.clear();
            manifolds.push(Manifold::with_data(0, 0, ContactManifoldData::default()));
        }
        write_manifold(
            &mut manifolds[0],
            &touches,
            pos12,
            tube_is_second,
            prediction,
        );
        Ok(())
    }

    fn contact_manifold_convex_convex(
        &self,
        _: &Pose,
        _: &dyn Shape,
        _: &dyn Shape,
        _: Option<&dyn NormalConstraints>,
        _: Option<&dyn NormalConstraints>,
        _: f32,
        _: &mut Manifold,
    ) -> Result<(), Unsupported> {
        Err(Unsupported)
    }
}

/// Writes touches into the pair's manifold, keeping last tick's impulses of touches that persist.
/// A touch further than `prediction` away starts without any: the engine may leave it out of the
/// step, and an old impulse would then be read as a force.
fn write_manifold(
    manifold: &mut Manifold,
    touches: &Touches,
    pos12: &Pose,
    tube_is_second: bool,
    prediction: f32,
) {
    let mut old = [(0, ContactData::default()); 4];
    let kept = manifold.points.len().min(4);
    for (slot, point) in old.iter_mut().zip(&manifold.points) {
        *slot = (Begun::unpacked([point.fid1, point.fid2]).id, point.data);
    }
    manifold.points.clear();
    let Some(deepest) = touches.deepest() else {
        return;
    };
    let normal = touches.normal(deepest);
    let free = Carried::of(manifold).free;
    let per_arm = 1.0 / deepest.arm_m;
    manifold.data.user_data = Carried { per_arm, free }.bits();
    // In the frame of shape 1 and pointing from shape 1 to shape 2, whichever of them the tube is.
    let to_first = |p: Vector| if tube_is_second { pos12 * p } else { p };
    let to_second = |p: Vector| {
        if tube_is_second {
            p
        } else {
            pos12.inverse_transform_point(p)
        }
    };
    let (n1, n2) = if tube_is_second {
        (pos12.rotation * -normal, normal)
    } else {
        (normal, pos12.rotation.inverse() * -normal)
    };
    manifold.local_n1 = n1;
    manifold.local_n2 = n2;
    for touch in touches.as_slice() {
        let (p1, p2) = if tube_is_second {
            (touch.on_other, touch.on_tube)
        } else {
            (touch.on_tube, touch.on_other)
        };
        let none = PackedFeatureId(0);
        let mut point =
            TrackedContact::new(to_first(p1), to_second(p2), none, none, touch.distance);
        let known = old[..kept].iter().find(|(id, _)| *id == touch.id);
        if let Some((_, data)) = known
            && touch.distance <= prediction
        {
            point.data = *data;
            // The engine's figure for the coming step will count this share twice; the field is
            // otherwise unused by its Coulomb friction.
            point.data.warmstart_twist_impulse = data.warmstart_impulse;
            let last = data.warmstart_tangent_world;
            point.data.warmstart_tangent_world = last - free.part_of(last);
        }
        let begun = Begun {
            id: touch.id,
            friction: point.data.warmstart_tangent_world,
        };
        [point.fid1, point.fid2] = begun.packed();
        manifold.points.push(point);
    }
}

/// Touches between a tube and another shape whose pose in the tube's frame is `pose`.
fn touches_of(
    tube: &Tube,
    pose: &Pose,
    other: &dyn Shape,
    reach_m: f32,
) -> Result<Touches, Unsupported> {
    if let Some(cuboid) = other.as_cuboid() {
        Ok(tube_box(tube, pose, cuboid, reach_m))
    } else if let Some(second) = other.as_shape::<Tube>() {
        Ok(tube_tube(tube, pose, second, reach_m))
    } else if let Some(half_space) = other.as_halfspace() {
        Ok(tube_half_space(tube, pose, half_space, reach_m))
    } else {
        Err(Unsupported)
    }
}

fn tube_half_space(tube: &Tube, pose: &Pose, plane: &HalfSpace, reach_m: f32) -> Touches {
    let up = pose.rotation * plane.normal;
    let mut touches = Touches::none();
    let mut touch = |on_tube: Vector, id: u32| {
        let distance = (on_tube - pose.translation).dot(up);
        let touch = Touch {
            on_tube,
            on_other: on_tube - up * distance,
            normal: -up,
            distance,
            arm_m: f32::INFINITY,
            id,
        };
        touches.push(touch, reach_m);
    };
    let across = Vec2::new(up.x, up.y);
    let (_, low) = match across.try_normalize() {
        Some(n) => tube.section().support(-n),
        None => (tube.a, Vec2::new(tube.a, 0.0)),
    };
    if up.z.abs() < 0.5 {
        // Lying: the lowest point of each end.
        touch(Vector::new(low.x, low.y, -tube.half_length), 0);
        touch(Vector::new(low.x, low.y, tube.half_length), 1);
    } else {
        // Standing on an end: four points of its rim, the lowest first.
        let z = -tube.half_length.copysign(up.z);
        let side = Vec2::new(-low.y * tube.a / tube.b, low.x * tube.b / tube.a);
        for (id, p) in [low, side, -low, -side].into_iter().enumerate() {
            touch(Vector::new(p.x, p.y, z), 4 + id as u32);
        }
    }
    touches
}

fn tube_box(tube: &Tube, pose: &Pose, cuboid: &Cuboid, reach_m: f32) -> Touches {
    let half = cuboid.half_extents;
    let axes = [
        pose.rotation * Vector::X * half.x,
        pose.rotation * Vector::Y * half.y,
        pose.rotation * Vector::Z * half.z,
    ];
    let directions = [axes[0].z / half.x, axes[1].z / half.y, axes[2].z / half.z];
    let k = (0..3)
        .max_by(|&i, &j| directions[i].abs().total_cmp(&directions[j].abs()))
        .unwrap_or(2);
    // How far the box reaches into the span between the tube's ends, along the tube.
    let reach = axes[0].z.abs() + axes[1].z.abs() + axes[2].z.abs();
    let end_overlap = tube.half_length + reach - pose.translation.z.abs();
    if end_overlap < -reach_m {
        return Touches::none();
    }
    if end_overlap <= 0.0 || directions[k].abs() < ALIGNED_COS {
        return general(tube, pose, cuboid, reach_m);
    }

    let long = if directions[k] > 0.0 {
        axes[k]
    } else {
        -axes[k]
    };
    let (u, v) = (axes[(k + 1) % 3], axes[(k + 2) % 3]);
    let corners = [-u - v, u - v, u + v, v - u];
    let section = tube.section();
    let ends = [-1.0_f32, 1.0].map(|end| {
        // The box's end face, moved along its edges to the tube's end where it lies beyond it.
        let at = corners.map(|corner| {
            let middle = pose.translation + corner;
            let z = (middle.z + end * long.z).clamp(-tube.half_length, tube.half_length);
            middle + long * ((z - middle.z) / long.z).clamp(-1.0, 1.0)
        });
        let quad = at.map(|p| Vec2::new(p.x, p.y));
        let (near, side, t) = ellipse_quad(&section, &quad);
        let z = at[side].z + (at[(side + 1) % 4].z - at[side].z) * t;
        let on_corner = t == 0.0 || t == 1.0;
        // A skewed box may pass beside the tube's end: there it meets no side.
        (z.abs() < tube.half_length + BESIDE_END_M).then(|| {
            let z = z.clamp(-tube.half_length, tube.half_length);
            Touch {
                on_tube: near.on_ellipse.extend(z),
                on_other: near.on_other.extend(z),
                normal: near.normal.extend(0.0),
                distance: near.distance,
                arm_m: if on_corner {
                    near.on_other.length()
                } else {
                    f32::INFINITY
                },
                id: u32::from(end > 0.0),
            }
        })
    });
    let mut touches = Touches::none();
    match ends {
        [None, None] => return general(tube, pose, cuboid, reach_m),
        [Some(first), Some(second)] if long.z < NARROW * tube.half_length => {
            touches.push(first.merged(&second), reach_m);
        }
        ends => ends
            .into_iter()
            .flatten()
            .for_each(|end| touches.push(end, reach_m)),
    }
    resolve_doubt(touches, end_overlap, || {
        general(tube, pose, cuboid, reach_m)
    })
}

fn tube_tube(tube: &Tube, pose: &Pose, second: &Tube, reach_m: f32) -> Touches {
    let axis = pose.rotation * Vector::Z;
    let centre = pose.translation;
    let cos = axis.z;
    let sin2 = 1.0 - cos * cos;
    let reach = second.half_length * cos.abs() + second.a.max(second.b) * sin2.max(0.0).sqrt();
    let end_overlap = tube.half_length + reach - centre.z.abs();
    if end_overlap < -reach_m {
        return Touches::none();
    }
    let mut touches = Touches::none();
    // Where the axes pass each other nearest, if that is between the ends of both.
    if sin2 > 1.0e-5 {
        let along = centre.dot(axis);
        let s1 = (centre.z - along * cos) / sin2;
        let s2 = (centre.z * cos - along) / sin2;
        if s1.abs() <= tube.half_length
            && s2.abs() <= second.half_length
            && let Some(touch) = crossing(tube, pose, second, axis, s1, s2)
        {
            touches.push(touch, reach_m);
            if cos.abs() < ALIGNED_COS {
                return touches;
            }
        }
    }
    let half_span = second.half_length * cos.abs();
    let low = (centre.z - half_span).max(-tube.half_length);
    let high = (centre.z + half_span).min(tube.half_length);
    if cos.abs() < ALIGNED_COS || low >= high {
        return general(tube, pose, second, reach_m);
    }
    let long_axis = pose.rotation * Vector::X;
    let flat = Vec2::new(long_axis.x, long_axis.y).normalize_or(Vec2::X);
    let (first_section, second_section) = (
        tube.section(),
        Ellipse::new(second.a, second.b, flat.x, flat.y),
    );
    for (id, z) in [low, high].into_iter().enumerate() {
        let p = centre + axis * ((z - centre.z) / cos);
        let near = ellipse_ellipse(&first_section, &second_section, Vec2::new(p.x, p.y));
        let touch = Touch {
            on_tube: near.on_ellipse.extend(z),
            on_other: near.on_other.extend(z),
            normal: near.normal.extend(0.0),
            distance: near.distance,
            arm_m: p.truncate().length(),
            id: id as u32,
        };
        touches.push(touch, reach_m);
    }
    resolve_doubt(touches, end_overlap, || {
        general(tube, pose, second, reach_m)
    })
}

/// The touch of two tubes whose axes pass within both lengths, at `s1` and `s2` along them: their
/// common normal is square to both axes. None where oval tubes would touch beyond an end.
fn crossing(
    tube: &Tube,
    pose: &Pose,
    second: &Tube,
    axis: Vector,
    s1: f32,
    s2: f32,
) -> Option<Touch> {
    let mut normal = Vector::Z.cross(axis).normalize_or(Vector::Y);
    if normal.dot(pose.translation) < 0.0 {
        normal = -normal;
    }
    let (h1, p1) = tube.section().support(Vec2::new(normal.x, normal.y));
    let local = pose.rotation.inverse() * -normal;
    let (h2, p2) = second.section().support(Vec2::new(local.x, local.y));
    let distance = pose.translation.dot(normal) - h1 - h2;
    // Both support lines run along their axes; slide the points until they face each other.
    let on_tube = p1.extend(s1);
    let on_other = pose.translation + axis * s2 + pose.rotation * p2.extend(0.0);
    let apart = on_other - on_tube;
    let apart = apart - normal * apart.dot(normal);
    let cos = axis.z;
    let sin2 = 1.0 - cos * cos;
    let (a1, a2) = (apart.z, apart.dot(axis));
    let slid = [(a1 - a2 * cos) / sin2, (a1 * cos - a2) / sin2];
    let within =
        (s1 + slid[0]).abs() <= tube.half_length && (s2 + slid[1]).abs() <= second.half_length;
    within.then(|| Touch {
        on_tube: on_tube + Vector::Z * slid[0],
        on_other: on_other + axis * slid[1],
        normal,
        distance,
        arm_m: f32::INFINITY,
        id: 2,
    })
}

/// A deep side overlap at a tube's end may really be the end pushed into something.
fn resolve_doubt(touches: Touches, end_overlap: f32, general: impl FnOnce() -> Touches) -> Touches {
    let deepest = touches
        .as_slice()
        .iter()
        .fold(f32::INFINITY, |d, t| d.min(t.distance));
    if deepest < -DOUBTFUL_DEPTH && -deepest > end_overlap {
        general()
    } else {
        touches
    }
}

/// The general convex method, for ends and for steep angles.
fn general<S: SupportMap + ConvexFace>(
    tube: &Tube,
    pose: &Pose,
    other: &S,
    reach_m: f32,
) -> Touches {
    let mut touches = Touches::none();
    let Some(contact) = contact_support_map_support_map(pose, tube, other, reach_m) else {
        return touches;
    };
    let normal = contact.normal1;
    if !normal.is_finite() || normal.length_squared() < 0.5 {
        return touches;
    }
    let on_other = pose * contact.point2;
    if normal.z.abs() > ALIGNED_COS {
        // A cap against a face: four points of the rim, as far as the face reaches.
        let z = tube.half_length.copysign(normal.z);
        let rim = [(tube.a, 0.0), (0.0, tube.b), (-tube.a, 0.0), (0.0, -tube.b)];
        for (id, (x, y)) in rim.into_iter().enumerate() {
            let on_tube = Vector::new(x, y, z);
            let distance = (on_other - on_tube).dot(normal);
            let opposite = on_tube + normal * distance;
            if other.has_on_face(pose.inverse_transform_point(opposite)) {
                touches.push(
                    Touch {
                        on_tube,
                        on_other: opposite,
                        normal,
                        distance,
                        arm_m: f32::INFINITY,
                        id: 4 + id as u32,
                    },
                    reach_m,
                );
            }
        }
        if touches.len > 1 {
            return touches;
        }
        touches.len = 0;
    }
    touches.push(
        Touch {
            on_tube: contact.point1,
            on_other,
            normal,
            distance: contact.dist,
            arm_m: f32::INFINITY,
            id: 3,
        },
        reach_m,
    );
    touches
}

/// Bodies that may have a flat face for a cap to lie against.
trait ConvexFace {
    /// Whether a point in the body's frame lies on its surface or within.
    fn has_on_face(&self, point: Vector) -> bool;
}

impl ConvexFace for Cuboid {
    fn has_on_face(&self, point: Vector) -> bool {
        point
            .abs()
            .cmple(self.half_extents + Vector::splat(1.0e-3))
            .all()
    }
}

impl ConvexFace for Tube {
    fn has_on_face(&self, point: Vector) -> bool {
        let (u, v) = (point.x / self.a, point.y / self.b);
        u * u + v * v <= 1.0 && point.z.abs() <= self.half_length + 1.0e-3
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_contact_carries_comes_back() {
        for friction in [
            Vector::ZERO,
            Vector::new(3.0e-7, -2.0e-9, 0.0),
            Vector::new(-316.717, 150.561, 248.035),
            Vector::new(65_535.9, -65_535.9, 1.0),
            Vector::new(0.0, 0.0, -1.0),
        ] {
            for id in 0..8 {
                let begun = Begun { id, friction };
                let back = Begun::unpacked(begun.packed());
                let off = (back.friction - friction).abs().max_element();
                assert_eq!(back.id, id);
                assert!(
                    off <= 4.0e-5 * friction.abs().max_element(),
                    "{friction} came back as {}",
                    back.friction
                );
            }
        }
    }
}
