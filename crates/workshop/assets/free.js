// @ts-check
// A free layout's blocks are taken hold of and laid elsewhere: held to the edges and middles of the others, else to the step.
import { ask } from "./wish.js";

/** @typedef {{ x: number, y: number, w: number, h: number }} Box */

const free = () => /** @type {SVGGElement | null} */ (/** @type {unknown} */ (document.getElementById("free")));
const steps = () => /** @type {HTMLSelectElement | null} */ (document.getElementById("free-step"));

/** How far an edge reaches out for another, in pixels of the screen. */
const REACH = 8;

let step = "";

/** @param {Element} handle @returns {Box} */
function box(handle) {
  const { x, y, w, h } = handle instanceof SVGElement ? handle.dataset : {};
  return { x: Number(x), y: Number(y), w: Number(w), h: Number(h) };
}

/** Where one way of a box is held: the nearest line of another within reach, else the step.
 * @param {number} at @param {number} size @param {number[]} lines @param {number} reach @param {number} stepped */
function held(at, size, lines, reach, stepped) {
  /** @type {{ off: number, line: number } | null} */
  let best = null;
  for (const line of lines) {
    for (const part of [0, size / 2, size]) {
      const off = line - (at + part);
      if (Math.abs(off) <= reach && (!best || Math.abs(off) < Math.abs(best.off))) best = { off, line };
    }
  }
  return best ? { at: at + best.off, line: best.line } : { at: Math.round(at / stepped) * stepped, line: null };
}

/** Lines of the others and of the whole, one way.
 * @param {Element} handle @param {"x" | "y"} way */
function lines(handle, way) {
  const group = free();
  const whole = Number(way === "x" ? group?.dataset.width : group?.dataset.height);
  const all = [0, whole / 2, whole];
  for (const other of group?.querySelectorAll("[data-place]") ?? []) {
    if (other === handle) continue;
    const b = box(other);
    const [at, size] = way === "x" ? [b.x, b.w] : [b.y, b.h];
    all.push(at, at + size / 2, at + size);
  }
  return all;
}

/** @param {number} at @param {number} size @param {number} whole */
const within = (at, size, whole) => (whole > size ? Math.min(Math.max(at, 0), whole - size) : at);

/** @param {Element} handle @param {number} x @param {number} y */
function tell(handle, x, y) {
  const told = document.getElementById("moved");
  const select = steps();
  const [per, unit] = [Number(select?.dataset.per ?? 1), select?.dataset.unit ?? "in"];
  const round = (/** @type {number} */ v) => String(Math.round(v * per * 1000) / 1000);
  const name = handle instanceof SVGElement ? handle.dataset.name : "";
  if (told) told.textContent = `${name}: ${round(x)} ${unit} from the left, ${round(y)} ${unit} from the top`;
}

/** @type {{ handle: SVGElement, from: DOMPoint, was: Box, x: number, y: number } | null} */
let inHand = null;

/** @param {PointerEvent} event */
function place(event) {
  const matrix = free()?.getScreenCTM();
  return matrix ? { at: new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse()), scale: matrix.a } : null;
}

document.addEventListener("pointerdown", (event) => {
  const handle = event.target instanceof Element ? event.target.closest("#free [data-place]") : null;
  const here = place(event);
  if (!(handle instanceof SVGElement) || !here || event.button !== 0) return;
  event.preventDefault();
  handle.focus({ preventScroll: true });
  handle.setPointerCapture(event.pointerId);
  const was = box(handle);
  inHand = { handle, from: here.at, was, x: was.x, y: was.y };
  handle.classList.add("held");
  tell(handle, was.x, was.y);
});

document.addEventListener("pointermove", (event) => {
  const here = place(event);
  if (!inHand || !here) return;
  const { handle, from, was } = inHand;
  const group = free();
  const [width, height] = [Number(group?.dataset.width), Number(group?.dataset.height)];
  const [reach, stepped] = [REACH / here.scale, Number(steps()?.value ?? 1)];
  const across = held(was.x + here.at.x - from.x, was.w, lines(handle, "x"), reach, stepped);
  const down = held(was.y + here.at.y - from.y, was.h, lines(handle, "y"), reach, stepped);
  inHand.x = within(across.at, was.w, width);
  inHand.y = within(down.at, was.h, height);
  handle.setAttribute("transform", `translate(${inHand.x - was.x} ${inHand.y - was.y})`);
  const guides = [];
  if (across.line !== null) guides.push(`M${across.line} 0V${height}`);
  if (down.line !== null) guides.push(`M0 ${down.line}H${width}`);
  document.getElementById("guides")?.setAttribute("d", guides.join(""));
  tell(handle, inHand.x, inHand.y);
});

/** @param {boolean} lay */
async function letGo(lay) {
  if (!inHand) return;
  const { handle, was, x, y } = inHand;
  inHand = null;
  handle.classList.remove("held");
  document.getElementById("guides")?.setAttribute("d", "");
  const moved = Math.hypot(x - was.x, y - was.y) > 1e-6;
  const done = lay && moved && await ask({ do: "place", index: Number(handle.dataset.place), at: [x, y] });
  if (!done) handle.removeAttribute("transform");
}

document.addEventListener("pointerup", () => void letGo(true));
document.addEventListener("pointercancel", () => void letGo(false));

/** Arrow keys move a block by a step; each waits for the one before it. */
let moving = Promise.resolve();

document.addEventListener("keydown", (event) => {
  if (event.key === "Escape") void letGo(false);
  const handle = document.activeElement;
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  if (!(handle instanceof SVGElement) || handle.dataset.place === undefined || !way) return;
  event.preventDefault();
  const index = handle.dataset.place;
  moving = moving.then(async () => {
    const now = document.querySelector(`#free [data-place="${index}"]`);
    const group = free();
    if (!now || !group) return;
    const b = box(now);
    const by = Number(steps()?.value ?? 1);
    const x = within(b.x + (way[0] ?? 0) * by, b.w, Number(group.dataset.width));
    const y = within(b.y + (way[1] ?? 0) * by, b.h, Number(group.dataset.height));
    if (x === b.x && y === b.y) return;
    await ask({ do: "place", index: Number(index), at: [x, y] });
    tell(now, x, y);
  });
});

document.addEventListener("change", (event) => {
  if (event.target === steps()) step = steps()?.value ?? "";
});

document.addEventListener("cloth", () => {
  const select = steps();
  if (select && step !== "") select.value = step;
});
