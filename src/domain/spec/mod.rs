//! What a line is made of: the complete, checked description that the core builds and steps.
//!
//! Every length is in metres, every angle in radians, every force in newtons. Axes: right-handed,
//! y up, +z along the line towards the fusion machine, x = 0 on the line's centre. A right-handed
//! line has its rack at negative x (on the right when facing +z); a left-handed one is its mirror
//! image and is described by the same numbers.

mod crew;
mod faults;
mod machine;

use serde::{Deserialize, Serialize};

use super::limits::SETTING_OFF_MAX;
use super::math::tan;
use super::pipe::Pipe;
pub use crew::{Duty, LoaderSpec, PersonSpec, Place, Waypoint, ZoneSpec};
pub use faults::{Coupler, FaultSpec, Item, Motion, MotionFaults, RailFaults};
pub use machine::{ColumnSpec, CradleSpec, FootSpec, MachineSpec, Turning};

/// Which side of the line the rack stands on, seen by somebody facing the fusion machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hand {
    Right,
    Left,
}

/// Surface of a rail, pin, wheel or saddle face, which sets its friction against pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Surface {
    Dry,
    Wet,
    Frosted,
    Glazed,
}

/// The whole line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LineSpec {
    pub hand: Hand,
    /// The row, in order from the gate up the rack.
    pub sticks: Vec<StickSpec>,
    pub rack: RackSpec,
    pub escapement: EscapementSpec,
    pub receiver: ReceiverSpec,
    pub cradles: CradleSpec,
    pub machine: MachineSpec,
    /// The loader that brings more sticks; None where the row is all there is.
    pub loader: Option<LoaderSpec>,
    pub people: Vec<PersonSpec>,
    pub zone: ZoneSpec,
    pub ground: GroundSpec,
    pub weather: WeatherSpec,
    pub contact: ContactSpec,
    pub faults: FaultSpec,
}

/// One length of pipe and how it lies on the rack before the run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct StickSpec {
    pub pipe: Pipe,
    /// Angle of the long axis above the rails' surface when placed; 0 is flat (balanced), rad.
    pub long_axis_rad: f64,
    /// Clear gap to the stick (or the gate) below it when placed, m.
    pub gap_m: f64,
    /// Yaw as loaded: positive turns the +z end up the rack, rad.
    pub yaw_rad: f64,
    /// Offset of the stick's middle from the middle of the rails, along z, m.
    pub offset_m: f64,
}

/// Two parallel rails sloping down towards x = 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RackSpec {
    /// The rail towards the fusion machine (+z).
    pub near_rail: RailSpec,
    /// The rail away from it (-z).
    pub far_rail: RailSpec,
    /// Distance between the rails' middles along z, m.
    pub rail_spacing_m: f64,
    /// Height of the rails' surface at the toe above the ground datum, m.
    pub toe_height_m: f64,
    /// Length along the slope from the toe to the high end, outboard extension included, m.
    pub length_m: f64,
    /// Width of a rail's bearing surface along z, m.
    pub rail_width_m: f64,
    /// Greatest load of the rack by its plate, N.
    pub rated_load_n: f64,
}

/// One rail.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct RailSpec {
    /// Slope down towards the toe, rad.
    pub pitch_rad: f64,
    pub surface: Surface,
    /// The foot of the jack under the high end.
    pub foot: FootSpec,
}

/// The device that holds the row and lets one stick go.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct EscapementSpec {
    pub kind: EscapementKind,
    /// The OD the pins or the wheel are set for (the size setting), m.
    pub size_setting_m: f64,
    /// Greatest force of one pin along its stroke, N; of a wheel, at its spoke tip.
    pub force_max_n: f64,
    /// Time for a full stroke (pins) or one notch (wheel) without load, s.
    pub stroke_time_s: f64,
    /// Whether feeding asks for 'receiver up and empty'.
    pub interlock: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum EscapementKind {
    PinPair,
    StarWheel,
}

