//! The rigid-body world: sticks, boxes and ground, stepped by a fixed time step.
//!
//! Everything physical is here and nothing of the line: no rack, no escapement, no rule. A world can
//! be forked at any tick; the fork and the original go on bit for bit alike.

use std::fmt;

use rapier::prelude::{
    ActiveHooks, CCDSolver, CoefficientCombineRule, ColliderBuilder, ColliderHandle, ContactData,
    ContactPair, FrictionModel, IntegrationParameters, MassProperties, NarrowPhase,
    PhysicsPipeline, PhysicsWorld, RigidBody, RigidBodyBuilder, RigidBodyHandle, SharedShape,
};
use serde::{Deserialize, Serialize};
use xxhash_rust::xxh3::Xxh3;

use super::contacts::{
    FreeDirections, StepHooks, SurfaceData, TubeContacts, friction_begun_with, turns,
};
use super::tube::Tube;
use super::{Pose, Rotation, Vector, parry, rapier};
use crate::domain::pipe::Pipe;
use crate::domain::rolling::AIR_DENSITY_KG_M3;
use parry::query::{DefaultQueryDispatcher, QueryDispatcher};

/// Sub-steps of the solver in one step.
const PLAIN_ITERATIONS: usize = 4;
/// Sub-steps while a moving stick is at a corner or at another stick: a blow is resolved to a
/// sub-step, and its error shrinks with it (see the validation table). A second relaxing sweep in
/// each settles the rails' shares of the blow, which would else act like a bounce.
const TURNING_ITERATIONS: usize = 8;
/// Faster than this is moving, m/s.
const MOVING_M_PER_S: f32 = 0.02;

/// The core's time step, s.
pub const DT_S: f32 = 1.0 / 240.0;

/// What a world needs to know before anything is put into it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorldSettings {
    /// Time step, s. The product always uses [`DT_S`]; tests halve it.
    pub dt_s: f32,
    /// Gravity, m/s².
    pub gravity_m_per_s2: Vector,
    pub friction_pipe_on_pipe: f32,
    /// Restitution of every contact of a stick.
    pub restitution: f32,
    /// Wind velocity, m/s.
    pub wind_m_per_s: Vector,
    /// Drag coefficient of a stick across the wind.
    pub drag_coefficient: f32,
}

impl Default for WorldSettings {
    fn default() -> Self {
        Self {
            dt_s: DT_S,
            gravity_m_per_s2: Vector::new(0.0, -9.81, 0.0),
            friction_pipe_on_pipe: 0.25,
            restitution: 0.0,
            wind_m_per_s: Vector::ZERO,
            drag_coefficient: 0.7,
        }
    }
}

/// How pipe meets a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touching {
    pub friction: f32,
    /// Lever arm of rolling resistance of pipe on this part, m; 0 for none.
    pub rolling_lever_arm_m: f32,
}

/// What a part's surface does in one of its two directions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Runs {
    /// It runs at this speed, m/s; 0 is braked.
    At(f32),
    /// It is carried along by what lies on it, against a bearing resistance of this part of the
    /// load.
    Free(f32),
}

/// Rollers in a surface: how it runs along the part's local z and along its local x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rollers {
    pub along: Runs,
    pub across: Runs,
}

/// A stick in the world, by its place in the order of insertion. People and files count from 1: so it
/// is shown and written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct StickId(#[serde(with = "super::one_based")] pub usize);

impl fmt::Display for StickId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0 + 1)
    }
}

/// A part in the world (box or ground), in the order of insertion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PartId(pub usize);

/// Pose and velocities of a stick's centre of mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StickState {
    pub pose: Pose,
    /// m/s.
    pub velocity: Vector,
    /// rad/s.
    pub spin: Vector,
}

impl StickState {
    /// Unit vector along the stick.
    pub fn axis(&self) -> Vector {
        self.pose.rotation * Vector::Z
    }

    /// Rolling rate about the stick's own axis, rad/s.
    pub fn roll_rate(&self) -> f32 {
        self.spin.dot(self.axis())
    }
}

/// Why a run cannot go on: the simulation itself failed. Never a result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SimFault {
    #[error("stick {stick} left the range of finite numbers at tick {tick}")]
    NonFinite { stick: StickId, tick: u64 },
    #[error("the physics engine took a body out at tick {tick}")]
    Quarantined { tick: u64 },
}

/// Force of a part on a stick at one point over the last step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartContact {
    pub part: PartId,
    pub stick: StickId,
    /// In the world.
    pub point: Vector,
    /// N, square to the faces and along them.
    pub normal: Vector,
    pub friction: Vector,
    /// Coefficient of friction between the two.
    pub coefficient: f32,
}

