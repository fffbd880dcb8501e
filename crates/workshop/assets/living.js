// @ts-check
// The living pattern: whatever changes, the pages that changed are brought; every number answers why.
import { hear } from "./hear.js";
import { busy, quilt, refresh, sent, work } from "./wish.js";

/** @typedef {{ name: string, print: string, markup: string | null }} Leaf */
/** @typedef {{ revision: string, worked: string | null, whole: boolean, standing: string, working: boolean, findings: string, makings: string, colors: [string, string][] | null, leaves: Leaf[], drawings: Record<string, string> }} Living */

/** @type {Map<string, string>} */
const kept = new Map();
/** What is in the drawings that were seen, by fingerprint.
 * @type {Map<string, string>} */
const drawings = new Map();
/** Drawings kept before all are let go that are not on the page. */
const MOST_KEPT = 4000;
/** Fingerprints asked for at once: an address has an end. */
const MOST_ASKED = 150;
/** How long the pages may take before the standing says that they are worked out, milliseconds. */
const PATIENCE = 150;

/** @type {Leaf[]} */
let leaves = [];
/** The section the reader chose; until then the one the page is about. */
let chosen = "";
/** The newest request for the pages. */
let newest = 0;
/** What was brought last: the text's fingerprint, and that of the text that the pages are of. */
let brought = "";
let units = "";

/** When all the window's own scripts are there: they hear of the pages. */
const begun = new Promise((done) => {
  if (document.readyState === "complete") done(undefined);
  else document.addEventListener("DOMContentLoaded", done, { once: true });
});

/** The units that can be watched being sewn, as the choices of a list. */
export const makings = () => units;

const pages = /** @type {HTMLElement} */ (document.getElementById("pages"));
const leaf = /** @type {HTMLSelectElement} */ (document.getElementById("leaf"));

// The drawings call their colours by name: another colour is one rule changed, and no drawing.
const dyes = new CSSStyleSheet();
document.adoptedStyleSheets = [...document.adoptedStyleSheets, dyes];
let dyed = "";

/** @param {[string, string][]} colors */
function dye(colors) {
  const rule = `.pages, .step-stage { ${colors.map(([name, value]) => `--${name}: ${value};`).join(" ")} }`;
  if (rule === dyed) return;
  dyed = rule;
  dyes.replaceSync(rule);
}

async function bring() {
  newest += 1;
  const [mine, before, idle] = [newest, sent(), !busy()];
  const sight = wanted();
  const response = await fetch(`${quilt()}/living?show=${encodeURIComponent(sight)}&have=${[...kept.keys()].join(",")}`);
  if (!response.ok) return;
  const told = /** @type {Living} */ (await response.json());
  if (mine !== newest) return;
  await take(told, mine);
  speak(sight_of());
  // Another window's change, heard of while this one's hand was at work.
  if (mine === newest && idle && !busy() && before === sent() && told.revision !== work().dataset.revision) {
    work().dataset.revision = told.revision;
    await refresh();
  }
}

/** What the pages show from now on.
 * @param {Living} told @param {number} mine */
async function take(told, mine) {
  const standing = document.getElementById("standing");
  if (standing && standing.innerHTML !== told.standing) standing.innerHTML = told.standing;
  const findings = document.getElementById("findings");
  if (findings && findings.innerHTML !== told.findings) findings.innerHTML = told.findings;
  leaves = told.leaves;
  units = told.makings;
  for (const [name, inside] of Object.entries(told.drawings)) drawings.set(name, inside);
  const fresh = new Map();
  for (const { print, markup } of leaves) {
    const known = markup ?? kept.get(print);
    if (known !== undefined) fresh.set(print, known);
  }
  kept.clear();
  for (const [print, markup] of fresh) kept.set(print, markup);
  brought = `${told.revision} ${told.worked} ${told.whole}`;
  // Before anything was worked out there is nothing to show, and nothing to say that there is none.
  if (told.worked === null && told.working) return;
  await begun;
  if (mine !== newest) return;
  dye(told.colors ?? []);
  // A section that was taken for another that is not there has not been sent.
  if (!show()) { chosen = leaf.value; return bring(); }
  document.dispatchEvent(new CustomEvent("shown"));
  await draw();
  if (mine !== newest) return;
  document.dispatchEvent(new CustomEvent("pages", { detail: told.worked }));
}

/** What this window says of itself, so that it is sent what it wants. */
const sight_of = () => ({ show: wanted(), have: [...kept.keys()] });

/** The name of the section that is to be seen. */
const wanted = () => chosen || work().dataset.leaf || "";

/** The leaves of the section that is seen. */
const seen = () => leaves.filter(({ name }) => leaf.value === "*" || name === leaf.value);

/** Shows the section that is to be seen; whether it is there. */
function show() {
  const names = [...new Set(leaves.map(({ name }) => name))];
  const options = ["*", ...names];
  if ([...leaf.options].map((o) => o.value).join("|") !== options.join("|")) {
    leaf.replaceChildren(...options.map((name) => new Option(name === "*" ? "all of them" : name.replaceAll("-", " "), name)));
  }
  leaf.value = options.includes(wanted()) ? wanted() : (names[0] ?? "*");
  const shown = seen();
  if (shown.length === 0) {
    pages.innerHTML = "<p class=\"soft\">There are no pages yet. What the checks say stands below the cloth.</p>";
    return true;
  }
  if (shown.some(({ print }) => !kept.has(print))) return false;
  const old = [...pages.querySelectorAll(":scope > .page")];
  const prints = old.map((page) => page instanceof HTMLElement ? page.dataset.print : "");
  shown.forEach(({ print }, i) => {
    if (prints[i] === print) return;
    const page = document.createElement("div");
    page.className = old.length > 0 ? "page changed" : "page";
    page.dataset.print = print;
    page.innerHTML = kept.get(print) ?? "";
    const was = old[i];
    if (!was) { pages.append(page); return; }
    keep(was, page);
    was.replaceWith(page);
  });
  [...pages.children].filter((child) => !child.classList.contains("page")).forEach((child) => child.remove());
  [...pages.querySelectorAll(":scope > .page")].slice(shown.length).forEach((page) => page.remove());
  return true;
}

