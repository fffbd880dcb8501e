// @ts-check
// The designer's words beside the step they belong to: each place of the living pages opens its own.
import { ask, quilt, say, work, refresh } from "./wish.js";

const panel = /** @type {HTMLDialogElement} */ (document.getElementById("words"));
/** The place that is open. */
let open = { at: "", steps: "" };

function mark() {
  for (const spot of document.querySelectorAll("#pages .spot:empty")) {
    if (!(spot instanceof HTMLElement)) continue;
    const { spot: at = "", steps = "" } = spot.dataset;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "words-here";
    button.textContent = "Your words";
    const step = steps.split(",").at(-1);
    const about = at === "" ? "for the whole quilt" : `at ${at.replace("/", ", unit ")}${step ? `, step ${step}` : ""}`;
    button.setAttribute("aria-label", `Your words ${about}`);
    spot.append(button);
  }
}

async function fill() {
  const response = await fetch(`${quilt()}/words?${new URLSearchParams(open)}`);
  if (!response.ok) return;
  panel.innerHTML = await response.text();
  panel.setAttribute("aria-labelledby", "words-title");
  panel.querySelector("h2")?.setAttribute("id", "words-title");
}

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const spot = target?.closest(".spot");
  if (spot instanceof HTMLElement) {
    open = { at: spot.dataset.spot ?? "", steps: spot.dataset.steps ?? "" };
    await fill();
    panel.showModal();
    panel.querySelector("textarea")?.focus();
  }
  if (target?.closest("[data-close]")) panel.close();
});

// The pages were perhaps renewed while the words were open: the hand goes back to where it came from.
panel.addEventListener("close", () => {
  const spot = document.querySelector(`.spot[data-spot="${CSS.escape(open.at)}"][data-steps="${CSS.escape(open.steps)}"] button`);
  if (spot instanceof HTMLElement) spot.focus({ preventScroll: true });
});

panel.addEventListener("change", async (event) => {
  const control = event.target;
  if (control instanceof HTMLTextAreaElement && control.dataset.say !== undefined) {
    const text = control.value.trim();
    if (text !== "" && await ask({ do: "add", list: "say", with: { at: control.dataset.say, text } })) await again();
  }
  if (control instanceof HTMLInputElement && control.dataset.photo !== undefined) await upload(control);
});

/** Fills the panel anew; the hand stays on the control it was on. */
async function again() {
  const held = document.activeElement;
  const way = held instanceof HTMLElement && panel.contains(held)
    ? held.id ? `#${held.id}` : held.dataset.at ? `[data-at="${CSS.escape(held.dataset.at)}"]` : "[data-close]" : null;
  await fill();
  const next = way ? panel.querySelector(way) ?? panel.querySelector("[data-close]") : null;
  if (next instanceof HTMLElement) next.focus();
}

/** @param {HTMLInputElement} control */
async function upload(control) {
  const file = control.files?.[0];
  if (!file) return;
  const label = control.closest("label");
  label?.querySelector(".said")?.remove();
  let told = { code: "", words: "The workshop does not answer: the program may have been ended. Start it again and go on." };
  try {
    const query = new URLSearchParams({ base: work().dataset.revision ?? "" });
    const response = await fetch(`${quilt()}/photo/${control.dataset.photo}?${query}`, {
      method: "POST", headers: { "content-type": "application/octet-stream" }, body: file,
    });
    told = await response.json().catch(() => ({ code: "", words: "That did not work." }));
    if (response.ok) {
      work().dataset.revision = /** @type {{ revision: string }} */ (/** @type {unknown} */ (told)).revision;
      say("");
      await refresh();
      await again();
      return;
    }
  } catch { /* said below */ }
  const said = document.createElement("span");
  said.className = "said";
  said.setAttribute("role", "alert");
  said.textContent = told.words;
  label?.append(said);
  if (told.code === "changed-meanwhile") await refresh();
}

// The places' buttons are there as soon as the pages are, before the drawings: the hand may want to go back to one.
document.addEventListener("shown", mark);
// Undone, or changed in another window, or taken away by a press: what is open shows it.
document.addEventListener("pages", () => { if (panel.open && !panel.contains(document.activeElement)) void again(); });
panel.addEventListener("click", (event) => {
  if (event.target instanceof Element && event.target.closest("[data-wish]")) document.addEventListener("pages", () => void again(), { once: true });
});
document.getElementById("leaf")?.addEventListener("change", () => queueMicrotask(mark));
mark();