/// A force on a stick for one step, from outside of the contacts: the jaws, a bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    pub stick: StickId,
    /// Where it acts, in the world.
    pub point: Vector,
    /// N.
    pub force: Vector,
}

#[derive(Clone, Debug)]
struct Stick {
    body: RigidBodyHandle,
    collider: ColliderHandle,
    pipe: Pipe,
    mass_kg: f32,
    /// Moment of inertia about its own axis, kg·m².
    axial_inertia: f32,
    /// Moment of inertia about the line of contact when rolling, kg·m².
    rolling_inertia: f32,
    diameter_m: f32,
    length_m: f32,
    /// Rolling rate before the last step, rad/s.
    last_roll_rate: f32,
    /// Rolling resistance applied in the last step, N·m.
    last_torque: f32,
    /// Velocities before the last step.
    before: (Vector, Vector),
    /// It is in the world; one that is not there yet, or no longer, touches nothing.
    present: bool,
}

impl Stick {
    /// What of its state its body does not hold.
    fn hash(&self, hasher: &mut Xxh3) {
        hasher.update(&self.last_roll_rate.to_bits().to_le_bytes());
        hasher.update(&self.last_torque.to_bits().to_le_bytes());
        hasher.update(&[u8::from(self.present)]);
    }
}

#[derive(Clone, Debug)]
struct Part {
    collider: ColliderHandle,
    body: Option<RigidBodyHandle>,
    rollers: Option<Rollers>,
}

/// The world. See the module's text.
pub struct World {
    physics: PhysicsWorld,
    settings: WorldSettings,
    sticks: Vec<Stick>,
    parts: Vec<Part>,
    /// Pulls of the next step, and of the last one.
    pulls: Vec<Pull>,
    pulled: Vec<Pull>,
    tick: u64,
    fault: Option<SimFault>,
}

impl World {
    pub fn new(settings: WorldSettings) -> Self {
        let mut physics = PhysicsWorld::new();
        physics.gravity = settings.gravity_m_per_s2;
        physics.narrow_phase =
            NarrowPhase::with_query_dispatcher(TubeContacts.chain(DefaultQueryDispatcher));
        physics.integration_parameters = IntegrationParameters {
            dt: settings.dt_s,
            num_solver_iterations: PLAIN_ITERATIONS,
            normalized_prediction_distance: 0.002,
            normalized_allowed_linear_error: 0.001,
            contact_recycling: false,
            contact_clustering: false,
            max_ccd_substeps: 0,
            friction_model: FrictionModel::Coulomb,
            ..IntegrationParameters::default()
        };
        Self {
            physics,
            settings,
            sticks: Vec::new(),
            parts: Vec::new(),
            pulls: Vec::new(),
            pulled: Vec::new(),
            tick: 0,
            fault: None,
        }
    }

    pub fn settings(&self) -> &WorldSettings {
        &self.settings
    }

    /// Puts a stick into the world, at rest unless `velocity` or `spin` say otherwise. Its local z is
    /// along the pipe, its local x along the long axis of the oval.
    pub fn add_stick(&mut self, pipe: &Pipe, state: StickState) -> StickId {
        let id = StickId(self.sticks.len());
        let oval = pipe.oval();
        let mass_kg = pipe.mass_kg() as f32;
        let inertia = pipe.principal_inertia();
        let axial = inertia.tube_axis_kg_m2 as f32;
        let radius_m = pipe.radius_m() as f32;
        let body = RigidBodyBuilder::dynamic()
            .pose(state.pose)
            .linvel(state.velocity)
            .angvel(state.spin)
            .additional_mass_properties(MassProperties::new(
                Vector::ZERO,
                mass_kg,
                Vector::new(
                    inertia.long_axis_kg_m2 as f32,
                    inertia.short_axis_kg_m2 as f32,
                    axial,
                ),
            ))
            .can_sleep(false)
            .allow_fast_rotation(true);
        let shape = Tube {
            a: oval.long_m as f32,
            b: oval.short_m as f32,
            half_length: (pipe.length_m / 2.0) as f32,
        };
        let collider = ColliderBuilder::new(SharedShape::new(shape))
            .density(0.0)
            .friction(self.friction_base())
            .restitution(self.settings.restitution)
            .active_hooks(ActiveHooks::MODIFY_SOLVER_CONTACTS);
        let (body, collider) = self.physics.insert(body, collider);
        self.sticks.push(Stick {
            body,
            collider,
            pipe: *pipe,
            mass_kg,
            axial_inertia: axial,
            rolling_inertia: axial + mass_kg * radius_m * radius_m,
            diameter_m: 2.0 * radius_m,
            length_m: pipe.length_m as f32,
            last_roll_rate: state.roll_rate(),
            last_torque: 0.0,
            before: (state.velocity, state.spin),
            present: true,
        });
        id
    }

