//! The sky, the sun, and the light from all around, with the haze on every camera.

use bevy::asset::RenderAssetUsages;
use bevy::camera::visibility::NoFrustumCulling;
use bevy::image::{ImageAddressMode, ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::light::{
    CascadeShadowConfigBuilder, DirectionalLightShadowMap, EnvironmentMapLight, NotShadowCaster,
    NotShadowReceiver,
};
use bevy::prelude::*;
use bevy::render::render_resource::{
    Extent3d, TextureDimension, TextureFormat, TextureViewDescriptor, TextureViewDimension,
};

use super::country::country;
use super::solid::Solid;
use super::texture::{rough, speck};
use super::weather::{Air, SKY_GAIN, Sky, Weather, clear_colour, drawn, haze};
use crate::view::quality::Quality;
use crate::view::yard::Yard;

/// Radius of the dome, m: within every camera's sight, beyond everything else.
const DOME_M: f32 = 900.0;
/// Of the way from the zenith to straight below, what is seen of the dome from as high as a camera goes.
const HIDDEN: f32 = 0.56;
/// Shadows are drawn up to here from a camera, m.
const SHADOWS_M: f32 = 110.0;
const FIRST_CASCADE_M: f32 = 24.0;
/// Width of a side of the map that is mirrored in smooth things, pixels.
const MAP_PX: usize = 64;
/// Brightness at which the sky's own colours fill the picture's range under the usual exposure,
/// cd/m².
const FULL_CD_PER_M2: f32 = 1000.0;

/// On what is built for a sky.
#[derive(Component)]
struct OfSky;

/// The sky as it is drawn now.
#[derive(Resource)]
struct Drawn {
    weather: Weather,
    quality: Quality,
    mirror: f32,
    surroundings: EnvironmentMapLight,
}

/// The pictures of the skies that have been drawn, kept for when they come again.
#[derive(Resource, Default)]
struct Album {
    made_for: Option<Quality>,
    pages: Vec<((Sky, bool), Page)>,
}

#[derive(Clone)]
struct Page {
    dome: Handle<Image>,
    diffuse: Handle<Image>,
    specular: Handle<Image>,
}

impl Album {
    fn page(
        &mut self,
        sky: Sky,
        mirror: f32,
        quality: Quality,
        images: &mut Assets<Image>,
    ) -> Page {
        if self.made_for != Some(quality) {
            *self = Self {
                made_for: Some(quality),
                pages: Vec::new(),
            };
        }
        let key = (sky, mirror < 0.0);
        if let Some((_, page)) = self.pages.iter().find(|(of, _)| *of == key) {
            return page.clone();
        }
        let air = sky.air();
        let to_sun = air.towards_sun(mirror);
        let (diffuse, specular) = maps(&air, to_sun);
        let page = Page {
            dome: images.add(picture(&air, to_sun, quality.texture_px().min(512))),
            diffuse: images.add(diffuse),
            specular: images.add(specular),
        };
        self.pages.push((key, page.clone()));
        page
    }
}

/// On a camera that has been given the haze of this sky.
#[derive(Component, PartialEq)]
struct Hazed(Weather, Quality);

pub fn plugin(app: &mut App) {
    app.init_resource::<Album>()
        .add_systems(Update, (draw, see).chain().run_if(resource_exists::<Yard>));
}

#[expect(clippy::too_many_arguments, reason = "all that a sky is made of")]
fn draw(
    mut commands: Commands,
    yard: Res<Yard>,
    quality: Res<Quality>,
    mut album: ResMut<Album>,
    before: Option<Res<Drawn>>,
    old: Query<Entity, With<OfSky>>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut images: ResMut<Assets<Image>>,
) {
    let weather = Weather::over(&yard);
    let mirror = yard.rig().mirror() as f32;
    let is_drawn = before.is_some_and(|drawn| {
        drawn.weather == weather && drawn.quality == *quality && drawn.mirror == mirror
    });
    if is_drawn {
        return;
    }
    for entity in &old {
        commands.entity(entity).despawn();
    }
    let air = weather.air();
    let to_sun = air.towards_sun(mirror);
    commands.insert_resource(ClearColor(clear_colour(weather)));
    let has_map = *quality > Quality::Low;
    commands.insert_resource(GlobalAmbientLight {
        color: air.colours.fill,
        brightness: if has_map { 0.0 } else { air.fill_cd_per_m2 },
        ..default()
    });
    let mut sun = commands.spawn((
        OfSky,
        DirectionalLight {
            color: air.colours.sun,
            illuminance: air.sun_lux,
            shadow_maps_enabled: quality.shadows().is_some(),
            shadow_normal_bias: 1.2,
            ..default()
        },
        Transform::from_translation(to_sun).looking_at(Vec3::ZERO, Vec3::Y),
    ));
    if let Some((cascades, width_px)) = quality.shadows() {
        sun.insert(
            CascadeShadowConfigBuilder {
                num_cascades: cascades,
                minimum_distance: 0.2,
                maximum_distance: SHADOWS_M,
                first_cascade_far_bound: FIRST_CASCADE_M,
                overlap_proportion: 0.1,
            }
            .build(),
        );
        commands.insert_resource(DirectionalLightShadowMap { size: width_px });
    }
    let page = album.page(weather.sky, mirror, *quality, &mut images);
    commands.spawn((
        OfSky,
        Mesh3d(meshes.add(dome(*quality))),
        MeshMaterial3d(materials.add(StandardMaterial {
            base_color: drawn(Color::WHITE),
            base_color_texture: Some(page.dome),
            unlit: true,
            fog_enabled: false,
            cull_mode: None,
            ..default()
        })),
        NotShadowCaster,
        NotShadowReceiver,
        NoFrustumCulling,
    ));
    commands.spawn((
        OfSky,
        Mesh3d(meshes.add(country(&air, *quality).mesh())),
        MeshMaterial3d(materials.add(StandardMaterial {
            unlit: true,
            double_sided: true,
            cull_mode: None,
            ..default()
        })),
        NotShadowCaster,
        NotShadowReceiver,
    ));
    commands.insert_resource(Drawn {
        weather,
        quality: *quality,
        mirror,
        surroundings: EnvironmentMapLight {
            diffuse_map: page.diffuse,
            specular_map: page.specular,
            intensity: FULL_CD_PER_M2 * SKY_GAIN,
            ..default()
        },
    });
}

/// Every camera sees the haze as its level has it, and smooth things in its picture mirror the sky.
fn see(
    mut commands: Commands,
    drawn: Option<Res<Drawn>>,
    cameras: Query<(Entity, Option<&Hazed>), With<Camera3d>>,
) {
    let Some(drawn) = drawn else { return };
    let now = Hazed(drawn.weather, drawn.quality);
    for (camera, hazed) in &cameras {
        // Another line may have another map under the same weather.
        if hazed == Some(&now) && !drawn.is_changed() {
            continue;
        }
        let mut camera = commands.entity(camera);
        camera.insert((
            haze(drawn.weather),
            Hazed(drawn.weather, drawn.quality),
            super::smoothing(drawn.quality),
        ));
        if drawn.quality > Quality::Low {
            camera.insert(drawn.surroundings.clone());
        } else {
            camera.remove::<EnvironmentMapLight>();
        }
    }
}

fn rgb(colour: Color) -> Vec3 {
    colour.to_linear().to_vec3()
}

fn smooth(from: f32, to: f32, x: f32) -> f32 {
    let t = ((x - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// The sky's colour in a direction, without clouds. `blur` from 0 (sharp) to 1 softens the horizon
/// and the glow around the sun.
fn clear_sky(air: &Air, to_sun: Vec3, towards: Vec3, blur: f32) -> Vec3 {
    let c = &air.colours;
    let up = towards.y;
    // Hills that the haze has taken are as light as the sky over them.
    let share = smooth(0.03 - 0.6 * blur, 0.75 + 0.4 * blur, up).powf(0.75);
    let mut colour = rgb(c.horizon).lerp(rgb(c.zenith), share);
    let near_sun = to_sun.dot(towards).max(0.0);
    let clear = 1.0 - 0.8 * air.cloud;
    let glow = 0.45 * near_sun.powf(6.0) + 0.5 * near_sun.powf(40.0) * (1.0 - blur);
    colour = colour.lerp(rgb(c.glow), (glow * clear).min(1.0));
    colour
}

/// The same with clouds.
fn cloudy_sky(air: &Air, to_sun: Vec3, towards: Vec3) -> Vec3 {
    let clear = clear_sky(air, to_sun, towards, 0.0);
    let plane = towards.xz() / (towards.y.max(0.0) + 0.12) * 1.1;
    let drift = Vec2::new(
        rough(plane.x * 0.7 + 40.0, plane.y * 0.7, 0, 3, 401),
        rough(plane.x * 0.7, plane.y * 0.7 + 40.0, 0, 3, 402),
    );
    let puff = rough(
        plane.x * 0.9 + 1.6 * drift.x,
        plane.y * 1.5 + 1.6 * drift.y,
        0,
        5,
        403,
    );
    let least = 0.86 - 0.62 * air.cloud;
    let thick = smooth(least, least + 0.30, puff) * smooth(0.08, 0.40, towards.y);
    // Lit from the sun's side, darker where it is thick.
    let lit = 1.0 - 0.35 * smooth(least + 0.1, least + 0.5, puff);
    let colour = rgb(air.colours.cloud) * lit;
    clear.lerp(colour, 0.85 * thick)
}

/// The dome, seen from inside: u around, v from the zenith down to where the ground hides it.
fn dome(quality: Quality) -> Mesh {
    let (around, down) = if quality == Quality::Low {
        (24, 12)
    } else {
        (48, 24)
    };
    let mut solid = Solid::new();
    let mut before: Vec<u32> = Vec::new();
    for row in 0..=down {
        let v = HIDDEN * row as f32 / down as f32;
        let ring: Vec<u32> = (0..=around)
            .map(|i| {
                let u = i as f32 / around as f32;
                let towards = direction(u, v);
                solid.corner(towards * DOME_M, -towards, [u, v])
            })
            .collect();
        if row > 0 {
            for i in 0..around {
                solid.triangle([before[i], ring[i], ring[i + 1]]);
                solid.triangle([before[i], ring[i + 1], before[i + 1]]);
            }
        }
        before = ring;
    }
    solid.mesh()
}

/// The direction of a point of the dome's picture.
fn direction(u: f32, v: f32) -> Vec3 {
    let (sin_around, cos_around) = (u * std::f32::consts::TAU).sin_cos();
    let (sin_down, cos_down) = (v * std::f32::consts::PI).sin_cos();
    Vec3::new(sin_down * cos_around, cos_down, sin_down * sin_around)
}

/// The dome's picture.
fn picture(air: &Air, to_sun: Vec3, height_px: u32) -> Image {
    let width_px = 2 * height_px;
    let mut data = Vec::with_capacity((4 * width_px * height_px) as usize);
    for y in 0..height_px {
        for x in 0..width_px {
            let towards = direction(
                (x as f32 + 0.5) / width_px as f32,
                (y as f32 + 0.5) / height_px as f32,
            );
            let mut colour = cloudy_sky(air, to_sun, towards);
            let disc = smooth(0.99930, 0.99985, to_sun.dot(towards)) * (1.0 - air.cloud).max(0.0);
            colour = colour.lerp(Vec3::ONE, disc);
            // A little unrest, so that no bands are seen.
            let unrest = (speck(x as i32, y as i32, 77) - 0.5) / 255.0;
            data.extend(pixel(colour, unrest));
        }
    }
    let mut image = Image::new(
        Extent3d {
            width: width_px,
            height: height_px,
            depth_or_array_layers: 1,
        },
        TextureDimension::D2,
        data,
        TextureFormat::Rgba8UnormSrgb,
        RenderAssetUsages::RENDER_WORLD,
    );
    image.sampler = ImageSampler::Descriptor(ImageSamplerDescriptor {
        address_mode_u: ImageAddressMode::Repeat,
        mag_filter: ImageFilterMode::Linear,
        min_filter: ImageFilterMode::Linear,
        ..ImageSamplerDescriptor::default()
    });
    image
}

fn pixel(linear: Vec3, unrest: f32) -> [u8; 4] {
    let srgb = Srgba::from(LinearRgba::from_vec3(linear));
    let byte = |share: f32| ((share + unrest).clamp(0.0, 1.0) * 255.0).round() as u8;
    [byte(srgb.red), byte(srgb.green), byte(srgb.blue), 255]
}

/// What the ground throws back.
fn from_below(air: &Air) -> Vec3 {
    let ground = rgb(crate::view::theme::yard::DIRT);
    ground * (0.5 * rgb(air.colours.horizon) + 0.5 * rgb(air.colours.sun) * air.sun_lux / 9000.0)
}

/// Light from all around as faces of a cube: what matt things receive, and what smooth ones mirror,
/// ever more blurred from level to level.
fn maps(air: &Air, to_sun: Vec3) -> (Image, Image) {
    let below = from_below(air);
    let seen = |towards: Vec3, blur: f32| {
        let sky = if blur < 0.15 {
            cloudy_sky(air, to_sun, towards)
        } else {
            let clear = clear_sky(air, to_sun, towards, blur);
            clear.lerp(rgb(air.colours.cloud), 0.5 * air.cloud)
        };
        let is_ground = smooth(0.02 + 0.5 * blur, -0.02 - 0.5 * blur, towards.y);
        sky.lerp(below, is_ground)
    };
    let diffuse = cube(&[8], |towards, _| seen(towards, 1.0));
    let levels: Vec<usize> =
        std::iter::successors(Some(MAP_PX), |px| (*px > 1).then_some(px / 2)).collect();
    let last = (levels.len() - 1) as f32;
    let specular = cube(&levels, |towards, level| seen(towards, level as f32 / last));
    (diffuse, specular)
}

/// A cube of images; `levels` are the widths of its levels, each half of the one before.
fn cube(levels: &[usize], colour: impl Fn(Vec3, usize) -> Vec3) -> Image {
    let mut data = Vec::new();
    for face in 0..6 {
        for (level, &px) in levels.iter().enumerate() {
            for i in 0..px * px {
                let across = |n: usize| 2.0 * (n as f32 + 0.5) / px as f32 - 1.0;
                let (s, t) = (across(i % px), across(i / px));
                // The faces are those of a left-handed frame: z the other way round.
                let towards = match face {
                    0 => Vec3::new(1.0, -t, s),
                    1 => Vec3::new(-1.0, -t, -s),
                    2 => Vec3::new(s, 1.0, -t),
                    3 => Vec3::new(s, -1.0, t),
                    4 => Vec3::new(s, -t, -1.0),
                    _ => Vec3::new(-s, -t, 1.0),
                };
                data.extend(pixel(colour(towards.normalize(), level), 0.0));
            }
        }
    }
    let px = levels.first().copied().unwrap_or(1) as u32;
    let mut image = Image::new_uninit(
        Extent3d {
            width: px,
            height: px,
            depth_or_array_layers: 6,
        },
        TextureDimension::D2,
        TextureFormat::Rgba8UnormSrgb,
        RenderAssetUsages::RENDER_WORLD,
    );
    image.data = Some(data);
    image.texture_descriptor.mip_level_count = levels.len() as u32;
    image.texture_view_descriptor = Some(TextureViewDescriptor {
        dimension: Some(TextureViewDimension::Cube),
        ..default()
    });
    image.sampler = ImageSampler::linear();
    image
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::weather::Sky;

    const SKIES: [Sky; 5] = [
        Sky::Morning,
        Sky::Overcast,
        Sky::Frost,
        Sky::Dusk,
        Sky::FirstLight,
    ];

    #[test]
    fn the_haze_ends_in_the_sky_at_the_horizon() {
        for sky in SKIES {
            let air = sky.air();
            let away = Vec3::new(-air.towards_sun(1.0).x, 0.0, -air.towards_sun(1.0).z).normalize();
            let seen = cloudy_sky(&air, air.towards_sun(1.0), away);
            let hazed = rgb(air.colours.horizon);
            assert!((seen - hazed).length() < 0.08, "{sky:?}: {seen} {hazed}");
        }
    }

    #[test]
    fn the_sun_stands_on_the_other_side_of_a_mirrored_line() {
        for sky in SKIES {
            let [right, left] = [1.0, -1.0].map(|mirror| sky.air().towards_sun(mirror));
            assert!((right.length() - 1.0).abs() < 1.0e-5 && right.y > 0.1);
            assert!((right * Vec3::new(-1.0, 1.0, 1.0)).abs_diff_eq(left, 1.0e-6));
        }
    }

    #[test]
    fn all_sizes_of_the_map_are_there() {
        let (_, specular) = maps(&Sky::Morning.air(), Vec3::Y);
        let pixels: usize = [64, 32, 16, 8, 4, 2, 1].iter().map(|px| px * px).sum();
        assert_eq!(specular.data.map(|data| data.len()), Some(6 * 4 * pixels));
    }
}
