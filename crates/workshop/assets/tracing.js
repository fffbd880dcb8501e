// @ts-check
// A picture beneath the block's cloth, to be traced: brought, laid, moved by hand or by its measures.
import { bring } from "./pictures.js";
import { quilt, refresh, say } from "./wish.js";

const panel = () => /** @type {HTMLElement | null} */ (document.getElementById("tracing"));
const image = () => /** @type {SVGImageElement | null} */ (/** @type {unknown} */ (document.getElementById("traced")));
const per = () => Number(panel()?.dataset.per ?? 1);

/** Whether the hand moves the picture, not the cloth. */
let byHand = false;

/** @typedef {{ picture: string, left: number, top: number, width: number, cloth: number }} Traced */

/** As it lies on the screen now; inches. @returns {Traced | null} */
function now() {
  const shown = image();
  if (!shown) return null;
  const of = (/** @type {string} */ name) => Number(shown.getAttribute(name));
  const cloth = Number(document.querySelector("#board .patches")?.getAttribute("fill-opacity") ?? 1);
  return { picture: shown.dataset.picture ?? "", left: of("x"), top: of("y"), width: of("width"), cloth };
}

/** @param {Traced | null} traced */
async function lay(traced) {
  const response = await fetch(`${quilt()}/tracing/${panel()?.dataset.block}`, {
    method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(traced),
  });
  if (!response.ok) say((await response.json().catch(() => ({ words: "That did not work." }))).words);
  await refresh();
}

/** Shows a wish before it is kept. @param {Traced} traced */
function show(traced) {
  const shown = image();
  if (!shown) return;
  shown.setAttribute("x", String(traced.left));
  shown.setAttribute("y", String(traced.top));
  shown.setAttribute("width", String(traced.width));
  shown.setAttribute("height", String(traced.width * Number(shown.dataset.ratio)));
  for (const group of document.querySelectorAll("#board .patches, #board .placed")) group.setAttribute("fill-opacity", String(traced.cloth));
}

/** As the controls say it. @returns {Traced | null} */
function typed() {
  const form = /** @type {HTMLFormElement | null} */ (document.getElementById("trace"));
  const before = now();
  if (!form || !before) return null;
  const of = (/** @type {string} */ name) => Number(/** @type {HTMLInputElement} */ (form.elements.namedItem(name)).value);
  return { ...before, left: of("left") / per(), top: of("top") / per(), width: of("width") / per(), cloth: of("cloth") };
}

document.addEventListener("change", async (event) => {
  const input = event.target;
  if (!(input instanceof HTMLInputElement) || !input.closest("#trace")) return;
  if (input.id === "trace-file") {
    const file = input.files?.[0];
    const told = file && await bring(`pictures?of=${panel()?.dataset.block}`, file);
    if (!told) return;
    // Whole within the block, as wide or as high as it.
    const [width, height] = [Number(panel()?.dataset.width), Number(panel()?.dataset.height)];
    const wide = Math.min(width, height * told.width / told.height);
    const before = now();
    await lay({ picture: told.picture, left: 0, top: 0, width: wide, cloth: before?.cloth ?? 0.4 });
    return;
  }
  const wanted = typed();
  if (wanted) await lay(wanted);
});

document.addEventListener("input", (event) => {
  if (!(event.target instanceof HTMLInputElement) || !event.target.closest("#trace") || event.target.type === "file") return;
  const wanted = typed();
  if (wanted && wanted.width > 0) show(wanted);
});

document.addEventListener("submit", (event) => {
  if (event.target instanceof HTMLFormElement && event.target.id === "trace") event.preventDefault();
});

document.addEventListener("click", async (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-trace]") : null;
  const traced = now();
  if (!(button instanceof HTMLElement) || !traced) return;
  if (button.dataset.trace === "off") await lay(null);
  else if (button.dataset.trace === "fit") await lay({ ...traced, left: 0, top: 0, width: Number(panel()?.dataset.width) });
  else { byHand = !byHand; dressed(); }
});

// While the picture is moved by hand, the cloth is not drawn on: this listens before the hand on the cloth does.
/** @type {{ x: number, y: number, was: Traced } | null} */
let held = null;

/** @param {PointerEvent} event */
function place(event) {
  const svg = /** @type {SVGSVGElement | null} */ (/** @type {unknown} */ (document.getElementById("board")));
  const matrix = svg?.getScreenCTM();
  return matrix ? new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse()) : null;
}

/** @param {PointerEvent} event */
const mine = (event) => byHand && image() !== null && event.target instanceof Element && event.target.closest("#board") !== null;

window.addEventListener("pointerdown", (event) => {
  const [at, was] = [place(event), now()];
  if (!mine(event) || !at || !was) return;
  event.stopPropagation();
  held = { x: at.x, y: at.y, was };
}, true);

window.addEventListener("pointermove", (event) => {
  if (!mine(event)) return;
  event.stopPropagation();
  const at = place(event);
  if (held && at) show({ ...held.was, left: held.was.left + at.x - held.x, top: held.was.top + at.y - held.y });
}, true);

window.addEventListener("pointerup", (event) => {
  if (!held) return;
  event.stopPropagation();
  held = null;
  const traced = now();
  if (traced) void lay(traced);
}, true);

function dressed() {
  if (!image()) byHand = false;
  document.querySelector("[data-trace=drag]")?.setAttribute("aria-pressed", String(byHand));
  document.getElementById("board")?.classList.toggle("moving", byHand);
}

document.addEventListener("cloth", dressed);
