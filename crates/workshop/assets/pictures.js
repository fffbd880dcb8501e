// @ts-check
// Pictures brought to the workshop: of a cloth, and a photograph for its colours.
import { ask, quilt, say } from "./wish.js";

/** Sends a file's bytes; the answer, or nothing when it was refused, which is said.
 * @param {string} where @param {File} file */
export async function bring(where, file) {
  say(`Bringing ${file.name} …`);
  let response;
  try {
    response = await fetch(`${quilt()}/${where}`, { method: "POST", headers: { "content-type": "application/octet-stream" }, body: file });
  } catch {
    say("The workshop did not take this picture: it is too large, or the program has been ended.");
    return null;
  }
  const told = await response.json().catch(() => ({ words: "This picture was not taken: at most 24 million bytes." }));
  say(response.ok ? "" : told.words);
  return response.ok ? told : null;
}

/** @typedef {{ color: string, words: string, share: number }} MainColour */
/** @type {MainColour[]} */
let colours = [];
/** Whose colour one pressed becomes. */
let whose = "0";

function showColours() {
  const holder = document.getElementById("photo-colours");
  const select = /** @type {HTMLSelectElement | null} */ (document.getElementById("photo-for"));
  if (!holder || !select) return;
  if ([...select.options].some((option) => option.value === whose)) select.value = whose;
  const picture = (/** @type {string} */ color) => `<svg class="chip" viewBox="0 0 10 10" aria-hidden="true"><rect width="10" height="10" fill="${color}"/></svg>`;
  holder.replaceChildren(...colours.map(({ color, words, share }) => {
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.colour = color;
    button.innerHTML = picture(color);
    button.append(` ${words}, ${Math.max(1, Math.round(share * 100))} %`);
    return button;
  }));
}

document.addEventListener("change", async (event) => {
  const input = event.target;
  if (input instanceof HTMLSelectElement && input.id === "photo-for") { whose = input.value; return; }
  if (!(input instanceof HTMLInputElement) || input.type !== "file") return;
  const file = input.files?.[0];
  if (!file) return;
  if (input.dataset.picture) {
    const told = await bring(`pictures?of=${encodeURIComponent(input.dataset.picture)}`, file);
    if (told) await ask({ do: "set", at: JSON.parse(input.dataset.image ?? "[]"), to: told.picture });
  } else if (input.id === "photo") {
    const told = await bring("colours", file);
    if (!told) return;
    colours = told.colours;
    showColours();
    if (colours.length === 0) say("This picture has no colours.");
  }
});

document.addEventListener("click", async (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-colour]") : null;
  const select = /** @type {HTMLSelectElement | null} */ (document.getElementById("photo-for"));
  if (!(button instanceof HTMLElement) || !select) return;
  const color = button.dataset.colour ?? "";
  if (select.value === "new") {
    const taken = new Set([...document.querySelectorAll("fieldset.fabric")].map((f) => f instanceof HTMLElement ? f.dataset.name : ""));
    let n = 1;
    while (taken.has(`cloth-${n}`)) n += 1;
    const label = colours.find((c) => c.color === color)?.words ?? "New cloth";
    await ask({ do: "add", list: "fabric", with: { name: `cloth-${n}`, label, color } });
  } else {
    await ask({ do: "set", at: ["fabric", Number(select.value), "color"], to: color });
  }
});

document.addEventListener("cloth", showColours);
