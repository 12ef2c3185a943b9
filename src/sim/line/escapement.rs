//! The escapement: what holds the row and lets one stick go.
//!
//! It fails blocked: on let-go, on an emergency stop and without power its springs close it with the
//! same finite force, so a stick that lies half over the gate stalls it.

use crate::domain::rig::{End, NOTCH_RAD, PlaneBox, Rig, SPOKES};
use crate::domain::spec::EscapementKind;
use crate::sim::drive::{Delay, Drive, Way};
use crate::sim::world::{PartId, Touching, World};

use super::parts;

/// Where the cycle stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stage {
    /// The row is held; a new press of feed starts a cycle.
    Blocked,
    /// Pins: the separator comes up between the first and the second stick.
    Separating,
    /// Pins: the gate goes down. Wheel: it turns.
    Opening,
    /// Pins: the gate is down and the first stick may go.
    Open,
    /// Pins: the gate comes up again.
    Closing,
    /// Pins: the separator goes down and the row moves up to the gate.
    Joining,
    /// The cycle is over; feed must be let go before the next.
    Done,
}

#[derive(Clone, Debug)]
pub struct Escapement {
    stage: Stage,
    device: Device,
}

// One to a line: its size does not matter.
#[allow(clippy::large_enum_variant)]
#[derive(Clone, Debug)]
enum Device {
    Pins {
        gates: [Pin; 2],
        separators: [Pin; 2],
    },
    Wheels([Wheel; 2]),
}

#[derive(Clone, Copy, Debug)]
struct Pin {
    side: End,
    /// None where the pin is missing; its drive moves all the same.
    part: Option<PartId>,
    /// It sticks where it stands.
    stuck: bool,
    drive: Drive,
    delay: Delay,
}

#[derive(Clone, Copy, Debug)]
struct Wheel {
    side: End,
    spokes: [PartId; SPOKES],
    drive: Drive,
    delay: Delay,
    /// Notches turned so far; the angle is never wound back, so that its rotation stays continuous.
    notches: u32,
}

impl Escapement {
    pub fn build(world: &mut World, rig: &Rig) -> Self {
        let spec = rig.spec().escapement;
        let device = match spec.kind {
            EscapementKind::PinPair => {
                let gates = End::BOTH.map(|side| {
                    let faults = rig.faults(side);
                    let delay = Delay::new(faults.gate_late_s, Way::Out);
                    let missing = faults.gate_missing;
                    Pin {
                        stuck: faults.gate_stuck,
                        ..Pin::build(world, rig, side, delay, missing, Rig::gate_pin)
                    }
                });
                let separators = End::BOTH.map(|side| {
                    let delay = Delay::new(0.0, Way::Back);
                    let missing = rig.faults(side).separator_missing;
                    Pin::build(world, rig, side, delay, missing, Rig::separator_pin)
                });
                Device::Pins { gates, separators }
            }
            EscapementKind::StarWheel => Device::Wheels(End::BOTH.map(|side| {
                let torque = spec.force_max_n * rig.spoke_m;
                let drive = Drive::new(NOTCH_RAD, spec.stroke_time_s, torque, false);
                let spokes = core::array::from_fn(|i| {
                    let place = rig.spoke(side, i, 0.0);
                    parts::moving(
                        world,
                        rig,
                        place,
                        rig.pin_z_m(side),
                        rig.pin_half_width_m(),
                        steel(rig, side),
                    )
                });
                Wheel {
                    side,
                    spokes,
                    drive,
                    delay: Delay::new(rig.faults(side).gate_late_s, Way::Hold),
                    notches: 0,
                }
            })),
        };
        Self {
            stage: Stage::Blocked,
            device,
        }
    }

    pub fn stage(&self) -> Stage {
        self.stage
    }

