//! The loader: a machine with two forks that brings sticks to the rack from uphill, or holds one that
//! hangs on it.
//!
//! It drives up the middle of the rack, its forks pointing down it between the rails, and has four
//! degrees of freedom: its way over the ground, the height of its forks, their tilt, and its own
//! pitch about its front wheels. The first three go where the driver wants them at finite rates; the
//! last follows the weights. What becomes of a stick is the contacts' affair: nothing here lets one
//! fall. The mast is taken as square to the ground, the ground as hard, and only forks and carriage
//! are solid to pipe.
//!
//! All places are in the plan of a right-handed line until they go into the world.

use crate::domain::loader::{
    AXLE_TO_FACE_M, FACE_HEIGHT_M, FACE_THICKNESS_M, FORK_THICKNESS_M, FORK_WIDTH_M, KEEPS_OFF_M,
    Stability,
};
use crate::domain::math::{asin, atan2, cos, sin, sqrt, tan};
use crate::domain::rig::{End, Point, Rig};
use crate::domain::spec::LoaderSpec;
use crate::sim::controls::Call;
use crate::sim::glam::{DMat3, DQuat, DVec3};
use crate::sim::world::{PartId, StickId, StickState, Touching, World};
use crate::sim::{Pose, Vector};

use super::parts;
use super::people::{Mover, Shape, Striker};

/// How hard it speeds up, m/s² (ours: gently; what it carries lies against the face).
const ACCELERATION_M_PER_S2: f64 = 0.5;
/// Speed over the rack, at most, m/s (ours).
const INCHING_M_PER_S: f64 = 0.5;
/// How hard the forks' lift starts and stops, m/s² (ours).
const LIFT_ACCELERATION_M_PER_S2: f64 = 0.5;
/// Speed of tilting, rad/s, and how hard it starts and stops, rad/s² (ours).
const TILT_RAD_PER_S: f64 = 0.10;
const TILT_ACCELERATION_RAD_PER_S2: f64 = 0.4;
/// How long a stick rests on the forks before it is driven off with, s.
const SETTLE_S: f64 = 1.0;
/// Where it stops to raise or lower the forks: its front this far before the rack's high end, m.
const STANDS_OFF_M: f64 = 0.5;
/// How far over the rails a stick is carried, and how far under them the forks go, m.
const CLEAR_M: f64 = 0.10;
/// How far a held stick is lifted off the rails, m.
const HOLD_LIFT_M: f64 = 0.05;
/// How long it backs off before the forks are levelled: the face then turns clear of the stick, s.
const LEVELS_AFTER_S: f64 = 1.0;
/// How long forks and face touch a stick no more before it counts as left behind, s.
const LEFT_AFTER_S: f64 = 0.3;
/// Time constant in which the machine takes up a change of its load, s: tyres and oil.
const YIELDS_S: f64 = 0.05;
/// Nearer than this, two sticks touch, m.
const TOUCH_M: f64 = 0.002;
/// The machine behind the forks: middle (before the front axle, over the ground) and half extents
/// along, up and across, m (a common machine of 4 t; our own figures).
pub const BODY_MIDDLE_M: DVec3 = DVec3::new(-1.75, 1.45, 0.0);
const BODY_HALF_M: DVec3 = DVec3::new(2.45, 1.25, 1.20);

/// What the loader is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LoaderStage {
    /// At its start, forks at carrying height.
    Parked,
    /// A stick lies on the forks and comes to rest.
    Settling,
    /// It drives up to the rack's high end.
    Approaching,
    /// It stands there and brings the forks to the height at which they go in.
    Raising,
    /// It drives in between the rails.
    Entering,
    /// The forks go down until the rails carry and they are clear below.
    Lowering,
    /// The forks take up a stick that hangs.
    Lifting,
    /// It holds that stick.
    Holding,
    BackingOut,
    /// It drives back to its start.
    Returning,
    /// It has stopped where it is: the stick has gone.
    Stopped,
}

/// Whether no other stick is where a stick shall be put, by the distance of their middles across and
/// along.
fn is_free(world: &World, stick: StickId, pose: Pose) -> bool {
    let own = world.pipe(stick);
    let others = world
        .sticks()
        .filter(|&other| other != stick && world.is_present(other));
    others.into_iter().all(|other| {
        let pipe = world.pipe(other);
        let state = world.stick(other);
        let apart = state.pose.translation - pose.translation;
        // A stick that lies askew takes up to its half length across.
        let askew = f64::from((1.0 - state.axis().z * state.axis().z).max(0.0).sqrt());
        let across_m = own.radius_m() + pipe.radius_m() + 0.5 * pipe.length_m * askew;
        let along_m = 0.5 * (own.length_m + pipe.length_m);
        f64::from(apart.truncate().length()) > across_m || f64::from(apart.z.abs()) > along_m
    })
}

/// Heights that agree so well are the same, m.
const NEAR_ENOUGH_M: f64 = 0.5e-3;

/// A rate-limited motion of one degree of freedom, m or rad.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Axis {
    at: f64,
    goal: f64,
    speed: f64,
    acceleration: f64,
}

#[derive(Clone, Copy, Debug)]
struct Rates {
    speed: f64,
    speeding: f64,
    braking: f64,
}

