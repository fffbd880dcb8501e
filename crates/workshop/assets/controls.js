// @ts-check
// A control changed is a value set in the file; what is wrong with it is said beside it.
import { ask } from "./wish.js";

/** What was typed, as the file keeps it; nothing typed takes the value away.
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} control */
function value(control) {
  if (control.dataset.kind === "members") {
    const all = [...document.querySelectorAll(`[data-kind=members][data-at='${control.dataset.at}']`)];
    const within = all.filter((one) => one instanceof HTMLInputElement && one.checked).map((one) => one instanceof HTMLElement ? one.dataset.value : "");
    return within.length > 0 ? within : null;
  }
  if (control instanceof HTMLInputElement && control.type === "checkbox") return control.checked;
  const text = control.value.trim();
  if (text === "") return null;
  const both = text.split(/\s*[×x;]\s*/).filter((part) => part !== "");
  const number = (/** @type {string} */ part) => (Number.isFinite(Number(part)) ? Number(part) : part);
  switch (control.dataset.kind) {
    case "number": return number(text.replace(",", "."));
    case "numbers": return both.length > 1 ? both.map(number) : number(text);
    case "names": return text.split(/[\s,;×]+/).filter((name) => name !== "");
    case "lengths": return both.length > 1 ? both : text;
    default: return text;
  }
}

document.addEventListener("change", async (event) => {
  const control = event.target;
  if (!(control instanceof HTMLInputElement || control instanceof HTMLSelectElement || control instanceof HTMLTextAreaElement)) return;
  if (!control.dataset.at) return;
  const label = control.closest("label");
  label?.querySelector(".said")?.remove();
  control.removeAttribute("aria-invalid");
  const to = value(control);
  // What must have a value goes away whole when none is left.
  const wish = to === null && control.dataset.empty ? JSON.parse(control.dataset.empty) : { do: "set", at: JSON.parse(control.dataset.at), to };
  await ask(wish, (words) => {
    control.setAttribute("aria-invalid", "true");
    // A box that may not be ticked so stays as it was; a text stays to be mended.
    if (control instanceof HTMLInputElement && control.type === "checkbox") control.checked = !control.checked;
    const said = document.createElement("span");
    said.className = "said";
    said.setAttribute("role", "alert");
    said.textContent = words;
    label?.append(said);
  });
});

document.addEventListener("submit", async (event) => {
  const form = event.target instanceof HTMLFormElement ? event.target : null;
  if (!form?.classList.contains("rename")) return;
  event.preventDefault();
  const to = String(new FormData(form).get("to") ?? "").trim();
  const done = await ask({ do: "rename", list: form.dataset.list, from: form.dataset.from, to });
  if (done && form.dataset.list === "block") location.href = location.href.replace(/[^/]*$/, to);
});
