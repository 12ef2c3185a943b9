//! The exclusion zone as hatching on the ground: crossed and close while a stick can move, thin single
//! stripes otherwise. The reach of a loose stick as a dashed edge.

use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

use super::fade::Fades;
use super::flat::Drape;
use super::{Overlays, mark};
use crate::domain::envelope::Envelope;
use crate::domain::rig::Rig;
use crate::domain::spec::Place;
use crate::domain::zone::Zone;
use crate::texts::Message;
use crate::view::scene::Built;
use crate::view::scene::ground::Lie;
use crate::view::scene::texture;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// Over the ground, m: above stone, tracks and puddles.
const OVER_M: f32 = 0.018;
const EDGE_OVER_M: f32 = 0.024;
/// Half the width of the zone's edge and of the reach's dashes, m.
const EDGE_HALF_M: f64 = 0.04;
const DASH_HALF_M: f64 = 0.055;
const DASHES_M: (f64, f64) = (0.9, 0.6);
/// How opaque the hatching is while a stick can move, and while none can.
const LIVE: f32 = 0.62;
const AT_REST: f32 = 0.42;
/// And the dashes.
const DASHED: f32 = 0.90;
const HATCH_PX: u32 = 256;

/// The hatching of a state.
#[derive(Component)]
pub struct Hatching {
    live: bool,
}

/// The edge of where a loose stick can come to.
#[derive(Component)]
pub struct Reach;

/// Stripes at a slant.
#[derive(Clone, Copy)]
struct Stripes {
    /// On a metre.
    per_tile: f32,
    /// How wide they are, of their distance.
    share: f32,
    /// A second set lies across the first.
    crossed: bool,
}

/// The dark edge of a stripe: how wide, of the stripes' distance, how dark, and how opaque.
const INK_SHARE: f32 = 0.014;
const INK_TONE: f32 = 0.16;
const INK: f32 = 0.75;

const LIVE_HATCH: Stripes = Stripes {
    per_tile: 1.0,
    share: 0.085,
    crossed: true,
};
const AT_REST_HATCH: Stripes = Stripes {
    per_tile: 1.0,
    share: 0.05,
    crossed: false,
};

/// How opaque stripes are at a point of their tile.
fn hatch(stripes: Stripes) -> impl Fn(f32, f32) -> f32 {
    let Stripes {
        per_tile,
        share,
        crossed,
    } = stripes;
    let stripe = move |t: f32| {
        let off = ((t * per_tile).rem_euclid(1.0) - 0.5).abs();
        ((0.5 * share - off) * 96.0 / per_tile + 0.5).clamp(0.0, 1.0)
    };
    move |u, v| {
        let one = stripe(u + v);
        if crossed { one.max(stripe(u - v)) } else { one }
    }
}

/// Stripes with a dark edge on both sides, so that they are seen on pale ground as well: tone and
/// opacity at a point of their tile.
fn inked(stripes: Stripes) -> impl Fn(f32, f32) -> [f32; 2] {
    let share = stripes.share + 2.0 * INK_SHARE;
    let (core, all) = (hatch(stripes), hatch(Stripes { share, ..stripes }));
    move |u, v| {
        let (core, all) = (core(u, v), all(u, v));
        let tone = if all > 0.0 { core / all } else { 1.0 };
        [tone.max(INK_TONE), core.max(INK * all)]
    }
}

