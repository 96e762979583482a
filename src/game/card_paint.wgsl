// Cards, plates and all that egui draws. Colours become linear light at the corners of a shape, and what lies between is a product:
// the light of a glyph's edge times that of its colour, as light goes with a power of what a file says. Done anew for
// every pixel, with six powers each, this took a third of all time where there is no graphics card.
//
// Bindings and names are those that bevy_egui's pipeline asks for.

struct Window {
    scale: vec2<f32>,
    translation: vec2<f32>,
}

struct Corner {
    @location(0) position: vec2<f32>,
    @location(1) uv: vec2<f32>,
    @location(2) color: vec4<f32>,
}

struct Between {
    @builtin(position) position: vec4<f32>,
    @location(0) light: vec4<f32>,
    @location(1) uv: vec2<f32>,
}

@group(0) @binding(0) var<uniform> window: Window;

#ifdef BINDLESS
@group(1) @binding(0) var pictures: binding_array<texture_2d<f32>>;
@group(1) @binding(1) var samplers: binding_array<sampler>;

struct Which {
    offset: u32,
};
var<immediate> which: Which;
#else
@group(1) @binding(0) var picture: texture_2d<f32>;
@group(1) @binding(1) var picture_sampler: sampler;
#endif

// IEC 61966-2-1, from what a file says to linear light.
fn light_of(srgb: vec3<f32>) -> vec3<f32> {
    let dark = srgb / 12.92;
    let bright = pow((srgb + 0.055) / 1.055, vec3<f32>(2.4));
    return select(bright, dark, srgb < vec3<f32>(0.04045));
}

@vertex
fn vs_main(corner: Corner) -> Between {
    let at = corner.position * window.scale + window.translation;
    return Between(vec4<f32>(at, 0.0, 1.0), vec4<f32>(light_of(corner.color.rgb), corner.color.a), corner.uv);
}

@fragment
fn fs_main(between: Between) -> @location(0) vec4<f32> {
#ifdef BINDLESS
    return textureSample(pictures[which.offset], samplers[which.offset], between.uv) * between.light;
#else
    return textureSample(picture, picture_sampler, between.uv) * between.light;
#endif
}