    /// Puts a stick where it shall be, at rest, and into the world if it was not there.
    pub fn put(&mut self, stick: StickId, pose: Pose) {
        let stick = &mut self.sticks[stick.0];
        if let Some(body) = self.physics.bodies.get_mut(stick.body) {
            body.set_enabled(true);
            body.set_position(pose, true);
            body.set_linvel(Vector::ZERO, true);
            body.set_angvel(Vector::ZERO, true);
        }
        stick.last_roll_rate = 0.0;
        stick.last_torque = 0.0;
        stick.before = (Vector::ZERO, Vector::ZERO);
        stick.present = true;
    }

    /// Takes a stick out of the world; [`World::put`] brings it back.
    pub fn take_out(&mut self, stick: StickId) {
        let stick = &mut self.sticks[stick.0];
        if let Some(body) = self.physics.bodies.get_mut(stick.body) {
            body.set_linvel(Vector::ZERO, false);
            body.set_angvel(Vector::ZERO, false);
            body.set_enabled(false);
        }
        stick.present = false;
    }

    pub fn is_present(&self, stick: StickId) -> bool {
        self.sticks[stick.0].present
    }

    /// A fixed box.
    pub fn add_fixed_box(&mut self, half: Vector, pose: Pose, touching: Touching) -> PartId {
        let shape = ColliderBuilder::cuboid(half.x, half.y, half.z);
        self.add_fixed(shape.position(pose), touching)
    }

    /// A box that is moved by [`World::move_part`] and by nothing else.
    pub fn add_moving_box(&mut self, half: Vector, pose: Pose, touching: Touching) -> PartId {
        self.add_moving(
            ColliderBuilder::cuboid(half.x, half.y, half.z),
            pose,
            touching,
        )
    }

    /// A round roller about its local z axis, moved and turned by [`World::move_part`].
    pub fn add_roller(
        &mut self,
        radius_m: f32,
        half_width_m: f32,
        pose: Pose,
        touching: Touching,
    ) -> PartId {
        let shape = SharedShape::new(Tube {
            a: radius_m,
            b: radius_m,
            half_length: half_width_m,
        });
        self.add_moving(ColliderBuilder::new(shape), pose, touching)
    }

    fn add_moving(&mut self, shape: ColliderBuilder, pose: Pose, touching: Touching) -> PartId {
        let id = PartId(self.parts.len());
        let body = RigidBodyBuilder::kinematic_position_based().pose(pose);
        let collider = self.surface(shape, touching);
        let (body, collider) = self.physics.insert(body, collider);
        self.parts.push(Part {
            collider,
            body: Some(body),
            rollers: None,
        });
        id
    }

    /// Sets how the rollers in a moving part's surface run from the next step on.
    pub fn set_rollers(&mut self, part: PartId, rollers: Rollers) {
        self.parts[part.0].rollers = Some(rollers);
    }

    /// A plane of ground through `point`, solid below `up`.
    pub fn add_ground(&mut self, point: Vector, up: Vector, touching: Touching) -> PartId {
        let shape = ColliderBuilder::new(SharedShape::halfspace(up.normalize()));
        self.add_fixed(shape.translation(point), touching)
    }

    fn add_fixed(&mut self, shape: ColliderBuilder, touching: Touching) -> PartId {
        let id = PartId(self.parts.len());
        let collider = self.surface(shape, touching);
        let collider = self.physics.insert_collider(collider, None);
        self.parts.push(Part {
            collider,
            body: None,
            rollers: None,
        });
        id
    }

    /// The engine combines the coefficients of two colliders by a rule. Sticks carry the pipe-on-pipe
    /// value under a rule that parts override with 'multiply', so that a part's own ratio brings its
    /// pair with pipe to exactly the wanted value.
    fn surface(&self, collider: ColliderBuilder, touching: Touching) -> ColliderBuilder {
        collider
            .friction(touching.friction / self.friction_base())
            .friction_combine_rule(CoefficientCombineRule::Multiply)
            .restitution(1.0)
            .restitution_combine_rule(CoefficientCombineRule::Multiply)
            .user_data(
                SurfaceData {
                    rolling_lever_arm_m: touching.rolling_lever_arm_m,
                    ..SurfaceData::default()
                }
                .packed(),
            )
    }

    fn friction_base(&self) -> f32 {
        self.settings.friction_pipe_on_pipe.max(1.0e-3)
    }

