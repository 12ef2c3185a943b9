//! The country around the site: a tree line, woods and hills in the haze.

use bevy::prelude::*;

use super::solid::Solid;
use super::texture::rough;
use super::weather::{Air, SKY_GAIN};
use crate::view::quality::Quality;
use crate::view::theme::yard as colours;

/// One line of crowns or tops all around.
struct Ridge {
    colour: Color,
    away_m: f32,
    /// Its height between gaps and tops, m.
    high_m: (f32, f32),
    /// Swells and crowns on its way around.
    swells: f32,
    crowns: f32,
    seed: u32,
}

const RIDGES: [Ridge; 3] = [
    Ridge {
        colour: colours::HILLS,
        away_m: 560.0,
        high_m: (14.0, 46.0),
        swells: 1.5,
        crowns: 14.0,
        seed: 701,
    },
    Ridge {
        colour: colours::WOODS,
        away_m: 330.0,
        high_m: (8.0, 17.0),
        swells: 3.0,
        crowns: 70.0,
        seed: 702,
    },
    Ridge {
        colour: colours::TREES,
        away_m: 205.0,
        high_m: (1.0, 9.0),
        swells: 5.0,
        crowns: 60.0,
        seed: 703,
    },
];
/// How far down its foot goes, m: the ground may fall away.
const FOOT_M: f32 = 16.0;

fn smooth(from: f32, to: f32, x: f32) -> f32 {
    let t = ((x - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// Its faces take no light of their own: they are as light as the day.
pub fn country(air: &Air, quality: Quality) -> Solid {
    let sides: u32 = if quality == Quality::Low { 360 } else { 720 };
    let mut solid = Solid::new();
    let light = SKY_GAIN * (air.fill_cd_per_m2 / 2000.0 + air.sun_lux / 50_000.0);
    for ridge in &RIDGES {
        let colour = ridge.colour.to_linear().to_vec3();
        let (low_m, high_m) = ridge.high_m;
        let mut before: Option<[u32; 2]> = None;
        for i in 0..=sides {
            let share = (i % sides) as f32 / sides as f32;
            let (sin, cos) = (share * std::f32::consts::TAU).sin_cos();
            let wave = |waves: f32, octaves: u32, seed: u32| {
                rough(cos * waves + 90.0, sin * waves + 90.0, 0, octaves, seed)
            };
            let swell = wave(ridge.swells, 2, ridge.seed);
            let crowns = wave(ridge.crowns, 3, ridge.seed + 9);
            let stand = smooth(0.32, 0.50, swell).max(0.12);
            let height_m = low_m + (high_m - low_m) * (0.30 + 0.70 * crowns) * stand;
            let out = Vec3::new(cos, 0.0, sin) * ridge.away_m;
            let shade = light * (0.70 + 0.6 * crowns);
            let paint =
                |share: f32| Color::LinearRgba(LinearRgba::from_vec3(colour * shade * share));
            solid.paint(paint(0.7));
            let foot = solid.corner(out - Vec3::Y * FOOT_M, -out, [0.0; 2]);
            solid.paint(paint(1.0));
            let crown = solid.corner(out + Vec3::Y * height_m, -out, [0.0; 2]);
            if let Some([foot_before, crown_before]) = before {
                solid.triangle([foot_before, crown, crown_before]);
                solid.triangle([foot_before, foot, crown]);
            }
            before = Some([foot, crown]);
        }
    }
    solid
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::weather::Sky;

    #[test]
    fn it_closes_all_around_and_stands_beyond_the_site() {
        let country = country(&Sky::Morning.air(), Quality::Low);
        for at in country.corners() {
            assert!(at.xz().length() > 200.0 && at.y < 60.0 && at.y >= -FOOT_M);
        }
        assert_eq!(country.corner_count() as u32, 3 * 2 * (360 + 1));
    }
}
