// The boxes of a page: made where others are needed, filled, sent, and told what is wrong with them.

const said = /** @type {HTMLElement} */ (document.getElementById("said"));
/** Texts that would not do, with the boxes they stand in: sent again with the next one. @type {Map<string, string>} */
const refused = new Map();
let form = ""; // which boxes there are
const fields = () => /** @type {HTMLInputElement[]} */ (Array.from(boxForm.querySelectorAll("[data-key]")));

/** The keys that have boxes, so that boxes are made anew only where others are needed. @param {any} value @returns {any} */
const outline = (value) => (value && typeof value === "object" && !Array.isArray(value)
  ? Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, outline(inner)]))
  : Array.isArray(value) && value.some((one) => typeof one === "object") ? value.map(outline) : 0);

function makeBoxes() {
  const open = new Map(Array.from(boxForm.querySelectorAll("details"), (one) => [one.dataset.fold, one.open]));
  const focused = document.activeElement?.id ?? "";
  const first = (boxForm.dataset.first ?? "").split(" ");
  const names = [...first, ...ORDER, ...Object.keys(schema.properties)].filter((name, place, all) => name in schema.properties && all.indexOf(name) === place);
  const plainOnes = names.filter((name) => !isTable(schema.properties[name]) && !isRow(schema.properties[name]) && name !== "twine");
  const general = made("div", { class: "row" }, ...plainOnes.map((name) => boxOf(name, plain(schema.properties[name]), values[name])));
  const groups = names.filter((name) => !plainOnes.includes(name)).map((name) => {
    const node = schema.properties[name];
    const inside = name === "hoop" ? hoopTable(values) : isRow(node) ? listOf(name, values)
      : name === "twine" ? ownNames(name, node, values[name]) : boxesOf(name, node, values[name]);
    const heading = boxForm.dataset[name] ?? HEADINGS[name] ?? name[0].toUpperCase() + words(name).slice(1);
    const about = made("p", { class: "about" }, name === "hoop" ? "" : node.description ?? "");
    const isOpen = boxForm.dataset.first ? first.includes(name) : OPEN.includes(name);
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

/** @param {any} typed what is typed, as the server has it */
function showValues(typed) {
  values = typed;
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

/** Tell what is wrong by its boxes; gives what has none. @param {Problem[]} problems */
function markProblems(problems) {
  boxForm.querySelectorAll(".wrong").forEach((place) => { place.textContent = ""; });
  const loose = problems.filter(({ key, message }) => {
    const field = document.getElementById(`box-${key}`);
    const place = document.getElementById(`box-${key}-wrong`);
    if (place) place.textContent = message;
    field?.closest("details")?.setAttribute("open", "");
    return !place;
  });
  for (const field of fields()) field.setAttribute("aria-invalid", String(Boolean(document.getElementById(`${field.id}-wrong`)?.textContent)));
  return loose;
}

/** @param {Problem[]} problems */
function showProblems(problems = []) {
  said.textContent = markProblems(problems).map(({ key, message }) => `${key} ${message}`.trim()).join(" ");
}

boxForm.addEventListener("submit", (event) => event.preventDefault());
boxForm.addEventListener("change", ({ target }) => {
  const field = /** @type {HTMLInputElement} */ (target);
  if (!field.dataset.key) return;
  if (field.value.trim() === field.dataset.typed && !refused.has(field.dataset.key)) return;
  refused.set(field.dataset.key, field.value);
  sendBoxes(Object.fromEntries(refused));
});
