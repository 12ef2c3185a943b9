//! The line: rack, escapement, receiver, ground and the row, stepped with an operator's controls.
//!
//! Order of one tick: people (with their deeds) -> controls (with the interlock) -> escapement ->
//! receiver -> chocks -> world step (loads, engine) -> who was struck -> senses. A line can be forked
//! at any tick.

mod chocks;
mod escapement;
mod parts;
mod people;
mod receiver;
mod row;
mod senses;

use xxhash_rust::xxh3::Xxh3;

pub use chocks::{Chocks, lowest_on_rack};
pub use escapement::Stage;
pub use people::{
    BarFrom, Deed, Mover, People, Person, PersonId, Shape, State, Strike, Striker, Watch,
};
pub use senses::{Event, EventKind, StickPlace};

use super::Vector;
use super::controls::{Button, Controls};
use super::drive::Way;
use super::world::{PartId, SimFault, StickId, StickState, Touching, World, WorldSettings};
use crate::domain::math::{GRAVITY_M_PER_S2, cos, sin, tan};
use crate::domain::rig::{End, Point, Rig};
use crate::domain::spec::{LineSpec, Motion};
use escapement::Escapement;
use receiver::Receiver;
use senses::Senses;

/// A line at one moment.
pub struct Line {
    rig: Rig,
    world: World,
    ground: PartId,
    escapement: Escapement,
    receiver: Receiver,
    chocks: Chocks,
    people: People,
    senses: Senses,
}

impl Line {
    /// Builds a line from a checked specification, the row placed but not yet settled.
    pub fn build(spec: &LineSpec) -> Self {
        Self::build_with_step(spec, super::world::DT_S)
    }

    /// As [`Line::build`], with another time step: for convergence checks only.
    pub fn build_with_step(spec: &LineSpec, dt_s: f32) -> Self {
        let rig = Rig::new(spec);
        let mut world = World::new(settings(spec, &rig, dt_s));
        for side in End::BOTH {
            let touching = Touching {
                friction: spec.contact.friction(rig.rail(side).surface) as f32,
                rolling_lever_arm_m: spec.contact.rolling_lever_arm_m as f32,
            };
            let half_width_m = spec.rack.rail_width_m / 2.0;
            parts::fixed(
                &mut world,
                &rig,
                rig.rail_box(side),
                rig.rail_z_m(side),
                half_width_m,
                touching,
            );
        }
        let ground = world.add_ground(
            Vector::ZERO,
            ground_normal(spec, &rig),
            Touching {
                friction: spec.ground.friction as f32,
                rolling_lever_arm_m: spec.ground.rolling_lever_arm_m as f32,
            },
        );
        let escapement = Escapement::build(&mut world, &rig);
        let receiver = Receiver::build(&mut world, &rig);
        for (stick, state) in spec.sticks.iter().zip(row::placed(&rig)) {
            world.add_stick(&stick.pipe, state);
        }
        let chocks = Chocks::build(&mut world, &rig);
        let people = People::new(&rig);
        let senses = Senses::new(spec.sticks.len());
        Self {
            rig,
            world,
            ground,
            escapement,
            receiver,
            chocks,
            people,
            senses,
        }
    }

    /// One tick under the given controls. After a [`SimFault`] nothing moves any more.
    pub fn tick(&mut self, controls: &Controls) {
        self.let_people_act(controls);
        let powered = !controls.emergency_stop && !controls.isolated;
        let pressed = controls.has(Button::Feed);
        let feed = pressed && (self.escapement.stage() != Stage::Blocked || self.may_feed());
        if pressed && !feed {
            self.senses.refused(self.world.tick());
        }
        self.escapement
            .tick(&mut self.world, &self.rig, feed, powered);
        let way = if powered {
            controls.asked(Motion::Receiver)
        } else {
            Way::Hold
        };
        self.receiver.tick(&mut self.world, &self.rig, way);
        self.chocks.tick(&mut self.world, &self.rig);
        self.world.step();
        self.people.observe(&self.world, &self.rig, &[], &[]);
        let mut senses = core::mem::take(&mut self.senses);
        senses.observe(self);
        self.senses = senses;
    }

