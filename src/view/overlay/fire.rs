//! The line of fire: where the stick that moves, or the one that would go first, is in the next
//! seconds. A band on the ground that widens with time, for a loose stick turns on its way.

use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

use super::fade::Fades;
use super::flat::Drape;
use super::{Overlays, mark};
use crate::domain::envelope::YAW_MAX_RAD;
use crate::domain::spec::Place;
use crate::sim::line::StickPlace;
use crate::sim::world::StickId;
use crate::texts::Message;
use crate::view::scene::Built;
use crate::view::scene::ground::Lie;
use crate::view::scene::solid::Solid;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

const OVER_M: f32 = 0.034;
/// Seconds that are looked ahead, one band to each.
const BANDS: usize = 4;
/// A stick that goes faster than this moves, m/s.
const MOVES_M_PER_S: f32 = 0.03;
/// Between one second's band and the next, m.
const GAP_M: f64 = 0.10;
/// A band narrower than this is not drawn, m.
const THIN_M: f64 = 0.02;
/// How opaque the first band is while pipe moves, and while it lies; each further one is fainter.
const MOVING: f32 = 0.62;
const LYING: f32 = 0.30;

#[derive(Component)]
pub struct Band {
    second: usize,
    drawn: Option<Way>,
}

/// A stick's way from now on, in the plan of a right-handed line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    stick: StickId,
    /// The stick's middle.
    from: Place,
    half_length_m: f64,
    radius_m: f64,
    /// Along x, m/s and m/s².
    speed_m_per_s: f64,
    gains_m_per_s2: f64,
    moves: bool,
}

impl Way {
    /// Of the stick that moves fastest; where none moves, of the lowest that lies on the rack and
    /// can.
    fn of(yard: &Yard) -> Option<Self> {
        let rig = yard.rig();
        let mirror = rig.mirror() as f32;
        let present = |stick: &&(usize, &crate::view::shown::StickShown)| stick.1.present;
        let sticks: Vec<_> = yard.shown.sticks.iter().enumerate().collect();
        let moving = sticks
            .iter()
            .filter(present)
            .filter(|(_, stick)| stick.can_move && stick.velocity.x.abs() > MOVES_M_PER_S)
            .max_by(|a, b| a.1.velocity.x.abs().total_cmp(&b.1.velocity.x.abs()));
        let lying = || {
            sticks
                .iter()
                .filter(present)
                .filter(|(_, stick)| stick.can_move && stick.place == StickPlace::Held)
                .max_by(|a, b| (mirror * a.1.placed.at.x).total_cmp(&(mirror * b.1.placed.at.x)))
        };
        let moves = moving.is_some();
        let (id, stick) = moving.copied().or_else(|| lying().copied())?;
        let pipe = rig.spec().pipe_of(id)?;
        let x_m = f64::from(mirror * stick.placed.at.x);
        let is_up_there = matches!(stick.place, StickPlace::Held | StickPlace::Released);
        let on_rack = x_m < -rig.toe_m && is_up_there;
        let ground = &rig.spec().ground;
        let slope_rad = if on_rack {
            0.5 * (yard.shown.pitch_rad[0] + yard.shown.pitch_rad[1])
        } else {
            ground.cross_fall_rad
        };
        let lever_arm_m = if on_rack {
            rig.spec().contact.rolling_lever_arm_m
        } else {
            ground.rolling_lever_arm_m
        };
        let speed_m_per_s = f64::from(mirror * stick.velocity.x);
        // As it would roll by itself from here on.
        let roller = pipe.roller();
        let resistance = lever_arm_m / pipe.radius_m();
        let along = slope_rad.sin() - resistance * slope_rad.cos() * speed_m_per_s.signum();
        let gains = crate::domain::math::GRAVITY_M_PER_S2 * along / (1.0 + roller.shape_factor);
        Some(Self {
            stick: StickId(id),
            from: Place {
                x_m,
                z_m: f64::from(stick.placed.at.z),
            },
            half_length_m: 0.5 * pipe.length_m,
            radius_m: pipe.radius_m(),
            speed_m_per_s,
            gains_m_per_s2: gains,
            moves,
        })
    }

    /// How far it gets in a time, m, positive away from the rack; one that slows down stays where it
    /// has come to rest.
    fn way_m(&self, time_s: f64) -> f64 {
        let rests_s = -self.speed_m_per_s / self.gains_m_per_s2;
        let time_s = if rests_s > 0.0 {
            time_s.min(rests_s)
        } else {
            time_s
        };
        self.speed_m_per_s * time_s + 0.5 * self.gains_m_per_s2 * time_s * time_s
    }

