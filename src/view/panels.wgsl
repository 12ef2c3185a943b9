// Panels on machines that draw by the processor, where six powers at every pixel cost more than the
// whole yard: curves that come within two steps of 255 of the one way, and five of the other.

struct Fit {
    scale: vec2<f32>,
    translation: vec2<f32>,
}

@group(0) @binding(0) var<uniform> fit: Fit;
@group(1) @binding(0) var picture: texture_2d<f32>;
@group(1) @binding(1) var picture_sampler: sampler;

struct Corner {
    @builtin(position) position: vec4<f32>,
    @location(0) colour: vec4<f32>,
    @location(1) uv: vec2<f32>,
}

@vertex
fn vs_main(
    @location(0) position: vec2<f32>,
    @location(1) uv: vec2<f32>,
    @location(2) colour: vec4<f32>,
) -> Corner {
    return Corner(vec4(position * fit.scale + fit.translation, 0.0, 1.0), colour, uv);
}

@fragment
fn fs_main(in: Corner) -> @location(0) vec4<f32> {
    let texel = textureSample(picture, picture_sampler, in.uv);
    // Colours are multiplied as they are stored, so that letters look right.
    let root = sqrt(texel.rgb);
    let stored = (1.2613 * root - 0.0628 * sqrt(root) - 0.1985 * texel.rgb) * in.colour.rgb;
    let linear = stored * (0.0448 + stored * (0.5695 + stored * 0.3857));
    return vec4(linear, texel.a * in.colour.a);
}