    /// The people do what they do, and what they have done to the line is carried out.
    fn let_people_act(&mut self, controls: &Controls) {
        let watch = Watch {
            zone: &self.rig.spec().zone.cones,
            stick_can_move: self.stick_can_move(),
            stick_lost: self.is_lost_any(),
        };
        let deeds = self
            .people
            .tick(&mut self.world, &self.rig, controls, &watch);
        for deed in deeds {
            match deed {
                Deed::SetChock { side, below } => {
                    self.chocks.set(&self.world, &self.rig, side, below);
                }
                Deed::TakeChock { side } => self.chocks.take(side),
                Deed::Bar { .. } | Deed::Clamp | Deed::Unclamp => {}
            }
        }
    }

    /// Whether some stick on the line can move: it is there and not chocked.
    pub fn stick_can_move(&self) -> bool {
        self.sticks().any(|stick| {
            self.world.is_present(stick)
                && self.senses.place(stick) != StickPlace::Lost
                && !self.chocks.is_chocked(&self.world, &self.rig, stick)
        })
    }

    fn is_lost_any(&self) -> bool {
        let mut sticks = self.sticks();
        sticks.any(|stick| self.senses.place(stick) == StickPlace::Lost)
    }

    /// The people on the site.
    pub fn people(&self) -> &People {
        &self.people
    }

    /// The row chocks.
    pub fn chocks(&self) -> &Chocks {
        &self.chocks
    }

    /// The feed interlock: receiver up and empty, unless it is defeated.
    fn may_feed(&self) -> bool {
        !self.rig.spec().escapement.interlock || (self.receiver.is_up() && self.receiver_is_empty())
    }

    /// Whether no stick lies in the receiver's room.
    pub fn receiver_is_empty(&self) -> bool {
        let reach = 2.0 * self.rig.setting_radius_m;
        self.world.sticks().all(|stick| {
            let at = self.plane_point(stick);
            at.x_m.abs() > reach
                || self.senses.place(stick) == StickPlace::Lost
                || self.along_m(stick) > self.rig.gate_corner_m
        })
    }

    pub fn rig(&self) -> &Rig {
        &self.rig
    }

    pub fn world(&self) -> &World {
        &self.world
    }

    pub fn tick_count(&self) -> u64 {
        self.world.tick()
    }

    pub fn time_s(&self) -> f64 {
        self.world.time_s()
    }

    /// Time at the end of a tick, s.
    pub fn time_at_s(&self, tick: u64) -> f64 {
        self.world.time_at_s(tick)
    }

    pub fn fault(&self) -> Option<SimFault> {
        self.world.fault()
    }

    pub fn sticks(&self) -> impl ExactSizeIterator<Item = StickId> + use<> {
        self.world.sticks()
    }

    pub fn stick(&self, stick: StickId) -> StickState {
        self.world.stick(stick)
    }

    /// What has happened so far, in order.
    pub fn events(&self) -> &[Event] {
        self.senses.events()
    }

    pub fn place(&self, stick: StickId) -> StickPlace {
        self.senses.place(stick)
    }

    pub fn stage(&self) -> Stage {
        self.escapement.stage()
    }

    /// How far each gate pin stands up (near, far), or how far each wheel has turned, as a fraction.
    pub fn gate_fractions(&self) -> [f64; 2] {
        self.escapement.gate_fractions()
    }

    pub fn separator_fractions(&self) -> [f64; 2] {
        self.escapement.separator_fractions()
    }

    pub fn receiver_is_up(&self) -> bool {
        self.receiver.is_up()
    }

    pub fn receiver_lowered_m(&self) -> f64 {
        self.receiver.lowered_m(&self.rig)
    }

    pub fn is_stalled(&self) -> bool {
        self.escapement.is_stalled() || self.receiver.is_stalled()
    }