    /// Whether any of its drives is held by its load.
    pub fn is_stalled(&self) -> bool {
        match &self.device {
            Device::Pins { gates, separators } => gates
                .iter()
                .chain(separators)
                .any(|pin| pin.drive.is_stalled()),
            Device::Wheels(wheels) => wheels.iter().any(|wheel| wheel.drive.is_stalled()),
        }
    }

    /// How far each gate stands up, near then far, as a fraction; of a wheel, how far it has turned
    /// towards the next notch.
    pub fn gate_fractions(&self) -> [f64; 2] {
        match &self.device {
            Device::Pins { gates, .. } => gates.map(|pin| pin.drive.fraction()),
            Device::Wheels(wheels) => wheels.map(|wheel| wheel.drive.fraction()),
        }
    }

    /// How far each separator stands up, near then far, as a fraction; 0 for a wheel.
    pub fn separator_fractions(&self) -> [f64; 2] {
        match &self.device {
            Device::Pins { separators, .. } => separators.map(|pin| pin.drive.fraction()),
            Device::Wheels(_) => [0.0; 2],
        }
    }

    /// The parts that hold the row back: gate pins, or all spokes.
    pub fn gate_parts(&self) -> impl Iterator<Item = PartId> + '_ {
        let (pins, wheels): (&[Pin], &[Wheel]) = match &self.device {
            Device::Pins { gates, .. } => (gates, &[]),
            Device::Wheels(wheels) => (&[], wheels),
        };
        pins.iter()
            .filter_map(|pin| pin.part)
            .chain(wheels.iter().flat_map(|wheel| wheel.spokes))
    }

    /// One tick. `feed` is the button (already interlocked), `powered` is false in an emergency stop.
    pub fn tick(&mut self, world: &mut World, rig: &Rig, feed: bool, powered: bool) {
        let dt_s = f64::from(world.settings().dt_s);
        let run = feed && powered;
        match &mut self.device {
            Device::Pins { gates, separators } => {
                self.stage = next_stage(self.stage, run, feed, gates, separators);
                let (gate_way, separator_way) = match self.stage {
                    Stage::Blocked | Stage::Done | Stage::Joining => (Way::Out, Way::Back),
                    Stage::Separating | Stage::Closing => (Way::Out, Way::Out),
                    Stage::Opening | Stage::Open => (Way::Back, Way::Out),
                };
                for pin in gates {
                    pin.tick(world, rig, gate_way, Rig::gate_pin, dt_s);
                }
                for pin in separators {
                    pin.tick(world, rig, separator_way, Rig::separator_pin, dt_s);
                }
            }
            Device::Wheels(wheels) => {
                self.stage = match self.stage {
                    Stage::Done if !feed => Stage::Blocked,
                    Stage::Done => Stage::Done,
                    _ if wheels.iter().all(|w| w.drive.at(Way::Out)) => {
                        wheels.iter_mut().for_each(Wheel::next_notch);
                        Stage::Done
                    }
                    Stage::Blocked if run => Stage::Opening,
                    stage => stage,
                };
                for wheel in wheels {
                    let turning = self.stage == Stage::Opening && run;
                    wheel.tick(world, rig, if turning { Way::Out } else { Way::Hold }, dt_s);
                }
            }
        }
    }

    /// The drive at a rail has been put right: it is neither late nor stuck any more.
    pub fn mend(&mut self, side: End) {
        match &mut self.device {
            Device::Pins { gates, .. } => {
                for pin in gates.iter_mut().filter(|pin| pin.side == side) {
                    pin.stuck = false;
                    pin.delay = Delay::new(0.0, pin.delay.arrived());
                }
            }
            Device::Wheels(wheels) => {
                for wheel in wheels.iter_mut().filter(|wheel| wheel.side == side) {
                    wheel.delay = Delay::new(0.0, wheel.delay.arrived());
                }
            }
        }
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> + '_ {
        let drives: Vec<(Drive, Delay)> = match &self.device {
            Device::Pins { gates, separators } => gates
                .iter()
                .chain(separators)
                .map(|pin| (pin.drive, pin.delay))
                .collect(),
            Device::Wheels(wheels) => wheels.iter().map(|w| (w.drive, w.delay)).collect(),
        };
        drives
            .into_iter()
            .flat_map(|(drive, delay)| drive.state().into_iter().chain(delay.state()))
            .chain([f64::from(self.stage as u8)])
    }
}

