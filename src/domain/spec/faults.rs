//! What can be wrong with the machine, and what a scenario may hide.

use serde::{Deserialize, Serialize};

use super::super::rig::End;

/// A hydraulic motion of the pendant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Motion {
    Receiver,
    LiftNear,
    LiftFar,
    ShiftNear,
    ShiftFar,
    Turn,
    Advance,
}

impl Motion {
    pub const ALL: [Self; 7] = [
        Self::Receiver,
        Self::LiftNear,
        Self::LiftFar,
        Self::ShiftNear,
        Self::ShiftFar,
        Self::Turn,
        Self::Advance,
    ];

    pub fn lift(column: End) -> Self {
        match column {
            End::Near => Self::LiftNear,
            End::Far => Self::LiftFar,
        }
    }

    pub fn shift(column: End) -> Self {
        match column {
            End::Near => Self::ShiftNear,
            End::Far => Self::ShiftFar,
        }
    }
}

/// What is wrong with the line. The default is nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FaultSpec {
    /// Of the rack and the escapement at the near rail.
    pub near: RailFaults,
    /// Of the rack and the escapement at the far rail.
    pub far: RailFaults,
    /// Of the motions, in the order of [`Motion::ALL`].
    pub motions: [MotionFaults; Motion::ALL.len()],
    /// The far cradle's barrels are seized: they slide under a stick that advances.
    pub roller_seized: bool,
    /// The spotter's radio is dead.
    pub radio_dead: bool,
    /// The power fails at this time, s: every motion stops as in an emergency stop.
    pub power_fails_s: Option<f64>,
}

impl FaultSpec {
    pub fn rail(&self, side: End) -> RailFaults {
        match side {
            End::Near => self.near,
            End::Far => self.far,
        }
    }

    pub fn motion(&self, motion: Motion) -> MotionFaults {
        self.motions[motion as usize]
    }

    pub fn motion_mut(&mut self, motion: Motion) -> &mut MotionFaults {
        &mut self.motions[motion as usize]
    }
}

/// Something on the line that can be reported and put right on the spot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Item {
    /// The hoses, coupler and valve of a motion.
    Motion(Motion),
    /// The gate pin's drive, the inclinometer and the chock of a rail.
    Rail(End),
    /// The far cradle's barrels.
    Rollers,
    /// The spotter's radio.
    Radio,
}

impl FaultSpec {
    /// Puts an item right. Pins that are not fitted stay so: that is done with an empty rack.
    pub fn mend(&mut self, item: Item) {
        match item {
            Item::Motion(motion) => *self.motion_mut(motion) = MotionFaults::default(),
            Item::Rail(End::Near) => self.near = self.near.mended(),
            Item::Rail(End::Far) => self.far = self.far.mended(),
            Item::Rollers => self.roller_seized = false,
            Item::Radio => self.radio_dead = false,
        }
    }

    /// Whether an item has something wrong that can be put right on the spot.
    pub fn is_faulty(&self, item: Item) -> bool {
        let mut mended = *self;
        mended.mend(item);
        mended != *self
    }
}

impl FaultSpec {
    /// Whether an item has something wrong that a walk-round or a function check shows. A motion that
    /// takes little longer, or is a little spongy, does not.
    pub fn shows(&self, item: Item) -> bool {
        match item {
            Item::Motion(motion) => self.motion(motion).shows(),
            _ => self.is_faulty(item),
        }
    }
}

impl MotionFaults {
    /// A motion tried for a second shows that it is slower than this, or starts later, s.
    const SHOWS_SLOWNESS: f64 = 1.7;
    const SHOWS_S: f64 = 0.4;

    fn shows(&self) -> bool {
        self.crossed
            || self.coupler != Coupler::Latched
            || self.creep_m_per_s > 0.0
            || self.slowness > Self::SHOWS_SLOWNESS
            || self.sticks_s > Self::SHOWS_S
    }
}

impl RailFaults {
    /// Whether both pins are there and free.
    pub fn pins_are_sound(&self) -> bool {
        !(self.gate_missing || self.separator_missing || self.gate_stuck)
    }

    fn mended(self) -> Self {
        Self {
            gate_missing: self.gate_missing,
            separator_missing: self.separator_missing,
            // Another chock is brought when it is missed, not now.
            chock_missing: self.chock_missing,
            ..Self::default()
        }
    }
}

/// What is wrong at one rail.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct RailFaults {
    /// How long after its command the gate pin (or the wheel) begins to move, s.
    pub gate_late_s: f64,
    /// The gate pin is not fitted; its drive moves all the same.
    pub gate_missing: bool,
    /// The separator pin is not fitted; its drive moves all the same.
    pub separator_missing: bool,
    /// The gate pin sticks where it stands.
    pub gate_stuck: bool,
    /// The row chock is missing.
    pub chock_missing: bool,
    /// What the inclinometer shows more than the rail has, rad.
    pub inclinometer_error_rad: f64,
}

/// How far a quick coupler is home.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Coupler {
    #[default]
    Latched,
    /// Its valve is half open: the motion is slow.
    Half,
    /// Its valve is shut: nothing moves.
    Off,
}

/// What is wrong with one motion.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MotionFaults {
    /// How many times longer than its rated time it takes; 1 is sound.
    pub slowness: f64,
    /// The hose pair is crossed: it moves against its arrow.
    pub crossed: bool,
    pub coupler: Coupler,
    /// Dirt in the valve: it starts and stops this long after its button, s.
    pub sticks_s: f64,
    /// Air in the hose: it gives by this much at its greatest force, and starts late, m (rad/s).
    pub air_m: f64,
    /// The cylinder leaks: it sinks at this speed under load, m/s.
    pub creep_m_per_s: f64,
}

impl Default for MotionFaults {
    fn default() -> Self {
        Self {
            slowness: 1.0,
            crossed: false,
            coupler: Coupler::Latched,
            sticks_s: 0.0,
            air_m: 0.0,
            creep_m_per_s: 0.0,
        }
    }
}
