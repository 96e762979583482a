// A shape in the colours of its corners, each times one colour.

#import bevy_sprite::mesh2d_vertex_output::VertexOutput

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> colour: vec4<f32>;

@fragment
fn fragment(shape: VertexOutput) -> @location(0) vec4<f32> {
#ifdef VERTEX_COLORS
    return colour * shape.color;
#else
    return colour;
#endif
}
