//! The cones of the exclusion zone, and the tape between them.

use bevy::prelude::*;

use super::ground::Lie;
use super::people::{BAND, DULL, HighVis, ORANGE};
use super::site::Patch;
use super::solid::Solid;
use super::{Built, SceneSystems, due};
use crate::domain::plan;
use crate::domain::rig::Rig;
use crate::domain::spec::Place;
use crate::view::quality::Quality;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// A cone, m.
const HIGH_M: f32 = 0.75;
const FOOT_M: f32 = 0.165;
const TOP_M: f32 = 0.032;
/// Posts of the tape stand no farther apart than this, and the tape hangs so high, m.
const POSTS_M: f64 = 5.0;
const TAPE_M: f32 = 0.86;
const TAPE_HALF_M: f32 = 0.035;
/// Its stripes, and how far it hangs through between two posts, m.
const STRIPE_M: f32 = 0.35;
const SAG_M: f32 = 0.05;

/// A cone, by its place in the description.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cone(pub usize);

/// The tape and its posts.
#[derive(Component)]
pub struct Tape;

pub fn plugin(app: &mut App) {
    app.add_systems(
        Update,
        build.run_if(due(Built::Cones)).in_set(SceneSystems::Build),
    );
}

fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    quality: Res<Quality>,
    high_vis: Res<HighVis>,
    mut meshes: ResMut<Assets<Mesh>>,
) {
    let lie = Lie::of(yard.rig());
    let upright = Quat::from_rotation_arc(Vec3::Y, lie.up());
    let mesh = meshes.add(cone(if *quality == Quality::Low { 12 } else { 24 }).mesh());
    for (n, &place) in yard.spec().zone.cones.iter().enumerate() {
        commands.spawn((
            Built::Cones,
            Cone(n),
            Mesh3d(mesh.clone()),
            MeshMaterial3d(high_vis.0.clone()),
            Transform::from_translation(lie.at(place)).with_rotation(upright),
        ));
    }
    let tape = tape(yard.rig());
    if !tape.is_empty() {
        commands.spawn((
            Built::Cones,
            Tape,
            Mesh3d(meshes.add(tape.mesh())),
            MeshMaterial3d(high_vis.0.clone()),
        ));
    }
}

/// A cone that stands on its foot at the origin. Also carried about by whoever sets the zone out.
pub fn cone(sides: u32) -> Solid {
    let mut solid = Solid::new();
    let radius = |y: f32| FOOT_M + (TOP_M - FOOT_M) * (y - 0.04) / (HIGH_M - 0.04);
    solid.paint(colours::CONE_BASE).dab(DULL);
    solid.tapered(
        Vec3::Y * 0.02,
        Vec3::new(0.20, 0.02, 0.20),
        Vec2::splat(0.9),
    );
    let edges = [0.04, 0.26, 0.38, 0.50, 0.60, HIGH_M];
    for (n, pair) in edges.windows(2).enumerate() {
        if n % 2 == 0 {
            solid.paint(colours::CONE).dab(ORANGE);
        } else {
            solid.paint(colours::CONE_SLEEVE).dab(BAND);
        }
        solid.loft(
            &[0, 1].map(|i: usize| (pair[i], Vec2::splat(radius(pair[i])))),
            sides,
        );
    }
    solid.paint(colours::CONE).dab(ORANGE);
    solid.lid(Vec3::Y * HIGH_M, Vec3::Y, TOP_M, sides);
    solid
}

/// Tape along the zone's edges, on posts, with openings for the loader and the string.
fn tape(rig: &Rig) -> Solid {
    let mut solid = Solid::new();
    let cones = &rig.spec().zone.cones;
    if cones.len() < 3 {
        return solid;
    }
    let lie = Lie::of(rig);
    let open = openings(rig);
    let is_open = |at: Place| open.iter().any(|patch| patch.depth_m(at) > 0.0);
    for (n, &from) in cones.iter().enumerate() {
        let to = cones[(n + 1) % cones.len()];
        let length_m = (to.x_m - from.x_m).hypot(to.z_m - from.z_m);
        if !(0.2..400.0).contains(&length_m) {
            continue;
        }
        let spans = (length_m / POSTS_M).ceil().max(1.0) as usize;
        let along = |share: f64| Place {
            x_m: from.x_m + share * (to.x_m - from.x_m),
            z_m: from.z_m + share * (to.z_m - from.z_m),
        };
        for span in 0..spans {
            let share = |part: f64| (span as f64 + part) / spans as f64;
            let post = along(share(0.0));
            if span > 0 && !is_open(post) {
                let foot = lie.at(post);
                solid.paint(colours::SLATE);
                solid.bar((foot, 0.012), (foot + Vec3::Y * (TAPE_M + 0.08), 0.012), 5);
            }
            let span_m = (length_m / spans as f64) as f32;
            let pieces = (span_m / STRIPE_M).ceil().max(1.0) as usize;
            for piece in 0..pieces {
                let [one, other] = [piece, piece + 1].map(|i| {
                    let part = i as f64 / pieces as f64;
                    let place = along(share(part));
                    let hang = 4.0 * SAG_M * (part * (1.0 - part)) as f32;
                    (place, lie.at(place) + Vec3::Y * (TAPE_M - hang))
                });
                if is_open(one.0) || is_open(other.0) {
                    continue;
                }
                let half = Vec3::Y * TAPE_HALF_M;
                if piece % 2 == 0 {
                    solid.paint(colours::CONE).dab(ORANGE);
                } else {
                    solid.paint(colours::CONE_SLEEVE).dab(BAND);
                }
                let band = [one.1 - half, other.1 - half, other.1 + half, one.1 + half];
                solid.face(&band);
                // And from the other side.
                let [a, b, c, d] = band;
                solid.face(&[d, c, b, a]);
                solid.dab(DULL);
            }
        }
    }
    solid
}

/// Where no tape can hang: in the steel, in the loader's lane, and where pipe goes out.
fn openings(rig: &Rig) -> Vec<Patch> {
    let mut open: Vec<Patch> = plan::steel(rig)
        .iter()
        .map(|steel| {
            Patch {
                x_m: (steel.x_from_m, steel.x_to_m),
                z_m: (steel.z_from_m, steel.z_to_m),
            }
            .wider(0.4)
        })
        .collect();
    open.push(Patch {
        x_m: (-1.4, 1.4),
        z_m: (0.0, 500.0),
    });
    if rig.spec().loader.is_some() {
        open.push(Patch {
            x_m: (-500.0, plan::high_end_x_m(rig)),
            z_m: (-2.4, 2.4),
        });
    }
    open
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::site::shipped;

    #[test]
    fn tape_follows_the_zone_over_the_ground() {
        for (name, rig) in shipped() {
            let lie = Lie::of(&rig);
            let tape = tape(&rig);
            assert_eq!(tape.is_empty(), rig.spec().zone.cones.len() < 3, "{name}");
            for at in tape.corners() {
                let place = Place {
                    x_m: rig.mirror() * f64::from(at.x),
                    z_m: f64::from(at.z),
                };
                let over = at.y - lie.at(place).y;
                assert!((-0.01..1.0).contains(&over), "{name}: {over}");
            }
        }
    }

    #[test]
    fn a_cone_stands_on_the_ground() {
        let low = cone(12).corners().map(|at| at.y).fold(f32::MAX, f32::min);
        assert!(low.abs() < 1.0e-6);
    }
}
