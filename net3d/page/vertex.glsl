#version 300 es
// A bar is a half tube turned toward the eye, drawn from the numbers of its knots alone; a knot is a fan.
precision highp float;
precision highp sampler2D;
uniform sampler2D places;
uniform mat4 view;
uniform vec4 lens;        // x and y over depth, then depth over depth
uniform float pixel;      // width of a pixel one metre away [m]
uniform float radius;     // [m]
uniform float sides;      // of the half tube; 0 for knots
uniform vec2 bow;         // added to a place for each step that it departs along the net, and outward [m]
const float THINNEST = 0.6; // half the width of the thinnest line [pixels]
in uvec4 ends;
in float pull;
out vec3 eye;
out vec3 normal;
out vec2 along;
out float pulled;
out float cover;

vec3 place(uint n) {
  vec4 told = texelFetch(places, ivec2(n & 1023u, n >> 10u), 0);
#ifdef BOWED
  float along = floor(told.w / 256.0);
  vec2 more = bow * (vec2(along, told.w - 256.0 * along) - 128.0);
  told.xyz = vec3(told.x + more.x, told.yz * (1.0 + more.y / max(length(told.yz), 1e-6)));
#endif
  return told.xyz;
}

void main() {
  bool far = (gl_VertexID & 1) == 1 && sides > 0.0;
  vec3 a = place(ends.y), b = place(ends.z);
  vec3 axis = mat3(view) * (far ? place(ends.w) - a : b - place(ends.x));
  vec3 middle = (view * vec4(far ? b : a, 1.0)).xyz;
  vec3 toward = normalize(-middle);
  float broad = max(radius, THINNEST * pixel * -middle.z);
  vec3 across = cross(sides > 0.0 ? axis : vec3(0.0, 1.0, 0.0), toward);
  across = normalize(across + vec3(1e-9, 0.0, 0.0));
  vec3 up = sides > 0.0 ? normalize(cross(across, axis + 1e-9)) : cross(toward, across);
  if (dot(up, toward) < 0.0) up = -up;
  if (sides > 0.0) {
    float angle = 3.14159265 * float(gl_VertexID >> 1) / sides;
    normal = across * cos(angle) + up * sin(angle);
  } else {
    float angle = 6.2831853 * float(gl_VertexID - 1) / 8.0;
    normal = gl_VertexID == 0 ? toward : across * cos(angle) + up * sin(angle);
  }
  eye = middle + normal * broad + (sides > 0.0 ? vec3(0.0) : toward * broad * 0.6); // over its own twine
  along = vec2(far ? 1.0 : 0.0, length(b - a));
  pulled = pull / 250.0;
  cover = radius > 0.0 ? min(radius / broad, 1.0) : 1.0;
  gl_Position = vec4(eye.xy * lens.xy, eye.z * lens.z + lens.w, -eye.z);
}