impl Axis {
    fn standing(at: f64) -> Self {
        Self {
            at,
            goal: at,
            ..Self::default()
        }
    }

    fn is_there(&self) -> bool {
        self.at == self.goal && self.speed == 0.0
    }

    /// The speed is such that braking evenly brings it to rest at its goal.
    fn tick(&mut self, rates: Rates, halted: bool, dt_s: f64) {
        let to_go = self.goal - self.at;
        let step = 0.5 * rates.braking * dt_s;
        let stopping = sqrt(step * step + 2.0 * rates.braking * to_go.abs()) - step;
        let wanted = if halted {
            0.0
        } else {
            stopping.min(rates.speed).copysign(to_go)
        };
        let slows = wanted * self.speed < 0.0 || wanted.abs() < self.speed.abs();
        let change = dt_s * if slows { rates.braking } else { rates.speeding };
        let before = self.speed;
        self.speed += (wanted - self.speed).clamp(-change, change);
        let next = self.at + self.speed * dt_s;
        // Less than it moves in one tick at its slowest is there.
        if !halted && (self.goal - next).abs() <= rates.braking * dt_s * dt_s {
            self.at = self.goal;
            self.speed = 0.0;
        } else {
            self.at = next;
        }
        self.acceleration = (self.speed - before) / dt_s;
    }
}

/// The ground under the loader: a plane through the origin.
#[derive(Clone, Copy, Debug)]
struct GroundFrame {
    /// Straight ahead, towards the line.
    forward: DVec3,
    up: DVec3,
    /// Across, towards the machine end of the line.
    side: DVec3,
    turn: DQuat,
}

impl GroundFrame {
    fn new(rig: &Rig) -> Self {
        let ground = rig.spec().ground;
        let up =
            DVec3::new(tan(ground.cross_fall_rad), 1.0, tan(ground.along_fall_rad)).normalize();
        let forward = (DVec3::X - up * up.x).normalize();
        let side = forward.cross(up);
        Self {
            forward,
            up,
            side,
            turn: DQuat::from_mat3(&DMat3::from_cols(forward, up, side)),
        }
    }
}

/// A loader at one moment. See the module's text.
#[derive(Clone, Debug)]
pub struct Loader {
    spec: LoaderSpec,
    stability: Stability,
    frame: GroundFrame,
    ground: PartId,
    /// Near, far.
    forks: [PartId; 2],
    face: PartId,
    /// The sticks it brings, in order, and how many of them it has begun to bring.
    brings: Vec<StickId>,
    begun: usize,
    stage: LoaderStage,
    asked: Option<Call>,
    halted: bool,
    /// How long it has been in this stage, s.
    since_s: f64,
    /// The stick it is about, and whether it brings it (or holds it).
    stick: Option<StickId>,
    bringing: bool,
    set_down: bool,
    /// How long neither fork nor face has touched that stick, s.
    free_s: f64,
    /// Front axle along the ground, m; heel of the forks over the ground, m; back-tilt, rad.
    travel: Axis,
    lift: Axis,
    tilt: Axis,
    starts_at: f64,
    stands_at: f64,
    /// Nose down, rad and rad/s.
    pitch_rad: f64,
    pitch_rate: f64,
    /// Moment of the load about the front wheels, nose down, N·m: as it is, and as the machine has
    /// taken it up.
    load_moment: f64,
    taken_up: f64,
    fork_loads: [f64; 2],
    dropped: Vec<StickId>,
    /// The row's last stick when one was set down, and at what speed they closed in the last tick.
    row_end: Option<StickId>,
    closing: f64,
    struck: Option<(StickId, f64)>,
}

impl Loader {
    /// A loader at its start, the sticks it brings added to the world but not in it yet.
    pub fn build(world: &mut World, rig: &Rig, ground: PartId, spec: LoaderSpec) -> Self {
        let spec = within_reason(spec);
        let frame = GroundFrame::new(rig);
        let mut loader = Self {
            spec,
            stability: Stability::of_rating(spec.capacity_kg, spec.load_centre_m),
            frame,
            ground,
            forks: [PartId(0); 2],
            face: PartId(0),
            brings: Vec::new(),
            begun: 0,
            stage: LoaderStage::Parked,
            asked: None,
            halted: false,
            since_s: 0.0,
            stick: None,
            bringing: false,
            set_down: false,
            free_s: 0.0,
            travel: Axis::default(),
            lift: Axis::standing(spec.carry_height_m),
            tilt: Axis::standing(spec.back_tilt_rad),
            starts_at: 0.0,
            stands_at: 0.0,
            pitch_rad: 0.0,
            pitch_rate: 0.0,
            load_moment: 0.0,
            taken_up: 0.0,
            fork_loads: [0.0; 2],
            dropped: Vec::new(),
            row_end: None,
            closing: 0.0,
            struck: None,
        };
        let pipe = rig.spec().sticks.last().map(|stick| stick.pipe);
        let depth_m = pipe.map_or(0.0, |pipe| 2.0 * pipe.oval().long_m);
        let front_m = high_end_x_m(rig) - spec.starts_beyond_m;
        let heel_m = front_m - spec.fork_length_m.max(depth_m);
        loader.starts_at = (heel_m - loader.heel().x) / frame.forward.x;
        loader.stands_at =
            loader.starts_at + (spec.starts_beyond_m - STANDS_OFF_M).max(0.0) / frame.forward.x;
        loader.travel = Axis::standing(loader.starts_at);

        let contact = rig.spec().contact;
        let touching = Touching {
            friction: contact.friction_dry as f32,
            rolling_lever_arm_m: contact.rolling_lever_arm_m as f32,
        };
        let mut solid =
            |(half, pose): (DVec3, Pose)| world.add_moving_box(half.as_vec3(), pose, touching);
        loader.forks = [0, 1].map(|fork| solid(loader.fork_box(rig, fork)));
        loader.face = solid(loader.face_box(rig));
        if let Some(pipe) = pipe {
            let pose = loader.lying_pose(rig);
            loader.brings = (0..spec.sticks)
                .map(|_| {
                    let state = StickState {
                        pose,
                        velocity: Vector::ZERO,
                        spin: Vector::ZERO,
                    };
                    let stick = world.add_stick(&pipe, state);
                    world.take_out(stick);
                    stick
                })
                .collect();
        }
        loader
    }