pub fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    mut hatches: Local<Option<[Handle<Image>; 2]>>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut images: ResMut<Assets<Image>>,
) {
    let rig = yard.rig();
    let mirrored = rig.mirror() < 0.0;
    let cones = &rig.spec().zone.cones;
    if Zone::new(cones).is_ok() {
        let [at_rest, live] = hatches
            .get_or_insert_with(|| {
                [AT_REST_HATCH, LIVE_HATCH]
                    .map(|stripes| images.add(texture::toned(HATCH_PX, inked(stripes))))
            })
            .clone();
        for (is_live, image, colour, opacity) in [
            (false, at_rest, colours::ZONE_AT_REST, AT_REST),
            (true, live, colours::ZONE_LIVE, LIVE),
        ] {
            let mut drape = Drape::new(Lie::of(rig), mirrored, OVER_M);
            drape.fill(cones);
            let mut edge = Drape::new(Lie::of(rig), mirrored, EDGE_OVER_M);
            edge.outline(cones, EDGE_HALF_M);
            let hatched = materials.add(StandardMaterial {
                base_color_texture: Some(image),
                ..mark(colour.with_alpha(opacity))
            });
            let edged = (opacity + 0.25).min(1.0);
            let plain = materials.add(mark(colour.with_alpha(edged)));
            for (sheet, material, opacity) in
                [(drape.sheet, hatched, opacity), (edge.sheet, plain, edged)]
            {
                commands.spawn((
                    Built::Marks,
                    Fades::new(material.clone(), opacity),
                    Hatching { live: is_live },
                    Mesh3d(meshes.add(sheet.mesh())),
                    MeshMaterial3d(material),
                    Visibility::Hidden,
                    NotShadowCaster,
                    NotShadowReceiver,
                ));
            }
        }
    }
    if let Some(polygon) = reach(rig) {
        let mut drape = Drape::new(Lie::of(rig), mirrored, EDGE_OVER_M + 0.006);
        drape.dashes(&polygon, DASHES_M, DASH_HALF_M);
        let material = materials.add(mark(colours::REACH.with_alpha(DASHED)));
        commands.spawn((
            Built::Marks,
            Reach,
            Fades::new(material.clone(), DASHED),
            Mesh3d(meshes.add(drape.sheet.mesh())),
            MeshMaterial3d(material),
            Visibility::Hidden,
            NotShadowCaster,
            NotShadowReceiver,
        ));
    }
}

/// Where a loose stick can come to; None where it would not stop, or where there is no pipe.
fn reach(rig: &Rig) -> Option<Vec<Place>> {
    let stick = rig.spec().sticks.first()?;
    let envelope = Envelope::new(rig, &stick.pipe);
    envelope.polygon().map(<[Place]>::to_vec)
}

pub fn show(
    yard: Res<Yard>,
    overlays: Res<Overlays>,
    mut hatching: Query<(&Hatching, &mut Fades), Without<Reach>>,
    mut reach: Query<&mut Fades, With<Reach>>,
) {
    let live = yard.shown.stick_can_move();
    for (hatching, mut fades) in &mut hatching {
        fades.wanted = overlays.zone && hatching.live == live;
    }
    for mut fades in &mut reach {
        fades.wanted = overlays.zone;
    }
}

/// The zone's state beside its first cone, and what the dashes are.
pub fn labels(yard: &Yard) -> Vec<(Vec3, Message)> {
    let rig = yard.rig();
    let lie = Lie::of(rig);
    let mut labels = Vec::new();
    if let Some(&cone) = rig.spec().zone.cones.first() {
        let state = if yard.shown.stick_can_move() {
            Message::new("overlay-zone-live")
        } else {
            Message::new("overlay-zone-at-rest")
        };
        labels.push((lie.at(cone) + Vec3::Y, state));
    }
    match reach(rig) {
        Some(polygon) => {
            let outermost = polygon.iter().max_by(|a, b| a.x_m.total_cmp(&b.x_m));
            labels.extend(
                outermost.map(|&at| (lie.at(at) + Vec3::Y * 0.2, Message::new("overlay-reach"))),
            );
        }
        None if !rig.spec().sticks.is_empty() => {
            let at = lie.at(Place { x_m: 8.0, z_m: 0.0 });
            labels.push((at + Vec3::Y * 0.2, Message::new("overlay-no-reach")));
        }
        None => {}
    }
    labels
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatchings_differ_in_more_than_colour_and_tile() {
        let cover = |of: &dyn Fn(f32, f32) -> f32| {
            let points = (0..64 * 64).map(|i| (i % 64, i / 64));
            points
                .map(|(x, y)| of(x as f32 / 64.0, y as f32 / 64.0))
                .sum::<f32>()
                / 4096.0
        };
        let (at_rest, live) = (hatch(AT_REST_HATCH), hatch(LIVE_HATCH));
        assert!(cover(&live) > 1.5 * cover(&at_rest));
        for of in [&at_rest as &dyn Fn(f32, f32) -> f32, &live] {
            for k in 0..50 {
                let t = k as f32 / 50.0;
                assert!((of(0.0, t) - of(1.0, t)).abs() < 1.0e-3);
                assert!((of(t, 0.0) - of(t, 1.0)).abs() < 1.0e-3);
            }
        }
    }
}
