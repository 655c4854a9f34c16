// The row of hoops as a table; throats, spares and the like one by one.

const FIRST = ["diameter", "circumference", "rod", "material"]; // of a hoop, always in sight

/** @param {string} deed @param {string} label @param {string} words @param {string} what it is done to */
const deed = (deed, label, words, what) => made("button", { type: "button", "data-deed": deed, "data-what": what, "aria-label": label }, words);

/** @param {any} values */
function hoopTable(values) {
  const [node, deep] = [plain(plain(schema.properties.hoop).items), values.sections?.deep ?? []];
  const section = plain(plain(schema.properties.sections).properties.deep);
  const hoops = (values.hoop ?? []).map((/** @type {any} */ hoop, /** @type {number} */ index) => {
    const [number, key] = [index + 1, `hoop.${index + 1}`];
    const row = made("div", { class: "row" });
    for (const name of FIRST) row.append(boxOf(`${key}.${name}`, plain(node.properties[name]), hoop[name], HOOP_WORDS[name] ?? name));
    if (index < values.hoop.length - 1) {
      row.append(boxOf(`sections.deep.${number}`, { ...plain(section.items), description: section.description }, deep[index], "meshes to next"));
    }
    const more = Object.keys(node.properties).filter((name) => !FIRST.includes(name) && name !== "repeat");
    const used = more.filter((name) => hoop[name] !== undefined);
    const rest = made("div", { class: "row" });
    for (const name of more) rest.append(boxOf(`${key}.${name}`, plain(node.properties[name]), hoop[name]));
    const folded = made("details", { "data-fold": key, ...(used.length ? { open: "" } : {}) }, made("summary", {}, `More of hoop ${number}`), rest);
    const deeds = made("div", { class: "deeds" },
      deed("copy", `Another hoop like hoop ${number} behind it`, "Copy", key), deed("up", `Move hoop ${number} toward the mouth`, "To mouth", key),
      deed("down", `Move hoop ${number} toward the tail`, "To tail", key), deed("away", `Take hoop ${number} away`, "Take away", key));
    return made("fieldset", { class: "hoop", "data-place": key }, made("legend", {}, `Hoop ${number}`), row, deeds, folded);
  });
  return [...hoops, made("div", { class: "deeds" }, deed("about", "Turn the row of hoops about, tail to mouth", "Turn the row about", "hoop.1"))];
}

const HOOP_WORDS = /** @type {Record<string, string>} */ ({ diameter: "across", circumference: "or around", rod: "rod" });

/** Throats, spares and the like: each with its boxes, and an empty one to begin another. @param {string} key @param {any} values */
function listOf(key, values) {
  const node = plain(plain(schema.properties[key]).items);
  const word = key === "pile" ? boxForm.dataset.spare ?? "spare" : words(key);
  const name = word[0].toUpperCase() + word.slice(1);
  const tables = (values[key] ?? []).map((/** @type {any} */ table, /** @type {number} */ index) => {
    const place = `${key}.${index + 1}`;
    return made("fieldset", { "data-place": place }, made("legend", {}, `${name} ${index + 1}`), ...boxesOf(place, node, table),
      made("div", { class: "deeds" }, deed("drop", `Take ${name.toLowerCase()} ${index + 1} away`, "Take away", place)));
  });
  const next = `${key}.${tables.length + 1}`;
  const needed = [...(node.oneOf ?? []).flatMap((/** @type {Node_} */ one) => one.required), ...(node.required ?? [])];
  const first = needed.length ? needed : Object.keys(node.properties);
  const row = made("div", { class: "row" });
  for (const one of first) row.append(boxOf(`${next}.${one}`, plain(node.properties[one]), undefined));
  return [...tables, made("details", { "data-fold": next }, made("summary", {}, `Another ${name.toLowerCase()}`), made("fieldset", { "data-place": next }, made("legend", {}, `${name} ${tables.length + 1}`), row))];
}
