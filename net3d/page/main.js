// The page at work: it draws when something changes.

const camera = new Camera();
const labels = new Labels();
const stage = /** @type {HTMLElement} */ (document.getElementById("stage"));
const layer = /** @type {HTMLElement} */ (document.getElementById("labels"));
const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById("net"));
const controls = /** @type {HTMLFormElement} */ (document.getElementById("controls"));
const bowed = /** @type {HTMLElement} */ (document.getElementById("bowed"));
const water = /** @type {HTMLElement} */ (document.getElementById("water"));
let scene = readScene(false);
let drawn = (/** @type {Scene} */ own) => own; // what is drawn of it, another net over it perhaps
let view = "quarter"; // a named one, until the reader moves
let waiting = false;
let rest = 0; // of the net after it moved: then all of it is drawn
let moving = false;
const REST = 160; // milliseconds

/** @type {(rule: string) => HTMLInputElement[]} */
const inputs = (rule) => Array.from(document.querySelectorAll(rule));
const ticked = (/** @type {string} */ name) => inputs(`#${name}:checked`).length > 0;
const bow = () => Number(inputs("#bow option:checked")[0]?.value ?? 1) - 1; // so many times more than it is

/** The style sheet's colours of the net, each as three numbers. @returns {Record<string, number[]>} */
function colours() {
  const style = getComputedStyle(stage);
  const names = ["paper", "low", "middling", "high", "slack", "size", "other", ...scene.groups.map(({ kind }) => kind)];
  return Object.fromEntries(names.map((name) => {
    const code = parseInt(style.getPropertyValue(`--net-${name}`).trim().slice(1), 16);
    return [name, [code >> 16, code >> 8 & 255, code & 255].map((part) => part / 255)];
  }));
}

/** @param {Painter} painter */
function draw(painter) {
  waiting = false;
  const on = inputs("#parts input:checked").map((input) => input.value);
  const tension = ticked("tension");
  const sizes = ticked("sizes") && Math.abs(camera.axes()[2][0]) < 0.9; // seen from the end they only clutter
  const shown = (/** @type {Group} */ group) => (
    group.kind === "size" ? sizes : group.kind === "other" || on.includes(group.switch));
  Object.assign(stage.dataset, { tension, frames: Number(stage.dataset.frames ?? 0) + 1 });
  const look = { cut: ticked("cut"), tension, bow: bow(), moving, marked: stage.dataset.marked, shown };
  painter.draw(camera, colours(), look);
  bowed.textContent = bow() ? inputs("#bow option:checked")[0].textContent : "";
  labels.place(camera, scene, inputs("#stage > p"), bow(), sizes);
  stage.dispatchEvent(new Event("drawn"));
}

function start() { // gives what shows another scene
  const painter = new Painter(canvas);
  const redraw = () => {
    if (!waiting) requestAnimationFrame(() => draw(painter));
    waiting = true;
  };
  const load = () => {
    painter.load(drawn(scene));
    labels.write(layer, scene.labels);
    water.textContent = scene.water;
    redraw();
  };
  const look = (/** @type {string} */ name) => {
    view = name;
    if (scene.calm !== ticked("still")) {
      scene = readScene(ticked("still"));
      load();
    }
    const held = view === "mouth" ? scene.frame.slice(0, -scene.written) : scene.frame; // there no sizes show
    if (view) camera.fit(view, held, bow());
    for (const button of inputs("[data-view]")) button.ariaPressed = String(button.dataset.view === view);
    redraw();
  };
  const move = () => {
    stage.classList.add("moved"); // no more hint
    clearTimeout(rest);
    [moving, rest] = [true, setTimeout(() => {
      moving = false;
      if (painter.thinned) redraw();
    }, REST)];
    look("");
  };
  document.documentElement.classList.add("drawn");
  listen(canvas, camera, move);
  new ResizeObserver(() => {
    if (!canvas.clientWidth) return; // hidden, as on paper
    [camera.width, camera.height] = [canvas.clientWidth, canvas.clientHeight];
    const dots = Math.min(devicePixelRatio, 2); // more are not seen, and cost time
    [canvas.width, canvas.height] = [camera.width * dots, camera.height * dots];
    look(view);
  }).observe(canvas);
  document.addEventListener("change", () => look(view));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
  document.addEventListener("click", ({ target }) => {
    if (!(target instanceof HTMLElement)) return;
    if (target.id === "afresh") controls.reset();
    if (target.id === "afresh" || target.dataset.view) look(target.dataset.view ?? "quarter");
  });
  canvas.addEventListener("webglcontextlost", () => document.documentElement.classList.remove("drawn"));
  return load;
}

let show = () => {};
try {
  show = start();
  show();
} catch (error) {
  document.documentElement.classList.remove("drawn"); // the picture stands in for the net
}
