//! The row chocks: one steel wedge for each rail, pinned to it just downhill of a stick.
//!
//! They scale with the size setting like the pins, and are moving boxes like them: out of use they
//! lie sunk under the rail's surface, and they rise in half a second, so that nothing is shot away. A
//! wedge that comes up under a stick stops there: nobody lifts a stick with a chock.

use crate::domain::math::atan2;
use crate::domain::rig::{End, PlaneBox, Point, Rig};
use crate::sim::Vector;
use crate::sim::world::{PartId, StickId, Touching, World};

use super::parts;
use super::row::{Section, beside_post};

/// Height over the rail and thickness along it, in radii of the size setting.
const HEIGHT_R: f64 = 0.25;
const THICKNESS_R: f64 = 0.15;
/// How far a chock out of use lies under the rail's surface, m: out of reach of every contact.
const SUNK_M: f64 = 0.06;
/// Time of its way up or down, s.
const RISE_S: f64 = 0.5;
/// Clear gap to the stick when it is set, m.
const GAP_M: f64 = 0.004;

/// The pair of chocks.
#[derive(Clone, Debug)]
pub struct Chocks {
    blocks: [Block; 2],
}

#[derive(Clone, Copy, Debug)]
struct Block {
    side: End,
    /// None where it is missing.
    part: Option<PartId>,
    /// Its uphill face, up the rail from the toe, m.
    along_m: f64,
    /// How far it has come up, 0 to 1.
    raised: f64,
    /// It shall be up.
    wanted: bool,
}

impl Chocks {
    /// Half width of a chock along z, m.
    pub const HALF_WIDTH_M: f64 = 0.05;

    /// Thickness of a chock along its rail, m.
    pub fn thickness_m(rig: &Rig) -> f64 {
        THICKNESS_R * rig.setting_radius_m
    }

    /// Puts the chocks that there are into the world, out of use.
    pub fn build(world: &mut World, rig: &Rig) -> Self {
        let blocks = End::BOTH.map(|side| {
            let mut block = Block {
                side,
                part: None,
                along_m: rig.gate_corner_m,
                raised: 0.0,
                wanted: false,
            };
            if !rig.faults(side).chock_missing {
                let steel = Touching {
                    friction: rig.spec().contact.friction(rig.rail(side).surface) as f32,
                    rolling_lever_arm_m: 0.0,
                };
                let z_m = rig.rail_z_m(side);
                block.part = Some(parts::moving(
                    world,
                    rig,
                    block.shape(rig),
                    z_m,
                    Self::HALF_WIDTH_M,
                    steel,
                ));
            }
            block
        });
        Self { blocks }
    }

    /// Height of a set chock over its rail, m.
    pub fn height_m(rig: &Rig) -> f64 {
        HEIGHT_R * rig.setting_radius_m
    }

    /// Sets the chock of a rail just downhill of a stick. False where there is none, where it is in
    /// use already, or where the rail ends before it.
    pub fn set(&mut self, world: &World, rig: &Rig, side: End, below: StickId) -> bool {
        let Some(face_m) = face_below_m(world, rig, side, below) else {
            return false;
        };
        let block = &mut self.blocks[side as usize];
        if block.part.is_none() || block.raised > 0.0 || block.wanted {
            return false;
        }
        block.along_m = face_m;
        block.wanted = true;
        true
    }

    /// Takes the chock of a rail away.
    pub fn take(&mut self, side: End) {
        self.blocks[side as usize].wanted = false;
    }

    /// One tick, before the world's step.
    pub fn tick(&mut self, world: &mut World, rig: &Rig) {
        let change = f64::from(world.settings().dt_s) / RISE_S;
        for block in &mut self.blocks {
            let Some(part) = block.part else {
                continue;
            };
            if block.wanted && world.force_on_part(part) == Vector::ZERO {
                block.raised = (block.raised + change).min(1.0);
            } else if !block.wanted {
                block.raised = (block.raised - change).max(0.0);
            }
            let z_m = rig.rail_z_m(block.side);
            parts::place(world, rig, part, block.shape(rig), z_m);
        }
    }

    /// Whether the chock of a rail stands all the way up.
    pub fn is_set(&self, side: End) -> bool {
        self.blocks[side as usize].raised >= 1.0
    }

    /// Whether both stand all the way up.
    pub fn are_set(&self) -> bool {
        End::BOTH.into_iter().all(|side| self.is_set(side))
    }

    /// How far each has come up (near, far), as a fraction.
    pub fn raised_fractions(&self) -> [f64; 2] {
        self.blocks.map(|block| block.raised)
    }

    /// Its uphill face, up the rail from the toe, m: where it was set last.
    pub fn face_m(&self, side: End) -> f64 {
        self.blocks[side as usize].along_m
    }

