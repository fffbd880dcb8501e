// @ts-check
// Watch it sewn: each piece goes from where it lay to where the virtual table put it.
import { makings } from "./living.js";
import { STILL, between, carried, over } from "./placement.js";
import { quilt } from "./wish.js";

/** @typedef {import("./placement.js").Placement} Placement */
/** @typedef {[number, number, number, number]} Ends */
/** @typedef {{ n: number, cloth: string, wrong: boolean, above: boolean, d: string }} Cloth */
/** @typedef {{ words: string, gone: number[], set: Cloth[], moved: { pieces: number[], from: Placement[] }[], sewn: Ends[], stitches: Ends[],
 *   marks: Ends[], cuts: Ends[], waste: string[], pressed: Ends[], paper: { d: string, lines: Ends[] } | null }} Shot */
/** @typedef {{ title: string, view: Ends, shots: Shot[] }} Film */
/** @typedef {{ ms: number, run: (share: number) => void }} Phase */

const SVG = "http://www.w3.org/2000/svg";
const [INK, SOFT, THREAD] = ["#22262E", "#5B616B", "#A8322A"];
/** How long things take at a plain pace, milliseconds; stitching for each inch. */
const TAKES = { look: 400, move: 900, cut: 700, fade: 450, inch: 110, leastSeam: 500, longestSeam: 2600, rest: 600, read: 2600 };

const still = matchMedia("(prefers-reduced-motion: reduce)");
/** @type {Film | null} */
let film = null;
/** What lies on the stage after each shot, as far as it was asked for.
 * @type {Map<number, Cloth>[]} */
let states = [];
let at = 0;
let playing = false;
/** Counts up whenever what runs is to stop. */
let run = 0;
let shown = "";
/** What part of the table is looked at: left, top, width, height.
 * @type {Ends | null} */
let looked = null;

/** @template {Element} T @param {string} id @returns {T} */
const the = (id) => /** @type {T} */ (/** @type {unknown} */ (document.getElementById(id)));
const pace = () => Number(/** @type {HTMLSelectElement} */ (the("pace")).value) || 1;

/** @param {string} name @param {Record<string, string | number>} attributes @param {Element=} into */
function made(name, attributes, into) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  into?.append(element);
  return element;
}

/** What lies on the stage after a shot.
 * @param {number} shot @returns {Map<number, Cloth>} */
function after(shot) {
  for (let i = states.length; i <= shot; i += 1) {
    const state = new Map(states[i - 1] ?? []);
    for (const n of film?.shots[i]?.gone ?? []) state.delete(n);
    for (const cloth of film?.shots[i]?.set ?? []) state.set(cloth.n, cloth);
    states.push(state);
  }
  return states[shot] ?? new Map();
}

/** Cloth drawn: all of one colour and side as one path, since that is drawn far faster.
 * @param {Cloth[]} cloths @param {Element} into @param {boolean=} turned the other side of each */
function drawn(cloths, into, turned = false) {
  /** @type {Map<string, string>} */
  const paths = new Map();
  for (const { cloth, wrong, d } of cloths) {
    const key = `${cloth}${wrong !== turned ? "-wrong" : ""}`;
    paths.set(key, (paths.get(key) ?? "") + d);
  }
  for (const [key, d] of paths) {
    made("path", { d, fill: `var(--${key})`, stroke: INK, "stroke-width": 1, "stroke-linejoin": "round", "vector-effect": "non-scaling-stroke" }, into);
    if (key.endsWith("-wrong")) made("path", { d, fill: "url(#slanting)" }, into);
  }
}

/** @param {Ends[]} all */
const lines = (all) => all.map(([x1, y1, x2, y2]) => `M${x1} ${y1}L${x2} ${y2}`).join("");
const STITCH = { fill: "none", stroke: THREAD, "stroke-width": 2.4, "stroke-dasharray": "6 4", "vector-effect": "non-scaling-stroke" };
const CUT = { fill: "none", stroke: INK, "stroke-width": 1.8, "stroke-dasharray": "12 4 2 4", "vector-effect": "non-scaling-stroke" };

