//! The people, the loader and the exclusion zone. Places are in the plan of a right-handed line:
//! x away from the rack, z towards the machine; a left-handed line mirrors x.

use serde::{Deserialize, Serialize};

/// A place on the ground, m.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Place {
    pub x_m: f64,
    pub z_m: f64,
}

/// What somebody is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Duty {
    /// At the control station.
    Operator,
    /// Watches the line and says stop.
    Spotter,
    /// Drives the loader; on foot only when the loader is parked.
    LoaderDriver,
    /// Clamps, faces, joins.
    Technician,
    /// Chocks, bars, sets cones.
    Rigger,
    Visitor,
}

/// Somebody on the site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PersonSpec {
    pub duty: Duty,
    pub start: Place,
    /// Where they walk of their own accord, in order.
    pub path: Vec<Waypoint>,
    /// When they set off, s.
    pub starts_s: f64,
    pub walking_m_per_s: f64,
    /// From seeing or hearing to acting, s.
    pub reaction_s: f64,
    /// Looks for moving pipe while walking, and stops for it.
    pub looks: bool,
    /// Carries a radio.
    pub radio: bool,
}

/// A point of somebody's way, and how long they stay there.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Waypoint {
    pub place: Place,
    pub stays_s: f64,
}

/// The exclusion zone as set out by cones.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ZoneSpec {
    /// The cones in order around the zone; none where no zone is set out.
    pub cones: Vec<Place>,
}

/// A loader with two forks, and what it brings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct LoaderSpec {
    /// How many sticks it brings, one at a time, alike the row's last.
    pub sticks: usize,
    /// Middle to middle of the forks, m.
    pub fork_spread_m: f64,
    /// Length of a fork, m.
    pub fork_length_m: f64,
    /// Rated capacity, kg, at the rated load centre from the fork face, m.
    pub capacity_kg: f64,
    pub load_centre_m: f64,
    /// Back-tilt of the forks while carrying, rad.
    pub back_tilt_rad: f64,
    /// How far the forks' middle is off the stick's middle when it is picked up, m.
    pub off_middle_m: f64,
    /// Height at which it carries, m over the ground under the forks.
    pub carry_height_m: f64,
    /// How far beyond the row's last stick the next is set down, m.
    pub gap_m: f64,
    /// Driving speed, m/s, and how hard it brakes, m/s².
    pub drive_m_per_s: f64,
    pub braking_m_per_s2: f64,
    /// Lowering and raising speed of the forks, m/s.
    pub lift_m_per_s: f64,
    /// Where it starts, up the rack from its high end, m.
    pub starts_beyond_m: f64,
}
