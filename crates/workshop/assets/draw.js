// @ts-check
// The hand on the cloth: it aims, presses, presses again. Where the aim is held and what becomes of it is worked out by the workshop.
import { ask, quilt, say } from "./wish.js";

/** @typedef {{ x: number, y: number, snap: string, words: string }} Aim */

let hand = "divide";
let fabric = "";
/** @type {Aim | null} */
let begun = null;
/** @type {Aim | null} */
let aimed = null;
let busy = false;
/** @type {{ x: number, y: number } | null} */
let waiting = null;

const board = () => /** @type {SVGSVGElement | null} */ (/** @type {unknown} */ (document.getElementById("board")));
const block = () => board()?.dataset.block ?? "";
const repeat = () => /** @type {HTMLSelectElement | null} */ (document.getElementById("repeat"))?.value ?? "once";
let repeated = "once";
/** Patches chosen to be pinned, by their places in the file's list, in the order they were chosen.
 * @type {string[]} */
let picked = [];

/** A place on the screen as inches on the cloth.
 * @param {PointerEvent} event */
function place(event) {
  const svg = board();
  const matrix = svg?.getScreenCTM();
  if (!svg || !matrix) return null;
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
  return { x: at.x, y: at.y, reach: 14 / matrix.a };
}

/** Whether the second press of this hand begins a line from the first. */
const drags = () => hand === "divide" || hand === "bow" || hand === "shift" || hand === "join";

/** @param {number} x @param {number} y @param {number} reach @returns {Promise<Aim | null>} */
async function hold(x, y, reach) {
  const from = begun && hand === "divide" ? `&from_x=${begun.x}&from_y=${begun.y}` : "";
  // Patches and seams are pointed at, not held to the grid.
  const free = hand === "join" || hand === "dress" || hand === "pin" || (hand === "bow" && begun);
  const response = await fetch(`${quilt()}/aim/${block()}?x=${x}&y=${y}&reach=${free ? 0 : reach}${from}`);
  return response.ok ? response.json() : null;
}

function show() {
  const line = document.getElementById("line");
  const at = document.getElementById("at");
  const start = document.getElementById("begun");
  if (!line || !at || !start) return;
  /** @param {Element} dot @param {Aim | null} aim */
  const put = (dot, aim) => {
    dot.setAttribute("visibility", aim ? "visible" : "hidden");
    if (aim) { dot.setAttribute("cx", String(aim.x)); dot.setAttribute("cy", String(aim.y)); }
  };
  put(at, hand === "dress" || hand === "pin" ? null : aimed);
  put(start, begun);
  line.setAttribute("d", begun && aimed ? `M${begun.x} ${begun.y}L${aimed.x} ${aimed.y}` : "");
  const told = document.getElementById("aimed");
  if (told) {
    told.textContent = aimed
      ? `${round(aimed.x * per())}, ${round(aimed.y * per())}${aimed.words ? ` · ${aimed.words}` : ""}${aimed.snap === "free" ? "" : ` (${aimed.snap})`}`
      : "";
  }
}

/** How many of the design's units make an inch. */
const per = () => Number(board()?.dataset.per ?? 1);

/** @param {number} v */
const round = (v) => String(Math.round(v * 1000) / 1000);

async function press() {
  if (!aimed) return;
  const at = [aimed.x, aimed.y];
  if (hand === "pin") { pick(aimed.x, aimed.y); return; }
  if (hand === "dress") {
    await ask({ do: "draw", block: block(), act: "dress", at, fabric, repeat: repeat() });
    return;
  }
  if (!begun) {
    begun = aimed;
    show();
    say("");
    return;
  }
  const from = [begun.x, begun.y];
  const done = await ask({ do: "draw", block: block(), act: hand, from, to: at, repeat: repeat() });
  if (done || hand === "join") begun = null;
  show();
}

/** Chooses the patch at a place, or lets it go.
 * @param {number} x @param {number} y */
function pick(x, y) {
  const path = [...document.querySelectorAll("#board .patches path:not(.laid)")]
    .find((p) => p instanceof SVGGeometryElement && p.isPointInFill(new DOMPoint(x, y)));
  if (!(path instanceof SVGElement) || path.dataset.entry === undefined) { say("There is no patch here that is sewn to others."); return; }
  const entry = path.dataset.entry;
  picked = picked.includes(entry) ? picked.filter((p) => p !== entry) : [...picked, entry];
  showPicked();
}

