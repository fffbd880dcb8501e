// @ts-check
// A drawing is brought or pasted; what would become of it is shown at every change, and it is begun when it is whole.

const form = /** @type {HTMLFormElement} */ (document.getElementById("drawing"));
const seen = /** @type {HTMLElement} */ (document.getElementById("seen"));
const notice = /** @type {HTMLElement} */ (document.getElementById("notice"));

/** @param {string} words */
function say(words) {
  notice.textContent = words;
  notice.classList.toggle("full", words !== "");
}

/** What is asked for; nothing without a drawing. */
function wanted() {
  const data = new FormData(form);
  const text = (/** @type {string} */ name) => String(data.get(name) ?? "").trim();
  const number = (/** @type {string} */ name) => (text(name) === "" ? null : Number(text(name).replace(",", ".")));
  if (text("svg") === "") return null;
  return {
    svg: text("svg"), name: text("name"), width: number("width") ?? 0, height: number("height"), across: number("across"), down: number("down"),
    page: text("page") === "yes", on_top: text("on_top") === "yes", ground: text("ground") === "yes", metric: text("metric") === "yes",
  };
}

let asked = 0;

async function look() {
  const wish = wanted();
  if (!wish) return;
  const mine = ++asked;
  seen.setAttribute("aria-busy", "true");
  const response = await fetch("/drawing/look", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(wish) }).catch(() => null);
  if (mine !== asked) return;
  seen.removeAttribute("aria-busy");
  // What was said was of the drawing before.
  if (response?.ok) { seen.innerHTML = await response.text(); say(""); }
  else say(response ? "This drawing cannot be looked at: see that every measure is a number." : "The workshop does not answer.");
}

form.addEventListener("change", async (event) => {
  const input = event.target;
  if (input instanceof HTMLInputElement && input.id === "svg-file") {
    const file = input.files?.[0];
    if (!file) return;
    if (file.size > Number(form.dataset.most)) { say("The drawing is larger than 4 million bytes. Save it without pictures in it, or only the block."); return; }
    say("");
    /** @type {HTMLTextAreaElement} */ (form.elements.namedItem("svg")).value = await file.text();
    const name = /** @type {HTMLInputElement} */ (form.elements.namedItem("name"));
    const plain = file.name.replace(/\.svg$/i, "").toLowerCase().replaceAll(/[^a-z0-9]+/g, "-").replaceAll(/^-+|-+$/g, "");
    if (name.value === "") name.value = plain;
  }
  await look();
});

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const wish = wanted();
  if (!wish) { say("Bring a drawing first, or paste one."); return; }
  const response = await fetch("/drawing/begin", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(wish) }).catch(() => null);
  if (!response) { say("The workshop does not answer."); return; }
  const told = await response.json().catch(() => ({ words: "That did not work: see that every measure is a number." }));
  if (response.ok) location.href = told.to;
  else say(told.words);
});
