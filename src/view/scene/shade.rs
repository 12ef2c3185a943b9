//! Soft shade on the ground below what stands and moves, where the level of the picture has no
//! shadows: without it nothing would be seen to touch the ground, and no height would read.

use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

use super::ground::Lie;
use super::solid::Solid;
use super::weather::Weather;
use super::{Built, SceneSystems, due};
use crate::domain::pipe::Pipe;
use crate::domain::plan;
use crate::domain::spec::Place;
use crate::sim::line::State;
use crate::sim::world::StickId;
use crate::view::quality::Quality;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// Over the ground, m: above stone, tracks and puddles, under the marks that teach.
const OVER_M: f32 = 0.013;
/// It is drawn after what lies on the ground, wherever that has its middle.
const DRAWN_AFTER: f32 = 30.0;
/// How wide its edge is, m: under a machine, a stick, somebody.
const STEEL_EDGE_M: f32 = 0.5;
const STICK_EDGE_M: f32 = 0.35;
const PERSON_EDGE_M: f32 = 0.22;
/// How dark it is in the sun, and under clouds.
const SUNNY: f32 = 0.60;
const DULL: f32 = 0.34;
/// More cloud than this, and it lies straight below.
const CLOUDY: f32 = 0.8;
/// A low sun throws it no farther than this, of the height.
const FARTHEST: f32 = 1.8;

/// Whose it is.
#[derive(Component, Clone, Copy, PartialEq)]
enum Of {
    Stick(StickId),
    Person(usize),
    Loader,
}

/// Where it lies for each metre of height, in the world.
#[derive(Resource, Clone, Copy, Default)]
struct Falls(Vec3);

pub fn plugin(app: &mut App) {
    app.init_resource::<Falls>()
        .add_systems(
            Update,
            build.run_if(due(Built::Shade)).in_set(SceneSystems::Build),
        )
        .add_systems(Update, follow.in_set(SceneSystems::Move));
}

fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    quality: Res<Quality>,
    mut falls: ResMut<Falls>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    if quality.shadows().is_some() {
        return;
    }
    let rig = yard.rig();
    let air = Weather::over(&yard).air();
    let to_sun = air.towards_sun(rig.mirror() as f32);
    let low = to_sun.xz().length() / to_sun.y;
    let (dark, share) = if air.cloud > CLOUDY {
        (DULL, 0.0)
    } else {
        (SUNNY, low.min(FARTHEST) / low.max(1.0e-3))
    };
    falls.0 = Vec3::new(-to_sun.x, 0.0, -to_sun.z) / to_sun.y * share;
    // A round thing's shade is as wide as the sun is low.
    let wide = 1.0 + 0.5 * (low.min(FARTHEST) * share.min(1.0));
    let material = materials.add(StandardMaterial {
        unlit: true,
        alpha_mode: AlphaMode::Blend,
        depth_bias: DRAWN_AFTER,
        ..default()
    });
    let mut still = Solid::new();
    let lie = Lie::of(rig);
    for steel in plan::steel(rig) {
        let middle = Place {
            x_m: 0.5 * (steel.x_from_m + steel.x_to_m),
            z_m: 0.5 * (steel.z_from_m + steel.z_to_m),
        };
        let half = Vec2::new(
            0.5 * (steel.x_to_m - steel.x_from_m) as f32,
            0.5 * (steel.z_to_m - steel.z_from_m) as f32,
        );
        still.at(
            Transform::from_translation(lie.at(middle) + Vec3::Y * OVER_M + falls.0 * 0.3)
                .with_rotation(Quat::from_rotation_arc(Vec3::Y, lie.up())),
        );
        pad(&mut still, half, STEEL_EDGE_M, dark);
    }
    if !still.is_empty() {
        commands.spawn((
            Built::Shade,
            Mesh3d(meshes.add(still.mesh())),
            MeshMaterial3d(material.clone()),
            NotShadowCaster,
            NotShadowReceiver,
        ));
    }
    let mut cast = |of: Of, mesh: Handle<Mesh>| {
        commands.spawn((
            Built::Shade,
            of,
            Mesh3d(mesh),
            MeshMaterial3d(material.clone()),
            Transform::default(),
            NotShadowCaster,
            NotShadowReceiver,
        ));
    };
    let mut made: Vec<(Pipe, Handle<Mesh>)> = Vec::new();
    for stick in 0..yard.shown.sticks.len() {
        let Some(&pipe) = rig.spec().pipe_of(stick) else {
            continue;
        };
        let known = made.iter().find(|(of, _)| *of == pipe);
        let mesh = known.map(|(_, mesh)| mesh.clone()).unwrap_or_else(|| {
            let mut solid = Solid::new();
            let half = Vec2::new(
                0.75 * wide * pipe.radius_m() as f32,
                0.5 * pipe.length_m as f32,
            );
            pad(&mut solid, half, STICK_EDGE_M, dark);
            let mesh = meshes.add(solid.mesh());
            made.push((pipe, mesh.clone()));
            mesh
        });
        cast(Of::Stick(StickId(stick)), mesh);
    }
    let mut person = Solid::new();
    pad(&mut person, Vec2::splat(0.16), PERSON_EDGE_M, dark);
    let person = meshes.add(person.mesh());
    for number in 0..yard.shown.people.len() {
        cast(Of::Person(number), person.clone());
    }
    if let Some(loader) = &yard.shown.loader {
        let mut solid = Solid::new();
        let half = Vec2::new(loader.body_half.x, loader.body_half.z) * 0.8;
        pad(&mut solid, half, STEEL_EDGE_M, dark);
        cast(Of::Loader, meshes.add(solid.mesh()));
    }
}

