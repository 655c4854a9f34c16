// The work page at work: what is typed is sent, what is told is shown.

const table = /** @type {HTMLElement} */ (document.getElementById("table"));
const said = /** @type {HTMLElement} */ (document.getElementById("said"));
const here = `/net/${encodeURIComponent(table.dataset.name ?? "")}`;
/** Texts that would not do, with the boxes they stand in: sent again with the next one. @type {Map<string, string>} */
const refused = new Map();
let form = ""; // which boxes there are
let waitingForAnswer = /** @type {Promise<any>} */ (Promise.resolve());

/** @type {(id: string) => HTMLButtonElement} */
const button = (id) => /** @type {HTMLButtonElement} */ (document.getElementById(id));
const fields = () => /** @type {HTMLInputElement[]} */ (Array.from(boxForm.querySelectorAll("[data-key]")));

/** The keys that have boxes, so that boxes are made anew only where others are needed. @param {any} value @returns {any} */
const outline = (value) => (value && typeof value === "object" && !Array.isArray(value)
  ? Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, outline(inner)]))
  : Array.isArray(value) && value.some((one) => typeof one === "object") ? value.map(outline) : 0);

function makeBoxes() {
  const open = new Map(Array.from(boxForm.querySelectorAll("details"), (one) => [one.dataset.fold, one.open]));
  const focused = document.activeElement?.id ?? "";
  const names = [...ORDER, ...Object.keys(schema.properties)].filter((name, place, all) => all.indexOf(name) === place);
  const plainOnes = names.filter((name) => !isTable(schema.properties[name]) && !isRow(schema.properties[name]) && name !== "twine");
  const general = made("div", { class: "row" }, ...plainOnes.map((name) => boxOf(name, plain(schema.properties[name]), values[name])));
  const groups = names.filter((name) => !plainOnes.includes(name)).map((name) => {
    const node = schema.properties[name];
    const inside = name === "hoop" ? hoopTable(values) : isRow(node) ? listOf(name, values)
      : name === "twine" ? ownNames(name, node, values[name]) : boxesOf(name, node, values[name]);
    const heading = HEADINGS[name] ?? name[0].toUpperCase() + words(name).slice(1);
    const about = made("p", { class: "about" }, name === "hoop" ? "" : node.description ?? "");
    const isOpen = OPEN.includes(name);
    return made("details", { id: `group-${name}`, "data-fold": name, ...(isOpen ? { open: "" } : {}) },
      made("summary", {}, heading), made("div", { "data-place": name }, made("h2", { class: "unseen" }, heading), about, ...inside));
  });
  boxForm.replaceChildren(general, ...groups);
  boxForm.querySelectorAll("[data-place]").forEach((place) => { place.id ||= `place-${place.getAttribute("data-place")}`; });
  for (const one of boxForm.querySelectorAll("details")) {
    if (open.has(one.dataset.fold)) one.open = Boolean(open.get(one.dataset.fold));
  }
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
}

/** The value of a key, hoops and throats counted from 1. @param {string} key */
function valueOf(key) {
  const steps = key.match(/"(?:[^"\\]|\\.)*"|[^.]+/g) ?? [];
  return steps.reduce((holder, step) => (Array.isArray(holder) ? holder[Number(step) - 1] : holder?.[step.startsWith('"') ? JSON.parse(step) : step]), values);
}

/** @param {any} state */
function showState(state) {
  [seen.state, seen.broken] = [state.revision, state.problems.length > 0];
  button("undo").disabled = !state.undo;
  button("redo").disabled = !state.redo;
  button("keep").disabled = state.kept;
  button("keep").textContent = state.kept ? "Kept" : "Keep";
  /** @type {HTMLElement} */ (document.getElementById("foreign")).hidden = !state.foreign;
  /** @type {HTMLElement} */ (document.getElementById("broken")).hidden = !state.problems.length;
  document.querySelector("#broken ul")?.replaceChildren(...state.problems.map((/** @type {string} */ one) => made("li", {}, one)));
  if (state.window && state.window !== pageWindow) said.textContent = "Changed in another window.";
  tellAge();
  if (!state.values) return;
  values = state.values;
  const next = JSON.stringify([outline(values), values.hoop?.length]);
  if (next !== form) makeBoxes();
  form = next;
  for (const field of fields()) {
    const key = field.dataset.key ?? "";
    const inHand = field === document.activeElement && field.value !== field.dataset.typed;
    const text = refused.get(key);
    if (text !== undefined) field.value = text;
    else if (!inHand) fill(field, valueOf(key));
  }
}

/** @param {Problem[]} problems */
function showProblems(problems = []) {
  boxForm.querySelectorAll(".wrong").forEach((place) => { place.textContent = ""; });
  const loose = problems.filter(({ key, message }) => {
    const field = document.getElementById(`box-${key}`);
    const place = document.getElementById(`box-${key}-wrong`);
    if (place) place.textContent = message;
    field?.closest("details")?.setAttribute("open", "");
    return !place;
  });
  for (const field of fields()) field.setAttribute("aria-invalid", String(Boolean(document.getElementById(`${field.id}-wrong`)?.textContent)));
  said.textContent = loose.map(({ key, message }) => `${key} ${message}`.trim()).join(" ");
}

/** Ask for something of this net, one after the other. @param {string} what @param {object} more */
function told(what, more = {}) {
  const asked = waitingForAnswer.then(async () => {
    const answer = await ask(`${here}/${what}`, more);
    if (!answer.problems) refused.clear();
    showProblems(answer.problems);
    if (answer.file) said.textContent = `Kept in ${answer.file}.`;
    return answer;
  });
  waitingForAnswer = asked;
  return asked;
}