    /// Where a moving box or roller shall be at the end of the next step.
    ///
    /// Fixed boxes and ground never move: for them nothing happens.
    pub fn move_part(&mut self, part: PartId, pose: Pose) {
        let Some(handle) = self.parts[part.0].body else {
            return;
        };
        // What stands where it shall be is left alone: the engine looks at every body that is taken
        // in hand.
        let body = &self.physics.bodies[handle];
        if *body.position() == pose && *body.next_position() == pose {
            return;
        }
        if let Some(body) = self.physics.bodies.get_mut(handle) {
            body.set_next_kinematic_position(pose);
        }
    }

    /// Sets a moving part down somewhere else, at rest: what it touches is not moved by that.
    pub fn set_down_part(&mut self, part: PartId, pose: Pose) {
        if let Some(body) = self.parts[part.0].body
            && let Some(body) = self.physics.bodies.get_mut(body)
        {
            body.set_position(pose, true);
            body.set_next_kinematic_position(pose);
        }
    }

    /// Takes a stick's velocities as given (tests and set-ups).
    pub fn set_motion(&mut self, stick: StickId, velocity: Vector, spin: Vector) {
        let stick = &mut self.sticks[stick.0];
        stick.before = (velocity, spin);
        if let Some(body) = self.physics.bodies.get_mut(stick.body) {
            body.set_linvel(velocity, true);
            body.set_angvel(spin, true);
        }
    }

    /// Pulls at a stick in the next step: a force, N, at a point of the world.
    pub fn pull(&mut self, stick: StickId, point: Vector, force: Vector) {
        self.pulls.push(Pull {
            stick,
            point,
            force,
        });
    }

    /// What has pulled at the sticks in the last step.
    pub fn last_pulls(&self) -> &[Pull] {
        &self.pulled
    }

    /// One time step. After a fault nothing moves any more.
    pub fn step(&mut self) {
        if self.fault.is_some() {
            return;
        }
        self.run_rollers();
        let turning = self.apply_loads();
        let parameters = &mut self.physics.integration_parameters;
        (
            parameters.num_solver_iterations,
            parameters.num_internal_stabilization_iterations,
        ) = if turning {
            (TURNING_ITERATIONS, 2)
        } else {
            (PLAIN_ITERATIONS, 1)
        };
        let hooks = StepHooks {
            half_step_s: 0.5 * self.settings.dt_s,
        };
        self.physics.step_with_events(&hooks, &());
        self.tick += 1;
        self.fault = self.find_fault();
    }

    /// Gives every surface with rollers its velocity for this step.
    fn run_rollers(&mut self) {
        let mut bearings: Vec<Bearing> = Vec::new();
        for (i, stick) in self.sticks.iter().enumerate() {
            if stick.present {
                self.find_bearings(StickId(i), &mut bearings);
            }
        }
        for i in 0..self.parts.len() {
            let Some(rollers) = self.parts[i].rollers else {
                continue;
            };
            let collider = self.parts[i].collider;
            let frame = self.physics.colliders[collider].position().rotation;
            let load = bearings
                .iter()
                .filter(|bearing| bearing.part == PartId(i))
                .max_by(|p, q| p.pushed.total_cmp(&q.pushed));
            let speed = |runs: Runs, direction: Vector| match (runs, load) {
                (Runs::At(speed), _) => direction * speed,
                (Runs::Free(_), Some(load)) => direction * load.carried.dot(direction),
                (Runs::Free(_), None) => Vector::ZERO,
            };
            let velocity =
                speed(rollers.along, frame * Vector::Z) + speed(rollers.across, frame * Vector::X);
            let free = FreeDirections {
                along: matches!(rollers.along, Runs::Free(_)),
                across: matches!(rollers.across, Runs::Free(_)),
            };
            let old = SurfaceData::unpacked(self.physics.colliders[collider].user_data);
            let new = SurfaceData {
                velocity,
                free,
                ..old
            };
            if new != old {
                self.physics.colliders[collider].user_data = new.packed();
            }
        }
    }