    /// A stick's centre in the rig's plane.
    pub fn plane_point(&self, stick: StickId) -> Point {
        parts::to_plane(&self.rig, self.world.stick(stick).pose.translation)
    }

    /// How far up the rack a stick's centre is, from the toe, on the mean of both rails, m.
    pub fn along_m(&self, stick: StickId) -> f64 {
        let point = self.plane_point(stick);
        let along = End::BOTH.map(|side| self.rig.to_rail(side, point).0);
        (along[0] + along[1]) / 2.0
    }

    /// How high a stick's centre stands over the rails' surface, on the mean of both rails, m.
    pub fn above_rails_m(&self, stick: StickId) -> f64 {
        let point = self.plane_point(stick);
        let above = End::BOTH.map(|side| self.rig.to_rail(side, point).1);
        (above[0] + above[1]) / 2.0
    }

    /// Speed of a stick's centre, m/s.
    pub fn speed_m_per_s(&self, stick: StickId) -> f64 {
        f64::from(self.world.stick(stick).velocity.length())
    }

    /// Yaw of a stick, positive with its +z end up the rack, rad.
    pub fn yaw_rad(&self, stick: StickId) -> f64 {
        let axis = self.world.stick(stick).axis();
        crate::domain::math::atan2(
            -self.rig.mirror() * f64::from(axis.x) * f64::from(axis.z.signum()),
            f64::from(axis.z.abs()),
        )
    }

    /// Whether every stick is at rest (slower than 2 mm/s and 2 mrad/s).
    pub fn is_at_rest(&self) -> bool {
        self.world.sticks().all(|stick| {
            let state = self.world.stick(stick);
            state.velocity.length() < 2.0e-3 && state.spin.length() < 2.0e-3
        })
    }

    /// A copy that goes on exactly as this one would.
    pub fn fork(&self) -> Self {
        Self {
            rig: self.rig.clone(),
            world: self.world.fork(),
            ground: self.ground,
            escapement: self.escapement.clone(),
            receiver: self.receiver.clone(),
            chocks: self.chocks.clone(),
            people: self.people.clone(),
            senses: self.senses.clone(),
        }
    }

    /// A hash over every bit of the state.
    pub fn hash(&self) -> u64 {
        let mut hasher = Xxh3::new();
        hasher.update(&self.world.hash().to_le_bytes());
        let numbers = self.escapement.state().chain(self.receiver.state());
        let numbers = numbers.chain(self.chocks.state());
        for number in numbers.chain(self.people.state()) {
            hasher.update(&number.to_bits().to_le_bytes());
        }
        hasher.update(&(self.senses.events().len() as u64).to_le_bytes());
        for stick in self.world.sticks() {
            hasher.update(&[self.senses.place(stick) as u8]);
        }
        hasher.digest()
    }
}

fn settings(spec: &LineSpec, rig: &Rig, dt_s: f32) -> WorldSettings {
    let weather = &spec.weather;
    let (x, z) = (
        rig.mirror() * weather.wind_speed_m_per_s * cos(weather.wind_towards_rad),
        weather.wind_speed_m_per_s * sin(weather.wind_towards_rad),
    );
    WorldSettings {
        dt_s,
        gravity_m_per_s2: Vector::new(0.0, -GRAVITY_M_PER_S2 as f32, 0.0),
        friction_pipe_on_pipe: spec.contact.friction_pipe_on_pipe as f32,
        restitution: spec.contact.restitution as f32,
        wind_m_per_s: Vector::new(x as f32, 0.0, z as f32),
        drag_coefficient: weather.drag_coefficient as f32,
    }
}

fn ground_normal(spec: &LineSpec, rig: &Rig) -> Vector {
    let ground = &spec.ground;
    Vector::new(
        (rig.mirror() * tan(ground.cross_fall_rad)) as f32,
        1.0,
        tan(ground.along_fall_rad) as f32,
    )
}
