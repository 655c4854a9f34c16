// The eye: it goes round a point of the net, x along the net, z up.

/** Angles of the eye around and above the net. @type {Record<string, [number, number]>} */
const VIEWS = { quarter: [-2.3, 0.3], side: [-Math.PI / 2, 0.06], mouth: [-Math.PI, 0], tail: [-0.8, 0.3] };
const OPENING = 0.17; // tangent of half the angle of the narrower side of the view

class Camera {
  yaw = 0; pitch = 0; distance = 1;
  middle = [0, 0, 0];
  width = 1; height = 1; // of the view [CSS pixels]

  /** Unit vectors to the right, up and toward the eye. */
  axes() {
    const [cy, sy, cp, sp] = [this.yaw, this.pitch].flatMap((angle) => [Math.cos(angle), Math.sin(angle)]);
    return [[-sy, cy, 0], [-sp * cy, -sp * sy, cp], [cp * cy, cp * sy, sp]];
  }

  /** Tangents of half the view across and up. */
  reach() {
    const narrow = Math.min(this.width, this.height);
    return [OPENING * this.width / narrow, OPENING * this.height / narrow];
  }

  /** A point as the eye sees it: right, up, and toward it (below 0 before it). @param {number[]} point */
  see(point) {
    const from = point.map((value, n) => value - this.middle[n]);
    const [x, y, z] = this.axes().map((axis) => axis[0] * from[0] + axis[1] * from[1] + axis[2] * from[2]);
    return [x, y, z - this.distance];
  }

  /** Where a point lies in the view [CSS pixels]. @param {number[]} point */
  pixel(point) {
    const [[x, y, z], [across, up]] = [this.see(point), this.reach()];
    return [this.width / 2 * (1 - x / z / across), this.height / 2 * (1 + y / z / up)];
  }

  /** From a side, all points in view. @param {string} name @param {number[][]} points @param {number} more of bow */
  fit(name, points, more) {
    [this.yaw, this.pitch] = VIEWS[name];
    [this.middle, this.distance] = [[0, 0, 0], 0];
    const seen = points.map(([x, y, z, along = 0, out = 0]) => (
      this.see([x + more * along, y * (1 + more * out), z * (1 + more * out)])));
    // Across and up, the eye stands where the tightest pair of sides meets; the farther place holds both.
    const [level, steep] = this.reach().map((tangent, axis) => {
      const slope = tangent * 0.92;
      const high = Math.max(...seen.map((p) => p[axis] + p[2] * slope));
      const low = Math.min(...seen.map((p) => p[axis] - p[2] * slope));
      return { away: (high - low) / 2 / slope, centre: (high + low) / 2 };
    });
    const depth = seen.reduce((sum, p) => sum + p[2], 0) / seen.length;
    const [right, up, toward] = this.axes();
    this.middle = [0, 1, 2].map((n) => right[n] * level.centre + up[n] * steep.centre + toward[n] * depth);
    this.distance = Math.max(level.away, steep.away) - depth;
  }

  /** @param {number} across @param {number} over turned by so much [radians] */
  turn(across, over) {
    this.yaw += across;
    this.pitch = Math.min(Math.max(this.pitch + over, -1.5), 1.5);
  }

  /** @param {number} across @param {number} down moved by so much [CSS pixels] */
  shift(across, down) {
    const pixel = this.distance * this.reach()[1] * 2 / this.height;
    const [right, up] = this.axes();
    this.middle = this.middle.map((value, n) => value - pixel * (right[n] * across - up[n] * down));
  }

  /** @param {number} factor nearer above 1 */
  zoom(factor) {
    this.distance = Math.min(Math.max(this.distance / factor, 0.05), 100);
  }
}