/** Lines that grow one after another from their beginnings.
 * @param {Ends[]} all @param {Record<string, string | number>} look @param {Element} into @returns {(share: number) => void} */
function growing(all, look, into) {
  const long = all.map(([x1, y1, x2, y2]) => Math.hypot(x2 - x1, y2 - y1));
  const whole = long.reduce((sum, l) => sum + l, 0);
  const paths = all.map(() => made("path", { ...look, d: "" }, into));
  return (share) => {
    let left = whole * share;
    all.forEach(([x1, y1, x2, y2], i) => {
      const part = long[i] ? Math.max(0, Math.min(1, left / long[i])) : share;
      left -= long[i] ?? 0;
      paths[i]?.setAttribute("d", part > 0 ? `M${x1} ${y1}L${x1 + (x2 - x1) * part} ${y1 + (y2 - y1) * part}` : "");
    });
  };
}

/** An outlined arrow of a length, from where a way begins.
 * @param {Ends} way @param {number} long */
function arrow([x, y, toX, toY], long) {
  const far = Math.hypot(toX - x, toY - y) || 1;
  const [u, v] = [(toX - x) / far * long, (toY - y) / far * long];
  const corners = /** @type {[number, number][]} */ ([[0, -0.14], [0.55, -0.14], [0.55, -0.36], [1, 0], [0.55, 0.36], [0.55, 0.14], [0, 0.14]]);
  return `M${corners.map(([along, across]) => `${x + u * along - v * across} ${y + v * along + u * across}`).join("L")}Z`;
}

/** The middle of path data's corners.
 * @param {Cloth[]} cloths @returns {[number, number]} */
function middle(cloths) {
  const numbers = cloths.flatMap(({ d }) => (d.match(/-?[\d.]+/g) ?? []).map(Number));
  const [xs, ys] = [numbers.filter((_, i) => i % 2 === 0), numbers.filter((_, i) => i % 2 === 1)];
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

/** The corners of path data, carried by a placement: least and greatest.
 * @param {string} d @param {Placement} place @returns {Ends} */
function box(d, place) {
  const numbers = (d.match(/-?[\d.]+/g) ?? []).map(Number);
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i + 1 < numbers.length; i += 2) {
    const [x, y] = carried(place, [numbers[i] ?? 0, numbers[i + 1] ?? 0]);
    [left, top, right, bottom] = [Math.min(left, x), Math.min(top, y), Math.max(right, x), Math.max(bottom, y)];
  }
  return [left, top, right, bottom];
}