    /// One tick, before the world's step. A call is heard once and done as soon as it can be; a later
    /// one takes its place. Calls to others are not for the loader.
    pub fn tick(&mut self, world: &mut World, rig: &Rig, call: Option<Call>) {
        let dt_s = f64::from(world.settings().dt_s);
        if let Some(call @ (Call::Load | Call::Hold | Call::Release)) = call {
            self.asked = Some(call);
        }
        self.since_s += dt_s;
        self.feel(world, rig, dt_s);
        self.pitch(dt_s);
        self.decide(world, rig);
        self.move_on(dt_s);
        for fork in [0, 1] {
            let (_, pose) = self.fork_box(rig, fork);
            world.move_part(self.forks[fork], pose);
        }
        let (_, pose) = self.face_box(rig);
        world.move_part(self.face, pose);
    }

    /// Somebody shows it to stop (or to go on): it brakes and its forks stay where they are.
    pub fn set_halted(&mut self, halted: bool) {
        self.halted = halted;
    }

    /// Reads from the world what the last step did.
    fn feel(&mut self, world: &World, rig: &Rig, dt_s: f64) {
        let up = to_world(rig, self.fork_turn() * DVec3::Y);
        self.fork_loads = self
            .forks
            .map(|fork| -f64::from(world.force_on_part(fork).dot(up)));
        let wheels = to_world(rig, self.wheels());
        self.load_moment = -rig.mirror()
            * self
                .solids()
                .map(|part| f64::from(world.moment_on_part(part, wheels)))
                .sum::<f64>();
        self.taken_up += (self.load_moment - self.taken_up) * (dt_s / YIELDS_S).min(1.0);

        let Some(stick) = self.stick else { return };
        if self.is_on(world, stick) {
            self.free_s = 0.0;
        } else {
            self.free_s += dt_s;
        }
        self.watch_row(world, rig, stick);
        let left = self.free_s > LEFT_AFTER_S;
        let carrying = match self.stage {
            LoaderStage::Lowering if left && is_on_rack(world, rig, stick) => {
                self.set_down = true;
                false
            }
            LoaderStage::Settling
            | LoaderStage::Approaching
            | LoaderStage::Raising
            | LoaderStage::Entering
            | LoaderStage::Lowering => self.bringing && !self.set_down,
            LoaderStage::Holding => true,
            _ => false,
        };
        if carrying && (left || world.touches(self.ground, stick)) {
            self.dropped.push(stick);
            self.stick = None;
            self.go_to(LoaderStage::Stopped);
        }
    }

    /// Looks whether the stick that is set down meets the row.
    fn watch_row(&mut self, world: &World, rig: &Rig, stick: StickId) {
        let Some(other) = self.row_end.filter(|_| self.struck.is_none()) else {
            return;
        };
        let (own, row) = (plan_state(world, rig, stick), plan_state(world, rig, other));
        let apart = (row.middle - own.middle).with_z(0.0);
        let distance_m = apart.length();
        let direction = apart / distance_m.max(1.0e-6);
        let reach_m: f64 = [(stick, &own), (other, &row)]
            .into_iter()
            .map(|(id, state)| {
                let oval = world.pipe(id).oval();
                let along = state.long_axis.dot(direction);
                let square = |a: f64| a * a;
                sqrt(
                    square(oval.long_m * along)
                        + square(oval.short_m) * (1.0 - along * along).max(0.0),
                )
            })
            .sum();
        if distance_m - reach_m <= TOUCH_M {
            self.struck = Some((stick, self.closing.max(0.0)));
        }
        self.closing = (own.velocity - row.velocity).dot(direction);
    }

    /// The machine turns about its front wheels where the load outweighs it, and falls back when
    /// it does not. The ground stops its rear wheels, or its forks.
    fn pitch(&mut self, dt_s: f64) {
        let resisting = self
            .stability
            .resisting_moment_n_m(self.nose_down_rad(), self.travel.acceleration);
        self.pitch_rate += (self.taken_up - resisting) / self.stability.inertia_kg_m2() * dt_s;
        self.pitch_rad += self.pitch_rate * dt_s;
        let tip_m = (
            AXLE_TO_FACE_M + self.spec.fork_length_m * cos(self.tilt.at),
            self.lift.at + self.spec.fork_length_m * sin(self.tilt.at),
        );
        let on_ground = [(AXLE_TO_FACE_M, self.lift.at), tip_m]
            .map(|(ahead_m, up_m)| atan2(up_m - FORK_THICKNESS_M, ahead_m));
        let greatest = on_ground[0].min(on_ground[1]).max(0.0);
        if self.pitch_rad <= 0.0 {
            self.pitch_rad = 0.0;
            self.pitch_rate = self.pitch_rate.max(0.0);
        } else if self.pitch_rad >= greatest {
            self.pitch_rad = greatest;
            self.pitch_rate = self.pitch_rate.min(0.0);
        }
    }

