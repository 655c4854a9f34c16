// The work page at work: what is typed is sent, what is told is shown.

const table = /** @type {HTMLElement} */ (document.getElementById("table"));
const here = `/net/${encodeURIComponent(table.dataset.name ?? "")}`;
let asking = 0; // requests that are not answered yet
let unread = /** @type {any} */ (null); // a state that was told meanwhile
let waitingForAnswer = /** @type {Promise<any>} */ (Promise.resolve());

/** @type {(id: string) => HTMLButtonElement} */
const button = (id) => /** @type {HTMLButtonElement} */ (document.getElementById(id));

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
  if (asking) unread = state; // what is being sent is newer
  else takeRefused(state);
  if (!state.values) return;
  showValues(state.values);
  markProblems(state.wrong);
}

/** Take over what would not do in the boxes, as the server keeps it. @param {any} state */
function takeRefused(state) {
  refused.clear();
  for (const [key, text] of Object.entries(state?.refused ?? {})) refused.set(key, text);
}

/** Ask for something of this net, one after the other. @param {string} what @param {object} more */
function told(what, more = {}) {
  asking += 1;
  const asked = waitingForAnswer.then(async () => {
    const boxes = Object.entries(/** @type {any} */ (more).boxes ?? {});
    const answer = await ask(`${here}/${what}`, more);
    asking -= 1;
    if (unread && !asking) {
      takeRefused(unread);
      unread = null;
    }
    for (const [key, text] of boxes) answer.problems ? refused.set(key, text) : refused.delete(key);
    if (answer.problems || boxes.length) showProblems(answer.problems);
    else said.textContent = "";
    if (answer.file) said.textContent = `Kept in ${answer.file}.`;
    return answer;
  });
  waitingForAnswer = asked;
  return asked;
}

const sendBoxes = (/** @type {object} */ boxes) => told("change", { boxes });
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
