//! The scene's materials at the lowest quality, where the processor draws: lit at the corners of a mesh
//! instead of at every pixel.
//!
//! Builders know one kind of material. Here what they have spawned is given a plain one made from theirs,
//! and theirs again when the quality rises.

use std::f32::consts::FRAC_1_PI;

use bevy::asset::{load_internal_asset, uuid_handle};
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::pbr::{MaterialPipeline, MaterialPipelineKey};
use bevy::platform::collections::HashMap;
use bevy::prelude::*;
use bevy::render::render_resource::{
    AsBindGroup, Face, RenderPipelineDescriptor, SpecializedMeshPipelineError,
};
use bevy::shader::ShaderRef;

use super::weather::{Weather, haze};
use crate::view::quality::Quality;
use crate::view::yard::Yard;

const SHADER: Handle<Shader> = uuid_handle!("5d0c1f0e-6a43-4c0b-9a1e-2f1d7a3c88b4");

/// A plain material.
#[derive(Asset, TypePath, AsBindGroup, Clone, Debug)]
#[bind_group_data(Kind)]
pub struct Plain {
    #[uniform(0)]
    base: LinearRgba,
    #[uniform(0)]
    shine: LinearRgba,
    #[uniform(0)]
    to_sun: Vec4,
    #[uniform(0)]
    sun: LinearRgba,
    #[uniform(0)]
    fill: LinearRgba,
    /// How thick the haze is, per metre, in place of an opacity.
    #[uniform(0)]
    haze: LinearRgba,
    #[texture(1)]
    #[sampler(2)]
    tile: Option<Handle<Image>>,
    kind: Kind,
    alpha_mode: AlphaMode,
    depth_bias: f32,
}

/// What of a plain material is built into its shader.
#[repr(C)]
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Kind {
    is_lit: bool,
    is_hazed: bool,
    is_tiled: bool,
    /// The texture gives light of its own instead of the colour.
    tile_shines: bool,
    two_sided: bool,
    culls: Option<Face>,
}

impl From<&Plain> for Kind {
    fn from(plain: &Plain) -> Self {
        plain.kind
    }
}

/// The light and the haze of a yard. Cameras and lamps have them too, but shaders of corners are not
/// given those.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Light {
    to_sun: Vec3,
    sun: LinearRgba,
    fill: LinearRgba,
    haze: LinearRgba,
}

impl Light {
    fn of(yard: &Yard) -> Self {
        let weather = Weather::over(yard);
        let air = weather.air();
        let haze = haze(weather);
        let thick = match haze.falloff {
            FogFalloff::ExponentialSquared { density } => density,
            _ => 0.0,
        };
        Self {
            to_sun: air.towards_sun(yard.rig().mirror() as f32),
            sun: air.colours.sun.to_linear() * (air.sun_lux * FRAC_1_PI),
            fill: air.colours.fill.to_linear() * air.fill_cd_per_m2,
            haze: haze.color.to_linear().with_alpha(thick),
        }
    }
}

impl Plain {
    fn new(of: &StandardMaterial, light: &Light) -> Self {
        let tile = of.base_color_texture.as_ref();
        let shining = of.emissive_texture.as_ref().filter(|_| tile.is_none());
        Self {
            base: of.base_color.to_linear(),
            shine: of.emissive,
            to_sun: light.to_sun.extend(0.0),
            sun: light.sun,
            fill: light.fill,
            haze: light.haze,
            tile: tile.or(shining).cloned(),
            kind: Kind {
                is_lit: !of.unlit,
                is_hazed: of.fog_enabled,
                is_tiled: tile.is_some() || shining.is_some(),
                tile_shines: shining.is_some(),
                two_sided: of.double_sided,
                culls: of.cull_mode,
            },
            alpha_mode: of.alpha_mode,
            depth_bias: of.depth_bias,
        }
    }
}

