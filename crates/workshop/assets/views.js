// @ts-check
// How the quilt is shown: in colour, in grey, as lines, as seen without one of the eye's colours; nearer, farther, at real size.

const BANK_CARD = 85.6; // mm, ISO/IEC 7810 ID-1

// Colours as seen without one kind of cone (Viénot, Brettel and Mollon 1999, in linear light; blue after Brettel et al. 1997).
const SEEN = {
  "no-red": [0.11238, 0.88762, 0, 0.11238, 0.88762, 0, 0.00401, -0.00401, 1],
  "no-green": [0.29275, 0.70725, 0, 0.29275, 0.70725, 0, -0.02234, 0.02234, 1],
  "no-blue": [1, 0.1274, -0.1274, 0, 0.8739, 0.1261, 0, 0.8739, 0.1261],
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

/** Pixels to an inch on this screen, measured once with a bank card. */
function measured() {
  const kept = Number(localStorage.getItem("pixels-per-inch"));
  if (kept > 0) return kept;
  const told = prompt("Hold a bank card to the screen: how wide is it there? The standard card is 85.6 mm (ISO/IEC 7810). " +
    "Type how many millimetres wide a card drawn 300 pixels wide would be on your ruler, or leave it for a guess.", String(Math.round(300 / 96 * 25.4)));
  const millimetres = Number(told);
  const pixels = millimetres > 0 ? 300 / (millimetres / 25.4) : 96;
  localStorage.setItem("pixels-per-inch", String(pixels));
  return pixels;
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
  else real = measured();
  show();
});

document.addEventListener("cloth", show);
show();

export { BANK_CARD };
