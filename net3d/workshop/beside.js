// A net laid beside another: what differs, what comes of it, and the other's shape over this one.

const other = /** @type {HTMLSelectElement} */ (document.getElementById("other"));
const compared = /** @type {HTMLElement} */ (document.getElementById("beside"));
const over = /** @type {HTMLInputElement} */ (document.getElementById("over"));
let otherScene = /** @type {any} */ (null); // as it was packed
let comparison = 0; // the newest that was asked for
const THIN = 0.8; // so that what is the same in both looks as this net's
const NO_LEAN = 128 * 256 + 128; // of a point that departs for no bow

async function layBeside() {
  const [asked, name] = [++comparison, other.value];
  if (!name) return showBeside([], null);
  if (!otherScene) compared.textContent = "Working both out.";
  const answer = await fetch(`${here}/beside/${encodeURIComponent(name)}`);
  const problem = answer.ok ? "" : await answer.text();
  const { title, keys, comes, scene: packed } = answer.ok ? await answer.json() : { title: "", keys: [], comes: [], scene: null };
  if (asked !== comparison) return;
  const rows = (/** @type {string} */ heading, /** @type {string[][]} */ lines) => made("table", {}, made("caption", {}, heading),
    made("thead", {}, made("tr", {}, ...["", "this net", title].map((one) => made("th", { scope: "col" }, one)))),
    made("tbody", {}, ...lines.map(([key, mine, yours]) => made("tr", {}, made("th", { scope: "row" }, key), made("td", { class: "words" }, mine), made("td", { class: "words" }, yours)))));
  showBeside(problem ? [problem] : keys.length ? [rows("What differs", keys), rows("What comes of it", comes)] : ["They say the same."], packed);
}

/** @param {(Node | string)[]} told @param {any} packed */
function showBeside(told, packed) {
  compared.replaceChildren(...told);
  otherScene = packed;
  over.closest("label")?.toggleAttribute("hidden", !packed);
  show();
}

/** How far along a net its mouth stands. @param {Scene} one */
function mouthOf(one) {
  const [first, count] = one.groups.find((group) => group.rim)?.rim ?? [0, 1];
  return Array.from({ length: count }, (_, n) => one.places[4 * (first + n)]).reduce((sum, x) => sum + x / count, 0);
}

drawn = (own) => {
  if (!otherScene || !over.checked) return own;
  const laid = unpackScene(otherScene, ticked("still"));
  const [shift, knots, bars] = [mouthOf(own) - mouthOf(laid), own.places.length / 4, own.ends.length / 4];
  const places = laid.places.map((value, n) => [value + shift, value, value, NO_LEAN][n % 4]);
  const joined = (/** @type {any} */ one, /** @type {any} */ more) => {
    const both = new one.constructor(one.length + more.length);
    both.set(one);
    both.set(more, one.length);
    return both;
  };
  const groups = laid.groups.filter((group) => group.kind !== "size").map((group) => (
    { ...group, part: "", kind: "other", twine: false, first: group.first + bars, radius: group.radius * THIN }));
  return { ...own, places: joined(own.places, places), ends: joined(own.ends, laid.ends.map((end) => end + knots)),
    pulls: joined(own.pulls, laid.pulls), groups: [...own.groups, ...groups] };
};
other.addEventListener("change", () => {
  otherScene = null;
  layBeside();
});
over.addEventListener("change", () => show());
on("whole", () => { if (other.value) layBeside(); });
