// At the bench: one step at a time, in letters as large as the screen; ticks are kept by this device alone.

const bench = /** @type {HTMLDialogElement} */ (document.getElementById("at-bench"));
/** @type {(name: string) => HTMLElement} */
const benchPart = (name) => /** @type {HTMLElement} */ (document.getElementById(`bench-${name}`));
const benchWhat = /** @type {HTMLSelectElement} */ (benchPart("what"));
const benchKey = `net3d bench ${document.title}`;
const benchPlace = { chapter: 0, step: 0 };
let benchTicks = /** @type {Set<string>} */ (new Set());

/** Each step: label, what is large, what else, caution. @typedef {{name: string, steps: string[][]}} Chapter */

/** Order of work, the marks of every hoop as the page has them, netting. @returns {Chapter[]} */
function readChapters() {
  const { measuring, texts, chapters } = JSON.parse(benchPart("steps").textContent ?? "");
  const [order, ...netting] = chapters.map((/** @type {any[]} */ [name, ...steps]) => (
    { name, steps: steps.map((step) => step.map((/** @type {number} */ place) => texts[place])) }));
  const words = (/** @type {Element} */ one) => one.textContent?.trim() ?? "";
  const hoops = Array.from(document.querySelectorAll("#marks .block"), (block) => {
    const facts = Array.from(block.querySelectorAll("dl > div"), (one) => Array.from(one.children, words).join(" "));
    const [name, counted] = Array.from(block.querySelectorAll("h3, .counted"), words); // mark (in)
    const marks = Array.from(block.querySelectorAll("li")).map((one, place, all) => (
      [counted.replace(" ", ` ${place + 1} of ${all.length} `), words(one)]));
    return { name: `${name}: marks`, steps: [[name, measuring[0], facts.join("; "), measuring[1]], ...marks] };
  });
  return [order, ...hoops, ...netting];
}

const benchChapters = readChapters();
const benchStep = () => benchChapter().steps[benchPlace.step];
const benchChapter = () => benchChapters[benchPlace.chapter];
// What is ticked is what stood there: a mark that has moved since is open again.
/** @type {(one: Chapter, step: string[]) => string} */
const tickOf = ({ name }, [label, large]) => `${name}, ${label}: ${large}`;
/** @type {(chapter: Chapter) => string[][]} */
const openOf = (chapter) => chapter.steps.filter((step) => !benchTicks.has(tickOf(chapter, step)));

function keepTicks() {
  try {
    localStorage.setItem(benchKey, JSON.stringify([benchChapter().name, ...benchTicks]));
  } catch (error) {
    benchPart("unkept").hidden = false;
  }
}

function recallTicks() {
  try {
    const [there, ...ticks] = JSON.parse(localStorage.getItem(benchKey) ?? "[]");
    benchTicks = new Set(ticks);
    benchPlace.chapter = Math.max(0, benchChapters.findIndex(({ name }) => name === there));
  } catch (error) {
    benchPart("unkept").hidden = false; // storage refused, or not ours
  }
}

/** As large as its words and the screen allow. */
function fitLarge() {
  const [room, large] = [benchPart("step"), benchPart("large")];
  let [low, high] = [20, 480];
  while (high - low > 1) {
    const middle = (low + high) / 2;
    large.style.fontSize = `${middle}px`;
    if (room.scrollHeight <= room.clientHeight && large.scrollWidth <= large.clientWidth) low = middle;
    else high = middle;
  }
  large.style.fontSize = `${low}px`;
}

function showStep() {
  const chapter = benchChapter();
  const open = openOf(chapter);
  const ended = benchPlace.step === chapter.steps.length;
  const left = open.length ? `${open.length} left open` : "All done";
  const [label, large, more = "", caution = ""] = benchStep()
    ?? [chapter.name, left, open.map(([one]) => one).join(", ")];
  const done = !ended && !open.includes(benchStep());
  const told = { label: done ? `${label}, done` : label, large, more, caution };
  for (const [name, text] of Object.entries(told)) benchPart(name).textContent = text;
  benchWhat.replaceChildren(...benchChapters.map((one, place) => (
    new Option(`${one.name}, ${one.steps.length - openOf(one).length} of ${one.steps.length}`, String(place)))));
  benchWhat.value = String(benchPlace.chapter);
  benchPart("anew").hidden = !ended;
  benchPart("later").hidden = ended;
  benchPart("done").textContent = ended ? "Go on" : "Done";
  fitLarge();
}

/** To the first step of a chapter that is open. @param {number} chapter */
function goTo(chapter) {
  const { steps } = benchChapters[chapter];
  const first = steps.indexOf(openOf(benchChapters[chapter])[0]);
  Object.assign(benchPlace, { chapter, step: first < 0 ? steps.length : first });
}

/** @type {Record<string, () => void>} */
const benchDeeds = {
  close: () => bench.close(),
  back: () => { benchPlace.step = Math.max(0, benchPlace.step - 1); },
  later: () => {
    benchTicks.delete(tickOf(benchChapter(), benchStep()));
    benchPlace.step += 1;
  },
  anew: () => {
    const chapter = benchChapter();
    chapter.steps.forEach((step) => benchTicks.delete(tickOf(chapter, step)));
    goTo(benchPlace.chapter);
    benchPart("done").focus();
  },
  done: () => {
    const { chapter } = benchPlace;
    const open = openOf(benchChapter()).length;
    if (benchStep()) {
      benchTicks.add(tickOf(benchChapter(), benchStep()));
      benchPlace.step += 1;
    } else goTo(open ? chapter : Math.min(chapter + 1, benchChapters.length - 1));
  },
};

function doAtBench(/** @type {string} */ deed) {
  benchDeeds[deed]();
  if (!bench.open) return;
  keepTicks();
  showStep();
}

function openBench() {
  recallTicks();
  goTo(benchPlace.chapter);
  bench.showModal();
  showStep();
}

bench.addEventListener("click", ({ target }) => {
  const one = /** @type {Element} */ (target).closest("button, select");
  if (one !== benchWhat) doAtBench(one ? one.id.slice("bench-".length) : "done");
});
bench.addEventListener("keydown", (event) => { // a pedal that turns pages sends these keys
  const deed = { ArrowRight: "done", PageDown: "done", ArrowLeft: "back", PageUp: "back" }[event.key];
  if (!deed || event.target === benchWhat) return;
  event.preventDefault();
  doAtBench(deed);
});
benchWhat.addEventListener("change", (event) => {
  event.stopPropagation(); // it is none of the view's
  goTo(Number(benchWhat.value));
  keepTicks();
  showStep();
});
new ResizeObserver(fitLarge).observe(bench);
benchPart("open").addEventListener("click", openBench);
if (location.hash === "#one-by-one") openBench();
