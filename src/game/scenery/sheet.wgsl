// A picture as it is.

#import bevy_sprite::mesh2d_vertex_output::VertexOutput

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var picture: texture_2d<f32>;
@group(#{MATERIAL_BIND_GROUP}) @binding(1) var picture_sampler: sampler;

@fragment
fn fragment(shape: VertexOutput) -> @location(0) vec4<f32> {
    return vec4<f32>(textureSample(picture, picture_sampler, shape.uv).rgb, 1.0);
}
