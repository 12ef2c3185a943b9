//! The ground: earth that falls as the line's description says, crushed stone under the machines,
//! wheel tracks, puddles and frost.

use bevy::light::NotShadowCaster;
use bevy::prelude::*;

use super::site::{Patch, Site};
use super::solid::Solid;
use super::texture::{self, Skin, noise, rough, speck};
use super::weather::Weather;
use super::{Built, SceneSystems, Stands, due};
use crate::domain::rig::Rig;
use crate::domain::spec::Place;
use crate::view::quality::Quality;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// Up to here the ground is the plane of the description, m; beyond, it goes on level.
const PLANE_M: f64 = 140.0;
/// Up to here the corners of the ground's mesh are near to each other, m, and so near.
const FINE_M: f32 = 48.0;
const COUNTRY_M: f32 = 880.0;
/// A tile of each texture, m.
const EARTH_TILE_M: f32 = 3.4;
const GRAVEL_TILE_M: f32 = 2.1;
/// What lies flat on the ground is so much above it, m: stone, tracks, puddles.
const GRAVEL_M: f32 = 0.004;
const TRACKS_M: f32 = 0.007;
const PUDDLE_M: f32 = 0.010;
/// Wheels of the loader: middle of the tread from the middle of the track, and its width, m.
const TRACK_HALF_M: f32 = 0.95;
const TREAD_M: f32 = 0.46;

/// The way of u, and the hand of v, where u goes along x and v along z.
const PLAN: [f32; 4] = [1.0, 0.0, 0.0, -1.0];

/// The ground of a line, as everything that stands on it needs it.
#[derive(Clone, Copy, Debug)]
pub struct Lie<'a> {
    rig: &'a Rig,
}

impl<'a> Lie<'a> {
    pub fn of(rig: &'a Rig) -> Self {
        Self { rig }
    }

    /// A place of the plan on the ground, in the world.
    pub fn at(&self, place: Place) -> Vec3 {
        let far_m = place.x_m.hypot(place.z_m);
        let share = (PLANE_M / far_m.max(PLANE_M)).min(1.0);
        let under = Place {
            x_m: place.x_m * share,
            z_m: place.z_m * share,
        };
        Vec3::new(
            (self.rig.mirror() * place.x_m) as f32,
            self.rig.spec().ground.height_m(under) as f32,
            place.z_m as f32,
        )
    }

    /// Square to the ground near the line.
    pub fn up(&self) -> Vec3 {
        let at = |x_m, z_m| self.at(Place { x_m, z_m });
        let along = at(0.0, 1.0) - at(0.0, 0.0);
        let across = at(1.0, 0.0) - at(0.0, 0.0);
        let up = along.cross(across);
        (if up.y < 0.0 { -up } else { up }).normalize()
    }
}

pub fn plugin(app: &mut App) {
    app.init_resource::<Skins>().add_systems(
        Update,
        (
            build.run_if(due(Built::Ground)),
            flood.run_if(due(Built::Water)),
        )
            .in_set(SceneSystems::Build),
    );
}

/// The textures, kept for the lines that follow.
#[derive(Resource, Default)]
struct Skins {
    made_for: Option<Quality>,
    earth: [Handle<Image>; 2],
    gravel: [Handle<Image>; 2],
    tread: [Handle<Image>; 2],
}

impl Skins {
    fn make(&mut self, quality: Quality, images: &mut Assets<Image>) {
        if self.made_for == Some(quality) {
            return;
        }
        let px = quality.texture_px();
        let mut add = |skin: Skin| [images.add(skin.shade), images.add(skin.normals)];
        self.earth = add(texture::skin(px, texture::earth, 0.016));
        self.gravel = add(texture::skin(px, texture::gravel, 0.013));
        self.tread = add(texture::skin(px / 2, texture::tread, 0.05));
        self.made_for = Some(quality);
    }
}

