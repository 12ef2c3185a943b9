//! What somebody sets right on a line before pipe moves: an ordered list of settings.
//!
//! What an empty rack is needed for is refused where pipe lies on it already.

use serde::{Deserialize, Serialize};

use super::crew;
use super::error::{DomainError, in_range};
use super::limits::CRADLE_SPACING;
use super::math::rad;
use super::rig::{End, Rig};
use super::spec::{ColumnSpec, FootSpec, Item, LineSpec, MachineSpec, RailFaults, ZoneSpec};
use super::zone::{Zone, ZoneFault};

/// Steepest pitch that the jacks reach, rad (ours).
const STEEPEST_RAD: f64 = rad(15.0);
/// Outside diameters that pins and wheels have a setting for, m.
const SETTINGS_M: std::ops::RangeInclusive<f64> = 0.45..=1.65;

/// One thing that is set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Setting {
    /// A rail's slope, by its jack.
    Pitch { rail: End, pitch_rad: f64 },
    /// The outside diameter that the pins or the wheel are set for.
    Size { diameter_m: f64 },
    /// Missing pins of a rail are fitted, and stuck ones freed.
    Pins(End),
    /// Another chock is brought for a rail.
    Chock(End),
    /// A pad is put under the foot of a rail's jack.
    RailPad(End),
    /// An item is reported, and put right.
    Item(Item),
    /// The interlock works again.
    Interlock,
    /// Cones are set around the line.
    Zone(ZoneSpec),
    /// Pads are put under both feet of a lift column.
    ColumnPads(End),
    /// A lift column is set plumb, on the line's centre.
    Column(End),
    /// The cradles are set as far apart as is usual for the pipe.
    Cradles,
    /// The fusion machine is put where it usually stands for the pipe.
    Machine,
}

impl Setting {
    /// Whether it can only be done with an empty rack.
    pub fn needs_empty_rack(&self) -> bool {
        matches!(
            self,
            Self::Pitch { .. }
                | Self::Size { .. }
                | Self::Pins(_)
                | Self::Chock(_)
                | Self::RailPad(_)
        )
    }
}

/// What is set, in order: part of a run's input.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SetOut {
    pub settings: Vec<Setting>,
}

/// Why a line is not set out so.
#[derive(Clone, Debug, PartialEq)]
pub enum SetOutFault {
    /// Pipe lies on the rack.
    PipeOnRack(Setting),
    /// Nobody can set that.
    OutOfRange(DomainError),
    /// The cones make no zone.
    NoZone(ZoneFault),
}

impl SetOut {
    /// The line as set out. `open` says whether the rack is still empty. The crew takes its places
    /// anew; whoever was put somewhere else stays there.
    ///
    /// # Errors
    /// What cannot be set, and why.
    pub fn applied(&self, as_found: &LineSpec, open: bool) -> Result<LineSpec, SetOutFault> {
        let mut line = as_found.clone();
        for setting in &self.settings {
            if !open && setting.needs_empty_rack() {
                return Err(SetOutFault::PipeOnRack(setting.clone()));
            }
            set(&mut line, setting)?;
        }
        take_places(as_found, &mut line);
        Ok(line)
    }
}

fn set(line: &mut LineSpec, setting: &Setting) -> Result<(), SetOutFault> {
    let padded = FootSpec { padded: true };
    match setting {
        Setting::Pitch { rail, pitch_rad } => {
            let remedy = "crank the jacks within their reach";
            let pitch_rad = in_range("pitch", *pitch_rad, 0.0..=STEEPEST_RAD, "rad", remedy)
                .map_err(SetOutFault::OutOfRange)?;
            match rail {
                End::Near => line.rack.near_rail.pitch_rad = pitch_rad,
                End::Far => line.rack.far_rail.pitch_rad = pitch_rad,
            }
        }
        Setting::Size { diameter_m } => {
            let remedy = "set the size of the pipe";
            line.escapement.size_setting_m =
                in_range("size setting", *diameter_m, SETTINGS_M, "m", remedy)
                    .map_err(SetOutFault::OutOfRange)?;
        }
        Setting::Pins(rail) => {
            let faults = rail_faults(line, *rail);
            faults.gate_missing = false;
            faults.separator_missing = false;
            faults.gate_stuck = false;
        }
        Setting::Chock(rail) => rail_faults(line, *rail).chock_missing = false,
        Setting::RailPad(End::Near) => line.rack.near_rail.foot = padded,
        Setting::RailPad(End::Far) => line.rack.far_rail.foot = padded,
        Setting::Item(item) => line.faults.mend(*item),
        Setting::Interlock => line.escapement.interlock = true,
        Setting::Zone(zone) => {
            Zone::new(&zone.cones).map_err(SetOutFault::NoZone)?;
            line.zone = zone.clone();
        }
        Setting::ColumnPads(end) => {
            let column = column(line, *end);
            column.rack_foot = padded;
            column.outer_foot = padded;
        }
        Setting::Column(end) => {
            let column = column(line, *end);
            column.offset_m = 0.0;
            column.lean_rad = 0.0;
        }
        Setting::Cradles => line.cradles.spacing_m = usual_spacing_m(line),
        Setting::Machine => line.machine = usual_machine(line),
    }
    Ok(())
}

fn rail_faults(line: &mut LineSpec, rail: End) -> &mut RailFaults {
    match rail {
        End::Near => &mut line.faults.near,
        End::Far => &mut line.faults.far,
    }
}

fn column(line: &mut LineSpec, end: End) -> &mut ColumnSpec {
    match end {
        End::Near => &mut line.cradles.near,
        End::Far => &mut line.cradles.far,
    }
}

/// Far cradle to near cradle as usual for the pipe of the line, m.
pub fn usual_spacing_m(line: &LineSpec) -> f64 {
    line.sticks.first().map_or(line.cradles.spacing_m, |stick| {
        CRADLE_SPACING.value * stick.pipe.length_m
    })
}

/// The line's machine where it usually stands for the pipe.
pub fn usual_machine(line: &LineSpec) -> MachineSpec {
    let Some(stick) = line.sticks.first() else {
        return line.machine;
    };
    let pipe = &stick.pipe;
    let centreline_m = Rig::new(line).usual_centreline_for_m(pipe.radius_m());
    let usual = MachineSpec::usual(pipe.length_m, pipe.outside_diameter_m, centreline_m);
    let longer_m = line.machine.half_length_m - usual.half_length_m;
    MachineSpec {
        near_cradle_to_jaws_m: usual.near_cradle_to_jaws_m + longer_m,
        centreline_m,
        ..line.machine
    }
}

/// Those who stand where the crew of the line as found usually does, stand where it does now: a
/// steeper rack sends a loose stick further.
fn take_places(as_found: &LineSpec, line: &mut LineSpec) {
    let usual = |line: &LineSpec| crew::usual(&Rig::new(line));
    let (before, now) = (usual(as_found), usual(line));
    for person in &mut line.people {
        let usually = before.iter().zip(&now).find(|(was, _)| {
            was.duty == person.duty && was.start == person.start && person.path.is_empty()
        });
        if let Some((_, now)) = usually {
            person.start = now.start;
        }
    }
}