    fn go_to(&mut self, stage: LoaderStage) {
        self.stage = stage;
        self.since_s = 0.0;
    }

    /// What the driver does next.
    fn decide(&mut self, world: &mut World, rig: &Rig) {
        let there = self.travel.is_there() && self.lift.is_there() && self.tilt.is_there();
        match self.stage {
            LoaderStage::Parked => self.answer(world, rig),
            LoaderStage::Settling if self.since_s >= SETTLE_S => {
                self.travel.goal = self.stands_at;
                self.go_to(LoaderStage::Approaching);
            }
            LoaderStage::Approaching if there => {
                if self.bringing {
                    self.lift.goal = self.lift.at + self.raise_over_rails(world, rig);
                } else {
                    self.tilt.goal = 0.0;
                    let further = self.way_under(world, rig);
                    self.lift.goal = self.lift.at - self.drop_needed(rig, further, 0.0);
                }
                self.go_to(LoaderStage::Raising);
            }
            LoaderStage::Raising if there => {
                let further = if self.bringing {
                    self.way_to_landing(world, rig)
                } else {
                    self.way_under(world, rig)
                };
                self.travel.goal = self.travel.at + further;
                self.go_to(LoaderStage::Entering);
            }
            LoaderStage::Entering if there && self.bringing => {
                self.struck = None;
                self.go_to(LoaderStage::Lowering);
            }
            LoaderStage::Entering if there => {
                self.tilt.goal = self.spec.back_tilt_rad;
                self.go_to(LoaderStage::Lifting);
            }
            LoaderStage::Lifting if self.tilt.is_there() => {
                let rise = self.rise_needed(world, rig);
                self.lift.goal = self.lift.at + rise.max(0.0);
                if rise <= 0.0 && self.lift.speed == 0.0 {
                    self.free_s = 0.0;
                    self.go_to(LoaderStage::Holding);
                }
            }
            LoaderStage::Holding if self.asked == Some(Call::Release) => {
                self.asked = None;
                self.go_to(LoaderStage::Lowering);
            }
            LoaderStage::Lowering => {
                // Rails that settle move the goal by next to nothing all the time.
                let drop = self.drop_needed(rig, 0.0, self.tilt.at).max(0.0);
                if drop > NEAR_ENOUGH_M {
                    self.lift.goal = self.lift.at - drop;
                }
                if self.free_s > LEFT_AFTER_S && drop <= NEAR_ENOUGH_M && self.lift.is_there() {
                    self.travel.goal = self.travel.at.min(self.stands_at);
                    self.go_to(LoaderStage::BackingOut);
                }
            }
            LoaderStage::BackingOut if there => {
                self.travel.goal = self.starts_at;
                self.lift.goal = self.spec.carry_height_m;
                self.tilt.goal = self.spec.back_tilt_rad;
                self.go_to(LoaderStage::Returning);
            }
            LoaderStage::BackingOut => {
                // Ground that falls more than the rack brings the forks up as it backs.
                let drop = self.drop_needed(rig, 0.0, self.tilt.at);
                self.lift.goal = self.lift.goal.min(self.lift.at - drop.max(0.0));
                if self.since_s > LEVELS_AFTER_S {
                    self.tilt.goal = 0.0;
                }
            }
            LoaderStage::Returning if there => {
                self.stick = None;
                self.go_to(LoaderStage::Parked);
            }
            LoaderStage::Stopped if self.asked == Some(Call::Release) => {
                self.asked = None;
                self.travel.goal = self.travel.at.min(self.stands_at);
                self.go_to(LoaderStage::BackingOut);
            }
            _ => {}
        }
    }

    /// Parked: takes up what it is asked.
    fn answer(&mut self, world: &mut World, rig: &Rig) {
        match self.asked {
            Some(Call::Load) => {
                let Some(&stick) = self.brings.get(self.begun) else {
                    self.asked = None;
                    return;
                };
                let room = self.landing_along_m(world, rig, stick, 0.0);
                if room + world.pipe(stick).oval().long_m > rig.spec().rack.length_m {
                    return;
                }
                let pose = self.lying_pose(rig);
                if !is_free(world, stick, pose) {
                    // Something has fallen where it picks up.
                    return;
                }
                self.begun += 1;
                world.put(stick, pose);
                self.take(stick, true);
                self.go_to(LoaderStage::Settling);
            }
            Some(Call::Hold) => {
                if let Some(stick) = self.within_reach(world, rig) {
                    self.take(stick, false);
                    self.travel.goal = self.stands_at;
                    self.go_to(LoaderStage::Approaching);
                }
            }
            // Nothing to let go of.
            _ => self.asked = None,
        }
    }

