//! The cradles, the fusion machine, and what they stand on.
//!
//! What an ordinary machine has, and why (our own figures):
//!
//! | what | value | why |
//! |---|---|---|
//! | lift stroke | 0.60 m | 0.35 m to the centreline, and a quarter of a metre to level on bad ground or to clear the rest |
//! | lift speed | 40 mm/s | stops within 2 mm, a tenth of the wall of the thinnest pipe of the line |
//! | lift force | 60 kN a column | lifts half of 8.1 t (63 in DR 11, 12.19 m) at a third of its speed, and holds three quarters of it, which an advanced stick lays on the near one |
//! | side-shift | ±0.12 m, 30 mm/s, 30 kN | the wing just clears the next stick on the rack at full lift; half the lift's force, for a V of 30° faces asks for 0.58 of the weight at most |
//! | advance | 0.15 m/s, 10 kN | the way of 1.6 m in 11 s; holds 8.1 t on the steepest lift difference, 5°, which asks for 7 kN |
//! | turn | 50 mm/s, 10 kN | a quarter turn of 63 in pipe in 25 s |
//! | grip | 40 kN | of the order of the force of a joint: 36 kN on 630 mm SDR 17 at 0.52 MPa (ASTM F2620, from memory) |
//! | joint time, drawing | 60 s, 0.5 m/s | shortened for training |

use serde::{Deserialize, Serialize};

use super::super::limits::{COLUMN_LEAN_MAX, COLUMN_OFF_MAX, CRADLE_SPACING};
use super::super::rig::End;
use super::Surface;

/// How a stick is turned about its axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Turning {
    /// The far cradle's rollers are driven.
    Powered,
    /// They run free: the stick is rolled along the raised receiver by shifting both cradles.
    SideShift,
}

/// Near and far cradle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CradleSpec {
    /// Far cradle to near cradle along z, m; the middle of both is the middle of the rails.
    pub spacing_m: f64,
    pub near: ColumnSpec,
    pub far: ColumnSpec,
    pub turning: Turning,
    pub surface: Surface,
    /// Full stroke of a lift, m, its time without load, s, and greatest force, N.
    pub lift_stroke_m: f64,
    pub lift_time_s: f64,
    pub lift_force_n: f64,
    /// Way of a side-shift from one end to the other, m, its time, s, and greatest force, N.
    pub shift_range_m: f64,
    pub shift_time_s: f64,
    pub shift_force_n: f64,
    /// Speed of the near cradle's rollers along z, m/s, and their greatest pull, N.
    pub advance_m_per_s: f64,
    pub advance_force_n: f64,
    /// Surface speed of the far cradle's turning rollers, m/s, and their greatest pull, N.
    pub turn_m_per_s: f64,
    pub turn_force_n: f64,
}

impl CradleSpec {
    /// Cradles for sticks of a length: as far apart as the trade has it, plumb, on the line's centre,
    /// with rams and rollers of an ordinary machine (our own figures).
    pub fn usual(stick_length_m: f64) -> Self {
        Self {
            spacing_m: CRADLE_SPACING.value * stick_length_m,
            near: ColumnSpec::default(),
            far: ColumnSpec::default(),
            turning: Turning::Powered,
            surface: Surface::Dry,
            lift_stroke_m: 0.60,
            lift_time_s: 15.0,
            lift_force_n: 60.0e3,
            shift_range_m: 0.24,
            shift_time_s: 8.0,
            shift_force_n: 30.0e3,
            advance_m_per_s: 0.15,
            advance_force_n: 10.0e3,
            turn_m_per_s: 0.05,
            turn_force_n: 10.0e3,
        }
    }

    pub fn column(&self, column: End) -> ColumnSpec {
        match column {
            End::Near => self.near,
            End::Far => self.far,
        }
    }
}

/// One lift column.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ColumnSpec {
    /// Off the line's centre as set out, away from the rack, m.
    pub offset_m: f64,
    /// Out of plumb as set out, away from the rack, rad.
    pub lean_rad: f64,
    /// The feet on the rack's side and on the other.
    pub rack_foot: FootSpec,
    pub outer_foot: FootSpec,
}

impl ColumnSpec {
    /// Whether there are pads under both feet.
    pub fn is_padded(&self) -> bool {
        self.rack_foot.padded && self.outer_foot.padded
    }

    /// Whether it stands off the line's centre or out of plumb.
    pub fn is_off(&self) -> bool {
        self.offset_m.abs() > COLUMN_OFF_MAX.value || self.lean_rad.abs() > COLUMN_LEAN_MAX.value
    }
}

/// What a foot stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FootSpec {
    /// There is a pad under it.
    pub padded: bool,
}

impl Default for FootSpec {
    fn default() -> Self {
        Self { padded: true }
    }
}

/// The fusion machine.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MachineSpec {
    /// Near cradle to the centre of the jaws along z, m.
    pub near_cradle_to_jaws_m: f64,
    /// Centre of the jaws to the machine's end that faces the cradles, m.
    pub half_length_m: f64,
    /// Height of the jaws' centreline over the datum, m.
    pub centreline_m: f64,
    /// Greatest force with which the jaws draw an end on to the centreline, N.
    pub grip_force_n: f64,
    /// From clamping to the end of cooling, s.
    pub joint_time_s: f64,
    /// Speed with which the finished string is drawn on, m/s.
    pub draw_m_per_s: f64,
}

impl MachineSpec {
    /// A machine for sticks of a length and an outside diameter, placed as the trade has it, with its
    /// centreline at `centreline_m`. The joint time is shortened for training: the real one is set
    /// by the joining procedure.
    pub fn usual(stick_length_m: f64, outside_diameter_m: f64, centreline_m: f64) -> Self {
        let half_length_m = 0.9 + 0.5 * outside_diameter_m;
        let overhang_m = 0.5 * (1.0 - CRADLE_SPACING.value) * stick_length_m;
        Self {
            near_cradle_to_jaws_m: overhang_m + LOADING_GAP_M + half_length_m,
            half_length_m,
            centreline_m,
            grip_force_n: 40.0e3,
            joint_time_s: 60.0,
            draw_m_per_s: 0.5,
        }
    }
}

/// Between a seated stick and the machine as usually set out, m.
const LOADING_GAP_M: f64 = 0.40;