/** @param {Ends} a @param {Ends} b @returns {Ends} */
const both = (a, b) => [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
/** @param {Ends} a @param {Ends} b */
const meet = (a, b) => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

/** What to look at in a shot: what it touches, where that comes from and what it comes to lie on. A shot that touches nothing is
 * seen as the one before.
 * @param {number} number @returns {Ends} */
function sight(number) {
  const shot = film?.shots[number];
  const state = after(number);
  /** @type {Ends[]} */
  const boxes = [];
  if (number === 0) for (const { d } of state.values()) boxes.push(box(d, STILL));
  const from = new Map(shot?.moved.flatMap(({ pieces, from }) => pieces.map((n) => [n, from])));
  const touched = new Set([...from.keys(), ...(shot?.set ?? []).map(({ n }) => n)]);
  /** @type {Ends[]} */
  const ends = [];
  for (const n of touched) {
    const d = state.get(n)?.d;
    if (!d) continue;
    ends.push(box(d, STILL));
    for (const place of from.get(n) ?? []) boxes.push(box(d, place));
  }
  if (ends.length > 0) {
    const lying = ends.reduce(both);
    boxes.push(lying);
    for (const { n, d } of state.values()) if (!touched.has(n) && meet(box(d, STILL), lying)) boxes.push(box(d, STILL));
  }
  if (shot?.paper) boxes.push(box(shot.paper.d, STILL));
  if (boxes.length === 0) return number > 0 ? sight(number - 1) : film?.view ?? [0, 0, 1, 1];
  const [left, top, right, bottom] = boxes.reduce(both);
  const edge = Math.max(right - left, bottom - top) * 0.05;
  return [left - edge, top - edge, right - left + 2 * edge, bottom - top + 2 * edge];
}

/** Sets the stage for a shot, as it is at its beginning, and says what then happens.
 * @param {number} number @returns {Phase[]} */
function set(number) {
  const stage = the("step");
  const shot = film?.shots[number];
  if (!film || !shot) { stage.replaceChildren(); return []; }
  const [now, before] = [after(number), number > 0 ? after(number - 1) : new Map()];
  const to = sight(number);
  const was = looked ?? to;
  const [, , w, h] = to;
  const svg = made("svg", { viewBox: to.join(" "), role: "img", "aria-label": shot.words, "data-shot": number });
  const apart = Math.max(w, h) / 60;
  const slanting = made("pattern", { id: "slanting", width: apart, height: apart, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, made("defs", {}, svg));
  made("path", { d: `M0 0V${apart}`, stroke: INK, "stroke-opacity": 0.3, "stroke-width": apart / 9 }, slanting);
  if (shot.paper) {
    made("path", { d: shot.paper.d, fill: "#FFFFFF", stroke: SOFT, "stroke-width": 1, "vector-effect": "non-scaling-stroke" }, svg);
  }
  const moving = new Set(shot.moved.flatMap(({ pieces }) => pieces));
  const fresh = new Map(shot.set.map((cloth) => [cloth.n, cloth]));
  const leaving = made("g", {}, svg);
  const old = [...before.values()].filter((cloth) => !moving.has(cloth.n) && (!now.has(cloth.n) || (fresh.get(cloth.n)?.d ?? cloth.d) !== cloth.d));
  drawn(old.filter((cloth) => !cloth.above), leaving);
  drawn(old.filter((cloth) => cloth.above), leaving);
  const lying = [...now.values()].filter((cloth) => !moving.has(cloth.n));
  const [flat, above] = [lying.filter((cloth) => !cloth.above), lying.filter((cloth) => cloth.above)];
  drawn(flat, made("g", {}, svg));
  drawn(above, made("g", {}, svg));
  if (above.length > 0 || shot.moved.some(({ pieces }) => pieces.some((n) => now.get(n)?.above))) {
    // The edges of what lies beneath show through, thinly.
    const hidden = flat.map(({ d }) => d).join("");
    made("path", { d: hidden, fill: "none", stroke: SOFT, "stroke-width": 0.6, "vector-effect": "non-scaling-stroke", class: "hidden-edges" }, svg);
  }
  if (shot.paper) {
    made("path", { d: lines(shot.paper.lines), fill: "none", stroke: SOFT, "stroke-width": 1, "vector-effect": "non-scaling-stroke" }, svg);
  }
  const movers = shot.moved.map(({ pieces, from }) => {
    const cloths = pieces.flatMap((n) => now.get(n) ?? []);
    const group = made("g", { class: "moving" }, svg);
    const [right, wrong] = [made("g", {}, group), made("g", { display: "none" }, group)];
    drawn(cloths, right);
    drawn(cloths, wrong, true);
    return { group, sides: [right, wrong], way: [...from, STILL], middle: middle(cloths) };
  });
  const waste = made("g", {}, svg);
  for (const d of shot.waste) {
    made("path", { d, fill: "#FFFFFF", stroke: SOFT, "stroke-width": 1, "vector-effect": "non-scaling-stroke" }, waste);
    made("path", { d, fill: "url(#slanting)" }, waste);
  }
  for (const [x1, y1, x2, y2] of shot.marks) {
    if (x1 === x2 && y1 === y2) made("circle", { cx: x1, cy: y1, r: apart / 4, fill: INK, stroke: "#FFFFFF", "stroke-width": 1, "vector-effect": "non-scaling-stroke" }, svg);
    // On a pale ground of its own, so that it is seen on dark cloth.
    else for (const pen of [{ stroke: "#FFFFFF", "stroke-width": 3.2, "stroke-dasharray": "none", opacity: 0.8 }, { stroke: INK, "stroke-width": 1.6, "stroke-dasharray": "1 4", opacity: 1 }]) {
      made("path", { d: lines([[x1, y1, x2, y2]]), fill: "none", "stroke-linecap": "round", "vector-effect": "non-scaling-stroke", ...pen }, svg);
    }
  }
  const sewn = new Set(shot.sewn.map(String));
  const stitched = made("path", { ...STITCH, d: lines(shot.stitches.filter((s) => !sewn.has(String(s)))) }, svg);
  const cutting = growing(shot.cuts, CUT, svg);
  const sewing = growing(shot.sewn, STITCH, svg);
  const pressed = made("g", {}, svg);
  for (const way of shot.pressed) {
    made("path", { d: arrow(way, apart * 4), fill: "#FFFFFF", stroke: INK, "stroke-width": 1.2, "stroke-linejoin": "round", "vector-effect": "non-scaling-stroke" }, pressed);
  }
  stage.replaceChildren(svg);

  /** @type {Phase[]} */
  const phases = [];
  const look = (/** @type {number} */ share) => {
    looked = /** @type {Ends} */ (to.map((end, i) => (was[i] ?? end) + (end - (was[i] ?? end)) * share));
    svg.setAttribute("viewBox", looked.join(" "));
  };
  if (was.some((place, i) => Math.abs(place - (to[i] ?? 0)) > 1e-6)) phases.push({ ms: TAKES.look, run: look });
  else looked = to;
  if (shot.cuts.length > 0) phases.push({ ms: TAKES.cut, run: cutting });
  const legs = Math.max(0, ...movers.map(({ way }) => way.length - 1));
  if (movers.length > 0 && shot.cuts.length > 0) stitched.setAttribute("opacity", "0");
  for (let leg = 0; leg < legs; leg += 1) {
    phases.push({
      ms: TAKES.move,
      run: (share) => {
        for (const { group, sides, way, middle } of movers) {
          const first = Math.min(leg, way.length - 2);
          // Those with a shorter way wait at its end.
          const part = leg > way.length - 2 ? 1 : share;
          const { at: place, shown: side } = between(way[first] ?? STILL, way[first + 1] ?? STILL, middle, part);
          group.setAttribute("transform", `matrix(${place.join(" ")})`);
          sides[0]?.setAttribute("display", over(side) ? "none" : "inline");
          sides[1]?.setAttribute("display", over(side) ? "inline" : "none");
        }
        if (leg === legs - 1 && share === 1) stitched.setAttribute("opacity", "1");
      },
    });
  }
  if (shot.sewn.length > 0) {
    const inches = shot.sewn.reduce((sum, [x1, y1, x2, y2]) => sum + Math.hypot(x2 - x1, y2 - y1), 0);
    phases.push({ ms: Math.min(TAKES.longestSeam, TAKES.leastSeam + TAKES.inch * inches), run: sewing });
  }
  if (shot.pressed.length > 0) phases.push({ ms: TAKES.fade, run: (share) => pressed.setAttribute("opacity", String(share)) });
  if (old.length > 0 || shot.waste.length > 0) {
    phases.push({ ms: TAKES.fade, run: (share) => { for (const group of [leaving, waste]) group.setAttribute("opacity", String(1 - share)); } });
  }
  // The last first, so that what moves several times begins with its first way.
  [...phases].reverse().forEach(({ run: go }) => go(0));
  return phases;
}

function told() {
  const shot = film?.shots[at];
  const last = (film?.shots.length ?? 1) - 1;
  the("step-count").textContent = at === 0 ? `${last} ${last === 1 ? "step" : "steps"}` : `${at} of ${last}`;
  const words = the("step-words");
  if (shot && words.textContent !== shot.words) words.textContent = shot.words;
}

/** Shows how all lies after a shot, at once. */
function finished() {
  run += 1;
  const phases = set(at);
  phases.forEach(({ run: go }) => go(1));
  told();
}

/** Lets a shot happen; false when something else came in between.
 * @param {number} number @returns {Promise<boolean>} */
async function happen(number) {
  run += 1;
  const mine = run;
  at = number;
  told();
  const phases = set(number);
  for (const { ms, run: go } of phases) {
    if (still.matches) { go(1); continue; }
    let began = 0;
    let done = 0;
    while (done < 1) {
      const now = await new Promise((resolve) => requestAnimationFrame(resolve));
      if (mine !== run) return false;
      done = Math.min(1, done + (began ? (now - began) * pace() / ms : 0));
      began = now;
      // Slowly away and slowly in.
      go(done * done * (3 - 2 * done));
    }
  }
  return mine === run;
}

/** @param {number} ms */
const rest = (ms) => new Promise((resolve) => setTimeout(resolve, ms / pace()));

function stop() {
  playing = false;
  document.querySelector("[data-step=play]")?.setAttribute("aria-pressed", "false");
}

async function play() {
  const last = (film?.shots.length ?? 1) - 1;
  if (last < 1) return;
  playing = true;
  document.querySelector("[data-step=play]")?.setAttribute("aria-pressed", "true");
  if (at >= last) at = 0;
  while (playing && at < last) {
    if (!await happen(at + 1)) return;
    await rest(still.matches ? TAKES.read : TAKES.rest);
  }
  stop();
}

/** @param {"back" | "on" | "play" | "first" | "last"} deed */
function go(deed) {
  const last = (film?.shots.length ?? 1) - 1;
  the("step").scrollIntoView({ block: "nearest" });
  if (deed === "play") {
    if (playing) { stop(); finished(); } else void play();
    return;
  }
  stop();
  if (deed === "on" && at < last) { void happen(at + 1); return; }
  at = { back: Math.max(0, at - 1), first: 0, last, on: last }[deed];
  finished();
}

async function bring() {
  const number = /** @type {HTMLSelectElement} */ (the("making")).value;
  stop();
  run += 1;
  const strip = the("strip");
  strip.setAttribute("href", `${quilt()}/strip/${number}`);
  strip.toggleAttribute("hidden", number === "");
  const response = number === "" ? null : await fetch(`${quilt()}/sewn/${number}`);
  if (number !== /** @type {HTMLSelectElement} */ (the("making")).value) return;
  states = [];
  looked = null;
  film = response?.ok ? /** @type {Film} */ (await response.json()) : null;
  at = Math.min(at, (film?.shots.length ?? 1) - 1);
  if (film) { finished(); return; }
  the("step").replaceChildren();
  the("step-count").textContent = "";
  the("step-words").textContent = number === ""
    ? "There is nothing to watch yet."
    : "This unit has more pieces than a screen can play; its pages show it step by step.";
}

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-step]") : null;
  if (button instanceof HTMLElement) go(/** @type {"back" | "on" | "play"} */ (button.dataset.step ?? "on"));
});

document.addEventListener("keydown", (event) => {
  if (!(event.target instanceof Element) || event.target.id !== "step") return;
  const deed = /** @type {const} */ ({ ArrowRight: "on", ArrowLeft: "back", " ": "play", Home: "first", End: "last" })[event.key];
  if (!deed) return;
  event.preventDefault();
  go(deed);
});

the("making").addEventListener("change", () => { at = 0; void bring(); });

document.addEventListener("pages", (event) => {
  const making = /** @type {HTMLSelectElement} */ (the("making"));
  const revision = /** @type {CustomEvent} */ (event).detail;
  if (revision === shown) return;
  shown = revision;
  const chosen = making.value;
  if (making.innerHTML !== makings()) making.innerHTML = makings();
  if ([...making.options].some((option) => option.value === chosen)) making.value = chosen;
  void bring();
});