/// The pins' cycle. The limit switches of both rails must agree before it goes on.
fn next_stage(
    stage: Stage,
    run: bool,
    feed: bool,
    gates: &[Pin; 2],
    separators: &[Pin; 2],
) -> Stage {
    let both = |pins: &[Pin; 2], way: Way| pins.iter().all(|pin| pin.drive.at(way));
    match stage {
        Stage::Blocked if run => Stage::Separating,
        Stage::Separating if !run => Stage::Joining,
        Stage::Separating if both(separators, Way::Out) => Stage::Opening,
        Stage::Opening | Stage::Open if !run => Stage::Closing,
        Stage::Opening if both(gates, Way::Back) => Stage::Open,
        Stage::Closing if both(gates, Way::Out) => Stage::Joining,
        Stage::Joining if both(separators, Way::Back) => Stage::Done,
        Stage::Done if !feed => Stage::Blocked,
        stage => stage,
    }
}

impl Pin {
    /// A pin that stands where its delay says it has been told to.
    fn build(
        world: &mut World,
        rig: &Rig,
        side: End,
        delay: Delay,
        missing: bool,
        shape: fn(&Rig, End, f64) -> PlaneBox,
    ) -> Self {
        let spec = rig.spec().escapement;
        let drive = Drive::new(
            rig.pin_stroke_m(),
            spec.stroke_time_s,
            spec.force_max_n,
            delay.arrived() == Way::Out,
        );
        let part = (!missing).then(|| {
            parts::moving(
                world,
                rig,
                shape(rig, side, drive.position()),
                rig.pin_z_m(side),
                rig.pin_half_width_m(),
                steel(rig, side),
            )
        });
        Self {
            side,
            part,
            stuck: false,
            drive,
            delay,
        }
    }

    fn tick(
        &mut self,
        world: &mut World,
        rig: &Rig,
        way: Way,
        shape: fn(&Rig, End, f64) -> PlaneBox,
        dt_s: f64,
    ) {
        let way = self.delay.tick(way, dt_s);
        if self.stuck {
            return;
        }
        let Some(part) = self.part else {
            self.drive.tick(way, 0.0, dt_s);
            return;
        };
        // What presses it down along its stroke.
        let place = shape(rig, self.side, self.drive.position());
        let resisting = -parts::along_own_y(world, rig, part, &place);
        self.drive.tick(way, resisting, dt_s);
        let place = shape(rig, self.side, self.drive.position());
        parts::place(world, rig, part, place, rig.pin_z_m(self.side));
    }
}

impl Wheel {
    fn tick(&mut self, world: &mut World, rig: &Rig, way: Way, dt_s: f64) {
        let hub = rig.hub(self.side);
        let torque: f64 = self
            .spokes
            .iter()
            .map(|&spoke| parts::moment_about(world, rig, spoke, hub))
            .sum();
        // Downhill over the top is clockwise in the plane of a right-handed line.
        let way = self.delay.tick(way, dt_s);
        self.drive.tick(way, torque, dt_s);
        for (i, &part) in self.spokes.iter().enumerate() {
            let turned = f64::from(self.notches) * NOTCH_RAD + self.drive.position();
            let place = rig.spoke(self.side, i, turned);
            parts::place(world, rig, part, place, rig.pin_z_m(self.side));
        }
    }

    fn next_notch(&mut self) {
        self.notches += 1;
        self.drive.rewind();
    }
}

fn steel(rig: &Rig, side: End) -> Touching {
    Touching {
        friction: rig.spec().contact.friction(rig.rail(side).surface) as f32,
        rolling_lever_arm_m: 0.0,
    }
}
