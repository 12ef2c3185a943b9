//! Forces where pipe lies on steel: an arrow from every point of contact, and the friction cone
//! within which it stays while nothing slips.

use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

use super::fade::Fades;
use super::{Overlays, mark, seen};
use crate::sim::world::PartContact;
use crate::texts::Message;
use crate::view::scene::Built;
use crate::view::scene::solid::Solid;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// As many arrows as are drawn at a time: two faces and two ends of a few sticks.
const MOST: usize = 24;
/// A force of this much is an arrow of a metre, N; none is shorter or longer than these, m.
const METRE_N: f32 = 12_000.0;
const SHORT_M: f32 = 0.20;
const LONG_M: f32 = 1.6;
/// Weaker forces are not shown, N.
const LEAST_N: f32 = 40.0;
/// Thickness of an arrow, m, and its head.
const SHAFT_M: f32 = 0.022;
const HEAD_M: f32 = 0.14;
const HEAD_HALF_M: f32 = 0.055;
/// Height of a friction cone, m.
const CONE_M: f32 = 0.45;

/// What fades together: the arrows, and the cones.
#[derive(Component, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    Forces,
    Cones,
}

#[derive(Component)]
pub enum Arrow {
    Shaft(usize),
    Head(usize),
    Cone(usize),
}

pub fn build(
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let bar = |from: f32, to: f32, sides: u32| {
        let mut solid = Solid::new();
        solid.bar((Vec3::ZERO, from), (Vec3::Y, to), sides);
        solid.mesh()
    };
    let shaft = meshes.add(bar(1.0, 1.0, 8));
    let head = meshes.add(bar(1.0, 0.0, 10));
    let cone = meshes.add(bar(0.0, 1.0, 24));
    let force = materials.add(StandardMaterial {
        depth_bias: super::DRAWN_AFTER + 2.0,
        ..mark(colours::FORCE)
    });
    let friction = materials.add(mark(colours::FRICTION_CONE));
    let opacity = |colour: Color| colour.alpha();
    let mut group = |sort: Sort, material: &Handle<StandardMaterial>, opacity: f32| {
        commands
            .spawn((
                Built::Marks,
                sort,
                Fades::new(material.clone(), opacity),
                Transform::IDENTITY,
                Visibility::Hidden,
            ))
            .id()
    };
    let forces = group(Sort::Forces, &force, opacity(colours::FORCE));
    let cones = group(Sort::Cones, &friction, opacity(colours::FRICTION_CONE));
    for n in 0..MOST {
        for (arrow, mesh, material, parent) in [
            (Arrow::Shaft(n), &shaft, &force, forces),
            (Arrow::Head(n), &head, &force, forces),
            (Arrow::Cone(n), &cone, &friction, cones),
        ] {
            commands.spawn((
                arrow,
                Mesh3d(mesh.clone()),
                MeshMaterial3d(material.clone()),
                Visibility::Hidden,
                NotShadowCaster,
                NotShadowReceiver,
                ChildOf(parent),
            ));
        }
    }
}

pub fn show(
    yard: Res<Yard>,
    overlays: Res<Overlays>,
    mut sorts: Query<(&Sort, &mut Fades)>,
    mut arrows: Query<(&Arrow, &mut Transform, &mut Visibility)>,
) {
    for (sort, mut fades) in &mut sorts {
        fades.wanted = match sort {
            Sort::Forces => overlays.forces,
            Sort::Cones => overlays.friction_cone,
        };
    }
    // What fades out stays as it was.
    if !overlays.needs_contacts() {
        return;
    }
    let strong = strong(&yard.shown.contacts);
    for (arrow, mut transform, mut visibility) in &mut arrows {
        let (Arrow::Shaft(n) | Arrow::Head(n) | Arrow::Cone(n)) = *arrow;
        let contact = strong.get(n);
        visibility.set_if_neq(seen(contact.is_some()));
        if let Some(contact) = contact {
            *transform = placed(arrow, contact);
        }
    }
}

/// The contacts that are shown, the strongest first.
fn strong(contacts: &[PartContact]) -> Vec<PartContact> {
    let mut strong: Vec<PartContact> = contacts
        .iter()
        .copied()
        .filter(|contact| force(contact).length() > LEAST_N)
        .collect();
    strong.sort_by(|a, b| force(b).length().total_cmp(&force(a).length()));
    strong.truncate(MOST);
    strong
}

/// Force of the part on the stick, N.
fn force(contact: &PartContact) -> Vec3 {
    contact.normal + contact.friction
}

fn length_m(contact: &PartContact) -> f32 {
    (force(contact).length() / METRE_N).clamp(SHORT_M, LONG_M)
}

/// The arrow ends at the contact, with its head: so it stands in the steel's side and the pipe does
/// not hide it.
fn placed(arrow: &Arrow, contact: &PartContact) -> Transform {
    let along = force(contact).normalize_or(Vec3::Y);
    let length = length_m(contact);
    match arrow {
        Arrow::Shaft(_) => {
            let foot = contact.point - along * length;
            super::between(foot, contact.point - along * HEAD_M, SHAFT_M)
        }
        Arrow::Head(_) => {
            super::between(contact.point - along * HEAD_M, contact.point, HEAD_HALF_M)
        }
        Arrow::Cone(_) => {
            let normal = contact.normal.normalize_or(Vec3::Y);
            let mut cone = super::between(contact.point, contact.point - normal * CONE_M, 1.0);
            let half = CONE_M * contact.coefficient.max(0.01);
            cone.scale.x = half;
            cone.scale.z = half;
            cone
        }
    }
}

/// The strength of every force that is shown, at its foot.
pub fn labels(yard: &Yard) -> Vec<(Vec3, Message)> {
    let strong = strong(&yard.shown.contacts);
    let label = |contact: &PartContact| {
        let along = force(contact).normalize_or(Vec3::Y);
        let foot = contact.point - along * length_m(contact);
        let kn = f64::from(force(contact).length()) / 1000.0;
        (foot, Message::new("overlay-force").measured("kn", kn, 1))
    };
    strong.iter().map(label).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sim::line::Line;
    use crate::view::scene::site::shipped;
    use crate::view::shown::Shown;

    #[test]
    fn forces_carry_the_row() {
        let mut seen = 0;
        for (name, rig) in shipped() {
            let mut line = Line::build(rig.spec());
            for _ in 0..480 {
                line.tick(&Default::default());
            }
            if !line.is_at_rest() {
                continue;
            }
            seen += 1;
            let shown = Shown::of(&line).with_contacts(&line);
            let up: f32 = shown.contacts.iter().map(|c| force(c).y).sum();
            let weight: f64 = line
                .present()
                .map(|id| line.world().pipe(id).weight_n())
                .sum();
            assert!(
                (f64::from(up) / weight - 1.0).abs() < 0.02,
                "{name}: {up} N of {weight} N"
            );
            for contact in &shown.contacts {
                let (normal, friction) = (contact.normal.length(), contact.friction.length());
                assert!(
                    friction <= 1.05 * contact.coefficient * normal + 1.0,
                    "{name}: {contact:?}"
                );
            }
            let kept = strong(&shown.contacts);
            assert!(
                kept.windows(2)
                    .all(|two| force(&two[0]).length() >= force(&two[1]).length())
            );
        }
        assert!(seen > 5);
    }

    #[test]
    fn nothing_is_read_unless_it_is_asked_for() {
        let (_, rig) = shipped().swap_remove(0);
        let line = Line::build(rig.spec());
        assert!(Shown::of(&line).contacts.is_empty());
        assert!(!Overlays::default().needs_contacts());
    }
}
