// Turning, moving and zooming by fingers, mouse and keys. One finger scrolls the page up and down as everywhere
// else, and turns the net across; held still first, it turns it every way.

const STILL = 250; // milliseconds that a finger is held still to take hold of the net
const SLIP = 8; // pixels that it may move meanwhile

/** @param {HTMLCanvasElement} canvas @param {Camera} camera @param {() => void} moved */
function listen(canvas, camera, moved) {
  const down = /** @type {Map<number, PointerEvent>} */ (new Map());
  let held = false, waiting = 0, place = [0, 0];
  const drop = () => {
    clearTimeout(waiting);
    canvas.classList.toggle("held", held = false);
  };
  canvas.addEventListener("touchstart", ({ touches }) => {
    drop();
    place = [touches[0].clientX, touches[0].clientY];
    waiting = setTimeout(() => canvas.classList.toggle("held", held = true), STILL);
  }, { passive: true });
  canvas.addEventListener("touchmove", (event) => {
    const [{ clientX, clientY }] = event.touches;
    if (Math.hypot(clientX - place[0], clientY - place[1]) > SLIP) clearTimeout(waiting);
    if (event.cancelable && (held || event.touches.length > 1)) event.preventDefault(); // the page stays
  }, { passive: false });
  for (const end of ["touchend", "touchcancel"]) canvas.addEventListener(end, drop, { passive: true });
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    if (event.pointerType === "mouse") canvas.focus({ preventScroll: true });
    down.set(event.pointerId, event);
  });
  canvas.addEventListener("lostpointercapture", (event) => down.delete(event.pointerId));
  canvas.addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    const [across, over] = [event.clientX - before.clientX, event.clientY - before.clientY];
    const other = [...down.values()].find((pointer) => pointer.pointerId !== event.pointerId);
    if (other) {
      const apart = [event, before].map((at) => Math.hypot(at.clientX - other.clientX, at.clientY - other.clientY) + 1);
      camera.zoom(apart[0] / apart[1]);
      camera.shift(across / 2, over / 2);
    } else if (event.pointerType === "touch" && !held && Math.abs(across) <= Math.abs(over)) {
      return down.set(event.pointerId, event); // it scrolls the page
    } else if (event.shiftKey || event.buttons > 1) camera.shift(across, over);
    else camera.turn(-across * 0.008, event.pointerType === "touch" && !held ? 0 : over * 0.008);
    down.set(event.pointerId, event);
    moved();
  });
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas && !event.ctrlKey) return; // else the page scrolls
    event.preventDefault();
    camera.zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0015)));
    moved();
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    const zoom = { "+": 1.2, "=": 1.2, "-": 1 / 1.2 }[event.key];
    const way = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (!zoom && !way) return;
    if (zoom) camera.zoom(zoom);
    if (way && event.shiftKey) camera.shift(-way[0] * 30, -way[1] * 30);
    else if (way) camera.turn(way[0] * 0.1, way[1] * 0.1);
    event.preventDefault();
    moved();
  });
}
