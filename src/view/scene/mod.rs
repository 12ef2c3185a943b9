//! The scene: meshes, materials and light, built for a line and moved as it moves.
//!
//! What is built for a line carries [`Built`] on its topmost entity and goes when another line is
//! shown. Builders run in [`SceneSystems::Build`], in the frame in which the yard shows a new line;
//! movers run in [`SceneSystems::Move`] in every frame and only read [`Yard`].

pub mod cones;
mod country;
mod dressing;
mod gait;
pub mod ground;
pub mod machinery;
pub mod part;
pub mod people;
pub mod site;
pub mod sky;
pub mod solid;
pub mod texture;
pub mod weather;

use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::prelude::*;

use super::quality::Quality;
use super::yard::Yard;

/// The order of the scene's systems in a frame.
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SceneSystems {
    /// Spawns what a new line needs.
    Build,
    /// Moves it.
    Move,
}

/// On the topmost entity of everything that is built for a line.
#[derive(Component, Default)]
pub struct Built;

/// Which line the scene was built for last, and at which quality.
#[derive(Resource, Default)]
struct BuiltFor(Option<(u64, Quality)>);

pub fn plugin(app: &mut App) {
    app.add_plugins((machinery::plugin, surroundings))
        .init_resource::<BuiltFor>()
        .configure_sets(
            Update,
            (
                SceneSystems::Build.run_if(resource_exists::<Yard>.and_then(is_new)),
                SceneSystems::Move.run_if(resource_exists::<Yard>),
            )
                .chain(),
        )
        .add_systems(
            Update,
            clear
                .before(SceneSystems::Build)
                .run_if(resource_exists::<Yard>.and_then(is_new)),
        )
        .add_systems(
            Update,
            mark.after(SceneSystems::Build)
                .run_if(resource_exists::<Yard>),
        );
}

/// Ground, sky, people, cones, and what stands about.
pub fn surroundings(app: &mut App) {
    app.add_plugins((
        sky::plugin,
        ground::plugin,
        dressing::plugin,
        people::plugin,
        cones::plugin,
    ));
}

fn is_new(yard: Res<Yard>, quality: Res<Quality>, built: Res<BuiltFor>) -> bool {
    built.0 != Some((yard.built(), *quality))
}

fn clear(mut commands: Commands, old: Query<Entity, With<Built>>) {
    for entity in &old {
        commands.entity(entity).despawn();
    }
}

fn mark(yard: Res<Yard>, quality: Res<Quality>, mut built: ResMut<BuiltFor>) {
    built.0 = Some((yard.built(), *quality));
}

/// A camera of the yard, wherever it draws to.
pub fn camera(quality: Quality) -> impl Bundle {
    (Camera3d::default(), Tonemapping::AcesFitted, quality.msaa())
}
