// A making watched: cloth moves from where it lay, is turned over, sewn, opened; by keyboard, without motion, on one printed page.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { setting, standing } from "./workshop.js";

const opened = async (t, options = {}) => {
  const all = await setting(t, options);
  await all.page.goto(`${all.shop.url}/quilts/harbour-windows/pattern`);
  await standing(all.page, "Proved");
  await all.page.locator("#step svg[data-shot='0']").waitFor();
  return all;
};
const shot = (page) => page.locator("#step svg").getAttribute("data-shot");
const count = (page) => page.locator("#step-count").innerText();
const places = (page) => page.evaluate(() => [...document.querySelectorAll("#step .moving")].map((g) => g.getAttribute("transform")));

test("cloth moves, is turned over, sewn and opened", async (t) => {
  const { page, wrong, outside } = await opened(t);
  const steps = Number(/^(\d+) steps$/.exec(await count(page))?.[1]);
  assert.ok(steps >= 3, `${steps} steps`);
  // Every picture of the first steps, as they pass.
  await page.evaluate(() => {
    window.seen = [];
    const look = () => {
      const svg = document.querySelector("#step svg");
      window.seen.push({
        shot: svg?.getAttribute("data-shot"),
        at: [...document.querySelectorAll("#step .moving")].map((g) => g.getAttribute("transform")).join(),
        side: [...document.querySelectorAll("#step .moving")].map((g) => (g.firstElementChild?.getAttribute("display") === "none" ? "other" : "own")).join(),
        sewn: [...document.querySelectorAll("#step svg > path")].filter((p) => p.getAttribute("stroke") === "#A8322A").map((p) => p.getAttribute("d")).join(),
      });
      window.looking = requestAnimationFrame(look);
    };
    look();
  });
  await page.getByRole("button", { name: "Play", exact: true }).click();
  assert.equal(await page.locator("[data-step=play]").getAttribute("aria-pressed"), "true");
  // Until a seam was sewn, cut apart and opened.
  await page.waitForFunction(() => /^Open/.test(document.getElementById("step-words")?.textContent ?? ""), undefined, { timeout: 90000 });
  await page.waitForTimeout(1500);
  await page.getByRole("button", { name: "Play", exact: true }).click();
  const seen = await page.evaluate(() => { cancelAnimationFrame(window.looking); return window.seen; });
  // Something slides and folds in many pictures; its side changes on the way; a seam grows.
  assert.ok(new Set(seen.map(({ at }) => at)).size > 20, "cloth moves");
  assert.ok(seen.some(({ side }) => side.includes("other")) && seen.some(({ side }) => side.includes("own")), "both sides are seen");
  assert.ok(new Set(seen.map(({ sewn }) => sewn)).size > 10, "a seam grows");
  // Stopped, all lies where the workshop says.
  for (const place of await places(page)) assert.match(place, /^matrix\(1(\.0+)? -?0 -?0 1(\.0+)? -?0 -?0\)$/);
  assert.equal(await page.locator("[data-step=play]").getAttribute("aria-pressed"), "false");
  assert.deepEqual(wrong, []);
  assert.deepEqual(outside, []);
});

test("step by step, by keyboard, in words", async (t) => {
  const { page } = await opened(t);
  const stage = page.locator("#step");
  await stage.focus();
  const words = async () => page.locator("#step-words").innerText();
  const before = await words();
  await page.keyboard.press("ArrowRight");
  assert.match(await count(page), /^1 of \d+$/);
  assert.notEqual(await words(), before);
  assert.equal(await page.locator("#step svg").getAttribute("aria-label"), await words());
  await page.keyboard.press("ArrowLeft");
  assert.match(await count(page), /^\d+ steps$/);
  assert.equal(await words(), before);
  await page.keyboard.press("End");
  assert.match(await count(page), /^(\d+) of \1$/);
  await page.keyboard.press("Home");
  assert.equal(await shot(page), "0");
  await page.keyboard.press("Space");
  assert.equal(await page.locator("[data-step=play]").getAttribute("aria-pressed"), "true");
  await page.keyboard.press("Space");
  assert.equal(await page.locator("[data-step=play]").getAttribute("aria-pressed"), "false");
  // Another unit begins with its own parts.
  const values = await page.locator("#making option").evaluateAll((options) => options.map((option) => option.value));
  await page.locator("#making").selectOption(values.at(-1));
  await page.waitForFunction((value) => document.getElementById("strip")?.getAttribute("href")?.endsWith(`/strip/${value}`), values.at(-1));
  await page.locator("#step svg[data-shot='0']").waitFor();
});

test("who wants no motion sees each step as it ends", async (t) => {
  const { page } = await opened(t, { reducedMotion: "reduce" });
  const steps = Number(/^(\d+) steps$/.exec(await count(page))?.[1]);
  for (let i = 1; i <= Math.min(steps, 6); i += 1) {
    const seen = await page.evaluate(async () => {
      document.querySelector("[data-step=on]").click();
      const all = [];
      for (let frame = 0; frame < 6; frame += 1) {
        all.push([...document.querySelectorAll("#step .moving")].map((g) => g.getAttribute("transform")).join());
        await new Promise((resolve) => requestAnimationFrame(resolve));
      }
      return all;
    });
    assert.equal(await shot(page), String(i));
    for (const place of seen.flatMap((at) => at === "" ? [] : at.split(/(?<=\)),/))) assert.match(place, /^matrix\(1(\.0+)? -?0 -?0 1(\.0+)? -?0 -?0\)$/);
  }
});

test("all steps of a unit go on one printed page", async (t) => {
  const { page, folder, wrong } = await opened(t);
  const steps = Number(/^(\d+) steps$/.exec(await count(page))?.[1]);
  await page.locator("#strip").click();
  await page.locator(".strip li").first().waitFor();
  const panels = await page.locator(".strip li").count();
  assert.ok(panels >= 3 && panels < steps, `${panels} panels for ${steps} steps: what is cut apart is shown once`);
  assert.equal(await page.locator(".strip svg").count(), panels);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("header.bar").isVisible(), false);
  assert.equal(await page.getByRole("button", { name: "Print" }).isVisible(), false);
  const file = join(folder, "strip.pdf");
  writeFileSync(file, await page.pdf({ format: "A4" }));
  assert.match(execFileSync("pdfinfo", [file], { encoding: "utf8" }), /Pages:\s+1\n/);
  assert.deepEqual(wrong, []);
});