/// The pair of arms with saddles at the rack's toe.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReceiverSpec {
    /// Where the arms stand when the run begins.
    pub starts_up: bool,
    /// Vertical travel between up and down, m.
    pub travel_m: f64,
    /// Greatest lifting force of one arm, N.
    pub force_max_n: f64,
    /// Time for the full travel without load, s.
    pub travel_time_s: f64,
}

/// The ground: a plane through the origin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct GroundSpec {
    /// Fall of the ground away from the rack, across the line (positive falls towards the side opposite the rack), rad.
    pub cross_fall_rad: f64,
    /// Fall of the ground towards +z, rad.
    pub along_fall_rad: f64,
    pub friction: f64,
    /// Rolling resistance lever arm of pipe on this ground, m.
    pub rolling_lever_arm_m: f64,
    /// Modulus of subgrade reaction under feet and pads, Pa/m (N/m³).
    pub subgrade_n_per_m3: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct WeatherSpec {
    pub temperature_c: f64,
    /// Wind speed, m/s.
    pub wind_speed_m_per_s: f64,
    /// Direction the wind blows towards, measured from +x (away from the rack) to +z, rad.
    pub wind_towards_rad: f64,
    /// Drag coefficient of the stick across the wind.
    pub drag_coefficient: f64,
}

impl LineSpec {
    /// Sticks that lie on the rack, and those that the loader brings.
    pub fn stick_count(&self) -> usize {
        self.sticks.len() + self.loader.map_or(0, |loader| loader.sticks)
    }

    /// The first stick that the escapement is not set for, if there is one.
    pub fn not_set_for(&self) -> Option<&StickSpec> {
        let setting_m = self.escapement.size_setting_m;
        self.sticks.iter().find(|stick| {
            let off = stick.pipe.outside_diameter_m / setting_m - 1.0;
            off.abs() > SETTING_OFF_MAX.value
        })
    }

    /// The pipe of a stick, counted from 0. What the loader brings is alike the row's last.
    pub fn pipe_of(&self, stick: usize) -> Option<&Pipe> {
        let own = self.sticks.get(stick).or(self.sticks.last());
        own.map(|stick| &stick.pipe)
    }
}

impl GroundSpec {
    /// Modulus of subgrade reaction of firm ground, N/m³ (stiff clay or medium dense sand: 25 to
    /// 50 MN/m³ in foundation handbooks, from memory).
    pub const FIRM_N_PER_M3: f64 = 40.0e6;

    /// Height of the ground at a place of the plan, m.
    pub fn height_m(&self, place: Place) -> f64 {
        -place.x_m * tan(self.cross_fall_rad) - place.z_m * tan(self.along_fall_rad)
    }
}

/// Contact assumptions. Nobody has published most of these for PE pipe on a rack: they are shown to
/// the user as assumptions and sampled in sweeps.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ContactSpec {
    pub friction_dry: f64,
    pub friction_wet: f64,
    pub friction_frosted: f64,
    pub friction_glazed: f64,
    pub friction_pipe_on_pipe: f64,
    /// Pipe on the rubber of the cradles' rollers, dry.
    pub friction_rubber_dry: f64,
    pub friction_rubber_wet: f64,
    pub friction_rubber_frosted: f64,
    pub friction_rubber_glazed: f64,
    /// Restitution of pipe on steel and pipe on pipe; 0 is the cautious case for a stop.
    pub restitution: f64,
    /// Rolling resistance lever arm of pipe on the rails, m.
    pub rolling_lever_arm_m: f64,
}

impl ContactSpec {
    /// Friction of pipe on rubber with the given surface.
    pub fn friction_on_rubber(&self, surface: Surface) -> f64 {
        match surface {
            Surface::Dry => self.friction_rubber_dry,
            Surface::Wet => self.friction_rubber_wet,
            Surface::Frosted => self.friction_rubber_frosted,
            Surface::Glazed => self.friction_rubber_glazed,
        }
    }

    /// Friction of pipe on steel with the given surface.
    pub fn friction(&self, surface: Surface) -> f64 {
        match surface {
            Surface::Dry => self.friction_dry,
            Surface::Wet => self.friction_wet,
            Surface::Frosted => self.friction_frosted,
            Surface::Glazed => self.friction_glazed,
        }
    }
}
