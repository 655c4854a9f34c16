// Dimensions written over the view as text, those that find room.

class Labels {
  /** @type {{span: HTMLElement, at: number[], width: number, height: number}[]} */
  written = [];

  /** @param {HTMLElement} layer @param {Label[]} labels */
  write(layer, labels) {
    layer.replaceChildren();
    this.written = [...labels].sort((one, other) => one.rank - other.rank).map(({ text, at }) => {
      const span = layer.appendChild(document.createElement("span"));
      span.textContent = text;
      return { span, at, width: span.offsetWidth, height: span.offsetHeight };
    });
  }

  /** @param {Camera} camera @param {boolean} shown */
  place(camera, shown) {
    const taken = /** @type {number[][]} */ ([]);
    for (const { span, at, width, height } of this.written) {
      const [x, y] = camera.pixel(at);
      const [left, top, right, foot] = [x - width / 2, y - height / 2, x + width / 2, y + height / 2];
      const inside = left > 0 && top > 0 && right < camera.width && foot < camera.height;
      const free = taken.every((box) => right < box[0] || box[2] < left || foot < box[1] || box[3] < top);
      const kept = shown && inside && free && camera.see(at)[2] < 0;
      span.style.visibility = kept ? "visible" : "hidden";
      span.style.transform = `translate(${left}px, ${top}px)`;
      if (kept) taken.push([left, top, right, foot]);
    }
  }
}