    /// Where a stick presses on surfaces with free rollers, and the velocity with which it carries
    /// them in the coming step: what it would do by itself, judged from what it did in the last one
    /// without the surfaces' share, less what their bearings take. One motion for all of them, so
    /// that they do not work against each other.
    fn find_bearings(&self, id: StickId, bearings: &mut Vec<Bearing>) {
        let stick = &self.sticks[id.0];
        let own = stick.collider;
        let body = &self.physics.bodies[stick.body];
        let axis = *body.rotation() * Vector::Z;
        let first_new = bearings.len();
        let (mut along, mut turning) = (0.0, 0.0);
        let (mut held_along, mut held_turning) = (0.0, 0.0);
        for pair in self.physics.narrow_phase.contact_pairs_with(own) {
            let other = other_of(pair, own);
            let part = self.parts.iter().position(|part| part.collider == other);
            let Some((part, rollers)) =
                part.and_then(|part| Some((part, self.parts[part].rollers?)))
            else {
                continue;
            };
            let pushed = pushed(pair);
            if pushed <= 0.0 {
                continue;
            }
            let first = *self.physics.colliders[pair.collider1].position();
            let (mut impulse, mut arm) = (Vector::ZERO, Vector::ZERO);
            for_each_impulse(pair, own, |_, share| impulse += share.friction);
            for point in pair.manifolds.iter().flat_map(|m| &m.points) {
                let share = normal_impulse(&point.data) / pushed;
                arm += (first * point.local_p1 - body.translation()) * share;
            }
            let frame = self.physics.colliders[other].position().rotation;
            if let Runs::Free(bearing) = rollers.along {
                along += impulse.dot(frame * Vector::Z);
                held_along += bearing * pushed;
            }
            if let Runs::Free(bearing) = rollers.across {
                let across = frame * Vector::X;
                let lever = axis.dot(arm.cross(across));
                turning += impulse.dot(across) * lever;
                held_turning += bearing * pushed * lever.abs();
            }
            bearings.push(Bearing {
                part: PartId(part),
                pushed,
                arm,
                carried: Vector::ZERO,
            });
        }
        if bearings.len() == first_new {
            return;
        }
        // Speed gained by itself in a step goes on; what is left of the motion the bearings take.
        let goes_on = |now: f32, before: f32, share: f32, held: f32| {
            let speed = now + (now - before) - share;
            speed - speed.clamp(-held, held)
        };
        let (velocity, spin) = (body.linvel(), body.angvel());
        let (mass, inertia) = (stick.mass_kg, stick.axial_inertia);
        let run = goes_on(
            velocity.dot(axis),
            stick.before.0.dot(axis),
            along / mass,
            held_along / mass,
        );
        let roll = goes_on(
            spin.dot(axis),
            stick.before.1.dot(axis),
            turning / inertia,
            held_turning / inertia,
        );
        let velocity = velocity + axis * (run - velocity.dot(axis));
        let spin = spin + axis * (roll - spin.dot(axis));
        for bearing in &mut bearings[first_new..] {
            let own = self.parts[bearing.part.0].body;
            let own = own.map_or(Vector::ZERO, |own| self.physics.bodies[own].linvel());
            bearing.carried = velocity + spin.cross(bearing.arm) - own;
        }
    }

    /// The wind from now on, m/s.
    pub fn set_wind_m_per_s(&mut self, wind_m_per_s: Vector) {
        self.settings.wind_m_per_s = wind_m_per_s;
    }

    /// Rolling resistance, wind and pulls of this tick. True where a moving stick is at a corner or
    /// at another stick.
    fn apply_loads(&mut self) -> bool {
        let mut turning = false;
        let wind = self.settings.wind_m_per_s;
        let windy = wind != Vector::ZERO;
        for i in 0..self.sticks.len() {
            if !self.sticks[i].present {
                continue;
            }
            let (limit, at_corner) = self.rolling_limit(StickId(i));
            let stick = &mut self.sticks[i];
            let body = &mut self.physics.bodies[stick.body];
            stick.before = (body.linvel(), body.angvel());
            turning |=
                at_corner && body.linvel().length_squared() > MOVING_M_PER_S * MOVING_M_PER_S;
            let axis = *body.rotation() * Vector::Z;
            let roll_rate = body.angvel().dot(axis);
            let held = limit > 0.0 || stick.last_torque != 0.0;
            body.reset_forces(false);
            body.reset_torques(false);
            if held {
                // What would bring the rolling to rest within this step: the torque that balanced
                // the last one, plus what is left of the motion. Bounded, it is a friction.
                let inertia = stick.rolling_inertia / self.settings.dt_s;
                let driving = stick.last_torque + inertia * (roll_rate - stick.last_roll_rate);
                let torque = (driving + inertia * roll_rate).clamp(-limit, limit);
                body.add_torque(axis * -torque, true);
                stick.last_torque = torque;
            }
            stick.last_roll_rate = roll_rate;
            if windy {
                let relative = wind - body.linvel();
                let across = relative - axis * relative.dot(axis);
                let area_m2 = stick.diameter_m * stick.length_m;
                let drag =
                    0.5 * AIR_DENSITY_KG_M3 as f32 * self.settings.drag_coefficient * area_m2;
                body.add_force(across * (drag * across.length()), true);
            }
        }
        core::mem::swap(&mut self.pulls, &mut self.pulled);
        self.pulls.clear();
        for pull in &self.pulled {
            let body = self.sticks[pull.stick.0].body;
            if let Some(body) = self.physics.bodies.get_mut(body) {
                body.add_force_at_point(pull.force, pull.point, true);
            }
        }
        turning
    }

