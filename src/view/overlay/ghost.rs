//! A see-through copy of something where it ought to be. Whoever coaches fills [`Ghost`].

use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

use super::fade::Fades;
use super::{Overlays, mark, seen};
use crate::domain::rig::{End, PlaneBox, Rig};
use crate::sim::world::StickId;
use crate::view::quality::Quality;
use crate::view::scene::Built;
use crate::view::scene::solid::Solid;
use crate::view::shown::{Placed, in_world};
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// As many pieces as are drawn at a time.
const MOST: usize = 12;

/// What a ghost is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GhostShape {
    /// A tube about its own z.
    Tube {
        placed: Placed,
        radius_m: f32,
        length_m: f32,
    },
    Block {
        placed: Placed,
        half_m: Vec3,
    },
}

/// The right motion's goal; empty where there is nothing to show.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Ghost {
    shapes: Vec<GhostShape>,
}

impl Ghost {
    pub fn clear(&mut self) {
        self.shapes.clear();
    }

    pub fn is_empty(&self) -> bool {
        self.shapes.is_empty()
    }

    pub fn add(&mut self, shape: GhostShape) -> &mut Self {
        if self.shapes.len() < MOST {
            self.shapes.push(shape);
        }
        self
    }

    /// A stick of the line at a place.
    pub fn stick(&mut self, rig: &Rig, stick: StickId, placed: Placed) -> &mut Self {
        if let Some(pipe) = rig.spec().pipe_of(stick.0) {
            self.add(GhostShape::Tube {
                placed,
                radius_m: pipe.radius_m() as f32,
                length_m: pipe.length_m as f32,
            });
        }
        self
    }

    /// A cradle, raised so far and shifted away from the rack.
    pub fn cradle(&mut self, rig: &Rig, end: End, raised_m: f64, off_m: f64) -> &mut Self {
        let plates = rig.cradle(raised_m, off_m, 0.0);
        self.plates(rig, &plates, rig.cradle_z_m(end), rig.cradle_half_width_m())
    }

    /// Both arms of the receiver, lowered so far.
    pub fn receiver(&mut self, rig: &Rig, lowered_m: f64) -> &mut Self {
        for end in End::BOTH {
            let plates = rig.saddle(lowered_m);
            self.plates(rig, &plates, rig.arm_z_m(end), rig.saddle_half_width_m());
        }
        self
    }

    /// The gate pin of a rail, raised so far.
    pub fn gate(&mut self, rig: &Rig, side: End, stroke_m: f64) -> &mut Self {
        let pin = [rig.gate_pin(side, stroke_m)];
        self.plates(rig, &pin, rig.pin_z_m(side), rig.pin_half_width_m())
    }

    fn plates(&mut self, rig: &Rig, plates: &[PlaneBox], z_m: f64, half_m: f64) -> &mut Self {
        for plate in plates {
            self.add(GhostShape::Block {
                placed: Placed {
                    at: in_world(rig, plate.centre, z_m),
                    turn: Quat::from_rotation_z((rig.mirror() * plate.turn_rad) as f32),
                },
                half_m: Vec3::new(
                    plate.half_length_m as f32,
                    plate.half_thickness_m as f32,
                    half_m as f32,
                ),
            });
        }
        self
    }
}

/// All of it, as it fades.
#[derive(Component)]
pub struct Whole;

#[derive(Component)]
pub struct Piece(usize);

/// The two shapes that every ghost is scaled from.
#[derive(Resource)]
pub struct Forms {
    tube: Handle<Mesh>,
    block: Handle<Mesh>,
}

pub fn build(
    mut commands: Commands,
    quality: Res<Quality>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let mut tube = Solid::new();
    tube.bar((Vec3::NEG_Z, 1.0), (Vec3::Z, 1.0), quality.pipe_corners());
    let mut block = Solid::new();
    block.slab(Vec3::ZERO, Vec3::ONE);
    let forms = Forms {
        tube: meshes.add(tube.mesh()),
        block: meshes.add(block.mesh()),
    };
    let material = materials.add(StandardMaterial {
        cull_mode: Some(bevy::render::render_resource::Face::Back),
        ..mark(colours::GHOST)
    });
    let whole = commands
        .spawn((
            Built::Marks,
            Whole,
            Fades::new(material.clone(), colours::GHOST.alpha()),
            Transform::IDENTITY,
            Visibility::Hidden,
        ))
        .id();
    for n in 0..MOST {
        commands.spawn((
            ChildOf(whole),
            Piece(n),
            Mesh3d(forms.block.clone()),
            MeshMaterial3d(material.clone()),
            Visibility::Hidden,
            NotShadowCaster,
            NotShadowReceiver,
        ));
    }
    commands.insert_resource(forms);
}

pub fn show(
    _yard: Res<Yard>,
    overlays: Res<Overlays>,
    ghost: Res<Ghost>,
    forms: Option<Res<Forms>>,
    mut whole: Query<&mut Fades, With<Whole>>,
    mut pieces: Query<(&Piece, &mut Mesh3d, &mut Transform, &mut Visibility)>,
) {
    let Some(forms) = forms else { return };
    let is_seen = overlays.ghost && !ghost.is_empty();
    for mut fades in &mut whole {
        fades.wanted = is_seen;
    }
    // What fades out stays as it was.
    if !is_seen {
        return;
    }
    for (piece, mut mesh, mut transform, mut visibility) in &mut pieces {
        let shape = ghost.shapes.get(piece.0);
        visibility.set_if_neq(seen(shape.is_some()));
        let Some(shape) = shape else { continue };
        let (form, placed, scale) = match *shape {
            GhostShape::Tube {
                placed,
                radius_m,
                length_m,
            } => (
                &forms.tube,
                placed,
                Vec3::new(radius_m, radius_m, 0.5 * length_m),
            ),
            GhostShape::Block { placed, half_m } => (&forms.block, placed, half_m),
        };
        if mesh.0 != *form {
            mesh.0 = form.clone();
        }
        *transform = Transform::from_translation(placed.at)
            .with_rotation(placed.turn)
            .with_scale(scale);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::site::shipped;

    #[test]
    fn a_ghost_stands_where_the_part_would() {
        for (name, rig) in shipped() {
            let mut ghost = Ghost::default();
            ghost.cradle(&rig, End::Near, 0.3, 0.05).receiver(&rig, 0.1);
            ghost.gate(&rig, End::Far, 0.1);
            assert_eq!(ghost.shapes.len(), 2 + 4 + 1, "{name}");
            let GhostShape::Block { placed, .. } = ghost.shapes[0] else {
                panic!("{name}")
            };
            let [plate, _] = rig.cradle(0.3, 0.05, 0.0);
            let wanted = in_world(&rig, plate.centre, rig.cradle_z_m(End::Near));
            assert!(placed.at.distance(wanted) < 1.0e-6, "{name}");
        }
    }

    #[test]
    fn it_holds_no_more_than_is_drawn() {
        let (_, rig) = shipped().swap_remove(0);
        let mut ghost = Ghost::default();
        for _ in 0..10 {
            ghost.receiver(&rig, 0.0);
        }
        assert_eq!(ghost.shapes.len(), MOST);
        ghost.clear();
        assert!(ghost.is_empty());
    }
}
