// @ts-check
// How the quilt is shown: in colour, in grey, as lines, as seen without one of the eye's colours; nearer, farther, at real size.

/** Width of a bank card, millimetres (ISO/IEC 7810, ID-1). */
const BANK_CARD = 85.6;

// Colours as seen without one kind of cone, on linear sRGB: "A physiologically-based model for simulation of color vision
// deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), severity 1.0; as on the booklet's page.
const SEEN = {
  "no-red": [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  "no-green": [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  "no-blue": [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
};

function lenses() {
  if (document.getElementById("lenses")) return;
  const lens = Object.entries(SEEN).map(([id, m]) =>
    `<filter id="${id}" color-interpolation-filters="linearRGB"><feColorMatrix type="matrix" values="${[0, 1, 2]
      .map((r) => `${m.slice(r * 3, r * 3 + 3).join(" ")} 0 0`).join(" ")} 0 0 0 1 0"/></filter>`);
  const holder = document.createElement("div");
  holder.id = "lenses";
  holder.hidden = false;
  holder.innerHTML = `<svg width="0" height="0" aria-hidden="true">${lens.join("")}</svg>`;
  document.body.append(holder);
}

let view = "";
let zoom = 1;
let real = 0;

function show() {
  const top = /** @type {SVGSVGElement | null} */ (/** @type {unknown} */ (document.getElementById("top")));
  const select = /** @type {HTMLSelectElement | null} */ (document.getElementById("view"));
  if (!top || !select) return;
  lenses();
  select.value = view;
  top.setAttribute("class", `board${view === "" ? "" : ` view-${view}`}`);
  const width = Number(top.dataset.width);
  if (real > 0) {
    top.style.width = `${width * real}px`;
    top.style.maxHeight = "none";
  } else {
    top.style.width = `${zoom * 100}%`;
    top.style.maxHeight = zoom === 1 ? "" : "none";
  }
}

/** Pixels to an inch on this screen, measured once with a bank card laid on it: a card is drawn that is made as wide. */
function measured() {
  const kept = Number(localStorage.getItem("pixels-per-inch"));
  if (kept > 0) { real = kept; show(); return; }
  const asked = document.createElement("dialog");
  asked.className = "card";
  asked.innerHTML = `<form method="dialog"><h2>Real size</h2>
    <p>Lay a bank card on the screen and make this one as wide.</p>
    <div class="bank-card" aria-hidden="true"></div>
    <label>Width of the card on the screen <input type="range" min="150" max="900" value="${Math.round(BANK_CARD / 25.4 * 96)}"></label>
    <button value="ok">It is as wide</button> <button value="">Leave it</button></form>`;
  const range = /** @type {HTMLInputElement} */ (asked.querySelector("input"));
  const card = /** @type {HTMLElement} */ (asked.querySelector(".bank-card"));
  const draw = () => { card.style.width = `${range.value}px`; card.style.height = `${Number(range.value) * 53.98 / BANK_CARD}px`; };
  range.addEventListener("input", draw);
  asked.addEventListener("close", () => {
    if (asked.returnValue === "ok") {
      real = Number(range.value) / (BANK_CARD / 25.4);
      localStorage.setItem("pixels-per-inch", String(real));
      show();
    }
    asked.remove();
  });
  document.body.append(asked);
  draw();
  asked.showModal();
}

document.addEventListener("change", (event) => {
  if (event.target instanceof HTMLSelectElement && event.target.id === "view") { view = event.target.value; show(); }
});

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-zoom]") : null;
  if (!(button instanceof HTMLElement)) return;
  real = 0;
  if (button.dataset.zoom === "in") zoom = Math.min(8, zoom * 1.4);
  else if (button.dataset.zoom === "out") zoom = Math.max(0.25, zoom / 1.4);
  else if (button.dataset.zoom === "fit") zoom = 1;
  else { measured(); return; }
  show();
});

document.addEventListener("cloth", show);
show();
