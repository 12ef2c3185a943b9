//! From the rig's plane of a right-handed line to parts in the world, and forces back.

use super::people::{Mover, Shape, Striker};
use crate::domain::rig::{PlaneBox, Point, Rig};
use crate::sim::world::{PartId, Touching, World, rotation_about_z};
use crate::sim::{Pose, Vector};

/// Mass behind a moving part, kg: its arm or column (ours; only the energy told depends on it).
const PART_KG: f64 = 300.0;

fn pose(rig: &Rig, place: &PlaneBox, z_m: f64) -> Pose {
    let side = rig.mirror();
    Pose::from_parts(
        to_world(rig, place.centre, z_m),
        rotation_about_z(side * place.turn_rad),
    )
}

/// A point of the rig's plane in the world.
pub fn to_world(rig: &Rig, point: Point, z_m: f64) -> Vector {
    Vector::new(
        (rig.mirror() * point.x_m) as f32,
        point.y_m as f32,
        z_m as f32,
    )
}

/// A point of the world in the rig's plane.
pub fn to_plane(rig: &Rig, point: Vector) -> Point {
    Point {
        x_m: rig.mirror() * f64::from(point.x),
        y_m: f64::from(point.y),
    }
}

/// A box of the rig's plane as a solid in the world: half extents and pose.
fn solid(rig: &Rig, place: &PlaneBox, z_m: f64, half_width_m: f64) -> (Vector, Pose) {
    let half = Vector::new(
        place.half_length_m as f32,
        place.half_thickness_m as f32,
        half_width_m as f32,
    );
    (half, pose(rig, place, z_m))
}

pub fn moving(
    world: &mut World,
    rig: &Rig,
    place: PlaneBox,
    z_m: f64,
    half_width_m: f64,
    touching: Touching,
) -> PartId {
    let (half, pose) = solid(rig, &place, z_m, half_width_m);
    world.add_moving_box(half, pose, touching)
}

/// Where a moving part shall be after this tick.
pub fn place(world: &mut World, rig: &Rig, part: PartId, place: PlaneBox, z_m: f64) {
    world.move_part(part, pose(rig, &place, z_m));
}

/// Component of the sticks' force on a part along the box's own y, N.
pub fn along_own_y(world: &World, rig: &Rig, part: PartId, place: &PlaneBox) -> f64 {
    let up = rotation_about_z(rig.mirror() * place.turn_rad) * Vector::Y;
    f64::from(world.force_on_part(part).dot(up))
}

/// Moment of the sticks' forces on a part about a point of the rig's plane, counter-clockwise in the
/// plane of a right-handed line, N·m.
pub fn moment_about(world: &World, rig: &Rig, part: PartId, about: Point) -> f64 {
    rig.mirror() * f64::from(world.moment_on_part(part, to_world(rig, about, 0.0)))
}

/// Component of the sticks' friction on a part along the box's own x, N.
pub fn friction_along_own_x(world: &World, part: PartId) -> f64 {
    let along = world.part_pose(part).rotation * Vector::X;
    f64::from(world.friction_on_part(part).dot(along))
}

/// A moving part as something that may strike somebody; None while it stands.
pub fn mover(world: &World, part: PartId) -> Option<Mover> {
    let velocity = world.part_velocity(part);
    if velocity == Vector::ZERO {
        return None;
    }
    Some(Mover {
        what: Striker::Machinery,
        shape: Shape::Block {
            half: world.box_half_extents(part)?,
            pose: world.part_pose(part),
        },
        velocity,
        mass_kg: PART_KG,
    })
}
