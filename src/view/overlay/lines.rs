//! The tilt of the lift as a taut line between the cradles' tops, beside a level one; and the jaws'
//! centre line.

use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

use super::fade::Fades;
use super::{Overlays, between, mark};
use crate::domain::plan;
use crate::domain::rig::End;
use crate::texts::Message;
use crate::view::scene::Built;
use crate::view::scene::solid::Solid;
use crate::view::shown::in_world;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// Half thickness of the lines, m.
const TAUT_M: f32 = 0.014;
const LEVEL_M: f32 = 0.007;
const CENTRE_M: f32 = 0.010;
/// A dash of the level and of the centre line, and its share of their pitch.
const DASH_M: f32 = 0.4;
const DASH_SHARE: f32 = 0.6;
/// How far over the wing tips the line is stretched, m.
const OVER_M: f32 = 0.05;
/// Less tilt than this needs no level line beside it, rad.
const LEVEL_RAD: f32 = 0.0009;

#[derive(Component)]
pub enum Line {
    Taut,
    Level,
    Centre,
}

pub fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let bar = |dashes: usize| {
        let mut solid = Solid::new();
        for dash in 0..dashes {
            let (from, to) = if dashes == 1 {
                (0.0, 1.0)
            } else {
                let pitch = 1.0 / dashes as f32;
                (pitch * dash as f32, pitch * (dash as f32 + DASH_SHARE))
            };
            solid.bar((Vec3::Y * from, 1.0), (Vec3::Y * to, 1.0), 8);
        }
        solid.mesh()
    };
    let spacing_m = yard.spec().cradles.spacing_m as f32;
    let (from, to) = centre(&yard);
    let dashes = |length_m: f32| (length_m / DASH_M * DASH_SHARE).round().max(2.0) as usize;
    for (line, mesh, colour, opacity) in [
        (Line::Taut, bar(1), colours::TAUT, 1.0),
        (Line::Level, bar(dashes(spacing_m)), colours::LEVEL, 0.85),
        (
            Line::Centre,
            bar(dashes(from.distance(to))),
            colours::CENTRE,
            0.85,
        ),
    ] {
        let material = materials.add(mark(colour.with_alpha(opacity)));
        commands.spawn((
            Built::Marks,
            line,
            Fades::new(material.clone(), opacity),
            Mesh3d(meshes.add(mesh)),
            MeshMaterial3d(material),
            Visibility::Hidden,
            NotShadowCaster,
            NotShadowReceiver,
        ));
    }
}

pub fn show(
    yard: Res<Yard>,
    overlays: Res<Overlays>,
    mut lines: Query<(&Line, &mut Transform, &mut Fades)>,
) {
    let [near, far] = tops(&yard);
    let low = if near.y < far.y { near } else { far };
    let high = if near.y < far.y { far } else { near };
    for (line, mut transform, mut fades) in &mut lines {
        let (is_seen, goal) = match line {
            Line::Taut => (overlays.tilt, between(near, far, TAUT_M)),
            Line::Level => (
                overlays.tilt && tilt_rad(&yard).abs() > LEVEL_RAD,
                between(low, high.with_y(low.y), LEVEL_M),
            ),
            Line::Centre => {
                let (from, to) = centre(&yard);
                (overlays.centre_line, between(from, to, CENTRE_M))
            }
        };
        fades.wanted = is_seen;
        if fades.is_seen() {
            transform.set_if_neq(goal);
        }
    }
}

/// The outer wing tips of the cradles (near, far).
fn tops(yard: &Yard) -> [Vec3; 2] {
    let rig = yard.rig();
    End::BOTH.map(|end| {
        let cradle = &yard.shown.cradles[end as usize];
        let [_, outer] = rig.cradle(cradle.raised_m, cradle.off_m, cradle.lean_rad);
        let tip = plan::corners(&outer)
            .into_iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap_or((0.0, 0.0));
        let point = crate::domain::rig::Point {
            x_m: tip.0,
            y_m: tip.1,
        };
        in_world(rig, point, rig.cradle_z_m(end)) + Vec3::Y * OVER_M
    })
}

/// Tilt of the lifts, positive with the near end high, rad.
fn tilt_rad(yard: &Yard) -> f32 {
    let [near, far] = tops(yard);
    (near.y - far.y).atan2((near.z - far.z).abs())
}

/// From beyond the far cradle through the jaws.
fn centre(yard: &Yard) -> (Vec3, Vec3) {
    let rig = yard.rig();
    let y = rig.spec().machine.centreline_m as f32;
    let at = |z_m: f64| Vec3::new(0.0, y, z_m as f32);
    let from_m = rig.cradle_z_m(End::Far) - 1.5;
    let to_m = rig.jaws_z_m() + rig.spec().machine.half_length_m + 0.5;
    (at(from_m), at(to_m))
}

pub fn tilt_label(yard: &Yard) -> Option<(Vec3, Message)> {
    let [near, far] = tops(yard);
    let tilt_deg = f64::from(tilt_rad(yard).to_degrees());
    let end = if tilt_deg < 0.0 {
        "end-far"
    } else {
        "end-near"
    };
    let message = if tilt_deg.abs() < 0.05 {
        Message::new("overlay-level")
    } else {
        Message::new("overlay-tilt")
            .measured("degrees", tilt_deg.abs(), 1)
            .with("end", Message::new(end))
    };
    Some((near.midpoint(far) + Vec3::Y * 0.1, message))
}

pub fn centre_label(yard: &Yard) -> (Vec3, Message) {
    let (_, to) = centre(yard);
    let height_m = yard.spec().machine.centreline_m;
    let message = Message::new("overlay-centre-line").measured("height_m", height_m, 2);
    (to, message)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::site::shipped;

    #[test]
    fn the_taut_line_leans_as_the_lifts_do() {
        for (name, rig) in shipped() {
            let line = crate::sim::line::Line::build(rig.spec());
            let mut yard = Yard::new(&line);
            yard.shown.cradles[0].raised_m += 0.10;
            yard.shown.cradles[1].lean_rad = yard.shown.cradles[0].lean_rad;
            let difference = yard.shown.cradles[0].raised_m - yard.shown.cradles[1].raised_m;
            let wanted = (difference / rig.spec().cradles.spacing_m).atan();
            assert!(
                (f64::from(tilt_rad(&yard)) - wanted).abs() < 2.0e-3,
                "{name}"
            );
        }
    }
}
