// The net's own record: what was done, the newest first, and a form to write down more.

const logForm = /** @type {HTMLFormElement} */ (document.getElementById("log"));
const logHole = /** @type {HTMLSelectElement} */ (document.getElementById("log-hole"));
const logKind = /** @type {HTMLSelectElement} */ (document.getElementById("log-kind"));
const logged = /** @type {HTMLElement} */ (document.getElementById("logged"));

/** A hole is asked for only where one was mended. */
function askForHole() {
  logHole.parentElement?.toggleAttribute("hidden", logKind.value !== "mended" || logHole.options.length < 2);
}
logKind.addEventListener("change", askForHole);

/** @param {any} told */
function showRecord({ entries, notes, holes }) {
  document.getElementById("due")?.replaceChildren(...notes.map((/** @type {string} */ note) => made("li", {}, note)));
  document.getElementById("history")?.replaceChildren(...entries.map((/** @type {Record<string, string>} */ one) => made("li", {},
    made("time", { datetime: one.date }, one.date), made("strong", {}, one.kind), ` ${one.note}`, ...(one.took ? [made("small", {}, `Took ${one.took}.`)] : []))));
  logHole.replaceChildren(made("option", { value: "" }, "none of the spec's"),
    ...holes.map((/** @type {string} */ hole, /** @type {number} */ index) => made("option", { value: String(index + 1) }, `${index + 1}: ${hole}`)));
  askForHole();
}

logForm.addEventListener("submit", async (event) => {
  event.preventDefault();
  const button = /** @type {HTMLButtonElement} */ (logForm.querySelector("button"));
  if (button.disabled) return; // once is enough
  button.disabled = true;
  const { kind, date, note, hole } = Object.fromEntries(new FormData(logForm));
  const answer = await ask(`${here}/log`, { kind, date, note, hole: kind === "mended" ? hole : "" });
  button.disabled = false;
  logged.textContent = answer.problems ? "" : "Written.";
  for (const field of logForm.querySelectorAll("input, select")) {
    const wrong = (answer.problems ?? []).filter((/** @type {Problem} */ one) => `log-${one.key}` === field.id);
    /** @type {HTMLElement} */ (document.getElementById(`${field.id}-wrong`)).textContent = wrong.map((/** @type {Problem} */ one) => one.message).join(" ");
    field.setAttribute("aria-invalid", String(wrong.length > 0));
  }
  const loose = (answer.problems ?? []).filter((/** @type {Problem} */ one) => !document.getElementById(`log-${one.key}`));
  if (loose.length) logged.textContent = loose.map((/** @type {Problem} */ one) => `${one.key} ${one.message}`.trim()).join(" ");
  if (!answer.problems) logForm.note.value = "";
});
on("record", showRecord);