    fn take(&mut self, stick: StickId, bringing: bool) {
        self.asked = None;
        self.stick = Some(stick);
        self.bringing = bringing;
        self.set_down = false;
        self.free_s = 0.0;
        self.row_end = None;
        self.struck = None;
        self.closing = 0.0;
    }

    fn move_on(&mut self, dt_s: f64) {
        let stopped = self.halted || self.stage == LoaderStage::Stopped;
        let slowly = matches!(self.stage, LoaderStage::Entering | LoaderStage::BackingOut);
        let fastest = if slowly {
            INCHING_M_PER_S
        } else {
            self.spec.drive_m_per_s
        };
        self.travel.tick(
            Rates {
                speed: self.spec.drive_m_per_s.min(fastest),
                speeding: ACCELERATION_M_PER_S2,
                braking: self.spec.braking_m_per_s2,
            },
            stopped,
            dt_s,
        );
        self.lift.tick(
            Rates {
                speed: self.spec.lift_m_per_s,
                speeding: LIFT_ACCELERATION_M_PER_S2,
                braking: LIFT_ACCELERATION_M_PER_S2,
            },
            stopped,
            dt_s,
        );
        self.tilt.tick(
            Rates {
                speed: TILT_RAD_PER_S,
                speeding: TILT_ACCELERATION_RAD_PER_S2,
                braking: TILT_ACCELERATION_RAD_PER_S2,
            },
            stopped,
            dt_s,
        );
    }

    /// How far the forks must rise so that the stick on them clears the rails, m.
    fn raise_over_rails(&self, world: &World, rig: &Rig) -> f64 {
        let Some(stick) = self.stick else { return 0.0 };
        let state = plan_state(world, rig, stick);
        let reach_m = world.pipe(stick).oval().long_m;
        let rise_per_x = self.frame.forward.y / self.frame.forward.x;
        let landing = self.landing_point(world, rig, stick);
        End::BOTH
            .into_iter()
            .flat_map(|side| {
                // The stick's underside over this rail, where it comes in and where it lands.
                let at = state.at_z_m(rig.rail_z_m(side));
                let high = rig.on_rail(side, rig.spec().rack.length_m, 0.0);
                let under = rig.on_rail(side, landing.along_m, 0.0);
                [high, under].map(|rail| {
                    let there = at.y + rise_per_x * (rail.x_m - at.x) - reach_m;
                    rail.y_m + CLEAR_M - there
                })
            })
            .fold(0.0, f64::max)
    }

    /// How far it is to drive, m, until the stick on the forks is over its landing.
    fn way_to_landing(&mut self, world: &World, rig: &Rig) -> f64 {
        let Some(stick) = self.stick else { return 0.0 };
        let landing = self.landing_point(world, rig, stick);
        self.row_end = landing.row_end;
        let middle = plan_state(world, rig, stick).middle;
        (landing.point.x_m - middle.x) / self.frame.forward.x
    }

    fn landing_point(&self, world: &World, rig: &Rig, stick: StickId) -> Landing {
        let oval = world.pipe(stick).oval();
        let front_m = plan_state(world, rig, stick).middle.x + oval.long_m;
        let tips_m = self.fork_point(self.spec.fork_length_m, 0.0).x - front_m;
        let along_m = self.landing_along_m(world, rig, stick, tips_m);
        let points = End::BOTH.map(|side| rig.on_rail(side, along_m, oval.short_m));
        Landing {
            along_m,
            point: Point {
                x_m: (points[0].x_m + points[1].x_m) / 2.0,
                y_m: (points[0].y_m + points[1].y_m) / 2.0,
            },
            row_end: row(world, rig, self.stick).last().map(|&(_, end)| end),
        }
    }

    /// Place of the landing along the rails, m from the toe: the wanted gap from the row's last stick,
    /// or from a stick's place at the gate, but never so near that the tips, `tips_m` before the
    /// stick, would come down on that.
    fn landing_along_m(&self, world: &World, rig: &Rig, stick: StickId, tips_m: f64) -> f64 {
        let reach_m = world.pipe(stick).oval().long_m;
        let end_m = match row(world, rig, self.stick).last() {
            Some(&(along_m, end)) => along_m + world.pipe(end).oval().long_m,
            None => rig.gate_corner_m,
        };
        end_m + self.spec.gap_m.max(tips_m + KEEPS_OFF_M).max(0.0) + reach_m
    }

    /// The stick to hold, if the forks reach it: the lowest on the rack that rests against neither
    /// gate nor row; where all do, the lowest of all.
    fn within_reach(&self, world: &World, rig: &Rig) -> Option<StickId> {
        let row = row(world, rig, None);
        let mut place_m = rig.gate_corner_m + rig.setting_radius_m;
        let mut hung = None;
        for &(along_m, stick) in &row {
            let reach_m = world.pipe(stick).oval().long_m;
            if along_m < rig.gate_corner_m || along_m > place_m + KEEPS_OFF_M {
                hung = Some((along_m, stick));
                break;
            }
            place_m = along_m + 2.0 * reach_m;
        }
        let (along_m, stick) = hung.or(row.first().copied())?;
        let &(top_m, top) = row.last()?;
        let face_m = top_m + world.pipe(top).oval().long_m + KEEPS_OFF_M;
        // The line of contact moves under an oval stick, and back-tilt rolls it to the face.
        let needs_m = face_m - along_m + 0.25 * world.pipe(stick).oval().long_m;
        (self.spec.fork_length_m >= needs_m).then_some(stick)
    }

