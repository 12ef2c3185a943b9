// Lit at the corners of a mesh, for machines that draw by the processor: the sun, the light from all
// around and the haze are taken once a corner; a pixel costs one texture and the tone curve.

#import bevy_core_pipeline::tonemapping::ACESFitted
#import bevy_pbr::{
    forward_io::Vertex,
    mesh_functions,
    mesh_view_bindings::view,
    view_transformations::position_world_to_clip,
}

struct Plain {
    base: vec4<f32>,
    shine: vec4<f32>,
    to_sun: vec4<f32>,
    sun: vec4<f32>,
    fill: vec4<f32>,
    // Its fourth part is how thick it is, per metre.
    haze: vec4<f32>,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> plain: Plain;
@group(#{MATERIAL_BIND_GROUP}) @binding(1) var tile: texture_2d<f32>;
@group(#{MATERIAL_BIND_GROUP}) @binding(2) var tile_sampler: sampler;

struct Corner {
    @builtin(position) position: vec4<f32>,
    // Light that the texture takes part of, and opacity.
    @location(0) colour: vec4<f32>,
    // Light that comes whatever the texture is.
    @location(1) over: vec3<f32>,
#ifdef TILED
    @location(2) uv: vec2<f32>,
#endif
}

@vertex
fn vertex(in: Vertex) -> Corner {
    var out: Corner;
    let world_from_local = mesh_functions::get_world_from_local(in.instance_index);
    let at = mesh_functions::mesh_position_local_to_world(world_from_local, vec4(in.position, 1.0));
    out.position = position_world_to_clip(at.xyz);
    let to_eye = view.world_position.xyz - at.xyz;

    var colour = plain.base;
#ifdef VERTEX_COLORS
    colour *= in.color;
#endif
    var over = vec3(0.0);

#ifdef LIT
    // What is scaled unevenly are marks, on which the light is not read.
    var normal = normalize((world_from_local * vec4(in.normal, 0.0)).xyz);
#ifdef TWO_SIDED
    normal *= sign(dot(normal, to_eye));
#endif
    let light = plain.fill.rgb + plain.sun.rgb * saturate(dot(normal, plain.to_sun.xyz));
    colour = vec4(colour.rgb * light * view.exposure, colour.a);
#endif

#ifdef HAZED
    let thick = plain.haze.a * length(to_eye);
    let haze = 1.0 - exp(-thick * thick);
    colour = vec4(colour.rgb * (1.0 - haze), colour.a);
    over = plain.haze.rgb * haze;
#endif

    out.colour = colour;
    out.over = over;
#ifdef TILED
    out.uv = in.uv;
#endif
    return out;
}

@fragment
fn fragment(in: Corner) -> @location(0) vec4<f32> {
    var colour = in.colour;
#ifdef TILED
    let texel = textureSample(tile, tile_sampler, in.uv);
#ifdef TILE_SHINES
    colour = vec4(colour.rgb + plain.shine.rgb * texel.rgb, colour.a);
#else
    colour *= texel;
#endif
#endif
    return vec4(ACESFitted(colour.rgb + in.over), colour.a);
}
