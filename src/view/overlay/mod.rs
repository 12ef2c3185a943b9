//! Overlays: thin flat marks in the scene that teach, each switched on and off by itself, fading in and
//! out ([`fade`]). What they show is read from the line; where nothing asks for one it costs nothing.
//!
//! | module | what it draws |
//! |---|---|
//! | [`zone`] | the exclusion zone as hatching, and where a loose stick can come to as dashes |
//! | [`fire`] | the line of fire of a stick that moves, or would first |
//! | [`lines`] | the tilt of the lift, and the jaws' centre line |
//! | [`forces`] | forces where pipe lies on steel, with their friction cones |
//! | [`ghost`] | where something ought to be |
//!
//! Numbers are written by whoever draws the panels: [`labels`] says what and where.

pub mod fade;
pub mod fire;
pub mod flat;
pub mod forces;
pub mod ghost;
pub mod lines;
pub mod zone;

use bevy::prelude::*;

use crate::texts::Message;
use crate::view::quality::Quality;
use crate::view::scene::{Built, SceneSystems, due};
use crate::view::yard::Yard;

pub use fade::AtOnce;
pub use ghost::{Ghost, GhostShape};

/// Which overlays are on.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Overlays {
    /// Hatching within the cones, and where a loose stick can come to.
    pub zone: bool,
    pub line_of_fire: bool,
    pub tilt: bool,
    pub centre_line: bool,
    /// Needs [`crate::view::shown::Shown::with_contacts`].
    pub forces: bool,
    /// At the forces.
    pub friction_cone: bool,
    /// What [`Ghost`] holds.
    pub ghost: bool,
}

impl Overlays {
    pub const ALL: Self = Self {
        zone: true,
        line_of_fire: true,
        tilt: true,
        centre_line: true,
        forces: true,
        friction_cone: true,
        ghost: true,
    };

    /// Whether the contacts have to be read from the line.
    pub fn needs_contacts(&self) -> bool {
        self.forces || self.friction_cone
    }
}

pub fn plugin(app: &mut App) {
    app.init_resource::<Overlays>()
        .init_resource::<Ghost>()
        .init_resource::<Quality>()
        .init_resource::<AtOnce>()
        .add_systems(
            Update,
            (
                zone::build,
                fire::build,
                lines::build,
                forces::build,
                ghost::build,
            )
                .run_if(due(Built::Marks))
                .in_set(SceneSystems::Build),
        )
        .add_systems(
            Update,
            (
                (
                    zone::show,
                    fire::show,
                    lines::show,
                    forces::show,
                    ghost::show,
                ),
                fade::fade,
            )
                .chain()
                .in_set(SceneSystems::Move),
        );
}

/// What is to be written into the picture, and where.
pub fn labels(yard: &Yard, overlays: &Overlays) -> Vec<(Vec3, Message)> {
    let mut labels = Vec::new();
    if overlays.zone {
        labels.extend(zone::labels(yard));
    }
    if overlays.line_of_fire {
        labels.extend(fire::labels(yard));
    }
    if overlays.tilt {
        labels.extend(lines::tilt_label(yard));
    }
    if overlays.centre_line {
        labels.push(lines::centre_label(yard));
    }
    if overlays.forces {
        labels.extend(forces::labels(yard));
    }
    labels
}

/// Marks are drawn after what lies on the ground, wherever that has its middle.
const DRAWN_AFTER: f32 = 60.0;

/// A mark's material: it takes no light, and is seen from both sides.
fn mark(colour: Color) -> StandardMaterial {
    StandardMaterial {
        base_color: colour,
        unlit: true,
        fog_enabled: false,
        alpha_mode: AlphaMode::Blend,
        depth_bias: DRAWN_AFTER,
        cull_mode: None,
        double_sided: true,
        ..default()
    }
}

/// Shown or not.
fn seen(is_seen: bool) -> Visibility {
    if is_seen {
        Visibility::Inherited
    } else {
        Visibility::Hidden
    }
}

/// Puts a bar of unit length and radius along y between two points.
fn between(from: Vec3, to: Vec3, radius_m: f32) -> Transform {
    let way = to - from;
    let length = way.length();
    Transform {
        translation: from,
        rotation: Quat::from_rotation_arc(Vec3::Y, way.normalize_or(Vec3::Y)),
        scale: Vec3::new(radius_m, length.max(1.0e-4), radius_m),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sim::line::Line;
    use crate::texts::{Lang, Texts};
    use crate::view::scene::site::shipped;
    use crate::view::shown::Shown;

    #[test]
    fn what_is_off_says_nothing_and_everything_can_be_said() {
        let mut said = Vec::new();
        for (_, rig) in shipped() {
            let mut line = Line::build(rig.spec());
            for _ in 0..240 {
                line.tick(&Default::default());
            }
            let mut yard = Yard::new(&line);
            yard.shown = Shown::of(&line).with_contacts(&line);
            assert!(labels(&yard, &Overlays::default()).is_empty());
            said.extend(labels(&yard, &Overlays::ALL));
        }
        assert!(said.len() > 40);
        for (at, message) in &said {
            assert!(at.is_finite());
            for lang in Lang::ALL {
                assert!(Texts::of(lang).try_say(message).is_ok(), "{message:?}");
            }
        }
    }
}
