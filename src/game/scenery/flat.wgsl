// A shape in the colours of its corners, each times one colour, on a plate that turns.

#import bevy_sprite::mesh2d_functions::{get_world_from_local, mesh2d_position_local_to_clip}

struct Plate {
    // Middle, horizon and distance of the camera; 0 for no plate, 1 for a lid about its upper edge, 2 for doors.
    camera: vec4<f32>,
    // Hinge, sine and cosine of the rake; or both axes and the door; then how far the face lies inward.
    axis: vec4<f32>,
    // Sine and cosine of the angle.
    turn: vec4<f32>,
}

struct Paint {
    colour: vec4<f32>,
    plate: Plate,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> paint: Paint;

struct Corner {
    @builtin(instance_index) instance: u32,
    @location(0) position: vec3<f32>,
#ifdef VERTEX_COLORS
    @location(4) colour: vec4<f32>,
#endif
}

struct Painted {
    @builtin(position) position: vec4<f32>,
    @location(0) colour: vec4<f32>,
}

// Where a point of a drawing appears in the scene.
fn placed(drawn: vec2<f32>) -> vec2<f32> {
    let camera = paint.plate.camera;
    if camera.w < 0.5 {
        return drawn;
    }
    let distance = camera.z;
    let axis = paint.plate.axis;
    let inward = axis.w;
    let sine = paint.plate.turn.x;
    let cosine = paint.plate.turn.y;
    // Across from the middle, down from the horizon, and toward us from the hinge.
    var at: vec3<f32>;
    if camera.w < 1.5 {
        // Carried back onto the plate, which leans.
        let above = camera.y - drawn.y;
        let along = distance * (camera.y - axis.x - above) / (distance * axis.z - above * axis.y);
        let depth = distance - along * axis.y;
        at = vec3<f32>(
            (drawn.x - camera.x) * depth / distance,
            axis.x - camera.y + along * cosine + inward * sine,
            along * sine - inward * cosine,
        );
    } else {
        var left = drawn.x < camera.x;
        if abs(axis.z) > 0.5 {
            left = axis.z < 0.0;
        }
        let pivot = select(axis.y, axis.x, left);
        let way = select(-1.0, 1.0, left);
        let along = (drawn.x - pivot) * way;
        at = vec3<f32>(
            pivot - camera.x + (along * cosine + inward * sine) * way,
            drawn.y - camera.y,
            along * sine - inward * cosine,
        );
    }
    return camera.xy + at.xy * distance / (distance - at.z);
}

@vertex
fn vertex(corner: Corner) -> Painted {
    // Drawings have their y downwards, the scene upwards.
    let at = placed(corner.position.xy * vec2<f32>(1.0, -1.0)) * vec2<f32>(1.0, -1.0);
    var painted: Painted;
    painted.position = mesh2d_position_local_to_clip(
        get_world_from_local(corner.instance),
        vec4<f32>(at, corner.position.z, 1.0),
    );
#ifdef VERTEX_COLORS
    painted.colour = paint.colour * corner.colour;
#else
    painted.colour = paint.colour;
#endif
    return painted;
}

@fragment
fn fragment(painted: Painted) -> @location(0) vec4<f32> {
    return painted.colour;
}