function showPicked() {
  for (const path of document.querySelectorAll("#board .patches path")) {
    path.classList.toggle("picked", path instanceof SVGElement && picked.includes(path.dataset.entry ?? "-"));
  }
  const told = document.getElementById("picked");
  if (told) told.textContent = picked.length > 0 ? picked.map((p) => Number(p) + 1).join(", ") : "none";
  board()?.classList.toggle("numbered", hand === "pin");
}

document.addEventListener("pointermove", async (event) => {
  if (!(event.target instanceof Element) || !event.target.closest("#board")) return;
  const at = place(event);
  if (!at) return;
  if (busy) { waiting = at; return; }
  busy = true;
  /** @type {{ x: number, y: number, reach?: number } | null} */
  let next = at;
  while (next) {
    aimed = await hold(next.x, next.y, at.reach);
    show();
    next = waiting;
    waiting = null;
  }
  busy = false;
});

/** The press that is being done, and whether it was the second of two. */
let pressing = Promise.resolve();
let second = false;

document.addEventListener("pointerdown", (event) => {
  if (!(event.target instanceof Element) || !event.target.closest("#board") || event.button !== 0) return;
  const at = place(event);
  if (!at) return;
  second = begun !== null;
  board()?.focus({ preventScroll: true });
  pressing = hold(at.x, at.y, at.reach).then((aim) => { aimed = aim; return press(); });
});

// A drag from the first place to the second is as good as two presses.
document.addEventListener("pointerup", async (event) => {
  if (second || !drags() || !(event.target instanceof Element) || !event.target.closest("#board")) return;
  await pressing;
  if (!begun) return;
  const at = place(event);
  if (!at || Math.hypot(at.x - begun.x, at.y - begun.y) < at.reach * 1.5) return;
  aimed = await hold(at.x, at.y, at.reach);
  await press();
});

document.addEventListener("keydown", async (event) => {
  const svg = board();
  if (!svg || document.activeElement !== svg) return;
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  const [width, height] = [Number(svg.dataset.width), Number(svg.dataset.height)];
  if (way) {
    event.preventDefault();
    const [across, down] = (svg.dataset.grid ?? "1 1").split(" ").map(Number);
    const part = event.shiftKey ? 4 : 1;
    const step = [width / (across ?? 1) / part, height / (down ?? 1) / part];
    // Patches are pointed at in their middles, points on the grid.
    const offset = hand === "dress" || hand === "join" || hand === "pin" ? 0.5 : 0;
    const now = aimed ?? { x: (step[0] ?? 1) * offset, y: (step[1] ?? 1) * offset };
    const x = Math.min(width, Math.max(0, now.x + (way[0] ?? 0) * (aimed ? (step[0] ?? 1) : 0)));
    const y = Math.min(height, Math.max(0, now.y + (way[1] ?? 0) * (aimed ? (step[1] ?? 1) : 0)));
    aimed = { x, y, snap: "grid", words: "" };
    const told = await hold(x, y, 0.001);
    if (told) aimed.words = told.words;
    show();
  } else if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    await press();
  } else if (event.key === "Escape") {
    begun = null;
    show();
  }
});

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const chosen = target?.closest("[data-hand]");
  if (chosen instanceof HTMLElement) {
    hand = chosen.dataset.hand ?? hand;
    begun = null;
    const pins = document.getElementById("pins");
    if (hand === "pin" && pins instanceof HTMLDetailsElement) pins.open = true;
    dressed();
  }
  const swatch = target?.closest("[data-fabric][role=radio]");
  if (swatch instanceof HTMLElement) { fabric = swatch.dataset.fabric ?? fabric; hand = "dress"; begun = null; dressed(); }
  const pin = target?.closest("[data-pin]");
  if (pin instanceof HTMLElement) {
    const what = pin.dataset.pin ?? "";
    const method = /** @type {HTMLSelectElement | null} */ (document.getElementById("pin-method"))?.value ?? "";
    if (what === "") picked = [];
    else await ask({ do: "pin", block: block(), what, patches: picked.map((p) => Number(p) + 1), method });
    showPicked();
  }
  if (target?.closest("[data-grain]")) {
    const select = /** @type {HTMLSelectElement | null} */ (document.getElementById("grain"));
    const [to, chosen] = [select?.value || null, picked];
    if (chosen.length === 0) say("Take “Pin” and press on the patches first.");
    for (const entry of chosen) {
      await ask({ do: "set", at: ["block", Number(select?.dataset.index), "patches", Number(entry), "grain"], to });
    }
  }
  const act = target?.closest("[data-act]");
  if (act instanceof HTMLElement) {
    const at = aimed ? [aimed.x, aimed.y] : null;
    if (act.dataset.act === "take-out") {
      if (at) await ask({ do: "draw", block: block(), act: "take-out", at, fabric }); else say("Aim at the placed block first.");
    } else {
      await ask({ do: "draw", block: block(), act: act.dataset.act, at: null });
    }
  }
});

