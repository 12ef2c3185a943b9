//! What a piece of the machinery rides on, and where that is at the moment shown.
//!
//! Poses are in the plan of a right-handed line; [`Rides::in_world`] gives the mirror image of a
//! left-handed one.

use bevy::prelude::*;

use super::kit::m;
use super::{chocks, cradles, escapement, fusion, loader, rack, receiver};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::Place;
use crate::view::shown::{Placed, Shown};

/// See the module's text.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rides {
    /// It stands still.
    Ground,
    Rail(End),
    /// The bubble of the inclinometer.
    Bubble(End),
    /// The screw under a rail, the leg it turns in, and its crank, at a stand of the rail.
    JackHead(End, u8),
    JackLeg(End, u8),
    JackCrank(End, u8),
    Gate(End),
    Separator(End),
    Wheel(End),
    Chock(End),
    Saddle(End),
    /// One of the two links that cross.
    Link(End, u8),
    ReceiverRam(End),
    ReceiverRod(End),
    Column(End),
    /// The middle stage of a lift, and the inner one.
    Stage(End),
    Mast(End),
    /// What carries the V.
    Carriage(End),
    /// A driven roller of the near or the far cradle: on the rack's side or the outer one, and which.
    Roller(End, u8, u8),
    /// The upper half of a clamp.
    Clamp(u8),
    Loader,
    LoaderWheel(u8),
    LoaderStage,
    LoaderFace,
    Fork(u8),
}

/// What turns and swings on from picture to picture.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq)]
pub struct Wound {
    /// How far the near and the far rollers have turned, rad.
    pub rollers_rad: [f32; 2],
    /// How far the clamps of the stick's and the string's side are open, 0 to 1.
    pub clamps: [f32; 2],
}

/// A line at the moment shown.
#[derive(Clone, Copy)]
pub struct Now<'a> {
    pub rig: &'a Rig,
    pub shown: &'a Shown,
    pub wound: Wound,
}

impl Now<'_> {
    /// Of a pair: near, far.
    pub fn of<T: Copy>(pair: [T; 2], end: End) -> T {
        pair[end as usize]
    }

    /// A place of the world in the plan, and the other way round.
    pub fn flipped(rig: &Rig, placed: Transform) -> Transform {
        if rig.mirror() > 0.0 {
            return placed;
        }
        let (at, turn) = (placed.translation, placed.rotation);
        Transform {
            translation: Vec3::new(-at.x, at.y, at.z),
            rotation: Quat::from_xyzw(turn.x, -turn.y, -turn.z, turn.w),
            ..placed
        }
    }

    /// Something placed in the world, in the plan.
    pub fn in_plan(&self, placed: Placed) -> Transform {
        let placed = Transform::from_translation(placed.at).with_rotation(placed.turn);
        Self::flipped(self.rig, placed)
    }
}

/// Height of the ground at a place of the plan, m.
pub fn ground_m(rig: &Rig, x_m: f32, z_m: f32) -> f32 {
    let place = Place {
        x_m: f64::from(x_m),
        z_m: f64::from(z_m),
    };
    m(rig.spec().ground.height_m(place))
}

impl Rides {
    /// Where it is in the plan. None where there is no such thing.
    pub fn in_plan(self, now: &Now) -> Option<Transform> {
        Some(match self {
            Self::Ground => Transform::IDENTITY,
            Self::Rail(end) => rack::rail(now, end),
            Self::Bubble(end) => rack::bubble(now, end),
            Self::JackHead(end, stand) => rack::jack_head(now, end, stand)?,
            Self::JackLeg(end, stand) => rack::jack_leg(now, end, stand)?,
            Self::JackCrank(end, stand) => rack::jack_crank(now, end, stand)?,
            Self::Gate(end) => escapement::gate(now, end),
            Self::Separator(end) => escapement::separator(now, end),
            Self::Wheel(end) => escapement::wheel(now, end),
            Self::Chock(end) => chocks::chock(now, end)?,
            Self::Saddle(end) => receiver::saddle(now, end),
            Self::Link(end, which) => receiver::link(now, end, which),
            Self::ReceiverRam(end) => receiver::ram(now, end),
            Self::ReceiverRod(end) => receiver::rod(now, end),
            Self::Column(end) => cradles::column(now, end),
            Self::Stage(end) => cradles::raised(now, end, 0.5),
            Self::Mast(end) => cradles::raised(now, end, 1.0),
            Self::Carriage(end) => cradles::carriage(now, end),
            Self::Roller(end, face, which) => cradles::roller(now, end, face, which),
            Self::Clamp(which) => fusion::clamp(now, which),
            Self::Loader => loader::body(now)?,
            Self::LoaderWheel(which) => loader::wheel(now, which)?,
            Self::LoaderStage => loader::stage(now)?,
            Self::LoaderFace => loader::face(now)?,
            Self::Fork(which) => loader::fork(now, which)?,
        })
    }

    /// Where it is in the world.
    pub fn in_world(self, now: &Now) -> Option<Transform> {
        let placed = self.in_plan(now)?;
        Some(Now::flipped(now.rig, placed))
    }
}