    /// The greatest rolling resistance of a stick now, normal force times lever arm, N·m, and
    /// whether it is at a corner or at another stick.
    fn rolling_limit(&self, stick: StickId) -> (f32, bool) {
        let own = self.sticks[stick.0].collider;
        let mut impulse_times_lever = 0.0;
        let mut at_corner = false;
        for pair in self.physics.narrow_phase.contact_pairs_with(own) {
            let other = other_of(pair, own);
            let lever =
                SurfaceData::unpacked(self.physics.colliders[other].user_data).rolling_lever_arm_m;
            if lever > 0.0 {
                impulse_times_lever += lever * pushed(pair);
            }
            at_corner |= pair.manifolds.iter().any(turns);
        }
        (impulse_times_lever / self.settings.dt_s, at_corner)
    }

    fn find_fault(&self) -> Option<SimFault> {
        if !self.physics.quarantine().is_empty() {
            return Some(SimFault::Quarantined { tick: self.tick });
        }
        (0..self.sticks.len()).map(StickId).find_map(|stick| {
            let state = self.stick(stick);
            let finite = state.pose.translation.is_finite()
                && state.pose.rotation.is_finite()
                && state.velocity.is_finite()
                && state.spin.is_finite();
            (!finite).then_some(SimFault::NonFinite {
                stick,
                tick: self.tick,
            })
        })
    }

    pub fn fault(&self) -> Option<SimFault> {
        self.fault
    }

    /// Steps made since the beginning.
    pub fn tick(&self) -> u64 {
        self.tick
    }

    pub fn time_s(&self) -> f64 {
        self.time_at_s(self.tick)
    }

    /// Time at the end of a tick, s: exact for the product's rate, which single precision is not.
    pub fn time_at_s(&self, tick: u64) -> f64 {
        tick as f64 / f64::from((1.0 / self.settings.dt_s).round())
    }

    pub fn sticks(&self) -> impl ExactSizeIterator<Item = StickId> + use<> {
        (0..self.sticks.len()).map(StickId)
    }

    pub fn pipe(&self, stick: StickId) -> &Pipe {
        &self.sticks[stick.0].pipe
    }

    pub fn stick(&self, stick: StickId) -> StickState {
        let body = &self.physics.bodies[self.sticks[stick.0].body];
        StickState {
            pose: *body.position(),
            velocity: body.linvel(),
            spin: body.angvel(),
        }
    }

    pub fn parts(&self) -> impl ExactSizeIterator<Item = PartId> + use<> {
        (0..self.parts.len()).map(PartId)
    }

    /// Half extents of a box; None for rollers and ground, m.
    pub fn box_half_extents(&self, part: PartId) -> Option<Vector> {
        let shape = self.physics.colliders[self.parts[part.0].collider].shape();
        shape.as_cuboid().map(|cuboid| cuboid.half_extents)
    }

    pub fn part_pose(&self, part: PartId) -> Pose {
        *self.physics.colliders[self.parts[part.0].collider].position()
    }

    /// Velocity of a moving part over the last step, m/s.
    pub fn part_velocity(&self, part: PartId) -> Vector {
        let body = self.parts[part.0].body;
        body.map_or(Vector::ZERO, |body| self.physics.bodies[body].linvel())
    }

    /// Velocity at which the rollers in a part's surface ran in the last step, in the world and
    /// relative to the part, m/s.
    pub fn surface_velocity(&self, part: PartId) -> Vector {
        let collider = &self.physics.colliders[self.parts[part.0].collider];
        SurfaceData::unpacked(collider.user_data).velocity
    }

    /// Force of the sticks on a part over the last step, N.
    pub fn force_on_part(&self, part: PartId) -> Vector {
        let own = self.parts[part.0].collider;
        self.physics
            .narrow_phase
            .contact_pairs_with(own)
            .map(|pair| force_on(pair, own))
            .sum::<Vector>()
            / self.settings.dt_s
    }

    /// Friction of the sticks on a part over the last step, N.
    pub fn friction_on_part(&self, part: PartId) -> Vector {
        let own = self.parts[part.0].collider;
        let mut friction = Vector::ZERO;
        for pair in self.physics.narrow_phase.contact_pairs_with(own) {
            for_each_impulse(pair, own, |_, impulse| friction += impulse.friction);
        }
        friction / self.settings.dt_s
    }

