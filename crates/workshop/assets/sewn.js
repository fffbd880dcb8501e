// @ts-check
// Watch it sewn: the steps of the pages one by one, forward and back.
import { all } from "./living.js";

/** @type {{ of: string, markup: string }[]} */
let steps = [];
let at = -1;
let playing = 0;

function gather() {
  const found = [];
  for (const { name, markup } of all()) {
    if (name === "cutting") continue;
    const page = document.createElement("template");
    page.innerHTML = markup;
    let of = name;
    for (const element of page.content.querySelectorAll("h2, h3, h4, .step")) {
      if (element.classList.contains("step")) {
        if (element.querySelector("svg")) found.push({ of, markup: element.innerHTML });
      } else of = element.querySelector("span")?.textContent ?? element.textContent ?? name;
    }
  }
  steps = found;
  if (at >= steps.length) at = steps.length - 1;
  show();
}

function show() {
  const stage = document.getElementById("step");
  const count = document.getElementById("step-count");
  if (!stage || !count) return;
  const step = steps[at];
  count.textContent = step ? `${at + 1} of ${steps.length}` : `${steps.length} steps`;
  if (!step) return;
  stage.innerHTML = step.markup;
  const of = document.createElement("p");
  of.className = "of";
  of.textContent = step.of;
  stage.prepend(of);
}

function stop() {
  clearInterval(playing);
  playing = 0;
  document.querySelector("[data-step=play]")?.setAttribute("aria-pressed", "false");
}

/** @param {number} way */
function go(way) {
  const next = at + way;
  if (next < 0 || next >= steps.length) { stop(); return; }
  at = next;
  show();
}

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-step]") : null;
  if (!(button instanceof HTMLElement)) return;
  if (button.dataset.step === "on") { stop(); go(1); }
  else if (button.dataset.step === "back") { stop(); go(-1); }
  else if (playing) stop();
  else {
    button.setAttribute("aria-pressed", "true");
    playing = setInterval(() => go(1), 2500);
    go(1);
  }
});

document.addEventListener("pages", gather);
