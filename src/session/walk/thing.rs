//! What somebody who walks round a line looks at, what it is called, and who puts it right.

use serde::Serialize;

use crate::domain::rig::End;
use crate::domain::set_out::Setting;
use crate::domain::spec::{
    Coupler, EscapementKind, Item, LineSpec, Motion, RailSpec, Surface, Turning,
};
use crate::sim::world::StickId;
use crate::texts::Message;
use crate::words;

/// One thing to look at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
pub enum Thing {
    /// Where the escapement's pins are put, by the size marked on the holes.
    Size,
    Interlock,
    /// What the rack may carry.
    Plate,
    /// Gate pin and separator pin at a rail, or its wheel.
    Pins(End),
    /// The drive of the gate pin or the wheel.
    GateDrive(End),
    /// The running surface of a rail.
    Surface(End),
    Chock(End),
    /// The inclinometer.
    Gauge(End),
    /// The foot of the jack under the high end.
    RailFoot(End),
    /// Whether a lift column stands plumb on the line's centre.
    Column(End),
    ColumnFeet(End),
    /// Hoses, couplers, rams of a motion.
    Hoses(Motion),
    /// The far cradle's barrels.
    Rollers,
    /// How far apart the cradles are.
    Cradles,
    /// How far from them the fusion machine is.
    Machine,
    Radio,
    Cones,
    /// A stick of the row, counted from 0.
    Stick(usize),
}

impl Thing {
    /// Everything there is on a line, in the order of a walk from the machine round the rack.
    pub fn all(line: &LineSpec) -> Vec<Self> {
        let mut all = vec![Self::Machine, Self::Cradles, Self::Cones];
        for end in End::BOTH {
            all.extend([
                Self::Column(end),
                Self::ColumnFeet(end),
                Self::Hoses(Motion::lift(end)),
                Self::Hoses(Motion::shift(end)),
            ]);
        }
        all.push(Self::Rollers);
        if line.cradles.turning == Turning::Powered {
            all.push(Self::Hoses(Motion::Turn));
        }
        all.extend([Self::Hoses(Motion::Advance), Self::Hoses(Motion::Receiver)]);
        all.extend([Self::Interlock, Self::Size, Self::Plate]);
        for end in End::BOTH {
            all.extend([
                Self::Pins(end),
                Self::GateDrive(end),
                Self::Surface(end),
                Self::Chock(end),
                Self::Gauge(end),
                Self::RailFoot(end),
            ]);
        }
        if !line.people.is_empty() {
            all.push(Self::Radio);
        }
        all.extend((0..line.sticks.len()).map(Self::Stick));
        all
    }

    /// What it is called: "the chock of the near rail".
    pub fn name(self, line: &LineSpec) -> Message {
        let at_rail =
            |id: &'static str, side: End| Message::new(id).with("rail", words::rail(side));
        let at_end = |id: &'static str, end: End| Message::new(id).with("end", words::end(end));
        match self {
            Self::Size => Message::new("setting-size"),
            Self::Interlock => Message::new("setting-interlock"),
            Self::Plate => Message::new("thing-plate"),
            Self::Pins(side) if line.escapement.kind == EscapementKind::StarWheel => {
                at_rail("thing-wheel", side)
            }
            Self::Pins(side) => at_rail("setting-pins", side),
            Self::GateDrive(side) => at_rail("thing-gate-drive", side),
            Self::Surface(side) => at_rail("thing-surface", side),
            Self::Chock(side) => at_rail("setting-chock", side),
            Self::Gauge(side) => at_rail("thing-gauge", side),
            Self::RailFoot(side) => at_rail("thing-rail-foot", side),
            Self::Column(end) => at_end("thing-column", end),
            Self::ColumnFeet(end) => at_end("thing-column-feet", end),
            Self::Hoses(motion) => words::item(Item::Motion(motion)),
            Self::Rollers => words::item(Item::Rollers),
            Self::Cradles => Message::new("setting-cradles"),
            Self::Machine => Message::new("setting-machine"),
            Self::Radio => words::item(Item::Radio),
            Self::Cones => Message::new("setting-zone"),
            Self::Stick(stick) => words::stick(StickId(stick)),
        }
    }

    /// What is done about it when it is reported. None where nothing on the site puts it right, or
    /// where it is set and not mended.
    pub fn remedy(self) -> Option<Setting> {
        Some(match self {
            Self::Interlock => Setting::Interlock,
            Self::Pins(side) => Setting::Pins(side),
            Self::GateDrive(side) | Self::Gauge(side) => Setting::Item(Item::Rail(side)),
            Self::Chock(side) => Setting::Chock(side),
            Self::RailFoot(side) => Setting::RailPad(side),
            Self::Column(end) => Setting::Column(end),
            Self::ColumnFeet(end) => Setting::ColumnPads(end),
            Self::Hoses(motion) => Setting::Item(Item::Motion(motion)),
            Self::Rollers => Setting::Item(Item::Rollers),
            Self::Radio => Setting::Item(Item::Radio),
            Self::Size
            | Self::Plate
            | Self::Surface(_)
            | Self::Cradles
            | Self::Machine
            | Self::Cones
            | Self::Stick(_) => return None,
        })
    }

    /// Whether it is set by whoever sets the line out, so that there is nobody to report it to.
    pub fn is_set_by_hand(self) -> bool {
        matches!(
            self,
            Self::Size | Self::Cradles | Self::Machine | Self::Cones
        )
    }

    /// Whether anything is wrong with it that a report puts right or that has to be minded, seen or
    /// not. Not for the trainee before the debrief.
    pub fn is_faulty(self, line: &LineSpec) -> bool {
        let faults = &line.faults;
        match self {
            Self::Interlock => !line.escapement.interlock,
            Self::Pins(side) => !faults.rail(side).pins_are_sound(),
            Self::GateDrive(side) => faults.rail(side).gate_late_s > 0.0,
            Self::Surface(side) => rail(line, side).surface != Surface::Dry,
            Self::Chock(side) => faults.rail(side).chock_missing,
            Self::Gauge(side) => faults.rail(side).inclinometer_error_rad != 0.0,
            Self::RailFoot(side) => !rail(line, side).foot.padded,
            Self::Column(end) => line.cradles.column(end).is_off(),
            Self::ColumnFeet(end) => !line.cradles.column(end).is_padded(),
            Self::Hoses(motion) => faults.is_faulty(Item::Motion(motion)),
            Self::Rollers => faults.roller_seized,
            Self::Radio => faults.radio_dead,
            Self::Size
            | Self::Plate
            | Self::Cradles
            | Self::Machine
            | Self::Cones
            | Self::Stick(_) => false,
        }
    }

    /// Whether eyes, hands, level and string find what is wrong. Crossed hoses, air and dirt show only
    /// when the motion is tried.
    pub fn shows(self, line: &LineSpec) -> bool {
        match self {
            Self::Hoses(motion) => {
                let faults = line.faults.motion(motion);
                faults.coupler != Coupler::Latched || faults.creep_m_per_s > 0.0
            }
            _ => self.is_faulty(line),
        }
    }
}

pub(super) fn rail(line: &LineSpec, side: End) -> &RailSpec {
    match side {
        End::Near => &line.rack.near_rail,
        End::Far => &line.rack.far_rail,
    }
}
