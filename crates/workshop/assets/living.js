// @ts-check
// The living pattern: whatever changes, the pages that changed are brought; every number answers why.
import { quilt, refresh, work } from "./wish.js";

/** @typedef {{ name: string, print: string, markup: string | null }} Leaf */
/** @typedef {{ revision: string, worked: string | null, standing: string, findings: string, leaves: Leaf[] }} Living */

/** @type {Map<string, string>} */
const kept = new Map();
/** @type {Leaf[]} */
let leaves = [];
/** The section the reader chose; until then the one the page is about. */
let chosen = "";

const pages = /** @type {HTMLElement} */ (document.getElementById("pages"));
const leaf = /** @type {HTMLSelectElement} */ (document.getElementById("leaf"));

/** All pages as they are now, by name and markup. */
export const all = () => leaves.map(({ name, print }) => ({ name, markup: kept.get(print) ?? "" }));

async function bring() {
  const response = await fetch(`${quilt()}/living?have=${[...kept.keys()].join(",")}`);
  if (!response.ok) return;
  const told = /** @type {Living} */ (await response.json());
  const standing = document.getElementById("standing");
  if (standing) standing.innerHTML = told.standing;
  const findings = document.getElementById("findings");
  if (findings && findings.innerHTML !== told.findings) findings.innerHTML = told.findings;
  leaves = told.leaves;
  const fresh = new Map();
  for (const { print, markup } of leaves) fresh.set(print, markup ?? kept.get(print) ?? "");
  kept.clear();
  for (const [print, markup] of fresh) kept.set(print, markup);
  show();
  document.dispatchEvent(new CustomEvent("pages", { detail: told.worked }));
}

function show() {
  const names = [...new Set(leaves.map(({ name }) => name))];
  const wanted = chosen || work().dataset.leaf || "";
  const options = ["*", ...names];
  if ([...leaf.options].map((o) => o.value).join("|") !== options.join("|")) {
    leaf.replaceChildren(...options.map((name) => new Option(name === "*" ? "all of them" : name.replaceAll("-", " "), name)));
  }
  leaf.value = options.includes(wanted) ? wanted : (names[0] ?? "*");
  const shown = leaves.filter(({ name }) => leaf.value === "*" || name === leaf.value);
  if (shown.length === 0) {
    pages.innerHTML = "<p class=\"soft\">There are no pages yet. What the checks say stands below the cloth.</p>";
    return;
  }
  const old = [...pages.querySelectorAll(":scope > .page")].map((p) => p instanceof HTMLElement ? p.dataset.print : "");
  shown.forEach(({ print }, i) => {
    if (old[i] === print) return;
    const page = document.createElement("div");
    page.className = old.length > 0 ? "page changed" : "page";
    page.dataset.print = print;
    page.innerHTML = kept.get(print) ?? "";
    const was = pages.querySelectorAll(":scope > .page")[i];
    if (was) was.replaceWith(page); else pages.append(page);
  });
  [...pages.children].filter((child) => !child.classList.contains("page")).forEach((child) => child.remove());
  [...pages.querySelectorAll(":scope > .page")].slice(shown.length).forEach((page) => page.remove());
}

leaf.addEventListener("change", () => { chosen = leaf.value; pages.replaceChildren(); show(); pages.scrollTop = 0; });

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

const events = new EventSource(`${quilt()}/events`);
events.addEventListener("changed", async (event) => {
  const { revision } = JSON.parse(/** @type {MessageEvent} */ (event).data);
  if (revision !== work().dataset.revision) {
    work().dataset.revision = revision;
    await refresh();
  }
  await bring();
});
