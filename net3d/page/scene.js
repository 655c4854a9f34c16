// The scene that the page carries: knots, bars and rings unpacked into what the graphics card takes.

/**
 * @typedef {{part: string, switch: string, kind: string, twine: boolean, body: boolean, shine: number}} About
 * @typedef {About & {radius: number, first: number, count: number, closed: boolean, rim?: number[]}} Group
 * @typedef {{text: string, at: number[], rank: number, mark: string}} Label
 * @typedef {{steps: number[], leans: string}} Bow
 * @typedef {{groups: Group[], labels: Label[], frame: number[][], written: number, water: string, bow?: Bow}} Shared
 * @typedef {{origin: number[], step: number, knots: string, wide: boolean, bars: string, pulls: string}} Packed
 * @typedef {Packed & {still?: Shared & Packed}} Bytes
 * @typedef {Shared & {calm: boolean, places: Float32Array, ends: Uint32Array, pulls: Uint8Array}} Scene
 */

/** @param {string} text @returns {ArrayBuffer} */
const unpack = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;

/** Where a knot is drawn. @param {Scene} scene @param {number} n @param {number} more of a bow than there is */
function placeOf({ places, bow }, n, more) {
  const [x, y, z, lean] = places.slice(4 * n, 4 * n + 4);
  if (!bow || !more) return [x, y, z];
  const wide = 1 + more * bow.steps[1] * (lean % 256 - 128) / Math.max(Math.hypot(y, z), 1e-6);
  return [x + more * bow.steps[0] * (Math.floor(lean / 256) - 128), y * wide, z * wide];
}

/** The scene that the page carries. @param {boolean} calm in still water */
const readScene = (calm) => unpackScene(JSON.parse(document.getElementById("scene")?.textContent ?? ""), calm);

/**
 * Places of the knots, four numbers each, the last how far it departs for a hoop's bow; four knot numbers a bar:
 * its ends, and outside them the knots that they run on from and to. A straight bar's own ends stand for those.
 * @param {Shared & Bytes} told @param {boolean} calm in still water @returns {Scene}
 */
function unpackScene(told, calm) {
  const packed = calm ? { ...told, ...told.still } : told;
  const steps = new Uint16Array(unpack(packed.knots));
  const places = new Float32Array(steps.length / 3 * 4);
  steps.forEach((step, n) => {
    places[Math.floor(n / 3) * 4 + n % 3] = packed.origin[n % 3] + step * packed.step;
  });
  new Uint16Array(unpack(packed.bow?.leans ?? "")).forEach((lean, n) => { places[n * 4 + 3] = lean; });
  const bars = packed.wide ? new Uint32Array(unpack(packed.bars)) : new Uint16Array(unpack(packed.bars));
  const ends = /** @type {number[]} */ ([]);
  for (let n = 0; n < bars.length; n += 2) ends.push(bars[n], bars[n], bars[n + 1], bars[n + 1]);
  const groups = packed.groups.map((group) => {
    if (!group.closed) return group;
    const first = ends.length / 4;
    for (let n = 0; n < group.count; n++) {
      for (const on of [-1, 0, 1, 2]) ends.push(group.first + (n + on + group.count) % group.count);
    }
    return { ...group, first, rim: [group.first, group.count] };
  });
  const pulls = new Uint8Array(ends.length / 4);
  pulls.set(new Uint8Array(unpack(packed.pulls)));
  return { ...packed, calm, places, ends: new Uint32Array(ends), pulls, groups };
}
