// The page of a wanted list: its boxes, the search, and the nets that were found.

const LOOKS = 400; // ms between looks at how far the search is
const opened = JSON.parse(document.getElementById("opened")?.textContent ?? "{}");
let list = /** @type {{name: string, text: string}} */ (opened);
let base = opened.name ? opened.text : ""; // what the list's file holds
const before = /** @type {string[]} */ ([]); // texts, for undo
let search = 0; // its number
let waiting = Promise.resolve();

/** @type {(id: string) => HTMLButtonElement} */
const button = (id) => /** @type {HTMLButtonElement} */ (document.getElementById(id));
const far = /** @type {HTMLElement} */ (document.getElementById("far"));
const proposals = /** @type {HTMLElement} */ (document.getElementById("proposals"));

/** Ask for something, one after the other; what is wrong is told by its box. @param {string} deed */
function told(deed, /** @type {() => object} */ more, /** @type {(answer: any) => void} */ then) {
  waiting = waiting.then(async () => {
    const answer = await ask(`/wanted/${deed}`, { name: list.name, ...more() });
    showProblems(answer.problems);
    if (answer.values || !answer.problems) then(answer);
  });
}

/** @param {any} answer a text and what it says */
function showList(answer) {
  list = { ...list, text: answer.text };
  button("undo").disabled = !before.length;
  button("keep").disabled = list.text === base;
  button("look").disabled = !answer.values;
  if (answer.values) showValues(answer.values);
}

const sendBoxes = (/** @type {object} */ boxes) => told("change", () => ({ text: list.text, boxes }), (answer) => {
  refused.clear();
  if (answer.text !== list.text) before.push(list.text);
  showList(answer);
});

/** @param {any} found */
function showFound({ nets, ruled, ended }) {
  const one = (/** @type {any} */ net, /** @type {number} */ place) => made("article", { class: "proposal" },
    made("h2", {}, `${place + 1}. ${net.name[0].toUpperCase()}${net.name.slice(1)}`),
    made("img", { src: net.picture, width: "320", height: "200", alt: `The net in perspective: ${net.net}` }),
    made("p", {}, net.net), made("p", {}, `${net.why} ${net.gives_up}`), made("p", {}, net.leaves), made("p", {}, net.checks),
    made("button", { type: "button", class: "chief", "data-net": String(place), "aria-label": `Work on net ${place + 1}, ${net.name}` }, "Work on this one"));
  const out = made("details", nets.length ? {} : { open: "" }, made("summary", {}, "What was ruled out, and by which limit"),
    made("ul", {}, ...ruled.map((/** @type {string} */ text) => made("li", {}, text))));
  proposals.replaceChildren(...(nets.length ? [] : [made("p", {}, "No net of what is at hand keeps every limit.")]),
    ...nets.map(one), ...(ruled.length ? [out] : []), made("p", { class: "about" }, ended));
}

/** Look how far the search is until it is over. @param {number} number */
async function follow(number) {
  for (let tick = 0, over = false; !over && number === search;) {
    await new Promise((done) => setTimeout(done, LOOKS));
    const answer = await fetch(`/wanted/search/${number}/${tick}`).catch(() => null);
    const state = answer?.ok ? await answer.json() : { said: "net3d does not answer: it was ended. Start it again.", over: true, wrong: true };
    if (number !== search) return;
    over = state.over;
    tick = state.tick;
    far.textContent = over && !state.wrong ? "" : state.said;
    if (state.found) showFound(state.found);
  }
  button("stop").disabled = true;
  button("look").textContent = "Look once more";
}

button("look").addEventListener("click", () => told("look",
  () => ({ text: list.text, seconds: Number(/** @type {HTMLSelectElement} */ (document.getElementById("seconds")).value) }),
  (answer) => {
    search = answer.search;
    button("stop").disabled = false;
    far.textContent = "Beginning";
    proposals.replaceChildren();
    follow(search);
  }));
button("stop").addEventListener("click", () => told("stop", () => ({}), () => {
  button("stop").disabled = true;
  far.textContent = "Ending: nets that are in work are left";
}));
button("keep").addEventListener("click", () => told("keep", () => ({ text: list.text, base }), (answer) => {
  list = { ...list, name: answer.name };
  base = list.text;
  history.replaceState(null, "", `/wanted/${encodeURIComponent(answer.name)}`);
  button("keep").disabled = true;
  said.textContent = `Kept in ${answer.file}.`;
}));
button("undo").addEventListener("click", () => {
  list = { ...list, text: before.pop() ?? list.text };
  refused.clear();
  told("change", () => ({ text: list.text, boxes: {} }), showList);
});
document.addEventListener("click", ({ target }) => {
  const { net, deed, what } = /** @type {HTMLElement} */ (target).dataset;
  if (net) told("begin", () => ({ search, net: Number(net) }), (answer) => { location.href = `/net/${encodeURIComponent(answer.name)}`; });
  if (deed === "drop") sendBoxes({ [what ?? ""]: null });
});
addEventListener("beforeunload", (event) => { if (before.length && list.text !== base) event.preventDefault(); });

showList(opened);
showProblems(opened.problems);
