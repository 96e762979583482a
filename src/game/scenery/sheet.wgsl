// A picture as it is: the pixel that lies there, and nothing between pixels.

#import bevy_sprite::mesh2d_vertex_output::VertexOutput

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var picture: texture_2d<f32>;

@fragment
fn fragment(shape: VertexOutput) -> @location(0) vec4<f32> {
    let size = vec2<f32>(textureDimensions(picture));
    return vec4<f32>(textureLoad(picture, vec2<i32>(shape.uv * size), 0).rgb, 1.0);
}
