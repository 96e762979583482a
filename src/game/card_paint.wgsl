// Cards, plates and all that egui draws: the colour of a shape's corners, covered as far as a glyph covers. Colours stay as files
// write them. The one picture that egui is given is that of its glyphs, which are white: how far they cover says all.
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
    @location(0) colour: vec4<f32>,
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

@vertex
fn vs_main(corner: Corner) -> Between {
    let at = corner.position * window.scale + window.translation;
    return Between(vec4<f32>(at, 0.0, 1.0), corner.color, corner.uv);
}

@fragment
fn fs_main(between: Between) -> @location(0) vec4<f32> {
    // The corner of the picture, white all over, stands for all that has no glyph: most of what is painted.
    if (all(between.uv == vec2<f32>(0.0))) {
        return between.colour;
    }
#ifdef BINDLESS
    return textureSampleLevel(pictures[which.offset], samplers[which.offset], between.uv, 0.0).a * between.colour;
#else
    return textureSampleLevel(picture, picture_sampler, between.uv, 0.0).a * between.colour;
#endif
}