    /// The corners of what it sweeps between two times.
    fn band(&self, from_s: f64, to_s: f64) -> Option<[Place; 4]> {
        let (near_m, far_m) = (self.way_m(from_s), self.way_m(to_s));
        let sense = (far_m - near_m).signum();
        let spread = YAW_MAX_RAD.tan();
        let edge = |way_m: f64, inset_m: f64, sign: f64| Place {
            x_m: self.from.x_m + way_m + sense * (self.radius_m + inset_m),
            z_m: self.from.z_m + sign * (self.half_length_m + way_m.abs() * spread),
        };
        ((far_m - near_m).abs() > THIN_M + GAP_M).then(|| {
            [
                edge(near_m, GAP_M, -1.0),
                edge(far_m, 0.0, -1.0),
                edge(far_m, 0.0, 1.0),
                edge(near_m, GAP_M, 1.0),
            ]
        })
    }
}

pub fn build(
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    // Until there is something to show.
    let mut speck = Solid::new();
    speck.slab(Vec3::ZERO, Vec3::splat(0.001));
    let speck = meshes.add(speck.mesh());
    for second in 0..BANDS {
        let material = materials.add(mark(colours::FIRE));
        commands.spawn((
            Built::Marks,
            Band {
                second,
                drawn: None,
            },
            Fades::new(material.clone(), 1.0),
            Mesh3d(speck.clone()),
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
    mut bands: Query<(&mut Band, &mut Mesh3d, &mut Fades)>,
    mut meshes: ResMut<Assets<Mesh>>,
) {
    let way = overlays.line_of_fire.then(|| Way::of(&yard)).flatten();
    for (mut band, mut mesh, mut fades) in &mut bands {
        let from_s = band.second as f64;
        let corners = way.and_then(|way| way.band(from_s, from_s + 1.0));
        fades.wanted = corners.is_some();
        // What fades out stays where it was.
        let (Some(way), Some(corners)) = (way, corners) else {
            continue;
        };
        if band.drawn == Some(way) {
            continue;
        }
        band.drawn = Some(way);
        let rig = yard.rig();
        let mut drape = Drape::new(Lie::of(rig), rig.mirror() < 0.0, OVER_M);
        drape.fill(&corners);
        drape.outline(&corners, 0.03);
        mesh.0 = meshes.add(drape.sheet.mesh());
        let strength = if way.moves { MOVING } else { LYING };
        fades.opacity = strength * 0.68_f32.powi(band.second as i32);
    }
}

/// The seconds at the far edge of every band.
pub fn labels(yard: &Yard) -> Vec<(Vec3, Message)> {
    let Some(way) = Way::of(yard) else {
        return Vec::new();
    };
    let lie = Lie::of(yard.rig());
    let mut labels: Vec<(Vec3, Message)> = (0..BANDS)
        .filter_map(|band| {
            let [_, far, other, _] = way.band(band as f64, band as f64 + 1.0)?;
            let middle = Place {
                x_m: far.x_m,
                z_m: 0.5 * (far.z_m + other.z_m),
            };
            let after = Message::new("overlay-after").measured("seconds", band as f64 + 1.0, 0);
            Some((lie.at(middle) + Vec3::Y * 0.1, after))
        })
        .collect();
    if !labels.is_empty() {
        let what = if way.moves {
            "overlay-fire-moving"
        } else {
            "overlay-fire-if-let-go"
        };
        let at = lie.at(way.from) + Vec3::Y * 0.1;
        labels.push((at, Message::new(what).with("stick", way.stick.to_string())));
    }
    labels
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sim::line::Line;
    use crate::view::scene::site::shipped;

    #[test]
    fn bands_follow_each_other_and_widen() {
        for (name, rig) in shipped() {
            let line = Line::build(rig.spec());
            let yard = Yard::new(&line);
            let Some(way) = Way::of(&yard) else { continue };
            let bands: Vec<_> = (0..BANDS)
                .filter_map(|band| way.band(band as f64, band as f64 + 1.0))
                .collect();
            assert!(!bands.is_empty(), "{name}: {way:?}");
            let width = |band: &[Place; 4]| band[2].z_m - band[1].z_m;
            for pair in bands.windows(2) {
                assert!(width(&pair[1]) > width(&pair[0]), "{name}");
                assert!(
                    pair[1][0].x_m > pair[0][1].x_m,
                    "{name}: away from the rack"
                );
            }
        }
    }

    #[test]
    fn a_stick_that_slows_down_stays_where_it_rests() {
        let way = Way {
            stick: StickId(0),
            from: Place::default(),
            half_length_m: 6.0,
            radius_m: 0.3,
            speed_m_per_s: 1.0,
            gains_m_per_s2: -0.5,
            moves: true,
        };
        assert_eq!(way.way_m(2.0), 1.0);
        assert_eq!(way.way_m(9.0), 1.0);
        assert!(way.band(3.0, 4.0).is_none());
        let back = Way {
            speed_m_per_s: -1.0,
            gains_m_per_s2: 0.5,
            ..way
        };
        let [near, far, ..] = back.band(0.0, 1.0).unwrap();
        assert!(far.x_m < near.x_m && near.x_m < -0.3);
    }
}
