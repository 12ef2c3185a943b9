//! The parts of a line that can be pointed at and looked at closely, and where they are now.

use bevy::prelude::*;

use super::machinery::kit::m;
use super::machinery::rides::{Now, Rides, Wound};
use super::machinery::{fusion, hoses, receiver, station};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{Duty, EscapementKind, Item, Motion};
use crate::sim::line::PersonId;
use crate::sim::world::StickId;
use crate::view::yard::Yard;

/// See the module's text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    Rail(End),
    /// The jack under a rail's high end, its crank, and what its foot stands on.
    Jack(End),
    JackFoot(End),
    Inclinometer(End),
    /// The gate pin of a rail, or its wheel.
    Gate(End),
    Separator(End),
    Chock(End),
    /// The saddle of the receiver, on the near arm.
    Receiver,
    Interlock,
    /// The V of a cradle, its rollers, its column, and what the column stands on.
    Cradle(End),
    Rollers(End),
    Column(End),
    ColumnFeet(End),
    /// A motion's hoses where they lie, and its couplers.
    Hose(Motion),
    Coupler(Motion),
    Machine,
    Jaws,
    Rest,
    /// The end of the string in the jaws.
    String,
    Loader,
    Forks,
    Station,
    EmergencyStop,
    PowerPack,
    Stick(StickId),
    /// An end of a stick: at the machine, or away from it.
    StickEnd(StickId, End),
    Person(PersonId),
}

impl Part {
    /// Every part that any line has, sticks and people aside.
    pub fn fixed() -> impl Iterator<Item = Self> {
        let of_ends = End::BOTH.into_iter().flat_map(|end| {
            [
                Self::Rail(end),
                Self::Jack(end),
                Self::JackFoot(end),
                Self::Inclinometer(end),
                Self::Gate(end),
                Self::Separator(end),
                Self::Chock(end),
                Self::Cradle(end),
                Self::Rollers(end),
                Self::Column(end),
                Self::ColumnFeet(end),
            ]
        });
        let of_motions = Motion::ALL
            .into_iter()
            .flat_map(|motion| [Self::Hose(motion), Self::Coupler(motion)]);
        of_ends.chain(of_motions).chain([
            Self::Receiver,
            Self::Interlock,
            Self::Machine,
            Self::Jaws,
            Self::Rest,
            Self::String,
            Self::Loader,
            Self::Forks,
            Self::Station,
            Self::EmergencyStop,
            Self::PowerPack,
        ])
    }

    /// What a motion of the pendant moves.
    pub fn moved_by(motion: Motion) -> Self {
        match motion {
            Motion::Receiver => Self::Receiver,
            Motion::LiftNear | Motion::ShiftNear => Self::Cradle(End::Near),
            Motion::LiftFar | Motion::ShiftFar => Self::Cradle(End::Far),
            Motion::Turn => Self::Rollers(End::Far),
            Motion::Advance => Self::Rollers(End::Near),
        }
    }

    /// What is looked at on a walk-round to see whether an item is sound. None for the radio where
    /// there is no spotter to carry it.
    pub fn of_item(item: Item, yard: &Yard) -> Option<Self> {
        Some(match item {
            Item::Motion(motion) => Self::Coupler(motion),
            Item::Rail(end) => Self::Gate(end),
            Item::Rollers => Self::Rollers(End::Far),
            Item::Radio => {
                let mut people = yard.spec().people.iter();
                Self::Person(PersonId(people.position(|p| p.duty == Duty::Spotter)?))
            }
        })
    }

    /// How far a part reaches around its place, m: how near one goes to look at it closely.
    pub fn reach_m(self, yard: &Yard) -> f32 {
        let rig = yard.rig();
        match self {
            Self::Inclinometer(_) | Self::Interlock | Self::EmergencyStop => 0.18,
            Self::Coupler(_) | Self::Hose(_) | Self::JackFoot(_) => 0.22,
            Self::Jack(_) | Self::Chock(_) | Self::Station => 0.40,
            Self::Gate(_) | Self::Separator(_) => 0.25 + 0.5 * m(rig.gate_height_m),
            Self::Cradle(_) | Self::Rollers(_) => m(rig.wing_m()),
            Self::Column(_) | Self::ColumnFeet(_) => 0.6,
            Self::Receiver | Self::Rest => m(rig.setting_radius_m),
            Self::Rail(_) => 0.5 * m(rig.spec().rack.length_m),
            Self::Machine | Self::PowerPack => m(rig.spec().machine.half_length_m),
            Self::Jaws | Self::String => 1.3 * fusion::Machine::of(rig).radius,
            Self::Loader => 2.6,
            Self::Forks => 1.0,
            Self::Stick(stick) | Self::StickEnd(stick, _) => yard
                .spec()
                .pipe_of(stick.0)
                .map_or(0.5, |pipe| m(pipe.radius_m())),
            Self::Person(_) => 0.9,
        }
    }
}

