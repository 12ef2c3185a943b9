//! The line: rack, escapement, receiver, ground and the row, stepped with an operator's controls.
//!
//! Order of one tick: the instructor's hand -> people (with their deeds) -> controls (with the interlock) -> rack -> escapement ->
//! receiver -> cradles -> machine -> chocks -> loader -> world step (loads, engine) -> who was struck ->
//! senses. A line can be forked at any tick.

mod chocks;
mod cradles;
mod digests;
mod escapement;
mod footing;
mod loader;
mod machine;
mod parts;
mod people;
mod rack;
mod receiver;
mod row;
mod senses;
mod upset;
mod watch;

use xxhash_rust::xxh3::Xxh3;

pub use chocks::{Chocks, lowest_on_rack};
pub use digests::Body;
pub use escapement::Stage;
pub use loader::{BODY_MIDDLE_M as LOADER_BODY_MIDDLE_M, Loader, LoaderStage};
pub use machine::{FrontEnd, Jaws};
pub use people::{
    BarFrom, Deed, Mover, People, Person, PersonId, Shape, State, Strike, Striker, Watch,
};
pub use senses::{Event, EventKind, StickPlace};
pub use watch::ZoneWatch;

use super::Vector;
use super::controls::{Button, Controls};
use super::drive::Way;
use super::world::{PartId, SimFault, StickId, StickState, Touching, World, WorldSettings};
use crate::domain::math::{GRAVITY_M_PER_S2, cos, sin, tan};
use crate::domain::rig::{End, Point, Rig};
use crate::domain::spec::{Item, LineSpec, Motion};
use cradles::Cradles;
use escapement::Escapement;
use machine::Machine;
use rack::Rack;
use receiver::Receiver;
use senses::Senses;
use upset::Upsets;

