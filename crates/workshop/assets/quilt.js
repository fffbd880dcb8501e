// @ts-check
// The layout's cells: a block is chosen and laid, turned, flipped, swapped.
import { ask } from "./wish.js";

let deed = "put";
let chosen = "";
/** @type {{ row: number, column: number } | null} */
let held = null;

const first = () => document.querySelector("[data-lay]");

function dressed() {
  const lay = first();
  if (chosen === "" && lay instanceof HTMLElement) chosen = lay.dataset.lay ?? "";
  for (const button of document.querySelectorAll("[data-cell]")) {
    button.setAttribute("aria-pressed", String(button instanceof HTMLElement && button.dataset.cell === deed));
  }
  for (const button of document.querySelectorAll("[data-lay]")) {
    button.setAttribute("aria-pressed", String(button instanceof HTMLElement && button.dataset.lay === chosen));
  }
}

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const hand = target?.closest("[data-cell]");
  if (hand instanceof HTMLElement) { deed = hand.dataset.cell ?? deed; held = null; dressed(); }
  const lay = target?.closest("[data-lay]");
  if (lay instanceof HTMLElement) { chosen = lay.dataset.lay ?? chosen; deed = "put"; held = null; dressed(); }
  const fill = target?.closest("[data-fill]");
  if (fill instanceof HTMLElement) {
    const cells = fill.dataset.fill === "turns" ? [chosen, `${chosen}@90`] : [chosen];
    await ask({ do: "cells", act: "fill", cells });
  }
  const cell = target?.closest("[data-row]");
  if (!(cell instanceof HTMLElement)) return;
  const [row, column] = [Number(cell.dataset.row), Number(cell.dataset.column)];
  if (deed === "put") await ask({ do: "cells", act: "put", row, column, cell: chosen });
  else if (deed === "empty") await ask({ do: "cells", act: "put", row, column, cell: "" });
  else if (deed === "swap") {
    if (!held) { held = { row, column }; cell.classList.add("held"); return; }
    await ask({ do: "cells", act: "swap", row: held.row, column: held.column, with_row: row, with_column: column });
    held = null;
  } else await ask({ do: "cells", act: deed, row, column });
});

document.addEventListener("submit", async (event) => {
  const form = event.target instanceof HTMLFormElement ? event.target : null;
  if (form?.id !== "size-of-cells") return;
  event.preventDefault();
  const data = new FormData(form);
  await ask({ do: "cells", act: "size", rows: Number(data.get("rows")), columns: Number(data.get("columns")) });
});

document.addEventListener("keydown", (event) => {
  const cell = event.target instanceof HTMLElement ? event.target.closest("[data-row]") : null;
  const way = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] }[event.key];
  if (!(cell instanceof HTMLElement) || !way) return;
  event.preventDefault();
  const [row, column] = [Number(cell.dataset.row) + (way[0] ?? 0), Number(cell.dataset.column) + (way[1] ?? 0)];
  const next = document.querySelector(`[data-row="${row}"][data-column="${column}"]`);
  if (next instanceof HTMLElement) { cell.tabIndex = -1; next.tabIndex = 0; next.focus(); }
});

document.addEventListener("cloth", dressed);
dressed();
