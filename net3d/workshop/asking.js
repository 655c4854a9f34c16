// How the workshop's pages ask their server for something.

const secret = document.querySelector("meta[name=secret]")?.getAttribute("content") ?? "";
const pageWindow = Math.random().toString(36).slice(2);

/** @typedef {{key: string, message: string}} Problem */

/** Ask for something to be done; gives the answer, and the problems where it was refused. @param {string} address */
async function ask(address, /** @type {object} */ what = {}) {
  try {
    const answer = await fetch(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Secret": secret },
      body: JSON.stringify({ ...what, window: pageWindow }),
    });
    const type = answer.headers.get("content-type") ?? "";
    if (type.startsWith("application/json")) return await answer.json();
    return { problems: [{ key: "", message: await answer.text() }] };
  } catch (error) {
    return { problems: [{ key: "", message: "net3d does not answer: it was ended. Start it again; your draft is kept." }] };
  }
}

/** An element with its attributes and what is in it. @param {string} tag @param {Record<string, string>} attributes */
function made(tag, attributes = {}, /** @type {(Node | string)[]} */ ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...inside);
  return element;
}