#[expect(clippy::too_many_arguments, reason = "all that the ground is made of")]
fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    stands: Res<Stands>,
    quality: Res<Quality>,
    mut skins: ResMut<Skins>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut images: ResMut<Assets<Image>>,
) {
    let Some(site) = stands.site() else { return };
    skins.make(*quality, &mut images);
    let weather = Weather::over(&yard);
    let ground = Ground::new(yard.rig(), site, weather);
    let damp = if weather.wet { 0.62 } else { 0.96 };
    let mut matt = |skin: &[Handle<Image>; 2], roughness: f32, alpha_mode: AlphaMode| {
        // What lies on the earth is drawn over it, and costs as much again.
        let least = match alpha_mode {
            AlphaMode::Opaque => Quality::Medium,
            _ => Quality::High,
        };
        materials.add(StandardMaterial {
            base_color_texture: Some(skin[0].clone()),
            normal_map_texture: (*quality >= least).then(|| skin[1].clone()),
            perceptual_roughness: roughness,
            reflectance: 0.3,
            alpha_mode,
            ..default()
        })
    };
    commands.spawn((
        Built::Ground,
        Mesh3d(meshes.add(ground.earth(*quality).sheet(PLAN))),
        MeshMaterial3d(matt(&skins.earth, damp, AlphaMode::Opaque)),
        NotShadowCaster,
    ));
    // A tread's u is across the tracks, its v along them.
    let mirror = yard.rig().mirror() as f32;
    let along_tracks = [0.0, 0.0, -1.0, mirror];
    let laid = [
        (ground.stone(*quality), &skins.gravel, PLAN, damp - 0.05),
        (ground.tracks(site), &skins.tread, along_tracks, damp - 0.12),
    ];
    for (sheet, skin, tangent, roughness) in laid {
        if sheet.is_empty() {
            continue;
        }
        commands.spawn((
            Built::Ground,
            Mesh3d(meshes.add(sheet.sheet(tangent))),
            MeshMaterial3d(matt(skin, roughness, AlphaMode::Blend)),
            NotShadowCaster,
        ));
    }
}

/// Puddles, where it is wet.
fn flood(
    mut commands: Commands,
    yard: Res<Yard>,
    stands: Res<Stands>,
    quality: Res<Quality>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let weather = Weather::over(&yard);
    let Some(site) = stands.site().filter(|_| weather.wet) else {
        return;
    };
    // What mirrors the sky where there is a map of it is given its colour where there is none.
    let horizon = rgb(weather.air().colours.horizon);
    let sheen = if *quality == Quality::Low {
        0.24 * horizon
    } else {
        Vec3::ZERO
    };
    let ground = Ground::new(yard.rig(), site, weather);
    commands.spawn((
        Built::Water,
        Mesh3d(meshes.add(ground.puddles(site, sheen).sheet(PLAN))),
        MeshMaterial3d(materials.add(StandardMaterial {
            perceptual_roughness: 0.06,
            reflectance: 0.45,
            alpha_mode: AlphaMode::Blend,
            // After the stone and the tracks that it stands in.
            depth_bias: 20.0,
            ..default()
        })),
        NotShadowCaster,
    ));
}

fn rgb(colour: Color) -> Vec3 {
    colour.to_linear().to_vec3()
}

