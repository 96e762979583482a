// A picture on its way into the window: as it is, or from what files say to linear light, which the window encodes again.

#import bevy_core_pipeline::fullscreen_vertex_shader::FullscreenVertexOutput

@group(0) @binding(0) var picture: texture_2d<f32>;

#ifdef SRGB_TO_LINEAR
// IEC 61966-2-1 has ((x + 0.055) / 1.055) ^ 2.4. The curve is a fit that is nowhere off by more than a nineteenth of a level; it
// starts with the highest power.
const CURVE = array<f32, 5>(-0.11681335, 0.52655152, 0.56034922, 0.02840858, 0.00104604);

fn light_of(file: vec3<f32>) -> vec3<f32> {
    let bright = (((CURVE[0] * file + CURVE[1]) * file + CURVE[2]) * file + CURVE[3]) * file + CURVE[4];
    return select(bright, file / 12.92, file < vec3<f32>(0.04045));
}
#endif

@fragment
fn fs_main(in: FullscreenVertexOutput) -> @location(0) vec4<f32> {
    let colour = textureLoad(picture, vec2<i32>(in.position.xy), 0);
#ifdef SRGB_TO_LINEAR
    return vec4<f32>(light_of(colour.rgb), colour.a);
#else
    return colour;
#endif
}