/** Drawings that stay as they were are moved over, not made again.
 * @param {Element} was @param {Element} page */
function keep(was, page) {
  /** @type {Map<string, Element>} */
  const there = new Map();
  for (const svg of was.querySelectorAll("svg[data-picture]")) if (svg.firstChild) there.set(svg.getAttribute("data-picture") ?? "", svg);
  for (const svg of page.querySelectorAll("svg[data-picture]")) {
    const print = svg.getAttribute("data-picture") ?? "";
    const old = there.get(print);
    if (!old) continue;
    svg.replaceChildren(...old.childNodes);
    there.delete(print);
  }
}

/** Fills the drawings that are in sight, and sees to it that the others are filled when they come near. */
async function draw() {
  const empty = [...pages.querySelectorAll("svg[data-picture]:empty")];
  const frame = pages.getBoundingClientRect();
  const [top, bottom] = [Math.max(frame.top, 0), Math.min(frame.bottom, innerHeight)];
  const near = empty.map((svg) => {
    const at = svg.getBoundingClientRect();
    return at.bottom >= top && at.top <= bottom;
  });
  nearing.disconnect();
  empty.forEach((svg, i) => { if (!near[i]) nearing.observe(svg); });
  await fill(empty.filter((_, i) => near[i]));
}

/** @param {Element[]} empty */
async function fill(empty) {
  const print = (/** @type {Element} */ svg) => svg.getAttribute("data-picture") ?? "";
  const wanted = [...new Set(empty.map(print))].filter((name) => !drawings.has(name));
  for (let i = 0; i < wanted.length; i += MOST_ASKED) {
    const response = await fetch(`${quilt()}/drawings?want=${wanted.slice(i, i + MOST_ASKED).join(",")}`);
    if (!response.ok) continue;
    if (drawings.size > MOST_KEPT) drawings.clear();
    for (const [name, inside] of Object.entries(await response.json())) drawings.set(name, inside);
  }
  for (const svg of empty) if (!svg.firstChild) svg.innerHTML = drawings.get(print(svg)) ?? "";
}

const nearing = new IntersectionObserver((entries) => {
  const come = entries.filter((entry) => entry.isIntersecting).map((entry) => entry.target);
  come.forEach((svg) => nearing.unobserve(svg));
  void fill(come);
}, /** @type {IntersectionObserverInit} */ ({ rootMargin: "1000px", scrollMargin: "1000px" }));

leaf.addEventListener("change", async () => {
  chosen = leaf.value;
  pages.replaceChildren();
  pages.scrollTop = 0;
  await bring();
});

document.addEventListener("click", async (event) => {
  const number = event.target instanceof Element ? event.target.closest("[data-why]") : null;
  if (!(number instanceof HTMLElement)) return;
  event.preventDefault();
  const response = await fetch(`${quilt()}/why/${number.dataset.why}`);
  if (!response.ok) return;
  const panel = /** @type {HTMLElement} */ (document.getElementById("why"));
  panel.innerHTML = await response.text();
  panel.showPopover();
  // Beside the number, within the window.
  const at = number.getBoundingClientRect();
  const size = panel.getBoundingClientRect();
  panel.style.inset = "auto";
  panel.style.left = `${Math.max(8, Math.min(at.left, innerWidth - size.width - 8))}px`;
  panel.style.top = `${Math.max(8, at.bottom + size.height + 8 < innerHeight ? at.bottom + 8 : at.top - size.height - 8)}px`;
});

// A finding lights up its place on the cloth.
document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-show]") : null;
  const finding = button?.closest(".finding");
  if (!(finding instanceof HTMLElement)) return;
  const block = finding.dataset.block ?? "";
  const board = document.getElementById("board");
  if (board?.dataset.block !== block) {
    location.href = `${quilt()}/draw/${block}#patches=${(finding.dataset.patches ?? "").replaceAll(" ", ",")}`;
    return;
  }
  light((finding.dataset.patches ?? "").split(" "));
  board.scrollIntoView({ block: "center" });
});

/** @param {string[]} patches */
function light(patches) {
  for (const path of document.querySelectorAll("#board .patches path")) {
    path.classList.toggle("lit", path instanceof SVGElement && patches.includes(path.dataset.entry ?? "-"));
  }
}

// What a pin is about, on the cloth.
document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-light]") : null;
  if (!(button instanceof HTMLElement)) return;
  light((button.dataset.light ?? "").split(" "));
  document.getElementById("board")?.scrollIntoView({ block: "center" });
});

const asked = /patches=([\d,]+)/.exec(location.hash);
if (asked) light((asked[1] ?? "").split(","));

let waiting = 0;
/** @typedef {{ revision: string, worked: string, whole: boolean, living?: Living }} Told */
const speak = hear(`${quilt()}/events`, async (/** @type {Told} */ { revision, worked, whole, living }) => {
  // What comes of a change is mostly there before it could be said that it is being worked out.
  clearTimeout(waiting);
  if (brought === `${revision} ${worked} ${whole}`) return;
  if (living) {
    newest += 1;
    void take(living, newest);
  } else if (worked === revision) void bring();
  else waiting = setTimeout(bring, PATIENCE);
  if (revision !== work().dataset.revision && !busy()) {
    work().dataset.revision = revision;
    await refresh();
  }
}, sight_of);
void bring();