    /// How far it is to drive, m, until the face is at the row's upper end with the forks under it.
    fn way_under(&self, world: &World, rig: &Rig) -> f64 {
        let Some(&(_, top)) = row(world, rig, None).last() else {
            return 0.0;
        };
        let rear_m = plan_state(world, rig, top).middle.x - world.pipe(top).oval().long_m;
        (rear_m - KEEPS_OFF_M - self.heel().x) / self.frame.forward.x
    }

    /// How far the forks must go down, m, to be clear under the rails when they have gone on by
    /// `further_m` and are tilted by `tilt_rad`. Negative where they are.
    fn drop_needed(&self, rig: &Rig, further_m: f64, tilt_rad: f64) -> f64 {
        let turn = self.machine_turn() * about_z(tilt_rad);
        let heel = self.heel() + self.frame.forward * further_m;
        let mut drop = None;
        for across_m in self.fork_middles_m() {
            for along_m in [0.0, self.spec.fork_length_m] {
                let point = heel + turn * DVec3::new(along_m, 0.0, across_m);
                if point.x >= high_end_x_m(rig) {
                    let over = point.y - rails_y_m(rig, point) + CLEAR_M;
                    drop = Some(drop.map_or(over, |drop: f64| drop.max(over)));
                }
            }
        }
        drop.unwrap_or(0.0)
    }

    /// How far the forks must rise, m, to hold the stick clear of the rails, with all that lie between
    /// it and the face.
    fn rise_needed(&self, world: &World, rig: &Rig) -> f64 {
        let Some(stick) = self.stick else { return 0.0 };
        let ahead_m = plan_state(world, rig, stick).middle.x - self.heel().x;
        let against_face_m = world.pipe(stick).oval().long_m;
        let mut rise = f64::NEG_INFINITY;
        for along_m in [ahead_m, against_face_m] {
            for across_m in self.fork_middles_m() {
                let on_fork_m = along_m.clamp(0.0, self.spec.fork_length_m);
                let point = self.fork_point(on_fork_m, across_m);
                rise = rise.max(rails_y_m(rig, point) + HOLD_LIFT_M - point.y);
            }
        }
        rise
    }

    // Geometry.

    fn nose_down_rad(&self) -> f64 {
        self.pitch_rad - asin(self.frame.forward.y)
    }

    fn fork_middles_m(&self) -> [f64; 2] {
        [0.5, -0.5].map(|part| part * self.spec.fork_spread_m)
    }

    /// Where the front wheels stand, in the middle.
    fn wheels(&self) -> DVec3 {
        self.frame.forward * self.travel.at + self.frame.side * self.spec.off_middle_m
    }

    fn machine_turn(&self) -> DQuat {
        self.frame.turn * about_z(-self.pitch_rad)
    }

    fn fork_turn(&self) -> DQuat {
        self.machine_turn() * about_z(self.tilt.at)
    }

    /// The middle of the line where forks and face meet.
    fn heel(&self) -> DVec3 {
        self.wheels() + self.machine_turn() * DVec3::new(AXLE_TO_FACE_M, self.lift.at, 0.0)
    }

    /// A point of the forks' upper surface, `along_m` from the face and `across_m` off their middle.
    fn fork_point(&self, along_m: f64, across_m: f64) -> DVec3 {
        self.heel() + self.fork_turn() * DVec3::new(along_m, 0.0, across_m)
    }

    fn fork_box(&self, rig: &Rig, fork: usize) -> (DVec3, Pose) {
        let half = DVec3::new(self.spec.fork_length_m, FORK_THICKNESS_M, FORK_WIDTH_M) / 2.0;
        let middle = DVec3::new(half.x, -half.y, self.fork_middles_m()[fork]);
        self.on_carriage(rig, half, middle)
    }

    fn face_box(&self, rig: &Rig) -> (DVec3, Pose) {
        let half = DVec3::new(
            FACE_THICKNESS_M,
            FACE_HEIGHT_M + FORK_THICKNESS_M,
            self.spec.fork_spread_m + FORK_WIDTH_M,
        ) / 2.0;
        let middle = DVec3::new(-half.x, half.y - FORK_THICKNESS_M, 0.0);
        self.on_carriage(rig, half, middle)
    }

    fn on_carriage(&self, rig: &Rig, half: DVec3, middle: DVec3) -> (DVec3, Pose) {
        let turn = self.fork_turn();
        (half, to_world_pose(rig, self.heel() + turn * middle, turn))
    }

    /// A stick as it is picked up: across the forks against the face, its long axis flat on them and
    /// Whether it stands where it started, with nothing to do.
    pub fn is_parked(&self) -> bool {
        self.stage == LoaderStage::Parked
    }

    /// its middle in the middle of the rails.
    fn lying_pose(&self, rig: &Rig) -> Pose {
        let (ahead_m, up_m) = rig.spec().sticks.last().map_or((0.0, 0.0), |stick| {
            let oval = stick.pipe.oval();
            (oval.long_m, oval.short_m)
        });
        let turn = self.fork_turn();
        let middle = DVec3::new(ahead_m, up_m, -self.spec.off_middle_m);
        to_world_pose(rig, self.heel() + turn * middle, turn)
    }

