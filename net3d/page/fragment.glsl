#version 300 es
// Paint or the colour of the tension, lit from over the left shoulder, paler with distance.
precision highp float;
uniform vec3 paint;
uniform vec3 paper;
uniform vec3 low;
uniform vec3 middling;
uniform vec3 high;
uniform vec3 slack;
uniform vec3 size;        // of twine that hangs at ease
uniform vec3 haze;        // distances between which it grows [m], and how thick it gets
uniform vec4 cut;         // what lies on the far side of this plane stays
uniform float tension;
uniform float shine;
in vec3 eye;
in vec3 normal;
in vec2 along;
in float pulled;
in float cover;
out vec4 colour;

vec3 ramp(float part) {
  return part < 0.5 ? mix(low, middling, part * 2.0) : mix(middling, high, part * 2.0 - 1.0);
}

void main() {
  if (dot(cut.xyz, eye) > cut.w) discard;
  bool loose = pulled > 1.018, ease = pulled > 1.01 && !loose;
  vec3 base = tension > 0.0 ? (loose ? slack : ease ? size : ramp(clamp(pulled, 0.0, 1.0))) : paint;
  if (tension > 0.0 && loose && fract(along.x * 4.0) > 0.6) base = mix(slack, paper, 0.75);
  vec3 toward = normalize(-eye);
  vec3 outward = normalize(mix(toward, normalize(normal), smoothstep(0.35, 1.0, cover)));
  vec3 light = normalize(vec3(-0.4, 0.65, 0.65));
  float lit = 0.5 + 0.5 * dot(outward, light);
  vec3 shaded = base * (0.55 + 0.6 * lit);
  shaded += shine * pow(max(dot(reflect(-light, outward), toward), 0.0), 24.0);
  float far = smoothstep(haze.x, haze.y, -eye.z);
  float ink = mix(0.35, 1.0, sqrt(cover)) * (1.0 - haze.z * far);
  colour = vec4(mix(paper, min(shaded, 1.0), ink), 1.0);
}
