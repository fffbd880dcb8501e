// The living pages: another colour is one rule and no drawing; drawings come when they are in sight.
import assert from "node:assert/strict";
import { test } from "node:test";
import { setting, standing } from "./workshop.js";

test("another colour is seen in every drawing, and no drawing is sent", async (t) => {
  const { page, shop, wrong } = await setting(t);
  const sent = [];
  await page.goto(`${shop.url}/quilts/lantern-harbour/quilt`);
  await standing(page, "Proved");
  await page.locator("#pages svg path").first().waitFor({ state: "attached" });
  page.on("request", (request) => sent.push(request.url()));
  const fills = () => page.evaluate(() => [...new Set([...document.querySelectorAll("#pages svg path")].map((path) => getComputedStyle(path).fill))]);
  const rgb = (hex) => `rgb(${[1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16)).join(", ")})`;
  // Hues of one lightness leave the textures, which tell greys apart, as they are.
  const first = await page.evaluate(() => document.querySelector("#top path")?.getAttribute("fill"));
  const near = `#${first.slice(1, 5)}${(parseInt(first.slice(5), 16) ^ 8).toString(16).padStart(2, "0")}`;
  assert.ok(!(await fills()).includes(rgb(near)));
  const fabric = await page.evaluate(async (color) => {
    const text = await (await fetch("/quilts/lantern-harbour/cloth?part=cloth")).text();
    const inputs = [...new DOMParser().parseFromString(text, "text/html").querySelectorAll("input[type=color]")];
    return inputs.findIndex((input) => input.value.toLowerCase() === color.toLowerCase());
  }, first);
  assert.ok(fabric >= 0);
  sent.length = 0;
  await page.evaluate(async ({ fabric, to }) => {
    const { ask } = await import(document.querySelector("script[src$='/wish.js']").src);
    const shown = new Promise((resolve) => document.addEventListener("pages", (event) => {
      if (event.detail === document.getElementById("work").dataset.revision) resolve(true);
    }));
    await ask({ do: "set", at: ["fabric", fabric, "color"], to });
    await shown;
  }, { fabric, to: near });
  assert.ok((await fills()).includes(rgb(near)), `${await fills()} have no ${rgb(near)}`);
  assert.deepEqual(sent.filter((url) => url.includes("/drawings")), []);
  assert.deepEqual(wrong, []);
});

test("drawings out of sight come when they are scrolled to", async (t) => {
  const { page, shop, wrong } = await setting(t);
  await page.goto(`${shop.url}/quilts/lantern-harbour/pattern`);
  await standing(page, "Proved");
  await page.locator("#pages .page").first().waitFor();
  const empty = () => page.locator("#pages svg[data-picture]:empty").count();
  await page.waitForTimeout(300);
  const waiting = await empty();
  assert.ok(waiting > 20, `${waiting} drawings wait`);
  await page.evaluate(() => { const pages = document.getElementById("pages"); pages.scrollTop = pages.scrollHeight / 2; });
  await page.waitForFunction(() => {
    const frame = document.getElementById("pages").getBoundingClientRect();
    const inSight = [...document.querySelectorAll("#pages svg[data-picture]")].filter((svg) => {
      const at = svg.getBoundingClientRect();
      return at.bottom > frame.top && at.top < frame.bottom;
    });
    return inSight.length > 0 && inSight.every((svg) => svg.firstChild);
  });
  assert.ok(await empty() < waiting);
  assert.deepEqual(wrong, []);
});