    fn solids(&self) -> impl Iterator<Item = PartId> + use<> {
        let [near, far] = self.forks;
        [near, far, self.face].into_iter()
    }

    // What can be seen of it.
    pub fn stage(&self) -> LoaderStage {
        self.stage
    }

    /// What it is asked and has not begun: it is busy, there is no room on the rack, or the forks do
    /// not reach.
    pub fn asked(&self) -> Option<Call> {
        self.asked
    }

    /// How many sticks it can still be asked for.
    pub fn sticks_left(&self) -> usize {
        self.brings.len() - self.begun
    }

    /// The stick it brings, until the rails carry it or it is dropped.
    pub fn carried(&self) -> Option<StickId> {
        self.stick.filter(|_| self.bringing && !self.set_down)
    }

    /// The stick it holds on the rack, from the moment it has been lifted until it is let down.
    pub fn held(&self) -> Option<StickId> {
        self.stick
            .filter(|_| self.stage == LoaderStage::Holding && !self.bringing)
    }

    /// Whether a stick is the loader's affair and not yet the line's: still to come, or on the forks.
    pub fn keeps(&self, stick: StickId) -> bool {
        self.carried() == Some(stick)
            || self
                .brings
                .get(self.begun..)
                .is_some_and(|rest| rest.contains(&stick))
    }

    /// Whether a stick touches forks or face.
    pub fn is_on(&self, world: &World, stick: StickId) -> bool {
        self.solids().any(|part| world.touches(part, stick))
    }

    /// Load on the near and the far fork, square to them, N.
    pub fn fork_loads_n(&self) -> [f64; 2] {
        self.fork_loads
    }

    /// Moment of what lies on the forks about the front wheels as a fraction of the moment that tips
    /// the machine on this ground. The rating is a fraction of
    /// [`crate::domain::loader::RATED_PART_OF_TIPPING`] on the level.
    pub fn overturning_fraction(&self) -> f64 {
        let resisting = self
            .stability
            .resisting_moment_n_m(self.nose_down_rad(), 0.0);
        self.load_moment / resisting.max(1.0)
    }

    /// How far it has pitched forward about its front wheels, rad.
    pub fn pitch_rad(&self) -> f64 {
        self.pitch_rad
    }

    /// Speed over the ground, forwards, m/s.
    pub fn speed_m_per_s(&self) -> f64 {
        self.travel.speed
    }

    /// Height of the forks' heel over the ground, m.
    pub fn fork_height_m(&self) -> f64 {
        self.lift.at
    }

    /// Back-tilt of the forks against the machine, rad.
    pub fn tilt_rad(&self) -> f64 {
        self.tilt.at
    }

    /// Sticks that have left the forks anywhere but on a landing on the rack.
    pub fn dropped(&self) -> &[StickId] {
        &self.dropped
    }

    /// The stick set down last, once it has come up against the row's last one, and its speed, m/s.
    pub fn row_struck(&self) -> Option<(StickId, f64)> {
        self.struck
    }

    /// Its solids: the machine, the carriage and the two forks.
    pub fn movers(&self, rig: &Rig) -> [Mover; 4] {
        let driving = self.frame.forward * self.travel.speed;
        let lifting = driving + self.frame.up * self.lift.speed;
        let mass_kg = self.stability.mass_kg();
        let mover = |(half, pose): (DVec3, Pose), velocity: DVec3| Mover {
            what: Striker::Loader,
            shape: Shape::Block {
                half: half.as_vec3(),
                pose,
            },
            velocity: to_world(rig, velocity),
            mass_kg,
        };
        let turn = self.machine_turn();
        let body = to_world_pose(rig, self.wheels() + turn * BODY_MIDDLE_M, turn);
        [
            mover((BODY_HALF_M, body), driving),
            mover(self.face_box(rig), lifting),
            mover(self.fork_box(rig, 0), lifting),
            mover(self.fork_box(rig, 1), lifting),
        ]
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> + '_ {
        let axes = [self.travel, self.lift, self.tilt];
        let id = |stick: Option<StickId>| stick.map_or(-1.0, |stick| stick.0 as f64);
        axes.into_iter()
            .flat_map(|axis| [axis.at, axis.goal, axis.speed, axis.acceleration])
            .chain(self.fork_loads)
            .chain(self.dropped.iter().map(|stick| stick.0 as f64))
            .chain([
                f64::from(self.stage as u8),
                self.asked.map_or(-1.0, |call| match call {
                    Call::Load => 0.0,
                    Call::Hold => 1.0,
                    _ => 2.0,
                }),
                f64::from(u8::from(self.halted)),
                f64::from(u8::from(self.bringing)),
                f64::from(u8::from(self.set_down)),
                self.begun as f64,
                id(self.stick),
                id(self.row_end),
                self.since_s,
                self.free_s,
                self.pitch_rad,
                self.pitch_rate,
                self.load_moment,
                self.taken_up,
                self.closing,
                self.struck.map_or(-1.0, |(_, speed)| speed),
            ])
    }
}

/// Where a stick is to be set down.
struct Landing {
    along_m: f64,
    /// Of its centre.
    point: Point,
    row_end: Option<StickId>,
}

