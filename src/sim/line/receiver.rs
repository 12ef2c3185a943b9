//! The receiver: two arms with saddles that take the stick and seat it.

use crate::domain::rig::{End, Rig};
use crate::domain::spec::Motion;
use crate::sim::controls::Controls;
use crate::sim::drive::{Drive, Valve, Way};
use crate::sim::world::{PartId, StickId, Touching, World};

use super::parts;

/// Two arms on one valve: they move together; the slower, heavier one sets the pace.
#[derive(Clone, Debug)]
pub struct Receiver {
    arms: [Arm; 2],
    drive: Drive,
    valve: Valve,
}

#[derive(Clone, Copy, Debug)]
struct Arm {
    side: End,
    /// Near face and far face.
    plates: [PartId; 2],
}

impl Receiver {
    pub fn build(world: &mut World, rig: &Rig) -> Self {
        let spec = rig.spec().receiver;
        let valve = Valve::new(rig.spec().faults.motion(Motion::Receiver));
        let mut drive = Drive::new(
            spec.travel_m,
            spec.travel_time_s,
            2.0 * spec.force_max_n,
            spec.starts_up,
        );
        drive.set_slowness(valve.slowness());
        let lowered = spec.travel_m - drive.position();
        let contact = &rig.spec().contact;
        let arms = End::BOTH.map(|side| {
            let touching = Touching {
                friction: contact.friction(rig.rail(side).surface) as f32,
                rolling_lever_arm_m: contact.rolling_lever_arm_m as f32,
            };
            let plates = rig.saddle(lowered).map(|plate| {
                parts::moving(
                    world,
                    rig,
                    plate,
                    rig.arm_z_m(side),
                    rig.saddle_half_width_m(),
                    touching,
                )
            });
            Arm { side, plates }
        });
        Self { arms, drive, valve }
    }

    pub fn tick(&mut self, world: &mut World, rig: &Rig, controls: &Controls, powered: bool) {
        let dt_s = f64::from(world.settings().dt_s);
        let way = self
            .valve
            .tick(controls.asked(Motion::Receiver), powered, dt_s);
        let load: f64 = self
            .plates()
            .map(|part| -f64::from(world.force_on_part(part).y))
            .sum();
        self.drive.tick(way, load, dt_s);
        if way == Way::Hold {
            self.drive.leak(self.valve.creep_m_per_s(), dt_s);
        }
        let gives_m = self.valve.gives_m(self.drive.load_fraction(), dt_s);
        let lowered = rig.spec().receiver.travel_m - self.drive.position() + gives_m;
        let plates = rig.saddle(lowered);
        for arm in &self.arms {
            for (part, place) in arm.plates.into_iter().zip(plates) {
                parts::place(world, rig, part, place, rig.arm_z_m(arm.side));
            }
        }
    }

    /// Its hoses and valve have been put right.
    pub fn mend(&mut self) {
        self.valve.mend();
        self.drive.set_slowness(1.0);
    }

    /// Its plates.
    pub fn parts(&self) -> impl Iterator<Item = PartId> + '_ {
        self.plates()
    }

    fn plates(&self) -> impl Iterator<Item = PartId> + '_ {
        self.arms.iter().flat_map(|arm| arm.plates)
    }

    pub fn is_up(&self) -> bool {
        self.drive.at(Way::Out)
    }

    pub fn is_stalled(&self) -> bool {
        self.drive.is_stalled()
    }

    /// How far it is lowered from 'up', m.
    pub fn lowered_m(&self, rig: &Rig) -> f64 {
        rig.spec().receiver.travel_m - self.drive.position()
    }

    /// Whether a stick touches the stop face of either arm.
    pub fn stops(&self, world: &World, stick: StickId) -> bool {
        self.arms
            .iter()
            .any(|arm| world.touches(arm.plates[1], stick))
    }

    /// Whether a stick touches any part of it.
    pub fn carries(&self, world: &World, stick: StickId) -> bool {
        self.plates().any(|part| world.touches(part, stick))
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> {
        self.drive.state().into_iter().chain(self.valve.state())
    }
}