    /// Moment about an axis along +z through `about` of the sticks' forces on a part over the last
    /// step, N·m.
    pub fn moment_on_part(&self, part: PartId, about: Vector) -> f32 {
        let own = self.parts[part.0].collider;
        let mut moments = Vector::ZERO;
        for pair in self.physics.narrow_phase.contact_pairs_with(own) {
            let first = *self.physics.colliders[pair.collider1].position();
            for_each_impulse(pair, own, |local_p1, impulse| {
                moments += (first * local_p1 - about).cross(impulse.whole());
            });
        }
        (moments / self.settings.dt_s).z
    }

    /// Force of a part on a stick over the last step, N.
    pub fn force_between(&self, part: PartId, stick: StickId) -> Vector {
        let own = self.sticks[stick.0].collider;
        self.physics
            .narrow_phase
            .contact_pair(self.parts[part.0].collider, own)
            .map_or(Vector::ZERO, |pair| {
                force_on(pair, own) / self.settings.dt_s
            })
    }

    /// Every point at which a stick pressed on a part over the last step.
    pub fn part_contacts(&self) -> Vec<PartContact> {
        let mut contacts = Vec::new();
        for stick in self.sticks() {
            let own = self.sticks[stick.0].collider;
            for pair in self.physics.narrow_phase.contact_pairs_with(own) {
                let other = other_of(pair, own);
                let part = self.parts.iter().position(|part| part.collider == other);
                let Some(part) = part.map(PartId) else {
                    continue;
                };
                let first = *self.physics.colliders[pair.collider1].position();
                let friction = self.physics.colliders[other].friction() * self.friction_base();
                for_each_impulse(pair, own, |local_p1, impulse| {
                    if impulse.normal != Vector::ZERO {
                        contacts.push(PartContact {
                            part,
                            stick,
                            point: first * local_p1,
                            normal: impulse.normal / self.settings.dt_s,
                            friction: impulse.friction / self.settings.dt_s,
                            coefficient: friction,
                        });
                    }
                });
            }
        }
        contacts
    }

    /// Whether a stick and a part touched in the last step.
    pub fn touches(&self, part: PartId, stick: StickId) -> bool {
        self.force_between(part, stick) != Vector::ZERO
    }

    /// Kinetic and potential energy of all sticks, J.
    pub fn energy_j(&self) -> f64 {
        self.sticks
            .iter()
            .filter(|stick| stick.present)
            .map(|stick| {
                let body = &self.physics.bodies[stick.body];
                let height = -body.translation().dot(self.physics.gravity);
                f64::from(body.kinetic_energy()) + f64::from(stick.mass_kg * height)
            })
            .sum()
    }

    /// A copy that goes on exactly as this one would.
    pub fn fork(&self) -> Self {
        let p = &self.physics;
        Self {
            physics: PhysicsWorld {
                gravity: p.gravity,
                integration_parameters: p.integration_parameters,
                physics_pipeline: PhysicsPipeline::new(),
                islands: p.islands.clone(),
                broad_phase: p.broad_phase.clone(),
                narrow_phase: p.narrow_phase.clone(),
                bodies: p.bodies.clone(),
                colliders: p.colliders.clone(),
                impulse_joints: p.impulse_joints.clone(),
                multibody_joints: p.multibody_joints.clone(),
                ccd_solver: CCDSolver::new(),
            },
            settings: self.settings,
            sticks: self.sticks.clone(),
            parts: self.parts.clone(),
            pulls: self.pulls.clone(),
            pulled: self.pulled.clone(),
            tick: self.tick,
            fault: self.fault,
        }
    }

    /// Takes the coefficients of contact of another world, which has the same sticks and parts, from
    /// the next step on.
    pub fn take_contact(&mut self, other: &Self) {
        self.settings.friction_pipe_on_pipe = other.settings.friction_pipe_on_pipe;
        self.settings.restitution = other.settings.restitution;
        let theirs: Vec<ColliderHandle> = other.colliders().collect();
        let own: Vec<ColliderHandle> = self.colliders().collect();
        for (own, theirs) in own.into_iter().zip(theirs) {
            let theirs = &other.physics.colliders[theirs];
            let own = &mut self.physics.colliders[own];
            own.set_friction(theirs.friction());
            own.set_restitution(theirs.restitution());
            own.user_data = theirs.user_data;
        }
    }

