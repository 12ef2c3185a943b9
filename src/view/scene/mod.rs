//! The scene: meshes, materials and light, built for a line and moved as it moves.
//!
//! What is built for a line carries [`Built`] on its topmost entity: it says which part of the scene it
//! belongs to. When another line is shown, or the same one changed, the parts that would look otherwise
//! go and are built anew ([`due`]); the others stay. Builders run in [`SceneSystems::Build`] and keep
//! textures and materials that do not depend on the line; movers run in [`SceneSystems::Move`] in every
//! frame and only read [`Yard`].

mod basis;
pub mod cones;
mod country;
mod dressing;
mod gait;
pub mod ground;
pub mod machinery;
pub mod part;
pub mod people;
mod plain;
mod shade;
pub mod site;
pub mod sky;
pub mod solid;
pub mod texture;
pub mod weather;

use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::prelude::*;

use self::basis::Basis;
use self::site::Site;
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

/// On the topmost entity of everything that is built for a line: the part of the scene that it is of.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Built {
    Ground,
    /// What mirrors the sky on the ground.
    Water,
    Dressing,
    /// Soft shade where there are no shadows.
    Shade,
    Cones,
    People,
    Machinery,
    /// What teaches, and what somebody on foot has stretched.
    Marks,
}

/// What the scene was built from, and the parts that are to be built in this frame.
#[derive(Resource, Default)]
pub struct Stands {
    basis: Option<Basis>,
    due: Vec<Built>,
}

impl Stands {
    /// The site around the line that is shown.
    fn site(&self) -> Option<&Site> {
        self.basis.as_ref().map(Basis::site)
    }
}

/// Whether a part of the scene is to be built in this frame.
pub fn due(part: Built) -> impl Fn(Option<Res<Stands>>) -> bool + Clone {
    move |stands: Option<Res<Stands>>| stands.is_some_and(|stands| stands.due.contains(&part))
}

pub fn plugin(app: &mut App) {
    app.add_plugins((machinery::plugin, surroundings, plain::plugin))
        .init_resource::<Stands>()
        .init_resource::<Quality>()
        .configure_sets(
            Update,
            (
                SceneSystems::Build.run_if(resource_exists::<Yard>),
                SceneSystems::Move.run_if(resource_exists::<Yard>),
            )
                .chain(),
        )
        .add_systems(
            Update,
            notice
                .before(SceneSystems::Build)
                .run_if(resource_exists::<Yard>),
        );
}

/// Ground, sky, people, cones, and what stands about.
pub fn surroundings(app: &mut App) {
    app.add_plugins((
        sky::plugin,
        ground::plugin,
        dressing::plugin,
        shade::plugin,
        people::plugin,
        cones::plugin,
    ));
}

/// Sees what looks otherwise than it was built, and takes it away.
fn notice(
    mut commands: Commands,
    mut yard: ResMut<Yard>,
    quality: Res<Quality>,
    mut stands: ResMut<Stands>,
    old: Query<(Entity, &Built)>,
) {
    yard.keep_up();
    if !stands.due.is_empty() {
        stands.due.clear();
    }
    let is_known = |basis: &Basis| basis.is_of(&yard, *quality);
    if stands.basis.as_ref().is_some_and(is_known) {
        return;
    }
    let basis = Basis::of(&yard, *quality);
    stands.due = basis.differs_from(stands.basis.as_ref());
    for (entity, built) in &old {
        if stands.due.contains(built) {
            commands.entity(entity).despawn();
        }
    }
    stands.basis = Some(basis);
}

/// A camera of the yard, wherever it draws to.
pub fn camera(quality: Quality) -> impl Bundle {
    (Camera3d::default(), Tonemapping::AcesFitted, quality.msaa())
}
