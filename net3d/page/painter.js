// Draws a scene with WebGL2: one call a group of bars, nothing kept but its buffers.

const SIDES = 7; // of the half of a tube that faces the eye
const KNOT = 1.7; // radius of a knot, in radii of its twine
const KNOTS_FROM = 2.5; // pixels that twine must be wide before its knots are drawn
const ROW = 1024; // knots in a row of the texture that holds their places

const LIVELY = 20000; // bars that are drawn while the net turns, if it has more
const MOST_STEP = 15; // WebGL takes no step longer than 255 bytes

/** @typedef {{cut: boolean, tension: boolean, bow: number, moving: boolean, marked?: string,
 *  shown: (group: Group) => boolean}} Look */
class Painter {
  groups = /** @type {Group[]} */ ([]);
  frame = /** @type {number[][]} */ ([]); // points of the net and its sizes
  thinned = false;
  steps = [0, 0]; // of a bow along the net and outward

  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    const gl = canvas.getContext("webgl2", { antialias: true, alpha: false });
    if (!gl) throw new Error("no WebGL2 here");
    this.gl = gl;
    this.program = gl.createProgram();
    this.known = /** @type {Map<string, WebGLUniformLocation | null>} */ (new Map());
    this.buffers = [gl.createBuffer(), gl.createBuffer()];
    for (const name of ["vertex", "fragment"]) {
      const shader = gl.createShader(name === "vertex" ? gl.VERTEX_SHADER : gl.FRAGMENT_SHADER);
      if (!shader) throw new Error("no shaders here");
      gl.shaderSource(shader, (document.getElementById(name)?.textContent ?? "").trim());
      gl.compileShader(shader);
      gl.attachShader(this.program, shader);
    }
    ["ends", "pull"].forEach((name, place) => gl.bindAttribLocation(this.program, place, name));
    gl.linkProgram(this.program);
    gl.useProgram(this.program); // throws nothing, but draws nothing, where the shaders do not suit the card
    if (gl.getError()) throw new Error(gl.getProgramInfoLog(this.program) ?? "the net cannot be drawn here");
    gl.enable(gl.DEPTH_TEST);
    gl.bindTexture(gl.TEXTURE_2D, gl.createTexture());
    for (const way of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, way, gl.NEAREST);
  }

  /** Set a uniform of the shaders. @param {string} name @param {number[]} values */
  set(name, ...values) {
    const { gl, known } = this;
    if (!known.has(name)) known.set(name, gl.getUniformLocation(this.program, name));
    const place = known.get(name) ?? null;
    [gl.uniform1fv, gl.uniform2fv, gl.uniform3fv, gl.uniform4fv][values.length - 1].call(gl, place, values);
  }

  /** Give the card another scene. @param {Scene} scene */
  load(scene) {
    const { gl } = this;
    const rows = Math.ceil(scene.places.length / 4 / ROW);
    const texels = new Float32Array(rows * ROW * 4);
    texels.set(scene.places);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, ROW, rows, 0, gl.RGBA, gl.FLOAT, texels);
    [scene.ends, scene.pulls].forEach((data, place) => {
      gl.bindBuffer(gl.ARRAY_BUFFER, this.buffers[place]);
      gl.bufferData(gl.ARRAY_BUFFER, data, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribDivisor(place, 1);
    });
    [this.groups, this.frame, this.steps] = [scene.groups, scene.frame, scene.bow?.steps ?? [0, 0]];
  }

  /** @param {Camera} camera @param {Record<string, number[]>} colours @param {Look} look */
  draw(camera, colours, look) {
    const { gl } = this;
    const [right, up, toward] = camera.axes();
    const view = [0, 1, 2].flatMap((n) => [right[n], up[n], toward[n], 0]).concat(camera.see([0, 0, 0]), 1);
    const [across, high] = camera.reach();
    const [near, far] = [camera.distance / 50, camera.distance * 4 + 20];
    const depths = this.frame.map((point) => -camera.see(point)[2]);
    gl.viewport(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight);
    gl.clearColor(colours.paper[0], colours.paper[1], colours.paper[2], 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    for (const name of ["paper", "low", "middling", "high", "slack", "size"]) this.set(name, ...colours[name]);
    gl.uniformMatrix4fv(gl.getUniformLocation(this.program, "view"), false, view);
    this.set("lens", 1 / across, 1 / high, (far + near) / (near - far), 2 * far * near / (near - far));
    this.set("bow", ...this.steps.map((step) => step * look.bow));
    this.set("pixel", 2 * high / gl.drawingBufferHeight);
    const clear = Math.max(Math.min(...depths), camera.distance * 0.7);
    this.set("haze", clear, Math.max(...depths, clear * 1.5), look.tension ? 0.15 : 0.35);
    const shown = this.groups.filter(look.shown);
    const bars = shown.reduce((sum, group) => sum + group.count, 0);
    this.thinned = look.moving && bars > LIVELY;
    const every = this.thinned ? Math.min(Math.ceil(bars / LIVELY), MOST_STEP) : 1;
    for (const group of shown) {
      this.set("paint", ...colours[look.marked === group.part ? "high" : group.kind]);
      this.set("tension", Number(look.tension && group.twine));
      this.set("shine", group.shine);
      this.set("cut", ...(look.cut && group.body ? cutPlane(camera) : [0, 0, 0, 1]));
      const pixels = group.radius * gl.drawingBufferHeight / camera.distance / high;
      this.drawGroup(group, every === 1 && group.twine && pixels > KNOTS_FROM, group.twine ? every : 1);
    }
  }

  /** @param {Group} group @param {boolean} knotted @param {number} every so many bars one is drawn */
  drawGroup(group, knotted, every) {
    const { gl } = this;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.buffers[0]);
    gl.vertexAttribIPointer(0, 4, gl.UNSIGNED_INT, 16 * every, group.first * 16);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.buffers[1]);
    gl.vertexAttribPointer(1, 1, gl.UNSIGNED_BYTE, false, every, group.first);
    this.set("radius", group.radius);
    this.set("sides", SIDES);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 2 * (SIDES + 1), Math.ceil(group.count / every));
    if (!knotted) return;
    this.set("radius", group.radius * KNOT);
    this.set("sides", 0);
    gl.drawArraysInstanced(gl.TRIANGLE_FAN, 0, 10, group.count);
  }
}

/** The plane through the net's axis that faces the eye, in the eye's own axes. @param {Camera} camera */
function cutPlane(camera) {
  const [, y, z] = camera.axes()[2];
  const flat = Math.hypot(y, z);
  const normal = camera.axes().map((axis) => (axis[1] * y + axis[2] * z) / flat);
  return [...normal, camera.see([0, 0, 0]).reduce((sum, value, n) => sum + value * normal[n], 0)];
}
