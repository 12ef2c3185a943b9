//! What somebody on foot holds and puts down: the tape, the string, and the cones as they stand now.

use bevy::prelude::*;

use super::hands::{HookedTo, Tape};
use super::{OnFoot, Site};
use crate::domain::rig::End;
use crate::view::scene::cones::{self, Cone};
use crate::view::scene::ground::Lie;
use crate::view::scene::machinery::coat::linear;
use crate::view::scene::people::HighVis;
use crate::view::scene::{Built, SceneSystems};
use crate::view::theme::machinery as colours;
use crate::view::yard::Yard;

/// How high the tape is held at something that stands there, and in a hand, m.
const HOOK_M: f64 = 0.75;
const HAND_M: f64 = 0.95;
const MARK_M: f64 = 0.02;
/// Half of its blade across and through, and half of the string, m.
const BLADE_M: Vec2 = Vec2::new(0.014, 0.0015);
const STRING_M: f32 = 0.002;
/// How far beyond the far cradle the string goes, m.
const BEYOND_M: f64 = 2.5;

/// A bar of one metre along z that is drawn out to where it goes.
#[derive(Component, Clone, Copy, PartialEq, Eq)]
enum Line {
    Tape,
    String,
}

pub fn plugin(app: &mut App) {
    app.add_systems(
        Update,
        (lines, cones)
            .in_set(SceneSystems::Move)
            .run_if(resource_exists::<OnFoot>.and_then(resource_exists::<Site>)),
    );
}

/// From where to where the tape is drawn.
fn tape_ends(site: &Site, tape: &Tape) -> (Vec3, Vec3) {
    let from_m = match tape.hooked_to {
        HookedTo::Mark => MARK_M,
        HookedTo::Cradle(_) | HookedTo::Jaws => HOOK_M,
    };
    (
        site.in_world(tape.from, from_m),
        site.in_world(tape.to, HAND_M),
    )
}

/// From where to where the string is: along the line's centre, from the jaws past the far cradle, just
/// over the lowest place of the V's.
fn string_ends(yard: &Yard) -> (Vec3, Vec3) {
    let rig = yard.rig();
    let y_m = (rig.apex_low_m() + 0.05) as f32;
    let far_m = rig.cradle_z_m(End::Far) - BEYOND_M;
    (
        Vec3::new(0.0, y_m, rig.jaws_z_m() as f32),
        Vec3::new(0.0, y_m, far_m as f32),
    )
}

/// A bar along z of one metre, drawn out between two points.
fn drawn_out(from: Vec3, to: Vec3) -> Transform {
    let way = to - from;
    let length_m = way.length().max(1.0e-3);
    Transform {
        translation: from.midpoint(to),
        rotation: Quat::from_rotation_arc(Vec3::Z, way / length_m),
        scale: Vec3::new(1.0, 1.0, length_m),
    }
}

fn lines(
    mut commands: Commands,
    yard: Res<Yard>,
    site: Res<Site>,
    on_foot: Res<OnFoot>,
    mut drawn: Query<(&Line, &mut Transform, &mut Visibility)>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let ends = |line: Line| match line {
        Line::Tape => on_foot.tape.map(|tape| tape_ends(&site, &tape)),
        Line::String => on_foot.string.then(|| string_ends(&yard)),
    };
    for line in [Line::Tape, Line::String] {
        let place = ends(line).map(|(from, to)| drawn_out(from, to));
        let known = drawn.iter_mut().find(|(of, ..)| **of == line);
        match (known, place) {
            (Some((_, mut transform, mut visibility)), Some(place)) => {
                *transform = place;
                *visibility = Visibility::Visible;
            }
            (Some((_, _, mut visibility)), None) => *visibility = Visibility::Hidden,
            (None, Some(place)) => {
                let (half, colour) = match line {
                    Line::Tape => (BLADE_M, colours::SAND),
                    Line::String => (Vec2::splat(STRING_M), colours::CHALK),
                };
                let [r, g, b, _] = linear(colour);
                commands.spawn((
                    Built::Marks,
                    line,
                    Mesh3d(meshes.add(Cuboid::new(2.0 * half.x, 2.0 * half.y, 1.0))),
                    MeshMaterial3d(materials.add(StandardMaterial {
                        base_color: Color::linear_rgb(r, g, b),
                        perceptual_roughness: 0.5,
                        ..default()
                    })),
                    place,
                    Visibility::Visible,
                ));
            }
            (None, None) => {}
        }
    }
}

/// The cones of the scene go to where they stand now; more are brought where there are too few. The
/// tape between them hangs again when the line is set out.
fn cones(
    mut commands: Commands,
    yard: Res<Yard>,
    on_foot: Res<OnFoot>,
    mut standing: Query<(&Cone, &mut Transform, &mut Visibility), Without<cones::Tape>>,
    mut tape: Query<&mut Visibility, With<cones::Tape>>,
    high_vis: Option<Res<HighVis>>,
    mut meshes: ResMut<Assets<Mesh>>,
) {
    let lie = Lie::of(yard.rig());
    let upright = Quat::from_rotation_arc(Vec3::Y, lie.up());
    let place = |number: usize| {
        let place = on_foot.cones.get(number)?;
        Some(Transform::from_translation(lie.at(*place)).with_rotation(upright))
    };
    let mut most = 0;
    for (&Cone(number), mut transform, mut visibility) in &mut standing {
        most = most.max(number + 1);
        match place(number) {
            Some(place) => {
                *transform = place;
                *visibility = Visibility::Inherited;
            }
            None => *visibility = Visibility::Hidden,
        }
    }
    let as_set_out = on_foot.cones == yard.spec().zone.cones;
    for mut visibility in &mut tape {
        *visibility = if as_set_out {
            Visibility::Inherited
        } else {
            Visibility::Hidden
        };
    }
    let Some(high_vis) = high_vis.filter(|_| most < on_foot.cones.len()) else {
        return;
    };
    let mesh = meshes.add(cones::cone(24).mesh());
    for number in most..on_foot.cones.len() {
        if let Some(place) = place(number) {
            commands.spawn((
                Built::Cones,
                Cone(number),
                Mesh3d(mesh.clone()),
                MeshMaterial3d(high_vis.0.clone()),
                place,
                Visibility::Inherited,
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_drawn_out_reaches_from_end_to_end() {
        let (from, to) = (Vec3::new(1.0, 0.5, -3.0), Vec3::new(-2.0, 0.9, 4.0));
        let bar = drawn_out(from, to);
        assert!(bar.transform_point(Vec3::Z * -0.5).distance(from) < 1e-5);
        assert!(bar.transform_point(Vec3::Z * 0.5).distance(to) < 1e-5);
        // Held together it is a point, and no wonder.
        assert!(drawn_out(from, from).rotation.is_finite());
    }
}
