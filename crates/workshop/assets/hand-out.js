// @ts-check
// Handing out: an order is sent, its steps are heard, and it can be stopped. Without a script the forms do the same.
import { hear } from "./hear.js";
import { say } from "./wish.js";

/** @typedef {{ state: string, done: number, of: number, words: string, notes: string[], bytes: number, folder: string | null }} Progress */

/** @param {string} id */
const part = (id) => /** @type {HTMLElement} */ (document.getElementById(id));
const order = /** @type {HTMLFormElement | null} */ (document.getElementById("order"));
const base = `/quilts/${part("work").dataset.quilt}/hand-out`;

/** @param {Progress} now */
function show(now) {
  const busy = now.state === "working" || now.state === "stopping";
  const was = part("how-far").dataset.state;
  part("how-far").dataset.state = now.state;
  part("how-far").hidden = now.state === "none";
  const words = part("how-far-words");
  if (words.textContent !== now.words) words.textContent = now.words;
  const bar = /** @type {HTMLProgressElement} */ (part("how-far-bar"));
  bar.max = Math.max(1, now.of);
  bar.value = now.done;
  bar.hidden = !busy;
  part("how-far-count").textContent = `${now.done} of ${now.of}`;
  part("how-far-count").hidden = !busy;
  part("how-far-notes").replaceChildren(...now.notes.map((note) => {
    const line = document.createElement("li");
    line.textContent = note;
    return line;
  }));
  if (now.state !== "ready") part("how-far-stale").hidden = true;
  const held = document.activeElement;
  part("stop").hidden = !busy;
  const stop = /** @type {HTMLButtonElement} */ (part("stop").querySelector("button"));
  // A button that is disabled would let the hand go.
  stop.setAttribute("aria-disabled", String(now.state === "stopping"));
  const take = part("take");
  const megabytes = (now.bytes / 1e6).toLocaleString([], { maximumFractionDigits: 1 });
  if (now.bytes > 0) take.textContent = `Download the zip (${megabytes} MB)`;
  take.hidden = now.state !== "ready" || now.folder !== null;
  const make = order?.querySelector("button");
  if (make) make.disabled = busy;
  // The hand that was on a button which is gone goes on to the next one.
  if (!busy && was !== now.state && held === stop) (take.hidden ? make : take)?.focus();
}

/** @param {string} where @param {URLSearchParams} body */
async function send(where, body) {
  let response;
  try {
    response = await fetch(where, { method: "POST", headers: { accept: "application/json" }, body });
  } catch {
    say("The workshop does not answer: the program may have been ended. Start it again and go on.");
    return;
  }
  const told = await response.json().catch(() => ({ words: "That did not work." }));
  if (response.ok) { say(""); show(told); } else say(told.words);
}

order?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const form = [...new FormData(order)].map(([name, value]) => [name, String(value)]);
  await send(base, new URLSearchParams(form));
  const stop = part("stop");
  if (!stop.hidden) stop.querySelector("button")?.focus();
});

part("stop").addEventListener("submit", (event) => {
  event.preventDefault();
  void send(`${base}/stop`, new URLSearchParams());
});

hear(`${base}/progress`, show);

// How the quilt stands is worked out beside this page; when that changes, its place in the bar is brought anew.
hear(`/quilts/${part("work").dataset.quilt}/events`, async () => {
  const page = await fetch(location.pathname);
  if (!page.ok) return;
  const fresh = new DOMParser().parseFromString(await page.text(), "text/html").getElementById("standing");
  if (fresh) part("standing").replaceWith(document.importNode(fresh, true));
});
