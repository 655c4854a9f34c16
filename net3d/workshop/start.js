// The start page at work: a new net, from the starter, a copy, or tapes around hoops on the floor.

const form = /** @type {HTMLFormElement} */ (document.getElementById("new"));
const tapes = /** @type {HTMLFieldSetElement} */ (document.getElementById("tapes"));
const wrong = /** @type {HTMLElement} */ (document.getElementById("wrong"));
const rows = /** @type {HTMLElement} */ (tapes.querySelector("div"));

function nextTape() {
  const input = /** @type {HTMLInputElement} */ (made("input", { maxlength: "20" }));
  rows.append(made("label", { class: "box" }, made("span", {}, `Hoop ${rows.children.length + 1}`), input));
  return input;
}

form.copy.addEventListener("change", () => {
  tapes.hidden = form.copy.value !== "*";
  if (!tapes.hidden && !rows.children.length) nextTape();
});
tapes.addEventListener("keydown", (event) => {
  if (event.key !== "Enter") return;
  event.preventDefault();
  const all = Array.from(rows.querySelectorAll("input"));
  const next = all[all.indexOf(/** @type {HTMLInputElement} */ (event.target)) + 1];
  (next ?? nextTape()).focus();
});
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const from = form.copy.value;
  const read = from === "*" ? Array.from(rows.querySelectorAll("input"), (input) => input.value) : [];
  const answer = await ask("/new", { title: form.called.value, copy: from.startsWith("=") ? from.slice(1) : "", tapes: read });
  wrong.textContent = (answer.problems ?? []).map((/** @type {Problem} */ one) => `${one.key} ${one.message}`.trim()).join(" ");
  if (answer.name) location.href = `/net/${encodeURIComponent(answer.name)}`;
});

/** Name and sizes under the pictures, one after the other. */
async function tellSizes() {
  for (const place of document.querySelectorAll("[data-name]")) {
    const answer = await fetch(`/net/${encodeURIComponent(place.getAttribute("data-name") ?? "")}/about/about.json`);
    if (!answer.ok) { place.textContent = "This spec cannot be used as it stands."; continue; }
    const { title, sizes } = await answer.json();
    place.textContent = `${title}: ${sizes}`;
  }
}
tellSizes();