/// A flat patch that is dark in its middle, these half widths along x and z, with an edge around it.
fn pad(solid: &mut Solid, half: Vec2, edge_m: f32, dark: f32) {
    let shade = |opacity: f32| colours::SHADE.with_alpha(opacity);
    let steps = [-1.0_f32, -1.0, 1.0, 1.0];
    let corners: Vec<u32> = (0..16)
        .map(|n| {
            let (i, k) = (n % 4, n / 4);
            let is_inside = matches!(i, 1 | 2) && matches!(k, 1 | 2);
            let out = |n: usize| if n == 0 || n == 3 { 0.8 } else { -0.2 } * edge_m;
            let at = Vec3::new(
                steps[i] * (half.x + out(i)).max(0.02),
                0.0,
                steps[k] * (half.y + out(k)).max(0.02),
            );
            solid.paint(shade(if is_inside { dark } else { 0.0 }));
            solid.corner(at, Vec3::Y, [0.0; 2])
        })
        .collect();
    for k in 0..3 {
        for i in 0..3 {
            let [a, b, c, d] =
                [(i, k), (i, k + 1), (i + 1, k + 1), (i + 1, k)].map(|(i, k)| corners[4 * k + i]);
            // The edge's corners are cut so that they fade evenly.
            if i == k {
                solid.triangle([b, c, d]);
                solid.triangle([b, d, a]);
            } else {
                solid.triangle([a, b, c]);
                solid.triangle([a, c, d]);
            }
        }
    }
}

fn follow(
    yard: Res<Yard>,
    falls: Res<Falls>,
    mut shades: Query<(&Of, &mut Transform, &mut Visibility)>,
) {
    let lie = Lie::of(yard.rig());
    let upright = Quat::from_rotation_arc(Vec3::Y, lie.up());
    for (of, mut transform, mut visibility) in &mut shades {
        let placed = match *of {
            Of::Stick(stick) => yard
                .shown
                .sticks
                .get(stick.0)
                .filter(|stick| stick.present)
                .map(|stick| (stick.placed.at, heading(stick.placed.turn * Vec3::Z))),
            Of::Person(number) => yard
                .shown
                .people
                .get(number)
                .filter(|person| person.state != State::InCab)
                .map(|person| (person.feet, 0.0)),
            Of::Loader => yard
                .shown
                .loader
                .as_ref()
                .map(|loader| (loader.body.at, heading(loader.body.turn * Vec3::Z))),
        };
        visibility.set_if_neq(if placed.is_some() {
            Visibility::Inherited
        } else {
            Visibility::Hidden
        });
        let Some((at, turn_rad)) = placed else {
            continue;
        };
        let under = |at: Vec3| {
            let place = Place {
                x_m: yard.rig().mirror() * f64::from(at.x),
                z_m: f64::from(at.z),
            };
            lie.at(place)
        };
        let high_m = (at.y - under(at).y).max(0.0);
        let down = under(at + falls.0 * high_m) + Vec3::Y * OVER_M;
        transform.set_if_neq(
            Transform::from_translation(down)
                .with_rotation(upright * Quat::from_rotation_y(turn_rad)),
        );
    }
}

/// How far a direction is turned about y from z.
fn heading(along: Vec3) -> f32 {
    along.x.atan2(along.z)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_patch_looks_up_and_fades_to_its_edge() {
        let mut solid = Solid::new();
        pad(&mut solid, Vec2::new(0.4, 6.0), STICK_EDGE_M, SUNNY);
        let corners: Vec<Vec3> = solid.corners().collect();
        for t in solid.triangles() {
            let [a, b, c] = t.map(|i| corners[i as usize]);
            assert!((b - a).cross(c - a).y > 0.0);
        }
        let widest = corners.iter().map(|at| at.x).fold(0.0, f32::max);
        assert!((widest - 0.4 - 0.8 * STICK_EDGE_M).abs() < 1.0e-5);
    }
}
