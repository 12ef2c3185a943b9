//! Everything of steel and pipe: built anew for every line, moved as it moves.
//!
//! | module | what it is |
//! |---|---|
//! | [`rides`] | what a piece rides on, and where that is now |
//! | [`kit`], [`piece`], [`solid`], [`steel`] | how pieces are made: collected, shaped, meshed |
//! | [`coat`] | colours and materials |
//! | [`rack`], [`escapement`], [`receiver`], [`cradles`], [`fusion`], [`loader`], [`chocks`] | the machines |
//! | [`hoses`], [`station`] | what drives them |
//! | [`pipe`] | sticks and string |
//!
//! The faces that carry pipe are those of [`crate::domain::rig`]: what is seen to touch, touches.

pub mod chocks;
pub mod coat;
pub mod cradles;
pub mod escapement;
pub mod fusion;
pub mod hoses;
pub mod kit;
pub mod loader;
pub mod piece;
pub mod pipe;
pub mod rack;
pub mod receiver;
pub mod rides;
pub mod solid;
pub mod station;
pub mod steel;

use bevy::prelude::*;

use self::coat::Finishes;
use self::kit::{Kit, m};
use self::rides::{Now, Rides, Wound};
use super::{Built, SceneSystems, due};
use crate::domain::pipe::Pipe;
use crate::domain::rig::Rig;
use crate::sim::line::Jaws;
use crate::sim::world::StickId;
use crate::view::quality::Quality;
use crate::view::shown::Shown;
use crate::view::yard::Yard;

/// Joined pipe beyond the string of the core, in sticks, so that it does not end in mid-air.
const STRING_STICKS: u8 = 2;

/// As many kinds of pipe are kept at the most.
const KEPT: usize = 48;

/// A length of pipe of the picture.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
enum Tube {
    Stick(StickId),
    /// Of the string, counted from the jaws.
    String(u8),
}

pub fn plugin(app: &mut App) {
    app.init_resource::<Wound>()
        .init_resource::<Store>()
        .add_systems(
            Update,
            build
                .run_if(due(Built::Machinery))
                .in_set(SceneSystems::Build),
        )
        .add_systems(
            Update,
            (wind, (place_pieces, place_tubes))
                .chain()
                .in_set(SceneSystems::Move),
        );
}

/// Every piece of a line's machinery, with all that it rides on.
pub fn pieces(rig: &Rig, quality: Quality) -> Vec<(Vec<Rides>, piece::Piece)> {
    let mut kit = Kit::new(rig, quality);
    rack::build(&mut kit);
    escapement::build(&mut kit);
    receiver::build(&mut kit);
    cradles::build(&mut kit);
    fusion::build(&mut kit);
    loader::build(&mut kit);
    chocks::build(&mut kit);
    hoses::build(&mut kit);
    station::build(&mut kit);
    kit.into_pieces()
}

fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    quality: Res<Quality>,
    mut store: ResMut<Store>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut images: ResMut<Assets<Image>>,
) {
    store.open(*quality, &mut materials, &mut images);
    let mirror = m(yard.rig().mirror());
    let top = commands
        .spawn((
            Built::Machinery,
            Transform::default(),
            Visibility::default(),
        ))
        .id();
    for (rides, piece) in pieces(yard.rig(), *quality) {
        for (finish, solid) in piece.into_solids().filter(|(_, solid)| !solid.is_empty()) {
            let mesh = meshes.add(solid.mesh(mirror));
            for &rides in &rides {
                commands.spawn((
                    rides,
                    Mesh3d(mesh.clone()),
                    MeshMaterial3d(store.finishes.of(finish)),
                    Transform::default(),
                    ChildOf(top),
                ));
            }
        }
    }
    let tubes = (0..yard.shown.sticks.len())
        .map(|stick| (Tube::Stick(StickId(stick)), stick))
        .chain((0..STRING_STICKS).map(|joined| (Tube::String(joined), 0)));
    for (tube, stick) in tubes {
        let Some(&pipe) = yard.spec().pipe_of(stick) else {
            continue;
        };
        // The jaws have rounded what is joined.
        let pipe = match tube {
            Tube::Stick(_) => pipe,
            Tube::String(_) => Pipe {
                ovality: 0.0,
                ..pipe
            },
        };
        let dress = store.dress(&pipe, &mut meshes, &mut materials, &mut images);
        commands
            .spawn((
                tube,
                Mesh3d(dress.tube.clone()),
                MeshMaterial3d(store.plain.clone()),
                Transform::default(),
                ChildOf(top),
            ))
            .with_child((
                Mesh3d(dress.print.clone()),
                MeshMaterial3d(dress.ink.clone()),
                Transform::default(),
            ));
    }
}