boxForm.addEventListener("submit", (event) => event.preventDefault());
boxForm.addEventListener("change", ({ target }) => {
  const field = /** @type {HTMLInputElement} */ (target);
  if (!field.dataset.key) return;
  refused.delete(field.dataset.key);
  if (field.value.trim() === field.dataset.typed) {
    showProblems([...boxForm.querySelectorAll(".wrong")].filter((one) => one.textContent && one.id !== `${field.id}-wrong`)
      .map((one) => ({ key: one.id.slice(4, -6), message: one.textContent ?? "" })));
    return;
  }
  refused.set(field.dataset.key, field.value);
  told("change", { boxes: Object.fromEntries(refused) });
});
boxForm.addEventListener("focusin", ({ target }) => {
  const place = /** @type {HTMLElement} */ (target).closest("[data-place^='hoop.'], [data-place^='throat.']")?.getAttribute("data-place") ?? "";
  if (stage.dataset.marked === place.replace(".", "-")) return;
  stage.dataset.marked = place.replace(".", "-");
  document.dispatchEvent(new Event("change"));
});
document.addEventListener("click", ({ target }) => {
  const one = /** @type {HTMLElement} */ (target);
  const changes = one.dataset.changes;
  if (changes) told("remedy", { changes: JSON.parse(changes) });
  if (one.dataset.deed === "drop") told("remedy", { changes: { [one.dataset.what ?? ""]: null } });
  else if (one.dataset.deed) told("row", { deed: one.dataset.deed, hoop: Number(one.dataset.what?.split(".")[1]) });
  if (["undo", "redo", "keep", "file"].includes(one.id)) told(one.id);
});
document.addEventListener("keydown", (event) => {
  if (!event.ctrlKey && !event.metaKey) return;
  const field = /** @type {HTMLInputElement} */ (event.target);
  const typing = field.dataset?.key ? field.value !== field.dataset.typed : field.form?.id === "log"; // then the keys are the box's own
  const what = { s: "keep", z: event.shiftKey ? "redo" : "undo", y: "redo" }[event.key.toLowerCase()];
  if (!what || (typing && what !== "keep")) return;
  event.preventDefault();
  if (typing) field.blur(); // what stands in the box is sent first
  told(what);
});

let turned = false; // a click that ends a turn chooses nothing
canvas.addEventListener("pointerdown", () => { turned = false; });
canvas.addEventListener("pointermove", ({ buttons, movementX, movementY }) => { turned ||= buttons > 0 && Math.hypot(movementX, movementY) > 1; });
canvas.addEventListener("click", ({ offsetX, offsetY }) => {
  if (turned) return;
  const table = tableAt(offsetX, offsetY);
  const place = table && document.getElementById(`place-${table}`);
  if (!place) return;
  for (let above = place.closest("details"); above; above = above.parentElement?.closest("details") ?? null) above.open = true;
  place.scrollIntoView({ block: "nearest" });
  /** @type {HTMLElement | null} */ (place.querySelector("[data-key]"))?.focus();
});

const other = /** @type {HTMLSelectElement} */ (document.getElementById("other"));
other.addEventListener("change", async () => {
  const result = /** @type {HTMLElement} */ (document.getElementById("beside"));
  result.textContent = other.value ? "Working both out." : "";
  if (!other.value) return;
  const answer = await fetch(`${here}/beside/${encodeURIComponent(other.value)}`);
  if (!answer.ok) { result.textContent = await answer.text(); return; }
  const { title, keys, comes } = await answer.json();
  const rows = (/** @type {string} */ heading, /** @type {string[][]} */ lines) => made("table", {}, made("caption", {}, heading),
    made("thead", {}, made("tr", {}, ...["", "this net", title].map((name) => made("th", { scope: "col" }, name)))),
    made("tbody", {}, ...lines.map(([name, mine, yours]) => made("tr", {}, made("th", { scope: "row" }, name), made("td", { class: "words" }, mine), made("td", { class: "words" }, yours)))));
  result.replaceChildren(...(keys.length ? [rows("What differs", keys), rows("What comes of it", comes)] : ["They say the same."]));
});
for (const link of document.querySelectorAll(".take")) {
  link.addEventListener("click", async (event) => {
    event.preventDefault();
    const name = link.textContent ?? "";
    link.classList.add("making");
    said.textContent = `Making ${name}.`;
    const answer = await fetch(/** @type {HTMLAnchorElement} */ (link).href);
    said.textContent = answer.ok ? `${name} is made.` : await answer.text();
    link.classList.remove("making");
    if (!answer.ok) return;
    const url = URL.createObjectURL(await answer.blob());
    made("a", { href: url, download: link.getAttribute("download") ?? name }).click();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
  });
}

const news = new EventSource(`${here}/news`);
/** @param {string} kind @param {(told: any, revision: number) => void} show */
const on = (kind, show) => news.addEventListener(kind, (event) => {
  const told = JSON.parse(/** @type {MessageEvent} */ (event).data);
  show(told.told ?? told, told.revision);
  tellAge();
});
on("state", showState);
on("shape", (told, revision) => {
  if (revision <= seen.whole) return;
  seen.shape = revision;
  showShape(told);
});
on("whole", (told, revision) => {
  [seen.shape, seen.whole] = [revision, revision];
  showShape(told);
  showFindings(told);
});
on("advice", showFindings);
on("failed", (told) => { said.textContent = told.message; });
news.onerror = () => { said.textContent = "net3d does not answer. Start it again: your draft is kept."; };