/// A line at one moment.
pub struct Line {
    rig: Rig,
    world: World,
    ground: PartId,
    rack: Rack,
    escapement: Escapement,
    receiver: Receiver,
    cradles: Cradles,
    machine: Machine,
    loader: Option<Loader>,
    chocks: Chocks,
    people: People,
    /// The power is isolated and locked.
    isolated: bool,
    watch: Option<ZoneWatch>,
    upsets: Upsets,
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
        let rack = Rack::build(&mut world, &rig);
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
        let cradles = Cradles::build(&mut world, &rig);
        let machine = Machine::build(&mut world, &rig);
        for (stick, state) in spec.sticks.iter().zip(row::placed(&rig)) {
            world.add_stick(&stick.pipe, state);
        }
        let loader = spec
            .loader
            .map(|loader| Loader::build(&mut world, &rig, ground, loader));
        let chocks = Chocks::build(&mut world, &rig);
        let people = People::new(&rig);
        let watch = ZoneWatch::new(&rig, people.iter().len());
        let senses = Senses::new(world.sticks().len());
        Self {
            rig,
            world,
            ground,
            rack,
            escapement,
            receiver,
            cradles,
            machine,
            loader,
            chocks,
            people,
            isolated: false,
            watch,
            upsets: Upsets::default(),
            senses,
        }
    }

    /// One tick under the given controls. After a [`SimFault`] nothing moves any more.
    pub fn tick(&mut self, controls: &Controls) {
        self.isolated = controls.isolated;
        self.upset(controls.upset);
        self.let_people_act(controls);
        // The machine has power of its own, which only the emergency stop and a failure take away.
        let runs = self.has_power(controls);
        let powered = runs && !controls.isolated;
        let pressed = controls.has(Button::Feed);
        let feed = pressed && (self.escapement.stage() != Stage::Blocked || self.may_feed());
        if pressed && !feed {
            self.senses.refused(self.world.tick());
        }
        let (world, rig) = (&mut self.world, &mut self.rig);
        self.rack.tick(world, rig, controls);
        for side in End::BOTH {
            let cranked = controls.jack(side) != Way::Hold;
            let under_load = cranked && self.rack.jack_load_n(side) > 0.0;
            self.senses.jacked(world.tick(), side, under_load);
        }
        self.escapement.tick(world, rig, feed, powered);
        self.receiver.tick(world, rig, controls, powered);
        let declutched = self.machine.held().is_some();
        self.cradles.tick(world, rig, controls, powered, declutched);
        if let Some(stick) = self.machine.tick(world, rig, runs) {
            self.senses.joined(self.world.tick(), stick);
        }
        self.chocks.tick(&mut self.world, &self.rig);
        if let Some(loader) = &mut self.loader {
            loader.set_halted(self.people.spotter_says_stop());
            loader.tick(&mut self.world, &self.rig, controls.call);
        }
        self.world.step();
        self.see_who_was_struck();
        self.watch_the_zone();
        let mut senses = core::mem::take(&mut self.senses);
        senses.observe(self);
        self.senses = senses;
    }

    fn clamp(&mut self) {
        let taken = self.machine.clamp(&self.world, &self.rig).map(|stick| {
            let front = self.front_end(stick);
            (stick, front, self.long_axis_off_rad(stick))
        });
        self.senses.clamped(self.world.tick(), taken);
    }

    fn unclamp(&mut self) {
        if let Some(stick) = self.machine.unclamp() {
            self.senses.unclamped(self.world.tick(), stick);
        }
    }

    /// Whether there is power: no emergency stop, and the engine runs.
    pub fn has_power(&self, controls: &Controls) -> bool {
        let fails_s = self.rig.spec().faults.power_fails_s;
        let has_failed = fails_s.is_some_and(|fails_s| self.time_s() >= fails_s);
        !controls.emergency_stop && !has_failed
    }

    /// The people do what they do, and what they have done to the line is carried out.
    fn let_people_act(&mut self, controls: &Controls) {
        if self.people.is_empty() {
            return;
        }
        let watch = Watch {
            zone: self.watch.as_ref().and_then(ZoneWatch::zone),
            stick_can_move: self.stick_can_move(),
            stick_lost: self.is_lost_any(),
        };
        let deeds = self
            .people
            .tick(&mut self.world, &self.rig, controls, &watch);
        let tick = self.world.tick();
        for deed in deeds {
            match deed {
                Deed::SetChock { side, below } => {
                    if self.chocks.set(&self.world, &self.rig, side, below) {
                        self.senses.tell(tick, EventKind::ChockSet { side });
                    }
                }
                Deed::TakeChock { side } => {
                    self.chocks.take(side);
                    self.senses.tell(tick, EventKind::ChockTaken { side });
                }
                Deed::Bar { stick, from } => {
                    self.senses.tell(tick, EventKind::Barred { stick, from });
                }
                Deed::Repair(item) => self.repair(item),
                Deed::Clamp => self.clamp(),
                Deed::Unclamp => self.unclamp(),
            }
        }
    }

    /// Whether a stick can move: it is on the rack, the receiver or the cradles, or with the loader,
    /// and neither chocked, clamped nor isolated. What has gone past the gate no isolation holds.
    pub fn can_move(&self, stick: StickId) -> bool {
        if !self.world.is_present(stick) {
            return false;
        }
        match self.senses.place(stick) {
            StickPlace::Held => {
                self.is_coming(stick)
                    || !(self.isolated || self.chocks.is_chocked(&self.world, &self.rig, stick))
            }
            StickPlace::Released => {
                let held = self.loader.as_ref().and_then(Loader::held);
                held != Some(stick) && !self.chocks.is_chocked(&self.world, &self.rig, stick)
            }
            StickPlace::Received | StickPlace::Seated => !self.isolated,
            StickPlace::Clamped | StickPlace::Joined => false,
            StickPlace::Lost => self.speed_m_per_s(stick) > 0.01,
        }
    }

    /// Whether any stick can move.
    pub fn stick_can_move(&self) -> bool {
        self.sticks().any(|stick| self.can_move(stick))
    }

    fn is_lost_any(&self) -> bool {
        let mut sticks = self.sticks();
        sticks.any(|stick| self.senses.place(stick) == StickPlace::Lost)
    }

    /// Puts an item right, if the power is isolated.
    fn repair(&mut self, item: Item) {
        let tick = self.world.tick();
        if !self.isolated {
            self.senses.tell(tick, EventKind::NotIsolated { item });
            return;
        }
        self.rig.mend(item);
        match item {
            Item::Motion(Motion::Receiver) => self.receiver.mend(),
            Item::Motion(motion) => self.cradles.mend(motion),
            Item::Rail(side) => self.escapement.mend(side),
            Item::Radio => self.people.mend_radio(),
            Item::Rollers => {}
        }
        self.senses.tell(tick, EventKind::Repaired { item });
    }

    fn watch_the_zone(&mut self) {
        let can_move = self.watch.is_some() && self.stick_can_move();
        let dt_s = f64::from(self.world.settings().dt_s);
        let (tick, senses) = (self.world.tick(), &mut self.senses);
        if let Some(watch) = &mut self.watch {
            watch.observe(&self.people, can_move, dt_s, |person, inside| {
                let kind = if inside {
                    EventKind::ZoneEntered { person }
                } else {
                    EventKind::ZoneLeft { person }
                };
                senses.tell(tick, kind);
            });
        }
    }

    /// Whether the power is isolated and locked.
    pub fn is_isolated(&self) -> bool {
        self.isolated
    }

    /// The exclusion zone as it is kept; None where there is nobody to keep it.
    pub fn watch(&self) -> Option<&ZoneWatch> {
        self.watch.as_ref()
    }

    /// What moves beside the sticks may strike somebody too.
    fn see_who_was_struck(&mut self) {
        if self.people.is_empty() {
            return;
        }
        let (world, rig) = (&self.world, &self.rig);
        let mut movers: Vec<Mover> = self
            .receiver
            .parts()
            .chain(self.cradles.parts())
            .filter_map(|part| parts::mover(world, part))
            .collect();
        let mut carried: Vec<StickId> = Vec::new();
        if let Some(loader) = &self.loader {
            movers.extend(loader.movers(rig));
            carried.extend(loader.carried().or(loader.held()));
        }
        let raised = End::BOTH
            .iter()
            .any(|&end| self.cradles.raised_m(end) > 0.0);
        let lifted = self.present().filter(|&stick| {
            raised
                && matches!(
                    self.senses.place(stick),
                    StickPlace::Seated | StickPlace::Clamped | StickPlace::Joined
                )
        });
        carried.extend(lifted);
        self.people.observe(world, rig, &movers, &carried);
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
        self.receiver_is_empty_by(&self.senses)
    }

    fn receiver_is_empty_by(&self, senses: &Senses) -> bool {
        let reach = 2.0 * self.rig.setting_radius_m;
        self.present().all(|stick| {
            let at = self.plane_point(stick);
            at.x_m.abs() > reach
                || senses.place(stick) == StickPlace::Lost
                || self.along_m(stick) > self.rig.gate_corner_m
        })
    }

    /// Whether a gate that rises now comes up under a stick.
    pub fn is_any_over_gate(&self) -> bool {
        self.senses.over_gate(self).is_some()
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

    /// The loader, if there is one.
    pub fn loader(&self) -> Option<&Loader> {
        self.loader.as_ref()
    }

    /// Whether a stick is still to be brought, or on its way to the rack.
    fn is_coming(&self, stick: StickId) -> bool {
        self.loader
            .as_ref()
            .is_some_and(|loader| loader.keeps(stick))
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
        self.escapement.is_stalled() || self.receiver.is_stalled() || self.cradles.is_stalled()
    }

    /// How far a lift is raised from its lowest place, m.
    pub fn raised_m(&self, end: End) -> f64 {
        self.cradles.raised_m(end)
    }

    /// How far a cradle stands off the line's centre, away from the rack, m.
    pub fn cradle_off_m(&self, end: End) -> f64 {
        self.cradles.off_m(&self.rig, end)
    }

    /// How far a lift column leans away from the rack, rad.
    pub fn column_lean_rad(&self, end: End) -> f64 {
        self.cradles.lean_rad(&self.rig, end)
    }

    /// Weight on a cradle, N.
    pub fn cradle_load_n(&self, end: End) -> f64 {
        self.cradles.load_n(&self.world, end)
    }

    /// Speed of the near rollers along the line and of the far ones about the stick, m/s.
    pub fn roller_speeds_m_per_s(&self) -> [f64; 2] {
        self.cradles.roller_speeds_m_per_s()
    }

    /// How far out a motion stands, m; of rollers, how fast they run, m/s.
    pub fn motion(&self, motion: Motion) -> f64 {
        match motion {
            Motion::Receiver => -self.receiver_lowered_m(),
            Motion::LiftNear => self.raised_m(End::Near),
            Motion::LiftFar => self.raised_m(End::Far),
            Motion::ShiftNear => self.cradle_off_m(End::Near),
            Motion::ShiftFar => self.cradle_off_m(End::Far),
            Motion::Turn => self.roller_speeds_m_per_s()[1],
            Motion::Advance => self.roller_speeds_m_per_s()[0],
        }
    }

    /// Whether a stick lies in a cradle, on both of its faces.
    pub fn is_in_cradle(&self, end: End, stick: StickId) -> bool {
        self.cradles.holds(&self.world, end, stick)
    }

    /// Whether a stick lies on the receiver.
    pub fn is_on_receiver(&self, stick: StickId) -> bool {
        self.receiver.carries(&self.world, stick)
    }

    /// Whether a stick lies on both rails.
    pub fn is_on_rails(&self, stick: StickId) -> bool {
        End::BOTH
            .iter()
            .all(|&side| self.rack.carries(&self.world, side, stick))
    }

    /// Load on the jack under a rail's high end, N.
    pub fn jack_load_n(&self, side: End) -> f64 {
        self.rack.jack_load_n(side)
    }

    /// Pitch of a rail as it stands now, rad.
    pub fn pitch_rad(&self, side: End) -> f64 {
        self.rig.rail(side).pitch_rad
    }

    /// What the inclinometer on a rail shows, rad.
    pub fn inclinometer_rad(&self, side: End) -> f64 {
        self.pitch_rad(side) + self.rig.faults(side).inclinometer_error_rad
    }

    pub fn jaws(&self) -> Jaws {
        self.machine.jaws()
    }

    /// Where the front end of a stick is, seen from the end of the string in the jaws.
    pub fn front_end(&self, stick: StickId) -> FrontEnd {
        self.machine.front_end(&self.world, &self.rig, stick)
    }

    /// Whether a stick lies on the machine's rest.
    pub fn is_on_rest(&self, stick: StickId) -> bool {
        self.machine.rest_carries(&self.world, stick)
    }

    /// The point of a stick's axis at a place along the line, in the rig's plane.
    pub fn axis_at(&self, stick: StickId, z_m: f64) -> Point {
        let state = self.world.stick(stick);
        let (middle, axis) = (state.pose.translation, state.axis());
        let along = if axis.z.abs() > 1.0e-3 {
            (z_m as f32 - middle.z) / axis.z
        } else {
            0.0
        };
        parts::to_plane(&self.rig, middle + axis * along)
    }

    /// Lengthwise tilt of a stick, positive with its end at the machine high, rad.
    pub fn tilt_rad(&self, stick: StickId) -> f64 {
        let axis = self.world.stick(stick).axis();
        crate::domain::math::asin(f64::from(axis.y * axis.z.signum()).clamp(-1.0, 1.0))
    }

    /// Angle of a stick's long axis from the vertical, from -π/2 to π/2, positive with its top away
    /// from the rack, rad.
    pub fn long_axis_off_rad(&self, stick: StickId) -> f64 {
        let long = self.world.stick(stick).pose.rotation * Vector::X;
        let up = if long.y < 0.0 { -long } else { long };
        crate::domain::math::atan2(self.rig.mirror() * f64::from(up.x), f64::from(up.y))
    }

    /// Sticks that are in the world: neither still to be brought nor part of the string already.
    pub fn present(&self) -> impl Iterator<Item = StickId> + '_ {
        self.world
            .sticks()
            .filter(|&stick| self.world.is_present(stick))
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
        self.present().all(|stick| {
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
            rack: self.rack.clone(),
            escapement: self.escapement.clone(),
            receiver: self.receiver.clone(),
            cradles: self.cradles.clone(),
            machine: self.machine.clone(),
            loader: self.loader.clone(),
            chocks: self.chocks.clone(),
            people: self.people.clone(),
            isolated: self.isolated,
            watch: self.watch.clone(),
            upsets: self.upsets.clone(),
            senses: self.senses.clone(),
        }
    }

    /// A copy that goes on with the coefficients of contact of a specification that is otherwise this
    /// line's.
    pub fn fork_with_contact_of(&self, spec: &LineSpec) -> Self {
        let other = Self::build(spec);
        let mut fork = self.fork();
        fork.world.take_contact(&other.world);
        fork.rig.set_contact(spec.contact);
        fork
    }

    /// A hash over every bit of the state.
    pub fn hash(&self) -> u64 {
        let mut hasher = Xxh3::new();
        hasher.update(&self.world.hash().to_le_bytes());
        let states = self
            .rack
            .state()
            .chain(self.escapement.state())
            .chain(self.receiver.state())
            .chain(self.cradles.state())
            .chain(self.machine.state())
            .chain(self.loader.iter().flat_map(Loader::state))
            .chain(self.chocks.state())
            .chain(self.people.state())
            .chain(self.watch.iter().flat_map(ZoneWatch::state))
            .chain(self.upsets.state())
            .chain([f64::from(u8::from(self.isolated))]);
        for number in states {
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