    /// Whether a stick lies uphill of both chocks on the rack, and both are set: it and the row below
    /// it down to the chocks cannot roll on.
    pub fn is_chocked(&self, world: &World, rig: &Rig, stick: StickId) -> bool {
        self.are_set()
            && End::BOTH.into_iter().all(|side| {
                on_rail_m(world, rig, side, stick)
                    .is_some_and(|along_m| along_m > self.face_m(side))
            })
    }

    /// Whether a stick leans on either chock.
    pub fn hold(&self, world: &World, stick: StickId) -> bool {
        let mut parts = self.blocks.iter().filter_map(|block| block.part);
        parts.any(|part| world.touches(part, stick))
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> + '_ {
        self.blocks.iter().flat_map(|block| {
            let wanted = f64::from(u8::from(block.wanted));
            [block.along_m, block.raised, wanted]
        })
    }
}

impl Block {
    fn shape(&self, rig: &Rig) -> PlaneBox {
        let height_m = Chocks::height_m(rig);
        let top_m = self.raised * (height_m + SUNK_M) - SUNK_M;
        // It reaches further down than it ever rises.
        let half_height_m = height_m + SUNK_M;
        let half_m = Chocks::thickness_m(rig) / 2.0;
        PlaneBox {
            centre: rig.on_rail(self.side, self.along_m - half_m, top_m - half_height_m),
            half_length_m: half_m,
            half_thickness_m: half_height_m,
            turn_rad: -rig.rail(self.side).pitch_rad,
        }
    }
}

/// The lowest stick that lies on the rack, and with it the place of the chocks. None on an empty one.
pub fn lowest_on_rack(world: &World, rig: &Rig) -> Option<StickId> {
    world
        .sticks()
        .filter_map(|stick| Some((stick, mean_on_rack_m(world, rig, stick)?)))
        .min_by(|(_, one_m), (_, other_m)| one_m.total_cmp(other_m))
        .map(|(stick, _)| stick)
}

/// Whether more than one stick lies on the rack.
pub fn is_row(world: &World, rig: &Rig) -> bool {
    let on_rack = world
        .sticks()
        .filter(|&stick| mean_on_rack_m(world, rig, stick).is_some());
    on_rack.count() > 1
}

/// How far up a stick lies on the rack, on the mean of both rails, m.
fn mean_on_rack_m(world: &World, rig: &Rig, stick: StickId) -> Option<f64> {
    let near_m = on_rail_m(world, rig, End::Near, stick)?;
    Some((near_m + on_rail_m(world, rig, End::Far, stick)?) / 2.0)
}

/// How far up a rail from its toe a stick's axis crosses it, m. None where it does not lie on it.
fn on_rail_m(world: &World, rig: &Rig, side: End, stick: StickId) -> Option<f64> {
    if !world.is_present(stick) {
        return None;
    }
    let (along_m, above_m) = rig.to_rail(side, axis_at(world, rig, side, stick)?);
    let radius_m = world.pipe(stick).radius_m();
    let on = (0.0..=rig.spec().rack.length_m).contains(&along_m)
        && (0.5 * radius_m..=1.5 * radius_m).contains(&above_m);
    on.then_some(along_m)
}

/// The point of a stick's axis over the middle of a rail, in the rig's plane. None where it does not
/// reach there.
fn axis_at(world: &World, rig: &Rig, side: End, stick: StickId) -> Option<Point> {
    let state = world.stick(stick);
    let axis = state.axis();
    let along = (rig.rail_z_m(side) as f32 - state.pose.translation.z) / axis.z;
    let half_length_m = 0.5 * world.pipe(stick).length_m as f32;
    // A stick square to the line gives infinity or no number.
    (along.abs() <= half_length_m)
        .then(|| parts::to_plane(rig, state.pose.translation + axis * along))
}

/// Where the uphill face of a chock belongs below a stick, up the rail, m. None where the stick does
/// not lie on the rail, or the rail ends before it.
fn face_below_m(world: &World, rig: &Rig, side: End, stick: StickId) -> Option<f64> {
    let along_m = on_rail_m(world, rig, side, stick)?;
    let long_axis = world.stick(stick).pose.rotation * Vector::X;
    let angle_rad = atan2(
        f64::from(long_axis.y),
        rig.mirror() * f64::from(long_axis.x),
    );
    let section = Section {
        oval: world.pipe(stick).oval(),
        angle_rad: -rig.rail(side).pitch_rad - angle_rad,
    };
    let face_m = along_m - beside_post(&section, Chocks::height_m(rig)) - GAP_M;
    (face_m >= Chocks::thickness_m(rig)).then_some(face_m)
}
