// What the server tells of the net: its shape, sizes and findings, each marked while it is older than the boxes.

const age = /** @type {HTMLElement} */ (document.getElementById("age"));
const found = /** @type {HTMLElement} */ (document.getElementById("found"));
const seen = { state: -1, shape: -1, whole: -1, fitted: false, broken: false }; // revisions
let tables = /** @type {Record<string, string>} */ ({}); // of the spec, by the parts that are typed in them

function tellAge() {
  const behind = [seen.shape < seen.state ? "shape" : "", seen.whole < seen.state ? "findings and river" : ""].filter(Boolean);
  age.textContent = behind.length ? `Older: ${behind.join(", ")}.${seen.broken ? "" : " Working it out."}` : "";
  document.body.classList.toggle("older-shape", seen.shape < seen.state);
  document.body.classList.toggle("older-whole", seen.whole < seen.state);
}

/** @param {any} told */
function showShape(told) {
  const off = inputs("#parts input:not(:checked)").map((input) => input.value);
  const parts = /** @type {HTMLElement} */ (document.getElementById("parts"));
  parts.replaceChildren(...told.switches.map((/** @type {string[]} */ [key, kind, name]) => {
    const tick = /** @type {HTMLInputElement} */ (made("input", { type: "checkbox", name: "part", value: key }));
    tick.checked = !off.includes(key);
    return made("label", {}, tick, made("i", { class: kind }), name);
  }));
  document.getElementById("bow")?.replaceChildren(...bowChoice(told.scene.bow, bow() + 1));
  document.title = told.title;
  /** @type {HTMLElement} */ (document.querySelector("h1")).textContent = told.title;
  document.getElementById("facts")?.replaceChildren(...told.facts.map((/** @type {string[]} */ [name, value]) => (
    made("div", {}, made("dt", {}, name), made("dd", {}, value)))));
  /** @type {HTMLElement} */ (document.getElementById("unit")).textContent = told.legend.unit;
  document.querySelector("#legend .ticks")?.replaceChildren(...told.legend.ticks.map((/** @type {string} */ tick) => made("span", {}, tick)));
  /** @type {HTMLElement} */ (document.getElementById("scene")).textContent = JSON.stringify(told.scene);
  scene = readScene(ticked("still"));
  tables = told.tables;
  show();
  if (!seen.fitted) document.dispatchEvent(new Event("change")); // the view is made to hold it
  seen.fitted = true;
}

/** How large the bow of the hoops is drawn, where they have one. @param {any} told @param {number} times as it was */
function bowChoice(told, times) {
  if (!told) return [];
  const choices = told.factors.map((/** @type {number} */ factor) => made("option", { value: String(factor), ...(factor === times ? { selected: "" } : {}) },
    `${told.name} drawn ${factor} times as large`));
  return [made("select", { "aria-label": "How large the bow of the hoops is drawn" }, made("option", { value: "1" }, "Shape as it is"), ...choices)];
}

/** The findings, each beside the boxes it is about. @param {any} told */
function showFindings(told) {
  document.querySelectorAll(".told").forEach((old) => old.remove());
  found.replaceChildren(made("p", { class: "count" }, `${count(told.findings, "fail")}, ${count(told.findings, "caution")}, ${told.fine} fine`));
  for (const finding of told.findings) {
    const place = document.querySelector(`form [data-place="${CSS.escape(finding.place)}"]`);
    for (const above of place ? [place.closest("details")] : []) above?.setAttribute("open", "");
    const body = made("div", {}, made("p", {}, finding.message));
    for (const remedy of finding.remedies) {
      body.append(made("button", { type: "button", class: "remedy", "data-changes": JSON.stringify(remedy.changes) }, remedy.words),
        ...remedy.also.map((/** @type {string} */ also) => made("small", {}, also)));
    }
    if (told.asked && !finding.remedies.length && finding.cause) body.append(made("small", {}, finding.cause));
    if (!told.asked) body.append(made("small", { class: "seeking" }, "Trying what helps."));
    const box = made("div", { class: `told finding ${finding.level}` }, made("strong", {}, finding.level), body);
    if (place) place.querySelector("legend, h2")?.after(box);
    else found.append(box);
    if (place) found.append(made("a", { class: "told", href: `#${place.id}` }, `${finding.level}: ${words(finding.place.replace(".", " "))}`));
  }
}

const count = (/** @type {any[]} */ findings, /** @type {string} */ level) => `${findings.filter((one) => one.level === level).length} ${level}`;

/** The table that what is under a point of the view is typed in: the nearest to the eye within a few pixels. @param {number} x @param {number} y */
function tableAt(x, y) {
  let [best, table] = [Infinity, ""];
  for (const group of scene.groups) {
    if (group.kind === "size") continue;
    const wide = group.rim ? 12 : 6;
    for (let bar = group.first; bar < group.first + group.count; bar++) {
      const place = 4 * scene.ends[4 * bar + 1];
      const point = [scene.places[place], scene.places[place + 1], scene.places[place + 2]];
      const [toX, toY] = camera.pixel(point);
      const away = Math.hypot(toX - x, toY - y);
      if (away > wide) continue;
      const rank = away - camera.see(point)[2] * 10 - (group.rim ? 40 : 0);
      if (rank < best) [best, table] = [rank, tables[group.part] ?? ""];
    }
  }
  return table;
}