/// Where a part is now, in the world. None where this line has none.
pub fn place_of(part: Part, yard: &Yard) -> Option<Vec3> {
    let rig = yard.rig();
    let now = Now {
        rig,
        shown: &yard.shown,
        wound: Wound::default(),
    };
    // A point of a piece's frame, in the plan.
    let on = |rides: Rides, x: f32, y: f32, z: f32| {
        let frame = rides.in_plan(&now)?;
        Some(frame.transform_point(Vec3::new(x, y, z)))
    };
    let face = m(crate::domain::rig::CRADLE_FACE_RAD).sin();
    let machine = || fusion::Machine::of(rig);
    let plan = match part {
        Part::Rail(end) => on(
            Rides::Rail(end),
            -0.5 * m(rig.spec().rack.length_m),
            0.0,
            0.0,
        ),
        Part::Jack(end) => on(Rides::JackCrank(end, 0), 0.0, 0.0, 0.0),
        Part::JackFoot(end) => on(Rides::JackLeg(end, 0), 0.0, 0.08, 0.0),
        Part::Inclinometer(end) => on(Rides::Bubble(end), 0.0, 0.0, 0.0),
        Part::Gate(end) => match rig.spec().escapement.kind {
            EscapementKind::PinPair => on(Rides::Gate(end), 0.0, 0.0, 0.0),
            EscapementKind::StarWheel => on(Rides::Wheel(end), 0.0, 0.0, 0.0),
        },
        Part::Separator(end) => match rig.spec().escapement.kind {
            EscapementKind::PinPair => on(Rides::Separator(end), 0.0, 0.0, 0.0),
            EscapementKind::StarWheel => None,
        },
        Part::Chock(end) => on(Rides::Chock(end), 0.0, 0.05, 0.0),
        Part::Receiver => on(
            Rides::Saddle(End::Near),
            0.0,
            m(rig.seat_height_m - rig.setting_radius_m),
            0.0,
        ),
        Part::Interlock => Some(receiver::limit_switch(rig)),
        Part::Cradle(end) => on(Rides::Carriage(end), 0.0, 0.5 * face * m(rig.wing_m()), 0.0),
        Part::Rollers(end) => on(Rides::Roller(end, 1, 0), 0.0, 0.0, 0.0),
        Part::Column(end) => on(Rides::Column(end), 0.0, 0.5 * m(rig.apex_low_m()), 0.0),
        Part::ColumnFeet(end) => on(Rides::Column(end), -0.5, 0.06, 0.0),
        Part::Hose(motion) => Some(hoses::hose(rig, motion)),
        Part::Coupler(motion) => Some(hoses::coupler(rig, motion)),
        Part::Machine => {
            let machine = machine();
            Some(Vec3::new(0.0, machine.deck, machine.z))
        }
        Part::Jaws | Part::String => {
            let machine = machine();
            Some(Vec3::new(0.0, machine.centre, machine.z))
        }
        Part::Rest => {
            let machine = machine();
            let y = machine.centre - machine.radius;
            Some(Vec3::new(0.0, y, m(rig.rest_z_m())))
        }
        Part::Loader => on(Rides::Loader, -1.4, 1.5, 0.0),
        Part::Forks => on(Rides::Fork(0), 0.0, 0.0, 0.0),
        Part::Station => Some(station::pendant(rig).translation),
        Part::EmergencyStop => Some(station::emergency_stop(rig)),
        Part::PowerPack => Some(hoses::power_pack(rig)),
        Part::Stick(_) | Part::StickEnd(..) | Part::Person(_) => None,
    };
    plan.map(|point| in_world(rig, point))
        .or_else(|| moving(part, yard))
}

/// What the core places in the world itself.
fn moving(part: Part, yard: &Yard) -> Option<Vec3> {
    let of = |stick: StickId| {
        let shown = yard.shown.sticks.get(stick.0)?;
        shown.present.then_some(shown.placed)
    };
    match part {
        Part::Stick(stick) => of(stick).map(|placed| placed.at),
        Part::StickEnd(stick, end) => {
            let placed = of(stick)?;
            let half = 0.5 * m(yard.spec().pipe_of(stick.0)?.length_m);
            let axis = placed.turn * Vec3::Z;
            let towards = super::machinery::kit::outwards(end) * axis.z.signum();
            Some(placed.at + axis * half * towards)
        }
        Part::Person(person) => yard
            .shown
            .person(person)
            .map(|person| person.feet + Vec3::Y * 1.2),
        _ => None,
    }
}

fn in_world(rig: &Rig, plan: Vec3) -> Vec3 {
    Vec3::new(m(rig.mirror()) * plan.x, plan.y, plan.z)
}
