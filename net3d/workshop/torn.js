// Bars that are torn, marked in the 3D view and written into the spec as a hole; and how each hole is mended.

const marks = document.createElementNS("http://www.w3.org/2000/svg", "path");
const marking = /** @type {HTMLInputElement} */ (document.getElementById("marking"));
const tearing = /** @type {HTMLElement} */ (document.getElementById("tearing"));
/** Knots at the ends of what is marked, by both numbers. @type {Map<string, number[]>} */
const torn = new Map();
let marked = -1; // the revision that they were marked in
const NETTING = ["body", "tail", "throat"]; // what may be torn
const REACH = 9; // pixels that a bar may be away from what is pointed at
const AT_KNOT = 0.25; // of a bar's length, from its end: so near the knot is meant

/** Whether a point is cut away. @param {Group} group @param {number[]} point */
function cutAway(group, point) {
  if (!ticked("cut") || !group.body) return false;
  const [x, y, z, far] = cutPlane(camera), eye = camera.see(point);
  return eye[0] * x + eye[1] * y + eye[2] * z > far;
}

/** The ends of every bar that may be torn and is shown. @returns {number[][]} */
function tearable() {
  const on = inputs("#parts input:checked").map((input) => input.value);
  return scene.groups.filter((group) => NETTING.includes(group.kind) && on.includes(group.switch)).flatMap((group) => (
    Array.from({ length: group.count }, (_, n) => [...scene.ends.slice(4 * (group.first + n) + 1, 4 * (group.first + n) + 3)])
      .filter((ends) => ends.every((end) => !cutAway(group, placeOf(scene, end, bow()))))));
}

/** What is pointed at: the nearest bar to the eye, or all bars at a knot. @param {number} x @param {number} y */
function pointedAt(x, y) {
  const bars = tearable();
  let [best, found] = [Infinity, /** @type {number[][]} */ ([])];
  for (const ends of bars) {
    const places = ends.map((end) => placeOf(scene, end, bow()));
    const depth = camera.see(places[0])[2];
    const [[ax, ay], [bx, by]] = places.map((place) => camera.pixel(place));
    const long = Math.hypot(bx - ax, by - ay);
    const along = long ? Math.min(Math.max(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long ** 2, 0), 1) : 0;
    const away = Math.hypot(ax + along * (bx - ax) - x, ay + along * (by - ay) - y);
    const rank = away - 30 * depth;
    if (depth > 0 || away > REACH || rank > best) continue;
    const knot = along < AT_KNOT ? ends[0] : along > 1 - AT_KNOT ? ends[1] : -1;
    [best, found] = [rank, knot < 0 ? [ends] : bars.filter((bar) => bar.includes(knot))];
  }
  return found;
}

/** @param {number} x @param {number} y */
function mark(x, y) {
  tellTorn();
  const found = pointedAt(x, y);
  const all = found.every((ends) => torn.has(ends.join()));
  for (const ends of found) all ? torn.delete(ends.join()) : torn.set(ends.join(), ends);
  tellTorn();
}

function tellTorn() {
  if (marked !== seen.shape) torn.clear(); // its knots may be others
  marked = seen.shape;
  const many = `${torn.size} ${torn.size === 1 ? "bar" : "bars"} marked.`;
  /** @type {HTMLElement} */ (tearing.querySelector("p")).textContent = torn.size ? many : "Click a bar of the netting, or a knot for all bars at it.";
  tearing.querySelectorAll("button").forEach((one) => { one.disabled = !torn.size; });
  tearing.hidden = !marking.checked;
  drawMarks();
}

function drawMarks() {
  const shown = marking.checked && marked === seen.shape ? [...torn.values()] : [];
  marks.setAttribute("d", shown.map((ends) => {
    const [a, b] = ends.map((end) => camera.pixel(placeOf(scene, end, bow())).map((one) => one.toFixed(1)));
    return `M${a}L${b}`;
  }).join(""));
}

/** How each hole is mended, beside its boxes. @param {any[]} mends */
function showMends(mends) {
  document.querySelectorAll(".mend").forEach((old) => old.remove());
  mends.forEach(({ facts = [], steps = [], message = "" }, index) => {
    const rows = facts.map((/** @type {string[]} */ [name, value]) => made("div", {}, made("dt", {}, name), made("dd", {}, value)));
    const deeds = steps.map((/** @type {string[]} */ [what, knots]) => made("li", {}, what, ...(knots ? [made("small", {}, knots)] : [])));
    document.getElementById(`place-hole.${index + 1}`)?.append(made("details", { class: "mend", "data-fold": `mend-${index + 1}` },
      made("summary", {}, `How hole ${index + 1} is mended`), ...(message ? [made("p", {}, message)] : [made("dl", {}, ...rows), made("ol", {}, ...deeds)])));
  });
}

document.getElementById("marks")?.append(marks);
stage.addEventListener("drawn", drawMarks);
marking.addEventListener("change", tellTorn);
canvas.addEventListener("click", (event) => {
  if (!marking.checked || turned) return;
  event.stopImmediatePropagation(); // boxes are not gone to meanwhile
  mark(event.offsetX, event.offsetY);
}, true);
document.getElementById("clear")?.addEventListener("click", () => {
  torn.clear();
  tellTorn();
});
document.getElementById("tear")?.addEventListener("click", async () => {
  const answer = await told("tear", { bars: [...torn.values()], revision: marked });
  if (!answer.problems) torn.clear();
  tellTorn();
});
on("shape", tellTorn);
on("whole", ({ mends }) => {
  tellTorn();
  showMends(mends);
});