document.addEventListener("change", (event) => {
  if (event.target instanceof HTMLSelectElement && event.target.id === "repeat") repeated = event.target.value;
});

document.addEventListener("submit", async (event) => {
  const form = event.target instanceof HTMLFormElement ? event.target : null;
  if (!form || !["typed", "lay", "new-block"].includes(form.id)) return;
  event.preventDefault();
  const field = (/** @type {string} */ name) => String(new FormData(form).get(name) ?? "");
  const number = (/** @type {string} */ name) => Number(field(name).replace(",", "."));
  if (form.id === "typed") {
    const inches = (/** @type {string} */ name) => number(name) / per();
    const [from, to] = [[inches("ax"), inches("ay")], [inches("bx"), inches("by")]];
    if (hand === "dress") await ask({ do: "draw", block: block(), act: "dress", at: from, fabric, repeat: repeat() });
    else await ask({ do: "draw", block: block(), act: hand, from, to, repeat: repeat() });
  } else if (form.id === "lay") {
    await ask({ do: "draw", block: block(), act: "lay", what: field("what"), at: [number("x") / per(), number("y") / per()], size: [number("w") / per(), number("h") / per()], turn: number("turn") });
  } else {
    const [across, down] = [number("across"), number("down")];
    const path = `M0 0 H${across} V${down} H0 Z`;
    const done = await ask({
      do: "add", list: "block",
      with: { name: field("name"), size: [field("width"), field("height")], grid: [across, down], patches: [{ fabric: form.dataset.fabric, path }] },
    });
    if (done) location.href = `${quilt()}/draw/${field("name")}`;
  }
});

/** Shows which hand and which fabric are chosen, after each renewal of the cloth side. */
function dressed() {
  const swatches = [...document.querySelectorAll("[data-fabric][role=radio]")].filter((s) => s instanceof HTMLElement);
  if (!swatches.some((s) => s.dataset.fabric === fabric)) fabric = swatches[0]?.dataset.fabric ?? "";
  for (const swatch of swatches) {
    const on = swatch.dataset.fabric === fabric;
    swatch.setAttribute("aria-checked", String(on));
    swatch.tabIndex = on ? 0 : -1;
  }
  for (const button of document.querySelectorAll("[data-hand]")) {
    button.setAttribute("aria-pressed", String(button instanceof HTMLElement && button.dataset.hand === hand));
  }
  const advice = document.getElementById("advice");
  const words = document.querySelector(`[data-advice="${hand}"]`)?.textContent ?? "";
  if (advice && advice.textContent !== words) advice.textContent = words;
  const select = /** @type {HTMLSelectElement | null} */ (document.getElementById("repeat"));
  if (select) select.value = repeated;
  show();
  showPicked();
}

// Arrow keys go from swatch to swatch, as among radio buttons.
document.addEventListener("keydown", (event) => {
  const swatch = event.target instanceof HTMLElement ? event.target.closest("[data-fabric][role=radio]") : null;
  const way = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
  if (!swatch || !way) return;
  event.preventDefault();
  const all = [...document.querySelectorAll("[data-fabric][role=radio]")];
  const next = all[(all.indexOf(swatch) + way + all.length) % all.length];
  if (next instanceof HTMLElement) { next.click(); next.focus(); }
});

// Numbers of patches may have changed with the drawing: what was chosen is let go.
document.addEventListener("cloth", () => { picked = []; dressed(); });
dressed();