/// A stick in the plan of a right-handed line.
struct PlanState {
    middle: DVec3,
    axis: DVec3,
    long_axis: DVec3,
    velocity: DVec3,
}

impl PlanState {
    /// The point of its axis at a place along z.
    fn at_z_m(&self, z_m: f64) -> DVec3 {
        self.middle
            + self.axis
                * ((z_m - self.middle.z) / self.axis.z.abs().max(0.1) * self.axis.z.signum())
    }
}

fn plan_state(world: &World, rig: &Rig, stick: StickId) -> PlanState {
    let state = world.stick(stick);
    let plan = |v: Vector| v.as_dvec3() * DVec3::new(rig.mirror(), 1.0, 1.0);
    PlanState {
        middle: plan(state.pose.translation),
        axis: plan(state.axis()),
        long_axis: plan(state.pose.rotation * Vector::X),
        velocity: plan(state.velocity),
    }
}

/// The sticks on the rack by their place along the rails, lowest first, without `but`.
fn row(world: &World, rig: &Rig, but: Option<StickId>) -> Vec<(f64, StickId)> {
    let mut row: Vec<(f64, StickId)> = world
        .sticks()
        .filter(|&stick| Some(stick) != but && is_on_rack(world, rig, stick))
        .map(|stick| (on_rails(world, rig, stick).0, stick))
        .collect();
    row.sort_by(|p, q| p.0.total_cmp(&q.0));
    row
}

/// How far up the rails a stick's centre is and how far over them, m, on the mean of both.
fn on_rails(world: &World, rig: &Rig, stick: StickId) -> (f64, f64) {
    let point = parts::to_plane(rig, world.stick(stick).pose.translation);
    let both = End::BOTH.map(|side| rig.to_rail(side, point));
    ((both[0].0 + both[1].0) / 2.0, (both[0].1 + both[1].1) / 2.0)
}

/// Whether a stick lies on the rails, or a hand's breadth over them.
fn is_on_rack(world: &World, rig: &Rig, stick: StickId) -> bool {
    let (along_m, above_m) = on_rails(world, rig, stick);
    let oval = world.pipe(stick).oval();
    world.is_present(stick)
        && (0.0..=rig.spec().rack.length_m).contains(&along_m)
        && (0.9 * oval.short_m..=1.1 * oval.long_m + 2.0 * HOLD_LIFT_M).contains(&above_m)
}

/// Where the rack's high end is across the line, m: of the longer rail.
fn high_end_x_m(rig: &Rig) -> f64 {
    let ends = End::BOTH.map(|side| rig.on_rail(side, rig.spec().rack.length_m, 0.0).x_m);
    ends[0].min(ends[1])
}

/// Height of the plane through both rails' surfaces under or over a point, m.
fn rails_y_m(rig: &Rig, point: DVec3) -> f64 {
    let [near, far] = End::BOTH.map(|side| {
        let pitch_rad = rig.rail(side).pitch_rad;
        rig.spec().rack.toe_height_m + (-point.x - rig.toe_m) * tan(pitch_rad)
    });
    let towards_near = 0.5 + point.z / rig.spec().rack.rail_spacing_m;
    far + (near - far) * towards_near
}

fn about_z(angle_rad: f64) -> DQuat {
    DQuat::from_xyzw(0.0, 0.0, sin(angle_rad / 2.0), cos(angle_rad / 2.0))
}

/// A direction or place of the plan in the world.
fn to_world(rig: &Rig, v: DVec3) -> Vector {
    (v * DVec3::new(rig.mirror(), 1.0, 1.0)).as_vec3()
}

/// A body of the plan in the world: on a left-handed line the mirror image of both.
fn to_world_pose(rig: &Rig, middle: DVec3, turn: DQuat) -> Pose {
    let side = rig.mirror();
    let turn = DQuat::from_xyzw(turn.x, side * turn.y, side * turn.z, turn.w);
    Pose::from_parts(to_world(rig, middle), turn.as_quat())
}

/// A specification whose figures can be worked with: the checks of a scenario refuse others.
fn within_reason(spec: LoaderSpec) -> LoaderSpec {
    // `max` and `min`, unlike `clamp`, also turn what is no number into a limit.
    let between = |value: f64, low: f64, high: f64| value.max(low).min(high);
    let at_least = |value: f64, low: f64| between(value, low, 1.0e6);
    LoaderSpec {
        fork_spread_m: at_least(spec.fork_spread_m, 0.2),
        fork_length_m: at_least(spec.fork_length_m, 0.1),
        capacity_kg: at_least(spec.capacity_kg, 1.0),
        load_centre_m: at_least(spec.load_centre_m, 0.0),
        back_tilt_rad: between(spec.back_tilt_rad, -0.5, 0.5),
        off_middle_m: between(spec.off_middle_m, -10.0, 10.0),
        carry_height_m: at_least(spec.carry_height_m, FORK_THICKNESS_M),
        gap_m: at_least(spec.gap_m, 0.0),
        drive_m_per_s: at_least(spec.drive_m_per_s, 0.01),
        braking_m_per_s2: at_least(spec.braking_m_per_s2, 0.05),
        lift_m_per_s: at_least(spec.lift_m_per_s, 0.01),
        starts_beyond_m: between(spec.starts_beyond_m, 0.0, 1.0e3),
        ..spec
    }
}