fn smooth(from: f32, to: f32, x: f32) -> f32 {
    let t = ((x - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// The ground's sheets.
struct Ground<'a> {
    lie: Lie<'a>,
    up: Vec3,
    fence: Patch,
    gravel: &'a [Patch],
    tracks: &'a [Place],
    weather: Weather,
}

impl<'a> Ground<'a> {
    fn new(rig: &'a Rig, site: &'a Site, weather: Weather) -> Self {
        let lie = Lie::of(rig);
        let whole = Patch {
            x_m: (-60.0, 60.0),
            z_m: (-60.0, 60.0),
        };
        Self {
            up: lie.up(),
            lie,
            fence: site.fence.unwrap_or(whole),
            gravel: &site.gravel,
            tracks: &site.tracks,
            weather,
        }
    }

    /// A corner of a sheet of this texture, so far over the ground.
    fn corner(&self, sheet: &mut Solid, place: Place, over_m: f32, tile_m: f32) -> u32 {
        let at = self.lie.at(place) + Vec3::Y * over_m;
        sheet.corner(at, self.up, [at.x / tile_m, at.z / tile_m])
    }

    /// A grid of corners with the given colour (and opacity) at each.
    fn grid(
        &self,
        (xs, zs): (&[f32], &[f32]),
        (over_m, tile_m): (f32, f32),
        colour: impl Fn(Place) -> Vec4,
    ) -> Solid {
        let mut sheet = Solid::new();
        // On a mirrored line the other side would be up.
        let mirrored = self.lie.rig.mirror() < 0.0;
        let place = |i: usize, k: usize| Place {
            x_m: f64::from(xs[i]),
            z_m: f64::from(zs[k]),
        };
        let tones: Vec<Vec4> = (0..xs.len() * zs.len())
            .map(|n| colour(place(n % xs.len(), n / xs.len())))
            .collect();
        let mut numbers = vec![None; tones.len()];
        for k in 1..zs.len() {
            for i in 1..xs.len() {
                let cell = [(i - 1, k - 1), (i - 1, k), (i, k), (i, k - 1)];
                let number = |(i, k): (usize, usize)| k * xs.len() + i;
                if cell.iter().all(|&c| tones[number(c)].w <= 0.0) {
                    continue;
                }
                let corners = cell.map(|(i, k)| {
                    let n = number((i, k));
                    *numbers[n].get_or_insert_with(|| {
                        sheet.paint(linear(tones[n]));
                        self.corner(&mut sheet, place(i, k), over_m, tile_m)
                    })
                });
                let [a, b, c, d] = corners;
                if mirrored {
                    sheet.triangle([a, c, b]);
                    sheet.triangle([a, d, c]);
                } else {
                    sheet.triangle([a, b, c]);
                    sheet.triangle([a, c, d]);
                }
            }
        }
        sheet
    }

    /// The earth itself, out to the country.
    fn earth(&self, quality: Quality) -> Solid {
        let step_m = if quality == Quality::Low { 3.2 } else { 0.8 };
        let line = spread(step_m);
        self.grid((&line, &line), (0.0, EARTH_TILE_M), |place| {
            self.tone(place).extend(1.0)
        })
    }

    /// Colour of the earth, over its texture.
    fn tone(&self, place: Place) -> Vec3 {
        let (x, z) = (place.x_m as f32, place.z_m as f32);
        let broad = rough(x * 0.045, z * 0.045, 0, 4, 501);
        let fine = rough(x * 0.31, z * 0.31, 0, 3, 502);
        let mut tone = rgb(colours::DIRT).lerp(
            rgb(colours::DIRT_PALE),
            smooth(0.38, 0.68, 0.6 * broad + 0.4 * fine),
        );
        let mud = smooth(0.52, 0.70, rough(x * 0.11, z * 0.11, 0, 3, 503));
        tone = tone.lerp(rgb(colours::MUD), 0.55 * mud);
        // Ground that is driven on is darker.
        let beside_m = self.off_tracks_m(place);
        tone *= 1.0 - 0.22 * smooth(2.6, 0.8, beside_m);
        // Grass beyond the fence, and tufts along it.
        let out_m = -self.fence.depth_m(place) as f32 + 5.0 * (fine - 0.5);
        let green = smooth(-0.5, 5.0, out_m);
        let grass = rgb(colours::GRASS).lerp(rgb(colours::GRASS_DRY), smooth(0.3, 0.7, broad));
        tone = tone.lerp(
            grass * (0.75 + 0.5 * fine),
            green * smooth(1.2, 3.0, beside_m),
        );
        if self.weather.wet {
            tone *= 0.68;
        }
        if self.weather.frosty {
            let rime = smooth(0.30, 0.62, 0.5 * broad + 0.5 * fine);
            let rime = (0.30 + 0.50 * rime) * (1.0 - 0.55 * smooth(2.2, 0.7, beside_m));
            tone = tone.lerp(rgb(colours::RIME), rime);
        }
        // The texture is darker than white by itself.
        tone * 1.25
    }

    /// Distance from the middle of the loader's tracks, m.
    fn off_tracks_m(&self, place: Place) -> f32 {
        let squared = self.tracks.iter().map(|at| {
            let (x, z) = (at.x_m - place.x_m, at.z_m - place.z_m);
            x * x + z * z
        });
        squared.fold(f64::INFINITY, f64::min).sqrt() as f32
    }

    /// Crushed stone, thin towards its edges.
    fn stone(&self, quality: Quality) -> Solid {
        let step_m = if quality == Quality::Low { 1.0 } else { 0.5 };
        let reach = |of: fn(&Patch) -> (f64, f64)| {
            let (low, high) = self.gravel.iter().map(of).fold(
                (f64::INFINITY, f64::NEG_INFINITY),
                |(low, high), (from, to)| (low.min(from), high.max(to)),
            );
            steps(low as f32 - 2.0, high as f32 + 2.0, step_m)
        };
        let (xs, zs) = (reach(|patch| patch.x_m), reach(|patch| patch.z_m));
        self.grid((&xs, &zs), (GRAVEL_M, GRAVEL_TILE_M), |place| {
            let depths = self.gravel.iter().map(|patch| patch.depth_m(place));
            let depth_m = depths.fold(f64::NEG_INFINITY, f64::max) as f32;
            let (x, z) = (place.x_m as f32, place.z_m as f32);
            let ragged = rough(x * 0.6, z * 0.6, 0, 3, 511);
            let opacity = smooth(-0.9, 0.7, depth_m + 2.4 * (ragged - 0.5));
            let mut tone = rgb(colours::GRAVEL).lerp(
                rgb(colours::GRAVEL_PALE),
                rough(x * 0.15, z * 0.15, 0, 3, 512),
            ) * 1.4;
            // Earth is trodden into it.
            let trodden = smooth(0.55, 0.75, rough(x * 0.22, z * 0.22, 0, 2, 513));
            tone = tone.lerp(rgb(colours::DIRT) * 1.2, 0.25 + 0.5 * trodden);
            if self.weather.wet {
                tone *= 0.68;
            }
            if self.weather.frosty {
                tone = tone.lerp(rgb(colours::RIME) * 1.3, 0.25 + 0.3 * ragged);
            }
            tone.extend(opacity)
        })
    }

    /// Prints of the loader's wheels.
    fn tracks(&self, site: &Site) -> Solid {
        let mut sheet = Solid::new();
        let mirrored = self.lie.rig.mirror() < 0.0;
        for (side, pass) in [(-1.0, 0), (1.0, 0), (-1.12, 1), (0.90, 1)] {
            let mut before: Option<[(u32, Vec3); 4]> = None;
            let mut way_m = 0.37 * pass as f32;
            for (n, leg) in site.tracks.windows(2).enumerate() {
                let (dx, dz) = (leg[1].x_m - leg[0].x_m, leg[1].z_m - leg[0].z_m);
                let length_m = dx.hypot(dz).max(1.0e-6);
                let across = (-dz / length_m, dx / length_m);
                way_m += length_m as f32;
                // The second pass swings about the first.
                let swing = 0.5 * pass as f32 * (n as f32 * 0.13).sin();
                let off_m = f64::from(side * TRACK_HALF_M + swing);
                let fresh = 0.75 - 0.35 * pass as f32
                    + 0.3 * (rough(n as f32 * 0.2, side, 0, 2, 521) - 0.5);
                let start = smooth(0.0, 4.0, n as f32);
                let tone = self.track_tone();
                let u = [-0.16_f32, 0.04, 0.96, 1.16];
                let alpha = [0.0, fresh * start, fresh * start, 0.0];
                let row: [(u32, Vec3); 4] = std::array::from_fn(|i| {
                    let out_m = off_m + f64::from((u[i] - 0.5) * TREAD_M);
                    let place = Place {
                        x_m: leg[0].x_m + across.0 * out_m,
                        z_m: leg[0].z_m + across.1 * out_m,
                    };
                    let at = self.lie.at(place) + Vec3::Y * (TRACKS_M + 0.001 * pass as f32);
                    sheet.paint(linear(tone.extend(alpha[i].clamp(0.0, 1.0))));
                    let along = [u[i].clamp(0.0, 1.0), way_m / (2.0 * TREAD_M)];
                    (sheet.corner(at, self.up, along), at)
                });
                if let Some(before) = before {
                    for i in 0..3 {
                        let [a, b, c, d] = [before[i], before[i + 1], row[i + 1], row[i]];
                        let pieces = if mirrored {
                            [[a, c, b], [a, d, c]]
                        } else {
                            [[a, b, c], [a, c, d]]
                        };
                        for piece in pieces {
                            // On the inner side of a bend the tread would fold over itself.
                            let [one, two, three] = piece.map(|(_, at)| at);
                            if (two - one).cross(three - one).dot(self.up) > 0.0 {
                                sheet.triangle(piece.map(|(corner, _)| corner));
                            }
                        }
                    }
                }
                before = Some(row);
            }
        }
        sheet
    }

    fn track_tone(&self) -> Vec3 {
        let tone = rgb(colours::MUD) * 1.15;
        if self.weather.wet {
            tone * 0.62
        } else if self.weather.frosty {
            tone.lerp(rgb(colours::RIME), 0.18)
        } else {
            tone
        }
    }

    /// Water in the ruts and hollows.
    fn puddles(&self, site: &Site, sheen: Vec3) -> Solid {
        let mut sheet = Solid::new();
        let mirrored = self.lie.rig.mirror() < 0.0;
        for n in 0..26_i32 {
            let own = |k: i32| speck(n, k, 601);
            let in_rut = n % 2 == 0;
            let (place, radii) = if in_rut && !site.tracks.is_empty() {
                let which = (own(1) * site.tracks.len().min(40) as f32) as usize;
                let side = if own(2) < 0.5 { -1.0 } else { 1.0 };
                let at = site.tracks[which.min(site.tracks.len() - 1)];
                let place = Place {
                    x_m: at.x_m,
                    z_m: at.z_m + f64::from(side * TRACK_HALF_M),
                };
                (place, (0.9 + 1.6 * own(3), 0.20 + 0.12 * own(4)))
            } else {
                let (sin, cos) = (own(1) * std::f32::consts::TAU).sin_cos();
                let out_m = 4.0 + 20.0 * own(2).sqrt();
                let place = Place {
                    x_m: f64::from(out_m * cos) - 2.0,
                    z_m: f64::from(out_m * sin),
                };
                (place, (0.5 + 1.3 * own(3), 0.4 + 0.8 * own(4)))
            };
            let rings = [(0.0, 0.92), (0.84, 0.90), (0.94, 0.50), (1.0, 0.0)];
            let sides = 20;
            let mut before: Vec<u32> = Vec::new();
            for (share, opacity) in rings {
                sheet.paint(linear((rgb(colours::WATER) + sheen).extend(opacity)));
                let ring: Vec<u32> = (0..=sides)
                    .map(|i| {
                        let angle = std::f32::consts::TAU * (i % sides) as f32 / sides as f32;
                        let (sin, cos) = angle.sin_cos();
                        let wave =
                            0.75 + 0.5 * noise(cos * 1.4 + 9.0, sin * 1.4 + 9.0 + n as f32, 0, 611);
                        let at = Place {
                            x_m: place.x_m + f64::from(radii.0 * share * wave * cos),
                            z_m: place.z_m + f64::from(radii.1 * share * wave * sin),
                        };
                        self.corner(&mut sheet, at, PUDDLE_M, EARTH_TILE_M)
                    })
                    .collect();
                for i in 0..before.len().saturating_sub(1) {
                    let [a, b, c, d] = [before[i], before[i + 1], ring[i + 1], ring[i]];
                    if mirrored {
                        sheet.triangle([a, d, c]);
                        sheet.triangle([a, c, b]);
                    } else {
                        sheet.triangle([a, c, d]);
                        sheet.triangle([a, b, c]);
                    }
                }
                before = ring;
            }
        }
        sheet
    }
}

fn linear(tone: Vec4) -> Color {
    Color::LinearRgba(LinearRgba::from_vec4(tone))
}

/// Numbers from one to another in steps of about this much.
fn steps(from: f32, to: f32, step: f32) -> Vec<f32> {
    let count = ((to - from) / step).ceil().max(1.0) as usize;
    (0..=count)
        .map(|i| from + (to - from) * i as f32 / count as f32)
        .collect()
}

/// Lines of the ground's grid: near to each other around the middle, then ever farther apart.
fn spread(step_m: f32) -> Vec<f32> {
    let mut outer = Vec::new();
    let (mut at, mut step) = (FINE_M, 2.0 * step_m);
    while at < COUNTRY_M {
        at = (at + step).min(COUNTRY_M);
        outer.push(at);
        step *= 1.45;
    }
    let low = outer.iter().rev().map(|at| -at);
    let fine = steps(-FINE_M, FINE_M, step_m);
    low.chain(fine).chain(outer.iter().copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::site::shipped;

    #[test]
    fn the_ground_lies_where_the_line_has_it() {
        for (name, rig) in shipped() {
            let site = Site::of(&rig);
            let weather = Weather::of(rig.spec());
            let ground = Ground::new(&rig, &site, weather);
            let earth = ground.earth(Quality::Low);
            let height = |at: Vec3| {
                let place = Place {
                    x_m: rig.mirror() * f64::from(at.x),
                    z_m: f64::from(at.z),
                };
                rig.spec().ground.height_m(place) as f32
            };
            let near = earth.corners().filter(|at| at.xz().length() < 100.0);
            for at in near {
                assert!((at.y - height(at)).abs() < 1.0e-3, "{name}: {at}");
            }
            // What lies on it is over it, and thin.
            let laid = [
                ground.stone(Quality::Low),
                ground.tracks(&site),
                ground.puddles(&site, Vec3::ZERO),
            ];
            for at in laid
                .iter()
                .flat_map(Solid::corners)
                .filter(|at| at.xz().length() < 100.0)
            {
                let over = at.y - height(at);
                assert!((0.002..0.02).contains(&over), "{name}: {over}");
            }
        }
    }

    #[test]
    fn sheets_look_up_on_both_hands() {
        for (name, rig) in shipped() {
            let site = Site::of(&rig);
            let ground = Ground::new(&rig, &site, Weather::of(rig.spec()));
            for (n, sheet) in [
                ground.earth(Quality::Low),
                ground.stone(Quality::Low),
                ground.tracks(&site),
                ground.puddles(&site, Vec3::ZERO),
            ]
            .iter()
            .enumerate()
            {
                let corners: Vec<Vec3> = sheet.corners().collect();
                let up = sheet.triangles().filter(|t| {
                    let [a, b, c] = t.map(|i| corners[i as usize]);
                    (b - a).cross(c - a).y < -1.0e-7
                });
                assert_eq!(up.count(), 0, "{name}: sheet {n}");
            }
        }
    }

    #[test]
    fn it_goes_on_level_in_the_country() {
        let (_, rig) = shipped().swap_remove(0);
        let mut spec = rig.spec().clone();
        spec.ground.cross_fall_rad = 0.05;
        let rig = Rig::new(&spec);
        let lie = Lie::of(&rig);
        let at = |x_m| lie.at(Place { x_m, z_m: 0.0 }).y;
        assert!((at(-100.0) - 5.0).abs() < 0.01);
        assert!((at(-800.0) - at(-140.0)).abs() < 1.0e-3);
        assert!(lie.up().x > 0.04);
    }
}
