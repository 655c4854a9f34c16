// The boxes, made from the spec's own schema: a key that is new to the spec has its box by itself.

/** @typedef {Record<string, any>} Node_ a part of the schema */
const schema = JSON.parse(document.getElementById("schema")?.textContent ?? "{}");
let values = /** @type {any} */ (null); // what is typed, as the server has it
const boxForm = /** @type {HTMLFormElement} */ (document.getElementById("form"));

// A maker's order; what is not named here follows.
const ORDER = ["hoop", "sections", "netting", "throat", "tail", "rigging", "fish", "water", "anchor", "limits",
  "prices", "quote", "stock", "lacing", "hole", "built", "tolerances", "marking", "statics", "pile", "twine"];
const OPEN = ["hoop", "netting", "throat", "tail", "rigging"]; // the others are folded until they are needed
const HEADINGS = /** @type {Record<string, string>} */ ({ hoop: "Hoops, mouth first", throat: "Throats",
  sections: "Between the hoops", water: "River", pile: "Spare hoops", hole: "Holes", twine: "Twines of your own" });

/** @param {Node_} node @returns {Node_} */
const plain = (node) => (node.$ref ? { ...schema.$defs[node.$ref.split("/").pop()], ...node } : node);
const words = (/** @type {string} */ key) => key.replaceAll("_", " ");
const within = (/** @type {string} */ above, /** @type {string | number} */ key) => (above ? `${above}.${key}` : String(key));

/** What a value looks like in its box, as it was typed. @param {any} value @returns {string} */
function shownAs(value) {
  if (value === undefined || value === null) return "";
  const part = (/** @type {any} */ one) => (Array.isArray(one) ? one.join(" x ") : shownAs(one)); // pairs
  return Array.isArray(value) ? value.map(part).join(", ") : String(value);
}

/** Words for a box that is left at its default. @param {Node_} node */
function pale(node) {
  if (node.default !== undefined && !Array.isArray(node.default)) return shownAs(node.default);
  const sizes = (node.anyOf ?? []).filter((/** @type {Node_} */ way) => way.pattern && way.examples);
  const examples = sizes.flatMap((/** @type {Node_} */ way) => way.examples.join(", ").split(", "));
  const ours = /^(in|ft)$/.test(values?.units) ? /(in|ft|lbf?|ft\/s)$/ : /(m|kg|N|m\/s)$/;
  const example = examples.find((/** @type {string} */ one) => ours.test(one)) ?? examples[0];
  return example ? `such as ${example}` : "";
}

/** What a box may hold. @param {Node_} node */
function range(node) {
  const one = (node.anyOf ?? [node]).find((/** @type {Node_} */ way) => way.maximum !== undefined);
  return one ? ` From ${one.minimum} to ${one.maximum}.` : "";
}

/** One box with its name over it and what it means under it. @param {string} key @param {Node_} node @param {any} value */
function boxOf(key, node, value, name = words(key.split(".").pop() ?? "")) {
  const id = `box-${key}`;
  const about = { id, "data-key": key, "aria-describedby": `${id}-hint ${id}-wrong` };
  const choices = node.type === "boolean" ? ["true", "false"] : node.enum;
  let field = made("input", { ...about, placeholder: pale(node), spellcheck: "false" });
  if (choices) {
    const unset = node.default === undefined ? "" : shownAs(node.default);
    const say = (/** @type {any} */ choice) => ({ true: "yes", false: "no" })[String(choice)] ?? String(choice);
    field = made("select", about, made("option", { value: "" }, unset ? `${say(unset)}, as usual` : ""));
    for (const choice of choices) field.append(made("option", { value: String(choice) }, say(choice)));
  }
  const box = made("div", { class: "box" }, made("label", { for: id }, name), field,
    made("small", { id: `${id}-hint`, class: "hint" }, `${node.description ?? ""}${range(node)}`),
    made("small", { id: `${id}-wrong`, class: "wrong" }));
  fill(/** @type {HTMLInputElement} */ (field), value);
  return box;
}

/** @param {HTMLInputElement | HTMLSelectElement} field @param {any} value */
function fill(field, value) {
  const text = shownAs(value);
  if (field instanceof HTMLSelectElement && text && !Array.from(field.options).some((option) => option.value === text)) {
    field.append(made("option", { value: text }, text));
  }
  field.value = text;
  field.dataset.typed = text;
  field.classList.toggle("usual", !text);
}

/** Whether a part of the schema holds boxes of its own. @param {Node_} node */
const isTable = (node) => Boolean(plain(node).properties);

/** Whether a part of the schema is a row of such tables. @param {Node_} node */
const isRow = (node) => Boolean(plain(node).items) && isTable(plain(node).items);

/** All boxes of a table, tables in it after them. @param {string} key @param {Node_} node @param {any} values */
function boxesOf(key, node, values, /** @type {string[]} */ without = []) {
  const row = made("div", { class: "row" });
  const tables = /** @type {Node[]} */ ([]);
  for (const [name, inner] of Object.entries(plain(node).properties ?? {})) {
    const [part, value, place] = [plain(inner), values?.[name], within(key, name)];
    if (without.includes(name)) continue;
    if (isTable(part)) tables.push(made("fieldset", { "data-place": place }, made("legend", {}, words(name)), ...boxesOf(place, part, value)));
    else if (isRow(part)) tables.push(...rowsIn(place, part, value));
    else if (!part.additionalProperties) row.append(boxOf(place, part, value));
    else if (value) tables.push(made("fieldset", {}, made("legend", {}, words(name)), ...ownNames(place, part, value)));
  }
  return [row, ...tables];
}

/** A row of tables in a table: each with its boxes, and an empty one to begin another. @param {string} key @param {Node_} node @param {any} values */
function rowsIn(key, node, values) {
  return [...(values ?? []), undefined].map((value, index) => {
    const place = `${key}.${index + 1}`;
    return made("fieldset", { "data-place": place }, made("legend", {}, `${words(key.split(".").pop() ?? "")} ${index + 1}`), ...boxesOf(place, plain(node.items), value));
  });
}

/** Boxes of a table whose keys are the maker's own. @param {string} key @param {Node_} node @param {any} values */
function ownNames(key, node, values) {
  const inner = plain(node.additionalProperties);
  return Object.entries(values ?? {}).flatMap(([name, value]) => {
    const place = within(key, /^\w+$/.test(name) ? name : JSON.stringify(name));
    if (!isTable(inner)) return [boxOf(place, inner, value, name)];
    return [made("fieldset", { "data-place": place }, made("legend", {}, name), ...boxesOf(place, inner, value))];
  });
}