/// What lines share, kept for those that follow.
#[derive(Resource, Default)]
struct Store {
    made_for: Option<Quality>,
    finishes: Finishes,
    /// Pipe without its print.
    plain: Handle<StandardMaterial>,
    dresses: Vec<(Pipe, Dress)>,
}

impl Store {
    fn open(
        &mut self,
        quality: Quality,
        materials: &mut Assets<StandardMaterial>,
        images: &mut Assets<Image>,
    ) {
        if self.made_for == Some(quality) {
            return;
        }
        *self = Self {
            made_for: Some(quality),
            finishes: Finishes::new(quality, materials, images),
            plain: materials.add(StandardMaterial {
                perceptual_roughness: 0.45,
                reflectance: 0.4,
                ..default()
            }),
            dresses: Vec::new(),
        };
    }

    fn dress(
        &mut self,
        pipe: &Pipe,
        meshes: &mut Assets<Mesh>,
        materials: &mut Assets<StandardMaterial>,
        images: &mut Assets<Image>,
    ) -> Dress {
        if let Some((_, dress)) = self.dresses.iter().find(|(of, _)| of == pipe) {
            return dress.clone();
        }
        let quality = self.made_for.unwrap_or_default();
        let dress = Dress {
            tube: meshes.add(pipe::stick(pipe, quality)),
            print: meshes.add(pipe::print(pipe, quality)),
            ink: materials.add(StandardMaterial {
                base_color_texture: Some(images.add(pipe::print_picture(pipe))),
                perceptual_roughness: 0.6,
                ..default()
            }),
        };
        if self.dresses.len() >= KEPT {
            self.dresses.remove(0);
        }
        self.dresses.push((*pipe, dress.clone()));
        dress
    }
}

/// What sticks of one kind share.
#[derive(Clone)]
struct Dress {
    tube: Handle<Mesh>,
    print: Handle<Mesh>,
    ink: Handle<StandardMaterial>,
}

/// Lets rollers turn on and clamps swing. After a jump clamps stand as they are.
fn wind(yard: Res<Yard>, mut wound: ResMut<Wound>) {
    wind_on(&mut wound, &yard.shown, yard.passed_s);
}

fn wind_on(wound: &mut Wound, shown: &Shown, passed_s: f32) {
    let turned = cradles::turned_rad(shown.rollers_m_per_s, passed_s);
    for (rad, turned) in wound.rollers_rad.iter_mut().zip(turned) {
        *rad = (*rad + turned).rem_euclid(std::f32::consts::TAU);
    }
    for (clamp, goal) in wound.clamps.iter_mut().zip(fusion::open(shown.jaws)) {
        let swings = if passed_s > 0.0 {
            passed_s / fusion::SWINGS_S
        } else {
            1.0
        };
        *clamp += (goal - *clamp).clamp(-swings, swings);
    }
}

fn place_pieces(
    yard: Res<Yard>,
    wound: Res<Wound>,
    mut pieces: Query<(&Rides, &mut Transform, &mut Visibility)>,
) {
    let now = Now {
        rig: yard.rig(),
        shown: &yard.shown,
        wound: *wound,
    };
    for (rides, mut transform, mut visibility) in &mut pieces {
        put(&mut transform, &mut visibility, rides.in_world(&now));
    }
}

fn place_tubes(yard: Res<Yard>, mut tubes: Query<(&Tube, &mut Transform, &mut Visibility)>) {
    for (&tube, mut transform, mut visibility) in &mut tubes {
        put(&mut transform, &mut visibility, tube_at(tube, &yard));
    }
}

fn tube_at(tube: Tube, yard: &Yard) -> Option<Transform> {
    match tube {
        Tube::Stick(stick) => {
            let stick = yard.shown.sticks.get(stick.0)?;
            let placed = stick.placed;
            stick
                .present
                .then(|| Transform::from_translation(placed.at).with_rotation(placed.turn))
        }
        Tube::String(joined) => {
            let rig = yard.rig();
            let way_m = match yard.shown.jaws {
                Jaws::Drawing { way_m, .. } => way_m,
                Jaws::Open | Jaws::Clamped { .. } => 0.0,
            };
            let length_m = yard.spec().pipe_of(0)?.length_m;
            let z_m = rig.jaws_z_m() + (f64::from(joined) + 0.5) * length_m + way_m;
            let y_m = rig.spec().machine.centreline_m;
            Some(Transform::from_xyz(0.0, m(y_m), m(z_m)))
        }
    }
}

/// Puts something where it is, or out of sight. What stands still is not touched.
fn put(transform: &mut Mut<Transform>, visibility: &mut Mut<Visibility>, at: Option<Transform>) {
    let seen = if at.is_some() {
        Visibility::Inherited
    } else {
        Visibility::Hidden
    };
    visibility.set_if_neq(seen);
    if let Some(at) = at {
        transform.set_if_neq(at);
    }
}
