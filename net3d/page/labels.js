// Dimensions written over the view as text: each moves until it covers no other and no hoop's rim.

const CELL = 5; // pixels; what is taken is kept in a grid of so large cells
const NEAR = 16; // pixels; a text that is farther from its place is tied to it by a line
const RIM_STEP = 4; // pixels between the points of a rim that are marked in the grid

/** Ways to move a text aside, nearest first; the wrong way up counts double. @param {number} side up is below 0 */
const moves = (side) => {
  const ways = /** @type {[number, number, number][]} */ ([]);
  for (let x = -300; x <= 300; x += 10) {
    for (let y = -240; y <= 240; y += 6) ways.push([x, y, Math.hypot(x, y) * (y * side < 0 ? 2 : 1)]);
  }
  return ways.sort((one, other) => one[2] - other[2]);
};
const ABOVE = moves(-1), BELOW = moves(1);

class Labels {
  /** @type {(Label & {span: HTMLElement, width: number, height: number})[]} */
  written = [];
  lines = document.createElementNS("http://www.w3.org/2000/svg", "path");
  grid = new Uint8Array(0);
  across = 0; down = 0; // cells

  /** @param {HTMLElement} layer @param {Label[]} labels */
  write(layer, labels) {
    layer.replaceChildren();
    layer.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "svg")).append(this.lines);
    this.written = [...labels].sort((one, other) => one.rank - other.rank).map((label) => {
      const span = layer.appendChild(document.createElement("span"));
      if (label.mark) span.appendChild(document.createElement("b")).textContent = label.mark;
      span.append(label.text);
      const { width, height } = span.getBoundingClientRect();
      return { ...label, span, width, height };
    });
  }

  /** @param {Camera} camera @param {Scene} scene @param {HTMLElement[]} over the view @param {number} more of a bow */
  place(camera, scene, over, more, shown = true) {
    [this.across, this.down] = [Math.ceil(camera.width / CELL), Math.ceil(camera.height / CELL)];
    this.grid = new Uint8Array(this.across * this.down);
    for (const group of scene.groups) if (group.rim) this.markRim(camera, scene, group.rim, more);
    for (const { offsetLeft: left, offsetTop: top, offsetWidth: width, offsetHeight: height } of over) {
      if (width && height) this.take(left, top, left + width, top + height);
    }
    const lines = [];
    for (const { span, mark, at: told, width, height } of this.written) {
      const at = mark && more ? this.onRim(scene, mark, told, more) : told;
      const [x, y] = camera.pixel(at);
      const inView = x > 0 && y > 0 && x < camera.width && y < camera.height && camera.see(at)[2] < 0;
      span.style.visibility = shown && inView ? "visible" : "hidden";
      if (!shown || !inView) continue;
      const middle = mark ? y - height / 2 - 4 : y; // a hoop's text stands over its rim
      const box = (/** @type {number[]} */ [aside, over]) => (
        [x + aside - width / 2, middle + over - height / 2, x + aside + width / 2, middle + over + height / 2]);
      const ways = mark ? ABOVE : BELOW;
      const [left, top, right, foot] = box(ways.find((way) => this.free(box(way))) ?? ways[0]);
      this.take(left, top, right, foot);
      span.style.transform = `translate(${left}px, ${top}px)`;
      const [toX, toY] = [Math.min(Math.max(x, left), right), Math.min(Math.max(y, top), foot)];
      if (Math.hypot(toX - x, toY - y) > NEAR) lines.push(`M${x} ${y}L${toX} ${toY}`);
    }
    this.lines.setAttribute("d", lines.join(""));
  }

  /**
   * Where the point of a hoop's rim that is nearest to a place is drawn.
   * @param {Scene} scene @param {string} number @param {number[]} at @param {number} more of a bow
   */
  onRim(scene, number, at, more) {
    const rim = scene.groups.find(({ part }) => part === `hoop-${number}`)?.rim ?? [0, 1];
    const away = (/** @type {number} */ n) => (
      Math.hypot(...placeOf(scene, n, 0).map((value, way) => value - at[way])));
    const points = Array.from({ length: rim[1] }, (_, n) => rim[0] + n);
    return placeOf(scene, points.reduce((one, other) => (away(other) < away(one) ? other : one)), more);
  }

  /**
   * @param {Camera} camera @param {Scene} scene @param {number[]} rim its first point, and how many
   * @param {number} more of a bow
   */
  markRim(camera, scene, [first, count], more) {
    const points = Array.from({ length: count + 1 }, (_, n) => (
      camera.pixel(placeOf(scene, first + n % count, more))));
    for (let n = 0; n < count; n++) {
      const [[x, y], [toX, toY]] = [points[n], points[n + 1]];
      const steps = Math.min(Math.ceil(Math.hypot(toX - x, toY - y) / RIM_STEP), 400);
      for (let step = 0; step < steps; step++) {
        this.take(x + (toX - x) * step / steps, y + (toY - y) * step / steps);
      }
    }
  }

  /** @param {number} left @param {number} top */
  take(left, top, right = left, foot = top) {
    const [first, last] = [Math.max(Math.floor(left / CELL), 0), Math.min(Math.floor(right / CELL), this.across - 1)];
    const end = Math.min(Math.floor(foot / CELL), this.down - 1);
    for (let row = Math.max(Math.floor(top / CELL), 0); row <= end; row++) {
      for (let cell = first; cell <= last; cell++) this.grid[row * this.across + cell] = 1;
    }
  }

  /** Whether a box lies in the view and over nothing. @param {number[]} box */
  free([left, top, right, foot]) {
    if (left < 0 || top < 0 || right > this.across * CELL - CELL || foot > this.down * CELL - CELL) return false;
    for (let row = Math.floor(top / CELL); row <= Math.floor(foot / CELL); row++) {
      for (let cell = Math.floor(left / CELL); cell <= Math.floor(right / CELL); cell++) {
        if (this.grid[row * this.across + cell]) return false;
      }
    }
    return true;
  }
}
