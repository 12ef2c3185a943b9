//! What somebody sets right on a line before pipe moves: an ordered list of settings.
//!
//! What an empty rack is needed for is refused where pipe lies on it already.

use serde::{Deserialize, Serialize};

use super::crew;
use super::error::{DomainError, in_range};
use super::limits::CRADLE_SPACING;
use super::math::rad;
use super::plan;
use super::rig::{End, Rig};
use super::spec::{ColumnSpec, FootSpec, Item, LineSpec, MachineSpec, RailFaults, ZoneSpec};
use super::zone::{Zone, ZoneFault};

/// Steepest pitch that the jacks reach, rad (ours).
pub const STEEPEST_RAD: f64 = rad(15.0);
/// Outside diameters that pins and wheels have a setting for, m.
const SETTINGS_M: std::ops::RangeInclusive<f64> = 0.45..=1.65;
/// How far apart cradles are set, and how far from them the machine, m (as in the scenario file).
const SPACINGS_M: std::ops::RangeInclusive<f64> = 1.0..=25.0;
const MACHINES_M: std::ops::RangeInclusive<f64> = 0.5..=30.0;
/// How far off the line's centre, m, and out of plumb, rad, a lift column is set (likewise).
const OFFSETS_M: std::ops::RangeInclusive<f64> = -0.5..=0.5;
const LEANS_RAD: std::ops::RangeInclusive<f64> = rad(-5.0)..=rad(5.0);

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
    /// A lift column is set so far off the line's centre, away from the rack.
    ColumnOffset { column: End, offset_m: f64 },
    /// A lift column is set so far out of plumb, away from the rack.
    ColumnLean { column: End, lean_rad: f64 },
    /// The cradles are set as far apart as is usual for the pipe.
    Cradles,
    /// The cradles are set so far apart, both by half of the way; the machine stays where it stands.
    CradleSpacing { spacing_m: f64 },
    /// The fusion machine is put where it usually stands for the pipe.
    Machine,
    /// The fusion machine is put so far from the near cradle, at the height it has.
    MachineAt { near_cradle_to_jaws_m: f64 },
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
    /// Something else stands there: the name of its entry in the catalogue.
    NoRoom {
        setting: Setting,
        steel: &'static str,
    },
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
        Setting::ColumnOffset {
            column: end,
            offset_m,
        } => {
            let remedy = "keep the column within half a metre of the string line";
            column(line, *end).offset_m =
                in_range("column off the centre", *offset_m, OFFSETS_M, "m", remedy)
                    .map_err(SetOutFault::OutOfRange)?;
            room(line, setting)?;
        }
        Setting::ColumnLean {
            column: end,
            lean_rad,
        } => {
            let remedy = "set the column up with a level";
            column(line, *end).lean_rad =
                in_range("column out of plumb", *lean_rad, LEANS_RAD, "rad", remedy)
                    .map_err(SetOutFault::OutOfRange)?;
            room(line, setting)?;
        }
        Setting::Cradles => line.cradles.spacing_m = usual_spacing_m(line),
        Setting::CradleSpacing { spacing_m } => {
            let remedy = "set the cradles apart by the stick's length over 1.8";
            let spacing_m = in_range("cradle spacing", *spacing_m, SPACINGS_M, "m", remedy)
                .map_err(SetOutFault::OutOfRange)?;
            let wider_m = spacing_m - line.cradles.spacing_m;
            line.cradles.spacing_m = spacing_m;
            line.machine.near_cradle_to_jaws_m -= 0.5 * wider_m;
            room(line, setting)?;
        }
        Setting::Machine => line.machine = usual_machine(line),
        Setting::MachineAt {
            near_cradle_to_jaws_m,
        } => {
            let (what, remedy) = (
                "near cradle to jaws",
                "measure along the line from the near cradle",
            );
            line.machine.near_cradle_to_jaws_m =
                in_range(what, *near_cradle_to_jaws_m, MACHINES_M, "m", remedy)
                    .map_err(SetOutFault::OutOfRange)?;
            room(line, setting)?;
        }
    }
    Ok(())
}

/// Cradles do not rise into the rack, and the machine stands on nothing else.
fn room(line: &LineSpec, setting: &Setting) -> Result<(), SetOutFault> {
    let rig = Rig::new(line);
    let spacing_m = line.cradles.spacing_m;
    let beside = plan::beside_cradles(&rig)
        .into_iter()
        .find(|beside| beside.is_in_the_way_at(spacing_m))
        .map(|beside| beside.id);
    let steel = beside.or_else(|| plan::under_machine(&rig).map(|part| part.steel.id()));
    match steel {
        Some(steel) => Err(SetOutFault::NoRoom {
            setting: setting.clone(),
            steel,
        }),
        None => Ok(()),
    }
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
