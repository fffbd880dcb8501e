// @ts-check
// What the hand asks is sent; what changed comes back. One wish at a time, in the order they were made.

/** @returns {HTMLElement} */
export const work = () => /** @type {HTMLElement} */ (document.getElementById("work"));

/** @returns {string} */
export const quilt = () => `/quilts/${work().dataset.quilt}`;

let timer = 0;

/** Says something to everyone, screen readers too.
 * @param {string} words */
export function say(words) {
  const notice = /** @type {HTMLElement} */ (document.getElementById("notice"));
  notice.textContent = words;
  notice.classList.toggle("full", words !== "");
  clearTimeout(timer);
  if (words !== "") timer = setTimeout(() => say(""), 9000);
}

/** @typedef {{ revision: string, undo: string | null, redo: string | null, working: boolean }} Answer */

let sending = 0;
let wishes = 0;

/** Whether a wish is on its way: what changes meanwhile is most likely of its making. */
export const busy = () => sending > 0;

/** How many wishes were sent. */
export const sent = () => wishes;

/** @type {Promise<unknown>} */
let queue = Promise.resolve();

/** Sends a wish; the answer is whether it was granted. Refusals are said, or handed to `refused`.
 * @param {object} wish
 * @param {((words: string) => void)=} refused
 * @returns {Promise<boolean>} */
export function ask(wish, refused) {
  const sent = queue.then(() => send("wish", { base: work().dataset.revision, wish }, refused));
  queue = sent.catch(() => false);
  return sent;
}

/** Undo or redo.
 * @param {"undo" | "redo"} deed
 * @returns {Promise<boolean>} */
export function back(deed) {
  const sent = queue.then(() => send(deed, {}, undefined));
  queue = sent.catch(() => false);
  return sent;
}

/** @param {string} where @param {object} body @param {((words: string) => void)=} refused */
async function send(where, body, refused) {
  sending += 1;
  wishes += 1;
  try {
    return await deliver(where, body, refused);
  } finally {
    sending -= 1;
  }
}

/** @param {string} where @param {object} body @param {((words: string) => void)=} refused */
async function deliver(where, body, refused) {
  let response;
  try {
    response = await fetch(`${quilt()}/${where}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
  } catch {
    say("The workshop does not answer: the program may have been ended. Nothing was changed; start it again and go on.");
    return false;
  }
  if (response.ok) {
    const answer = /** @type {Answer} */ (await response.json());
    work().dataset.revision = answer.revision;
    say("");
    await refresh();
    return true;
  }
  const told = await response.json().catch(() => ({ code: "", words: "That did not work." }));
  (refused ?? say)(told.words);
  if (told.code === "changed-meanwhile") {
    say(told.words);
    await refresh();
  }
  return false;
}

/** Brings the cloth side as it is now, with the hand's place kept. */
export async function refresh() {
  const cloth = document.getElementById("cloth");
  if (!cloth) return;
  const now = document.activeElement;
  const held = now instanceof HTMLElement || now instanceof SVGElement ? now : null;
  const key = held && cloth.contains(held) ? nameOf(held) : null;
  const opened = [...cloth.querySelectorAll("details")].map((d) => d.open);
  const response = await fetch(`${location.pathname}?part=cloth`);
  if (!response.ok) return;
  const fresh = document.createElement("template");
  fresh.innerHTML = await response.text();
  renew(cloth, fresh.content);
  for (const control of cloth.querySelectorAll("input, select, textarea")) if (control !== document.activeElement) asWritten(control);
  [...cloth.querySelectorAll("details")].forEach((d, i) => { d.open = opened[i] ?? d.open; });
  if (key && held !== document.activeElement) /** @type {HTMLElement | SVGElement | null} */ (cloth.querySelector(key))?.focus({ preventScroll: true });
  document.dispatchEvent(new CustomEvent("cloth"));
}

/** Makes what an element holds like what another holds; what is alike stays as it is, and is neither laid out nor painted again.
 * @param {Element} was @param {Element | DocumentFragment} now */
function renew(was, now) {
  const [old, fresh] = [[...was.childNodes], [...now.childNodes]];
  fresh.forEach((node, i) => {
    const there = old[i];
    if (!there) was.append(node);
    else if (there.isEqualNode(node)) return;
    else if (there instanceof Element && node instanceof Element && there.nodeName === node.nodeName) {
      for (const { name } of [...there.attributes]) if (!node.hasAttribute(name) && name !== "open") there.removeAttribute(name);
      for (const { name, value } of node.attributes) if (there.getAttribute(name) !== value) there.setAttribute(name, value);
      renew(there, node);
    } else there.replaceWith(node);
  });
  old.slice(fresh.length).forEach((node) => node.remove());
}

/** What was typed or chosen and came to nothing goes back to what is written.
 * @param {Element} control */
function asWritten(control) {
  if (control instanceof HTMLSelectElement) {
    for (const option of control.options) if (option.selected !== option.defaultSelected) option.selected = option.defaultSelected;
    if (control.selectedIndex < 0 && !control.multiple) control.selectedIndex = 0;
  } else if (control instanceof HTMLInputElement && ["checkbox", "radio"].includes(control.type)) control.checked = control.defaultChecked;
  else if (control instanceof HTMLInputElement && control.type === "file") control.value = "";
  else if (control instanceof HTMLInputElement || control instanceof HTMLTextAreaElement) {
    if (control.value !== control.defaultValue) control.value = control.defaultValue;
  }
}

/** How to find an element again after the cloth side was renewed.
 * @param {HTMLElement | SVGElement} element */
function nameOf(element) {
  const { at, value } = element.dataset;
  if (at !== undefined && value !== undefined) return `[data-at="${CSS.escape(at)}"][data-value="${CSS.escape(value)}"]`;
  for (const [name, value] of Object.entries(element.dataset)) {
    const dashed = name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);
    if (["at", "hand", "fabric", "deed", "cell", "lay", "act", "wish", "place", "pin", "picture", "trace", "colour"].includes(name)) {
      return `[data-${dashed}="${CSS.escape(String(value))}"]`;
    }
  }
  if (element.dataset.row !== undefined) return `[data-row="${element.dataset.row}"][data-column="${element.dataset.column}"]`;
  return element.id ? `#${CSS.escape(element.id)}` : null;
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const deed = target?.closest("[data-deed]");
  if (deed instanceof HTMLElement) void back(deed.dataset.deed === "redo" ? "redo" : "undo");
  const wish = target?.closest("[data-wish]");
  if (wish instanceof HTMLElement) void ask(JSON.parse(wish.dataset.wish ?? "{}"));
});

document.addEventListener("keydown", (event) => {
  const typing = event.target instanceof HTMLElement && event.target.matches("input:not([type=checkbox]), textarea, select");
  if (typing || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  event.preventDefault();
  void back(event.shiftKey ? "redo" : "undo");
});