    fn colliders(&self) -> impl Iterator<Item = ColliderHandle> + '_ {
        let sticks = self.sticks.iter().map(|stick| stick.collider);
        sticks.chain(self.parts.iter().map(|part| part.collider))
    }

    /// A hash over every bit of the state of the bodies, in the order of insertion.
    pub fn hash(&self) -> u64 {
        let mut hasher = Xxh3::new();
        hasher.update(&self.tick.to_le_bytes());
        for (_, body) in self.physics.bodies.iter() {
            hash_body(&mut hasher, body);
        }
        for stick in &self.sticks {
            stick.hash(&mut hasher);
        }
        hasher.digest()
    }

    /// The same of one stick alone.
    pub fn stick_hash(&self, stick: StickId) -> u64 {
        let stick = &self.sticks[stick.0];
        let mut hasher = Xxh3::new();
        hash_body(&mut hasher, &self.physics.bodies[stick.body]);
        stick.hash(&mut hasher);
        hasher.digest()
    }
}

fn hash_body(hasher: &mut Xxh3, body: &RigidBody) {
    let pose = body.position();
    let numbers = pose
        .translation
        .to_array()
        .into_iter()
        .chain(pose.rotation.to_array())
        .chain(body.linvel().to_array())
        .chain(body.angvel().to_array());
    for number in numbers {
        hasher.update(&number.to_bits().to_le_bytes());
    }
}

/// A stick on a surface with rollers.
struct Bearing {
    part: PartId,
    /// Normal impulse over the last step, N·s.
    pushed: f32,
    /// From the stick's centre to the contact, m.
    arm: Vector,
    /// Velocity with which it carries free rollers, relative to the part, m/s.
    carried: Vector,
}

/// Impulse of a contact over the last step, N·s.
struct Impulse {
    normal: Vector,
    friction: Vector,
}

impl Impulse {
    fn whole(&self) -> Vector {
        self.normal + self.friction
    }
}

/// The other collider of a pair.
fn other_of(pair: &ContactPair, own: ColliderHandle) -> ColliderHandle {
    if pair.collider1 == own {
        pair.collider2
    } else {
        pair.collider1
    }
}

/// Normal impulse of one contact over the last step, N·s.
///
/// The engine's accumulated figure also holds the share it started the step with, which the tube
/// contacts keep in a field of their own.
fn normal_impulse(data: &ContactData) -> f32 {
    data.impulse - data.warmstart_twist_impulse
}

/// Normal impulse of all contacts of a pair over the last step, N·s.
fn pushed(pair: &ContactPair) -> f32 {
    let points = pair.manifolds.iter().flat_map(|m| &m.points);
    points.map(|point| normal_impulse(&point.data)).sum()
}

/// Impulse of a pair on one of its two colliders over the last step, N·s: normal and friction.
fn force_on(pair: &ContactPair, own: ColliderHandle) -> Vector {
    let mut sum = Vector::ZERO;
    for_each_impulse(pair, own, |_, impulse| sum += impulse.whole());
    sum
}

/// Calls `each` with every contact's place (in the first collider's frame) and impulse on `own`.
fn for_each_impulse(
    pair: &ContactPair,
    own: ColliderHandle,
    mut each: impl FnMut(Vector, Impulse),
) {
    let sign = if pair.collider1 == own { 1.0 } else { -1.0 };
    for manifold in &pair.manifolds {
        let normal = manifold.data.normal;
        let [first, second] = contact_plane(-normal);
        for point in &manifold.points {
            let total = point.data.tangent_impulse;
            let begun = friction_begun_with(point);
            let friction =
                first * (total.x - begun.dot(first)) + second * (total.y - begun.dot(second));
            let impulse = Impulse {
                normal: normal * (-sign * normal_impulse(&point.data)),
                friction: friction * sign,
            };
            each(point.local_p1, impulse);
        }
    }
}

/// The two axes in which the engine keeps the friction of a contact on whose first body the normal
/// force is in direction `d` (Duff et al., Building an Orthonormal Basis, Revisited, 2017).
fn contact_plane(d: Vector) -> [Vector; 2] {
    let sign = if d.z < 0.0 { -1.0 } else { 1.0 };
    let a = -1.0 / (sign + d.z);
    let first = Vector::new(d.x * d.y * a, sign + d.y * d.y * a, -d.y);
    [first, d.cross(first)]
}

/// The pose of a body whose local frame is turned by `slope_rad` about z: its local x then points
/// along +x and up by that angle.
pub fn turned(position: Vector, slope_rad: f64) -> Pose {
    Pose::from_parts(position, rotation_about_z(slope_rad))
}

/// Rotation about z by an angle, rad, with trigonometry that is the same everywhere.
pub fn rotation_about_z(angle_rad: f64) -> Rotation {
    use crate::domain::math::{cos, sin};
    Rotation::from_xyzw(
        0.0,
        0.0,
        sin(angle_rad / 2.0) as f32,
        cos(angle_rad / 2.0) as f32,
    )
}