impl Material for Plain {
    fn vertex_shader() -> ShaderRef {
        SHADER.into()
    }

    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        self.alpha_mode
    }

    fn depth_bias(&self) -> f32 {
        self.depth_bias
    }

    fn enable_prepass() -> bool {
        false
    }

    fn enable_shadows() -> bool {
        false
    }

    fn specialize(
        _: &MaterialPipeline,
        descriptor: &mut RenderPipelineDescriptor,
        _: &MeshVertexBufferLayoutRef,
        key: MaterialPipelineKey<Self>,
    ) -> Result<(), SpecializedMeshPipelineError> {
        let kind = key.bind_group_data;
        let marks = [
            (kind.is_lit, "LIT"),
            (kind.is_hazed, "HAZED"),
            (kind.is_tiled, "TILED"),
            (kind.tile_shines, "TILE_SHINES"),
            (kind.two_sided, "TWO_SIDED"),
        ];
        for (_, mark) in marks.into_iter().filter(|(is_so, _)| *is_so) {
            descriptor.vertex.shader_defs.push(mark.into());
            if let Some(fragment) = &mut descriptor.fragment {
                fragment.shader_defs.push(mark.into());
            }
        }
        descriptor.primitive.cull_mode = kind.culls;
        Ok(())
    }
}

/// On what is drawn plainly: the material that its builder gave it.
#[derive(Component)]
struct Given(Handle<StandardMaterial>);

/// The plain materials by those that they were made from, and the light that they are in.
#[derive(Resource, Default)]
struct Made {
    light: Option<Light>,
    plain: HashMap<AssetId<StandardMaterial>, Handle<Plain>>,
}

pub fn plugin(app: &mut App) {
    load_internal_asset!(app, SHADER, "plain.wgsl", Shader::from_wgsl);
    app.add_plugins(MaterialPlugin::<Plain>::default())
        .init_resource::<Made>()
        .add_systems(
            PostUpdate,
            (follow, swap).chain().run_if(resource_exists::<Yard>),
        );
}

/// A material that is changed changes what was made from it, and another light changes all.
fn follow(
    mut events: MessageReader<AssetEvent<StandardMaterial>>,
    yard: Res<Yard>,
    given: Res<Assets<StandardMaterial>>,
    mut made: ResMut<Made>,
    mut plain: ResMut<Assets<Plain>>,
) {
    let light = Light::of(&yard);
    let is_new = made.light != Some(light);
    made.light = Some(light);
    let mut stale: Vec<AssetId<StandardMaterial>> = Vec::new();
    for event in events.read() {
        match event {
            AssetEvent::Modified { id } => stale.push(*id),
            AssetEvent::Removed { id } => {
                made.plain.remove(id);
            }
            _ => {}
        }
    }
    if is_new {
        stale.extend(made.plain.keys());
    }
    for id in stale {
        if let Some(handle) = made.plain.get(&id)
            && let Some(of) = given.get(id)
            && let Some(mut plain) = plain.get_mut(handle)
        {
            *plain = Plain::new(of, &light);
        }
    }
}

fn swap(
    mut commands: Commands,
    quality: Res<Quality>,
    given: Res<Assets<StandardMaterial>>,
    mut made: ResMut<Made>,
    mut plain: ResMut<Assets<Plain>>,
    rich: Query<(Entity, &MeshMaterial3d<StandardMaterial>)>,
    swapped: Query<(Entity, &Given)>,
) {
    if *quality > Quality::Low {
        for (entity, Given(material)) in &swapped {
            commands
                .entity(entity)
                .remove::<(Given, MeshMaterial3d<Plain>)>()
                .insert(MeshMaterial3d(material.clone()));
        }
        return;
    }
    let Made {
        light: Some(light),
        plain: known,
    } = &mut *made
    else {
        return;
    };
    for (entity, MeshMaterial3d(material)) in &rich {
        let Some(of) = given.get(material) else {
            continue;
        };
        let handle = known
            .entry(material.id())
            .or_insert_with(|| plain.add(Plain::new(of, light)));
        commands
            .entity(entity)
            .remove::<MeshMaterial3d<StandardMaterial>>()
            .insert((MeshMaterial3d(handle.clone()), Given(material.clone())));
    }
}
